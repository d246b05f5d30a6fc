"""What waits for something holds up what builds on it, and nothing else: it is here, and no gap."""

from __future__ import annotations

from typing import Any

import pytest

from tests.builders import a_caution, a_crate, a_day, a_decision, a_fact, a_visit, an_item, put_in
from tests.door import Door


def told(answers: list[dict[str, Any]]) -> list[str]:
    return [answer["problem"]["code"] if answer["problem"] else answer["outcome"] for answer in answers]


async def send(door: Door, operations: list[dict[str, Any]], *, at_once: bool) -> list[dict[str, Any]]:
    """All of them in one batch, or each in its own."""
    if at_once:
        return await door.send(*operations)
    return [answer for operation in operations for answer in await door.send(operation)]


@pytest.mark.parametrize("at_once", [True, False])
async def test_a_stop_on_what_never_comes_holds_up_nothing_else(door: Door, at_once: bool) -> None:
    item_id = (await door.item())["item_id"]
    made = [
        door.make(a_caution(door.ids, door.ids.id())),
        door.make(a_fact(door.ids.id(), "materials", "oak")),
        door.make(a_fact(item_id, "materials", "tin")),
        door.make(put_in(item_id, door.ids.id())),
    ]
    expected = ["waits_for_more", "not_found", "kept", "not_found"]
    assert told(await send(door, made, at_once=at_once)) == expected
    assert told(await send(door, made, at_once=at_once)) == expected, "sent again it waits on"


@pytest.mark.parametrize("at_once", [True, False])
async def test_what_builds_on_what_waits_waits_with_it(door: Door, at_once: bool) -> None:
    """A decision on a Stop whose item is not here yet, and what was done with the thing then."""
    visit = await door.item()
    table = door.other()
    opened = table.make(an_item(door.ids, visit))
    stop = door.make(a_caution(door.ids, opened["item_id"]))
    made = [
        stop,
        door.make(a_decision(opened["item_id"], stop["caution_id"], "cleared")),
        door.make(a_fact(opened["item_id"], "materials", "tin")),
    ]
    assert told(await send(door, made, at_once=at_once)) == ["waits_for_more"] * 3
    await table.send(opened)
    assert told(await send(door, made, at_once=at_once)) == ["kept"] * 3
    assert told(await door.send(door.make(a_fact(door.ids.id(), "materials", "oak")))) == ["not_found"]
    assert await door.faults() == []


async def test_what_was_not_received_is_a_gap_and_what_came_and_waits_is_none(door: Door) -> None:
    """A day, a crate and an item that crossed on their way: whatever names one of them waits until it is there."""
    day = door.make(a_day(door.ids))
    visit = door.make(a_visit(door.ids, day["day_id"]))
    item = door.make(an_item(door.ids, visit))
    crate = door.make(a_crate(door.ids, day["day_id"], "7K3QW5"))
    inside = door.make(put_in(item["item_id"], crate["container_id"]))
    assert told(await door.send(visit, item, crate, inside)) == ["waits_for_more"] * 4
    assert told(await door.send(day)) == ["kept"]
    assert told(await door.send(inside)) == ["waits_for_more"], (
        "it names what waits, though nothing is missing"
    )
    assert told(await door.send(visit, item)) == ["kept"] * 2
    assert told(await door.send(inside)) == ["waits_for_more"], "the crate waits still"
    assert told(await door.send(crate, inside)) == ["kept"] * 2
    left = await door.database.read(lambda tx: tx.all("SELECT * FROM waiting_operation"))
    assert left == []


async def test_what_its_device_can_send_no_more_is_not_waited_for(door: Door) -> None:
    """A phone whose storage was cleared while a Stop of it waited: what names its item is answered."""
    lost = door.make(a_caution(door.ids, door.ids.id()))
    assert told(await door.send(lost)) == ["waits_for_more"]
    after = door.make(a_fact(lost["item_id"], "materials", "tin"))
    assert told(await door.send(after)) == ["waits_for_more"]
    door.holds_from = after["device_seq"]
    assert told(await door.send(after)) == ["not_found"]
