"""A thing that was recorded twice is stopped in the desk's list, whichever of its records says so."""

from __future__ import annotations

from intake.cataloguing.pages import Asked, Search
from tests.builders import a_caution, a_decision
from tests.door import CAUTIONS, Door
from tests.sync.test_stopped_doubles import merged, two_items

AMBER = next(row.hazard for row in CAUTIONS.cautions if row.level == "amber")


async def found(door: Door, asked: Asked) -> list[str]:
    rows = await door.database.read(lambda tx: Search(tx, asked).page(0, 50))
    return [row["item_id"] for row in rows]


STOPPED = (Asked(only=("stopped",)), Asked(only=("alone",)), Asked(words="stopped"), Asked(words="H02"))


async def test_a_stop_on_the_record_behind_is_found_in_front(door: Door) -> None:
    """Live ammunition: whoever looks for what is stopped must see it."""
    front, behind = await two_items(door)
    stop = a_caution(door.ids, behind, hazard="H02", still_allowed=[])
    await door.keep(merged(behind, front))
    await door.other().keep(stop)
    for asked in STOPPED:
        assert await found(door, asked) == [front], asked
    tables = await door.digests()
    await door.rebuild()
    assert await door.digests() == tables
    decision = a_decision(behind, stop[1]["caution_id"], "cleared")
    await door.keep(decision)
    assert [await found(door, asked) for asked in STOPPED[:3]] == [[], [], []]
    assert await door.faults() == []


async def test_what_comes_apart_again_is_listed_by_itself(door: Door) -> None:
    front, behind = await two_items(door)
    merge = await door.keep(merged(behind, front))
    stop = await door.keep(a_caution(door.ids, behind, hazard=AMBER, level="amber"))
    assert await found(door, Asked(only=("held",))) == [front]
    kind, apart = merged(behind, None)
    await door.keep((kind, {**apart, "seen": merge["operation_id"]}))
    assert await found(door, Asked(only=("held",))) == [behind], stop
    assert await door.faults() == []
