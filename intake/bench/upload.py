"""(a) Devices returning from the hall: durable throughput beside a bare handler and beside no HTTP at all.

Ours sends a record's operations and its four photos in one request, and is answered when all of it is on disk;
the bare handler gets a request a photo with a quarter of the record's text, and answers when its file and its
one row are on disk. Thumbnails are left out on every side.
"""

from __future__ import annotations

import asyncio
import json
import random
import sqlite3
import time
import uuid
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from intake.access.devices import make_code, pair, stamp
from intake.bench import marked
from intake.bench.bare import write
from intake.bench.pile import Pile, a_photo, bundle_of
from intake.bench.served import Line, Served, free_port, serving
from intake.database import opened
from intake.settings import utc_now

RECORDS, PHOTOS_A_RECORD = 20, 4
DEVICES = (1, 10, 50)


def measure_upload(folder: Path, quick: bool) -> Iterator[str]:
    """A row for each number of devices."""
    records = 5 if quick else RECORDS
    for devices in DEVICES[:2] if quick else DEVICES:
        place = folder / str(devices)
        place.mkdir()
        yield from one_size(place, devices, records)


def one_size(folder: Path, devices: int, records: int) -> Iterator[str]:
    office = folder / "office"
    office.mkdir()
    secrets = asyncio.run(prepare(office, devices))
    loads = [load_of(number, device_id, records) for number, (device_id, _) in enumerate(secrets)]
    photos = devices * records * PHOTOS_A_RECORD

    port = free_port()
    with serving("intake", "serve", "--data", str(office), "--port", str(port), port=port) as served:
        asyncio.run(open_day(served, secrets[0]))
        cpu, began = served.cpu_s(), time.perf_counter()
        asyncio.run(send_ours(served, secrets, loads))
        ours_s, ours_cpu = time.perf_counter() - began, served.cpu_s() - cpu
    port, place = free_port(), folder / "bare"
    place.mkdir()
    with serving("intake.bench.bare", str(port), str(place), port=port) as served:
        cpu, began = served.cpu_s(), time.perf_counter()
        asyncio.run(send_bare(served, loads))
        bare_s, bare_cpu = time.perf_counter() - began, served.cpu_s() - cpu
    began = time.perf_counter()
    keep_without_http(folder / "none", loads)
    none_s = time.perf_counter() - began

    yield f"{devices} devices, {records} records and {records * PHOTOS_A_RECORD} photos of 350 KB each:"
    yield (
        f"  photos/s: ours {photos / ours_s:.0f}, bare handler {photos / bare_s:.0f}, no HTTP {photos / none_s:.0f}"
    )
    yield f"  ours / bare handler {marked(bare_s / ours_s, 0.7, at_least=True)}; ours / no HTTP {none_s / ours_s:.2f}"
    yield (
        f"  server CPU ms a photo: ours {marked(1000 * ours_cpu / photos, 2, at_least=False)}, "
        f"bare {1000 * bare_cpu / photos:.2f}"
    )


Load = list[tuple[bytes, list[bytes]]]  # for each record: its operations as a bundle's text, and its photos


def load_of(number: int, device_id: str, records: int) -> Load:
    chance, pile = random.Random(number), Pile(number, device_id)
    visit = pile.visit(DAY_ID)
    made: Load = []
    for place in range(records):
        photos = [a_photo(chance) for _ in range(PHOTOS_A_RECORD)]
        operations = ([visit] if place == 0 else []) + pile.record(visit, photos)
        made.append((bundle_of(operations, photos), photos))
    return made


DAY_ID = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"


async def prepare(office: Path, devices: int) -> list[tuple[str, str]]:
    """Pair devices on the office's own file: (device_id, secret) of each; the first is the manager's."""
    async with opened(office / "intake.sqlite3") as database:
        made = []
        for number in range(devices):
            role = "manager" if number == 0 else "table"
            now = utc_now()
            code = await database.write(partial(make_code, role=role, name="d", now=now))
            device_id = str(uuid.UUID(int=number + 1))
            device, secret = await database.write(
                partial(pair, typed=code.code, device_id=device_id, now=now)
            )
            made.append((device.device_id, secret))
        return made


async def open_day(served: Served, manager: tuple[str, str]) -> None:
    pile = Pile(10**6, manager[0])
    day = {**pile.day(), "day_id": DAY_ID, "made_at": stamp(utc_now())}
    async with Line(served, f"intake={manager[1]}") as line:
        await line.ask("POST", "/sync/operations", json.dumps({"operations": [day]}).encode())


async def send_ours(served: Served, secrets: list[tuple[str, str]], loads: list[Load]) -> None:
    async def one(secret: str, load: Load) -> None:
        async with Line(served, f"intake={secret}") as line:
            for body, _ in load:
                answer = json.loads(await line.ask("POST", "/sync/bundle", body))
                refused = [told for told in answer["answers"] + answer["photos"] if told["outcome"] != "kept"]
                if refused:
                    raise RuntimeError(f"The office refused what the bench sent: {refused[0]}")

    await asyncio.gather(*(one(secret, load) for (_, secret), load in zip(secrets, loads, strict=True)))


async def send_bare(served: Served, loads: list[Load]) -> None:
    async def one(load: Load) -> None:
        async with Line(served) as line:
            for _, photos in load:
                for photo in photos:
                    await line.ask("POST", "/", len(TEXT).to_bytes(4, "big") + TEXT + photo)

    await asyncio.gather(*(one(load) for load in loads))


TEXT = b"x" * 1500  # a quarter of a record of 6 KB


def keep_without_http(folder: Path, loads: list[Load]) -> None:
    """The same bytes and commits on this thread: a file and a commit for each photo."""
    folder.mkdir()
    connection = sqlite3.connect(folder / "none.sqlite3", isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("CREATE TABLE row (number INTEGER PRIMARY KEY, body BLOB)")
    number = 0
    for load in loads:
        for _, photos in load:
            for photo in photos:
                write(folder / str(number), photo)
                connection.execute("INSERT INTO row VALUES (?, ?)", (number, TEXT))
                number += 1
    connection.close()
