"""A first signature is on record: whoever is second reads it at their own device, and nobody is both."""

from __future__ import annotations

from typing import Any

import pytest

from tests.closings import a_closing, a_saying, found_at
from tests.conftest import Office
from tests.custody.test_custody import last_code
from tests.phone import Phone

HESTER, ANA = "Hester Quillfeather", "Ana Thistle"


@pytest.fixture
def other(office: Office, manager: Phone, day: dict[str, Any]) -> Phone:
    """Ana at a manager's device of her own."""
    person = {"person_id": "ana", "name": ANA, "roles": ["porter"]}
    manager.keep(("add_person", {"day_id": day["day_id"], "person": person}))
    manager.push()
    other = office.pair("manager", "Ana's device")
    other.person = "ana"
    return other


def a_signing(phone: Phone, day_id: str, said: list[dict[str, Any]], by: str) -> tuple[str, dict[str, Any]]:
    list_of = {name: a_closing(day_id, said)[1][name] for name in ("reason_ids", "count", "digest")}
    names = {"day_id": day_id, "signing_id": phone.ids.id(), "signed_by": by, "seen": None}
    return "sign_closing", {**names, **list_of}


def taken_back(signing: dict[str, Any]) -> tuple[str, dict[str, Any]]:
    names = {name: signing[name] for name in ("day_id", "signing_id", "signed_by")}
    nothing = {"reason_ids": [], "count": 0, "digest": None, "withdrawn": True}
    return "sign_closing", {**names, **nothing, "seen": signing["operation_id"]}


def explained(manager: Phone, day_id: str) -> list[dict[str, Any]]:
    manager.push()
    found = found_at(manager, day_id)
    return [manager.keep(a_saying(manager, day_id, found, "Stays here"))] if found else []


def hester_signs(manager: Phone, day_id: str) -> tuple[list[dict[str, Any]], dict[str, Any]]:
    """What was said of each difference, and her signature under it, which is not sent yet."""
    said = explained(manager, day_id)
    return said, manager.keep(a_signing(manager, day_id, said, HESTER))


def closing(
    day_id: str, said: list[dict[str, Any]], first: dict[str, Any], **who: Any
) -> tuple[str, dict[str, Any]]:
    kind, body = a_closing(day_id, said, by=first["signed_by"], **who)
    return kind, {**body, "first_digest": first["digest"], "first_signing": first["signing_id"]}


def test_the_second_closes_the_day_at_their_own_device_with_no_code(
    office: Office, manager: Phone, other: Phone, day: dict[str, Any], item: dict[str, Any]
) -> None:
    day_id = day["day_id"]
    said, first = hester_signs(manager, day_id)
    manager.push()
    stands = other.record(day_id)["fields"][f"first-signings/{first['signing_id']}"]
    assert (stands["value"]["signed_by"], stands["device_id"]) == (HESTER, manager.device_id)
    manager.keep(closing(day_id, said, first, second=ANA))
    assert last_code(manager) == "second_not_there", "both at one device, and no code"
    other.keep(closing(day_id, said, first, second="Otis"))
    assert last_code(other) == "second_not_there", "not who is at that device"
    other.keep(closing(day_id, said, first, second=HESTER))
    assert last_code(other) == "second_is_first"
    other.keep(closing(day_id, said, first, second=ANA))
    assert last_code(other) is None
    closed = manager.record(day_id)["fields"]["closed"]["value"]
    assert (closed["closed_by"], closed["second_by"]) == (HESTER, ANA)
    assert closed["first_signing"] == first["signing_id"]
    assert office.faults() == []


def test_at_the_first_one_s_device_the_second_gives_their_code(
    manager: Phone, other: Phone, day: dict[str, Any], item: dict[str, Any]
) -> None:
    day_id = day["day_id"]
    said, first = hester_signs(manager, day_id)
    manager.keep(closing(day_id, said, first, second=ANA, device=other.device_id))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}


def test_two_firsts_made_apart_both_stand_and_either_is_second_to_the_other(
    office: Office, manager: Phone, other: Phone, day: dict[str, Any], item: dict[str, Any]
) -> None:
    day_id = day["day_id"]
    said, first = hester_signs(manager, day_id)
    later = other.keep(a_signing(other, day_id, said, ANA))
    for phone in (manager, other):
        assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    record = manager.record(day_id)
    assert {f"first-signings/{one['signing_id']}" for one in (first, later)} <= record["fields"].keys()
    assert record["disagreements"] == []
    other.keep(closing(day_id, said, first, second=ANA))
    assert last_code(other) is None
    manager.keep(closing(day_id, said, later, second=HESTER))
    assert last_code(manager) == "day_closed"
    assert office.faults() == []


def test_what_was_taken_back_signs_nothing_and_keeps_nobody_from_closing(
    office: Office, manager: Phone, other: Phone, day: dict[str, Any], item: dict[str, Any]
) -> None:
    day_id = day["day_id"]
    said, first = hester_signs(manager, day_id)
    manager.push()
    other.keep(taken_back(first))
    assert last_code(other) is None
    other.keep(closing(day_id, said, first, second=ANA))
    assert last_code(other) == "first_not_signed"
    manager.keep(a_closing(day_id, said))
    assert last_code(manager) is None, "as apps of before close a day"
    assert office.faults() == []


def test_what_is_signed_first_is_what_is_on_record(
    manager: Phone, day: dict[str, Any], item: dict[str, Any]
) -> None:
    day_id = day["day_id"]
    said = explained(manager, day_id)
    kind, body = a_signing(manager, day_id, said, HESTER)
    for other, code in (
        ({"digest": "ab" * 32}, "list_differs"),
        ({"reason_ids": [manager.ids.id()]}, "not_found"),
        ({"digest": None}, "unreadable"),
        ({"withdrawn": True}, "unreadable"),
        ({"withdrawn": True, "digest": None}, "not_found"),
        ({}, None),
    ):
        manager.keep((kind, {**body, **other}))
        assert last_code(manager) == code, other
