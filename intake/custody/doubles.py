"""One thing that was recorded twice: which record stands behind which."""

from __future__ import annotations

from typing import Any, Literal

from intake.arrival.items import ItemEdit
from intake.custody.with_owner import is_back_with_owner
from intake.database import Reading
from intake.errors import AlreadyThere, BehindWhatWentBack, ItemStopped, OfAnotherDay
from intake.operation import Identifier, Line, Operation
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.registries import derives, stands_behind
from intake.records.values import Source


class MergeItem(ItemEdit):
    """The same thing was recorded twice: this record stands behind another. Both keep their histories.

    `into_id` null takes it back.
    """

    roles = frozenset({"table", "desk"})
    field_name = "merged"

    kind: Literal["merge_item"]
    into_id: Identifier | None
    why: Line

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """Raises ItemStopped for an item that a red caution stops, which stands behind no other record, whoever knew of
        it, and for one that would come away from a record that is stopped; AlreadyThere if the other stands behind one
        itself, or is the same, NotFound if there is none, OfAnotherDay if it came in on another day,
        BehindWhatWentBack if it is with its owner, and this one is here."""
        into_id = value["into_id"]
        for double in [record] if into_id else records.same_thing(record):
            if stops := double.derived("stops"):
                raise ItemStopped(min(stop.hazard for stop in stops))
        if into_id is not None:
            other = records.require(into_id, "item")
            if other is record or other.derived("merged_into") is not None:
                raise AlreadyThere("doubled record", into_id)
            if other.day_id != record.day_id:
                raise OfAnotherDay()
            if is_back_with_owner(other) and not is_back_with_owner(record):
                raise BehindWhatWentBack()

    @classmethod
    def put_value(cls, record: Record, name: str, value: Any, records: Records, source: Source) -> None:
        super().put_value(record, name, value, records, source)
        records.note_behind(record.record_id, value.get("into_id"))


@derives("item", "merged_into", "merged")
def merged_into(item: Record) -> str | None:
    """The item behind whose record this one stands, or None."""
    merged = item.value("merged")
    return merged["into_id"] if merged else None


@stands_behind("item")
def behind_what(tx: Reading) -> dict[str, str]:
    """The items that stand behind another one, each with that one's id."""
    rows = tx.all("SELECT record_id, value ->> 'into_id' AS into_id FROM field WHERE name = 'merged'")
    return {row["record_id"]: row["into_id"] for row in rows if row["into_id"]}
