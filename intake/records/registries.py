"""What the steps register of records: values that follow from their fields, and pages that show them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, Any

from intake.derived_tables import DERIVED

if TYPE_CHECKING:  # a record asks the registries, which say what they take alone
    from intake.database import Reading
    from intake.records.in_hand import Records
    from intake.records.record import Record
    from intake.records.values import FieldValue

#: What follows from the fields of a record of a kind, by the record's kind and the value's name.
DERIVATIONS: dict[tuple[str, str], Callable[[Record], Any]] = {}
#: The names of the values that follow from a family, by the kind of record and the family.
DERIVED_FROM: dict[tuple[str, str], list[str]] = defaultdict(list)
#: Fields that follow from others and are sent beside them, by the record's kind and the field's name.
SENT_BESIDE: dict[str, dict[str, Callable[[Record], FieldValue | None]]] = defaultdict(dict)
#: What shows a record of a kind elsewhere, written anew whenever the record is, or another record of the same thing.
View = Callable[["Records", "Record"], None]
VIEWS: dict[str, list[View]] = defaultdict(list)
#: What devices read anew when a record of a kind changes in a field: the records that it says something of.
ReadAnew = Callable[["Reading", str], list[str]]
READ_ANEW: dict[str, list[tuple[frozenset[str], ReadAnew]]] = defaultdict(list)
#: What shows otherwise when a record of a kind changes in such a family of fields: the records whose views it is in.
ShownWith = Callable[["Reading", "Record"], list[str]]
#: Whether what a view says of such a record is otherwise than it was written, as the records are now.
IsOtherwise = Callable[["Records", "Record"], bool]
SHOWN_WITH: dict[str, list[tuple[frozenset[str], ShownWith, IsOtherwise | None]]] = defaultdict(list)
#: How the records of a kind that stand behind another one of the same thing are read, each with that one's id.
BehindWhat = Callable[["Reading"], Mapping[str, str]]
STANDS_BEHIND: dict[str, BehindWhat] = {}


#: What lies together with a thing, or with the piece of it that has a tag, in whatever it lies in: who handles it
#: there handles that as well.
LiesWith = Callable[["Record", "str | None", "Records"], Iterable["Record"]]
LIES_WITH: list[LiesWith] = []


def derives(
    kind: str, name: str, *families: str
) -> Callable[[Callable[[Record], Any]], Callable[[Record], Any]]:
    """Register how a value follows from these families of fields of a record of this kind.

    It must not fail on any old record.
    """

    def register(derive: Callable[[Record], Any]) -> Callable[[Record], Any]:
        DERIVATIONS[kind, name] = derive
        for family in families:
            DERIVED_FROM[kind, family].append(name)
        return derive

    return register


def sends_beside(
    kind: str, name: str
) -> Callable[[Callable[[Record], FieldValue | None]], Callable[[Record], FieldValue | None]]:
    """Register a field of such records that nobody sets: how it follows from the others, None if it is not there."""

    def register(derive: Callable[[Record], FieldValue | None]) -> Callable[[Record], FieldValue | None]:
        SENT_BESIDE[kind][name] = derive
        return derive

    return register


def reads_anew(kind: str, *names: str) -> Callable[[ReadAnew], ReadAnew]:
    """Register which records count on in the feed, unchanged, when one of these fields of a record of this kind is
    changed: it says who reads them, or what is shown and found with them."""

    def register(find: ReadAnew) -> ReadAnew:
        READ_ANEW[kind].append((frozenset(names), find))
        return find

    return register


def shown_with(
    kind: str, *families: str, if_otherwise: IsOtherwise | None = None
) -> Callable[[ShownWith], ShownWith]:
    """Register which records are shown anew, and read again by devices, when a record of this kind is changed in one
    of these families: what their views say follows from it. It is asked before the change is in the tables, and
    `if_otherwise` of each of them after that: where only few of those that it may bear on say something else."""

    def register(find: ShownWith) -> ShownWith:
        SHOWN_WITH[kind].append((frozenset(families), find, if_otherwise))
        return find

    return register


def lies_with(find: LiesWith) -> LiesWith:
    """Register what tells what lies together with a thing: the step that owns what holds things."""
    LIES_WITH.append(find)
    return find


def stands_behind(kind: str) -> Callable[[BehindWhat], BehindWhat]:
    """Register what tells which records of this kind stand behind another one, and behind which."""

    def register(read: BehindWhat) -> BehindWhat:
        STANDS_BEHIND[kind] = read
        return read

    return register


def shows(kind: str, *tables: str) -> Callable[[View], View]:
    """Register what writes a record of this kind into tables of its step, such as the queue.

    Raises TypeError for a table that no rebuild would empty: see derived_tables.py.
    """
    unknown = [table for table in tables if table not in DERIVED] or ([] if tables else ["no table"])
    if unknown:
        raise TypeError(
            f"a view of a {kind} names {', '.join(unknown)}: say `follows_from_log` of each table"
        )

    def register(view: View) -> View:
        VIEWS[kind].append(view)
        return view

    return register
