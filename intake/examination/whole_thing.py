"""What stands on a thing, whichever of its records says so: a thing recorded twice has two, and a stop holds for both.

`thing` is every record of the thing, the one that is asked about first. The app has the same rules in
`web/job/cautions.ts` and `web/job/stopped.ts`; `fixtures/closing.json` holds both to them.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from intake.examination.cautions import LEVELS, held_apart, is_decided, standing_cautions, stops, taken_by
from intake.examination.stopped import still_allowed
from intake.records.record import Record
from intake.records.values import FieldValue

Thing = Sequence[Record]


class Standing(NamedTuple):
    """A caution that nobody has cleared, and the record that it stands on."""

    caution_id: str
    caution: dict[str, Any]
    on: Record

    @property
    def said(self) -> FieldValue:
        return self.on.fields[f"cautions/{self.caution_id}"]


def cautions_on(thing: Thing) -> list[Standing]:
    """The cautions that stand, the gravest first; one of a log without its level comes last."""
    standing = [
        Standing(caution_id, value, on) for on in thing for caution_id, value in standing_cautions(on)
    ]
    return sorted(standing, key=lambda one: [*LEVELS, None].index(one.caution["level"]))


def is_stopped(thing: Thing) -> bool:
    """Whether a red caution stands: then nobody goes on with the thing."""
    return any(stops(record) for record in thing)


def is_left_alone(thing: Thing) -> bool:
    """Whether nobody handles it: a red caution stands that allows no move, and whoever was called has not decided."""
    return "move" not in still_allowed(raised.stop for record in thing for raised in stops(record))


def is_all_decided(thing: Thing) -> bool:
    """Whether it was decided on every red caution that stands."""
    return all(
        is_decided(standing.on, f"caution-decisions/{standing.caution_id}")
        for standing in cautions_on(thing)
        if standing.caution["level"] == "red"
    )


def taken_away(thing: Thing) -> str:
    """Who took it away for good, or where to, in the words of the decision; "" if nobody did.

    It needs no number and no move for that: by the ledger it may be anywhere.
    """
    said = said_taken_away(thing)
    return "" if said is None else str(said.value["place"]).strip() or "taken away by an authority"


def said_taken_away(thing: Thing) -> FieldValue | None:
    """The decision by which it was taken away; None if nobody took it."""
    for standing in cautions_on(thing):
        taken = taken_by(standing.on, f"caution-decisions/{standing.caution_id}")
        if taken and standing.caution["level"] == "red":
            return taken
    return None


def referred_to(thing: Thing) -> str:
    """Where it went with whoever it was referred to, or who took it away, in the words of the decision.

    "" if nobody said so, and of all that was referred and got a number or left the table by the ledger.
    """
    if went := taken_away(thing):
        return went
    if any(on.value("whereabouts") or any(name.startswith("tags/") for name in on.fields) for on in thing):
        return ""
    for standing in cautions_on(thing):
        name = f"caution-decisions/{standing.caution_id}"
        if standing.caution["level"] == "red" and is_decided(standing.on, name):
            decided = standing.on.value(name)
            if decided["decision"] == "referred":
                return str(decided["place"]).strip()
    return ""


def is_kept_apart(thing: Thing) -> bool:
    """Whether it is in isolation, or ought to be: a caution asks for more than a note, or it is held apart."""
    return any(standing.caution["level"] != "note" for standing in cautions_on(thing)) or any(
        map(held_apart, thing)
    )


def may_be_returned(thing: Thing) -> bool:
    """Whether it was decided, on every red caution that stands, that it goes back to its owner."""
    names = [
        (standing.on, f"caution-decisions/{standing.caution_id}")
        for standing in cautions_on(thing)
        if standing.caution["level"] == "red"
    ]
    return all(is_decided(on, name) and on.value(name)["decision"] == "returned" for on, name in names)
