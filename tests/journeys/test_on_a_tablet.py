"""A tablet in two hands: the key that is pressed most lies at the hand, nothing is cut, the end of a page is near."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, ViewportSize, expect

from tests.builders import Ids, a_fact, a_visit, an_item
from tests.conftest import Office
from tests.journeys.conftest import Open, choose_at_desk, go_to, pair
from tests.journeys.test_in_reach import box
from tests.phone import Phone

TABLET: ViewportSize = {"width": 834, "height": 1112}
PHONE: ViewportSize = {"width": 390, "height": 844}


def a_thing(manager: Phone, ids: Ids, day: dict[str, Any], class_id: str, words: str) -> str:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q75"))
    item = str(manager.keep(an_item(ids, visit))["item_id"])
    manager.keep(a_fact(item, "short_description", words))
    manager.keep(a_fact(item, "class_id", class_id))
    return item


def at_a_table(open_browser: Open, office: Office, manager: Phone) -> Page:
    assert {answer["outcome"] for answer in manager.push()} <= {"kept"}
    page = open_browser("tablet", size=TABLET).pages[0]
    pair(page, office, "table", "Table 1")
    return page


def test_clear_is_the_largest_key_at_the_hand_and_stays_where_it_is(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    item = a_thing(manager, ids, day, "clock", "bracket clock")
    page = at_a_table(open_browser, office, manager)
    go_to(page, f"{office.address}/#/item/{item}/zones")
    drawing, zones = box(page.locator(".outlines")), box(page.locator("ol.zones"))
    assert drawing["x"] + drawing["width"] <= zones["x"], "the list stands beside the drawing"
    page.locator("ol.zones li.next a").click()
    clear = page.get_by_role("button", name="Clear", exact=True)
    undo = page.get_by_role("button", name="Undo")
    page.get_by_role("button", name="hall light").click()
    expect(clear).to_be_enabled()
    first = box(clear)
    others = page.locator(".dock :is(button, a)").filter(visible=True)
    for key in others.all():
        if key.inner_text().strip() == "Clear":
            continue
        assert box(key)["width"] < first["width"], key.inner_text()
        assert box(key)["x"] < first["x"], key.inner_text()
    clear.click()
    expect(undo).to_be_visible()
    assert box(clear) == first
    page.reload()
    expect(page.get_by_role("button", name="Previous")).to_be_visible()
    assert box(clear) == first
    page.get_by_role("button", name="hall light").click()
    page.get_by_role("button", name="Not examined").click()
    page.get_by_role("button", name="Queue too long").click()
    expect(undo).to_be_visible()
    assert box(clear) == first
    assert office.faults() == []


def test_clear_on_a_place_of_marks_is_seen_to_ask(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    item = a_thing(manager, ids, day, "ceramics", "teapot")
    page = at_a_table(open_browser, office, manager)
    go_to(page, f"{office.address}/#/item/{item}/zone/mark")
    page.get_by_role("button", name="hall light").click()
    question = page.locator("section").filter(has_text="Clear: is there a mark?").last
    expect(page.locator(".dock-words")).to_have_text("Clear asks whether there is a mark.")
    for _ in range(3):  # however often it is pressed
        page.get_by_role("button", name="Clear", exact=True).click()
        expect(question).to_have_class("card in-hand")
        expect(page.locator(".dock-words")).to_have_text("Say above whether there is a mark.")
    assert office.faults() == []


@pytest.mark.parametrize("size", [TABLET, PHONE], ids=["tablet", "phone"])
def test_a_size_is_neither_cut_nor_broken_over_lines(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open, size: ViewportSize
) -> None:
    item = a_thing(manager, ids, day, "ceramics", "teapot and cover")
    page = at_a_table(open_browser, office, manager)
    page.set_viewport_size(size)
    go_to(page, f"{office.address}/#/item/{item}/measures")
    field = page.get_by_label("Height; say with or without cover")
    field.fill("142 mm without cover")
    field.blur()
    hint = page.locator(".measure .hint", has_text="9/16 in").first
    expect(hint).to_be_visible()
    told = hint.evaluate("hint => hint.textContent")
    assert "14.2\u00a0cm" in told
    assert "5\u00a09/16\u00a0in" in told
    assert field.evaluate("field => field.scrollWidth <= field.clientWidth")
    assert office.faults() == []


def test_the_end_of_a_long_entry_is_in_the_dock(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    item = a_thing(manager, ids, day, "clock", "bracket clock")
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    desk = open_browser("desk", size=TABLET).pages[0]
    pair(desk, office, "desk", "Desk")
    choose_at_desk(desk, "Hester Quillfeather")
    desk.goto(f"{office.address}/#/entry/{item}")
    described = desk.get_by_role("button", name="Described, next")
    expect(described).to_have_count(1)
    expect(desk.locator(".dock").get_by_role("button", name="Described, next")).to_be_in_viewport(ratio=1)
    described.click()
    expect(desk.get_by_role("heading", name="Still open")).to_be_in_viewport()
    desk.set_viewport_size({"width": 1440, "height": 900})  # beside the words, as before
    expect(described).to_have_count(1)
    assert office.faults() == []


def test_the_screens_close_on_their_own_entry_beside_them_and_on_escape(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    page = at_a_table(open_browser, office, manager)
    key, screens = page.get_by_role("button", name="Screens"), page.get_by_role("navigation", name="Screens")
    shuts: list[Callable[[], None]] = [
        lambda: screens.get_by_role("link", name="Today").click(),
        lambda: page.mouse.click(400, 900),
        lambda: page.keyboard.press("Escape"),
        lambda: key.click(),
    ]
    for at, shut in enumerate(shuts):
        key.click()
        expect(screens).to_be_visible()
        shut()
        expect(screens, f"way {at}").to_be_hidden()
    assert office.faults() == []
