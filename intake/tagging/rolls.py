"""Rolls of numbers: issued to a device, as printed stock, or kept as a spare; spoiled numbers are kept and counted.

Spoiled, used and unused always add up to the roll, since each is read off the same list of numbers.
"""

from __future__ import annotations

import json
from itertools import islice, takewhile
from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

from intake.arrival.days import OfDay
from intake.database import Reading
from intake.derived_tables import follows_from_log
from intake.edits import Edit
from intake.errors import (
    AlreadyThere,
    LabelsPrinted,
    NotFound,
    NumbersNotLeft,
    NumbersOfAnother,
    RollOverlaps,
    TagTaken,
)
from intake.operation import Identifier, Line, Operation, Tag
from intake.reading import days_before
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.values import Source
from intake.tagging.numbers import next_free, own_serials
from intake.tagging.tags import TagError, codes, normalise, parse_tag, serial_of, shown
from intake.tagging.ties import holder_of, require_tag

LONGEST_ROLL = 20_000
MOST_ROWS = 400  # of numbers in a row on one print: between them lie those that are used
PRINTS = "prints/"


follows_from_log("roll", order="roll_id")
follows_from_log("roll_carried", order="roll_id")
follows_from_log("spoiled_tag", order="tag")


class OfRun(OfDay):
    """A run of numbers for this day. `for_device_id` is null for printed stock and spares; `given_to` says to whom."""

    roll_id: Identifier
    first_tag: Tag
    last_tag: Tag
    count: Annotated[int, Field(ge=1, le=LONGEST_ROLL)]
    given_to: Line
    for_device_id: Annotated[str, Field(max_length=80)] | None

    @model_validator(mode="after")
    def check_run(self) -> Self:
        """The run has as many numbers as it says, and its ends are written as on a tag."""
        try:
            first, last = parse_tag(self.first_tag), parse_tag(self.last_tag)
        except TagError as error:
            raise ValueError(str(error)) from error
        if (first, last) != (self.first_tag, self.last_tag):
            raise ValueError(f"the numbers {first} and {last} are written so, as on a tag")
        end = last_of(serial_of(first), self.count)
        if end is None:
            raise ValueError(f"there are no {self.count} numbers from {first} on")
        if end != last:
            raise ValueError(f"{self.count} numbers from {self.first_tag} on do not end at {self.last_tag}")
        return self

    def put_on(self, record: Record, source: Source, *more: str) -> None:
        record.put(f"rolls/{self.roll_id}", self.members("first_tag", "last_tag", "count", *more), source)
        record.put(f"roll-holders/{self.roll_id}", self.members("given_to", "for_device_id"), source)


class IssueRoll(OfRun):
    """A run of numbers is given out."""

    roles = frozenset()
    sets_too = ("rolls/{roll_id}", "roll-holders/{roll_id}")

    kind: Literal["issue_roll"]

    def check_on(self, record: Record, records: Records) -> None:
        """Raises NumbersOfAnother for numbers that are not the office's, AlreadyThere for a roll's id that is in use,
        RollOverlaps if a number was given out before.

        An office that hears devices out takes numbers that are not its own: the office before it, which had others,
        gave them out, and they are on things."""
        first, last = serial_of(self.first_tag), serial_of(self.last_tag)
        own = own_serials(records.tx)
        if not records.hearing and (first not in own or last not in own):
            free = next_free(records.tx)
            raise NumbersOfAnother(shown(self.first_tag), shown(free) if free else None)
        other = records.tx.one(
            """
            SELECT roll_id, last_serial FROM roll
            WHERE roll_id = :roll_id OR (first_serial <= :last AND last_serial >= :first)
            ORDER BY roll_id = :roll_id DESC LIMIT 1
            """,
            roll_id=self.roll_id,
            first=first,
            last=last,
        )
        if other is None:
            return
        if other["roll_id"] == self.roll_id:
            raise AlreadyThere("roll", self.roll_id)
        free = next_free(records.tx) or next(codes(other["last_serial"] + 1))
        raise RollOverlaps(shown(self.first_tag), shown(free))

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        if None in self.members("roll_id", "first_tag", "last_tag").values():
            return False
        records.tx.run(
            """
            INSERT INTO roll (roll_id, first_serial, last_serial) VALUES (:roll_id, :first, :last)
            ON CONFLICT DO NOTHING
            """,
            roll_id=self.roll_id,
            first=serial_of(self.first_tag),
            last=serial_of(self.last_tag),
        )
        self.put_on(record, source)
        return False


