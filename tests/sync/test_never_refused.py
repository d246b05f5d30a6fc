"""A Stop is taken whoever pressed it, counts as strictly as the office's own row, and by no clock that is ahead."""

from __future__ import annotations

from typing import Any, get_args

import pytest

from intake.custody.moves import Place
from tests.builders import a_caution, a_crate, a_day, a_decision, a_fact, a_tie, a_visit, an_item, put_in
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


def goes_back(door: Door, thing_id: str) -> tuple[str, dict[str, Any]]:
    return "record_move", {
        "move_id": door.ids.id(),
        "thing_id": thing_id,
        "from_place": None,
        "to_place": "returned",
        "at": "",
        "given_by": "Ana",
        "taken_by": "the owner",
        "count": None,
        "signed": False,
    }


#: Two rows of the shipped pack, one that lets a thing go home with its owner and one that does not.
GOES, STAYS = "H26", "H58"


@pytest.mark.parametrize(
    ("caution", "decision", "goes"),
    [
        ({"hazard": GOES, "level": "amber"}, None, True),
        ({"hazard": STAYS, "level": "amber"}, None, False),
        ({"hazard": STAYS, "level": "amber"}, "referred", False),
        ({"hazard": GOES, "level": "red", "still_allowed": ["move"]}, None, False),
        ({"hazard": GOES, "level": "red", "still_allowed": []}, "referred", False),
        ({"hazard": GOES, "level": "red", "still_allowed": []}, "returned", True),
        ({"hazard": STAYS, "level": "amber"}, "cleared", True),
    ],
)
async def test_it_goes_home_if_every_row_lets_it_and_whoever_decides(
    door: Door, caution: dict[str, Any], decision: str | None, goes: bool
) -> None:
    item_id = (await door.item())["item_id"]
    raised = await door.keep(a_caution(door.ids, item_id, **caution))
    if decision:
        await door.keep(a_decision(item_id, raised["caution_id"], decision))
    if goes:
        await door.keep(goes_back(door, item_id))
    else:
        assert await door.refused(goes_back(door, item_id)) == "not_home"


@pytest.mark.parametrize("place", sorted({*get_args(Place)} - {"returned"}))
async def test_who_may_not_go_home_is_asked_of_what_goes_home_alone(door: Door, place: str) -> None:
    """What is stopped and may be moved goes anywhere else in the hall, and to the store."""
    item_id = (await door.item())["item_id"]
    await door.keep(a_caution(door.ids, item_id, hazard=GOES, level="red", still_allowed=["move"]))
    kind, back = goes_back(door, item_id)
    await door.keep((kind, {**back, "to_place": place}))


async def test_no_decision_sends_home_what_its_row_keeps(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    raised = await door.keep(a_caution(door.ids, item_id, hazard=ORDNANCE))
    assert await door.refused(a_decision(item_id, raised["caution_id"], "returned")) == "not_home"


async def test_what_goes_home_in_a_crate_is_asked_as_well(door: Door) -> None:
    item = await door.item()
    crate = await door.keep(a_crate(door.ids, item["day_id"], "0002D4"))
    await door.keep(put_in(item["item_id"], crate["container_id"]))
    await door.keep(a_caution(door.ids, item["item_id"], hazard=STAYS, level="amber"))
    assert await door.refused(goes_back(door, crate["container_id"])) == "not_home"


def an_end(day_id: str, incident_id: str, **more: Any) -> tuple[str, dict[str, Any]]:
    end = {"ended": "taken-away", "settled_by": "Hester Quillfeather", "present": "", "words": ""}
    return "settle_incident", {"day_id": day_id, "incident_id": incident_id, **end, "seen": None, **more}


async def test_somebody_of_the_day_answers_for_how_it_ended(door: Door) -> None:
    day_id = (await door.item())["day_id"]
    incident_id = (await door.keep(an_incident(door, day_id, hazard=ORDNANCE)))["incident_id"]
    assert await door.refused(an_end(day_id, incident_id, settled_by=" ")) == "unreadable"
    assert await door.refused(an_end(day_id, incident_id, settled_by="x")) == "name_not_on_day"
    assert await door.refused(an_end(day_id, incident_id, ended="left-with-owner")) == "not_home"
    await door.keep(an_end(day_id, incident_id, settled_by=" hester quillfeather "))


async def test_a_blank_name_clears_nothing(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    raised = await door.keep(a_caution(door.ids, item_id))
    assert (
        await door.refused(a_decision(item_id, raised["caution_id"], "cleared", decided_by=" \t"))
        == "unreadable"
    )
