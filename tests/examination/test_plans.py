"""The plans as data: complete, and every mistake named by file and line."""

from __future__ import annotations

import hashlib
import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
import rfc8785

from intake.examination.findings import TO_LOOK_AT
from intake.examination.kinds_of import plan_for
from intake.examination.plan import zone_keys
from intake.examination.plan_check import Problem
from intake.examination.plans import SHIPPED, PlanError, check, load_plans

PLANS = load_plans()
FREE = (SHIPPED / "plans" / "free.yaml").read_text("utf-8")
ARMS = (SHIPPED / "plans" / "arms.yaml").read_text("utf-8")
VOCABULARY = (SHIPPED / "vocabulary.yaml").read_text("utf-8")
WORDS = (SHIPPED / "words.yaml").read_text("utf-8")
PRINT = (SHIPPED / "print.yaml").read_text("utf-8")

# How many zones the trade walks through, without the packaging. Source: common practice, ids and cut our own.
ZONES = {
    "soft-toy": 24,
    "doll": 24,
    "tinplate-diecast": 22,
    "ceramics": 20,
    "glass": 20,
    "silver-plate": 22,
    "jewellery": 18,
    "watch": 21,
    "clock": 22,
    "furniture": 25,
    "painting": 18,
    "work-on-paper": 17,
    "book-map": 23,
    "textile-rug": 20,
    "stringed-instrument": 23,
    "medal-coin": 18,
    "camera-scientific": 22,
    "free": 12,
}


def house(folder: Path, **files: str) -> Path:
    """A house's folder; `free=` is a plan, `vocabulary=`, `words=` and `print=` stand beside the plans."""
    (folder / "plans").mkdir(exist_ok=True)
    for name, text in files.items():
        place = folder if name in ("vocabulary", "words", "print") else folder / "plans"
        (place / f"{name}.yaml").write_text(text, "utf-8")
    return folder


def changed(text: str, before: str, after: str) -> str:
    assert before in text
    return text.replace(before, after, 1)


def mistakes(folder: Path) -> list[Problem]:
    """What is wrong in the data files; a drawing that now has a zone too many is told as well, and tested elsewhere."""
    return [problem for problem in check(folder) if not problem.file.endswith(".svg")]


def line_with(text: str, words: str) -> int:
    """The one line that has these words, counted from 1."""
    lines = [number for number, line in enumerate(text.splitlines(), 1) if words in line]
    assert len(lines) == 1, f"{words!r} stands on lines {lines}"
    return lines[0]


@pytest.mark.parametrize(("class_id", "zones"), ZONES.items())
def test_a_class_has_all_its_zones_and_the_packaging_last(class_id: str, zones: int) -> None:
    names = [zone.zone for zone in plan_for(PLANS.plans[class_id], None).zones]
    assert (len(names), names[-1]) == (zones + 1, "packaging")


def test_every_class_has_a_plan_and_only_arms_are_never_examined() -> None:
    assert set(PLANS.plans) == {*ZONES, "arms"}
    assert [plan.class_id for plan in PLANS.plans.values() if plan.refer_only] == ["arms"]


def test_a_class_that_is_referred_says_what_to_do_and_has_nothing_to_walk() -> None:
    arms = PLANS.plans["arms"]
    assert (arms.zones, arms.tests, arms.views, arms.questions) == ([], [], [], [])
    assert len(arms.instructions.do) >= 5
    assert len(arms.instructions.do_not) >= 5


@pytest.mark.parametrize("class_id", ZONES)
def test_a_plan_answers_five_questions_and_says_when_not_to_test(class_id: str) -> None:
    plan = PLANS.plans[class_id]
    assert len(plan.questions) == 5
    assert all(test.how != test.never_when for test in plan.tests)
    assert "with-scale-and-tag" in [view.view for view in plan.views]
    assert any(zone.weight == "key" for zone in plan.zones)


