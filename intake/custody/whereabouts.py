"""Who has what, and where, read off the records of a day; the app has the same rules in `web/job/custody.ts`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import chain
from typing import Any

from intake.custody.containers import container_of
from intake.custody.day_on_record import DayOnRecord, values_of
from intake.custody.number_parts import part_words
from intake.custody.with_owner import (
    field_of_piece,
    is_back_with_owner,
    is_return,
    one_thing,
    piece_count,
)
from intake.records.record import Record
from intake.tagging.tags import shown

Things = Mapping[str, Record]

#: Where things can be. Source: the trade's usual chain of custody, common practice.
PLACES = {
    "table": "table",
    "bench": "bench",
    "holding": "holding area",
    "van": "van",
    "store": "store",
    "shelf": "shelf",
    "isolation": "isolation",
    "returned": "back with the owner",
}


def place_words(place: str | None) -> str:
    return PLACES.get(place or "", "not moved yet")


def to_words(place: str, at: str) -> str:
    """Where something goes, once: "to van 1, first trip", and "to van, first trip"."""
    words, closely = place_words(place), at.strip()
    if closely.lower().startswith(words):
        return f"to {closely}"
    return f"to {words}{f', {closely}' if closely else ''}"


@dataclass(frozen=True)
class Where:
    """Where something is, and what was noted of that place; `inside` from the innermost container out."""

    place: str
    at: str
    inside: list[Record]


@dataclass(frozen=True)
class Piece:
    """A piece of an item that has a tag of its own; `of` how many there are."""

    tag: str
    piece: int
    of: int
    where: Where
    words: str  # what its number is on, in words


def where_is(thing: Record, things: Things, tag: str | None = None) -> Where:
    """Where a thing, or the piece of it that has a tag, is: its own last move, or that of what it is inside."""
    moved = field_of_piece(thing, "whereabouts", tag)
    own = moved and moved.value
    inside: list[Record] = []
    if own and own["to_place"] == "returned":
        if tag or is_back_with_owner(thing):
            return Where("returned", own["at"] or "", inside)  # out of whatever it was in
        own = None  # some of it came again, and is at the table if nothing else is said of it
    outer = things.get(container_of(thing, tag) or "")
    while outer is not None and outer not in inside:
        inside.append(outer)
        outer = things.get(container_of(outer) or "")
    move = inside[-1].value("whereabouts") if inside else own
    move = move or {}
    return Where(move.get("to_place") or "table", move.get("at") or "", inside)


def lies_words(where: Where) -> str:
    """Where something lies among other things of the house, as a part of a sentence: "in crate 7K3-QW5, store, bay
    3"."""
    placed = to_words(where.place, where.at).removeprefix("to ")
    return ", ".join([*(f"in {thing_name(outer)}" for outer in where.inside), placed])


def tags_of(thing: Record) -> list[str]:
    """The numbers that are on it: those that fell off or were voided are not."""
    return [tag["tag"] for tag in values_of(one_thing(thing), "tags/") if not tag["gone"]]


def pieces_of(item: Record, things: Things) -> list[Piece]:
    """The pieces of an item that have a tag each."""
    tied = sorted(
        (tag for tag in values_of(one_thing(item), "tags/") if not tag["gone"]), key=lambda tag: tag["piece"]
    )
    if item.others():  # each record has a number for the same piece
        first: dict[int, dict[str, Any]] = {}
        for tag in tied:
            if not is_return(field_of_piece(item, "whereabouts", tag["tag"])):
                first.setdefault(tag["piece"], tag)
        tied = [tag for tag in tied if first.get(tag["piece"], tag) is tag]
    return [
        Piece(
            tag["tag"],
            tag["piece"],
            tag["of"] or 1,
            where_is(item, things, tag["tag"]),
            part_words(item, tag),
        )
        for tag in tied
    ]


def places_of(item: Record, things: Things) -> list[Where]:
    """Wherever something of a thing is, by all of its records: its pieces, and the whole where one of them has no
    number."""
    places = [piece.where for piece in pieces_of(item, things)]
    return [*places, where_is(item, things)] if len(places) < piece_count(item) else places


def is_with_owner(item: Record, things: Things) -> bool:
    """Whether all of a thing is with its owner, also inside a container that went there."""
    return is_back_with_owner(item) or where_is(item, things).place == "returned"


def thing_name(thing: Record) -> str:
    if thing.kind == "container":
        return f"{thing.head['kind_of']} {shown(thing.head['number'])}"
    return thing.value("short_description") or "an item not named yet"


def thing_with(tag: str, day: DayOnRecord) -> Record | None:
    """A number's item or container."""
    had = [day.things[item_id] for item_id in day.with_number.get(tag, ())]
    has = [item for item in had if not item.value(f"tags/{tag}")["gone"]]
    are = (day.things[container_id] for container_id in day.once(containers_by_number).get(tag, ()))
    return next(chain(has, had, are), None)


def containers_by_number(day: DayOnRecord) -> dict[str, list[str]]:
    """The ids of the containers that have each number, the oldest first."""
    found: dict[str, list[str]] = {}
    for container in day.containers:
        found.setdefault(container.head["number"], []).append(container.record_id)
    return found
