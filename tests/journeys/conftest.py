"""Real browsers on a real office. Needs Chromium, Chrome or Edge; INTAKE_BROWSER names one."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, Playwright, expect, sync_playwright

from tests.conftest import Office

PHONE = {"width": 390, "height": 844}
DESK = {"width": 1440, "height": 900}

Open = Callable[..., BrowserContext]
expect.set_options(timeout=10_000)


@pytest.fixture(scope="module")
def playwright() -> Iterator[Playwright]:
    with sync_playwright() as started:
        yield started


@pytest.fixture
def open_browser(playwright: Playwright, tmp_path: Path) -> Iterator[Open]:
    """Start a browser on a profile folder of its own; the same name again is the same browser restarted."""
    opened: list[BrowserContext] = []

    def start(name: str, *, size: dict[str, int] = PHONE, film: Path | None = None) -> BrowserContext:
        arguments = ["--no-sandbox", "--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream"]
        if film:
            arguments.append(f"--use-file-for-fake-video-capture={film}")
        context = playwright.chromium.launch_persistent_context(
            tmp_path / f"browser-{name}",
            executable_path=os.environ.get("INTAKE_BROWSER") or shutil.which("chromium"),
            args=arguments,
            viewport=size,  # type: ignore[arg-type]
        )
        opened.append(context)
        return context

    yield start
    for context in opened:
        context.close()


# Ends when the app is kept on the device, with the scanner that this browser needs.
KEPT = """async () => {
    await navigator.serviceWorker.ready;
    const filesOf = async (name) => (await caches.open(name)).keys();
    for (;;) {
        const kept = (await Promise.all((await caches.keys()).map(filesOf))).flat();
        if (kept.some(({ url }) => url.endsWith(".wasm"))) return;
        await new Promise(requestAnimationFrame);
    }
}"""


def pair(page: Page, office: Office, role: str, name: str) -> None:
    """Pair as a person does: type the code on the first screen; wait until the app would open with no network."""
    page.goto(office.address)
    page.get_by_label("Code").fill(office.code(role, name))
    page.get_by_role("button", name="Pair", exact=True).click()
    page.wait_for_url(re.compile("#/(today|queue|day)$"))
    expect(page.locator("nav.places")).to_be_attached()
    page.evaluate(KEPT)