#: What a usual thing of each class never had, by what it is called.
LACKS: dict[str, tuple[str, tuple[str, ...]]] = {
    "book-map": ("atlas", ("jacket", "slipcase", "map-folds", "inscriptions", "set-count", "half-title")),
    "camera-scientific": ("camera", ("bellows", "meter", "moving-parts", "optics-other", "tubes-liquid")),
    "ceramics": ("vase", ("cover", "knop", "spout", "handles", "applied", "stand", "mounts", "set-count")),
    "clock": ("clock", ("weights", "base-dome", "mounts", "finials", "keys")),
    "doll": ("doll", ("voice-mechanism", "shoes", "shoulder-plate", "extras", "under-clothes")),
    "furniture": (
        "armchair",
        ("drawers", "drawer-linings", "runners", "doors", "locks", "glass-mirror", "leaves"),
    ),
    "glass": ("goblet", ("stopper", "stopper-peg", "neck", "lip", "handle", "mounts", "drops", "set-count")),
    "jewellery": ("ring", ("clasp", "brooch-pin", "ear-fittings", "stringing", "links", "locket", "enamel")),
    "medal-coin": ("coin", ("suspension", "ribbon", "clasps", "naming", "mounting", "note-paper", "holder")),
    "painting": ("landscape", ("lining", "glazing", "slip", "hanging")),
    "silver-plate": ("teapot", ("tines-blades", "set-count", "loading", "liner", "plating", "gilding")),
    "soft-toy": ("bear", ("voice", "dress", "label-mark", "claws-front", "claws-hind", "tail")),
    "stringed-instrument": ("guitar", ("bow-stick", "bow-frog", "bow-brand", "sound-post", "case")),
    "textile-rug": (
        "rug",
        ("seams", "stress", "fastenings", "hem", "lining", "trim", "frame-mount", "set-count"),
    ),
    "tinplate-diecast": ("car", ("steam-parts", "motor-electric", "clockwork", "key", "extras", "figures")),
    "watch": ("watch", ("lugs", "strap", "buckle", "sub-dials", "pushers", "luminous", "papers")),
    "work-on-paper": ("etching", ("watermark", "stamps", "hinges", "frame", "glazing", "mount")),
}


def test_each_class_whose_things_have_a_usual_form_has_its_usual_lacks() -> None:
    assert {*LACKS, "free"} == set(ZONES)


@pytest.mark.parametrize("class_id", LACKS)
def test_what_a_usual_thing_of_a_class_never_had_is_offered_as_that(class_id: str) -> None:
    """Whoever walks its zones says it in one sweep, and the key beside the first of them says the others."""
    called, lacks = LACKS[class_id]
    zones = {zone.zone: zone for zone in PLANS.plans[class_id].zones}
    assert [name for name in lacks if not (zones[name].optional or called in zones[name].not_named)] == []


#: What of each class nobody sees who does not open it, turn it over, take it out of its frame, undress, feel or try it,
#: by the plans of section 4 of the trade's notes and its rules for the hand (2.3, 2.5).
UNSEEN: dict[str, str] = {
    "soft-toy": "joints filling voice",  # 4.1
    "doll": "crown shoulder-plate body legs feet stringing voice-mechanism body-mark under-clothes",  # 4.2
    "tinplate-diecast": "base clockwork motor-electric steam-parts action box-flaps",  # 4.3
    "ceramics": "cover underside mark",  # 4.4
    "glass": "stopper-peg base",  # 4.5
    "silver-plate": "hinge base loading marks-parts",  # 4.6
    "jewellery": "clasp brooch-pin locket",  # 4.7
    "watch": "pushers inner-cover case-marks movement balance",  # 4.8
    "clock": "movement back-plate strike bell-gong escapement pendulum suspension weights seatboard back-board",  # 4.9
    "furniture": "drawer-linings runners locks back underside seat leaves fire-label",  # 4.10
    "painting": "edges reverse stretcher tacking lining labels hanging",  # 4.11
    "work-on-paper": "verso watermark stamps hinges support sheet-edges",  # 4.12
    "book-map": "endpapers ownership half-title frontispiece title-leaf text plates sewing inscriptions",  # 4.13
    "textile-rug": "back lining",  # 4.14
    "stringed-instrument": "sound-post inside label",  # 4.15
    "medal-coin": "edge naming case documents holder note-paper",  # 4.16
    "camera-scientific": (
        "aperture shutter focus bellows transport door tubes-liquid accessories case batteries film-inside"
    ),  # 4.17
    "free": "underside inside working",  # 4.19
}