class CarryRoll(OfRun):
    """Unused numbers of another day's roll go on on this one, as a roll of its own.

    Their labels are printed, and lie at whoever had them. What was used or struck through stays with the day before.
    """

    roles = frozenset()
    sets_too = ("rolls/{roll_id}", "roll-holders/{roll_id}")

    kind: Literal["carry_roll"]
    from_roll_id: Identifier

    def check_on(self, record: Record, records: Records) -> None:
        """Raises AlreadyThere for a roll's id that is in use, NotFound for numbers of no such roll of another day,
        NumbersNotLeft if one is on something, struck through or gone on to a day already."""
        if span_of(records.tx, self.roll_id) is not None:
            raise AlreadyThere("roll", self.roll_id)
        if records.hearing:
            return  # the day that it comes from may not be told of yet
        span = span_of(records.tx, self.from_roll_id)
        first, last = serial_of(self.first_tag), serial_of(self.last_tag)
        if (
            span is None
            or first not in span
            or last not in span
            or f"rolls/{self.from_roll_id}" in record.fields
        ):
            raise NotFound("roll of another day", self.from_roll_id)
        if not set(numbers_left(records.tx, self.from_roll_id)).issuperset(islice(codes(first), self.count)):
            raise NumbersNotLeft(shown(self.first_tag), self.count)

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        if None in self.members("roll_id", "from_roll_id", "first_tag", "last_tag").values():
            return False
        records.tx.run(
            """
            INSERT INTO roll_carried (roll_id, from_roll_id, first_serial, last_serial)
            VALUES (:roll_id, :from_roll_id, :first, :last) ON CONFLICT DO NOTHING
            """,
            roll_id=self.roll_id,
            from_roll_id=self.from_roll_id,
            first=serial_of(self.first_tag),
            last=serial_of(self.last_tag),
        )
        self.put_on(record, source, "from_roll_id")
        return False


class GiveRoll(OfDay, Edit):
    """A roll changes hands, such as a spare given to a table whose own runs out. Nobody needs a network for it."""

    roles = frozenset({"table", "door", "porter"})
    field_name = "roll-holders/{roll_id}"
    replaceable = True

    kind: Literal["give_roll"]
    roll_id: Identifier
    given_to: Line
    for_device_id: Annotated[str, Field(max_length=80)] | None

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """Raises NotFound for a roll that was not issued on this day."""
        roll_id = name.removeprefix("roll-holders/")
        if f"rolls/{roll_id}" not in record.fields:
            raise NotFound("roll", roll_id)


class SpoilTag(OfDay):
    """A number that was never tied is struck through: torn, misprinted, wet. It is kept and counted."""

    roles = frozenset({"table", "door", "porter", "desk"})
    sets_too = ("spoiled/{tag}",)

    kind: Literal["spoil_tag"]
    tag: Tag
    why: Line

    def check_on(self, record: Record, records: Records) -> None:
        """Raises TagTaken if it is on something, TagCheckFailed if it is no number."""
        tag = require_tag(self.tag)
        if holder_of(records, tag) is not None:
            raise TagTaken(shown(tag), "something that was tied to it")

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        if self.tag is None:
            return False
        tag = normalise(self.tag)
        records.tx.run("INSERT INTO spoiled_tag (tag) VALUES (:tag) ON CONFLICT DO NOTHING", tag=tag)
        record.put(f"spoiled/{tag}", {"tag": tag, "why": self.why}, source)
        return False


