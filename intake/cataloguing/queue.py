"""An item's place in the cataloguing queue, and what must hold before it counts as described."""

from __future__ import annotations

from typing import Any, Literal

from intake.arrival.items import ItemEdit
from intake.custody.containers import container_of, place_of
from intake.custody.owed_signatures import containers_round
from intake.custody.parts_lost import parts_lost
from intake.custody.with_owner import field_of_piece, is_back_with_owner
from intake.errors import BackWithOwner, NotCleared, PartsLost, StandsBehind
from intake.examination.whole_thing import cautions_on
from intake.operation import Line, Operation
from intake.records.in_hand import Records
from intake.records.record import Record

ENTRY_STATES = ("waiting", "picked-up", "described")
#: What the list shows: what went back to its owner is nobody's work, whatever the desk had made of it before.
RETURNED = "returned"
#: And so is what an authority took away.
TAKEN_AWAY = "taken-away"
LIST_STATES = (*ENTRY_STATES, RETURNED, TAKEN_AWAY)


class SetEntry(ItemEdit):
    """A cataloguer picks an item up, puts it back, or has described it.

    `reason` says why it counts as described although something is open, such as a zone that nobody looked at. What is
    stopped, held apart by a caution that nobody cleared, back with its owner or of which a part is lost is not
    described: the first is everyone's rule, the others are checked here.
    """

    roles = frozenset({"desk"})
    on_what_stood = True
    field_name = "entry"
    if_said = ("reason",)

    kind: Literal["set_entry"]
    state: Literal["waiting", "picked-up", "described"]
    reason: Line = ""

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """Raises StandsBehind if somebody is to go on with a record that stands behind another; if it is to be
        described NotCleared while an amber caution stands, BackWithOwner if all of it went back, or PartsLost if one of
        its parts is missing, on its way or with its owner."""
        if value["state"] != "waiting" and record.derived("merged_into") is not None:
            raise StandsBehind
        if value["state"] != "described":
            return
        if is_back_with_owner(record):
            raise BackWithOwner
        if any(standing.caution["level"] == "amber" for standing in cautions_on([record, *record.others()])):
            raise NotCleared
        if lost := parts_lost(record, containers_round(records, record), records.find(record.day_id)):
            raise PartsLost(lost)


def places_of_pieces(item: Record, records: Records) -> dict[str, tuple[str, str]]:
    """Where each piece that has a tag is, by its tag: the place, and the container that it is in."""
    return {
        number["tag"]: place_of_piece(item, number["tag"], records)
        for number in item.values("tags/").values()
        if not number["gone"]
    }


def place_of_piece(item: Record, tag: str, records: Records) -> tuple[str, str]:
    """Where a piece is: its own last move, or that of the outermost container which it stands in."""
    last = field_of_piece(item, "whereabouts", tag)
    moved = last and last.value
    if moved and moved["to_place"] == "returned":
        return "returned", ""
    container = records.find(container_of(item, tag) or "")
    if container is not None:
        return place_of(container, records), container.record_id
    return moved["to_place"] if moved else "table", ""
