"""What a tired hand reaches and a tired eye reads whole: the next step, the zone before, that a thing is stopped."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Locator, Page, ViewportSize, expect

from tests.builders import Ids, a_caution, a_fact, a_visit, an_item
from tests.conftest import Office
from tests.journeys.conftest import Open, go_to, pair
from tests.phone import Phone

TABLET: ViewportSize = {"width": 834, "height": 1112}
#: The longest that is taken, of words that cannot break.
LONG = ("Silberlöffelschubladenschlüsselring " * 5)[:200]


def box(shown: Locator) -> dict[str, float]:
    """Where it is drawn."""
    drawn = shown.bounding_box()
    assert drawn
    return {"x": drawn["x"], "y": drawn["y"], "width": drawn["width"], "height": drawn["height"]}


def a_clock(manager: Phone, ids: Ids, day: dict[str, Any], words: str) -> str:
    """On record at the office, and no zone of it looked at."""
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q75"))
    item = str(manager.keep(an_item(ids, visit))["item_id"])
    manager.keep(a_fact(item, "short_description", words))
    manager.keep(a_fact(item, "class_id", "clock"))
    return item


def at_a_table(open_browser: Open, office: Office, manager: Phone) -> Page:
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    page = open_browser("phone").pages[0]
    pair(page, office, "table", "Table 1")
    return page


def test_where_undo_stands_the_zone_before_is_while_nothing_is_to_be_undone(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """A blank stood there, and the label began beside it; no key moves as the one takes the place of the other."""
    item = a_clock(manager, ids, day, "bracket clock")
    page = at_a_table(open_browser, office, manager)
    go_to(page, f"{office.address}/#/item/{item}/zones")
    page.locator("ol.zones li.next a").click()
    before, undo = page.get_by_role("button", name="Previous"), page.get_by_role("button", name="Undo")
    left = page.locator(".see-left")  # the keys in the label's place
    zone = page.locator(".zone-head h2")
    expect(left).to_be_visible()
    expect(before).to_have_count(0)  # of the first
    assert box(left)["x"] < 30, "nor is a blank left in its place"
    first = zone.inner_text()

    page.get_by_role("button", name="hall light").click()
    page.get_by_role("button", name="Clear", exact=True).click()
    expect(undo).to_be_visible()
    expect(before).to_be_hidden()
    there = [box(key)[edge] for key in (undo, left) for edge in ("x", "width")]
    page.reload()  # what was done before is not undone from here any more
    expect(before).to_be_visible()
    assert [box(key)[edge] for key in (before, left) for edge in ("x", "width")] == there
    before.click()
    expect(zone).to_have_text(first)
    assert office.faults() == []


def test_that_a_thing_is_stopped_is_read_whole_however_far_somebody_scrolled(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    item = a_clock(manager, ids, day, "bracket clock")
    manager.keep(a_caution(ids, item))
    page = at_a_table(open_browser, office, manager)
    go_to(page, f"{office.address}/#/item/{item}")
    line = page.get_by_role("link", name="Red: stopped.")
    expect(page.get_by_role("alert")).to_contain_text("Red: stopped.")  # it is told as well
    page.evaluate("() => scrollTo(0, document.body.scrollHeight)")
    expect(page.get_by_role("alert")).not_to_be_in_viewport()
    expect(line).to_be_in_viewport(ratio=1)
    line.click()
    expect(page).to_have_url(f"{office.address}/#/item/{item}/stop")
    expect(line).to_have_count(0)  # that screen says it below
    assert office.faults() == []


def test_a_long_name_does_not_fill_the_first_view_with_what_is_stopped(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    manager.keep(a_caution(ids, a_clock(manager, ids, day, LONG)))
    page = at_a_table(open_browser, office, manager)
    alert = page.get_by_role("alert").filter(has_text="is stopped:")
    expect(alert).to_contain_text(LONG.strip()[-20:])  # whoever is read to hears all of it
    expect(alert.get_by_role("link", name="Keep away. Read why")).to_be_in_viewport(ratio=1)
    assert box(alert)["height"] < 110
    assert office.faults() == []


def test_on_a_tablet_the_next_step_ends_where_what_is_read_ends(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """At the hand that holds it, and no longer in the middle between two."""
    item = a_clock(manager, ids, day, "bracket clock")
    page = at_a_table(open_browser, office, manager)
    page.set_viewport_size(TABLET)
    go_to(page, f"{office.address}/#/item/{item}")
    label, doors = box(page.locator(".dock .tie-on")), box(page.locator(".doors"))
    assert abs(label["x"] + label["width"] - doors["x"] - doors["width"]) < 1
    assert office.faults() == []