@pytest.mark.parametrize("class_id", ZONES)
def test_what_nobody_sees_at_a_first_look_is_not_called_clear_with_the_rest(class_id: str) -> None:
    """It waits for the test, the light or the statement that shows it, or is called clear by itself."""
    zones = {zone.zone: zone for zone in PLANS.plans[class_id].zones}

    def waits(name: str) -> bool:
        zone = zones[name]
        return bool(zone.alone or zone.tests or zone.lights or zone.under) or any(map(waits, zone.inside))

    assert [name for name in zones if waits(name)] == sorted(UNSEEN[class_id].split(), key=[*zones].index)


def test_what_is_denied_reads_as_what_was_not_found() -> None:
    """On the screen it stands under "Looked for and not found": "marks legible" would say that they are not."""
    denied = [row.words for plan in PLANS.plans.values() for row in plan.negatives if row.zones]
    assert denied
    assert [words for words in denied if not words.startswith("no ")] == []


def test_where_marks_are_looked_for_are_places_alone() -> None:
    """What helps the table beside them is a hint: it is not printed of a lot."""
    places = [place for plan in PLANS.plans.values() for place in plan.marks]
    assert len(places) > 80
    assert [place for place in places if not re.fullmatch(r"[a-z][a-z' -]+", place)] == []


def test_the_vocabulary_has_every_family_and_every_usual_term() -> None:
    terms = {term.term for term in PLANS.vocabulary.terms}
    usual = {term for plan in PLANS.plans.values() for zone in plan.zones for term in zone.usual}
    assert usual <= terms
    assert len(terms) == 123
    assert len({term.family for term in PLANS.vocabulary.terms}) == 9


def test_whatever_spreads_is_to_be_isolated() -> None:
    """Source: common practice. These hold an item back, so a slip here would let moth into the store."""
    spreading = {term.term for term in PLANS.vocabulary.terms if term.activity == "Q"}
    assert spreading == {
        "live-insects",
        "frass",
        "mould",
        "lead-bloom",
        "plasticiser-weep",
        "acetate-decay",
        "nitrate-decay",
        "battery-leak",
        "lume-decay",
        "odour-chemical",
    }


def test_the_words_cover_the_reasons_severities_and_certainties_that_records_carry() -> None:
    words = PLANS.words
    assert {"absent", "not-applicable", "sealed", TO_LOOK_AT} <= {reason.reason for reason in words.reasons}
    assert len(words.reasons) == 13
    assert [severity.severity for severity in words.severities] == [0, 1, 2, 3, 4]
    assert [certainty.certainty for certainty in words.certainties] == [
        "certain",
        "probable",
        "possible",
        "not-determined",
        "told",
    ]


def test_pairs_are_two_members_named_by_whose_side() -> None:
    keys = zone_keys(PLANS.plans["soft-toy"])
    assert keys[:6] == ["outline", "cover", "head", "face", "ears/proper-right", "ears/proper-left"]
    assert "claws-front" in keys  # counted: one state and a number
    assert zone_keys(PLANS.plans["arms"]) == []


def test_no_side_is_only_left_or_right() -> None:
    keys = [key for plan in PLANS.plans.values() for key in zone_keys(plan)]
    assert not [key for key in keys if key.endswith(("/left", "/right"))]


def test_the_lugs_of_a_watch_are_numbered_from_a_stated_start() -> None:
    watch = PLANS.plans["watch"]
    assert [key for key in zone_keys(watch) if key.startswith("lugs")] == [
        "lugs/1",
        "lugs/2",
        "lugs/3",
        "lugs/4",
    ]
    assert watch.count_start == "Lugs clockwise from 12."


