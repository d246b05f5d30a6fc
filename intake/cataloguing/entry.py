"""One entry as the desk opens it: the item, and whatever of the house it needs to be read, in one answer.

A desk keeps no copy of the house, so that all that its screen of one item shows comes from here: the item's visit, what
it lies in, its doubles, the items with which it shares a number, and the names of whoever said something of it.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from intake.arrival.people import person_of_any_day
from intake.custody.doubles import behind_what
from intake.database import Reading, any_of
from intake.families import Asker
from intake.reading import Stored, as_read, is_closed, stored_many
from intake.records.same_thing import ids_of_thing

CONTAINERS = 13  # one more than may stand inside each other


@dataclass(frozen=True)
class EntryInHand:
    """The records of an entry as JSON, the item first; names of people by their ids; the other items of its visit."""

    records: list[bytes]
    people: dict[str, str]
    others: list[dict[str, Any]]


def entry_in_hand(tx: Reading, item: Stored, asker: Asker) -> EntryInHand:
    """Everything that the screen of one item needs, each record as this device reads it among many."""
    body = json.loads(item.body)
    near = [
        body["visit_id"],
        *containers_round(tx, item.record_id),
        *containers_before(tx, item.record_id),
        *ids_of_thing(item.record_id, behind_what(tx))[1:],
    ]
    near += shares_number(tx, item.record_id)
    near += [item.day_id] if is_closed(tx, item.day_id) else []  # a desk has the open days from the feed
    found = [
        item,
        *stored_many(tx, [item_id for item_id in dict.fromkeys(near) if item_id != item.record_id]),
    ]
    return EntryInHand(
        [b"".join(pieces) for pieces in as_read(tx, asker, found, asked=False)],
        people_named(tx, item),
        others_of_visit(tx, body["visit_id"], item.record_id),
    )


def containers_round(tx: Reading, thing_id: str) -> list[str]:
    """The containers in which a thing or one of its pieces is, and those in which these are."""
    found: list[str] = []
    layer = [thing_id]
    while layer and len(found) < CONTAINERS:
        rows = tx.all(
            f"""
            SELECT DISTINCT value ->> 'container_id' AS container_id FROM field
            WHERE record_id IN {any_of("things")} AND name >= 'inside' AND name < 'inside0'
            """,
            things=json.dumps(layer),
        )
        layer = [row["container_id"] for row in rows if row["container_id"] not in (None, *found)]
        found += layer
    return found


def containers_before(tx: Reading, thing_id: str) -> list[str]:
    """The containers into which a thing or one of its pieces was ever put: its history names them."""
    rows = tx.all(
        """
        SELECT DISTINCT operation ->> 'container_id' AS container_id FROM operation_log
        WHERE record_id = :thing_id AND operation ->> 'kind' = 'put_inside'
        """,
        thing_id=thing_id,
    )
    return [row["container_id"] for row in rows if row["container_id"]]


def shares_number(tx: Reading, item_id: str) -> list[str]:
    """The items to which a number was tied that this one's record has or asks for, settled or not."""
    rows = tx.all(
        """
        SELECT name FROM field WHERE record_id = :item_id AND name >= 'tags/' AND name < 'tags0'
        UNION SELECT name FROM disagreement WHERE record_id = :item_id AND name >= 'tags/' AND name < 'tags0'
        """,
        item_id=item_id,
    )
    rows = tx.all(
        f"""
        SELECT record_id, kept FROM disagreement
        WHERE name IN {any_of("names")} AND name >= 'tags/' AND name < 'tags0'
        """,
        names=json.dumps([row["name"] for row in rows]),
    )
    return [
        person_id
        for row in rows
        for person_id in (row["record_id"], json.loads(row["kept"])["value"].get("item_id"))
        if person_id
    ]


def people_named(tx: Reading, item: Stored) -> dict[str, str]:
    """The names of whoever made something on this item, by id: of its day, else of any day that lists them."""
    rows = tx.all(
        "SELECT DISTINCT operation ->> 'made_by' AS made_by FROM operation_log WHERE record_id = :record_id",
        record_id=item.record_id,
    )
    made_by = {row["made_by"] for row in rows if row["made_by"]}
    people = {person_id: person_of_any_day(tx, person_id, first=item.day_id) for person_id in made_by}
    return {person_id: person["name"] for person_id, person in people.items() if person and person["name"]}


def others_of_visit(tx: Reading, visit_id: str, item_id: str) -> list[dict[str, Any]]:
    """The other items of a visit, by what tells them apart, each with where it was moved to last and what it is in."""
    rows = tx.all(
        """
        SELECT item_id, short_description, tags, thumb_sha256, merged_into, state,
            (SELECT value ->> 'to_place' FROM field WHERE record_id = item_id AND name = 'whereabouts') AS place
        FROM entry WHERE visit_id = :visit_id AND item_id <> :item_id ORDER BY entry_seq
        """,
        visit_id=visit_id,
        item_id=item_id,
    )
    return [{**dict(row), "tags": json.loads(row["tags"])} for row in rows]
