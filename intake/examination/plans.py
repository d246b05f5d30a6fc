"""Plans: for each class of thing its zones in order, tests, views, marks, measures and questions.

Plans, vocabulary, words and cautions are data files that a house can edit. A house's folder is laid out like the
shipped one (`plans/CLASS.yaml`, `outlines/CLASS.VIEW.svg`, `classes.yaml`, `vocabulary.yaml`, `words.yaml`,
`print.yaml`, `cautions.yaml`) and lies over it file by file, so that a plan in it replaces a class or adds one.
`python -m intake.examination.plans FOLDER` tells file and line of every mistake.
"""

from __future__ import annotations

import hashlib
import json
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import Any

from intake.database import Writing
from intake.errors import Refusal
from intake.examination.caution_pack import CautionPack, pack_problems
from intake.examination.claims import claim_problems
from intake.examination.class_keys import ClassKeys, class_key_problems
from intake.examination.forbidden import forbidden_problems
from intake.examination.kinds_of import ROWS
from intake.examination.outlines import Outline, read_outlines
from intake.examination.plan import LeavesOpen, Plan, Question, zone_keys
from intake.examination.plan_check import DataFile, Problem, read_file
from intake.examination.printed import Print
from intake.examination.vocabulary import Vocabulary, Words, vocabulary_problems, words_problems

SHIPPED = Path(__file__).parent / "data"
#: What a question may put aside beside terms and their families: that something is original.
ORIGINALITY = "originality"


class PlanError(Refusal):
    """The data files have mistakes; `detail` names every one by file and line."""

    code = "plan_invalid"
    title = "The plans have mistakes"

    def __init__(self, problems: list[Problem]) -> None:
        super().__init__("\n".join(map(str, problems)), hint="Correct these lines and start again.")


@dataclass(frozen=True)
class Plans:
    """Everything that the screens need to walk a person through an item."""

    plans: dict[str, Plan]
    vocabulary: Vocabulary
    words: Words
    print: Print
    cautions: CautionPack
    classes: ClassKeys
    outlines: dict[str, list[Outline]]

    @cached_property
    def class_names(self) -> dict[str, str]:
        """What each class is called on its key; one that stands on none by the name of its plan."""
        names = {class_id: plan.name for class_id, plan in self.plans.items()}
        return names | {key.class_id: key.words for key in self.classes.classes if key.class_id in names}

    @cached_property
    def kept_bodies(self) -> list[tuple[str, str, str]]:
        """Class, version and text of each plan as an office keeps it; written out once, however many offices open."""
        return [
            (plan.class_id, plan.version, json.dumps(plan.body(), ensure_ascii=False))
            for plan in self.plans.values()
        ]

    @cached_property
    def sent(self) -> tuple[bytes, str]:
        """All of it as devices are sent it, and its entity tag, by which every page that is opened asks for it."""
        text = json.dumps(self.body(), ensure_ascii=False, separators=(",", ":")).encode()
        return text, f'"{hashlib.sha256(text).hexdigest()[:16]}"'

    def body(self) -> dict[str, Any]:
        """All of it as devices read it, ready for JSON."""
        return {
            "plans": {class_id: plan.body() for class_id, plan in self.plans.items()},
            "vocabulary": self.vocabulary.model_dump(),
            "words": self.words.model_dump(by_alias=True),
            "print": self.print.model_dump(),
            "cautions": self.cautions.body(),
            **self.classes.body(),
            "outlines": {
                class_id: [outline.model_dump() for outline in outlines]
                for class_id, outlines in self.outlines.items()
            },
        }


def load_plans(folder: Path | None = None) -> Plans:
    """The shipped files with the house's over them, if it has some. Raises PlanError naming every mistake."""
    return read_or_refused(folder) if folder else shipped_plans()


@cache
def shipped_plans() -> Plans:
    """What comes with the program and does not change while it runs: whoever asks again need not wait."""
    return read_or_refused(None)


