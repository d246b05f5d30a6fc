"""Real browsers on a real office. Needs Chromium, Chrome or Edge; INTAKE_BROWSER names one.

Where the machine has Chromium without its windows, what shares one browser runs in that: it is the same engine, and
takes a fifth less of the processor. A device with a process of its own runs in the whole browser.
"""

from __future__ import annotations

import json
import os
import re
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import (
    Browser,
    BrowserContext,
    Locator,
    Page,
    Playwright,
    ViewportSize,
    expect,
    sync_playwright,
)

from tests.conftest import Office
from tests.pauses import sending_soon
from tests.phone import Phone
from tests.presses import at_a_persons_pace

PHONE: ViewportSize = {"width": 390, "height": 844}
DESK: ViewportSize = {"width": 1440, "height": 900}

# So many times as slow is every page: a step that does not wait for what it goes on from is found by it.
SLOWER = float(os.environ.get("INTAKE_SLOWER", "1"))

# So many milliseconds later every screen follows its address; an eighth of it later the storage says that it has kept
# something. What takes the screen before for the one that it goes on from fails there each time.
LATE_MS = int(os.environ.get("INTAKE_LATE_MS", "0"))
LATE = """(() => {
    const late = new WeakSet();
    addEventListener("hashchange", (event) => {
        if (late.has(event)) return;
        event.stopImmediatePropagation();
        const again = new HashChangeEvent("hashchange", { oldURL: event.oldURL, newURL: event.newURL });
        late.add(again);
        setTimeout(() => dispatchEvent(again), MS);
    }, true);
    const listen = EventTarget.prototype.addEventListener;
    EventTarget.prototype.addEventListener = function (kind, hear, options) {
        const isKept = this instanceof IDBTransaction && kind === "complete";
        const heard = isKept ? (event) => void setTimeout(() => hear.call(this, event), MS / 8) : hear;
        return listen.call(this, kind, heard, options);
    };
})()"""

Open = Callable[..., BrowserContext]
expect.set_options(timeout=10_000 * SLOWER)


#: What of the browser's own is left out. Each window has two pages for what may be proposed under its line of
#: addresses, which take a third of all that a new device costs, and no journey types there. The first are those that
#: Playwright leaves out: only one list is heard, and the last. Source: chromiumSwitches.ts of Playwright.
LEFT_OUT = (
    *("AvoidUnnecessaryBeforeUnloadCheckSync", "DestroyProfileOnBrowserClose", "HttpsUpgrades"),
    *("HttpsFirstBalancedModeAutoEnable", "LensOverlay", "MediaRouter", "PaintHolding"),
    *("ThirdPartyStoragePartitioning", "AvoidCorsURLLoaderRestartOnRedirect", "TcpPortRandomizationWin"),
    *("OptimizationHints", "NetworkTimeServiceQuerying", "AimEnabled", "PreconnectToSearch"),
    *("WebUIOmniboxPopup", "WebUIOmniboxAimPopup", "WebUIOmniboxFullPopup"),
)
ARGUMENTS = (
    "--no-sandbox",
    "--use-fake-ui-for-media-stream",
    "--use-fake-device-for-media-stream=fps=5",  # each frame is drawn, and a film of paper needs few
    f"--disable-features={','.join(LEFT_OUT)}",
)


def program() -> str | None:
    return os.environ.get("INTAKE_BROWSER") or shutil.which("chromium")


def without_windows() -> str | None:
    return shutil.which("chromium-headless-shell") or program()


def slow_down(page: Page) -> None:
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})


@pytest.fixture(scope="package")
def playwright() -> Iterator[Playwright]:
    """Not for the whole session: its loop runs on this thread, on which tests of other folders run their own."""
    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="package")
def browser(playwright: Playwright) -> Iterator[Browser]:
    """One browser for all journeys: starting one and warming it up takes longer than most of them."""
    browser = playwright.chromium.launch(executable_path=without_windows(), args=ARGUMENTS)
    yield browser
    browser.close()


@pytest.fixture
def open_browser(playwright: Playwright, request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Open]:
    """A device with nothing on it yet, at an empty page.

    `restarts`: a browser process on a profile folder of its own; the same name again is the same browser restarted.
    `film`: what its camera sees, which only a process of its own can be given.
    """
    opened: list[BrowserContext] = []

    def start(
        name: str, *, size: ViewportSize = PHONE, film: Path | None = None, restarts: bool = False
    ) -> BrowserContext:
        if film or restarts:
            context = playwright.chromium.launch_persistent_context(
                tmp_path / f"browser-{name}",
                executable_path=program(),
                args=[*ARGUMENTS, *([f"--use-file-for-fake-video-capture={film}"] if film else [])],
                viewport=size,
            )
        else:
            shared: Browser = request.getfixturevalue("browser")
            context = shared.new_context(viewport=size)
        opened.append(sending_soon(at_a_persons_pace(context)))
        if not context.pages:
            context.new_page()
        if LATE_MS:
            context.add_init_script(LATE.replace("MS", str(LATE_MS)))
        if SLOWER > 1:
            for page in context.pages:
                slow_down(page)
            context.on("page", slow_down)
        return context

    yield start
    for context in opened:
        context.close()


