"""A day that two managers set up, out of each other's reach: one on which nothing was entered is let go."""

from __future__ import annotations

from typing import Any

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
