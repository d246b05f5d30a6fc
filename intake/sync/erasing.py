"""Erasing a consignor's words from the office's own computer: an operation like any other, made by the office.

An erasure of a visit that is not here is remembered, and takes hold as the visit comes, whichever way that is: from a
phone, with a copy that is taken in, while an office is restored.
"""

from __future__ import annotations

import secrets
import sqlite3
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from intake.arrival.erasing import OFFICE, id_as_owed
from intake.database import Reading, Writing
from intake.errors import NotFound
from intake.ids import uuid7
from intake.operation import by_office_clock, earlier
from intake.sync.operations import answer_batch


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
        NamedVisit(*(str(value or "") for value in row))
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


def answer_erasing(
    tx: Writing,
    sent: list[Any],
    answer: Callable[[list[Any]], list[dict[str, Any]]],
    *,
    may_erase: bool,
    now: str,
    clock_off_s: int = 0,
) -> list[dict[str, Any]]:
    """What `answer` says to operations that a device hands in, with what is owed erased right behind its visit.

    So whatever comes after that is judged as it is after any erasure, whoever came back first: it stands if it was
    written since, and otherwise its answer says that it was kept without its words. `may_erase`: an erasure of what is
    not here is remembered. `clock_off_s`: how many seconds the device's clock was ahead.
    """
    answers = []
    for part in parts_by_visit(sent, {owed.visit_id for owed in erasures_owed(tx)}):
        answers += answer(part)
        erase_owed(tx, now)
    if may_erase:
        owe_erasures(tx, sent, answers, now, clock_off_s)
        erase_owed(tx, now)
    return answers


def parts_by_visit(sent: list[Any], visit_ids: set[str]) -> list[list[Any]]:
    """The operations in parts, each of which ends where one of these visits is opened."""
    parts: list[list[Any]] = [[]]
    for raw in sent:
        parts[-1].append(raw)
        if (
            isinstance(raw, dict)
            and raw.get("kind") == "open_visit"
            and str(raw.get("visit_id")) in visit_ids
        ):
            parts.append([])
    return parts


def owe_erasures(
    tx: Writing, sent: Iterable[Any], answers: Iterable[dict[str, Any]], now: str, clock_off_s: int
) -> None:
    """Remember what a manager's device asked to have erased and is not here: it waits for its visit, or was refused by
    an office of before. The answers stand in the order in which the operations were sent."""
    for raw, answer in zip(sent, answers, strict=True):
        if answer["outcome"] == "kept" or not isinstance(raw, dict) or raw.get("kind") != "erase_consignor":
            continue
        named = answer["outcome"] == "waiting" or answer["problem"]["code"] == NotFound.code
        if named and not is_here(tx, raw["visit_id"]):
            asked_at = earlier(by_office_clock(raw["made_at"], clock_off_s), now)
            owe_erasure(tx, raw["visit_id"], asked_at, operation_id=raw["operation_id"])


@dataclass(frozen=True)
class OwedErasure:
    """A visit that is not here and whose owner's words are to be erased as it comes, and when that was asked for."""

    visit_id: str
    made_at: str


def erasures_owed(tx: Reading) -> list[OwedErasure]:
    rows = tx.all(
        """
        SELECT record_id, max(made_at) AS made_at FROM erasure_owed
        GROUP BY record_id ORDER BY made_at, record_id
        """
    )
    return [OwedErasure(row["record_id"], row["made_at"]) for row in rows]


def is_here(tx: Reading, record_id: str) -> bool:
    return tx.value("SELECT 1 FROM record WHERE record_id = :record_id", record_id=record_id) is not None


def owe_erasure(tx: Writing, record_id: str, made_at: str, *, operation_id: str = "") -> None:
    """Remember that the words of a record are to be erased, as of then; not if they were. `operation_id`: which asked
    for it, if that is known."""
    tx.run(
        """
        INSERT INTO erasure_owed (record_id, operation_id, made_at)
        SELECT :record_id, :operation_id, :made_at
        WHERE NOT EXISTS (SELECT 1 FROM erasure WHERE record_id = :record_id AND made_at >= :made_at)
        ON CONFLICT (record_id, operation_id) DO UPDATE SET made_at = max(made_at, excluded.made_at)
        """,
        record_id=record_id,
        operation_id=operation_id,
        made_at=made_at,
    )


def erase_owed(tx: Writing, now: str) -> list[str]:
    """Erase what was to be erased and has come, as of when that was asked for. The tickets of those visits."""
    if tx.value("SELECT 1 FROM erasure_owed LIMIT 1") is None:
        return []
    came = owed_and_here(tx)
    for row in came:
        tx.run("DELETE FROM erasure_owed WHERE record_id = :record_id", record_id=row["record_id"])
        asked_by = row["operation_id"]
        operation_id = id_as_owed(asked_by) if asked_by else new_id(now)
        erase_consignor(tx, row["record_id"], operation_id=operation_id, now=now, made_at=row["made_at"])
    return list({row["record_id"]: row["ticket"] or "unknown" for row in came}.values())


def new_id(now: str) -> str:
    return uuid7(int(datetime.fromisoformat(now).timestamp() * 1000), secrets.token_bytes(10))


def owed_and_here(tx: Reading) -> list[sqlite3.Row]:
    return tx.all(
        """
        SELECT owed.record_id, owed.operation_id, owed.made_at, field.value ->> '$' AS ticket
        FROM erasure_owed AS owed JOIN record ON record.record_id = owed.record_id AND kind = 'visit'
            LEFT JOIN field ON field.record_id = owed.record_id AND field.name = 'ticket'
        ORDER BY owed.record_id, owed.made_at, owed.operation_id
        """
    )
