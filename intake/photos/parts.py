"""Photos on their way: a part goes on where it was cut, belongs to the device that sends it, and has an age.

A part is a file `incoming/DEVICE/SHA256.LENGTH`: its size is what the office has of so many bytes in all. Nobody waits
for a line: a part is held only while bytes go to the disk. Of two requests that send the same part the later one goes
on from what is synced, and the earlier, whose line may be dead, stops at its next bytes.
"""

from __future__ import annotations

import asyncio
from collections import Counter
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from weakref import WeakValueDictionary

from intake.database import Database, Reading, Writing
from intake.disk import write_on
from intake.errors import NotFound, Refusal, TooLarge, WrongLength, WrongOffset
from intake.photos.picture import PHOTO_LIMIT, Picture
from intake.photos.store import PhotoStore, note_sender, record_file

WRITTEN_AT_ONCE = 1024 * 1024
PARTS_OF_A_DEVICE = 32  # a phone sends one after the other; more are left over, and the oldest make room
BYTES_OF_A_DEVICE = 4 * PHOTO_LIMIT
PART_LIFE = timedelta(days=3)  # after that the device begins again: it still has all of it

#: Whether a device is told that a picture is here, by its digest. One that is not sends all of it, as to an office that
#: lacks it: who has the bytes learns nothing, and who has the digest alone cannot ask.
Tells = Callable[[Reading, str], bool]


def told_all(tx: Reading, sha256: str) -> bool:
    return True


@dataclass(frozen=True)
class Standing:
    """How much the office has of a photo, of how many bytes, and whether it stands there with its row."""

    offset: int
    length: int
    complete: bool


class Part:
    """One photo on its way from one device. `turn` is held while its file is touched, by the latest `sender` only."""

    def __init__(self, folder: Path, sha256: str) -> None:
        self.folder = folder
        self.sha256 = sha256
        self.turn = asyncio.Lock()
        self.sender: object | None = None

    def file_for(self, length: int) -> Path:
        return self.folder / f"{self.sha256}.{length}"

    def file(self) -> Path | None:
        """The file that is there, whatever length was said."""
        return next(self.folder.glob(f"{self.sha256}.*"), None)


