"""Opening an office: everything in its data folder put together, and closed again in the reverse order."""

from __future__ import annotations

import asyncio
import logging
import secrets
import uuid
from collections.abc import AsyncIterator
from contextlib import AsyncExitStack, asynccontextmanager
from functools import partial

from intake.access.known import KnownDevices
from intake.access.proofs import Proofs
from intake.access.readings import Readings
from intake.copies.keeper import Copies
from intake.copies.source import source_of
from intake.data_folder import close_parts
from intake.database import Writing, opened
from intake.examination.plans import Plans, keep_plans, load_plans
from intake.office import Office, beside
from intake.photos.drawn import Drawn
from intake.photos.parts import Parts
from intake.photos.store import DRAWN, PhotoStore
from intake.settings import Settings
from intake.sync.rebuild import rebuild_if_outdated
from intake.tagging.numbers import settle_numbers

log = logging.getLogger("intake")


@asynccontextmanager
async def open_office(settings: Settings, plans: Plans | None = None) -> AsyncIterator[Office]:
    """Open everything in the data folder; close it in the reverse order. Plans that were read already are taken."""
    plans = plans or load_plans(settings.plans_folder)
    settings.data_folder.mkdir(parents=True, exist_ok=True)
    async with opened(settings.database_file, readers=settings.readers) as database:
        photos = PhotoStore(settings.photos_folder, database)
        parts = Parts(settings.photos_folder / "incoming", photos, database)
        drawn = Drawn(settings.photos_folder / DRAWN, photos, workers=settings.picture_workers)
        epoch = await database.write_alone(lambda tx: name_office(tx, settings.numbers))
        proofs = Proofs(await database.read(lambda tx: tx.value("SELECT proof_key FROM office")))
        await database.write(lambda tx: keep_plans(tx, plans))
        copies = Copies(database, source_of(settings), settings.clock)
        known = KnownDevices(database)
        office = Office(
            settings,
            database,
            photos,
            parts,
            drawn,
            plans,
            copies,
            epoch,
            known,
            proofs,
            Readings(database, settings.clock),
        )
        async with AsyncExitStack() as opening:
            opening.push_async_callback(copies.close)
            opening.callback(photos.close)
            opening.callback(drawn.close)
            await copies.open()
            database.on_commit += [office.tell, copies.wake]
            copies.on_change.append(office.tell)
            await office.keep_lists_beside()  # before anybody is let in, or reads
            housekeeping = asyncio.create_task(office.keep_house())
            closed = partial(close_parts, settings.data_folder, office.closing.is_set)
            closing_files = asyncio.create_task(beside(asyncio.to_thread(closed)))
            try:
                yield office
            finally:
                await office.end_streams()
                await housekeeping
                await closing_files


def say_progress(done: int, of: int) -> None:
    """Tables that another version made are made anew, which takes a while in a large office."""
    if of:
        log.info("tables are made anew by this version: %d of %d operations", done, of)


def name_office(tx: Writing, share: tuple[int, int] | None) -> str:
    """Name file and office on the first start, and see that the tables are this version's. The epoch."""
    tx.run(
        "INSERT INTO office (only_row, epoch) VALUES (1, :epoch) ON CONFLICT DO NOTHING",
        epoch=str(uuid.uuid4()),
    )
    tx.run("UPDATE office SET office_id = :office_id WHERE office_id IS NULL", office_id=str(uuid.uuid4()))
    tx.run("UPDATE office SET proof_key = :key WHERE proof_key IS NULL", key=secrets.token_hex(32))
    settle_numbers(tx, share)
    rebuild_if_outdated(tx, say_progress)
    return str(tx.value("SELECT epoch FROM office"))
