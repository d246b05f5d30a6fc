"""The shipped cautions: what they must say, what they never say, and what a mistake in a house's own is called."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from intake.examination.caution_pack import Caution
from intake.examination.plan_check import Problem
from intake.examination.plans import SHIPPED, check, load_plans
from tests.examination.caution_facts import FACTS, NOT_HOME, NOTHING_MORE, RED, Fact

PLANS = load_plans()
PACK = PLANS.cautions
ROWS = {row.hazard: row for row in PACK.cautions}
TEXT = (SHIPPED / "cautions.yaml").read_text("utf-8")
GLASS = (SHIPPED / "plans" / "glass.yaml").read_text("utf-8")


def said(row: Caution, member: str) -> str:
    """A member of a row as one text; steps follow each other."""
    value = getattr(row, member)
    return " ".join(value) if isinstance(value, list) else str(value)


@pytest.mark.parametrize("fact", FACTS, ids=lambda fact: f"{fact.hazard} {fact.pattern[:30]}")
def test_a_row_says_what_its_source_says(fact: Fact) -> None:
    assert re.search(fact.pattern, said(ROWS[fact.hazard], fact.member)), said(ROWS[fact.hazard], fact.member)


@pytest.mark.parametrize("fact", FACTS, ids=lambda fact: f"{fact.hazard} {fact.pattern[:30]}")
def test_a_row_names_a_source_of_the_kind_that_its_fact_rests_on(fact: Fact) -> None:
    """A fact from memory may stand in a checked row, if the row says what of it is unchecked or names memory."""
    row = ROWS[fact.hazard]
    kinds = {source.seen for source in PACK.sources if source.source in row.sources}
    assert fact.seen in kinds or row.unchecked, (row.sources, fact.seen)


def test_a_row_says_that_it_was_checked_if_and_only_if_a_source_stands_here() -> None:
    """Whatever has not been held to a source must not look as if it had been."""
    held = {fact.hazard for fact in FACTS if fact.seen == "second-hand"}
    assert {row.hazard for row in PACK.cautions if row.checked_on} == held


def test_a_row_that_rests_on_nothing_published_says_that_nobody_checked_it() -> None:
    published = {source.source for source in PACK.sources if source.published}
    for row in PACK.cautions:
        assert row.checked_on is None or published & set(row.sources), row.hazard


def test_whatever_may_hurt_somebody_now_is_red_and_nothing_else_is() -> None:
    assert {row.hazard for row in PACK.cautions if row.level == "red"} == set(RED)


def test_beside_what_may_explode_or_poison_nothing_more_is_asked_for() -> None:
    assert {row.hazard for row in PACK.cautions if row.still_allowed == []} == NOTHING_MORE
    touching = {"photo", "tag", "move", "check-in"}
    assert not [row.hazard for row in PACK.cautions if touching & set(row.still_allowed or [])]


def test_what_is_unlawful_or_dangerous_to_keep_is_not_sent_home() -> None:
    assert {row.hazard for row in PACK.cautions if not row.goes_home} == NOT_HOME


def test_the_first_minute_of_what_may_explode_is_away_then_call_then_stay_away() -> None:
    """Source: UK counter-terrorism guidance on suspicious items, through an article, 2024, second-hand."""
    for hazard in ("H02", "H03", "H44", "H47", "H49"):
        steps = " ".join(ROWS[hazard].first_minute).lower()
        assert re.search(r"walk (away|out).*call the emergency number", steps), hazard
        assert "no telephone or radio close to it" in steps, hazard
        assert "nobody goes back" in steps, hazard
        assert "photograph" in ROWS[hazard].may_not or "photograph" in steps, hazard


def test_the_card_puts_people_first_and_paper_last() -> None:
    """Source: the same guidance; common practice."""
    order = ["Hands off", "People away", "emergency number", "safety lead", "Paper last"]
    places = [next(n for n, line in enumerate(PACK.card) if words in line) for words in order]
    assert places == sorted(places)
    assert "at a distance" in " ".join(PACK.card)


def test_the_eight_most_urgent_are_red_and_the_unknown_has_a_row() -> None:
    assert len(PACK.urgent) == 8
    assert {ROWS[hazard].level for hazard in [*PACK.urgent, PACK.unknown]} == {"red"}


# Steps may name what is not done, and what is done with one that somebody has in the hand when the sign is seen.
FORBIDS = re.compile(
    r"[^.;:]*\b(nobody|no|not|never|nothing|neither|nor|without|nowhere|only a person trained)\b[^.;:]*", re.I
)
HANDLED = re.compile(
    r"\b(carry|carries|pick it up|lift|open|unwrap|pour|unscrew|move it|take it (out|away))\b", re.I
)


def test_no_red_row_tells_anybody_to_carry_open_or_lift_the_thing() -> None:
    """Source: common practice; police advice on found ordnance says to touch and move nothing, second-hand."""
    told = []
    for row in PACK.cautions:
        for step in [row.caution, *row.first_minute] if row.level == "red" else []:
            rest = FORBIDS.sub("", step).replace("Open windows", "").replace("into the open", "")
            told += [(row.hazard, step)] if HANDLED.search(rest) else []
    assert told == []


def test_whoever_has_one_in_the_hand_is_told_where_it_goes() -> None:
    """Nobody walks through the hall with it in the hand. Source: usual caution, from memory."""
    for hazard in ("H01", "H02", "H03", "H19", "H44", "H47", "H49"):
        steps = " ".join(ROWS[hazard].first_minute)
        assert re.search(
            r"In your hand already: (lay|set) it down gently,? (upright, )?right there", steps
        ), hazard


def test_a_card_of_a_row_fits_a_small_screen() -> None:
    """Common practice: a step is read in one breath; twenty-odd words."""
    long = [step for row in PACK.cautions for step in row.first_minute if len(step.split()) > 28]
    assert long == []


def test_a_card_speaks_of_signs_and_never_of_rows() -> None:
    """A row is what the pack calls it; whoever holds the thing picked a sign."""
    shown = [*PACK.card, *(words for row in PACK.cautions for words in row.model_dump(mode="json").values())]
    texts = [text for words in shown for text in (words if isinstance(words, list) else [words])]
    assert not [text for text in texts if isinstance(text, str) and re.search(r"\brows?\b", text)]


def test_devices_read_the_sources_in_words() -> None:
    body = json.loads(json.dumps(PLANS.body()))["cautions"]
    rows = {row["hazard"]: row for row in body["cautions"]}
    assert rows["H16"]["checked_on"] == "2026-11-26"
    assert rows["H16"]["basis"].startswith(
        "Health and Safety Executive: Leaflet INDG469 on cellulose nitrate"
    )
    assert rows["H12"]["basis"] == "common practice"
    assert "(second-hand)" in rows["H05"]["basis"]


# Trials that once stood in a plan for things on which they can hurt. Source of each: the row, or from memory.
STOPPED_TRIALS = [
    ("glass", "stopper", {"H08", "H18", "H19", "H48", "H57"}, "contents"),
    ("glass", "ring", {"H08", "H18", "H19", "H48", "H57"}, "contents"),
    ("ceramics", "ring", {"H08", "H18", "H19", "H57"}, "contents"),
    ("clock", "pendulum", {"H13"}, "mercury"),
    ("doll", "move-limbs", {"H17", "H25", "H26", "H46"}, "mould"),
    ("soft-toy", "press-voice", {"H15", "H17", "H25", "H26", "H46"}, "sticky"),
    ("free", "gentle-move", {"H07", "H08", "H14", "H15", "H19", "H46", "H57", "H63", "H90"}, "needles"),
    ("painting", "light-behind", {"H25", "H62"}, "mould"),
    ("ceramics", "cover-fit", {"H08", "H18", "H19"}, "ashes"),
    ("watch", "open-back", {"H10", "H55"}, "luminous paint"),
    ("clock", "strike-once", {"H10", "H55"}, "luminous paint"),
    ("doll", "light-head", {"H17"}, "celluloid"),
    ("work-on-paper", "light-behind", {"H16"}, "nitrate"),
    ("book-map", "open", {"H14", "H25"}, "mould"),
    ("book-map", "collate", {"H14", "H25"}, "bright green"),
    ("textile-rug", "part-pile", {"H14", "H25", "H46", "H50", "H52"}, "bright green"),
    ("textile-rug", "turn-over", {"H15", "H46", "H50", "H52"}, "droppings"),
    ("work-on-paper", "light-behind", {"H50"}, "droppings"),
    ("furniture", "drawers", {"H46", "H50", "H51"}, "needles"),
]


@pytest.mark.parametrize(("class_id", "trial", "hazards", "words"), STOPPED_TRIALS)
def test_a_trial_says_when_it_would_hurt(class_id: str, trial: str, hazards: set[str], words: str) -> None:
    (test,) = [test for test in PLANS.plans[class_id].tests if test.test == trial]
    assert hazards <= set(test.stopped_by)
    assert words in test.never_when


def test_ultraviolet_has_its_rule_for_eyes_and_skin_wherever_it_is_used() -> None:
    """Source: common practice; short wave harms eyes and skin within seconds: from memory."""
    using = 0
    for plan in PLANS.plans.values():
        tests = [test for test in plan.tests if "ultraviolet" in test.lights or test.test == "ultraviolet"]
        asked = [one for one in plan.negatives if "ultraviolet" in one.lights]
        asked_views = [view for view in plan.views if "ultraviolet" in view.words]
        assert tests or not (asked or asked_views), plan.class_id
        for test in tests:
            using += 1
            rule = f"{test.how} {test.never_when}"
            assert all(words in rule for words in ("long wave", "eyes or skin", "short-wave lamp, never"))
    assert using == 5
    (light,) = [light for light in PLANS.words.lights if light.light == "ultraviolet"]
    assert "never short wave" in light.limits


def test_nobody_is_asked_to_smell() -> None:
    """The card forbids sniffing, so no plan and no light may ask for it."""
    texts = [plan.model_dump_json() for plan in PLANS.plans.values()] + [PLANS.words.model_dump_json()]
    asked = re.compile(
        r"(?<!nobody bends down to )\b(sniff|smelled|smell it|smell of it|does it smell|wafting)\b"
    )
    assert [found.group() for text in texts for found in asked.finditer(text)] == []


def test_a_hand_goes_into_no_drawer_or_pile_before_somebody_looked() -> None:
    for class_id, trial in (
        ("furniture", "drawers"),
        ("textile-rug", "part-pile"),
        ("soft-toy", "press-voice"),
    ):
        (test,) = [test for test in PLANS.plans[class_id].tests if test.test == trial]
        assert re.search(r"\blook", test.how.split(";")[0]), test.how


def test_every_trial_and_class_that_a_row_forbids_is_there() -> None:
    """A slip in the name of a trial would forbid nothing, and nobody would see it."""
    tests = {test.test for plan in PLANS.plans.values() for test in plan.tests}
    named = {test for row in PACK.cautions for one in row.forbids for test in one.tests}
    assert named <= tests


def test_a_class_that_a_row_names_has_something_that_it_forbids() -> None:
    """A class among others whose trials have other names would look forbidden and lose none of its own."""
    idle = []
    for row in PACK.cautions:
        for one in row.forbids:
            for name in one.classes:
                plan = PLANS.plans[name]
                lights = {light for negative in plan.negatives for light in negative.lights}
                lights |= {light for test in plan.tests for light in test.lights}
                if not ({test.test for test in plan.tests} & set(one.tests) or lights & set(one.lights)):
                    idle.append(f"{row.hazard} {name}")
    assert idle == []


def changed(text: str, before: str, after: str) -> str:
    assert before in text
    return text.replace(before, after, 1)


def house(folder: Path, **texts: str) -> Path:
    """A house's folder with its own cautions, or with a plan."""
    (folder / "plans").mkdir()
    for name, text in texts.items():
        place = folder if name == "cautions" else folder / "plans"
        (place / f"{name}.yaml").write_text(text, "utf-8")
    return folder


