"""Whatever is tied, moved, taken back, brought again and signed for: receipts, lists, sums and closing say one thing.

Beside the office's word and the app's stands a plain note of what was done (`back_and_again.py`), so that the two
cannot be wrong together.
"""

from __future__ import annotations

import json
import random
from dataclasses import dataclass
from datetime import UTC
from functools import partial
from itertools import islice
from pathlib import Path
from typing import Any

import pytest

from intake.cataloguing.pages import Asked, Search
from intake.custody.day_on_record import day_on_record
from intake.custody.differences import Closing
from intake.database import Reading
from intake.tagging.tags import codes
from tests.app_rules import said_by_app
from tests.builders import Ids, a_day, a_fact, a_visit, an_item
from tests.conftest import in_own_loop
from tests.custody.back_and_again import Played
from tests.custody.receipts_said import said_by_office
from tests.door import Door, at_the_door
from tests.samples import seeds

ROOT = Path(__file__).parents[2]
SEEDS, STEPS = seeds(8, of=3), 40


def as_told(tx: Reading, day_id: str) -> tuple[dict[str, Any], dict[str, Any]]:
    """The day as a device gets it, and what the office says of it."""
    rows = tx.all(
        "SELECT body FROM record WHERE day_id = :day_id ORDER BY head ->> 'opened_at', record_id",
        day_id=day_id,
    )
    day = day_on_record(tx, day_id)
    closing = [list(found) for found in Closing(day, lambda _: None, {}, UTC).differences()]
    listed, otherwise = (
        sorted(row["item_id"] for row in Search(tx, Asked(only=(kind,))).page(0, 50))
        for kind in ("unsigned", "otherwise")
    )
    office = {**said_by_office(day), "closing": closing, "listed": listed, "otherwise": otherwise}
    return {"records": [json.loads(row["body"]) for row in rows], "plans": {}, "rows": {}}, office


def as_noted(played: Played) -> dict[str, Any]:
    return {
        "items": {
            thing.item_id: (
                [at for at, piece in enumerate(thing.pieces, 1) if piece.is_home]
                if thing.had_number
                else None,
                sorted(thing.numbers_here),
                thing.is_home,
            )
            for thing in played.things
        },
        "unsigned": sorted(
            thing.item_id for thing in played.things if thing.numbers_here and not thing.is_covered
        ),
        "owed": sorted(thing.item_id for thing in played.things if thing.owes and thing.had_number),
        "here": sorted(thing.item_id for thing in played.things if not thing.is_home),
    }


def said_here(days: list[dict[str, Any]], file: Path) -> list[dict[str, Any]]:
    """What a device says of each of these days."""
    said: list[dict[str, Any]] = said_by_app("back_here.js", days, file)
    return said


@dataclass
class Walk:
    """What was done one after the other, and after each of it the day, the office's word and the plain note."""

    things: int
    done: list[str]
    days: list[dict[str, Any]]
    office: list[dict[str, Any]]
    noted: list[dict[str, Any]]


#: Of each seed the walk, and what a device says of each of its days.
Walks = dict[int, tuple[Walk, list[dict[str, Any]]]]


async def walk(folder: Path, seed: int) -> Walk:
    async with at_the_door(folder, Ids(seed)) as door:
        played = Played(door, random.Random(seed))
        await played.begin()
        made = Walk(len(played.things), [], [], [], [])
        for _ in range(STEPS):
            made.done.append(await played.step())
            day, office = await door.database.read(lambda tx: as_told(tx, played.day_id))
            made.days.append(day)
            made.office.append(office)
            made.noted.append(as_noted(played))
    return made


