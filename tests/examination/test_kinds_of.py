"""What a plan asks of one kind of its things and not of the others: a trunk of a longcase clock."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from intake.cataloguing.pages import with_edge
from intake.examination.kinds_of import ROWS, as_asked, plan_for
from intake.examination.plan import zone_keys
from intake.examination.plans import SHIPPED, check, load_plans

READ = load_plans()
PLANS = READ.plans
CASES: list[dict[str, Any]] = json.loads(
    (Path(__file__).parents[2] / "fixtures" / "kinds-of.json").read_text("utf-8")
)


def spoken(case: dict[str, Any]) -> set[str]:
    """The ids of what is on record, as `spoken_of` tells them of a record."""
    rows = {name.split("/")[1] for name in case["on_record"]}
    zones = {name.split("/")[1] for name in case["on_record"] if name.startswith("zones/")}
    zones |= {value["zone"] for value in case["on_record"].values() if "zone" in value}
    return rows | zones | {f"zones/{zone}" for zone in zones}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["says"])
def test_each_case(case: dict[str, Any]) -> None:
    plan = as_asked(PLANS[case["class_id"]].body(), case["name"], spoken(case))
    rows = {row[own_id] for of, own_id in ROWS.items() for row in plan[of]}
    assert sorted(set(case["asked"]) - rows) == []
    assert sorted(set(case["not_asked"]) & rows) == []


def test_a_plan_of_before_knows_no_kinds() -> None:
    before = {key: value for key, value in PLANS["clock"].body().items() if key != "kinds"}
    assert as_asked(before, "longcase clock") == before


def test_the_version_is_that_of_the_whole_plan() -> None:
    fresh = load_plans().plans["clock"]
    assert plan_for(fresh, "longcase clock").version == PLANS["clock"].version


@pytest.mark.parametrize(("name", "missing"), [("mantel clock", 23), ("longcase clock", 25)])
def test_the_list_counts_what_such_a_thing_is_asked(name: str, missing: int) -> None:
    entry = {"zones": {}, "short_description": name}
    assert with_edge(entry, PLANS["clock"])["missing"] == missing


def test_what_of_zones_was_said_counts_in_the_list_whatever_the_thing_is_called_now() -> None:
    entry = {"zones": {"trunk": "2"}, "short_description": "mantel clock"}
    keys = [
        key for key in zone_keys(PLANS["clock"]) if key not in ("hood", "hood-door", "trunk-door", "plinth")
    ]
    assert with_edge(entry, PLANS["clock"])["edge"].index("2") == keys.index("trunk")


@pytest.mark.parametrize(
    "plan", [plan for plan in PLANS.values() if plan.kinds], ids=lambda plan: plan.class_id
)
def test_each_kind_answers_five_questions_of_zones_that_it_has(plan: Any) -> None:
    for kind in plan.kinds:
        own = plan_for(plan, kind.named[0])
        of_class = [kind.asked.get(question.question, question) for question in plan.questions]
        questions = kind.instead.get("questions", of_class)
        assert len(questions) == 5
        here = {zone.zone for zone in own.zones}
        assert [q.question for q in questions if q.zones and not here & set(q.zones)] == []
        put_instead = [*kind.instead.get("questions", []), *kind.asked.values()]
        asked_instead = {zone for q in put_instead for zone in q.zones}
        assert asked_instead <= here


@pytest.mark.parametrize("plan", PLANS.values(), ids=lambda plan: plan.class_id)
def test_what_is_examined_or_drawn_by_itself_has_a_key_that_calls_it_so(plan: Any) -> None:
    """Nobody at the table knows that typing such a word is what brings the zones and the drawing."""
    drawn = [outline.of for outline in READ.outlines.get(plan.class_id, []) if outline.of]
    for named in [*(kind.named for kind in plan.kinds), *drawn]:
        assert any(f" {word} " in f" {called} " for called in plan.called for word in named), named


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        ("only: [hood,", "only: [hat,", 'row of this plan "hat"'),
        ("      height:\n        words", "      girth:\n        words", 'measure in this plan "girth"'),
        ("  - kind: longcase", "  - kind: longcase\n    colour: red", "colour"),
    ],
)
def test_a_mistake_in_a_kind_is_told(tmp_path: Path, before: str, after: str, words: str) -> None:
    text = (SHIPPED / "plans" / "clock.yaml").read_text("utf-8")
    assert before in text
    (tmp_path / "plans").mkdir()
    (tmp_path / "plans" / "clock.yaml").write_text(text.replace(before, after, 1), "utf-8")
    told = [problem.words for problem in check(tmp_path)]
    assert [problem for problem in told if words in problem], told
