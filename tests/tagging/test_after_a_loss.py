"""Numbers after a loss: the office does not know which ones it gave out, and gives none of them out again."""

from __future__ import annotations

import shutil
from datetime import datetime
from itertools import islice
from pathlib import Path
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from intake.access.hearing import begin_hearing, end_hearing, hearing
from intake.database import Writing
from intake.tagging.numbers import BLOCK, after_losses, next_free
from intake.tagging.rolls import LONGEST_ROLL
from intake.tagging.tags import codes, serial_of
from tests.builders import Ids, a_day
from tests.door import Door, at_the_door

NOW = datetime.fromisoformat("2026-03-15T09:00:00.000Z")


def a_roll(door: Door, day_id: str, first: str, count: int = 50) -> tuple[str, dict[str, Any]]:
    last = list(islice(codes(serial_of(first)), count))[-1]
    roll = {"day_id": day_id, "roll_id": door.ids.id(), "first_tag": first, "last_tag": last, "count": count}
    return "issue_roll", {**roll, "given_to": "Table 1", "for_device_id": None}


async def free(door: Door) -> str:
    found = await door.database.read(next_free)
    assert found is not None
    return found


async def lose(door: Door) -> None:
    await door.database.write(lambda tx: begin_hearing(tx, NOW))
    door.hearing = True


async def test_a_folder_put_back_gives_no_number_twice(door: Door, ids: Ids, tmp_path: Path) -> None:
    """A roll is given out, the folder is put back to before; the next roll is another, and the first is taken when it
    is sent again, whichever comes first."""
    day_id = (await door.keep(a_day(ids)))["day_id"]
    before = tmp_path / "before"
    shutil.copytree(door.folder, before, ignore=lambda *_: ["before"])
    lost = door.make(a_roll(door, day_id, await free(door)))
    [told] = await door.send(lost)
    assert told["outcome"] == "kept"
    async with at_the_door(before, ids) as back:
        assert await free(back) == lost["first_tag"], "nobody has said yet that something is missing"
        await lose(back)
        fresh = await back.keep(a_roll(back, day_id, await free(back)))
        assert serial_of(fresh["first_tag"]) > serial_of(lost["last_tag"]) + LONGEST_ROLL
        again = await back.keep(a_roll(back, day_id, await free(back)))
        assert again["first_tag"] == next(codes(serial_of(fresh["last_tag"]) + 1)), "one jump a loss"
        here = Door(back.database, back.folder, ids, door.device_id)
        here.hearing = True
        [told] = await here.send(lost)
        assert told["outcome"] == "kept", told["problem"]
        await back.database.write(nobody_else_comes)
        assert serial_of(await free(back)) > serial_of(again["last_tag"])
        await lose(back)
        assert serial_of(await free(back)) > serial_of(again["last_tag"]) + BLOCK // 8
        assert await back.faults() == []


def nobody_else_comes(tx: Writing) -> None:
    waits = hearing(tx)
    assert waits is not None
    end_hearing(tx, waits.since, waits.loss)


async def test_a_number_that_is_out_is_named_with_one_that_is_free(door: Door) -> None:
    day_id = (await door.keep(a_day(door.ids)))["day_id"]
    await lose(door)
    roll = await door.keep(a_roll(door, day_id, next(codes(5000))))
    door.hearing = False
    [told] = await door.send(door.make(a_roll(door, day_id, roll["last_tag"])))
    assert f"{(await free(door))[:3]}-" in told["problem"]["hint"]


@given(losses=st.integers(1, 8), epochs=st.tuples(st.uuids(), st.uuids()), start=st.integers(1, 10**7))
def test_each_loss_goes_on_further_and_never_out_of_the_range(
    losses: int, epochs: tuple[Any, Any], start: int
) -> None:
    """Whatever the file is called: what came after one loss is left behind by the next."""
    own = range(start, start + BLOCK)
    one, next_one = (after_losses(own, str(epoch), losses + more) for more, epoch in enumerate(epochs))
    assert own.start <= one < own.stop
    if losses < 8:
        assert one < next_one
    assert after_losses(own, str(epochs[0]), 10**6) in own