def read_or_refused(folder: Path | None) -> Plans:
    plans, problems = read_plans(folder)
    if plans is None or problems:
        raise PlanError(problems)
    return plans


def check(folder: Path | None = None) -> list[Problem]:
    """Every mistake in the shipped files with the house's over them; an empty list when all is good."""
    return read_plans(folder)[1]


def read_plans(folder: Path | None) -> tuple[Plans | None, list[Problem]]:
    """What could be read, and every mistake. There are no plans without the other files."""
    problems = misplaced(folder) if folder else []
    places = [place for place in (SHIPPED, folder) if place]
    files = {file.name: file for place in places for file in yaml_files(place / "plans")}
    vocabulary = read_file(chosen(folder, "vocabulary.yaml"), Vocabulary, problems)
    words = read_file(chosen(folder, "words.yaml"), Words, problems)
    printed = read_file(chosen(folder, "print.yaml"), Print, problems)
    cautions = read_file(chosen(folder, "cautions.yaml"), CautionPack, problems)
    class_keys = read_file(chosen(folder, "classes.yaml"), ClassKeys, problems)
    plans = [read_file(file, Plan, problems) for _, file in sorted(files.items())]
    found = {read.content.class_id: read.content for read in plans if read}
    unread = {
        name.removesuffix(".yaml") for name, plan in zip(sorted(files), plans, strict=True) if plan is None
    }
    problems += words_problems(words) if words else []
    problems += words_problems(printed) if printed else []
    classes = {*found, *(Path(name).stem for name in files)}
    problems += class_key_problems(class_keys, classes) if class_keys else []
    if vocabulary and words:
        problems += vocabulary_problems(
            vocabulary, {material.material for material in words.content.materials}
        )
    known = Known(
        terms={term.term for term in vocabulary.content.terms} if vocabulary else None,
        families={term.family for term in vocabulary.content.terms} if vocabulary else None,
        lights={light.light for light in words.content.lights} if words else None,
        hazards={caution.hazard for caution in cautions.content.cautions} if cautions else None,
    )
    if cautions:
        problems += pack_problems(cautions, classes, known.lights, None if unread else trials_known(plans))
    for read in filter(None, plans):
        problems += plan_problems(read, known)
        problems += forbidden_problems(read, cautions.content) if cautions else []
    files_read: list[DataFile[Any] | None] = [vocabulary, words, printed, cautions, class_keys, *plans]
    for own in files_read:
        problems += claim_problems(own) if own and SHIPPED not in own.file.parents else []
    drawn = {file.name: file for place in places for file in (place / "outlines").glob("*.svg")}
    keys = {class_id: zone_keys(plan) for class_id, plan in found.items()}
    drawings = [file for _, file in sorted(drawn.items()) if file.name.split(".")[0] not in unread]
    outlines = read_outlines(drawings, keys, problems)
    if vocabulary is None or words is None or printed is None or cautions is None or class_keys is None:
        return None, problems
    beside = (vocabulary.content, words.content, printed.content, cautions.content, class_keys.content)
    return Plans(found, *beside, outlines), problems


def trials_known(plans: Sequence[DataFile[Plan] | None]) -> set[str]:
    """The trials of all plans, those too that are shipped and lie under a house's own."""
    read = {plan.file for plan in plans if plan}
    under = [read_file(file, Plan, []) for file in yaml_files(SHIPPED / "plans") if file not in read]
    return {test.test for plan in [*plans, *under] if plan for test in plan.content.tests}


def yaml_files(folder: Path) -> list[Path]:
    return sorted(folder.glob("*.yaml"))


def chosen(folder: Path | None, name: str) -> Path:
    """The house's file if it has one, else the shipped one."""
    return folder / name if folder and (folder / name).exists() else SHIPPED / name


