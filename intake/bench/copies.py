"""(i) Copies: upload with one attached beside without, how far it lags, and an office made from one beside `cp -r`.

The copy lies on the same disk, which is the worst case: both wait for it.
"""

from __future__ import annotations

import asyncio
import json
import random
import shutil
import statistics
import time
from collections.abc import Iterator
from pathlib import Path

from intake.bench import marked
from intake.bench.pile import Pile, batches
from intake.bench.served import Line, Served, free_port, serving
from intake.bench.upload import (
    DAY_ID,
    PHOTOS_A_RECORD,
    Load,
    device_id_of,
    load_of,
    open_day,
    prepare,
    send_ours,
    timed,
)
from intake.copies.copier import Copier
from intake.copies.folder import Folder
from intake.copies.restore import restore
from intake.copies.source import source_of
from intake.database import Writing, opened
from intake.photos.store import photo_file
from intake.settings import Settings, utc_now
from intake.sync.operations import answer_batch
from intake.system import sync_files

QUICK_RECORDS, RECORDS, ROUNDS = 3, 20, 3
QUICK_ITEMS, ITEMS = 50, 10_000
PHOTOS_AN_ITEM, SMALL_PHOTO_BYTES = 8, 4000


def measure_copies(folder: Path, quick: bool) -> Iterator[str]:
    """A row for uploads, and one for restoring."""
    yield from measure_upload_with_copy(
        folder, records=QUICK_RECORDS if quick else RECORDS, rounds=1 if quick else ROUNDS
    )
    yield from measure_restore(folder, items=QUICK_ITEMS if quick else ITEMS)


def measure_upload_with_copy(folder: Path, *, records: int, rounds: int) -> Iterator[str]:
    first, load = load_of(1, device_id_of(1), 1), load_of(0, device_id_of(0), records)
    plain: list[float] = []
    copied: list[float] = []
    lags: list[float] = []
    for number in range(rounds):
        sides = [False, True] if number % 2 == 0 else [True, False]
        for with_copy in sides:
            data = folder / f"upload-{number}-{with_copy}"
            data.mkdir()
            photos_s, lag_s = round_of(data, first, load, with_copy=with_copy)
            (copied if with_copy else plain).append(photos_s)
            if lag_s is not None:
                lags.append(lag_s)
    ours, bare = statistics.median(copied), statistics.median(plain)
    yield (
        f"1 device, {records} records with {PHOTOS_A_RECORD} photos of 350 KB each: {ours:.0f} photos/s with a copy, "
        f"{bare:.0f} without: {marked(ours / bare, 0.5, at_least=True)}"
    )
    yield f"  the copy had all of it {1000 * max(lags):.0f} ms after the last answer, at most"


def round_of(office: Path, first: Load, load: Load, *, with_copy: bool) -> tuple[float, float | None]:
    """Photos a second, and how many seconds after the last answer the copy had everything."""
    secrets, port = asyncio.run(prepare(office / "data", 2)), free_port()
    options = ["--copy-to", str(office / "copy")] if with_copy else []
    with serving(
        "intake", "serve", "--data", str(office / "data"), "--port", str(port), *options, port=port
    ) as served:
        asyncio.run(open_day(served, secrets[0]))
        asyncio.run(send_ours(served, secrets[1:], [first]))
        if with_copy:
            asyncio.run(until_current(served, secrets[0][1]))
        timing = timed(served, send_ours(served, secrets[:1], [load]), len(load) * PHOTOS_A_RECORD)
        began = time.perf_counter()
        if not with_copy:
            return timing.photos_s, None
        asyncio.run(until_current(served, secrets[0][1]))
        return timing.photos_s, time.perf_counter() - began


async def until_current(served: Served, secret: str) -> None:
    """Ask until the copy has everything. Raises RuntimeError if it cannot go on."""
    async with Line(served, f"intake={secret}") as line:
        while True:
            (copy,) = json.loads(await line.ask("GET", "/copies"))["copies"]
            if copy["state"] == "current" and not any(copy["lag"].values()):
                return
            if copy["state"] not in ("current", "behind"):
                raise RuntimeError(f"The copy cannot go on: {copy['says']}")
            await asyncio.sleep(0.01)


def measure_restore(folder: Path, *, items: int) -> Iterator[str]:
    """An office of so many items with small photos: copied at once, restored, and its folder copied as it is."""
    settings, new = Settings(folder / "office"), Settings(folder / "new")
    photos = asyncio.run(fill(settings, items))
    copier = Copier(Folder(folder / "copy"), source_of(settings), clock=utc_now)
    began = time.perf_counter()
    while not copier.step().nothing:
        pass
    copying_s = time.perf_counter() - began
    began = time.perf_counter()
    restored = asyncio.run(restore(Folder(folder / "copy"), new))
    restoring_s = time.perf_counter() - began
    if restored.faults or restored.photos != photos:
        raise RuntimeError(f"The office did not come back whole: {restored.faults[:1]}")
    began = time.perf_counter()
    shutil.copytree(settings.data_folder, folder / "plain")
    sync_files(file for file in (folder / "plain").rglob("*") if file.is_file())
    plain_s = time.perf_counter() - began
    yield (
        f"{items} items, {restored.operations} operations, {photos} photos of 4 KB: copied at once in "
        f"{copying_s:.1f} s, restored and checked in {restoring_s:.1f} s; the folder copied as it is, and synced, "
        f"{plain_s:.1f} s (ratio {restoring_s / plain_s:.1f})"
    )


async def fill(settings: Settings, items: int) -> int:
    """Put the items through the door that devices use, and small photos beside them. How many photos."""
    chance, device_id = random.Random(items), device_id_of(0)
    await prepare(settings.data_folder, 1)
    pile = Pile(items, device_id)
    visit = pile.visit(DAY_ID)
    operations = [{**pile.day(), "day_id": DAY_ID}, visit]
    names = []
    for _ in range(items):
        contents = [chance.randbytes(SMALL_PHOTO_BYTES) for _ in range(PHOTOS_AN_ITEM)]
        made = pile.record(visit, contents)
        names += [operation["sha256"] for operation in made if operation["kind"] == "attach_photo"]
        operations += made
        for name, content in zip(names[-PHOTOS_AN_ITEM:], contents, strict=True):
            file = photo_file(settings.photos_folder, name)
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(content)

    def job(tx: Writing) -> None:
        tx.run("INSERT INTO office (only_row, epoch, office_id) VALUES (1, 'bench', 'bench')")
        for batch in batches(operations, 500):
            answers = answer_batch(
                tx, batch, device_id=device_id, role="manager", received_at="2026-03-14T18:00:00Z"
            )
            refused = [answer for answer in answers if answer["outcome"] != "kept"]
            if refused:
                raise RuntimeError(f"The office refused what the bench made: {refused[0]}")
        tx.run_many(
            """
            INSERT INTO photo_file (sha256, bytes, media_type, width, height, received_at)
            VALUES (?, ?, 'image/jpeg', 640, 480, '2026-03-14T18:00:00Z')
            """,
            [(name, SMALL_PHOTO_BYTES) for name in names],
        )

    async with opened(settings.database_file) as database:
        await database.write(job)
    return len(names)
