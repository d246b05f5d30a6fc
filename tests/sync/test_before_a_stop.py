"""What was done before a thing was stopped or set apart is a fact, also when the office hears of it afterwards."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from intake.custody.containers import things_inside
from intake.database import Writing
from intake.operation import CLOCK_OFF_S, KINDS, by_office_clock
from intake.records.in_hand import Records
from intake.records.values import FieldValue
from tests.builders import (
    a_caution,
    a_crate,
    a_day,
    a_decision,
    a_fact,
    a_finding,
    a_move,
    a_settlement,
    a_tie,
    a_visit,
    a_zone,
    an_item,
    put_in,
)
from tests.door import CAUTIONS, Door

EARLIER, STOP, LATER = (f"2026-03-14T11:{minute}:00.000Z" for minute in ("00", "05", "10"))
NUMBERS = ["0002D4", "0002E2"]
YEAR_S = 365 * 24 * 3600
#: A hazard whose row does not let a thing go home with its owner.
STAYS = next(row.hazard for row in CAUTIONS.cautions if row.level == "amber" and not row.goes_home)
CASES = json.loads((Path(__file__).parents[2] / "fixtures" / "knew-of.json").read_text("utf-8"))
KNEW_OF = CASES["cases"]


AS_RECORDED = {"state": "as-recorded", "words": "", "second_by": "Ned", "seen": None}


def a_seal(container_id: str, state: str) -> dict[str, Any]:
    return {"container_id": container_id, "seal": "7104", "state": state, "second_by": "Ned", "seen": None}


@pytest.mark.parametrize("case", KNEW_OF, ids=lambda case: case["says"])
def test_office_and_device_say_alike_what_was_known(case: dict[str, Any]) -> None:
    operation = KINDS["set_item"].from_log(case["operation"])
    said = FieldValue(value=None, operation_id="", made_by="", text="null", **case["said"])
    assert operation.knew_of(said) is case["knew"]


@pytest.mark.parametrize("case", CASES["stops"], ids=lambda case: case["says"])
def test_office_and_device_say_alike_which_stop_was_heard_of(case: dict[str, Any]) -> None:
    operation = KINDS["record_move"].from_log(case["operation"])
    stop = FieldValue(value=None, made_by="", text="null", **case["stop"])
    assert operation.heard_of(stop) is case["heard"]


async def stopped_item(door: Door) -> str:
    item_id = str((await door.item())["item_id"])
    await door.keep(a_caution(door.ids, item_id, still_allowed=[]), made_at=STOP)
    return item_id


@pytest.mark.parametrize("kind", ["tag", "move", "fact"])
async def test_what_another_device_did_before_the_stop_is_taken(door: Door, kind: str) -> None:
    """It was out of reach when Stop was pressed, and brings what it had done; the record says that it came late."""
    item_id = await stopped_item(door)
    made = {
        "tag": a_tie(item_id, NUMBERS[0]),
        "move": a_move(door.ids, item_id, "holding"),
        "fact": a_fact(item_id, "materials", "tin"),
    }[kind]
    other = door.other()
    assert await other.refused(made, made_at=LATER) == "item_stopped"
    assert await door.refused(made, made_at=EARLIER) == "item_stopped", "who pressed Stop knew"
    if kind == "move":
        made[1]["move_id"] = door.ids.id()
    kept = await other.keep(made, made_at=EARLIER)
    late = {
        "tag": {"kind": "tie_tag", "of": item_id, "tag": NUMBERS[0]},
        "move": {"kind": "record_move", "of": item_id, "to_place": "holding"},
        "fact": {"kind": "set_item"},
    }[kind]
    assert await door.value(item_id, f"heard-late/{kept['operation_id']}") == late
    assert await door.faults() == []


@pytest.mark.parametrize("kind", ["move", "put inside"])
async def test_what_an_authority_took_away_is_moved_by_nobody_who_has_heard_of_it(
    door: Door, kind: str
) -> None:
    """A phone that had not heard of it says what hands did: that is on record, and named until somebody has looked."""
    item = await door.item()
    item_id = item["item_id"]
    crate = (await door.keep(a_crate(door.ids, item["day_id"], NUMBERS[0])))["container_id"]
    await door.keep(put_in(item_id, crate), made_at=EARLIER)
    caution = await door.keep(a_caution(door.ids, item_id, still_allowed=[]), made_at=STOP)
    taken = a_decision(item_id, caution["caution_id"], "taken-away", place="gone with the police")
    await door.keep(taken, made_at=STOP)
    said = await door.value(item_id, "inside")
    assert said["container_id"] == crate, "where it lay stays on record"
    assert await door.database.write(lambda tx: inside_of(tx, crate)) == [], "and it is in there no more"
    made = {"move": a_move(door.ids, item_id, "store"), "put inside": put_in(item_id, crate)}[kind]
    porter = door.other("porter")
    assert await porter.refused(made, made_at=LATER) == "taken_away"
    heard = [caution["operation_id"]]
    of_both = [*heard, *await decisions(door, item_id)]
    assert await porter.refused(made, made_at=EARLIER, heard_stops=of_both) == "taken_away"
    if kind == "move":
        made[1]["move_id"] = door.ids.id()
    kept = await porter.keep(made, made_at=LATER, heard_stops=heard)
    late = await door.value(item_id, f"heard-late/{kept['operation_id']}")
    assert (late["kind"], late["of"], late["taken_away"]) == (kept["kind"], item_id, True)
    before = await porter.keep(a_move(door.ids, item_id, "holding"), made_at=EARLIER, heard_stops=heard)
    fields = (await door.record(item_id))["fields"]
    assert f"heard-late/{before['operation_id']}" not in fields, "it was here then"
    assert await door.faults() == []


def inside_of(tx: Writing, container_id: str) -> list[str]:
    records = Records(tx, feed_after=100)
    return [one.record_id for one in things_inside(records.require(container_id, "container"), records)]


async def decisions(door: Door, item_id: str) -> list[str]:
    """The operations that decided on an item's cautions."""
    fields = (await door.record(item_id))["fields"].items()
    return [said["operation_id"] for name, said in fields if name.startswith("caution-decisions/")]