PLAN_MISTAKES = [
    pytest.param("    weight: key\n", "    weight: heavy\n", "weight: heavy", "heavy", id="unknown weight"),
    pytest.param(
        "    photo: finding\n", "    photo: often\n", "photo: often", "often", id="unknown photo rule"
    ),
    pytest.param(
        "[missing-part, distortion]", "[gremlin]", "gremlin", 'no term "gremlin"', id="unknown term"
    ),
    pytest.param("[missing-part, distortion]", "[dust, dust]", "[dust, dust]", "twice", id="term twice"),
    pytest.param("[missing-part, distortion]", "[]", "usual: []", "needs at least 1", id="no usual term"),
    pytest.param(
        "[missing-part, distortion]", "dust", "usual: dust", "a list, and is text", id="text for a list"
    ),
    pytest.param(
        "- zone: back\n", "- zone: front\n", None, 'the zone "front" is there twice', id="zone twice"
    ),
    pytest.param("frame: own", "frame: sideways", "sideways", "sideways", id="unknown frame"),
    pytest.param(
        "refer_only: false", "smell: bad\nrefer_only: false", "smell: bad", "unknown key", id="unknown key"
    ),
    pytest.param("name: ", "nam: ", "nam: ", 'unknown key "nam"', id="misspelt key"),
    pytest.param("frame: own\n", "frame: own\nframe: own\n", None, '"frame" is there twice', id="key twice"),
    pytest.param(
        "members: counted", "members: many", "members: many", "a list of its members", id="bad members"
    ),
    pytest.param(
        "refer_only: false", "refer_only: 7", "refer_only: 7", "boolean", id="number for a yes or no"
    ),
    pytest.param("class_id: free", "class_id: other", "class_id: other", "another class", id="other class"),
    pytest.param("hazards: [H05", "hazards: [fire", "hazards: [fire", '"fire" is no id', id="no hazard id"),
    pytest.param("\nzones:\n", "\nzones: [\n", None, "this is no YAML", id="no YAML"),
]


@pytest.mark.parametrize(("before", "after", "at", "words"), PLAN_MISTAKES)
def test_a_mistake_in_a_plan_is_named_by_file_and_line(
    tmp_path: Path, before: str, after: str, at: str | None, words: str
) -> None:
    text = changed(FREE, before, after)
    found = mistakes(house(tmp_path, free=text))
    assert [problem.file for problem in found] == ["free.yaml"] * len(found)
    assert any(words in problem.words for problem in found), found
    if at is not None:
        assert line_with(text, at) in [problem.line for problem in found if words in problem.words]


def test_a_doubled_zone_is_named_where_it_stands_the_second_time(tmp_path: Path) -> None:
    text = changed(FREE, "  - zone: back\n", "  - zone: front\n")
    second = [number for number, line in enumerate(text.splitlines(), 1) if line == "  - zone: front"][1]
    told = 'the zone "front" is there twice: rename or remove one.'
    assert Problem("free.yaml", second, told) in mistakes(house(tmp_path, free=text))


def test_a_doubled_key_is_named_where_it_stands_the_second_time(tmp_path: Path) -> None:
    text = changed(FREE, "refer_only: false\n", "refer_only: false\nname: other\n")
    told = 'the key "name" is there twice: remove one.'
    assert mistakes(house(tmp_path, free=text)) == [
        Problem("free.yaml", line_with(text, "name: other"), told)
    ]


def test_a_missing_key_is_named_where_its_zone_begins(tmp_path: Path) -> None:
    text = changed(FREE, "    photo: finding\n", "")
    found = mistakes(house(tmp_path, free=text))
    zone = line_with(FREE, "  - zone: top")
    assert found == [Problem("free.yaml", zone, 'the key "photo" is missing: add it.')]


def test_broken_yaml_is_named_with_the_line_it_broke_on(tmp_path: Path) -> None:
    text = changed(FREE, 'name: "Anything', 'name: x: "Anything')
    found = mistakes(house(tmp_path, free=text))
    assert [(problem.file, problem.line) for problem in found] == [("free.yaml", line_with(text, "name: x:"))]


@pytest.mark.parametrize("name", ["zones", "tests", "views", "marks", "measures", "questions", "negatives"])
def test_a_list_with_nothing_in_it_is_a_mistake(tmp_path: Path, name: str) -> None:
    lines = FREE.splitlines()
    start = lines.index(f"{name}:")
    end = next(number for number in range(start + 1, len(lines)) if not lines[number].startswith("  "))
    text = "\n".join([*lines[:start], f"{name}: []", *lines[end:]])
    told = f"the list of {name} is empty: a plan needs at least one."
    assert Problem("free.yaml", start + 1, told) in mistakes(house(tmp_path, free=text))