# The screens of some roles alone, which their devices keep as well.
PACKS_OF = {
    "door": ["words"],
    "table": ["words"],
    "porter": ["custody", "words"],
    "manager": ["custody", "office", "words"],
    "desk": ["office", "words"],
}
# Ends when the app is kept on the device, with these packs: this browser needs the scanner.
KEPT = """async (packs) => {
    await navigator.serviceWorker.ready;
    for (;;) {
        const kept = await Promise.all(packs.map((pack) => caches.match(`/packs/${pack}`)));
        if (kept.every(Boolean)) return;
        await new Promise(requestAnimationFrame);
    }
}"""
# Ends when what has happened so far is drawn: the frame after the next shows it.
DRAWN = "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))"


HOME = {"manager": "day", "desk": "queue"}
# What the app writes down of the device once it is paired, as soon as it has made its database and before it has read
# it: whatever is asked of a database later waits for this.
PAIRED = """(() => {
    const open = IDBFactory.prototype.open;
    IDBFactory.prototype.open = function (...named) {
        IDBFactory.prototype.open = open;
        const asked = open.apply(this, named);
        asked.addEventListener("success", () => {
            asked.result.transaction("setting", "readwrite").objectStore("setting").put(DEVICE, "device");
        });
        return asked;
    };
})()"""
# The rest of it, as the app begins with; and what it writes down of itself then.
NOT_YET = {"day_id": "", "table_id": "", "epoch": "", "cursor": 0, "clock_offset_ms": 0, "revoked": False}
WRITTEN_DOWN = """() => new Promise((done) => {
    indexedDB.open("intake").addEventListener("success", ({ target: { result: database } }) => {
        const read = database.transaction("setting").objectStore("setting").get("device");
        read.addEventListener("success", () => { database.close(); done(Object.keys(read.result)); });
    });
})"""


def pair(page: Page, office: Office, role: str, name: str, *, person: str = "") -> None:
    """Open the app on a device that was paired just before; wait until it would open with no network.

    Pairing by hand costs a tenth more, a fourth at a manager. That `person` of the day's list is at the device, or
    whoever stands first on it, if there is one day with a list and it is no desk: nothing is put on record by nobody.
    """
    context = page.context
    assert page.url == "about:blank", "the app would not start anew"
    answer = context.request.post(
        f"{office.address}/pairing",
        data={"code": office.code(role, name)},
        headers={"Origin": office.address},
    )
    assert answer.ok, answer.text()
    device = {**answer.json(), **NOT_YET, "person_id": "" if role == "desk" else on_the_list(office, person)}
    browser = context.new_cdp_session(page)
    browser.send("Page.enable")
    source = PAIRED.replace("DEVICE", json.dumps(device))
    browser.send("Page.addScriptToEvaluateOnNewDocument", {"source": source})
    page.goto(f"{office.address}/#/{HOME.get(role, 'today')}")
    browser.detach()  # the script is for this page alone, and for this once
    until_kept(page, role)


def on_the_list(office: Office, person: str) -> str:
    """Whoever has this name, else whom the app offers first when it asks; nobody if it would not ask."""
    if office.ask("SELECT count(*) FROM record WHERE kind = 'day'") != [(1,)]:
        return ""
    people = office.ask(
        """
        SELECT value ->> 'name', value ->> 'person_id' FROM field JOIN record USING (record_id)
        WHERE kind = 'day' AND name LIKE 'people/%' AND NOT coalesce(value ->> 'left', 0)
        ORDER BY value ->> 'name'
        """
    )
    if person:
        return str(dict(people)[person])
    return str(people[0][1]) if people else ""


def pair_by_hand(page: Page, office: Office, role: str, name: str, *, named: bool = True) -> None:
    """Pair as a person does: type the code on the first screen; wait until the app would open with no network.

    Whoever stands first on the day's list is chosen, if there is a list and the device is to be `named`.
    """
    page.goto(office.address)
    page.get_by_label("Code").fill(office.code(role, name))
    page.get_by_role("button", name="Pair", exact=True).click()
    page.wait_for_url(re.compile("#/(today|queue|day)$"))
    until_kept(page, role)
    told, heard = {"device_id", "role", "name", "letters", "paired_at", "person_id"}, {"scope", "answered_at"}
    assert {*page.evaluate(WRITTEN_DOWN)} == {*NOT_YET} | told | heard, "`pair` begins with something else"
    who = page.get_by_label("Who is at this device?")
    if named and who.count():
        who.select_option(index=1)
        # On Today the list stays, with a key that goes on; above another screen it is gone.
        expect(page.get_by_role("button", name="Go on as")).to_have_count(0 if role == "manager" else 1)
        expect(who).to_have_count(0 if role == "manager" else 1)


