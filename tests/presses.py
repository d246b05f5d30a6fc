"""How fast a driven browser presses: the clock of presses is a test's, and no test waits for it."""

from __future__ import annotations

from collections.abc import Callable

from playwright.sync_api import BrowserContext, Locator, Page

Press = Callable[[float, float], None]

# A driven browser is quicker than any hand, and what comes too soon after a press takes none (`one_press.ts`).
CLOCK = """
    window.betweenPressesMs = 1000;
    let at = 0;
    addEventListener("pointerdown", () => { at += window.betweenPressesMs; }, true);
    Object.defineProperty(Event.prototype, "timeStamp", { get: () => at });
"""

# Heard after the clock has counted the first press: the second comes a tenth of a second later.
SECOND_IN_HASTE = """() => {
    const hasten = () => { window.betweenPressesMs = 100; };
    addEventListener("pointerdown", hasten, { capture: true, once: true });
}"""


def at_a_persons_pace(context: BrowserContext) -> BrowserContext:
    """Each press comes a second after the one before, however soon the test makes it."""
    context.add_init_script(CLOCK)
    return context


def with_a_mouse(page: Page) -> Press:
    return page.mouse.click


def with_a_finger(page: Page) -> Press:
    """A finger of the browser's own: what it presses is decided as on a phone."""
    browser = page.context.new_cdp_session(page)
    browser.send("Emulation.setTouchEmulationEnabled", {"enabled": True})

    def press(x: float, y: float) -> None:
        touch = "Input.dispatchTouchEvent"
        browser.send(touch, {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
        browser.send(touch, {"type": "touchEnd", "touchPoints": []})

    return press


def press_after(page: Page, ms: int, point: tuple[float, float], press: Press | None = None) -> None:
    """One press at a point so long after the one before, or after what came of that."""
    page.evaluate("(ms) => { window.betweenPressesMs = ms; }", ms)
    (press or page.mouse.click)(*point)
    page.evaluate("() => { window.betweenPressesMs = 1000; }")


def press_twice_in_haste(button: Locator) -> None:
    """A finger that is quicker than the page is drawn, also where a busy machine is slower between its two presses."""
    button.page.evaluate(SECOND_IN_HASTE)
    button.dblclick()
    button.page.evaluate("() => { window.betweenPressesMs = 1000; }")
