"""A phone on which somebody is half-way through a form may hold it no longer: its whole storage is looked through."""

from __future__ import annotations

import re
from datetime import timedelta
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from intake.photos.routes import PHOTO_HEADERS
from intake.reading import AFTERWARDS
from intake.tagging.tags import codes
from tests.builders import a_consignor, a_photo, a_tie, a_visit, an_item, digest, picture
from tests.closings import close_with_all
from tests.conftest import Clock, Office
from tests.journeys.conftest import DRAWN, Open, go_to, line_is_back, pair
from tests.journeys.test_receipt import draw
from tests.phone import Phone

OWNER = ["Clementine Ashburn", "07700 900077"]
#: Everything that the browser keeps for the page, as one text: each database, both web storages, each cache.
WHOLE = """async () => {
    const texts = [JSON.stringify({ ...localStorage }), JSON.stringify({ ...sessionStorage })];
    const done = (request) => new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
    });
    for (const { name } of await indexedDB.databases()) {
        const db = await done(indexedDB.open(name));
        for (const store of db.objectStoreNames) {
            const tx = db.transaction(store);
            texts.push(JSON.stringify(await done(tx.objectStore(store).getAllKeys())));
            const values = await done(tx.objectStore(store).getAll());
            texts.push(JSON.stringify(values, (_, value) =>
                value instanceof ArrayBuffer ? new TextDecoder().decode(value) : value));
        }
        db.close();
    }
    for (const name of await caches.keys()) {
        const cache = await caches.open(name);
        texts.push(name);
        for (const request of await cache.keys()) {
            texts.push(request.url);
            if (!name.startsWith("shell ")) texts.push(await (await cache.match(request)).text());
        }
    }
    return texts.join("\\n");
}"""
#: The marks that are left of these when they have gone, or after so many frames.
LEFT = f"""async (marks) => {{
    for (let frame = 0; ; frame++) {{
        const all = await ({WHOLE})();
        const left = marks.filter((mark) => all.includes(mark));
        if (!left.length || frame === 200) return left;
        await new Promise(requestAnimationFrame);
    }}
}}"""


def left_of(page: Page, marks: list[str]) -> list[str]:
    left: list[str] = page.evaluate(LEFT, marks)
    return left


def strokes_kept(page: Page, marks: list[str]) -> str:
    """What was drawn, once the device has moved it with these marks to where it is kept, and nowhere else."""
    for _ in range(200):
        whole = page.evaluate(WHOLE)
        found: list[str] = re.findall(r'"strokes":"(M[^"]{40,})"', whole)
        if len(found) == 1 and all(mark in whole for mark in marks):
            return found[0]
        page.evaluate(DRAWN)
    raise AssertionError(f"{marks} and one drawing are not in: {whole}")


def taken_off(page: Page, office: Office, manager: Phone, day: dict[str, Any], clock: Clock) -> None:
    [device] = [one for one in manager.client.get("/devices").json()["devices"] if one["name"] == "Door 1"]
    manager.client.post(f"/devices/{device['device_id']}/revoke").raise_for_status()
    line_is_back(page)
    expect(page.get_by_text("taken this device off")).to_be_visible()


def over(page: Page, office: Office, manager: Phone, day: dict[str, Any], clock: Clock) -> None:
    close_with_all(manager, day["day_id"])
    clock.now += AFTERWARDS + timedelta(seconds=1)
    line_is_back(page)


def a_porter_now(page: Page, office: Office, manager: Phone, day: dict[str, Any], clock: Clock) -> None:
    [device] = [one for one in manager.client.get("/devices").json()["devices"] if one["name"] == "Door 1"]
    go_to(page, f"{office.address}/#/pair")
    page.get_by_label("Code").fill(office.code("porter", "Porter 1", device["device_id"]))
    page.get_by_role("button", name="Pair", exact=True).click()
    page.wait_for_url("**/#/today")


def erased(page: Page, office: Office, manager: Phone, day: dict[str, Any], clock: Clock) -> None:
    (visit,) = (one for one in manager.feed()["records"] if one["kind"] == "visit")
    manager.keep(("erase_consignor", {"visit_id": visit["record_id"]}))
    assert manager.push()[0]["outcome"] == "kept"
    line_is_back(page)


