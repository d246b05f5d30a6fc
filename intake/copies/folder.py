"""A copy's folder. Every byte that a copy reads or writes passes here, so that a test can put a fault anywhere.

Only what every system and every stick has is used: no rename over a file that is there, no links, no long names.
"""

from __future__ import annotations

import errno
import io
import os
import re
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, BinaryIO

from intake import system

LOCK = "in-use"
#: The names that a copy's files may have. What somebody wrote into a copy never leads out of its folder.
OWN_NAME = (
    r"^(head|log|words|erased|erasures|plans|photos|devices|files|house)(-\d{1,15})?\.(jsonl|json|pack)$"
)
ASIDE = "before-"
#: What systems put on an empty stick by themselves.
SYSTEM = ("lost+found", "System Volume Information", "$RECYCLE.BIN")
#: At most so much is written between two signs of life: ten seconds at 400 KB/s, which an old stick manages.
PIECE = 4 * 1024 * 1024
READ_PIECE = 1024 * 1024  # the same for what is read, where a piece costs nothing
SECTOR = 512  # bytes: the least that a disk gives or does not give
#: What reading a bad place on a disk says; the second one on Windows, which has no word of its own for it.
BAD_PLACE = (errno.EIO, errno.EACCES)


class InUse(Exception):
    """Another process is writing to this copy at the moment."""


class CutShort(Exception):
    """A file is shorter than the copy's head says."""

    def __init__(self, name: str) -> None:
        super().__init__(f"{name} is shorter than it was")


class Answering(io.FileIO):
    """A file that is read in pieces, and tells each time its disk gave one.

    A bad place on the disk reads as zeros, which no check in a copy fits: so it costs what stands on it, and nothing
    behind it. Where the folder is not to be seen any more either, it is no bad place, and OSError is raised.
    """

    def __init__(self, path: Path, answered: Callable[[], None], on_bad_place: Callable[[], None]) -> None:
        super().__init__(path)
        self._path, self._answered, self._on_bad_place = path, answered, on_bad_place
        self._careful_to = 0  # so far it is read sector by sector, since a larger piece was not given
        self._bad = 0  # bytes of the bad place that it stands in

    def readinto(self, buffer: Any) -> int | None:
        whole, at = memoryview(buffer)[:READ_PIECE], self.tell()
        sector = SECTOR - at % SECTOR
        piece = whole[:sector] if at < self._careful_to else whole
        try:
            count = self.given(piece)
            self._bad = 0
        except OSError as error:
            if error.errno not in BAD_PLACE:
                raise
            if at >= self._careful_to:
                os.listdir(self._path.parent)
                self._careful_to = at + len(whole)
                return self.readinto(buffer)
            count = self._pass_over(whole, at, sector)
        self._answered()
        return count

    def given(self, piece: memoryview) -> int | None:
        """What the disk gives of a piece."""
        return super().readinto(piece)

    def _pass_over(self, whole: memoryview, at: int, sector: int) -> int:
        """Zeros for what cannot be read. In a long bad place the steps grow with it, since each may take seconds."""
        size = max(sector, self._bad // 4 // SECTOR * SECTOR)
        count = min(size, len(whole), max(0, os.fstat(self.fileno()).st_size - at))
        whole[:count] = bytes(count)
        self.seek(at + count)
        self._bad += count
        self._on_bad_place()
        return count


class Folder:
    """One folder that a copy lies in. Everything may raise OSError.

    `answered` is called whenever the disk or the network behind it did what it was asked for: one that is slow tells so
    that it is at work, and one that hangs is silent. `unreadable` are the files that were read around a bad place.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self.answered: Callable[[], None] = lambda: None
        self.unreadable: set[str] = set()

    def __str__(self) -> str:
        return str(self.path)

    def make(self) -> None:
        """Make the folder, but not the one it lies in: where a stick is mounted may be there without the stick."""
        if not self.path.is_dir():
            self.path.mkdir()
            sync_folder(self.path.parent)

    def names(self) -> list[str]:
        return sorted(os.listdir(self.path))

    def own_names(self) -> list[str]:
        return [name for name in self.names() if re.match(OWN_NAME, name)]

    def other_names(self) -> list[str]:
        """What lies there and is no part of any copy."""
        return [
            name
            for name in self.names()
            if not re.match(OWN_NAME, name)
            and not name.startswith((".", ASIDE))
            and name not in (LOCK, *SYSTEM)
        ]

    def asides(self) -> list[str]:
        """The folders of what was set aside."""
        return [name for name in self.names() if name.startswith(ASIDE) and (self.path / name).is_dir()]

    def size(self, name: str) -> int:
        """Bytes; 0 if there is no such file."""
        try:
            return (self.path / name).stat().st_size
        except FileNotFoundError:
            return 0

    def free(self) -> int:
        """How many bytes more there is room for."""
        return shutil.disk_usage(self.path).free

    def open(self, name: str) -> BinaryIO:
        return self._answering(name)

    def _answering(self, name: str) -> BinaryIO:
        self.unreadable.discard(name)
        file = Answering(self.path / name, lambda: self.answered(), lambda: self.unreadable.add(name))
        return io.BufferedReader(file)

    def read(self, name: str) -> bytes:
        with self._answering(name) as stream:  # asked for all at once it would come in one piece
            return b"".join(iter(lambda: stream.read(READ_PIECE), b""))

    def append(self, name: str, offset: int, content: bytes) -> None:
        """Put bytes at an offset and wait for the disk. What stood behind the offset was never counted and goes.

        Raises CutShort if the file does not reach the offset. If the disk is full, the file is cut to the offset.
        """
        file = self.path / name
        new = not file.exists()
        with file.open("w+b" if new else "r+b") as stream:
            if stream.seek(0, os.SEEK_END) < offset:
                raise CutShort(name)
            stream.truncate(offset)
            stream.seek(offset)
            try:
                for start in range(0, max(len(content), 1), PIECE):
                    self.put(stream, content[start : start + PIECE])
                    self.answered()
            except OSError:
                with suppress(OSError):
                    stream.truncate(offset)
                raise
        if new:
            sync_folder(self.path)

    def write_whole(self, name: str, content: bytes) -> None:
        """Write a file anew and wait for the disk."""
        self.append(name, 0, content)

    def put(self, stream: BinaryIO, content: bytes) -> None:
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())

    def remove(self, name: str) -> None:
        (self.path / name).unlink(missing_ok=True)

    def aside(self, name: str) -> Path:
        """The folder for what is set aside under this name."""
        return self.path / f"{ASIDE}{name}"

    def set_aside(self, name: str) -> None:
        """Move all files of the copy into a folder of that name inside it."""
        aside = self.aside(name)
        aside.mkdir()
        for found in self.own_names():
            os.rename(self.path / found, aside / found)
        sync_folder(self.path)

    @contextmanager
    def held(self) -> Iterator[None]:
        """One writer at a time. Raises InUse. Where a file system knows no locks, nothing keeps two apart."""
        with (self.path / LOCK).open("a+b") as stream:
            try:
                mine = system.lock(stream.fileno())
            except OSError:
                mine = True
            if not mine:
                raise InUse
            yield


def sync_folder(path: Path) -> None:
    """Wait until a folder's list of names is on the disk; a file system that cannot be asked for it is not."""
    with suppress(OSError):
        system.sync_folder(path)
