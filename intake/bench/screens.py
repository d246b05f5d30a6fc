"""(d) From the tap to the drawn screen, with a day of 300 items on the device and no network.

The invented day has fewer: copies of its items on the device make up the number. A browser is needed as for the start.
"""

from __future__ import annotations

import asyncio
from collections.abc import Iterator
from pathlib import Path

from intake.access.devices import make_code
from intake.bench import marked
from intake.bench.phone import SLOWDOWN, on_a_phone, slow_down
from intake.bench.served import free_port, serving
from intake.database import opened
from intake.demo.seed import seed_day
from intake.settings import Settings, utc_now

ITEMS = 300
ROUNDS = 5
TARGET_MS = 100.0
PLACES = ["#/today", "#/porter", "#/day", "#/rolls", "#/closing", "#/outbox"]
PARTS = ["", "/zones", "/marks", "/works", "/measures", "/photos", "/tag", "/words", "/stop"]
# Ends when the worker keeps what a manager's device needs: until then a screen of theirs needs the office.
KEPT = """async () => {
    await navigator.serviceWorker.ready;
    const packs = ["/packs/custody", "/packs/office", "/packs/words"];
    const areKept = async () => (await Promise.all(packs.map((pack) => caches.match(pack)))).every(Boolean);
    while (!(await areKept())) await new Promise(requestAnimationFrame);
}"""
# Copies items under other ids until there are so many; answers a visit and an item of the day.
FILL = """async (wanted) => {
    const opening = indexedDB.open("intake");
    await new Promise((resolve) => { opening.onsuccess = resolve; });
    const db = opening.result;
    const tx = db.transaction("record", "readwrite");
    const store = tx.objectStore("record");
    const all = await new Promise((resolve) => {
        const asked = store.getAll();
        asked.onsuccess = () => resolve(asked.result);
    });
    const items = all.filter(({kind}) => kind === "item");
    for (let number = items.length; number < wanted; number += 1) {
        store.put({...items[number % items.length], record_id: `copy-${number}`});
    }
    await new Promise((resolve) => { tx.oncomplete = resolve; });
    db.close();
    return [items[0].visit_id, items[0].record_id];
}"""
# Goes to one address after the other, as a tap on a link does; milliseconds until what it leads to has been painted.
TAP = """async (addresses) => {
    const frame = () => new Promise(requestAnimationFrame);
    const isDrawn = (main) => main && !/^(Reading|Opening) /.test(main.textContent);
    const times = [];
    for (const address of addresses) {
        const before = document.querySelector("main");
        const began = performance.now();
        location.hash = address;
        for (;;) {
            await frame();
            const main = document.querySelector("main");
            if (main !== before && isDrawn(main)) break;
        }
        await frame();
        times.push(performance.now() - began);
        await new Promise((resolve) => setTimeout(resolve, 50));
    }
    return times;
}"""


def measure_screens(folder: Path, quick: bool) -> Iterator[str]:
    """The slowest screen from tap to drawn, the median of some rounds for each; one line."""
    code = asyncio.run(prepare(folder))
    port = free_port()
    with (
        serving("intake", "serve", "--data", str(folder), "--port", str(port), port=port) as served,
        on_a_phone() as context,
    ):
        if context is None:
            yield "from tap to drawn: not measured, it needs Chromium and the tests' packages"
            return
        page = context.new_page()
        page.goto(f"{served.origin}/")
        page.get_by_label("Code").fill(code)
        page.get_by_role("button", name="Pair", exact=True).click()
        page.get_by_text("At the desk").wait_for()
        page.evaluate(KEPT)
        visit_id, item_id = page.evaluate(FILL, ITEMS)
        context.set_offline(True)
        page.reload()
        page.locator("nav.places").wait_for(state="attached")
        page.wait_for_timeout(2000)  # the code of every screen is here by then
        slow_down(page)
        addresses = [*PLACES, f"#/visit/{visit_id}", f"#/visit/{visit_id}/receipt"]
        addresses += [f"#/item/{item_id}{part}" for part in PARTS]
        rounds = [page.evaluate(TAP, addresses) for _ in range(2 if quick else ROUNDS)]
    medians = {
        address: sorted(times)[len(times) // 2] for address, *times in zip(addresses, *rounds, strict=True)
    }
    slowest = sorted(medians, key=lambda address: -medians[address])
    named = ", ".join(f"{short(address)} {medians[address]:.0f}" for address in slowest[1:4])
    yield (
        f"from tap to drawn, {ITEMS} items on the device, processor slowed {SLOWDOWN} times, ms: slowest "
        f"{short(slowest[0])} {marked(medians[slowest[0]], TARGET_MS, at_least=False)}; then {named}"
    )


def short(address: str) -> str:
    """An address without its ids."""
    return "/".join(part for part in address.removeprefix("#/").split("/") if len(part) < 20)


async def prepare(folder: Path) -> str:
    """The invented day, and a manager's pairing code."""
    settings = Settings(folder)
    await seed_day(settings)
    async with opened(settings.database_file) as database:
        code = await database.write(lambda tx: make_code(tx, role="manager", name="M", now=utc_now()))
    return code.shown
