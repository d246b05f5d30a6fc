"""An owner signs for what is left and for what goes back, with no network; the closing has nothing to ask."""

from __future__ import annotations

import re
from itertools import islice
from typing import Any

from playwright.sync_api import Page, expect

from intake.tagging.tags import codes, shown
from tests.builders import Ids, a_caution, a_fact, a_tie, a_visit, an_item
from tests.conftest import Office
from tests.journeys.conftest import Open, go_back, go_to, line_is_back, next_screen, pair
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
    go_to(page, item)
    go_back(page)
    page.get_by_label("Things counted at unpacking").fill("1")
    sign = page.locator(
        "a.tie-on", has_text="Show and sign for 1 thing"
    )  # all is here: the receipt comes next
    sign.click()
    expect(page.get_by_role("listitem").filter(has_text=shown(TAG))).to_be_visible()
    page.get_by_label("For the house").fill("Hester")
    page.get_by_role("button", name="To the owner").click()  # the phone lies between two people
    expect(page.get_by_role("link", name="Back")).to_have_count(0)
    expect(page.get_by_label("For the house")).to_have_count(
        0
    )  # nor is the owner asked what the staff fills in
    expect(page.get_by_label("Signed on paper instead")).to_have_count(0)
    missing = page.get_by_role("button", name="The owner has not signed")
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
    the_owner_leaves(page, receipt)

    # What no receipt names is told as well, and a new one offered though none is owed.
    go_to(page, item)
    page.get_by_label("Materials").fill("maple, calfskin")
    go_to(page, receipt)
    expect(page.get_by_text("Everything is signed for")).to_be_visible()
    expect(page.get_by_text("On record since: materials: “maple, calfskin”")).to_be_visible()
    page.get_by_role("button", name="Make a new receipt").click()
    expect(page.get_by_role("heading", name="Left with the house, to be signed")).to_be_visible()

    # What is said of it afterwards stands beside what was signed, never in its place.
    go_to(page, item)
    page.get_by_label("Short description").fill("tenor banjo")
    go_to(page, receipt)
    signed = page.get_by_role("listitem").filter(has_text="banjo")
    expect(signed).to_contain_text("Changed since: what it is called")
    expect(signed).to_have_text(re.compile(f"^{shown(TAG)} banjo;? ?.*Changed since"))
    expect(page.get_by_text("Everything is signed for")).to_have_count(0)
    expect(page.get_by_role("button", name="Make a new receipt")).not_to_have_class(
        "tie-on"
    )  # the owner is gone
    go_to(page, receipt.removesuffix("/receipt"))
    page.get_by_role("button", name="At the table").click()
    go_to(page, receipt)
    page.get_by_role("button", name="The owner leaves").click()  # who has not been asked does not leave yet
    expect(page.get_by_role("button", name="They leave without one")).to_be_visible()
    tops = page.locator(".dock > :is(button, a)").evaluate_all(
        "keys => keys.map((key) => [key.innerText, Math.round(key.getBoundingClientRect().top)])"
    )
    assert len({top for _, top in tops}) == 1, f"a row of keys stands above the next step: {tops}"
    page.locator("button.tie-on", has_text="Make a new receipt").click()
    expect(page.get_by_text("this one takes its place")).to_be_visible()
    draw(page)
    page.get_by_label("For the house").fill("Hester")
    page.get_by_role("button", name="Sign for 1 thing").click()
    expect(page.get_by_text("Everything is signed for")).to_be_visible()
    expect(page.get_by_text("has taken its place")).to_be_visible()

    go_to(page, f"{item}/tag")
    page.get_by_role("button", name="The owner takes it back").click()
    page.get_by_label("Given back by").fill("Hester")
    page.get_by_role("button", name="Give it back, and sign for it").click()
    expect(page).to_have_url(receipt)
    expect(page.get_by_role("heading", name="To sign for: 1 thing, taken back")).to_be_visible()
    page.get_by_role("button", name="Undo").click()  # the owner changed their mind, and nothing was sent
    expect(page).to_have_url(re.compile("/tag$"))
    page.get_by_role("button", name="The owner takes it back").click()
    page.get_by_label("Given back by").fill("Hester")
    page.get_by_role("button", name="Give it back, and sign for it").click()
    expect(page).to_have_url(receipt)
    expect(page.get_by_text(f"{shown(TAG)} (tag taken off)").first).to_be_visible()
    go_to(page, f"{office.address}/#/closing")  # which a table does not keep
    expect(page.get_by_text("This screen is not kept on this device")).to_be_visible()
    go_to(page, receipt)
    page.get_by_label("Signed on paper instead").fill("pad 3, number 12")
    page.get_by_label("For the house").fill("Hester")
    page.get_by_role("button", name="Sign for 1 thing").click()
    expect(page.get_by_text("Everything is signed for")).to_be_visible()

    phone.set_offline(False)
    expect(page.get_by_text("At the desk")).to_be_visible()
    go_to(page, f"{office.address}/#/closing")
    expect(page.get_by_role("heading", name="What must agree")).to_be_visible()
    expect(page.get_by_text("nobody has signed")).to_have_count(0)
    (listed,) = (one for one in manager.feed()["records"] if one["kind"] == "visit")
    assert not any("/signatures/" in name for name in listed["fields"]), "a signature is in no list"
    visit = manager.record(listed["record_id"])
    receipts = [field["value"] for name, field in visit["fields"].items() if name.startswith("receipts/")]
    assert [(one["what"], one["lines"][0]["tags"], one.get("is_on_paper", False)) for one in receipts] == [
        ("left", [TAG], False),
        ("left", [TAG], False),
        ("taken-back", [TAG], True),
    ]
    beside = [field["value"]["on_paper"] for name, field in visit["fields"].items() if "/signatures/" in name]
    assert sorted(beside) == ["", "", "pad 3, number 12"]
    drawn = [field["value"]["strokes"] for name, field in visit["fields"].items() if "/signatures/" in name]
    assert drawn[0].startswith("M")
    assert drawn[0].count("L") >= 8
    assert office.faults() == []


