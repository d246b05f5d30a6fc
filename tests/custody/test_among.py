"""What is held apart lies by itself: the office and the device say alike what may lie among what."""

from __future__ import annotations

import json
from itertools import islice
from pathlib import Path
from typing import Any

import pytest

from intake.tagging.tags import codes, shown
from tests.builders import (
    a_caution,
    a_crate,
    a_day,
    a_decision,
    a_fact,
    a_move,
    a_tie,
    a_visit,
    an_item,
    put_in,
)
from tests.door import CAUTIONS, Door

CASES = json.loads((Path(__file__).parents[2] / "fixtures" / "among.json").read_text("utf-8"))["cases"]
#: A hazard that holds a thing apart.
HAZARD = next(row.hazard for row in CAUTIONS.cautions if row.level == "amber" and not row.goes_home)


class Hall:
    """A day with the things of a case, and what is done with them, by their names."""

    def __init__(self, door: Door) -> None:
        self.door = door
        self.numbers = codes(9800)
        self.ids: dict[str, str] = {}
        self.crate_numbers: dict[str, str] = {}
        self.cautions: dict[str, str] = {}
        self.pieces: dict[tuple[str, int], str] = {}

    async def open(self, items: list[str], crates: list[str]) -> None:
        day = await self.door.keep(a_day(self.door.ids))
        visit = await self.door.keep(a_visit(self.door.ids, day["day_id"]))
        for name in items:
            self.ids[name] = (await self.door.keep(an_item(self.door.ids, visit)))["item_id"]
            await self.door.keep(a_fact(self.ids[name], "short_description", name))
        for name in crates:
            number = self.crate_numbers[name] = next(islice(self.numbers, 1))
            made = await self.door.keep(a_crate(self.door.ids, day["day_id"], number))
            self.ids[name] = made["container_id"]

    async def seen(self, name: str, field: str) -> str | None:
        known = (await self.door.record(self.ids[name]))["fields"].get(field)
        return known["operation_id"] if known else None

    async def put(self, name: str, into: str | None, piece: int | None = None) -> tuple[str, dict[str, Any]]:
        tag = self.pieces[name, piece] if piece else None
        seen = await self.seen(name, f"inside/{tag}" if tag else "inside")
        kind, made = put_in(self.ids[name], self.ids[into] if into else None, seen=seen)
        return kind, {**made, "tag": tag}

    async def do(self, what: str, name: str, *more: Any) -> None:
        thing_id = self.ids[name]
        match what:
            case "put":
                made = await self.put(name, *more)
            case "move":
                made = a_move(self.door.ids, thing_id, *more)
            case "apart":
                made = a_caution(self.door.ids, thing_id, level="amber", hazard=HAZARD)
                self.cautions[name] = made[1]["caution_id"]
            case "clear":
                made = a_decision(thing_id, self.cautions[name], "cleared", cleared_for="handling")
            case "tie":
                [piece] = more
                tag = self.pieces[name, piece] = next(self.numbers)
                made = a_tie(thing_id, tag, piece=piece)
                made = made[0], {**made[1], "of": 2}
            case "behind":
                [into] = more
                merged = {"item_id": thing_id, "into_id": self.ids[into], "why": "", "seen": None}
                made = "merge_item", merged
            case _:
                raise AssertionError(f"a case does {what}, which no test knows")
        await self.door.keep(made)


@pytest.mark.parametrize("case", CASES, ids=lambda case: str(case["says"]))
async def test_office_and_device_say_alike_what_may_lie_among_what(door: Door, case: dict[str, Any]) -> None:
    """The app's test reads the same cases (`tests/web/among.test.js`)."""
    hall = Hall(door)
    await hall.open(case["items"], case["crates"])
    for step in case["done"]:
        await hall.do(*step)
    [answer] = await door.send(door.make(await hall.put(*case["put"])))
    problem, held = answer["problem"], case["held"]
    if held is None:
        assert (answer["outcome"], problem) == ("kept", None)
        return
    assert problem["code"] == "not_among_others"
    assert f"“{held['name']}”" in problem["detail"]
    assert problem["detail"].startswith("In the container") is held["is_in_it"]
    outermost = "crate" if ["put", "box", "crate"] in case["done"] else case["put"][1]
    assert shown(hall.crate_numbers[outermost]) in problem["detail"], "the one that has to be opened"


async def test_a_piece_is_not_taken_from_beside_what_is_stopped_though_the_rest_of_its_thing_lies_elsewhere(
    door: Door,
) -> None:
    """Whoever takes it out opens the crate of the stopped one; the other piece is in nobody's way."""
    hall = Hall(door)
    await hall.open(["pair", "stopped"], ["crate", "box"])
    for step in (
        ("tie", "pair", 1),
        ("tie", "pair", 2),
        ("put", "pair", "crate", 1),
        ("put", "pair", "box", 2),
    ):
        await hall.do(*step)
    await hall.do("put", "stopped", "crate")
    await door.keep(a_caution(door.ids, hall.ids["stopped"], seen=None))
    assert await door.refused(await hall.put("pair", None, 1)) == "item_stopped"
    await door.keep(await hall.put("pair", None, 2))
