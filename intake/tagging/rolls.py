"""Rolls of numbers: issued to a device, as printed stock, or kept as a spare; spoiled numbers are kept and counted.

Spoiled, used and unused always add up to the roll, since each is read off the same list of numbers.
"""

from __future__ import annotations

from itertools import islice
from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from intake.arrival.days import OfDay
from intake.edits import edit_field
from intake.errors import RollOverlaps, TagCheckFailed, TagTaken
from intake.operation import Edit, Identifier, Line
from intake.records import Applied, Records
from intake.tagging.tags import TagError, codes, parse_tag, serial_of, shown

LONGEST_ROLL = 20_000
Tag = Annotated[str, Field(min_length=6, max_length=6)]


class IssueRoll(OfDay):
    """A run of numbers is given out. `device_id` is null for printed stock and spares; `given_to` says to whom."""

    roles = frozenset()

    kind: Literal["issue_roll"]
    roll_id: Identifier
    first_tag: Tag
    last_tag: Tag
    count: Annotated[int, Field(ge=1, le=LONGEST_ROLL)]
    given_to: Line
    for_device_id: Annotated[str, Field(max_length=80)] | None

    @model_validator(mode="after")
    def check_run(self) -> IssueRoll:
        """The run has as many numbers as it says."""
        try:
            first = serial_of(parse_tag(self.first_tag))
        except TagError as error:
            raise ValueError(str(error)) from error
        if last_of(first, self.count) != self.last_tag:
            raise ValueError(f"{self.count} numbers from {self.first_tag} on do not end at {self.last_tag}")
        return self


class GiveRoll(OfDay, Edit):
    """A roll changes hands, such as a spare given to a table whose own runs out. Nobody needs a network for it."""

    roles = frozenset({"table", "door", "porter"})

    kind: Literal["give_roll"]
    roll_id: Identifier
    given_to: Line
    for_device_id: Annotated[str, Field(max_length=80)] | None

    def edited(self) -> tuple[str, Any]:
        value = {"given_to": self.given_to, "for_device_id": self.for_device_id}
        return f"roll-holders/{self.roll_id}", value


class SpoilTag(OfDay):
    """A number that was never tied is struck through: torn, misprinted, wet. It is kept and counted."""

    roles = frozenset({"table", "door", "porter", "desk"})

    kind: Literal["spoil_tag"]
    tag: Tag
    why: Line


def last_of(first_serial: int, count: int) -> str:
    """The last of so many numbers from a serial on."""
    return next(islice(codes(first_serial), count - 1, None))


def issue_roll(records: Records, operation: IssueRoll, at: Applied) -> bool:
    """Give out a run. Raises RollOverlaps if one of its numbers was given out before."""
    day = records.require("day", operation.day_id)
    first, last = serial_of(operation.first_tag), serial_of(operation.last_tag)
    other = records.tx.value(
        "SELECT last_serial FROM roll WHERE first_serial <= :last AND last_serial >= :first",
        first=first,
        last=last,
    )
    if other is not None:
        raise RollOverlaps(shown(operation.first_tag), shown(next(codes(int(other) + 1))))
    records.tx.run(
        "INSERT INTO roll (roll_id, first_serial, last_serial) VALUES (:roll_id, :first, :last)",
        roll_id=operation.roll_id,
        first=first,
        last=last,
    )
    told = operation.model_dump(include={"first_tag", "last_tag", "count"})
    day.put(operation, f"rolls/{operation.roll_id}", told)
    holder = operation.model_dump(include={"given_to", "for_device_id"})
    day.put(operation, f"roll-holders/{operation.roll_id}", holder)
    return False


def give_roll(records: Records, operation: GiveRoll, at: Applied) -> bool:
    return edit_field(records.require("day", operation.day_id), operation, at)


def spoil_tag(records: Records, operation: SpoilTag, at: Applied) -> bool:
    """Strike a number through. Raises TagTaken if it is on something, TagCheckFailed if it is no number."""
    day = records.require("day", operation.day_id)
    try:
        tag = parse_tag(operation.tag)
    except TagError as error:
        raise TagCheckFailed(str(error)) from error
    if records.tx.value("SELECT 1 FROM tag WHERE tag = :tag", tag=tag):
        raise TagTaken(shown(tag), "something that was tied to it")
    records.tx.run("INSERT INTO spoiled_tag (tag) VALUES (:tag) ON CONFLICT DO NOTHING", tag=tag)
    day.put(operation, f"spoiled/{tag}", {"tag": tag, "why": operation.why})
    return False
