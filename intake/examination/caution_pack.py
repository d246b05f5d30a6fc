"""The country pack of cautions: what a person may notice, and what is then said, allowed and forbidden.

The pack says which country it is for and that it is no legal advice. It never says what a thing is.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Annotated, Any, Literal

from pydantic import Field

from intake.examination.cautions import Hazard
from intake.examination.plan_check import DataFile, Place, Problem, Text, Written
from intake.examination.stopped import Still
from intake.operation import Word

Name = Annotated[str, Field(min_length=1, max_length=40)]


#: So many characters fit on the two cards that are printed, one page each, upright or across, A4 or Letter: a step of
#: the card for the table; an urgent row's name and caution, and country with notice, on the one for the wall. Source:
#: printed from a browser with texts of just this length (tests/journeys/test_stop.py).
STEP_FITS, NAME_FITS, CAUTION_FITS, NOTICE_FITS = 170, 32, 110, 240


class Source(Written):
    """What rows rest on. What was published says by whom, under which title, and its date as printed there.

    `seen` says how it was looked at: the text itself, second-hand (a stored copy, somebody's summary), or only
    from memory; common practice has no text.
    """

    source: Word
    seen: Literal["text", "second-hand", "from-memory", "common-practice"]
    publisher: Text | None = None
    title: Text | None = None
    dated: Text | None = None

    @property
    def published(self) -> bool:
        return self.seen in ("text", "second-hand")

    def words(self) -> str:
        """The source as it is printed under a caution."""
        words = self.seen.replace("-", " ") if self.seen != "second-hand" else self.seen
        if not self.published:
            return words
        return f"{self.publisher}: {self.title}, {self.dated}" + (
            "" if self.seen == "text" else f" ({words})"
        )


class Forbidden(Written):
    """Trials and lights that must not be used once the sign was seen. No classes are all that name the caution."""

    classes: list[Word]
    tests: list[Word]
    lights: list[Word]


class Caution(Written):
    """One subject: the sign that a person may notice, what staff may and may not do, and who decides.

    `name` fits on a button. `synonyms` are what people would type or say. `first_minute` are at most four steps in
    their order. `still_allowed` is what an item may still have while a red row stops it, [] is nothing; other rows
    stop nothing and have none. `goes_home` is whether it may be offered that it goes home with its owner, and `holder`
    who has it then, where it is not settled that he is the owner. The sign of an `unsaid` row is printed nowhere: it
    would tell the room that the owner's title is doubted.
    `named` are words in what a thing is called that may call for the row, unless one of `not_named` is among them: it
    is offered then, and raised by nobody but a person.
    `extent` is the country or part that the rules named hold for. `checked_on` is when somebody last looked at the
    sources, null if nobody has; `unchecked` what of a checked row is from memory all the same.
    """

    hazard: Hazard
    name: Name
    subject: Text
    sign: Text
    synonyms: Annotated[list[Name], Field(min_length=1)]
    level: Literal["red", "amber", "note"]
    caution: Text
    first_minute: Annotated[list[Text], Field(min_length=1, max_length=4)]
    may: Text
    may_not: Text
    who: Text
    extent: Text
    sources: Annotated[list[Word], Field(min_length=1)]
    checked_on: date | None
    unchecked: Text | None = None
    still_allowed: list[Still] | None = None
    goes_home: bool
    holder: Word | None = None
    unsaid: bool = False
    named: Annotated[list[Word], Field(default_factory=list)]
    not_named: Annotated[list[Word], Field(default_factory=list)]
    forbids: Annotated[list[Forbidden], Field(default_factory=list)]


class CautionPack(Written):
    """One country's cautions.

    `emergency` is the number as it is said, `card` what everybody at a table does first, in order; `urgent` are the
    rows that are one touch away, `unknown` is the row for what has none.
    """

    country: Text
    notice: Text
    emergency: Name
    card: Annotated[list[Text], Field(min_length=1, max_length=6)]
    urgent: Annotated[list[Hazard], Field(min_length=1, max_length=8)]
    unknown: Hazard
    sources: Annotated[list[Source], Field(min_length=1)]
    cautions: Annotated[list[Caution], Field(min_length=1)]

    def row_of(self, hazard: str) -> Caution:
        """The row of a hazard; of one that nobody knows, the row for what nobody knows."""
        rows = {row.hazard: row for row in self.cautions}
        return rows.get(hazard) or rows[self.unknown]

    def body(self) -> dict[str, Any]:
        """The pack as devices read it, ready for JSON; each row has its sources in words as its `basis`."""
        words = {source.source: source.words() for source in self.sources}
        rows = [
            {**row.model_dump(mode="json"), "basis": "; ".join(words[name] for name in row.sources)}
            for row in self.cautions
        ]
        return {**self.model_dump(mode="json"), "cautions": rows}


def pack_problems(
    read: DataFile[CautionPack], classes: set[str], lights: set[str] | None, trials: set[str] | None
) -> list[Problem]:
    """What a model cannot see: doubled ids, ids that nothing defines, a red row that says nothing of what it stops."""
    pack = read.content
    hazards = [row.hazard for row in pack.cautions]
    sources = [source.source for source in pack.sources]
    problems = read.doubled(["cautions"], hazards, "caution")
    problems += read.doubled(["sources"], sources, "source")
    problems += read.doubled(["urgent"], pack.urgent, "caution")
    problems += read.unknown(["urgent"], pack.urgent, set(hazards), "caution")
    if pack.unknown not in hazards:
        problem = f'there is no caution "{pack.unknown}": name the row for what nobody knows.'
        problems.append(read.problem(["unknown"], problem))
    for number, step in enumerate(pack.card):
        problems += too_long(read, ["card", number], step, STEP_FITS)
    problems += too_long(read, ["notice"], f"{pack.country} {pack.notice}", NOTICE_FITS)
    for number, source in enumerate(pack.sources):
        if source.published and not (source.publisher and source.title and source.dated):
            problem = (
                'a published source needs publisher, title and dated: add them ("undated" if it has no date).'
            )
            problems.append(read.problem(["sources", number], problem))
    for number, row in enumerate(pack.cautions):
        place: list[str | int] = ["cautions", number]
        problems += read.unknown([*place, "sources"], row.sources, set(sources), "source")
        problems += read.doubled([*place, "synonyms"], [word.lower() for word in row.synonyms], "synonym")
        problems += stop_problems(read, place, row)
        if row.hazard in pack.urgent:
            problems += too_long(read, [*place, "name"], row.name, NAME_FITS)
            problems += too_long(read, [*place, "caution"], row.caution, CAUTION_FITS)
        for which, forbidden in enumerate(row.forbids):
            at = [*place, "forbids", which]
            problems += read.unknown([*at, "classes"], forbidden.classes, classes, "class")
            problems += read.unknown([*at, "tests"], forbidden.tests, trials, "test")
            problems += read.unknown([*at, "lights"], forbidden.lights, lights, "light")
    return problems


def too_long(read: DataFile[CautionPack], place: Place, text: str, fits: int) -> Iterator[Problem]:
    """A text that would push a card to a second page."""
    if len(text) > fits:
        problem = (
            f"this has {len(text)} characters, and {fits} fit on the card that is printed: say it shorter."
        )
        yield read.problem(place, problem)


def stop_problems(read: DataFile[CautionPack], place: Place, row: Caution) -> Iterator[Problem]:
    """A red row says what it still allows; another one stops nothing."""
    if row.level == "red" and row.still_allowed is None:
        problem = "a red caution stops the item: say in still_allowed what it may still have, [] for nothing."
        yield read.problem(place, problem)
    if row.level != "red" and row.still_allowed is not None:
        problem = "only a red caution stops the item: remove still_allowed, or make the level red."
        yield read.problem([*place, "still_allowed"], problem)
