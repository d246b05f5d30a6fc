"""What of a thing left and did not come: with a load of which the arrival was counted, or that the day was closed with,
or in a container in which it was not as that was unpacked.

Until one of these a load is on its way. What of it has come is said by `loads.py`, of one thing as of all of a day.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from typing import Any

from intake.custody.day_on_record import listed, values_of
from intake.custody.item_differences import is_not_come
from intake.custody.loads import COME, Loaded, all_numbers, load_name, loads_that_left
from intake.custody.number_parts import is_in_parts, part_words
from intake.custody.owed_signatures import ThingOnRecord, containers_round
from intake.custody.with_owner import numbers_on, one_thing
from intake.database import Reading, any_of
from intake.in_words import counted
from intake.records.in_hand import Records
from intake.records.record import Record

NOT_THERE = "not there as it was unpacked"


def not_come_of(records: Records, item: Record) -> str:
    """That it did not come with its load, or was not there as it was unpacked, in a few words; "" of what came, and of
    what nobody counted since it left."""
    if is_not_come(item):
        return NOT_THERE
    numbers = {tag["tag"] for tag in values_of(one_thing(item), "tags/") if not tag["gone"]}
    if not numbers or not has_loads(records.tx, item.day_id):
        return ""
    day = records.find(item.day_id)
    if day is None or not any(numbers & all_numbers(load) for load in values_of(day, "loads/")):
        return ""
    ended = loads_ended(day)
    for load in loads_that_left(with_its_loads(records, item, day)):
        lacking = {one.number for one in all_of(load.things) if one.number in numbers and one.fate.lacks}
        if lacking and load.load_id in ended:
            which = f"{parts_lacking(item, lacking, numbers)} " if lacking != numbers else ""
            return f"{which}not come with {load_name(load.value)}"
    return ""


def parts_lacking(item: Record, lacking: set[str], numbers: set[str]) -> str:
    """Which of it did not come: "the cover", or how many where each number is on a piece."""
    if not is_in_parts(item):
        return f"{len(lacking)} of {counted(len(numbers), 'piece')}"
    return ", ".join(part_words(item, numbers_on(item)[tag].value) for tag in sorted(lacking))


def with_its_loads(records: Records, item: Record, day: Record) -> ThingOnRecord:
    """The thing by itself, with the containers that it lies in and those of the loads in which it left."""
    around = containers_round(records, item)
    numbers = {tag["tag"] for tag in values_of(one_thing(item), "tags/")}
    held = {outer for load in values_of(day, "loads/") for outer in holders_in(load, numbers)}
    for container_id in containers_with(records.tx, held):
        container = records.find(container_id)
        if container is not None and container.day_id == item.day_id:
            around |= {container_id: container, **containers_round(records, container)}
    things = {one.record_id: one for one in (item, *item.others())}
    return ThingOnRecord(day, (), tuple(things.values()), tuple(around.values()), {**things, **around})


def loads_ended(day: Record) -> set[str]:
    """The loads of which somebody counted what came, and all of them once the day is closed."""
    loads = list(listed(day, "loads/"))
    if day.value("closed"):
        return {load_id for load_id, _ in loads}
    return {load.value["of_load"] for _, load in loads if load.value.get("of_load")}


def all_of(things: Iterable[Loaded]) -> Iterator[Loaded]:
    for thing in things:
        yield thing
        yield from all_of(thing.packed)


def holders_in(load: dict[str, Any], numbers: Iterable[str]) -> set[str]:
    """The containers in which these numbers left, at any depth, by their own numbers."""
    found, inner = set[str](), set(numbers)
    while inner:
        outer = {one["container"] for one in load.get("packed") or () if inner & set(one["numbers"])}
        inner = outer - found
        found |= outer
    return found


def containers_with(tx: Reading, numbers: Iterable[str]) -> list[str]:
    """The ids of what has these numbers, of the oldest if two have one."""
    rows = tx.all(
        f"SELECT item_id FROM tag WHERE tag IN {any_of('numbers')} ORDER BY tag",
        numbers=json.dumps(sorted(numbers)),
    )
    return [row["item_id"] for row in rows]


def has_loads(tx: Reading, day_id: str) -> bool:
    return bool(
        tx.value(
            """
            SELECT EXISTS (SELECT 1 FROM field
                WHERE record_id = :day_id AND name >= 'loads/' AND name < 'loads0')
            """,
            day_id=day_id,
        )
    )


def may_lack(tx: Reading, day: Record) -> list[str]:
    """The things of a day of which it may be said from now on that they did not come, since its loads or its closing
    are others: what was in a load that is ended now, but for what was scanned as it came, with what still lies in
    it."""
    loads = {load_id: load.value for load_id, load in listed(day, "loads/")}
    ended = loads_ended(day)
    if "closed" not in day.changed:
        said = {name.removeprefix("loads/") for name in day.changed if name.startswith("loads/")}
        ended &= said | {loads[load_id].get("of_load") for load_id in said if load_id in loads}
    found: list[str] = []
    for load_id in ended & loads.keys():
        arrivals = [load for load in loads.values() if load.get("of_load") == load_id]
        came = {number for arrival in arrivals for number in arrival.get("numbers") or ()}
        packed = loads[load_id].get("packed") or ()
        holder = {number: one["container"] for one in packed for number in one["numbers"]}
        things = things_with(tx, day.record_id, all_numbers(loads[load_id]) - came)
        within = still_within(tx, things, came)
        found += [
            one for one, numbers in things.items() if {holder.get(n) for n in numbers} != within.get(one)
        ]
    return found


def still_within(tx: Reading, things: Iterable[str], came: Iterable[str]) -> dict[str, set[str | None]]:
    """In which of the containers that came these things lie, by those's numbers; None where something else is said."""
    number_of = {
        row["item_id"]: row["tag"]
        for row in tx.all(
            f"SELECT item_id, tag FROM tag WHERE tag IN {any_of('came')}", came=json.dumps(sorted(came))
        )
    }
    found: dict[str, set[str | None]] = {}
    for row in tx.all(
        f"""
        SELECT record_id, value ->> 'container_id' AS container_id FROM field
        WHERE record_id IN {any_of("things")} AND name >= 'inside' AND name < 'inside0'
        """,
        things=json.dumps(list(things)),
    ):
        found.setdefault(row["record_id"], set()).add(number_of.get(row["container_id"]))
    return {one: numbers for one, numbers in found.items() if None not in numbers}


