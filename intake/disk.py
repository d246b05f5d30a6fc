"""Bytes to the disk, waited for, so that what was acknowledged survives a power cut.

A whole photo goes past the kernel's page cache: nobody reads it again soon, and filling fresh pages with it costs
more than all else the office does with it (measured: 1.0 ms of kernel time for 350 KB, 0.25 without).
"""

from __future__ import annotations

import errno
import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from mmap import mmap
from pathlib import Path

from intake.errors import OfficeFull
from intake.system import BINARY, DIRECT, NO_ROOM, end_direct_writing, write_at

#: What SQLite says where no room is left, also for the memory that its processes share (which is a file as well).
#: Source: https://www.sqlite.org/rescode.html
FULL_CODES = {sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR_SHMSIZE}
PAGE = 4096  # what the disk takes directly starts and ends at a multiple of this
BUFFER_STEP = 1024 * 1024
BUFFERS_LIMIT = 64 * 1024 * 1024


def is_of_a_full_disk(error: Exception) -> bool:
    """Whether this is what system, engine or office say when the disk has no room left."""
    if isinstance(error, sqlite3.Error):
        return getattr(error, "sqlite_errorcode", None) in FULL_CODES
    return isinstance(error, OfficeFull) or (isinstance(error, OSError) and error.errno in NO_ROOM)


class Buffers:
    """Memory that starts at a page, lent out for one photo each and used again: new memory costs its first touch.

    One thread borrows; any may give back. What is never given back is freed with its last user.
    """

    def __init__(self) -> None:
        self._free: list[mmap] = []

    def borrow(self, size: int) -> mmap:
        """At least `size` bytes, with whatever was in them before."""
        while self._free:
            buffer = self._free.pop()
            if len(buffer) >= size:
                return buffer
        return mmap(-1, -(-size // BUFFER_STEP) * BUFFER_STEP)

    def give_back(self, buffer: mmap) -> None:
        if sum(map(len, self._free)) + len(buffer) <= BUFFERS_LIMIT:
            self._free.append(buffer)


def write_whole(file: Path, content: bytes | memoryview) -> None:
    """Put a whole file on the disk, past the page cache where system and memory allow it. Raises OfficeFull.

    Nothing is cut off first: a file that is there under a name made from its bytes gets the same bytes again, and
    is never less than it was, whoever reads or writes it meanwhile. Only what it has behind them goes, at the end.
    """
    view = memoryview(content)
    try:
        put(file, view, directly=len(view) // PAGE * PAGE if DIRECT else 0)
    except OSError as error:
        if error.errno != errno.EINVAL:
            raise
        put(file, view, directly=0)


def put(file: Path, view: memoryview, *, directly: int) -> None:
    """Write a file whose first bytes, so many, go directly. OSError with EINVAL says that they cannot."""
    flags = os.O_WRONLY | os.O_CREAT
    with synced(file, flags | DIRECT if directly else flags) as descriptor:
        done = 0
        if directly:
            done = write_at(descriptor, view[:directly], 0)
            end_direct_writing(descriptor)
        write_from(descriptor, view[done:], done)
        # What stood there and was longer was not what its name says.
        if os.fstat(descriptor).st_size > len(view):
            os.ftruncate(descriptor, len(view))


def write_on(file: Path, content: bytes | memoryview, *, offset: int) -> None:
    """Put bytes into a file from an offset on, anew if that is its start. Raises OfficeFull."""
    with synced(file, os.O_WRONLY | os.O_CREAT | (0 if offset else os.O_TRUNC)) as descriptor:
        write_from(descriptor, memoryview(content), offset)


@contextmanager
def synced(file: Path, flags: int) -> Iterator[int]:
    """A file's descriptor; at the end of the block what was written is waited for. Raises OfficeFull."""
    try:
        descriptor = os.open(file, flags | BINARY, 0o600)
        try:
            yield descriptor
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
    except OSError as error:
        if error.errno in NO_ROOM:
            raise OfficeFull from error
        raise


def write_from(descriptor: int, view: memoryview, offset: int) -> None:
    while view:
        written = write_at(descriptor, view, offset)
        view, offset = view[written:], offset + written
