"""Looking at the copies in reach for what the office's own file cannot tell: `verify` compares the two."""

from __future__ import annotations

import asyncio
import hashlib
import sys
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from intake.copies import source as office
from intake.copies.asking import answer, answer_in_pieces
from intake.copies.comparing import differences
from intake.copies.folder import Folder
from intake.copies.head import HEADS, Head, Whole, read_head
from intake.copies.places import Place, places
from intake.copies.reading import KINDS, LINES, photo_holds, photo_lines, shorter_files, stretch_lines
from intake.copies.source import Source
from intake.copies.states import CopyTrouble, forgotten
from intake.errors import CommandError

SILENT_S = (
    30.0  # a stick that turns slowly is given time; one that hangs would keep `verify` from ever ending
)


#: How often a copy is begun with again that could not be read, and one of which files went or came meanwhile: a serving
#: office puts words anew as some are erased, and devices as one is paired.
TRIES, MOVES = 3, 100


#: What to do where the tables have more than the log: what is brought in is refused, since it is there already.
CUT = (
    "Keep the copy, and bring nothing in here: the tables still have what the log has lost. Stop the office and "
    "`intake restore {folder} --data NEW`; other copies are brought in there."
)


@dataclass(frozen=True)
class Looked:
    """A sentence for everything in which the copies in reach are damaged, or know the office otherwise; and the folders
    that stopped answering while they were looked at, or that are away."""

    faults: list[str]
    silent: list[str]
    away: list[str]


class Away(Exception):
    """The copy is not in reach: its stick is not plugged in, or was pulled out meanwhile."""


class MovedOn(Exception):
    """A serving office has put something anew in the copy since its head was read."""


def knows_more(source: Source, folder: Path) -> bool:
    """Whether the copy in a folder has another log of this office than the office: it has what was cut here, or put
    back. Of one that cannot be read nobody knows."""
    try:
        head = read_head(Folder(folder))
        with source.moment() as tx:
            return (
                head is not None
                and head.office_id == office.office_of(tx).office_id
                and head.chain != office.chain_at(tx, head.office_seq)
            )
    except (CopyTrouble, OSError):
        return False


async def copies_that_know_more(source: Source, limit_s: float) -> list[str]:
    """The folders of the copies in reach that do. Their heads alone are read, and those that hang are left out."""
    with source.moment() as tx:
        folders = [place.folder for place in places(tx) if place.begun]
    looks = (answer(lambda folder: knows_more(source, Path(folder)), folder, limit_s) for folder in folders)
    found = await asyncio.gather(*looks, return_exceptions=True)
    return [folder for folder, more in zip(folders, found, strict=True) if more is True]


async def refuse_rebuild(source: Source, limit_s: float) -> None:
    """Before the tables are made from the log alone. Raises CommandError if a copy knows more of it."""
    if folders := await copies_that_know_more(source, limit_s):
        folder = folders[0]
        raise CommandError(
            f"The copy in {folder} has another log than this office: its folder was put back, or its log was cut or "
            "rewritten, and the tables may be all that is left here of what it lost. Nothing was rebuilt.",
            hint=f"`intake verify` says more. `intake restore {folder} --data NEW` makes the office of the copy. To "
            f"rebuild all the same, take the copy off first: `intake copy {folder} --no-longer`.",
        )


async def look_at_copies(source: Source, silent_s: float, *, tables_hold: bool = True) -> Looked:
    """Compare the office's copies in reach with what stands here. `tables_hold`: they are what the log says.

    A copy holds the end of the log's chain: a log that was cut or written anew is seen here however well it hangs
    together by itself. Of a sealed copy only what is not closed can be compared. Each is read on a thread of its own:
    one that hangs, at whatever file, keeps nobody else waiting.
    """
    with source.moment() as tx:
        begun = [place for place in places(tx) if place.begun]
    looked = Looked([], [], [])
    looks = [look_at(place, source, silent_s, tables_hold) for place in begun]
    for place, look in zip(begun, await asyncio.gather(*looks, return_exceptions=True), strict=True):
        match look:
            case TimeoutError():
                looked.silent.append(place.folder)
            case Away():
                looked.away.append(place.folder)
            case BaseException():
                raise look
            case faults:
                looked.faults.extend(faults)
    return looked


async def look_at(place: Place, source: Source, silent_s: float, tables_hold: bool) -> list[str]:
    """The faults of one copy. Raises TimeoutError if it does not answer, and Away."""

    def look(answered: Callable[[], None]) -> list[str]:
        folder = Folder(Path(place.folder))
        folder.answered = answered
        return place_faults(source, folder, tables_hold=tables_hold)

    def on_wait() -> None:
        print(f"Still reading the copy in {place.folder}, which is slow.", file=sys.stderr, flush=True)

    return await answer_in_pieces(look, f"looking at {place.folder}", silent_s, on_wait=on_wait)


def place_faults(source: Source, folder: Folder, *, tables_hold: bool = True) -> list[str]:
    """The faults of the copy in a folder. Raises Away."""
    failed, moved = list[str](), 0
    while len(failed) < TRIES and moved < MOVES:
        try:
            head = read_head(folder)
            if head is None:
                raise Away
            return list(faults_by(head, source, folder, tables_hold))
        except CopyTrouble as trouble:
            failed.append(f"{trouble.detail} {trouble.hint}")
        except (MovedOn, FileNotFoundError):
            moved += 1
        except OSError as error:
            failed.append(
                f"The copy in {folder} cannot be read ({error.strerror or error}). Plug it in again, or look whether "
                "you may read there; if it stays so, begin one in another place."
            )
        refuse_away(folder)
    return failed[-1:] or [
        f"The copy in {folder} was put anew each time it was looked at. Look once more, or stop the office first."
    ]


