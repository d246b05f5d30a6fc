"""`python -m tests pictures [-- NAME ...]`: every screen as a picture, for a person to look through.

The invented day; the same after trouble, with no office in reach, with the longest words, once it is closed, and with
something stopped; an office in which nothing has happened yet. A phone, a tablet and a desk, light and dark. Names
behind `--` take those screens, devices, states, sizes or schemes alone (`zone`, `table`, `long`, `phone`, `dark`). No
check takes the place of looking: what a program can press and read may still be ugly, crowded or too small for a dim
hall.
"""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from tests.conftest import Office
from tests.pictures.devices import Traffic, in_trouble, open_device
from tests.pictures.screens import ALARM, BY_ROLE, CLOSED, DONE_FIRST, EMPTY, LONG, TROUBLE, Screens
from tests.pictures.states import an_office, at_length, close_the_day, of_the_day, stop_one

OUT = Path(os.environ.get("INTAKE_PICTURES") or Path(tempfile.gettempdir()) / "pictures-of-the-screens")
SIZES = {"phone": (390, 844), "tablet": (834, 1112), "desk": (1440, 900)}
SCHEMES = ("light", "dark")

Wanted = list[tuple[str, str]]


def wanted_of(name: str, names: set[str]) -> list[tuple[str, str]]:
    """The sizes and schemes in which a screen is asked for."""
    every = [(size, scheme) for size in SIZES for scheme in SCHEMES]
    asked = [names & kind for kind in (set(SIZES), set(SCHEMES))]
    screens = names - set(SIZES) - set(SCHEMES)
    if screens and not screens & {name, *name.split(".")}:
        return []
    return [pair for pair in every if all(not some or some & set(pair) for some in asked)]


def take(page: Page, traffic: Traffic, name: str, wanted: Wanted) -> None:
    """The screen in each size and scheme as it is first seen, and once the whole of it as a phone would scroll it."""
    for size, scheme in wanted:
        width, height = SIZES[size]
        page.set_viewport_size({"width": width, "height": height})
        page.emulate_media(color_scheme=scheme, reduced_motion="reduce")  # type: ignore[arg-type]
        traffic.settle()
        for role, words in DONE_FIRST.get(name, ()):
            if role == "heading":  # where it stands differs by size
                page.get_by_role(role, name=words).first.evaluate("heading => heading.scrollIntoView()")
        page.screenshot(path=OUT / f"{name}.{size}.{scheme}.png")
        if (size, scheme) == ("phone", "light"):
            page.screenshot(path=OUT / f"{name}.whole.png", full_page=True)


def done_first(page: Page, traffic: Traffic, name: str) -> None:
    if name in DONE_FIRST:
        page.reload()  # what was opened on this screen for the picture before is folded again
    for role, words in DONE_FIRST.get(name, ()):
        traffic.settle()
        found = page.get_by_role(role, name=words).first
        if role == "button":
            found.click()
        elif role == "combobox":
            found.select_option(index=1)


def take_all(
    browser: Browser,
    office: Office,
    by_role: dict[str, Screens],
    state: str,
    names: set[str],
    ids: dict[str, str],
) -> None:
    for role, screens in by_role.items():
        pictures = {f"{role}.{name}.{state}": address.format(**ids) for name, address in screens.items()}
        wanted = {name: some for name in pictures if (some := wanted_of(name, names))}
        if not wanted:
            continue
        page, traffic = open_device(browser, office, role, ids.get("table", ""))
        if state == "trouble":
            in_trouble(page, traffic, office, role, ids)
        for name, some in wanted.items():
            page.goto(f"{office.address}/{pictures[name]}")
            done_first(page, traffic, name)
            take(page, traffic, name, some)
        page.context.close()


def take_pairing(browser: Browser, office: Office, names: set[str]) -> None:
    if wanted := wanted_of("new.pair.empty", names):
        page = browser.new_page()
        traffic = Traffic(page)
        page.goto(office.address)
        take(page, traffic, "new.pair.empty", wanted)
        page.close()


def main(names: set[str]) -> int:
    OUT.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=os.environ.get("INTAKE_BROWSER") or shutil.which("chromium"),
            args=["--no-sandbox", "--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream"],
        )
        with an_office(Path(folder) / "full-demo", empty=False) as office:
            ids = of_the_day(office)
            take_all(browser, office, BY_ROLE, "full", names, ids)
            take_all(browser, office, TROUBLE, "trouble", names, ids)
            at_length(office, ids)
            take_all(browser, office, LONG, "long", names, ids)
            close_the_day(office, ids)
            take_all(browser, office, CLOSED, "closed", names, ids)
            stop_one(office, ids)
            take_all(browser, office, ALARM, "alarm", names, ids)
        with an_office(Path(folder) / "empty", empty=True) as office:
            take_pairing(browser, office, names)
            take_all(browser, office, EMPTY, "empty", names, {})
        browser.close()
    print(f"The pictures are in {OUT}: look through them in light and dark.")
    return 0


if __name__ == "__main__":
    raise SystemExit(main(set(sys.argv[1:])))