@pytest.fixture(scope="module")
def walks(tmp_path_factory: pytest.TempPathFactory) -> Walks:
    """Every walk with what a device says of each of its days, which one process is asked for."""
    folder = tmp_path_factory.mktemp("walks")
    made = {seed: in_own_loop(partial(walk, folder / str(seed), seed)) for seed in SEEDS}
    said = iter(said_here([day for one in made.values() for day in one.days], folder / "days"))
    return {seed: (one, list(islice(said, STEPS))) for seed, one in made.items()}


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_here_is_one_answer(walks: Walks, seed: int) -> None:
    made, said = walks[seed]
    for at, (here, office, note) in enumerate(zip(said, made.office, made.noted, strict=True)):
        so_far = "; ".join(made.done[: at + 1])
        for name, value in office.items():
            assert here[name] == value, (name, so_far)
        for item_id, (away, numbers, is_home) in note["items"].items():
            item = office["items"][item_id]
            assert (sorted(item["here"]), item["back"]) == (numbers, is_home), (item_id, so_far)
            assert away is None or item["away"] == away, (item_id, so_far)
        assert (office["unsigned"], office["owed"]) == (note["unsigned"], note["owed"]), so_far
        assert office["listed"] == sorted([*note["unsigned"], *note["owed"]]), so_far
        assert office["otherwise"] == sorted({item_id for item_id, _ in office["changed"]}), so_far
        assert here["somewhere"] == note["here"], so_far
        count = len(note["here"])
        assert (here["sum"]["here"], here["sum"]["back"]) == (count, made.things - count), so_far
        named = {(kind, address.removeprefix("#/item/")) for kind, _, address, *_ in office["closing"]}
        assert {item_id for kind, item_id in named if kind == "unsigned"} == set(note["owed"]), so_far
        is_named = any(kind == "receipt-changed" for kind, _ in named)
        assert is_named == bool(office["changed"]), so_far


async def test_two_devices_that_give_one_of_a_set_back_at_once_give_two(tmp_path: Path) -> None:
    """Neither had heard of the other, so that both numbers have one place; the house answers for what is left, also
    while only one of them went."""
    numbers = codes(7000)
    one, first, second, again = (next(numbers) for _ in range(4))
    async with at_the_door(tmp_path / "office", Ids(1)) as door:
        day = await door.keep(a_day(door.ids))
        visit = await door.keep(a_visit(door.ids, day["day_id"]))
        item_id = (await door.keep(an_item(door.ids, visit)))["item_id"]
        other = door.other()

        async def tie(by: Door, tag: str, piece: int, of: int) -> None:
            await by.keep(("tie_tag", {"item_id": item_id, "tag": tag, "piece": piece, "of": of, "mark": ""}))

        async def take_back(by: Door, tag: str) -> None:
            void = {"item_id": item_id, "tag": tag, "why": "taken-back", "replaced_by": None}
            await by.keep(("remove_tag", void))

        await tie(door, one, 1, 1)
        await door.keep(("count_pieces", {"item_id": item_id, "pieces": 6, "seen": None}))
        for by, tag in ((door, first), (other, second)):
            await tie(by, tag, 2, 2)
        await take_back(door, first)
        gone = await door.database.read(lambda tx: as_told(tx, day["day_id"]))
        await take_back(other, second)
        two = await door.database.read(lambda tx: as_told(tx, day["day_id"]))
        # One of them comes again, is at the table, and goes once more, from the other device.
        await tie(other, again, 2, 3)
        came = {**a_move_of(item_id), "move_id": door.ids.id(), "tag": again}
        await other.keep(("record_move", came))
        await take_back(door, again)
        last = await door.database.read(lambda tx: as_told(tx, day["day_id"]))
    here = said_here([gone[0], two[0], last[0]], tmp_path / "days")
    for said, (_, office), away in zip(here, (gone, two, last), ([2], [2, 3], [2, 3]), strict=True):
        assert {name: said[name] for name in office} == office
        told = office["items"][item_id]
        assert (told["away"], told["back"]) == (away, False)
        assert f"; {6 - len(away)} of 6 pieces here, {len(away)} back with the owner" in told["line"]


async def test_a_count_by_whoever_had_not_heard_that_one_went_is_asked_again(tmp_path: Path) -> None:
    """They counted what lay before them, and the count on record is of all of them. What was counted by an app that did
    not say what it knew, before one went, or in the knowledge of it, is not asked again."""
    numbers = codes(7100)
    one, first = next(numbers), next(numbers)
    async with at_the_door(tmp_path / "office", Ids(1)) as door:
        day = await door.keep(a_day(door.ids))
        visit = await door.keep(a_visit(door.ids, day["day_id"]))
        item_id = (await door.keep(an_item(door.ids, visit)))["item_id"]
        other = door.other()
        told: list[tuple[dict[str, Any], dict[str, Any]]] = []

        async def count(by: Door, pieces: int, **knew: int) -> None:
            seen = (await door.record(item_id))["fields"].get("pieces", {}).get("operation_id")
            await by.keep(("count_pieces", {"item_id": item_id, "pieces": pieces, "seen": seen, **knew}))
            told.append(await door.database.read(lambda tx: as_told(tx, day["day_id"])))

        await door.keep(("tie_tag", {"item_id": item_id, "tag": one, "piece": 1, "of": 1, "mark": ""}))
        await count(other, 6, back=0)
        await door.keep(("tie_tag", {"item_id": item_id, "tag": first, "piece": 2, "of": 2, "mark": ""}))
        void = {"item_id": item_id, "tag": first, "why": "taken-back", "replaced_by": None}
        await door.keep(("remove_tag", void))
        told.append(await door.database.read(lambda tx: as_told(tx, day["day_id"])))
        await count(other, 5, back=0)
        await count(other, 6, back=1)
        await count(other, 5)
    here = said_here([day for day, _ in told], tmp_path / "days")
    asked = []
    for said, (_, office) in zip(here, told, strict=True):
        assert {name: said[name] for name in office} == office
        words = [found for found in office["closing"] if "nobody had heard" in str(found)]
        asked.append(len(words))
    assert asked == [0, 0, 1, 0, 0]
    (found,) = (found for found in told[2][1]["closing"] if "nobody had heard" in str(found))
    assert "5 pieces were counted where nobody had heard that 1 is back with the owner" in str(found)