class Parts:
    """Every part that is on its way to the store."""

    def __init__(self, folder: Path, store: PhotoStore, database: Database) -> None:
        self._folder = folder
        self._store = store
        self._database = database
        self._parts: WeakValueDictionary[tuple[str, str], Part] = WeakValueDictionary()
        self._working: Counter[str] = Counter()  # requests of each device that bring bytes now
        folder.mkdir(parents=True, exist_ok=True)

    def _part(self, device_id: str, sha256: str) -> Part:
        """The part that everybody who works on it shares; it lives as long as somebody does."""
        part = self._parts.get((device_id, sha256))
        if part is None:
            part = self._parts[device_id, sha256] = Part(self._folder / device_id, sha256)
        return part

    async def standing(self, device_id: str, sha256: str, tells: Tells = told_all) -> Standing:
        """What the office has, for the device that asks. Raises NotFound if nothing, or nothing that it is told of."""
        part = self._part(device_id, sha256)
        async with part.turn:
            picture = await self._told(sha256, tells)
            if picture is not None:
                return whole(picture)
            file = part.file()
            if file is None:
                raise NotFound("photo", sha256)
            return Standing(file.stat().st_size, said_length(file), False)

    async def _told(self, sha256: str, tells: Tells) -> Picture | None:
        """The whole picture that is here, for who is told of it."""
        return (
            await self._store.stat(sha256)
            if await self._database.read(lambda tx: tells(tx, sha256))
            else None
        )

    async def append(
        self,
        device_id: str,
        sha256: str,
        *,
        offset: int,
        length: int,
        content: AsyncIterator[bytes],
        received_at: str,
        tells: Tells = told_all,
    ) -> Standing:
        """Add bytes at an offset; what came before a cut stays. The new standing.

        Raises WrongOffset (another request goes on with it, too), WrongLength and WrongDigest (the part is thrown
        away), TooLarge, NotAPicture, PictureTooLarge, OfficeFull, and whatever the content raises.
        """
        if length > PHOTO_LIMIT:
            raise TooLarge("The picture", PHOTO_LIMIT)
        part, sender = self._part(device_id, sha256), object()
        if offset == 0:
            await self._make_room(part, length)
        with self._at_work(device_id):
            async with part.turn:
                picture = await self._told(sha256, tells)
                if picture is not None and await asyncio.to_thread(self._store.is_true, sha256):
                    if picture.bytes != length:
                        raise WrongLength(sha256, said=length, known=picture.bytes)
                    return whole(picture)
                size = begin(part, length)
                if offset != size:
                    raise WrongOffset(size)
                part.sender = sender
            file = part.file_for(length)
            async for piece in gathered(content):
                if size + len(piece) > length:
                    raise TooLarge("What was sent of the picture", length)
                async with part.turn:
                    if part.sender is not sender:
                        break
                    if piece or not file.exists():
                        await asyncio.to_thread(write_on, file, piece, offset=size)
                size += len(piece)
            async with part.turn:
                if part.sender is sender:
                    if size < length:
                        return Standing(size, length, False)
                    return whole(await self._finish(part, file, received_at))
        return await self._sent_by_another(device_id, sha256, tells)

    async def _sent_by_another(self, device_id: str, sha256: str, tells: Tells) -> Standing:
        """Where a later request has brought the part. Raises WrongOffset unless that is its end."""
        try:
            standing = await self.standing(device_id, sha256, tells)
        except NotFound as error:
            raise WrongOffset(0) from error
        if not standing.complete:
            raise WrongOffset(standing.offset)
        return standing

    async def _finish(self, part: Part, file: Path, received_at: str) -> Picture:
        """Make an original of a part that has its length; whoever calls has its turn. A refused one is thrown away."""
        part.sender = None
        try:
            picture = await asyncio.to_thread(self._store.put_file, part.sha256, file)
        except Refusal:
            file.unlink()
            raise
        device_id = part.folder.name

        def job(tx: Writing) -> None:
            record_file(tx, picture, received_at)
            note_sender(tx, picture.sha256, device_id)

        await self._database.write(job)
        return picture

    async def _make_room(self, coming: Part, length: int) -> None:
        """Throw the device's oldest parts away until one more has room beside the rest."""
        others = sorted(
            (file for file in files_in(coming.folder) if file.stem != coming.sha256),
            key=lambda file: file.stat().st_mtime,
        )
        while others and (
            len(others) >= PARTS_OF_A_DEVICE or sum(map(said_length, others)) + length > BYTES_OF_A_DEVICE
        ):
            await self._throw_away(others.pop(0))

    async def _throw_away(self, file: Path) -> None:
        part = self._part(file.parent.name, file.stem)
        async with part.turn:
            part.sender = None
            file.unlink(missing_ok=True)

    async def sweep(self, now: datetime, received_at: str) -> None:
        """Finish what has all its bytes, which a crash may have left; throw away what is too old."""
        for folder in [*self._folder.iterdir()]:
            if not folder.is_dir():
                await self._settle_nameless(folder, received_at)
                continue
            for file in [*files_in(folder)]:
                if file.stat().st_size == said_length(file):
                    await self._settle(self._part(folder.name, file.stem), file, received_at)
                elif now.timestamp() - file.stat().st_mtime > PART_LIFE.total_seconds():
                    await self._throw_away(file)
            if not self._working[folder.name] and not any(folder.iterdir()):
                folder.rmdir()

    @contextmanager
    def _at_work(self, device_id: str) -> Iterator[None]:
        """Meanwhile this device's folder stays, though its part may have no byte yet."""
        self._working[device_id] += 1
        try:
            yield
        finally:
            self._working[device_id] -= 1

    async def _settle(self, part: Part, file: Path, received_at: str) -> None:
        """Make an original of a left-over part, or throw it away: its device is told when it sends it again."""
        async with part.turn:
            if file.exists():  # else its own request has finished it meanwhile
                with suppress(Refusal):
                    await self._finish(part, file, received_at)

    async def _settle_nameless(self, file: Path, received_at: str) -> None:
        """A part as the first version kept them, of no device and no length.

        A phone of that time let go of one that had all its bytes, so it is an original if its digest says so.
        """
        part = Part(file.parent, file.name)
        await self._settle(part, file.rename(part.file_for(file.stat().st_size)), received_at)


def whole(picture: Picture) -> Standing:
    return Standing(picture.bytes, picture.bytes, True)


def begin(part: Part, length: int) -> int:
    """How much there is to go on from. Raises WrongLength and throws the part away if it began with another length."""
    part.folder.mkdir(exist_ok=True)
    file = part.file()
    if file is None:
        return 0
    if said_length(file) != length:
        part.sender = None
        file.unlink()
        raise WrongLength(part.sha256, said=length, known=said_length(file))
    return file.stat().st_size


def files_in(folder: Path) -> Iterator[Path]:
    return folder.glob(f"{'[0-9a-f]' * 64}.[0-9]*") if folder.exists() else iter(())


def said_length(file: Path) -> int:
    return int(file.suffix[1:])


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
