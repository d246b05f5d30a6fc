"""What a record's fields are called, family by family: who may read one, whether it is said once, can it be erased.

A family is a name (`grade`) or the names that begin with it (`findings/`). What is said here holds wherever fields are
read: records, feed, history, photos. What has no line here is read by the office alone.
How two values of a field are settled is said by the kind that sets it (`check_value` and `put_value`, found by the
family through FIELD_KINDS); a fact that has no kind of its own may be settled either way.
Which records a device reads at all, and which visits are its own, is said in reading.py.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Literal

#: Who reads the records of every day; the others those of the day they work on.
OFFICE_ROLES = frozenset({"desk", "manager"})


#: What a record is to a table: a visit that is its own or at it now, an item of such a visit, or neither.
Own = Literal["visit", "item", ""]


@dataclass(frozen=True)
class Readers:
    """The roles of device that read a part of a record. The part everyone reads is the record's body.

    `roles` read it of every record that they read. `own` read it of visits that are their own or at their table now,
    `own_things` of the items of those visits, `others` of whatever is neither. `asked` read it when they ask for that
    one record, never as one of many.
    """

    name: str
    roles: frozenset[str] = frozenset()
    own: frozenset[str] = frozenset()
    own_things: frozenset[str] = frozenset()
    others: frozenset[str] = frozenset()
    asked: frozenset[str] = frozenset()

    def include(self, role: str, *, own: Own, asked: bool) -> bool:
        """Whether a device of this role is one of them, for a record that is its own or not, asked for by itself."""
        of_these = {"visit": self.own, "item": self.own_things, "": self.others}[own]
        return role in self.roles or role in of_these or (asked and role in self.asked)


EVERYONE = Readers("everyone", frozenset({"door", "table", "porter", "desk", "manager"}))
#: Who deals with the owner. A desk's reading is noted, so that it has to ask for it.
OWNER = Readers(
    "owner",
    frozenset({"door", "manager"}),
    own=frozenset({"table"}),
    asked=frozenset({"desk"}),
)
#: What the others are called by.
CALLED = Readers("called", frozenset({"desk"}), others=frozenset({"table"}))
#: What the owner told of the thing, and what was typed of them as it went back: whoever moves things does not need it,
#: nor does a table at which they do not sit.
#: It was called `told` while every table read it; by the new name all of these are sent again and written over there.
TOLD = Readers("told-own", frozenset({"door", "desk", "manager"}), own_things=frozenset({"table"}))
#: Signatures, and what is typed beside one, stand in no list; whoever reads the owner asks for them where the receipt
#: is read back.
SIGNED = Readers("signed", asked=frozenset({"manager", "desk"}))
OFFICE = Readers("office", OFFICE_ROLES)  # names that no line below knows
RESTRICTED = (OWNER, CALLED, TOLD, SIGNED, OFFICE)


@dataclass(frozen=True)
class Family:
    """Fields of one name, or of names that begin alike.

    `once` is what one of them is called if the first under a name stands and a second is refused.
    `erased` says what is left of a value once the words of the visit's owner are erased; None for what is not theirs:
    what the house saw of the thing, where it went, and who of the house did what.
    """

    key: str
    once: str = ""
    readers: Readers = EVERYONE
    erased: Callable[[Any], Any] | None = None
    of_no_day: bool = False  # of a day, and read by devices that work on another

    @property
    def erasable(self) -> bool:
        return self.erased is not None


def blank(value: Any) -> Any:
    """A value of the same form with nothing in it."""
    return dict.fromkeys(value, "") if isinstance(value, dict) else ""


def gone(value: Any) -> None:
    """Nothing is left: the field goes, as if nobody had said it, also from what belongs to no visit of the day."""


#: What stood above the lines, and how it was signed: it goes with the names.
HOW_SIGNED = ("head", "is_on_paper", "is_unnamed")


def without_words_of_receipt(receipt: dict[str, Any]) -> dict[str, Any]:
    """A receipt by its things and their numbers alone: what else is typed on it may be anybody's name."""
    stays = {name: value for name, value in receipt.items() if name not in HOW_SIGNED}
    return {**stays, "lines": [{**line, "words": ""} for line in receipt["lines"] or ()]}


#: What an item is, in words or as one of a list, that everyone reads.
ITEM_FACTS = (
    *("class_id", "plan_version", "class_grade", "short_description", "seen_words", "concluded_words"),
    *("materials", "colour_now", "colour_was", "maker", "maker_certainty", "maker_evidence"),
    *("dates_certainty", "dates_evidence", "marks_looked", "packaging"),
    *("heading", "lot_description", "condition_words"),
)

