"""(g) A house that grows: a table, a desk, `verify` and a closing, whatever lies at the office.

One office is grown from size to size and measured at each. A browser is needed for what is seen; bytes are counted over
HTTP as the app asks.
"""

from __future__ import annotations

import asyncio
import statistics
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from intake.bench import marked
from intake.bench.growth_seen import Seen, SeenAtDesk, see_desk, see_in_hall
from intake.bench.house import House
from intake.bench.large_day import measure_large_day
from intake.bench.pull import pull
from intake.bench.served import Served, asked, free_port, serving
from intake.system import memory_at_most, wait_and_weigh

SIZES = (1000, 10_000, 50_000, 200_000)
QUICK = 2  # so many of them in a quick run: the others take an hour and more
DESKS = 20
CLOSINGS = 3  # times that one is asked for; the median counts
DESK_FEED = "/sync/feed?after=0&limit=500&day_id=&table_id="


@dataclass(frozen=True)
class Looked:
    """What `intake verify` took, all in all: seconds by the wall and of the processor, bytes at most."""

    wall_s: float
    cpu_s: float
    peak: float


@dataclass(frozen=True)
class Size:
    """What was measured of a house of so many items; bytes and seconds."""

    items: int
    operations: int
    database: int
    desk_feed: int
    page: int
    table_feed: int
    closing_s: float
    server_peak: float
    verify: Looked
    nothing_new: Looked  # `verify --new` with nothing that is new: loading, opening, and no operation
    desk: SeenAtDesk | None
    table: Seen | None
    porter: Seen | None


def measure_growth(folder: Path, quick: bool) -> Iterator[str]:
    """A few rows for each size, then what grew; last a house that had all of it on one day."""
    house = asyncio.run(House.begun(folder / "office"))
    sizes = []
    for items in SIZES[:QUICK] if quick else SIZES:
        began = time.perf_counter()
        asyncio.run(house.grow(items))
        made_s = time.perf_counter() - began
        size = measured(house)
        sizes.append(size)
        yield (
            f"{items} items, {size.operations} operations, {size.database / 1e6:.0f} MB "
            f"(made in {made_s:.0f} s)"
        )
        yield from (f"    {line}" for line in lines_of(size))
    yield from growth_of(sizes[0], sizes[-1])
    yield from measure_large_day(folder)


def measured(house: House) -> Size:
    desk = asyncio.run(house.secret("desk", f"D{house.items}"))
    desk_code, table_code, porter_code = (
        asyncio.run(house.code(role, f"{role}{house.items}")) for role in ("desk", "table", "porter")
    )
    port = free_port()
    with serving("intake", "serve", "--data", str(house.folder), "--port", str(port), port=port) as served:
        desk_feed, page = (len(asked(served, desk, path)) for path in (DESK_FEED, "/queue?limit=50&counts=1"))
        table_feed = pull(served, house.table, house.day_id)[1]
        closing_s = statistics.median(seconds_of(served, house, desk) for _ in range(CLOSINGS))
        seen_at_desk = see_desk(
            served,
            desk_code,
            house.day_id,
            lambda: house.change(served, house.first_item),
            lambda: house.change(served, house.last_item),
        )
        seen_at_table = see_in_hall(served, table_code, "outbox", "today")
        seen_at_porter = see_in_hall(served, porter_code, "outbox", "today", "closing")
        server_peak = memory_at_most(served.process.pid)
    looked, nothing_new = verify(house.folder), verify(house.folder, "--new")
    operations = asyncio.run(house.operations())
    return Size(
        house.items,
        operations,
        house.file.stat().st_size,
        desk_feed,
        page,
        table_feed,
        closing_s,
        server_peak,
        looked,
        nothing_new,
        seen_at_desk,
        seen_at_table,
        seen_at_porter,
    )


def seconds_of(served: Served, house: House, desk: str) -> float:
    """Until a closing is told that has to be made: something of its day has changed."""
    house.change(served, house.last_item)
    began = time.perf_counter()
    asked(served, desk, f"/days/{house.day_id}/closing")
    return time.perf_counter() - began


