"""Pictures made from originals, in processes of their own: a decoder that fails or is killed harms nobody else."""

from __future__ import annotations

import asyncio
import os
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from io import BytesIO
from multiprocessing import get_context
from pathlib import Path
from weakref import WeakValueDictionary

from PIL import Image, ImageOps

from intake.disk import write_whole
from intake.errors import CannotBeDrawn
from intake.photos.picture import OPENED
from intake.photos.store import PhotoStore

LARGE_PX = 2016  # half of 4032, so that JPEG's own half-size decoding serves (measured: 4.5 times faster)
TRIES = 2  # whoever killed the process may have meant another one


class Drawn:
    """The made pictures of one office. They can be made again at any time and are no part of a copy."""

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

    async def large(self, sha256: str) -> Path:
        """A JPEG of at most 2016 px, upright, made once. Raises NotFound, PhotoMissing, CannotBeDrawn, OfficeFull."""
        await self._store.require(sha256)
        target = self._folder / f"{sha256}.jpg"
        turn = self._turns.get(sha256)
        if turn is None:
            turn = self._turns[sha256] = asyncio.Lock()
        async with turn, self._drawing:
            if not target.exists():
                drawn = await self._draw(self._store.file_of(sha256))
                if drawn is None:
                    raise CannotBeDrawn(sha256)
                await asyncio.to_thread(put_new, target, drawn)
        return target

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


def put_new(target: Path, content: bytes) -> None:
    """Put a file there in one step, so that nobody reads half of it. Raises OfficeFull."""
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
