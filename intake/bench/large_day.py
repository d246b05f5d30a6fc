"""The closing of a day far beyond what a hall can take, of which the office may hold some at a time alone."""

from __future__ import annotations

import asyncio
import json
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

from intake.bench import marked
from intake.bench.house import House
from intake.bench.served import Served, asked, free_port, serving
from intake.system import memory_at_most

ITEMS = 10_000
DESKS = 2  # that ask at once
CLOSINGS = 3  # made one after the other, something of the day having changed
MOST_MB = 300
A_PAGE = 500


def measure_large_day(folder: Path) -> Iterator[str]:
    """One row: seconds and memory of the closings of one day, asked for by several desks at once, and of all their
    pages."""
    house = asyncio.run(House.begun(folder / "large"))
    asyncio.run(house.grow(ITEMS, ITEMS))
    desks = [asyncio.run(house.secret("desk", f"D{number}")) for number in range(DESKS)]
    port = free_port()
    with serving("intake", "serve", "--data", str(house.folder), "--port", str(port), port=port) as served:
        asked(served, desks[0], "/days")
        before = memory_at_most(served.process.pid)
        took = [seconds_for_all(served, house, desks) for _ in range(CLOSINGS)]
        lines = lines_read(served, house.day_id, desks[0])
        peak = memory_at_most(served.process.pid)
    seconds = ", ".join(f"{one:.1f}" for one in took)
    most = marked(peak / 1e6, MOST_MB, at_least=False)
    yield (
        f"one day of {ITEMS} items, {lines} lines of its closing: {DESKS} desks at once have it in {seconds} s; "
        f"the office's memory at most {before / 1e6:.0f} MB before it and {most} with it"
    )


def seconds_for_all(served: Served, house: House, desks: list[str]) -> float:
    house.change(served, house.last_item)
    began = time.perf_counter()
    with ThreadPoolExecutor(len(desks)) as at_once:
        for answer in [
            at_once.submit(asked, served, desk, f"/days/{house.day_id}/closing") for desk in desks
        ]:
            answer.result()
    return time.perf_counter() - began


def lines_read(served: Served, day_id: str, desk: str) -> int:
    """How many lines a closing has, all of them read."""
    closing = json.loads(asked(served, desk, f"/days/{day_id}/closing"))
    return sum(len(page["lines"]) for page in pages(served, day_id, desk, closing))


def pages(served: Served, day_id: str, desk: str, closing: dict[str, Any]) -> Iterator[dict[str, Any]]:
    for section in closing["sections"]:
        after: int | None = 0
        while after is not None:
            asks = f"state={closing['state']}&section={section['section']}&after={after}&limit={A_PAGE}"
            page = json.loads(asked(served, desk, f"/days/{day_id}/closing/lines?{asks}"))
            after = page["next"]
            yield page
