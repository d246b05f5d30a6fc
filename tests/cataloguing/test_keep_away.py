"""A desk's page says whose and where a thing is that nobody handles; it has no copy of the day to read that off."""

from __future__ import annotations

import json
import sqlite3
from itertools import islice
from pathlib import Path
from typing import Any

import pytest

from intake.cataloguing.keep_away import keep_away_from
from intake.custody.whereabouts import places_of
from intake.database import Reading
from intake.records.record import Record
from intake.records.values import Source
from intake.tagging.tags import codes, shown
from tests.builders import a_caution, a_crate, a_move, a_visit, an_item, put_in
from tests.phone import Phone

FIXTURE = json.loads((Path(__file__).parents[2] / "fixtures" / "keep-away.json").read_text("utf-8"))
NO_TABLES = Reading(sqlite3.connect(":memory:"))


@pytest.mark.parametrize("case", FIXTURE["cases"], ids=lambda case: str(case["words"]))
def test_the_office_says_what_the_app_says(case: dict[str, Any]) -> None:
    spots = [(one["place"], one["at"], one["inside"]) for one in case["places"]]
    assert keep_away_from(case["tags"], case["ticket"], case["table"], spots) == case["words"]


@pytest.mark.parametrize("case", FIXTURE["things"], ids=lambda case: str(case["says"]))
def test_where_a_thing_is_goes_by_all_its_records(case: dict[str, Any]) -> None:
    front, *behind = (
        record_of("item", f"behind {place}" if place else "front", fields)
        for place, fields in enumerate(case["records"])
    )
    crate = record_of("container", "crate", case.get("crate", {}))
    front.others = lambda: behind
    places = places_of(front, {record.record_id: record for record in (front, *behind, crate)})
    inside = ["".join(f" in {outer.record_id}" for outer in where.inside) for where in places]
    words = [
        f"{where.place}{where.at and f', {where.at}'}{within}"
        for where, within in zip(places, inside, strict=True)
    ]
    assert words == case["at"]


def record_of(kind: str, record_id: str, fields: dict[str, Any]) -> Record:
    """A record whose fields were said at these minutes."""
    record = Record(NO_TABLES, record_id, kind, "d", 1, {}, new=True)
    for name, (minute, value) in fields.items():
        record.put(name, value, Source(name, "ana", f"2026-03-14T11:0{minute}:00.000Z", "a", 1, 1))
    return record


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


def test_a_thing_recorded_twice_is_where_any_of_its_records_was_moved_last(
    phone: Phone, day: dict[str, Any]
) -> None:
    """Stop stands on the one behind, which was moved later: whoever reads the bar keeps away from where it is."""
    visits = [phone.keep(a_visit(phone.ids, day["day_id"], ticket=ticket)) for ticket in ("Q20", "Q21")]
    front, behind = (phone.keep(an_item(phone.ids, visit))["item_id"] for visit in visits)
    crate = phone.keep(a_crate(phone.ids, day["day_id"], next(islice(codes(9820), 1))))["container_id"]
    phone.keep(a_move(phone.ids, front, "bench"))
    phone.keep(put_in(behind, crate))
    phone.keep(a_move(phone.ids, crate, "store"))
    phone.keep(("merge_item", {"item_id": behind, "into_id": front, "why": "", "seen": None}))
    phone.keep(a_caution(phone.ids, behind))
    assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    number = shown(phone.record(crate)["number"])
    assert alone(phone) == [("", f"Ticket Q20, Store, in crate {number}")]
    [stopped] = phone.client.get("/queue").json()["alone"]
    assert {behind, visits[1]["visit_id"], crate} <= set(stopped["near"])


def alone(phone: Phone) -> list[tuple[str, str]]:
    page = phone.client.get("/queue").json()
    return [(row["short_description"], row["keep_away"]) for row in page["alone"]]