def test_a_sixth_question_is_a_mistake(tmp_path: Path) -> None:
    text = changed(FREE, "questions:\n", 'questions:\n  - question: "And one more?"\n')
    assert ["6 questions" in problem.words for problem in mistakes(house(tmp_path, free=text))] == [True]


def test_a_plan_that_holds_itself_is_named_by_line(tmp_path: Path) -> None:
    text = changed(FREE, "marks:\n", "marks: &marks\n  - *marks\n")
    (problem,) = mistakes(house(tmp_path, free=text))
    assert problem.line == text.splitlines().index("marks: &marks") + 1
    assert "holds itself" in problem.words


REFERENCE_MISTAKES = [
    pytest.param(
        "    zones: [marks]\n", "    zones: [attic]\n", 'no zone in this plan "attic"', id="question zone"
    ),
    pytest.param(
        "    zones: [marks]\n",
        "    zones: [marks]\n    statements: [unheard]\n",
        'no statement in this plan "unheard"',
        id="statement that is asked for",
    ),
    pytest.param(
        "    zones: [extras, packaging]\n",
        '    zones: [extras, packaging]\n    leaves_open: [{words: "not noted", if_found: [attic]}]\n',
        'no zone in this plan "attic"',
        id="zone on which something is found",
    ),
    pytest.param(
        "refer_only: false\n",
        "refer_only: false\nsays_on: {associated-part: {attic: associated}}\n",
        'no zone in this plan "attic"',
        id="zone of which a term says something else",
    ),
    pytest.param(
        "  - zone: surface\n",
        "  - zone: surface\n    missed_with: [attic]\n",
        'no zone in this plan "attic"',
        id="zone that one is missed with",
    ),
    pytest.param(
        "  - zone: surface\n",
        "  - zone: surface\n    beside: [attic]\n",
        'no zone in this plan "attic"',
        id="zone that one lies beside",
    ),
    pytest.param(
        "  - zone: surface\n",
        "  - zone: surface\n    inside: [attic]\n",
        'no other zone in this plan "attic"',
        id="zone that one lies inside",
    ),
    pytest.param(
        "  - zone: surface\n",
        "  - zone: surface\n    inside: [surface]\n",
        'no other zone in this plan "surface"',
        id="zone inside itself",
    ),
    pytest.param(
        "{measure: height,",
        "{measure: height, of: [attic],",
        'no zone in this plan "attic"',
        id="zone of a measure",
    ),
    pytest.param(
        "    zones: [marks]\n",
        "    zones: [marks]\n    hazards: [H02]\n",
        'no caution among its hazards "H02"',
        id="caution that is asked for",
    ),
    pytest.param(
        "    zones: [marks]\n",
        '    zones: [marks]\n    of_rest: {zones: [front], one: "is", many: "are"}\n',
        'no zone asked about "front"',
        id="rest of what is asked about",
    ),
    pytest.param(
        "    zones: [extras, packaging]\n",
        '    zones: [extras, packaging]\n    leaves_open:\n      - {words: "open", of: [attic]}\n',
        'no zone in this plan "attic"',
        id="zone of what is left open",
    ),
    pytest.param(
        "    zones: [marks]\n",
        '    zones: [marks]\n    if_there: {zone: attic, words: "there"}\n',
        'no zone in this plan "attic"',
        id="zone that is told of if it is there",
    ),
    pytest.param(
        "    judged: [marks]\n",
        "    judged: [attic]\n",
        'no zone in this plan "attic"',
        id="zone that is judged",
    ),
    pytest.param(
        "    zones: [marks]\n",
        "    zones: [marks]\n    by_trial: [attic]\n",
        'no zone asked about "attic"',
        id="zone that is told by trials",
    ),
    pytest.param(
        "    zones: [extras, packaging]\n",
        "    zones: [extras, packaging]\n    leaves_open:\n      - {words: x, alone: [attic]}\n",
        'no zone in this plan "attic"',
        id="zone that is left open alone",
    ),
    pytest.param(
        "    zones: [marks]\n",
        "    zones: [marks]\n    put_to: [attic]\n",
        'no zone in this plan "attic"',
        id="zone that a question is put to",
    ),
    pytest.param(
        "    zones: [extras, packaging]\n",
        '    zones: [extras, packaging]\n    leaves_open:\n      - {words: "open", if_none: [attic]}\n',
        'no zone in this plan "attic"',
        id="zone of what is open where it has none",
    ),
    pytest.param(
        "    zones: [extras, packaging]\n",
        "    zones: [extras, packaging]\n    leaves_open:\n      - {words: x, sealed: {zones: [attic], words: shut}}\n",
        'no zone in this plan "attic"',
        id="zone that may be sealed",
    ),
    pytest.param(
        "    zones: [extras, packaging]\n",
        "    zones: [extras, packaging]\n    leaves_open:\n      - {words: x, unseen: {zones: [attic], words: dark}}\n",
        'no zone in this plan "attic"',
        id="zone that nobody may have seen",
    ),
    pytest.param(
        "    zones: [marks]\n",
        '    zones: [marks]\n    present:\n      - {zone: attic, words: "attic"}\n',
        'no zone in this plan "attic"',
        id="zone that is said to be present",
    ),
    pytest.param(
        "    zones: [marks]\n",
        "    zones: [marks]\n    faults_only: [surface]\n",
        'no zone asked about "surface"',
        id="zone of which faults alone are told",
    ),
    pytest.param(
        "    zones: [marks]\n",
        "    zones: [marks]\n    told_tests: [seance]\n",
        'no test in this plan "seance"',
        id="test that is told where it failed",
    ),
    pytest.param(
        "    zones: [marks]\n",
        "    zones: [marks]\n    aside: [attic]\n",
        'no term, family of terms or zone "attic"',
        id="what stands aside",
    ),
    pytest.param(
        "{measure: height,",
        "{measure: height, short_of: heaps,",
        'no count in this plan "heaps"',
        id="count that one falls short of",
    ),
    pytest.param(
        "{measure: height,",
        "{measure: height, within: height,",
        'no other length in this plan "height"',
        id="length that one lies within",
    ),
    pytest.param("terms: [crack, loss, filled]", "terms: [gremlin]", 'no term "gremlin"', id="denied term"),
    pytest.param("lights: [lamp, torch]", "lights: [moonlight]", 'no light "moonlight"', id="light"),
    pytest.param(
        "    lights: [lamp, torch]\n", "", "needs zones, terms and lights", id="denial without a light"
    ),
    pytest.param("hazards: [H05,", "hazards: [H99,", 'no caution "H99"', id="unknown caution"),
    pytest.param(
        "unit: mm, least: 5, most: 2500",
        "unit: hands, least: 5, most: 2500",
        '"hands" is not known',
        id="unit",
    ),
]


