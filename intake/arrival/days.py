"""The valuation day: where, when, its tables, and the people who work there."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from intake.operation import Identifier, Line, Operation
from intake.records import Applied, Records

PersonId = Annotated[str, Field(min_length=1, max_length=80)]


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

    day_id: Identifier

    @property
    def record_id(self) -> str:
        return self.day_id


class OpenDay(OfDay):
    """The manager sets up a day."""

    roles = frozenset()

    kind: Literal["open_day"]
    house: Line
    place: Line
    held_on: Annotated[str, Field(pattern=r"^\d{4}-\d\d-\d\d$")]
    currency: Annotated[str, Field(pattern=r"^[A-Z]{3}$")]
    tables: Annotated[list[Table], Field(max_length=60)]
    people: Annotated[list[Person], Field(max_length=300)]


class AddPerson(OfDay):
    """Somebody comes to help who was not on the list."""

    roles = frozenset()

    kind: Literal["add_person"]
    person: Person


def open_day(records: Records, operation: OpenDay, at: Applied) -> bool:
    head = operation.model_dump(include={"house", "place", "held_on", "currency", "tables"})
    day = records.open(operation, at, kind="day", day_id=operation.day_id, head=head)
    for person in operation.people:
        day.put(operation, f"people/{person.person_id}", person.model_dump())
    return False


def add_person(records: Records, operation: AddPerson, at: Applied) -> bool:
    day = records.require("day", operation.day_id)
    day.put(operation, f"people/{operation.person.person_id}", operation.person.model_dump())
    return False
