"""The valuation day: where, when, its tables, and the people who work there."""

from __future__ import annotations

import re
from datetime import date
from typing import Annotated, Any, Literal

import iso4217
from pydantic import AfterValidator, BaseModel, ConfigDict, Field, model_validator

from intake.arrival.people import as_one_name
from intake.edits import Edit, comes_into_force, gone_on_from, say_beside
from intake.errors import DayStays
from intake.operation import Identifier, Line, Name, Opening, Operation
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.values import Disagreement, Source

# The alphabetic codes of ISO 4217 that money comes in; metals, test codes and "no currency" have no smallest coin.
CURRENCIES = frozenset(currency.code for currency in iso4217.Currency if currency.exponent is not None)
ON_PATTERN = r"^\d{4}-\d\d-\d\d$"
PersonId = Annotated[str, Field(min_length=1, max_length=80)]


def in_use(code: str) -> str:
    if code not in CURRENCIES:
        raise ValueError("it is no currency's code, such as GBP, EUR or USD (ISO 4217)")
    return code


Currency = Annotated[str, Field(pattern=r"^[A-Z]{3}$"), AfterValidator(in_use)]


class Table(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)
    table_id: Annotated[str, Field(min_length=1, max_length=40)]
    name: Line


class Person(BaseModel):
    """Somebody of the house. `roles` are the hats they may wear that day: valuer, clerk, door ...

    Who has left is offered nowhere any more and stays on the list: what they made is still theirs, and some of it may
    be on its way.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)
    person_id: PersonId
    name: Line
    roles: Annotated[list[Annotated[str, Field(max_length=40)]], Field(max_length=20)]
    left: bool = False


class OfDay(Operation):
    """An operation on the day itself."""

    record_kinds = ("day",)
    record_member = "day_id"

    day_id: Identifier


class OpenDay(OfDay, Opening):
    """The manager sets up a day."""

    roles = frozenset()
    head_members = ("house", "place", "held_on", "currency", "tables")
    sets_too = ("people/{person_id}",)
    lists_people = True

    kind: Literal["open_day"]
    house: Line
    place: Line
    held_on: Annotated[str, Field(pattern=ON_PATTERN)]
    currency: Currency
    tables: Annotated[list[Table], Field(max_length=60)]
    people: Annotated[list[Person], Field(max_length=300)]

    def check(self, records: Records) -> None:
        """One that is there and is said again as it stands, or as it was set up, is none too many: who sets a day up
        again at an office that has lost it may find that a copy had brought it back. Raises AlreadyThere."""
        day = records.find(self.day_id)
        if day is None or not self.says_nothing_new(day):
            super().check(records)

    def says_nothing_new(self, day: Record) -> bool:
        members = self.members(*self.head_members, "people")
        tables = day.head.get("tables") or []
        named = {table["table_id"]: table["name"] for table in tables}
        now = {name.removeprefix("tables/"): table["name"] for name, table in day.values("tables/").items()}
        people = [{"left": False, **person} for person in day.values("people/").values()]
        return (
            day.kind == "day"
            and members["currency"] == day.head.get("currency")
            and all(
                members[name] in (day.head.get(name), day.value(name))
                for name in ("house", "place", "held_on")
            )
            and all(
                table["name"] in (named.get(table["table_id"]), now.get(table["table_id"]))
                for table in members["tables"] or []
            )
            and all({"left": False, **person} in people for person in members["people"] or [])
        )

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        for person in self.members("people")["people"] or []:
            record.put(f"people/{person['person_id']}", person, source)
        return False


class CorrectDay(OfDay, Edit):
    """The manager corrects what a day was set up with. What it was opened with stays on its record beside it.

    `allowed_by` goes before a correction of a day that is closed: which manager allowed it, and why. `let_go` is said
    of one that was set up twice, by managers who had not heard of each other: nobody is led to it any more, and the
    value says which goes on.
    """

    roles = frozenset()
    field_name = "{field}"
    whole_value = "value"
    replaceable = True

    kind: Literal["correct_day"]
    field: Literal["house", "place", "held_on", "allowed_by", "let_go"]
    value: Name

    def check_at_hand(self, records: Records) -> None:
        """Raises DayStays for one that is to be let go if anything was entered on it, or if no other one stands in its
        place: of two that are let go at once the second stays."""
        if self.field != "let_go":
            return
        entered = records.tx.value(
            "SELECT count(*) FROM record WHERE day_id = :day_id AND kind <> 'day'", day_id=self.day_id
        )
        if entered:
            raise DayStays(f"{entered} records stand on it")
        own = records.require(self.day_id, "day")
        rows = records.tx.all(
            """
            SELECT record_id FROM record AS day WHERE kind = 'day' AND record_id <> :day_id AND NOT EXISTS
                (SELECT 1 FROM field WHERE field.record_id = day.record_id AND name = 'let_go')
            """,
            day_id=self.day_id,
        )
        others = (records.require(row["record_id"], "day") for row in rows)
        if not any(is_same_day(own, other) for other in others):
            raise DayStays("no other day of its date, house and place stands")

    @model_validator(mode="after")
    def check_date(self) -> CorrectDay:
        """A date is one of the calendar."""
        if self.field == "held_on":
            if not re.fullmatch(ON_PATTERN, self.value):
                raise ValueError("held_on is a date such as 2026-03-14")
            date.fromisoformat(self.value)
        return self


def is_same_day(one: Record, other: Record) -> bool:
    """Whether two days are of one date, house and place."""

    def facts(day: Record) -> list[str]:
        return [as_one_name(day.value(name) or day.head[name]) for name in ("held_on", "house", "place")]

    return facts(one) == facts(other)


class SetTable(OfDay, Edit):
    """A table comes, gets another name, or goes. One that goes keeps its name for what was recorded at it."""

    roles = frozenset()
    field_name = "tables/{table_id}"
    replaceable = True

    kind: Literal["set_table"]
    table_id: Annotated[str, Field(min_length=1, max_length=40)]
    name: Name
    gone: bool


class AddPerson(OfDay):
    """Somebody comes to help who was not on the list, comes under other hats, or has left.

    `seen` is the operation whose words of this person the manager was looking at; apps of before did not say it, and
    what they say replaces what stands.
    """

    roles = frozenset()
    field_name = "people/{person_id}"
    lists_people = True

    kind: Literal["add_person"]
    person: Person
    seen: Identifier | None = None

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        if self.says is None:
            return False
        name, person = self.says
        stands = record.fields.get(name)
        seen = stands.operation_id if stands is not None and self.seen is None else self.seen
        if not comes_into_force(record, name, seen, source):
            return say_beside(record, name, person, source)
        record.put(name, person, source)
        return False

    def goes_on_from(self, record: Record, records: Records) -> Disagreement | None:
        return None if self.says is None else gone_on_from(record, *self.says, self.seen, records)

    @property
    def says(self) -> tuple[str, Any] | None:
        person = self.members("person")["person"]
        return person and (f"people/{person['person_id']}", person)
