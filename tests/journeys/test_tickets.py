"""Runs of tickets on Day: each is one device's, and no other ever gives one of them."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import Page, expect

from tests.builders import a_visit
from tests.conftest import Office
from tests.journeys.conftest import Open, all_is_done, choose_name, go_to, line_is_back, pair, pair_by_hand
from tests.phone import Phone


def press_twice(page: Page, words: str) -> None:
    """A finger that is quicker than the page is drawn."""
    all_is_done(page)
    page.get_by_role("button", name=words).evaluate("(button) => { button.click(); button.click(); }")


def test_a_run_is_given_once_and_stays_with_its_device(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    office.pair("door", "Door A")
    office.pair("door", "Door B")
    page = open_browser("manager").pages[0]
    pair(page, office, "manager", "Manager")
    for door, first in (("Door A", "Q01"), ("Door B", "Q101")):
        page.get_by_label("Give a run to").select_option(label=door)
        press_twice(page, f"Give 100 tickets from {first} on")
        expect(page.get_by_text(f"are for {door}, once the office has kept that.")).to_be_visible()
        expect(page.get_by_role("alert")).to_have_count(0)
    expect(page.get_by_text("Q101 to Q200, Door B: 0 of 100 used")).to_be_visible()
    expect(page.get_by_text("A run stays with its device")).to_be_visible()
    expect(page.get_by_label("Who has it")).to_have_count(0)
    expect(page.get_by_label("Give it to")).to_have_count(0)
    expect(page.get_by_text("All at the desk")).to_be_visible()
    go_to(page, f"{office.address}/#/outbox")
    expect(page.locator("dl.counts div").filter(has_text="Refused").locator("dd")).to_have_text("0")
    (listed,) = (record for record in manager.feed()["records"] if record["kind"] == "day")
    runs = [field["value"] for name, field in listed["fields"].items() if name.startswith("ticket-runs/")]
    assert sorted((run["first"], run["last"], run["given_to"]) for run in runs) == [
        (1, 100, "Door A"),
        (101, 200, "Door B"),
    ]
    assert office.faults() == []


def test_a_run_given_with_no_network_is_not_used_before_the_office_has_kept_it(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """Two managers give the same numbers, one to the device in hand: no owner holds a ticket of the run that falls."""
    office.pair("door", "Door A")
    context = open_browser("manager")
    page = context.pages[0]
    pair(page, office, "manager", "Manager 2")
    offered = page.get_by_label("Give a run to").locator("option")
    expect(offered).to_have_text(["Choose a device", "Door A"])  # who manages stands at no door
    both = {"person_id": "both", "name": "Odd Hatter", "roles": ["door", "manager"]}
    manager.keep(("add_person", {"day_id": day["day_id"], "person": both}))
    manager.push()
    expect(offered).to_contain_text(["Choose a device", "Door A", "Manager 2"])
    page.get_by_label("Give a run to").select_option(label="Manager 2")
    context.set_offline(True)
    page.get_by_role("button", name="Give 100 tickets from Q01 on").click()
    expect(
        page.get_by_text("the office has not kept it yet, and until then no ticket of it is given")
    ).to_be_visible()
    go_to(page, f"{office.address}/#/today")
    page.get_by_role("button", name="New visit").click()
    expect(page.locator("h1")).to_contain_text("Visit")
    expect(page.locator("h1")).not_to_contain_text("Q01")
    manager.keep(("give_tickets", a_run(manager, day, "Door A", 1, 20)))
    assert manager.push()[0]["outcome"] == "kept"
    context.set_offline(False)
    line_is_back(page)
    go_to(page, f"{office.address}/#/day")
    fallen = page.get_by_text("Manager 2 did not get Q01 to Q100")
    expect(fallen).to_be_visible()
    fallen.get_by_role("link").click()
    expect(page.get_by_text("gave the tickets Q01 to Q100 to Manager 2 on this day")).to_be_visible()
    go_to(page, f"{office.address}/#/day")
    page.get_by_role("button", name="Give it Q21 to Q120 instead").click()
    expect(fallen).to_have_count(0)
    expect(page.get_by_text("Q21 to Q120, Manager 2: 0 of 100 used")).to_be_visible()
    assert office.faults() == []


def a_run(manager: Phone, day: dict[str, Any], name: str, first: int, last: int) -> dict[str, Any]:
    devices = manager.client.get("/devices").json()["devices"]
    (device_id,) = (device["device_id"] for device in devices if device["name"] == name)
    of = {"day_id": day["day_id"], "run_id": manager.ids.id(), "seen": None}
    return {**of, "first": first, "last": last, "given_to": name, "for_device_id": device_id}


def test_a_ticket_is_not_given_again_once_its_visit_got_another_by_hand(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """The first owner may hold its paper still."""
    page = open_browser("door").pages[0]
    pair(page, office, "door", "Door A")
    page.get_by_role("button", name="New visit").click()
    expect(page.locator("h1")).to_contain_text("Visit")
    (first,) = (one["fields"]["ticket"] for one in visits_of(manager, page))
    typed = page.get_by_label("Ticket", exact=True)
    typed.fill("Q77")
    typed.press("Tab")
    expect(page.locator("h1")).to_contain_text("Q77")
    page.reload()
    go_to(page, f"{office.address}/#/today")
    given = first["value"]
    following = f"{given[:-1]}{int(given[-1]) + 1}"
    expect(page.get_by_text(following)).to_be_visible()
    page.get_by_role("button", name="New visit").click()
    expect(page.locator("h1")).to_contain_text(following)
    assert office.faults() == []


def visits_of(manager: Phone, page: Page) -> list[dict[str, Any]]:
    expect(page.get_by_text("At the desk")).to_be_visible()
    return [record for record in manager.feed()["records"] if record["kind"] == "visit"]


def test_two_owners_of_one_ticket_are_told_apart_by_when_they_came(
    office: Office, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    for _ in range(2):
        phone.keep(a_visit(phone.ids, day["day_id"], ticket="Q07"))
    phone.push()
    page = open_browser("phone").pages[0]
    pair(page, office, "door", "Door")
    ways = page.get_by_text("2 owners hold ticket Q07").get_by_role("link")
    expect(ways).to_have_count(2)
    for way, which in zip(ways.all(), ("first", "second"), strict=True):
        expect(way).to_have_text(re.compile(rf"^open the {which} one, who came \d\d:\d\d$"))
    assert office.faults() == []


def test_a_ticket_of_another_doors_run_is_named_under_the_box_in_which_it_is_typed(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    office.pair("door", "Door A")
    manager.keep(("give_tickets", a_run(manager, day, "Door A", 1, 20)))
    assert manager.push()[0]["outcome"] == "kept"
    page = open_browser("door").pages[0]
    pair(page, office, "door", "Door B")
    page.get_by_role("button", name="New visit").click()
    typed = page.get_by_label("Ticket", exact=True)
    typed.fill("Q02")
    beside = page.locator(".field", has=typed)
    expect(beside.get_by_text("It is of Door A’s run, where another owner may get it.")).to_be_visible()
    page.get_by_role("button", name="Give this owner another ticket").click()
    expect(page.get_by_text("It is of Door A’s run")).to_have_count(0)
    assert office.faults() == []


def test_a_device_that_is_called_as_a_table_stands_at_it_once_somebody_is_there(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    (first, *_) = day["tables"]
    page = open_browser("table").pages[0]
    pair_by_hand(page, office, "table", first["name"])
    choose_name(page, day["people"][0]["name"])
    expect(page.get_by_label("Which table?")).to_have_value(first["table_id"])
    assert office.faults() == []
