"""The same thing recorded twice is stopped whichever of its records carries the caution; what lies round it, too."""

from __future__ import annotations

from typing import get_args

import pytest

from intake.custody.moves import Place
from tests.builders import a_caution, a_crate, a_decision, a_fact, a_move, a_tie, an_item, put_in
from tests.door import CAUTIONS, Door
from tests.sync.test_before_a_stop import EARLIER, LATER, NUMBERS, STOP

#: A hazard whose row lets a thing go home with its owner, so that every decision can be taken on it.
GOES_HOME = next(row.hazard for row in CAUTIONS.cautions if row.goes_home)


def merged(item_id: str, into_id: str | None) -> tuple[str, dict[str, object]]:
    return "merge_item", {"item_id": item_id, "into_id": into_id, "why": "", "seen": None}


async def two_items(door: Door) -> tuple[str, str]:
    first = await door.item()
    second = await door.keep(an_item(door.ids, first))
    return first["item_id"], second["item_id"]


@pytest.mark.parametrize("stopped", [0, 1])
async def test_a_stop_on_either_record_stops_both(door: Door, stopped: int) -> None:
    """One was merged into the other while a phone out of reach pressed Stop on either."""
    both = await two_items(door)
    await door.keep(merged(both[1], both[0]))
    await door.other().keep(a_caution(door.ids, both[stopped], still_allowed=[]))
    for one in both:
        assert await door.refused(a_fact(one, "materials", "tin")) == "item_stopped"
        assert await door.refused(a_move(door.ids, one, "holding")) == "item_stopped"
    assert await door.faults() == []


async def test_what_is_merged_behind_a_stopped_one_is_stopped(door: Door) -> None:
    first, second = await two_items(door)
    await door.keep(a_caution(door.ids, first, still_allowed=[]))
    merge = await door.keep(merged(second, first))
    assert await door.refused(a_move(door.ids, second, "holding")) == "item_stopped"
    apart = merged(second, None)
    apart[1]["seen"] = merge["operation_id"]
    assert await door.refused(apart) == "item_stopped", "nor does it come away from it"


async def test_a_stop_is_found_over_several_doubles(door: Door) -> None:
    first, second = await two_items(door)
    third = (await door.keep(an_item(door.ids, await door.record(first))))["item_id"]
    await door.keep(merged(third, second))
    await door.keep(merged(second, first))
    await door.keep(a_caution(door.ids, third, still_allowed=[]))
    assert await door.refused(a_fact(first, "materials", "tin")) == "item_stopped"


async def test_a_crate_with_something_stopped_in_it_is_not_handled(door: Door) -> None:
    """To seal it or to put another thing in is to handle what lies in it; what was done before the Stop is a fact."""
    first, second = await two_items(door)
    crate = await door.keep(a_crate(door.ids, (await door.record(first))["day_id"], NUMBERS[0]))
    await door.keep(put_in(first, crate["container_id"]))
    await door.keep(a_caution(door.ids, first, still_allowed=[]), made_at=STOP)
    seal = (
        "seal_container",
        {
            "container_id": crate["container_id"],
            "seal": "41",
            "state": "sealed",
            "second_by": "Otis",
            "seen": None,
        },
    )
    other = door.other()
    for made in (seal, put_in(second, crate["container_id"])):
        assert await other.refused(made, made_at=LATER) == "item_stopped"
        await other.keep(made, made_at=EARLIER)
    assert await door.faults() == []


async def test_a_thing_of_its_own_goes_on(door: Door) -> None:
    """The yardstick: beside a stopped one that it was never merged with, nothing is in its way."""
    first, second = await two_items(door)
    await door.keep(a_caution(door.ids, first, still_allowed=[]))
    await door.keep(a_tie(second, NUMBERS[1]))


async def test_what_an_amber_caution_holds_goes_to_isolation_only(door: Door) -> None:
    """By hand and in a crate; a clearing lets it go on."""
    item_id, _ = await two_items(door)
    raised = await door.keep(a_caution(door.ids, item_id, level="amber"))
    for place in ("holding", "van"):
        assert await door.refused(a_move(door.ids, item_id, place)) == "not_isolation"
    await door.keep(a_move(door.ids, item_id, "isolation"))
    await door.keep(a_decision(item_id, raised["caution_id"], "cleared"))
    await door.keep(a_move(door.ids, item_id, "van"))


@pytest.mark.parametrize("decision", ["isolated", "returned", "referred"])
async def test_no_decision_but_a_clearing_lifts_a_caution(door: Door, decision: str) -> None:
    """Source: common practice. Whatever was decided of it, the next person still has to be warned."""
    stopped, apart = await two_items(door)
    red = await door.keep(a_caution(door.ids, stopped, hazard=GOES_HOME, still_allowed=[]))
    amber = await door.keep(a_caution(door.ids, apart, hazard=GOES_HOME, level="amber"))
    for raised in (red, amber):
        await door.keep(a_decision(raised["item_id"], raised["caution_id"], decision))
    assert await door.refused(a_fact(stopped, "materials", "tin")) == "item_stopped"
    assert await door.refused(a_move(door.ids, apart, "van")) == "not_isolation"


@pytest.mark.parametrize("place", sorted(get_args(Place)))
async def test_what_is_held_apart_is_at_the_table_in_isolation_or_back_with_its_owner(
    door: Door, place: str
) -> None:
    """Source: common practice: quarantine. It stays where it was found, is set apart, or leaves the house."""
    item_id, _ = await two_items(door)
    await door.keep(a_caution(door.ids, item_id, hazard=GOES_HOME, level="amber"))
    if place in {"table", "isolation", "returned"}:
        await door.keep(a_move(door.ids, item_id, place))
    else:
        assert await door.refused(a_move(door.ids, item_id, place)) == "not_isolation"
