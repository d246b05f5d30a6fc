"""What the tests of copies share: a day with something in it, a copier driven by hand, and folders with faults."""

from __future__ import annotations

import asyncio
import errno
import random
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, BinaryIO

import pytest

from intake.copies.copier import Copier, Lag
from intake.copies.folder import Answering, Folder
from intake.copies.restore import Restored, restore
from intake.copies.source import Source, source_of
from intake.database import Reading, opened
from intake.derived_tables import DERIVED
from intake.settings import Settings
from intake.sync.verifying import find_faults
from intake.sync.words_beside import erase_words
from tests.builders import a_fact, a_photo, a_visit, an_item, digest, picture
from tests.phone import Phone

OWNER_NAME, OWNER_PHONE = "Philippa Dunnock-Vale", "07700 900321"


def a_consignor(visit_id: str, field: str, value: str) -> tuple[str, dict[str, Any]]:
    body = {"visit_id": visit_id, "field": field, "value": value, "salt": "ab" * 16, "seen": None}
    return "set_consignor", body


def record_items(phone: Phone, day: dict[str, Any], count: int, *, seed: int = 0) -> list[bytes]:
    """A visit with its owner and so many items, a photo each, all at the office. The photos."""
    visit = phone.keep(a_visit(phone.ids, day["day_id"], ticket=f"Q{seed:02}"))
    phone.keep(a_consignor(visit["visit_id"], "name", OWNER_NAME))
    phone.keep(a_consignor(visit["visit_id"], "telephone", OWNER_PHONE))
    photos = []
    for number in range(count):
        item = phone.keep(an_item(phone.ids, visit))
        phone.keep(a_fact(item["item_id"], "short_description", f"jug {seed}-{number}"))
        content = picture(seed * 1000 + number, size=(200, 150))
        phone.keep(a_photo(phone.ids, item["item_id"], content, content))
        photos.append(content)
    answered = phone.bundle(photos).json()
    assert [told["outcome"] for told in answered["answers"] + answered["photos"]] == ["kept"] * (
        len(phone.outbox) + len(photos)
    )
    phone.settle(answered["answers"])
    return photos


def copier_of(settings: Settings, folder: Folder | Path, **how: Any) -> Copier:
    place = Folder(folder) if isinstance(folder, Path) else folder
    return Copier(place, source_of(settings), clock=settings.clock, **how)


def until_done(copier: Copier) -> Lag:
    """Step until nothing is left."""
    for _ in range(1000):
        lag = copier.step()
        if lag.nothing:
            return lag
    raise AssertionError(f"the copy never became complete: {lag}")


def restored_from(copy: Path | Folder, settings: Settings, **how: Any) -> Restored:
    folder = Folder(copy) if isinstance(copy, Path) else copy
    return asyncio.run(restore(folder, settings, **how))


def faults_of(settings: Settings) -> list[str]:
    """What `verify` says."""

    async def work() -> list[str]:
        async with opened(settings.database_file) as database:
            return await find_faults(database, settings.photos_folder)

    return asyncio.run(work())


def erase(settings: Settings, record_id: str) -> int:
    async def work() -> int:
        async with opened(settings.database_file) as database:
            return await database.write(lambda tx: erase_words(tx, record_id))

    return asyncio.run(work())


TABLES = {
    "log": "SELECT * FROM operation_log ORDER BY office_seq",
    "words": "SELECT * FROM private_words ORDER BY operation_id",
    "photos": "SELECT sha256, bytes, media_type, width, height, received_at FROM photo_file ORDER BY sha256",
    "plans": "SELECT * FROM plan_version ORDER BY class_id, version",
    "devices": "SELECT device_id, name, role, key_sha256, paired_at, revoked_at FROM device ORDER BY device_id",
    "office": "SELECT office_id, first_serial, last_serial FROM office",
    "aside": "SELECT * FROM set_aside ORDER BY operation_id",
    **DERIVED,
}


