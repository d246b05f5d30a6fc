"""A second press in haste makes nothing a second time, and quick presses that mean it all count."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import islice
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, ViewportSize, expect

from intake.tagging.tags import codes, shown
from tests.builders import Ids, a_fact, a_tie, a_visit, an_item
from tests.conftest import Office
from tests.journeys.conftest import (
    PHONE,
    Open,
    all_is_done,
    go_to,
    line_is_back,
    managers_day,
    next_screen,
    pair,
)
from tests.phone import Phone
from tests.presses import Press, press_after, press_twice_in_haste, with_a_finger, with_a_mouse

TABLET: ViewportSize = {"width": 834, "height": 1112}

# Enter, and the next number before anything of the first is kept.
KEYS_ON = """(field, next) => {
    field.form.requestSubmit();
    field.value = next;
    field.dispatchEvent(new Event("input", { bubbles: true }));
}"""


def names_of(manager: Phone, record_id: str, family: str) -> list[str]:
    return [name for name in manager.record(record_id)["fields"] if name.startswith(f"{family}/")]


def a_jug(manager: Phone, ids: Ids, day: dict[str, Any]) -> str:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q17"))
    item_id: str = manager.keep(an_item(ids, visit))["item_id"]
    manager.keep(a_fact(item_id, "class_id", "ceramics"))
    manager.push()
    return item_id


def at_the_desk(page: Page) -> None:
    """All that was pressed so far is recorded, and at the office."""
    all_is_done(page)
    with next_screen(page):
        page.evaluate("() => { location.hash = '#/outbox'; }")
    only_here = page.locator("dl.counts div").filter(has_text="Records on this device only")
    expect(only_here.locator("dd")).to_have_text("0")


def a_table(open_browser: Open, office: Office) -> Page:
    page = open_browser("table").pages[0]
    pair(page, office, "table", "Table 1", person="Hester Quillfeather")
    return page


def about_to_go_back(page: Page, office: Office, manager: Phone, jug: str) -> None:
    """A jug with a number, which one more press gives back to its owner."""
    manager.keep(a_tie(jug, next(codes(9900))))
    manager.push()
    line_is_back(page)
    go_to(page, f"{office.address}/#/item/{jug}/tag")
    page.get_by_role("button", name="The owner takes it back").click()
    expect(page.get_by_label("Given back by")).to_have_value("Hester Quillfeather")  # who is named here


def test_what_a_table_records_is_recorded_once(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    jug, gun = (a_jug(manager, ids, day) for _ in range(2))
    page = a_table(open_browser, office)
    go_to(page, f"{office.address}/#/item/{jug}/zone/rim")
    page.get_by_role("button", name="hall light").click()
    press_twice_in_haste(page.get_by_role("button", name="chip", exact=True))
    expect(page.get_by_role("heading", name="Another finding?")).to_be_visible()
    go_to(page, f"{office.address}/#/item/{gun}/stop")
    press_twice_in_haste(page.get_by_role("button", name="Ammunition", exact=True))
    expect(page.get_by_role("button", name="What was decided")).to_have_count(1)
    page.get_by_role("button", name="Ammunition", exact=True).click()  # nothing seemed to happen
    at_the_desk(page)
    assert len(names_of(manager, jug, "findings")) == 1
    assert len(names_of(manager, gun, "cautions")) == 1


def test_a_number_keyed_in_while_the_one_before_is_counted_stays(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """Both come in one task of the page, as from somebody who keys on while the storage is slow."""
    page = a_table(open_browser, office)
    go_to(page, f"{office.address}/#/porter")
    page.get_by_role("button", name="New bag, box or crate").click()
    page.get_by_role("button", name="Crate", exact=True).click()
    crate, other = map(shown, islice(codes(9900), 2))
    number = page.get_by_label("or key it in")
    number.fill(crate)
    number.evaluate(KEYS_ON, other)
    expect(page.locator(".scanned .row")).to_contain_text("crate opened")
    all_is_done(page)
    expect(number).to_have_value(other)


def test_what_is_given_back_is_moved_once(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    jug = a_jug(manager, ids, day)
    page = a_table(open_browser, office)
    about_to_go_back(page, office, manager, jug)
    press_twice_in_haste(page.get_by_role("button", name="Give it back, and sign for it"))
    page.wait_for_url(re.compile("/receipt"))
    at_the_desk(page)
    assert len(names_of(manager, jug, "moves")) == 1


def test_what_a_manager_sets_up_is_set_up_once(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    page = managers_day(open_browser, office)
    people, tables = (len(names_of(manager, day["day_id"], family)) for family in ("people", "tables"))
    valuer = page.get_by_role("group", name="Work", exact=True).get_by_role("button", name="Valuer")
    page.get_by_label("Add a person").fill("Ivy Pell")
    valuer.click()
    press_twice_in_haste(page.get_by_role("button", name="Add", exact=True))
    expect(page.get_by_text("Ivy Pell is added.")).to_be_visible()
    page.get_by_label("Add a person").fill("Abel Voss")
    valuer.click()
    page.get_by_label("Add a person").evaluate(KEYS_ON, "Nell")
    expect(page.get_by_text("Abel Voss is added.")).to_be_visible()
    expect(page.get_by_label("Add a person")).to_have_value("Nell")  # typed while the first was kept
    page.get_by_role("button", name=re.compile("Correct house")).click()
    press_twice_in_haste(page.get_by_role("button", name="One table more"))
    expect(page.get_by_label("Name of Table 2")).to_be_visible()
    go_to(page, f"{office.address}/#/closing")
    page.get_by_role("button", name="Note a difference").click()
    page.get_by_role("button", name="An item is missing").click()
    page.get_by_label("What was seen and done first").fill("a box too few")
    press_twice_in_haste(page.get_by_role("button", name="Put it on record"))
    at_the_desk(page)
    assert len(names_of(manager, day["day_id"], "people")) == people + 2
    assert len(names_of(manager, day["day_id"], "tables")) == tables + 1
    assert len(names_of(manager, day["day_id"], "differences")) == 1
    go_to(page, f"{office.address}/#/day")
    page.get_by_role("button", name="Set up another day").click()
    page.get_by_label("House").first.fill("Second House")
    page.get_by_label("Place").first.fill("Hall")
    press_twice_in_haste(page.get_by_role("button", name="Set it up"))
    expect(page.get_by_text("The day is set up.")).to_be_visible()
    at_the_desk(page)
    assert len([1 for record in manager.feed()["records"] if record["kind"] == "day"]) == 2


def test_quick_presses_that_are_all_meant_count(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """One button after the other at once, as fast as a page takes them; and one again as soon as it can be pressed."""
    jug = a_jug(manager, ids, day)
    page = a_table(open_browser, office)
    go_to(page, f"{office.address}/#/item/{jug}/zone/rim")
    page.get_by_role("button", name="hall light").click()
    page.get_by_role("button", name="chip", exact=True).click()
    severities = page.get_by_role("group", name=re.compile("How bad|Severity", re.I)).get_by_role("button")
    expect(severities.last).to_be_visible()
    severities.evaluate_all("(buttons) => { for (const button of buttons) button.click(); }")
    expect(severities.last).to_have_attribute("aria-pressed", "true")
    go_to(page, f"{office.address}/#/item/{jug}/zones")
    page.locator("ol.zones li.next a").click()
    for _ in range(5):
        page.get_by_role("button", name="Clear", exact=True).click()
    expect(page.locator(".zone-head h2")).to_be_visible()
    at_the_desk(page)
    assert len(names_of(manager, jug, "zones")) == 6


def lies_under(page: Page, point: tuple[float, float], key: Locator) -> bool:
    """Whether that key is what a finger at that point would press."""
    of_it = "(key, [x, y]) => key.contains(document.elementFromPoint(x, y))"
    return bool(key.evaluate(of_it, list(point)))


def middle(key: Locator) -> tuple[float, float]:
    box = key.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def press_and_hasten(page: Page, key: Locator, came: Locator) -> tuple[float, float]:
    """A press, and another in the same place 200 ms after another key has come to lie there; where that was."""
    expect(key).to_be_visible()
    point = middle(key)
    press_after(page, 1000, point)
    expect(came).to_be_visible()
    expect(page.locator("[aria-disabled]")).to_have_count(0)  # what the first began is done
    assert lies_under(page, point, came), "the second press would hit nothing"
    press_after(page, 200, point)
    return point


def test_a_press_in_haste_never_hits_what_came_under_the_finger(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """New visit, and no item; what it never had, and not on to the next zone."""
    jug = a_jug(manager, ids, day)
    page = a_table(open_browser, office)
    point = press_and_hasten(
        page,
        page.get_by_role("button", name="New visit"),
        page.get_by_role("button", name="Put an item on the table"),
    )
    at_the_desk(page)
    assert len([1 for record in manager.feed()["records"] if record["kind"] == "item"]) == 1
    page.go_back()
    expect(page.get_by_role("button", name="Put an item on the table")).to_be_visible()
    press_after(page, 400, point)
    page.wait_for_url(re.compile("#/item/"))
    page.goto(f"{office.address}/#/item/{jug}/zones")
    page.get_by_role("button", name="It never had …").click()
    page.get_by_role("button", name="Spout", exact=True).click()
    press_and_hasten(
        page,
        page.get_by_role("button", name="It never had this"),
        page.get_by_role("link", name=re.compile("Begin|Go on")),
    )
    at_the_desk(page)
    page.go_back()
    expect(page.locator("h1")).to_contain_text("left of")


def test_an_owner_who_takes_a_thing_back_reads_before_they_go_on(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    jug = a_jug(manager, ids, day)
    page = a_table(open_browser, office)
    about_to_go_back(page, office, manager, jug)
    turn = page.get_by_role("button", name="To the owner")
    signs = page.get_by_role("button", name=re.compile("Say who takes it back|signs for the house"))
    press_and_hasten(page, page.get_by_role("button", name="Give it back, and sign for it"), signs)
    expect(turn).to_be_visible()
    press_after(page, 400, middle(turn))
    expect(turn).to_have_count(0)


@pytest.mark.parametrize(
    ("pressing", "size"),
    [(with_a_mouse, PHONE), (with_a_finger, PHONE), (with_a_finger, TABLET)],
    ids=["mouse", "finger", "tablet"],
)
def test_a_steady_thumb_walks_through_the_zones(
    office: Office,
    manager: Phone,
    ids: Ids,
    day: dict[str, Any],
    open_browser: Open,
    pressing: Callable[[Page], Press],
    size: ViewportSize,
) -> None:
    """Clear, Clear, Clear, wherever on the key and at whatever pace: what is said of each moves no key."""
    jugs = {(part, ms): a_jug(manager, ids, day) for part, ms in ((0.12, 160), (0.5, 250), (0.88, 1000))}
    page = open_browser("table", size=size).pages[0]
    pair(page, office, "table", "Table 1", person="Hester Quillfeather")
    press = pressing(page)
    clear = page.get_by_role("button", name="Clear", exact=True)
    for (part, ms), jug in jugs.items():
        go_to(page, f"{office.address}/#/item/{jug}/zone/outline")
        light = page.get_by_role("button", name="hall light")
        if light.get_attribute("aria-pressed") != "true":
            light.click()
        expect(clear).to_be_enabled()
        box = clear.bounding_box()
        assert box is not None
        point = box["x"] + box["width"] / 2, box["y"] + box["height"] * part
        for _ in range(10):
            zone = page.locator(".zone-head h2").inner_text()
            press_after(page, ms, point, press)
            expect(page.locator(".zone-head h2")).not_to_have_text(zone)
            expect(page.locator("[aria-disabled]")).to_have_count(0)
            assert clear.bounding_box() == pytest.approx(box, abs=1), "no thumb feels less"
    at_the_desk(page)
    assert [len(names_of(manager, jug, "zones")) for jug in jugs.values()] == [10, 10, 10]
