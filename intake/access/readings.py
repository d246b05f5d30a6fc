"""Who read what is on record of an owner: every such reading at a desk is noted before the words leave the office."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from intake.access.devices import stamp
from intake.database import Database, Reading, Writing
from intake.families import Asker

#: One reading is noted once while it goes on: a page reads its records again whenever they change.
ONE_READING = timedelta(minutes=30)
PAGE = 50


@dataclass(frozen=True)
class Note:
    """A desk read an owner's words at a moment; `ticket` names the visit for people."""

    device_name: str
    record_id: str
    ticket: str
    read_at: str


class Readings:
    """Notes readings, and remembers for a while which were noted."""

    def __init__(self, database: Database) -> None:
        self._database = database
        self._noted: dict[tuple[str, str], datetime] = {}

    async def note(self, asker: Asker, visit_ids: list[str], now: datetime) -> None:
        """Note that a desk reads these visits. Raises OfficeBusy or OfficeFull; then they are not to be read."""
        if asker.role != "desk":
            return
        self._noted = {key: at for key, at in self._noted.items() if now - at < ONE_READING}
        fresh = [visit_id for visit_id in visit_ids if (asker.device_id, visit_id) not in self._noted]
        if not fresh:
            return
        rows = [(asker.device_id, visit_id, stamp(now)) for visit_id in fresh]

        def job(tx: Writing) -> None:
            tx.run_many("INSERT INTO reading_note (device_id, record_id, read_at) VALUES (?, ?, ?)", rows)

        await self._database.write(job)
        self._noted |= {(asker.device_id, visit_id): now for visit_id in fresh}


def notes(tx: Reading, before: int) -> tuple[list[Note], int | None]:
    """The latest readings before a place in their order, and the place to go on from; None at the end."""
    rows: list[Any] = tx.all(
        """
        SELECT note_seq, device.name AS device_name, reading_note.record_id, field.value ->> '$' AS ticket, read_at
        FROM reading_note LEFT JOIN device USING (device_id)
            LEFT JOIN field ON field.record_id = reading_note.record_id AND field.name = 'ticket'
        WHERE note_seq < :before ORDER BY note_seq DESC LIMIT :limit
        """,
        before=before,
        limit=PAGE,
    )
    found = [
        Note(row["device_name"] or "", row["record_id"], row["ticket"] or "", row["read_at"]) for row in rows
    ]
    return found, rows[-1]["note_seq"] if len(rows) == PAGE else None
