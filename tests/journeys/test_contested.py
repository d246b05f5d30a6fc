"""Two tables tie one number while both have no network: the desk sees both items, and one of them gets it."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import expect

from intake.tagging.tags import codes, shown
from tests.builders import a_fact
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, pair
from tests.journeys.test_one_item import phone_at_a_table, tie_on_two_items
from tests.phone import Phone

TAG = next(codes(9100))


def test_one_number_on_two_items_is_settled_at_the_desk(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    phone, page = phone_at_a_table(open_browser, office)
    other = tie_on_two_items(phone, manager, day, TAG)
    manager.keep(a_fact(other["item_id"], "short_description", "brass inkwell"))
    manager.push()
    phone.set_offline(False)
    page.get_by_role("link", name="1 refused").click()
    expect(page.get_by_text("The desk sees both items as well")).to_be_visible()

    desk = open_browser("desk", size=DESK).pages[0]
    desk.goto(office.address)
    pair(desk, office, "manager", "Manager's desk")
    desk.goto(f"{office.address}/#/closing")
    desk.get_by_text("One number on two items").wait_for()
    desk.goto(f"{office.address}/#/entry/{other['item_id']}")
    desk.get_by_role("link", name="See both and settle it").click()
    between = desk.locator(".between")
    expect(between.get_by_text("brass inkwell")).to_be_visible()
    expect(between.get_by_text("glass paperweight")).to_be_visible()
    between.get_by_role("button", name=f"{shown(TAG)} is on this one").last.click()
    expect(between).to_have_count(0)
    expect(desk.locator(".entry-head").get_by_text(shown(TAG))).to_be_visible()

    page.get_by_role("button", name="Send now").click()
    expect(page.get_by_text("the tag is on this item. Send it again")).to_be_visible()
    page.get_by_role("button", name="Send it corrected").click()
    expect(page.get_by_text("Everything from this device is at the desk")).to_be_visible()
    tags = {
        entry["short_description"]: entry["tags"] for entry in manager.client.get("/queue").json()["entries"]
    }
    assert tags == {"brass inkwell": [], "glass paperweight": [TAG]}
    assert office.faults() == []
