"""Whoever's value gave way hears why on their own device; nobody else of the hall does."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest

from intake.errors import NotFound
from intake.setup.lock import ROOT
from intake.sync.news import news_since
from intake.sync.overruled import PRESSED, Why, records_overruled, visit_of_settlement, why_settled
from tests.builders import a_fact, a_settlement
from tests.door import Door

WHY = "seen in the hand, with Mrs Barrow present"


async def why(door: Door, disagreement_id: str, role: str) -> Why:
    asker = await door.asker(role)
    return await door.database.read(lambda tx: why_settled(tx, disagreement_id, asker, door.now))


async def contested(door: Door, other: Door, *, opened_by: Door | None = None) -> tuple[str, str]:
    """An item of which two devices said who made it: its id, and the disagreement's."""
    item = await (opened_by or door).item()
    await door.keep(a_fact(item["item_id"], "maker", "marked"))
    said = await other.keep(a_fact(item["item_id"], "maker", "unmarked"))
    assert said["disagreement"]
    return item["item_id"], said["operation_id"]


def settled(item_id: str, disagreement_id: str, choose: str) -> tuple[str, dict[str, Any]]:
    kind, body = a_settlement(item_id, disagreement_id, choose)
    return kind, {**body, "note": WHY, "salt": "0" * 32}


@pytest.mark.parametrize("choose", ["kept", "other"])
async def test_the_device_that_gave_way_is_told_why(choose: str, door: Door) -> None:
    other = door.other("table")
    item_id, disagreement_id = await contested(door, other)
    with pytest.raises(NotFound):
        await why(other, disagreement_id, "table")
    await door.keep(settled(item_id, disagreement_id, choose))
    loser, winner = (other, door) if choose == "kept" else (door, other)
    told = await why(loser, disagreement_id, "table")
    assert told == (Why(WHY) if loser is door else Why("", is_kept_back=True)), "one of them opened the visit"
    assert await why(loser, disagreement_id, "door") == Why(WHY)
    assert await why(loser, disagreement_id, "porter") == Why("", is_kept_back=True)
    with pytest.raises(NotFound):
        await why(winner, disagreement_id, "table")
    with pytest.raises(NotFound):
        await why(door.other("porter"), disagreement_id, "porter")
    assert await why(door.other("desk"), disagreement_id, "desk") == Why(WHY)
    assert WHY not in str(await loser.record(item_id, "table")), "it stands in no record that a table reads"
    named = await door.database.read(lambda tx: visit_of_settlement(tx, disagreement_id))
    assert named == (await door.record(item_id))["visit_id"], (
        "it may name the owner: a desk's reading is noted"
    )


async def test_the_table_at_which_the_owner_sat_is_told_what_was_written_after_they_left(door: Door) -> None:
    other = door.other("table")
    item_id, disagreement_id = await contested(door, other)
    visit_id = (await door.record(item_id))["visit_id"]
    for field, value in (("table_id", "1"), ("stage", "left")):
        said = {"visit_id": visit_id, "field": field, "value": value, "seen": None}
        if field == "stage":
            said["seen"] = (await door.record(visit_id))["fields"]["stage"]["operation_id"]
        await door.keep(("set_visit", said))
    await door.keep(settled(item_id, disagreement_id, "kept"))

    async def told(table_id: str, device: Door = other) -> Why:
        asker = await device.asker("table", table_id=table_id)
        return await door.database.read(lambda tx: why_settled(tx, disagreement_id, asker, door.now))

    assert await told("2") == Why("", is_kept_back=True), "who was never opposite them reads none of it"
    assert await told("1") == Why(WHY)
    with pytest.raises(NotFound):
        await told("1", door.other("table"))


@pytest.mark.parametrize("reason", PRESSED)
async def test_a_reason_that_is_pressed_is_told_wherever_the_owner_is(reason: str, door: Door) -> None:
    """The desk settles most after the owner has left, when nobody in the hall reads what was written of them."""
    other = door.other("table")
    item_id, disagreement_id = await contested(door, other)
    kind, body = settled(item_id, disagreement_id, "kept")
    await door.keep((kind, {**body, "note": reason}))
    assert await why(other, disagreement_id, "table") == Why(reason)
    assert await why(other, disagreement_id, "porter") == Why(reason)
    with pytest.raises(NotFound):
        await why(door.other("table"), disagreement_id, "table")


def test_the_reasons_that_are_pressed_are_those_of_the_screen() -> None:
    screen = (ROOT / "web/parts/two_values.tsx").read_text("utf-8")
    [listed] = re.findall(r"const REASONS = \[(.*?)\] as const", screen, re.DOTALL)
    assert tuple(re.findall(r'"([^"]+)"', listed)) == PRESSED


async def test_a_desk_hears_of_each_thing_on_which_its_value_gave_way(door: Door) -> None:
    """It keeps the last entries that were opened and no more: the office knows of the others."""
    desk, other = door.other("desk"), door.other("desk")

    async def gave_way(one: Door) -> list[str]:
        asker = await one.asker("desk")
        found = await door.database.read(lambda tx: records_overruled(tx, asker))
        return [json.loads(record)["record_id"] for record in found]

    first, first_between = await contested(desk, other, opened_by=door)
    second, second_between = await contested(desk, other, opened_by=door)
    third, third_between = await contested(desk, other, opened_by=door)
    assert await gave_way(other) == [], "nothing is settled"
    await door.keep(settled(first, first_between, "kept"))
    await door.keep(settled(second, second_between, "other"))
    await door.keep(settled(third, third_between, "kept"))
    assert await gave_way(other) == [third, first], "the newest first"
    assert await gave_way(desk) == [second]
    assert await gave_way(door.other("desk")) == []


async def test_news_name_a_settlement_to_the_desk_whose_value_gave_way(door: Door) -> None:
    """Whoever has nothing to fetch is told that there is nothing, whatever else is recorded."""
    desk, other = door.other("desk"), door.other("desk")

    async def gave_way(listener: Door, since: int) -> list[str] | None:
        device_id = (await listener.asker("desk")).device_id
        return (await door.database.read(lambda tx: news_since(tx, since, "desk", device_id))).gave_way

    item_id, disagreement_id = await contested(desk, other, opened_by=door)
    start = (await door.database.read(lambda tx: news_since(tx, None, "desk", ""))).cursor
    await door.item()
    assert await gave_way(other, start) == [], "nothing is settled"
    await door.keep(settled(item_id, disagreement_id, "kept"))
    assert await gave_way(other, start) == [disagreement_id]
    assert await gave_way(desk, start) == [], "its value holds"
    now = (await door.database.read(lambda tx: news_since(tx, start, "desk", ""))).cursor
    await door.item()
    assert await gave_way(other, now) == [], "it is told once"


async def test_a_device_of_another_day_is_told_nothing(door: Door) -> None:
    other = door.other("table")
    item_id, disagreement_id = await contested(door, other)
    await door.keep(settled(item_id, disagreement_id, "kept"))
    elsewhere = await other.asker("table", "another day")
    with pytest.raises(NotFound):
        await door.database.read(lambda tx: why_settled(tx, disagreement_id, elsewhere, door.now))
