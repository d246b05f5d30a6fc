"""The desk puts the record right once the table has left: by whom, when and why stands in its history."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.builders import a_fact, a_finding, a_visit, a_zone, an_item
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, choose_at_desk, pair
from tests.phone import Phone


@pytest.fixture
def violin(manager: Phone, day: dict[str, Any]) -> str:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q17"))
    item_id = str(manager.keep(an_item(manager.ids, visit))["item_id"])
    for field, value in (
        ("class_id", "stringed-instrument"),
        ("short_description", "violin in its case"),
        ("materials", "maple, plastic"),
    ):
        manager.keep(a_fact(item_id, field, value))
    measured = {"item_id": item_id, "measure": "back-length", "value": 35.6, "unit": "mm", "typed": "35.6 mm"}
    manager.keep(("record_measure", {**measured, "seen": None}))
    mark: dict[str, Any] = {
        "mark_id": manager.ids.id(),
        "place": "inside",
        "technique": None,
        "colour": "",
        "reading": "",
    }
    mark |= {"completeness": "complete", "text": "Pelham Oakapple 1791", "withdrawn": False, "seen": None}
    manager.keep(("record_mark", {"item_id": item_id, **mark}))
    manager.keep(a_zone(item_id, "table", state="finding"))
    manager.keep(a_finding(manager.ids, item_id, "table", term="crack", severity=3))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    return item_id


def correcting(desk: Page, called: str) -> Locator:
    desk.get_by_role("button", name=f"Correct: {called}").click()
    return desk.get_by_role("form", name=f"Correct: {called}")


def test_the_desk_corrects_what_the_table_recorded_and_says_why(
    office: Office, manager: Phone, violin: str, open_browser: Open
) -> None:
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    choose_at_desk(desk, "Hester Quillfeather")
    desk.get_by_role("link", name=re.compile("violin in its case")).click()
    history = desk.get_by_role("list").filter(has_text="corrected: read in inches")

    size = correcting(desk, "Length of the back without button")
    expect(size.get_by_role("button", name="Change it first")).to_be_disabled()
    size.get_by_label("Length of the back without button").fill("35.6 cm")
    expect(size).to_contain_text("That is 35.6 cm (14 in).")
    expect(size.get_by_role("button", name="Say why first")).to_be_disabled()
    size.get_by_label("Why").fill("read in inches")
    size.get_by_role("button", name="Correct it").click()
    expect(size).to_have_count(0)
    expect(history).to_contain_text("Hester Quillfeather")
    materials = correcting(desk, "Materials")
    materials.get_by_label("Materials").fill("maple, spruce")
    materials.get_by_label("Why").fill("its belly is spruce")
    materials.get_by_role("button", name="Correct it").click()
    expect(materials).to_have_count(0)
    mark = correcting(desk, "Mark, inside")
    mark.get_by_label("Why").fill("it is on the case")
    mark.get_by_role("button", name="There is no such mark").click()
    expect(mark).to_have_count(0)
    desk.locator(".finding-line").first.click()
    finding = correcting(desk, "finding 1, crack")
    finding.get_by_role("button", name="Slight").click()
    finding.get_by_label("Why").fill("a hairline in the varnish")
    finding.get_by_role("button", name="Correct it").click()
    expect(finding).to_have_count(0)
    expect(desk.get_by_text("corrected: a hairline in the varnish").last).to_be_visible()
    expect(desk.get_by_text("All at the desk").first).to_be_attached()

    fields = manager.record(violin)["fields"]
    said = {name.partition("/")[0]: field["value"] for name, field in fields.items()}
    assert said["measures"] == {"value": 356, "unit": "mm", "typed": "35.6 cm"}, "why is no part of the value"
    assert (said["materials"], said["marks"]["withdrawn"]) == ("maple, spruce", True)
    assert said["findings"]["severity"] == 1
    assert office.faults() == []


def test_what_was_begun_at_the_desk_outlives_the_page(
    office: Office, violin: str, open_browser: Open
) -> None:
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    choose_at_desk(desk, "Hester Quillfeather")
    desk.get_by_role("link", name=re.compile("violin in its case")).click()
    materials = correcting(desk, "Materials")
    materials.get_by_label("Materials").fill("maple, spruce")
    expect(materials.get_by_role("button", name="Say why first")).to_be_disabled()
    desk.reload()
    expect(materials.get_by_label("Materials")).to_have_value("maple, spruce")
    materials.get_by_role("button", name="Leave it as it is").click()
    expect(materials).to_have_count(0)
    expect(desk.get_by_role("button", name="Correct: Materials")).to_be_visible()


def test_a_copied_answer_says_so_where_it_was_pressed(
    office: Office, violin: str, open_browser: Open
) -> None:
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    desk.get_by_role("link", name=re.compile("violin in its case")).click()
    copy = desk.locator(".answers button").first
    expect(copy).to_have_text("Copy")
    desk.context.grant_permissions(["clipboard-read", "clipboard-write"])
    copy.click()
    expect(copy).to_contain_text("Copied")
    expect(desk.locator(".answers button").nth(1)).to_have_text("Copy")
