"""Every version rebuilds every log that an earlier one wrote, and its records say what they said then."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from intake.operation import KINDS
from intake.sync.log import chain_faults
from intake.sync.rebuild import rebuild
from tests.door import Door
from tests.sync.frozen_logs import FOLDER, YEAR_S, put_log, records_of

LOGS = sorted(FOLDER.glob("*.jsonl"))


@pytest.mark.parametrize("file", LOGS, ids=lambda file: file.stem)
async def test_a_frozen_log_is_rebuilt(file: Path, door: Door) -> None:
    rows = [json.loads(line) for line in file.read_text("utf-8").splitlines()]
    await door.database.write(lambda tx: put_log(tx, rows))
    await door.database.write(rebuild)
    assert await records_of(door, file.stem) == json.loads(
        file.with_suffix(".records.json").read_text("utf-8")
    )
    assert await door.database.read(lambda tx: list(chain_faults(tx))) == []
    assert await door.faults() == []


#: Kinds that are younger than the newest log. They come off this list when the next one is frozen.
YOUNGER: set[str] = {"skip_view"}


def test_the_frozen_logs_hold_every_kind() -> None:
    frozen = {
        json.loads(json.loads(line)["operation"]).get("kind")
        for file in LOGS
        for line in file.read_text("utf-8").splitlines()
    }
    assert set(KINDS) - frozen == YOUNGER, "freeze a log, or name the kind until the next one is"


def test_the_newest_log_holds_what_came_late_and_by_clocks_that_were_off() -> None:
    answers = [json.loads(json.loads(line)["answer"]) for line in LOGS[-1].read_text("utf-8").splitlines()]
    said = LOGS[-1].with_suffix(".records.json").read_text("utf-8")
    assert {answer.get("clock_off_s", 0) for answer in answers} >= {0, YEAR_S, -YEAR_S}
    assert any(answer["problem"] and answer["problem"]["code"] == "words_erased" for answer in answers)
    assert '"heard-late/' in said
    assert '"settlement-notes/' in said