async def test_what_hands_did_before_their_phone_had_heard_of_the_stop_is_on_record(door: Door) -> None:
    """The stop was pressed at the table; the porter's phone was out of reach until the evening. Where the thing is has
    to be known to whoever goes looking for it, and that it was handled to whoever answers for the day."""
    item = await door.item()
    item_id = item["item_id"]
    crate = (await door.keep(a_crate(door.ids, item["day_id"], NUMBERS[0])))["container_id"]
    await door.keep(a_tie(item_id, NUMBERS[1]))
    await door.keep(a_caution(door.ids, item_id, still_allowed=[]), made_at=STOP)
    porter = door.other("porter")
    opened = {**a_seal(crate, "opened"), "container_id": crate}
    made = [
        put_in(item_id, crate),
        ("seal_container", a_seal(crate, "sealed")),
        a_move(door.ids, crate, "van"),
        ("seal_container", opened),
        put_in(item_id, None),
        a_tie(item_id, "00035G"),
        ("remove_tag", {"item_id": item_id, "tag": "00035G", "why": "lost", "replaced_by": None}),
        a_move(door.ids, item_id, "returned"),
    ]
    operations = [porter.make(one, made_at=LATER, heard_stops=[]) for one in made]
    seen: dict[str, str] = {}
    for operation in operations:
        if "seen" in operation:
            operation["seen"] = seen.get(operation["kind"])
            seen[operation["kind"]] = operation["operation_id"]
    answers = await porter.send(*operations[:3])
    assert [answer["outcome"] for answer in answers] == ["kept"] * 3
    assert await door.value(item_id, "inside") == {"container_id": crate}
    assert (await door.value(crate, "whereabouts"))["to_place"] == "van"
    answers = await porter.send(*operations[3:])
    assert [answer["outcome"] for answer in answers] == ["kept"] * 5, answers
    assert (await door.value(item_id, "whereabouts"))["to_place"] == "returned"
    fields = (await door.record(item_id))["fields"]
    late = [fields[f"heard-late/{one['operation_id']}"]["value"] for one in operations]
    assert [(one["kind"], one["of"]) for one in late] == [
        ("put_inside", item_id),
        ("seal_container", crate),
        ("record_move", crate),
        ("seal_container", crate),
        ("put_inside", item_id),
        ("tie_tag", item_id),
        ("remove_tag", item_id),
        ("record_move", item_id),
    ]
    assert await door.faults() == []


