"""A field set by two people: replaced, or a disagreement.

If the value in force is the one the editor saw, it is replaced. If not, and the values differ, the value in
force stays, both are kept, and a person settles it. Fields never clash with each other.
"""

from __future__ import annotations

import json
from typing import Annotated, Literal

from pydantic import Field

from intake.errors import AlreadyThere, NotFound
from intake.operation import Edit, Identifier, Line, Operation
from intake.records import Applied, Record, compact


def edit_field(record: Record, operation: Edit, at: Applied) -> bool:
    """Set the field that the edit names. True if it ended as a disagreement."""
    name, value = operation.edited()
    said = record.fields.get(name)
    if said is None or said.operation_id == operation.seen:
        record.put(operation, name, value)
        return False
    if said.value == value:
        return False  # both say the same; whoever said it first stands
    record.disagree(operation, at, name, kept=said.told(said.value), other=value)
    return True


class SettleDisagreement(Operation):
    """A person settles which of two values holds. The other stays on record."""

    roles = frozenset({"desk"})

    kind: Literal["settle_disagreement"]
    settled_record_id: Annotated[Identifier, Field(alias="record_id")]
    disagreement_id: Identifier
    choose: Literal["kept", "other"]
    note: Line

    @property
    def record_id(self) -> str:
        return self.settled_record_id


def settle_disagreement(record: Record | None, operation: SettleDisagreement) -> str:
    """Close a disagreement; put the other value in force if that one was chosen. The field's name.

    Raises NotFound if there is no such disagreement, AlreadyThere if it was settled before.
    """
    one = None if record is None else record.disagreements.get(operation.disagreement_id)
    if record is None or one is None:
        raise NotFound("disagreement", operation.disagreement_id)
    if one.settled is not None:
        raise AlreadyThere("settlement of", operation.disagreement_id)
    one.settled = compact(
        {
            "choose": operation.choose,
            "made_by": operation.made_by,
            "made_at": operation.made_at,
            "note": operation.note,
            "operation_id": operation.operation_id,
        }
    )
    if operation.choose == "other":
        record.put(operation, one.name, json.loads(one.other)["value"])
    return one.name