def may_lack_again(tx: Reading, container: Record) -> list[str]:
    """The things of which it may be said that they did not come, since a container that had come is brought away: what
    ever left in it, or lies in it."""
    if place_before(tx, container) not in COME or not has_loads(tx, container.day_id):
        return []
    numbers: set[str] = set()
    for row in tx.all(
        "SELECT value FROM field WHERE record_id = :day_id AND name >= 'loads/' AND name < 'loads0'",
        day_id=container.day_id,
    ):
        numbers |= all_numbers(json.loads(row["value"]))
    return list(things_with(tx, container.day_id, numbers))


def place_before(tx: Reading, thing: Record) -> str | None:
    """Where the tables have a thing that is about to be written, as a whole; None if it never moved."""
    place: str | None = tx.value(
        "SELECT value ->> 'to_place' FROM field WHERE record_id = :thing_id AND name = 'whereabouts'",
        thing_id=thing.record_id,
    )
    return place


def things_with(tx: Reading, day_id: str, numbers: Iterable[str]) -> dict[str, list[str]]:
    """The items of a day to which one of these numbers was tied, each with those."""
    found: dict[str, list[str]] = {}
    for row in tx.all(
        f"""
        SELECT record_id, name FROM record JOIN field USING (record_id)
        WHERE day_id = :day_id AND kind = 'item' AND name IN {any_of("names")} ORDER BY record_id, name
        """,
        day_id=day_id,
        names=json.dumps(sorted(f"tags/{number}" for number in numbers)),
    ):
        found.setdefault(row["record_id"], []).append(row["name"].removeprefix("tags/"))
    return found
