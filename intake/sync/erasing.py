"""Erasing a consignor's words from the office's own computer: an operation like any other, made by the office."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from intake.database import Reading, Writing
from intake.sync.operations import answer_batch

OFFICE = "office"  # what the log calls the device


@dataclass(frozen=True)
class NamedVisit:
    """A visit as a person tells it from others."""

    visit_id: str
    ticket: str
    name: str
    place: str
    held_on: str

    def __str__(self) -> str:
        return (
            f"ticket {self.ticket or 'unknown'}, {self.name or 'no name'}, {self.place} on {self.held_on}, "
            f"number {self.visit_id}"
        )


def visits_named(tx: Reading, typed: str) -> list[NamedVisit]:
    """The visits whose number, ticket or owner's whole name was typed, in any case and with any blanks."""
    wanted = as_compared(typed)
    rows = tx.each(
        """
        SELECT visit.record_id AS visit_id, ticket.value ->> '$' AS ticket, owner.value ->> '$' AS name,
            coalesce(place.value ->> '$', day.head ->> 'place') AS place,
            coalesce(held_on.value ->> '$', day.head ->> 'held_on') AS held_on
        FROM record AS visit
            LEFT JOIN field AS ticket ON ticket.record_id = visit.record_id AND ticket.name = 'ticket'
            LEFT JOIN field AS owner ON owner.record_id = visit.record_id AND owner.name = 'consignor/name'
            LEFT JOIN record AS day ON day.record_id = visit.day_id
            LEFT JOIN field AS place ON place.record_id = visit.day_id AND place.name = 'place'
            LEFT JOIN field AS held_on ON held_on.record_id = visit.day_id AND held_on.name = 'held_on'
        WHERE visit.kind = 'visit' ORDER BY 5 DESC, visit.record_id
        """
    )
    return [
        NamedVisit(*(str(said or "") for said in row))
        for row in rows
        if wanted in [as_compared(str(row[name] or "")) for name in ("visit_id", "ticket", "name")]
    ]


def as_compared(typed: str) -> str:
    return " ".join(typed.casefold().split())


def erase_consignor(
    tx: Writing, visit_id: str, *, operation_id: str, now: str, made_at: str = ""
) -> dict[str, Any]:
    """Erase the personal words of a visit. The answer, whose `problem` says why it was refused, if it was.

    `made_at`: when that was asked for, if an office which has forgotten it does so again.
    """
    made_before = tx.value(
        "SELECT max(device_seq) FROM operation_log WHERE device_id = :device_id", device_id=OFFICE
    )
    operation = {
        "operation_id": operation_id,
        "kind": "erase_consignor",
        "made_at": made_at or now,
        "made_by": "",
        "device_id": OFFICE,
        "device_seq": 1 + (made_before or 0),
        "visit_id": visit_id,
    }
    [answer] = answer_batch(tx, [operation], device_id=OFFICE, role="manager", received_at=now)
    return answer
