"""What is changed on an item after its day was closed is said on the item, before anybody changes it."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import expect

from tests.builders import Ids, a_fact, a_visit, an_item
from tests.closings import close_with_all, whole_closing
from tests.conftest import Office
from tests.journeys.conftest import (
    Open,
    all_is_done,
    choose_name,
    go_to,
    line_is_back,
    managers_day,
    pair,
    until_kept,
)
from tests.phone import Phone

OTHER_MANAGER = {"person_id": "ana", "name": "Ana Thistle", "roles": ["manager"], "left": False}


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


def test_what_was_done_before_the_closing_is_not_undone_after_it_by_a_press(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """And the owner's paper has no line that is for whoever works here."""
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q76"))
    manager.push()
    page = open_browser("phone").pages[0]
    pair(page, office, "table", "Table 1")
    receipt = f"{office.address}/#/visit/{visit['visit_id']}/receipt"
    go_to(page, receipt)
    page.locator(".dock .tie-on").click()
    undo = page.locator("button.undo")
    expect(undo).to_be_visible()
    close_with_all(manager, day["day_id"])
    expect(
        page.get_by_text("The day is closed").or_(page.get_by_text("This day is closed")).first
    ).to_be_visible()
    expect(undo).to_have_count(0)
    go_to(page, receipt)
    bar = page.get_by_text("This day is closed: what is changed now")
    expect(bar).to_be_visible()
    page.emulate_media(media="print")
    expect(bar).to_be_hidden()
    assert office.faults() == []


def test_where_an_owner_is_changes_after_the_closing_by_a_managers_word(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q76"))
    manager.keep(("add_person", {"day_id": day["day_id"], "person": OTHER_MANAGER}))
    close_with_all(manager, day["day_id"])
    page = open_browser("phone").pages[0]
    pair(page, office, "table", "Table 1")
    choose_name(page, "Hester Quillfeather")
    go_to(page, f"{office.address}/#/visit/{visit['visit_id']}")
    where = page.get_by_role("group", name="Where they are")
    where.get_by_role("button", name="Left").click()
    asks = page.get_by_role("alert").filter(has_text="After the closing")
    asks.get_by_role("button", name="Leave it as it is").click()
    expect(where.get_by_role("button", name="Left")).to_have_attribute("aria-pressed", "false")
    where.get_by_role("button", name="Left").click()
    expect(asks.get_by_role("button", name="Nobody has allowed it yet")).to_be_disabled()
    asks.get_by_label("Which manager allows it?").select_option(label="Ana Thistle")
    asks.get_by_role("button", name="Say it all the same, Ana Thistle allows it").click()
    expect(where.get_by_role("button", name="Left")).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_text("Said after the day was closed:")).to_be_visible()
    all_is_done(page)
    expect(page.get_by_text("All at the desk")).to_be_visible()
    [told] = whole_closing(manager.client, day["day_id"])["sections"]["changed"]
    assert told["words"].startswith("Q76: stage; allowed by Ana Thistle")
    assert office.faults() == []


def test_a_closing_names_what_was_changed_after_it_and_who_allowed_what_came(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """At the office and on the device; what differs by none of it is named all the same."""
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q76"))
    item = manager.keep(an_item(ids, visit))["item_id"]
    manager.keep(a_fact(item, "short_description", "bracket clock"))
    close_with_all(manager, day["day_id"])
    assert "changed" not in whole_closing(manager.client, day["day_id"])["sections"]
    manager.keep(a_fact(item, "materials", "oak"))
    kind, late = an_item(ids, visit)
    manager.keep((kind, {**late, "allowed_by": "Ana Thistle"}))
    manager.push()
    lines = [
        "Q76, bracket clock: materials (by Hester Quillfeather)",
        "Q76, an item not named yet: put on the table after the closing, Ana Thistle allowed it "
        "(by Hester Quillfeather)",
    ]
    told = whole_closing(manager.client, day["day_id"])["sections"]["changed"]
    assert [one["words"] for one in told] == lines
    page = open_browser("manager").pages[0]
    pair(page, office, "manager", "Manager")
    go_to(page, f"{office.address}/#/closing")
    since = page.locator("section", has=page.get_by_role("heading", name="Changed since then"))
    expect(since.get_by_role("listitem")).to_contain_text(lines)
    expect(page.get_by_text("2 records changed since.")).to_be_visible()
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


def test_the_next_day_begins_as_the_one_before_and_a_door_goes_on_with_it(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """Its house, tables and people need no typing again; nobody takes owners in on the day that is closed."""
    before = people_on(manager, day["held_on"])
    close_with_all(manager, day["day_id"])
    door = open_browser("phone").pages[0]
    pair(door, office, "door", "Door")
    choose_name(door, "Hester Quillfeather")
    expect(door.get_by_role("button", name="New visit all the same")).to_be_visible()
    page = managers_day(open_browser, office)
    page.get_by_role("button", name="Set up another day").click()
    expect(page.get_by_label("House").first).to_have_value(day["house"])
    date = page.get_by_label("Date").input_value()
    assert date > day["held_on"]
    page.get_by_role("button", name="Set it up").click()
    expect(page.get_by_text("The day is set up. Look through its people")).to_be_visible()
    expect(page.get_by_text("All at the desk")).to_be_visible()
    assert people_on(manager, date) == {
        name: person for name, person in before.items() if not person.get("left")
    }
    line_is_back(door)
    expect(door.get_by_role("button", name="Work on it")).to_be_visible()
    door.locator(".dock .tie-on", has_text="Work on").click()
    expect(door.get_by_role("button", name="New visit", exact=True)).to_be_visible()
    expect(door.locator(".at-device")).to_contain_text("Hester Quillfeather")
    expect(door.locator(".of-day")).to_contain_text(day["house"])
    expect(door.get_by_text("The day is closed")).to_have_count(0)
    assert office.faults() == []


def people_on(phone: Phone, held_on: str) -> dict[str, Any]:
    days = [record for record in phone.feed()["records"] if record["kind"] == "day"]
    [fields] = [record["fields"] for record in days if record["held_on"] == held_on]
    return {name: field["value"] for name, field in fields.items() if name.startswith("people/")}


def test_a_closed_day_is_corrected_by_another_managers_word_and_with_why(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """Nothing can be typed before both are said, and both stand in the closing's list of what was changed."""
    manager.keep(("add_person", {"day_id": day["day_id"], "person": OTHER_MANAGER}))
    close_with_all(manager, day["day_id"])
    page = managers_day(open_browser, office)
    page.get_by_role("button", name="Correct house, date or tables").click()
    expect(page.get_by_role("heading", name="This day is closed")).to_be_visible()
    expect(page.get_by_label("Place", exact=True)).to_have_count(0)
    page.get_by_label("Which manager allows the correction?").select_option(label="Ana Thistle")
    expect(page.get_by_role("button", name="Who allows it and why is open")).to_be_disabled()
    page.get_by_label("Why is it corrected?").fill("the hall's name was wrong")
    page.get_by_role("button", name="Correct it, Ana Thistle allows it").click()
    expect(page.get_by_label("Place", exact=True)).to_be_visible()
    page.get_by_role("button", name="Done").click()
    page.get_by_role("button", name="Correct house, date or tables").click()
    expect(page.get_by_label("Place", exact=True)).to_have_count(0)
    until_kept(page, "manager")
    told = whole_closing(manager.client, day["day_id"])["sections"]["changed"]
    assert [one["words"].split(" (by")[0] for one in told] == [
        "the day: allowed by Ana Thistle: the hall's name was wrong"
    ]
    assert office.faults() == []
