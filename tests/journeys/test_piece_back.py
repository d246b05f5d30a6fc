"""One of a pair goes back to its owner from a phone, and receipt, places and closing say that the other stays."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import islice
from typing import Any

from playwright.sync_api import expect

from intake.tagging.tags import codes, shown
from tests.builders import Ids, a_crate, a_fact, a_finding, a_visit, an_item, put_in
from tests.closings import close_with_all
from tests.conftest import Office
from tests.journeys.conftest import Open, go_to, pair
from tests.journeys.test_receipt import sign_on_paper
from tests.journeys.test_stop import expect_in_view
from tests.phone import Phone


def number_each(manager: Phone, item: str, tags: Sequence[str]) -> None:
    """A number for each piece, in their order."""
    for piece, tag in enumerate(tags, start=1):
        manager.keep(("tie_tag", {"item_id": item, "tag": tag, "piece": piece, "of": len(tags)}))


def test_one_piece_of_a_pair_goes_back(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q73"))
    item = manager.keep(an_item(ids, visit))["item_id"]
    stays, goes = islice(codes(9770), 2)
    manager.keep(a_fact(item, "short_description", "pair of vases"))
    number_each(manager, str(item), (stays, goes))
    manager.keep(a_fact(item, "class_id", "glass"))
    manager.keep(a_finding(ids, item, "rim", term="chip", severity=4, piece="2"))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}

    phone = open_browser("phone")
    page = phone.pages[0]
    pair(page, office, "table", "Table 1")
    receipt = f"{office.address}/#/visit/{visit['visit_id']}/receipt"
    page.goto(receipt)
    sign_on_paper(page, 1)
    go_to(page, f"{office.address}/#/item/{item}/zone/rim")
    which = page.get_by_label("Which of the two").locator("option")
    expect(which).to_have_text(
        [
            "Not said",  # a number on each tells them apart, and no side besides
            *(f"Piece 1, {shown(stays)}", f"Piece 2, {shown(goes)}"),
            *("Both of them", "Not noted which"),  # of one it is said which
        ]
    )
    go_to(page, receipt)
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
    expect(page.get_by_role("button", name="Tie another number")).to_be_visible()
    page.get_by_role("button", name="The owner takes it back").click()
    page.get_by_label("Given back by").fill("Hester")
    page.locator(".dock").get_by_role("button", name="Give it back, and sign for it").click()
    expect_in_view(page, page.locator("canvas, svg.pad, .signature").first)
    page.get_by_label("For the house").focus()
    expect(page.locator(".undo")).to_be_visible()
    page.get_by_label("For the house").fill("Hester")
    expect(page.locator(".undo")).to_have_text("Undo: It is back with the owner")
    assert office.faults() == []


def test_one_of_a_set_under_one_number_goes_out_of_a_crate_and_stays_after_all(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q75"))
    item = manager.keep(an_item(ids, visit))["item_id"]
    all_of_it, fresh, number = islice(codes(9810), 3)
    manager.keep(a_fact(item, "short_description", "dessert forks"))
    manager.keep(("count_pieces", {"item_id": item, "pieces": 6, "seen": None}))
    manager.keep(("tie_tag", {"item_id": item, "tag": all_of_it, "piece": 1, "of": 1}))
    crate = manager.keep(a_crate(ids, day["day_id"], number))["container_id"]
    manager.keep(put_in(item, crate))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}

    phone = open_browser("phone")
    page = phone.pages[0]
    pair(page, office, "table", "Table 1")
    phone.set_offline(True)
    tag_screen = f"{office.address}/#/item/{item}/tag"
    main, dock = page.locator("main"), page.locator(".dock")
    go_to(page, tag_screen)
    page.get_by_role("button", name="One of the 6 goes back: it gets a number first").click()
    expect(page.get_by_role("heading", name="One piece back to the owner")).to_be_visible()
    expect(main).to_contain_text(f"The others stay under {shown(all_of_it)}.")
    dock.get_by_role("button", name="It stays").click()
    page.get_by_role("button", name="One of the 6 goes back: it gets a number first").click()
    page.get_by_label("Which one it is").fill("the bent one")
    page.get_by_label("Key in the tag's number").fill(fresh[:4])
    page.reload()  # what was begun of it stands there again
    expect(page.get_by_label("Key in the tag's number")).to_have_value(fresh[:4])
    expect(page.get_by_label("Which one it is")).to_have_value("the bent one")
    page.get_by_label("Key in the tag's number").fill(all_of_it)
    expect(main).to_contain_text("already: take a fresh tag")
    page.get_by_label("Key in the tag's number").fill(fresh)
    page.reload()
    dock.get_by_role("button", name=f"{shown(fresh)} is on it").click()
    expect(page.get_by_role("heading", name="Piece 2, the bent one, back to the owner")).to_be_visible()
    page.get_by_label("Given back by").fill("Hester")
    dock.get_by_role("button", name="Give it back, and sign for it").click()
    expect(main).to_contain_text(f"{shown(fresh)} (tag taken off)")
    expect(main).to_contain_text("dessert forks; 1 of 6 pieces")
    expect(main).to_contain_text("5 of 6 pieces here, 1 back with the owner")

    page.goto(tag_screen)
    page.reload()
    expect(main).to_contain_text("5 of its 6 pieces are here, and 1 is back with the owner.")
    expect(main).not_to_contain_text("no tag yet")
    expect(page.get_by_role("button", name="One of the 5 goes back")).to_be_visible()
    page.get_by_role("button", name="It stays after all, and is where it was taken out of").click()
    piece_goes = page.get_by_role("button", name=f"Piece 2, the bent one, goes back: {shown(fresh)}")
    expect(piece_goes).to_be_visible()
    expect(main).not_to_contain_text("counted otherwise")
    phone.set_offline(False)
    expect(page.get_by_text("At the desk")).to_be_visible()
    fields = manager.record(item)["fields"]
    assert fields[f"tags/{fresh}"]["value"]["mark"] == "the bent one"
    assert fields[f"tags/{fresh}"]["value"]["gone"] is None
    assert fields["inside"]["value"]["container_id"] == crate
    assert f"inside/{fresh}" not in fields
    assert office.faults() == []


def test_a_piece_that_two_records_have_goes_with_both_its_numbers(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q76"))
    numbers = codes(9830)
    plates = []
    for pieces in (4, 2):
        item = manager.keep(an_item(ids, visit))["item_id"]
        manager.keep(a_fact(item, "short_description", "plates"))
        tags = list(islice(numbers, pieces))
        number_each(manager, str(item), tags)
        plates.append((item, tags))
    (front, own), (behind, others) = plates
    for item, tags in plates:
        manager.keep(("count_pieces", {"item_id": item, "pieces": len(tags), "seen": None}))
    manager.keep(a_finding(ids, behind, "rim", term="chip", severity=4))
    manager.keep(("merge_item", {"item_id": behind, "into_id": front, "why": "", "seen": None}))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}

    page = open_browser("phone").pages[0]
    pair(page, office, "table", "Table 1")
    more = "A second record of it says more: 2 pieces counted there, and 4 here; chip, rim."
    for screen in (f"item/{front}", f"item/{front}/words"):
        go_to(page, f"{office.address}/#/{screen}")
        expect(page.get_by_text(more)).to_be_visible()
    go_to(page, f"{office.address}/#/visit/{visit['visit_id']}/receipt")
    expect(page.locator("main")).to_contain_text(f"Plates: {more[0].lower()}{more[1:]}")
    expect(page.locator("main")).to_contain_text("plates; 4 pieces; chip on the rim, severe")
    go_to(page, f"{office.address}/#/item/{front}/tag")
    expect(page.get_by_role("button", name=re.compile("^Piece . goes back"))).to_have_count(4)
    page.get_by_role("button", name=f"Piece 1 goes back: {shown(own[0])}, {shown(others[0])}").click()
    main = page.locator("main")
    expect(main).to_contain_text("Two records have a number for this piece.")
    page.get_by_label("Given back by").fill("Hester")
    page.locator(".dock").get_by_role("button", name="Give it back, and sign for it").click()
    expect(main).to_contain_text("plates; 1 of 4 pieces")
    expect(main).to_contain_text("3 of 4 pieces here, 1 back with the owner")
    expect(page.get_by_text("At the desk")).to_be_visible()
    for item, tag in ((front, own[0]), (behind, others[0])):
        fields = manager.record(item)["fields"]
        assert fields[f"tags/{tag}"]["value"]["gone"] == "taken-back"
        assert fields[f"whereabouts/{tag}"]["value"]["to_place"] == "returned"
    assert office.faults() == []


def test_what_may_have_gone_with_a_piece_is_asked_until_it_is_said_of_what_stays(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q77"))
    item = manager.keep(an_item(ids, visit))["item_id"]
    manager.keep(a_fact(item, "short_description", "cups"))
    manager.keep(a_fact(item, "class_id", "glass"))
    tags = list(islice(codes(9850), 3))
    number_each(manager, str(item), tags)
    manager.keep(a_finding(ids, item, "rim", term="chip", severity=3, piece_count=1))
    manager.keep(("remove_tag", {"item_id": item, "tag": tags[2], "why": "taken-back", "replaced_by": None}))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    page = open_browser("phone").pages[0]
    pair(page, office, "table", "Table 1")
    go_to(page, f"{office.address}/#/item/{item}")
    ask = "A fault is on 1 of its pieces, and nobody noted whether it is here."
    expect(page.get_by_text(ask)).to_be_visible()
    go_to(page, f"{office.address}/#/item/{item}/zone/rim")
    expect(page.get_by_text(ask)).to_be_visible()
    page.get_by_role("button", name="It is on one that is here").click()
    expect(page.get_by_text(ask)).to_have_count(0)
    which = page.get_by_label("Which of the 3 pieces")
    which.select_option(label=f"Piece 2, {shown(tags[1])}")
    which.select_option(label="Piece 3, back with its owner")
    expect(which.locator("option", has_text="1 of them")).to_have_count(0)
    go_to(page, f"{office.address}/#/item/{item}")
    expect(page.get_by_role("group", name="How many pieces are here")).to_be_visible()
    expect(page.get_by_text(ask)).to_have_count(0)
    assert office.faults() == []


def test_a_count_of_who_had_not_heard_that_one_went_is_asked_again(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q78"))
    item = manager.keep(an_item(ids, visit))["item_id"]
    all_of_it, gone = islice(codes(9870), 2)
    manager.keep(a_fact(item, "short_description", "cups"))
    for piece, tag in enumerate((all_of_it, gone), start=1):
        manager.keep(("tie_tag", {"item_id": item, "tag": tag, "piece": piece, "of": piece}))
    manager.keep(("remove_tag", {"item_id": item, "tag": gone, "why": "taken-back", "replaced_by": None}))
    manager.keep(("count_pieces", {"item_id": item, "pieces": 5, "back": 0, "seen": None}))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    phone = open_browser("phone")
    page = phone.pages[0]
    pair(page, office, "table", "Table 1")
    ask = page.get_by_text(
        "5 pieces were counted where nobody had heard that 1 is back with the owner. Count again."
    )
    go_to(page, f"{office.address}/#/item/{item}/tag")
    expect(ask).to_be_visible()
    go_to(page, f"{office.address}/#/item/{item}")
    expect(ask).to_be_visible()
    here = page.get_by_role("group", name="How many pieces are here")
    expect(here.locator("[aria-pressed=true]")).to_have_count(0)
    phone.set_offline(True)
    here.get_by_role("button", name="More").click()
    page.get_by_label("Number of pieces").fill("5")
    page.get_by_label("Number of pieces").press("Tab")
    expect(ask).to_have_count(0)
    phone.set_offline(False)
    expect(page.get_by_text("At the desk")).to_be_visible()
    fields = manager.record(item)["fields"]
    assert (fields["pieces"]["value"], fields["pieces-back"]["value"]) == (6, 1)
    go_to(page, f"{office.address}/#/item/{item}/tag")
    expect(page.get_by_text("5 of its 6 pieces are here, and 1 is back with the owner.")).to_be_visible()
    assert office.faults() == []


def test_what_is_signed_for_behind_what_goes_back_whole_is_said_and_that_the_day_is_closed(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q79"))
    pair_of, clock = (manager.keep(an_item(ids, visit))["item_id"] for _ in range(2))
    tags = list(islice(codes(9890), 3))
    number_each(manager, str(pair_of), tags[:2])
    manager.keep(("tie_tag", {"item_id": clock, "tag": tags[2], "piece": 1, "of": 1}))
    for item, name in ((pair_of, "pair of vases"), (clock, "bracket clock")):
        manager.keep(a_fact(item, "short_description", name))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    page = open_browser("phone").pages[0]
    pair(page, office, "table", "Table 1")
    page.goto(f"{office.address}/#/visit/{visit['visit_id']}/receipt")
    sign_on_paper(page, 2)
    behind = page.get_by_text("A piece of what stays went back, too")
    for item, tag in ((pair_of, tags[1]), (clock, tags[2])):
        void = {"item_id": item, "tag": tag, "why": "taken-back", "replaced_by": None}
        manager.keep(("remove_tag", void))
        assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    expect(page.get_by_role("heading", name="To sign for: 1 thing, taken back")).to_be_visible()
    expect(behind).to_be_visible()
    closed = page.get_by_text("This day is closed: what is changed now")
    expect(closed).to_have_count(0)
    close_with_all(manager, day["day_id"])
    expect(closed).to_be_visible()
    page.get_by_label("Signed on paper instead").fill("pad 2, no. 14")
    page.get_by_label("For the house").fill("Hester")
    page.get_by_label("Name of who takes it back").fill("Zelda Quill")
    page.get_by_role("button", name="Sign for 1 thing").click()
    expect(page.get_by_role("heading", name="To sign for: 1 thing, left with the house")).to_be_visible()
    expect(behind).to_have_count(0)
    assert office.faults() == []
