"""Cautions: a sign of hazard or restriction that a person noticed, who was called, and what they decided.

The tool never says what a thing is, nor that it is safe. It shows the caution for the sign that was picked and
says who decides: local law and licensed practice. A red caution stops the item until it is cleared.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, Any, Literal, get_args

from pydantic import Field

from intake.arrival.items import ItemEdit
from intake.errors import AlreadyThere, NotFound, NotHome
from intake.examination.findings import ZoneKey, spreads
from intake.examination.stopped import RaisedStop, Still, Stop, Stops, still_allowed
from intake.operation import Identifier, Line, Name, Operation, Prose, Rules, earlier
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.registries import derives
from intake.records.values import FieldValue

Hazard = Annotated[str, Field(pattern=r"^H[0-9]{2,3}$", examples=["H26"])]
LEVELS = ("red", "amber", "note")
CAUTIONS = ("cautions/", "caution-decisions/")  # the fields from which follows what stands


class RaiseCaution(ItemEdit):
    """A sign was noticed. `level` is that of the country pack on the day; `sign` is what was seen, not what it is.

    `still_allowed` is what the pack's row lets a stopped item still have; null for a row that stops nothing. A red one
    that does not say lets it have nothing.
    """

    roles = frozenset({"table", "door", "porter", "desk"})
    field_name = "cautions/{caution_id}"
    always_taken = True

    kind: Literal["raise_caution"]
    caution_id: Identifier
    hazard: Hazard
    level: Literal["red", "amber", "note"]
    sign: Prose
    zone: ZoneKey | None
    called: Line
    place: Line
    still_allowed: Annotated[list[Still], Field(max_length=20)] | None = None

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """Raises AlreadyThere for one that was raised: it stays as it was seen, and what follows is a decision."""
        raised = record.value(name)
        if raised is not None and raised != value:
            raise AlreadyThere("caution", name.removeprefix("cautions/"))

    def ruled(self, records: Records, rules: Rules | None, heard_at: str) -> dict[str, Any]:
        """The stricter of what the device said and what the office's row says; and from when it counts: a clock that
        is ahead would let others go on until then."""
        stricter: dict[str, Any] = {"made_at": earlier(self.made_at, heard_at)}
        if rules is not None:
            row = rules.row_of(self.hazard)
            stricter["level"] = graver(self.level, row.level)
            if stricter["level"] == "red":
                stricter["still_allowed"] = allowed_by_both(self, row)
        return {name: value for name, value in stricter.items() if value != (self.__dict__[name] or [])}


class DecideCaution(ItemEdit):
    """What whoever was called decided. A cleared caution stays on record, with the name of who cleared it.

    What an authority has taken away is with the house no more, wherever its numbers were last: nobody cleared it, and
    nobody looks for it.
    """

    roles = frozenset({"table", "desk"})
    field_name = "caution-decisions/{caution_id}"

    kind: Literal["decide_caution"]
    caution_id: Identifier
    decision: Literal["cleared", "isolated", "returned", "referred", "taken-away"]
    decided_by: Name
    cleared_for: Line
    place: Line
    paper_given: bool
    note: Prose

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """Raises NotFound if the item has no such caution."""
        caution_id = name.removeprefix("caution-decisions/")
        if f"cautions/{caution_id}" not in record.fields:
            raise NotFound("caution", caution_id)

    def check_by_rules(self, records: Records, rules: Rules) -> None:
        """Raises NotHome if it is to go home with its owner, and the hazard's row does not let it."""
        item = records.find(self.touches)
        raised = item and item.value(f"cautions/{self.caution_id}")
        if self.decision == "returned" and raised and not rules.row_of(raised["hazard"]).goes_home:
            raise NotHome(raised["hazard"])


def graver(level: str, other: str) -> str:
    """The graver of two levels."""
    return min(level, other, key=LEVELS.index)


def allowed_by_both(said: Any, row: Any) -> list[Still]:
    """What both still allow, of two of which at least one is red; one that is not red stops nothing."""
    allowed = still_allowed(
        Stop(caution.still_allowed or [], decided=False) for caution in (said, row) if caution.level == "red"
    )
    return [still for still in get_args(Still) if still in allowed]


def taken_by(item: Record, name: str) -> FieldValue | None:
    """What was decided of a caution, if it is that an authority took the thing away."""
    decided = item.fields[name] if is_decided(item, name) else None
    return decided if decided and decided.value["decision"] == "taken-away" else None


@derives("item", "stops", *CAUTIONS)
def stops(item: Record) -> Stops:
    """The red cautions that stand on the item: each stops it, but for what its row still allows."""
    return Stops(
        RaisedStop(
            caution["hazard"] or "",
            item.fields[f"cautions/{caution_id}"],
            Stop(
                caution["still_allowed"] or [],
                decided=is_decided(item, f"caution-decisions/{caution_id}"),
            ),
            taken_by(item, f"caution-decisions/{caution_id}"),
        )
        for caution_id, caution in standing_cautions(item)
        if caution["level"] == "red"
    )


def check_goes_home(operation: Operation, item: Record, records: Records, rules: Rules) -> None:
    """Whether a thing may go back to its owner: the row of every caution that stands lets it, and for what is stopped
    it was decided. Raises NotHome. What was done before a caution was raised is a fact."""
    for same in records.same_thing(item):
        for caution_id, caution in standing_cautions(same):
            raised = same.fields[f"cautions/{caution_id}"]
            if not (operation.heard_of if caution["level"] == "red" else operation.knew_of)(raised):
                continue
            name = f"caution-decisions/{caution_id}"
            decided = is_decided(same, name) and same.value(name)["decision"] == "returned"
            if not rules.row_of(caution["hazard"]).goes_home or (caution["level"] == "red" and not decided):
                raise NotHome(caution["hazard"])


def is_decided(item: Record, name: str) -> bool:
    """Whether whoever was called has decided, and nobody else said otherwise."""
    return name in item.fields and not item.is_contested(name)


@derives("item", "caution", *CAUTIONS)
def gravest(item: Record) -> str | None:
    """The level of the gravest caution that stands; None if none does."""
    return gravest_of(caution["level"] for _, caution in standing_cautions(item))


def gravest_of(levels: Iterable[str | None]) -> str | None:
    """The gravest of some levels of caution; None if there is none."""
    standing = set(levels)
    return next((level for level in LEVELS if level in standing), None)


@derives("item", "held_apart", "findings/", *CAUTIONS)
def held_apart(item: Record) -> list[FieldValue]:
    """What says that it is held apart: an amber caution stands, something on it can spread, or whoever decides has set
    it apart and nobody cleared it. Empty if nothing does. Where two say otherwise, either counts until a person has
    settled it."""
    amber = [
        item.fields[f"cautions/{caution_id}"]
        for caution_id, caution in standing_cautions(item)
        if caution["level"] == "amber"
    ]
    return amber + [
        value
        for name, value in item.said()
        if (name.startswith("findings/") and spreads(value.value))
        or (name.startswith("caution-decisions/") and value.value["decision"] == "isolated")
    ]


def standing_cautions(item: Record) -> list[tuple[str, dict[str, Any]]]:
    """The cautions on an item that nobody has cleared, each with its id.

    One that is cleared and that somebody else decided otherwise stands, until a person has settled who is right.
    """
    raised = [(name.removeprefix("cautions/"), caution) for name, caution in item.values("cautions/").items()]
    return [
        (caution_id, caution)
        for caution_id, caution in raised
        if (item.value(f"caution-decisions/{caution_id}") or {}).get("decision") != "cleared"
        or item.is_contested(f"caution-decisions/{caution_id}")
    ]
