"""`intake copy`: one copy brought up to date by hand, begun anew, or taken off the office's list."""

from __future__ import annotations

import argparse
import asyncio
import sqlite3
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TypeVar

from intake.access.devices import stamp
from intake.copies.asking import answer_in_pieces, where_they_are
from intake.copies.at_start import LOOK_S
from intake.copies.copier import Copier
from intake.copies.disks import is_apart
from intake.copies.folder import Folder, InUse
from intake.copies.head import Head, read_head
from intake.copies.keeper import keeps_house_words, note_copier
from intake.copies.paper import key_on_paper
from intake.copies.places import (
    PlaceRefused,
    check_there,
    checked_folder,
    copy_recipient,
    drop_place,
    no_answer,
    note_aside,
    places,
    take_recipient,
)
from intake.copies.seal import paper_of
from intake.copies.source import source_of
from intake.copies.states import NO_SECOND_PLACE, CopyTrouble, by_hand, not_plugged_in, trouble_of
from intake.data_folder import check_plans_are_there, existing_office
from intake.database import Reading, opened, snapshot
from intake.disk import is_of_a_full_disk
from intake.errors import OfficeFull
from intake.in_words import counted
from intake.settings import Settings, utc_now

SILENT_S = (
    60.0  # between two signs of life of a folder that is copied to: the office's own disk is read meanwhile
)
T = TypeVar("T")


def run_copy(options: argparse.Namespace) -> int:
    """Copy until nothing is left to copy; what keeps it from going on ends it, in words."""
    settings = existing_office(options.data)
    folder = str(options.folder.absolute())
    if options.no_longer:
        return asyncio.run(forget_place(settings, folder))
    check_plans_are_there(settings)
    place, source = Folder(Path(folder)), source_of(settings)
    looked = asyncio.run(where_they_are([folder, *source.folders], LOOK_S))
    if folder not in looked:
        raise no_answer(folder)
    checked_folder(folder, source.folders, looked)
    lies_there = None if options.anew else in_time(place, partial(head_there, place))
    if lies_there is None and not options.anew:
        in_time(place, partial(check_is_in, settings, place))
        in_time(place, partial(look_for, folder))
    if lies_there is None:
        recipient = asyncio.run(recipient_for(settings, folder, sealed=options.sealed))
    else:
        recipient = kept_recipient(settings, folder, lies_there, sealed=options.sealed)
    copier = Copier(place, source, clock=settings.clock, seal_to=recipient)
    began = time.perf_counter()
    try:
        if options.anew:
            asyncio.run(set_aside(settings, place))
        in_time(place, partial(copy_all, copier))
    except InUse:
        print(
            f"Somebody else, such as a serving office, is writing to {folder} at this moment. "
            + (
                "Type the same again."
                if options.anew
                else "A serving office brings it up to date by itself, and there is nothing to do by hand."
            )
            + " If it stays so, a command that stands still holds it, such as a restore: end that one.",
            file=sys.stderr,
        )
        return 1
    except CopyTrouble as trouble:
        raise by_hand(trouble) from trouble
    except OSError as error:
        raise by_hand(trouble_of(error, folder)) from error
    assert copier.head is not None
    asyncio.run(remember_copy(settings, folder, copier))
    print(
        f"The copy in {folder} has {counted(copier.head.office_seq, 'operation')} and "
        f"{counted(len(copier.have), 'photo')} ({time.perf_counter() - began:.1f} s)."
    )
    if not in_time(place, copier.is_apart):
        print(f"{folder} {NO_SECOND_PLACE}. Take a stick, a second disk or a folder on the network.")
    if copier.keeps_house:
        print(*keeps_house_words(copier))
    for sha256, unread in copier.unread.items():
        print(f"The office's photo {sha256[:12]}… could not be read ({unread.why}): run `intake verify`.")
    return 1 if copier.unread else 0


def check_is_in(settings: Settings, place: Folder) -> None:
    """Raises CopyTrouble where a copy is kept on a stick that is not in: what is begun in the folder that it is mounted
    at lies on the office's own disk, and hides behind the stick later."""
    with snapshot(settings.database_file) as tx:
        kept = any(known.begun for known in places(tx) if known.folder == str(place))
    there = place.path if place.path.is_dir() else place.path.parent
    if kept and there.is_dir() and not is_apart(there, settings.database_file):
        raise not_plugged_in(str(place))


def look_for(folder: str) -> None:
    """Whether a copy can be begun there. Raises PlaceRefused, CopyTrouble."""
    try:
        check_there(folder)
    except OSError as error:
        raise by_hand(trouble_of(error, folder)) from error


