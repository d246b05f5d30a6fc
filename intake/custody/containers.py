"""Containers: bags, boxes and crates, which nest. What is inside is known by scanning it in."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from intake.edits import Edit
from intake.errors import InsideItself, NotFound
from intake.operation import Identifier, Line, Opening
from intake.records import Record, Records, Source
from intake.tagging.tags import normalise, shown
from intake.tagging.ties import check_free, require_tag, take_number

Tag = Annotated[str, Field(min_length=6, max_length=6)]


class OpenContainer(Opening):
    """A bag, box or crate gets its number. `kind_of` says which; numbers come from the same rolls as tags."""

    roles = frozenset({"table", "porter", "door", "desk"})
    record_kinds = ("container",)
    record_member = "container_id"
    head_members = ("number", "kind_of")

    kind: Literal["open_container"]
    container_id: Identifier
    day_id: Identifier
    number: Tag
    kind_of: Literal["bag", "box", "crate"]

    def check_opening(self, records: Records) -> None:
        """Raises TagTaken if the number is on something."""
        records.require(self.day_id, "day")
        check_free(records, require_tag(self.number), self.container_id)

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        if self.number is not None:
            record.head["number"] = normalise(self.number)
            take_number(records, record.head["number"], record.record_id, source)
        return False


class PutInside(Edit):
    """An item or a container goes into a container, or out of it: null is not inside anything.

    `tag` is the piece's, for an item of several pieces that travel apart; null is the whole of it.
    """

    roles = frozenset({"table", "porter", "door", "desk"})
    record_kinds = ("item", "container")
    record_member = "thing_id"
    goes_on_stopped = True
    field_name = "inside[/{tag}]"

    kind: Literal["put_inside"]
    thing_id: Identifier
    container_id: Identifier | None
    tag: Tag | None = None

    def check_on(self, record: Record, records: Records) -> None:
        check_piece(record, self.tag)
        super().check_on(record, records)

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records) -> None:
        """Raises InsideItself if the thing holds the container at any depth, NotFound for no such container."""
        if value["container_id"] is None:
            return
        container: Record | None = records.require(value["container_id"], "container")
        passed = {record.record_id}
        while container is not None:
            if container.record_id in passed:
                raise InsideItself(shown(container.head["number"]))
            passed.add(container.record_id)
            outer = container_of(container)
            container = records.find(outer) if outer else None


class SealContainer(Edit):
    """A numbered seal is put on, read at a check, or found broken; two people look at it."""

    roles = frozenset({"table", "porter", "door", "desk"})
    record_kinds = ("container",)
    record_member = "container_id"
    field_name = "seal"

    kind: Literal["seal_container"]
    container_id: Identifier
    seal: Line
    state: Literal["sealed", "intact", "differs", "broken", "opened"]
    second_by: Line


def container_of(record: Record) -> str | None:
    """The container that a thing is in, or None."""
    inside = record.value("inside")
    return inside["container_id"] if inside else None


def check_piece(thing: Record, tag: str | None) -> None:
    """Raises NotFound for a piece's tag that was never on the thing."""
    if tag is not None and f"tags/{tag}" not in thing.fields:
        raise NotFound("piece with the tag", shown(tag))
