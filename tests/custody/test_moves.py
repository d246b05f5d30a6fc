"""The order of moves, and where pieces are of which some went home."""

from __future__ import annotations

from typing import get_args

import pytest

from intake.custody.moves import CountLoad, Place, RecordMove, in_order
from intake.operation import Operation
from intake.records.values import FieldValue, Source
from tests.builders import a_move
from tests.cataloguing.test_queue import PIECES, of_two_pieces
from tests.door import Door


@pytest.mark.parametrize("from_place", [None, *get_args(Place)])
async def test_a_piece_that_went_home_comes_along_only_from_there(door: Door, from_place: str | None) -> None:
    """Whoever moves the rest from anywhere else has not got it in hand."""
    item_id = await of_two_pieces(door)
    await door.keep(a_move(door.ids, item_id, "returned", tag=PIECES[0]))
    await door.keep(a_move(door.ids, item_id, "holding", from_place=from_place))
    piece = await door.value(item_id, f"whereabouts/{PIECES[0]}")
    assert piece["to_place"] == ("holding" if from_place == "returned" else "returned")
    assert (await door.value(item_id, "whereabouts"))["to_place"] == "holding"


def moved(to_place: str, made_at: str) -> FieldValue:
    return FieldValue.of({"to_place": to_place}, Source(to_place, "hester", made_at, "a phone", 1, 1))


def test_of_two_moves_of_one_moment_every_device_takes_the_same_for_the_last() -> None:
    """By the clocks, and by the moves' ids where those say the same, whichever was heard of first."""
    early, late = "2026-03-14T09:00:00.000Z", "2026-03-14T09:00:00.001Z"
    moves = [("b", moved("van", early)), ("a", moved("store", late)), ("c", moved("bench", early))]
    for heard in (moves, moves[::-1]):
        assert [move_id for move_id, _ in in_order(heard)] == ["b", "c", "a"]


LOAD = {"to_place": "van", "at": "", "crates": 0, "pieces": 1, "scanned_crates": 0, "scanned_pieces": 1}


@pytest.mark.parametrize("name", [" ", "-", " / "])
@pytest.mark.parametrize("member", ["given_by", "taken_by"])
@pytest.mark.parametrize("of", [RecordMove, CountLoad])
async def test_who_gave_and_who_took_have_names(
    door: Door, of: type[Operation], member: str, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One that is no name is refused where it is new; what stands from before is sent again, and made anew."""
    item = await door.item()
    people = {"given_by": "Ana", "taken_by": "N. 7", member: name}
    made = {
        RecordMove: a_move(door.ids, item["item_id"], "holding", **people),
        CountLoad: ("count_load", {"day_id": item["day_id"], "load_id": door.ids.id(), **LOAD, **people}),
    }[of]
    assert await door.refused(made) == "unreadable"
    sent = door.make(made)
    with monkeypatch.context() as before:
        before.setattr(of, "odd_form", lambda sent: "")
        answers = await door.send(sent)
    assert [answer["outcome"] for answer in answers] == ["kept"]
    assert await door.send(sent) == answers
    assert (await door.rebuild()).left_out == []
    assert await door.faults() == []
    kind, body = made
    for thing in ("move_id", "load_id"):
        if thing in body:
            body[thing] = door.ids.id()
    await door.keep((kind, {**body, member: "Ð"}))
