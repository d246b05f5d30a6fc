"""The queue: in order of arrival, found by words, tag, class and state."""

from __future__ import annotations

from typing import Any

import pytest

from intake.cataloguing.search import match_of
from tests.builders import a_fact, a_tie, a_visit, an_item
from tests.conftest import Office
from tests.phone import Phone


@pytest.fixture
def things(phone: Phone, day: dict[str, Any]) -> list[str]:
    visit = phone.keep(a_visit(phone.ids, day["day_id"], ticket="Q17"))
    found = []
    for words, class_id in (
        ("plush elephant", "soft-toy"),
        ("bone china teapot", "ceramics"),
        ("owl", "free"),
    ):
        opened = phone.keep(an_item(phone.ids, visit))
        phone.keep(a_fact(opened["item_id"], "short_description", words))
        phone.keep(a_fact(opened["item_id"], "class_id", class_id))
        found.append(opened["item_id"])
    phone.keep(a_tie(found[1], "7K3-QW5"))
    phone.push()
    return found


def ids_of(phone: Phone, **asked: Any) -> list[str]:
    return [entry["item_id"] for entry in phone.client.get("/queue", params=asked).json()["entries"]]


def test_items_stand_in_the_order_in_which_they_arrived(phone: Phone, things: list[str]) -> None:
    assert ids_of(phone) == things
    first = phone.client.get("/queue").json()["entries"][0]
    assert (first["ticket"], first["state"]) == ("Q17", "waiting")


@pytest.mark.parametrize(
    ("asked", "expected"),
    [
        ({"words": "eleph"}, [0]),
        ({"words": "TEAPOT china"}, [1]),
        ({"words": "7K3QW5"}, [1]),
        ({"words": "7K3-QW5"}, [1]),
        ({"class_id": "soft-toy"}, [0]),
        ({"state": "waiting"}, [0, 1, 2]),
        ({"state": "described"}, []),
        ({"words": "owl", "class_id": "ceramics"}, []),
    ],
)
def test_entries_are_found(
    phone: Phone, things: list[str], asked: dict[str, str], expected: list[int]
) -> None:
    assert ids_of(phone, **asked) == [things[place] for place in expected]


def test_pages_follow_each_other(phone: Phone, things: list[str]) -> None:
    page = phone.client.get("/queue", params={"limit": 2}).json()
    assert page["count"] == 3
    assert ids_of(phone, limit=2, after=page["next"]) == things[2:]


def test_picking_up_and_describing_moves_an_entry(office: Office, phone: Phone, things: list[str]) -> None:
    desk = office.pair("desk")
    picked = desk.keep(("set_entry", {"item_id": things[0], "state": "picked-up", "seen": None}))
    desk.keep(("set_entry", {"item_id": things[0], "state": "described", "seen": picked["operation_id"]}))
    desk.push()
    assert ids_of(phone, state="described") == [things[0]]
    assert ids_of(phone, state="waiting") == things[1:]
    assert office.faults() == []


@pytest.mark.parametrize(
    "typed", ['"', '" OR marks:"', "AND", "NEAR(", "*", "words:", "(", "é 'x'", "-", "^a"]
)
def test_no_sign_in_a_search_is_read_as_syntax(phone: Phone, things: list[str], typed: str) -> None:
    assert phone.client.get("/queue", params={"words": typed}).status_code == 200


def test_a_search_for_nothing_has_no_expression() -> None:
    assert match_of("  ", None, None) is None


@pytest.mark.parametrize("class_id", ['"', "Soft Toy", "-"])
def test_what_is_no_class_finds_nothing_by_mistake(phone: Phone, things: list[str], class_id: str) -> None:
    """Not the items whose class nobody has said."""
    answer = phone.client.get("/queue", params={"class_id": class_id})
    assert (answer.status_code, answer.json()["code"]) == (400, "unreadable")