def misplaced(folder: Path) -> list[Problem]:
    """Files that would be passed over in silence, so that a house believes its change is in force."""
    if not folder.is_dir():
        return [Problem(folder.name, 1, "there is no such folder: correct its name, or make it.")]
    names = (
        "classes.yaml",
        "vocabulary.yaml",
        "words.yaml",
        "print.yaml",
        "cautions.yaml",
        "label_sheets.yaml",
    )
    known = {*(folder / name for name in names), *yaml_files(folder / "plans")}
    problem = f"this is not read here: plans are plans/CLASS.yaml, and beside them stand {', '.join(names)}."
    stray = sorted({*folder.rglob("*.yaml"), *folder.rglob("*.yml")} - known)
    return [Problem(file.name, 1, problem) for file in stray]


@dataclass(frozen=True)
class Known:
    """What the other files define; None where a file could not be read, so that nothing is held against it."""

    terms: set[str] | None
    families: set[str] | None
    lights: set[str] | None
    hazards: set[str] | None


def plan_problems(read: DataFile[Plan], known: Known) -> list[Problem]:
    """What a model cannot see: doubled ids, ids that nothing defines, lists with nothing in them."""
    plan, problems = read.content, []
    if read.file.stem != plan.class_id:
        problem = f'the file is named for another class: name it "{plan.class_id}.yaml", or correct class_id.'
        problems.append(read.problem(["class_id"], problem))
    for number, zone in enumerate(plan.zones):
        place: list[str | int] = ["zones", number]
        problems += read.doubled([*place, "usual"], zone.usual, "term")
        problems += read.unknown([*place, "usual"], zone.usual, known.terms, "term")
        problems += read.unknown(
            [*place, "holds"], zone.holds, {zone.zone for zone in plan.zones}, "zone in this plan"
        )
        if isinstance(zone.members, list):
            problems += read.doubled([*place, "members"], zone.members, "member")
    for name, ids in (
        ("zones", [zone.zone for zone in plan.zones]),
        ("tests", [test.test for test in plan.tests]),
        ("views", [view.view for view in plan.views]),
        ("measures", [measure.measure for measure in plan.measures]),
        ("negatives", [negative.negative for negative in plan.negatives]),
        ("kinds", [kind.kind for kind in plan.kinds]),
        ("hazards", plan.hazards),
    ):
        problems += read.doubled([name], ids, name[:-1])
    problems += read.unknown(["hazards"], plan.hazards, known.hazards, "caution")
    hazards = set(plan.hazards)
    for number, test in enumerate(plan.tests):
        place = ["tests", number]
        problems += read.unknown([*place, "lights"], test.lights, known.lights, "light")
        zones = {zone.zone for zone in plan.zones}
        problems += read.unknown([*place, "shows"], test.shows, zones, "zone in this plan")
        problems += read.unknown([*place, "of"], test.of, zones, "zone in this plan")
        none = [zone for words in test.where_none for zone in words.none]
        problems += read.unknown([*place, "where_none"], none, zones, "zone in this plan")
        for row, beside in enumerate(test.never_beside):
            here = [*place, "never_beside", row]
            problems += read.unknown([*here, "zones"], beside.zones, zones, "zone in this plan")
            problems += read.unknown([*here, "terms"], beside.terms, known.terms, "term")
        problems += read.unknown([*place, "seeks"], test.seeks, known.terms, "term")
        problems += read.unknown(
            [*place, "stopped_by"], test.stopped_by, hazards, "caution among its hazards"
        )
        measures = {measure.measure for measure in plan.measures}
        problems += read.unknown([*place, "measures"], test.measures, measures, "measure in this plan")
    return problems + reference_problems(read, known) + emptiness_problems(read)


