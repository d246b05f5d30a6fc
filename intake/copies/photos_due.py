"""The photos that a copy is still to get, and those that the office itself cannot read."""

from __future__ import annotations

import hashlib
from collections.abc import Container
from contextlib import suppress
from dataclasses import dataclass
from itertools import islice

from intake.copies import source as office
from intake.copies.source import FileMark, Photo, Source
from intake.database import Reading

PHOTOS_A_STEP, PHOTO_BYTES_A_STEP = 64, 8 * 1024 * 1024


@dataclass(frozen=True)
class Unread:
    """A photo that the office itself cannot read, why, and what its file was then."""

    photo: Photo
    why: str
    mark: FileMark
    tried_again: bool  # whether it is worth another try though the file is as it was


class PhotosDue:
    """By their digests, in the order in which they came to the office."""

    def __init__(self, source: Source) -> None:
        self.unread: dict[str, Unread] = {}
        self._source = source
        self._pending: dict[str, Photo] = {}
        self._arrival = 0

    def note(self, tx: Reading, in_copy: Container[str]) -> None:
        """Take up those that came, and those that the office could not read before."""
        for photo in office.photos_after(tx, self._arrival):
            self._arrival = photo.arrival
            if photo.sha256 not in in_copy and photo.sha256 not in self.unread:
                self._pending[photo.sha256] = photo
        for sha256, unread in list(self.unread.items()):
            if unread.tried_again or self._source.photo_mark(sha256) != unread.mark:
                self._pending[sha256] = self.unread.pop(sha256).photo

    def look_at_all_again(self) -> None:
        """What was taken for copied may not be."""
        self._arrival = 0

    def next(self) -> list[tuple[Photo, bytes]]:
        """The next photos of a step, each with its bytes. Those that cannot be read are `unread` from now on."""
        found: list[tuple[Photo, bytes]] = []
        size = 0
        for photo in list(islice(self._pending.values(), PHOTOS_A_STEP)):
            if size >= PHOTO_BYTES_A_STEP:
                break
            content = self._read(photo)
            if content is not None:
                found.append((photo, content))
                size += len(content)
        return found

    def note_copied(self, sha256s: list[str]) -> None:
        for sha256 in sha256s:
            del self._pending[sha256]

    def left(self, copied: set[str]) -> list[Photo]:
        """Those that are due once these are copied, beside the unread ones."""
        return [photo for sha256, photo in self._pending.items() if sha256 not in copied]

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
        del self._pending[photo.sha256]
        return None
