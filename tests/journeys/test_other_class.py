"""Another class for a thing with more on record: what leaves the view is read before, and one press is back."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page, expect

from tests.builders import Ids, a_finding, a_visit, an_item
from tests.builders import a_fact as fact
from tests.conftest import Office
from tests.journeys.conftest import Open, go_to
from tests.journeys.test_in_reach import a_clock, at_a_table
from tests.phone import Phone


def choose_books(page: Page) -> None:
    page.get_by_role("button", name="Choose another class").click()
    page.get_by_role("button", name="Books, maps").click()


def test_what_leaves_the_view_is_read_before_the_class_of_an_examined_thing_is_changed(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    item = a_clock(manager, ids, day, "bracket clock")
    clear = {"state": "clear", "reason": None, "light": "lamp", "count": None}
    for zone in ("outline", "case", "dial"):
        manager.keep(("examine_zone", {"item_id": item, "zone": zone, **clear, "seen": None}))
    page = at_a_table(open_browser, office, manager)
    go_to(page, f"{office.address}/#/item/{item}")
    choose_books(page)
    asks = page.get_by_role("alert").filter(has_text="Clocks become Books, maps?")
    expect(asks).to_contain_text("3 of 23 zones become 1 of")
    expect(asks).to_contain_text("Nothing is lost")
    asks.get_by_role("button", name="Leave it: Clocks").click()
    expect(page.locator(".chosen strong")).to_have_text("Clocks")
    choose_books(page)
    asks.get_by_role("button", name="Change it to Books, maps").click()
    expect(page.locator(".chosen strong")).to_have_text("Books, maps")
    page.locator("button.undo").first.click()
    expect(page.locator(".chosen strong")).to_have_text("Clocks")
    assert office.faults() == []


def test_what_was_found_on_a_zone_of_another_class_stands_below_the_list_and_is_withdrawn_there(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    item = a_clock(manager, ids, day, "bracket clock")
    manager.keep(a_finding(ids, item, "dial", term="crack", severity=2))
    page = at_a_table(open_browser, office, manager)
    go_to(page, f"{office.address}/#/item/{item}")
    choose_books(page)
    page.get_by_role("button", name="Change it to Books, maps").click()
    expect(page.locator(".chosen strong")).to_have_text("Books, maps")
    go_to(page, f"{office.address}/#/item/{item}/zones")
    expect(page.get_by_role("heading", name="Found before it was among Books, maps")).to_be_visible()
    page.get_by_role("link", name="dial").click()
    expect(page.get_by_text("Books, maps have no such zone")).to_be_visible()
    page.get_by_role("button", name="More", exact=True).click()
    page.get_by_role("button", name="Withdraw this finding").click()
    page.get_by_role("link", name="Back", exact=True).click()
    expect(page.get_by_role("link", name="outline whole")).to_be_visible()
    expect(page.get_by_role("link", name="dial")).to_have_count(0)
    assert office.faults() == []


def test_of_a_thing_that_nobody_examined_the_class_is_changed_by_one_touch(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q75"))
    item = str(manager.keep(an_item(ids, visit))["item_id"])
    manager.keep(fact(item, "class_id", "clock"))
    page = at_a_table(open_browser, office, manager)
    go_to(page, f"{office.address}/#/item/{item}")
    choose_books(page)
    expect(page.locator(".chosen strong")).to_have_text("Books, maps")
    assert office.faults() == []


def test_a_word_in_its_name_offers_the_other_class_and_the_caution(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q76"))
    manager.keep(
        ("set_visit", {"visit_id": visit["visit_id"], "field": "table_id", "value": "t1", "seen": None})
    )
    item = str(manager.keep(an_item(ids, visit))["item_id"])
    manager.keep(fact(item, "class_id", "painting"))
    page = at_a_table(open_browser, office, manager)
    go_to(page, f"{office.address}/#/item/{item}")
    name = page.get_by_label("Short description")
    name.fill("harbour, watercolour, framed")
    page.locator("#what-it-is .bar").get_by_role("button", name="On paper").click()
    expect(page.locator(".chosen strong")).to_have_text("On paper")
    expect(page.locator("#what-it-is .bar")).to_have_count(0)
    name.fill("stuffed pike's head")
    page.get_by_role("link", name="Stuffed animals: what to do is under Stop").click()
    expect(page.get_by_role("heading", name="By what it is called")).to_be_visible()
    page.get_by_role("button", name="Stuffed animals").click()
    expect(page.get_by_role("heading", name="By what it is called")).to_have_count(0)
    assert office.faults() == []
