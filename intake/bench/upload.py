"""(a) Devices returning from the hall: durable throughput beside a bare handler and beside no HTTP at all.

Ours sends a record's operations and its four photos in one request, and is answered when all of it is on disk;
the bare handler gets a request a photo with a quarter of the record's text, and answers when its file and its
one row are on disk. Thumbnails are left out on every side. Both have taken one record before their time starts,
take turns, and are compared by their medians: a single round on a shared machine can be off by a third.
"""

from __future__ import annotations

import asyncio
import json
import random
import shutil
import sqlite3
import statistics
import time
import uuid
from collections.abc import Coroutine, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from intake.access.devices import make_code, pair, stamp
from intake.bench import marked
from intake.bench.bare import write
from intake.bench.pile import PHOTO_BYTES, Pile, a_photo, bundle_of
from intake.bench.served import Line, Served, free_port, serving
from intake.database import opened
from intake.settings import utc_now

RECORDS, PHOTOS_A_RECORD = 20, 4
DEVICES = (1, 10, 50)
ROUNDS = 3


@dataclass
class Round:
    """What one turn of one side came to: photos a second, and milliseconds of the server's processor a photo."""

    photos_s: float
    cpu_ms: float


def measure_upload(folder: Path, quick: bool) -> Iterator[str]:
    """A row for each number of devices. Nothing is deleted between them: it slows some file systems for a while."""
    records = 5 if quick else RECORDS
    for devices in DEVICES[:2] if quick else DEVICES:
        data = folder / str(devices)
        data.mkdir()
        yield from one_size(data, devices, records)


def one_size(folder: Path, devices: int, records: int) -> Iterator[str]:
    loads = [load_of(number, device_id_of(number), records) for number in range(devices)]
    first = load_of(devices, device_id_of(devices), 1)
    photos = devices * records * PHOTOS_A_RECORD
    needed = (2 * ROUNDS + 1) * photos * PHOTO_BYTES
    if shutil.disk_usage(folder).free < 1.1 * needed:
        yield f"{devices} devices: left out, it needs {needed / 1e9:.1f} GB of free disk for a while"
        return
    ours: list[Round] = []
    bare: list[Round] = []
    for number in range(ROUNDS):
        sides = [(ours, round_of_ours), (bare, round_of_bare)]
        for rounds, side in sides if number % 2 == 0 else reversed(sides):
            data = folder / f"{side.__name__}-{number}"
            data.mkdir()
            rounds.append(side(data, first, loads, photos))
    began = time.perf_counter()
    keep_without_http(folder / "none", loads)
    none_s = photos / (time.perf_counter() - began)

    ours_s, bare_s = middle(ours).photos_s, middle(bare).photos_s
    yield f"{devices} devices, {records} records and {records * PHOTOS_A_RECORD} photos of 350 KB each:"
    yield (
        f"  photos/s: ours {ours_s:.0f} ({spread(ours)}), bare handler {bare_s:.0f} ({spread(bare)}), "
        f"no HTTP {none_s:.0f}"
    )
    yield f"  ours / bare handler {marked(ours_s / bare_s, 0.7, at_least=True)}; ours / no HTTP {ours_s / none_s:.2f}"
    yield (
        f"  server CPU ms a photo: ours {marked(middle(ours).cpu_ms, 2, at_least=False)}, "
        f"bare {middle(bare).cpu_ms:.2f}"
    )


def middle(rounds: list[Round]) -> Round:
    """The median of each figure by itself."""
    return Round(
        statistics.median(side.photos_s for side in rounds), statistics.median(side.cpu_ms for side in rounds)
    )


def spread(rounds: list[Round]) -> str:
    """The slowest and the fastest round."""
    return f"{min(one.photos_s for one in rounds):.0f} to {max(one.photos_s for one in rounds):.0f}"


def round_of_ours(folder: Path, first: Load, loads: list[Load], photos: int) -> Round:
    secrets = asyncio.run(prepare(folder, len(loads) + 1))
    port = free_port()
    with serving("intake", "serve", "--data", str(folder), "--port", str(port), port=port) as served:
        asyncio.run(open_day(served, secrets[0]))
        asyncio.run(send_ours(served, secrets[-1:], [first]))
        return timed(served, send_ours(served, secrets[:-1], loads), photos)


def round_of_bare(folder: Path, first: Load, loads: list[Load], photos: int) -> Round:
    port = free_port()
    with serving("intake.bench.bare", str(port), str(folder), port=port) as served:
        asyncio.run(send_bare(served, [first]))
        return timed(served, send_bare(served, loads), photos)


def timed(served: Served, sending: Coroutine[Any, Any, None], photos: int) -> Round:
    cpu, began = served.cpu_s(), time.perf_counter()
    asyncio.run(sending)
    seconds = time.perf_counter() - began
    return Round(photos / seconds, 1000 * (served.cpu_s() - cpu) / photos)


Load = list[tuple[bytes, list[bytes]]]  # for each record: its operations as a bundle's text, and its photos


def load_of(number: int, device_id: str, records: int) -> Load:
    chance, pile = random.Random(number), Pile(number, device_id)
    visit = pile.visit(DAY_ID)
    made: Load = []
    for index in range(records):
        photos = [a_photo(chance) for _ in range(PHOTOS_A_RECORD)]
        operations = ([visit] if index == 0 else []) + pile.record(visit, photos)
        made.append((bundle_of(operations, photos), photos))
    return made


DAY_ID = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"


def device_id_of(number: int) -> str:
    return str(uuid.UUID(int=number + 1))


async def prepare(office: Path, devices: int) -> list[tuple[str, str]]:
    """Pair devices on the office's own file: (device_id, secret) of each; the first is the manager's."""
    async with opened(office / "intake.sqlite3") as database:
        made = []
        for number in range(devices):
            role = "manager" if number == 0 else "table"
            now, device_id = utc_now(), device_id_of(number)  # which the prepared operations are made by
            code = await database.write(partial(make_code, role=role, name="d", now=now, device_id=device_id))
            device, secret = await database.write(
                partial(pair, typed=code.code, device_id=device_id, secret=None, now=now)
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