H02 = TEXT[TEXT.index("  - hazard: H02\n") : TEXT.index("  - hazard: H03\n")]
PACK_MISTAKES = [
    pytest.param("    still_allowed: []\n", "", "say in still_allowed", id="a red row that says nothing"),
    pytest.param("still_allowed: []", "still_allowed: [weigh]", '"weigh" is not known', id="unknown still"),
    pytest.param("    level: red\n", "    level: amber\n", "only a red caution stops", id="amber that stops"),
    pytest.param("    goes_home: false\n", "", 'the key "goes_home" is missing', id="no word on going home"),
    pytest.param("[home-office-guide, practice]", "[gossip]", 'no source "gossip"', id="unknown source"),
    pytest.param(
        "bullets, ammunition,", "bullets, Bullets,", 'synonym "bullets" is there twice', id="synonym"
    ),
    pytest.param("2026-11-26", "last year", "checked_on", id="no date"),
    pytest.param(
        "Do not touch. People",
        f"Do not touch. {'Not at all. ' * 9}People",
        "110 fit on the card",
        id="a long caution",
    ),
    pytest.param(
        "    first_minute:\n",
        '    first_minute:\n      - "One."\n      - "Two."\n',
        "at most 4 fit",
        id="too many steps",
    ),
    pytest.param(
        "    goes_home: false\n",
        "    goes_home: false\n    forbids:\n      - {classes: [boat], tests: [sail], lights: []}\n",
        'no class "boat"',
        id="unknown class",
    ),
    pytest.param(
        "    goes_home: false\n",
        "    goes_home: false\n    forbids:\n      - {classes: [glass], tests: [stoper], lights: []}\n",
        'no test "stoper"',
        id="unknown trial",
    ),
]


