"""A day's closing comes page by page, and all pages that are read together are of one state of the day."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from functools import partial
from typing import Any

import httpx
import pytest

from intake.custody import routes
from intake.custody.kept_closings import KeptClosings, ToldClosing
from intake.custody.packed import Packed
from intake.database import Reading
from intake.errors import ClosingChanged
from tests.builders import a_visit, an_item
from tests.closings import a_saying, differences_in, found_at, whole_closing
from tests.conftest import Office
from tests.phone import Phone

VISITS = 30


@pytest.fixture
def desk(office: Office, manager: Phone, day: dict[str, Any]) -> httpx.Client:
    """A desk, while a day has many open visits."""
    for number in range(VISITS):
        manager.keep(a_visit(manager.ids, day["day_id"], ticket=f"V{number}"))
    manager.push()
    return office.pair("desk").client


def a_page(
    desk: httpx.Client, day_id: str, state: str, section: str = "visit", **more: int
) -> httpx.Response:
    return desk.get(f"/days/{day_id}/closing/lines", params={"state": state, "section": section, **more})


def one_more(manager: Phone, day: dict[str, Any]) -> None:
    manager.keep(a_visit(manager.ids, day["day_id"], ticket="LATE"))
    manager.push()


def test_a_closing_begins_with_its_counts_and_the_first_lines(
    desk: httpx.Client, day: dict[str, Any]
) -> None:
    told = desk.get(f"/days/{day['day_id']}/closing").json()
    [visits] = told["sections"]
    assert (visits["section"], visits["count"], len(visits["lines"])) == ("visit", VISITS, 12)
    assert told["differences"] == VISITS
    page = a_page(desk, day["day_id"], told["state"], after=12, limit=10).json()
    assert (len(page["lines"]), page["next"], page["state"]) == (10, 22, told["state"])
    last = a_page(desk, day["day_id"], told["state"], after=22).json()
    assert (len(last["lines"]), last["next"]) == (8, None)
    keys = [line["key"] for line in (*visits["lines"], *page["lines"], *last["lines"])]
    assert keys == [one["key"] for one in differences_in(whole_closing(desk, day["day_id"]))]
    assert len(set(keys)) == VISITS


def test_pages_are_of_one_state_while_phones_go_on_sending(
    desk: httpx.Client, manager: Phone, day: dict[str, Any]
) -> None:
    before = desk.get(f"/days/{day['day_id']}/closing").json()
    one_more(manager, day)
    now = desk.get(f"/days/{day['day_id']}/closing").json()
    assert now["state"] != before["state"]
    counts = [
        12 + len(a_page(desk, day["day_id"], told["state"], after=12).json()["lines"])
        for told in (before, now)
    ]
    assert counts == [VISITS, VISITS + 1]


def test_a_page_of_a_state_that_is_not_kept_says_so(desk: httpx.Client, day: dict[str, Any]) -> None:
    refused = a_page(desk, day["day_id"], "0" * 16)
    assert (refused.status_code, refused.json()["code"]) == (409, "closing_changed")
    state = desk.get(f"/days/{day['day_id']}/closing").json()["state"]
    assert a_page(desk, day["day_id"], state, section="nothing").status_code == 404
    assert a_page(desk, day["day_id"], state, limit=0).status_code == 400


def test_nothing_is_told_of_what_was_erased_since(
    desk: httpx.Client, manager: Phone, day: dict[str, Any]
) -> None:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="E1"))
    manager.push()
    state = desk.get(f"/days/{day['day_id']}/closing").json()["state"]
    manager.keep(("erase_consignor", {"visit_id": visit["visit_id"]}))
    manager.push()
    one_more(manager, day)
    assert a_page(desk, day["day_id"], state).json()["code"] == "closing_changed"


def test_whatever_a_closing_goes_by_makes_it_anew(
    desk: httpx.Client, manager: Phone, day: dict[str, Any]
) -> None:
    """One that is kept is never told once anything of its day is otherwise."""
    day_id = day["day_id"]

    def counted() -> dict[str, int]:
        told = desk.get(f"/days/{day_id}/closing").json()
        return {section["section"]: section["count"] for section in told["sections"]}

    before = counted()
    assert before == counted()
    visit = manager.keep(a_visit(manager.ids, day_id, ticket="N1"))
    manager.push()
    assert counted()["visit"] == before["visit"] + 1
    manager.keep(an_item(manager.ids, visit))
    manager.push()
    assert counted()["item-without-tag"] == 1
    found = found_at(manager, day_id)
    manager.keep(a_saying(manager, day_id, found[:1], "It is known"))
    manager.push()
    assert [one["key"] for one in found_at(manager, day_id)] == [one["key"] for one in found]


def test_one_closing_is_made_at_a_time_for_pages_as_well(
    desk: httpx.Client, manager: Phone, day: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A page of what is kept is told at once; for one that is not, a closing may have to be made, in its turn."""
    held: list[bool] = []
    made_now = routes.made_now

    def noting(tx: Reading, serving: Any, day_id: str) -> ToldClosing:
        held.append(serving.kept_closings.turn.locked())
        return made_now(tx, serving, day_id)

    monkeypatch.setattr(routes, "made_now", noting)
    state = desk.get(f"/days/{day['day_id']}/closing").json()["state"]
    one_more(manager, day)
    assert a_page(desk, day["day_id"], state).status_code == 200
    assert held == [True]
    assert a_page(desk, day["day_id"], "0" * 16).status_code == 409
    assert held == [True, True]


def test_what_is_kept_has_a_bound_and_is_made_once_for_all_who_ask(
    office: Office, day: dict[str, Any]
) -> None:
    made = []

    def make(number: int) -> ToldClosing:
        made.append(number)
        return ToldClosing.of({"number": number}, {"visit": Packed([{"words": "x" * 1000}])})

    with closing(sqlite3.connect(office.settings.database_file)) as file:
        tx = Reading(file)
        kept = KeptClosings(limit=2500)
        states = [kept.now(tx, "first day", lambda: make(1)).state for _ in range(20)]
        assert made == [1]
        for number in (2, 3):
            kept.now(tx, f"day {number}", partial(make, number))
        assert kept.of_state(tx, "first day", states[0], lambda: make(1)).state == states[0]
        assert made == [1, 2, 3, 1], "let go of for the third, and the same when it is made again"
        with pytest.raises(ClosingChanged):
            kept.of_state(tx, "day 2", states[0], lambda: make(2))
