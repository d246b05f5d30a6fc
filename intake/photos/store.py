"""The originals: bytes unchanged, one file each named by its SHA-256, made to exist by a row.

A file without a row may be torn and is written again, and so is one that is gone, or has other bytes than its name
says, while its row stands. `verify` reads every file against its name, and sets aside those with other bytes: they
are no longer here then, so that phones send them again.
"""

from __future__ import annotations

import asyncio
import hashlib
import os
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from io import BytesIO
from pathlib import Path

from intake.database import Database, Reading, Writing
from intake.disk import Buffers, write_whole
from intake.errors import NotFound, PhotoMissing, WrongDigest
from intake.photos.picture import Picture, look_at
from intake.reading import photos_gone, went_with_owner
from intake.system import close_if_ours, sync_folder

WRITERS = 4  # so many photos wait for the disk side by side


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


def note_sender(tx: Writing, sha256: str, device_id: str) -> None:
    """Whose bytes came: that device may ask for this picture, whatever it reads."""
    tx.run(
        "INSERT INTO photo_from (sha256, device_id) VALUES (:sha256, :device_id) ON CONFLICT DO NOTHING",
        sha256=sha256,
        device_id=device_id,
    )


def picture_of(tx: Reading, sha256: str) -> Picture | None:
    row = tx.one("SELECT * FROM photo_file WHERE sha256 = :sha256", sha256=sha256)
    if row is None:
        return None
    return Picture(row["sha256"], row["bytes"], row["media_type"], row["width"], row["height"])


def is_true(file: Path, sha256: str) -> bool:
    """Whether a file has the bytes of this digest. Raises OSError."""
    with file.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest() == sha256


def set_aside(file: Path) -> Path | None:
    """Move an original with other bytes than its name says out of the way; nothing of it is lost. Where it lies now.

    None if it had been written again in the same moment: it is back in its place then.
    """
    aside = file.with_name(f"{file.name}.damaged")
    os.replace(file, aside)
    if is_true(aside, file.name):
        os.replace(aside, file)
        return None
    close_if_ours(aside, aside.lstat())  # an earlier version may have left it open
    sync_folder(file.parent)
    return aside


def photo_file(folder: Path, sha256: str) -> Path:
    """Where a photo's bytes lie in an office's folder."""
    return folder / sha256[:2] / sha256


DRAWN = "large"  # the folder beside the originals in which pictures lie that were drawn for the screen


async def remove_gone(database: Database, folder: Path) -> int:
    """Remove the files of pictures that went with their owner, and what was drawn of them. How many files."""
    gone = await database.read(photos_gone)
    return await asyncio.to_thread(lambda: sum(remove(file) for one in gone for file in files(folder, one)))


def files(folder: Path, sha256: str) -> list[Path]:
    """Where a picture may lie."""
    file = photo_file(folder, sha256)
    drawn = photo_file(folder / DRAWN, sha256).with_suffix(".jpg")
    flat = folder / DRAWN / drawn.name  # as an earlier version drew it
    return [file, file.with_name(f"{sha256}.damaged"), drawn, flat]


def remove(file: Path) -> bool:
    try:
        file.unlink()
    except FileNotFoundError:
        return False
    sync_folder(file.parent)
    return True


class PhotoStore:
    """The originals of one office, under two-level folders. `threads` and `buffers` serve whoever puts many."""

    def __init__(self, folder: Path, database: Database) -> None:
        self.folder = folder
        self.buffers = Buffers()
        self.threads = ThreadPoolExecutor(WRITERS, thread_name_prefix="photo")
        self._database = database
        folder.mkdir(parents=True, exist_ok=True)
        for first in range(256):
            with suppress(FileExistsError):
                os.mkdir(f"{folder}/{first:02x}")

    def close(self) -> None:
        self.threads.shutdown()

    def file_of(self, sha256: str) -> Path:
        return photo_file(self.folder, sha256)

    def put(self, sha256: str, content: bytes | memoryview) -> Picture:
        """Check and write a whole picture, on the calling thread. Its row is the caller's to add.

        Raises WrongDigest, NotAPicture, PictureTooLarge, OfficeFull; nothing is written then.
        """
        if hashlib.sha256(content).hexdigest() != sha256:
            raise WrongDigest(sha256)
        picture = look_at(sha256, len(content), BytesIO(content))
        write_whole(self.file_of(sha256), content)
        return picture

    def put_file(self, sha256: str, file: Path) -> Picture:
        """Check a whole, synced file and move it here, on the calling thread. Its row is the caller's to add.

        Raises WrongDigest, NotAPicture, PictureTooLarge; the file stays where it is then.
        """
        if not is_true(file, sha256):
            raise WrongDigest(sha256)
        picture = look_at(sha256, file.stat().st_size, file)
        os.replace(file, self.file_of(sha256))
        sync_folder(self.file_of(sha256).parent)
        return picture

    def is_true(self, sha256: str) -> bool:
        """Whether the file has the bytes that its name says; all of it is read, on the calling thread."""
        with suppress(OSError):
            return is_true(self.file_of(sha256), sha256)
        return False

    async def stat(self, sha256: str) -> Picture | None:
        """What is here under this digest; None if there is no row, or its file is gone or cut short."""
        return await self._database.read(lambda tx: self._look_up(tx, sha256)[1])

    async def standing(self, digests: list[str]) -> list[str]:
        """Those of these photos that are here whole."""
        return await self._database.read(
            lambda tx: [sha256 for sha256 in digests if self._look_up(tx, sha256)[1] is not None]
        )

    async def require(self, sha256: str) -> Picture:
        """What is here under this digest. Raises NotFound, or PhotoMissing if a row stands without its file."""
        row, whole = await self._database.read(lambda tx: self._look_up(tx, sha256))
        if row is None:
            raise NotFound("photo", sha256)
        if whole is None:
            raise PhotoMissing(sha256)
        return whole

    def _look_up(self, tx: Reading, sha256: str) -> tuple[Picture | None, Picture | None]:
        """The row, and the row once more if its file is as long as it says."""
        row = picture_of(tx, sha256)
        if row is None:
            return None, None
        try:
            size = self.file_of(sha256).stat().st_size
        except FileNotFoundError:  # what went with its owner is asked of nobody again
            return row, row if went_with_owner(tx, sha256) else None
        return row, row if size == row.bytes else None
