"""The condition vocabulary, one term for one thing, and the words that people see for the ids in records."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from intake.examination.plan_check import DataFile, Problem, Text, Written
from intake.examination.printed import Print
from intake.operation import Word

Extent = Literal["mm", "mm2", "%", "n", "y/n", "txt"]
Sense = Literal["sight", "touch", "hearing", "smell", "trial"]


class Unproved(Written):
    """What nobody can say to be absent without a `test`: until then there was no such thing, in `words`, noticed."""

    test: Word
    words: Text


Prep = Literal["to", "on", "from", "in", "of", "through"]


class Term(Written):
    """A word of the condition vocabulary. `severity` is where a finding of it starts on a supporting zone.

    In print it says what a zone is ("the handles are replaced": `says`) or does (`verbs`: of one, of several), or a
    `part` of it that has no zone of its own does ("one catch of the case does not hold"), or it is a thing on a zone:
    its `noun`, else the term. A noun with a `plural` can be counted and takes its `article`; with both, the noun is for
    what is counted on one zone, or comes first if `noun_first`. Of the zones in `says_on` it says another word. `prep`
    stands between noun and zone, `measured` before a size; of zones under `says_where` the noun says where it is. What
    was looked for in vain is named by `sought`; where there is an `absent`, or one for some zones (`absent_on`), the
    zone is said to be that, unless it is `unproved`; nothing is said where the thing has none of the zones beside it.
    A part that was tried and did what it should is said to have `held`.
    Of what would have been done to a zone there is no `sign`, on some zones another (`sign_on`), with `sign_prep`
    before the zone: "no sign of re-sewing to the back". Of zones under `denied_of` it is said and denied of what they
    are part of: a sheet is laid down, and neither its back nor its support is ("item" is the thing, by its name).
    On zones under `thing_on` it is a thing, whatever it says of others: a handle is stuck back, and a body has a glued
    repair. On those under `noun_on` it has another noun, with its own word before the zone. Of a `part_named` term a
    note that names a part, by the house's list of parts, tells what of the zone it is so. What a word of the trade
    `means` is told once, behind it: "mount burn (a brown band from an acid mount)".

    `slight` ones may be called so; `makes` says in a word what the worst of it makes of the item. `whole` terms say of
    one thing that it is the zone itself; one that is `spread` over a share of a zone is several; a note on a
    `note_names` term names what it speaks of; `times` terms happen once or several times; of an
    `unsized` one nobody asks how large it is. `covers` is its family: who
    denies the term denies those, too. `origins` are those it says by itself.
    """

    term: Word
    family: Text
    says: Text | None = None
    says_on: Annotated[dict[Word, Text], Field(default_factory=dict)]
    verbs: tuple[Text, Text] | None = None
    part: tuple[Text, Text] | None = None
    held: Text | None = None
    noun: Text | None = None
    article: Literal["a", "an"] = "a"
    plural: Text | None = None
    prep: Prep = "to"
    sought: Text | None = None
    sign: Text | None = None
    sign_on: Annotated[dict[Word, Text], Field(default_factory=dict)]
    sign_prep: Literal["of", "to", "in", "from"] = "of"
    absent: Text | None = None
    absent_on: Annotated[dict[Word, Text], Field(default_factory=dict)]
    unproved: Unproved | None = None
    measured: Literal["over", "by", "for"] | None = None
    denied_of: Annotated[dict[Word, tuple[Text, Text]], Field(default_factory=dict)]
    thing_on: Annotated[list[Word], Field(default_factory=list)]
    noun_on: Annotated[dict[Word, tuple[Text, Prep]], Field(default_factory=dict)]
    part_named: bool = False
    means: Text | None = None
    says_where: Annotated[list[Word], Field(default_factory=list)]
    sense: Sense | None = None
    makes: Text | None = None
    slight: bool = False
    whole: bool = False
    spread: bool = False
    noun_first: bool = False
    note_names: bool = False
    times: bool = False
    unsized: bool = False
    origins: Annotated[list[Word], Field(default_factory=list)]
    covers: Annotated[list[Word], Field(default_factory=list)]
    said_as: Annotated[list[Text], Field(min_length=1)]
    definition: Text
    materials: Annotated[list[str], Field(min_length=1)]
    extents: Annotated[list[Extent], Field(min_length=1)]
    severity: Annotated[int, Field(ge=0, le=4)]
    activity: Literal["n", "w", "P", "Q"]
    lookalikes: list[Word]


class Vocabulary(Written):
    terms: Annotated[list[Term], Field(min_length=1)]


class Reason(Written):
    """`words` are for the table; `print`, if there is any, for whoever bids."""

    reason: Word
    words: Text
    print: Text | None = None


class Severity(Written):
    severity: Annotated[int, Field(ge=0, le=4)]
    words: Text
    meaning: Text


class ExtentWords(Written):
    words: Text
    share: Text
    print: Text | None = None


class Activity(Written):
    activity: Literal["n", "w", "P", "Q"]
    words: Text
    meaning: Text


class Certainty(Written):
    certainty: Word
    words: Text
    meaning: Text


class Authorship(Written):
    authorship: Word
    words: Text
    meaning: Text


class Originality(Written):
    """`print` stands behind "is" or "are"; beside it, no term that it `denies` is said not to be seen.

    Terms that it is `ended_by` cannot be true of all of the same zone: a text says that the two are not settled.
    """

    originality: Word
    words: Text
    meaning: Text
    print: Text | None = None
    denies: Annotated[list[Word], Field(default_factory=list)]
    ended_by: Annotated[list[Word], Field(default_factory=list)]


class Through(Written):
    """How a light is used on zones that one looks through, such as a lens."""

    zones: Annotated[list[Word], Field(min_length=1)]
    how: Text
    tool: Text


class Light(Written):
    """In print: "no chip seen HOW" and "examined with TOOL"; `named` says when it stands beside a finding.

    `once` is what the tool was called in print before: what the desk wrote of that is of the same light.
    """

    light: Word
    words: Text
    sense: Sense = "sight"
    how: Text | None = None
    tool: Text | None = None
    once: Annotated[list[Text], Field(default_factory=list)]
    through: Through | None = None
    named: Literal["always", "own", "never"] = "never"
    shows: Text
    limits: Text


class Evidence(Written):
    evidence: Word
    words: Text
    strength: Text


class Technique(Written):
    technique: Word
    words: Text


class Material(Written):
    material: Annotated[str, Field(pattern=r"^[A-Z]{2,3}$")]
    words: Text


Span = tuple[int, int]


class Parts(Written):
    """What early, mid and late cover, counted within a century or a decade."""

    early: Span
    mid: Span
    late: Span


class Period(Written):
    """A reign or a style by its name, with its first and last year."""

    name: Text
    first: Annotated[int, Field(alias="from")]
    last: Annotated[int, Field(alias="to")]


class DateWords(Written):
    """What the house means by date words; years are whole numbers."""

    circa: Annotated[int, Field(ge=0, le=50)]
    century_begins: Literal[0, 1]
    century: Parts
    decade: Parts
    after_includes_year: bool
    between_the_wars: Span
    turn_of_the_century: Span
    periods: list[Period]


class Words(Written):
    """The words shown to people for the ids that records carry."""

    reasons: Annotated[list[Reason], Field(min_length=1)]
    severities: Annotated[list[Severity], Field(min_length=5, max_length=5)]
    extents: Annotated[list[ExtentWords], Field(min_length=1)]
    activities: Annotated[list[Activity], Field(min_length=4, max_length=4)]
    certainties: Annotated[list[Certainty], Field(min_length=1)]
    authorships: Annotated[list[Authorship], Field(min_length=1)]
    originalities: Annotated[list[Originality], Field(min_length=1)]
    lights: Annotated[list[Light], Field(min_length=1)]
    evidences: Annotated[list[Evidence], Field(min_length=1)]
    techniques: Annotated[list[Technique], Field(min_length=1)]
    materials: Annotated[list[Material], Field(min_length=1)]
    caveat: Text
    dates: DateWords


def vocabulary_problems(read: DataFile[Vocabulary], materials: set[str]) -> list[Problem]:
    """Doubled terms, lookalikes that are no terms or the term itself, materials that have no words."""
    ids = [term.term for term in read.content.terms]
    problems = read.doubled(["terms"], ids, "term")
    for number, term in enumerate(read.content.terms):
        place: list[str | int] = ["terms", number]
        others = set(ids) - {term.term}
        problems += read.unknown([*place, "lookalikes"], term.lookalikes, others, "other term")
        problems += read.unknown([*place, "covers"], term.covers, others, "other term")
        problems += read.unknown([*place, "materials"], term.materials, materials, "material")
        problems += read.doubled([*place, "lookalikes"], term.lookalikes, "lookalike")
    return problems


def words_problems(read: DataFile[Words] | DataFile[Print]) -> list[Problem]:
    """Ids that stand twice in their list. Each entry's first key is its id, and of one `of` a zone with that zone."""
    problems = []
    for name in type(read.content).model_fields:
        entries = getattr(read.content, name)
        if not isinstance(entries, list) or not entries:
            continue
        first = next(iter(type(entries[0]).model_fields))
        ids = [
            "/".join(filter(None, [getattr(entry, "of", None), str(getattr(entry, first))]))
            for entry in entries
        ]
        problems += read.doubled([name], ids, first)
    return problems