@pytest.mark.parametrize(("before", "after", "words"), REFERENCE_MISTAKES)
def test_an_id_that_nothing_defines_is_named_by_line(
    tmp_path: Path, before: str, after: str, words: str
) -> None:
    text = changed(FREE, before, after)
    found = mistakes(house(tmp_path, free=text))
    assert any(words in problem.words for problem in found), found
    assert {problem.file for problem in found} == {"free.yaml"}


def test_a_referred_class_without_instructions_or_with_zones_is_a_mistake(tmp_path: Path) -> None:
    text = changed(FREE, "refer_only: false", "refer_only: true")
    lines = {problem.line for problem in mistakes(house(tmp_path, free=text))}
    rows = text.splitlines()
    assert lines == {rows.index(row) + 1 for row in ("zones:", "tests:", "  do: []", "  do_not: []")}


VOCABULARY_MISTAKES = [
    pytest.param(
        "  - term: hairline\n", "  - term: crack\n", 'the term "crack" is there twice', id="term twice"
    ),
    pytest.param("[hairline, split,", "[gremlin, split,", 'no other term "gremlin"', id="unknown lookalike"),
    pytest.param("[hairline, split,", "[crack, split,", 'no other term "crack"', id="its own lookalike"),
    pytest.param("[CE, GL, WD,", "[XX, GL, WD,", 'no material "XX"', id="unknown material"),
    pytest.param("    severity: 3\n", "    severity: 9\n", "less than or equal to 4", id="severity"),
    pytest.param("    activity: w\n", "    activity: z\n", '"z" is not known', id="activity"),
    pytest.param("    materials: [TX", "    materials: TX #", "a list, and is text", id="text for a list"),
]


