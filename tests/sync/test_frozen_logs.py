"""Every version rebuilds every log that an earlier one wrote, and its records say what they said then."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from intake.operation import KINDS
from intake.sync.log import chain_faults
from intake.sync.rebuild import rebuild
from tests.door import Door
from tests.sync.frozen_logs import FOLDER, put_log, records_of

LOGS = sorted(FOLDER.glob("*.jsonl"))


@pytest.mark.parametrize("file", LOGS, ids=lambda file: file.stem)
async def test_a_frozen_log_is_rebuilt(file: Path, door: Door) -> None:
    rows = [json.loads(line) for line in file.read_text("utf-8").splitlines()]
    await door.database.write(lambda tx: put_log(tx, rows))
    await door.database.write(rebuild)
    assert await records_of(door) == json.loads(file.with_suffix(".records.json").read_text("utf-8"))
    assert await door.database.read(lambda tx: list(chain_faults(tx))) == []
    assert await door.faults() == []


def test_the_frozen_logs_hold_every_kind() -> None:
    """A kind that is younger than the newest log has none yet; freeze another when apply changes."""
    frozen = {
        json.loads(json.loads(line)["operation"]).get("kind")
        for file in LOGS
        for line in file.read_text("utf-8").splitlines()
    }
    assert len(frozen & set(KINDS)) >= 42
