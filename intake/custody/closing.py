"""Differences, and the closing of the day: every one has a name and ends by being settled, never by vanishing."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from intake.arrival.days import OfDay
from intake.arrival.items import ItemEdit
from intake.edits import edit_field
from intake.errors import AlreadyThere, NotFound
from intake.operation import Edit, Identifier, Line, Prose
from intake.records import Applied, Records

DifferenceKind = Literal[
    "item-short",
    "item-over",
    "piece-short",
    "tag-without-item",
    "item-without-tag",
    "seal-differs",
    "new-damage",
    "record-without-item",
    "wrong-item",
    "wrong-place",
]


class RaiseDifference(OfDay, Edit):
    """Something does not agree: what kind it is, of which item or container, what was done first, who was told."""

    roles = frozenset({"table", "porter", "door", "desk"})

    kind: Literal["raise_difference"]
    difference_id: Identifier
    difference: DifferenceKind
    thing_id: Identifier | None
    words: Prose
    owner_told: bool
    told: Line = ""  # who else was told

    def edited(self) -> tuple[str, Any]:
        told = "difference thing_id words owner_told told"
        return f"differences/{self.difference_id}", {name: getattr(self, name) for name in told.split()}


class SettleDifference(OfDay, Edit):
    """How a difference ended, and who was there. It stays on record as settled."""

    roles = frozenset({"table", "porter", "door", "desk"})

    kind: Literal["settle_difference"]
    difference_id: Identifier
    ended: Literal["found", "owner-has-it", "matched", "re-tagged", "moved", "corrected", "claim-opened"]
    words: Prose
    second_by: Line

    def edited(self) -> tuple[str, Any]:
        told = {"ended": self.ended, "words": self.words, "second_by": self.second_by}
        return f"difference-ends/{self.difference_id}", told


class CheckIn(ItemEdit):
    """Two people compared an item with its photographs of the table, when its crate was opened."""

    roles = frozenset({"table", "porter", "door", "desk"})

    kind: Literal["check_in"]
    state: Literal["as-recorded", "differs"]
    words: Prose
    second_by: Annotated[Line, Field(min_length=1)]

    def edited(self) -> tuple[str, Any]:
        return "check-in", {"state": self.state, "words": self.words, "second_by": self.second_by}


class MergeItem(ItemEdit):
    """The same thing was recorded twice: this record stands behind another. Both keep their histories.

    `into_id` null takes it back.
    """

    roles = frozenset({"table", "desk"})

    kind: Literal["merge_item"]
    into_id: Identifier | None
    why: Line

    def edited(self) -> tuple[str, Any]:
        return "merged", {"into_id": self.into_id, "why": self.why}


class CloseDay(OfDay):
    """Two people close the day with the differences that they have read, each by its name."""

    roles = frozenset()

    kind: Literal["close_day"]
    closed_by: Annotated[Line, Field(min_length=1)]
    second_by: Annotated[Line, Field(min_length=1)]
    named: Annotated[list[Line], Field(max_length=2000)]

    @model_validator(mode="after")
    def check_two(self) -> CloseDay:
        if self.closed_by.strip().casefold() == self.second_by.strip().casefold():
            raise ValueError("two people close a day, and these are one")
        return self


def check_in(records: Records, operation: CheckIn, at: Applied) -> bool:
    """Record it, on a stopped item too: it has arrived all the same."""
    return edit_field(records.require("item", operation.item_id), operation, at)


def merge_item(records: Records, operation: MergeItem, at: Applied) -> bool:
    """Put one record behind another. Raises AlreadyThere if the other stands behind one itself, or is the same."""
    item = records.require("item", operation.item_id)
    if operation.into_id is not None:
        other = records.require("item", operation.into_id).value("merged")
        if operation.into_id == operation.item_id or (other and other["into_id"]):
            raise AlreadyThere("doubled record", operation.into_id)
    return edit_field(item, operation, at)


def raise_difference(records: Records, operation: RaiseDifference, at: Applied) -> bool:
    return edit_field(records.require("day", operation.day_id), operation, at)


def settle_difference(records: Records, operation: SettleDifference, at: Applied) -> bool:
    """Record how it ended. Raises NotFound if nobody has raised it."""
    day = records.require("day", operation.day_id)
    if day.value(f"differences/{operation.difference_id}") is None:
        raise NotFound("difference", operation.difference_id)
    return edit_field(day, operation, at)


def close_day(records: Records, operation: CloseDay, at: Applied) -> bool:
    day = records.require("day", operation.day_id)
    told = operation.model_dump(include={"closed_by", "second_by", "named"})
    day.put(operation, "closed", told)
    return False
