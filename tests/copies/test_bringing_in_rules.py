"""What is taken in out of a copy is no milder than what either office says."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from intake.copies.bring_in import BroughtIn, take_in
from tests.builders import Ids, a_caution
from tests.door import CAUTIONS, RECEIVED_AT, at_the_door
from tests.sync.frozen_logs import log_rows


@pytest.mark.parametrize("ours", [True, False])
async def test_the_stricter_row_holds_for_what_comes_out_of_a_copy(tmp_path: Path, ours: bool) -> None:
    """The device said "note" of what a row holds up, be it this office's or that of the office of the copy."""
    async with at_the_door(tmp_path / "one", Ids(1)) as door, at_the_door(tmp_path / "two", Ids(1)) as other:
        item_id = (await door.item())["item_id"]
        caution = await door.keep(a_caution(door.ids, item_id, level="note"))
        name = f"cautions/{caution['caution_id']}"
        assert (await door.value(item_id, name))["level"] == "amber"
        rows = await door.database.read(log_rows)
        if ours:
            rows = [{**row, "answer": json.dumps({"outcome": "kept"})} for row in rows]

        def job(tx: Any) -> None:
            take_in(tx, rows, {}, {}, RECEIVED_AT, BroughtIn(), CAUTIONS if ours else None)

        await other.database.write(job)
        assert (await other.value(item_id, name))["level"] == "amber"
        assert await other.faults() == []
