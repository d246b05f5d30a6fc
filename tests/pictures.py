"""`python -m tests pictures [-- NAME ...]`: every screen as a picture, for a person to look through.

The invented day, and an office in which nothing has happened yet; a phone, a tablet and a desk, light and dark. Names
behind `--` take those screens, devices, sizes or schemes alone (`zone`, `table`, `phone`, `dark`). No check takes the
place of looking: what a program can press and read may still be ugly, crowded or too small for a dim hall.
"""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page, sync_playwright

from intake.demo.seed import seed_day
from intake.examination.plans import shipped_plans
from intake.settings import Settings
from tests.builders import Ids, an_item
from tests.conftest import Clock, Office, in_own_loop, running
from tests.phone import Phone

OUT = Path(os.environ.get("INTAKE_PICTURES") or Path(tempfile.gettempdir()) / "pictures-of-the-screens")
SIZES = {"phone": (390, 844), "tablet": (834, 1112), "desk": (1440, 900)}
SCHEMES = ("light", "dark")

Screens = dict[str, str]  # name of a picture: address

#: What is opened on each device; `of_the_day` says which things stand in the braces.
BY_ROLE: dict[str, Screens] = {
    "table": {
        "today": "#/today",
        "visit": "#/visit/{visit}",
        "class": "#/item/{new}",
        "item-bare": "#/item/{bare}",
        "item": "#/item/{item}",
        "zones": "#/item/{item}/zones",
        "zone": "#/item/{item}/zone/{found}",
        "zone-fresh": "#/item/{bare}/zone/{fresh}",
        "marks": "#/item/{item}/marks",
        "works": "#/item/{item}/works",
        "measures": "#/item/{item}/measures",
        "photos": "#/item/{item}/photos",
        "tag": "#/item/{item}/tag",
        "words": "#/item/{item}/words",
        "stop-item": "#/item/{item}/stop",
        "stopped": "#/item/{stopped}",
        "stop": "#/stop",
        "cards": "#/cards",
        "receipt": "#/visit/{visit}/receipt",
        "find": "#/tag",
        "outbox": "#/outbox",
        "check": "#/check",
    },
    "porter": {
        "today": "#/today",
        "porter": "#/porter",
        "container": "#/container/{container}",
        "closing": "#/closing",
        "places": "#/places",
        "load": "#/load/{load}",
    },
    "door": {"today": "#/today", "visit": "#/visit/{visit}"},
    "manager": {
        "day": "#/day",
        "closing": "#/closing",
        "rolls": "#/rolls",
        "devices": "#/devices",
        "copies": "#/copies",
        "preflight": "#/preflight",
    },
    "desk": {"queue": "#/queue", "entry": "#/entry/{item}"},
}
#: With nothing on record, the same devices show these.
EMPTY: dict[str, Screens] = {
    "table": {"today": "#/today", "outbox": "#/outbox"},
    "porter": {"porter": "#/porter"},
    "manager": {"day": "#/day", "devices": "#/devices", "copies": "#/copies"},
    "desk": {"queue": "#/queue"},
}
DRAWN = """() => {
    const main = document.querySelector("main");
    return main && !/^(Reading|Opening) /.test(main.textContent)
        && [...document.images].every((image) => image.complete);
}"""


@contextmanager
def an_office(folder: Path, *, empty: bool) -> Iterator[Office]:
    clock = Clock(datetime(2026, 3, 14, 18, 0, tzinfo=UTC))
    settings = Settings(folder, clock=clock, numbers=(1, 1))
    if not empty:
        in_own_loop(lambda: seed_day(settings, shipped_plans()))
    with running(settings, clock, Ids(seed=7)) as office:
        yield office


def records_of(phone: Phone) -> list[dict[str, Any]]:
    records: list[dict[str, Any]] = []
    after = 0
    while (page := phone.feed(after))["records"]:
        records += page["records"]
        after = page["cursor"]
    return records