def the_owner_leaves(page: Page, receipt: str) -> None:
    """What is signed leads on: the visit ends, with a way back, and is not led to its end twice."""
    with next_screen(page):
        page.get_by_role("button", name="The owner leaves").click()
    expect(page).to_have_url(re.compile("#/today$"))
    page.get_by_role("button", name="Undo").click()
    go_to(page, receipt)
    with next_screen(page):
        page.get_by_role("button", name="The owner leaves").click()
    expect(page).to_have_url(re.compile("#/today$"))
    go_to(page, receipt)
    expect(page.get_by_role("button", name="Print the receipt")).to_be_visible()
    expect(page.get_by_role("button", name="The owner leaves")).to_have_count(0)
    go_to(page, receipt.removesuffix("/receipt"))
    expect(page.get_by_role("button", name="Left", exact=True)).to_have_attribute("aria-pressed", "true")


def test_whoever_leaves_with_something_unsigned_is_asked_about_first(
    office: Office, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    item_id = str(phone.keep(an_item(phone.ids, visit))["item_id"])
    phone.keep(a_tie(item_id, TAG))
    phone.push()
    page = open_browser("phone").pages[0]
    pair(page, office, "table", "Table 1")
    go_to(page, f"{office.address}/#/visit/{visit['visit_id']}")
    left = page.get_by_role("button", name="Left", exact=True)
    left.click()
    asked = page.get_by_role("alert").filter(has_text="1 thing of theirs nobody has signed for")
    expect(asked).to_contain_text("no telephone number is known here")
    expect(left).to_have_attribute("aria-pressed", "false")
    asked.get_by_role("button", name="They have left all the same").click()
    expect(left).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_text("They have left, something is not signed for")).to_be_visible()
    assert office.faults() == []