@pytest.mark.parametrize("happens", [taken_off, over, a_porter_now, erased])
def test_a_phone_lets_go_of_a_half_signed_receipt(
    happens: Any, office: Office, manager: Phone, day: dict[str, Any], clock: Clock, open_browser: Open
) -> None:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q04"))
    for field, value in zip(("name", "telephone"), OWNER, strict=True):
        manager.keep(a_consignor(visit["visit_id"], field, value))
    item = manager.keep(an_item(manager.ids, visit))
    manager.keep(a_tie(item["item_id"], next(codes(9200))))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}

    page = open_browser("phone").pages[0]
    pair(page, office, "door", "Door 1")
    go_to(page, f"{office.address}/#/visit/{visit['visit_id']}/receipt")
    page.get_by_label("Signed on paper instead").fill("pad 3, number 12")
    draw(page)
    strokes = strokes_kept(page, [*OWNER, "pad 3, number 12"])

    happens(page, office, manager, day, clock)
    assert left_of(page, [strokes, *OWNER]) == []
    if happens is not erased:  # what the owner asked to be erased is shown to nobody
        page.get_by_role("link", name="A form was begun here and never sent").click()
        line = page.get_by_role("listitem").filter(has_text="pad 3, number 12")
        expect(line).to_contain_text("Q04, receipt")
        expect(line).to_contain_text("A signature was begun and is gone")
        page.reload()
        line.get_by_role("button", name="I have read it").click()
        expect(page.get_by_role("heading", name="Typed here and never sent")).to_have_count(0)
    assert left_of(page, ["pad 3, number 12"]) == []
    assert office.faults() == []


def test_words_that_are_erased_leave_what_is_open(
    office: Office, manager: Phone, day: dict[str, Any], clock: Clock, open_browser: Open
) -> None:
    """A form, the pen on its pad and a field with the focus: no key and no press brings back what they showed."""
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q04"))
    manager.keep(a_consignor(visit["visit_id"], "name", OWNER[0]))
    item = manager.keep(an_item(manager.ids, visit))
    manager.keep(a_tie(item["item_id"], next(codes(9200))))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    phone = open_browser("phone")
    page = phone.pages[0]
    pair(page, office, "door", "Door 1")
    go_to(page, f"{office.address}/#/visit/{visit['visit_id']}/receipt")
    draw(page)
    page.get_by_label("Name of who signs").fill("Clementine of the pad")
    other = phone.new_page()
    other.goto(f"{office.address}/#/visit/{visit['visit_id']}")
    name = other.get_by_label("Name", exact=True)
    name.focus()
    expect(name).to_have_value(OWNER[0])
    strokes = strokes_kept(page, [OWNER[0], "of the pad"])

    erased(page, office, manager, day, clock)
    expect(other.get_by_text("An owner's words were erased")).to_be_visible()
    expect(name).to_have_value("")
    name.press_sequentially("D")
    page.get_by_label("Signed on paper instead").press_sequentially("1")
    expect(page.get_by_role("button", name="The owner has not signed")).to_have_count(0)
    assert left_of(page, [strokes, OWNER[0], "of the pad"]) == []
    line_is_back(page)
    assert not [one for one in manager.feed()["records"] if OWNER[0] in str(one)]


#: Whether the browser has a picture by itself. Source: Fetch, "only-if-cached".
KEPT = """(path) => fetch(path, { cache: "only-if-cached", mode: "same-origin" }).then(({ ok }) => ok, () => false)"""


