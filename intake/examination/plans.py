"""Plans: for each class of thing its zones in order, tests, views, marks, measures and questions.

Plans, vocabulary and words are data files that a house can edit. A house's folder is laid out like the
shipped one (`plans/CLASS.yaml`, `vocabulary.yaml`, `words.yaml`) and lies over it file by file, so that a
plan in it replaces a class or adds one. `python -m intake.examination.plans FOLDER` tells file and line of
every mistake.
"""

from __future__ import annotations

import hashlib
import sys
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Annotated, Any, Literal

import rfc8785
from pydantic import Discriminator, Field, Tag

from intake.errors import Refusal
from intake.examination.plan_check import DataFile, Problem, Text, Written, read_file
from intake.examination.vocabulary import Vocabulary, Words, vocabulary_problems, words_problems
from intake.operation import Word

SHIPPED = Path(__file__).parent / "data"
Hazard = Annotated[str, Field(pattern=r"^H[0-9]{2,3}$", examples=["H26"])]


def members_kind(value: object) -> str | None:
    if isinstance(value, list):
        return "listed"
    return "counted" if value == "counted" else None


Members = Annotated[
    Annotated[list[Word], Tag("listed")] | Annotated[Literal["counted"], Tag("counted")],
    Discriminator(
        members_kind,
        custom_error_type="members",
        custom_error_message="write [] for one zone, a list of its members, or counted",
    ),
]


class Zone(Written):
    """A region of an item that is examined by itself.

    `members` are the sides or numbers that each have their own state; none means that it is examined as one,
    and "counted" that it has one state and a count. `photo` says whether one is taken always, or of findings.
    """

    zone: Word
    words: Text
    members: Members
    weight: Literal["key", "supporting", "minor"]
    photo: Literal["always", "finding"]
    usual: Annotated[list[Word], Field(min_length=1)]


class FunctionTest(Written):
    """A test that may be made at the table, and when it must not."""

    test: Word
    how: Text
    never_when: Text


class View(Written):
    """A picture that every item of the class should have."""

    view: Word
    words: Text


class Measure(Written):
    """What is measured: whole millimetres, or grams where the words say so."""

    measure: Annotated[Word, Field(max_length=40)]
    words: Text


class Negative(Written):
    """A fault whose absence buyers expect to be stated, and the light or tool that could have shown it."""

    words: Text
    needs: Text


class Instructions(Written):
    """What to do, and what to leave alone, with a class that is only ever referred."""

    do: list[Text]
    do_not: list[Text]


class Plan(Written):
    """How a class of thing is examined, in the order of the walk.

    `frame` says whose left is meant, `count_start` where numbered members begin. A `refer_only` class has
    instructions and no zones: nobody examines it at the table.
    """

    class_id: Word
    name: Text
    frame: Literal["proper", "viewer", "own"]
    frame_note: Text
    count_start: Text
    refer_only: bool
    zones: list[Zone]
    tests: list[FunctionTest]
    views: list[View]
    marks: list[Text]
    measures: list[Measure]
    questions: list[Text]
    negatives: list[Negative]
    hazards: list[Hazard]
    instructions: Instructions

    @cached_property
    def version(self) -> str:
        """Twelve hexadecimal digits that change whenever the plan's content does.

        They begin the SHA-256 of the plan's canonical JSON (RFC 8785), so spacing, comments and the order of
        keys in the file do not matter.
        """
        return hashlib.sha256(rfc8785.dumps(self.model_dump())).hexdigest()[:12]

    def body(self) -> dict[str, Any]:
        """The plan as devices read it, with its version."""
        return {**self.model_dump(), "version": self.version}


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

    def body(self) -> dict[str, Any]:
        """All of it as devices read it, ready for JSON."""
        return {
            "plans": {class_id: plan.body() for class_id, plan in self.plans.items()},
            "vocabulary": self.vocabulary.model_dump(),
            "words": self.words.model_dump(),
        }


def zone_keys(plan: Plan) -> list[str]:
    """The keys under which zone states are recorded, in walk order: `ears/proper-right`, `cover` ..."""
    keys = []
    for zone in plan.zones:
        members = zone.members if isinstance(zone.members, list) else []
        keys += [f"{zone.zone}/{member}" for member in members] or [zone.zone]
    return keys


def load_plans(folder: Path | None = None) -> Plans:
    """Read the shipped files and the house's over them. Raises PlanError naming every mistake."""
    plans, problems = read_plans(folder)
    if plans is None or problems:
        raise PlanError(problems)
    return plans


def check(folder: Path | None = None) -> list[Problem]:
    """Every mistake in the shipped files with the house's over them; an empty list when all is good."""
    return read_plans(folder)[1]


