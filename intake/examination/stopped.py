"""What a stopped item may still have, as the rows of the red cautions on it say.

A red caution stops more than the examination: beside ammunition nobody takes a photograph, ties a tag or carries
anything. So each red row of the country pack says what is still asked for (`still_allowed`), and nothing else is.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from typing import Literal, NamedTuple, get_args

from intake.records.values import FieldValue

Still = Literal["place", "photo-from-distance", "photo", "tag", "move", "check-in"]

# Which kinds of operation carry what is still allowed. A place is told with the caution itself.
KINDS: dict[Still, frozenset[str]] = {
    "place": frozenset(),
    "photo-from-distance": frozenset({"attach_photo"}),
    "photo": frozenset({"attach_photo"}),
    "tag": frozenset({"tie_tag", "remove_tag"}),
    "move": frozenset({"record_move", "put_inside"}),
    "check-in": frozenset({"check_in"}),
}
# What nobody has to touch or go near the thing for. A merge asks by itself (`MergeItem.check_value`): nothing is done
# to the thing, so it waits for whoever decides, also if it was made before the Stop.
ALWAYS = frozenset(
    {"raise_caution", "decide_caution", "settle_disagreement", "merge_item", "settle_late_act"}
)
# Whoever was called has said where it goes, so the ledger has to be able to follow.
ONCE_DECIDED: frozenset[Still] = frozenset({"place", "tag", "move", "check-in"})


@dataclass(frozen=True)
class Stop:
    """One red caution that stands: what its row allows, and whether whoever was called has decided on it."""

    still_allowed: Collection[Still]
    decided: bool


def still_allowed(stops: Iterable[Stop]) -> frozenset[Still]:
    """What an item may still have while these stand: what every one of them allows, all of it if there are none."""
    allowed: frozenset[Still] = frozenset(get_args(Still))
    for stop in stops:
        allowed &= frozenset(stop.still_allowed) | (ONCE_DECIDED if stop.decided else frozenset())
    return allowed


class RaisedStop(NamedTuple):
    """A stop on an item: the hazard, the value that says so and from whom it is, what it still allows, and the decision
    by which an authority took the item away."""

    hazard: str
    said: FieldValue
    stop: Stop
    taken: FieldValue | None = None


class Stops(tuple[RaisedStop, ...]):
    """All that stop one item; empty, and so false, if nothing does."""

    def against(self, kind: str, counts: Callable[[FieldValue], bool]) -> str | None:
        """The hazard that speaks against an operation of this kind, of those stops that count for it; None if none."""
        counting = [raised for raised in self if counts(raised.said)]
        if not counting or kind in kinds_allowed(raised.stop for raised in counting):
            return None
        return min(raised.hazard for raised in counting)


def kinds_allowed(stops: Iterable[Stop]) -> frozenset[str]:
    """The kinds of operation that an item still takes while these stand, and at least one does."""
    return ALWAYS.union(*(KINDS[still] for still in still_allowed(stops)))
