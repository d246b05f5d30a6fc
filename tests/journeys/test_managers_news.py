"""A manager's Today and Closing ask the office as something of their day is kept, and not at what other days do."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.builders import Ids, a_day, a_visit
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, go_to, pair
from tests.phone import Phone

LISTEN = """() => {
    window.heard = 0;
    new EventSource("/sync/events").addEventListener("message", () => (window.heard += 1));
}"""
A_WHILE_MS = 1500  # longer than the rest between two requests; three are shorter than until a round by itself
LONGEST_REST_MS = 16_500
OF_NEWS = ("/sync/feed", "/closing", "/copies")
SECONDS, NEWS_A_SECOND = 9, 4


def heard(page: Page, manager: Phone, ids: Ids, day_id: str, ticket: str) -> None:
    """Something of a day is kept, and the page has heard of it and done what it does."""
    before = page.evaluate("() => window.heard")
    manager.keep(a_visit(ids, day_id, ticket=ticket))
    manager.push()
    page.wait_for_function("before => window.heard > before", arg=before)
    page.clock.run_for(A_WHILE_MS)


@pytest.mark.parametrize("screen", ["today", "closing"])
def test_a_screen_of_a_day_asks_at_the_news_of_that_day(
    screen: str, office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    page = open_browser("manager", size=DESK).pages[0]
    page.clock.install()
    pair(page, office, "manager", "Manager")
    go_to(page, f"{office.address}/#/{screen}")
    expect(page.get_by_role("heading", name=screen.title(), exact=True)).to_be_visible()
    another = manager.keep(a_day(ids))
    manager.push()
    page.evaluate(LISTEN)
    page.wait_for_function("() => window.heard > 0")
    page.clock.run_for(LONGEST_REST_MS)  # whatever the other day's beginning led to has been asked
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url.removeprefix(office.address).split("?")[0]))
    for _ in range(20):  # a round by itself has just been, and the next is far
        page.clock.run_for(1000)
        if "/sync/feed" in asked:
            break
    page.clock.run_for(A_WHILE_MS)
    asked.clear()
    heard(page, manager, ids, another["day_id"], "E1")
    assert [address for address in asked if address.startswith(OF_NEWS)] == []
    heard(page, manager, ids, day["day_id"], "S1")
    shown = page.get_by_text("S1") if screen == "today" else page.get_by_text("1 visit")
    expect(shown.first).to_be_visible()
    if screen == "closing" and "/closing" not in asked:
        page.clock.run_for(LONGEST_REST_MS)  # the answer before took long on this machine
    of_news = [address for address in asked if address.startswith(OF_NEWS)]
    assert set(of_news) == ({"/sync/feed"} if screen == "today" else {"/closing", "/sync/feed"})
    assert of_news.count("/closing") <= 1


def test_a_burst_of_news_costs_a_closing_two_requests_a_second(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """All its parts together: the round of syncing with feed and plans, and what only the office knows."""
    page = open_browser("manager", size=DESK).pages[0]
    page.clock.install()
    pair(page, office, "manager", "Manager")
    go_to(page, f"{office.address}/#/closing")
    expect(page.get_by_role("heading", name="Closing", exact=True)).to_be_visible()
    page.evaluate(LISTEN)
    page.wait_for_function("() => window.heard > 0")
    page.clock.run_for(LONGEST_REST_MS)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url.removeprefix(office.address).split("?")[0]))
    for number in range(SECONDS * NEWS_A_SECOND):
        before = page.evaluate("() => window.heard")
        manager.keep(a_visit(ids, day["day_id"], ticket=f"B{number}"))
        manager.push()
        page.wait_for_function("before => window.heard > before", arg=before)
        page.clock.run_for(1000 // NEWS_A_SECOND)
    of_news = [address for address in asked if address.startswith((*OF_NEWS, "/plans"))]
    of_a_round_by_itself = 2
    assert len(of_news) <= 2 * SECONDS + of_a_round_by_itself, of_news
    assert {"/sync/feed", "/closing"} <= set(of_news)