def reference_problems(read: DataFile[Plan], known: Known) -> list[Problem]:
    """Ids in negatives and questions that the plan or the other files do not have."""
    plan, problems = read.content, []
    zones = {zone.zone for zone in plan.zones}
    for number, zone in enumerate(plan.zones):
        place: list[str | int] = ["zones", number]
        problems += read.unknown([*place, "missed_with"], zone.missed_with, zones, "zone in this plan")
        problems += read.unknown([*place, "beside"], zone.beside, zones, "zone in this plan")
        problems += read.unknown([*place, "adjoins"], zone.adjoins, zones, "zone in this plan")
        if zone.through:
            through = [*place, "through"]
            problems += read.unknown([*through, "zones"], zone.through.zones, zones, "zone in this plan")
            problems += read.unknown([*through, "terms"], zone.through.terms, known.terms, "term")
        problems += read.unknown(
            [*place, "inside"], zone.inside, zones - {zone.zone}, "other zone in this plan"
        )
        problems += read.unknown([*place, "lights"], zone.lights, known.lights, "light")
        problems += read.unknown(
            [*place, "under"], zone.under, zones - {zone.zone}, "other zone in this plan"
        )
        said = {row.negative for row in plan.negatives if not row.zones}
        tests = {test.test for test in plan.tests} | said
        problems += read.unknown([*place, "tests"], zone.tests, tests, "test or statement in this plan")
    for number, many in enumerate(plan.of_many):
        problems += read.unknown(["of_many", number, "one"], many.one, zones, "zone in this plan")
    for number, view in enumerate(plan.views):
        problems += read.unknown(["views", number, "of"], view.of, zones, "zone in this plan")
        none = [zone for words in view.where_none for zone in words.none]
        problems += read.unknown(["views", number, "where_none"], none, zones, "zone in this plan")
    for words, of in plan.marks_of.items():
        problems += read.unknown(["marks_of"], [words], set(plan.marks), "place of marks in this plan")
        problems += read.unknown(["marks_of", words], of, zones, "zone in this plan")
    for number, measure in enumerate(plan.measures):
        place = ["measures", number]
        problems += read.unknown([*place, "of"], measure.of, zones, "zone in this plan")
        over = measure.open.zones if measure.open else []
        problems += read.unknown([*place, "open"], over, zones, "zone in this plan")
        none = [zone for words in measure.where_none for zone in words.none]
        problems += read.unknown([*place, "where_none"], none, zones, "zone in this plan")
        counts = {measure.measure for measure in plan.measures if measure.unit == "n"}
        short_of = [measure.short_of] if measure.short_of else []
        problems += read.unknown([*place, "short_of"], short_of, counts, "count in this plan")
        lengths = {other.measure for other in plan.measures if other.unit == "mm"} - {measure.measure}
        within = [measure.within] if measure.within else []
        problems += read.unknown([*place, "within"], within, lengths, "other length in this plan")
    for number, negative in enumerate(plan.negatives):
        place = ["negatives", number]
        problems += read.unknown([*place, "zones"], negative.zones, zones, "zone in this plan")
        problems += read.unknown([*place, "terms"], negative.terms, known.terms, "term")
        problems += read.unknown([*place, "lights"], negative.lights, known.lights, "light")
        stopped_by, hazards = negative.stopped_by, set(plan.hazards)
        problems += read.unknown([*place, "stopped_by"], stopped_by, hazards, "caution among its hazards")
        problems += read.unknown([*place, "shows"], negative.shows, zones, "zone in this plan")
    for number, kind in enumerate(plan.kinds):
        rows = {getattr(row, own_id) for of, own_id in ROWS.items() for row in getattr(plan, of)}
        for name, ids in (("only", kind.only), ("without", kind.without)):
            problems += read.unknown(["kinds", number, name], ids, rows, "row of this plan")
        for name, ids in (("without_zones", kind.without_zones), ("words", [*kind.words])):
            problems += read.unknown(["kinds", number, name], ids, zones, "zone in this plan")
        measures = {measure.measure for measure in plan.measures}
        problems += read.unknown(["kinds", number, "sizes"], [*kind.sizes], measures, "measure in this plan")
        of_class = {question.question for question in plan.questions}
        problems += read.unknown(["kinds", number, "asked"], [*kind.asked], of_class, "question in this plan")
    asked_of_all: list[tuple[list[str | int], list[Question]]] = [(["questions"], plan.questions)]
    asked_of_kinds: list[tuple[list[str | int], list[Question]]] = [
        (["kinds", number, "instead", "questions"], kind.instead.get("questions", []))
        for number, kind in enumerate(plan.kinds)
    ]
    for inside, questions in [*asked_of_all, *asked_of_kinds]:
        for row, question in enumerate(questions):
            problems += question_problems(read, known, [*inside, row], question)
    for number, kind in enumerate(plan.kinds):
        for words, question in kind.asked.items():
            problems += question_problems(read, known, ["kinds", number, "asked", words], question)
    for row, left in enumerate(plan.leaves_open):
        problems += left_open_problems(read, ["leaves_open", row], left, known)
    problems += read.unknown(["says_on"], [*plan.says_on], known.terms, "term")
    for term, words_on in plan.says_on.items():
        problems += read.unknown(["says_on", term], [*words_on], zones, "zone in this plan")
    return problems


