"""(d) From the tap to the drawn screen, with a day of 300 items on the device and no network.

The invented day has fewer: copies of its items on the device make up the number. A browser is needed as for the start.
"""

from __future__ import annotations

import asyncio
import statistics
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from intake.access.devices import make_code
from intake.bench import marked
from intake.bench.phone import SLOWDOWN, on_a_phone, slow_down
from intake.bench.served import Served, free_port, serving
from intake.database import opened
from intake.demo.seed import seed_day
from intake.settings import Settings, utc_now

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Page

ITEMS = 300
ROUNDS = 5
TARGET_MS = 100.0
#: The address of each screen that stands with no network, by its name in the app; `ids` of FILL stand in the braces.
ON_DEVICE = {
    "today": "#/today",
    "porter": "#/porter",
    "day": "#/day",
    "rolls": "#/rolls",
    "closing": "#/closing",
    "outbox": "#/outbox",
    "visit": "#/visit/{visit}",
    "visit/receipt": "#/visit/{visit}/receipt",
    "item": "#/item/{item}",
    "item/zones": "#/item/{item}/zones",
    "item/zone": "#/item/{item}/zone/{zone}",
    "item/marks": "#/item/{item}/marks",
    "item/works": "#/item/{item}/works",
    "item/measures": "#/item/{item}/measures",
    "item/photos": "#/item/{item}/photos",
    "item/tag": "#/item/{item}/tag",
    "item/words": "#/item/{item}/words",
    "item/stop": "#/item/{item}/stop",
    "container": "#/container/{container}",
    "load": "#/load/{load}",
    "places": "#/places",
    "stop": "#/stop",
    "cards": "#/cards",
    "tag": "#/tag",
    "check": "#/check",
}
#: Those that show what the office answers, which runs beside the browser.
OF_OFFICE = {
    "queue": "#/queue",
    "closings": "#/closings",
    "copies": "#/copies",
    "devices": "#/devices",
    "preflight": "#/preflight",
}
#: Why a screen is in neither.
LEFT_OUT = {
    "pair": "it is gone to before there is a day on the device; the first keystroke on it is measured"
}
# Ends when the worker keeps what a manager's device needs: until then a screen of theirs needs the office.
KEPT = """async () => {
    await navigator.serviceWorker.ready;
    const packs = ["/packs/custody", "/packs/office", "/packs/words"];
    const areKept = async () => (await Promise.all(packs.map((pack) => caches.match(pack)))).every(Boolean);
    while (!(await areKept())) await new Promise(requestAnimationFrame);
}"""
# Copies items under other ids until there are so many; answers what the addresses are about: the item and the visit of
# which most is on record.
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
    const of = (kind) => all.filter((record) => record.kind === kind);
    const most = (records, count) => records.reduce((a, b) => (count(b) > count(a) ? b : a));
    const items = of("item");
    for (let number = items.length; number < wanted; number += 1) {
        store.put({...items[number % items.length], record_id: `copy-${number}`});
    }
    await new Promise((resolve) => { tx.oncomplete = resolve; });
    db.close();
    const named = ({fields}, family) => Object.entries(fields).filter(([name]) => name.startsWith(family));
    const within = (visit) => items.filter(({visit_id}) => visit_id === visit.record_id).length;
    const item = most(items, (one) => named(one, "findings/").length);
    const load = of("day").flatMap((day) => named(day, "loads/")).find(([, {value}]) => !("of_load" in value));
    return {
        item: item.record_id,
        zone: encodeURIComponent(named(item, "findings/")[0][1].value.zone),
        visit: most(of("visit"), within).record_id,
        container: of("container")[0].record_id,
        load: load[0].replace("loads/", ""),
    };
}"""
# Goes to one address after the other, as a tap on a link does; milliseconds until what it leads to has been painted.
TAP = """async ([addresses, without]) => {
    const frame = () => new Promise(requestAnimationFrame);
    const isDrawn = (main) => main && !new RegExp(without).test(main.textContent);
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
#: What a screen says while it waits: for the device's own database, and for the office.
WAITS = r"(Reading|Opening|Looking) …"
WAITS_FOR_OFFICE = WAITS + r"|Asking …|needs the office|office is not reached"


def measure_screens(folder: Path, quick: bool) -> Iterator[str]:
    """The slowest screens from tap to drawn, the median of some rounds for each; a line for each kind of them."""
    code = asyncio.run(prepare(folder))
    port = free_port()
    rounds = 2 if quick else ROUNDS
    with (
        serving("intake", "serve", "--data", str(folder), "--port", str(port), port=port) as served,
        on_a_phone() as context,
    ):
        if context is None:
            yield "from tap to drawn: not measured, it needs Chromium and the tests' packages"
            return
        page, ids = opened_with_a_day(context, served, code)
        slow_down(page)
        on_device = medians(page, addresses(ON_DEVICE, ids), rounds, WAITS)
        context.set_offline(False)
        of_office = medians(page, addresses(OF_OFFICE, ids), rounds, WAITS_FOR_OFFICE)
    slowed = f"{ITEMS} items on the device, processor slowed {SLOWDOWN} times, ms"
    yield f"from tap to drawn, {slowed}: {slowest(on_device)}"
    yield f"the same until the office's answer is drawn, ms: {slowest(of_office)}"


def opened_with_a_day(context: BrowserContext, served: Served, code: str) -> tuple[Page, dict[str, str]]:
    """A manager's device with all its screens and the day, the network gone; the ids that the addresses are about."""
    page = context.new_page()
    page.goto(f"{served.origin}/")
    page.get_by_label("Code").fill(code)
    page.get_by_role("button", name="Pair", exact=True).click()
    page.get_by_text("At the desk").wait_for()
    page.evaluate(KEPT)
    ids: dict[str, str] = page.evaluate(FILL, ITEMS)
    context.set_offline(True)
    page.reload()
    page.locator("nav.places").wait_for(state="attached")
    page.wait_for_timeout(2000)  # the code of every screen is here by then
    return page, ids


def addresses(screens: dict[str, str], ids: dict[str, str]) -> dict[str, str]:
    return {name: address.format(**ids) for name, address in screens.items()}


def medians(page: Page, screens: dict[str, str], rounds: int, waits: str) -> dict[str, float]:
    """Milliseconds from tap to drawn of each screen, the median of so many rounds."""
    times = [page.evaluate(TAP, [list(screens.values()), waits]) for _ in range(rounds)]
    return {name: statistics.median(of_one) for name, *of_one in zip(screens, *times, strict=True)}


def slowest(of: dict[str, float]) -> str:
    """The slowest beside the target, then all others, the slower first."""
    first, *others = sorted(of, key=lambda name: -of[name])
    named = ", ".join(f"{name} {of[name]:.0f}" for name in others)
    return f"slowest {first} {marked(of[first], TARGET_MS, at_least=False)}; then {named}"


async def prepare(folder: Path) -> str:
    """The invented day, and a manager's pairing code."""
    settings = Settings(folder)
    await seed_day(settings)
    async with opened(settings.database_file) as database:
        code = await database.write(lambda tx: make_code(tx, role="manager", name="M", now=utc_now()))
    return code.shown
