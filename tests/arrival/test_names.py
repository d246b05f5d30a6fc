"""Whose names are offered at a desk, and when two of them are one."""

from __future__ import annotations

from typing import Any

import pytest

from intake.arrival.people import as_one_name, people_of_days
from tests.builders import a_day
from tests.custody.test_closed_twice import a_closing
from tests.door import Door

# Source: Unicode Standard Annex #15, figure 3: e with acute in one sign, and as e and a combining acute.
ONE_SIGN, TWO_SIGNS = "Jos\u00e9 Plume", "Jose\u0301 Plume"


async def listed(door: Door, *people: tuple[str, str, bool]) -> str:
    """A day with these people: id, name, whether they left."""
    kind, body = a_day(door.ids)
    rows = [
        {"person_id": who, "name": name, "roles": ["cataloguer"], "left": left} for who, name, left in people
    ]
    day: dict[str, Any] = await door.keep((kind, {**body, "people": rows}))
    return str(day["day_id"])


async def offered(door: Door) -> list[str]:
    people = await door.database.read(lambda tx: people_of_days(tx, "desk"))
    return [one["person_id"] for one in people]


async def test_who_has_left_or_has_no_name_is_not_offered(door: Door) -> None:
    await listed(door, ("ana-1", "Ana Thistle", False), ("ned-1", "Ned Lantern", False))
    door.person = "ana-1"
    await listed(door, ("ana-2", "Ana Thistle", True), ("blank", " ", False))
    assert await offered(door) == ["ned-1"]


async def test_two_of_one_name_on_the_latest_list_are_both_offered(door: Door) -> None:
    await listed(door, ("jose-1", TWO_SIGNS, False))
    await listed(door, ("jose-2", ONE_SIGN, False), ("jose-3", ONE_SIGN, False))
    assert await offered(door) == ["jose-2", "jose-3"]


@pytest.mark.parametrize("other", [TWO_SIGNS, " jos\u00e9  PLUME "])
async def test_one_name_written_in_two_ways_is_one_person(door: Door, other: str) -> None:
    assert as_one_name(ONE_SIGN) == as_one_name(other) != as_one_name("Jose Plume")
    day_id = await listed(door, ("hester", ONE_SIGN, False))
    kind, body = a_closing(day_id, ONE_SIGN, [])
    assert await door.refused((kind, {**body, "second_by": other})) == "second_is_first"
    told: dict[str, Any] = {"incident_id": door.ids.id(), "ticket": "", "place": "", "level": "amber"}
    told |= {"hazard": "H26", "sign": "dust", "seen_at": "2026-03-14T09:00:00.000Z", "seen": None}
    incident = await door.keep(("record_incident", {"day_id": day_id, **told}))
    ended = {"ended": "by-mistake", "settled_by": other, "present": "", "words": "", "seen": None}
    settled = {"day_id": day_id, "incident_id": incident["incident_id"], **ended}
    await door.keep(("settle_incident", settled))
    assert await door.faults() == []
