"""A signature is for the list that its owner had in front of them, and for no other."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import Page, expect

from intake.tagging.tags import codes
from tests.builders import a_fact, a_tie, a_visit, an_item
from tests.conftest import Office
from tests.journeys.conftest import Open, go_to, line_is_back, pair
from tests.journeys.test_accessibility import faults
from tests.journeys.test_receipt import draw
from tests.phone import Phone

NUMBERS = codes(9500)
CHANGED = "The list has changed since you signed: read it again and sign."


def put(manager: Phone, visit: dict[str, Any], name: str) -> str:
    """Something of a visit under a number, by its id."""
    item: str = manager.keep(an_item(manager.ids, visit))["item_id"]
    manager.keep(a_fact(item, "short_description", name))
    manager.keep(a_tie(item, next(NUMBERS)))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    return item


def takes_back(manager: Phone, item: str) -> None:
    """Its owner took it home, and has not signed for that."""
    went = {
        "from_place": "table",
        "to_place": "returned",
        "at": "",
        "given_by": "Ana",
        "taken_by": "the owner",
    }
    of = {"thing_id": item, "tag": None, "count": None, "signed": False}
    manager.keep(("record_move", {"move_id": manager.ids.id(), **went, **of}))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}


def receipt_screen(open_browser: Open, office: Office, visit: dict[str, Any]) -> Page:
    page = open_browser("manager").pages[0]
    pair(page, office, "manager", "Manager")
    go_to(page, f"{office.address}/#/visit/{visit['visit_id']}/receipt")
    page.get_by_label("For the house").fill("Hester")
    return page


def test_a_list_that_changed_is_read_and_signed_again(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q31"))
    lamp = put(manager, visit, "brass lamp")
    page = receipt_screen(open_browser, office, visit)
    page.get_by_role("button", name="To the owner").click()
    draw(page)
    expect(page.get_by_role("button", name="Sign for 1 thing")).to_be_enabled()

    put(manager, visit, "gold watch")  # by another device, while the owner holds the pen
    line_is_back(page)
    expect(page.get_by_text(CHANGED)).to_be_visible()
    expect(page.get_by_role("button", name="Read it again and sign")).to_be_disabled()
    expect(page.get_by_role("button", name="Draw it anew")).to_be_disabled()
    draw(page)
    expect(page.get_by_text(CHANGED)).to_have_count(0)
    expect(page.get_by_role("button", name="Sign for 2 things")).to_be_enabled()

    takes_back(manager, lamp)  # what was drawn for what is left signs for nothing that goes back
    line_is_back(page)
    expect(page.get_by_role("heading", name="To sign for: 1 thing, taken back")).to_be_visible()
    expect(page.get_by_role("button", name="Read it again and sign")).to_be_disabled()
    page.reload()
    expect(page.get_by_role("button", name="Read it again and sign")).to_be_disabled()
    draw(page)
    expect(page.get_by_role("button", name="Say who takes it back")).to_be_disabled()
    page.get_by_label("Name of who takes it back").fill("Petronella Vance")
    page.get_by_role("button", name="Sign for 1 thing").click()
    expect(page.get_by_role("heading", name="To sign for: 1 thing, left with the house")).to_be_visible()
    expect(page.get_by_text(CHANGED)).to_have_count(0)
    assert office.faults() == []


def test_a_signed_receipt_stays_under_its_head_and_the_owner_hands_it_back(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q33"))
    put(manager, visit, "brass lamp")
    page = receipt_screen(open_browser, office, visit)
    page.get_by_role("button", name="To the owner").click()
    draw(page)
    page.get_by_role("button", name="Sign for 1 thing").click()
    expect(page.get_by_role("heading", name="Thank you")).to_be_visible()
    expect(page.get_by_text("Please hand this back.")).to_be_visible()
    assert faults(page) == []  # its words stand there both ways, and are read out once
    expect(page.get_by_role("button")).to_have_text(
        ["Turn back Turn back"]
    )  # nothing else to press: it says so both ways
    page.get_by_role("button", name="Turn back").click()
    expect(page.get_by_text("Everything is signed for")).to_be_visible()

    house = {"day_id": day["day_id"], "field": "house", "value": "Copperpot Rooms", "seen": None}
    manager.keep(("correct_day", house))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    line_is_back(page)
    expect(page.get_by_role("article")).to_contain_text("Changed since: the house, now Copperpot Rooms.")
    expect(page.locator("main > .lead").first).to_contain_text(day["house"])
    # What was left is the same: nothing is to be signed anew, and every screen says so.
    expect(page.get_by_text("Everything is signed for")).to_be_visible()
    expect(page.get_by_role("button", name="Make a new receipt")).to_have_count(0)
    go_to(page, f"{office.address}/#/visit/{visit['visit_id']}")
    expect(page.get_by_role("link", name="Signed: show the receipt")).to_be_visible()
    go_to(page, f"{office.address}/#/visit/{visit['visit_id']}/receipt")
    put(manager, visit, "gold watch")
    line_is_back(page)
    expect(page.get_by_text(re.compile("^Copperpot Rooms, "))).to_be_visible()  # above what is to be signed
    expect(page.get_by_role("article")).to_contain_text(f"{day['house']}, {day['place']}")
    draw(page)
    page.get_by_role("button", name="Sign for 2 things").click()
    expect(page.get_by_text("has taken its place")).to_be_visible()
    expect(page.get_by_text("Changed since")).to_have_count(0)
    assert office.faults() == []


def test_a_paper_pad_is_for_the_list_that_it_was_signed_under(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q32"))
    clock = put(manager, visit, "clock")
    page = receipt_screen(open_browser, office, visit)
    pad = page.get_by_label("Signed on paper instead")
    pad.fill("pad 7, left")
    expect(page.get_by_role("button", name="Sign for 1 thing")).to_be_enabled()
    takes_back(manager, clock)
    line_is_back(page)
    kept = page.get_by_text("The list is another one than when “pad 7, left” was typed")
    expect(kept).to_be_visible()
    expect(page.get_by_text(CHANGED)).to_have_count(0)  # nobody has signed
    expect(pad).to_have_value("")
    pad.fill("pad 8, back")
    page.get_by_label("Name of who takes it back").fill("Zelda Quill")
    page.get_by_role("button", name="Sign for 1 thing").click()
    expect(page.get_by_text("on paper: pad 8, back")).to_be_visible()
    assert office.faults() == []


def test_a_signature_that_this_device_may_not_see_is_not_waited_for(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """The owner left, so that no table reads them: the office answers, and there is nothing to wait for."""
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q33"))
    put(manager, visit, "fan")
    page = receipt_screen(open_browser, office, visit)
    draw(page)
    page.get_by_role("button", name="Sign for 1 thing").click()
    expect(page.get_by_text("is signed and on this device")).to_be_visible()
    put(manager, visit, "jug")
    line_is_back(page)
    draw(page)
    page.get_by_role("button", name="Sign for 2 things").click()
    expect(page.get_by_text("has taken its place")).to_be_visible()
    expect(page.get_by_text("All at the desk")).to_be_visible()
    left = {"visit_id": visit["visit_id"], "field": "stage", "value": "left", "seen": visit["operation_id"]}
    manager.keep(("set_visit", left))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}

    table = open_browser("table").pages[0]
    pair(table, office, "table", "Table")
    go_to(table, f"{office.address}/#/visit/{visit['visit_id']}/receipt")
    why = table.get_by_text("This device does not see it, since the owner has left")
    expect(why).to_be_visible()
    expect(why).to_have_count(1)  # of what another has taken the place of nobody asks
    table.emulate_media(media="print")
    expect(table.get_by_text("The signature is kept at the office.")).to_be_visible()
    expect(why).to_be_hidden()
    table.emulate_media(media="screen")
    table.context.set_offline(True)
    table.reload()
    expect(table.get_by_text("it is shown here when the office is reached")).to_have_count(2)
    table.context.set_offline(False)
    line_is_back(table)
    expect(why).to_be_visible()
    assert office.faults() == []


def test_on_which_pad_it_was_signed_is_read_by_who_reads_the_owner(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q34"))
    put(manager, visit, "fan")
    page = receipt_screen(open_browser, office, visit)
    page.get_by_label("Signed on paper instead").fill("pad 9, Tumblewick")
    page.get_by_label("For the house").fill("Hester for Tumblewick")
    page.get_by_role("button", name="Sign for 1 thing").click()
    expect(page.get_by_text("for the house Hester for Tumblewick")).to_be_visible()
    expect(page.get_by_text("on paper: pad 9, Tumblewick")).to_be_visible()
    expect(page.get_by_text("All at the desk")).to_be_visible()
    porter = open_browser("porter").pages[0]
    pair(porter, office, "porter", "Porter")
    go_to(porter, f"{office.address}/#/visit/{visit['visit_id']}/receipt")
    expect(porter.get_by_text("On which pad it is signed is kept at the office")).to_be_visible()
    expect(porter.get_by_text("Tumblewick")).to_have_count(0)
    assert office.faults() == []
