"""A load or a container with what it holds, for a device that keeps no copy of its day: the records that its screen
reads elsewhere, and of each what tells where things are."""

from __future__ import annotations

import json
from collections.abc import Iterable
from datetime import datetime
from typing import Any

from intake.database import Reading, any_of
from intake.errors import NotFound
from intake.families import Asker, family_of
from intake.reading import as_read, held_on, is_closed, is_over, reads_record, stored, stored_many

#: The families of fields that tell of a thing what it is called, where it is and was, and what it came with.
TELLS_WHERE = frozenset(
    {
        *("people/", "loads/", "differences/", "difference-ends/", "house", "held_on", "closed"),
        *("short_description", "class_id", "pieces", "pieces-back", "listed/", "merged"),
        *("tags/", "inside", "inside/", "seal", "moves/", "whereabouts", "whereabouts/"),
        *("check-in", "check-in/"),
        *("cautions/", "caution-decisions/"),
    }
)


def container_told(tx: Reading, asker: Asker, container_id: str) -> list[dict[str, Any]]:
    """A container, its day, what is said to lie in it at any depth, and what it stands in. Raises NotFound."""
    container = stored(tx, container_id)
    if container is None or container.kind != "container":
        raise NotFound("container", container_id)
    return told(
        tx, asker, [container.day_id], {container_id, *with_numbers(tx, sealed_numbers(tx, [container_id]))}
    )


def load_told(tx: Reading, asker: Asker, load_id: str, now: datetime) -> dict[str, Any]:
    """The day on which a load left, what has a number that left or came with it, and what lies in that; of a day that
    the device does not read what `day_told` says. Raises NotFound."""
    day_id = tx.value(
        """
        SELECT record_id FROM record JOIN field USING (record_id)
        WHERE record.kind = 'day' AND field.name = :name
        """,
        name=f"loads/{load_id}",
    )
    if day_id is None:
        raise NotFound("load", load_id)
    day = stored(tx, day_id)
    if day is None or not reads_record(tx, asker, day, now):
        return {"records": [], **day_told(tx, asker, day_id, now)}
    things = with_numbers(tx, numbers_of(tx, day_id, load_id))
    things |= with_numbers(tx, sealed_numbers(tx, things))
    return {"records": told(tx, asker, [day_id], things)}


def van_awaited(tx: Reading, day_id: str) -> bool:
    """Whether something left by name on a day, and nobody has counted it as it came."""
    return bool(
        tx.value(
            """
            SELECT 1 FROM field AS gone
            WHERE gone.record_id = :day_id AND gone.name >= 'loads/' AND gone.name < 'loads0'
                AND gone.value ->> 'to_place' = 'van' AND gone.value ->> 'of_load' IS NULL
                AND gone.value -> 'numbers' ->> 0 IS NOT NULL
                AND NOT EXISTS (
                    SELECT 1 FROM field AS come
                    WHERE come.record_id = :day_id AND come.name >= 'loads/' AND come.name < 'loads0'
                        AND 'loads/' || (come.value ->> 'of_load') = gone.name
                )
            """,
            day_id=day_id,
        )
    )


def day_told(tx: Reading, asker: Asker, day_id: str, now: datetime) -> dict[str, Any]:
    """What a device hears of the day of a thing that it does not read, since it works on another: the date alone, and
    whether that day is closed. A porter hears which day it is while its van is awaited, to go back and count it."""
    date = tx.value(f"SELECT {held_on('record')} FROM record WHERE record_id = :day_id", day_id=day_id)
    goes_back = asker.role == "porter" and not is_over(tx, day_id, now) and van_awaited(tx, day_id)
    told = {"held_on": date or "", "closed": is_closed(tx, day_id)}
    return {**told, "day_id": day_id} if goes_back else told


def numbers_of(tx: Reading, day_id: str, load_id: str) -> set[str]:
    """What was counted of a load, as it left and as it came, with what lay in it."""
    rows = tx.all(
        """
        SELECT value FROM field WHERE record_id = :day_id AND name >= 'loads/' AND name < 'loads0'
            AND (name = :name OR value ->> 'of_load' = :load_id)
        """,
        day_id=day_id,
        name=f"loads/{load_id}",
        load_id=load_id,
    )
    found: set[str] = set()
    for row in rows:
        load = json.loads(row["value"])
        found.update(load.get("numbers") or ())
        for packed in load.get("packed") or ():
            found.update([packed["container"], *packed["numbers"]])
    return found


def with_numbers(tx: Reading, numbers: Iterable[str]) -> set[str]:
    """The things that have these numbers."""
    rows = tx.all(
        f"SELECT item_id FROM tag WHERE tag IN {any_of('numbers')}", numbers=json.dumps(sorted(numbers))
    )
    return {row["item_id"] for row in rows}


def sealed_numbers(tx: Reading, record_ids: Iterable[str]) -> set[str]:
    """The numbers that lay in containers as they were sealed."""
    rows = tx.all(
        f"SELECT value -> 'numbers' AS numbers FROM field WHERE name = 'seal' AND record_id IN {any_of('ids')}",
        ids=json.dumps(sorted(record_ids)),
    )
    return {number for row in rows for number in json.loads(row["numbers"] or "null") or ()}


def told(tx: Reading, asker: Asker, day_ids: list[str], things: set[str]) -> list[dict[str, Any]]:
    """These days and things, all that is said to lie in them, and what they are said to stand in, as the device reads
    them. Which of that holds still the fields themselves say, as they do on a device that has them all."""
    found = nearby(tx, things, INSIDE)
    found = nearby(tx, found, AROUND)
    found = nearby(tx, found, OF_ONE_THING)
    records = stored_many(tx, [*day_ids, *sorted(found)])
    pieces = as_read(tx, asker, records, asked=False)
    return [only_where(json.loads(b"".join(body))) for body in pieces]


INSIDE = f"""
    SELECT record_id AS other_id FROM field
    WHERE name >= 'inside' AND name < 'inside0' AND value ->> 'container_id' IN {any_of("ids")}
"""
AROUND = f"""
    SELECT value ->> 'container_id' AS other_id FROM field
    WHERE name >= 'inside' AND name < 'inside0' AND record_id IN {any_of("ids")}
"""
OF_ONE_THING = f"""
    SELECT value ->> 'into_id' AS other_id FROM field WHERE name = 'merged' AND record_id IN {any_of("ids")}
    UNION SELECT record_id FROM field WHERE name = 'merged' AND value ->> 'into_id' IN {any_of("ids")}
"""


def nearby(tx: Reading, record_ids: set[str], step: str) -> set[str]:
    """These records and all that a step leads to from one to the next, each once."""
    found, fresh = set(record_ids), set(record_ids)
    while fresh:
        rows = tx.all(step, ids=json.dumps(sorted(fresh)))
        fresh = {row["other_id"] for row in rows if row["other_id"]} - found
        found |= fresh
    return found


def only_where(record: dict[str, Any]) -> dict[str, Any]:
    """The record with the fields alone that tell where things are."""

    def tells(name: str) -> bool:
        return family_of(name).key in TELLS_WHERE

    fields = {name: field for name, field in record["fields"].items() if tells(name)}
    disagreements = [between for between in record["disagreements"] if tells(between["field"])]
    return {**record, "fields": fields, "disagreements": disagreements}
