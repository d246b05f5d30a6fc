"""Cautions: a sign of hazard or restriction that a person noticed, who was called, and what they decided.

The tool never says what a thing is, nor that it is safe. It shows the caution for the sign that was picked and
says who decides: local law and licensed practice. A red caution stops the item until it is cleared.
"""

from __future__ import annotations

import json
from typing import Annotated, Any, Literal

from pydantic import Field

from intake.arrival.items import ItemEdit
from intake.database import Reading, Writing
from intake.edits import Applied, edit_field, field_value, require_record
from intake.errors import NotFound
from intake.examination.findings import ZoneKey
from intake.operation import Identifier, Line, Prose

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


def raise_caution(tx: Writing, operation: RaiseCaution, at: Applied) -> bool:
    """Put a caution on an item, on a stopped one too."""
    require_record(tx, "item", operation.item_id)
    disagreement = edit_field(tx, operation, at)
    mark_stopped(tx, operation.item_id)
    return disagreement


def decide_caution(tx: Writing, operation: DecideCaution, at: Applied) -> bool:
    """Record the decision on a caution. Raises NotFound if the item has no such caution."""
    require_record(tx, "item", operation.item_id)
    if field_value(tx, operation.item_id, f"cautions/{operation.caution_id}") is None:
        raise NotFound("caution", operation.caution_id)
    disagreement = edit_field(tx, operation, at)
    mark_stopped(tx, operation.item_id)
    return disagreement


def mark_stopped(tx: Writing, item_id: str) -> None:
    """Note on the record which red caution stops it, or that none does."""
    standing = standing_cautions(item_fields(tx, item_id))
    red = [caution["hazard"] for caution in standing if caution["level"] == "red"]
    tx.run(
        "UPDATE record SET stopped_by = :hazard WHERE record_id = :item_id",
        hazard=min(red, default=None),
        item_id=item_id,
    )


def item_fields(tx: Reading, item_id: str) -> dict[str, Any]:
    """The cautions on an item and what was decided of them, by field name."""
    rows = tx.all(
        "SELECT name, value FROM field WHERE record_id = :item_id AND name >= 'caution' AND name < 'cautiont'",
        item_id=item_id,
    )
    return {row["name"]: json.loads(row["value"]) for row in rows}


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
