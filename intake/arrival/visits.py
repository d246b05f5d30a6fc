"""A visit: one consignor's turn at one day. The ticket is its key for people, never the name."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from intake.edits import Edit
from intake.operation import Count, Identifier, Line, Opening, Operation, Prose, Salt
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.registries import sends_beside
from intake.records.values import NOBODY, FieldValue, Source, compact

#: What stands before a name in the languages of many owners; nobody is called by it alone. Common practice.
FORMS_OF_ADDRESS = frozenset(
    "don doña dr dame frau herr lady lord m madame miss mlle mme monsieur mr mrs ms mx prof rev sir sr sra".split()  # noqa: SIM905
)
#: The value of `private` on a visit whose owner is not to be named where the hall can read it.
PRIVATE = "yes"
#: The tickets that a visit had before, each by the operation that gave it.
TICKETS_BEFORE = "tickets-before/"
Ticket = Annotated[str, Field(min_length=1, max_length=20, examples=["Q04"])]


class OfVisit(Operation):
    """An operation on a visit."""

    record_kinds = ("visit",)
    record_member = "visit_id"

    visit_id: Identifier


class OpenVisit(OfVisit, Opening):
    """The door gives a ticket, counts the bags, and hears what is in them.

    `allowed_by` is the manager who was asked, where the day was closed by then; it stays on record with the visit. The
    device asks for it: the office refuses no visit for it, since the phone may not have heard of the closing.
    """

    roles = frozenset({"door", "table", "desk"})
    personal = ("salt", "kinds")  # in the owner's words
    personal_before = ((),)
    sets_too = ("ticket", "bags", "kinds", "stage", "allowed_by")

    kind: Literal["open_visit"]
    day_id: Identifier
    ticket: Ticket
    bags: Count
    kinds: Line
    allowed_by: Line = ""
    salt: Salt | None = None

    def check_opening(self, records: Records) -> None:
        records.require(self.day_id, "day")

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        for name, value in self.members("ticket", "bags", "kinds").items():
            record.put(name, value, source)
        record.put("stage", "waiting", source)
        if self.allowed_by:
            record.put("allowed_by", self.allowed_by, source)
        return False


class SetVisit(OfVisit, Edit):
    """One fact about the visit: where the owner is, how many things were counted, whether it is private ...

    What the owner needs, what they bring and what was noted of them stay out of the log and can be erased. A ticket
    that was changed is used up: the owner may hold that paper still, so the visit keeps it for all who count on.
    """

    roles = frozenset({"door", "table", "desk"})
    personal = ("salt", "value")
    personal_before = ((),)
    field_name = "{field}"
    whole_value = "value"
    replaceable = True

    kind: Literal["set_visit"]
    field: Literal["ticket", "bags", "kinds", "needs", "stage", "table_id", "item_count", "note", "private"]
    value: Prose | Count
    salt: Salt | None = None

    @model_validator(mode="after")
    def check_fact(self) -> SetVisit:
        """A count is a whole number, a stage one of the three, private one word, and the rest words."""
        if (self.field in ("bags", "item_count")) != isinstance(self.value, int):
            raise ValueError(
                f"{self.field} takes {'a whole number' if isinstance(self.value, str) else 'words'}"
            )
        if self.field == "stage" and self.value not in ("waiting", "at-table", "left"):
            raise ValueError("stage is waiting, at-table or left")
        if self.field == "private" and self.value not in ("", PRIVATE):
            raise ValueError(f"private is {PRIVATE}, or empty")
        return self

    @classmethod
    def put_value(cls, record: Record, name: str, value: Any, records: Records, source: Source) -> None:
        before = record.fields.get(name)
        if name == "ticket" and before is not None and before.value != value:
            record.put(f"{TICKETS_BEFORE}{before.operation_id}", before.value, source)
        super().put_value(record, name, value, records, source)


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


@sends_beside("visit", "called")
def called(visit: Record) -> FieldValue | None:
    """What the owner is called by at other tables: the first name, with the source of the whole one. Of a private visit
    they hear the ticket alone, and of one that two people said otherwise of, until a person has settled it. Not who
    said the same of the whole one: that would tell whoever guessed it."""
    name = visit.fields.get("consignor/name")
    if name is None:
        return None
    is_private = any(said.value == PRIVATE for _, said in visit.said("private"))
    first = "" if is_private else first_name(name.value)
    return name._replace(value=first, text=compact(first), agreed=NOBODY)


def first_name(name: str) -> str:
    """The first name in a name as it was typed: "Byrne, Dr Ada" and "Mrs Ada Byrne" are called Ada.

    A form of address with nothing but one more word behind it keeps that word back: it is the family's name.
    """
    _, comma, behind = name.partition(",")
    words = (behind if comma else name).split()
    given = [word for word in words if word.casefold().rstrip(".") not in FORMS_OF_ADDRESS]
    if not given or (len(given) == 1 and len(words) > 1 and not comma):
        return ""
    return given[0]
