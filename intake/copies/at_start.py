"""The folders for copies that an office is told of when it starts."""

from __future__ import annotations

import asyncio
import logging
import sys
from functools import partial

from intake.access.devices import stamp
from intake.copies.asking import answer, where_they_are
from intake.copies.keeper import Copies
from intake.copies.paper import key_on_paper, print_key
from intake.copies.places import (
    NOT_LOOKED,
    CopyKey,
    Looked,
    add_place,
    check_fit,
    check_ours,
    copy_recipient,
    office_there,
    places,
    same_place,
    set_copy_key,
    take_recipient,
)
from intake.copies.source import office_of
from intake.database import Database, Writing, opened, snapshot
from intake.settings import Settings

log = logging.getLogger("intake.copies")
DOES_NOT_ANSWER = "copy to %s: it does not answer; it goes on by itself when it does"
LOOK_S = 3.0  # phones wait for nobody, and whoever starts an office not for long


async def keep_copies(copies: Copies, database: Database, settings: Settings) -> None:
    """Keep copies from now on where the settings say; print a new key's secret half if one is needed.

    A place that is known may be away. Raises PlaceRefused where none was ever kept and none can be: a stick that is not
    plugged in, or a slip in its name, would be missed for ever without anybody seeing it.
    """
    if not settings.copy_to:
        return
    known, ours = await database.read(lambda tx: (places(tx), office_of(tx).office_id))
    looked = await where_they_are({*settings.copy_to, *(place.folder for place in known)}, LOOK_S)
    for folder in settings.copy_to:
        if not await database.read(partial(same_place, folder=folder, looked=looked)):
            await look_at_new(folder, ours)
        elif folder not in looked:
            log.warning(DOES_NOT_ANSWER, folder)
    secret = await database.write(partial(add_places, settings=settings, looked=looked))
    if secret is not None:
        print_key(secret)
    await copies.open()


async def look_at_new(folder: str, ours: str) -> None:
    """Whether a copy of this office can be begun there. One that hangs is taken as it is named. Raises PlaceRefused."""
    try:
        check_ours(folder, await answer(office_there, folder, LOOK_S), ours)
        await answer(check_fit, folder, LOOK_S)
    except TimeoutError:
        log.warning(DOES_NOT_ANSWER, folder)


def add_places(tx: Writing, settings: Settings, looked: Looked = NOT_LOOKED) -> CopyKey | None:
    """Note the folders; the key that was made for them, if one was. Raises PlaceRefused."""
    for folder in settings.copy_to:
        add_place(tx, folder, sealed=settings.seal_copies, now=stamp(settings.clock()), looked=looked)
    return set_copy_key(tx) if settings.seal_copies and copy_recipient(tx) is None else None


def settle_key(settings: Settings) -> None:
    """Where a person starts the office and a key is needed, it goes onto paper before anything else is said: below it
    all that follows would scroll it away. Raises KeyNotTaken."""
    if not (settings.copy_to and settings.seal_copies and sys.stdin.isatty()):
        return
    with snapshot(settings.database_file) as tx:
        recipient = copy_recipient(tx)
    if recipient is None:
        asyncio.run(take_key(settings, key_on_paper()))


async def take_key(settings: Settings, key: CopyKey) -> None:
    async with opened(settings.database_file) as database:
        await database.write(partial(take_recipient, recipient=key.recipient))
