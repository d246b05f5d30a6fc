"""Runs of tickets on Day: each is one device's, and no other ever gives one of them."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page, expect

from tests.conftest import Office
from tests.journeys.conftest import Open, pair
from tests.phone import Phone


def press_twice(page: Page, words: str) -> None:
    """A finger that is quicker than the page is drawn."""
    page.get_by_role("button", name=words).evaluate("(button) => { button.click(); button.click(); }")


def test_a_run_is_given_once_and_stays_with_its_device(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    office.pair("door", "Door A")
    office.pair("door", "Door B")
    page = open_browser("manager").pages[0]
    pair(page, office, "manager", "Manager")
    page.goto(f"{office.address}/#/day")
    for door, first in (("Door A", "Q01"), ("Door B", "Q101")):
        page.get_by_label("Give a run to").select_option(label=door)
        press_twice(page, f"Give 100 tickets from {first} on")
        expect(page.get_by_text(f"{door} has the tickets")).to_be_visible()
        expect(page.get_by_role("alert")).to_have_count(0)
    expect(page.get_by_text("Q101 to Q200, Door B: 0 of 100 used")).to_be_visible()
    expect(page.get_by_text("A run stays with its device")).to_be_visible()
    expect(page.get_by_label("Who has it")).to_have_count(0)
    expect(page.get_by_label("Give it to")).to_have_count(0)
    expect(page.get_by_text("All at the desk")).to_be_visible()
    page.goto(f"{office.address}/#/outbox")
    expect(page.locator("dl.counts div").filter(has_text="Refused").locator("dd")).to_have_text("0")
    (listed,) = (record for record in manager.feed()["records"] if record["kind"] == "day")
    runs = [field["value"] for name, field in listed["fields"].items() if name.startswith("ticket-runs/")]
    assert sorted((run["first"], run["last"], run["given_to"]) for run in runs) == [
        (1, 100, "Door A"),
        (101, 200, "Door B"),
    ]
    assert office.faults() == []