@pytest.mark.parametrize(("before", "after", "words"), VOCABULARY_MISTAKES)
def test_a_mistake_in_the_vocabulary_is_named_by_file_and_line(
    tmp_path: Path, before: str, after: str, words: str
) -> None:
    text = changed(VOCABULARY, before, after)
    line = 1 + text[: VOCABULARY.index(before)].count("\n")
    found = mistakes(house(tmp_path, vocabulary=text))
    assert ("vocabulary.yaml", line) in [(one.file, one.line) for one in found if words in one.words], found


def test_a_term_that_plans_use_cannot_be_taken_out_unnoticed(tmp_path: Path) -> None:
    text = changed(VOCABULARY, "  - term: stuffing-shift\n", "  - term: stuffing-moved\n")
    toy = (SHIPPED / "plans" / "soft-toy.yaml").read_text("utf-8")
    first = next(number for number, line in enumerate(toy.splitlines(), 1) if "stuffing-shift" in line)
    told = 'there is no term "stuffing-shift": correct it, or add the term first.'
    assert Problem("soft-toy.yaml", first, told) in mistakes(house(tmp_path, vocabulary=text))


def test_a_reason_that_stands_twice_is_named(tmp_path: Path) -> None:
    text = changed(WORDS, "{reason: covered,", "{reason: sealed,")
    line = line_with(WORDS, "reason: covered")
    told = 'the reason "sealed" is there twice: rename or remove one.'
    assert mistakes(house(tmp_path, words=text)) == [Problem("words.yaml", line, told)]


def test_a_member_is_named_once_for_each_zone_and_once_for_the_others(tmp_path: Path) -> None:
    left = '  - {member: "viewers-left", of: margins, before: "left"}\n'
    text = changed(PRINT, left, left + left)
    line = line_with(PRINT, left.strip()) + 1
    told = 'the member "margins/viewers-left" is there twice: rename or remove one.'
    assert mistakes(house(tmp_path, print=text)) == [Problem("print.yaml", line, told)]


def test_every_mistake_of_every_file_is_told_at_once(tmp_path: Path) -> None:
    folder = house(
        tmp_path,
        free=changed(FREE, "weight: key", "weight: heavy"),
        arms=changed(ARMS, "frame: own", "frame: sideways"),
        vocabulary=changed(VOCABULARY, "[hairline, split,", "[gremlin, split,"),
    )
    with pytest.raises(PlanError) as caught:
        load_plans(folder)
    assert caught.value.code == "plan_invalid"
    told = caught.value.detail.splitlines()
    assert sorted(line.split(":")[0] for line in told) == ["arms.yaml", "free.yaml", "vocabulary.yaml"]
    assert all(line.split(":")[1].isdigit() for line in told)


@pytest.mark.parametrize("content", [b"", b"# only a comment\n", b"name: \xff\n", b"just words\n", b"- 1\n"])
def test_a_file_that_is_no_plan_at_all_is_named(tmp_path: Path, content: bytes) -> None:
    (house(tmp_path) / "plans" / "free.yaml").write_bytes(content)
    assert [problem.file for problem in check(tmp_path)] == ["free.yaml"]


def test_a_file_that_would_be_passed_over_is_named(tmp_path: Path) -> None:
    """Otherwise a house believes that its change is in force."""
    house(tmp_path)
    (tmp_path / "free.yaml").write_text(FREE, "utf-8")
    (tmp_path / "plans" / "clock.yml").write_text(FREE, "utf-8")
    assert sorted(problem.file for problem in check(tmp_path)) == ["clock.yml", "free.yaml"]
    assert ["no such folder" in problem.words for problem in check(tmp_path / "plan")] == [True]


def test_a_house_changes_one_plan_and_keeps_the_others(tmp_path: Path) -> None:
    plans = load_plans(house(tmp_path, free=changed(FREE, "whole thing", "the whole thing")))
    assert set(plans.plans) == set(PLANS.plans)
    assert plans.plans["free"].zones[0].words == "the whole thing, completeness"
    assert plans.plans["free"].version != PLANS.plans["free"].version
    others = set(plans.plans) - {"free"}
    assert all(plans.plans[class_id] == PLANS.plans[class_id] for class_id in others)


