"""Tying a tag: a number goes to one item or piece, and is never used for another."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from intake.arrival.items import OfItem, name_of
from intake.edits import SettleDisagreement, settle_disagreement
from intake.errors import NotFound, TagCheckFailed, TagSpoiled, TagTaken
from intake.operation import Line, Operation
from intake.records import Applied, Records
from intake.tagging.tags import TagError, parse_tag, shown


class TieTag(OfItem):
    """A tag is on the item. `piece` 1 is the whole or its first piece, `of` how many pieces there are.

    `mark` tells it from a lookalike of the same visit, in words.
    """

    roles = frozenset({"table", "porter", "desk"})

    kind: Literal["tie_tag"]
    tag: Annotated[str, Field(min_length=1, max_length=20)]
    piece: Annotated[int, Field(ge=1, le=999)]
    of: Annotated[int, Field(ge=1, le=999)] = 1
    mark: Line = ""


def tie_tag(records: Records, operation: TieTag, at: Applied) -> bool:
    """Tie it. Raises TagCheckFailed for a number that is none, TagTaken if it is on another item."""
    item = records.require("item", operation.item_id)
    try:
        tag = parse_tag(operation.tag)
    except TagError as error:
        raise TagCheckFailed(str(error)) from error
    before = item.value(f"tags/{tag}")
    if before is not None and before["gone"] is not None:
        raise TagSpoiled(shown(tag), "is gone from this item")
    take_number(records, tag, operation.item_id, operation.operation_id)
    item.put(operation, f"tags/{tag}", tied(operation, tag))
    return False


def tied(operation: TieTag, tag: str) -> dict[str, Any]:
    told = {"tag": tag, "piece": operation.piece, "of": operation.of, "mark": operation.mark}
    return {**told, "gone": None, "replaced_by": None}


def contest(records: Records, operation: Operation, at: Applied) -> bool:
    """Two devices tied one number to two items: the first tie stands, and the second item's record says so too,
    until a person who has seen both settles it. False if this is no such case.

    A number that is gone, or was settled between the two before, is not asked about again.
    """
    if not isinstance(operation, TieTag):
        return False
    tag = parse_tag(operation.tag)
    name = f"tags/{tag}"
    holder = records.find(str(holder_of(records, tag)))
    stands = None if holder is None else holder.fields.get(name)
    item = records.require("item", operation.item_id)
    asked = any(one.name == name for one in item.disagreements.values())
    if holder is None or stands is None or asked or stands.value["gone"]:
        return False
    kept = stands.told({"tag": tag, "item_id": holder.record_id})
    item.disagree(operation, at, name, kept=kept, other=tied(operation, tag))
    return True


def settle(records: Records, operation: SettleDisagreement, at: Applied) -> bool:
    """Settle a disagreement. A number goes to the item that asked for it once it is noted as gone from the other.

    Raises TagTaken while it is still on the other, and what `settle_disagreement` raises.
    """
    name = settle_disagreement(records.find(operation.record_id), operation)
    if operation.choose == "kept" or not name.startswith("tags/"):
        return False
    tag = name.removeprefix("tags/")
    before = records.require("item", str(holder_of(records, tag)))
    if not before.value(name)["gone"]:
        raise TagTaken(shown(tag), name_of(records, before.record_id))
    records.tx.run("UPDATE tag SET item_id = :item_id WHERE tag = :tag", item_id=operation.record_id, tag=tag)
    return False


def holder_of(records: Records, tag: str) -> str | None:
    """The item or container that has the number, or None."""
    holder: str | None = records.tx.value("SELECT item_id FROM tag WHERE tag = :tag", tag=tag)
    return holder


def take_number(records: Records, tag: str, thing_id: str, operation_id: str) -> None:
    """Give a number to an item or a container for good. Raises TagTaken or TagSpoiled."""
    holder = holder_of(records, tag)
    if holder is not None and holder != thing_id:
        raise TagTaken(shown(tag), name_of(records, holder))
    if records.tx.value("SELECT 1 FROM spoiled_tag WHERE tag = :tag", tag=tag):
        raise TagSpoiled(shown(tag))
    if holder is None:
        records.tx.run(
            "INSERT INTO tag (tag, item_id, operation_id) VALUES (:tag, :item_id, :operation_id)",
            tag=tag,
            item_id=thing_id,
            operation_id=operation_id,
        )


class RemoveTag(OfItem):
    """A tag is off the item: fallen off, lost, voided since the owner took the item back, or another item's after all.

    Its number stays the item's for good and never comes back; `replaced_by` links it to the new one.
    """

    roles = frozenset({"table", "porter", "desk", "door"})

    kind: Literal["remove_tag"]
    tag: Annotated[str, Field(min_length=6, max_length=6)]
    why: Literal["fallen-off", "lost", "damaged", "taken-back", "on-another-item"]
    replaced_by: Annotated[str, Field(min_length=6, max_length=6)] | None


def remove_tag(records: Records, operation: RemoveTag, at: Applied) -> bool:
    """Note that the tag is gone. Raises NotFound if it is not on this item."""
    item = records.require("item", operation.item_id)
    told = item.value(f"tags/{operation.tag}")
    if told is None:
        raise NotFound("tag", shown(operation.tag))
    gone = {"gone": operation.why, "replaced_by": operation.replaced_by}
    item.put(operation, f"tags/{operation.tag}", {**told, **gone})
    return False