def contents(settings: Settings, *, up_to: int | None = None) -> dict[str, list[Any]]:
    """What an office has, table by table; `up_to` leaves out of the log and the words what came later."""
    connection = sqlite3.connect(settings.database_file)
    try:
        found = {name: connection.execute(sql).fetchall() for name, sql in TABLES.items()}
    finally:
        connection.close()
    if up_to is not None:
        found["log"] = [row for row in found["log"] if row[0] <= up_to]
        known = {row[1] for row in found["log"]}
        found["words"] = [row for row in found["words"] if row[0] in known]
    return found


def bytes_below(folder: Path) -> bytes:
    """Every byte of every file below a folder."""
    return b"".join(file.read_bytes() for file in sorted(folder.rglob("*")) if file.is_file())


class Crash(BaseException):
    """The process ends here: nothing after this runs."""


class FailingFolder(Folder):
    """A folder in which the n-th write ends in the middle, at a place that chance picks."""

    def __init__(
        self, path: Path, *, at: int, chance: random.Random, fault: Callable[[], BaseException]
    ) -> None:
        super().__init__(path)
        self.writes, self._at, self._chance, self._fault = 0, at, chance, fault

    def put(self, stream: BinaryIO, content: bytes) -> None:
        self.writes += 1
        if self.writes == self._at:
            super().put(stream, content[: self._chance.randrange(len(content) + 1)])
            raise self._fault()
        super().put(stream, content)


class LimitedFolder(Folder):
    """A folder on a disk with so much room, as a full stick is."""

    room = 0

    def free(self) -> int:
        return max(0, self.room - self._used())

    def _used(self) -> int:
        return sum(self.size(name) for name in self.names())

    def put(self, stream: BinaryIO, content: bytes) -> None:
        used = self._used()
        if used + len(content) > self.room:
            super().put(stream, content[: max(0, self.room - used)])
            raise OSError(errno.ENOSPC, "No space left on device")
        super().put(stream, content)


class LockedFolder(Folder):
    """A folder that can be read and not written, as a stick with its slide pushed is."""

    locked = False

    def put(self, stream: BinaryIO, content: bytes) -> None:
        self._refuse()
        super().put(stream, content)

    def remove(self, name: str) -> None:
        self._refuse()
        super().remove(name)

    def _refuse(self) -> None:
        if self.locked:
            raise OSError(errno.EROFS, "Read-only file system")


def watch_moments(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What is asked of any copy's folder while a moment of the office's tables is open, from now on."""
    found: list[str] = []
    opened_now, moment = [0], Source.moment

    @contextmanager
    def counted(source: Source) -> Iterator[Reading]:
        with moment(source) as tx:
            opened_now[0] += 1
            try:
                yield tx
            finally:
                opened_now[0] -= 1

    def watched(name: str, asked: Callable[..., Any]) -> Callable[..., Any]:
        def ask(folder: Folder, *what: Any, **how: Any) -> Any:
            if opened_now[0]:
                found.append(name)
            return asked(folder, *what, **how)

        return ask

    monkeypatch.setattr(Source, "moment", counted)
    for name in ("make", "names", "size", "open", "read", "append", "put", "remove", "asides", "free"):
        monkeypatch.setattr(Folder, name, watched(name, getattr(Folder, name)))
    monkeypatch.setattr(Answering, "readinto", watched("readinto", Answering.readinto))
    return found


def flip(file: Path, offset: int) -> None:
    """Change one byte of a file."""
    content = bytearray(file.read_bytes())
    content[offset] ^= 0x20
    file.write_bytes(content)


def spoil(monkeypatch: pytest.MonkeyPatch, name: str, *places: range, times: int | None = None) -> list[int]:
    """From now on the disk does not give these bytes of the file of that name; only so many `times`. Where it was asked
    for some of them."""
    given, asked = Answering.given, list[int]()

    def give(file: Answering, piece: memoryview) -> int | None:
        at = file.tell()
        is_bad = any(at < place.stop and place.start < at + len(piece) for place in places)
        if is_bad and Path(str(file.name)).name == name and (times is None or len(asked) < times):
            asked.append(at)
            raise OSError(errno.EIO, "Input/output error")
        return given(file, piece)

    monkeypatch.setattr(Answering, "given", give)
    return asked


def photo_names(photos: list[bytes]) -> set[str]:
    return {digest(photo) for photo in photos}
