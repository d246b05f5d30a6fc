"""An afternoon at the cataloguing desk, with both hands on the keys and no copy of the house on the device."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, Request, Route, expect

from tests.builders import a_caution, a_consignor, a_fact, a_finding, a_visit, an_item
from tests.conftest import Office
from tests.custody.test_custody import a_move
from tests.journeys.conftest import DESK, Open, choose_at_desk, line_is_back, pair, pair_by_hand
from tests.phone import Phone

NAMES = [f"stoneware jar {number}" for number in range(1, 31)]
STORED = """() => new Promise((resolve) => {
    const opening = indexedDB.open("intake");
    opening.onsuccess = () => {
        const asked = opening.result.transaction("record").objectStore("record").getAll();
        asked.onsuccess = () => resolve(asked.result.map(({kind}) => kind).sort());
    };
})"""


@pytest.fixture
def jars(manager: Phone, day: dict[str, Any]) -> list[str]:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q17"))
    manager.keep(a_consignor(visit["visit_id"], "name", "Gloamwell, Auda"))
    ids = []
    for name in NAMES:
        item = manager.keep(an_item(manager.ids, visit))
        manager.keep(a_fact(item["item_id"], "short_description", name))
        if name != NAMES[25]:
            manager.keep(a_fact(item["item_id"], "class_id", "ceramics"))
        if name == NAMES[26]:
            manager.keep(a_finding(manager.ids, item["item_id"], "rim"))
        ids.append(item["item_id"])
    manager.keep(a_caution(manager.ids, ids[-1]))
    manager.push()
    return ids


def test_a_cataloguer_works_through_the_list(
    office: Office, manager: Phone, jars: list[str], open_browser: Open
) -> None:
    desk = open_browser("desk", size=DESK).pages[0]
    asked: list[str] = []
    desk.on("request", lambda request: note(asked, request))
    pair_by_hand(desk, office, "desk", "Desk")
    expect(desk.get_by_text("30 in the queue")).to_be_visible()
    expect(desk.get_by_role("alert")).to_contain_text("Ticket Q17, at a table is stopped: stoneware jar 30.")
    assert desk.evaluate(STORED) == ["day"], "nothing of the house is on the device"
    # Its styles come with its screens alone: each of list and entry scrolls by itself.
    expect(desk.locator(".desk > .list")).to_have_css("overflow-y", "auto")

    search_by_key(desk)
    walk_by_key(desk)
    nothing_is_written_without_a_name(desk)
    a_number_lights_row_and_drawing(desk)
    describe_with_a_reason(desk, manager, jars)
    what_went_back_is_not_described(desk, manager, jars)
    what_changed_elsewhere_costs_one_request(desk, manager, jars, asked)
    what_was_there_shows_with_no_line(desk)
    the_closing_is_the_offices(desk, manager, jars)
    assert set(desk.evaluate(STORED)) == {"day", "item", "visit"}
    assert office.faults() == []


def test_an_entry_that_cannot_be_drawn_leaves_the_list_and_the_next_entry(
    office: Office, jars: list[str], open_browser: Open
) -> None:
    """Nothing that an office sends is like that: it stands for a fault of the app's own."""
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    expect(desk.get_by_text("30 in the queue")).to_be_visible()
    address = desk.url.split("#")[0]

    def spoil(route: Route) -> None:
        response = route.fetch()
        route.fulfill(response=response, json={**response.json(), "others": 1})

    desk.route(f"**/entries/{jars[1]}*", spoil)
    desk.goto(f"{address}#/entry/{jars[1]}")
    spoiled = desk.get_by_role("heading", name="This entry could not be drawn")
    expect(spoiled).to_be_visible()
    expect(desk.locator(".queue-row").first).to_be_visible()
    expect(desk.get_by_role("button", name="Try again")).to_be_visible()
    desk.keyboard.press("ArrowDown")
    expect(desk.get_by_role("heading", name="stoneware jar 3", exact=True)).to_be_visible()
    expect(spoiled).to_have_count(0)


def test_a_list_that_cannot_be_drawn_is_tried_anew_with_the_next_address(
    office: Office, jars: list[str], open_browser: Open
) -> None:
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    expect(desk.get_by_text("30 in the queue")).to_be_visible()

    def spoil(route: Route) -> None:
        response = route.fetch()
        route.fulfill(response=response, json={**response.json(), "alone": None})

    desk.route("**/queue?*", spoil)
    desk.reload()
    spoiled = desk.get_by_role("heading", name="This screen could not be drawn")
    expect(spoiled).to_be_visible()
    desk.unroute("**/queue?*")
    desk.evaluate("(address) => { location.hash = address; }", f"#/entry/{jars[2]}")
    expect(desk.get_by_role("heading", name="stoneware jar 3", exact=True)).to_be_visible()
    expect(desk.get_by_text("30 in the queue")).to_be_visible()
    expect(spoiled).to_have_count(0)