class NumbersInRow(BaseModel):
    """So many numbers one after the other, from one on."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    first_tag: Tag
    count: Annotated[int, Field(ge=1, le=LONGEST_ROLL)]


class PrintLabels(OfDay, Edit):
    """Labels are made for numbers of a roll, which are on nothing and on no label yet: no two files have one number.

    `rows` are the numbers in their order, and the file that is made of them is the same each time it is asked for: who
    prints it once more throws the first ones away. `label` says what the labels are for.
    """

    roles = frozenset({"table", "door", "porter", "desk"})
    field_name = "prints/{print_id}"

    kind: Literal["print_labels"]
    print_id: Identifier
    roll_id: Identifier
    label: Literal["tag", "bag", "box", "crate"]
    rows: Annotated[list[NumbersInRow], Field(min_length=1, max_length=MOST_ROWS)]

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """Raises NotFound for numbers of no such roll, LabelsPrinted for one that is on a label or a thing already."""
        roll = record.value(f"rolls/{value['roll_id']}")
        if roll is None:
            raise NotFound("roll", value["roll_id"])
        asked = [run_of(row) for row in value["rows"]]
        whole = range(serial_of(roll["first_tag"]), serial_of(roll["last_tag"]) + 1)
        if any(run is None or run.start not in whole or run.stop - 1 not in whole for run in asked):
            raise NotFound("number of this roll", value["rows"][0]["first_tag"])
        runs = [run for run in asked if run is not None]
        before = [
            run
            for other, printed in record.values(PRINTS).items()
            if other != name
            for row in printed["rows"]
            if (run := run_of(row))
        ]
        for at, run in enumerate(runs):
            if any(meet(run, other) for other in before + runs[:at]) or is_used(records, run):
                raise LabelsPrinted(shown(value["rows"][at]["first_tag"]), len(run))


def run_of(row: dict[str, Any]) -> range | None:
    """The serial numbers from the first to the last of a row; None if there are not so many."""
    first = serial_of(row["first_tag"])
    last = last_of(first, row["count"])
    return range(first, serial_of(last) + 1) if last else None


def meet(one: range, other: range) -> bool:
    return one.start < other.stop and other.start < one.stop


def is_used(records: Records, run: range) -> bool:
    """Whether one of the numbers is on something. Their signs stand in the order of their values."""
    first, last = next(codes(run.start)), next(codes(run.stop - 1))
    return bool(
        records.tx.value(
            "SELECT EXISTS (SELECT 1 FROM tag WHERE tag BETWEEN :first AND :last)", first=first, last=last
        )
    )


def span_of(tx: Reading, roll_id: str) -> range | None:
    """The serial numbers from the first to the last of a roll of whatever day; None if there is none."""
    row = tx.one(
        """
        SELECT first_serial, last_serial FROM roll WHERE roll_id = :roll_id
        UNION ALL SELECT first_serial, last_serial FROM roll_carried WHERE roll_id = :roll_id
        """,
        roll_id=roll_id,
    )
    return None if row is None else range(row["first_serial"], row["last_serial"] + 1)


def numbers_left(tx: Reading, roll_id: str) -> list[str]:
    """The numbers of a roll that are on nothing, not struck through and not gone on to another day, in their order."""
    span = span_of(tx, roll_id)
    if span is None:
        return []
    numbers = list(takewhile(lambda tag: serial_of(tag) in span, codes(span.start)))
    used = tx.all(
        """
        SELECT tag FROM tag WHERE tag BETWEEN :first AND :last
        UNION SELECT tag FROM spoiled_tag WHERE tag BETWEEN :first AND :last
        """,
        first=numbers[0],
        last=numbers[-1],
    )
    carried = tx.all(
        "SELECT first_serial, last_serial FROM roll_carried WHERE from_roll_id = :roll_id", roll_id=roll_id
    )
    gone = {row["tag"] for row in used}
    on = [range(row["first_serial"], row["last_serial"] + 1) for row in carried]
    return [tag for tag in numbers if tag not in gone and not any(serial_of(tag) in run for run in on)]


def left_before(tx: Reading, day_id: str) -> list[dict[str, Any]]:
    """The rolls of the days before one that have unused numbers left, each with who has it and the rows of them.

    `rows` are numbers in a row, each with what labels were made of them, "" if none: so they go on one by one.
    """
    return [roll for day in days_before(tx, day_id) for roll in rolls_left(tx, *day)]


def rolls_left(tx: Reading, day_id: str, held_on: str) -> list[dict[str, Any]]:
    """The rolls of a day, held on a date, that have unused numbers left, the lowest numbers first."""
    fields = {
        row["name"]: json.loads(row["value"])
        for row in tx.all(
            """
            SELECT name, value FROM field WHERE record_id = :day_id AND (
                name >= 'rolls/' AND name < 'rolls0' OR name >= 'roll-holders/' AND name < 'roll-holders0'
                OR name >= 'prints/' AND name < 'prints0'
            )
            """,
            day_id=day_id,
        )
    }
    found = []
    for name in fields:
        head, _, roll_id = name.partition("/")
        left = numbers_left(tx, roll_id) if head == "rolls" else []
        if not left:
            continue
        prints = [
            print_
            for key, print_ in fields.items()
            if key.startswith(PRINTS) and print_["roll_id"] == roll_id
        ]
        holder = fields.get(f"roll-holders/{roll_id}") or {"given_to": "", "for_device_id": None}
        found.append(
            {
                "roll_id": roll_id,
                **holder,
                "held_on": held_on,
                "unused": len(left),
                "rows": rows_left(left, prints),
            }
        )
    return sorted(found, key=lambda one: serial_of(one["rows"][0]["first_tag"]))


def rows_left(numbers: list[str], prints: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Numbers as rows of such as follow each other and have the same kind of label, or none yet."""
    printed = [(run, of["label"]) for of in prints for row in of["rows"] if (run := run_of(row)) is not None]
    rows: list[dict[str, Any]] = []
    for tag in numbers:
        serial = serial_of(tag)
        label = next((label for run, label in printed if serial in run), "")
        row = rows[-1] if rows else None
        if row and row["label"] == label and last_of(serial_of(row["first_tag"]), row["count"] + 1) == tag:
            row |= {"last_tag": tag, "count": row["count"] + 1}
        else:
            rows.append({"first_tag": tag, "last_tag": tag, "count": 1, "label": label})
    return rows


def last_of(first_serial: int, count: int) -> str | None:
    """The last of so many numbers from a serial on; None if there are fewer."""
    return next(islice(codes(first_serial), count - 1, None), None)
