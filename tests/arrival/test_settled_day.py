"""What two managers said otherwise of a day is settled either way, like what two people said of a thing."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import Any

import pytest

from tests.builders import a_day, a_settlement
from tests.custody.test_closed_twice import a_closing
from tests.door import Door

Said = tuple[str, dict[str, Any]]


def ana(day_id: str, *roles: str, left: bool = False, seen: str | None = None) -> Said:
    person = {"person_id": "ana", "name": "Ana Thistle", "roles": list(roles), "left": left}
    return "add_person", {"day_id": day_id, "person": person, "seen": seen}


async def two_hats(door: Door, day_id: str) -> tuple[str, str]:
    """Two managers give somebody other hats, both looking at the list of before: field, and the disagreement's id."""
    listed = await door.keep(ana(day_id, "door"))
    await door.keep(ana(day_id, "porter", seen=listed["operation_id"]))
    late = await door.other().keep(ana(day_id, "valuer", left=True, seen=listed["operation_id"]))
    return "people/ana", late["operation_id"]


async def two_houses(door: Door, day_id: str) -> tuple[str, str]:
    said: dict[str, Any] = {"day_id": day_id, "field": "house", "seen": None}
    await door.keep(("correct_day", {**said, "value": "Quillfeather"}))
    late = await door.other().keep(("correct_day", {**said, "value": "Quillfeather & Daughter"}))
    return "house", late["operation_id"]


async def two_tables(door: Door, day_id: str) -> tuple[str, str]:
    said: dict[str, Any] = {"day_id": day_id, "table_id": "1", "seen": None}
    await door.keep(("set_table", {**said, "name": "Window table", "gone": False}))
    late = await door.other().keep(("set_table", {**said, "name": "Table 1", "gone": True}))
    return "tables/1", late["operation_id"]


async def two_closings(door: Door, day_id: str) -> tuple[str, str]:
    other = door.other()
    late = other.make(a_closing(day_id, "Ned Lanternfield", ["Q04: no seal"]))
    await door.keep(a_closing(day_id, "Winifred Thimblewick", []))
    [answer] = await other.send(late)
    assert answer["disagreement"]
    return "closed", late["operation_id"]


@pytest.mark.parametrize("differ", [two_hats, two_houses, two_tables, two_closings])
@pytest.mark.parametrize("choose", ["kept", "other"])
async def test_either_of_two_values_of_a_day_may_hold(
    door: Door, differ: Callable[[Door, str], Awaitable[tuple[str, str]]], choose: str
) -> None:
    """The manager's device holds the day with both sides; what was chosen is in force then, with why, also after the
    tables are made anew."""
    day_id = (await door.keep(a_day(door.ids)))["day_id"]
    field, disagreement_id = await differ(door, day_id)
    [held] = [one for one in (await door.feed(day_id=day_id))["records"] if one["kind"] == "day"]
    [between] = held["disagreements"]
    assert (between["field"], between["disagreement_id"], between["settled"]) == (
        field,
        disagreement_id,
        None,
    )
    assert between["kept"]["value"] == held["fields"][field]["value"] != between["other"]["value"]
    kind, body = a_settlement(day_id, disagreement_id, choose)
    await door.keep((kind, {**body, "note": "asked both by telephone"}))
    day = await door.record(day_id)
    assert day["fields"][field]["value"] == between[choose]["value"]
    assert day["disagreements"][0]["settled"]["choose"] == choose
    assert day["fields"][f"settlement-notes/{disagreement_id}"]["value"] == "asked both by telephone"
    assert await door.faults() == []
    before = await door.digests()
    await door.rebuild()
    assert await door.digests() == before


async def test_settled_on_the_second_closing_the_day_stays_closed_since_the_first(door: Door) -> None:
    """Weeks later a settlement must not open the day to phones once more, nor its closing begin anew on them."""
    day_id = (await door.keep(a_day(door.ids)))["day_id"]
    _, disagreement_id = await two_closings(door, day_id)
    first = (await door.record(day_id))["fields"]["closed"]
    settled = await door.other("desk").keep(a_settlement(day_id, disagreement_id, "other"))
    closed = (await door.record(day_id))["fields"]["closed"]
    assert closed.pop("value")["closed_by"] == "Ned Lanternfield"
    assert closed.pop("operation_id") == settled["operation_id"], "a second settlement goes on from it"
    assert closed == {name: first[name] for name in closed}
    assert await door.refused(a_closing(day_id, "Hester Quillfeather", [])) == "day_closed"