def note(asked: list[str], request: Request) -> None:
    if re.search(r"/(queue|entries|settlements)", request.url):
        asked.append(request.url)


def search_by_key(desk: Page) -> None:
    """A stroke goes to the words and is none of them; Escape leaves them, arrow down goes on to the list."""
    box = desk.get_by_role("searchbox")
    desk.keyboard.press("/")
    expect(box).to_be_focused()
    expect(box).to_have_value("")
    for typed, count in (("gloamw", 30), ("q17", 30), ("stopped", 1), ("jar 12", 1)):
        box.fill(typed)
        expect(desk.get_by_text(re.compile(f"^{count} in the queue as asked"))).to_be_visible()
    desk.keyboard.press("Escape")
    expect(box).to_have_value("jar 12")
    expect(box).not_to_be_focused()
    desk.keyboard.press("/")
    desk.keyboard.press("Enter")
    expect(box).not_to_be_focused()
    expect(desk.get_by_role("heading", name="stoneware jar 12")).to_be_visible()
    desk.keyboard.press("/")
    box.fill("jar 13")
    expect(desk.locator(".queue")).not_to_contain_text("jar 12")
    desk.keyboard.press("Escape")
    desk.keyboard.press("d")
    expect(desk.get_by_text("D describes what is in the list shown, and this is not")).to_be_visible()
    desk.get_by_role("button", name="I have read it").click()
    box.fill("jar 12")
    expect(desk.locator(".queue")).to_contain_text("jar 12")
    desk.keyboard.press("ArrowDown")
    expect(box).not_to_be_focused()
    desk.get_by_role("button", name="Save this").click()
    desk.get_by_label("Name for this filter").fill("Twelve")
    desk.get_by_role("button", name="Save", exact=True).click()
    desk.get_by_role("button", name="Show all").click()
    expect(desk.get_by_text("30 in the queue", exact=True)).to_be_visible()
    expect(desk.get_by_role("button", name="Twelve", exact=True)).to_be_visible()


def walk_by_key(desk: Page) -> None:
    """The chosen row is always in sight, and the page itself never scrolls."""
    for _ in range(14):
        desk.keyboard.press("ArrowDown")
    expect(desk.get_by_role("heading", name="stoneware jar 26")).to_be_visible()
    expect(desk.locator(".queue-row[aria-current]")).to_be_in_viewport()
    assert desk.evaluate("document.documentElement.scrollHeight === innerHeight"), (
        "nothing hangs out of the page"
    )
    desk.keyboard.press("?")
    expect(desk.get_by_role("dialog", name="Keys")).to_be_visible()
    desk.keyboard.press("Escape")
    expect(desk.get_by_role("dialog", name="Keys")).to_have_count(0)


def nothing_is_written_without_a_name(desk: Page) -> None:
    desk.keyboard.press("p")
    expect(desk.get_by_text("Say first who is here, on Today, beside the queue")).to_be_visible()
    choose_at_desk(desk, "Hester Quillfeather")
    desk.get_by_role("heading", name="stoneware jar 26").click()
    desk.keyboard.press("p")
    expect(desk.locator(".queue-row[aria-current] .entry-state")).to_have_text("picked up")
    states = desk.get_by_role("region", name="State")
    expect(states.get_by_role("button", name="Waiting")).to_have_text("Waiting29")
    expect(states.get_by_role("button", name="Picked up")).to_have_text("Picked up1")
    said = desk.get_by_role("status").filter(has_text="jar 26: picked up")
    expect(said).to_be_visible()
    desk.keyboard.press("Tab")
    expect(said).to_be_visible()  # Undo is reached by it
    desk.keyboard.press("ArrowRight")
    expect(said).to_have_count(0)


def a_number_lights_row_and_drawing(desk: Page) -> None:
    """Wherever the panes were scrolled to."""
    desk.keyboard.press("ArrowDown")
    expect(desk.get_by_role("heading", name="stoneware jar 27")).to_be_visible()
    expect(desk.locator(".history")).to_be_visible()
    desk.locator(".history li").last.scroll_into_view_if_needed()
    row = desk.locator(".finding-line")
    expect(row).not_to_be_in_viewport()
    desk.keyboard.press("1")
    expect(row).to_be_in_viewport()
    expect(desk.locator(".numbered .number.chosen")).to_be_in_viewport()
    expect(desk.locator(".entry-head")).to_be_in_viewport()
    desk.keyboard.press("ArrowUp")
    expect(desk.get_by_role("heading", name="stoneware jar 26")).to_be_visible()


