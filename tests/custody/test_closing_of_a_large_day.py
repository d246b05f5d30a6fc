"""A day of thousands is closed with some of its records in memory at a time, and comes out as if all had been."""

from __future__ import annotations

import json
import sqlite3
import tracemalloc
from collections.abc import Iterator
from contextlib import closing
from typing import Any
from weakref import ref

import pytest

from intake.custody import in_parts
from intake.custody.day_closing import closing_told
from intake.custody.day_on_record import day_on_record
from intake.custody.differences import Closing
from intake.custody.kept_closings import ToldClosing
from intake.database import Reading, bring_up_to_date

DAY, OPENED_AT = "the-day", "2026-03-14T09:30:00.000Z"
VISITS, ITEMS_A_VISIT = 40, 10
NOTE = "worn " * 4000  # some 20 KB of JSON in each item
#: Letters of the day that stay in hand, and bytes that its closing may take at most: those, and the hundred records
#: that are gone through. All of its records in memory come to more than sixteen million.
IN_HAND, MOST = 400_000, 7_000_000
UNSAID = dict.fromkeys(("side", "extent_words", "activity", "certainty", "origin", "seen"))
FINDING = {"zone": "head", "term": "wear", "severity": 2, "note": NOTE, "withdrawn": False, **UNSAID}
#: What one of the items comes to.
OF_AN_ITEM = len(json.dumps(FINDING)) + in_parts.OF_A_FIELD


def insert(file: sqlite3.Connection, table: str, **columns: object) -> None:
    names = ", ".join(columns)
    marks = ", ".join(f":{name}" for name in columns)
    file.execute(f"INSERT INTO {table} ({names}) VALUES ({marks})", columns)


def a_record(
    file: sqlite3.Connection, seq: int, record_id: str, kind: str, head: dict[str, Any], **fields: Any
) -> None:
    row = {"record_id": record_id, "kind": kind, "day_id": DAY, "opened_seq": seq}
    insert(file, "record", **row, office_seq=seq, feed_seq=seq, head=json.dumps(head), body="{}")
    for name, value in fields.items():
        said = {"operation_id": f"{record_id} {name}", "made_by": "hester", "made_at": OPENED_AT}
        by = {"device_id": "device", "device_seq": seq}
        insert(file, "field", record_id=record_id, name=name, value=json.dumps(value), **said, **by)


@pytest.fixture(scope="module")
def large_day() -> Iterator[Reading]:
    """The tables of a day that is still open, with nothing tagged and nobody gone."""
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as file:
        file.row_factory = sqlite3.Row
        bring_up_to_date(file)
        head = {"house": "House", "place": "Hall", "held_on": "2026-03-14", "opened_at": OPENED_AT}
        a_record(file, 1, DAY, "day", head)
        for visit in range(VISITS):
            seq, visit_id = 2 + visit * (1 + ITEMS_A_VISIT), f"visit {visit}"
            a_record(file, seq, visit_id, "visit", {"opened_at": OPENED_AT}, ticket=f"T{visit}")
            for number in range(1, 1 + ITEMS_A_VISIT):
                head = {"opened_at": OPENED_AT, "visit_id": visit_id}
                a_record(
                    file, seq + number, f"item {seq + number}", "item", head, **{"findings/one": FINDING}
                )
        yield Reading(file)


def told_of(tx: Reading, in_hand: int | None = None) -> ToldClosing:
    day = day_on_record(tx, DAY) if in_hand is None else day_on_record(tx, DAY, in_hand)
    return closing_told(Closing(day, lambda _: None, {}))


def test_a_closing_never_holds_a_whole_day(large_day: Reading) -> None:
    """Were all records in memory at once, or all lines as they were found, this would see it."""
    tracemalloc.start()
    try:
        told = told_of(large_day, IN_HAND)
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    items = VISITS * ITEMS_A_VISIT
    assert {name: len(lines) for name, lines in told.sections.items()} == {
        "visit": VISITS,
        "not-moved": items,
        "item-without-tag": items,
        "class": items,
    }
    assert peak < MOST, f"{peak / 1e6:.0f} MB"


@pytest.mark.parametrize("in_hand", [0, IN_HAND])
def test_whatever_is_let_go_of_meanwhile_a_closing_is_the_same(large_day: Reading, in_hand: int) -> None:
    assert told_of(large_day, in_hand).state == told_of(large_day).state


@pytest.mark.parametrize(
    ("in_hand", "stay"),
    [(0, 1), (OF_AN_ITEM, 1), (3 * OF_AN_ITEM - 1, 2), (3 * OF_AN_ITEM, 3), (10**9, VISITS * ITEMS_A_VISIT)],
)
def test_of_what_was_gone_through_the_last_stays_in_hand_as_far_as_there_is_room(
    large_day: Reading, in_hand: int, stay: int
) -> None:
    day = day_on_record(large_day, DAY, in_hand)
    for _ in range(2):
        seen = [ref(item) for item in day.items]
        assert [one() is not None for one in seen] == [at >= len(seen) - stay for at in range(len(seen))]
        day.hand.let_go()
        assert not any(one() for one in seen), "and there is room again for as many"


def test_what_was_asked_for_again_stays_in_hand(large_day: Reading) -> None:
    items = day_on_record(large_day, DAY, 2 * OF_AN_ITEM).items
    first, second = ref(items[0]), ref(items[1])
    assert items[0] is first()
    third = ref(items[2])
    assert [one() is not None for one in (first, second, third)] == [True, False, True]


def test_of_what_two_differ_on_each_open_question_is_read_in_its_order_and_takes_room() -> None:
    """Three said otherwise of one field, and one question was settled."""
    side = json.dumps({"value": "tin", "note": NOTE})
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as file:
        file.row_factory = sqlite3.Row
        bring_up_to_date(file)
        head = {"house": "House", "place": "Hall", "held_on": "2026-03-14", "opened_at": OPENED_AT}
        a_record(file, 1, DAY, "day", head)
        for seq in (2, 3, 4):
            item_id = f"item {seq}"
            a_record(file, seq, item_id, "item", {"opened_at": OPENED_AT, "visit_id": "visit"})
            for place, (disagreement_id, settled) in enumerate([("z", None), ("b", None), ("c", "{}")]):
                of = {"record_id": item_id, "disagreement_id": f"{item_id} {disagreement_id}"}
                sides = {"name": "materials", "kept": side, "other": side, "settled": settled}
                insert(file, "disagreement", **of, **sides, office_seq=10 * seq + place)
        room = 2 * 2 * len(side)  # of one item: two questions with two sides each
        for in_hand, stay in ((2 * room - 1, 1), (2 * room, 2)):
            items = day_on_record(Reading(file), DAY, in_hand).items
            seen = [ref(item) for item in items]
            assert [one() is not None for one in seen] == [at >= 3 - stay for at in range(3)]
        for item in items:
            assert [*item.disagreements] == [f"{item.record_id} {one}" for one in "zb"]
