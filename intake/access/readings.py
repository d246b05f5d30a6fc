"""Who read what is on record of an owner: each such reading at a desk is noted, each search of a desk that went by an
owner's words, at which table a table's device sits, since it reads the owners there, and which owner came to be read
at one that sits there already.

The note is taken in memory before the words leave the office and written down beside the request, at once if the tables
are free: asking never waits for whoever holds them. It stays here, and is shown from here, until it is there.
"""

from __future__ import annotations

import asyncio
import json
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import partial
from typing import Any, NamedTuple

from intake.access.devices import Device, stamp
from intake.access.searches import SETTLES, Search, Searches
from intake.database import Database, Reading, Writing
from intake.errors import IntakeError, MovesTooOften
from intake.families import OFFICE_ROLES, Asker

#: One reading is noted once while it goes on: a page reads its records again whenever they change.
ONE_READING = timedelta(minutes=30)
MOST_MOVES, MOVES_WITHIN = 20, timedelta(minutes=10)
PAGE = 50


@dataclass(frozen=True)
class Note:
    """What a device read, and when, named for people: `ticket` of a visit; `words` of a search, and how many things it
    `found`; of a seat the table that it took, the one that it left, and who said so; of a day the same of days. `what`
    says which of the four. `crate` is the number of one that was read in the place of a visit, `day` the name of a day,
    where nobody can tell of which owner that speaks.
    """

    device_name: str
    record_id: str
    ticket: str
    read_at: str
    what: str
    words: str
    found: int
    seat: str
    seat_left: str
    made_by: str
    crate: str
    day: str


class Taken(NamedTuple):
    """A note as it is taken: by which device, of which record (of a seat the day, of a search none), and when."""

    device_id: str
    record_id: str
    read_at: str
    what: str = "visit"
    words: str = ""
    found: int = 0
    seat: str = ""
    seat_left: str = ""
    made_by: str = ""
    visits: tuple[str, ...] = ()  # by whose owners' words a search went


def of_search(search: Search) -> Taken:
    """The note of a search."""
    visits = tuple(sorted(search.visits))
    return Taken(search.device_id, "", stamp(search.at), "search", search.words, search.found, visits=visits)


class Readings:
    """Notes readings, and remembers for a while which were noted."""

    def __init__(self, database: Database, clock: Callable[[], datetime]) -> None:
        self._database, self._clock = database, clock
        self._noted: dict[tuple[str, str], datetime] = {}  # by device and visit
        self._searches = Searches(ONE_READING)
        self._moved: dict[tuple[str, str], list[datetime]] = {}  # by device and pairing
        self._unwritten: list[Taken] = []
        self._turn = asyncio.Lock()
        self._writing: set[asyncio.Task[None]] = set()

    @property
    def unwritten(self) -> list[Taken]:
        """Those that the table does not have yet, in the order in which they were taken."""
        return [*self._unwritten, *map(of_search, self._searches.standing)]

    def note(self, asker: Asker, visit_ids: list[str], now: datetime, *, in_hall: bool = False) -> None:
        """Note that a desk reads these visits; `in_hall`: so does any device of the hall, by what it asks for."""
        if asker.role != "desk" and not (in_hall and asker.role not in OFFICE_ROLES):
            return
        self._forget_old(now)
        fresh = [visit_id for visit_id in visit_ids if (asker.device_id, visit_id) not in self._noted]
        if not fresh:
            return
        self._noted |= {(asker.device_id, visit_id): now for visit_id in fresh}
        self._take([Taken(asker.device_id, visit_id, stamp(now)) for visit_id in fresh])

    def note_search(self, asker: Asker, words: str, visit_ids: list[str], found: int, now: datetime) -> None:
        """Note that a desk's words went by those of these visits' owners, and how many things the list had then."""
        if asker.role != "desk" or not visit_ids:
            return
        search = Search(asker.device_id, words, now, frozenset(visit_ids), found)
        self._take(list(map(of_search, self._searches.hear(search))))
        # By a timer of its own: what is in memory alone goes with a power cut.
        asyncio.get_running_loop().call_later(SETTLES.total_seconds(), lambda: self.settle(self._clock()))

    def settle(self, now: datetime | None) -> None:
        """Note the searches that have stood for a while; without a moment all: the office closes."""
        self._take(list(map(of_search, self._searches.settle(now))))

    def check_moves(self, device_id: str, paired_at: str, now: datetime) -> None:
        """Whether a device may go to another table or day once more: nobody needs so many, and among hundreds of notes
        the one that counts is not found. Pairing it again begins anew. Raises MovesTooOften."""
        moves = [at for at in self._moved.get((device_id, paired_at), ()) if now - at < MOVES_WITHIN]
        if len(moves) >= MOST_MOVES:
            raise MovesTooOften
        # Here and not as it has moved: many may ask at once.
        self._moved[device_id, paired_at] = [*moves, now]

    def note_move(self, asker: Asker, device: Device, made_by: str, now: datetime) -> None:
        """Note at which table a table's device sits from now on, which day another in the hall went to, and who was at
        it. `device` is as it was heard before."""
        moved = Taken(asker.device_id, asker.day_id, stamp(now), "seat", made_by=made_by)
        if asker.table_id or (asker.role == "table" and device.table_id):
            self._take([moved._replace(seat=asker.table_id, seat_left=device.table_id or "")])
        if device.day_id and asker.day_id != device.day_id and not asker.reads_every_day:
            self._take([moved._replace(what="day", seat=asker.day_id, seat_left=device.day_id)])

    def _forget_old(self, now: datetime) -> None:
        self._noted = {key: at for key, at in self._noted.items() if now - at < ONE_READING}

    def _take(self, notes: list[Taken]) -> None:
        if not notes:
            return
        self._unwritten += notes
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
            notes = list(self._unwritten)
            if not notes:
                return

            def job(tx: Writing) -> None:
                for note in notes:
                    put_down(tx, note)

            await self._database.write(job)
            del self._unwritten[: len(notes)]


