"""Where a thing is that nobody handles, for a desk, which has no copy of the day; the app's rule stands in
`web/job/custody.ts`, and `fixtures/keep-away.json` holds both to the same words."""

from __future__ import annotations

import json
from typing import Any

from intake.cataloguing.entry import containers_round
from intake.custody.differences import table_name
from intake.custody.whereabouts import place_words, thing_name, where_is
from intake.database import Reading
from intake.records.record import Record


def keep_away_from(ticket: str, table: str, place: str, at: str, inside: list[str]) -> str:
    """Whose it is and where, for whoever has to keep away from it; no owner's name. `inside` are the names of the
    containers that it is in, from inside out, and `table` what the table of its visit is called."""
    spot = table or "at a table" if place == "table" and not inside else placed_words(place, at)
    return ", ".join(
        [f"Ticket {ticket}" if ticket else "No ticket", spot, *(f"in {name}" for name in inside)]
    )


def placed_words(place: str, at: str) -> str:
    """A place with what was noted of it, once: "Van 1, first trip", and "Van, first trip"."""
    words, closely = place_words(place).capitalize(), at.strip()
    if closely.lower().startswith(words.lower()):
        return closely
    return f"{words}{f', {closely}' if closely else ''}"


def near_of(tx: Reading, row: dict[str, Any]) -> list[str]:
    """The records beside its own that these words of a row are read off: when one changes they may be others."""
    item = _record(tx, row["item_id"])
    return [*([item.day_id] if item else []), row["visit_id"], *containers_round(tx, row["item_id"])]


def keep_away_words(tx: Reading, row: dict[str, Any]) -> str:
    """Of a row of the list, read off the records."""
    near = [row["item_id"], *containers_round(tx, row["item_id"])]
    things = {record.record_id: record for record_id in near if (record := _record(tx, record_id))}
    item = things[row["item_id"]]
    where = where_is(item, things)
    moved = (where.inside or [item])[-1].value("whereabouts") or {}
    return keep_away_from(
        row["ticket"],
        table_name(day, row["table_id"]) if (day := _record(tx, item.day_id)) else "",
        where.place,
        moved.get("at") or "",
        [thing_name(outer) for outer in where.inside],
    )


def _record(tx: Reading, record_id: str) -> Record | None:
    row = tx.one(
        "SELECT kind, day_id, opened_seq, head FROM record WHERE record_id = :record_id", record_id=record_id
    )
    if row is None:
        return None
    kind, day_id, opened_seq, head = row
    return Record(tx, record_id, kind, day_id, opened_seq, json.loads(head))
