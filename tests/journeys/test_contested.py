"""Two tables tie one number while both have no network: the desk sees both items, and one of them gets it."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page, expect

from intake.tagging.tags import codes, shown
from tests.builders import a_fact, a_settlement
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, add_cataloguer, go_to, next_screen, pair
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
    pair(desk, office, "manager", "Manager's desk")
    go_to(desk, f"{office.address}/#/closing")
    desk.get_by_text("One number on two items").wait_for()
    go_to(desk, f"{office.address}/#/entry/{other['item_id']}")
    desk.get_by_role("link", name="See both and settle it").click()
    between = desk.locator(".between")
    expect(between.get_by_text("brass inkwell")).to_be_visible()
    expect(between.get_by_text("glass paperweight")).to_be_visible()
    between.get_by_role("button", name=f"{shown(TAG)} is on this one").last.click()
    asked = between.get_by_role("alert")
    expect(asked).to_contain_text("Why?")
    expect(desk.locator(".entry-head").get_by_text(shown(TAG))).to_have_count(0)  # one press settles nothing
    asked.get_by_role("button", name="Looked at again").click()
    expect(between).to_have_count(0)
    expect(desk.locator(".entry-head").get_by_text(shown(TAG))).to_be_visible()

    page.get_by_role("button", name="Send now").click()
    expect(page.get_by_text("the tag is on this item. Send it again")).to_be_visible()
    page.get_by_role("button", name="Send it again").click()
    expect(page.get_by_text("Everything from this device is at the desk")).to_be_visible()
    tags = {
        entry["short_description"]: entry["tags"] for entry in manager.client.get("/queue").json()["entries"]
    }
    assert tags == {"brass inkwell": [], "glass paperweight": [TAG]}
    why_is_told_where_a_value_gave_way(page, manager)
    assert office.faults() == []


def why_is_told_where_a_value_gave_way(page: Page, manager: Phone) -> None:
    """A table reads no settlement's note but that on its own value, which it is told when the office is reached."""
    entries = manager.client.get("/queue").json()["entries"]
    [item_id] = [one["item_id"] for one in entries if one["short_description"] == "glass paperweight"]
    before = manager.record(item_id)["fields"]["short_description"]["operation_id"]
    with next_screen(page):
        page.evaluate("(id) => { location.hash = `#/item/${id}` }", item_id)
    page.context.set_offline(True)
    page.get_by_label("Short description").fill("crystal paperweight")
    manager.keep(a_fact(item_id, "short_description", "moulded paperweight", seen=before))
    manager.push()
    page.context.set_offline(False)
    with next_screen(page):
        page.evaluate("location.hash = '#/outbox'")
    page.get_by_role("button", name="Send now").click()
    expect(page.get_by_text("Everything from this device is at the desk")).to_be_visible()
    with next_screen(page):
        page.evaluate("(id) => { location.hash = `#/item/${id}` }", item_id)
    both = page.get_by_role("region", name="Short description: two values")
    expect(both).to_contain_text("“crystal paperweight” said on this device")
    expect(both).to_contain_text("“moulded paperweight” Hester Quillfeather; it holds until then")
    page.evaluate("location.hash = '#/outbox'")
    [between] = [one for one in manager.record(item_id)["disagreements"] if one["settled"] is None]
    kind, body = a_settlement(item_id, between["disagreement_id"], "kept")
    other = add_cataloguer(manager)
    manager.keep((kind, {**body, "note": "it is cast: see the seam"}), made_by=other)
    manager.push()
    page.evaluate("location.hash = '#/today'")
    page.evaluate("dispatchEvent(new Event('online'))")  # it reads at once, and not at the next beat
    bar = page.get_by_role("status").filter(has_text="this device said otherwise")
    expect(bar).to_contain_text("“moulded paperweight” holds, not “crystal paperweight”")
    expect(bar).to_contain_text("it is cast: see the seam")
    page.context.set_offline(True)
    page.reload()
    expect(bar).to_contain_text("Why is told once the office is reached")
    expect(bar.get_by_role("button", name="Seen")).to_have_count(0)  # nobody puts away what they cannot read
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    bar.get_by_role("button", name="Seen").click()
    expect(bar).to_have_count(0)
