"""The photos that a copy is still to get, and those that the office itself cannot read."""

from __future__ import annotations

import hashlib
from collections.abc import Container
from contextlib import suppress
from dataclasses import dataclass
from itertools import islice

from intake.copies import source as office
from intake.copies.photo_lines import HELD_KIB
from intake.copies.source import PHOTO_COLUMNS, FileMark, Photo, Source, photo_of
from intake.database import Reading, Writing, scratch_file

PHOTOS_A_STEP, PHOTO_BYTES_A_STEP = 64, 8 * 1024 * 1024
PHOTOS_AT_ONCE = 1000


@dataclass(frozen=True)
class Unread:
    """A photo that the office itself cannot read, why, and what its file was then."""

    photo: Photo
    why: str
    mark: FileMark
    tried_again: bool  # whether it is worth another try though the file is as it was


class PhotosDue:
    """By their digests, in the order in which they came to the office. A new copy is owed all of a house's millions."""

    def __init__(self, source: Source) -> None:
        self.unread: dict[str, Unread] = {}
        self._source = source
        self._pending = PendingPhotos()
        self._arrival = 0

    def note(self, tx: Reading, in_copy: Container[str]) -> None:
        """Take up those that came, and those that the office could not read before."""
        came = office.photos_after(tx, self._arrival)
        while some := list(islice(came, PHOTOS_AT_ONCE)):
            self._arrival = some[-1].arrival
            self._pending.add(
                [photo for photo in some if photo.sha256 not in in_copy and photo.sha256 not in self.unread]
            )
        for sha256, unread in list(self.unread.items()):
            if unread.tried_again or self._source.photo_mark(sha256) != unread.mark:
                self._pending.add([self.unread.pop(sha256).photo])

    def look_at_all_again(self) -> None:
        """What was taken for copied may not be."""
        self._arrival = 0

    def next(self) -> list[tuple[Photo, bytes]]:
        """The next photos of a step, each with its bytes. Those that cannot be read are `unread` from now on."""
        found: list[tuple[Photo, bytes]] = []
        size = 0
        for photo in self._pending.first(PHOTOS_A_STEP):
            if size >= PHOTO_BYTES_A_STEP:
                break
            content = self._read(photo)
            if content is not None:
                found.append((photo, content))
                size += len(content)
        return found

    def note_copied(self, sha256s: list[str]) -> None:
        for sha256 in sha256s:
            self._pending.remove(sha256)

    def left(self, copied: set[str]) -> tuple[int, int]:
        """How many are due once these are copied, beside the unread ones, and their bytes."""
        sizes = [self._pending.size_of(sha256) for sha256 in copied]
        return self._pending.count - len(sizes), self._pending.bytes - sum(sizes)

    def whole(self, photos: list[Photo]) -> list[tuple[Photo, bytes]]:
        """Those of these photos, which stand in the copy, that the office can read itself, each with its bytes."""
        found = []
        for photo in photos:
            with suppress(OSError):
                content = self._source.photo(photo.sha256)
                if hashlib.sha256(content).hexdigest() == photo.sha256:
                    found.append((photo, content))
        return found

    def _read(self, photo: Photo) -> bytes | None:
        """The photo's bytes; None if the office itself cannot read it whole, until its file is another one."""
        mark, tried_again = self._source.photo_mark(photo.sha256), False
        try:
            content = self._source.photo(photo.sha256)
        except OSError as error:
            why, tried_again = error.strerror or str(error), not isinstance(error, FileNotFoundError)
        else:
            if hashlib.sha256(content).hexdigest() == photo.sha256:
                return content
            why = "it was changed on the disk"
        self.unread[photo.sha256] = Unread(photo, why, mark, tried_again)
        self._pending.remove(photo.sha256)
        return None


class PendingPhotos:
    """Photos by digest, in the order in which they were first added, beside memory."""

    def __init__(self) -> None:
        self.count = self.bytes = 0
        self._tables = Writing(scratch_file(HELD_KIB, threads=True))
        self._tables.run(
            """
            CREATE TABLE pending (
                seq         INTEGER PRIMARY KEY,
                arrival     INTEGER NOT NULL,
                sha256      TEXT NOT NULL UNIQUE,   -- what stands in the office's own row
                bytes       INTEGER NOT NULL,
                media_type  TEXT NOT NULL,
                width       INTEGER NOT NULL,
                height      INTEGER NOT NULL,
                received_at TEXT NOT NULL
            ) STRICT
            """
        )

    def add(self, photos: list[Photo]) -> None:
        """Photos that are not among these yet."""
        last = self._tables.value("SELECT max(seq) FROM pending") or 0
        self._tables.run("BEGIN")
        self._tables.run_many(
            """
            INSERT INTO pending (arrival, sha256, bytes, media_type, width, height, received_at)
            VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING
            """,
            [(photo.arrival, *(photo.row[name] for name in PHOTO_COLUMNS)) for photo in photos],
        )
        self._tables.run("COMMIT")
        count, size = self._tables.all(
            "SELECT count(*), coalesce(sum(bytes), 0) FROM pending WHERE seq > :last", last=last
        )[0]
        self.count, self.bytes = self.count + count, self.bytes + size

    def remove(self, sha256: str) -> None:
        self.count, self.bytes = self.count - 1, self.bytes - self.size_of(sha256)
        self._tables.run("DELETE FROM pending WHERE sha256 = :sha256", sha256=sha256)

    def size_of(self, sha256: str) -> int:
        return int(self._tables.value("SELECT bytes FROM pending WHERE sha256 = :sha256", sha256=sha256))

    def first(self, most: int) -> list[Photo]:
        rows = self._tables.all("SELECT * FROM pending ORDER BY seq LIMIT :most", most=most)
        return [photo_of(row) for row in rows]
