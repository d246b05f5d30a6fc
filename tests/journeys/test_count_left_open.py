"""Of a day that is over something is still to be taken in: a count of it is begun and not recorded, or it is on its
way."""

from __future__ import annotations

import re
from itertools import islice
from typing import Any

from playwright.sync_api import Page, expect

from intake.tagging.tags import codes
from tests.builders import Ids, a_move, a_photo, a_tie, picture
from tests.closings import close_with_all
from tests.conftest import Office
from tests.journeys.conftest import Open, add_ana, all_is_done, go_to, line_is_back, pair
from tests.journeys.test_porter import key_in, move_to, press_twice
from tests.journeys.test_pressed_twice import at_the_desk
from tests.journeys.test_second_day import an_item_named, by_hand, next_day, people_of
from tests.phone import Phone


def loads_of(manager: Phone, day: dict[str, Any]) -> dict[str, dict[str, Any]]:
    """The loads of a day, as the office has them, by their ids."""
    fields = manager.record(day["day_id"])["fields"].items()
    return {
        name.removeprefix("loads/"): field["value"] for name, field in fields if name.startswith("loads/")
    }


def jugs_left_in_the_van(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> tuple[Page, list[str]]:
    """A porter's page and the numbers of two jugs, which left with a load that is counted; then the day was closed."""
    add_ana(manager, day)
    numbers = list(islice(codes(9000), 2))
    for place, tag in enumerate(numbers, 1):
        manager.keep(a_tie(an_item_named(manager, ids, day, f"Q0{place}", f"jug {place}"), tag))
    manager.push()
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Hester Quillfeather")
    go_to(page, f"{office.address}/#/porter")
    move_to(page, "Van")
    for tag in numbers:
        key_in(page, tag, "to van")
    by_hand(page, 0, 2)
    page.get_by_label("Who drives").fill("Ana Thistle")
    press_twice(page)
    expect(page.get_by_role("status").filter(has_text="What was counted is what was scanned")).to_be_visible()
    at_the_desk(page)
    close_with_all(manager, day["day_id"])
    return page, numbers


def test_what_came_the_day_after_is_held_against_its_load_a_day_later_still(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """The porter works on the next day, is called away in the middle of the count, and records it a day later."""
    page, numbers = jugs_left_in_the_van(office, manager, ids, day, open_browser)
    second = next_day(manager, {**day, "people": people_of(manager, day)}, "2026-03-15")
    manager.push()
    office.clock.pass_by(hours=14)
    go_to(page, f"{office.address}/#/today")
    line_is_back(page)
    expect(page.locator(".of-day")).to_contain_text("15 March 2026")
    go_to(page, f"{office.address}/#/porter")
    move_to(page, "Store")
    for tag in numbers:
        key_in(page, tag, "van to store")
    at_the_desk(page)

    office.clock.pass_by(hours=26)
    for _ in range(2):
        line_is_back(page)
        all_is_done(page)
    go_to(page, f"{office.address}/#/porter")
    expect(page.get_by_text("Nothing of it is still to come.")).to_be_visible()
    by_hand(page, 0, 2)
    page.get_by_role("button", name="Record the count").click()
    came = page.get_by_role("status").filter(has_text="2 of 2 that left have come")
    expect(came).to_be_visible()
    at_the_desk(page)
    go_to(page, f"{office.address}/#/porter")
    line_is_back(page)
    expect(came).to_be_visible()
    expect(came.get_by_role("link")).to_have_count(0)  # its day has left, and nothing of it is compared here
    loads = loads_of(manager, day)
    (left,) = (load_id for load_id, load in loads.items() if load["to_place"] == "van")
    assert [load.get("of_load") for load in loads.values() if load["to_place"] == "store"] == [left]
    assert not loads_of(manager, second)
    assert office.faults() == []


def test_what_came_of_a_count_stands_though_its_day_goes_with_it(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """The day is over, and its last count is recorded: the device goes on to the next day by itself, and whoever
    counted reads what has come, and goes on to compare it."""
    page, numbers = jugs_left_in_the_van(office, manager, ids, day, open_browser)
    office.clock.pass_by(hours=8)
    go_to(page, f"{office.address}/#/today")
    line_is_back(page)
    go_to(page, f"{office.address}/#/places")
    page.get_by_role("link", name=re.compile("on the way")).first.click()
    page.get_by_role("button", name="It has come").click()
    for tag in numbers:
        key_in(page, tag, "van to store")
    at_the_desk(page)
    next_day(manager, {**day, "people": people_of(manager, day)}, "2026-03-15")
    manager.push()
    office.clock.pass_by(hours=6)
    line_is_back(page)
    all_is_done(page)
    go_to(page, f"{office.address}/#/porter")
    by_hand(page, 0, 2)
    page.get_by_role("button", name="Record the count").click()
    at_the_desk(page)
    go_to(page, f"{office.address}/#/today")
    line_is_back(page)
    expect(page.locator(".of-day")).to_contain_text("15 March 2026")
    go_to(page, f"{office.address}/#/porter")
    came = page.get_by_role("status").filter(has_text="2 of 2 that left have come")
    expect(came).to_be_visible()
    came.get_by_role("link", name="Check in jug 1").click()
    expect(page.get_by_text("Whoever packed does not open alone.")).to_be_visible()
    assert office.faults() == []


def test_pictures_of_what_is_on_its_way_are_fetched_on_the_day_after(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """Before the store goes out of the network, on whatever day: of what is in the van, and not of what came."""
    add_ana(manager, day)
    numbers = list(islice(codes(9000), 2))
    for place, (tag, to) in enumerate(zip(numbers, ("van", "store"), strict=True), 1):
        item = an_item_named(manager, ids, day, f"Q0{place}", f"jug {place}")
        manager.keep(a_tie(item, tag))
        pictures = [picture(place), picture(10 + place, size=(60, 40))]
        manager.keep(a_photo(ids, item, *pictures))
        manager.keep(a_move(ids, item, to))
        assert {answer["outcome"] for answer in manager.push()} == {"kept"}
        manager.bundle(pictures, operations=[]).raise_for_status()
    close_with_all(manager, day["day_id"])
    next_day(manager, {**day, "people": people_of(manager, day)}, "2026-03-15")
    manager.push()
    office.clock.pass_by(hours=14)
    device = open_browser("porter")
    page = device.pages[0]
    pair(page, office, "porter", "Porter", person="Hester Quillfeather")
    expect(page.locator(".of-day")).to_contain_text("15 March 2026")
    go_to(page, f"{office.address}/#/places")
    page.get_by_role("button", name="Fetch 1 picture for comparing with no network").click()
    expect(page.get_by_text("The picture for comparing can be seen here with no network.")).to_be_visible()
    assert office.faults() == []
