"""A ring at the table: nobody asks for what no ring has; what is left is led to."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import Page, expect

from tests.builders import Ids, a_fact, a_visit, an_item
from tests.conftest import Office
from tests.journeys.conftest import Open, go_to, pair, press_there
from tests.phone import Phone


def a_camera_out_of_sight_takes_nothing(page: Page) -> None:
    """The label first brings it back, and then takes: whoever scrolled away did not see what was before it."""
    take = page.get_by_role("button", name=re.compile("^Take: "))
    pictures, video = page.locator(".photo-rows li"), page.locator(".camera video")
    press_there(take)
    expect(pictures).to_have_count(1)
    page.evaluate("scrollTo(0, document.body.scrollHeight)")
    expect(video).not_to_be_in_viewport(ratio=0.3)
    press_there(take)
    expect(video).to_be_in_viewport()
    expect(pictures).to_have_count(1)
    expect(page.get_by_role("button", name="Keeping the last picture")).to_have_count(0)
    expect(video).to_be_in_viewport(ratio=0.9)
    page.evaluate(DRAWN)
    press_there(take)
    expect(pictures).to_have_count(2)
    page.evaluate(UNDER_THE_HEAD)
    page.evaluate(DRAWN)
    press_there(take)
    expect(pictures).to_have_count(2)
    expect(video).to_be_in_viewport(ratio=0.9)
    page.evaluate(DRAWN)
    press_there(take)
    expect(pictures).to_have_count(3)


#: What was scrolled to is drawn, with what comes a frame later.
DRAWN = "() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(drawn))))"
#: On the screen by its numbers, and yet nobody sees what would be taken: the head of the page lies over it.
UNDER_THE_HEAD = """() => {
  const middle = (where) => {
    const { top, bottom } = document.querySelector(where).getBoundingClientRect();
    return (top + bottom) / 2;
  };
  scrollBy(0, middle(".camera video") - middle(".top"));
}"""
#: Until `letGo` is called, no picture of the camera is kept.
SLOW_TO_KEEP = """() => {
  const wait = new Promise((resolve) => { globalThis.letGo = resolve; });
  const pictures = [[globalThis.ImageCapture?.prototype, "takePhoto"], [OffscreenCanvas.prototype, "convertToBlob"]];
  for (const [of, name] of pictures) {
    const own = of?.[name];
    if (own) of[name] = async function (...given) { await wait; return own.apply(this, given); };
  }
}"""


def a_picture_that_is_slow_to_keep_is_said(page: Page) -> None:
    """The label takes no press until the picture is kept, and says so: nobody believes in a picture that never was."""
    take = page.get_by_role("button", name=re.compile("^Take: "))
    pictures = page.locator(".photo-rows li")
    count = pictures.count()
    page.evaluate(SLOW_TO_KEEP)
    press_there(take)
    expect(page.get_by_role("button", name="Keeping the last picture")).to_be_visible()
    expect(take).to_have_count(0)
    page.evaluate("letGo()")
    expect(pictures).to_have_count(count + 1)
    expect(take).to_be_visible()


def test_of_a_ring_nobody_asks_what_no_ring_has(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q17"))
    item_id = manager.keep(an_item(ids, visit))["item_id"]
    manager.keep(a_fact(item_id, "class_id", "jewellery"))
    manager.keep(a_fact(item_id, "short_description", "ring with a blue stone"))
    manager.push()
    (page,) = open_browser("phone").pages
    pair(page, office, "table", "Table 1")
    item = f"{office.address}/#/item/{item_id}"
    go_to(page, f"{item}/zones")
    zones = page.locator("ol.zones")
    expect(zones.get_by_role("link", name="shank")).to_be_visible()
    expect(zones.get_by_role("link", name=re.compile("^(links|clasp|brooch pin)"))).to_have_count(0)
    go_to(page, f"{item}/works")
    expect(page.get_by_role("heading", name="loupe")).to_be_visible()
    expect(page.get_by_role("heading", name="catch")).to_have_count(0)
    expect(page.get_by_label("Width of a brooch")).to_have_count(0)

    go_to(page, f"{item}/photos/camera")
    take = page.get_by_role("button", name=re.compile("^Take: "))
    expect(take).to_be_visible()
    expect(page.get_by_text(re.compile("pair together", re.IGNORECASE))).to_have_count(0)
    a_camera_out_of_sight_takes_nothing(page)
    a_picture_that_is_slow_to_keep_is_said(page)

    go_to(page, item)
    made = page.locator("details", has=page.get_by_role("heading", name="Maker and date"))
    expect(made).not_to_have_attribute("open", "")
    page.get_by_role("button", name="Date, or that it is not determined").click()
    expect(made.get_by_label("Date", exact=True)).to_be_visible()
    expect(made).to_be_in_viewport()
    assert office.faults() == []
