"""Tying a tag: a number goes to one item or piece, and is never used for another."""

from __future__ import annotations

import json
from typing import Annotated, Any, Literal

from pydantic import Field

from intake.arrival.items import name_of
from intake.database import Writing
from intake.edits import (
    Applied,
    SettleDisagreement,
    disagree,
    field_value,
    put_field,
    require_record,
    said_before,
    settle_disagreement,
)
from intake.errors import NotFound, TagCheckFailed, TagSpoiled, TagTaken
from intake.operation import Identifier, Line, Operation
from intake.tagging.tags import TagError, parse_tag, shown


class TieTag(Operation):
    """A tag is on the item. `piece` 1 is the whole or its first piece, `of` how many pieces there are.

    `mark` tells it from a lookalike of the same visit, in words.
    """

    roles = frozenset({"table", "porter", "desk"})

    kind: Literal["tie_tag"]
    item_id: Identifier
    tag: Annotated[str, Field(min_length=1, max_length=20)]
    piece: Annotated[int, Field(ge=1, le=999)]
    of: Annotated[int, Field(ge=1, le=999)] = 1
    mark: Line = ""

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
    before = field_value(tx, operation.item_id, f"tags/{tag}")
    if before is not None and before["gone"] is not None:
        raise TagSpoiled(shown(tag), "is gone from this item")
    take_number(tx, tag, operation.item_id, operation.operation_id)
    put_field(tx, operation, f"tags/{tag}", tied(operation, tag))
    return False


def tied(operation: TieTag, tag: str) -> dict[str, Any]:
    told = {"tag": tag, "piece": operation.piece, "of": operation.of, "mark": operation.mark}
    return {**told, "gone": None, "replaced_by": None}


def contest(tx: Writing, operation: Operation, at: Applied) -> bool:
    """Two devices tied one number to two items: the first tie stands, and the second item's record says so too,
    until a person who has seen both settles it. False if this is no such case.

    A number that is gone, or was settled between the two before, is not asked about again.
    """
    if not isinstance(operation, TieTag):
        return False
    tag = parse_tag(operation.tag)
    name = f"tags/{tag}"
    stands = tx.one(
        "SELECT field.* FROM tag JOIN field ON record_id = item_id AND name = :name WHERE tag = :tag",
        name=name,
        tag=tag,
    )
    asked = tx.value(
        "SELECT 1 FROM disagreement WHERE record_id = :item_id AND name = :name",
        item_id=operation.item_id,
        name=name,
    )
    if stands is None or asked or json.loads(stands["value"])["gone"]:
        return False
    kept = said_before(stands, {"tag": tag, "item_id": stands["record_id"]})
    disagree(tx, operation, at, name, kept=kept, other=tied(operation, tag))
    return True


def settle(tx: Writing, operation: SettleDisagreement, at: Applied) -> bool:
    """Settle a disagreement. A number goes to the item that asked for it once it is noted as gone from the other.

    Raises TagTaken while it is still on the other, and what `settle_disagreement` raises.
    """
    name = settle_disagreement(tx, operation)
    if operation.choose == "kept" or not name.startswith("tags/"):
        return False
    tag = name.removeprefix("tags/")
    before = tx.value("SELECT item_id FROM tag WHERE tag = :tag", tag=tag)
    if not field_value(tx, before, name)["gone"]:
        raise TagTaken(shown(tag), name_of(tx, before))
    tx.run("UPDATE tag SET item_id = :item_id WHERE tag = :tag", item_id=operation.record_id, tag=tag)
    return False


def take_number(tx: Writing, tag: str, thing_id: str, operation_id: str) -> None:
    """Give a number to an item or a container for good. Raises TagTaken or TagSpoiled."""
    holder = tx.value("SELECT item_id FROM tag WHERE tag = :tag", tag=tag)
    if holder is not None and holder != thing_id:
        raise TagTaken(shown(tag), name_of(tx, holder))
    if tx.value("SELECT 1 FROM spoiled_tag WHERE tag = :tag", tag=tag):
        raise TagSpoiled(shown(tag))
    if holder is None:
        tx.run(
            "INSERT INTO tag (tag, item_id, operation_id) VALUES (:tag, :item_id, :operation_id)",
            tag=tag,
            item_id=thing_id,
            operation_id=operation_id,
        )


class RemoveTag(Operation):
    """A tag is off the item: fallen off, lost, voided since the owner took the item back, or another item's after all.

    Its number stays the item's for good and never comes back; `replaced_by` links it to the new one.
    """

    roles = frozenset({"table", "porter", "desk", "door"})

    kind: Literal["remove_tag"]
    item_id: Identifier
    tag: Annotated[str, Field(min_length=6, max_length=6)]
    why: Literal["fallen-off", "lost", "damaged", "taken-back", "on-another-item"]
    replaced_by: Annotated[str, Field(min_length=6, max_length=6)] | None

    @property
    def record_id(self) -> str:
        return self.item_id


def remove_tag(tx: Writing, operation: RemoveTag, at: Applied) -> bool:
    """Note that the tag is gone. Raises NotFound if it is not on this item."""
    require_record(tx, "item", operation.item_id)
    told = field_value(tx, operation.item_id, f"tags/{operation.tag}")
    if told is None:
        raise NotFound("tag", shown(operation.tag))
    gone = {"gone": operation.why, "replaced_by": operation.replaced_by}
    put_field(tx, operation, f"tags/{operation.tag}", {**told, **gone})
    return False
