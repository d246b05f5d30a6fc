"""(f) A porter's scans: from the number that was read to the count on the screen, with no network.

The camera is left out: what is measured is what the app does with a number, on the invented day's records. A
browser is needed as for (d).
"""

from __future__ import annotations

import asyncio
import statistics
from collections.abc import Iterator
from pathlib import Path

from intake.access.devices import make_code
from intake.bench import marked
from intake.bench.phone import SLOWDOWN, on_a_phone, slow_down
from intake.bench.served import free_port, serving
from intake.database import opened
from intake.demo.seed import seed_day
from intake.settings import Settings, utc_now
from intake.tagging.tags import shown

SCANS = 60
TARGET_MS = 500.0  # two scans a second
# Types one number after the other and waits for its count, as the eye would; milliseconds for each.
SCAN = """async (tags) => {
    const form = document.querySelector("form.inline");
    const input = form.querySelector("input");
    const told = () => document.querySelector(".scanned .row")?.textContent; // the newest
    const times = [];
    for (const tag of tags) {
        const before = told();
        input.value = tag;
        input.dispatchEvent(new Event("input", {bubbles: true}));
        await new Promise(requestAnimationFrame);
        const began = performance.now();
        form.requestSubmit();
        while (told() === before) await new Promise(requestAnimationFrame);
        times.push(performance.now() - began);
    }
    return times;
}"""


def measure_scans(folder: Path, quick: bool) -> Iterator[str]:
    """How long a scan takes on the screen: the median and the slowest of twenty; one line."""
    code, tags = asyncio.run(prepare(folder))
    port = free_port()
    with (
        serving("intake", "serve", "--data", str(folder), "--port", str(port), port=port) as served,
        on_a_phone() as context,
    ):
        if context is None:
            yield "not measured, it needs Chromium and the tests' packages"
            return
        page = context.new_page()
        page.goto(f"{served.origin}/")
        page.get_by_label("Code").fill(code)
        page.get_by_role("button", name="Pair", exact=True).click()
        page.get_by_text("At the desk").wait_for()
        page.get_by_label("Who is at this device?").select_option(index=1)
        page.goto(f"{served.origin}/#/porter")
        page.get_by_role("button", name="Van", exact=True).click()
        page.get_by_label("Given by").select_option(index=1)
        context.set_offline(True)
        slow_down(page)
        times: list[float] = page.evaluate(SCAN, [shown(tag) for tag in tags[: 20 if quick else SCANS]])
    slowest = statistics.quantiles(times, n=20)[-1]
    yield (
        f"{len(times)} scans offline, processor slowed {SLOWDOWN} times, ms from number to count: median "
        f"{statistics.median(times):.0f}, slowest of twenty {marked(slowest, TARGET_MS, at_least=False)}"
    )


async def prepare(folder: Path) -> tuple[str, list[str]]:
    """The invented day, a porter's pairing code, and the numbers that are tied."""
    settings = Settings(folder)
    await seed_day(settings)
    async with opened(settings.database_file) as database:
        code = await database.write(lambda tx: make_code(tx, role="porter", name="Porter", now=utc_now()))
        rows = await database.read(lambda tx: tx.all("SELECT tag FROM tag ORDER BY tag DESC"))
    return code.shown, [row["tag"] for row in rows]
