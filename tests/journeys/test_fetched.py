"""Whoever fetches a thing reads what the house found of it since, before they sign, and signs for what is here."""

from __future__ import annotations

import re
from itertools import islice
from typing import Any

from playwright.sync_api import expect

from intake.tagging.tags import codes, shown
from tests.builders import Ids, a_fact, a_move, a_tie, a_visit, an_item
from tests.conftest import Office
from tests.journeys.conftest import Open, go_to, pair
from tests.journeys.test_piece_back import number_each
from tests.journeys.test_receipt import sign_on_paper
from tests.phone import Phone

SET, LEFT, RIGHT, CLOCK = islice(codes(9870), 4)


def compared(manager: Phone, day_id: Any, item: str, words: str, difference: str, note: str) -> None:
    """As a store's phone notes that a thing differs, or is not there: with a difference of the day."""
    state = "not-here" if difference == "item-short" else "differs"
    check = {"item_id": item, "state": state, "words": words, "second_by": "Bram Stout", "seen": None}
    manager.keep(("check_in", check))
    raised = {
        "day_id": day_id,
        "difference_id": manager.ids.id(),
        "thing_id": item,
        "owner_told": False,
        "seen": None,
    }
    manager.keep(("raise_difference", {**raised, "told": "", "difference": difference, "words": note}))


def test_what_was_short_or_damaged_at_the_store_stands_on_the_paper_of_whoever_fetches_it(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q73"))
    things = {}
    for name in ("dinner service", "pair of vases", "mantel clock"):
        things[name] = item = str(manager.keep(an_item(ids, visit))["item_id"])
        manager.keep(a_fact(item, "short_description", name))
        manager.keep(a_fact(item, "class_id", "glass"))
    service, vases, clock = things.values()
    manager.keep(("count_pieces", {"item_id": service, "pieces": 72, "back": 0, "seen": None}))
    manager.keep(a_tie(service, SET))
    number_each(manager, vases, (LEFT, RIGHT))
    manager.keep(a_tie(clock, CLOCK))
    for item in things.values():
        manager.keep(a_move(ids, item, "store", from_place="table"))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}

    table = open_browser("phone").pages[0]
    pair(table, office, "table", "Table 1")
    go_to(table, f"{office.address}/#/visit/{visit['visit_id']}/receipt")
    sign_on_paper(table, 3)
    all_came = "not all of it came: "
    for item, words, difference, note in (
        (
            service,
            "71 of 72 pieces are there",
            "piece-short",
            f"service, {all_came}71 of 72 pieces are there",
        ),
        (vases, "", "piece-short", f"vases, {all_came}piece 2 of 2, {shown(RIGHT)}: in the van"),
        (clock, "", "item-short", "mantel clock was not there as it was to be compared"),
    ):
        compared(manager, day["day_id"], item, words, difference, note)
    hurt = {"thing_id": service, "difference": "new-damage", "words": "the tureen's lid is cracked"}
    told = {"day_id": day["day_id"], "difference_id": ids.id(), "owner_told": False, "told": "", "seen": None}
    manager.keep(("raise_difference", {**told, **hurt}))
    answers = manager.push()
    assert [answer["problem"] for answer in answers if answer["problem"]] == []

    main = table.locator("main")
    go_to(table, f"{office.address}/#/item/{clock}/tag")
    expect(main).to_contain_text("It was not there as it was to be compared, so it does not go back.")
    expect(table.get_by_role("button", name="The owner takes it back")).to_have_count(0)

    go_to(table, f"{office.address}/#/item/{vases}/tag")
    expect(main).to_contain_text("each piece that is goes back by its own number")
    expect(table.get_by_role("button", name="The owner takes it back")).to_have_count(0)
    expect(table.get_by_role("button", name=f"Piece 1 goes back: {shown(LEFT)}")).to_be_visible()
    expect(table.get_by_role("button", name="Piece 2 goes back")).to_have_count(0)

    go_to(table, f"{office.address}/#/item/{service}/tag")
    table.get_by_role("button", name="The owner takes it back").click()
    expect(main).to_contain_text("1 piece missing: found by the house on ")
    table.get_by_label("Given back by").fill("Hester")
    table.get_by_role("button", name="Give it back, and sign for it").click()
    line = main.locator("ol.steps li").filter(has_text=shown(SET)).first
    expect(line).to_contain_text("dinner service; 71 of 72 pieces; 1 piece missing: found by the house on ")
    expect(line).to_contain_text("Bram Stout)")
    expect(line).to_contain_text("the tureen's lid is cracked: found by the house on ")
    table.get_by_label("Name of who takes it back").fill("Ottoline Vane")
    table.get_by_label("Signed on paper instead").fill("pad 4")
    table.get_by_label("For the house").fill("Hester")
    table.get_by_role("button", name="Sign for 1 thing").click()
    expect(table.get_by_text(re.compile("is signed by Ottoline Vane"))).to_be_visible()
    expect(table.get_by_text("All at the desk").first).to_be_attached()
    signed = [
        field["value"]
        for name, field in manager.record(visit["visit_id"])["fields"].items()
        if name.startswith("receipts/")
    ]
    [back] = [one for one in signed if one["what"] == "taken-back"]
    assert "; 71 of 72 pieces; 1 piece missing: found by the house on " in back["lines"][0]["words"]
    assert office.faults() == []
