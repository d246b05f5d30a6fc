"""The second day with the same devices: what was used the day before is known, and what was not used goes on."""

from __future__ import annotations

from itertools import islice
from typing import Any

from playwright.sync_api import expect

from intake.tagging.tags import codes, serial_of, shown
from tests.builders import Ids, a_fact, a_tie, a_visit, an_item
from tests.closings import close_with_all
from tests.conftest import Office
from tests.journeys.conftest import Open, all_is_done, go_to, line_is_back, managers_day, next_screen, pair
from tests.phone import Phone


def an_item_named(phone: Phone, ids: Ids, day: dict[str, Any], ticket: str, name: str) -> str:
    item = phone.keep(an_item(ids, phone.keep(a_visit(ids, day["day_id"], ticket=ticket))))["item_id"]
    phone.keep(a_fact(item, "short_description", name))
    return str(item)


def next_day(manager: Phone, day: dict[str, Any], held_on: str) -> dict[str, Any]:
    """Set up as the one before."""
    said = {name: day[name] for name in ("house", "place", "currency", "tables", "people")}
    return manager.keep(("open_day", {"day_id": manager.ids.id(), "held_on": held_on, **said}))


def test_a_table_knows_the_numbers_of_the_day_before_and_its_roll_goes_on(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """With no network: yesterday's number is on something that this device holds no longer."""
    tablet = open_browser("phone")
    page = tablet.pages[0]
    pair(page, office, "table", "Table 1")
    [(table,)] = office.ask("SELECT device_id FROM device WHERE name = 'Table 1'")
    numbers = list(islice(codes(serial_of(manager.client.get("/labels/sheets").json()["next_tag"])), 10))
    roll = {"roll_id": ids.id(), "first_tag": numbers[0], "last_tag": numbers[-1], "count": 10}
    given = {"given_to": "Table 1", "for_device_id": table}
    manager.keep(("issue_roll", {"day_id": day["day_id"], **roll, **given}))
    prints = {"print_id": ids.id(), "roll_id": roll["roll_id"], "label": "tag", "seen": None}
    rows = [{"first_tag": numbers[0], "count": 8}]
    manager.keep(("print_labels", {"day_id": day["day_id"], **prints, "rows": rows}))
    first = an_item_named(manager, ids, day, "Q01", "violin")
    manager.keep(a_tie(first, numbers[0]))
    manager.keep(a_tie(an_item_named(manager, ids, day, "Q02", "bow"), numbers[2]))
    manager.push()
    go_to(page, f"{office.address}/#/item/{first}")
    expect(page.get_by_label("Short description")).to_have_value("violin")
    close_with_all(manager, day["day_id"])
    second = next_day(manager, day, "2026-03-15")
    item = an_item_named(manager, ids, second, "Q01", "tea caddy")
    manager.push()

    desk = managers_day(open_browser, office)
    go_to(desk, f"{office.address}/#/rolls")
    left = desk.get_by_role("listitem").filter(has_text=f"8 unused, from {shown(numbers[1])}")
    expect(left).to_contain_text("14 March 2026, Table 1")
    left.get_by_role("button", name="Goes on, at Table 1").click()
    expect(left).to_have_count(0)
    expect(desk.get_by_role("heading", name=f"{shown(numbers[3])} to {shown(numbers[7])}")).to_be_visible()
    all_is_done(desk)
    expect(desk.get_by_text("All at the desk")).to_be_visible()

    go_to(page, f"{office.address}/#/today")
    line_is_back(page)
    page.locator(".dock .tie-on", has_text="Work on").click()
    expect(page.get_by_text("Q01")).to_be_visible()
    go_to(page, f"{office.address}/#/item/{item}/tag")
    expect(
        page.get_by_text(f"8 numbers are left on this device's roll; the next is {shown(numbers[1])}")
    ).to_be_visible()
    expect(page.get_by_role("button", name="Make 2 string tags")).to_be_visible()
    tablet.set_offline(True)
    page.get_by_label("Key in the tag's number").fill(numbers[0])
    told = f"{shown(numbers[0])} is on something of 14 March 2026 already: take a fresh tag."
    expect(page.get_by_text(told)).to_be_visible()
    expect(page.get_by_role("button", name="Take a fresh tag")).to_be_disabled()
    page.get_by_role("button", name="Another").click()
    page.get_by_label("Key in the tag's number").fill(numbers[1])
    page.get_by_role("button", name=f"Tie {shown(numbers[1])} to this item").click()
    page.get_by_role("button", name="Tie another number").click()
    expect(
        page.get_by_text(f"7 numbers are left on this device's roll; the next is {shown(numbers[3])}")
    ).to_be_visible()
    tablet.set_offline(False)
    line_is_back(page)
    expect(page.get_by_text("At the desk").first).to_be_attached()
    assert office.faults() == []


def test_a_thing_left_the_day_before_is_found_by_its_number_and_its_day_is_gone_back_to(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """Its owner stands there: a table is told of which day it is and whom to ask, a manager reads it and goes back."""
    tag = next(codes(9000))
    item = an_item_named(manager, ids, day, "Q01", "violin")
    manager.keep(a_tie(item, tag))
    close_with_all(manager, day["day_id"])
    next_day(manager, day, "2026-03-15")
    manager.push()
    page = open_browser("phone").pages[0]
    pair(page, office, "table", "Table 1")
    go_to(page, f"{office.address}/#/tag")
    page.get_by_label("Key in the tag's number").fill(tag)
    told = f"{shown(tag)} is on something of 14 March 2026, a day that is closed. This device works on another day"
    expect(page.get_by_role("status").filter(has_text=told)).to_be_visible()
    go_to(page, f"{office.address}/#/item/{item}")
    expect(page.get_by_text("of another day the manager's device or the desk opens it")).to_be_visible()
    expect(page.get_by_role("link", name="Read it as the office has it")).to_have_count(0)

    desk = managers_day(open_browser, office)
    go_to(desk, f"{office.address}/#/item/{item}")
    expect(desk.get_by_role("link", name="Read it as the office has it")).to_be_visible()
    go_to(desk, f"{office.address}/#/tag")
    with next_screen(desk):
        desk.get_by_label("Key in the tag's number").fill(tag)
    expect(desk.get_by_role("heading", name="violin")).to_be_visible()
    go_to(desk, f"{office.address}/#/day")
    with next_screen(desk):
        desk.get_by_role("link", name="How each day was closed, and back to an earlier one").click()
    expect(desk.get_by_role("listitem").filter(has_text="15 March 2026")).to_contain_text(
        "This device works on this day."
    )
    with next_screen(desk):
        desk.get_by_role("button", name="Work on 14 March 2026").click()
    expect(desk.get_by_role("heading", name="14 March 2026")).to_be_visible()
    expect(desk.get_by_text("At the desk").first).to_be_attached()
    go_to(desk, f"{office.address}/#/tag")
    with next_screen(desk):
        desk.get_by_label("Key in the tag's number").fill(tag)
    expect(desk.get_by_label("Short description")).to_have_value("violin")
    assert office.faults() == []


def test_of_what_is_of_another_day_a_table_hears_the_date_alone(
    office: Office, manager: Phone, phone: Phone, ids: Ids, day: dict[str, Any]
) -> None:
    tag, other = islice(codes(9000), 2)
    item = an_item_named(manager, ids, day, "Q01", "violin")
    manager.keep(a_tie(item, tag))
    second = next_day(manager, day, "2026-03-15")
    manager.push()
    work = {"day_id": second["day_id"], "table_id": ""}
    phone.client.get("/sync/feed", params=work)
    asked = phone.client.get(f"/tags/{tag}", params=work).json()
    assert asked == {"kind": "of another day", "record_id": "", "held_on": "2026-03-14", "closed": False}
    assert phone.client.get(f"/tags/{other}").status_code == 404
    assert manager.client.get(f"/tags/{tag}").json() == {"kind": "item", "record_id": item}
    days = manager.client.get("/days").json()["days"]
    assert [(one["held_on"], one["is_over"]) for one in days] == [
        ("2026-03-15", False),
        ("2026-03-14", False),
    ]


def test_a_desk_s_row_says_of_which_day_a_ticket_is_where_the_list_has_things_of_two(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    an_item_named(manager, ids, day, "Q01", "violin")
    manager.push()
    desk = open_browser("desk").pages[0]
    pair(desk, office, "desk", "Desk")
    row = desk.locator(".queue-row", has_text="violin")
    expect(row).to_contain_text("Q01, no picture")
    second = next_day(manager, day, "2026-03-15")
    an_item_named(manager, ids, second, "Q01", "tea caddy")
    manager.push()
    expect(row).to_contain_text("Q01 of 14 March 2026, no picture")
    expect(desk.locator(".queue-row", has_text="tea caddy")).to_contain_text("Q01 of 15 March 2026")
    assert office.faults() == []
