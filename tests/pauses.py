"""How long a device waits before it sends: a driven browser types no further words, and no journey waits for them."""

from __future__ import annotations

import re

from playwright.sync_api import BrowserContext

from intake.setup.bootstrap import ROOT

SYNC = ROOT / "web" / "sync" / "sync.ts"
#: Long enough that what one step of a journey keeps is sent together. The app's own pauses are timed by
#: `tests/web/sync_times.test.js`.
SHORT_MS = 150
# Chance has the last word on when a device tries again by itself: it says each time what it may, the soonest.
SOON = """(() => {
    const wait = window.setTimeout;
    window.setTimeout = (work, ms, ...given) => wait(work, ms === PAUSE_MS ? SHORT_MS : ms, ...given);
    Math.random = () => 0;
})()"""


def pause_ms() -> int:
    """How long the app waits for the next word, as its source says."""
    found = re.search(r"^const PAUSE_MS = (\d+);$", SYNC.read_text("utf-8"), re.MULTILINE)
    assert found, f"{SYNC.name} names its pause otherwise"
    return int(found[1])


def sending_soon(context: BrowserContext) -> BrowserContext:
    """Each page of it sends a moment after a step, and tries again as soon as a device ever does."""
    context.add_init_script(SOON.replace("PAUSE_MS", str(pause_ms())).replace("SHORT_MS", str(SHORT_MS)))
    return context