def test_a_house_adds_a_class_of_its_own(tmp_path: Path) -> None:
    plans = load_plans(house(tmp_path, fan=changed(FREE, "class_id: free", "class_id: fan")))
    assert set(plans.plans) == {*PLANS.plans, "fan"}


def test_a_version_is_the_digest_of_the_canonical_plan() -> None:
    """Source: RFC 8785 for the canonical form; SHA-256 by the standard library."""
    body = PLANS.plans["clock"].body()
    version = body.pop("version")
    assert version == hashlib.sha256(rfc8785.dumps(body)).hexdigest()[:12]


def test_a_version_does_not_depend_on_the_order_of_keys_or_on_comments(tmp_path: Path) -> None:
    moved = changed(FREE, "class_id: free\n", "") + "# at the end\nclass_id: free\n"
    assert load_plans(house(tmp_path, free=moved)).plans["free"].version == PLANS.plans["free"].version


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("weight: minor", "weight: key"),
        ("[missing-part, distortion]", "[distortion, missing-part]"),
        ("do_not: []", 'do_not: ["Do not lick it."]'),
        ("H30, H46", "H30, H31, H46"),
    ],
)
def test_a_version_changes_with_whatever_is_changed(tmp_path: Path, before: str, after: str) -> None:
    plans = load_plans(house(tmp_path, free=changed(FREE, before, after)))
    assert plans.plans["free"].version != PLANS.plans["free"].version


def test_what_devices_read_is_plain_json_with_versions() -> None:
    body = json.loads(json.dumps(PLANS.body()))
    assert {*body} == {"plans", "vocabulary", "words", "print", "cautions", "classes", "views", "outlines"}
    assert body["plans"]["free"]["version"] == PLANS.plans["free"].version
    assert body["plans"]["watch"]["zones"][10]["members"] == ["1", "2", "3", "4"]
    assert body["vocabulary"]["terms"][0]["term"] == "crack"


@pytest.mark.parametrize(
    ("weight", "code", "told"),
    [("key", 0, "19 plans, 123 terms: all good\n"), ("heavy", 1, "free.yaml:")],
)
def test_the_command_prints_the_mistakes_or_that_all_is_good(
    tmp_path: Path, weight: str, code: int, told: str
) -> None:
    folder = house(tmp_path, free=changed(FREE, "weight: key", f"weight: {weight}"))
    command = [sys.executable, "-m", "intake.examination.plans", str(folder)]
    ended = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (ended.returncode, ended.stdout[: len(told)]) == (code, told)


def test_the_worked_examples_of_condition_use_the_shipped_zones() -> None:
    """The app's tests reckon with these; they must be the zones and weights that a table works with."""
    examples = json.loads((Path(__file__).parents[2] / "fixtures" / "condition.json").read_text("utf-8"))
    for class_id, zones in examples["plans"].items():
        shipped = PLANS.plans[class_id].zones
        assert zones == [{"zone": z.zone, "weight": z.weight, "members": z.members} for z in shipped]


@pytest.mark.parametrize("said", ["does not run", "doesn't run", "not going", "does not work", "not working"])
def test_that_something_does_not_run_is_a_term_as_it_is_said_at_the_table(said: str) -> None:
    terms = PLANS.vocabulary.terms
    assert [term.term for term in terms if any(said in words for words in term.said_as)] == ["no-action"]


@pytest.mark.parametrize(
    ("thing", "class_id"),
    [
        ("microscope", "camera-scientific"),
        ("violin", "stringed-instrument"),
        ("accordion", "free"),
        ("flute", "free"),
    ],
)
def test_a_key_says_where_a_thing_belongs_of_which_somebody_asks(thing: str, class_id: str) -> None:
    """An instrument to look through and one to play were keys beside each other, and a flute had none."""
    said = {key: f"{row['words']} {row.get('also') or ''}" for key, row in PLANS.body()["classes"].items()}
    assert [key for key, words in said.items() if thing in words.lower()] == [class_id]


def test_a_finding_on_record_is_not_called_none() -> None:
    words = {row.severity: row.words for row in PLANS.words.severities}
    assert words[0] == "no fault"
