"""A plan: how one class of thing is examined, in the order of the walk.

The shape of the files under `plans/`; `plans` reads them and tells their mistakes.
"""

from __future__ import annotations

import hashlib
from functools import cached_property
from typing import Annotated, Any, Literal

import rfc8785
from pydantic import ConfigDict, Discriminator, Field, Tag, model_validator
from typing_extensions import TypedDict

from intake.examination.cautions import Hazard
from intake.examination.plan_check import Text, Written
from intake.operation import Word

Ids = Annotated[list[Word], Field(default_factory=list)]
Hazards = Annotated[list[Hazard], Field(default_factory=list)]
Fact = Literal[
    "grade",
    "materials",
    "maker",
    "dates",
    "marks",
    "mark-meaning",
    "numbers",
    "statements",
    "papers",
    "cautions",
    "imprint",
    "evidence",
]


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


class RulesOut(Written):
    """Findings that do not go together with a test that worked; with no zones named, on any."""

    zones: Ids
    terms: Ids


class Zone(Written):
    """A region of an item that is examined by itself. An `optional` one is none of many things of the class; one that
    is `inherent` is what each of them is made of, and nobody is asked whether it never had that.

    A thing that never had it is printed as "without" it where one of the zones it is `missed_with` is there: a buyer
    of a clockwork toy looks for its key, a buyer of a toy without clockwork for none.
    `members` are the sides or numbers that each have their own state; none means that it is examined as one, and
    "counted" that it has one state and a count. `photo` says whether one is taken always, or of findings. What it
    `holds` lies on it or within it: what is denied of it is denied of those zones, too. What was found on a zone that
    it lies `beside` is not denied of it, though a question about it does not ask for that one; where it was found on
    one that it `adjoins`, no other is on it. What goes `through` it, such as a tear of a canvas, bears on whatever asks
    about those zones. It is not seen where a zone that it lies `inside` was not examined. One
    that shows only in some `lights`, or once one of the `tests` was made, is not called clear with the rest in another
    light; nor is there nothing to report on it, if it was ticked in another light and such a test is said not to have
    been made. Of the `tests`, a statement of the plan may be one, such as that it was seen out of its frame. One that
    is `alone` shows only once the thing is opened, turned, undressed or felt, and the plan has no test of that: it is
    called clear by itself, never with the rest. So is what lies `under` zones such as a frame, unless the thing never
    had those. What is `not_named` so may have none of it: a ring has no clasp, and is offered as a thing that never
    had one. With `wording` what stands there is copied as a mark: any, or one of such a technique, or in whose place
    such a word stands. One that is `felt` is seen in no light, and none is told of it where there is nothing to report.
    What may be `lost` of one that is several things is named for it, or a part of it: a bow has no hair, and its brand
    is not what is missing.
    """

    zone: Word
    words: Text
    members: Members
    holds: Ids
    inside: Ids
    beside: Ids
    adjoins: Ids
    through: RulesOut | None = None
    weight: Literal["key", "supporting", "minor"]
    photo: Literal["always", "finding"]
    optional: bool = False
    inherent: bool = False
    wording: Ids
    missed_with: Ids
    lights: Ids
    tests: Ids
    alone: bool = False
    felt: bool = False
    lost: Annotated[list[Text], Field(default_factory=list)]
    under: Ids
    not_named: Ids
    usual: Annotated[list[Word], Field(min_length=1)]


class NeverBeside(Written):
    """What stands on the record of a thing and forbids a test on it: one of these `terms`, with no zones on any.

    Without terms it is what is known of the zones `when` one is there, is none of the thing's, or was not seen. What a
    test itself brings to light, such as a seized shutter, is among what it `rules_out` and forbids it to nobody.
    """

    zones: Ids
    terms: Ids
    when: Literal["found", "there", "none", "unseen"] = "found"


class IfThere(Written):
    """What is said of a thing that has a zone, and what is `open` where it was looked at and nothing noted.

    Without `open`, what was examined is there. One of the words of `named` in what it is called, in its materials or as
    the basis of a size says it, too; one of `unless_basis` as that basis leaves nothing open.
    """

    zone: Word
    words: Text
    open: Text | None = None
    named: Ids
    unless_basis: Ids


class TestWords(Written):
    """What is printed of a test in place of its own words, where `none` of these zones is there; `how` is it asked."""

    none: Annotated[list[Word], Field(min_length=1)]
    how: Text | None = None
    said: Text | None = None
    name: Text | None = None
    undone: Text | None = None
    failed: Text | None = None
    in_part: Text | None = None
    tried: Text | None = None


