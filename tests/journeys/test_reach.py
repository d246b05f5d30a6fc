"""An office without a name warns where codes are made and printed, before anybody stands in the hall with them."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import expect

from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, go_to, pair_by_hand


def test_screens_warn_that_no_phone_can_reach_the_office(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    page = open_browser("manager", size=DESK).pages[0]
    pair_by_hand(page, office, "manager", "Manager")
    go_to(page, f"{office.address}/#/devices")
    page.get_by_label("Its name").fill("Table 1")
    page.get_by_role("button", name="Make a pairing code").click()
    expect(page.get_by_text("no phone can reach it")).to_be_visible()
    expect(page.get_by_role("img", name="QR code")).to_have_count(1)
    expect(page.get_by_role("button", name="A new device")).to_be_visible()  # the way on, used or not
    code = page.locator(".pairing-code .big-tag").inner_text()
    new = open_browser("new").pages[0]
    new.goto(office.address)
    new.get_by_label("Code").fill(code)
    new.get_by_role("button", name="Pair", exact=True).click()
    # Whoever holds the screen up sees it at once.
    expect(page.locator(".pairing-code")).to_contain_text("Used by Table 1")
    expect(page.get_by_role("img", name="QR code")).to_have_count(0)
    expect(page.locator("main")).not_to_contain_text(code)
    page.get_by_role("button", name="A new device").click()
    expect(page.get_by_label("Its name")).to_be_visible()
    go_to(page, f"{office.address}/#/check")
    expect(page.locator("nav.places")).to_be_attached()
    go_to(page, f"{office.address}/#/cards")
    expect(page.locator("nav.places")).to_be_attached()
    go_to(page, f"{office.address}/#/rolls")
    expect(page.get_by_text("Labels printed now say so")).to_be_visible()