async def test_what_was_done_in_ignorance_is_settled_by_what_somebody_found(door: Door) -> None:
    item_id = await stopped_item(door)
    late = await door.other("porter").keep(a_move(door.ids, item_id, "van"), made_at=LATER, heard_stops=[])
    settled = {
        "item_id": item_id,
        "late_id": late["operation_id"],
        "words": "in the van, untouched",
        "seen": None,
    }
    table = door.other("table")
    assert await table.refused(("settle_late_act", {**settled, "late_id": item_id})) == "not_found"
    assert await table.refused(("settle_late_act", {**settled, "words": " "})) == "unreadable"
    await table.keep(("settle_late_act", settled))
    assert await door.value(item_id, f"late-ends/{late['operation_id']}") == {"words": settled["words"]}
    assert await door.faults() == []


async def test_a_settlement_before_the_stop_came_late_like_any_change(door: Door) -> None:
    item_id = str((await door.item())["item_id"])
    await door.keep(a_fact(item_id, "materials", "tin"))
    between = await door.keep(a_fact(item_id, "materials", "oak"))
    await door.keep(a_caution(door.ids, item_id, still_allowed=[]), made_at=STOP)
    settled = a_settlement(item_id, between["operation_id"], "other")
    kept = await door.other().keep(settled, made_at=EARLIER)
    late = await door.value(item_id, f"heard-late/{kept['operation_id']}")
    assert late == {"kind": "settle_disagreement"}
    assert await door.faults() == []


async def test_a_crate_that_was_moved_before_the_stop_came_late_for_what_is_in_it(door: Door) -> None:
    item_id, _, crate = await crate_of(door)
    await door.keep(a_caution(door.ids, item_id, still_allowed=[]), made_at=STOP)
    kept = await door.other().keep(a_move(door.ids, crate, "store"), made_at=EARLIER)
    late = await door.value(item_id, f"heard-late/{kept['operation_id']}")
    assert late == {"kind": "record_move", "of": crate, "to_place": "store"}
    assert await door.faults() == []


@pytest.mark.parametrize("together", [False, True])
async def test_what_a_device_did_before_its_own_stop_is_taken(door: Door, together: bool) -> None:
    """It had to wait, and comes again behind the Stop; whatever the clock was set to between them."""
    item_id = str((await door.item())["item_id"])
    before = door.make(a_fact(item_id, "materials", "tin"), made_at=LATER)
    stop = door.make(a_caution(door.ids, item_id, still_allowed=[]), made_at=STOP)
    behind = door.make(a_fact(item_id, "maker", "a maker"), made_at=EARLIER)
    sent = [stop, before, behind]
    answers = await door.send(*sent) if together else [(await door.send(one))[0] for one in sent]
    assert [answer["outcome"] for answer in answers] == ["kept", "kept", "refused"]
    assert await door.faults() == []


@pytest.mark.parametrize(
    ("at", "off_s", "right"),
    [
        ("2026-03-14T11:00:00.000Z", CLOCK_OFF_S, "2026-03-14T11:00:00.000Z"),
        ("2026-03-14T11:00:00.000Z", 3600, "2026-03-14T10:00:00.000Z"),
        ("2026-03-14T11:00:00.000Z", -3600, "2026-03-14T12:00:00.000Z"),
        ("2026-02-30T11:00:00.000Z", 3600, "2026-02-30T11:00:00.000Z"),
    ],
)
def test_an_instant_is_put_right_by_more_than_a_clock_may_be_off_if_it_is_on_a_calendar(
    at: str, off_s: int, right: str
) -> None:
    assert by_office_clock(at, off_s) == right