def copy_all(copier: Copier) -> None:
    """Copy until nothing is left, but what the office itself cannot read. Raises CopyTrouble, InUse."""
    while not (lag := copier.step()).nothing:
        if lag.operations == lag.erasures == 0 and lag.photos == len(copier.unread):
            break


def in_time(place: Folder, work: Callable[[], T]) -> T:
    """What is asked of a folder that may stop answering. Raises PlaceRefused once it has been silent for too long."""

    def working(answered: Callable[[], None]) -> T:
        place.answered = answered
        return work()

    try:
        return asyncio.run(answer_in_pieces(working, f"copying to {place}", SILENT_S))
    except TimeoutError:
        raise no_answer(str(place)) from None


async def set_aside(settings: Settings, place: Folder) -> None:
    """Move the copy aside, noted before it is done: what is erased later is owed to it there as well."""
    now = stamp(utc_now())
    name = now[:19].replace(":", "")
    with place.held():
        if place.own_names():
            async with opened(settings.database_file) as database:
                aside, head = str(place.aside(name)), head_there(place)
                copy_id = head.copy_id if head else None
                await database.write(lambda tx: note_aside(tx, str(place), aside, copy_id, now))
        place.set_aside(name)


async def remember_copy(settings: Settings, folder: str, copier: Copier) -> None:
    """Note that a copy lies there, and what was set aside in it, so that what is erased later is known to be owed."""
    try:
        async with opened(settings.database_file) as database:
            await database.write(lambda tx: note_copier(tx, folder, copier, stamp(utc_now())))
    except (OfficeFull, sqlite3.Error) as error:
        if not is_of_a_full_disk(error):
            raise
        print(
            "On the office's full disk it could not be noted where this copy lies. Once there is room there, type the "
            "same again, so that erasures are owed to it as well."
        )


def head_there(place: Folder) -> Head | None:
    """The head of the copy that is gone on with; None if none can be read, which the copier says in its words."""
    try:
        return read_head(place)
    except (CopyTrouble, OSError):
        return None


def kept_recipient(settings: Settings, folder: str, lies_there: Head, *, sealed: bool) -> str | None:
    """What the copy that lies there was begun with, and is gone on with; said if it is not the office's present key,
    since another paper opens it. Raises PlaceRefused if it lies open and is to be sealed."""
    if sealed and lies_there.sealed_to is None:
        raise PlaceRefused(
            f"The copy in {folder} is open, and anybody who finds it can read it. It was not sealed.",
            hint="Name another folder for the sealed copy; or `--anew` sets this one aside inside the folder, still "
            "open, and begins a sealed one.",
        )
    with snapshot(settings.database_file) as tx:
        present = copy_recipient(tx)
    if lies_there.sealed_to not in (None, present):
        print(
            f"The copy in {folder} is sealed to {paper_of(lies_there.sealed_to)}… and stays so: the paper that says "
            "this opens it, and no other. `--anew --sealed` begins one with the office's present key."
        )
    return lies_there.sealed_to


async def recipient_for(settings: Settings, folder: str, *, sealed: bool) -> str | None:
    """What a copy that is begun by hand is closed with; prints a new key's secret half if one is needed."""

    def look(tx: Reading) -> tuple[bool, str | None]:
        wanted = sealed or any(place.sealed for place in places(tx) if place.folder == folder)
        return wanted, copy_recipient(tx)

    try:
        async with opened(settings.database_file) as database:
            wanted, recipient = await database.read(look)
            if not wanted:
                return None
            if recipient is None:  # nothing is written else
                recipient = key_on_paper().recipient
                await database.write(partial(take_recipient, recipient=recipient))
    except (OfficeFull, sqlite3.Error) as error:
        if not is_of_a_full_disk(error):
            raise
        with snapshot(settings.database_file) as tx:  # a disk that is full is brought to a stick, too
            wanted, recipient = look(tx)
        if wanted and recipient is None:
            raise OfficeFull from error
    return recipient if wanted else None


async def forget_place(settings: Settings, folder: str) -> int:
    async with opened(settings.database_file) as database:
        known = await database.write(lambda tx: drop_place(tx, folder))
    if not known:
        raise PlaceRefused(
            f"No copy is kept in {folder}.", hint="Name the folder as it stands on the office's list."
        )
    print(
        f"No copy is kept in {folder} any more; what lies there stays, with all that is erased from now on. "
        "A serving office hears of it when restarted."
    )
    return 0