def describe_with_a_reason(desk: Page, manager: Phone, jars: list[str]) -> None:
    """What is open is named, and why it counts as described all the same is on record; then the next is open."""
    desk.keyboard.press("d")
    open_still = desk.get_by_role("group", name="Still open")
    expect(open_still).to_contain_text("no class")
    expect(open_still).to_contain_text("no tag")
    for _ in range(2):
        expect(open_still.get_by_role("heading", name="Still open")).to_be_focused()
        expect(open_still.get_by_role("button", name="Sold as seen")).to_be_in_viewport()
        desk.keyboard.press("Escape")
        expect(open_still).to_have_count(0)
        desk.keyboard.press("d")
    desk.keyboard.press("1")  # which may have been meant for a finding: it chooses, and Enter says it
    expect(open_still.get_by_role("button", name="Described: Sold as seen")).to_be_focused()
    expect(desk.get_by_role("heading", name="stoneware jar 26")).to_be_visible()
    desk.keyboard.press("Enter")
    expect(desk.get_by_role("heading", name="stoneware jar 27")).to_be_visible()
    said = desk.get_by_role("status").filter(has_text="jar 26: described")
    expect(said).to_be_visible()
    undo = desk.get_by_role("button", name="Undo", exact=True)
    expect(undo).to_be_visible()  # at the entry that it went on to, beside what it takes back
    bar = desk.locator(".dock").bounding_box()
    assert bar
    assert bar["height"] < 60, "one line, so that no pane moves for it"
    desk.keyboard.press("ArrowRight")
    expect(said).to_have_count(0)
    undo = desk.get_by_role("button", name="Undo: stoneware jar 26: described")
    undo.click()
    state = desk.locator(".queue-row").filter(has_text="jar 26").locator(".entry-state")
    expect(state).to_have_text("picked up")
    desk.keyboard.press("ArrowUp")
    expect(desk.get_by_role("heading", name="stoneware jar 26")).to_be_visible()
    desk.keyboard.press("d")
    expect(open_still).to_be_visible()
    desk.keyboard.press("1")
    expect(open_still.get_by_role("button", name="Described: Sold as seen")).to_be_focused()
    desk.keyboard.press("Enter")
    expect(desk.get_by_role("heading", name="stoneware jar 27")).to_be_visible()
    desk.go_back()
    expect(desk.get_by_role("button", name="Undo: stoneware jar 26: described")).to_be_visible()
    expect(state).to_have_text("described")
    expect(desk.get_by_role("link", name="All at the desk")).to_be_visible()
    expect(desk.get_by_text("Described with something open: Sold as seen")).to_be_visible()
    history = desk.locator(".history").last
    expect(history).to_contain_text("Hester Quillfeather")
    expect(history).to_contain_text("described”, although something was open: Sold as seen")
    expect(history).not_to_contain_text(re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}"))
    assert manager.record(jars[25])["fields"]["entry"]["value"]["reason"] == "Sold as seen"


def what_went_back_is_not_described(desk: Page, manager: Phone, jars: list[str]) -> None:
    states = desk.get_by_role("region", name="State")
    expect(states.get_by_role("button", name="Waiting")).to_have_text("Waiting29")
    manager.keep(a_move(manager, jars[24], "returned"))
    manager.push()
    expect(states.get_by_role("button", name="Back with owners")).to_have_text("Back with owners1")
    expect(states.get_by_role("button", name="Waiting")).to_have_text("Waiting28")
    desk.keyboard.press("ArrowUp")
    expect(desk.get_by_role("heading", name="stoneware jar 25")).to_be_visible()
    desk.keyboard.press("d")
    expect(desk.get_by_role("heading", name="Not described")).to_be_focused()
    expect(desk.locator(".finish")).to_contain_text("back with its owner")
    desk.keyboard.press("ArrowDown")
    expect(desk.get_by_role("heading", name="stoneware jar 26")).to_be_visible()


