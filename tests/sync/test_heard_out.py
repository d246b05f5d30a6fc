"""An office that was begun anew hears devices out: what was kept once is kept again, in whatever order they come.

Nothing is final before they have come: what one device was allowed rests on what another said.
"""

from __future__ import annotations

import itertools
from collections.abc import AsyncIterator
from pathlib import Path

import pytest

from intake.tagging.numbers import own_serials
from intake.tagging.rolls import last_of
from intake.tagging.tags import codes, parse_tag
from tests.builders import (
    Ids,
    a_caution,
    a_decision,
    a_fact,
    a_finding,
    a_tie,
    a_zone,
    an_item,
)
from tests.closings import named_now
from tests.door import Door, at_the_door
from tests.sync.lost_day import LostDay, know


@pytest.fixture
async def anew(tmp_path: Path, ids: Ids) -> AsyncIterator[Door]:
    """Another office, which knows nobody and has numbers of its own."""
    async with at_the_door(tmp_path / "anew", ids, numbers=(2, 2)) as door:
        yield door


ORDERS = list(itertools.permutations(range(3)))


async def all_is_kept_again(day: LostDay, anew: Door, order: tuple[int, ...], records: list[str]) -> None:
    """Every operation is kept, and the records say what they said."""
    devices = (day.manager, day.one, day.two)
    assert await day.come_to(anew, tuple(devices[place] for place in order)) == []
    for record_id in records:
        before, after = await day.manager.record(record_id), await anew.record(record_id)
        assert {name: field["value"] for name, field in after["fields"].items()} == {
            name: field["value"] for name, field in before["fields"].items()
        }
        assert after["disagreements"] == before["disagreements"]
    assert await anew.faults() == []


@pytest.mark.parametrize("order", ORDERS)
async def test_work_after_a_clearing_by_another(door: Door, anew: Door, order: tuple[int, ...]) -> None:
    """Table 1 raises red, Table 2 clears it, Table 1 goes on; the manager closes the day with Table 1's code."""
    day = LostDay(door)
    item_id = (await day.item())["item_id"]
    day_id = day.sent[door.device_id][0]["day_id"]
    stop = await day.say(day.one, a_caution(door.ids, item_id))
    await day.say(day.two, a_decision(item_id, stop["caution_id"], "cleared"))
    await day.say(day.one, a_fact(item_id, "maker", "a maker"))
    await day.say(day.one, a_zone(item_id, "head"))
    await day.say(day.one, a_finding(door.ids, item_id, "body"))
    await know(day.one)
    closing = {"closed_by": "Hester", "second_by": "Otis", **await named_now(door, day_id)}
    await day.say(door, ("close_day", {"day_id": day_id, **closing, "second_device": day.one.device_id}))
    await all_is_kept_again(day, anew, order, [item_id, day_id])


@pytest.mark.parametrize("order", ORDERS)
async def test_a_roll_of_the_office_before(door: Door, anew: Door, order: tuple[int, ...]) -> None:
    """It had other numbers. They are on things, so that the roll is taken, and changes hands."""
    day = LostDay(door)
    await day.item()
    day_id = day.sent[door.device_id][0]["day_id"]
    own = await anew.database.read(own_serials)
    first = next(codes(1000))
    last = last_of(1000, 50)
    assert 1000 not in own
    roll = {"roll_id": door.ids.id(), "first_tag": parse_tag(first), "last_tag": last, "count": 50}
    await day.say(
        door, ("issue_roll", {"day_id": day_id, **roll, "given_to": "Table 1", "for_device_id": None})
    )
    given = {"roll_id": roll["roll_id"], "given_to": "Table 2", "for_device_id": None, "seen": None}
    seen = day.sent[door.device_id][-1]["operation_id"]
    await day.say(day.two, ("give_roll", {"day_id": day_id, **given}), seen=seen)
    await all_is_kept_again(day, anew, order, [day_id])


@pytest.mark.parametrize("order", ORDERS)
async def test_work_under_a_hat_that_the_manager_gave(door: Door, anew: Door, order: tuple[int, ...]) -> None:
    """Otis came as a porter; the manager had him value as well, and Table 1 wrote in his name."""
    day = LostDay(door)
    item_id = (await day.item())["item_id"]
    day_id = day.sent[door.device_id][0]["day_id"]
    otis = {"person_id": "otis", "name": "Otis Cratehope"}
    await day.say(day.manager, ("add_person", {"day_id": day_id, "person": {**otis, "roles": ["porter"]}}))
    await day.say(day.manager, ("add_person", {"day_id": day_id, "person": {**otis, "roles": ["valuer"]}}))
    await day.say(day.two, a_fact(item_id, "maker", "a maker"), made_by="otis")
    await all_is_kept_again(day, anew, order, [item_id, day_id])


