"""A number that is gone, or is on another thing, is not offered to be tied; what was refused goes nowhere else."""

from __future__ import annotations

from itertools import islice
from typing import Any

from playwright.sync_api import Page, expect

from intake.tagging.tags import codes, shown
from tests.builders import a_tie, a_visit, an_item
from tests.conftest import Office
from tests.journeys.conftest import Open, go_to
from tests.journeys.test_one_item import phone_at_a_table, tie_by_key
from tests.phone import Phone

LOST, FRESH, ELSEWHERE = islice(codes(8300), 3)


def note_as_damaged(page: Page) -> None:
    page.get_by_role("button", name="It is gone").click()
    page.get_by_role("button", name="Damaged").click()
    expect(page.get_by_role("status").filter(has_text=f"{shown(LOST)} is noted as damaged")).to_be_visible()


def key_in(page: Page, tag: str) -> None:
    page.get_by_label("Key in the tag's number").fill(shown(tag))
    expect(page.locator(".big-tag")).to_contain_text(shown(tag))


def test_a_number_that_is_gone_is_not_offered_again(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q77"))
    manager.keep(a_tie(str(manager.keep(an_item(manager.ids, visit))["item_id"]), ELSEWHERE))
    manager.push()
    phone, page = phone_at_a_table(open_browser, office)
    expect(page.get_by_text("At the desk")).to_be_visible()
    phone.set_offline(True)
    page.get_by_label("Short description").fill("brass kettle")
    tie_by_key(page, LOST)
    note_as_damaged(page)
    for number, why in (
        (LOST, f"{shown(LOST)} was on this item and is gone."),
        (ELSEWHERE, f"{shown(ELSEWHERE)} is tied to “an item not named yet” already."),
    ):
        key_in(page, number)
        expect(page.locator(".bar.wrong")).to_contain_text(why)
        expect(page.get_by_text("It takes the place of")).to_have_count(0)
        expect(page.get_by_role("button", name="Take a fresh tag")).to_be_disabled()
        page.get_by_role("button", name="Another", exact=True).click()
    key_in(page, FRESH)
    expect(page.get_by_text(f"It takes the place of {shown(LOST)}, which is damaged.")).to_be_visible()
    page.get_by_role("button", name=f"Tie {shown(FRESH)} to this item").click()
    expect(page.get_by_text(f"damaged, now {shown(FRESH)}")).to_be_visible()
    go_to(page, f"{office.address}/#/stop")
    expect(page.locator(".notice.wrong")).to_have_count(0)
    phone.set_offline(False)
    expect(page.get_by_text("All at the desk").or_(page.get_by_text("At the desk"))).to_be_visible()
    assert office.faults() == []


def test_a_number_is_not_offered_to_two_pieces(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """The cover's number, read again, is not said to be on the pot."""
    phone, page = phone_at_a_table(open_browser, office)
    phone.set_offline(True)
    page.get_by_label("Short description").fill("pot with its cover")
    tie_by_key(page, LOST)
    page.get_by_label("How many numbers it takes").fill("2")
    page.get_by_label("How many numbers it takes").blur()
    expect(page.get_by_text("1 of its 2 pieces has no tag yet.")).to_be_visible()
    key_in(page, LOST)
    expect(page.locator(".bar.wrong")).to_contain_text(f"{shown(LOST)} is on piece 1 of 2 already")
    expect(page.get_by_role("button", name="Take a fresh tag")).to_be_disabled()
    page.get_by_role("button", name="Another", exact=True).click()
    key_in(page, FRESH)
    page.get_by_role("button", name=f"Tie {shown(FRESH)} to piece 2 of 2").click()
    expect(
        page.get_by_role("status").filter(has_text=f"{shown(FRESH)} is tied to piece 2 of 2")
    ).to_be_visible()
    assert office.faults() == []