def verify(office: Path, *more: str) -> Looked:
    """Run `intake verify` in a process of its own. Raises RuntimeError if it finds a fault."""
    began = time.perf_counter()
    process = subprocess.Popen(
        [sys.executable, "-m", "intake", "verify", *more, "--data", str(office)],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    peak, cpu_s = wait_and_weigh(process)
    if process.returncode != 0:
        raise RuntimeError("verify found a fault in the office that was made")
    return Looked(time.perf_counter() - began, cpu_s, peak)


def lines_of(size: Size) -> Iterator[str]:
    """What was measured of one size, in rows."""
    looked, start = size.verify, size.nothing_new
    rate = marked(size.operations / max(looked.wall_s - start.wall_s, 1e-3), 20_000, at_least=True)
    peak = marked(looked.peak / 1e6, 300, at_least=False)
    yield (
        f"verify {looked.wall_s:.1f} s, {start.wall_s:.1f} of them its start; operations a second behind that {rate}, "
        f"with it {size.operations / looked.wall_s:.0f}, of the processor's {size.operations / looked.cpu_s:.0f}; "
        f"MB {peak}"
    )
    yield (
        f"closing of a day {1000 * size.closing_s:.0f} ms; the office's memory at most {size.server_peak / 1e6:.0f} MB"
    )
    yield (
        f"bytes: desk {size.desk_feed / 1e3:.1f} KB and a page {size.page / 1e3:.1f} KB, "
        f"table {size.table_feed / 1e6:.2f} MB"
    )
    for name, seen in (("desk", size.desk), ("table", size.table), ("porter", size.porter)):
        if seen is None:
            yield f"{name}: not seen, it needs Chromium and the tests' packages"
            continue
        stalls = ", ".join(f"{screen} {ms:.0f}" for screen, ms in seen.stalls.items())
        longest = marked(max(seen.stalls.values()), 100, at_least=False)
        yield (
            f"{name}: {seen.first_s:.2f} s from pairing to its first screen, heap {seen.heap / 1e6:.0f} MB, "
            f"{seen.records} records kept; longest stall in ms {longest} ({stalls})"
        )
    if size.desk is not None:
        first, next_one = size.desk.entries_ms
        shown = marked(DESKS * size.desk.requests_shown, DESKS, at_least=False)
        elsewhere = marked(DESKS * size.desk.requests_elsewhere, 0, at_least=False)
        yield (
            f"entry opened in ms: the first {marked(first, 300, at_least=False)}, the next "
            f"{marked(next_one, 300, at_least=False)}"
        )
        yield f"requests a change makes from {DESKS} desks: that show it {shown}, that do not {elsewhere}"


def growth_of(least: Size, most: Size) -> Iterator[str]:
    """How much more the largest costs than the smallest.

    The memory of `verify` is none of it: what it keeps in hand fills within the first thousands of items and then has
    its bound, which stands beside each size. Nor is its start, which is the same at any size.
    """
    if least.items == most.items:
        return
    pairs = {
        "desk's bytes": (least.desk_feed + least.page, most.desk_feed + most.page),
        "table's bytes": (least.table_feed, most.table_feed),
        "closing": (least.closing_s, most.closing_s),
        "the office's memory": (least.server_peak, most.server_peak),
        "verify an operation": (of_each(least), of_each(most)),
    }
    if least.desk and least.table and most.desk and most.table:
        pairs["desk's first screen"] = least.desk.first_s, most.desk.first_s
        pairs["table's first screen"] = least.table.first_s, most.table.first_s
        pairs["desk's heap"] = least.desk.heap, most.desk.heap
        pairs["table's heap"] = least.table.heap, most.table.heap
        pairs["next entry"] = least.desk.entries_ms[1], most.desk.entries_ms[1]
    for name, (before, after) in pairs.items():
        yield f"{name} at {most.items} of that at {least.items}: {marked(after / before, 1.3, at_least=False)}"


def of_each(size: Size) -> float:
    """Seconds of the processor that `verify` takes for an operation."""
    return (size.verify.cpu_s - size.nothing_new.cpu_s) / size.operations
