"""A small, short phone: what is pressed leaves two thirds of the screen to what is read, drawn on and looked at."""

from __future__ import annotations

from itertools import islice
from typing import Any

from playwright.sync_api import Page, ViewportSize, expect

from intake.tagging.tags import codes
from tests.builders import Ids, a_fact, a_visit, an_item
from tests.conftest import Office
from tests.journeys.conftest import Open, go_to, pair
from tests.journeys.test_receipt import sign_on_paper
from tests.journeys.test_stop import expect_in_view, first_minute
from tests.phone import Phone

SHORT: ViewportSize = {"width": 320, "height": 568}


CUT = """() => [...document.querySelectorAll(".tie-on, .tie-on > *")]
  .filter((words) => words.scrollHeight > words.clientHeight + 1).map((words) => words.textContent)"""


def expect_low_keys(page: Page) -> None:
    """The keys at the thumb take a third of the screen at most, each is there without scrolling among them, and the
    next step is read whole."""
    assert page.evaluate(CUT) == []
    tall, hidden = page.evaluate(
        "() => { const dock = document.querySelector('.dock');"
        " return [dock.getBoundingClientRect().height, dock.scrollHeight - dock.clientHeight]; }"
    )
    assert tall <= SHORT["height"] / 3, page.locator(".dock").inner_text()
    assert hidden <= 0, page.locator(".dock").inner_text()


def test_a_short_phone_shows_whom_to_call_and_where_to_sign_above_its_keys(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q75"))
    items = []
    for name, tag in zip(("bracket clock", "harbour at dusk"), islice(codes(9830), 2), strict=True):
        items.append(manager.keep(an_item(ids, visit))["item_id"])
        manager.keep(a_fact(items[-1], "short_description", name))
        manager.keep(a_fact(items[-1], "class_id", "clock"))
        manager.keep(("tie_tag", {"item_id": items[-1], "tag": tag, "piece": 1, "of": 1}))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    page = open_browser("phone").pages[0]
    pair(page, office, "table", "Table 1")
    receipt = f"{office.address}/#/visit/{visit['visit_id']}/receipt"
    page.goto(receipt)
    sign_on_paper(page, 2)
    page.set_viewport_size(SHORT)

    for address in ("stop", f"item/{items[1]}/stop"):
        go_to(page, f"{office.address}/#/{address}")
        page.get_by_role("button", name="Unknown chemical or crystals", exact=True).click()
        number = first_minute(page).get_by_text("999 or 112")
        expect(number).to_have_count(1)
        expect_low_keys(page)
        expect_in_view(page, number)
        expect_in_view(page, first_minute(page).locator("li").nth(1))
    call = page.locator(".dock").get_by_role("button", name="Go away first. Call, then the decision")
    assert call.locator(".leads-to").evaluate("(words) => words.scrollHeight <= words.clientHeight")

    go_to(page, f"{office.address}/#/item/{items[0]}/zones")
    page.locator("ol.zones li.next a").click()
    expect(page.get_by_role("button", name="Not examined")).to_be_visible()
    expect_low_keys(page)
    page.get_by_role("button", name="hall light").click()
    page.get_by_role("button", name="Clear", exact=True).click()
    expect(page.get_by_role("button", name="Undo")).to_be_visible()
    expect_low_keys(page)

    go_to(page, f"{office.address}/#/item/{items[0]}/tag")
    page.get_by_role("button", name="The owner takes it back").click()
    expect_in_view(page, page.get_by_label("Given back by"))
    page.get_by_label("Given back by").fill("Hester")
    expect_low_keys(page)
    page.locator(".dock").get_by_role("button", name="Give it back, and sign for it").click()
    pad = page.locator("svg.signature:not(.drawn)").first
    expect(pad).to_be_visible()
    expect_low_keys(page)
    expect_in_view(page, pad)
