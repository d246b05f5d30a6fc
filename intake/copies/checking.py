"""Looking at the copies in reach for what the office's own file cannot tell: `verify` compares the two."""

from __future__ import annotations

import asyncio
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from intake.copies import source as office
from intake.copies.asking import answer_in_pieces
from intake.copies.comparing import differences
from intake.copies.folder import Folder
from intake.copies.head import Head, read_head
from intake.copies.places import Place, places
from intake.copies.reading import LINES, photo_holds, photo_index, shorter_files, stretch_lines
from intake.copies.source import Source
from intake.copies.states import CopyTrouble, forgotten

SILENT_S = (
    30.0  # a stick that turns slowly is given time; one that hangs would keep `verify` from ever ending
)


#: How often a copy is begun with again whose files changed while it was read: a serving office puts words anew as some
#: are erased.
TRIES = 3


@dataclass(frozen=True)
class Looked:
    """A sentence for everything in which the copies in reach are damaged, or know the office otherwise; and the folders
    that stopped answering while they were looked at, or that are away."""

    faults: list[str]
    silent: list[str]
    away: list[str]


class Away(Exception):
    """The copy is not in reach: its stick is not plugged in, or was pulled out meanwhile."""


async def look_at_copies(source: Source, silent_s: float) -> Looked:
    """Compare the office's copies in reach with what stands here.

    A copy holds the end of the log's chain: a log that was cut or written anew is seen here however well it hangs
    together by itself. Of a sealed copy only what is not closed can be compared. Each is read on a thread of its own:
    one that hangs, at whatever file, keeps nobody else waiting.
    """
    with source.moment() as tx:
        begun = [place for place in places(tx) if place.begun]
    looked = Looked([], [], [])
    looks = [look_at(place, source, silent_s) for place in begun]
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


async def look_at(place: Place, source: Source, silent_s: float) -> list[str]:
    """The faults of one copy. Raises TimeoutError if it does not answer, and Away."""

    def look(answered: Callable[[], None]) -> list[str]:
        folder = Folder(Path(place.folder))
        folder.answered = answered
        return place_faults(source, folder)

    def on_wait() -> None:
        print(f"Still reading the copy in {place.folder}, which is slow.", file=sys.stderr, flush=True)

    return await answer_in_pieces(look, f"looking at {place.folder}", silent_s, on_wait=on_wait)


def place_faults(source: Source, folder: Folder) -> list[str]:
    """The faults of the copy in a folder. Raises Away."""
    for _ in range(TRIES):
        try:
            head = read_head(folder)
            if head is None:
                break
            return list(faults_by(head, source, folder))
        except CopyTrouble as trouble:
            return [f"{trouble.detail} {trouble.hint}"]
        except OSError:
            continue
    raise Away


def faults_by(head: Head, source: Source, folder: Folder) -> Iterator[str]:
    """The faults of a copy whose head was just read. Raises OSError if a file is away."""
    with source.moment() as tx:
        ours, newest = office.office_of(tx), office.newest(tx)
        chain = office.chain_at(tx, head.office_seq)
    if head.office_id != ours.office_id:
        yield f"{folder} holds a copy of another office."
        return
    if chain != head.chain:
        trouble = forgotten(str(folder), head.office_seq, newest)
        yield f"{trouble.detail} Do not rebuild. {trouble.hint}"
    yield from file_faults(folder, head)
    yield from differences(source, folder, head)


def file_faults(folder: Folder, head: Head) -> Iterator[str]:
    """What of a copy is gone, cut or changed. Raises OSError."""
    short = shorter_files(folder, head)
    for kind in sorted(short):
        yield (
            f"{getattr(head, kind).name} of the copy in {folder} is gone or was cut. A serving office copies it "
            "again at its next look; the copy of a stopped one: `intake copy` with the same folder."
        )
    again = f"Begin it anew: `intake copy {folder} --anew`."
    for kind in LINES:
        if kind not in short:
            broken = sum(value is None for value in stretch_lines(folder, getattr(head, kind)))
            if broken:
                yield f"{broken} lines of {getattr(head, kind).name} in {folder} are damaged. {again}"
    changed = sum(1 for _ in changed_photos(folder, head)) if "photos" not in short else 0
    if changed:
        yield f"{changed} photos in the copy in {folder} are damaged or gone. {again}"


def changed_photos(folder: Folder, head: Head) -> Iterator[str]:
    """The photos whose bytes do not stand in the copy, or cannot be read there. Raises OSError if it is away."""
    for sha256, line in photo_index(stretch_lines(folder, head.photos)).items():
        try:
            holds = photo_holds(folder, line, sealed=head.sealed_to is not None)
        except OSError:
            folder.names()
            holds = False
        if not holds:
            yield sha256
