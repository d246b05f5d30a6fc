"""Zone states and findings. A blank is never fine: a zone nobody looked at has no state at all."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Field, model_validator

from intake.arrival.items import MOST_PIECES, Correctable, ItemEdit, OfItem
from intake.errors import FindingsOnZone, MorePieces, TooLongTogether
from intake.operation import PROSE, Count, Identifier, Line, Operation, Prose, Salt, Word
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.values import FieldValue, Source

ZoneKey = Annotated[
    str,
    Field(
        pattern=r"^[a-z0-9][a-z0-9-]*(/[a-z0-9][a-z0-9-]*)?$", max_length=80, examples=["ears/proper-right"]
    ),
]


def to_the_tenth(value: float) -> float:
    if round(value, 1) != value:
        raise ValueError("give it to the tenth of a millimetre at most")
    return value


Millimetres = Annotated[int | float, Field(gt=0, le=20_000), AfterValidator(to_the_tenth)]


#: One piece of several: its number among them, as its tag says it, or its side of a pair; or that nobody noted which.
Piece = Annotated[str, Field(pattern=r"^(left|right|not-noted|[1-9][0-9]{0,3})$", examples=["left", "3"])]
#: The zone on which the pieces of a set are counted.
SET = "set-count"

#: How sure it is of what nobody saw, since the owner says so; and where their words of it stand.
TOLD = "told"
TOLD_NOTE = "finding-notes/{finding_id}"

#: Why a zone was not examined of which something was said that does not hold: it is left, as one that nobody spoke of.
TO_LOOK_AT = "to-look-at"


class ExamineZone(Correctable):
    """What a person found on one zone: clear, finding, or not examined and why.

    `light` is the light or tool used, which decides what "clear" is worth. `count` is how many members were
    counted, for zones whose plan says so.
    """

    field_name = "zones/{zone}"

    kind: Literal["examine_zone"]
    zone: ZoneKey
    state: Literal["clear", "finding", "not-examined"]
    reason: Word | None
    light: Line | None
    count: Count | None

    @model_validator(mode="after")
    def check_reason(self) -> ExamineZone:
        if (self.state == "not-examined") != (self.reason is not None):
            raise ValueError("a zone that was not examined needs its reason, and no other zone has one")
        return self

    @classmethod
    def put_value(cls, record: Record, name: str, value: Any, records: Records, source: Source) -> None:
        """That something was found stands as long as something does: of one device the finding may be withdrawn in its
        place, before the zone's state is heard."""
        super().put_value(record, name, value, records, source)
        look_again(record, name.removeprefix("zones/"), source)

    def check_on(self, record: Record, records: Records) -> None:
        """Somebody who did not see the findings may say "clear" all the same: that is a disagreement."""
        if self.state == "clear" and self.replaces(record, records):
            self.check_value(record, *self.edited, records, self)

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """Raises FindingsOnZone for "clear" while there are findings on the zone."""
        if value["state"] != "clear":
            return
        zone = name.removeprefix("zones/")
        if count := sum(finding["zone"] == zone for finding in standing_findings(record)):
            raise FindingsOnZone(zone, count)


class ExamineRest(OfItem):
    """A person says "rest clear" after having read the list it covers; it is stored zone by zone."""

    sets_too = ("zones/{zone}",)

    kind: Literal["examine_rest"]
    zones: Annotated[list[ZoneKey], Field(min_length=1, max_length=200)]
    light: Line | None

    @classmethod
    def in_words(cls) -> str:
        return "examine the rest"

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        """Clear the zones that are left; one that was examined meanwhile stays as it is."""
        clear = {"state": "clear", "reason": None, "light": self.light, "count": None}
        found = {finding["zone"] for finding in standing_findings(record)}
        for zone in self.zones or []:
            if zone not in found and is_left(record.value(f"zones/{zone}")):
                record.put(f"zones/{zone}", clear, source)
        return False