FAMILIES = {
    family.key: family
    for family in (
        # of a day
        Family("people/", of_no_day=True),
        *(Family(key, of_no_day=True) for key in ("house", "place", "held_on", "let_go", "tables/")),
        Family("ticket-runs/"),
        Family("rolls/", once="roll", of_no_day=True),
        Family("roll-holders/", of_no_day=True),
        Family("prints/", of_no_day=True),
        Family("spoiled/", of_no_day=True),
        Family("loads/", once="load"),
        Family("differences/"),
        Family("difference-ends/"),
        Family("incidents/"),
        Family("incident-ends/"),
        Family("preflights/", once="pre-flight"),
        Family("reasons/"),
        Family("first-signings/"),
        Family("closed", of_no_day=True),
        # of a visit
        Family("consignor/", readers=OWNER, erased=blank),
        Family("consignor/signatures/", readers=SIGNED, erased=blank),
        Family("called", readers=CALLED),
        Family("kinds", readers=OWNER, erased=blank),
        Family("needs", readers=OWNER, erased=blank),
        Family("private"),
        Family("note", readers=OWNER, erased=blank),
        Family("receipts/", once="receipt", erased=without_words_of_receipt),
        Family("tickets-before/"),
        *map(Family, ("ticket", "bags", "stage", "table_id", "item_count", "allowed_by", "stage_allowed_by")),
        # of whatever has disagreements: why a value holds may name the owner, whatever the field
        Family("settlement-notes/", readers=OWNER, erased=gone),
        # of an item
        Family("told_words", readers=TOLD, erased=blank),
        *map(Family, ITEM_FACTS),
        Family("zones/"),
        Family("findings/"),
        # what the owner told of one, which nobody saw: what and where it is stands with the finding
        Family("finding-notes/", readers=TOLD, erased=gone),
        Family("denials/"),
        Family("statements/"),
        Family("origins/"),
        Family("marks/"),
        Family("dates"),
        Family("measures/"),
        Family("tests/"),
        Family("views/"),
        Family("grade"),
        Family("pieces"),
        Family("pieces-back"),
        Family("listed/"),
        Family("sentences/"),
        Family("sentence-order/"),
        Family("cautions/"),
        Family("caution-decisions/"),
        Family("check-in"),
        Family("check-in/"),
        Family("heard-late/"),
        Family("late-ends/"),
        Family("merged"),
        Family("entry"),
        # of an item and of a container
        Family("photos/"),
        Family("tags/"),
        Family("inside"),
        Family("inside/"),
        Family("seal"),
        Family("moves/", once="move"),
        Family("handed/", readers=TOLD, erased=gone),
        Family("whereabouts"),
        Family("whereabouts/"),
    )
}


#: What is the owner's on a record of one kind: on a picture of what was unpacked of a visit stands a ticket, a letter.
OF_KIND = {("visit", "photos/"): Family("photos/", readers=OWNER, erased=gone)}


@lru_cache(maxsize=5000)  # most names are those of many records
def key_of(name: str) -> str:
    """The family's key: the name up to its first stroke, or all of it."""
    head, stroke, _ = name.partition("/")
    return head + stroke


@lru_cache(maxsize=5000)
def family_of(name: str, kind: str = "") -> Family:
    """The family that a field belongs to: of two that fit, the narrower. `kind` is that of its record, which tells for
    some whose they are.

    Names that nobody lists are the office's alone: better hidden than shown to all by mistake.
    """
    key = key_of(name)
    if (kind, key) in OF_KIND:
        return OF_KIND[kind, key]
    narrower = FAMILIES.get(key + key_of(name[len(key) :])) if "/" in name[len(key) :] else None
    return narrower or FAMILIES.get(key) or Family(key, readers=OFFICE)


@dataclass(frozen=True)
class Asker:
    """A device that asks: its role, and the day and table at which it works; empty if it has none."""

    device_id: str
    role: str
    day_id: str = ""
    table_id: str = ""

    @property
    def reads_every_day(self) -> bool:
        return self.role in OFFICE_ROLES

    def may_read(self, name: str, kind: str, *, own: Own) -> bool:
        """Whether it reads a field of a record of this kind that it asks for."""
        return family_of(name, kind).readers.include(self.role, own=own, asked=True)

    def parts(self, *, own: Own, asked: bool) -> list[str]:
        """The names of the restricted parts of a record that it reads."""
        return [part.name for part in RESTRICTED if part.include(self.role, own=own, asked=asked)]
