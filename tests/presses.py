"""How fast a driven browser presses: the clock of presses is a test's, and no test waits for it."""

from __future__ import annotations

from playwright.sync_api import BrowserContext, Page

# A driven browser is quicker than any hand, and what comes too soon after a press takes none (`one_press.ts`).
CLOCK = """
    window.betweenPressesMs = 1000;
    let at = 0;
    addEventListener("pointerdown", () => { at += window.betweenPressesMs; }, true);
    Object.defineProperty(Event.prototype, "timeStamp", { get: () => at });
"""


def at_a_persons_pace(context: BrowserContext) -> BrowserContext:
    """Each press comes a second after the one before, however soon the test makes it."""
    context.add_init_script(CLOCK)
    return context


def press_after(page: Page, ms: int, point: tuple[float, float]) -> None:
    """One press at a point so long after the one before, or after what came of that."""
    page.evaluate("(ms) => { window.betweenPressesMs = ms; }", ms)
    page.mouse.click(*point)
    page.evaluate("() => { window.betweenPressesMs = 1000; }")
