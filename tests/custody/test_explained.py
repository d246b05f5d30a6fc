"""A day is closed when what nobody can mend tomorrow has a reason each; what came up meanwhile asks anew."""

from __future__ import annotations

from typing import Any

import pytest

from intake.custody.difference_kinds import OF_RECORDS
from tests.builders import a_visit, an_item
from tests.closings import (
    AT_ONCE,
    a_closing,
    a_saying,
    close_with_all,
    differences_in,
    found_at,
    whole_closing,
)
from tests.conftest import Office
from tests.custody.test_custody import last_code
from tests.phone import Phone


def answered(manager: Phone) -> dict[str, Any]:
    return manager.push()[-1]


def needing(found: list[dict[str, str]]) -> list[dict[str, str]]:
    return [one for one in found if one["kind"] not in OF_RECORDS]


def test_a_closing_that_leaves_something_unexplained_is_refused_and_says_what(
    office: Office, manager: Phone, day: dict[str, Any], item: dict[str, Any]
) -> None:
    """People, things, crates and seals need a word each; records and views are the desk's."""
    found = needing(found_at(manager, day["day_id"]))
    assert {one["kind"] for one in found} == {"visit", "not-moved", "item-without-tag"}
    said = [manager.keep(a_saying(manager, day["day_id"], [one], "Stays here")) for one in found]
    manager.keep(a_closing(day["day_id"], said[1:]))
    problem = answered(manager)["problem"]
    assert problem["code"] == "difference_unexplained"
    assert found[0]["words"] in problem["detail"]
    assert found[1]["words"] not in problem["detail"]
    manager.keep(a_closing(day["day_id"], said))
    assert answered(manager)["outcome"] == "kept"
    told = whole_closing(manager.client, day["day_id"])
    named = told["sections"]["named"]
    assert {line["reason"] for line in named} == {"Stays here"}
    assert [line["words"] for line in named] == [one["words"] for one in found]
    assert told["differences"] == len(differences_in(told)) > 0
    assert office.faults() == []


def test_what_came_up_meanwhile_is_all_that_is_asked_anew(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], item: dict[str, Any]
) -> None:
    """What was said stays said: the new ones alone are lacking, and the day is closed with them."""
    day_id = day["day_id"]
    before = needing(found_at(manager, day_id))
    said = [manager.keep(a_saying(manager, day_id, before, "Stays here"))]
    phone.keep(an_item(phone.ids, phone.keep(a_visit(phone.ids, day_id, ticket="Q91"))))
    assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    manager.keep(a_closing(day_id, said))
    assert answered(manager)["problem"]["code"] == "difference_unexplained"
    assert "closed" not in manager.record(day_id)["fields"]
    keys = {one["key"] for one in before}
    new = [one for one in needing(found_at(manager, day_id)) if one["key"] not in keys]
    assert len(new) == 3
    said.append(manager.keep(a_saying(manager, day_id, new, "Came late", said_by="Ana Thistle")))
    manager.keep(a_closing(day_id, said))
    assert answered(manager)["outcome"] == "kept"
    told = whole_closing(manager.client, day_id)["sections"]["named"]
    assert {line["said_by"] for line in told if line["reason"] == "Came late"} == {"Ana Thistle"}
    assert office.faults() == []


def test_a_reason_stays_with_its_difference_whatever_the_thing_is_called_by_then(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], item: dict[str, Any]
) -> None:
    day_id = day["day_id"]
    said = [manager.keep(a_saying(manager, day_id, needing(found_at(manager, day_id)), "Stays here"))]
    fact = {"item_id": item["item_id"], "field": "short_description", "value": "A blue jug", "seen": None}
    phone.keep(("set_item", fact))
    phone.push()
    manager.keep(a_closing(day_id, said))
    assert answered(manager)["outcome"] == "kept"


def test_the_newest_word_counts_and_an_empty_one_takes_it_back(
    manager: Phone, day: dict[str, Any], item: dict[str, Any]
) -> None:
    day_id = day["day_id"]
    found = needing(found_at(manager, day_id))
    said = [manager.keep(a_saying(manager, day_id, found, reason)) for reason in ("Stays", "")]
    manager.keep(a_closing(day_id, said))
    assert answered(manager)["problem"]["code"] == "difference_unexplained"


def test_what_two_people_signed_is_what_is_on_record(manager: Phone, day: dict[str, Any]) -> None:
    """A list with another reason, and one that names a reason which is not here, close nothing."""
    kind, body = a_closing(day["day_id"], [])
    manager.keep((kind, {**body, "digest": "ab" * 32}))
    assert last_code(manager) == "list_differs"
    manager.keep((kind, {**body, "reason_ids": [manager.ids.id()]}))
    assert last_code(manager) == "not_found"


def test_a_closing_of_before_has_its_reasons_in_itself(
    manager: Phone, day: dict[str, Any], item: dict[str, Any]
) -> None:
    """An app of before names each difference by its words, and is asked for a reason of each all the same."""
    found = [one["words"] for one in needing(found_at(manager, day["day_id"]))]
    names = {"day_id": day["day_id"], "closed_by": "Hester", "second_by": "Ana", "named": found}
    manager.keep(("close_day", {**names, "reasons": ["", *["Known"] * (len(found) - 1)]}))
    assert last_code(manager) == "difference_unexplained"
    manager.keep(("close_day", {**names, "reasons": ["Known"] * len(found)}))
    assert last_code(manager) is None


#: 5,000 things, and 10,001 reasons of 400 signs, take a minute and a half: the same with fewer.
THINGS, LONG = 300, 400


@pytest.mark.parametrize("things", [THINGS])
def test_a_day_is_closed_whatever_the_number_of_its_differences(
    office: Office, manager: Phone, day: dict[str, Any], things: int
) -> None:
    """Each thing has a long reason of its own, said before the closing, which then is small."""
    day_id = day["day_id"]
    visit = manager.keep(a_visit(manager.ids, day_id, ticket="Q07"))
    for _ in range(things):
        manager.keep(an_item(manager.ids, visit))
    push_all(manager)
    found = needing(found_at(manager, day_id))
    assert len(found) == 2 * things + 1
    said = [
        manager.keep(a_saying(manager, day_id, [one], f"{number} ".ljust(LONG, "x")))
        for number, one in enumerate(found)
    ]
    push_all(manager)
    closing = manager.keep(a_closing(day_id, said))
    assert answered(manager)["outcome"] == "kept"
    told = whole_closing(manager.client, day_id)["sections"]["named"]
    assert {line["key"]: len(line["reason"]) for line in told} == {one["key"]: LONG for one in found}
    assert closing["count"] == len(found)
    assert office.faults() == []


def push_all(manager: Phone) -> None:
    """The outbox in parts, as a device sends it."""
    while manager.outbox:
        answers = manager.push(only=manager.outbox[:AT_ONCE])
        assert {answer["outcome"] for answer in answers} == {"kept"}


def test_one_reason_for_all_closes_a_day(manager: Phone, day: dict[str, Any], item: dict[str, Any]) -> None:
    closing = close_with_all(manager, day["day_id"])
    assert manager.record(day["day_id"])["fields"]["closed"]["value"]["digest"] == closing["digest"]
