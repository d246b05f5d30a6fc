"""Who read what is on record of an owner: every such reading at a desk is noted.

The note is taken in memory before the words leave the office and written down beside the request, at once if the tables
are free: asking never waits for whoever holds them. It stays here, and is shown from here, until it is there.
"""

from __future__ import annotations

import asyncio
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, NamedTuple

from intake.access.devices import stamp
from intake.database import Database, Reading, Writing
from intake.errors import IntakeError
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


class Taken(NamedTuple):
    """A note as it is taken: which device read which visit, and when."""

    device_id: str
    record_id: str
    read_at: str


class Readings:
    """Notes readings, and remembers for a while which were noted."""

    def __init__(self, database: Database) -> None:
        self._database = database
        self._noted: dict[tuple[str, str], datetime] = {}
        self._unwritten: list[Taken] = []
        self._turn = asyncio.Lock()
        self._writing: set[asyncio.Task[None]] = set()

    @property
    def unwritten(self) -> list[Taken]:
        """Those that the table does not have yet, in the order in which they were taken."""
        return list(self._unwritten)

    def note(self, asker: Asker, visit_ids: list[str], now: datetime) -> None:
        """Note that a desk reads these visits."""
        if asker.role != "desk":
            return
        self._noted = {key: at for key, at in self._noted.items() if now - at < ONE_READING}
        fresh = [visit_id for visit_id in visit_ids if (asker.device_id, visit_id) not in self._noted]
        if not fresh:
            return
        self._unwritten += [Taken(asker.device_id, visit_id, stamp(now)) for visit_id in fresh]
        self._noted |= {(asker.device_id, visit_id): now for visit_id in fresh}
        task = asyncio.create_task(self._try_to_write())
        self._writing.add(task)
        task.add_done_callback(self._writing.discard)

    async def _try_to_write(self) -> None:
        with suppress(
            IntakeError
        ):  # the tables are held, or full: housekeeping does it, and says if it cannot
            await self.write_down()

    async def write_down(self) -> None:
        """Put what was noted into the table. It stays here until it is there. Raises OfficeBusy, OfficeFull."""
        async with self._turn:
            rows = self.unwritten
            if not rows:
                return

            def job(tx: Writing) -> None:
                tx.run_many("INSERT INTO reading_note (device_id, record_id, read_at) VALUES (?, ?, ?)", rows)

            await self._database.write(job)
            del self._unwritten[: len(rows)]


def named(tx: Reading, taken: Sequence[Taken]) -> list[Note]:
    """Notes that are not written yet, the latest first, with the names of desks and visits."""
    found = []
    for device_id, record_id, read_at in reversed(taken):
        device_name = tx.value("SELECT name FROM device WHERE device_id = :id", id=device_id)
        ticket = tx.value(
            "SELECT value ->> '$' FROM field WHERE record_id = :id AND name = 'ticket'", id=record_id
        )
        found.append(Note(device_name or "", record_id, ticket or "", read_at))
    return found


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
