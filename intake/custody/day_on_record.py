"""A day's records, read for its closing: a day at a time, and of each record only what a closing goes by."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from intake.custody.doubles import merged_into
from intake.database import Reading
from intake.errors import NotFound
from intake.families import key_of
from intake.records.record import Record
from intake.records.same_thing import ids_of_thing
from intake.records.values import Disagreement, FieldValue

#: What a check-in notes of a thing by itself.
OF_CHECK_IN = ("new-damage", "piece-short", "item-short")

#: What the closing of a day goes by. The rest of an item, most of it, is never read.
GOES_BY = frozenset(
    {
        *("house", "place", "held_on", "closed", "reasons/", "tables/"),
        *("people/", "rolls/", "roll-holders/", "spoiled/", "loads/"),
        *("differences/", "difference-ends/", "incidents/", "incident-ends/"),
        *("ticket", "stage", "item_count", "table_id", "receipts/"),
        *("short_description", "class_id", "plan_version", "pieces", "pieces-back"),
        *("zones/", "findings/", "tests/", "photos/", "views/"),
        *("cautions/", "caution-decisions/", "check-in", "heard-late/", "merged"),
        *("tags/", "inside", "inside/", "seal", "moves/", "whereabouts", "whereabouts/"),
    }
)


@dataclass(frozen=True)
class DayOnRecord:
    """A day with its visits, items and containers, each the oldest first."""

    day: Record
    visits: list[Record]
    items: list[Record]
    containers: list[Record]

    @cached_property
    def things(self) -> dict[str, Record]:
        """Items and containers by their ids."""
        return {thing.record_id: thing for thing in (*self.items, *self.containers)}

    @cached_property
    def noted_at_check_in(self) -> set[str]:
        """The things of which a difference was noted that a check-in notes: it stands for the check-in, until it is
        settled and afterwards."""
        noted = values_of(self.day, "differences/")
        return {one["thing_id"] for one in noted if one["thing_id"] and one["difference"] in OF_CHECK_IN}

    @cached_property
    def _behind(self) -> dict[str, str]:
        """The items that stand behind another one, each with that one's id."""
        return {item.record_id: into_id for item in self.items if (into_id := merged_into(item))}

    def same_thing(self, item: Record) -> list[Record]:
        """All records of the thing that an item is of, itself the first: whichever was merged into which."""
        found = ids_of_thing(item.record_id, self._behind)
        return [self.things[record_id] for record_id in found if record_id in self.things]

    def __post_init__(self) -> None:
        """Each item knows of the others of the same thing."""
        for item_id in {*self._behind, *self._behind.values()}:
            if item := self.things.get(item_id):
                item.others = lambda item=item: self.same_thing(item)[1:]  # type: ignore[misc]


def listed(record: Record, prefix: str) -> Iterator[tuple[str, FieldValue]]:
    """The fields of a family in the order of their names, each with the id that stands behind the family's name."""
    for name, value in record.fields.items():
        if name.startswith(prefix):
            yield name.removeprefix(prefix), value


def values_of(record: Record, prefix: str) -> Iterator[dict[str, Any]]:
    """The values of a family, such as `tags/`."""
    return (field.value for _, field in listed(record, prefix))


def day_on_record(tx: Reading, day_id: str) -> DayOnRecord:
    """Read a day. Raises NotFound if there is none of this id."""
    records: dict[str, Record] = {}
    for row in tx.each(
        """
        SELECT record_id, kind, day_id, opened_seq, head FROM record WHERE day_id = :day_id
        ORDER BY head ->> 'opened_at', record_id
        """,
        day_id=day_id,
    ):
        record_id, kind, of_day, opened_seq, head = row
        record = Record(tx, record_id, kind, of_day, opened_seq, json.loads(head))
        record.fields, record.disagreements = {}, {}
        records[record_id] = record
    if day_id not in records or records[day_id].kind != "day":
        raise NotFound("day", day_id)
    read_fields(tx, day_id, records)
    read_disagreements(tx, day_id, records)
    of_kind = {
        kind: [record for record in records.values() if record.kind == kind]
        for kind in ("visit", "item", "container")
    }
    return DayOnRecord(records[day_id], of_kind["visit"], of_kind["item"], of_kind["container"])


def read_fields(tx: Reading, day_id: str, records: dict[str, Record]) -> None:
    for row in tx.each(
        """
        SELECT record_id, name, value, operation_id, made_by, made_at, field.device_id, device_seq
        FROM record JOIN field USING (record_id) WHERE day_id = :day_id ORDER BY record_id, name
        """,
        day_id=day_id,
    ):
        name = row["name"]
        if key_of(name) in GOES_BY:
            records[row["record_id"]].fields[name] = FieldValue(
                json.loads(row["value"]),
                row["operation_id"],
                row["made_by"],
                row["made_at"],
                row["device_id"],
                row["device_seq"],
                row["value"],
            )


def read_disagreements(tx: Reading, day_id: str, records: dict[str, Record]) -> None:
    """Those that nobody has settled, of whatever field."""
    for row in tx.each(
        """
        SELECT record_id, disagreement_id, name, disagreement.office_seq, kept, other, settled
        FROM record JOIN disagreement USING (record_id) WHERE day_id = :day_id AND settled IS NULL
        ORDER BY disagreement.office_seq
        """,
        day_id=day_id,
    ):
        record_id, *between = row
        records[record_id].disagreements[between[0]] = Disagreement(*between)
