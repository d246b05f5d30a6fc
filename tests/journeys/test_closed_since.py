"""What is changed on an item after its day was closed is said on the item, before anybody changes it."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import expect

from tests.builders import Ids, a_fact, a_visit, an_item
from tests.closings import close_with_all
from tests.conftest import Office
from tests.journeys.conftest import Open, go_to, pair
from tests.phone import Phone


def test_an_item_of_a_closed_day_says_what_becomes_of_a_change(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q76"))
    item = manager.keep(an_item(ids, visit))["item_id"]
    manager.keep(a_fact(item, "short_description", "bracket clock"))
    manager.push()
    page = open_browser("phone").pages[0]
    pair(page, office, "table", "Table 1")
    go_to(page, f"{office.address}/#/item/{item}")
    bar = page.get_by_text("This day is closed: what is changed now")
    expect(page.get_by_label("Short description")).to_have_value("bracket clock")
    expect(bar).to_have_count(0)
    close_with_all(manager, day["day_id"])
    expect(bar).to_be_visible()
    go_to(page, f"{office.address}/#/item/{item}/tag")
    expect(bar).to_be_visible()
    go_to(page, f"{office.address}/#/visit/{visit['visit_id']}")
    expect(bar).to_be_visible()
    # nothing more is put on the table of a day that is over, unless somebody asks for that
    expect(page.get_by_role("button", name="Put an item on the table")).to_be_visible()
    expect(page.locator(".tie-on", has_text="Put an item on the table")).to_have_count(0)
    assert office.faults() == []


def test_a_porter_is_told_that_the_day_is_closed(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter")
    go_to(page, f"{office.address}/#/porter")
    expect(page.get_by_role("button", name="Move to a place")).to_be_visible()
    bar = page.get_by_text("This day is closed: what is changed now is kept")
    expect(bar).to_have_count(0)
    close_with_all(manager, day["day_id"])
    expect(bar).to_be_visible()
    assert office.faults() == []


def test_a_door_hears_at_once_that_the_day_was_closed(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """By the office's word, not at its next turn: the next owner may stand before it."""
    page = open_browser("phone").pages[0]
    with page.expect_request("**/sync/events"):
        pair(page, office, "door", "Door")
    expect(page.get_by_role("button", name="New visit")).to_be_visible()
    close_with_all(manager, day["day_id"])
    expect(page.get_by_text("The day is closed: by")).to_be_visible()
    expect(page.get_by_role("button", name="New visit all the same")).to_be_visible()
    assert office.faults() == []
