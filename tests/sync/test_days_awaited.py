"""Which days beside its own a porter's device reads, and until when: those of which something is on its way, or has
just come."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

import pytest

from intake.reading import HALL_CLEARED, LEFT_OPEN, SETTLED_WITHIN, TAKEN_IN_WITHIN, reads_record, stored
from intake.tagging.tags import codes
from tests.builders import a_crate, a_move, a_tie
from tests.closings import close
from tests.door import RECEIVED_AT, Door

A_SECOND = timedelta(seconds=1)
HEARD = datetime.fromisoformat(RECEIVED_AT)


async def awaited(door: Door, day_id: str) -> list[str]:
    page = await door.feed(role="porter", day_id=day_id)
    days: list[str] = page["awaits"]
    assert {record["day_id"] for record in page["records"] if record["kind"] != "day"} <= {day_id, *days}
    return days


async def thing(door: Door, what: str) -> tuple[str, dict[str, Any]]:
    """The day of a new thing, and its move to a place that is still to be said."""
    item = await door.item()
    if what == "crate":
        crate = await door.keep(a_crate(door.ids, item["day_id"], next(iter(codes(5)))))
        return item["day_id"], {"thing_id": crate["container_id"]}
    if what == "piece":
        number = next(iter(codes(5)))
        await door.keep(a_tie(item["item_id"], number))
        return item["day_id"], {"thing_id": item["item_id"], "tag": number}
    return item["day_id"], {"thing_id": item["item_id"]}


async def move(door: Door, of: dict[str, Any], to_place: str) -> None:
    more = {name: value for name, value in of.items() if name != "thing_id"}
    await door.keep(a_move(door.ids, of["thing_id"], to_place, **more))


@pytest.mark.parametrize("what", ["item", "crate", "piece"])
async def test_whatever_stands_in_the_van_is_awaited(door: Door, what: str) -> None:
    before, of = await thing(door, what)
    here = (await door.item())["day_id"]
    assert await awaited(door, here) == []
    await move(door, of, "van")
    assert await awaited(door, here) == [before], "closed or not"
    await close(door, before)
    assert await awaited(door, here) == [before]
    assert await awaited(door, before) == [], "its own is no other day"
    for role in ("door", "table", "desk", "manager"):
        assert (await door.feed(role=role, day_id=here))["awaits"] == [], role
    record = await door.database.read(lambda tx: stored(tx, of["thing_id"]))
    assert record is not None
    read = {role: await door.asker(role, here) for role in ("porter", "table", "desk")}
    assert await door.database.read(
        lambda tx: {role: reads_record(tx, asker, record, door.now) for role, asker in read.items()}
    ) == {"porter": True, "table": False, "desk": True}


@pytest.mark.parametrize(
    ("to_place", "is_taken_in"),
    [("store", True), ("shelf", True), ("isolation", True), ("table", False), ("bench", False)],
)
async def test_what_has_come_is_awaited_for_a_day(door: Door, to_place: str, is_taken_in: bool) -> None:
    before, of = await thing(door, "item")
    here = (await door.item())["day_id"]
    await move(door, of, to_place)
    assert await awaited(door, here) == ([before] if is_taken_in else [])
    door.now = HEARD + TAKEN_IN_WITHIN - A_SECOND
    assert await awaited(door, here) == ([before] if is_taken_in else [])
    door.now = HEARD + TAKEN_IN_WITHIN + A_SECOND
    assert await awaited(door, here) == []


async def test_a_closed_day_is_awaited_as_long_as_what_differed_is_settled(door: Door) -> None:
    before, of = await thing(door, "crate")
    await move(door, of, "van")
    await close(door, before)
    here = (await door.item())["day_id"]
    door.now = HEARD + SETTLED_WITHIN - A_SECOND
    assert await awaited(door, here) == [before]
    door.now = HEARD + SETTLED_WITHIN
    assert await awaited(door, here) == []


async def test_what_stays_in_the_holding_area_is_awaited_until_the_hall_is_cleared(door: Door) -> None:
    before, of = await thing(door, "item")
    await move(door, of, "holding")
    here = (await door.item())["day_id"]
    assert await awaited(door, here) == [before], "closed or not"
    await close(door, before)
    door.now = HEARD + HALL_CLEARED - A_SECOND
    assert await awaited(door, here) == [before]
    door.now = HEARD + HALL_CLEARED
    assert await awaited(door, here) == []


async def test_a_day_that_nobody_closed_is_awaited_until_it_is_long_past(door: Door) -> None:
    before, of = await thing(door, "item")
    await move(door, of, "van")
    await door.keep(
        ("correct_day", {"day_id": before, "field": "held_on", "value": "2026-02-01", "seen": None})
    )
    here = (await door.item())["day_id"]
    door.now = HEARD + LEFT_OPEN - A_SECOND
    assert await awaited(door, here) == [before]
    door.now = HEARD + LEFT_OPEN
    assert await awaited(door, here) == []


async def test_two_days_are_awaited_and_read_each_once(door: Door) -> None:
    """The one that was heard of last stands last."""
    days = [await thing(door, "item") for _ in range(2)]
    here = (await door.item())["day_id"]
    for _, of in days:
        await move(door, of, "van")
    (first, _), (second, _) = days
    assert await awaited(door, here) == [first, second]
    await door.keep(("correct_day", {"day_id": first, "field": "place", "value": "Barn", "seen": None}))
    assert await awaited(door, here) == [second, first]
    found, cursor, more = list[str](), 0, True
    while more:
        page = await door.feed(cursor, role="porter", day_id=here, limit=3)
        assert page["more"] == (len(page["records"]) == 3)
        found += [record["record_id"] for record in page["records"]]
        cursor, more = page["cursor"], page["more"]
    assert len(found) == len(set(found)) == 9
