"""What the numbers on a thing are on: how many pieces it has and how many numbers are two counts."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from intake.custody.number_parts import numbers_shown, part_words, pieces_back
from intake.custody.receipt_lines import parts_named, pieces_words
from intake.custody.with_owner import numbers_on, tags_here
from intake.records.record import Record
from intake.tagging.tags import shown
from tests.custody.test_loads import record, said

SHARED = json.loads((Path(__file__).parents[2] / "fixtures" / "number-parts.json").read_text("utf-8"))
TAGS = ("00002Y", "00003W", "00004V")


@pytest.mark.parametrize("case", SHARED["cases"], ids=lambda case: case["says"])
def test_a_number_is_on_a_part_or_on_a_piece_as_in_the_app(case: dict[str, Any]) -> None:
    item = item_of(case)
    numbers = numbers_on(item)
    assert [part_words(item, numbers[tag].value) for tag in TAGS[: len(case["words"])]] == case["words"]
    assert pieces_words(item) == case["receipt"]
    assert pieces_back(item) == case["back"]
    named = [f"{name} under {shown(TAGS[int(case['words'].index(name))])}" for name in case["named"]]
    assert parts_named(item) == named
    assert numbers_shown(item, tags_here(item)).count("(") == len(named)


def item_of(case: dict[str, Any]) -> Record:
    fields = {"short_description": said("tea set", 1)}
    for tag, (piece, of, mark, gone, *parts) in zip(TAGS, case["numbers"], strict=False):
        tied = {"tag": tag, "piece": piece, "of": of, "mark": mark, "gone": gone, "replaced_by": None}
        tied |= {"parts": True} if parts else {}
        fields[f"tags/{tag}"] = said(tied, 2)
    for at, (words, count, *withdrawn) in enumerate(case.get("lines", [])):
        fields[f"listed/{at}"] = said({"words": words, "count": count, "withdrawn": bool(withdrawn)}, 3)
    if case.get("pieces"):
        fields["pieces"] = said(case["pieces"], 1)
    if case.get("walked"):
        fields["zones/set-count"] = said({"state": "clear", "count": case["walked"]}, 4)
    return record("item", "i", fields)