class FunctionTest(Written):
    """A test that may be made at the table, and when it must not.

    One that is never allowed ("always") is a rule of the class. `lights` are those it is made with; `stopped_by` the
    cautions that, once raised, forbid it, and `never_beside` what else on a record does. In print: `said` when it
    worked, `in_part` when it did so in part, `failed` when there was no response, `undone` when it was not made, on
    several things `undone_of_several`; without those, its `name` stands with plain words. Beside a finding that it
    `rules_out`, `tried` is printed in place of what would contradict it, and where it failed those findings are not
    denied; nothing is printed of the failure that a finding of one of its `told_by` says. Of a thing on which a zone
    that it is `of` is missing or never was, nothing is printed of it. One that is only a way of looking names its light
    under `looks`, and is printed among what it was examined with; where a fault that it `seeks` was found, it had
    nothing further to report. It is not said to be undone where a zone that nothing else `shows` was examined after
    all. What it finds under `measures` answers as a size, so that of the test itself only a note does. Where there is
    no note of what came of one that reads something, `unread` is said. Of a thing that is known to have what it looks
    for, `said_beside` is said; one that has not all that it is made on is spoken of in the words of `where_none`.
    Nobody is asked for it of a thing whose name is built round one of the words under `not_named`. One that is made on
    one piece is, `of_one`, not known to have been made on the others of a pair or a set. How it looks says nothing of
    what was not tried: without one that counts `so_far` the overall word is given so far as examined.
    """

    test: Word
    how: Text
    said: Text | None = None
    name: Text | None = None
    undone: Text | None = None
    undone_of_several: Text | None = None
    failed: Text | None = None
    in_part: Text | None = None
    tried: Text | None = None
    unread: Text | None = None
    said_beside: IfThere | None = None
    where_none: Annotated[list[TestWords], Field(default_factory=list)]
    rules_out: RulesOut | None = None
    looks: Word | None = None
    seeks: Ids
    of: Ids
    shows: Ids
    told_by: Ids
    measures: Ids
    of_one: bool = False
    so_far: bool = False
    never_when: Text
    never_beside: Annotated[list[NeverBeside], Field(default_factory=list)]
    not_named: Ids
    lights: Ids
    stopped_by: Hazards


class AskedWords(Written):
    """What is asked for in other words of a thing that never had any of the zones `none`.

    Of a measure `bases` stand in place of its own, too.
    """

    none: Annotated[list[Word], Field(min_length=1)]
    words: Text
    bases: Annotated[list[Text], Field(default_factory=list)]


class View(Written):
    """A picture that every item of the class should have; none that never had any of the zones that it is `of`.

    With `named` only what has one of these words in its name; never what is built round one of `not_named`.
    """

    view: Word
    words: Text
    of: Ids
    named: Ids
    not_named: Ids
    where_none: Annotated[list[AskedWords], Field(default_factory=list)]


class MeasureCalled(Written):
    """What a measure is on a thing that has one of the words in its name or description."""

    of: Annotated[list[Text], Field(min_length=1)]
    print: Text


class OpenBasis(Written):
    """What is said of a size whose basis nobody noted, where any of these zones is there.

    With `named` it is said of what is called or described by one of these words alone.
    """

    zones: Annotated[list[Word], Field(min_length=1)]
    words: Text
    named: Annotated[list[Text], Field(default_factory=list)]


class Measure(Written):
    """What is measured, in millimetres or grams, or counted (n).

    More than `most`, or less than `least`, is asked about and never refused: hardly any such thing is so.

    `print` is its name in a lot's description, else its words as far as the first stop, `called` that on a kind of
    thing, and `one` that of a count of one. What is `read_off` a lens or a scale is printed in its millimetres, as it
    stands there. `bases` are the words for what was measured or weighed with it, such as gross or net, and `open` what
    is said where nobody chose one and it is not known whether what sticks out was measured with it; one of `troy`
    is printed in troy ounces, too. Nobody misses it where every zone that it is `of` is none of the thing's, nor a
    count that nobody made, nor of what its name is built round a word of `not_named`. Where it is less than that which
    it is `short_of`, findings that it `rules_out` are not denied. It lies `within` another, so that one that is
    more than that is asked about: a picture is no higher than its frame.
    """

    measure: Annotated[Word, Field(max_length=40)]
    unit: Literal["mm", "g", "n"]
    least: Annotated[int, Field(ge=1, le=1_000_000)] | None = None
    most: Annotated[int, Field(ge=1, le=1_000_000)]
    words: Text
    print: Text | None = None
    called: Annotated[list[MeasureCalled], Field(default_factory=list)]
    one: Text | None = None
    read_off: bool = False
    not_named: Ids
    bases: Annotated[list[Text], Field(default_factory=list)]
    open: OpenBasis | None = None
    of: Ids
    troy: bool = False
    short_of: Word | None = None
    within: Word | None = None
    rules_out: RulesOut | None = None
    where_none: Annotated[list[AskedWords], Field(default_factory=list)]

    @model_validator(mode="after")
    def check_bounds(self) -> Measure:
        if self.least is not None and self.least >= self.most:
            raise ValueError(
                f"{self.measure} is at least {self.least} and at most {self.most}: make least smaller"
            )
        return self


