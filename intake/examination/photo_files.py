"""The photos' bytes: unchanged, one file each named by its SHA-256, made to exist by a row.

A file without a row may be torn and is written again; `verify` reads every file against its name. An upload
that was cut goes on at the offset the office has.
"""

from __future__ import annotations

import asyncio
import hashlib
import os
from collections.abc import AsyncIterator
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import dataclass
from io import BytesIO
from multiprocessing import get_context
from pathlib import Path
from typing import BinaryIO
from weakref import WeakValueDictionary

from PIL import Image, ImageOps, UnidentifiedImageError
from pillow_heif import register_heif_opener

from intake.database import Database, Reading, Writing
from intake.disk import Buffers, write_on, write_whole
from intake.errors import (
    NotAPicture,
    NotFound,
    PictureTooLarge,
    TooLarge,
    WrongDigest,
    WrongOffset,
)
from intake.examination.photos import PHOTO_LIMIT
from intake.system import sync_folder

register_heif_opener()
Image.init()  # its parsers are loaded now, not while the first photo waits
Image.MAX_IMAGE_PIXELS = None  # our own, lower limit is checked before any pixel is decoded
OPENED = ("JPEG", "PNG", "WEBP", "HEIF")  # no other parser ever sees bytes from outside
#: What a picture is once it is open. A phone's JPEG that carries a second picture behind the first, such as its depth
#: or brightness, comes as MPO.
MEDIA_TYPES = {
    "JPEG": "image/jpeg",
    "MPO": "image/jpeg",
    "PNG": "image/png",
    "WEBP": "image/webp",
    "HEIF": "image/heic",
}
WRITTEN_AT_ONCE = 1024 * 1024
WRITERS = 4  # so many photos wait for the disk side by side
PIXEL_LIMIT = 60_000_000  # a phone's largest picture is about 50 million
LARGE_PX = 2016  # half of 4032, so that JPEG's own half-size decoding serves (measured: 4.5 times faster)


@dataclass(frozen=True)
class Picture:
    """What a file's own header says of it."""

    sha256: str
    bytes: int
    media_type: str
    width: int
    height: int


async def gathered(content: AsyncIterator[bytes]) -> AsyncIterator[bytes]:
    """The same bytes in fewer pieces, as each is waited for; what came before a cut is given before its error is."""
    waiting = bytearray()
    try:
        async for piece in content:
            waiting += piece
            if len(waiting) >= WRITTEN_AT_ONCE:
                yield bytes(waiting)
                waiting.clear()
    except Exception:
        yield bytes(waiting)
        raise
    yield bytes(waiting)


def look_at(sha256: str, size: int, source: Path | BinaryIO) -> Picture:
    """Read a picture's header, no pixels. Raises NotAPicture or PictureTooLarge."""
    try:
        with Image.open(source, formats=OPENED) as image:
            media_type, (width, height) = MEDIA_TYPES[str(image.format)], image.size
    except (UnidentifiedImageError, OSError, ValueError, SyntaxError) as error:
        raise NotAPicture("something it cannot open") from error
    if width * height > PIXEL_LIMIT:
        raise PictureTooLarge(width, height, PIXEL_LIMIT)
    return Picture(sha256, size, media_type, width, height)


def record_file(tx: Writing, picture: Picture, received_at: str) -> None:
    """Make a synced file exist. A picture that is there already stays as it is."""
    tx.run(
        """
        INSERT INTO photo_file (sha256, bytes, media_type, width, height, received_at)
        VALUES (:sha256, :bytes, :media_type, :width, :height, :received_at)
        ON CONFLICT (sha256) DO NOTHING
        """,
        received_at=received_at,
        **picture.__dict__,
    )


def picture_of(tx: Reading, sha256: str) -> Picture | None:
    row = tx.one("SELECT * FROM photo_file WHERE sha256 = :sha256", sha256=sha256)
    if row is None:
        return None
    return Picture(row["sha256"], row["bytes"], row["media_type"], row["width"], row["height"])