class RecordFinding(Correctable):
    """One term on one zone: what was seen there, never why or what it costs.

    Units: `extent_mm` is the longest dimension in millimetres, to the tenth, and `extent_mm_across` the one across it;
    `extent_percent` is the share of the zone; `extent_count` how many there are. Each is null if nobody
    measured it. `light` is what showed it, where that differs from what its zone was examined with. Of a thing of
    several pieces `piece` is the one that it is on, or `piece_count` how many it is on, and
    `piece_words` which those are, where no number tells them apart; of neither nothing is known.
    Source: the examiner, in front of the item. `severity` runs from 0, a fact, to 4, severe.

    The note of one that only the owner told of is their words: it stands apart, is read as all that they told is, and
    goes with it. An empty one leaves what stands there, since whoever does not read it says nothing of it.
    """

    field_name = "findings/{finding_id}"
    sets_too = (TOLD_NOTE, "zones/{zone}")
    personal = ("salt", "note")
    personal_before = ((),)
    if_said = ("light", "piece", "piece_count", "piece_words")
    replaceable = True

    kind: Literal["record_finding"]
    finding_id: Identifier
    zone: ZoneKey
    term: Word
    side: Word | None
    severity: Annotated[int, Field(ge=0, le=4)]
    extent_mm: Millimetres | None
    extent_mm_across: Millimetres | None = None
    extent_percent: Annotated[int, Field(ge=1, le=100)] | None = None
    extent_count: Annotated[int, Field(ge=1, le=100_000)] | None = None
    extent_words: Line | None
    activity: Literal["n", "w", "P", "Q"] | None
    certainty: Word | None
    origin: Word | None
    light: Line | None = None
    piece: Piece | None = None
    piece_count: Annotated[int, Field(ge=1, le=MOST_PIECES)] | None = None
    piece_words: Line | None = None
    note: Prose
    withdrawn: bool
    salt: Salt | None = None

    @model_validator(mode="after")
    def check_piece(self) -> RecordFinding:
        if self.piece and self.piece_count:
            raise ValueError("it is on one piece, or on so many of them")
        return self

    @classmethod
    def personal_in(cls, said: dict[str, Any]) -> tuple[str, ...]:
        """The note, if nobody but the owner says so."""
        return cls.personal if said.get("certainty") == TOLD else ()

    def value_said(self) -> dict[str, Any]:
        value = super().value_said()
        return {**value, "note": ""} if self.certainty == TOLD else value

    def check_on(self, record: Record, records: Records) -> None:
        """Beside another's word it is a disagreement, whatever was counted. Raises TooLongTogether for more of what was
        told than one note takes."""
        if self.replaces(record, records):
            self.check_value(record, *self.edited, records, self)
        if self.certainty == TOLD and len(self.told_on(record)) > PROSE:
            raise TooLongTogether(PROSE)

    def told_on(self, record: Record) -> str:
        """What its owner told of it, once this is said."""
        name = TOLD_NOTE.format(finding_id=self.finding_id)
        return told_beside(record.fields.get(name), self.note, self.seen) if self.note else ""

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """Raises MorePieces for what is on more pieces than anybody counted, or on one behind the last. It can be
        withdrawn whatever was counted since."""
        counted, piece = most_counted(record), value.get("piece") or ""
        said = value.get("piece_count") or (int(piece) if piece.isdecimal() else 0)
        if 1 < counted < said and not value["withdrawn"]:
            raise MorePieces(said, counted)

    @classmethod
    def put_value(cls, record: Record, name: str, value: Any, records: Records, source: Source) -> None:
        """With the last finding on a zone goes what was said of the zone for its sake."""
        super().put_value(record, name, value, records, source)
        if value["withdrawn"]:
            look_again(record, value["zone"], source)

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        """Words that were erased before they came leave what was found, without them."""
        disagreement = super().apply_to(record, records, source._replace(words_gone=False))
        if self.certainty == TOLD and self.note and not source.words_gone:
            record.put(TOLD_NOTE.format(finding_id=self.finding_id), self.told_on(record), source)
        return disagreement


class CorrectToldNote(ItemEdit):
    """What the owner told of a finding, put right by whoever reads it, or taken out. The finding stays as it is."""

    roles = frozenset({"table", "desk"})
    personal = ("salt", "value")
    field_name = TOLD_NOTE
    whole_value = "value"
    replaceable = True

    kind: Literal["correct_told_note"]
    finding_id: Identifier
    value: Prose
    salt: Salt | None = None


def told_beside(standing: FieldValue | None, note: str, seen: str | None) -> str:
    """What the owner told of a finding, with what somebody else had noted of it who had not seen this: both stay, since
    of what was told nobody can say which of two is so."""
    if standing is None or standing.was_seen(seen) or standing.value == note:
        return note
    return f"{standing.value}\n{note}"


def is_left(state: dict[str, Any] | None) -> bool:
    """Whether a zone, by what was said of it last, is still to be looked at."""
    return not state or state["reason"] == TO_LOOK_AT


def look_again(record: Record, zone: str | None, source: Source) -> None:
    """A zone on which something was found is to be looked at again once all of it is withdrawn. Where two say of the
    zone otherwise a person settles that first."""
    name = f"zones/{zone}"
    state = record.value(name)
    found = [finding for finding in record.values("findings/").values() if finding["zone"] == zone]
    if not state or state["state"] != "finding" or not found or record.is_contested(name):
        return
    if all(finding["withdrawn"] for finding in found):
        asked = {"state": "not-examined", "reason": TO_LOOK_AT, "light": None, "count": state["count"]}
        record.put(name, asked, source)


def standing_findings(item: Record) -> list[dict[str, Any]]:
    """The findings of an item that nobody has withdrawn."""
    return [finding for finding in item.values("findings/").values() if not finding["withdrawn"]]


def most_counted(item: Record) -> int:
    """The most pieces that are counted of a thing: by themselves, on the walk, by its numbers; 0 if nobody counted."""
    walked = item.value(f"zones/{SET}") or {}
    numbers = [number.get("of") for number in item.values("tags/").values()]
    return max(count or 0 for count in (0, item.value("pieces"), walked.get("count"), *numbers))


def spreads(finding: dict[str, Any]) -> bool:
    """Whether what was found can spread to, or harm, other things or people."""
    return bool(finding["activity"] == "Q" and not finding["withdrawn"])