@pytest.mark.parametrize(("before", "after", "words"), PACK_MISTAKES)
def test_a_mistake_in_a_houses_cautions_is_named_by_file_and_line(
    tmp_path: Path, before: str, after: str, words: str
) -> None:
    row = changed(H02, before, after)
    first = TEXT[: TEXT.index(H02)].count("\n") + 1
    found = [one for one in check(house(tmp_path, cautions=TEXT.replace(H02, row))) if words in one.words]
    assert found, check(tmp_path)
    assert {one.file for one in found} == {"cautions.yaml"}
    assert all(first <= one.line <= first + row.count("\n") for one in found), (first, found)


def test_an_older_pack_of_a_house_is_told_what_each_row_lacks(tmp_path: Path) -> None:
    """A house that wrote its cautions before rows had a first minute hears what to add, not that all is good."""
    older = (
        'country: "Elsewhere"\nnotice: "None."\ncard: ["Hands off."]\ncautions:\n'
        '  - {hazard: H01, subject: "Arms", sign: "Barrel", level: red, caution: "Stop.", may: "Wait",\n'
        '     may_not: "Touch", who: "Police", basis: "Common practice"}\n'
    )
    found = [one for one in check(house(tmp_path, cautions=older)) if one.file == "cautions.yaml"]
    words = " ".join(one.words for one in found if one.line >= 5)
    for key in ("name", "synonyms", "first_minute", "extent", "sources", "checked_on", "goes_home"):
        assert f'the key "{key}" is missing' in words
    assert 'unknown key "basis"' in words


