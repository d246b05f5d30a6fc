"""Erasing a consignor's words: noted in the log as what it is, so that devices hear of it and a rebuild knows it."""

from __future__ import annotations

from typing import Any, Literal

from intake.arrival.visits import OfVisit
from intake.edits import NOTES
from intake.families import family_of
from intake.operation import Rules, earlier
from intake.records import Record, Records, Source


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
        """Blank every field that can be erased, and let go of disagreements about one; the notes of settlements on the
        items that came with the visit go, too.

        In a rebuild the words are gone before, so that two that disagreed are equal then, and nothing was noted:
        neither way may leave more.
        """
        for one in (record, *items_of(record, records)):
            for name in one.values(NOTES):
                one.remove(name)
        for name in [name for name in record.fields if family_of(name).erasable]:
            record.put(name, blank(record.value(name)), source)
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
        for between in list(record.disagreements.values()):
            if family_of(between.name).erasable:
                record.drop_disagreement(between.disagreement_id)
        return False


def items_of(visit: Record, records: Records) -> list[Record]:
    """The items of a visit, those of this batch among them."""
    rows = records.tx.all(
        """
        SELECT record_id FROM record
        WHERE day_id = :day_id AND kind = 'item' AND head ->> 'visit_id' = :visit_id
        """,
        day_id=visit.day_id,
        visit_id=visit.record_id,
    )
    found = {row["record_id"] for row in rows} | records.unwritten()
    items = [item for one in sorted(found) if (item := records.find(one)) is not None]
    return [item for item in items if item.head.get("visit_id") == visit.record_id]


def blank(value: Any) -> Any:
    """A value of the same form with nothing in it."""
    return dict.fromkeys(value, "") if isinstance(value, dict) else ""
