"""The ledger of moves: who gave what to whom, from where to where. Rows are only ever added.

A device may be offline when it records a move, so the office never refuses one because it had heard otherwise: it
keeps both, and where a move began elsewhere than the ledger said, that is a difference with a name.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from intake.arrival.days import OfDay
from intake.custody.containers import require_thing
from intake.errors import NotIsolation
from intake.examination.findings import spreads
from intake.operation import Count, Identifier, Line, Operation
from intake.records import Applied, Record, Records

Place = Literal["table", "bench", "holding", "van", "store", "shelf", "isolation", "returned"]


class RecordMove(Operation):
    """An item or a container changed hands and place.

    `from_place` is what the person who moved it believed; null if nobody knew. `at` is the place more closely,
    such as a shelf. `given_by` and `taken_by` are two people; `count` is what both counted; `signed` says
    that an owner who took something back has signed for it.
    """

    roles = frozenset({"table", "porter", "door", "desk"})

    kind: Literal["record_move"]
    move_id: Identifier
    thing_id: Identifier
    from_place: Place | None
    to_place: Place
    at: Line
    given_by: Annotated[Line, Field(min_length=1)]
    taken_by: Annotated[Line, Field(min_length=1)]
    count: Annotated[int, Field(ge=0, le=100_000)] | None
    signed: bool
    tag: Annotated[str, Field(min_length=6, max_length=6)] | None = None

    @property
    def record_id(self) -> str:
        return self.thing_id


class CountLoad(OfDay):
    """Whoever takes a load has counted it by hand: crates and loose pieces, beside how many were scanned."""

    roles = frozenset({"table", "porter", "door", "desk"})

    kind: Literal["count_load"]
    load_id: Identifier
    to_place: Place
    at: Line
    given_by: Annotated[Line, Field(min_length=1)]
    taken_by: Annotated[Line, Field(min_length=1)]
    crates: Count
    pieces: Count
    scanned_crates: Count
    scanned_pieces: Count


def count_load(records: Records, operation: CountLoad, at: Applied) -> bool:
    """Keep the count. Raises AlreadyThere for a load that was counted: another count is another load's."""
    day = records.require("day", operation.day_id)
    told = {"to_place", "at", "given_by", "taken_by", "crates", "pieces", "scanned_crates", "scanned_pieces"}
    day.put_new(operation, f"loads/{operation.load_id}", operation.model_dump(include=told), what="load")
    return False


def record_move(records: Records, operation: RecordMove, at: Applied) -> bool:
    """Add one move to the ledger. Raises NotIsolation for an item that is held apart and goes elsewhere."""
    thing = require_thing(records, operation.thing_id, operation.tag)
    if is_held_apart(thing) and operation.to_place not in ("isolation", "returned", "table"):
        raise NotIsolation(operation.to_place)
    records.tx.run(
        """
        INSERT INTO custody_move (office_seq, thing_id, from_place, to_place, made_at)
        VALUES (:office_seq, :thing_id, :from_place, :to_place, :made_at)
        """,
        office_seq=at.office_seq,
        thing_id=operation.thing_id,
        from_place=operation.from_place,
        to_place=operation.to_place,
        made_at=operation.made_at,
    )
    told: dict[str, Any] = operation.model_dump(
        include={"from_place", "to_place", "at", "given_by", "taken_by", "count", "signed", "tag"}
    )
    thing.put(operation, f"moves/{operation.move_id}", told)
    here = {"move_id": operation.move_id, **told}
    for name in [f"whereabouts/{operation.tag}"] if operation.tag else whereabouts_of(thing):
        thing.put(operation, name, here)
    return False


def whereabouts_of(thing: Record) -> list[str]:
    """The fields that say where a thing and its pieces are."""
    return ["whereabouts", *thing.values("whereabouts/")]


def is_held_apart(thing: Record) -> bool:
    """Whether something on an item can spread, or whoever decides has set it apart and nobody cleared it."""
    decisions = thing.values("caution-decisions/").values()
    return any(one["decision"] == "isolated" for one in decisions) or spreads(thing)
