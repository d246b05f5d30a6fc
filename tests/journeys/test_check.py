"""A device checks itself, the manager sees it, and the doors open with what is ready and what is not."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import expect

from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, go_to, pair, pair_by_hand
from tests.phone import Phone


def test_a_device_is_checked_before_it_is_paired(office: Office, open_browser: Open) -> None:
    page = open_browser("phone").pages[0]
    page.goto(f"{office.address}/#/check")
    lines = page.locator(".check-lines li")
    expect(lines.filter(has_text="It trusts the office.")).to_have_class("good")
    expect(lines.filter(has_text="opens with no network")).to_have_class("good")
    expect(lines.filter(has_text=re.compile("^ ?Room for"))).to_have_class("good")
    expect(page.get_by_text("This device is not paired")).to_be_visible()
    page.get_by_role("link", name="Pair it").click()
    expect(page.get_by_label("Code")).to_be_visible()


def test_the_manager_sees_which_devices_have_passed(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """The office's clock is hours from the browser's in this test, and the check says so in words."""
    page = open_browser("phone").pages[0]
    pair_by_hand(page, office, "table", "Table 1")
    go_to(page, f"{office.address}/#/check")
    page.get_by_role("button", name="Try camera and storage").click()
    lines = page.locator(".check-lines li")
    expect(lines.filter(has_text="It may use the camera.")).to_have_class("good")
    expect(lines.filter(has_text="Its clock is")).to_have_class("not-good")
    expect(page.get_by_text(re.compile("The office has this check of Table 1"))).to_be_visible()

    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "manager", "Manager")
    go_to(desk, f"{office.address}/#/devices")
    row = desk.get_by_role("listitem").filter(has_text="Table 1")
    expect(row).to_contain_text("clock")
    expect(desk.get_by_role("listitem").filter(has_text=re.compile("^Manager "))).to_contain_text(
        "not checked yet"
    )


def test_a_code_that_no_phone_can_reach_says_so(office: Office, open_browser: Open) -> None:
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "manager", "Manager")
    go_to(desk, f"{office.address}/#/devices")
    desk.get_by_label("Its name").fill("Table 9")
    desk.get_by_role("button", name="Make a pairing code").click()
    expect(desk.get_by_text("can be opened on the office's own machine only")).to_be_visible()
    expect(desk.locator(".pairing-code")).to_contain_text("For Table 9")


def test_the_doors_open_with_what_is_not_ready(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "manager", "Manager")
    expect(desk.get_by_text("This device works on this day.")).to_be_visible()  # it is the only one
    desk.get_by_role("link", name="Before the doors open").click()
    not_ready = desk.locator(".check-lines li.not-good")
    expect(not_ready.filter(has_text="No second place keeps a copy")).to_be_visible()
    expect(not_ready.filter(has_text="No device for door, table or porter")).to_be_visible()
    expect(desk.get_by_role("button", name="Say how many things you expect")).to_be_disabled()
    desk.get_by_label("Things expected today").fill("120")
    expect(not_ready.filter(has_text="0 tag numbers given out for 120 things")).to_be_visible()
    desk.get_by_label("Printed labels in hand").fill("300")
    expect(desk.locator(".check-lines li.good").filter(has_text="300 printed labels")).to_be_visible()
    desk.get_by_role("button", name=re.compile(r"Open with \d+ not ready")).click()
    expect(desk.get_by_text(re.compile(r"ready, \d+ not, 120 things expected"))).to_be_visible()
    expect(desk.get_by_label("Things expected today")).to_have_value("120")
    expect(desk.get_by_label("Printed labels in hand")).to_have_value("300")
    expect(desk.get_by_role("link", name="Kept, the doors may open: on to Today")).to_be_visible()
    expect(desk.get_by_text("At the desk")).to_be_visible()
    kept = [
        field["value"]
        for name, field in manager.record(day["day_id"])["fields"].items()
        if name.startswith("preflights/")
    ]
    assert [(one["items_expected"], one["labels_printed"]) for one in kept] == [(120, 300)]
    assert any("No second place" in words for words in kept[0]["not_ready"])
    assert office.faults() == []


def test_on_a_phone_a_manager_sees_every_screen_and_what_was_said_stays_behind(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    page = open_browser("phone").pages[0]
    pair(page, office, "manager", "Manager")
    expect(page.get_by_text("This device works on this day.")).to_be_visible()  # it is the only one
    page.get_by_role("button", name="Screens").click()
    links = page.get_by_role("navigation", name="Screens").get_by_role("link")
    expect(links).to_have_count(9)
    for link in links.all():
        expect(link).to_be_in_viewport(ratio=1)
    page.get_by_role("button", name="Screens").click()
    expect(links).to_have_count(0)
    page.get_by_label("Add a person").fill("Hester Thimble")
    expect(page.get_by_text("Write the name, say what they do, one or several, then add.")).to_be_visible()
    page.get_by_role("group", name="Work", exact=True).get_by_role("button", name="Valuer").click()
    page.get_by_role("button", name="Add", exact=True).click()
    expect(page.get_by_text("Hester Thimble is added.")).to_be_visible()
    page.get_by_role("link", name="Before the doors open").click()
    expect(page.get_by_role("heading", name="Before the doors open")).to_be_visible()
    expect(page.get_by_text("Hester Thimble is added.")).to_have_count(0, timeout=1000)
    title = page.get_by_role("heading", name="Before the doors open").bounding_box()
    assert title is not None
    assert title["height"] <= 2 * 27  # two lines of the heading, in pixels
