"""Who has what, and where, read off the records of a day; the app has the same rules in `web/job/custody.ts`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from intake.custody.containers import container_of, set_of_piece
from intake.custody.day_on_record import DayOnRecord, values_of
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
    """Where something is; `inside` from the innermost container out."""

    place: str
    inside: list[Record]


@dataclass(frozen=True)
class Piece:
    """A piece of an item that has a tag of its own; `of` how many there are."""

    tag: str
    piece: int
    of: int
    where: Where


def where_is(thing: Record, things: Things, tag: str | None = None) -> Where:
    """Where a thing, or the piece of it that has a tag, is: its own last move, or that of what it is inside."""
    moved = set_of_piece(thing, "whereabouts", tag)
    own = moved and moved.value
    inside: list[Record] = []
    if own and own["to_place"] == "returned":
        return Where("returned", inside)  # out of whatever it was in
    outer = things.get(container_of(thing, tag) or "")
    while outer is not None and outer not in inside:
        inside.append(outer)
        outer = things.get(container_of(outer) or "")
    move = inside[-1].value("whereabouts") if inside else own
    return Where((move and move["to_place"]) or "table", inside)


def tags_of(thing: Record) -> list[str]:
    """The numbers that are on it: those that fell off or were voided are not."""
    return [tag["tag"] for tag in values_of(thing, "tags/") if not tag["gone"]]


def pieces_of(item: Record, things: Things) -> list[Piece]:
    """The pieces of an item that have a tag each."""
    tied = sorted((tag for tag in values_of(item, "tags/") if not tag["gone"]), key=lambda tag: tag["piece"])
    return [
        Piece(tag["tag"], tag["piece"], tag["of"] or 1, where_is(item, things, tag["tag"])) for tag in tied
    ]


def is_returned(item: Record) -> bool:
    """Whether all of it went back to its owner."""
    return (item.value("whereabouts") or {}).get("to_place") == "returned"


def is_back_with_owner(item: Record) -> bool:
    """Whether all of it went back to its owner, at once or piece by piece."""
    tags = tags_of(item)
    if not tags:
        return is_returned(item)
    moves = [item.value(f"whereabouts/{tag}") or item.value("whereabouts") for tag in tags]
    return all(move and move["to_place"] == "returned" for move in moves)


def piece_count(item: Record) -> int:
    """How many pieces an item has, by what its tags say, those that are gone too."""
    return max([1, *(tag["of"] or 1 for tag in values_of(item, "tags/"))])


def pieces_back(item: Record) -> list[str]:
    """The numbers of pieces that went back to their owner while the rest stayed; none once all of it went back.

    A piece that came again has another number by then, and is here.
    """
    if is_returned(item):
        return []
    tags = list(values_of(item, "tags/"))
    gone_home = [tag["tag"] for tag in tags if _went_back(item, tag)]
    here = {tag["piece"] for tag in tags if not tag["gone"] and tag["tag"] not in gone_home}
    return [tag["tag"] for tag in tags if tag["tag"] in gone_home and tag["piece"] not in here]


def _went_back(item: Record, tag: dict[str, Any]) -> bool:
    if tag["gone"]:
        return bool(tag["gone"] == "taken-back")
    return bool((item.value(f"whereabouts/{tag['tag']}") or {}).get("to_place") == "returned")


def thing_name(thing: Record) -> str:
    if thing.kind == "container":
        return f"{thing.head['kind_of']} {shown(thing.head['number'])}"
    return thing.value("short_description") or "an item not named yet"


def thing_with(tag: str, day: DayOnRecord) -> Record | None:
    """A number's item or container."""
    had = [item for item in day.items if f"tags/{tag}" in item.fields]
    has = [item for item in had if not item.value(f"tags/{tag}")["gone"]]
    are = [container for container in day.containers if container.head["number"] == tag]
    return next(iter([*has, *had, *are]), None)
