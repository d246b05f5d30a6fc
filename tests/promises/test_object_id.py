"""Object ID: its categories and its photographs each have a place in the record.

Source: the Object ID checklist (nine categories, photographs and a short description), published 1999 and kept by
ICOM. The words of the table name its categories; the places are ours.
"""

from __future__ import annotations

from typing import Any, get_args

import pytest

from intake.arrival.items import EVIDENCE, WORDS
from intake.examination.findings import RecordFinding
from intake.examination.observations import RecordDate, RecordMark, RecordMeasure
from intake.examination.photos import AttachPhoto
from intake.examination.plans import load_plans

PLANS = load_plans()

# Category: the fields of an item, or the operation's model and its member, that answer it.
CATEGORIES: dict[str, list[Any]] = {
    "type of object": ["class_id", "short_description"],
    "materials and techniques": ["materials", (RecordMark, "technique")],
    "measurements": [(RecordMeasure, "value"), (RecordMeasure, "unit")],
    "inscriptions and markings": [(RecordMark, "text"), (RecordMark, "place"), (RecordMark, "reading")],
    "distinguishing features": [(RecordFinding, "term"), (RecordFinding, "zone"), (RecordFinding, "note")],
    "title": ["heading"],
    "subject": ["seen_words"],
    "date or period": [(RecordDate, "words"), (RecordDate, "earliest"), (RecordDate, "latest")],
    "maker": ["maker"],
    "short description": ["short_description", "lot_description"],
}
# What its guide asks pictures of, and the words that views of our plans have for it.
PHOTOGRAPHS = {
    "overall views": ("whole", "front", "back", "side", "recto", "verso"),
    "inscriptions and markings": ("mark", "label", "signature", "inscription", "hallmark", "title", "number"),
    "scale": ("scale",),
}


@pytest.mark.parametrize("category", CATEGORIES)
def test_each_category_has_a_place(category: str) -> None:
    for place in CATEGORIES[category]:
        if isinstance(place, str):
            assert place in WORDS
        else:
            model, member = place
            assert member in model.model_fields


@pytest.mark.parametrize("wanted", PHOTOGRAPHS)
def test_each_photograph_has_a_view_in_every_plan(wanted: str) -> None:
    for plan in PLANS.plans.values():
        if plan.refer_only:
            continue
        words = " ".join(f"{view.view} {view.words}" for view in plan.views).lower()
        assert any(one in words for one in PHOTOGRAPHS[wanted]), (plan.class_id, wanted)


def test_damage_is_photographed_as_a_finding() -> None:
    """Close views of distinguishing features and damage belong to the finding that they show."""
    assert "finding_id" in AttachPhoto.model_fields
    assert "zone" in AttachPhoto.model_fields


def test_the_words_know_every_kind_of_evidence() -> None:
    assert [one.evidence for one in PLANS.words.evidences] == list(EVIDENCE)
    assert get_args(RecordMark.model_fields["completeness"].annotation)
