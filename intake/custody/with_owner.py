"""What of a thing is with its owner, piece by piece; the app has the same rules in `web/job/with_owner.ts`.

A number is used once: what comes again after it went back gets a fresh one, and that says that it is here, whatever the
last move before it was.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from intake.custody.set_apart import set_apart
from intake.operation import instant
from intake.records.record import Record
from intake.records.values import FieldValue

Numbers = dict[str, FieldValue]

#: How the names of the fields begin that may say of a thing, or a piece of it, that it went back.
SAYS_IT_WENT = ("tags/", "whereabouts", "moves/")


def one_thing(record: Record) -> Record:
    """A record as it is if it is the only one of its thing; else with the numbers, moves and whereabouts of the others
    on it. Pieces that two devices gave one place have each their own."""
    if record.others is _none_beside:
        return record
    others = record.others()
    joined = _joined(record, others) if others else record
    fields = set_apart(joined.fields, [one.fields for one in (record, *others)])
    if fields is not joined.fields:
        joined = _alone(joined)
        joined.fields = fields
    return joined


def _joined(record: Record, others: list[Record]) -> Record:
    records = [_alone(one) for one in (record, *others)]
    joined = _alone(record)
    joined.fields = fields = dict(record.fields)
    for other in records[1:]:
        for name, value in other.fields.items():
            is_said = name.startswith(("tags/", "moves/"))
            if is_said and (name not in fields or _weight(value) > _weight(fields[name])):
                fields[name] = value
    tied = [
        (on, tag, number)
        for on in records
        for tag, number in numbers_on(on).items()
        if not fields[f"tags/{tag}"].value["gone"]
    ]
    merged = [on.fields["merged"] for on in records if "merged" in on.fields]
    said = _latest_of([one for one in merged if one.value["into_id"]])
    for name in ("whereabouts", "inside"):
        _join(fields, name, records, tied, said)
    return joined


def _weight(number: FieldValue) -> int:
    """A number that two of them have is void if either says so, else it is on it."""
    gone = number.value.get("gone")
    return 2 if gone == "taken-back" else 0 if gone else 1


def _alone(record: Record) -> Record:
    """The same fields, and no others beside them."""
    alone = replace(record, others=_none_beside, _derived={})
    alone.fields = record.fields
    return alone


def _none_beside() -> list[Record]:
    """Of what was made one already: it is not looked through again, as if all its numbers were those of one record."""
    return []


Tied = tuple[Record, str, FieldValue]


def _join(
    fields: dict[str, FieldValue],
    name: str,
    records: list[Record],
    tied: list[Tied],
    said: FieldValue | None,
) -> None:
    """Where a thing, and each piece of it, is by all its records; `said` is when it was said that they are one."""

    def is_of_one_alone(on: Record, moved: FieldValue) -> bool:
        """Nobody had both in mind who noted, before it was known that they are one, that one of them went back."""
        return (
            is_return(moved)
            and not (said is not None and is_later(moved, said))
            and any(
                other is not on and not is_return(field_of_piece(other, name, tag)) for other, tag, _ in tied
            )
        )

    wholes = [
        (on, on.fields[name])
        for on in records
        if name in on.fields and not is_of_one_alone(on, on.fields[name])
    ]
    fields.pop(name, None)
    if (last := _latest_of([value for _, value in wholes])) is not None:
        fields[name] = last
    for on, tag, number in tied:
        mine = field_of_piece(on, name, tag)
        where = [value for other, value in wholes if other is not on]
        for other, its_tag, its in tied:
            moved = field_of_piece(other, name, its_tag)
            if other is on or _piece_of(its) != _piece_of(number) or moved is None:
                continue
            # What was tied after this one went back is on what came again without it.
            is_fresh = mine is not None and is_return(mine) and is_later(its, mine)
            if not is_fresh and not is_of_one_alone(other, moved):
                where.append(moved)
        where = [value for value in where if not (is_return(value) and is_later(number, value))]
        latest = _latest_of(where if mine is None else [mine, *where])
        if latest is not None:
            fields[f"{name}/{tag}"] = latest


def is_later(one: FieldValue, other: FieldValue) -> bool:
    """By the clocks as they were put right."""
    return instant(one.made_at) > instant(other.made_at)


def numbers_on(item: Record) -> Numbers:
    """All numbers that are or were on an item."""
    fields = one_thing(item).fields
    return {name.removeprefix("tags/"): fields[name] for name in fields if name.startswith("tags/")}


def piece_count(item: Record) -> int:
    """How many pieces an item has, by what its tags say, those that are gone too."""
    return max([1, *(number.value["of"] or 1 for number in numbers_on(item).values())])


def field_of_piece(thing: Record, name: str, tag: str | None) -> FieldValue | None:
    """A field of a piece: its own, else that of the whole, unless that was set before the piece came again."""
    thing = one_thing(thing)
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
    return any(is_later(tied, went) for went in _returns_of(thing, _numbers_of(thing, _piece_of(tied))))


def _is_on_what_is_here(item: Record, number: dict[str, Any]) -> bool:
    return not number["gone"] and not is_return(field_of_piece(item, "whereabouts", number["tag"]))


def is_return(move: FieldValue | None) -> bool:
    return move is not None and move.value.get("to_place") == "returned"


def _numbers_of(item: Record, piece: int) -> Numbers:
    """The numbers that are or were on a piece."""
    return {
        tag: number
        for tag, number in numbers_on(item).items()
        if _piece_of(number) == piece and number.value["gone"] != "on-another-item"
    }


def numbers_of_piece(item: Record, number: FieldValue) -> Numbers:
    """The numbers that are or were on the piece that this one is on."""
    return _numbers_of(item, _piece_of(number))


def _piece_of(number: FieldValue) -> int:
    """Which piece a number is on; the whole or its first where an old log does not say it."""
    return int(number.value["piece"] or 1)


def _moves_of_all(item: Record) -> list[FieldValue]:
    """The moves of the whole of a thing, and where it is by the last of them."""
    last = one_thing(item).fields.get("whereabouts")
    ledger = [move for _, move in _ledger(item) if not move.value.get("tag")]
    return ledger if last is None else [last, *ledger]


def _moves_of_piece(item: Record, numbers: Numbers) -> list[FieldValue]:
    """The moves of a piece by itself, under whichever of its numbers."""
    fields = one_thing(item).fields
    last = [fields[name] for tag in numbers if (name := f"whereabouts/{tag}") in fields]
    own = [move for move in last if move.value.get("tag", "") is not None]
    return own + [move for _, move in _ledger(item) if move.value.get("tag") in numbers]


def _ledger(item: Record) -> list[tuple[str, FieldValue]]:
    return [
        (name.removeprefix("moves/"), move)
        for name, move in one_thing(item).fields.items()
        if name.startswith("moves/")
    ]


def _returns_of(item: Record, numbers: Numbers) -> list[FieldValue]:
    """When a piece went back, with the whole or by itself."""
    moves = [*_moves_of_all(item), *_moves_of_piece(item, numbers)]
    void = [number for number in numbers.values() if number.value["gone"] == "taken-back"]
    return [move for move in moves if is_return(move)] + void


def _is_away(item: Record, piece: int) -> bool:
    """Whether a piece is with its owner. One that lost its number is here, as the house answers for it, until something
    says that it went."""
    numbers = _numbers_of(item, piece)
    if any(_is_on_what_is_here(item, number.value) for number in numbers.values()):
        return False
    last = _latest_of(_returns_of(item, numbers))
    if last is None:
        return False
    since = _moves_here(item, numbers)
    since += _lost_of(numbers).values()  # whoever noted after it that a number is lost had the piece at hand
    return not any(is_later(one, last) for one in since)


def _latest_of(said: list[FieldValue]) -> FieldValue | None:
    return max(said, key=lambda one: instant(one.made_at), default=None)


def _moves_here(item: Record, numbers: Numbers) -> list[FieldValue]:
    """The moves of a piece to wherever but its owner."""
    of_all = [move for move in _moves_of_all(item) if _brings_all(item, move)]
    return [move for move in [*of_all, *_moves_of_piece(item, numbers)] if not is_return(move)]


def _lost_of(numbers: Numbers) -> Numbers:
    return {tag: one for tag, one in numbers.items() if one.value["gone"] not in (None, "taken-back")}


def _brings_all(item: Record, move: FieldValue) -> bool:
    """Whether a move of the whole was of every piece: of some it is of those alone that are here, unless all came
    again."""
    return piece_count(item) == 1 or move.value["from_place"] == "returned"


def _pieces(item: Record) -> list[int]:
    here = [
        _piece_of(number) for number in numbers_on(item).values() if _is_on_what_is_here(item, number.value)
    ]
    return sorted({*range(1, piece_count(item) + 1), *here})


def _never_went(item: Record) -> bool:
    """Whether nothing says of any piece that it went back, so that none is away. So it is of nearly every thing,
    and is read off its fields once, where the pieces read them a dozen times."""
    went = (
        value.value["gone"] == "taken-back" if name.startswith("tags/") else is_return(value)
        for name, value in one_thing(item).fields.items()
        if name.startswith(SAYS_IT_WENT)
    )
    return not any(went)


def pieces_away(item: Record) -> list[int]:
    """Which pieces of an item are with its owner."""
    if _never_went(item):
        return []
    return [piece for piece in _pieces(item) if _is_away(item, piece)]


def last_return(item: Record) -> FieldValue | None:
    """What said last of the pieces that are with their owner that one of them went."""
    returns = [_returns_of(item, _numbers_of(item, piece)) for piece in pieces_away(item)]
    return _latest_of([one for some in returns for one in some])


def back_before(item: Record, said: FieldValue) -> int:
    """How many of the pieces that are with their owner went before something was said."""
    returns = [_latest_of(_returns_of(item, _numbers_of(item, piece))) for piece in pieces_away(item)]
    return sum(last is not None and not is_later(last, said) for last in returns)


def piece_of_side(item: Record, side: str) -> int:
    """Which piece of a pair is the left one, as the marks on its numbers tell them apart; 0 if they do not."""
    marked: dict[str, int] = {}
    for number in numbers_on(item).values():
        if found := re.search(r"\b(left|right)\b", (number.value.get("mark") or "").lower(), re.ASCII):
            marked.setdefault(found[0], number.value["piece"] or 1)
    other = marked.get("right" if side == "left" else "left")
    return marked.get(side) or (3 - other if other and piece_count(item) == 2 else 0)


def is_on_piece_away(item: Record, finding: dict[str, Any]) -> bool:
    """Whether a finding is on a piece that is with its owner while others are here, by its number or in its words."""
    piece, words = finding.get("piece") or "", words_in_line(finding.get("piece_words"))
    if not (piece or words) or is_back_with_owner(item):
        return False
    if not piece:
        return _are_away(item, words, finding.get("piece_count") or 1)
    number = (
        piece_of_side(item, piece) if piece in ("left", "right") else int(piece) if piece.isdecimal() else 0
    )
    return number in pieces_away(item)


def _are_away(item: Record, words: str, count: int) -> bool:
    """Whether as many pieces went as a fault is on, under the words that tell of them, and none of these words is here:
    of two ladles of which one went nobody knows which has it."""
    marks = {tag: words_in_line(number.value.get("mark")) for tag, number in numbers_on(item).items()}
    gone = sum(marks[tag] == words for tag in tags_back(item))
    listed = [line for line in item.values("listed/").values() if not line["withdrawn"]]
    of_line = sum(line["count"] for line in listed if words_in_line(line["words"]) == words)
    return count <= gone and of_line <= gone and all(marks[tag] != words for tag in tags_here(item))


def words_in_line(words: str | None) -> str:
    """Words of somebody as they stand in a part of a receipt's line, which ends at a semicolon."""
    return re.sub(r"[\s.,:]+\Z", "", (words or "").replace(";", ",")).strip()


