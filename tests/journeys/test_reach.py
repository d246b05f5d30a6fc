"""An office without a name warns where codes are made and printed, before anybody stands in the hall with them."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import expect

from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, go_to, pair


def test_screens_warn_that_no_phone_can_reach_the_office(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    page = open_browser("manager", size=DESK).pages[0]
    pair(page, office, "manager", "Manager")
    go_to(page, f"{office.address}/#/devices")
    page.get_by_label("Its name").fill("Table 1")
    page.get_by_role("button", name="Make a pairing code").click()
    expect(page.get_by_text("no phone can reach it")).to_be_visible()
    go_to(page, f"{office.address}/#/rolls")
    expect(page.get_by_text("Labels printed now say so")).to_be_visible()
