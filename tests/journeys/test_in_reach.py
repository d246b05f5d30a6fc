"""What a tired hand reaches and a tired eye reads whole: the next step, the zone before, that a thing is stopped."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Locator, Page, ViewportSize, expect

from tests.builders import Ids, a_caution, a_fact, a_visit, an_item
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, all_is_done, choose_at_desk, go_to, managers_day, pair
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


def test_what_is_said_of_a_press_lies_on_no_key_that_was_pressed(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    page = managers_day(open_browser, office)
    page.set_viewport_size({"width": 390, "height": 844})
    page.get_by_label("Add a person").fill("Ivy Pell")
    page.get_by_role("group", name="Work", exact=True).get_by_role("button", name="Valuer").click()
    add = page.get_by_role("button", name="Add", exact=True)
    # As far down as it can be read and pressed.
    add.evaluate("key => scrollBy(0, key.getBoundingClientRect().bottom - innerHeight + 4)")
    add.click()
    expect(page.get_by_text("Ivy Pell is added.")).to_be_visible()
    key = box(page.get_by_role("button", name="Write the name first"))
    assert key["y"] + key["height"] <= box(page.locator(".dock"))["y"] + 1


def test_neither_maker_nor_date_is_determined_by_one_press(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """And nobody is asked what speaks for it."""
    item = a_clock(manager, ids, day, "bracket clock")
    page = at_a_table(open_browser, office, manager)
    go_to(page, f"{office.address}/#/item/{item}")
    page.locator("#made summary").click()
    page.get_by_role("button", name="Neither is determined").click()
    expect(page.get_by_label("How sure of the maker")).to_have_value("unknown")
    expect(page.get_by_role("button", name="Not determined", exact=True)).to_have_attribute(
        "aria-pressed", "true"
    )
    expect(page.get_by_text("What speaks for")).to_have_count(0)
    all_is_done(page)
    expect(page.get_by_text("At the desk")).to_be_visible()
    fields = manager.record(item)["fields"]
    said = [fields[name]["value"] for name in ("maker_certainty", "dates_certainty")]
    assert said == ["unknown", "not-determined"]
    assert office.faults() == []


def test_the_way_back_takes_no_room_of_a_desk(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    item = a_clock(manager, ids, day, "bracket clock")
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    choose_at_desk(desk, "Hester Quillfeather")
    desk.goto(f"{office.address}/#/entry/{item}")
    foot = desk.locator(".keys-foot")
    before = box(foot)
    desk.get_by_role("button", name="Pick up").click()
    undo = desk.get_by_role("button", name="Undo")
    expect(undo).to_be_visible()
    assert box(foot) == before
    assert box(undo)["y"] >= before["y"] - 1
    undo.click()
    expect(desk.get_by_role("button", name="Pick up")).to_be_visible()
