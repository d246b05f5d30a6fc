"""One of a pair goes back to its owner from a phone, and receipt, places and closing say that the other stays."""

from __future__ import annotations

import re
from itertools import islice
from typing import Any

from playwright.sync_api import expect

from intake.tagging.tags import codes, shown
from tests.builders import Ids, a_fact, a_finding, a_visit, an_item
from tests.conftest import Office
from tests.journeys.conftest import Open, go_to, pair
from tests.journeys.test_receipt import sign_on_paper
from tests.journeys.test_stop import expect_in_view
from tests.phone import Phone


def test_one_piece_of_a_pair_goes_back(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q73"))
    item = manager.keep(an_item(ids, visit))["item_id"]
    stays, goes = islice(codes(9770), 2)
    manager.keep(a_fact(item, "short_description", "pair of vases"))
    for piece, tag in enumerate((stays, goes), start=1):
        manager.keep(("tie_tag", {"item_id": item, "tag": tag, "piece": piece, "of": 2}))
    manager.keep(a_fact(item, "class_id", "glass"))
    manager.keep(a_finding(ids, item, "rim", term="chip", severity=4, piece="2"))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}

    phone = open_browser("phone")
    page = phone.pages[0]
    pair(page, office, "table", "Table 1")
    receipt = f"{office.address}/#/visit/{visit['visit_id']}/receipt"
    page.goto(receipt)
    sign_on_paper(page, 1)
    phone.set_offline(True)
    tag_screen = f"{office.address}/#/item/{item}/tag"
    piece_goes = page.get_by_role("button", name=f"Piece 2 goes back: {shown(goes)}")

    def goes_back() -> None:
        piece_goes.click()
        expect(page.get_by_role("heading", name="Piece 2 back to the owner")).to_be_visible()
        page.get_by_label("Given back by").fill("Hester")
        page.get_by_role("button", name="Give it back, and sign for it").click()
        expect(page.get_by_role("heading", name="Back with the owner")).to_be_visible()

    go_to(page, tag_screen)
    piece_goes.click()
    page.get_by_label("Given back by").fill("H")
    page.reload()  # what was begun of one piece is not of all of it afterwards
    expect(page.get_by_role("heading", name="Piece 2 back to the owner")).to_be_visible()
    expect(page.get_by_label("Given back by")).to_have_value("H")
    page.get_by_role("button", name="It stays", exact=True).click()
    goes_back()
    page.get_by_role("button", name="Undo").click()
    expect(page).to_have_url(re.compile("/tag$"))
    expect(piece_goes).to_be_visible()
    goes_back()

    page.goto(tag_screen)  # the page anew: the way back stands on the screen
    page.get_by_role("button", name="It stays after all: nothing was sent").click()
    goes_back()
    main = page.locator("main")
    expect(main).to_contain_text(f"{shown(goes)} (tag taken off)")
    expect(main).to_contain_text("pair of vases; 1 of 2 pieces")
    expect(main).to_contain_text("Changed since: a piece of it went back")
    expect(page.get_by_role("button", name="The owner leaves")).to_have_count(0)  # who signs is asked first
    sign_on_paper(page, 1)
    expect(main).not_to_contain_text("Changed since")
    expect(page.get_by_role("button", name="The owner leaves")).to_be_visible()
    expect(page.get_by_role("article").last).to_contain_text("1 of 2 pieces here, 1 back with the owner")
    go_to(page, f"{office.address}/#/item/{item}/words")
    expect(main).to_contain_text("One of the two is here; piece 2 went back to its owner.")
    expect(main).not_to_contain_text("a chip")
    go_to(page, f"{office.address}/#/item/{item}")
    here = page.get_by_role("group", name="How many pieces are here")
    one = here.get_by_role("button", name="1", exact=True)
    one.click()
    expect(one).to_have_attribute("aria-pressed", "true")
    expect(main).to_contain_text("Count what is here: 1 piece more is back with the owner.")
    expect(main).not_to_contain_text("counted otherwise")
    go_to(page, receipt)
    expect(main).not_to_contain_text("Changed since")
    go_to(page, tag_screen)
    expect(main).to_contain_text("1 of its 2 pieces is here, and 1 is back with the owner.")
    expect(page.get_by_role("button", name="goes back")).to_have_count(0)
    expect(page.get_by_role("button", name="The owner takes it back")).to_be_visible()

    phone.set_offline(False)
    expect(page.get_by_text("At the desk")).to_be_visible()
    go_to(page, f"{office.address}/#/places")
    expect(main).to_contain_text(shown(stays))
    expect(main).not_to_contain_text(shown(goes))
    record = manager.record(item)["fields"]
    assert record["pieces"]["value"] == 2
    assert record[f"tags/{goes}"]["value"]["gone"] == "taken-back"
    assert record[f"tags/{stays}"]["value"]["gone"] is None
    assert record[f"whereabouts/{goes}"]["value"]["to_place"] == "returned"
    assert "whereabouts" not in record
    assert office.faults() == []


def test_what_the_owner_takes_back_is_signed_for_where_the_screen_stands(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q74"))
    tags = list(islice(codes(9790), 2))
    items = []
    for name, tag in zip(("bracket clock", "harbour at dusk"), tags, strict=True):
        items.append(manager.keep(an_item(ids, visit))["item_id"])
        manager.keep(a_fact(items[-1], "short_description", name))
        manager.keep(("tie_tag", {"item_id": items[-1], "tag": tag, "piece": 1, "of": 1}))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    page = open_browser("phone").pages[0]
    pair(page, office, "table", "Table 1")
    page.goto(f"{office.address}/#/visit/{visit['visit_id']}/receipt")
    sign_on_paper(page, 2)
    go_to(page, f"{office.address}/#/item/{items[0]}/tag")
    page.get_by_role("button", name="The owner takes it back").click()
    expect_in_view(page, page.get_by_label("Given back by"))
    expect(page.get_by_label("Key in the tag's number")).to_have_count(0)
    expect(page.get_by_role("link", name="Next")).to_have_count(0)
    page.get_by_role("button", name="It stays").click()
    expect(page.get_by_label("Key in the tag's number")).to_be_visible()
    page.get_by_role("button", name="The owner takes it back").click()
    page.get_by_label("Given back by").fill("Hester")
    page.locator(".dock").get_by_role("button", name="Give it back, and sign for it").click()
    expect_in_view(page, page.locator("canvas, svg.pad, .signature").first)
    page.get_by_label("For the house").focus()
    expect(page.locator(".undo")).to_be_visible()
    page.get_by_label("For the house").fill("Hester")
    expect(page.locator(".undo")).to_have_text("Undo: It is back with the owner")
    assert office.faults() == []
