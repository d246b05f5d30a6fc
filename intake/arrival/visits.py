"""A visit: one consignor's turn at one day. The ticket is its key for people, never the name."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from intake.edits import edit_field
from intake.operation import Count, Edit, Identifier, Line, Operation, Prose
from intake.records import PERSONAL_PREFIX, Applied, Records

Ticket = Annotated[str, Field(min_length=1, max_length=20, examples=["Q04"])]


class OfVisit(Operation):
    """An operation on a visit."""

    visit_id: Identifier

    @property
    def record_id(self) -> str:
        return self.visit_id


class OpenVisit(OfVisit):
    """The door gives a ticket, counts the bags, and hears what is in them."""

    roles = frozenset({"door", "table", "desk"})

    kind: Literal["open_visit"]
    day_id: Identifier
    ticket: Ticket
    bags: Count
    kinds: Line


class SetVisit(OfVisit, Edit):
    """One fact about the visit: where the owner is, how many things were counted at unpacking ..."""

    roles = frozenset({"door", "table", "desk"})

    kind: Literal["set_visit"]
    field: Literal["ticket", "bags", "kinds", "needs", "stage", "table_id", "item_count", "note"]
    value: Prose | Count

    @model_validator(mode="after")
    def check_value(self) -> SetVisit:
        """A count is a whole number, a stage one of the three, and the rest words."""
        if (self.field in ("bags", "item_count")) != isinstance(self.value, int):
            raise ValueError(
                f"{self.field} takes {'a whole number' if isinstance(self.value, str) else 'words'}"
            )
        if self.field == "stage" and self.value not in ("waiting", "at-table", "left"):
            raise ValueError("stage is waiting, at-table or left")
        return self

    def edited(self) -> tuple[str, Any]:
        return self.field, self.value


class SetConsignor(OfVisit, Edit):
    """One fact about the consignor. Its words stay out of the log and can be erased."""

    roles = frozenset({"door", "table", "desk"})
    personal = ("salt", "value")

    kind: Literal["set_consignor"]
    field: Literal[
        "name",
        "address",
        "telephone",
        "email",
        "preferred_contact",
        "acting_as",
        "acting_for",
        "identity_seen",
    ]
    value: Prose
    salt: Annotated[str, Field(pattern=r"^[0-9a-f]{32}$|^$")]

    def edited(self) -> tuple[str, Any]:
        return f"{PERSONAL_PREFIX}{self.field}", self.value


def open_visit(records: Records, operation: OpenVisit, at: Applied) -> bool:
    records.require("day", operation.day_id)
    visit = records.open(operation, at, kind="visit", day_id=operation.day_id, head={})
    for name, value in operation.model_dump(include={"ticket", "bags", "kinds"}).items():
        visit.put(operation, name, value)
    visit.put(operation, "stage", "waiting")
    return False


def edit_visit(records: Records, operation: SetVisit | SetConsignor, at: Applied) -> bool:
    return edit_field(records.require("visit", operation.record_id), operation, at)
