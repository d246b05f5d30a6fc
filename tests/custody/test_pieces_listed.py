"""A list of unlike pieces on a receipt: what went back is off it, and no line of it is cut."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from intake.custody.receipt_lines import pieces_words
from intake.custody.with_owner import is_on_piece_away
from intake.records.record import Record
from tests.custody.test_loads import record, said

SHARED = json.loads((Path(__file__).parents[2] / "fixtures" / "pieces-listed.json").read_text("utf-8"))


@pytest.mark.parametrize("case", SHARED["cases"])
def test_the_list_of_its_pieces_reads_at_the_office_as_on_the_receipt(case: dict[str, Any]) -> None:
    assert pieces_words(item_of(case)) == case["words"]


@pytest.mark.parametrize("case", SHARED["faults"])
def test_a_fault_goes_with_the_piece_that_its_words_tell_of(case: dict[str, Any]) -> None:
    assert is_on_piece_away(item_of(case), case["on"]) is case["is_away"]


def item_of(case: dict[str, Any]) -> Record:
    tied = {"tag": "00002Y", "piece": 1, "of": 1, "mark": "", "gone": None, "replaced_by": None}
    fields = {
        "short_description": said(case.get("name", "tools"), 1),
        "tags/00002Y": said(tied, 2),
        **{
            f"listed/{at}": said({"words": words, "count": count, "withdrawn": False}, 3)
            for at, (words, count) in enumerate(case["lines"])
        },
        "listed/9": said({"words": "a saw", "count": 1, "withdrawn": True}, 3),
    }
    if case["pieces"]:
        fields["pieces"] = said(case["pieces"], 1)
    for at, mark in enumerate(case.get("away", []), 2):
        went = {**tied, "tag": f"00003{at}", "piece": at, "of": at, "mark": mark, "gone": "taken-back"}
        fields[f"tags/00003{at}"] = said(went, 4)
    return record("item", "i", fields)
