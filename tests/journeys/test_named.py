"""Nothing is put on record by nobody: who is at a device is asked for on every screen, and what was typed is kept."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import expect

from tests.builders import a_visit
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, go_to, pair_by_hand
from tests.phone import Phone


def test_a_name_is_asked_for_where_something_was_typed(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    phone.push()
    page = open_browser("door").pages[0]
    pair_by_hand(page, office, "door", "Door", named=False)
    go_to(page, f"{office.address}/#/visit/{visit['visit_id']}")
    owner = page.get_by_label("Name", exact=True)
    owner.fill("Clementine Ashbod")
    expect(page.get_by_role("alert").filter(has_text="Say first who is here")).to_be_visible()
    expect(owner).to_have_value("Clementine Ashbod")
    page.reload()
    expect(owner).to_have_value("Clementine Ashbod")
    page.get_by_label("Who is at this device?").select_option(label="Hester Quillfeather")
    expect(page.get_by_label("Who is at this device?")).to_have_count(0)
    with page.expect_response("**/sync/operations?*"):
        owner.fill("Clementine Ashbody")
    expect(page.get_by_text("All at the desk")).to_be_visible()
    name = manager.record(visit["visit_id"])["fields"]["consignor/name"]
    assert (name["value"], name["made_by"]) == ("Clementine Ashbody", "hester")
    assert office.faults() == []


def test_a_manager_is_asked_once_and_finds_every_screen_from_those_that_set_a_day_up(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    page = open_browser("manager", size=DESK).pages[0]
    pair_by_hand(page, office, "manager", "Manager's desk", named=False)
    go_to(page, f"{office.address}/#/queue")
    expect(page.get_by_label("Who is at this desk?")).to_have_count(1)
    expect(page.get_by_label("Who is at this device?")).to_have_count(0)
    go_to(page, f"{office.address}/#/preflight")
    page.get_by_role("navigation", name="Screens").get_by_role("link", name="Numbers").click()
    expect(page.get_by_role("heading", name="Numbers", exact=True)).to_be_visible()
    assert office.faults() == []
