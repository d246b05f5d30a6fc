"""What is taken in out of a copy is no milder than what either office says."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from intake.copies.bring_in import BroughtIn, batches, linked, take_in
from intake.copies.source import words_between
from tests.builders import Ids, a_caution, a_fact
from tests.door import CAUTIONS, RECEIVED_AT, Door, at_the_door
from tests.sync.frozen_logs import log_rows


@pytest.mark.parametrize("ours", [True, False])
async def test_the_stricter_row_holds_for_what_comes_out_of_a_copy(tmp_path: Path, ours: bool) -> None:
    """The device said "note" of what a row holds up, be it this office's or that of the office of the copy."""
    async with at_the_door(tmp_path / "one", Ids(1)) as door, at_the_door(tmp_path / "two", Ids(1)) as other:
        item_id = (await door.item())["item_id"]
        caution = await door.keep(a_caution(door.ids, item_id, level="note"))
        name = f"cautions/{caution['caution_id']}"
        assert (await door.value(item_id, name))["level"] == "amber"
        rows, words = await copied(door)
        if ours:
            rows = [{**row, "answer": json.dumps({"outcome": "kept"})} for row in rows]

        def job(tx: Any) -> None:
            take_in(tx, rows, words, {}, RECEIVED_AT, BroughtIn(), CAUTIONS if ours else None)

        await other.database.write(job)
        assert (await other.value(item_id, name))["level"] == "amber"
        assert await other.faults() == []


async def copied(door: Door) -> tuple[list[dict[str, Any]], dict[str, str]]:
    """What a copy has of an office's log, and the words beside it."""
    words = await door.database.read(lambda tx: words_between(tx, 0, 10**6))
    return await door.database.read(log_rows), words


async def lied_to(other: Door, true: dict[str, Any]) -> None:
    """After a loss a phone sends something of its own under an id that it read in a record."""
    item = await other.item()
    lie = a_fact(item["item_id"], "materials", "lead")
    await other.other().keep(lie, operation_id=true["operation_id"])


@pytest.mark.parametrize("first", ["the copy", "the phone"])
async def test_a_lie_under_another_s_id_drops_nothing(tmp_path: Path, first: str) -> None:
    """The copy proves that the id is its device's, so its operation is in force, under an id of its own; the phone that
    made it is told so when it sends it again. Both are on record, and nothing comes twice."""
    async with at_the_door(tmp_path / "one", Ids(1)) as door, at_the_door(tmp_path / "two", Ids(2)) as other:
        item = await door.item()
        true = await door.keep(a_fact(item["item_id"], "materials", "tin"))
        await door.keep(a_fact(item["item_id"], "materials", "pewter", seen=true["operation_id"]))
        rows, words = await copied(door)
        rows = list(linked(rows))
        await lied_to(other, true)
        here = Door(other.database, other.folder, other.ids, door.device_id)
        sent = {name: value for name, value in true.items() if name != "disagreement"}
        if first == "the phone":
            assert (await here.send(sent))[0]["problem"]["code"] != ""
        for _ in range(2):
            done = BroughtIn()

            def job(tx: Any, done: BroughtIn = done) -> None:
                for run in batches(rows):
                    take_in(tx, run, words, {}, RECEIVED_AT, done, None)

            await other.database.write(job)
            assert (done.others, list(done.renamed)) == (1, [true["operation_id"]])
        assert done.kept == 0, "the second time nothing is new"
        assert await other.value(item["item_id"], "materials") == "pewter"
        assert (await other.record(item["item_id"]))["disagreements"] == []
        assert (await here.send(sent))[0]["outcome"] == "kept"
        assert await other.faults() == []


async def test_without_a_proof_another_under_the_same_id_is_set_aside(tmp_path: Path) -> None:
    """The same device, or a row that does not hang together: refused, and its words kept beside the log."""
    async with at_the_door(tmp_path / "one", Ids(1)) as door, at_the_door(tmp_path / "two", Ids(2)) as other:
        item = await door.item()
        true = await door.keep(a_fact(item["item_id"], "materials", "tin"))
        rows, words = await copied(door)
        await lied_to(other, true)
        done = BroughtIn()

        def job(tx: Any) -> None:
            for run in batches(rows):
                take_in(tx, run, words, {}, RECEIVED_AT, done, None)

        await other.database.write(job)
        assert (done.others, done.renamed, done.refused) == (1, {}, 1)
        aside = await other.database.read(lambda tx: tx.value("SELECT content FROM set_aside"))
        assert json.loads(aside)["value"] == "tin"