def left_things(manager: Phone, day: dict[str, Any]) -> tuple[str, dict[str, str], list[str]]:
    """A visit with a pair, a bowl and a lamp under their numbers: its id, the items' ids by name, the numbers."""
    ids = manager.ids
    tags = list(islice(codes(9300), 4))
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q17"))
    items = {}
    for name in ("pair of vases", "blue bowl", "brass lamp"):
        items[name] = manager.keep(an_item(ids, visit))["item_id"]
        manager.keep(a_fact(items[name], "short_description", name))
        manager.keep(a_fact(items[name], "class_id", "ceramics"))
    for piece in (1, 2):
        _, tie = a_tie(items["pair of vases"], tags[piece - 1], piece=piece)
        manager.keep(("tie_tag", {**tie, "of": 2}))
    manager.keep(a_tie(items["blue bowl"], tags[2]))
    manager.keep(a_tie(items["brass lamp"], tags[3]))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    return visit["visit_id"], items, tags


def sign_on_paper(page: Page, things: int) -> None:
    page.get_by_label("Signed on paper instead").fill("pad 3")
    page.get_by_label("For the house").fill("Hester")
    page.get_by_role("button", name=re.compile(f"^Sign for {things} things?$")).click()
    expect(page.get_by_text("signed for.")).to_be_visible()


def line_of(page: Page, name: str) -> Any:
    return page.locator("ol.steps li").filter(has_text=name).first


