"""Erasing a consignor's words: noted in the log as what it is, so that devices hear of it and a rebuild knows it."""

from __future__ import annotations

from typing import Any, Literal

from intake.arrival.visits import OfVisit
from intake.database import Reading
from intake.derived_tables import follows_from_log
from intake.families import family_of, gone
from intake.ids import own_id
from intake.operation import Rules, earlier
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.values import Source

OFFICE = "office"  # what the log calls the device by which the office itself erases

follows_from_log("erasure", order="record_id, office_seq")


class EraseConsignor(OfVisit):
    """The personal words of a visit are erased for good; what else is on record of it stays."""

    roles = frozenset()
    erases_words = True

    kind: Literal["erase_consignor"]

    def ruled(self, records: Records, rules: Rules | None, heard_at: str) -> dict[str, Any]:
        """From when it counts: by a clock that is ahead, what an owner says until then would be erased as it came."""
        made_at = earlier(self.made_at, heard_at)
        return {"made_at": made_at} if made_at != self.made_at else {}

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        """Blank every field that can be erased, on the visit and on its items, and let go of disagreements about one.
        The notes of settlements go and who took things back, also on what belongs to no visit of the day: they may be
        about anybody.

        In a rebuild the words are gone before, so that two that disagreed are equal then, and nothing was noted:
        neither way may leave more.

        A request that was carried out before takes nothing that came since.
        """
        if was_carried_out(records.tx, record.record_id, source):
            return False
        own = [record, *items_of(record, records)]
        for each in (*own, *of_no_visit(record, records)):
            for name in [name for name in each.fields if family_of(name, each.kind).erased is gone]:
                each.remove(name)
        for each in own:
            erase_fields(each, source)
        records.tx.run(
            """
            INSERT INTO erasure (record_id, office_seq, made_at, device_id, device_seq)
            VALUES (:record_id, :office_seq, :made_at, :device_id, :device_seq)
            """,
            record_id=record.record_id,
            office_seq=source.office_seq,
            made_at=source.made_at,
            device_id=source.device_id,
            device_seq=source.device_seq,
        )
        return False


def id_as_owed(operation_id: str) -> str:
    """The id under which the office does what an operation asks for that waits on its device: it follows from its own,
    so that the operation is known for done when it comes."""
    return own_id(operation_id, OFFICE)


def was_carried_out(tx: Reading, record_id: str, source: Source) -> bool:
    """Whether the office did what this asks for while it waited on its device, or another told of the same request,
    which has the time at which it was made."""
    found = tx.value(
        """
        SELECT 1 FROM erasure WHERE record_id = :record_id AND (
            made_at = :made_at
            OR office_seq = (SELECT office_seq FROM operation_log WHERE operation_id = :as_owed)
        )
        """,
        record_id=record_id,
        made_at=source.made_at,
        as_owed=id_as_owed(source.operation_id),
    )
    return found is not None


def erase_fields(record: Record, source: Source) -> None:
    """Leave of each value of a record what stays once its owner's words are erased."""
    for name, current in list(record.fields.items()):
        erased = family_of(name, record.kind).erased
        if erased is not None:
            record.put(name, erased(current.value), source)
    for between in list(record.disagreements.values()):
        if family_of(between.name, record.kind).erasable:
            record.drop_disagreement(between.disagreement_id)


def items_of(visit: Record, records: Records) -> list[Record]:
    """The items of a visit, those of this batch among them."""
    items = of_day(visit, records, "item")
    return [item for item in items if item.head.get("visit_id") == visit.record_id]


def of_no_visit(visit: Record, records: Records) -> list[Record]:
    """The day of a visit, and its containers: what is said of them may be about any owner of the day."""
    day = records.find(visit.day_id)
    return [*([day] if day is not None else []), *of_day(visit, records, "container")]


def of_day(visit: Record, records: Records, kind: str) -> list[Record]:
    """The records of a kind on a visit's day, those of this batch among them."""
    rows = records.tx.all(
        "SELECT record_id FROM record WHERE day_id = :day_id AND kind = :kind",
        day_id=visit.day_id,
        kind=kind,
    )
    found = {row["record_id"] for row in rows} | records.unwritten()
    of_it = [record for record_id in sorted(found) if (record := records.find(record_id)) is not None]
    return [record for record in of_it if (record.kind, record.day_id) == (kind, visit.day_id)]
