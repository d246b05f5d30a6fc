"""A phone-like browser for what is measured in one: a small window, and a processor four times slower."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Page

SLOWDOWN = 4
PHONE = {"width": 390, "height": 844}
BROWSERS = ("chromium", "google-chrome", "microsoft-edge")


@contextmanager
def on_a_phone() -> Iterator[BrowserContext | None]:
    """A browser of its own; None where there is none, or the tests' packages are not installed."""
    browser = os.environ.get("INTAKE_BROWSER") or next(filter(None, map(shutil.which, BROWSERS)), None)
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        browser = None
    if browser is None:
        yield None
        return
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=shutil.which(browser), args=["--no-sandbox"])
        yield opened.new_context(viewport=PHONE)  # type: ignore[arg-type]
        opened.close()


def slow_down(page: Page) -> None:
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWDOWN})