@pytest.mark.parametrize("happens", [taken_off, over, a_porter_now])
def test_pictures_that_a_browser_kept_for_a_year_go_with_what_the_device_held(
    happens: Any,
    office: Office,
    manager: Phone,
    day: dict[str, Any],
    clock: Clock,
    open_browser: Open,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """As an earlier version had them kept. The app and what it owes stay."""
    monkeypatch.setitem(PHOTO_HEADERS, "Cache-Control", "private, max-age=31536000, immutable")
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q04"))
    manager.keep(a_consignor(visit["visit_id"], "name", OWNER[0]))
    item = manager.keep(an_item(manager.ids, visit))
    manager.keep(a_photo(manager.ids, item["item_id"], picture(1), picture(2)))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    manager.bundle([picture(1), picture(2)], operations=[]).raise_for_status()
    path = f"/photos/{digest(picture(1))}"
    page = open_browser("phone", restarts=True).pages[0]
    pair(page, office, "door", "Door 1")
    page.wait_for_function("navigator.serviceWorker.controller")
    files = [file for file in page.evaluate(WHOLE).splitlines() if file.startswith(office.address)]
    assert page.evaluate("async (path) => (await fetch(path)).status", path) == 200
    assert page.evaluate(KEPT, path)
    happens(page, office, manager, day, clock)
    page.wait_for_function(f"async (path) => !(await ({KEPT})(path))", arg=path)
    whole = page.evaluate(WHOLE)
    assert [file for file in files if file not in whole] == []


def pictured(manager: Phone, day: dict[str, Any]) -> str:
    """An item whose picture is at the office; its id."""
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q04"))
    item = manager.keep(an_item(manager.ids, visit))
    manager.keep(a_photo(manager.ids, item["item_id"], picture(1), picture(2, size=(60, 40))))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    manager.bundle([picture(1), picture(2, size=(60, 40))], operations=[]).raise_for_status()
    return str(item["item_id"])


def test_a_second_page_lets_go_of_its_pictures_when_the_device_is_given_other_work(
    office: Office, manager: Phone, day: dict[str, Any], clock: Clock, open_browser: Open
) -> None:
    item_id = pictured(manager, day)
    desk = open_browser("desk")
    page, *others = desk.pages[0], desk.new_page(), desk.new_page()
    pair(page, office, "desk", "Door 1")
    for other, path in zip(others, ("queue", f"entry/{item_id}"), strict=True):
        other.goto(f"{office.address}/#/{path}")
        expect(other.locator("img")).to_have_count(1 if path == "queue" else 4)
    a_porter_now(page, office, manager, day, clock)
    for other in others:
        expect(other.locator("img")).to_have_count(0)
        expect(other.get_by_text("Only a desk or a manager’s device opens the queue")).to_be_visible()
        expect(other.locator("section.filters, section.detail")).to_have_count(0)


def test_an_open_page_lets_go_of_the_pictures_it_shows_when_it_is_signed_off(
    office: Office, manager: Phone, day: dict[str, Any], clock: Clock, open_browser: Open
) -> None:
    item_id = pictured(manager, day)
    page = open_browser("desk").pages[0]
    pair(page, office, "desk", "Door 1")
    page.goto(f"{office.address}/#/entry/{item_id}")
    expect(page.locator("img")).to_have_count(4)  # in the list, large, in the row below it, and for print
    taken_off(page, office, manager, day, clock)
    expect(page.locator("img")).to_have_count(0)


#: What a page sees of its own clock from its next opening on: so many milliseconds later.
LATER = "(() => { const now = Date.now; Date.now = () => now() + MS; })()"


def test_a_phone_that_comes_back_with_no_line_shows_no_owner_before_the_office_has_answered(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """What was typed on it stays, and goes when the line is back; with the answer the visit is shown, as it is owed."""
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q04"))
    manager.keep(a_consignor(visit["visit_id"], "name", OWNER[0]))
    manager.push()
    context = open_browser("phone")
    page = context.pages[0]
    pair(page, office, "door", "Door 1")
    close_with_all(manager, day["day_id"])
    line_is_back(page)
    expect(page.get_by_text("The day is closed: by")).to_be_visible()
    go_to(page, f"{office.address}/#/visit/{visit['visit_id']}")
    context.set_offline(True)
    page.reload()
    expect(page.get_by_text("Q04").first).to_be_visible()
    context.add_init_script(LATER.replace("MS", str(int(AFTERWARDS.total_seconds() * 1000))))
    page.reload()
    expect(page.get_by_role("heading", name="The day here is over")).to_be_visible()
    for mark in (*OWNER, "Q04"):
        expect(page.get_by_text(mark)).to_have_count(0)
    context.set_offline(False)
    line_is_back(page)
    expect(page.get_by_text("Q04").first).to_be_visible()
