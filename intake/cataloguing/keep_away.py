"""Where a thing is that nobody handles, for a desk, which has no copy of the day; the app's rule stands in
`web/job/custody.ts`, and `fixtures/keep-away.json` holds both to the same words."""

from __future__ import annotations

from typing import Any

from intake.cataloguing.entry import containers_round
from intake.cataloguing.pages import Asked, Search
from intake.custody.differences import table_name
from intake.custody.doubles import behind_what
from intake.custody.whereabouts import Things, place_words, places_of, thing_name
from intake.database import Reading
from intake.records.record import Record, record_on
from intake.records.same_thing import ids_of_thing
from intake.tagging.tags import shown

#: A place, what was noted of it, and the names of the containers that something is in, from inside out.
Spot = tuple[str, str, list[str]]


def keep_away_from(tags: list[str], ticket: str, table: str, spots: list[Spot]) -> str:
    """Its number, whose it is and where, for whoever has to keep away from it; no owner's name. `table` is what the
    table of its visit is called, `spots` are all the places at which something of it is."""
    words = [
        ", ".join(
            [
                (table or "at a table") if place == "table" and not inside else placed_words(place, at),
                *(f"in {name}" for name in inside),
            ]
        )
        for place, at, inside in spots
    ]
    more = f" and {len(tags) - 1} more" if tags[1:] else ""
    number = f"{shown(tags[0])}{more}, " if tags else ""
    return f"{number}{f'Ticket {ticket}' if ticket else 'No ticket'}, {'; and '.join(dict.fromkeys(words))}"


def placed_words(place: str, at: str) -> str:
    """A place with what was noted of it, once: "Van 1, first trip", and "Van, first trip"."""
    words, closely = place_words(place).capitalize(), at.strip()
    if closely.lower().startswith(words.lower()):
        return closely
    return f"{words}{f', {closely}' if closely else ''}"


ALONE = 5  # things that are named; there are hardly ever two


def left_alone(tx: Reading) -> list[dict[str, Any]]:
    """The things that nobody handles, and from where to keep away."""
    return [
        {
            "item_id": row["item_id"],
            "short_description": row["short_description"],
            **kept_away_from(tx, row),
        }
        for row in Search(tx, Asked(only=("alone",))).page(0, ALONE)
    ]


def kept_away_from(tx: Reading, row: dict[str, Any]) -> dict[str, Any]:
    """Of a row of the list the words, read off all records of the thing, and which these are beside its own: when one
    of them changes the words may be others."""
    thing = ids_of_thing(row["item_id"], behind_what(tx))
    around = [holder for record_id in thing for holder in containers_round(tx, record_id)]
    things = {
        record_id: record
        for record_id in (*thing, *around)
        if (record := record_on(tx, record_id)) is not None
    }
    item = things[row["item_id"]]
    item.others = lambda: [things[one] for one in thing[1:] if one in things]
    words = keep_away_from(
        row["tags"],
        row["ticket"],
        table_name(day, row["table_id"]) if (day := record_on(tx, item.day_id)) else "",
        spots_of(item, things),
    )
    return {"keep_away": words, "near": near_of(item, row["visit_id"], thing, around)}


def spots_of(item: Record, things: Things) -> list[Spot]:
    return [
        (where.place, where.at, [thing_name(outer) for outer in where.inside])
        for where in places_of(item, things)
    ]


def near_of(item: Record, visit_id: str, thing: list[str], around: list[str]) -> list[str]:
    """The app of before asks as one of these changes; that of now is told of the words by the news."""
    visits = [one.head["visit_id"] for one in item.others()]
    return list(dict.fromkeys([item.day_id, visit_id, *visits, *thing[1:], *around]))
