"""The cases under fixtures/operations, at the office; the web app's tests read the same files."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import Office

CASES = sorted((Path(__file__).parents[2] / "fixtures" / "operations").glob("*.json"))


@pytest.mark.parametrize("file", CASES, ids=lambda file: file.stem)
def test_case(file: Path, office: Office) -> None:
    """Given these operations, one more does what the file says."""
    told: dict[str, Any] = json.loads(file.read_text("utf-8"))
    phone = office.pair("manager")
    phone.outbox = [
        {**operation, "device_id": phone.device_id}
        for operation in [*told["before"], *told["given"], told["operation"]]
    ]
    *before, last = phone.push()
    assert {answer["outcome"] for answer in before} == {"kept"}
    if "refused" in told:
        assert last["problem"]["code"] == told["refused"]
    else:
        last_sent = told["operation"]
        names = ("item_id", "thing_id", "record_id", "visit_id", "of_id", "day_id")
        record = phone.record(next(last_sent[name] for name in names if last_sent.get(name)))
        values = {name: field["value"] for name, field in record["fields"].items()}
        assert values == told["expected"]["values"]
        assert [
            [
                one["field"],
                one["kept"]["value"],
                one["other"]["value"],
                one["settled"] and one["settled"]["choose"],
            ]
            for one in record["disagreements"]
        ] == told["expected"]["disagreements"]
    assert office.faults() == []