def question_problems(
    read: DataFile[Plan], known: Known, place: list[str | int], question: Question
) -> list[Problem]:
    """Ids in what bidders ask that the plan or the other files do not have."""
    plan, problems = read.content, list[Problem]()
    zones = {zone.zone for zone in plan.zones}
    problems += read.unknown([*place, "zones"], question.zones, zones, "zone in this plan")
    problems += read.unknown([*place, "terms"], question.terms, known.terms, "term")
    problems += read.unknown([*place, "anywhere"], question.anywhere, known.terms, "term")
    aside = None if known.terms is None else known.terms | zones | (known.families or set()) | {ORIGINALITY}
    problems += read.unknown([*place, "aside"], question.aside, aside, "term, family of terms or zone")
    statements = {negative.negative for negative in plan.negatives if not negative.zones}
    asked = question.statements
    problems += read.unknown([*place, "statements"], asked, statements, "statement in this plan")
    tests = {test.test for test in plan.tests}
    problems += read.unknown([*place, "tests"], question.tests, tests, "test in this plan")
    problems += read.unknown([*place, "told_tests"], question.told_tests, tests, "test in this plan")
    measures = {measure.measure for measure in plan.measures}
    problems += read.unknown([*place, "measures"], question.measures, measures, "measure in this plan")
    for row, left in enumerate(question.leaves_open):
        problems += left_open_problems(read, [*place, "leaves_open", row], left, known)
    problems += read.unknown([*place, "judged"], question.judged, zones, "zone in this plan")
    problems += read.unknown([*place, "put_to"], question.put_to, zones, "zone in this plan")
    if_there = [question.if_there.zone] if question.if_there else []
    problems += read.unknown([*place, "if_there", "zone"], if_there, zones, "zone in this plan")
    present = [one.zone for one in question.present]
    problems += read.unknown([*place, "present"], present, zones, "zone in this plan")
    faults_only, asked_about = question.faults_only, set(question.zones)
    problems += read.unknown([*place, "faults_only"], faults_only, asked_about, "zone asked about")
    problems += read.unknown([*place, "paper_only"], question.paper_only, asked_about, "zone asked about")
    problems += read.unknown([*place, "by_trial"], question.by_trial, asked_about, "zone asked about")
    rest = question.of_rest.zones if question.of_rest else []
    problems += read.unknown([*place, "of_rest", "zones"], rest, set(question.zones), "zone asked about")
    asked = question.hazards
    problems += read.unknown([*place, "hazards"], asked, set(plan.hazards), "caution among its hazards")
    return problems