class Negative(Written):
    """What buyers expect to be stated if it is true.

    With zones it denies its terms on them, and only where one of its lights was used; without it is a statement
    about the examination itself, such as "movement not opened". `stopped_by` are the cautions that, once raised,
    forbid one of its lights. A statement is left to its `tests` once one of them is on record. It is not printed beside
    a finding that it `rules_out`, nor where a zone that it `shows` was not examined, nor, if it is one of what is held
    `of_marks`, where a mark on record has that with it.
    """

    negative: Word
    words: Text
    needs: Text
    zones: Ids
    terms: Ids
    lights: Ids
    tests: Ids
    stopped_by: Hazards
    rules_out: RulesOut | None = None
    shows: Ids
    of_marks: bool = False

    @model_validator(mode="after")
    def check_denial(self) -> Negative:
        if len({bool(self.zones), bool(self.terms), bool(self.lights)}) > 1:
            raise ValueError("what is denied needs zones, terms and lights; a statement has none of them")
        return self


class OfRest(Written):
    """What is said of those of the zones of which there is no opinion where there is one of others.

    It stands between "whether the hands" and "was not noted": `one` of a single thing, `many` of several.
    """

    zones: Annotated[list[Word], Field(min_length=1)]
    one: Text
    many: Text


class Sealed(Written):
    """What is so of a thing of which any of these zones could not be looked at, since it is shut or sealed."""

    zones: Annotated[list[Word], Field(min_length=1)]
    words: Text


class Unseen(Written):
    """What is so of a thing of which none of these zones was examined: nobody could determine it."""

    zones: Annotated[list[Word], Field(min_length=1)]
    words: Text


class Shown(Written):
    """What is so of a thing of which any of these zones was examined.

    A tick alone may be of what never was there: with `open`, that is said where nothing was found on them.
    """

    zones: Annotated[list[Word], Field(min_length=1)]
    words: Text
    open: Text | None = None


class AtEach(Written):
    """What is asked for wherever one of the terms `found` is: it was `looked_for` there, with whatever came of it."""

    found: Ids
    looked_for: Ids


class LeavesOpen(Written):
    """What an answer says was not noted, unless one of these says it.

    Those are a finding or a denial of one of its `terms`, one of its statements or tests, any of its facts, a name
    that says so, or anything that was examined with one of its lights. Nobody misses it where each zone that it is `of`
    is missing or none of the thing's; with `if_none` it is asked only where all of these are none of the thing's, with
    `if_unseen` only where nobody could look at any of these. Where all of what it is `of` is sealed, `sealed` is said
    in its place, `unseen` where nobody looked, and `shown` where a zone tells it, also beside what was found there. One
    of the tests in `made` decides it only once somebody made it, not by why nobody did. One of the words of `said_by`
    in what the answer tells decides it.
    What is `untried` is a trial: the condition paragraph says it, too; one of the `works` of a thing leaves its overall
    word at so far as examined. With `named` it is asked only of what is called by one of these words, or by several
    beside each other, and never of what is called by one of `unless_named`. With `at_each` it is asked only where such
    a thing was found on a zone and the other was not looked for on it; the condition paragraph says that as well. With
    `lacking` it is asked only where something is missing from one of these zones and no note says which that is; with
    `mixed` of several pieces whose materials as seen are one of each of these lists, and no more; with `beside` of what
    has one of these zones as well; with `if_found` where something was found on one of these, with `if_measured` where
    one of these was measured. A serious loss on one of the zones `unless_lost`, or one that by its note reaches another
    zone, decides it. A finding of its terms is no word of it unless it is `found_on` one of these, if any are.
    Beside it nothing is said of the zones it stands `alone` for: that no fault was noted there would be heard as a no.
    """

    words: Text
    of: Ids
    terms: Ids
    statements: Ids
    lights: Ids
    tests: Ids
    made: Ids
    facts: Annotated[list[Fact], Field(default_factory=list)]
    if_none: Ids
    if_unseen: Ids
    sealed: Sealed | None = None
    unseen: Unseen | None = None
    shown: Shown | None = None
    said_by: Annotated[list[Text], Field(default_factory=list)]
    untried: bool = False
    works: bool = False
    named: Annotated[list[Text], Field(default_factory=list)]
    at_each: AtEach | None = None
    alone: Ids
    unless_named: Annotated[list[Text], Field(default_factory=list)]
    lacking: Ids
    mixed: Annotated[list[list[Text]], Field(default_factory=list)]
    beside: Ids
    if_found: Ids
    if_measured: Ids
    found_on: Ids
    unless_lost: Ids


