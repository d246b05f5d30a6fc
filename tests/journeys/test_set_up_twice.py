"""Two managers set up the same next day: the second is told, or where nobody could tell, one of the two is let go."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import expect

from tests.builders import Ids, a_visit
from tests.conftest import Office
from tests.journeys.conftest import Open, all_is_done, go_to, line_is_back, managers_day, pair
from tests.journeys.test_second_day import next_day
from tests.phone import Phone


def test_whoever_sets_up_a_day_that_is_set_up_already_is_told_and_goes_there(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    page = managers_day(open_browser, office)
    page.get_by_role("button", name="Set up another day").click()
    second = next_day(manager, day, page.get_by_label("Date").input_value())
    manager.push()
    page.get_by_role("button", name="Set it up").click()
    told = page.locator(".bar.with-key")
    expect(told).to_contain_text("is set up already, by Hester Quillfeather")
    expect(page.get_by_role("button", name="Set it up all the same")).to_be_visible()
    told.get_by_role("button", name="Work on it").click()
    expect(page.get_by_text("This device works on this day.")).to_be_visible()
    days = {one["day_id"] for one in manager.client.get("/days").json()["days"]}
    assert days == {day["day_id"], second["day_id"]}
    assert office.faults() == []


def test_of_a_day_set_up_twice_out_of_reach_the_empty_one_is_let_go(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    door = open_browser("phone").pages[0]
    pair(door, office, "door", "Door")
    page = managers_day(open_browser, office)
    page.get_by_role("button", name="Set up another day").click()
    date = page.get_by_label("Date").input_value()
    page.context.set_offline(True)
    page.get_by_role("button", name="Set it up").click()
    expect(page.get_by_text("The day is set up. Look through its people")).to_be_visible()
    second = next_day(manager, day, date)
    manager.keep(a_visit(ids, second["day_id"], ticket="Q01"))
    manager.push()
    page.context.set_offline(False)
    line_is_back(page)
    twice = page.locator("section.bar", has_text="is set up twice")
    expect(twice).to_contain_text("1 visit.")
    expect(twice.get_by_role("button", name="Let it go")).to_have_count(1)
    twice.get_by_role("button", name="Let it go").click()
    expect(page.get_by_text("It is let go: the one set up by")).to_be_visible()
    expect(twice).to_have_count(0)
    all_is_done(page)
    expect(page.get_by_text("All at the desk")).to_be_visible()
    [gone] = [one for one in manager.client.get("/days").json()["days"] if one["let_go"]]
    assert gone["day_id"] not in (day["day_id"], second["day_id"])
    line_is_back(door)
    expect(door.get_by_role("button", name="Work on it")).to_be_visible()
    door.locator(".dock .tie-on", has_text="Work on").click()
    expect(door.get_by_text("Q01")).to_be_visible()
    go_to(page, f"{office.address}/#/closings")
    expect(page.get_by_role("listitem").filter(has_text="let go: the one set up by")).to_have_count(1)
    assert office.faults() == []
