"""(b) A device reads the feed: beside reading the same rows with sqlite3 and gluing them."""

from __future__ import annotations

import asyncio
import http.client
import json
import sqlite3
import statistics
import time
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from intake.access.devices import stamp
from intake.bench import marked
from intake.bench.pile import Pile, batches
from intake.bench.served import Served, free_port, serving
from intake.bench.upload import prepare
from intake.database import opened
from intake.settings import utc_now
from intake.sync.operations import answer_batch

SIZES = (1000, 10_000)  # records
ROUNDS = 15


def measure_pull(folder: Path, quick: bool) -> Iterator[str]:
    """A row for each number of records."""
    for records in SIZES[:1] if quick else SIZES:
        office = folder / str(records)
        office.mkdir()
        [(device_id, secret)] = asyncio.run(prepare(office, 1))
        asyncio.run(fill(office, device_id, records))
        port = free_port()
        with serving("intake", "serve", "--data", str(office), "--port", str(port), port=port) as served:
            ours = [pull(served, secret) for _ in range(ROUNDS)]
        glued = [glue(office) for _ in range(ROUNDS)]
        ours_s, glued_s = (statistics.median(seconds for seconds, _ in runs) for runs in (ours, glued))
        yield (
            f"{records} records, {ours[0][1] / 1e6:.1f} MB: {1000 * ours_s:.1f} ms; sqlite3 and glue "
            f"{1000 * glued_s:.1f} ms; ratio {marked(glued_s / ours_s, 0.6, at_least=True)}"
        )


def pull(served: Served, secret: str, day_id: str = "") -> tuple[float, int]:
    """Seconds and bytes of reading the feed of a day, by a client that takes a page in one go; of the only open one if
    none is named."""
    line = http.client.HTTPConnection("127.0.0.1", served.port)
    line.connect()
    began, cursor, size, more = time.perf_counter(), 0, 0, True
    while more:
        line.request(
            "GET",
            f"/sync/feed?after={cursor}&limit=1000&day_id={day_id}&table_id=",
            headers={"Cookie": f"intake={secret}"},
        )
        page = line.getresponse().read()
        size += len(page)
        tail = page[page.rindex(b'],"cursor"') + 2 : -1]
        ending = json.loads(b"{" + tail + b"}")
        cursor, more = ending["cursor"], ending["more"]
    seconds = time.perf_counter() - began
    line.close()
    return seconds, size


async def fill(office: Path, device_id: str, records: int) -> None:
    """Send records through the door, without HTTP."""
    pile = Pile(records, device_id)
    day = pile.day()
    visit = pile.visit(day["day_id"])
    operations = [day, visit] + [made for _ in range(records) for made in pile.record(visit, [])]
    async with opened(office / "intake.sqlite3") as database:
        for batch in batches(operations, 2000):
            await database.write(
                partial(
                    answer_batch,
                    sent=batch,
                    device_id=device_id,
                    role="manager",
                    received_at=stamp(utc_now()),
                )
            )


def glue(office: Path) -> tuple[float, int]:
    """The same rows in the same pages, read with sqlite3 and joined."""
    connection = sqlite3.connect(office / "intake.sqlite3")
    began, after, size = time.perf_counter(), 0, 0
    while True:
        rows = connection.execute(
            "SELECT office_seq, body FROM record WHERE office_seq > ? ORDER BY office_seq LIMIT 1000",
            (after,),
        ).fetchall()
        size += len(",".join(row[1] for row in rows).encode())
        if len(rows) < 1000:
            break
        after = rows[-1][0]
    seconds = time.perf_counter() - began
    connection.close()
    return seconds, size