def test_cautions_that_are_no_yaml_are_named_with_the_line(tmp_path: Path) -> None:
    text = changed(TEXT, 'name: "Ammunition"', 'name: "Ammunition')
    (problem, *_) = check(house(tmp_path, cautions=text))
    assert problem.file == "cautions.yaml"
    assert problem.line >= text[: text.index('name: "Ammunition')].count("\n") + 1


def test_a_published_source_without_its_date_is_a_mistake(tmp_path: Path) -> None:
    text = changed(TEXT, ', dated: "2018", seen: second-hand}', ", seen: second-hand}")
    line = text[: text.index("{source: ivory-act")].count("\n") + 1
    found = [
        (one.file, one.line) for one in check(house(tmp_path, cautions=text)) if "publisher" in one.words
    ]
    assert found == [("cautions.yaml", line)]


def test_a_step_that_does_not_fit_on_the_card_is_told(tmp_path: Path) -> None:
    text = changed(TEXT, "Nobody posts a picture", f"{'Nobody at all. ' * 12}Nobody posts a picture")
    line = text[: text.index("Nobody at all.")].count("\n") + 1
    (found,) = check(house(tmp_path, cautions=text))
    assert (found.line, "170 fit on the card that is printed" in found.words) == (line, True)


def test_urgent_and_unknown_must_be_rows(tmp_path: Path) -> None:
    text = changed(changed(TEXT, "urgent: [H68,", "urgent: [H77,"), "unknown: H90", "unknown: H78")
    found = {(one.line, one.words.split(":")[0]) for one in check(house(tmp_path, cautions=text))}
    line = text[: text.index("urgent:")].count("\n") + 1
    assert found == {(line, 'there is no caution "H77"'), (line + 1, 'there is no caution "H78"')}