def test_what_was_signed_for_stays_on_the_next_receipt(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """A lost number, a piece that went back, a class heard late by an earlier clock, a stop: each is said, none falls
    off, and none is said to go home."""
    visit_id, items, tags = left_things(manager, day)
    page = open_browser("manager").pages[0]
    pair(page, office, "manager", "Manager")
    go_to(page, f"{office.address}/#/visit/{visit_id}/receipt")
    expect(line_of(page, "brass lamp")).to_contain_text("Ceramics")
    sign_on_paper(page, 3)

    lamp = manager.record(items["brass lamp"])["fields"]["class_id"]
    late = a_fact(items["brass lamp"], "class_id", "jewellery", seen=lamp["operation_id"])
    manager.keep(late, made_at="2026-03-14T09:00:00.000Z")
    gone = {"item_id": items["blue bowl"], "tag": tags[2], "why": "fallen-off", "replaced_by": None}
    manager.keep(("remove_tag", gone))
    back = {
        "from_place": "table",
        "to_place": "returned",
        "at": "",
        "given_by": "Ana",
        "taken_by": "the owner",
    }
    piece = {"thing_id": items["pair of vases"], "tag": tags[1], "count": None, "signed": False}
    manager.keep(("record_move", {"move_id": manager.ids.id(), **back, **piece}))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    line_is_back(page)
    expect(line_of(page, "brass lamp")).to_contain_text("Changed since: its class: Jewellery")
    expect(line_of(page, "blue bowl")).to_contain_text(
        "Changed since: its number is gone. It now reads: no number"
    )
    signed = line_of(page, "pair of vases")
    expect(signed).to_contain_text("Changed since: a piece of it went back.")
    expect(signed).to_contain_text(f"It now reads: {shown(tags[0])} pair of vases; 1 of 2 pieces here")

    # A piece went back: the owner stands there, and is asked at once.
    expect(page.get_by_role("button", name="Tie a tag to 1 thing first")).to_be_disabled()
    page.get_by_role("button", name="To the owner").click()
    owner = page.locator("main")
    expect(owner).to_contain_text("It stays here. It gets a new number before you sign")
    expect(owner).not_to_contain_text("take home")
    expect(page.get_by_role("button", name="A number is missing")).to_be_disabled()
    page.get_by_role("button", name="Turn back").click()

    manager.keep(a_tie(items["blue bowl"], next(codes(9400))))
    manager.keep(a_caution(manager.ids, items["brass lamp"]))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    line_is_back(page)
    expect(
        page.get_by_text("that it is stopped")
    ).to_be_visible()  # what is signed under an older list is let go of
    expect(page.get_by_role("button", name="Tie a tag to")).to_have_count(0)
    sign_on_paper(page, 3)
    expect(page.get_by_text("Changed since")).to_have_count(0)
    newest = page.get_by_role("article").filter(has_text="3 things left").last
    for words in ("1 of 2 pieces here, 1 back with the owner", shown(next(codes(9400))), "held apart"):
        expect(newest).to_contain_text(words)
    expect(newest).not_to_contain_text(shown(tags[1]))
    expect(page.get_by_role("heading", name="Back with the owner")).to_be_visible()
    assert office.faults() == []


def test_what_went_back_comes_again_under_a_fresh_tag(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """Once it is sent that a thing went back, Undo says what to do: a fresh tag, and both are signed for anew."""
    visit = manager.keep(a_visit(ids, day["day_id"]))
    item = manager.keep(an_item(ids, visit))["item_id"]
    first, fresh = islice(codes(9700), 2)
    manager.keep(a_fact(item, "short_description", "brass lamp"))
    manager.keep(a_tie(item, first))
    manager.push()
    page = open_browser("manager").pages[0]
    pair(page, office, "manager", "Manager")
    receipt = f"{office.address}/#/visit/{visit['visit_id']}/receipt"
    page.goto(receipt)
    sign_on_paper(page, 1)

    def goes_back() -> None:
        page.goto(f"{office.address}/#/item/{item}/tag")
        page.get_by_role("button", name="The owner takes it back").click()
        page.get_by_label("Given back by").fill("Hester")
        page.get_by_role("button", name="Give it back, and sign for it").click()
        expect(page.get_by_role("heading", name="To sign for: 1 thing, taken back")).to_be_visible()

    goes_back()
    expect(page.get_by_role("link", name="All at the desk")).to_be_visible()
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_text("If it stays after all, tie a fresh tag to it")).to_be_visible()
    expect(page.get_by_text("It is back with its owner. If it comes again")).to_be_visible()
    page.goto(receipt)
    page.get_by_label("Signed on paper instead").fill("pad 3")
    page.get_by_label("For the house").fill("Hester")
    expect(page.get_by_role("button", name="Say who takes it back")).to_be_disabled()  # a pad is no name
    page.get_by_label("Name of who takes it back").fill("Petronella Vance")
    sign_on_paper(page, 1)
    expect(page.get_by_role("article").last).to_contain_text("signed by Petronella Vance, on paper: pad 3")
    page.goto(f"{office.address}/#/item/{item}")
    tie_by_key(page, fresh)
    page.goto(receipt)
    expect(page.get_by_text("Changed since: that it went back and came again")).to_be_visible()
    sign_on_paper(page, 1)
    goes_back()
    expect(page.get_by_text(f"{shown(fresh)} (tag taken off)").first).to_be_visible()


def test_what_went_back_and_was_not_sent_comes_back_after_the_page_was_opened_anew(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q71"))
    item_id = manager.keep(an_item(ids, visit))["item_id"]
    tag = next(codes(9750))
    manager.keep(a_tie(item_id, tag))
    manager.push()
    page = open_browser("table").pages[0]
    pair(page, office, "table", "Table 1")
    address = f"{office.address}/#/item/{item_id}/tag"
    go_to(page, address)
    page.context.set_offline(True)
    page.get_by_role("button", name="The owner takes it back").click()
    page.get_by_label("Given back by").fill("Hester")
    page.get_by_role("button", name="Give it back, and sign for it").click()
    page.wait_for_url(re.compile("/receipt"))
    page.reload()
    expect(page.get_by_role("button", name="To the owner")).to_be_visible()
    go_to(page, address)
    page.get_by_role("button", name="It stays after all: nothing was sent").click()
    expect(page.get_by_role("button", name="The owner takes it back")).to_be_visible()
    expect(page.get_by_text("It is back with its owner")).to_have_count(0)
    page.context.set_offline(False)
    line_is_back(page)
    expect(page.get_by_text("At the desk")).to_be_visible()
    assert manager.record(item_id)["fields"][f"tags/{tag}"]["value"]["gone"] is None
    assert office.faults() == []