class Present(Written):
    """A zone that an answer says is there, by the `words` for all that is looked at with it.

    Where as many are missing as such a thing has `at_most`, nobody asks whether others are there.
    """

    zone: Word
    words: Text
    at_most: int | None = Field(None, ge=1)


class CalledSo(Written):
    """A thing that is called or described by one of `named`, and by none of `unless_named`."""

    named: Annotated[list[Text], Field(min_length=1)]
    unless_named: Annotated[list[Text], Field(default_factory=list)]


class Question(Written):
    """What bidders ask, and what on the record answers it.

    Findings on the zones answer it: if `terms` are named, those of their families and whatever broke, took away or
    mended something, but for the terms, families and zones that stand `aside`: they are no answer to what is asked.
    Findings of the terms under `anywhere` answer it on whichever zone they are. So do tests, measures, facts and
    those of the plan's `statements` that are named, and cautions of its `hazards`, of zones asked about, or all of
    them where cautions are among the facts; the imprint is whatever a mark says, and numbers are the marks that have
    figures. With originality `aside`, nobody is told that something is original. `told_tests` are told where they
    failed, and missed by nobody. `unless_origin` is said where a question asks whether something is original or
    belongs, and the record holds no opinion of it; where it holds one of some zones, `of_rest` is said of the others;
    of what is made `in_one` nobody misses it.
    Of a thing that has nothing of what is asked about, or of the zones that it is `put_to`, `none` is said in place of
    the names of all that it has not got; so it is of what is `not_named` so, unless it has a fault that the question
    is `put_for`: a sampler has no pile. Marks of the techniques under `marks_not` are no answer. That a thing has none
    of the zones `judged` is itself an opinion of what it is made of, and no answer. With `facts_first` sizes and facts
    are asked for before faults. Where one of the words `in_name` stands in the short description, that is told as
    well. Of the zones in `present` it is told that they are there. On those that are `paper_only` what is missing by a
    note that names no paper is no answer. Of those in `faults_only`, that there is nothing to report on them is no
    answer, nor is it of those `by_trial` while none of its tests was made on them.
    """

    question: Text
    zones: Ids
    terms: Ids
    anywhere: Ids
    aside: Annotated[list[Text], Field(default_factory=list)]
    tests: Ids
    measures: Ids
    facts: Annotated[list[Fact], Field(default_factory=list)]
    statements: Ids
    hazards: Hazards
    unless_origin: Text | None = None
    unless_origin_of_several: Text | None = None
    of_rest: OfRest | None = None
    in_one: CalledSo | None = None
    leaves_open: Annotated[list[LeavesOpen], Field(default_factory=list)]
    none: Text | None = None
    judged: Ids
    put_to: Ids
    not_named: Ids
    put_for: Ids
    marks_not: Ids
    told_tests: Ids
    if_there: IfThere | None = None
    present: Annotated[list[Present], Field(default_factory=list)]
    in_name: Ids
    faults_only: Ids
    paper_only: Ids
    by_trial: Ids
    facts_first: bool = False


class OfMany(Written):
    """What holds many alike, by a word of its name, and what those are: an album of sheets.

    Of the zones under `one` it has one for all, so that nobody asks on which of the many a fault of it is.
    """

    named: Annotated[list[Text], Field(min_length=1)]
    many: Text
    one: Ids


class Instead(TypedDict, total=False):
    """What stands in place of a plan's own."""

    __pydantic_config__ = ConfigDict(extra="forbid")  # type: ignore[misc]

    questions: list[Question]
    marks: list[Text]
    marks_hint: str
    marks_always: bool
    maker_noun: Text
    frame_note: Text
    count_start: Text


class KindSize(Written):
    """What a measure is asked for by on things of a kind."""

    words: Text
    bases: Annotated[list[Text], Field(default_factory=list)]
    where_none: Annotated[list[AskedWords], Field(default_factory=list)]


