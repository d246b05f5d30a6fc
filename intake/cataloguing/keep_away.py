"""Where a thing is that nobody handles, for a desk, which has no copy of the day; the app's rule stands in
`web/job/custody.ts`, and `fixtures/keep-away.json` holds both to the same words."""

from __future__ import annotations

from typing import Any

from intake.cataloguing.entry import containers_round
from intake.custody.differences import table_name
from intake.custody.whereabouts import place_words, thing_name, where_is
from intake.database import Reading
from intake.records.record import record_on


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


def kept_away_from(tx: Reading, row: dict[str, Any]) -> dict[str, Any]:
    """Of a row of the list the words, read off the records, and which these are beside its own: when one of them
    changes the words may be others."""
    around = containers_round(tx, row["item_id"])
    things = {
        record_id: record
        for record_id in (row["item_id"], *around)
        if (record := record_on(tx, record_id)) is not None
    }
    item = things[row["item_id"]]
    where = where_is(item, things)
    moved = (where.inside or [item])[-1].value("whereabouts") or {}
    words = keep_away_from(
        row["ticket"],
        table_name(day, row["table_id"]) if (day := record_on(tx, item.day_id)) else "",
        where.place,
        moved.get("at") or "",
        [thing_name(outer) for outer in where.inside],
    )
    return {"keep_away": words, "near": [item.day_id, row["visit_id"], *around]}
