"""What an owner told of a finding: written where they sit, put right there or at the desk, with no network too."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import Page, expect

from tests.builders import a_finding
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, choose_at_desk, go_to, line_is_back, pair, untold
from tests.journeys.test_one_item import phone_at_a_table
from tests.journeys.test_screens import walk_to_first_zone
from tests.phone import Phone

TOLD = "Told by the owner, not checked"


def told_of_the_first_zone(page: Page, manager: Phone) -> tuple[str, str]:
    """The page stands at the first zone of its item, of which the owner told a finding: the ids of both."""
    zone = walk_to_first_zone(page).lower()
    expect(page.get_by_text("At the desk")).to_be_visible()
    [item] = [record for record in manager.feed()["records"] if record["kind"] == "item"]
    item_id = str(item["record_id"])
    kind, told = a_finding(
        manager.ids, item_id, zone, certainty="told", note="her aunt dropped it", salt="0" * 32
    )
    manager.keep((kind, told))
    manager.push()
    return item_id, str(told["finding_id"])


def test_what_an_owner_told_of_a_finding_is_put_right_at_their_table_and_at_the_desk(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    phone, page = phone_at_a_table(open_browser, office)
    item_id, finding_id = told_of_the_first_zone(page, manager)
    name = f"finding-notes/{finding_id}"

    def stands() -> Any:
        return manager.record(item_id)["fields"][name]["value"]

    page.get_by_role("button", name="More", exact=True).click()
    field = page.get_by_label(TOLD)
    expect(field).to_have_value("her aunt dropped it")
    with untold(phone, office):
        phone.set_offline(True)
        field.fill("her aunt's cat dropped it")
        page.locator(".zone-head h2").click()
        expect(page.get_by_text("On this device")).to_be_visible()
        page.reload()
        page.get_by_role("button", name="More", exact=True).click()
        expect(page.get_by_label(TOLD)).to_have_value("her aunt's cat dropped it")
        assert stands() == "her aunt dropped it"
    phone.set_offline(False)
    line_is_back(page)
    expect(page.get_by_text("At the desk")).to_be_visible()
    assert stands() == "her aunt's cat dropped it"

    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    choose_at_desk(desk, "Hester Quillfeather")
    desk.evaluate("(id) => { location.hash = `#/entry/${id}` }", item_id)
    field = desk.get_by_label(re.compile("^Of loss of pile, "))
    expect(field).to_have_value("her aunt's cat dropped it")
    field.fill("the cat dropped it")
    desk.locator(".entry-head h2").click()
    expect(page.get_by_label(TOLD)).to_have_value("the cat dropped it")
    assert stands() == "the cat dropped it"
    said = desk.get_by_text("put right what the owner told of a finding")
    expect(said).to_have_count(2)
    assert office.faults() == []


def test_a_table_at_which_the_owner_does_not_sit_reads_nothing_of_it_and_says_where_it_is_written(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    _, page = phone_at_a_table(open_browser, office)
    told_of_the_first_zone(page, manager)
    other = open_browser("other").pages[0]
    pair(other, office, "table", "Table 2", person="Hester Quillfeather")
    go_to(other, page.url)
    other.get_by_role("button", name="More", exact=True).click()
    expect(other.get_by_text("What the owner tells is written at their table")).to_be_visible()
    expect(other.get_by_label(TOLD)).to_have_count(0)
    assert "her aunt" not in other.content()