def read_plans(folder: Path | None) -> tuple[Plans | None, list[Problem]]:
    """What could be read, and every mistake. There are no plans without a vocabulary and words."""
    problems = misplaced(folder) if folder else []
    files = {
        file.name: file for place in filter(None, (SHIPPED, folder)) for file in yaml_files(place / "plans")
    }
    vocabulary = read_file(chosen(folder, "vocabulary.yaml"), Vocabulary, problems)
    words = read_file(chosen(folder, "words.yaml"), Words, problems)
    plans = [read_file(file, Plan, problems) for _, file in sorted(files.items())]
    found = {read.content.class_id: read.content for read in plans if read}
    if words:
        problems += words_problems(words)
    if vocabulary and words:
        problems += vocabulary_problems(vocabulary, {one.material for one in words.content.materials})
    for read in filter(None, plans):
        problems += plan_problems(
            read, {term.term for term in vocabulary.content.terms} if vocabulary else None
        )
    if vocabulary is None or words is None:
        return None, problems
    return Plans(found, vocabulary.content, words.content), problems


def yaml_files(place: Path) -> list[Path]:
    return sorted(place.glob("*.yaml"))


def chosen(folder: Path | None, name: str) -> Path:
    """The house's file if it has one, else the shipped one."""
    return folder / name if folder and (folder / name).exists() else SHIPPED / name


def misplaced(folder: Path) -> list[Problem]:
    """Files that would be passed over in silence, so that a house believes its change is in force."""
    if not folder.is_dir():
        return [Problem(folder.name, 1, "there is no such folder: correct its name, or make it.")]
    known = {folder / "vocabulary.yaml", folder / "words.yaml", *yaml_files(folder / "plans")}
    told = "this is not read here: plans are plans/CLASS.yaml, beside them vocabulary.yaml and words.yaml."
    stray = sorted({*folder.rglob("*.yaml"), *folder.rglob("*.yml")} - known)
    return [Problem(file.name, 1, told) for file in stray]


def plan_problems(read: DataFile[Plan], terms: set[str] | None) -> list[Problem]:
    """What a model cannot see: doubled ids, terms the vocabulary lacks, lists with nothing in them."""
    plan, problems = read.content, []
    if read.file.stem != plan.class_id:
        told = f'the file is named for another class: name it "{plan.class_id}.yaml", or correct class_id.'
        problems.append(read.problem(["class_id"], told))
    for number, zone in enumerate(plan.zones):
        place: list[str | int] = ["zones", number]
        problems += read.doubled([*place, "usual"], zone.usual, "term")
        if terms is not None:
            problems += read.unknown([*place, "usual"], zone.usual, terms, "term")
        if isinstance(zone.members, list):
            problems += read.doubled([*place, "members"], zone.members, "member")
    for name, ids in (
        ("zones", [zone.zone for zone in plan.zones]),
        ("tests", [test.test for test in plan.tests]),
        ("views", [view.view for view in plan.views]),
        ("measures", [measure.measure for measure in plan.measures]),
        ("hazards", plan.hazards),
    ):
        problems += read.doubled([name], ids, name[:-1])
    return problems + emptiness_problems(read)


def emptiness_problems(read: DataFile[Plan]) -> list[Problem]:
    """A plan that is walked needs every list; one that is only referred needs instructions and no zones."""
    plan = read.content
    if plan.refer_only:
        told = "a class that is only referred has no zones or tests: remove them, or set refer_only to false."
        walked = [read.problem([name], told) for name in ("zones", "tests") if getattr(plan, name)]
        needed = {"do": plan.instructions.do, "do_not": plan.instructions.do_not}
        told = "a class that is only referred needs instructions: say what to do and what not."
        return walked + [
            read.problem(["instructions", name], told) for name, one in needed.items() if not one
        ]
    lists = ("zones", "tests", "views", "marks", "measures", "questions", "negatives", "hazards")
    problems = [
        read.problem([name], f"the list of {name} is empty: a plan needs at least one.")
        for name in lists
        if not getattr(plan, name)
    ]
    if plan.questions and len(plan.questions) != 5:
        told = f"there are {len(plan.questions)} questions: keep to the five that bidders always ask."
        problems.append(read.problem(["questions"], told))
    return problems


def main(arguments: list[str]) -> int:
    """Print every mistake, or how much is there. The exit code."""
    plans, problems = read_plans(Path(arguments[0]) if arguments else None)
    for problem in problems:
        print(problem)
    if problems or plans is None:
        return 1
    print(f"{len(plans.plans)} plans, {len(plans.vocabulary.terms)} terms: all good")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
