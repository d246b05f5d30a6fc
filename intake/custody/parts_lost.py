"""Which parts of a thing are lost to whoever describes it: on their way, never come, back with the owner, or missing.

A cataloguer may describe a thing whose parts are each accounted for, wherever in the house they lie. Source: common
practice. The app has the same rules in `web/job/parts_lost.ts`; `fixtures/parts-lost.json` holds both.
"""

from __future__ import annotations

from intake.custody.day_on_record import listed
from intake.custody.loads import COME
from intake.custody.whereabouts import Piece, Things, lies_words, pieces_of
from intake.custody.with_owner import is_later, one_thing
from intake.records.record import Record
from intake.tagging.tags import shown

#: Endings of a difference after which a part is there.
IS_THERE = ("found", "matched", "re-tagged", "moved", "corrected")


def lies_apart(pieces: list[Piece]) -> bool:
    """Whether they are in two places, or in two containers at one place."""
    return (
        len({(piece.where.place, *(one.record_id for one in piece.where.inside[:1])) for piece in pieces}) > 1
    )


def parts_lost(item: Record, things: Things, day: Record | None) -> list[str]:
    """Each in words, with its number, where it is by the ledger and why that is not enough: "000-03W, the lid, van (on
    its way)". `things` are the containers in which it or a part of it is, `day` the record of its day, on which it is
    noted what is missing. Of what is in one place, or in one piece, nothing is on its way by itself."""
    pieces = pieces_of(item, things)
    if len(pieces) < 2:
        return []
    has_come = any(piece.where.place in COME for piece in pieces)
    is_apart = lies_apart(pieces)
    found = []
    for piece in pieces:
        why = "noted as missing" if is_missing(item, piece, day) else ""
        if not why and is_apart:
            why = why_lost(piece.where.place, has_come=has_come)
        if why:
            found.append(f"{in_its_place(piece)} ({why})")
    return found


def why_lost(place: str, *, has_come: bool) -> str:
    """Why a part that is in one place and others in another is not accounted for; "" if it is."""
    if place == "returned":
        return "it went back"
    if place == "van":
        return "on its way"
    return "it has not come" if has_come and place in ("table", "bench") else ""


def in_its_place(piece: Piece) -> str:
    return f"{shown(piece.tag)}, {piece.words}, {lies_words(piece.where)}"


def is_missing(item: Record, piece: Piece, day: Record | None) -> bool:
    """Whether a difference names its number as that of a piece that is missing, and nobody has explained that, nor had
    it in hand since."""
    if day is None:
        return False
    ids = {one.record_id for one in (item, *item.others())}
    fields = one_thing(item).fields
    moves = [fields[name] for at in ("whereabouts", "inside") if (name := f"{at}/{piece.tag}") in fields]
    for difference_id, noted in listed(day, "differences/"):
        value = noted.value
        end = day.value(f"difference-ends/{difference_id}")
        is_open = not (end and end["ended"] in IS_THERE)
        is_of_it = value["difference"] == "piece-short" and value["thing_id"] in ids
        is_named = shown(piece.tag) in value["words"]
        if is_open and is_of_it and is_named and not any(is_later(move, noted) for move in moves):
            return True
    return False
