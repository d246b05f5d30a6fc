"""A visit: one consignor's turn at one day. The ticket is its key for people, never the name."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from intake.edits import Edit
from intake.operation import Count, Identifier, Line, Opening, Operation, Prose, Salt
from intake.records import Record, Records, Source

Ticket = Annotated[str, Field(min_length=1, max_length=20, examples=["Q04"])]


class OfVisit(Operation):
    """An operation on a visit."""

    record_kinds = ("visit",)
    record_member = "visit_id"

    visit_id: Identifier


class OpenVisit(OfVisit, Opening):
    """The door gives a ticket, counts the bags, and hears what is in them."""

    roles = frozenset({"door", "table", "desk"})
    sets_too = ("ticket", "bags", "kinds", "stage")

    kind: Literal["open_visit"]
    day_id: Identifier
    ticket: Ticket
    bags: Count
    kinds: Line

    def check_opening(self, records: Records) -> None:
        records.require(self.day_id, "day")

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        for name, value in self.members("ticket", "bags", "kinds").items():
            record.put(name, value, source)
        record.put("stage", "waiting", source)
        return False


class SetVisit(OfVisit, Edit):
    """One fact about the visit: where the owner is, how many things were counted at unpacking ..."""

    roles = frozenset({"door", "table", "desk"})
    field_name = "{field}"
    whole_value = "value"
    replaceable = True

    kind: Literal["set_visit"]
    field: Literal["ticket", "bags", "kinds", "needs", "stage", "table_id", "item_count", "note"]
    value: Prose | Count

    @model_validator(mode="after")
    def check_fact(self) -> SetVisit:
        """A count is a whole number, a stage one of the three, and the rest words."""
        if (self.field in ("bags", "item_count")) != isinstance(self.value, int):
            raise ValueError(
                f"{self.field} takes {'a whole number' if isinstance(self.value, str) else 'words'}"
            )
        if self.field == "stage" and self.value not in ("waiting", "at-table", "left"):
            raise ValueError("stage is waiting, at-table or left")
        return self


class SetConsignor(OfVisit, Edit):
    """One fact about the consignor. Its words stay out of the log and can be erased."""

    roles = frozenset({"door", "table", "desk"})
    personal = ("salt", "value")
    field_name = "consignor/{field}"
    whole_value = "value"
    replaceable = True

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
    salt: Salt

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        """Set the fact, unless it was written before the consignor's words were erased: then it is erased, too."""
        return not self.words_erased(records) and super().apply_to(record, records, source)
