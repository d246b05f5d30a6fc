"""Cautions: a sign of hazard or restriction that a person noticed, who was called, and what they decided.

The tool never says what a thing is, nor that it is safe. It shows the caution for the sign that was picked and
says who decides: local law and licensed practice. A red caution stops the item until it is cleared.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal, get_args

from pydantic import Field

from intake.arrival.items import ItemEdit
from intake.errors import NotFound
from intake.examination.findings import ZoneKey, spreads
from intake.examination.stopped import Still, Stop, kinds_allowed
from intake.operation import Identifier, Line, Prose
from intake.records import Record, Records, derives

Hazard = Annotated[str, Field(pattern=r"^H[0-9]{2,3}$", examples=["H26"])]
LEVELS = ("red", "amber", "note")


class RaiseCaution(ItemEdit):
    """A sign was noticed. `level` is that of the country pack on the day; `sign` is what was seen, not what it is.

    `still_allowed` is what the pack's row lets a stopped item still have; null for a row that stops nothing, and from a
    device that does not say.
    """

    roles = frozenset({"table", "door", "porter", "desk"})
    field_name = "cautions/{caution_id}"
    goes_on_stopped = True

    kind: Literal["raise_caution"]
    caution_id: Identifier
    hazard: Hazard
    level: Literal["red", "amber", "note"]
    sign: Prose
    zone: ZoneKey | None
    called: Line
    place: Line
    still_allowed: Annotated[list[Still], Field(max_length=20)] | None = None


class DecideCaution(ItemEdit):
    """What whoever was called decided. A cleared caution stays on record, with the name of who cleared it."""

    roles = frozenset({"table", "desk"})
    field_name = "caution-decisions/{caution_id}"
    goes_on_stopped = True

    kind: Literal["decide_caution"]
    caution_id: Identifier
    decision: Literal["cleared", "isolated", "returned", "referred"]
    decided_by: Annotated[Line, Field(min_length=1)]
    cleared_for: Line
    place: Line
    paper_given: bool
    note: Prose

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records) -> None:
        """Raises NotFound if the item has no such caution."""
        caution_id = name.removeprefix("caution-decisions/")
        if f"cautions/{caution_id}" not in record.fields:
            raise NotFound("caution", caution_id)


@derives("item", "stopped_by")
def stopped_by(item: Record) -> str | None:
    """The hazard of a red caution that stands, which stops the item; None if none does."""
    standing = standing_cautions(item)
    return min((caution["hazard"] for _, caution in standing if caution["level"] == "red"), default=None)


@derives("item", "still_takes")
def still_takes(item: Record) -> frozenset[str]:
    """The kinds of operation that the item still takes while red cautions stand on it."""
    return kinds_allowed(
        Stop(
            get_args(Still) if caution["still_allowed"] is None else caution["still_allowed"],
            decided=f"caution-decisions/{caution_id}" in item.fields,
        )
        for caution_id, caution in standing_cautions(item)
        if caution["level"] == "red"
    )


@derives("item", "caution")
def gravest(item: Record) -> str | None:
    """The level of the gravest caution that stands; None if none does."""
    standing = {caution["level"] for _, caution in standing_cautions(item)}
    return next((level for level in LEVELS if level in standing), None)


@derives("item", "held_apart")
def is_held_apart(item: Record) -> bool:
    """Whether something on it can spread, or whoever decides has set it apart and nobody cleared it."""
    decisions = item.values("caution-decisions/").values()
    return any(decision["decision"] == "isolated" for decision in decisions) or spreads(item)


def standing_cautions(item: Record) -> list[tuple[str, dict[str, Any]]]:
    """The cautions on an item that nobody has cleared, each with its id."""
    raised = [(name.removeprefix("cautions/"), caution) for name, caution in item.values("cautions/").items()]
    return [
        (caution_id, caution)
        for caution_id, caution in raised
        if (item.value(f"caution-decisions/{caution_id}") or {}).get("decision") != "cleared"
    ]
