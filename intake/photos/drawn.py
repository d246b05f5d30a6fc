"""Pictures made from originals, in processes of their own: a decoder that fails or is killed harms nobody else."""

from __future__ import annotations

import asyncio
import os
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import suppress
from datetime import datetime, timedelta
from io import BytesIO
from multiprocessing import get_context
from pathlib import Path
from weakref import WeakValueDictionary

import yaml
from PIL import Image, ImageOps

from intake.disk import write_whole
from intake.errors import CannotBeDrawn
from intake.photos.picture import OPENED
from intake.photos.store import PhotoStore

LARGE_PX = 2016  # half of 4032, so that JPEG's own half-size decoding serves (measured: 4.5 times faster)
TRIES = 2  # whoever killed the process may have meant another one


def limits() -> tuple[timedelta, int]:
    """After how long without use a drawn picture goes, and how many bytes of them stay: `drawn.yaml` says why."""
    rows = yaml.safe_load((Path(__file__).parent / "drawn.yaml").read_text("utf-8"))["stays"]
    by_name = {row["limit"]: row for row in rows}
    return timedelta(days=by_name["unused"]["days"]), by_name["size"]["megabytes"] * 1_000_000


UNUSED, MOST_BYTES = limits()
NOTED_AS_USED = timedelta(days=1)  # no sooner, so that looking through a day writes each file once


class Drawn:
    """The made pictures of one office, in folders by the beginning of their names. They can be made again at any time
    and are no part of a copy; what nobody opened for long goes, and the oldest where they are too many."""

    def __init__(self, folder: Path, store: PhotoStore, *, workers: int) -> None:
        self._folder = folder
        self._store = store
        self._workers = workers
        self._pool: ProcessPoolExecutor | None = None
        self._drawing = asyncio.Semaphore(workers)  # so that a broken pool is the doing of these few only
        self._turns: WeakValueDictionary[str, asyncio.Lock] = WeakValueDictionary()
        folder.mkdir(parents=True, exist_ok=True)

    def close(self) -> None:
        if self._pool is not None:
            self._pool.shutdown(cancel_futures=True)

    async def large(self, sha256: str, now: datetime) -> bytes:
        """A JPEG of at most 2016 px, upright, made once. Raises NotFound, PhotoMissing, CannotBeDrawn, OfficeFull.

        Its bytes and not its file, which may be let go of before it is read.
        """
        await self._store.require(sha256)
        target = drawn_file(self._folder, sha256)
        turn = self._turns.get(sha256)
        if turn is None:
            turn = self._turns[sha256] = asyncio.Lock()
        async with turn, self._drawing:
            drawn = await asyncio.to_thread(read_and_noted, target, now)
            if drawn is None:
                drawn = await self._draw(self._store.file_of(sha256))
                if drawn is None:
                    raise CannotBeDrawn(sha256)
                await asyncio.to_thread(put_new, target, drawn)
                note_used(target, now)
        return drawn

    async def trim(self, now: datetime) -> int:
        """Let go of what nobody opened for long, and of the oldest where they are too many. How many files."""
        return await asyncio.to_thread(trim, self._folder, now)

    async def _draw(self, source: Path) -> bytes | None:
        """The JPEG's bytes; None if it cannot be drawn, or if the process that drew it ended each time."""
        for _ in range(TRIES):
            if self._pool is None:
                self._pool = ProcessPoolExecutor(self._workers, mp_context=get_context("spawn"))
            pool = self._pool
            try:
                return await asyncio.get_running_loop().run_in_executor(pool, draw_large, source)
            except BrokenProcessPool:
                if self._pool is pool:
                    self._pool = None
                pool.shutdown(wait=False)
        return None


def drawn_file(folder: Path, sha256: str) -> Path:
    return folder / sha256[:2] / f"{sha256}.jpg"


def read_and_noted(file: Path, now: datetime) -> bytes | None:
    """Its bytes, noted as used; None if it is not there, or not any more."""
    note_used(file, now)
    try:
        return file.read_bytes()
    except FileNotFoundError:
        return None


def note_used(file: Path, now: datetime) -> None:
    """Its time is that of its last use, as far as that counts."""
    with suppress(OSError):
        if abs(now.timestamp() - file.stat().st_mtime) > NOTED_AS_USED.total_seconds():
            os.utime(file, (now.timestamp(), now.timestamp()))


def trim(folder: Path, now: datetime) -> int:
    spread(folder)
    drawn = [(at, size, path) for path, size, at in drawn_files(folder)]
    drawn.sort(reverse=True)  # the newest stay
    removed, total, oldest = 0, 0, (now - UNUSED).timestamp()
    for at, size, path in drawn:
        total += size
        if at < oldest or total > MOST_BYTES:
            Path(path).unlink(missing_ok=True)
            removed += 1
    return removed


def spread(folder: Path) -> None:
    """Put what an earlier version drew beside each other into folders, and let go of what it did not end."""
    with os.scandir(folder) as flat:
        for entry in flat:
            if entry.name.endswith(".jpg"):
                target = drawn_file(folder, entry.name.removesuffix(".jpg"))
                target.parent.mkdir(exist_ok=True)
                os.replace(entry.path, target)
            elif not entry.is_dir():
                os.unlink(entry.path)


def drawn_files(folder: Path) -> Iterator[tuple[str, int, float]]:
    for inner in folder.iterdir():
        with os.scandir(inner) as entries:
            for entry in entries:
                with suppress(FileNotFoundError):  # it went with its owner meanwhile
                    told = entry.stat()
                    yield entry.path, told.st_size, told.st_mtime


def put_new(target: Path, content: bytes) -> None:
    """Put a file there in one step, so that nobody reads half of it. Raises OfficeFull."""
    target.parent.mkdir(exist_ok=True)
    partial = target.with_suffix(".new")
    partial.unlink(missing_ok=True)  # a longer one may be left from before
    write_whole(partial, content)
    os.replace(partial, target)


def draw_large(source: Path) -> bytes | None:
    """Decode, shrink, then turn: in this order since turning the large picture costs more than all the rest.

    None if the picture cannot be drawn: parsers of bytes from outside fail in every way there is.
    """
    try:
        with Image.open(source, formats=OPENED) as image:
            image.draft("RGB", (LARGE_PX, LARGE_PX))
            image.thumbnail((LARGE_PX, LARGE_PX), Image.Resampling.BOX)
            upright = ImageOps.exif_transpose(image).convert("RGB")
    except Exception:
        return None
    clean = Image.frombytes("RGB", upright.size, upright.tobytes())  # leaves comments and positions behind
    stream = BytesIO()
    clean.save(stream, "JPEG", quality=85)
    return stream.getvalue()