class KindOf(Written):
    """Things of the class that are examined otherwise than the rest of it, by what they are called.

    Such a thing has one of the words `named` in its name, and none of `not_named`: a longcase clock has a trunk, a
    bundle of letters has envelopes, and an engraving of a letter has none. What has words of two kinds is of neither.
    The ids under `only` (zones, tests, views, measures, what may be denied) are asked of no other things of the class,
    those under `without` not of these, nor zones `without_zones`, whose id a view has as well: a chair has no front
    face, and is seen from the front. `sizes` are asked of them by other words, zones walked by the `words` of theirs,
    and a question of the class is one of those `asked` in its place, by how it reads. A drawing that is named for the
    kind, such as CLASS.KIND-back.svg, is of its things alone.
    """

    kind: Word
    named: Annotated[list[Text], Field(min_length=1)]
    not_named: Annotated[list[Text], Field(default_factory=list)]
    only: Ids
    without: Ids
    without_zones: Ids
    sizes: Annotated[dict[Word, KindSize], Field(default_factory=dict)]
    words: Annotated[dict[Word, Text], Field(default_factory=dict)]
    asked: Annotated[dict[Text, Question], Field(default_factory=dict)]
    instead: Annotated[Instead, Field(default_factory=lambda: Instead())]


class Instructions(Written):
    """What to do, and what to leave alone, with a class that is only ever referred."""

    do: list[Text]
    do_not: list[Text]


class Plan(Written):
    """How a class of thing is examined, in the order of the walk.

    `frame` says whose left is meant, `count_start` where numbered members begin. A `refer_only` class has instructions
    and no zones: nobody examines it at the table. `called` are words that things of the class are often called by,
    offered as keys where a few words are typed, and nothing more. `scale` is the trade's own for the class, worst
    first: where there is one, it is printed and the computed word is not, `graded_as` names what is graded on it.
    `mark_noun` is what words on a thing are called in print, unless they are a label or a signature, or printed in a
    place that is one of `imprint_at`: then they are an imprint; at one of `naming_at` they name whom the thing was
    given to. Who makes such things is a `maker_noun`. `marks_of` names the zones of places where marks are looked for:
    nobody looks there on a thing that never had them. A place is printed as it stands there, so what helps the table
    beside it is the `marks_hint`. Things of `marks_always` have what is to be read at such places, as letters have a
    date and a signature: that was copied, or it was not, and is never "not found". What the plan `leaves_open` is no
    question that bidders ask: the condition paragraph alone says it. What a term is called on things of the class
    otherwise than elsewhere is in `nouns`: insects leave dust in wood; what it says of one of their zones is in
    `says_on`: a case of jewels is not from another brooch. Of what holds many (`of_many`) and was not counted it is
    said that nobody noted how many, nor on which of them a fault is.
    """

    class_id: Word
    name: Text
    called: Annotated[list[Text], Field(default_factory=list)]
    frame: Literal["proper", "viewer", "own"]
    frame_note: Text
    count_start: Text
    refer_only: bool
    scale: Annotated[list[Text], Field(default_factory=list)]
    graded_as: str = Field("", max_length=60)
    nouns: Annotated[dict[Word, Text], Field(default_factory=dict)]
    says_on: Annotated[dict[Word, dict[Word, Text]], Field(default_factory=dict)]
    thing: Text | None = None
    zones: list[Zone]
    tests: list[FunctionTest]
    views: list[View]
    marks: list[Text]
    marks_hint: str = Field("", max_length=200)
    marks_always: bool = False
    marks_of: Annotated[dict[str, list[Word]], Field(default_factory=dict)]
    mark_noun: Text = "mark"
    maker_noun: Text = "maker"
    imprint_at: Annotated[list[Text], Field(default_factory=list)]
    naming_at: Annotated[list[Text], Field(default_factory=list)]
    measures: list[Measure]
    sizes_in: Literal["mm", "cm"] = "mm"
    questions: list[Question]
    leaves_open: Annotated[list[LeavesOpen], Field(default_factory=list)]
    of_many: Annotated[list[OfMany], Field(default_factory=list)]
    kinds: Annotated[list[KindOf], Field(default_factory=list)]
    negatives: list[Negative]
    hazards: list[Hazard]
    instructions: Instructions

    @cached_property
    def kinds_written(self) -> list[dict[str, Any]]:
        """The kinds as a plan that was kept has them; written once, since a list asks them of each of its rows."""
        return [kind.model_dump() for kind in self.kinds]

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


def zone_keys(plan: Plan) -> list[str]:
    """The keys under which zone states are recorded, in walk order: `ears/proper-right`, `cover` ..."""
    keys = []
    for zone in plan.zones:
        members = zone.members if isinstance(zone.members, list) else []
        keys += [f"{zone.zone}/{member}" for member in members] or [zone.zone]
    return keys
