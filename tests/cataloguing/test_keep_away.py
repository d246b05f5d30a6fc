"""A desk's page says whose and where a thing is that nobody handles; it has no copy of the day to read that off."""

from __future__ import annotations

import json
from itertools import islice
from pathlib import Path
from typing import Any

import pytest

from intake.cataloguing.keep_away import keep_away_from
from intake.tagging.tags import codes, shown
from tests.builders import a_caution, a_crate, a_visit, an_item, put_in
from tests.phone import Phone

FIXTURE = json.loads((Path(__file__).parents[2] / "fixtures" / "keep-away.json").read_text("utf-8"))


@pytest.mark.parametrize("case", FIXTURE["cases"], ids=lambda case: str(case["words"]))
def test_the_office_says_what_the_app_says(case: dict[str, Any]) -> None:
    asked = {name: value for name, value in case.items() if name != "words"}
    assert keep_away_from(**asked) == case["words"]


def test_what_has_no_name_yet_is_told_by_its_ticket_and_where_it_is(
    phone: Phone, day: dict[str, Any]
) -> None:
    visit = phone.keep(a_visit(phone.ids, day["day_id"], ticket="Q17"))
    table = {"visit_id": visit["visit_id"], "field": "table_id", "value": "t1", "seen": None}
    phone.keep(("set_visit", table))
    named = {"day_id": day["day_id"], "table_id": "t1", "name": "By the stage", "gone": False, "seen": None}
    phone.keep(("set_table", named))
    item = phone.keep(an_item(phone.ids, visit))
    phone.keep(a_caution(phone.ids, item["item_id"]))
    assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    assert alone(phone) == [("", "Ticket Q17, By the stage")]


def test_a_thing_in_a_crate_is_where_the_crate_is(phone: Phone, day: dict[str, Any]) -> None:
    number = next(islice(codes(9800), 1))
    visit = phone.keep(a_visit(phone.ids, day["day_id"], ticket="Q18"))
    item = phone.keep(an_item(phone.ids, visit))
    crate = phone.keep(a_crate(phone.ids, day["day_id"], number))
    phone.keep(put_in(item["item_id"], crate["container_id"]))
    phone.push()
    phone.keep(a_caution(phone.ids, item["item_id"]))
    phone.push()
    assert alone(phone) == [("", f"Ticket Q18, Table, in crate {shown(number)}")]


def test_what_was_noted_of_a_place_is_that_of_the_outermost_crate(phone: Phone, day: dict[str, Any]) -> None:
    numbers = list(islice(codes(9810), 2))
    visit = phone.keep(a_visit(phone.ids, day["day_id"], ticket="Q19"))
    item = phone.keep(an_item(phone.ids, visit))
    inner, outer = (phone.keep(a_crate(phone.ids, day["day_id"], number)) for number in numbers)
    phone.keep(put_in(item["item_id"], inner["container_id"]))
    phone.keep(put_in(inner["container_id"], outer["container_id"]))
    moved = {
        "move_id": phone.ids.id(),
        "thing_id": outer["container_id"],
        "from_place": None,
        "to_place": "shelf",
        "at": "B3",
        "given_by": "Ana",
        "taken_by": "Otis",
        "count": None,
        "signed": False,
    }
    phone.keep(("record_move", moved))
    assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    phone.keep(a_caution(phone.ids, item["item_id"]))
    phone.push()
    crates = [f"in crate {shown(number)}" for number in numbers]
    assert alone(phone) == [("", ", ".join(["Ticket Q19, Shelf, B3", *crates]))]


def alone(phone: Phone) -> list[tuple[str, str]]:
    page = phone.client.get("/queue").json()
    return [(row["short_description"], row["keep_away"]) for row in page["alone"]]
