"""Containers: bags, boxes and crates, which nest. What is inside is known by scanning it in."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from intake.edits import edit_field
from intake.errors import InsideItself, NotFound, TagCheckFailed
from intake.operation import Edit, Identifier, Line, Operation
from intake.records import Applied, Record, Records
from intake.tagging.tags import TagError, parse_tag, shown
from intake.tagging.ties import take_number

Tag = Annotated[str, Field(min_length=6, max_length=6)]


class OpenContainer(Operation):
    """A bag, box or crate gets its number. `kind_of` says which; numbers come from the same rolls as tags."""

    roles = frozenset({"table", "porter", "door", "desk"})

    kind: Literal["open_container"]
    container_id: Identifier
    day_id: Identifier
    number: Tag
    kind_of: Literal["bag", "box", "crate"]

    @property
    def record_id(self) -> str:
        return self.container_id


class PutInside(Edit):
    """An item or a container goes into a container, or out of it: null is not inside anything.

    `tag` is the piece's, for an item of several pieces that travel apart; null is the whole of it.
    """

    roles = frozenset({"table", "porter", "door", "desk"})

    kind: Literal["put_inside"]
    thing_id: Identifier
    container_id: Identifier | None
    tag: Tag | None = None

    @property
    def record_id(self) -> str:
        return self.thing_id

    def edited(self) -> tuple[str, Any]:
        return f"inside/{self.tag}" if self.tag else "inside", {"container_id": self.container_id}


class SealContainer(Edit):
    """A numbered seal is put on, read at a check, or found broken; two people look at it."""

    roles = frozenset({"table", "porter", "door", "desk"})

    kind: Literal["seal_container"]
    container_id: Identifier
    seal: Line
    state: Literal["sealed", "intact", "differs", "broken", "opened"]
    second_by: Line

    @property
    def record_id(self) -> str:
        return self.container_id

    def edited(self) -> tuple[str, Any]:
        return "seal", {"seal": self.seal, "state": self.state, "second_by": self.second_by}


def open_container(records: Records, operation: OpenContainer, at: Applied) -> bool:
    """Open it under its number. Raises TagTaken if the number is on something."""
    records.require("day", operation.day_id)
    try:
        number = parse_tag(operation.number)
    except TagError as error:
        raise TagCheckFailed(str(error)) from error
    head = {"number": number, "kind_of": operation.kind_of}
    records.open(operation, at, kind="container", day_id=operation.day_id, head=head)
    take_number(records, number, operation.container_id, operation.operation_id)
    return False


def put_inside(records: Records, operation: PutInside, at: Applied) -> bool:
    """Put it in. Raises InsideItself if the thing holds the container at any depth, NotFound for no such piece."""
    thing = require_thing(records, operation.thing_id, operation.tag)
    holder_id = operation.container_id
    while holder_id is not None:
        holder = records.require("container", holder_id)
        if holder is thing:
            raise InsideItself(shown(holder.head["number"]))
        holder_id = (holder.value("inside") or {}).get("container_id")
    return edit_field(thing, operation, at)


def seal_container(records: Records, operation: SealContainer, at: Applied) -> bool:
    return edit_field(records.require("container", operation.container_id), operation, at)


def require_thing(records: Records, thing_id: str, tag: str | None) -> Record:
    """An item or a container. Raises NotFound for anything else, and for a tag that was never on it."""
    thing = records.find(thing_id)
    if thing is None or thing.kind not in ("item", "container"):
        raise NotFound("item or container", thing_id)
    if tag is not None and f"tags/{tag}" not in thing.fields:
        raise NotFound("piece with the tag", shown(tag))
    return thing
