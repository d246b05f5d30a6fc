"""Names and small drawings of the classes: data that a house may change, held to what a screen can draw."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from intake.examination.plan_check import Problem
from intake.examination.plans import check, load_plans

PLANS = load_plans()


def own_classes(folder: Path, text: str) -> list[Problem]:
    (folder / "classes.yaml").write_text(text, "utf-8")
    return check(folder)


def test_every_class_has_a_name_and_all_but_the_one_for_the_rest_a_drawing() -> None:
    keys = {key.class_id: key for key in PLANS.classes.classes}
    assert set(keys) == set(PLANS.plans)
    assert [class_id for class_id, key in keys.items() if key.drawing is None] == ["free"]
    assert max(len(key.words) for key in keys.values()) <= 20, "a key has room for two words"


def test_a_house_may_name_and_draw_a_class_otherwise(tmp_path: Path) -> None:
    drawing = '{body: "M9 9h30v30H9z", lines: "M9 24h30"}'
    text = f'classes:\n  - {{class_id: glass, words: "Goblets", drawing: {drawing}}}\n'
    assert own_classes(tmp_path, text) == []
    on_devices = load_plans(tmp_path).body()["classes"]
    assert on_devices == {
        "glass": {
            "words": "Goblets",
            "also": None,
            "named": [],
            "drawing": {"body": "M9 9h30v30H9z", "lines": "M9 24h30"},
        }
    }


def test_a_view_is_drawn_by_what_its_words_say_and_else_as_its_class() -> None:
    """The words are whole ones of the views themselves; each leads to one drawing."""
    views = PLANS.classes.views
    said = [word for view in views for word in view.said]
    assert len(said) == len({*said})
    of_plans = " ".join(view.words for plan in PLANS.plans.values() for view in plan.views).lower()
    for view in views:
        assert any(re.search(rf"\b{word}\b", of_plans) for word in view.said), view.said


def test_words_of_a_view_are_words_and_no_pattern(tmp_path: Path) -> None:
    views = 'views:\n  - {said: ["a|b"], drawing: {body: "M9 9z", lines: "M0 0"}}\n'
    [problem] = own_classes(tmp_path, f"classes: []\n{views}")
    assert (problem.file, problem.line) == ("classes.yaml", 3)


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ('{class_id: gloves, words: "Gloves"}', 'there is no class "gloves"'),
        ('{class_id: free, words: "The rest"}', 'the class "free" is there twice'),
        ("{class_id: glass}", "words"),
        # A path begins with a move (SVG 2, 9.3.2), and holds nothing but commands and numbers.
        ('{class_id: glass, words: "Glass", drawing: {body: "L9 9", lines: "M0 0"}}', "body"),
        ('{class_id: glass, words: "Glass", drawing: {body: "M9 9z", lines: "url(#x)"}}', "lines"),
    ],
)
def test_a_mistake_is_told_with_its_line(tmp_path: Path, row: str, told: str) -> None:
    [problem] = own_classes(tmp_path, f'classes:\n  - {{class_id: free, words: "Rest"}}\n  - {row}\n')
    assert problem.file == "classes.yaml"
    assert problem.line == 3
    assert told in problem.words
