"""A list of unlike pieces on a receipt: what went back is off it, and no line of it is cut."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from intake.custody.receipt_lines import pieces_words
from tests.custody.test_loads import record, said

CASES = json.loads((Path(__file__).parents[2] / "fixtures" / "pieces-listed.json").read_text("utf-8"))[
    "cases"
]


@pytest.mark.parametrize("case", CASES)
def test_the_list_of_its_pieces_reads_at_the_office_as_on_the_receipt(case: dict[str, Any]) -> None:
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
    assert pieces_words(record("item", "i", fields)) == case["words"]
