"""What is seen of an item beside its findings: denials, origins, marks, dates, measures, function tests, a grade."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import AfterValidator, Field, model_validator

from intake.arrival.items import Correctable, ItemEdit
from intake.examination.findings import ZoneKey
from intake.operation import Identifier, Line, Prose, Word

EARLIEST_YEAR, LATEST_YEAR = -3000, 2100
GradeWord = Literal["excellent", "very good", "good", "fair", "poor", "as found"]
Year = Annotated[int, Field(ge=EARLIEST_YEAR, le=LATEST_YEAR)]


def to_the_hundredth(value: float) -> float:
    if round(value, 2) != value:
        raise ValueError("give it to the hundredth at most")
    return value


Hundredths = Annotated[int | float, Field(gt=0, le=1_000_000), AfterValidator(to_the_hundredth)]


class RecordDenial(Correctable):
    """A fault looked for on a zone and not found, with the light or tool that could have shown it."""

    field_name = "denials/{zone}/{term}"
    value_members = ("zone", "term", "light", "withdrawn")
    replaceable = True

    kind: Literal["record_denial"]
    zone: ZoneKey
    term: Word
    light: Annotated[Line, Field(min_length=1)]
    withdrawn: bool


class RecordStatement(Correctable):
    """Something the class expects to be stated of the examination itself, such as "movement not opened"."""

    field_name = "statements/{statement}"
    replaceable = True

    kind: Literal["record_statement"]
    statement: Word
    words: Annotated[Line, Field(min_length=1)]
    withdrawn: bool


class RecordOrigin(ItemEdit):
    """What has happened to a zone since it was made; null takes back what was said."""

    field_name = "origins/{zone}"
    replaceable = True

    kind: Literal["record_origin"]
    zone: ZoneKey
    origin: (
        Literal[
            "original",
            "original-probably",
            "replaced",
            "restored",
            "repaired",
            "later-added",
            "associated",
            "married",
            "altered",
            "refinished",
            "not-determined",
        ]
        | None
    )
    note: Line


class RecordMark(Correctable):
    """A mark as it stands, line by line, with its place. The reading is kept apart from the transcription.

    `technique` is how it was put there, such as struck, printed or incised. `standing` is what is held of it: in our
    opinion the maker's own, borne (it is there, and nobody says who put it), or borne and not relied on.
    """

    field_name = "marks/{mark_id}"
    if_said = ("standing",)
    replaceable = True

    kind: Literal["record_mark"]
    mark_id: Identifier
    place: Line
    technique: Word | None
    colour: Line
    completeness: Literal["complete", "worn", "partial", "illegible"] | None
    text: Prose
    reading: Line
    standing: Literal["makers-own", "borne", "not-relied-on"] | None = None
    withdrawn: bool


class RecordDate(Correctable):
    """When it was made: the words as typed, the earliest and the latest year, and an EDTF string (ISO 8601-2).

    Units: years counted astronomically, so that 44 BC is -43; null is open or not known.
    """

    field_name = "dates"
    replaceable = True

    kind: Literal["record_date"]
    words: Line
    earliest: Year | None
    latest: Year | None
    edtf: Annotated[str, Field(min_length=1, max_length=60)] | None

    @model_validator(mode="after")
    def check_order(self) -> RecordDate:
        if self.earliest is not None and self.latest is not None and self.earliest > self.latest:
            raise ValueError("the earliest year comes after the latest")
        return self


class RecordMeasure(Correctable):
    """One measure. `value` is in millimetres or grams to the hundredth, or a count; `typed` is what was read off.

    `basis` says what was measured or weighed with it, such as gross, net, or without the cover.
    """

    field_name = "measures/{measure}"
    if_said = ("basis",)
    replaceable = True

    kind: Literal["record_measure"]
    measure: Annotated[Word, Field(max_length=40)]
    value: Hundredths | None
    unit: Literal["mm", "g", "n"]
    typed: Line
    basis: Line = ""


class RecordTest(Correctable):
    """A function test: its result, or that it was not made and why. A result left out is no result."""

    field_name = "tests/{test}"
    replaceable = True

    kind: Literal["record_test"]
    test: Word
    result: Literal["works", "works-in-part", "no-response", "not-done"]
    why: Line
    note: Line

    @model_validator(mode="after")
    def check_why(self) -> RecordTest:
        if self.result == "not-done" and not self.why.strip():
            raise ValueError("a test that was not made needs its reason")
        return self


class RecordGrade(ItemEdit):
    """The valuer's own overall word beside the computed one, and why; null goes back to the computed word.

    `computed` is the word that stood when the valuer moved it.
    """

    roles = frozenset({"table", "desk"})
    field_name = "grade"
    replaceable = True

    kind: Literal["record_grade"]
    word: GradeWord | None
    computed: GradeWord
    reason: Line

    @model_validator(mode="after")
    def check_reason(self) -> RecordGrade:
        if self.word is not None and not self.reason.strip():
            raise ValueError("a word other than the computed one needs its reason")
        return self
