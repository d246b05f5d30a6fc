"""An owner signs for what is left and for what goes back, with no network; the closing has nothing to ask."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import Page, expect

from intake.tagging.tags import codes, shown
from tests.conftest import Office
from tests.journeys.conftest import Open
from tests.journeys.test_one_item import phone_at_a_table, tie_by_key
from tests.phone import Phone

TAG = next(codes(9200))


def draw(page: Page) -> None:
    """A few strokes with a finger, or here the mouse."""
    pad = page.locator("svg.signature:not(.drawn)")
    pad.hover(position={"x": 20, "y": 40})  # waits until it stands still, with nothing over it
    page.mouse.down()
    for step in range(1, 9):
        pad.hover(position={"x": 20 + step * 25, "y": 40 + (-1) ** step * 20})
    page.mouse.up()
    expect(page.get_by_role("button", name="Draw it anew")).to_be_enabled()


def test_left_and_taken_back(office: Office, manager: Phone, day: dict[str, Any], open_browser: Open) -> None:
    phone, page = phone_at_a_table(open_browser, office)
    phone.set_offline(True)
    page.get_by_label("Short description").fill("banjo")
    item = page.url
    tie_by_key(page, TAG)
    page.goto(item)
    page.get_by_role("link", name="Back", exact=True).click()
    page.get_by_role("link", name="Show and sign for 1 thing").click()
    expect(page.get_by_role("listitem").filter(has_text=shown(TAG))).to_be_visible()
    page.get_by_label("For the house").fill("Hester")
    page.get_by_role("button", name="To the owner").click()  # the phone lies between two people
    expect(page.get_by_role("link", name="Back")).to_have_count(0)
    expect(page.get_by_label("For the house")).to_have_count(
        0
    )  # nor is the owner asked what the staff fills in
    expect(page.get_by_label("Signed on paper instead")).to_have_count(0)
    missing = page.get_by_role("button", name="The owner's signature is missing")
    expect(missing).to_be_disabled()
    draw(page)
    page.get_by_role("button", name="Draw it anew").click()
    expect(missing).to_be_disabled()
    draw(page)
    page.reload()  # what is half signed outlives the page
    expect(page.get_by_label("For the house")).to_have_value("Hester")
    page.get_by_role("button", name="Sign for 1 thing").click()
    expect(page.get_by_text("Everything is signed for")).to_be_visible()
    receipt = page.url
    page.reload()
    expect(page.get_by_role("img", name="Signature on receipt")).to_be_visible()

    # What is said of it afterwards stands beside what was signed, never in its place.
    page.goto(item)
    page.get_by_label("Short description").fill("tenor banjo")
    page.goto(receipt)
    signed = page.get_by_role("listitem").filter(has_text="banjo")
    expect(signed).to_contain_text("Changed since: what it is called")
    expect(signed).to_have_text(re.compile(f"^{shown(TAG)} banjo;? ?.*Changed since"))
    expect(page.get_by_text("Everything is signed for")).to_have_count(0)
    page.get_by_role("button", name="Make a new receipt").click()
    expect(page.get_by_text("this one takes its place")).to_be_visible()
    draw(page)
    page.get_by_label("For the house").fill("Hester")
    page.get_by_role("button", name="Sign for 1 thing").click()
    expect(page.get_by_text("Everything is signed for")).to_be_visible()
    expect(page.get_by_text("has taken its place")).to_be_visible()

    page.goto(f"{item}/tag")
    page.get_by_role("button", name="The owner takes it back").click()
    page.get_by_label("Given back by").fill("Hester")
    page.get_by_role("button", name="Give it back, and sign for it").click()
    expect(page).to_have_url(receipt)
    expect(page.get_by_role("heading", name="To sign for: 1 thing, taken back")).to_be_visible()
    page.goto(f"{office.address}/#/closing")  # which a table does not keep
    expect(page.get_by_text("This screen is not kept on this device")).to_be_visible()
    page.goto(receipt)
    page.get_by_label("Signed on paper instead").fill("pad 3, number 12")
    page.get_by_label("For the house").fill("Hester")
    page.get_by_role("button", name="Sign for 1 thing").click()
    expect(page.get_by_text("Everything is signed for")).to_be_visible()

    phone.set_offline(False)
    expect(page.get_by_text("At the desk")).to_be_visible()
    page.goto(f"{office.address}/#/closing")
    expect(page.get_by_role("heading", name="What must agree")).to_be_visible()
    expect(page.get_by_text("nobody has signed")).to_have_count(0)
    (listed,) = (one for one in manager.feed()["records"] if one["kind"] == "visit")
    assert not any("/signatures/" in name for name in listed["fields"]), "a signature is in no list"
    visit = manager.record(listed["record_id"])
    receipts = [field["value"] for name, field in visit["fields"].items() if name.startswith("receipts/")]
    assert [(one["what"], one["lines"][0]["tags"], one["on_paper"]) for one in receipts] == [
        ("left", [TAG], ""),
        ("left", [TAG], ""),
        ("taken-back", [TAG], "pad 3, number 12"),
    ]
    drawn = [field["value"]["strokes"] for name, field in visit["fields"].items() if "/signatures/" in name]
    assert drawn[0].startswith("M")
    assert drawn[0].count("L") >= 8
    assert office.faults() == []
