"""An owner who comes again the same day, with a second bag, goes on with the visit that they have."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page, expect

from tests.builders import a_consignor, a_visit
from tests.conftest import Office
from tests.journeys.conftest import Open, go_to, pair
from tests.phone import Phone

ASK = "Somebody who was here comes again"
ASKED = "Their ticket, or their name"


def left(manager: Phone, day: dict[str, Any], ticket: str, name: str) -> dict[str, Any]:
    """A visit that is over, of which everything was typed."""
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket=ticket))
    manager.keep(a_consignor(visit["visit_id"], "name", name))
    manager.keep(a_consignor(visit["visit_id"], "telephone", "01632 960 123"))
    assert [answer["problem"] for answer in manager.push() if answer["problem"]] == []
    stage = manager.record(visit["visit_id"])["fields"]["stage"]["operation_id"]
    gone = {"visit_id": visit["visit_id"], "field": "stage", "value": "left", "seen": stage, "salt": SALT}
    manager.keep(("set_visit", gone))
    assert [answer["outcome"] for answer in manager.push()] == ["kept"]
    return visit


SALT = "00112233445566778899aabbccddeeff"


def fields_of(manager: Phone, visit: dict[str, Any]) -> dict[str, Any]:
    fields = manager.record(visit["visit_id"])["fields"]
    return {
        name: fields[name]["value"]
        for name in ("stage", "bags", "ticket", "consignor/name")
        if name in fields
    }


def sent(page: Page) -> None:
    expect(page.get_by_text("All at the desk").first).to_be_attached()


def test_the_door_finds_who_comes_again_and_opens_no_second_visit(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    visit = left(manager, day, "Q04", "Ottoline Vane")
    other = left(manager, day, "Q14", "Barnaby Tumblewick")
    door = open_browser("door").pages[0]
    pair(door, office, "door", "Door")
    main = door.get_by_role("main")
    door.get_by_role("button", name=ASK).click()
    door.get_by_label(ASKED).fill("Zebedee")
    expect(main).to_contain_text("Nobody on this device answers to that.")
    door.get_by_label(ASKED).fill("4")
    expect(main).to_contain_text("Ottoline Vane")
    expect(main).to_contain_text("has left")
    expect(main.get_by_role("button", name="go on with")).to_have_count(1)
    door.get_by_role("button", name="They are here again: go on with Q04").click()
    expect(door.locator("h1")).to_contain_text("Visit Q04")
    expect(door.get_by_label("Name", exact=True)).to_have_value("Ottoline Vane")
    expect(door.get_by_label("Bags")).to_have_value("3")
    sent(door)
    assert fields_of(manager, visit) == {
        "stage": "waiting",
        "bags": 3,
        "ticket": "Q04",
        "consignor/name": "Ottoline Vane",
    }

    go_to(door, f"{office.address}/#/today")
    door.get_by_role("button", name="New visit").click()
    door.get_by_label("Name", exact=True).fill("Barnaby Tumblewick")
    expect(main).to_contain_text("Barnaby Tumblewick was here as ticket Q14")
    door.get_by_role("button", name="It is them: go on with Q14").click()
    expect(door.locator("h1")).to_contain_text("Visit Q14")
    sent(door)
    assert fields_of(manager, other)["stage"] == "waiting"
    second = [
        record
        for record in manager.feed()["records"]
        if record["kind"] == "visit" and record["record_id"] not in (visit["visit_id"], other["visit_id"])
    ]
    [opened] = second
    said = {name: field["value"] for name, field in opened["fields"].items()}
    assert (said["stage"], said["note"], said["consignor/name"]) == ("left", "Goes on as ticket Q14", "")
    assert office.faults() == []


def test_a_table_finds_them_by_what_it_may_read_and_no_more(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    visit = left(manager, day, "Q04", "Ottoline Vane")
    context = open_browser("table")
    table = context.pages[0]
    pair(table, office, "table", "Table 1")
    main = table.get_by_role("main")
    context.set_offline(True)
    table.get_by_role("button", name=ASK).click()
    table.get_by_label(ASKED).fill("Vane")
    expect(main).to_contain_text("Nobody on this device answers to that.")
    table.get_by_label(ASKED).fill("otto")
    expect(main).to_contain_text("Ottoline")
    table.get_by_role("button", name="They are here again: go on with Q04").click()
    expect(table.locator("h1")).to_contain_text("Visit Q04")
    expect(table.locator("body")).not_to_contain_text("Vane")
    expect(table.locator("body")).not_to_contain_text("01632")
    context.set_offline(False)
    expect(table.get_by_label("Name", exact=True)).to_have_value("Ottoline Vane")
    sent(table)
    assert fields_of(manager, visit)["stage"] == "at-table"
    assert office.faults() == []
