"""Views that nobody takes are said at once, for one reason, and the tag is one touch away while they are open."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import expect

from tests.conftest import Office
from tests.journeys.conftest import Open, next_screen
from tests.journeys.test_photos_together import at_the_photos_of_a_pot


def test_the_views_that_are_left_are_said_at_once_but_for_those_that_are_still_to_come(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    page = at_the_photos_of_a_pot(open_browser, office)
    heading = page.get_by_role("heading", level=1)
    views = int(re.findall(r"\d+", heading.inner_text())[0])
    page.get_by_role("button", name=f"Rest: no picture ({views})").click()
    kept = page.locator("section.card .chip[aria-pressed=true]")
    expect(kept).to_have_count(views)
    kept.first.click()
    expect(kept).to_have_count(views - 1)
    page.get_by_role("button", name="Queue too long").click()
    expect(page.get_by_role("status").filter(has_text=f"{views - 1} views not taken")).to_be_visible()
    expect(page.locator(".view-tile.skipped")).to_have_count(views - 1)
    expect(heading).to_contain_text("1 view missing")
    # One that is left has no rest.
    expect(page.get_by_role("button", name=re.compile("^No picture of"))).to_be_visible()
    expect(page.get_by_role("button", name=re.compile("^Rest: no picture"))).to_have_count(0)
    page.locator("button.undo").first.click()
    expect(page.locator(".view-tile.skipped")).to_have_count(0)
    assert office.faults() == []


def test_a_tag_can_be_tied_while_views_are_open(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    page = at_the_photos_of_a_pot(open_browser, office)
    with next_screen(page):
        page.get_by_role("link", name="Tie the tag: the views stay open").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Tag")
    assert office.faults() == []