async def test_of_two_receipts_that_were_signed_apart_the_one_that_reads_as_it_is_holds(
    tmp_path: Path,
) -> None:
    """The later of them had not heard how the thing is called, and was signed in nobody's place."""
    tag = next(codes(7200))
    async with at_the_door(tmp_path / "office", Ids(1)) as door:
        day = await door.keep(a_day(door.ids))
        visit = await door.keep(a_visit(door.ids, day["day_id"]))
        item_id = (await door.keep(an_item(door.ids, visit)))["item_id"]
        await door.keep(a_fact(item_id, "short_description", "green bowl"))
        await door.keep(("tie_tag", {"item_id": item_id, "tag": tag, "piece": 1, "of": 1, "mark": ""}))
        told: list[tuple[dict[str, Any], dict[str, Any]]] = []

        async def sign(words: str, replaces: str | None = None) -> str:
            line = {"item_id": item_id, "tags": [tag], "words": words, "class_id": None}
            receipt_id = door.ids.id()
            signed = {"house_by": "Hester", "on_paper": "", "signed_by": "", "strokes": "M1 1L2 2"}
            receipt = {
                "receipt_id": receipt_id,
                "number": f"Q01/{len(told)}",
                "what": "left",
                "lines": [line],
            }
            body = {
                "visit_id": visit["visit_id"],
                **receipt,
                **signed,
                "replaces": replaces,
                "salt": "0" * 32,
            }
            await door.keep(("sign_receipt", body))
            told.append(await door.database.read(lambda tx: as_told(tx, day["day_id"])))
            return receipt_id

        await sign("green bowl")
        other = await sign("bowl")
        await sign("bowl", other)  # in its place: whoever signs has read both
    here = said_here([day for day, _ in told], tmp_path / "days")
    for said, (_, office) in zip(here, told, strict=True):
        assert {name: said[name] for name in office} == office
    assert [office["changed"] for _, office in told] == [[], [], [[item_id, ["what it is called"]]]]


async def test_what_went_on_its_way_before_its_owner_has_signed_is_named(tmp_path: Path) -> None:
    """The visit is open still, so that the rest can be signed for."""
    numbers = codes(7300)
    async with at_the_door(tmp_path / "office", Ids(1)) as door:
        day = await door.keep(a_day(door.ids))
        visit = await door.keep(a_visit(door.ids, day["day_id"]))
        told: list[tuple[dict[str, Any], dict[str, Any]]] = []
        for place in ("holding", "van"):
            item_id = (await door.keep(an_item(door.ids, visit)))["item_id"]
            tie = {"item_id": item_id, "tag": next(numbers), "piece": 1, "of": 1, "mark": ""}
            await door.keep(("tie_tag", tie))
            moved = {**a_move_of(item_id), "move_id": door.ids.id(), "from_place": "table", "to_place": place}
            await door.keep(("record_move", moved))
            told.append(await door.database.read(lambda tx: as_told(tx, day["day_id"])))
    here = said_here([day for day, _ in told], tmp_path / "days")
    for said, (_, office) in zip(here, told, strict=True):
        assert {name: said[name] for name in office} == office
    named = [[words for kind, words, *_ in office["closing"] if kind == "no-receipt"] for _, office in told]
    assert named == [[], ["Q01: 1 of 2 left the hall without the owner's signature"]]


def a_move_of(item_id: str) -> dict[str, Any]:
    return {
        "thing_id": item_id,
        "from_place": "returned",
        "to_place": "table",
        "at": "",
        "given_by": "the owner",
        "taken_by": "Ana",
        "count": 1,
        "signed": False,
    }