def refuse_away(folder: Folder) -> None:
    """Raises Away where the folder is not to be seen at all: what is in it may be well."""
    try:
        folder.names()
    except PermissionError:
        return
    except OSError as error:
        raise Away from error


def faults_by(head: Head, source: Source, folder: Folder, tables_hold: bool) -> Iterator[str]:
    """The faults of a copy whose head was just read. Raises OSError if a file is away, and MovedOn."""
    with source.moment() as tx:
        ours, newest = office.office_of(tx), office.newest(tx)
        chain = office.chain_at(tx, head.office_seq)
    if head.office_id != ours.office_id:
        yield f"{folder} holds a copy of another office."
        return
    if chain != head.chain:
        trouble = forgotten(str(folder), head.office_seq, newest)
        hint = trouble.hint if tables_hold else CUT.format(folder=folder)
        yield f"{trouble.detail} Do not rebuild. {hint}"
    yield from file_faults(folder, head)
    yield from settled_differences(source, folder, head, put_back=chain != head.chain)


def settled_differences(source: Source, folder: Folder, head: Head, *, put_back: bool) -> list[str]:
    """In what the copy and the office differ, by the newest head: what was said of one that is not the newest any more,
    a serving office may have brought up to date."""
    found: list[str] = []
    for _ in range(TRIES):
        newest = read_head(folder) or head
        found = differences(source, folder, newest, put_back=put_back)
        if not found or read_head(folder) == newest:
            break
    return found


def file_faults(folder: Folder, head: Head) -> Iterator[str]:
    """What of a copy is gone, cut or changed. Raises OSError, MovedOn."""
    for name in HEADS:
        if name in folder.unreadable:
            yield f"{name} of the copy in {folder} cannot be read. {what_next(folder, name)}"
    short = cut_files(folder, head)
    for kind in sorted(short):
        yield (
            f"{getattr(head, kind).name} of the copy in {folder} is gone or was cut. A serving office copies it "
            "again at its next look; the copy of a stopped one: `intake copy` with the same folder."
        )
    photos: Iterable[dict[str, Any]] = ()
    for kind in LINES:
        if kind not in short:
            name, lines = getattr(head, kind).name, Counted(stretch_lines(folder, getattr(head, kind)))
            if kind == "photos":
                photos = photo_lines(lines)
            else:
                deque(lines, maxlen=0)
            if lines.broken:
                yield f"{lines.broken} lines of {name} in {folder} are damaged. {what_next(folder, name)}"
    for kind in ("devices", "files", "house"):
        whole = getattr(head, kind)
        if whole is not None and kind not in short and not stands(folder, whole, head):
            yield f"{whole.name} of the copy in {folder} is damaged. {what_next(folder, whole.name)}"
    changed = sum(not holds for holds in photos_hold(folder, head, photos))
    if changed:
        yield f"{changed} photos in the copy in {folder} are damaged or gone. {what_next(folder, '')}"


def what_next(folder: Folder, name: str) -> str:
    """What to do about damage in a file of a copy. Where the disk has bad places a new one would be damaged again."""
    if name in folder.unreadable:
        return (
            "Its disk does not give all of it: plug it in again and look once more. If it stays so, begin a copy on "
            f"another one (`intake copy FOLDER`), and keep {folder}."
        )
    return f"Begin it anew: `intake copy {folder} --anew`."


def stands(folder: Folder, whole: Whole, head: Head) -> bool:
    """Whether a small file is as the head says, as far as whoever cannot open a sealed one can see. Raises OSError."""
    content = folder.read(whole.name)
    if head.sealed_to is not None:
        return len(content) == whole.bytes and whole.name not in folder.unreadable
    return hashlib.sha256(content).hexdigest() == whole.sha256


def cut_files(folder: Folder, head: Head) -> set[str]:
    """What of the head is a file that is gone, or shorter than it says, by the head's own names for them. Raises
    MovedOn if another file counts in the place of one of them by now."""
    short = shorter_files(folder, head)
    newest = read_head(folder) if short else head
    if newest is None or any(names_of(newest)[kind] != names_of(head)[kind] for kind in short):
        raise MovedOn
    return short


def names_of(head: Head) -> dict[str, str | None]:
    return {kind: getattr(getattr(head, kind), "name", None) for kind in KINDS}


class Counted:
    """Lines that are gone through once, and how many of them did not hold."""

    def __init__(self, lines: Iterable[dict[str, Any] | None]) -> None:
        self.broken, self._lines = 0, lines

    def __iter__(self) -> Iterator[dict[str, Any] | None]:
        for line in self._lines:
            self.broken += line is None
            yield line


def photos_hold(folder: Folder, head: Head, lines: Iterable[dict[str, Any]]) -> Iterator[bool]:
    """Of each photo whether its bytes stand in the copy, and can be read there. Raises OSError if it is away."""
    for line in lines:
        try:
            yield photo_holds(folder, line, sealed=head.sealed_to is not None)
        except OSError:
            folder.names()
            yield False
