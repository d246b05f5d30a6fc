"""A day that two managers set up, out of each other's reach: one on which nothing was entered is let go."""

from __future__ import annotations

from typing import Any

import pytest

from tests.builders import a_day, a_visit
from tests.door import Door


def letting_go(day_id: str) -> tuple[str, dict[str, Any]]:
    return "correct_day", {"day_id": day_id, "field": "let_go", "value": "the other goes on", "seen": None}


async def test_of_a_day_set_up_twice_one_is_let_go_and_the_other_stays(door: Door) -> None:
    first = (await door.keep(a_day(door.ids)))["day_id"]
    assert await door.refused(letting_go(first)) == "day_stays", "no other stands in its place"
    second = (await door.keep(a_day(door.ids)))["day_id"]
    await door.keep(letting_go(first))
    assert await door.other().refused(letting_go(second)) == "day_stays", "two let each other's go at once"


async def test_one_that_holds_a_visit_stays(door: Door) -> None:
    first = (await door.keep(a_day(door.ids)))["day_id"]
    second = (await door.keep(a_day(door.ids)))["day_id"]
    await door.keep(a_visit(door.ids, first))
    assert await door.refused(letting_go(first)) == "day_stays"
    await door.keep(letting_go(second))


async def test_another_place_on_the_same_date_is_no_double(door: Door) -> None:
    first = (await door.keep(a_day(door.ids)))["day_id"]
    kind, elsewhere = a_day(door.ids)
    await door.keep((kind, {**elsewhere, "place": "Corn Hall"}))
    assert await door.refused(letting_go(first)) == "day_stays"


def corrected(day_id: str, field: str, value: str) -> tuple[str, dict[str, Any]]:
    return "correct_day", {"day_id": day_id, "field": field, "value": value, "seen": None}


@pytest.mark.parametrize(
    ("field", "another", "typed_again"),
    [
        ("house", "Quillfeather's", " thimblewick's  SALEROOM"),
        ("place", "Corn Hall", "old corn hall, market pellowby"),
        ("held_on", "2026-03-15", "2026-03-14"),
    ],
)
async def test_what_a_day_is_called_now_says_whether_it_is_a_double(
    door: Door, field: str, another: str, typed_again: str
) -> None:
    first = (await door.keep(a_day(door.ids)))["day_id"]
    second = (await door.keep(a_day(door.ids)))["day_id"]
    await door.keep(corrected(second, field, another))
    assert await door.refused(letting_go(first)) == "day_stays"
    assert await door.refused(letting_go(second)) == "day_stays"
    seen = (await door.record(second))["fields"][field]["operation_id"]
    kind, again = corrected(second, field, typed_again)
    await door.keep((kind, {**again, "seen": seen}))
    await door.keep(letting_go(first))


async def test_whoever_lets_one_go_is_told_what_stands_on_it(door: Door) -> None:
    first = (await door.keep(a_day(door.ids)))["day_id"]
    await door.keep(a_day(door.ids))
    await door.keep(a_visit(door.ids, first))
    await door.keep(a_visit(door.ids, first, ticket="Q02"))
    [answer] = await door.send(door.make(letting_go(first)))
    assert "2 records stand on it" in answer["problem"]["detail"]
    await door.keep(corrected(first, "place", "Corn Hall"))  # any other word of it is nobody's to refuse
    assert await door.faults() == []


@pytest.mark.parametrize(
    ("held_on", "code"),
    [
        ("2026-02-28", ""),
        ("2026-02-30", "unreadable"),
        ("14 March", "unreadable"),
        ("2026-3-1", "unreadable"),
    ],
)
async def test_a_day_is_held_on_a_date_of_the_calendar(door: Door, held_on: str, code: str) -> None:
    day_id = (await door.keep(a_day(door.ids)))["day_id"]
    [answer] = await door.send(door.make(corrected(day_id, "held_on", held_on)))
    assert (answer["problem"] or {"code": ""})["code"] == code
