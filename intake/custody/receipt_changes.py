"""What is otherwise on the things of a receipt than its lines say, as far as their owner would care.

What was signed stands beside what is on record now, so that no clock decides, nor when it was heard of. The app has the
same rules in `web/job/receipt_changes.ts`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from intake.custody.counted_things import COUNTS
from intake.custody.day_on_record import DayOnRecord, listed
from intake.custody.doubles import merged_into
from intake.custody.failed_trials import FAILED, failed_trials
from intake.custody.number_parts import pieces_back
from intake.custody.receipt_lines import (
    HELD_FORMERLY,
    HELD_WORDS,
    OPEN_PIECE,
    OPEN_WORDS,
    SLIGHT_WORDS,
    Finding,
    LineNow,
    fault_as_listed,
    fault_in_figures,
    fault_in_line,
    fault_name,
    fault_named,
    fault_on_bare_side,
    fault_on_it,
    fault_words,
    is_visible,
    name_in_line,
    numbers_here,
    pieces_before,
    pieces_words,
    receipt_line,
)
from intake.custody.with_owner import came_again_since, is_back_with_owner, is_later, tags_back
from intake.examination.whole_thing import is_stopped, said_taken_away
from intake.records.record import Record
from intake.records.values import FieldValue

Line = dict[str, Any]

MORE = re.compile(r"; and \d+ more faults?", re.ASCII)
#: How a fault goes on behind its name.
GRAVE = re.compile(r", (moderate|serious|severe)(,|\Z)")
PIECES = re.compile(
    r"\A((\d+ (of \d+ )?)?pieces( here( \(.+\))?, \d+ back with the owner)?(: .+)?|(.+ )?back with the owner"
    r"|under \d+ numbers)\Z",
    re.ASCII,
)
#: Which number is on which part: what it is called is no part of what was signed for.
PART = re.compile(r"\A.+ under [0-9A-HJKMNP-TV-Z]{3}-[0-9A-HJKMNP-TV-Z]{3}\Z", re.ASCII)

TRIALS = frozenset(FAILED.values())
#: What is said of a class that has no name here, and of none.
OTHER_CLASS = ("its class: another one", "its class: none")
#: What stands in a line by itself, beside what was found.
BESIDE_FAULTS = frozenset({HELD_WORDS, HELD_FORMERLY, OPEN_WORDS, SLIGHT_WORDS, *TRIALS})


@dataclass(frozen=True)
class Change:
    """Of one thing: on which receipt it was signed for, what it is called, and what is otherwise, in words. `classes`
    are the one that was signed for and the one of now."""

    receipt_id: str
    item_id: str
    name: str
    what: list[str]
    classes: tuple[str | None, str | None]

    def what_named(self, class_names: Mapping[str, str]) -> list[str]:
        """What is otherwise, with the classes by their names."""
        return [class_named(self.classes, class_names) if said in OTHER_CLASS else said for said in self.what]


def is_since(said: FieldValue, receipt: FieldValue) -> bool:
    """Whether something was said after a receipt. What one device did has its own order; else the clocks count."""
    if said.device_id == receipt.device_id and said.device_seq and receipt.device_seq:
        return said.device_seq > receipt.device_seq
    return is_later(said, receipt)


def came_again(item: Record, line: Line, receipt: FieldValue) -> bool:
    """Whether a thing of a receipt is here, and went back after it was signed for: that receipt no longer covers it."""
    return not is_back_with_owner(item) and came_again_since(
        item, line["tags"], lambda said: is_since(said, receipt)
    )


def changes_on(
    receipt_id: str, receipt: FieldValue, lines: list[Line], items: list[Record], day: DayOnRecord
) -> Iterator[Change]:
    """The changes of the things of a receipt, those that went back apart. `lines` are those that hold, `items` those of
    its visit."""
    for line in lines:
        item = thing_of(line, items, day)
        if item is None or is_back_with_owner(item):
            continue
        what = list(changes_of(item, line, receipt, day))
        if what:
            classes = (line.get("class_id"), receipt_line(item, day).class_id)
            yield Change(receipt_id, item.record_id, name_in_line(item), what, classes)


def thing_of(line: Line, items: list[Record], day: DayOnRecord) -> Record | None:
    """The record that stands for the thing of a line."""
    records = [
        item for item in items if any(record.record_id == line["item_id"] for record in day.same_thing(item))
    ]
    return next((item for item in records if not merged_into(item)), records[0] if records else None)


def changes_of(item: Record, line: Line, receipt: FieldValue, day: DayOnRecord) -> Iterator[str]:
    if taken := said_taken_away(day.same_thing(item)):
        yield taken_words(taken)  # nothing else of it is signed for any more
        return
    now = receipt_line(item, day)
    yield from class_words(item, line, now, receipt)
    if came_again(item, line, receipt):
        yield "that it went back and came again"
    else:
        yield from number_words(item, line, day)
    if line["words"]:  # "": erased
        if line["words"] != now.words:
            yield from words_otherwise(item, line, now, receipt, day)
        elif is_hidden_otherwise(item, line, receipt):
            yield "its condition"
    if item.record_id != line["item_id"] or merged_into(item):
        yield "that it is one with another on record"


def taken_words(taken: FieldValue) -> str:
    """By whom, as it was decided."""
    by = str(taken.value["decided_by"] or "").strip()
    return f"that an authority took it away: {by}" if by else "that an authority took it away"


def class_words(item: Record, line: Line, now: LineNow, receipt: FieldValue) -> Iterator[str]:
    """Of a receipt that says no class it is told only what that device said later, by its own order or the clocks."""
    said = item.fields.get("class_id")
    is_since_said = said is not None and is_since(said, receipt)
    if line["class_id"] != now.class_id if "class_id" in line else is_since_said:
        yield OTHER_CLASS[0] if now.class_id else OTHER_CLASS[1]


def class_named(classes: tuple[str | None, str | None], class_names: Mapping[str, str]) -> str:
    """The class of now and the one that was signed for, as far as they have names here."""
    was, now = (class_names.get(class_id or "", "") for class_id in classes)
    said = f"its class: {now}" if now else OTHER_CLASS[0] if classes[1] else OTHER_CLASS[1]
    return f"{said}, was {was}" if was else said


def number_words(item: Record, line: Line, day: DayOnRecord) -> Iterator[str]:
    here, back = numbers_here(day.same_thing(item)), tags_back(item)
    signed = [tag for tag in line["tags"] if tag not in back]
    is_same = len(signed) == len(here) and all(tag in here for tag in signed)
    pieces = next((part for part in line["words"].split("; ") if PIECES.search(part)), "")
    # One of a set under one number gets its own as it goes, which no receipt names.
    at_signing = re.search(r"here, (\d+) back with", pieces, re.ASCII)
    is_more_back = line["words"] and pieces_back(item) > int(at_signing[1] if at_signing else 0)
    went_back = is_more_back or any(tag in back for tag in line["tags"])
    is_counted = not line["words"] or went_back or pieces in (pieces_words(item), pieces_before(item))
    if went_back:
        yield "a piece of it went back"
    if not (is_same and is_counted):
        yield "its numbers or pieces" if here or not signed else "its number is gone"


def words_otherwise(
    item: Record, line: Line, now: LineNow, receipt: FieldValue, day: DayOnRecord
) -> Iterator[str]:
    if is_named_otherwise(item, line["words"], receipt):
        yield "what it is called"
    if is_other_condition(item, line["words"], now, receipt, day):
        yield "its condition"
    if (counts := counts_in(line["words"])) and counts != counts_in(now.words):
        yield "how many were counted"
    is_held = says_held(now.words)
    if is_held != says_held(line["words"]):
        yield (
            "that it is stopped" if is_held and is_stopped(day.same_thing(item)) else "that it is held apart"
        )


def counts_in(words: str) -> str:
    """What a line says was counted; receipts of before say nothing of it."""
    return next((part for part in words.split("; ")[1:] if COUNTS.search(part)), "")


def stands_by_itself(part: str) -> bool:
    """What of a line is no fault."""
    return bool(part in BESIDE_FAULTS or PIECES.search(part) or PART.search(part) or COUNTS.search(part))


def says_held(words: str) -> bool:
    return any(part in (HELD_WORDS, HELD_FORMERLY) for part in words.split("; ")[1:])


def is_named_otherwise(item: Record, words: str, receipt: FieldValue) -> bool:
    """Whether it is called otherwise. A name may hold a semicolon and be cut there afterwards: then the line goes on
    with what is neither of its pieces nor a fault that it ever had."""
    name = name_in_line(item)
    if not begins_with(words, name):
        return True
    said = item.fields.get("short_description")
    following = next(iter(parts_behind(words, name)), "")
    if not following or said is None or not is_since(said, receipt):
        return False
    is_fault = any(
        following.startswith(
            (fault_name(finding.value), fault_on_it(finding.value), fault_named(finding.value))
        )
        for _, finding in listed(item, "findings/")
    )
    known = GRAVE.search(following) or stands_by_itself(following)
    return not is_fault and not known


def is_other_condition(item: Record, words: str, now: LineNow, receipt: FieldValue, day: DayOnRecord) -> bool:
    """Another version of the app may word a fault otherwise, so that the words of the condition alone are no change:
    they are one where a finding was said elsewhere, and may have been heard only since, or there after the signing. A
    receipt of before says neither how grave a fault is nor how large: of what it lists all that was said after it
    counts."""
    findings = [finding for one in day.same_thing(item) for _, finding in listed(one, "findings/")]
    read = condition_in(words, item)

    def with_all(wording: Callable[[Finding], str]) -> list[str]:
        return condition_in(receipt_line(item, day, wording, with_all_faults=True).words, item)

    if is_tried_otherwise(item, words, receipt, day):
        return True
    wordings = (fault_words, fault_on_bare_side, fault_as_listed)
    if read in (condition_in(now.words, item), *map(with_all, wordings)):
        return is_hidden_otherwise(item, {"words": words}, receipt)
    if any(read == with_all(before) for before in (fault_name, fault_in_figures)):
        return any(
            is_since(finding, receipt) and (is_visible(finding.value) or finding.value["withdrawn"])
            for finding in findings
        )
    return any(finding.device_id != receipt.device_id or is_since(finding, receipt) for finding in findings)


def is_tried_otherwise(item: Record, words: str, receipt: FieldValue, day: DayOnRecord) -> bool:
    """Whether what did not work is otherwise than a line says. Receipts of before say nothing of it: on them, and where
    a line only counts some, what was tried after it counts, or said elsewhere."""
    failed = dict(failed_trials(day.same_thing(item)))
    signed = {part for part in parts_behind(words, name_in_line(item)) if part in TRIALS}
    is_heard_later = not MORE.search(words)
    return not signed <= failed.keys() or any(
        is_since(said, receipt) or (is_heard_later and said.device_id != receipt.device_id)
        for part, said in failed.items()
        if part not in signed
    )


def is_hidden_otherwise(item: Record, line: Line, receipt: FieldValue) -> bool:
    """Whether one of the faults that a line only counts was said after it, and is not one of those that it names."""
    return bool(MORE.search(line["words"])) and any(
        is_since(finding, receipt)
        and is_visible(finding.value)
        and fault_in_line(finding.value) not in line["words"]
        and fault_words(finding.value) not in line["words"]
        and fault_on_bare_side(finding.value) not in line["words"]
        and fault_as_listed(finding.value) not in line["words"]
        for _, finding in listed(item, "findings/")
    )


def begins_with(words: str, name: str) -> bool:
    """A line begins with what the thing is called; what stands behind it are pieces and faults."""
    return words == name or words.startswith(f"{name}; ")


def parts_behind(words: str, name: str) -> list[str]:
    if begins_with(words, name):
        rest = words[len(name) + 2 :]
        return rest.split("; ") if rest else []
    return words.split("; ")[1:]


def condition_in(words: str, item: Record) -> list[str]:
    """The faults found behind the name, whichever it was, in no order, without the words that stand by themselves."""
    parts = parts_behind(words, name_in_line(item))
    return sorted(part.replace(f", {OPEN_PIECE}", "") for part in parts if not stands_by_itself(part))