class PhotoFiles:
    """The photo folder of one office."""

    def __init__(self, folder: Path, database: Database, *, workers: int) -> None:
        self.folder = folder
        self.buffers = Buffers()
        self.threads = ThreadPoolExecutor(WRITERS, thread_name_prefix="photo")
        self._database = database
        self._turns: WeakValueDictionary[str, asyncio.Lock] = WeakValueDictionary()
        self._workers = workers
        self._pool: ProcessPoolExecutor | None = None
        for name in ("incoming", "large"):
            (folder / name).mkdir(parents=True, exist_ok=True)
        for first in range(256):
            (folder / f"{first:02x}").mkdir(exist_ok=True)

    def close(self) -> None:
        self.threads.shutdown()
        if self._pool is not None:
            self._pool.shutdown(cancel_futures=True)

    def file_of(self, sha256: str) -> Path:
        return self.folder / sha256[:2] / sha256

    def _incoming(self, sha256: str) -> Path:
        return self.folder / "incoming" / sha256

    def _turn_for(self, sha256: str) -> asyncio.Lock:
        """Whoever works on one photo takes turns; a lock lives only as long as somebody has it."""
        lock = self._turns.get(sha256)
        if lock is None:
            lock = self._turns[sha256] = asyncio.Lock()
        return lock

    def keep_now(self, sha256: str, content: bytes | memoryview) -> Picture:
        """Check and write a whole picture, on the calling thread. Its row is the caller's to add.

        Raises WrongDigest, NotAPicture, PictureTooLarge, OfficeFull; nothing is written then.
        """
        if hashlib.sha256(content).hexdigest() != sha256:
            raise WrongDigest(sha256)
        picture = look_at(sha256, len(content), BytesIO(content))
        write_whole(self.file_of(sha256), content)
        return picture

    async def offset_of(self, sha256: str) -> tuple[int, bool]:
        """How many bytes the office has, and whether that is all. Raises NotFound if none."""
        picture = await self._database.read(lambda tx: picture_of(tx, sha256))
        if picture is not None:
            return picture.bytes, True
        partial = self._incoming(sha256)
        if not partial.exists():
            raise NotFound("photo", sha256)
        return partial.stat().st_size, False

    async def append(
        self, sha256: str, *, offset: int, length: int, content: AsyncIterator[bytes], received_at: str
    ) -> tuple[int, bool]:
        """Add bytes at an offset; what came before a cut stays. The new offset, and whether it is whole now.

        Raises WrongOffset, TooLarge, WrongDigest (the bytes are thrown away), NotAPicture, OfficeFull.
        """
        if length > PHOTO_LIMIT:
            raise TooLarge("The picture", PHOTO_LIMIT)
        async with self._turn_for(sha256):
            try:
                have, whole = await self.offset_of(sha256)
            except NotFound:
                have, whole = 0, False
            if whole:
                return have, True
            if offset != have:
                raise WrongOffset(have)
            partial = self._incoming(sha256)
            size = have
            async for piece in gathered(content):
                if size + len(piece) > length:
                    raise TooLarge("What was sent of the picture", length)
                if piece or not partial.exists():
                    await asyncio.to_thread(write_on, partial, piece, offset=size)
                size += len(piece)
            if size < length:
                return size, False
            picture = await asyncio.to_thread(self._finish, sha256)
            await self._database.write(lambda tx: record_file(tx, picture, received_at))
            return size, True

    def _finish(self, sha256: str) -> Picture:
        partial = self._incoming(sha256)
        with partial.open("rb") as stream:
            digest = hashlib.file_digest(stream, "sha256").hexdigest()
        if digest != sha256:
            partial.unlink()
            raise WrongDigest(sha256)
        try:
            picture = look_at(sha256, partial.stat().st_size, partial)
        except (NotAPicture, PictureTooLarge):
            partial.unlink()
            raise
        os.replace(partial, self.file_of(sha256))
        sync_folder(self.file_of(sha256).parent)
        return picture

    async def large(self, sha256: str) -> Path:
        """A JPEG of at most 2016 px, upright, made once in a worker process. Raises NotFound, NotAPicture."""
        if await self._database.read(lambda tx: picture_of(tx, sha256)) is None:
            raise NotFound("photo", sha256)
        target = self.folder / "large" / f"{sha256}.jpg"
        async with self._turn_for(sha256):
            if not target.exists():
                if self._pool is None:
                    self._pool = ProcessPoolExecutor(self._workers, mp_context=get_context("spawn"))
                await asyncio.get_running_loop().run_in_executor(
                    self._pool, make_large, self.file_of(sha256), target
                )
        return target


def make_large(source: Path, target: Path) -> None:
    """Decode, shrink, then turn: in this order since turning the large picture costs more than all the rest."""
    register_heif_opener()
    try:
        with Image.open(source, formats=OPENED) as image:
            image.draft("RGB", (LARGE_PX, LARGE_PX))
            image.thumbnail((LARGE_PX, LARGE_PX), Image.Resampling.BOX)
            upright = ImageOps.exif_transpose(image).convert("RGB")
    except OSError as error:
        raise NotAPicture("a damaged file") from error
    clean = Image.frombytes("RGB", upright.size, upright.tobytes())  # leaves comments and positions behind
    partial = target.with_suffix(".new")
    clean.save(partial, "JPEG", quality=85)
    os.replace(partial, target)