PLAN_MISTAKES = [
    pytest.param(
        "    stopped_by: [H08, H18, H19, H48, H57]\n",
        "    stopped_by: [H08, H18, H48, H57]\n",
        "- test: stopper",
        "the caution H19 (Unknown chemical or crystals) forbids this test",
        id="a trial over contents",
    ),
    pytest.param(
        "    stopped_by: [H18, H19]\n",
        "    stopped_by: [H18]\n",
        None,
        "the caution H19 (Unknown chemical or crystals) forbids this denial's light",
        id="a light over contents",
    ),
    pytest.param(
        "H18, H19, H20, H24",
        "H18, H20, H24",
        "hazards:",
        "the caution H19 (Unknown chemical or crystals) concerns this class",
        id="a class that leaves a caution out",
    ),
    pytest.param(
        "    lights: [ultraviolet]\n",
        "    lights: [moonlight]\n",
        "lights: [moonlight]",
        'no light "moonlight"',
        id="unknown light of a trial",
    ),
    pytest.param(
        "stopped_by: [H18, H19]",
        "stopped_by: [H18, H19, H27]",
        "stopped_by: [H18, H19, H27]",
        'no caution among its hazards "H27"',
        id="stopped by what the class does not have",
    ),
]


@pytest.mark.parametrize(("before", "after", "at", "words"), PLAN_MISTAKES)
def test_a_plan_with_a_trial_that_a_caution_forbids_is_refused(
    tmp_path: Path, before: str, after: str, at: str | None, words: str
) -> None:
    text = changed(GLASS, before, after)
    found = [one for one in check(house(tmp_path, glass=text)) if words in one.words]
    assert [one.file for one in found] == ["glass.yaml"]
    if at is not None:
        assert at in text.splitlines()[found[0].line - 1]


def test_a_class_of_a_houses_own_is_held_to_the_cautions_that_it_names(tmp_path: Path) -> None:
    """Under another name the same plan would else keep a trial that hurts."""
    text = changed(GLASS, "class_id: glass\n", "class_id: glassware\n")
    assert check(house(tmp_path, glassware=text)) == []
    text = changed(text, "    stopped_by: [H08, H18, H19, H48, H57]\n", "    stopped_by: [H57]\n")
    (tmp_path / "plans" / "glassware.yaml").write_text(text, "utf-8")
    told = "the caution {} forbids this test"
    words = [one.words for one in check(tmp_path)]
    for row in (
        "H18 (Bottle or medicine with contents)",
        "H48 (Glass fire grenade)",
        "H19 (Unknown chemical or crystals)",
    ):
        assert any(one.startswith(told.format(row)) for one in words), words


def test_a_houses_own_plan_leaves_the_shipped_cautions_whole(tmp_path: Path) -> None:
    """A trial that a house took out of a class is still one that the shipped rows may name."""
    text = GLASS.replace("- test: stopper", "- test: stopper-of-ours").replace(
        "[stopper]", "[stopper-of-ours]"
    )
    assert not [one for one in check(house(tmp_path, glass=text)) if one.file == "cautions.yaml"]


def test_a_rule_that_is_never_broken_is_not_forbidden(tmp_path: Path) -> None:
    """`never_when: always` is itself the prohibition; the barometer stays upright whatever was raised."""
    (tilt,) = [t for t in PLANS.plans["camera-scientific"].tests if t.test == "barometer-tilt"]
    assert "barometer-tilt" in ROWS["H13"].forbids[0].tests
    assert (tilt.never_when, tilt.stopped_by) == ("always", [])


def test_a_row_without_classes_holds_for_every_plan_that_names_it(tmp_path: Path) -> None:
    text = changed(GLASS, "H08, H18, H19, H48, H57]\n", "H08, H18, H19, H48]\n")
    told = "the caution H57 (Odd smell) forbids this test: add it to stopped_by, or take the test out."
    assert check(house(tmp_path, glass=text)) == [
        Problem("glass.yaml", text[: text.index("- test: stopper")].count("\n") + 1, told)
    ]
