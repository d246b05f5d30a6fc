"""The order of moves, and where pieces are of which some went home."""

from __future__ import annotations

from typing import get_args

import pytest

from intake.custody.moves import Place, in_order
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
