"""A lot worded at the desk: sentences rewritten, struck and moved by keys, while the record changes underneath."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import Locator, Page, expect

from tests.builders import a_fact, a_finding, a_visit, a_zone, an_item
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, choose_at_desk, pair
from tests.phone import Phone

ZONES = ("body", "rim", "spout")


def a_teapot(phone: Phone, day: dict[str, Any]) -> tuple[str, dict[str, Any], dict[str, Any]]:
    """Its id, and the finding of a chip and of a stain as they were kept."""
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    item_id = str(phone.keep(an_item(phone.ids, visit))["item_id"])
    phone.keep(a_fact(item_id, "class_id", "ceramics"))
    phone.keep(a_fact(item_id, "short_description", "teapot"))
    for zone in ZONES:
        phone.keep(a_zone(item_id, zone, state="finding" if zone != "body" else "clear", light="lamp"))
    chip = phone.keep(a_finding(phone.ids, item_id, "rim", term="chip", extent_mm=3))
    stain = phone.keep(a_finding(phone.ids, item_id, "spout", term="stain", extent_mm=None, severity=1))
    phone.push()
    return item_id, chip, stain


def option(page: Page, words: str) -> Locator:
    return page.get_by_role("option").filter(has_text=words)


def test_the_desks_words_stay_while_the_record_changes(
    office: Office, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    item_id, chip, _ = a_teapot(phone, day)
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    choose_at_desk(desk, "Hester Quillfeather")
    desk.goto(f"{office.address}/#/entry/{item_id}")
    condition = desk.get_by_role("listbox", name=re.compile("^Condition"))
    expect(condition).to_contain_text("A chip of 3 mm to the rim.")

    desk.keyboard.press("e")
    heading = desk.get_by_role("listbox", name=re.compile("^Heading")).get_by_role("option")
    expect(heading).to_be_focused()
    desk.keyboard.press("ArrowDown")
    first = desk.get_by_role("listbox", name=re.compile("^Lot description")).get_by_role("option").first
    expect(first).to_be_focused()
    expect(first).to_have_attribute("aria-selected", "true")
    desk.keyboard.press("ArrowUp")
    expect(heading).to_be_focused()
    expect(first).to_have_attribute("aria-selected", "false")
    desk.keyboard.press("Escape")

    option(desk, "A chip of 3 mm").click()
    desk.keyboard.press("r")
    field = desk.get_by_label("Your sentence")
    expect(field).to_be_focused()
    # A sentence that is being written is on no record, and no page that is killed loses it.
    field.press_sequentially("A chip at")
    expect(desk.get_by_text("A draft until you leave the field")).to_be_visible()
    expect(desk.locator(".answers")).not_to_contain_text("A chip at")
    desk.reload()
    expect(condition).to_contain_text("A chip of 3 mm to the rim.")
    option(desk, "A chip of 3 mm").click()
    expect(field).to_have_value(re.compile("A chip at"))
    field.fill("A chip of 3 mm at the back of the rim.")
    expect(option(desk, "at the back of the rim")).to_have_count(0)
    field.blur()
    expect(option(desk, "at the back of the rim")).to_have_class("rewritten")
    expect(desk.locator(".answers")).to_contain_text("A chip of 3 mm at the back of the rim.")
    desk.context.grant_permissions(["clipboard-read", "clipboard-write"])
    answer = desk.locator(".answers div").filter(has_text="A chip of 3 mm at the back of the rim.").first
    answer.get_by_role("button", name="Copy the answer").click()
    expect(desk.get_by_text("The answer is copied.")).to_be_visible()
    assert desk.evaluate("navigator.clipboard.readText()") == answer.locator("dd > span").inner_text()

    option(desk, "A slight stain").click()
    desk.keyboard.press("Alt+ArrowUp")
    expect(condition).to_contain_text(re.compile("A slight stain.*A chip of 3 mm"))
    desk.keyboard.press("x")
    expect(option(desk, "A slight stain")).to_have_class("struck")
    desk.keyboard.press("ArrowDown")
    expect(option(desk, "at the back of the rim")).to_be_focused()

    phone.keep(("record_finding", {**body_of(chip), "extent_mm": 5, "seen": chip["operation_id"]}))
    phone.push()
    desk.reload()
    expect(desk.get_by_text("1 sentence, marked ≠")).to_be_visible()
    option(desk, "at the back of the rim").click()
    expect(desk.get_by_text("The record now says: A chip of 5 mm to the rim.")).to_be_visible()
    desk.emulate_media(media="print")
    printed = desk.locator(".words .print-only").nth(2)
    expect(printed).to_be_visible()
    expect(printed).to_contain_text("A chip of 3 mm at the back of the rim.")
    expect(printed).not_to_contain_text("stain")
    # Every side that is drawn is on the paper, and no heading of what nobody asked for.
    sides = desk.get_by_role("group", name="Side", include_hidden=True).locator("button")
    expect(desk.locator(".numbered svg.outline:visible")).to_have_count(sides.count())
    expect(desk.get_by_role("heading", name="Where it is")).to_be_visible()
    expect(desk.get_by_role("heading", name="Its owner", include_hidden=True)).to_be_hidden()
    desk.emulate_media(media="screen")
    expect(desk.locator(".numbered svg.outline")).to_have_count(1)
    desk.get_by_role("button", name="Take the record's").click()
    expect(option(desk, "A chip of 5 mm to the rim.")).to_be_visible()
    desk.get_by_role("button", name="Undo").click()
    expect(option(desk, "at the back of the rim")).to_be_visible()
    desk.get_by_role("button", name="Keep mine").click()
    expect(desk.get_by_text("marked ≠")).to_have_count(0)
    assert office.faults() == []


def body_of(operation: dict[str, Any]) -> dict[str, Any]:
    envelope = ("operation_id", "kind", "made_at", "made_by", "device_id", "device_seq", "seen")
    return {name: value for name, value in operation.items() if name not in envelope}
