"""A desk reads a long day's closing: every count at once, the lines by pages, and all of them on the paper."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import expect

from tests.builders import Ids, a_visit
from tests.conftest import Clock, Office
from tests.journeys.conftest import DESK, Open, go_to, line_is_back, pair
from tests.journeys.test_letting_go import taken_off
from tests.phone import Phone

VISITS = 130
PRINTED = """() => {
    window.print = () => { window.printed = document.querySelectorAll('.found li').length; };
}"""


def test_a_long_closing_comes_by_pages_and_is_printed_whole(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    for number in range(VISITS):
        manager.keep(a_visit(ids, day["day_id"], ticket=f"L{number}"))
    manager.push()
    page = open_browser("desk", size=DESK).pages[0]
    pair(page, office, "desk", "Desk")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url.removeprefix(office.address)))
    go_to(page, f"{office.address}/#/closings/{day['day_id']}")
    kind = page.locator("summary").filter(has_text="Visits still open")
    expect(kind).to_contain_text(str(VISITS))
    expect(page.get_by_role("heading", name=f"Closing: {VISITS} to explain")).to_be_visible()
    kind.click()
    lines = page.locator(".found li")
    expect(lines).to_have_count(12)
    page.get_by_role("button", name="Show more (118 left)").click()
    expect(lines).to_have_count(112)
    assert len([address for address in asked if "/closing/lines" in address]) == 1

    one_more(manager, ids, day)
    expect(kind).to_contain_text(str(VISITS + 1))
    expect(lines).to_have_count(112)
    expect(page.get_by_role("button", name="Show more (19 left)")).to_be_visible()

    page.evaluate(PRINTED)
    page.get_by_role("button", name="Print this page").click()
    page.wait_for_function("() => window.printed > 0")
    assert page.evaluate("() => window.printed") == VISITS + 1
    expect(page.get_by_role("button", name="Show more")).to_have_count(0)
    one_more(manager, ids, day)
    expect(kind).to_contain_text(str(VISITS + 2))
    assert office.faults() == []


def test_a_closing_that_is_shown_goes_as_the_device_is_signed_off(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], clock: Clock, open_browser: Open
) -> None:
    one_more(manager, ids, day)
    page = open_browser("desk", size=DESK).pages[0]
    pair(page, office, "desk", "Door 1")
    go_to(page, f"{office.address}/#/closings/{day['day_id']}")
    expect(page.get_by_role("heading", name="Closing: 1 to explain")).to_be_visible()
    expect(page.locator(".found li")).to_have_count(1)
    taken_off(page, office, manager, day, clock)
    line_is_back(page)
    expect(page.get_by_text("taken this device off").first).to_be_visible()
    expect(page.locator(".found li")).to_have_count(0)
    expect(page.get_by_role("heading", name="Closing: 1 to explain")).to_have_count(0)


def one_more(manager: Phone, ids: Ids, day: dict[str, Any]) -> None:
    """Another visit comes while the closing stands on the screen."""
    manager.keep(a_visit(ids, day["day_id"], ticket="NEW"))
    manager.push()