def what_changed_elsewhere_costs_one_request(
    desk: Page, manager: Phone, jars: list[str], asked: list[str]
) -> None:
    """News come in their order: once a later change is shown, whatever came before it has been asked for."""

    def asks_for(item_id: str, name: str, place: Locator) -> list[str]:
        for step in ("before", "after"):
            asked.clear()
            manager.keep(a_fact(item_id, "short_description", f"{name} {step}", seen=newest.get(item_id)))
            newest[item_id] = manager.outbox[-1]["operation_id"]
            manager.push()
            expect(place.get_by_text(f"{name} {step}")).to_be_visible()
        return asked[:]

    newest = {
        item_id: manager.record(item_id)["fields"]["short_description"]["operation_id"] for item_id in jars
    }
    [row] = asks_for(jars[22], "brown jar", desk.locator(".queue"))
    assert "/entries/" in row, "the open entry tells of what lies beside it in its visit, and brings the row"
    assert jars[22] in row
    [entry] = asks_for(jars[25], "stoneware jar 26", desk.locator(".entry-head"))
    assert "/entries/" in entry, "the entry that is open, and its row with it"


def the_closing_is_the_offices(desk: Page, manager: Phone, jars: list[str]) -> None:
    """The day, of which the desk holds no item, with every difference; it follows what is done elsewhere."""
    desk.get_by_role("link", name="Closing", exact=True).click()
    desk.get_by_role("link", name="not closed yet").click()
    kinds = desk.locator("summary")
    expect(kinds.filter(has_text="Visits still open")).to_have_text("Visits still open 1")
    untagged = kinds.filter(has_text="An item without a tag")
    expect(untagged).to_have_text(
        "An item without a tag 28"
    )  # nor is one asked for on what is stopped or went back
    manager.keep(a_move(manager, jars[2], "store"))
    manager.push()
    expect(kinds.filter(has_text="Still at the table")).to_have_text("Still at the table 27")
    untagged.click()
    desk.get_by_role("link", name="Q17, stoneware jar 3: no tag is on it").click()
    expect(desk.get_by_role("heading", name="stoneware jar 3", exact=True)).to_be_visible()


def what_was_there_shows_with_no_line(desk: Page) -> None:
    desk.context.set_offline(True)
    desk.keyboard.press("ArrowDown")
    expect(desk.get_by_role("heading", name="stoneware jar 27")).to_be_visible()
    desk.keyboard.press("ArrowUp")
    expect(desk.get_by_role("heading", name="stoneware jar 26")).to_be_visible()
    expect(desk.get_by_text("The office is not reached")).to_be_visible()
    desk.context.set_offline(False)


def test_a_desk_that_is_opened_anew_with_no_line_lists_what_it_opened_last(
    office: Office, manager: Phone, jars: list[str], open_browser: Open
) -> None:
    """Also while an office answers nothing at all; the last one first, and the keys go through them."""
    context = open_browser("desk", size=DESK)
    desk = context.pages[0]
    pair(desk, office, "desk", "Desk")
    for jar in jars[3:5]:
        desk.goto(f"{office.address}/#/entry/{jar}")
        expect(desk.get_by_role("heading", name=NAMES[jars.index(jar)], exact=True)).to_be_visible()
    desk.goto(f"{office.address}/#/queue")
    expect(desk.get_by_text("30 in the queue")).to_be_visible()
    context.set_offline(True)
    desk.reload()
    rows = desk.locator(".queue-row")
    expect(desk.get_by_text("2 entries that this desk opened last")).to_be_visible()
    expect(rows).to_have_text([re.compile("stoneware jar 5"), re.compile("stoneware jar 4")])
    desk.keyboard.press("ArrowDown")
    expect(desk.get_by_role("heading", name="stoneware jar 5", exact=True)).to_be_visible()
    desk.keyboard.press("ArrowDown")
    expect(desk.get_by_role("heading", name="stoneware jar 4", exact=True)).to_be_visible()
    context.set_offline(False)
    line_is_back(desk)
    expect(desk.get_by_text("30 in the queue")).to_be_visible()
    expect(desk.get_by_text("that this desk opened last")).to_have_count(0)


def test_a_desk_that_comes_back_to_its_list_sees_the_last_one_at_once(
    office: Office, jars: list[str], open_browser: Open
) -> None:
    """The office is asked anew, and where it is not reached, what was there last stays."""
    context = open_browser("desk", size=DESK)
    desk = context.pages[0]
    pair(desk, office, "desk", "Desk")
    expect(desk.get_by_text("30 in the queue")).to_be_visible()
    desk.evaluate("() => { location.hash = '#/outbox'; }")
    expect(desk.locator(".queue-row")).to_have_count(0)
    context.set_offline(True)
    desk.evaluate("() => { location.hash = '#/queue'; }")
    expect(desk.get_by_text("This is what was there last")).to_be_visible()
    expect(desk.get_by_text("30 in the queue")).to_be_visible()
    expect(desk.locator(".queue-row").first).to_be_visible()
    context.set_offline(False)
