"""What was compared as it was unpacked goes by number: one that lay elsewhere was not before anybody."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from intake.custody.compared import all_said, checks_of, numbers_left
from intake.custody.item_differences import differs_by, is_not_come
from intake.records.record import Record
from tests.custody.test_loads import record, said

SHARED = json.loads((Path(__file__).parents[2] / "fixtures" / "compared.json").read_text("utf-8"))
TAGS = ("00002Y", "00003W", "00004V")


@pytest.mark.parametrize("case", SHARED["cases"], ids=lambda case: case["says"])
def test_what_is_compared_goes_by_number_as_in_the_app(case: dict[str, Any]) -> None:
    item = item_of(case)
    by_hour = {check[2]: at for at, check in enumerate(case["checks"])}
    stands = sorted(by_hour[int(check.made_at[14:16])] for _, check in checks_of(item))
    assert stands == case["stands"]
    assert len(all_said(item)) == len(case["checks"])
    assert numbers_left(item) == [TAGS[at] if at >= 0 else "" for at in case["left"]]
    differs = differs_by(item)
    assert (differs and differs["state"]) == case["differs"]
    assert is_not_come(item) == case["not_come"]


def item_of(case: dict[str, Any]) -> Record:
    fields = {"short_description": said("mantel clock", 1)}
    for tag, (piece, of, mark, gone) in zip(TAGS, case["numbers"], strict=False):
        tied = {"tag": tag, "piece": piece, "of": of, "mark": mark, "gone": gone, "replaced_by": None}
        fields[f"tags/{tag}"] = said({**tied, "parts": True}, 2)
    for number, state, hour, words in case["checks"]:
        name = "check-in" if number is None else f"check-in/{TAGS[number]}"
        fields[name] = said({"state": state, "words": words, "second_by": "Bo"}, hour)
    for number, hour in case.get("moved", []):
        move = {"move_id": "m", "from_place": None, "to_place": "store", "at": "", "tag": TAGS[number]}
        fields[f"whereabouts/{TAGS[number]}"] = said(move, hour)
    return record("item", "i", fields)
