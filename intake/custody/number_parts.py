"""What the numbers on a thing are on: each of its pieces, all of it, or a part such as a cover that is packed apart.

How many pieces a thing has is counted; how many numbers it has is another count, and neither is taken for the other.
The app has the same rules in `web/job/number_parts.ts`; `fixtures/number-parts.json` holds both.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from intake.custody.with_owner import (
    is_back_with_owner,
    numbers_on,
    piece_count,
    pieces_away,
    words_in_line,
)
from intake.examination.findings import SET
from intake.records.record import Record
from intake.tagging.tags import shown


def count_alike(item: Record) -> int:
    """How many pieces were counted by themselves, else on the walk; 0 if nobody counted. That some of a thing have
    numbers of their own says nothing of it: a pot and its cover are no pair."""
    walked = item.value(f"zones/{SET}") or {}
    return int(item.value("pieces") or walked.get("count") or 0)


def is_in_parts(item: Record) -> bool:
    """Whether its numbers are on parts of it, as of a set of fourteen and its cover: by somebody's word, else by their
    count. Of as many numbers as pieces each is on one, and a number that was tied to all of it is on those that have
    none of their own. Of what nobody counted its numbers are all there is."""
    of, counted = piece_count(item), count_alike(item)
    if of > 1 and _are_said_parts(item):
        return True
    if of < 2 or not counted or of in (counted, counted + len(pieces_away(item))):
        return False
    return not (counted > of and any(_is_on_all(number.value) for number in numbers_on(item).values()))


def _are_said_parts(item: Record) -> bool:
    return any(number.value.get("parts") for number in numbers_on(item).values())


def _is_on_all(number: dict[str, Any]) -> bool:
    return (number["piece"] or 1) == 1 and (number["of"] or 1) == 1


def is_under_one(item: Record) -> bool:
    """Whether its first number is on all that have none of their own, such as on six forks of which one got its number
    as it went."""
    first = next(
        (
            one.value
            for one in numbers_on(item).values()
            if not one.value["gone"] and one.value["piece"] in (None, 1)
        ),
        None,
    )
    return first is not None and _is_on_all(first) and int(item.value("pieces") or 0) > piece_count(item)


def part_words(item: Record, number: dict[str, Any]) -> str:
    """What a number is on: "the cover", "the rest of it", "piece 1 of 2", "piece 2 of 2 (left)"; of six under one
    number of which one got its own "5 of 6"."""
    of, piece, mark = number["of"] or 1, number["piece"] or 1, words_in_line(number.get("mark"))
    if is_in_parts(item):
        standing = [one.value for one in numbers_on(item).values() if not one.value["gone"]]
        is_rest = len(standing) > 1 and sum(not words_in_line(one.get("mark")) for one in standing) == 1
        return mark or ("the rest of it" if is_rest else f"number {piece} of {piece_count(item)}")
    if is_under_one(item):
        counted = int(item.value("pieces"))
        which = f"{counted - piece_count(item) + 1 if piece == 1 else 1} of {counted}"
    else:
        which = f"piece {piece} of {of}"
    return f"{which} ({mark})" if mark and of > 1 else which


def part_name(item: Record, tag: str) -> str:
    """What a number is on by name, where it is on a part; "" of one that nobody named."""
    return words_in_line(numbers_on(item)[tag].value.get("mark")) if is_in_parts(item) else ""


def numbers_shown(item: Record, tags: Iterable[str]) -> str:
    """Numbers of a thing one after the other, each with the part that it is on: "7K3-QW4, 7K3-QW5 (the cover)"."""
    names = ((tag, part_name(item, tag)) for tag in tags)
    return ", ".join(f"{shown(tag)} ({name})" if name else shown(tag) for tag, name in names)


def pieces_back(item: Record) -> int:
    """How many of the pieces that were counted are with their owner: as many as numbers went, but where these are on
    parts none for a cover, and for what the list of pieces has under one line all of that."""
    away = pieces_away(item)
    if not away or not is_in_parts(item):
        return len(away)
    return sum(_count_back(item, piece) for piece in away)


def _count_back(item: Record, piece: int) -> int:
    went = [
        number.value
        for number in numbers_on(item).values()
        if (number.value["piece"] or 1) == piece and number.value["gone"] in (None, "taken-back")
    ]
    return max((count_of_part(item, number) for number in went), default=1)


def pieces_back_in_part(item: Record) -> int:
    """The same while others of it are here."""
    return 0 if is_back_with_owner(item) else pieces_back(item)


def count_of_part(item: Record, number: dict[str, Any]) -> int:
    """How many of the pieces that were counted a number is on: by the list of them, where that has them all."""
    words = words_in_line(number.get("mark"))
    first = [one.value["of"] or 1 for one in numbers_on(item).values() if (one.value["piece"] or 1) == 1]
    if first and (number["of"] or 1) > max(first):
        return 1  # it was on one of them by itself, as it went
    lines = [line for line in item.values("listed/").values() if not line["withdrawn"]]
    for line in lines:
        if line["count"] > 1 and words_in_line(f"{line['count']} {line['words']}") == words:
            return int(line["count"])
    if not words or any(words_in_line(line["words"]) == words for line in lines):
        return 1
    is_apart = _are_said_parts(item) or sum(line["count"] for line in lines) == count_alike(item)
    return 0 if is_apart else 1