@pytest.mark.parametrize(("off_s", "made_at"), [(YEAR_S, "2027-03-14"), (-YEAR_S, "2025-03-14")])
async def test_a_clock_that_is_off_is_put_right_on_either_side(door: Door, off_s: int, made_at: str) -> None:
    """Its device says what it shows when it sends: that of what was done, and that of the Stop."""
    item_id = await stopped_item(door)
    other = door.other()
    other.clock_off_s = off_s
    at = {"before": f"{made_at}T11:00:00.000Z", "after": f"{made_at}T11:10:00.000Z"}
    kept = await other.keep(a_fact(item_id, "materials", "tin"), made_at=at["before"])
    assert await door.value(item_id, f"heard-late/{kept['operation_id']}") == {"kind": "set_item"}
    assert (await door.record(item_id))["fields"]["materials"]["made_at"] == EARLIER
    assert await other.refused(a_fact(item_id, "maker", "a maker"), made_at=at["after"]) == "item_stopped"
    second = await other.keep(an_item(door.ids, await door.item()))
    await other.keep(a_caution(door.ids, second["item_id"], still_allowed=[]), made_at=at["after"])
    await door.keep(a_fact(second["item_id"], "materials", "tin"), made_at=STOP)
    assert await door.refused(a_fact(second["item_id"], "maker", "a"), made_at=LATER) == "item_stopped"
    assert await door.faults() == []


async def test_the_first_of_two_stops_counts(door: Door) -> None:
    item_id = await stopped_item(door)
    await door.keep(a_caution(door.ids, item_id, still_allowed=[]), made_at=LATER)
    between = STOP.replace("05", "07")
    assert await door.other().refused(a_tie(item_id, NUMBERS[0]), made_at=between) == "item_stopped"