def is_back_with_owner(item: Record) -> bool:
    """Whether all of it is with its owner, at once or piece by piece.

    There is this one answer for receipts, desk and lists: a piece that lost its number counts as here, since who says
    that it went home has to say so.
    """
    return not _never_went(item) and all(_is_away(item, piece) for piece in _pieces(item))


def tags_here(item: Record) -> list[str]:
    """The numbers on a record whose pieces are here."""
    return [tag for tag, number in numbers_on(item).items() if _is_on_what_is_here(item, number.value)]


def tags_back(item: Record) -> list[str]:
    """The numbers under which the pieces that are with their owner went."""
    found: list[str] = []
    for piece in pieces_away(item):
        numbers = _numbers_of(item, piece)
        void = [number for number in numbers.values() if number.value["gone"] == "taken-back"]
        went = [tag for tag, number in numbers.items() if number.value["gone"] in (None, "taken-back")]
        # What came again and lost its number then went under that, though it was off.
        lost = _lost_of(numbers)
        last = _latest_of(list(lost.values()))
        is_since = last is not None and all(is_later(last, one) for one in void)
        found += [tag for tag in lost if lost[tag] is last] if is_since and len(went) == len(void) else went
    return found


def came_again_since(item: Record, signed: list[str], is_since: Callable[[FieldValue], bool]) -> bool:
    """Whether a piece that is here went back after it was signed for under these numbers, if any; `is_since` says
    whether something was said after that.

    A number that is void went back after all that names it, and one that was tied after a return is on what had come
    again, whatever the clock of who signed says.
    """
    return any(
        _came_again_since(item, _numbers_of(item, piece), signed, is_since)
        for piece in _pieces(item)
        if not _is_away(item, piece)
    )


