"""A thing whose parts are each accounted for may be described; which of them are lost is said as the app says it."""

from __future__ import annotations

import json
from itertools import islice
from pathlib import Path
from typing import Any

import pytest

from intake.custody.parts_lost import in_its_place, lies_apart, parts_lost
from intake.custody.whereabouts import pieces_of
from intake.records.record import Record
from intake.tagging.tags import codes, shown
from tests.custody.test_loads import record, said

SHARED = json.loads((Path(__file__).parents[2] / "fixtures" / "parts-lost.json").read_text("utf-8"))
NUMBERS = list(islice(codes(2), 6))
BEFORE, NOTED, LATER = 1, 10, 20


def made_of(case: dict[str, Any]) -> tuple[Record, Record, dict[str, Record]]:
    fields = {"pieces": said(1, BEFORE)}
    for at, (mark, place, container_id) in enumerate(case["parts"]):
        tag = NUMBERS[at]
        tied = {"tag": tag, "piece": at + 1, "of": len(case["parts"]), "mark": mark, "gone": None}
        fields[f"tags/{tag}"] = said({**tied, "replaced_by": None, "parts": True}, BEFORE)
        since = LATER if shown(tag) == case.get("moved") else BEFORE
        if place:
            fields[f"whereabouts/{tag}"] = said({"to_place": place, "at": "", "tag": tag}, since)
        if container_id:
            fields[f"inside/{tag}"] = said({"container_id": container_id}, BEFORE)
    crates = {}
    for at, (crate_id, (place, outer)) in enumerate(case.get("containers", {}).items()):
        held = {"whereabouts": said({"to_place": place, "at": "", "tag": None}, BEFORE)} if place else {}
        held |= {"inside": said({"container_id": outer}, BEFORE)} if outer else {}
        crates[crate_id] = record("container", crate_id, held, kind_of="crate", number=NUMBERS[3 + at])
    noted = {}
    for at, (difference, words, ended) in enumerate(case.get("noted", [])):
        value = {"difference": difference, "thing_id": "i", "words": words}
        noted[f"differences/{at}"] = said(value, NOTED)
        if ended:
            noted[f"difference-ends/{at}"] = said({"ended": ended}, NOTED)
    return record("item", "i", fields), record("day", "d", noted), crates


@pytest.mark.parametrize("case", SHARED["cases"], ids=lambda case: case["is"])
def test_which_parts_are_lost_is_said_as_the_app_says_it(case: dict[str, Any]) -> None:
    item, day, crates = made_of(case)
    assert parts_lost(item, crates, day) == case["lost"]
    if "apart" in case:
        pieces = pieces_of(item, crates)
        assert [in_its_place(one) for one in pieces if lies_apart(pieces)] == case["apart"]