def of_the_day(office: Office) -> dict[str, str]:
    """Which things of the invented day the pictures are of: the one most was said of, one of which little is known."""
    phone = office.pair("manager", "Looking")
    records = records_of(phone)
    items = [record for record in records if record["kind"] == "item"]

    def count(record: dict[str, Any], family: str) -> int:
        return sum(name.startswith(f"{family}/") for name in record["fields"])

    full = max(items, key=lambda one: (count(one, "findings"), count(one, "photos")))
    plans = shipped_plans().plans
    bare = min(
        (
            one
            for one in items
            if plans[one["fields"]["class_id"]["value"]].zones and not count(one, "cautions")
        ),
        key=lambda one: (count(one, "zones"), len(one["fields"])),
    )
    stopped = next(one for one in items if count(one, "cautions"))
    container = next(record for record in records if record["kind"] == "container")
    found = next(field for name, field in full["fields"].items() if name.startswith("findings/"))
    day = next(record for record in records if record["kind"] == "day")
    visit = next(
        record
        for record in records
        if record["kind"] == "visit" and record["fields"]["stage"]["value"] == "at-table"
    )
    table = visit["fields"]["table_id"]["value"]
    load = next(
        name.removeprefix("loads/")
        for name, field in day["fields"].items()
        if name.startswith("loads/") and "of_load" not in field["value"]
    )
    ids = {
        "load": load,
        "item": full["record_id"],
        "visit": visit["record_id"],
        "table": next(one["name"] for one in day["tables"] if one["table_id"] == table),
        "new": phone.keep(an_item(phone.ids, full))["item_id"],
        "bare": bare["record_id"],
        "stopped": stopped["record_id"],
        "container": container["record_id"],
        "found": found["value"]["zone"].replace("/", "%2F"),
        "fresh": plans[bare["fields"]["class_id"]["value"]].zones[1].zone,
    }
    phone.push()
    return ids


def open_device(browser: Browser, office: Office, role: str, table: str) -> Page:
    """A paired device, at which somebody has said who they are, and at which table."""
    page = browser.new_context().new_page()
    page.goto(office.address)
    page.get_by_label("Code").fill(office.code(role, role.capitalize()))
    page.get_by_role("button", name="Pair", exact=True).click()
    page.locator("nav.places").wait_for(state="attached")
    page.goto(f"{office.address}/#/today")
    page.wait_for_function(DRAWN)
    who = page.get_by_label("Who is at this device?")
    if role in ("door", "table", "porter") and who.count():
        who.select_option(index=1)
    if role == "table" and table:
        page.get_by_label("Which table?").select_option(label=table)
        page.get_by_role("button", name="That is right").click()
    return page


def wanted_of(name: str, names: set[str]) -> list[tuple[str, str]]:
    """The sizes and schemes in which a screen is asked for."""
    every = [(size, scheme) for size in SIZES for scheme in SCHEMES]
    asked = [names & kind for kind in (set(SIZES), set(SCHEMES))]
    screens = names - set(SIZES) - set(SCHEMES)
    if screens and not screens & {name, *name.split(".")}:
        return []
    return [pair for pair in every if all(not some or some & set(pair) for some in asked)]


def take(page: Page, office: Office, name: str, address: str, wanted: list[tuple[str, str]]) -> None:
    """One screen in each size and scheme as it is first seen, and once the whole of it as a phone would scroll it."""
    page.goto(f"{office.address}/{address}")
    for size, scheme in wanted:
        width, height = SIZES[size]
        page.set_viewport_size({"width": width, "height": height})
        page.emulate_media(color_scheme=scheme, reduced_motion="reduce")  # type: ignore[arg-type]
        page.wait_for_function(DRAWN)
        page.screenshot(path=OUT / f"{name}.{size}.{scheme}.png")
        if (size, scheme) == ("phone", "light"):
            page.screenshot(path=OUT / f"{name}.whole.png", full_page=True)


def take_all(
    browser: Browser, office: Office, by_role: dict[str, Screens], state: str, names: set[str]
) -> None:
    ids = of_the_day(office) if state == "full" else {}
    for role, screens in by_role.items():
        pictures = {f"{role}.{name}.{state}": address.format(**ids) for name, address in screens.items()}
        wanted = {name: some for name in pictures if (some := wanted_of(name, names))}
        if not wanted:
            continue
        page = open_device(browser, office, role, ids.get("table", ""))
        for name, some in wanted.items():
            take(page, office, name, pictures[name], some)
        page.context.close()


def take_pairing(browser: Browser, office: Office, names: set[str]) -> None:
    if wanted := wanted_of("new.pair.empty", names):
        take(browser.new_page(), office, "new.pair.empty", "", wanted)


def main(names: set[str]) -> int:
    OUT.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=os.environ.get("INTAKE_BROWSER") or shutil.which("chromium"),
            args=["--no-sandbox", "--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream"],
        )
        with an_office(Path(folder) / "full-demo", empty=False) as office:
            take_all(browser, office, BY_ROLE, "full", names)
        with an_office(Path(folder) / "empty", empty=True) as office:
            take_pairing(browser, office, names)
            take_all(browser, office, EMPTY, "empty", names)
        browser.close()
    print(f"The pictures are in {OUT}: look through them in light and dark.")
    return 0


if __name__ == "__main__":
    raise SystemExit(main(set(sys.argv[1:])))
