"""A visit: one consignor's turn at one day. The ticket is its key for people, never the name."""

from __future__ import annotations

import re
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
    """
    brother captain colonel dame don doña dr family father frau general herr lady lieutenant lord m madame major master
    miss mister mlle mme monsieur mother mr mrs ms mx prof professor rev reverend sergeant signor signora sir sister sr
    sra the
    """.split()  # noqa: SIM905
)
#: What stands in a firm's name, which has no first name, and between two people.
OF_FIRMS = frozenset("& and bros brothers co company gmbh inc limited llp ltd plc sons trust".split())  # noqa: SIM905
#: A form of address that is typed onto the name behind it; initials stay as they are.
RUN_ON = re.compile(r"\.(?=[^\W\d]{2})")
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
    that was changed is used up: the owner may hold that paper still, so the visit keeps it for all who count on. On a
    day that is closed `stage_allowed_by` goes before another stage: which manager allowed it.
    """

    roles = frozenset({"door", "table", "desk"})
    personal = ("salt", "value")
    personal_before = ((),)
    field_name = "{field}"
    whole_value = "value"
    replaceable = True

    kind: Literal["set_visit"]
    field: Literal[
        "ticket",
        "bags",
        "kinds",
        "needs",
        "stage",
        "stage_allowed_by",
        "table_id",
        "item_count",
        "note",
        "private",
    ]
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
    """The first name in a name as it was typed: "Byrne, Dr Ada" and "Mrs Ada Byrne" are called Ada, "BYRNE Ada" too.

    A form of address with nothing but one more word beside it keeps that word back: it is the family's name. A firm, an
    address or a number has no first name.
    """
    family, comma, behind = RUN_ON.sub(". ", name).replace(";", ",").partition(",")
    words = [word.strip('()[]"“”') for word in (behind if comma else family).split()]
    plain = [word.casefold().rstrip(".") for word in words]
    given = [
        word for word, as_said in zip(words, plain, strict=True) if as_said not in FORMS_OF_ADDRESS | OF_FIRMS
    ]
    if (
        not given
        or not given[0][:1].isalpha()
        or any(sign in "@/" or sign.isdigit() for sign in "".join(given))
    ):
        return ""
    if not comma and (len(given) == 1 < len(words) or plain[-1] in OF_FIRMS):
        return ""
    mixed = [word for word in given if "." in word or not word.isupper()]
    return (mixed or given)[0]