def left_open_problems(
    read: DataFile[Plan], inside: list[Any], left: LeavesOpen, known: Known
) -> list[Problem]:
    """What a question or the plan itself leaves open names zones, terms, lights and tests that there are."""
    plan, problems = read.content, list[Problem]()
    zones = {zone.zone for zone in plan.zones}
    tests = {test.test for test in plan.tests}
    statements = {negative.negative for negative in plan.negatives if not negative.zones}
    problems += read.unknown([*inside, "of"], left.of, zones, "zone in this plan")
    problems += read.unknown([*inside, "terms"], left.terms, known.terms, "term")
    problems += read.unknown([*inside, "statements"], left.statements, statements, "statement in this plan")
    problems += read.unknown([*inside, "lights"], left.lights, known.lights, "light")
    problems += read.unknown([*inside, "tests"], left.tests, tests, "test in this plan")
    problems += read.unknown([*inside, "made"], left.made, tests, "test in this plan")
    for name in ("if_none", "if_unseen", "lacking", "beside", "if_found", "found_on", "unless_lost"):
        named = getattr(left, name)
        problems += read.unknown([*inside, name], named, zones, "zone in this plan")
    measures = {measure.measure for measure in plan.measures}
    problems += read.unknown([*inside, "if_measured"], left.if_measured, measures, "measure in this plan")
    sealed = left.sealed.zones if left.sealed else []
    problems += read.unknown([*inside, "sealed", "zones"], sealed, zones, "zone in this plan")
    unseen = left.unseen.zones if left.unseen else []
    problems += read.unknown([*inside, "unseen", "zones"], unseen, zones, "zone in this plan")
    shown = left.shown.zones if left.shown else []
    problems += read.unknown([*inside, "shown", "zones"], shown, zones, "zone in this plan")
    at_each = [*left.at_each.found, *left.at_each.looked_for] if left.at_each else []
    problems += read.unknown([*inside, "at_each"], at_each, known.terms, "term")
    problems += read.unknown([*inside, "alone"], left.alone, zones, "zone in this plan")
    return problems


def emptiness_problems(read: DataFile[Plan]) -> list[Problem]:
    """A plan that is walked needs every list; one that is only referred needs instructions and no zones."""
    plan = read.content
    if plan.refer_only:
        problem = (
            "a class that is only referred has no zones or tests: remove them, or set refer_only to false."
        )
        walked = [read.problem([name], problem) for name in ("zones", "tests") if getattr(plan, name)]
        needed = {"do": plan.instructions.do, "do_not": plan.instructions.do_not}
        problem = "a class that is only referred needs instructions: say what to do and what not."
        return walked + [
            read.problem(["instructions", name], problem) for name, value in needed.items() if not value
        ]
    lists = ("zones", "tests", "views", "marks", "measures", "questions", "negatives", "hazards")
    problems = [
        read.problem([name], f"the list of {name} is empty: a plan needs at least one.")
        for name in lists
        if not getattr(plan, name)
    ]
    if plan.questions and len(plan.questions) != 5:
        problem = f"there are {len(plan.questions)} questions: keep to the five that bidders always ask."
        problems.append(read.problem(["questions"], problem))
    return problems


def main(arguments: list[str]) -> int:
    """Print every mistake, or how much is there; with --json, what devices read. The exit code."""
    as_json = "--json" in arguments
    arguments = [argument for argument in arguments if argument != "--json"]
    plans, problems = read_plans(Path(arguments[0]) if arguments else None)
    for problem in problems:
        print(problem)
    if problems or plans is None:
        return 1
    if as_json:
        print(json.dumps(plans.body()))
        return 0
    print(f"{len(plans.plans)} plans, {len(plans.vocabulary.terms)} terms: all good")
    return 0


def keep_plans(tx: Writing, plans: Plans) -> None:
    """Keep every plan version that the office serves, so that an old record still opens."""
    tx.run_many(
        "INSERT INTO plan_version (class_id, version, body) VALUES (?, ?, ?) ON CONFLICT DO NOTHING",
        plans.kept_bodies,
    )


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
