"""The list says which things left with a load and did not come, by the rule of loads."""

from __future__ import annotations

from itertools import islice
from typing import Any

import pytest

from intake.tagging.tags import codes
from tests.builders import a_crate, a_move, a_tie, a_visit, a_zone, an_item, put_in
from tests.cataloguing.test_queue import ids_of, queue
from tests.closings import close_with_all
from tests.conftest import Office
from tests.phone import Phone

LOOSE, PACKED, CRATE, OTHER = islice(codes(9300), 4)


@pytest.fixture
def owls(phone: Phone, day: dict[str, Any]) -> list[str]:
    """One that goes loose, and one that goes in a crate."""
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    opened = [phone.keep(an_item(phone.ids, visit))["item_id"] for _ in range(2)]
    for item_id, tag in zip(opened, (LOOSE, PACKED), strict=True):
        phone.keep(a_tie(item_id, tag))
    return opened


@pytest.fixture
def crate(phone: Phone, day: dict[str, Any], owls: list[str]) -> str:
    crate_id: str = phone.keep(a_crate(phone.ids, day["day_id"], CRATE))["container_id"]
    phone.keep(put_in(owls[1], crate_id))
    phone.push()
    return crate_id


def count(phone: Phone, day: dict[str, Any], numbers: list[str], **more: Any) -> str:
    people = {"given_by": "Ana", "taken_by": "Otis", "driver": "Otis Reed"}
    counted = dict.fromkeys(("crates", "pieces", "scanned_crates", "scanned_pieces"), 1)
    body = {"day_id": day["day_id"], "load_id": phone.ids.id(), "to_place": "van", "at": "van 1"}
    load = phone.keep(("count_load", {**body, **people, **counted, "numbers": numbers, **more}))
    load_id: str = load["load_id"]
    return load_id


def leave(phone: Phone, day: dict[str, Any], *things: str) -> str:
    for thing in things:
        phone.keep(a_move(phone.ids, thing, "van"))
    load_id = count(phone, day, [LOOSE, CRATE], packed=[{"container": CRATE, "numbers": [PACKED]}])
    phone.push()
    return load_id


def said(phone: Phone) -> list[str | None]:
    return [row["not_come"] for row in queue(phone)["entries"]]


WITH_LOAD = "not come with load to van 1, driven by Otis Reed"


def test_what_left_and_did_not_come_says_so_until_it_is_found(
    office: Office, phone: Phone, day: dict[str, Any], owls: list[str], crate: str
) -> None:
    load_id = leave(phone, day, owls[0], crate)
    assert said(phone) == [None, None], "it is on its way for all that is known"
    phone.keep(a_move(phone.ids, crate, "store"))
    count(phone, day, [CRATE], to_place="store", at="", of_load=load_id)
    phone.push()
    assert said(phone) == [WITH_LOAD, None]
    assert ids_of(phone, only="absent") == [owls[0]]
    assert queue(phone, counts="1")["counts"]["only"]["absent"] == 1
    assert ids_of(phone, words="not come") == [owls[0]], "what a filter is called finds what it would show"
    assert office.faults() == []
    phone.keep(a_move(phone.ids, owls[0], "store"))
    phone.push()
    assert said(phone) == [None, None]
    assert office.faults() == []


def test_what_lay_in_a_crate_that_did_not_come_has_not_come_until_the_crate_is_found(
    office: Office, phone: Phone, day: dict[str, Any], owls: list[str], crate: str
) -> None:
    load_id = leave(phone, day, owls[0], crate)
    phone.keep(a_move(phone.ids, owls[0], "store"))
    count(phone, day, [LOOSE], to_place="store", at="", of_load=load_id)
    phone.push()
    assert ids_of(phone, only="absent") == [owls[1]]
    phone.keep(a_move(phone.ids, crate, "store"))
    phone.push()
    assert ids_of(phone, only="absent") == [], "the move is the crate's alone"
    assert office.faults() == []


def test_what_was_taken_out_on_the_way_has_not_come_with_its_crate(
    office: Office, phone: Phone, day: dict[str, Any], owls: list[str], crate: str
) -> None:
    load_id = leave(phone, day, owls[0], crate)
    lies = phone.record(owls[1])["fields"]["inside"]["operation_id"]
    phone.keep(put_in(owls[1], None, seen=lies))
    for thing in (owls[0], crate):
        phone.keep(a_move(phone.ids, thing, "store"))
    phone.push()
    assert ids_of(phone, only="absent") == []
    count(phone, day, [LOOSE, CRATE], to_place="store", at="", of_load=load_id)
    phone.push()
    assert ids_of(phone, only="absent") == [owls[1]]
    assert office.faults() == []


def test_what_came_with_its_crate_is_not_read_anew_when_that_is_counted(
    phone: Phone, day: dict[str, Any], owls: list[str], crate: str
) -> None:
    load_id = leave(phone, day, owls[0], crate)
    for thing in (owls[0], crate):
        phone.keep(a_move(phone.ids, thing, "store"))
    phone.push()
    before = queue(phone)["cursor"]
    count(phone, day, [LOOSE, CRATE], to_place="store", at="", of_load=load_id)
    phone.push()
    assert queue(phone)["cursor"] == before + 1, "the day alone"


def test_an_arrival_that_is_heard_of_before_its_load_is_not_lost(
    office: Office, phone: Phone, day: dict[str, Any], owls: list[str], crate: str
) -> None:
    other = office.pair("manager", "Store")
    load_id = phone.ids.id()
    other.keep(a_move(other.ids, crate, "store"))
    count(other, day, [CRATE], to_place="store", at="", of_load=load_id)
    other.push()
    for thing in (owls[0], crate):
        phone.keep(a_move(phone.ids, thing, "van"))
    count(phone, day, [LOOSE, CRATE], load_id=load_id)
    phone.push()
    assert ids_of(phone, only="absent") == [owls[0]]
    assert office.faults() == []


def test_what_was_in_the_van_as_the_day_was_closed_has_not_come(
    office: Office, phone: Phone, day: dict[str, Any], owls: list[str], crate: str
) -> None:
    leave(phone, day, owls[0], crate)
    phone.keep(a_move(phone.ids, crate, "store"))
    phone.push()
    assert ids_of(phone, only="absent") == []
    close_with_all(phone, day["day_id"])
    assert ids_of(phone, only="absent") == [owls[0]]
    assert office.faults() == []


def test_what_was_not_in_its_crate_as_that_was_unpacked_says_so(
    office: Office, phone: Phone, owls: list[str], crate: str
) -> None:
    check = {"item_id": owls[1], "state": "not-here", "words": "", "second_by": "Otis", "seen": None}
    phone.keep(("check_in", check))
    phone.push()
    assert said(phone) == [None, "not there as it was unpacked"]
    assert ids_of(phone, only="absent,differs") == [owls[1]]
    assert office.faults() == []


def test_what_was_put_off_to_the_store_is_found_until_somebody_looks(
    office: Office, phone: Phone, owls: list[str]
) -> None:
    phone.keep(a_zone(owls[0], "face", state="not-examined", reason="no-time"))
    phone.keep(a_zone(owls[1], "face", state="not-examined", reason="sealed"))
    phone.push()
    assert ids_of(phone, only="deferred") == [owls[0]]
    assert ids_of(phone, words="put off") == [owls[0]]
    seen = phone.record(owls[0])["fields"]["zones/face"]["operation_id"]
    phone.keep(a_zone(owls[0], "face", seen=seen))
    phone.push()
    assert ids_of(phone, only="deferred") == []
    assert office.faults() == []
