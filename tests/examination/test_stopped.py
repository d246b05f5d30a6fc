"""What a stopped item still takes: the office's side of a rule that the app has as well."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, get_args

import pytest

import intake.sync.kinds  # noqa: F401 - gathers every kind there is
from intake.examination.plans import load_plans
from intake.examination.stopped import ALWAYS, KINDS, Still, Stop, kinds_allowed, still_allowed
from intake.operation import KINDS as EVERY_KIND

CASES = json.loads((Path(__file__).parents[2] / "fixtures" / "stopped.json").read_text("utf-8"))["cases"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["says"])
def test_a_stopped_item_takes_what_every_caution_on_it_allows(case: dict[str, Any]) -> None:
    stops = [Stop(**stop) for stop in case["stops"]]
    assert sorted(still_allowed(stops)) == case["still_allowed"]
    assert sorted(kinds_allowed(stops)) == case["kinds"]


def test_the_kinds_that_a_row_can_allow_are_kinds_that_exist() -> None:
    assert ALWAYS.union(*KINDS.values()) <= EVERY_KIND.keys()
    assert set(KINDS) == set(get_args(Still))


def test_no_shipped_row_lets_anybody_near_before_a_decision() -> None:
    """Source: common practice. From a distance one may look; touching waits for whoever was called."""
    for row in load_plans().cautions.cautions:
        if row.level == "red":
            kinds = kinds_allowed([Stop(row.still_allowed or [], decided=False)])
            assert kinds - ALWAYS <= {"attach_photo"}, row.hazard
