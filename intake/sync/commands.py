"""What a person types to have the office looked at."""

from __future__ import annotations

import asyncio
import sys

from intake.access.devices import stamp
from intake.copies import checking
from intake.copies.source import source_of
from intake.database import Database, opened
from intake.examination.photos import photos_missing
from intake.in_words import counted, moment_words
from intake.settings import Settings, utc_now
from intake.sync.erasing import erasures_owed
from intake.sync.rows_gone import gone_beside
from intake.sync.tidying import UNTIDY, erasures_untidy
from intake.sync.verified import Verified, as_it_stands, last_verified, note_verified, still_stands
from intake.sync.verifying import Heard, find_faults, find_new_faults, is_of_a_table


def verify(settings: Settings, *, new: bool) -> int:
    """Print every fault found, of everything or of what is `new` since all was well; 0 if there is none."""
    faults = asyncio.run(look(settings, last_verified(settings.data_folder) if new else None, new=new))
    for fault in faults:
        print(fault)
    return 1 if faults else 0


async def look(settings: Settings, verified: Verified | None, *, new: bool) -> list[str]:
    """Look from where all was well, or at all of it; where nothing is found, that is noted for the next time."""
    async with opened(settings.database_file) as database:
        stands = await database.read(lambda tx: as_it_stands(tx, stamp(utc_now())))
        if verified is not None and await stands_still(database, verified):
            faults = await faults_since(database, settings, verified)
        else:
            if new:
                print("There is no earlier look that this one could go on from: all is looked at.")
            faults = await faults_of_all(database, settings)
        if await database.read(erasures_untidy):
            print(f"Words were erased. {UNTIDY}")
        for owed in await database.read(erasures_owed):
            print(
                f"The owner's words of the visit {owed.visit_id} were to be erased ({moment_words(owed.made_at)}), "
                "and it is not here: they are as soon as a phone or a copy brings it."
            )
        if not faults:
            try:
                note_verified(settings.data_folder, stands)
            except OSError as error:
                print(
                    f"That could not be noted ({error.strerror or error}), so that `intake verify --new` begins "
                    "where it began before. Look at how much room the disk has."
                )
        return faults


async def stands_still(database: Database, verified: Verified) -> bool:
    return await database.read(lambda tx: still_stands(tx, verified))


async def faults_of_all(database: Database, settings: Settings) -> list[str]:
    source = source_of(settings)
    know_more = await checking.copies_that_know_more(source, checking.SILENT_S)
    faults = await find_faults(
        database,
        settings.photos_folder,
        aside_too=True,
        log_is_whole=not know_more,
        heard=in_tenths(),
        clock=settings.clock,
    )
    tables_hold = not any(is_of_a_table(fault) for fault in faults)
    looked = await checking.look_at_copies(source, checking.SILENT_S, tables_hold=tables_hold)
    faults += looked.faults
    for folder in looked.silent:
        print(
            f"{folder} does not answer: the copy in it was not looked at to its end. Look at the stick or the network."
        )
    for folder in looked.away:
        print(f"The copy in {folder} is not in reach, and was not looked at. Plug it in, and look once more.")
    count = await database.read(lambda tx: tx.value("SELECT count(*) FROM operation_log"))
    photos = await database.read(lambda tx: tx.value("SELECT count(*) FROM photo_file"))
    well = "all is well here; of the copies see above" if looked.silent or looked.away else "all is well"
    print(f"{counted(count, 'operation')}, {counted(photos, 'photo')}: {'see below' if faults else well}.")
    if missing := await database.read(photos_missing):
        print(
            f"Pictures that records name and that are not here: {len(missing)}. Phones still have them, or they were "
            "lost. The phone that took one says whether it still holds it."
        )
    for gone in await database.read(lambda tx: [*gone_beside(tx)]):
        print(gone)
    return faults


async def faults_since(database: Database, settings: Settings, verified: Verified) -> list[str]:
    faults = await find_new_faults(
        database, settings.photos_folder, verified, heard=in_tenths(), clock=settings.clock
    )
    newest = await database.read(lambda tx: tx.value("SELECT max(office_seq) FROM operation_log") or 0)
    print(
        f"{counted(newest - verified.office_seq, 'operation')} since {moment_words(verified.verified_at)}, and the "
        f"photos that came with them: {'all is well' if not faults else 'see below'}. "
        "Tables, earlier photos and copies: `intake verify`."
    )
    return faults


def in_tenths() -> Heard:
    """Says how far long work has come, a tenth at a time."""
    shown: dict[str, int] = {}

    def hear(what: str, done: int, of: int) -> None:
        tenth = 10 * done // of if of else 0
        if tenth > shown.get(what, 0):
            shown[what] = tenth
            print(f"{done} of {of} {what}", file=sys.stderr, flush=True)

    return hear