def until_kept(page: Page, role: str) -> None:
    """Wait for the screen to which pairing goes on, and for all that this role's devices keep of the app."""
    expect(page.locator("nav.places")).to_be_attached()
    page.evaluate(KEPT, ["scanner", *PACKS_OF[role]])
    page.evaluate(DRAWN)
    expect(page.get_by_text("at the desk").first).to_be_attached()


def choose_name(page: Page, name: str) -> None:
    """Say on Today who is at the device, whoever was before; it is kept when this ends."""
    who, change = (
        page.get_by_label("Who is at this device?"),
        page.get_by_role("button", name="Change", exact=True),
    )
    expect(who.or_(change)).to_be_visible()
    if change.count():
        change.click()
    who.select_option(label=name)
    expect(page.get_by_role("button", name=f"Go on as {name}")).to_be_visible()


def choose_at_desk(desk: Page, name: str) -> None:
    """Say beside the queue who is at the desk; it is kept when this ends."""
    desk.get_by_label("Who is at this desk?").select_option(label=name)
    expect(desk.locator(".at-desk")).to_contain_text(name)


def all_is_done(page: Page) -> None:
    """Wait until whatever was pressed has ended: its button is held for so long, and takes no press."""
    expect(page.locator("button[aria-disabled=true]")).to_have_count(0)


def press_there(key: Locator) -> None:
    """Press a key of the dock where it is. The driver's own press may scroll first, and a finger does not."""
    expect(key).to_be_in_viewport()
    box = key.bounding_box()
    assert box
    key.page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)


@contextmanager
def next_screen(page: Page) -> Iterator[None]:
    """What is pressed within leads to another screen: this ends when that one stands.

    A press ends before its screen is drawn. What is read or pressed at once may be found on the screen before: the same
    words, another way back. Each screen has a heading of its own, so that the one before is gone with its heading; the
    desk's list alone stays while its entries are opened.
    """
    heading = page.locator("h1").first.element_handle()
    yield
    heading.wait_for_element_state("hidden")
    expect(page.locator("h1").first).to_be_visible()


def go_to(page: Page, address: str) -> None:
    """Open an address of the app that is open, as a link from elsewhere does."""
    with next_screen(page):
        page.goto(address)


def go_back(page: Page, words: str = "Back") -> None:
    """Press Back, whose next screen may have one as well."""
    with next_screen(page):
        page.get_by_role("link", name=words, exact=True).click()


def turn_to(page: Page, part: str) -> None:
    """Open a part of the item in hand: Zones, Photos, Tag."""
    with next_screen(page):
        page.get_by_label("This item").get_by_role("link", name=part).click()


# Windows of one device take turns in speaking to the office: this one takes its turn and ends it when it is told.
SPEAKS = """() => new Promise((begun) => navigator.locks.request("intake-sync", () => {
    begun();
    return new Promise((end) => { globalThis.endTurn = end; });
}))"""


@contextmanager
def untold(device: BrowserContext, office: Office) -> Iterator[None]:
    """Within this the device does not so much as try to tell the office anything.

    With its network off it still tries, and what was tried may have been heard: how soon it does so is chance.
    """
    page = device.pages[0]
    other = device.new_page()
    other.goto(f"{office.address}/health")
    other.evaluate(SPEAKS)
    page.bring_to_front()  # a page behind another is drawn once a second
    yield
    other.evaluate("() => globalThis.endTurn()")
    other.close()


def line_is_back(page: Page) -> None:
    """What a phone hears when its network comes back: it asks the office at once, and not at its next turn."""
    page.evaluate("() => { window.dispatchEvent(new Event('online')); }")


def managers_day(open_browser: Open, office: Office) -> Page:
    """A manager's device at a desk, with Hester at it, on the screen of the day."""
    page = open_browser("manager", size=DESK).pages[0]
    pair(page, office, "manager", "Manager")
    go_to(page, f"{office.address}/#/today")
    choose_name(page, "Hester Quillfeather")
    go_to(page, f"{office.address}/#/day")
    return page


def add_cataloguer(manager: Phone) -> str:
    """Another one on the day, who settles what two differ on: the id of Bo Reed."""
    [day] = [one for one in manager.feed()["records"] if one["kind"] == "day"]
    person = {"person_id": "bo", "name": "Bo Reed", "roles": ["cataloguer"]}
    manager.keep(("add_person", {"day_id": day["record_id"], "person": person}))
    return "bo"


def add_ana(manager: Phone, day: dict[str, Any]) -> None:
    """A second person on the day, who carries things: Ana Thistle."""
    person = {"person_id": "ana", "name": "Ana Thistle", "roles": ["porter"]}
    manager.keep(("add_person", {"day_id": day["day_id"], "person": person}))
    manager.push()
