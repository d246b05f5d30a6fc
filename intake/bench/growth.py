"""(g) A house that grows: a desk and a manager's device, from pairing to the first screen, whatever lies at the office.

Each day has 500 items; all but the last are closed. A browser is needed for the seconds; the bytes are counted over
HTTP as the app asks.
"""

from __future__ import annotations

import asyncio
import http.client
import json
import time
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from intake.access.devices import make_code, pair, stamp
from intake.bench.phone import on_a_phone, slow_down
from intake.bench.pile import Pile, batches
from intake.bench.pull import pull
from intake.bench.served import Served, free_port, serving
from intake.bench.upload import prepare
from intake.database import opened
from intake.settings import utc_now
from intake.sync.operations import answer_batch

ITEMS_A_DAY = 500
ITEMS_A_VISIT = 5
DESK = {"width": 1440, "height": 900}
HEAP = "() => performance.memory ? performance.memory.usedJSHeapSize : 0"
KEPT = """() => new Promise((resolve) => {
    const opening = indexedDB.open("intake");
    opening.onsuccess = () => {
        const asked = opening.result.transaction("record").objectStore("record").count();
        asked.onsuccess = () => { opening.result.close(); resolve(asked.result); };
    };
})"""


@dataclass(frozen=True)
class Shown:
    """What a browser saw of one device: seconds to its first screen and to an entry, bytes of heap, records kept."""

    first_s: float
    entry_s: float
    heap: int
    records: int


def measure_growth(folder: Path, quick: bool) -> Iterator[str]:
    """A row for each size of the house."""
    for items in (1000,) if quick else (1000, 10_000, 50_000):
        office = folder / str(items)
        office.mkdir()
        [(device_id, secret)] = asyncio.run(prepare(office, 1))
        day_id = asyncio.run(fill(office, device_id, items))
        desk, code = asyncio.run(devices(office))
        port = free_port()
        with serving("intake", "serve", "--data", str(office), "--port", str(port), port=port) as served:
            sizes = {
                "desk": asked(served, desk, "/sync/feed?after=0&limit=500&day_id=&table_id="),
                "day": pull(served, secret, day_id)[1],
                "page": asked(served, desk, "/queue?limit=50&counts=1"),
            }
            shown = look(served, code)
        seen = (
            "no browser"
            if shown is None
            else (
                f"{shown.first_s:.2f} s to its first rows, entry {shown.entry_s:.2f} s (processor slowed 4 times), "
                f"heap {shown.heap / 1e6:.0f} MB, {shown.records} records kept"
            )
        )
        yield (
            f"{items} items: a desk reads {sizes['desk'] / 1e3:.0f} KB and a page of {sizes['page'] / 1e3:.0f} KB "
            f"(a manager's day {sizes['day'] / 1e6:.1f} MB); {seen}"
        )


async def fill(office: Path, device_id: str, items: int) -> str:
    """A house of so many items through the door, day by day; the id of the last day, which is open."""
    pile = Pile(items, device_id)
    async with opened(office / "intake.sqlite3") as database:
        for number in range(0, items, ITEMS_A_DAY):
            day = pile.day()
            made = [day]
            for _ in range(0, ITEMS_A_DAY, ITEMS_A_VISIT):
                visit = pile.visit(day["day_id"])
                made += [visit, *(one for _ in range(ITEMS_A_VISIT) for one in pile.record(visit, []))]
            if number + ITEMS_A_DAY < items:
                names = {"closed_by": "Hester Quillfeather", "second_by": "Ana Thistle", "named": []}
                made.append(pile.make("close_day", day_id=day["day_id"], **names))
            for batch in batches(made, 2000):
                answering = partial(answer_batch, sent=batch, device_id=device_id, role="manager")
                await database.write(partial(answering, received_at=stamp(utc_now())))
    return str(day["day_id"])


async def devices(office: Path) -> tuple[str, str]:
    """A desk's secret, and a code by which a browser becomes another desk."""
    async with opened(office / "intake.sqlite3") as database:
        now = utc_now()
        code = await database.write(partial(make_code, role="desk", name="D", now=now))
        paired = partial(pair, typed=code.code, device_id=None, secret=None, now=now)
        _, secret = await database.write(paired)
        fresh = await database.write(partial(make_code, role="desk", name="E", now=utc_now()))
        return secret, fresh.shown


def asked(served: Served, secret: str, path: str) -> int:
    """How many bytes the office answers."""
    line = http.client.HTTPConnection("127.0.0.1", served.port)
    line.request("GET", path, headers={"Cookie": f"intake={secret}"})
    body = line.getresponse().read()
    line.close()
    json.loads(body)
    return len(body)


def look(served: Served, code: str) -> Shown | None:
    """Pair a browser as a desk, and open an entry; None where there is no browser."""
    with on_a_phone() as context:
        if context is None:
            return None
        page = context.new_page()
        page.set_viewport_size(DESK)  # type: ignore[arg-type]
        page.goto(f"{served.origin}/")
        page.get_by_label("Code").fill(code)
        began = time.perf_counter()
        page.get_by_role("button", name="Pair", exact=True).click()
        rows = page.locator(".queue-row")
        rows.first.wait_for(timeout=600_000)
        first_s = time.perf_counter() - began
        page.get_by_text("At the desk").wait_for()
        slow_down(page)
        began = time.perf_counter()
        rows.nth(3).click()
        page.locator(".entry .findings").wait_for()
        entry_s = time.perf_counter() - began
        return Shown(first_s, entry_s, int(page.evaluate(HEAP)), int(page.evaluate(KEPT)))
