"""Tying a tag: a number goes to one item or piece, and is never used for another."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from intake.arrival.items import name_of
from intake.database import Writing
from intake.edits import Applied, put_field, require_record
from intake.errors import TagCheckFailed, TagTaken
from intake.operation import Identifier, Operation
from intake.tagging.tags import TagError, parse_tag, shown


class TieTag(Operation):
    """A tag is on the item. `piece` 1 is the whole or its first piece."""

    roles = frozenset({"table", "porter", "desk"})

    kind: Literal["tie_tag"]
    item_id: Identifier
    tag: Annotated[str, Field(min_length=1, max_length=20)]
    piece: Annotated[int, Field(ge=1, le=999)]

    @property
    def record_id(self) -> str:
        return self.item_id


def tie_tag(tx: Writing, operation: TieTag, at: Applied) -> bool:
    """Tie it. Raises TagCheckFailed for a number that is none, TagTaken if it is on another item."""
    require_record(tx, "item", operation.item_id)
    try:
        tag = parse_tag(operation.tag)
    except TagError as error:
        raise TagCheckFailed(str(error)) from error
    holder = tx.value("SELECT item_id FROM tag WHERE tag = :tag", tag=tag)
    if holder is not None and holder != operation.item_id:
        raise TagTaken(shown(tag), name_of(tx, holder))
    if holder is None:
        tx.run(
            "INSERT INTO tag (tag, item_id, operation_id) VALUES (:tag, :item_id, :operation_id)",
            tag=tag,
            item_id=operation.item_id,
            operation_id=operation.operation_id,
        )
    put_field(tx, operation, f"tags/{tag}", {"tag": tag, "piece": operation.piece})
    return False
