"""The lines of a closing: each difference with which a day is closed, what was said of it, and who said it."""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from intake.arrival.people import as_one_name
from intake.custody.difference_kinds import KINDS, OF_RECORDS, RANKS
from intake.custody.differences import Found
from intake.operation import instant
from intake.records.record import Record

#: As much of a difference's words as an operation that names it holds.
MOST_WORDS = 400


class Line(NamedTuple):
    """A difference as it was named. `key` is what it is known by, "" in closings of before, which name words alone."""

    key: str
    words: str
    reason: str
    said_by: str = ""  # who said the reason, if it was not whoever closed the day


def lines_of(day: Record, closed: dict[str, Any]) -> list[Line]:
    """What a closing names, in the order of the kinds: by the reasons that it names, or in closings of before by what
    stands in itself."""
    if not closed.get("digest"):
        named = closed["named"] or []
        reasons = closed.get("reasons") or [""] * len(named)
        return [Line("", words, reason) for words, reason in zip(named, reasons, strict=True)]
    lines: dict[str, Line] = {}
    for reason_id in sorted(closed["reason_ids"]):
        said = day.value(f"reasons/{reason_id}")
        for one in said["of"] if said else ():
            lines[one["key"]] = Line(one["key"], one["words"], said["reason"], said.get("said_by", ""))
    return sorted(lines.values(), key=lambda line: (RANKS.get(line.key.split(" ")[0], len(KINDS)), line.key))


def said_beside(day: Record, lines: Iterable[Line]) -> dict[str, list[dict[str, str]]]:
    """What others had said last of each difference that a closing names, where that is not what it was closed with, by
    what the differences are known by: two who were apart sign different words, and one of them gives way."""
    named = {line.key: line.reason for line in lines if line.key}
    last: dict[str, dict[str, dict[str, str]]] = {key: {} for key in named}
    for name in sorted(name for name in day.fields if name.startswith("reasons/")):
        said = day.fields[name]
        by = said.value.get("said_by") or who_on(day, said.made_by)
        for one in said.value["of"]:
            if one["key"] in last:
                last[one["key"]][as_one_name(by)] = {"by": by, "reason": said.value["reason"]}
    return {
        key: [one for one in by_person.values() if one["reason"].strip() and one["reason"] != named[key]]
        for key, by_person in last.items()
    }


def who_on(day: Record, person_id: str) -> str:
    person = day.value(f"people/{person_id}")
    if person:
        return str(person["name"])
    return "somebody not on a list" if person_id else "somebody who gave no name"


def signed_beside(day: Record, closed: dict[str, Any]) -> list[dict[str, Any]]:
    """Who signed first beside the one whose signature the day was closed with, the earliest first, of each person the
    newest."""
    signings = [(name, one) for name, one in day.fields.items() if name.startswith("first-signings/")]
    by_person: dict[str, tuple[str, dict[str, Any]]] = {}
    for name, one in sorted(signings, key=lambda signing: (instant(signing[1].made_at), signing[0])):
        if one.value["digest"]:
            by, count = one.value["signed_by"], len(lines_of(day, one.value))
            by_person.pop(as_one_name(by), None)
            by_person[as_one_name(by)] = name, {"by": by, "at": one.made_at, "count": count}
    used = f"first-signings/{closed.get('first_signing')}"
    return [told for name, told in by_person.values() if name != used]


def digest_of(lines: Iterable[Line]) -> str:
    """What two people signed: the SHA-256 of each line's key, words, reason and who said it, in the order of the keys.
    The app makes the same out of what it shows (`web/job/closing_reasons.ts`)."""
    written = json.dumps(sorted(lines), ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(written.encode()).hexdigest()


def unexplained(found: Iterable[Found], lines: Iterable[Line]) -> Iterator[Found]:
    """What of these differences needs a reason of its own and has none in a closing's lines. What was named by its
    words alone counts once for each time that it was named."""
    needing = (one for one in found if one.kind not in OF_RECORDS)
    return found_since(needing, [line for line in lines if line.reason.strip()])


def found_since(found: Iterable[Found], lines: list[Line]) -> Iterator[Found]:
    """The differences that a closing did not name; of several that were named by words alike as many are known."""
    keys = {line.key for line in lines if line.key}
    known = Counter(line.words for line in lines if not line.key)
    for one in found:
        if one.key in keys or one.former in keys:
            continue
        name = one.words[:MOST_WORDS]
        if known[name] > 0:
            known[name] -= 1
        else:
            yield one
