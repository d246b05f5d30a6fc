"""What of a thing is with its owner, piece by piece; the app has the same rules in `web/job/with_owner.ts`.

A number is used once: what comes again after it went back gets a fresh one, and that says that it is here, whatever the
last move before it was.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from intake.operation import instant
from intake.records.record import Record
from intake.records.values import FieldValue

Numbers = dict[str, FieldValue]


def is_later(one: FieldValue, other: FieldValue) -> bool:
    """By the clocks as they were put right."""
    return instant(one.made_at) > instant(other.made_at)


def numbers_on(item: Record) -> Numbers:
    """All numbers that are or were on an item."""
    return {name.removeprefix("tags/"): item.fields[name] for name in item.fields if name.startswith("tags/")}


def piece_count(item: Record) -> int:
    """How many pieces an item has, by what its tags say, those that are gone too."""
    return max([1, *(number.value["of"] or 1 for number in numbers_on(item).values())])


def field_of_piece(thing: Record, name: str, tag: str | None) -> FieldValue | None:
    """A field of a piece: its own, else that of the whole, unless that was set before the piece came again."""
    own = thing.fields.get(f"{name}/{tag}") if tag else None
    if own is not None:
        return own
    whole = thing.fields.get(name)
    return None if whole is None or (tag and _came_again_after(thing, tag, whole)) else whole


def _came_again_after(thing: Record, tag: str, whole: FieldValue) -> bool:
    """Whether a number is on what went back and came again after something befell the whole."""
    tied = thing.fields.get(f"tags/{tag}")
    if tied is None or tied.value["gone"] or not is_later(tied, whole):
        return False
    return any(is_later(tied, went) for went in _returns_of(thing, _numbers_of(thing, tied.value["piece"])))


def _is_on_what_is_here(item: Record, number: dict[str, Any]) -> bool:
    return not number["gone"] and not _is_return(field_of_piece(item, "whereabouts", number["tag"]))


def _is_return(move: FieldValue | None) -> bool:
    return move is not None and move.value["to_place"] == "returned"


def _numbers_of(item: Record, piece: int) -> Numbers:
    """The numbers that are or were on a piece."""
    return {
        tag: number
        for tag, number in numbers_on(item).items()
        if number.value["piece"] == piece and number.value["gone"] != "on-another-item"
    }


def _moves_of_all(item: Record) -> list[FieldValue]:
    """The moves of the whole of a thing, and where it is by the last of them."""
    last = item.fields.get("whereabouts")
    ledger = [move for _, move in _ledger(item) if not move.value.get("tag")]
    return ledger if last is None else [last, *ledger]


def _moves_of_piece(item: Record, numbers: Numbers) -> list[FieldValue]:
    """The moves of a piece by itself, under whichever of its numbers."""
    last = [item.fields[name] for tag in numbers if (name := f"whereabouts/{tag}") in item.fields]
    own = [move for move in last if move.value.get("tag", "") is not None]
    return own + [move for _, move in _ledger(item) if move.value.get("tag") in numbers]


def _ledger(item: Record) -> list[tuple[str, FieldValue]]:
    return [
        (name.removeprefix("moves/"), move) for name, move in item.fields.items() if name.startswith("moves/")
    ]


def _returns_of(item: Record, numbers: Numbers) -> list[FieldValue]:
    """When a piece went back, with the whole or by itself."""
    moves = [*_moves_of_all(item), *_moves_of_piece(item, numbers)]
    void = [number for number in numbers.values() if number.value["gone"] == "taken-back"]
    return [move for move in moves if _is_return(move)] + void


def _is_away(item: Record, piece: int) -> bool:
    """Whether a piece is with its owner. One that lost its number is here, as the house answers for it, until something
    says that it went."""
    numbers = _numbers_of(item, piece)
    if any(_is_on_what_is_here(item, number.value) for number in numbers.values()):
        return False
    went = _returns_of(item, numbers)
    if not went:
        return False
    last = max(went, key=lambda one: instant(one.made_at))
    moves = [move for move in _moves_of_all(item) if _brings_all(item, last, move)]
    since = [move for move in [*moves, *_moves_of_piece(item, numbers)] if not _is_return(move)]
    gone = {tag: number.value["gone"] for tag, number in numbers.items()}
    # A number that was lost after another had gone back was tied to what had come again.
    if any(why in (None, "taken-back") for why in gone.values()):
        since += [numbers[tag] for tag, why in gone.items() if why and why != "taken-back"]
    return not any(is_later(one, last) for one in since)


def _brings_all(item: Record, went: FieldValue, move: FieldValue) -> bool:
    """Whether a move was of every piece: of some it is only of what had come again under a number before it."""
    if piece_count(item) == 1:
        return True
    came_before = any(
        is_later(number, went) and (number.value["gone"] or not is_later(number, move))
        for number in numbers_on(item).values()
    )
    return any(map(_is_return, _moves_of_all(item))) and not came_before


def _pieces(item: Record) -> list[int]:
    here = [
        number.value["piece"]
        for number in numbers_on(item).values()
        if _is_on_what_is_here(item, number.value)
    ]
    return sorted({*range(1, piece_count(item) + 1), *here})


def pieces_away(item: Record) -> list[int]:
    """Which pieces of an item are with its owner."""
    return [piece for piece in _pieces(item) if _is_away(item, piece)]


def is_back_with_owner(item: Record) -> bool:
    """Whether all of it is with its owner, at once or piece by piece.

    There is this one answer for receipts, desk and lists: a piece that lost its number counts as here, since who says
    that it went home has to say so.
    """
    return all(_is_away(item, piece) for piece in _pieces(item))


def tags_here(item: Record) -> list[str]:
    """The numbers on a record whose pieces are here."""
    return [tag for tag, number in numbers_on(item).items() if _is_on_what_is_here(item, number.value)]


def tags_back(item: Record) -> list[str]:
    """The numbers under which the pieces that are with their owner went."""
    found: list[str] = []
    for piece in pieces_away(item):
        numbers = _numbers_of(item, piece)
        went = [tag for tag, number in numbers.items() if number.value["gone"] in (None, "taken-back")]
        found += went or numbers
    return found


def went_tags(item: Record, is_since: Callable[[FieldValue], bool]) -> list[str]:
    """The numbers of pieces that went back, of those moves alone of which `is_since` is true.

    A number that was tied after a move was on what had come again; one that is void went back after all that names it.
    """
    returns = [move for _, move in _ledger(item) if _is_return(move)]
    return [tag for tag, number in numbers_on(item).items() if _went(tag, number, returns, is_since)]


def _went(
    tag: str, number: FieldValue, returns: Iterable[FieldValue], is_since: Callable[[FieldValue], bool]
) -> bool:
    gone = number.value["gone"]
    if gone in ("taken-back", "on-another-item"):
        return bool(gone == "taken-back")
    return any(
        move.value.get("tag") in (None, "", tag) and not is_later(number, move) and is_since(move)
        for move in returns
    )
