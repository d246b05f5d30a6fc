"""What an owner needs stands on every list on which they wait, and on none that a private visit is on."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Locator, expect

from intake.tagging.tags import codes
from tests.builders import a_consignor, a_tie, a_visit, an_item
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, go_to, pair, pair_by_hand
from tests.phone import Phone
from tests.sync.planted import set_visit

NEEDS = "a chair, no stairs"


def test_what_an_owner_needs_stands_where_they_wait(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    door = open_browser("door").pages[0]
    pair_by_hand(door, office, "door", "Door A")
    door.context.set_offline(True)
    door.get_by_role("button", name="New visit").click()
    door.get_by_label("Needs").fill(NEEDS)
    go_to(door, f"{office.address}/#/today")
    expect(door.locator(".waiting li .needs")).to_have_text(f"Needs: {NEEDS}")
    tile, all_of_it = (door.locator(where).bounding_box() for where in (".waiting li", ".waiting"))
    assert tile
    assert all_of_it
    assert tile["width"] > 0.95 * all_of_it["width"], "its words have room beside it"
    assert top(door.locator(".waiting .needs")) < top(door.locator(".waiting small").last)
    door.context.set_offline(False)
    expect(door.get_by_text("At the desk")).to_be_visible()

    brought = door.locator(".waiting li a").get_attribute("href")
    go_to(door, f"{office.address}/{brought}")
    door.get_by_label("What they brought").fill("two jugs in a box")
    expect(door.get_by_text("At the desk")).to_be_visible()
    table = open_browser("table").pages[0]
    pair(table, office, "table", "Table 1")
    table.get_by_label("Which table?").select_option(index=1)
    table.get_by_role("button", name="Go on as").click()
    expect(table.locator(".waiting li")).to_have_count(1)
    expect(table.locator("main")).not_to_contain_text("a chair")  # nobody has called them to this table yet
    go_to(table, f"{office.address}/{brought}")
    table.get_by_role("button", name="At the table").click()
    expect(table.locator("summary").filter(has_text="brought")).to_contain_text("two jugs in a box")
    # It stands before the name and the count, with nothing to unfold.
    needs = table.locator("main > *").filter(has_text=f"Needs: {NEEDS}").first
    expect(needs).to_be_visible()
    assert top(needs) < top(table.get_by_label("Things counted"))
    go_to(table, f"{office.address}/#/today")
    expect(table.locator(".card.in-hand")).to_contain_text("two jugs in a box")
    expect(table.locator(".card.in-hand .needs")).to_have_text(f"Needs: {NEEDS}")
    go_to(table, f"{office.address}/{brought}")
    table.get_by_role("button", name="Waiting", exact=True).click()
    expect(table.get_by_text("At the desk")).to_be_visible()

    private = phone.keep(a_visit(phone.ids, day["day_id"], ticket="Q55"))
    for field, value in (("needs", "a side door"), ("private", "yes")):
        phone.keep(
            ("set_visit", {"visit_id": private["visit_id"], "field": field, "value": value, "seen": None})
        )
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    lead = open_browser("manager", size=DESK).pages[0]
    pair(lead, office, "manager", "Manager")
    heading = lead.get_by_role("heading", name="Waiting")
    waits = lead.locator("section.card").filter(has=heading).locator(".measured li")
    expect(waits).to_have_count(2)
    expect(waits.filter(has_text=NEEDS)).to_have_count(1)
    expect(lead.get_by_text("a side door")).to_have_count(0)
    go_to(lead, f"{office.address}/#/today")
    expect(lead.locator(".waiting li").filter(has_text=NEEDS)).to_have_count(1)
    expect(lead.get_by_text("a side door")).to_have_count(0)
    expect(lead.locator(".waiting li .needs").filter(has_text="Needs: see the visit")).to_have_count(1)
    assert office.faults() == []


def top(of: Locator) -> float:
    box = of.bounding_box()
    assert box
    return box["y"]


def a_private_visit(manager: Phone, day: dict[str, Any], ticket: str) -> dict[str, Any]:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket=ticket))
    manager.keep(set_visit(visit["visit_id"], "private", "yes"))
    return visit


def test_a_private_owner_s_name_is_shown_to_whoever_asks_for_it(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """The field stays under whoever types a name into it, and goes with the press that makes the visit private."""
    name = "Clementine Ashburn"
    visit = a_private_visit(manager, day, "Q55")
    assert {one["outcome"] for one in manager.push()} == {"kept"}
    page = open_browser("door").pages[0]
    pair(page, office, "door", "Door A")
    address = f"{office.address}/#/visit/{visit['visit_id']}"
    go_to(page, address)
    field = page.get_by_label("Name", exact=True)
    field.fill(name)
    expect(page.get_by_text("At the desk")).to_be_visible()
    expect(field).to_have_value(name)

    go_to(page, f"{office.address}/#/today")
    go_to(page, address)
    show = page.get_by_role("button", name="Show the owner’s name")
    expect(show).to_be_visible()
    expect(field).to_have_count(0)
    show.click()
    expect(field).to_have_value(name)
    private = page.get_by_role("button", name="Private: lists show the ticket alone")
    private.click()
    expect(field).to_have_value(name)
    private.click()
    expect(field).to_have_count(0)
    expect(show).to_be_visible()


def test_a_receipt_names_a_private_owner_on_paper_alone_until_somebody_asks(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """Its screen lies between the table and the hall."""
    name = "Clementine Ashburn"
    visit = a_private_visit(manager, day, "Q56")
    manager.keep(a_consignor(visit["visit_id"], "name", name))
    item = manager.keep(an_item(manager.ids, visit))
    manager.keep(a_tie(item["item_id"], next(codes(9300))))
    assert {one["outcome"] for one in manager.push()} == {"kept"}
    page = open_browser("lead").pages[0]
    pair(page, office, "manager", "Lead")
    go_to(page, f"{office.address}/#/visit/{visit['visit_id']}/receipt")
    lead = page.locator("main .lead").filter(has_text="Ticket Q56")
    expect(lead).to_be_visible()
    assert name not in lead.inner_text()
    page.emulate_media(media="print")
    assert name in lead.inner_text()
    page.emulate_media(media="screen")
    # Nor does it stand in the field to sign in, where it is put beforehand.
    signs, ask = page.get_by_label("Name of who signs"), page.get_by_role("button", name="Show the name")
    expect(ask).to_be_visible()
    expect(signs).to_have_count(0)
    ask.click()
    expect(signs).to_have_value(name)
    page.get_by_role("button", name="Show the owner’s name").click()
    expect(lead.get_by_text(name)).to_be_visible()
    assert office.faults() == []


def test_a_name_that_is_known_at_the_door_is_typed_from_a_paper_with_no_network(
    office: Office, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """A table that takes a visit with no network is told when the name comes, and need not wait for it."""
    visit = phone.keep(a_visit(phone.ids, day["day_id"], ticket="Q61"))
    phone.keep(a_consignor(visit["visit_id"], "name", "Clementine Ashbody"))
    needs = {"visit_id": visit["visit_id"], "field": "needs", "value": "two sticks, a chair", "seen": None}
    phone.keep(("set_visit", {**needs, "salt": "0" * 32}))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    table = open_browser("table").pages[0]
    pair(table, office, "table", "Table 1")
    go_to(table, f"{office.address}/#/visit/{visit['visit_id']}")
    table.context.set_offline(True)
    expect(table.get_by_text("once this table has taken the visit and reaches the office")).to_be_visible()
    table.locator("summary", has_text="What they brought and need").click()
    expect(table.get_by_text("What they brought and what they need was asked at the door")).to_be_visible()
    expect(table.get_by_label("Needs")).to_have_count(0)
    table.get_by_role("button", name="Type it here").click()
    expect(table.get_by_label("Needs")).to_have_value("")
    table.get_by_role("button", name="Type it from a paper").click()
    name = table.get_by_label("Name", exact=True)
    name.press_sequentially("Clementine Ashbody")
    expect(name).to_have_value("Clementine Ashbody")
    expect(name).to_be_focused()
    table.reload()
    expect(table.get_by_label("Name", exact=True)).to_have_value("Clementine Ashbody")