async def test_what_the_caution_allows_is_not_late(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    await door.keep(a_caution(door.ids, item_id, still_allowed=["tag"]), made_at=STOP)
    await door.other().keep(a_tie(item_id, NUMBERS[0]), made_at=EARLIER)
    assert not [name for name in (await door.record(item_id))["fields"] if name.startswith("heard-late/")]


async def test_an_instant_without_a_fraction_is_before_one_with(door: Door) -> None:
    """Both forms are allowed, and as texts they are in the other order."""
    item_id = (await door.item())["item_id"]
    await door.keep(a_caution(door.ids, item_id), made_at="2026-03-14T11:05:00.200Z")
    await door.other().keep(a_tie(item_id, NUMBERS[0]), made_at="2026-03-14T11:05:00Z")


async def test_a_shelf_before_it_was_set_apart_is_where_it_is(door: Door) -> None:
    """That something spreads was found after another device had put the item on a shelf: the ledger says so."""
    item_id = (await door.item())["item_id"]
    await door.keep(a_finding(door.ids, item_id, "nose", activity="Q"), made_at=STOP)
    other = door.other()
    assert await other.refused(a_move(door.ids, item_id, "shelf"), made_at=LATER) == "not_isolation"
    await other.keep(a_move(door.ids, item_id, "shelf"), made_at=EARLIER)
    assert (await door.value(item_id, "whereabouts"))["to_place"] == "shelf"


@pytest.mark.parametrize("known", [False, True])
async def test_what_went_home_before_a_caution_was_raised_is_home(door: Door, known: bool) -> None:
    """Of two that keep it here the one that was raised before it went counts, whichever the record has first."""
    item_id = (await door.item())["item_id"]
    for at in (LATER, EARLIER) if known else (LATER,):
        await door.keep(a_caution(door.ids, item_id, hazard=STAYS, level="amber"), made_at=at)
    back, other = a_move(door.ids, item_id, "returned"), door.other()
    if known:
        assert await other.refused(back, made_at=STOP) == "not_home"
    else:
        await other.keep(back, made_at=STOP)
        assert (await door.value(item_id, "whereabouts"))["to_place"] == "returned"


async def test_a_settlement_changes_a_stopped_item_as_far_as_the_caution_lets_it(door: Door) -> None:
    """A desk may close a disagreement; the other value comes into force only if its own kind would still be taken."""
    item_id = (await door.item())["item_id"]
    await door.keep(a_fact(item_id, "materials", "tin"))
    words = [await door.keep(a_fact(item_id, "materials", other)) for other in ("oak", "brass")]
    caution = await door.keep(a_caution(door.ids, item_id))
    decided = [
        await door.keep(a_decision(item_id, caution["caution_id"], to)) for to in ("referred", "cleared")
    ]
    assert words[1]["disagreement"]
    assert decided[1]["disagreement"]
    assert await door.refused(a_settlement(item_id, words[0]["operation_id"], "other")) == "item_stopped"
    await door.keep(a_settlement(item_id, words[0]["operation_id"], "kept"))
    await door.keep(a_settlement(item_id, decided[1]["operation_id"], "other"))
    await door.keep(a_settlement(item_id, words[1]["operation_id"], "other"))
    assert await door.value(item_id, "materials") == "brass"


async def crate_of(door: Door) -> tuple[str, str, str]:
    """An item that spreads in a box in a crate; the ids of the three."""
    item = await door.item()
    made = [await door.keep(a_crate(door.ids, item["day_id"], number)) for number in NUMBERS]
    box, crate = (one["container_id"] for one in made)
    await door.keep(put_in(item["item_id"], box))
    await door.keep(put_in(box, crate))
    await door.keep(a_zone(item["item_id"], "nose", state="finding"))
    await door.keep(a_finding(door.ids, item["item_id"], "nose", activity="Q"), made_at=STOP)
    return item["item_id"], box, crate


async def test_a_crate_goes_nowhere_that_something_in_it_may_not(door: Door) -> None:
    item_id, box, crate = await crate_of(door)
    for container in (crate, box):  # a box that is moved by itself is out of its crate
        assert await door.refused(a_move(door.ids, container, "shelf"), made_at=LATER) == "not_isolation"
        await door.keep(a_move(door.ids, container, "isolation"), made_at=LATER)
    await door.other().keep(a_move(door.ids, crate, "shelf"), made_at=EARLIER)
    await door.keep(a_move(door.ids, item_id, "returned"), made_at=LATER)
    await door.keep(a_move(door.ids, crate, "shelf"), made_at=LATER)
    assert await door.faults() == []


@pytest.mark.parametrize("first", ["cleared", "isolated"])
async def test_what_two_decided_otherwise_stays_apart(door: Door, first: str) -> None:
    """Source: common practice. Until somebody has settled who is right, the more careful of the two counts."""
    item_id = (await door.item())["item_id"]
    caution = await door.keep(a_caution(door.ids, item_id, level="amber", hazard="H12"))
    for decision in (first, *({"cleared", "isolated"} - {first})):
        between = await door.keep(a_decision(item_id, caution["caution_id"], decision), made_at=STOP)
    assert between["disagreement"]
    assert await door.refused(a_move(door.ids, item_id, "shelf"), made_at=LATER) == "not_isolation"
    choose = "kept" if first == "cleared" else "other"
    await door.keep(a_settlement(item_id, between["operation_id"], choose))
    await door.keep(a_move(door.ids, item_id, "shelf"), made_at=LATER)


@pytest.mark.parametrize("stopped", [False, True])
async def test_no_settlement_puts_a_thing_where_nobody_may_carry_it(door: Door, stopped: bool) -> None:
    """It was put into two crates; the one that it is not in stands in the van. What goes for the porter goes here."""
    item = await door.item()
    made = [await door.keep(a_crate(door.ids, item["day_id"], number)) for number in NUMBERS]
    near, far = (one["container_id"] for one in made)
    box = (await door.keep(a_crate(door.ids, item["day_id"], "0002F0")))["container_id"]
    await door.keep(put_in(item["item_id"], box))
    await door.keep(put_in(box, near))
    between = await door.keep(put_in(box, far))
    assert between["disagreement"]
    await door.keep(a_move(door.ids, far, "van"), made_at=EARLIER)
    if stopped:
        await door.keep(a_caution(door.ids, item["item_id"], still_allowed=[]), made_at=STOP)
    else:
        await door.keep(a_finding(door.ids, item["item_id"], "nose", activity="Q"), made_at=STOP)
    other, kept = (a_settlement(box, between["operation_id"], choose) for choose in ("other", "kept"))
    assert await door.refused(other, made_at=LATER) == ("item_stopped" if stopped else "not_isolation")
    await door.keep(kept, made_at=LATER)


async def test_what_a_crate_holds_is_seen_within_one_batch(door: Door) -> None:
    """Also what was put in, or taken out, by an operation of the same batch, which no table has yet."""
    item_id, box, crate = await crate_of(door)
    out = door.make(
        put_in(item_id, None, seen=(await door.record(item_id))["fields"]["inside"]["operation_id"])
    )
    moved = door.make(a_move(door.ids, crate, "store"), made_at=LATER)
    back = door.make(put_in(item_id, box, seen=out["operation_id"]), made_at=LATER)
    again = door.make(a_move(door.ids, crate, "van"), made_at=LATER)
    answers = await door.send(out, moved, back, again)
    assert [answer["problem"] and answer["problem"]["code"] for answer in answers] == [
        None,
        None,
        "not_isolation",
        None,
    ]


async def test_what_lies_in_a_crate_is_found_whatever_else_is_said_of_it(door: Door) -> None:
    item_id, box, _ = await crate_of(door)

    def look(tx: Any) -> tuple[list[str], str]:
        said = json.dumps({"container_id": box, "layer": "top"})
        tx.run(
            "UPDATE field SET value = :said WHERE record_id = :item_id AND name = 'inside'",
            said=said,
            item_id=item_id,
        )
        records = Records(tx, feed_after=100)
        plan = tx.all(
            """
            EXPLAIN QUERY PLAN SELECT record_id FROM field
            WHERE name >= 'inside' AND name < 'inside0' AND value ->> 'container_id' = 'x'
            """
        )
        return [one.record_id for one in things_inside(records.require(box, "container"), records)], plan[0][
            "detail"
        ]

    inside, plan = await door.database.write(look)
    assert inside == [item_id]
    assert "field_by_container" in plan


async def test_nobody_carries_what_holds_something_stopped(door: Door) -> None:
    """Source: common practice. What may explode is not carried, in a crate either, until whoever was called decides."""
    item_id, box, crate = await crate_of(door)
    caution = await door.keep(a_caution(door.ids, item_id, still_allowed=[]), made_at=STOP)
    assert await door.refused(a_move(door.ids, crate, "isolation"), made_at=LATER) == "item_stopped"
    assert await door.refused(put_in(box, None), made_at=LATER) == "item_stopped"
    await door.keep(a_decision(item_id, caution["caution_id"], "isolated"))
    await door.keep(a_move(door.ids, crate, "isolation"), made_at=LATER)


@pytest.mark.parametrize(
    "work", ["out", "over", "moved", "piece", "in", "seal", "open", "check", "tie", "untie"]
)
async def test_nobody_opens_what_holds_something_stopped(door: Door, work: str) -> None:
    """Whoever takes out what lies beside it, puts in, seals, opens or checks has opened that. What a phone did before
    the stop is kept, and the closing names it."""
    stopped, box, crate = await crate_of(door)
    item = await door.record(stopped)
    day_id = item["day_id"]
    near = await door.keep(an_item(door.ids, item))
    elsewhere = (await door.keep(a_crate(door.ids, day_id, "0002F0")))["container_id"]
    await door.keep(a_tie(near["item_id"], "00035G"))
    # Beside the box that holds what is stopped, by whoever did not know of that.
    await door.other().keep(put_in(near["item_id"], crate), made_at=EARLIER)
    inside = (await door.record(near["item_id"]))["fields"]["inside"]["operation_id"]
    await door.keep(a_caution(door.ids, stopped, still_allowed=[]), made_at=STOP)
    made = {
        "out": put_in(near["item_id"], None, seen=inside),
        "over": put_in(near["item_id"], elsewhere, seen=inside),
        "moved": a_move(door.ids, near["item_id"], "holding"),
        "piece": a_move(door.ids, near["item_id"], "holding", tag="00035G"),
        "in": put_in(elsewhere, box),
        "seal": ("seal_container", a_seal(crate, "sealed")),
        "open": ("seal_container", a_seal(crate, "opened")),
        "check": ("check_in", {"item_id": near["item_id"], **AS_RECORDED}),
        "tie": a_tie(near["item_id"], "0002AA"),
        "untie": (
            "remove_tag",
            {"item_id": near["item_id"], "tag": "00035G", "why": "lost", "replaced_by": None},
        ),
    }[work]
    other = door.other()
    assert await other.refused(made, made_at=LATER) == "item_stopped"
    if "move_id" in made[1]:
        made[1]["move_id"] = door.ids.id()
    kept = await other.keep(made, made_at=EARLIER)
    late = (await door.record(stopped))["fields"].get(f"heard-late/{kept['operation_id']}")
    assert work == "check" or late["value"]["kind"] == made[0]


async def test_what_may_still_be_moved_keeps_nobody_from_its_crate(door: Door) -> None:
    stopped, box, crate = await crate_of(door)
    await door.keep(a_caution(door.ids, stopped, still_allowed=["move"]), made_at=STOP)
    kept = await door.other().keep(("seal_container", a_seal(box, "sealed")), made_at=EARLIER)
    assert f"heard-late/{kept['operation_id']}" not in (await door.record(stopped))["fields"]
    assert crate


async def test_nothing_held_apart_goes_into_a_crate_that_stands_on_a_shelf(door: Door) -> None:
    item_id, box, crate = await crate_of(door)
    await door.keep(
        put_in(item_id, None, seen=(await door.record(item_id))["fields"]["inside"]["operation_id"])
    )
    await door.keep(a_move(door.ids, crate, "shelf"), made_at=LATER)
    assert await door.refused(put_in(item_id, box), made_at=LATER) == "not_isolation"


async def two_and_a_crate(door: Door) -> tuple[str, str, str]:
    """Something held apart, something else of the same day, and a crate at the table; the ids of the three."""
    visit = await door.keep(a_visit(door.ids, (await door.keep(a_day(door.ids)))["day_id"]))
    fuel, violin = [str((await door.keep(an_item(door.ids, visit)))["item_id"]) for _ in range(2)]
    crate = str((await door.keep(a_crate(door.ids, visit["day_id"], NUMBERS[0])))["container_id"])
    await door.keep(a_caution(door.ids, fuel, level="amber", hazard=STAYS), made_at=STOP)
    return fuel, violin, crate


@pytest.mark.parametrize("apart_first", [True, False])
async def test_what_is_held_apart_goes_into_no_crate_with_others(door: Door, apart_first: bool) -> None:
    fuel, violin, crate = await two_and_a_crate(door)
    first, then = (fuel, violin) if apart_first else (violin, fuel)
    await door.keep(put_in(first, crate), made_at=LATER)
    assert await door.refused(put_in(then, crate), made_at=LATER) == "not_among_others"
    await door.other().keep(put_in(then, crate), made_at=EARLIER)  # before anybody knew it is a fact


async def test_in_isolation_they_lie_together(door: Door) -> None:
    fuel, violin, crate = await two_and_a_crate(door)
    await door.keep(a_move(door.ids, crate, "isolation"), made_at=LATER)
    await door.keep(put_in(violin, crate), made_at=LATER)
    await door.keep(put_in(fuel, crate), made_at=LATER)


async def test_a_crate_of_another_day_takes_nothing_of_this_one(door: Door) -> None:
    item, later = await door.item(), await door.item()
    near = await door.keep(a_crate(door.ids, item["day_id"], NUMBERS[0]))
    far = await door.keep(a_crate(door.ids, later["day_id"], NUMBERS[1]))
    assert await door.refused(put_in(item["item_id"], far["container_id"])) == "crate_of_another_day"
    assert await door.refused(put_in(near["container_id"], far["container_id"])) == "crate_of_another_day"
    await door.keep(put_in(later["item_id"], far["container_id"]))
