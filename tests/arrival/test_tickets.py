"""Runs of tickets: no two devices of a day have one number, and what a manager says of a day is judged in words."""

from __future__ import annotations

from typing import Any

import pytest

from intake.arrival.tickets import shown, tickets_left
from tests.builders import Ids, a_consignor, a_day, a_settlement, a_visit
from tests.door import Door


def a_run(day: dict[str, Any], ids: Ids, first: int, last: int, **more: Any) -> tuple[str, dict[str, Any]]:
    run = {"run_id": ids.id(), "first": first, "last": last, "given_to": "Door 1", "for_device_id": None}
    return "give_tickets", {"day_id": day["day_id"], **run, "seen": None, **more}


@pytest.mark.parametrize(("first", "last"), [(40, 60), (60, 90), (1, 40), (45, 50), (1, 99)])
async def test_no_run_has_a_ticket_of_another(door: Door, first: int, last: int) -> None:
    day = await door.keep(a_day(door.ids))
    await door.keep(a_run(day, door.ids, 40, 60))
    assert await door.refused(a_run(day, door.ids, first, last)) == "tickets_overlap"
    await door.keep(a_run(day, door.ids, 61, 99))
    other = await door.keep(a_day(door.ids))
    await door.keep(a_run(other, door.ids, first, last))
    assert await door.faults() == []


@pytest.mark.parametrize("holder", [None, "door-2"])
async def test_a_run_that_came_second_to_an_older_copy_of_the_office_is_refused(
    door: Door, holder: str | None
) -> None:
    """What a device has it keeps for good, so that nothing that is still to come makes room: whoever gave it hears so.
    A run that nobody has may still become another's numbers."""
    day = await door.keep(a_day(door.ids))
    await door.keep(a_run(day, door.ids, 1, 20, for_device_id=holder))
    second = door.other()
    second.hearing = True
    [answer] = await second.send(second.make(a_run(day, door.ids, 1, 20, for_device_id="door-1")))
    assert answer["outcome"] == ("refused" if holder else "waiting")
    assert answer["problem"]["code"] == ("tickets_overlap" if holder else "waits_for_more")


async def test_two_ends_of_one_run_are_settled_by_the_same_rule(door: Door) -> None:
    """Two managers changed one run with no network; what would meet another run cannot be settled on."""
    day = await door.keep(a_day(door.ids))
    run = await door.keep(a_run(day, door.ids, 1, 50))
    await door.keep(a_run(day, door.ids, 1, 40, run_id=run["run_id"], seen=run["operation_id"]))
    late = await door.keep(a_run(day, door.ids, 1, 60, run_id=run["run_id"], seen=run["operation_id"]))
    assert late["disagreement"]
    await door.keep(a_run(day, door.ids, 55, 80))
    chosen = a_settlement(day["day_id"], late["operation_id"], "other")
    assert await door.refused(chosen) == "tickets_overlap"


def a_day_of(ids: Ids, held_on: str) -> tuple[str, dict[str, Any]]:
    kind, day = a_day(ids)
    return kind, {**day, "held_on": held_on}


async def test_a_door_goes_on_with_what_is_left_of_its_run_of_the_day_before(door: Door) -> None:
    """Behind the last that it gave, however its ticket is written; a run that no device had goes on with nobody."""
    await door.keep(a_run(await door.keep(a_day_of(door.ids, "2026-03-12")), door.ids, 1, 300))
    before = await door.keep(a_day_of(door.ids, "2026-03-13"))
    await door.keep(a_run(before, door.ids, 1, 100, for_device_id="door-1"))
    await door.keep(a_run(before, door.ids, 101, 110, for_device_id="door-2", given_to="Door 2"))
    await door.keep(a_run(before, door.ids, 111, 120))
    for ticket in ("Q01", " q 05", "WABF07", "Q110", "Q1234"):
        await door.keep(a_visit(door.ids, before["day_id"], ticket=ticket))
    day = await door.keep(a_day_of(door.ids, "2026-03-14"))
    left = await door.database.read(lambda tx: tickets_left(tx, day["day_id"]))
    [run] = left["runs"]
    assert (run["first"], run["last"], run["given_to"], run["for_device_id"]) == (6, 100, "Door 1", "door-1")
    assert (run["held_on"], left["last"]) == ("2026-03-13", 300)
    first = await door.database.read(lambda tx: tickets_left(tx, before["day_id"]))
    assert first == {"runs": [], "last": 300}


@pytest.mark.parametrize("value", ["14 March 2026", "2026-02-30", "2026-13-01", ""])
async def test_a_date_is_one_of_the_calendar(door: Door, value: str) -> None:
    day = await door.keep(a_day(door.ids))
    corrected = {"day_id": day["day_id"], "field": "held_on", "value": value, "seen": None}
    assert await door.refused(("correct_day", corrected)) == "unreadable"


async def test_a_private_owner_is_called_by_the_ticket_at_other_tables(door: Door) -> None:
    day = await door.keep(a_day(door.ids))
    visit = await door.keep(a_visit(door.ids, day["day_id"]))
    visit_id = visit["visit_id"]
    await door.keep(a_consignor(visit_id, "name", "Barnaby Tumblewick"))
    other = door.other("table")
    assert (await other.record(visit_id, "table"))["fields"]["called"]["value"] == "Barnaby"
    flag = await door.keep(_flag(visit_id, "yes", None))
    assert (await other.record(visit_id, "table"))["fields"]["called"]["value"] == ""
    await door.keep(_flag(visit_id, "", flag["operation_id"]))
    assert (await other.record(visit_id, "table"))["fields"]["called"]["value"] == "Barnaby"
    assert await door.refused(_flag(visit_id, "perhaps", None)) == "unreadable"
    assert await door.faults() == []


@pytest.mark.parametrize(("first", "second"), [("yes", ""), ("", "yes")])
async def test_of_a_visit_that_two_said_otherwise_of_no_table_hears_the_owner(
    door: Door, first: str, second: str
) -> None:
    """Whoever was heard first, and whatever came into force since: the more careful holds until it is settled."""
    visit_id = (await door.item())["visit_id"]
    await door.keep(a_consignor(visit_id, "name", "Barnaby Tumblewick"))
    said = await door.keep(_flag(visit_id, first, None))
    between = await door.other().keep(_flag(visit_id, second, None))
    other = door.other("table")
    assert (await other.record(visit_id, "table"))["fields"]["called"]["value"] == ""
    await door.keep(_flag(visit_id, "", said["operation_id"]))
    assert (await other.record(visit_id, "table"))["fields"]["called"]["value"] == ""
    await door.keep(a_settlement(visit_id, between["operation_id"], "standing"))
    assert (await other.record(visit_id, "table"))["fields"]["called"]["value"] == "Barnaby"
    assert await door.faults() == []


def _flag(visit_id: str, value: str, seen: str | None) -> tuple[str, dict[str, Any]]:
    return "set_visit", {"visit_id": visit_id, "field": "private", "value": value, "seen": seen}


@pytest.mark.parametrize(("number", "ticket"), [(1, "Q01"), (42, "Q42"), (101, "Q101")])
def test_a_ticket_can_be_called_out(number: int, ticket: str) -> None:
    assert shown(number) == ticket