def _came_again_since(
    item: Record, numbers: Numbers, signed: list[str], is_since: Callable[[FieldValue], bool]
) -> bool:
    named = [number for tag, number in numbers.items() if tag in signed]
    returns = _returns_of(item, numbers)
    last = _latest_of(returns)
    if last is None or any(number.value["gone"] == "taken-back" for number in named):
        return last is not None
    if any(is_later(number, last) for number in named):
        return False
    if any(map(is_since, returns)):
        return True
    # It was away when the others were signed for, if nothing from before that says that it was here.
    here = [*_moves_here(item, numbers), *_lost_of(numbers).values()]
    is_known_here = any(is_later(said, last) and not is_since(said) for said in here)
    came = any(is_later(number, last) and is_since(number) for number in numbers.values())
    return came and not named and not is_known_here


def came_again_by(item: Record, tag: str) -> list[FieldValue]:
    """What says that the piece with a number came again after it went back: a move, or that a number was lost since."""
    item = one_thing(item)
    tied = item.fields.get(f"tags/{tag}")
    moves = sorted(_ledger(item), key=lambda move: (instant(move[1].made_at), move[0]))
    own = [move for _, move in moves if move.value.get("tag") in (None, "", tag)]
    went = next((at for at, move in enumerate(own) if is_return(move)), len(own))
    others = {
        other: value
        for other, value in _numbers_of(item, _piece_of(tied) if tied else 1).items()
        if other != tag
    }
    again = [move for move in own[went:] if not is_return(move)] + [*_lost_of(others).values()]
    if tied and tied.value["gone"] == "taken-back":  # once it is void it does not come again
        return [said for said in again if is_later(tied, said)]
    return again