def put_down(tx: Writing, note: Taken) -> None:
    """A note in the table. An owner may have been erased meanwhile: then of a search its words are as well."""
    if any(was_erased_since(tx, visit_id, note.read_at) for visit_id in note.visits):
        note = note._replace(words="")
    note_seq = tx.value(
        """
        INSERT INTO reading_note (device_id, record_id, read_at, what, words, found, seat, seat_left, made_by)
        VALUES (:device_id, :record_id, :read_at, :what, :words, :found, :seat, :seat_left, :made_by)
        RETURNING note_seq
        """,
        **{name: value for name, value in note._asdict().items() if name != "visits"},
    )
    tx.run_many(
        "INSERT INTO search_found (visit_id, note_seq) VALUES (?, ?)",
        [(visit_id, note_seq) for visit_id in note.visits],
    )


def put_down_read(tx: Writing, device_id: str, visit_ids: Sequence[str], now: datetime) -> None:
    """Note that a device reads the owners of these visits from now on: with what made it so, or not at all. What is
    noted already is one reading while that goes on."""
    for visit_id in visit_ids:
        if not was_read_since(tx, device_id, visit_id, stamp(now - ONE_READING)):
            put_down(tx, Taken(device_id, visit_id, stamp(now)))


def was_read_since(tx: Reading, device_id: str, visit_id: str, moment: str) -> bool:
    return bool(
        tx.value(
            """
            SELECT EXISTS (
                SELECT 1 FROM reading_note WHERE record_id = :visit_id AND device_id = :device_id AND read_at > :moment
            )
            """,
            device_id=device_id,
            visit_id=visit_id,
            moment=moment,
        )
    )


def was_erased_since(tx: Reading, visit_id: str, moment: str) -> bool:
    return bool(
        tx.value(
            """
            SELECT EXISTS (
                SELECT 1 FROM erasure JOIN operation_log USING (office_seq)
                WHERE erasure.record_id = :visit_id AND received_at >= :moment
            )
            """,
            visit_id=visit_id,
            moment=moment,
        )
    )


def forget_searches(tx: Writing, visit_id: str) -> None:
    """An owner is erased: of searches that went by their words it stays that there was one, and when."""
    tx.run(
        """
        UPDATE reading_note SET words = ''
        WHERE note_seq IN (SELECT note_seq FROM search_found WHERE visit_id = :visit_id)
        """,
        visit_id=visit_id,
    )


def named(tx: Reading, taken: Sequence[Taken]) -> list[Note]:
    """Notes with the names of devices, visits, tables and people, the latest first."""
    return [named_one(tx, note) for note in reversed(taken)]


def named_one(tx: Reading, note: Taken) -> Note:
    def said(name: str) -> Any:
        return tx.value(
            "SELECT value FROM field WHERE record_id = :id AND name = :name", id=note.record_id, name=name
        )

    device_name = tx.value("SELECT name FROM device WHERE device_id = :id", id=note.device_id)
    ticket, person = said("ticket"), said(f"people/{note.made_by}")
    if any(was_erased_since(tx, visit_id, note.read_at) for visit_id in note.visits):
        note = note._replace(words="")
    name_of = day_name if note.what == "day" else partial(table_name, day_id=note.record_id)
    return Note(
        device_name or "",
        note.record_id,
        json.loads(ticket) if ticket else "",
        note.read_at,
        note.what,
        note.words,
        note.found,
        name_of(tx, note.seat),
        name_of(tx, note.seat_left),
        json.loads(person)["name"] if person else note.made_by,
        crate_number(tx, note.record_id) if note.what == "visit" else "",
        day_name(tx, note.record_id) if note.what == "visit" else "",
    )


def crate_number(tx: Reading, record_id: str) -> str:
    number = tx.value(
        "SELECT head ->> 'number' FROM record WHERE record_id = :id AND kind = 'container'", id=record_id
    )
    return number or ""


def day_name(tx: Reading, day_id: str) -> str:
    """A day by its house and its date, as they were said first; empty for one that is not here."""
    head = tx.value("SELECT head FROM record WHERE record_id = :day_id AND kind = 'day'", day_id=day_id)
    return f"{json.loads(head)['house']}, {json.loads(head)['held_on']}" if head else ""


def table_name(tx: Reading, table_id: str, *, day_id: str) -> str:
    """A table as its day calls it now, or did first; as it was said where no day knows it."""
    if not table_id:
        return ""
    now = tx.value(
        "SELECT value ->> 'name' FROM field WHERE record_id = :day_id AND name = :name",
        day_id=day_id,
        name=f"tables/{table_id}",
    )
    first = tx.value("SELECT head -> 'tables' FROM record WHERE record_id = :day_id", day_id=day_id)
    named = {table["table_id"]: table["name"] for table in json.loads(first or "[]") or []}
    return str(now or named.get(table_id, table_id))


def notes(tx: Reading, before: int) -> tuple[list[Note], int | None]:
    """The latest notes before a place in their order, and the place to go on from; None at the end."""
    rows = tx.all(
        "SELECT * FROM reading_note WHERE note_seq < :before ORDER BY note_seq DESC LIMIT :limit",
        before=before,
        limit=PAGE,
    )
    names = [name for name in Taken._fields if name != "visits"]
    found = [named_one(tx, Taken(**{name: row[name] for name in names})) for row in rows]
    return found, rows[-1]["note_seq"] if len(rows) == PAGE else None