@pytest.mark.parametrize("order", ORDERS)
async def test_a_zone_clear_after_another_withdrew_a_finding(
    door: Door, anew: Door, order: tuple[int, ...]
) -> None:
    day = LostDay(door)
    item_id = (await day.item())["item_id"]
    found = await day.say(day.one, a_finding(door.ids, item_id, "head"))
    body = {name: found[name] for name in a_finding(door.ids, item_id, "head")[1]}
    withdrawn = {**body, "withdrawn": True, "seen": found["operation_id"]}
    await day.say(day.two, ("record_finding", withdrawn))
    await day.say(day.one, a_zone(item_id, "head"))
    await all_is_kept_again(day, anew, order, [item_id])


async def test_what_nothing_may_lift_is_final_at_once(door: Door) -> None:
    """No other device can bring what would have it taken: it says so while the person is there."""
    item_id = (await door.item())["item_id"]
    door.hearing = True
    assert (
        await door.refused(("tie_tag", {"item_id": item_id, "tag": "0002D5", "piece": 1}))
        == "tag_check_failed"
    )
    porter = door.other("porter")
    porter.hearing = True
    assert await porter.refused(a_fact(item_id, "maker", "a maker")) == "role_may_not"


async def test_what_still_speaks_against_it_in_the_end_is_refused(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    await door.keep(a_caution(door.ids, item_id))
    fact = door.make(a_fact(item_id, "maker", "a maker"))
    door.hearing = True
    [waits] = await door.send(fact)
    assert (waits["outcome"], waits["problem"]["code"]) == ("waiting", "waits_for_more")
    door.hearing = False
    [told] = await door.send(fact)
    assert (told["outcome"], told["problem"]["code"]) == ("refused", "item_stopped")


async def test_a_number_that_two_claim_is_refused_at_once_and_stands_on_record(door: Door) -> None:
    """Whoever tied it second takes the next tag now; nothing is lost, since a person settles the claim."""
    first = await door.item()
    second = await door.keep(an_item(door.ids, first))
    await door.keep(a_tie(first["item_id"], "0002D4"))
    other = door.other("table")
    other.hearing = True
    assert await other.refused(a_tie(second["item_id"], "0002D4")) == "tag_taken"
    assert [one["field"] for one in (await door.record(second["item_id"]))["disagreements"]] == [
        "tags/0002D4"
    ]


@pytest.mark.parametrize("hearing", [True, False])
async def test_what_was_refused_too_early_is_kept_once_it_is_sent_again(
    door: Door, anew: Door, *, hearing: bool
) -> None:
    """It was said too early that no other device would come. What one device said of an item that another one brings
    late was refused then; its app sends it again as new operations, of which the second has seen the first
    (`web/local/sent_again.ts`)."""
    day = LostDay(door)
    item_id = (await day.item())["item_id"]  # Table 1 brings it, late
    said = await day.say(door, a_fact(item_id, "materials", "tin"))
    later = await day.say(door, a_fact(item_id, "materials", "brass"), seen=said["operation_id"])
    first, late = (
        Door(anew.database, anew.folder, anew.ids, one.device_id) for one in (day.manager, day.one)
    )
    late.role = "table"
    await know(first)
    await know(late)
    answers = await first.send(*day.sent[door.device_id])
    assert [one["outcome"] for one in answers] == ["kept", "refused", "refused"]
    again = [{**said, "operation_id": door.ids.id(), "device_seq": later["device_seq"] + 1}]
    again += [{**later, "operation_id": door.ids.id(), "device_seq": later["device_seq"] + 2}]
    again[1]["seen"] = again[0]["operation_id"]
    if hearing:
        first.hearing = late.hearing = True
        assert {one["outcome"] for one in await first.send(*again)} == {"waiting"}
        assert {one["outcome"] for one in await first.send(*again)} == {"waiting"}
    await late.send(*day.sent[day.one.device_id])
    answers = await first.send(*again)
    assert [(one["outcome"], one["disagreement"]) for one in answers] == [("kept", False)] * 2
    assert await anew.value(item_id, "materials") == "brass"
    assert (await anew.record(item_id))["disagreements"] == []
    assert await anew.faults() == []


async def test_what_waits_for_what_it_was_changed_from_holds_up_nothing_else_that_is_said_of_its_thing(
    door: Door,
) -> None:
    """Settlements alone go by what their maker settled before."""
    item_id = (await door.item())["item_id"]
    door.hearing = True
    facts = [a_fact(item_id, "maker", "a maker", seen=door.ids.id()), a_fact(item_id, "materials", "oak")]
    answers = await door.send(*map(door.make, facts))
    assert [answer["outcome"] for answer in answers] == ["waiting", "kept"]
