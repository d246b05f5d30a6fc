"""A set whose lid has a number of its own: the desk hears which part is where, and which did not come."""

from __future__ import annotations

from itertools import islice
from typing import Any

import pytest

from intake.tagging.tags import codes, shown
from tests.builders import a_crate, a_move, a_tie, a_visit, an_item
from tests.cataloguing.test_not_come import WITH_LOAD, count, said
from tests.conftest import Office
from tests.phone import Phone

SET, LID, CRATE = islice(codes(9500), 3)


def tied(phone: Phone, item_id: str, tag: str, piece: int, **more: Any) -> dict[str, Any]:
    kind, body = a_tie(item_id, tag, piece=piece)
    return phone.keep((kind, {**body, "of": 2, **more}))


@pytest.fixture
def tea_set(phone: Phone, day: dict[str, Any]) -> str:
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    item_id = str(phone.keep(an_item(phone.ids, visit))["item_id"])
    phone.keep(("count_pieces", {"item_id": item_id, "pieces": 14, "back": 0, "seen": None}))
    tied(phone, item_id, SET, 1)
    tied(phone, item_id, LID, 2, mark="the lid")
    phone.push()
    return item_id


def test_a_part_on_its_way_is_told_with_the_crate_in_which_it_lies_and_none_is_lost_in_two_places_of_the_store(
    office: Office, phone: Phone, day: dict[str, Any], tea_set: str
) -> None:
    crate_id = phone.keep(a_crate(phone.ids, day["day_id"], CRATE))["container_id"]
    phone.keep(("put_inside", {"thing_id": tea_set, "container_id": crate_id, "tag": SET, "seen": None}))
    phone.keep(a_move(phone.ids, crate_id, "van"))
    phone.keep(a_move(phone.ids, tea_set, "store", tag=LID))
    phone.push()
    desk = office.pair("desk", "Desk")
    described = {"item_id": tea_set, "state": "described", "reason": "no time", "seen": None}
    desk.keep(("set_entry", described))
    (answer,) = desk.push()
    assert answer["problem"]["code"] == "parts_lost"
    assert answer["problem"]["detail"] == (
        f"Not all of it is in the house's keeping, so it cannot be described: {shown(SET)}, the rest of it, "
        f"in crate {shown(CRATE)}, van (on its way)."
    )
    phone.keep(a_move(phone.ids, crate_id, "store"))
    phone.push()
    desk.keep(("set_entry", described))
    assert [answer["problem"] for answer in desk.push()] == [None], (
        "in a crate and beside it, both at the store"
    )


def test_a_part_that_is_noted_as_missing_is_lost_until_that_is_explained(
    office: Office, phone: Phone, day: dict[str, Any], tea_set: str
) -> None:
    phone.keep(a_move(phone.ids, tea_set, "store"))
    noted = {"day_id": day["day_id"], "difference_id": phone.ids.id(), "seen": None}
    words = f"tea set, not all of it came: the lid, {shown(LID)}: store"
    short = {"difference": "piece-short", "thing_id": tea_set, "words": words, "owner_told": False}
    phone.keep(("raise_difference", {**noted, **short, "told": ""}))
    phone.push()
    desk = office.pair("desk", "Desk")
    described = {"item_id": tea_set, "state": "described", "reason": "no time", "seen": None}
    desk.keep(("set_entry", described))
    (answer,) = desk.push()
    assert answer["problem"]["detail"].endswith(f": {shown(LID)}, the lid, store (noted as missing).")
    phone.keep(("settle_difference", {**noted, "ended": "found", "words": "", "second_by": "Bram"}))
    phone.push()
    desk.keep(("set_entry", described))
    assert [answer["problem"] for answer in desk.push()] == [None]


def test_what_did_not_come_of_it_is_its_lid(phone: Phone, day: dict[str, Any], tea_set: str) -> None:
    for tag in (SET, LID):
        phone.keep(a_move(phone.ids, tea_set, "van", tag=tag))
    load_id = count(phone, day, [SET, LID])
    phone.keep(a_move(phone.ids, tea_set, "store", tag=SET))
    count(phone, day, [SET], to_place="store", at="", of_load=load_id)
    phone.push()
    assert said(phone) == [f"the lid {WITH_LOAD}"]


def test_another_device_says_anew_what_a_number_is_on(office: Office, phone: Phone, tea_set: str) -> None:
    """Whoever had seen what stood; of two who had not a person settles it."""
    lid = phone.record(tea_set)["fields"][f"tags/{LID}"]["operation_id"]
    other = office.pair("table", "Other table")
    tied(other, tea_set, LID, 2, mark="the cover of the teapot", seen=lid)
    assert [answer["disagreement"] for answer in other.push()] == [False]
    assert phone.record(tea_set)["fields"][f"tags/{LID}"]["value"]["mark"] == "the cover of the teapot"
    third = office.pair("table", "Third table")
    tied(third, tea_set, LID, 2, mark="the stand", seen=lid)
    assert [answer["disagreement"] for answer in third.push()] == [True]
    assert phone.record(tea_set)["fields"][f"tags/{LID}"]["value"]["mark"] == "the cover of the teapot"
