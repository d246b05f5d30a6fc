"""What a record's fields are called, family by family: who may read one, whether it is said once, can it be erased.

A family is a name (`grade`) or the names that begin with it (`findings/`). What is said here holds wherever fields are
read: records, feed, history. A fact without a line of its own (a name without a stroke) is read by everyone.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache


@dataclass(frozen=True)
class Readers:
    """The roles of device that may read a part of a record. The part everyone reads is the record's body."""

    name: str
    roles: frozenset[str]


EVERYONE = Readers("everyone", frozenset({"door", "table", "porter", "desk", "manager"}))
OWNER = Readers("owner", frozenset({"door", "table", "desk", "manager"}))  # who deals with the owner
OFFICE = Readers("office", frozenset({"desk", "manager"}))  # names that no line below knows
RESTRICTED = (OWNER, OFFICE)


@dataclass(frozen=True)
class Family:
    """Fields of one name, or of names that begin alike.

    `once` is what one of them is called if the first under a name stands and a second is refused.
    """

    key: str
    once: str = ""
    readers: Readers = EVERYONE
    erasable: bool = False


FAMILIES = {
    family.key: family
    for family in (
        # of a day
        Family("people/"),
        Family("rolls/", once="roll"),
        Family("roll-holders/"),
        Family("spoiled/"),
        Family("loads/", once="load"),
        Family("differences/"),
        Family("difference-ends/"),
        Family("incidents/"),
        Family("incident-ends/"),
        Family("preflights/", once="pre-flight"),
        Family("closed"),
        # of a visit
        Family("consignor/", readers=OWNER, erasable=True),
        Family("note", readers=OWNER),
        Family("receipts/", once="receipt"),
        # of an item
        Family("told_words", readers=OWNER),
        Family("zones/"),
        Family("findings/"),
        Family("denials/"),
        Family("statements/"),
        Family("origins/"),
        Family("marks/"),
        Family("dates"),
        Family("measures/"),
        Family("tests/"),
        Family("grade"),
        Family("cautions/"),
        Family("caution-decisions/"),
        Family("check-in"),
        Family("heard-late/"),
        Family("merged"),
        Family("entry"),
        # of an item and of a container
        Family("photos/"),
        Family("tags/"),
        Family("inside"),
        Family("inside/"),
        Family("seal"),
        Family("moves/", once="move"),
        Family("whereabouts"),
        Family("whereabouts/"),
    )
}


def key_of(name: str) -> str:
    """The family's key: the name up to its first stroke, or all of it."""
    head, stroke, _ = name.partition("/")
    return head + stroke


def family_of(name: str) -> Family:
    """The family that a field belongs to."""
    return _family(key_of(name))


@lru_cache(maxsize=1000)
def _family(key: str) -> Family:
    """Names with a stroke that nobody lists are the office's alone: better hidden than shown to all by mistake."""
    return FAMILIES.get(key) or Family(key, readers=OFFICE if key.endswith("/") else EVERYONE)


def may_read(role: str, name: str) -> bool:
    """Whether a device of this role reads the field."""
    return role in family_of(name).readers.roles


def parts_for(role: str) -> list[str]:
    """The names of the restricted parts of records that a device of this role reads."""
    return [readers.name for readers in RESTRICTED if role in readers.roles]
