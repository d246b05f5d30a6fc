"""What a browser sees of a house that grows: seconds, stalls, memory, and what one change makes it ask for."""

from __future__ import annotations

import time
from collections.abc import Callable
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING

from intake.bench.phone import on_a_phone, slow_down
from intake.bench.served import Served

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Page

DESK = {"width": 1440, "height": 900}
HEAP = "() => performance.memory ? performance.memory.usedJSHeapSize : 0"
KEPT = """() => new Promise((resolve) => {
    const opening = indexedDB.open("intake");
    opening.onsuccess = () => {
        const asked = opening.result.transaction("record").objectStore("record").count();
        asked.onsuccess = () => { opening.result.close(); resolve(asked.result); };
    };
})"""
WATCH = """() => {
    window.stalls = [];
    new PerformanceObserver((list) => {
        for (const one of list.getEntries()) window.stalls.push(one.duration);
    }).observe({ type: "longtask" });
}"""
STALL = "() => Math.max(0, ...window.stalls.splice(0))"
# Presses a row of the list; milliseconds until the frame has been painted in which the entry's findings stand. Those of
# the entry that was open before are still there when the row is pressed, and do not count.
OPEN_ENTRY = """(row) => new Promise((resolve) => {
    const before = document.querySelector(".entry");
    const began = performance.now();
    const look = () => {
        const entry = document.querySelector(".entry");
        if (entry === before || !entry?.querySelector(".findings")) return requestAnimationFrame(look);
        setTimeout(() => resolve(performance.now() - began));
    };
    document.querySelectorAll(".queue-row")[row].click();
    look();
})"""
A_ROUND_MS = 60_000  # a round of syncing ends sooner, however slow the machine is
SETTLED_MS = 1500  # by then what a press or a piece of news leads to has been asked for and drawn


@dataclass(frozen=True)
class Seen:
    """Of one device: seconds from its pairing to its first screen, bytes of heap, records kept, and the longest stall
    in ms on each screen, the processor slowed."""

    first_s: float
    heap: int
    records: int
    stalls: dict[str, float]


@dataclass(frozen=True)
class SeenAtDesk(Seen):
    """`entries_ms`: the first entry that is opened and the next. Requests after a change to what is in the list, and to
    what is not shown."""

    entries_ms: tuple[float, float]
    requests_shown: int
    requests_elsewhere: int


def see_desk(
    served: Served,
    code: str,
    day_id: str,
    change_shown: Callable[[], None],
    change_elsewhere: Callable[[], None],
) -> SeenAtDesk | None:
    """A desk's queue, two entries, the closings and that of a day, and what it asks for when something changed; None
    without a browser."""
    with paired(served, code) as begun:
        if begun is None:
            return None
        page, began = begun
        rows = page.locator(".queue-row")
        rows.first.wait_for(timeout=600_000)
        first_s = time.perf_counter() - began
        page.get_by_text("At the desk").wait_for()
        asked = [requests_after(page, change) for change in (change_shown, change_elsewhere)]
        slow_down(page)
        page.evaluate(WATCH)
        stalls, entries = {}, []
        for row in (3, 5):
            entries.append(page.evaluate(OPEN_ENTRY, row))
            stalls[f"entry {len(entries)}"] = stall(page)
        stalls["queue"] = shown(page, "#/queue")
        stalls["closings"] = shown(page, "#/closings")
        stalls["closing"] = shown(page, f"#/closings/{day_id}")
        heap, kept = int(page.evaluate(HEAP)), int(page.evaluate(KEPT))
        return SeenAtDesk(first_s, heap, kept, stalls, (entries[0], entries[1]), *asked)


def see_in_hall(served: Served, code: str, *screens: str) -> Seen | None:
    """The first screen of a device that holds the day, then these by name; None without a browser."""
    with paired(served, code) as begun:
        if begun is None:
            return None
        page, began = begun
        page.locator("main a[href^='#/visit/']").first.wait_for(timeout=600_000)
        first_s = time.perf_counter() - began
        page.get_by_text("At the desk").wait_for(timeout=600_000)
        slow_down(page)
        page.evaluate(WATCH)
        stalls = {screen: shown(page, f"#/{screen}") for screen in screens}
        return Seen(first_s, int(page.evaluate(HEAP)), int(page.evaluate(KEPT)), stalls)


@contextmanager
def paired(served: Served, code: str) -> Iterator[tuple[Page, float] | None]:
    """A browser that types a pairing code, and when it pressed the button; None where there is none."""
    with on_a_phone() as context:
        if context is None:
            yield None
            return
        page = context.new_page()
        page.set_viewport_size(DESK)  # type: ignore[arg-type]
        page.goto(f"{served.origin}/")
        page.get_by_label("Code").fill(code)
        began = time.perf_counter()
        page.get_by_role("button", name="Pair", exact=True).click()
        yield page, began


def shown(page: Page, address: str) -> float:
    """The longest stall when a screen is gone to."""
    page.evaluate(STALL)
    page.evaluate("(address) => { location.hash = address; }", address)
    return stall(page)


def stall(page: Page) -> float:
    page.wait_for_timeout(SETTLED_MS)
    return float(page.evaluate(STALL))


def requests_after(page: Page, change: Callable[[], None]) -> int:
    """How many requests a page makes when the office has kept a change.

    Every quarter of a minute a page asks for the feed and the plans, whatever was kept: the change is made as that
    ends.
    """
    with page.expect_response(lambda response: response.url.endswith("/plans"), timeout=A_ROUND_MS):
        pass
    asked: list[str] = []
    note = lambda request: asked.append(request.url)  # noqa: E731
    page.on("request", note)
    change()
    page.wait_for_timeout(SETTLED_MS)
    page.remove_listener("request", note)
    return len(asked)
