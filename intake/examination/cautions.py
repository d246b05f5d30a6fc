"""Cautions: a sign of hazard or restriction that a person noticed, who was called, and what they decided.

The tool never says what a thing is, nor that it is safe. It shows the caution for the sign that was picked and
says who decides: local law and licensed practice. A red caution stops the item until it is cleared.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from intake.arrival.items import ItemEdit
from intake.edits import edit_field
from intake.errors import NotFound
from intake.examination.findings import ZoneKey
from intake.operation import Identifier, Line, Prose
from intake.records import Applied, Record, Records

Hazard = Annotated[str, Field(pattern=r"^H[0-9]{2,3}$", examples=["H26"])]
LEVELS = ("red", "amber", "note")


class RaiseCaution(ItemEdit):
    """A sign was noticed. `level` is that of the country pack on the day; `sign` is what was seen, not what it is."""

    roles = frozenset({"table", "door", "porter", "desk"})

    kind: Literal["raise_caution"]
    caution_id: Identifier
    hazard: Hazard
    level: Literal["red", "amber", "note"]
    sign: Prose
    zone: ZoneKey | None
    called: Line
    place: Line

    def edited(self) -> tuple[str, Any]:
        told = "hazard level sign zone called place"
        return f"cautions/{self.caution_id}", {name: getattr(self, name) for name in told.split()}


class DecideCaution(ItemEdit):
    """What whoever was called decided. A cleared caution stays on record, with the name of who cleared it."""

    roles = frozenset({"table", "desk"})

    kind: Literal["decide_caution"]
    caution_id: Identifier
    decision: Literal["cleared", "isolated", "returned", "referred"]
    decided_by: Annotated[Line, Field(min_length=1)]
    cleared_for: Line
    place: Line
    paper_given: bool
    note: Prose

    def edited(self) -> tuple[str, Any]:
        told = "decision decided_by cleared_for place paper_given note"
        return f"caution-decisions/{self.caution_id}", {name: getattr(self, name) for name in told.split()}


def raise_caution(records: Records, operation: RaiseCaution, at: Applied) -> bool:
    """Put a caution on an item, on a stopped one too."""
    item = records.require("item", operation.item_id)
    disagreement = edit_field(item, operation, at)
    mark_stopped(item)
    return disagreement


def decide_caution(records: Records, operation: DecideCaution, at: Applied) -> bool:
    """Record the decision on a caution. Raises NotFound if the item has no such caution."""
    item = records.require("item", operation.item_id)
    if item.value(f"cautions/{operation.caution_id}") is None:
        raise NotFound("caution", operation.caution_id)
    disagreement = edit_field(item, operation, at)
    mark_stopped(item)
    return disagreement


def mark_stopped(item: Record) -> None:
    """Note on the record which red caution stops it, or that none does."""
    standing = standing_cautions(item.values("caution"))
    item.stopped_by = min((one["hazard"] for one in standing if one["level"] == "red"), default=None)


def standing_cautions(fields: dict[str, Any]) -> list[dict[str, Any]]:
    """The cautions among an item's fields that nobody has cleared."""
    return [
        caution
        for name, caution in fields.items()
        if name.startswith("cautions/")
        and fields.get(f"caution-decisions/{name.removeprefix('cautions/')}", {}).get("decision") != "cleared"
    ]


def gravest(fields: dict[str, Any]) -> str | None:
    """The level of the gravest caution that stands; None if none does."""
    standing = {caution["level"] for caution in standing_cautions(fields)}
    return next((level for level in LEVELS if level in standing), None)
