"""A Stop is taken whoever pressed it, counts as strictly as the office's own row, and by no clock that is ahead."""

from __future__ import annotations

from typing import Any

import pytest

from tests.builders import a_caution, a_day, a_fact, a_tie, a_visit, an_item
from tests.door import RECEIVED_AT, Door

#: The rows of the shipped pack: ammunition lets nobody near; mould is set apart, and stops nothing.
ORDNANCE, AMBER, NOBODY_KNOWS = "H02", "H26", "H999"


def an_incident(door: Door, day_id: str, **more: Any) -> tuple[str, dict[str, Any]]:
    return "record_incident", {
        "day_id": day_id,
        "incident_id": door.ids.id(),
        "hazard": "H03",
        "level": "red",
        "sign": "hissing",
        "ticket": "",
        "place": "",
        "seen_at": door.ids.instant(),
        "seen": None,
        **more,
    }


async def test_a_stop_is_taken_from_somebody_who_is_not_on_the_list(door: Door) -> None:
    item = await door.item()
    assert (
        await door.other().refused(a_fact(item["item_id"], "materials", "tin"), made_by="nobody")
        == "person_not_on_day"
    )
    await door.keep(a_caution(door.ids, item["item_id"]), made_by="nobody")
    await door.keep(an_incident(door, item["day_id"]), made_by="nobody")
    assert await door.refused(a_fact(item["item_id"], "materials", "tin")) == "item_stopped"


async def test_a_stop_waits_for_an_item_that_comes_later(door: Door) -> None:
    day = await door.keep(a_day(door.ids))
    visit = await door.keep(a_visit(door.ids, day["day_id"]))
    opening = an_item(door.ids, visit)
    phone = door.other("door")
    stop = phone.make(a_caution(door.ids, opening[1]["item_id"]))
    [answer] = await phone.send(stop)
    assert answer["outcome"] == "waiting"
    await door.keep(opening)
    [answer] = await phone.send(stop)
    assert answer["outcome"] == "kept"
    assert await door.refused(a_fact(opening[1]["item_id"], "materials", "tin")) == "item_stopped"


@pytest.mark.parametrize(
    ("hazard", "said", "applied"),
    [
        (ORDNANCE, {"level": "note", "still_allowed": None}, ("red", [])),
        (ORDNANCE, {"level": "red", "still_allowed": ["photo", "tag", "move"]}, ("red", [])),
        (NOBODY_KNOWS, {"level": "note", "still_allowed": ["move"]}, ("red", ["place"])),
        (AMBER, {"level": "note", "still_allowed": None}, ("amber", [])),
        (AMBER, {"level": "red", "still_allowed": ["tag"]}, ("red", ["tag"])),
        (AMBER, {"level": "red", "still_allowed": None}, ("red", [])),
    ],
)
async def test_the_stricter_of_device_and_office_counts(
    door: Door, hazard: str, said: dict[str, Any], applied: tuple[str, list[str]]
) -> None:
    """The office has the row; what a device says more strictly holds, and what it says more mildly does not."""
    item_id = (await door.item())["item_id"]
    made = await door.keep(a_caution(door.ids, item_id, hazard=hazard, **said))
    value = await door.value(item_id, f"cautions/{made['caution_id']}")
    assert (value["level"], value["still_allowed"] or []) == applied
    assert await door.faults() == [], "a rebuild needs no row of today"


async def test_an_incident_that_is_told_more_of_gets_no_milder(door: Door) -> None:
    day_id = (await door.item())["day_id"]
    first = await door.keep(an_incident(door, day_id))
    more = an_incident(
        door,
        day_id,
        incident_id=first["incident_id"],
        seen=first["operation_id"],
        hazard=AMBER,
        level="note",
        sign=" ",
        place="front steps",
    )
    await door.keep(more)
    value = await door.value(day_id, f"incidents/{first['incident_id']}")
    assert {name: value[name] for name in ("hazard", "level", "sign", "place", "seen_at")} == {
        "hazard": "H03",
        "level": "red",
        "sign": "hissing",
        "place": "front steps",
        "seen_at": first["seen_at"],
    }
    assert await door.faults() == []


async def test_a_clock_that_is_ahead_lets_nobody_go_on_until_then(door: Door) -> None:
    """A caution counts from when the office heard of it at the latest, whatever the clock of whoever pressed Stop."""
    item_id = (await door.item())["item_id"]
    made = await door.keep(a_caution(door.ids, item_id), made_at="2026-03-15T11:00:00.000Z")
    after = RECEIVED_AT.replace("18:00", "18:01")
    assert await door.other().refused(a_tie(item_id, "0002D4"), made_at=after) == "item_stopped"
    set_at = (await door.record(item_id))["fields"][f"cautions/{made['caution_id']}"]["made_at"]
    assert set_at == RECEIVED_AT, "devices go by the same"
    assert await door.faults() == []
