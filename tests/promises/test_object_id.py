"""Object ID: an item can be recorded in each category of the standard, and photographed as its guide asks.

`fixtures/object-id.json` is one invented print, answered in each category; the office takes it here, and
`tests/web/object_id.test.js` reads it in the texts that are printed.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, get_args

import pytest

from intake.arrival.items import EVIDENCE
from intake.examination.observations import RecordMark
from intake.examination.plans import load_plans
from tests.builders import a_finding, a_photo, picture
from tests.door import Door

PLANS = load_plans()
PRINT = json.loads((Path(__file__).parents[2] / "fixtures" / "object-id.json").read_text("utf-8"))
# Source: the Object ID checklist (ICOM, 1999): its nine categories in its order, and the short description.
STANDARD = (
    "Type of object",
    "Materials & techniques",
    "Measurements",
    "Inscriptions & markings",
    "Distinguishing features",
    "Title",
    "Subject",
    "Date or period",
    "Maker",
    "Description",
)
# What its guide asks pictures of, and the words that views of our plans have for it.
PHOTOGRAPHS = {
    "overall views": ("whole", "front", "back", "side", "recto", "verso"),
    "inscriptions and markings": ("mark", "label", "signature", "inscription", "hallmark", "title", "number"),
    "scale": ("scale",),
}


def test_the_print_answers_the_standard_s_own_categories() -> None:
    assert tuple(one["category"] for one in PRINT["categories"]) == STANDARD
    assert all(one["fields"] for one in PRINT["categories"])


@pytest.mark.parametrize("answer", PRINT["categories"], ids=lambda answer: answer["category"])
async def test_the_office_keeps_what_answers_a_category(door: Door, answer: dict[str, Any]) -> None:
    item_id = (await door.item())["item_id"]
    for name, value, kind, more in answer["fields"]:
        members = {"field": name, "value": value} if kind == "set_item" else value
        await door.keep((kind, {"item_id": item_id, "seen": None, **members, **more}))
        assert await door.value(item_id, name) == value
    assert await door.faults() == []


async def test_damage_is_photographed_as_a_finding(door: Door) -> None:
    """Close views of distinguishing features and damage belong to the finding and the zone that they show."""
    item_id = (await door.item())["item_id"]
    finding = await door.keep(a_finding(door.ids, item_id, "margins/top", term="tear"))
    shows = {"view": None, "zone": "margins/top", "finding_id": finding["finding_id"]}
    photo = await door.keep(a_photo(door.ids, item_id, picture(1), picture(2), **shows))
    kept = await door.value(item_id, f"photos/{photo['photo_id']}")
    assert {name: kept[name] for name in shows} == shows


@pytest.mark.parametrize("wanted", PHOTOGRAPHS)
def test_each_photograph_has_a_view_in_every_plan(wanted: str) -> None:
    for plan in PLANS.plans.values():
        if plan.refer_only:
            continue
        words = " ".join(f"{view.view} {view.words}" for view in plan.views).lower()
        assert any(one in words for one in PHOTOGRAPHS[wanted]), (plan.class_id, wanted)


def test_the_words_know_every_kind_of_evidence() -> None:
    assert [one.evidence for one in PLANS.words.evidences] == list(EVIDENCE)
    assert get_args(RecordMark.model_fields["completeness"].annotation)
