"""The valuation day: where, when, its tables, and the people who work there."""

from __future__ import annotations

from typing import Annotated, Literal

import iso4217
from pydantic import AfterValidator, BaseModel, ConfigDict, Field

from intake.operation import Identifier, Line, Opening, Operation
from intake.records import Record, Records, Source

# The alphabetic codes of ISO 4217 that money comes in; metals, test codes and "no currency" have no smallest coin.
CURRENCIES = frozenset(currency.code for currency in iso4217.Currency if currency.exponent is not None)
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
    """Somebody of the house. `roles` are the hats they may wear that day: valuer, clerk, door ..."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)
    person_id: PersonId
    name: Line
    roles: Annotated[list[Annotated[str, Field(max_length=40)]], Field(max_length=20)]


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
    held_on: Annotated[str, Field(pattern=r"^\d{4}-\d\d-\d\d$")]
    currency: Currency
    tables: Annotated[list[Table], Field(max_length=60)]
    people: Annotated[list[Person], Field(max_length=300)]

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        for person in self.members("people")["people"] or []:
            record.put(f"people/{person['person_id']}", person, source)
        return False


class AddPerson(OfDay):
    """Somebody comes to help who was not on the list, or comes under another hat."""

    roles = frozenset()
    sets_too = ("people/{person_id}",)
    lists_people = True

    kind: Literal["add_person"]
    person: Person

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        person = self.members("person")["person"]
        if person is not None:
            record.put(f"people/{person['person_id']}", person, source)
        return False
