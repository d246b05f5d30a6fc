"""What was compared with its pictures as it was unpacked, number by number: all of a thing together, or those of its
numbers alone that lay in the container. Of a number what was said last, of it or of the whole, holds.

The app has the same rules in `web/job/compared.ts`; `fixtures/compared.json` holds both.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from intake.custody.with_owner import is_later, numbers_of_piece, numbers_on, tags_here
from intake.records.record import Record
from intake.records.values import FieldValue

WHOLE = "check-in"
#: The number of which it is said, "" of all of it; and what is said.
Check = tuple[str, FieldValue]


def in_force(item: Record) -> list[Check]:
    """What is in force, of all of it and of each number."""
    whole = [("", item.fields[WHOLE])] if WHOLE in item.fields else []
    return [*whole, *((tag, on.fields[f"{WHOLE}/{tag}"]) for on, tag in _each_number(item))]


def all_said(item: Record) -> list[Check]:
    """The same, with both sides of whatever two people said otherwise and nobody has settled."""
    whole = [("", check) for _, check in item.said(WHOLE)]
    own = [(tag, check) for on, tag in _each_number(item) for _, check in on.said(f"{WHOLE}/{tag}")]
    return [*whole, *own]


def _each_number(item: Record) -> Iterator[tuple[Record, str]]:
    for on in (item, *item.others()):
        for name in on.fields:
            family, _, tag = name.partition("/")
            if family == WHOLE and tag:
                yield on, tag


def checks_of(item: Record) -> list[Check]:
    """What is said of a thing as it was unpacked and holds still, both sides of what nobody has settled."""
    force = in_force(item)
    whole = [check for tag, check in force if not tag]
    own = [(tag, check) for tag, check in force if tag]
    if not own:
        return all_said(item)
    here = tags_here(item)

    def stands(tag: str, check: FieldValue) -> bool:
        """A number's until there is a later one of it or of the whole; that of the whole until each has one."""
        if tag:
            return not _is_overtaken(check, [*whole, *_of_number(item, own, tag)])
        return not here or not all(_is_overtaken(check, _of_number(item, own, one)) for one in here)

    return [(tag, check) for tag, check in all_said(item) if stands(tag, check)]


def _is_overtaken(check: FieldValue, others: Iterable[FieldValue]) -> bool:
    return any(is_later(other, check) for other in others)


def _of_number(item: Record, checks: Iterable[Check], tag: str) -> list[FieldValue]:
    """Those of a number: one that took the place of another is on the same piece."""
    number = numbers_on(item).get(tag)
    its = numbers_of_piece(item, number) if number else {tag}
    return [check for of, check in checks if of in its]


def numbers_left(item: Record) -> list[str]:
    """Which of the numbers on what is here nobody has compared; "" of what has none."""
    checks = all_said(item)
    here = tags_here(item)
    if any(not tag for tag, _ in checks):
        return []
    if not here:
        return [] if checks else [""]
    return [tag for tag in here if not _of_number(item, checks, tag)]
