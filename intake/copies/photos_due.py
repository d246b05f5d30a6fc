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
from intake.reading import photos_gone

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
        #: Those that went with their owner before they were copied, and their bytes: nothing is due of them.
        self.gone: dict[str, int] = {}
        self._source = source
        self._next: dict[str, Photo] = {}  # those that were given out last
        self._pending = PendingPhotos()
        self._arrival = 0

    def note(self, tx: Reading, in_copy: Container[str]) -> None:
        """Take up those that came, and those that the office could not read before."""
        gone = photos_gone(tx)
        came = office.photos_after(tx, self._arrival)
        while some := list(islice(came, PHOTOS_AT_ONCE)):
            self._arrival = some[-1].arrival
            due = [photo for photo in some if photo.sha256 not in in_copy and photo.sha256 not in self.unread]
            self._pending.add([photo for photo in due if photo.sha256 not in gone])
            self.gone |= {photo.sha256: photo.bytes for photo in due if photo.sha256 in gone}
        for sha256, unread in list(self.unread.items()):
            if sha256 in gone:
                self.gone[sha256] = self.unread.pop(sha256).photo.bytes
            elif unread.tried_again or self._source.photo_mark(sha256) != unread.mark:
                self._pending.add([self.unread.pop(sha256).photo])
        self._next = {}

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
        self._next = {photo.sha256: photo for photo, _ in found}
        return found

    def note_copied(self, sha256s: list[str]) -> None:
        """These of the next ones stand in the copy now."""
        for sha256 in sha256s:
            self._pending.remove(self._next[sha256])

    def left(self, copied: set[str]) -> tuple[int, int]:
        """How many are due once these of the next ones are copied, beside the unread ones, and their bytes."""
        sizes = [self._next[sha256].bytes for sha256 in copied]
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
        self._pending.remove(photo)
        return None


PENDING = """
    INSERT INTO pending (arrival, sha256, bytes, media_type, width, height, received_at)
    VALUES (:arrival, :sha256, :bytes, :media_type, :width, :height, :received_at) ON CONFLICT DO NOTHING
"""


class PendingPhotos:
    """Photos in the order in which they came to the office, beside memory. Their place in it is all that they are found
    by: an index of digests, which are in no order, would be most of the work that a new copy begins with."""

    def __init__(self) -> None:
        self.count = self.bytes = 0
        self._tables = Writing(scratch_file(HELD_KIB, threads=True))
        self._tables.run(
            """
            CREATE TABLE pending (
                arrival     INTEGER PRIMARY KEY,
                sha256      TEXT NOT NULL,          -- what stands in the office's own row
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
        self._tables.run("BEGIN")
        for photo in photos:
            values = {name: photo.row[name] for name in PHOTO_COLUMNS}
            if self._tables.run(PENDING, arrival=photo.arrival, **values):
                self.count, self.bytes = self.count + 1, self.bytes + photo.bytes
        self._tables.run("COMMIT")

    def remove(self, photo: Photo) -> None:
        """Let go of one that is among these."""
        self.count, self.bytes = self.count - 1, self.bytes - photo.bytes
        self._tables.run("DELETE FROM pending WHERE arrival = :arrival", arrival=photo.arrival)

    def first(self, most: int) -> list[Photo]:
        rows = self._tables.all("SELECT * FROM pending ORDER BY arrival LIMIT :most", most=most)
        return [photo_of(row) for row in rows]
