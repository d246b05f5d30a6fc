"""Zone states and findings. A blank is never fine: a zone nobody looked at has no state at all."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Field, model_validator

from intake.arrival.items import ItemEdit, OfItem, require_item
from intake.edits import edit_field
from intake.errors import FindingsOnZone
from intake.operation import Count, Identifier, Line, Prose, Word
from intake.records import Applied, Record, Records

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


class ExamineZone(ItemEdit):
    """What a person found on one zone: clear, finding, or not examined and why.

    `light` is the light or tool used, which decides what "clear" is worth. `count` is how many members were
    counted, for zones whose plan says so.
    """

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

    def edited(self) -> tuple[str, Any]:
        value = {"state": self.state, "reason": self.reason, "light": self.light, "count": self.count}
        return f"zones/{self.zone}", value


class ExamineRest(OfItem):
    """A person says "rest clear" after having read the list it covers; it is stored zone by zone."""

    kind: Literal["examine_rest"]
    zones: Annotated[list[ZoneKey], Field(min_length=1, max_length=200)]
    light: Line | None


class RecordFinding(ItemEdit):
    """One term on one zone: what was seen there, never why or what it costs.

    Units: `extent_mm` is the longest dimension in millimetres, to the tenth, and `extent_mm_across` the one across it;
    `extent_percent` is the share of the zone; `extent_count` how many there are. Each is null if nobody
    measured it. Source: the examiner, in front of the item. `severity` runs from 0, a fact, to 4, severe.
    """

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
    note: Prose
    withdrawn: bool

    def edited(self) -> tuple[str, Any]:
        told = (
            "zone term side severity extent_mm extent_mm_across extent_percent extent_count extent_words "
            "activity certainty origin note withdrawn"
        )
        return f"findings/{self.finding_id}", {name: getattr(self, name) for name in told.split()}


def standing_findings(item: Record) -> list[dict[str, Any]]:
    """The findings of an item that nobody has withdrawn."""
    return [finding for finding in item.values("findings/").values() if not finding["withdrawn"]]


def spreads(item: Record) -> bool:
    """Whether something was found that can spread to, or harm, other things or people."""
    return any(finding["activity"] == "Q" for finding in standing_findings(item))


def examine_zone(records: Records, operation: ExamineZone, at: Applied) -> bool:
    """Set a zone's state. Raises FindingsOnZone for "clear" by somebody who saw that there are findings."""
    item = require_item(records, operation.item_id)
    if operation.state == "clear":
        current = item.fields.get(f"zones/{operation.zone}")
        count = sum(finding["zone"] == operation.zone for finding in standing_findings(item))
        if count and (current is None or current.operation_id == operation.seen):
            raise FindingsOnZone(operation.zone, count)
    return edit_field(item, operation, at)


def examine_rest(records: Records, operation: ExamineRest, at: Applied) -> bool:
    """Clear the zones that nobody has spoken of; one that was examined meanwhile stays as it is."""
    item = require_item(records, operation.item_id)
    clear = {"state": "clear", "reason": None, "light": operation.light, "count": None}
    found = {finding["zone"] for finding in standing_findings(item)}
    for zone in operation.zones:
        if zone not in found and f"zones/{zone}" not in item.fields:
            item.put(operation, f"zones/{zone}", clear)
    return False
