"""Records as a batch of operations works on them: read once, changed in memory, written once.

A record is what never changes of it, its fields, and the disagreements about them. Each statement to the database
lets other threads take the interpreter, which costs more than the statement; so a batch of twenty operations on one
item reads that item once and writes it once. What follows from the fields is registered by the step that owns it:
values with `derives`, pages that show a record with `shows`.
"""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from types import MappingProxyType
from typing import Any, NamedTuple

from pydantic_core import to_json

from intake.database import Reading, Writing, any_of, is_of_the_disk
from intake.derived_tables import DERIVED, follows_from_log
from intake.errors import NotFound
from intake.families import EVERYONE, family_of, key_of

follows_from_log(
    "record",
    columns="record_id, kind, day_id, office_seq, opened_seq, head, body, fields_end",
    order="record_id",
)
follows_from_log("record_part", order="record_id, readers")
follows_from_log("field", order="record_id, name")
follows_from_log("disagreement", order="disagreement_id")

NOBODY: Mapping[str, str] = MappingProxyType({})


class Source(NamedTuple):
    """Where a value comes from: which operation, made by whom, when, on which device, there in which place; its place
    in the log. `made_at` is UTC by the device's clock, put right where the office saw that it was off.

    `words_gone`: its personal words had been erased before the office heard of it. `goes_on_from`: the disagreement in
    which its maker said what it was changed from; empty if in none. The log's answer says so, and a rebuild goes by it.
    """

    operation_id: str
    made_by: str
    made_at: str
    device_id: str
    device_seq: int
    office_seq: int
    words_gone: bool = False
    goes_on_from: str = ""


def compact(value: Any) -> str:
    """JSON as we store it: keys in the order given, no spaces, letters as they are."""
    return to_json(value).decode()


@lru_cache(maxsize=1000)
def quoted(name: str) -> str:
    """The same of a name that is written again and again, such as a device's or a person's."""
    return compact(name)


@lru_cache(maxsize=5000)
def member(name: str) -> str:
    """A field's name as it stands before its value."""
    return f"{json.dumps(name)}:"


class FieldValue(NamedTuple):
    """The value in force of one field, and where it comes from. `text` is the value as JSON.

    `agreed`: the last operation of each device that said the same since, by the device. Whoever made it was looking at
    this value.
    """

    value: Any
    operation_id: str
    made_by: str
    made_at: str
    device_id: str
    device_seq: int
    text: str
    agreed: Mapping[str, str] = NOBODY

    @classmethod
    def of(cls, value: Any, source: Source) -> FieldValue:
        return cls(value, *source[:5], text=compact(value))

    def was_seen(self, seen: str | None) -> bool:
        """Whether an editor who saw what this operation said saw this value."""
        return seen is not None and (seen == self.operation_id or seen in self.agreed.values())

    def with_source(self, value: Any) -> dict[str, Any]:
        """A value with the source of this one, as disagreements carry it."""
        return {
            "value": value,
            "operation_id": self.operation_id,
            "made_by": self.made_by,
            "made_at": self.made_at,
            "device_id": self.device_id,
            "device_seq": self.device_seq,
        }

    def body(self) -> str:
        return (
            f'{{"value":{self.text},"operation_id":"{self.operation_id}","made_by":{quoted(self.made_by)},'
            f'"made_at":"{self.made_at}","device_id":{quoted(self.device_id)},"device_seq":{self.device_seq}'
            + (f',"agreed":{compact(dict(self.agreed))}}}' if self.agreed else "}")
        )


@dataclass
class Disagreement:
    """Two values of one field, each with its source, as JSON; `settled` says who chose what, null while open."""

    disagreement_id: str
    name: str
    office_seq: int
    kept: str
    other: str
    settled: str | None

    def value_of(self, side: str) -> Any:
        """What one side said: `kept` is the value that was in force then, `other` the one beside it."""
        return json.loads(self.kept if side == "kept" else self.other)["value"]

    def was_said_by(self, operation_id: str, current: FieldValue) -> bool:
        """Whether this operation said the value that stands beside the one in force, or the one that was settled on and
        that is in force since."""
        if self.settled is None:
            return bool(json.loads(self.other)["operation_id"] == operation_id)
        settled = json.loads(self.settled)
        if settled["operation_id"] != current.operation_id:
            return False
        chosen = self.kept if settled["choose"] == "kept" else self.other
        return bool(json.loads(chosen)["operation_id"] == operation_id)

    def body(self) -> str:
        return (
            f'{{"disagreement_id":"{self.disagreement_id}","field":{json.dumps(self.name)},'
            f'"kept":{self.kept},"other":{self.other},"settled":{self.settled or "null"}}}'
        )


@dataclass
class Record:
    """One day, visit, item or container. `head` is what it has from its opening; it does not change after.

    Whatever changes it has it written. `office_seq` says which operation touched it last; one that blanks a word on
    other records leaves theirs as it was.
    """

    tx: Reading
    record_id: str
    kind: str
    day_id: str
    opened_seq: int
    head: dict[str, Any]
    office_seq: int = 0  # the last operation that touched it; 0 if none has yet
    new: bool = False  # opened in this batch: the tables have nothing of it to be read
    written: bool = True  # whether the tables have what is in memory
    changed: set[str] = field(default_factory=set)
    dropped: list[str] = field(default_factory=list)  # disagreements that are gone with what was erased
    _derived: dict[str, Any] = field(default_factory=dict)

    @cached_property
    def fields(self) -> dict[str, FieldValue]:
        """By name. Read when first asked for: many a record is only asked for its kind."""
        if self.new:
            return {}
        rows = self.tx.gathered(
            "name, value, operation_id, made_by, made_at, device_id, device_seq, agreed",
            "FROM field WHERE record_id = :record_id",
            record_id=self.record_id,
        )
        return {
            name: FieldValue(
                json.loads(text),
                operation_id,
                made_by,
                made_at,
                device_id,
                device_seq,
                text,
                json.loads(agreed) if agreed else NOBODY,
            )
            for name, text, operation_id, made_by, made_at, device_id, device_seq, agreed in rows
        }

    @cached_property
    def disagreements(self) -> dict[str, Disagreement]:
        """By id, in the order in which they came up."""
        if self.new:
            return {}
        rows = self.tx.all(
            """
            SELECT disagreement_id, name, office_seq, kept, other, settled FROM disagreement
            WHERE record_id = :record_id ORDER BY office_seq
            """,
            record_id=self.record_id,
        )
        return {row["disagreement_id"]: Disagreement(*row) for row in rows}

    def value(self, name: str) -> Any:
        """The value in force, or None if nobody set the field."""
        current = self.fields.get(name)
        return None if current is None else current.value

    def values(self, prefix: str) -> dict[str, Any]:
        """The values in force of the fields whose names begin so, by name, in the order of the names."""
        names = [name for name in self.fields if name.startswith(prefix)]
        return {name: self.fields[name].value for name in sorted(names)}

    def said(self, name: str | None = None) -> Iterator[tuple[str, FieldValue]]:
        """Every value, or every value of one field, with its field's name: those in force, and both sides of each
        disagreement that nobody has settled, either of which may come to hold. For whatever is to be careful."""
        yield from ((one, current) for one, current in self.fields.items() if name in (None, one))
        for between in self.disagreements.values():
            if between.settled is None and name in (None, between.name):
                for side in (between.kept, between.other):
                    source = json.loads(side)
                    yield between.name, FieldValue(**source, text=compact(source["value"]))

    def derived(self, name: str) -> Any:
        """What follows from the fields as they are now, such as `stopped_by`; None if no step derives it."""
        if name not in self._derived:
            derive = DERIVATIONS.get((self.kind, name))
            self._derived[name] = None if derive is None else derive(self)
        return self._derived[name]

    def put(self, name: str, value: Any, source: Source) -> None:
        """Put a value in force, whatever was there."""
        self.fields[name] = FieldValue.of(value, source)
        self._changed(name)

    def agree(self, name: str, source: Source) -> None:
        """Note that somebody else said what is in force."""
        current = self.fields[name]
        agreed = {**current.agreed, source.device_id: source.operation_id}
        self.fields[name] = current._replace(agreed=agreed)
        self._changed(name)

    def remove(self, name: str) -> None:
        """Take a field away, as if nobody had set it."""
        del self.fields[name]
        self._changed(name)

    def _changed(self, name: str) -> None:
        self.changed.add(name)
        self.written = False
        for derived in DERIVED_FROM.get((self.kind, key_of(name)), ()):
            self._derived.pop(derived, None)

    def disagree(self, name: str, *, kept: Any, other: Any, source: Source) -> None:
        """Keep a second value beside the one that stands, until a person settles it."""
        self.disagreements[source.operation_id] = Disagreement(
            source.operation_id,
            name,
            source.office_seq,
            compact(kept),
            compact(FieldValue.of(other, source).with_source(other)),
            None,
        )
        self._changed_between()

    def is_contested(self, name: str) -> bool:
        """Whether two people set the field otherwise, and nobody has settled it."""
        return any(
            between.name == name and between.settled is None for between in self.disagreements.values()
        )

    def drop_disagreement(self, disagreement_id: str) -> None:
        """Let go of a disagreement whose words are erased."""
        del self.disagreements[disagreement_id]
        self.dropped.append(disagreement_id)
        self._changed_between()

    def settle(self, disagreement_id: str, settled: dict[str, Any]) -> None:
        """Note who chose what of two values."""
        self.disagreements[disagreement_id].settled = compact(settled)
        self._changed_between()

    def _changed_between(self) -> None:
        """What follows from fields may follow from disagreements about them as well."""
        self.written = False
        self._derived.clear()

    @property
    def open_disagreements(self) -> int:
        return sum(between.settled is None for between in self.disagreements.values())


#: What follows from the fields of a record of a kind, by the record's kind and the value's name.
DERIVATIONS: dict[tuple[str, str], Callable[[Record], Any]] = {}
#: The names of the values that follow from a family, by the kind of record and the family.
DERIVED_FROM: dict[tuple[str, str], list[str]] = defaultdict(list)
#: Fields that follow from others and are sent beside them, by the record's kind and the field's name.
SENT_BESIDE: dict[str, dict[str, Callable[[Record], FieldValue | None]]] = defaultdict(dict)
#: What shows a record of a kind elsewhere, written anew whenever the record is, or another record of the same thing.
View = Callable[["Records", Record], None]
VIEWS: dict[str, list[View]] = defaultdict(list)


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


class Records:
    """The records that one job has in hand. Other tables are reached through `tx`.

    `feed_after` is the place in the feed after which records are put when they are written. `hearing`: the office lacks
    something that a device may bring; checks ask it, what is applied never goes by it.
    """

    def __init__(self, tx: Writing, *, feed_after: int, hearing: bool = False) -> None:
        self.tx, self.hearing = tx, hearing
        self._in_hand: dict[str, Record] = {}
        self._looked_up: dict[tuple[str, str], Any] = {}
        self._behind: dict[str, str] | None = (
            None  # the record behind which each one stands; None if not read yet
        )
        self._parted: set[str] = set()  # records behind which one stood that does so no more
        self._feed_seq = feed_after

    def find(self, record_id: str) -> Record | None:
        """The record, or None if there is no such one."""
        record = self._in_hand.get(record_id)
        if record is None:
            row = self.tx.one(
                "SELECT kind, day_id, opened_seq, head, office_seq FROM record WHERE record_id = :record_id",
                record_id=record_id,
            )
            if row is None:
                return None
            kind, day_id, opened_seq, head, office_seq = row
            record = self._in_hand[record_id] = Record(
                self.tx, record_id, kind, day_id, opened_seq, json.loads(head), office_seq
            )
        return record

    def require(self, record_id: str, *kinds: str) -> Record:
        """The record. Raises NotFound unless there is one of these kinds."""
        record = self.find(record_id)
        if record is None or record.kind not in kinds:
            raise NotFound(" or ".join(kinds), record_id)
        return record

    def look_up(self, record_id: str, name: str) -> Any:
        """One field's value in force, without reading the record's others; None if nobody set it."""
        record = self._in_hand.get(record_id)
        if record is not None and ("fields" in record.__dict__ or record.new):
            return record.value(name)
        key = record_id, name
        if key not in self._looked_up:
            text = self.tx.value(
                "SELECT value FROM field WHERE record_id = :record_id AND name = :name",
                record_id=record_id,
                name=name,
            )
            self._looked_up[key] = None if text is None else json.loads(text)
        return self._looked_up[key]

    def open(self, record_id: str, kind: str, day_id: str, head: dict[str, Any], source: Source) -> Record:
        """Make a record. `head` is what it has beside what every record has."""
        whole = {
            "kind": kind,
            "record_id": record_id,
            "day_id": day_id,
            "opened_at": source.made_at,
            "opened_by": source.made_by,
            **head,
        }
        record = self._in_hand[record_id] = Record(
            self.tx, record_id, kind, day_id, source.office_seq, whole, new=True
        )
        return record

    def unwritten(self) -> set[str]:
        """The ids of the records that were changed and that the tables do not have yet as they are."""
        return {record_id for record_id, record in self._in_hand.items() if not record.written}

    def touch(self, record_id: str, office_seq: int) -> None:
        """An operation has changed the record: it is to be written, and read again by devices."""
        record = self.find(record_id)
        if record is not None:
            record.office_seq, record.written = office_seq, False

    def write(self, left_out: Callable[[Record, View, Exception], None] | None = None) -> None:
        """Write the records that were changed since the last time, and what shows them.

        A view that fails fails all of it, unless somebody hears of what is then `left_out`.
        """
        touched = [record for record in self._in_hand.values() if not record.written]
        if not touched:
            return
        touched.sort(key=lambda record: record.office_seq)
        for record in touched:
            self._feed_seq += 1
            write_record(self.tx, record, self._feed_seq)
            record.written = True
        for record in self._shown_with(touched):
            for view in VIEWS.get(record.kind, ()):
                if left_out is None:
                    view(self, record)
                else:
                    self._show(view, record, left_out)
        self._parted.clear()

    def _shown_with(self, touched: list[Record]) -> list[Record]:
        """These records, and those whose views say something of them: of the same thing now, or until just now."""
        parted = [record for one in self._parted if (record := self.find(one)) is not None]
        shown = {one.record_id: one for record in [*touched, *parted] for one in self.same_thing(record)}
        return list(shown.values())

    def _show(self, view: View, record: Record, left_out: Callable[[Record, View, Exception], None]) -> None:
        try:
            self.tx.undoable(lambda: view(self, record))
        except Exception as fault:
            if is_of_the_disk(fault):
                raise
            left_out(record, view, fault)

    def forget(self) -> None:
        """Let go of all of them: what was not written is gone."""
        self._in_hand.clear()
        self._looked_up.clear()
        self._parted.clear()
        self._behind = None

    def behind(self) -> dict[str, str]:
        """Which records stand behind another one, and behind which: the same thing was recorded twice."""
        if self._behind is None:
            rows = self.tx.all(
                "SELECT record_id, value ->> 'into_id' AS into_id FROM field WHERE name = 'merged'"
            )
            self._behind = {row["record_id"]: row["into_id"] for row in rows if row["into_id"]}
        return self._behind

    def note_behind(self, record_id: str, into_id: str | None) -> None:
        """A record stands behind another from now on; None: behind none."""
        known = self.behind()
        if before := known.pop(record_id, None):
            self._parted.add(before)
        if into_id:
            known[record_id] = into_id

    def same_thing(self, record: Record) -> list[Record]:
        """All records of the thing that a record is of, itself the first: whichever was merged into which, however
        often."""
        behind = self.behind()
        if record.kind != "item" or not behind:
            return [record]
        found = [record.record_id]
        for one in found:
            near = [behind[one]] if one in behind else []
            near += [record_id for record_id, into_id in behind.items() if into_id == one]
            found += [record_id for record_id in near if record_id not in found]
        return [other for record_id in found if (other := self.find(record_id)) is not None]


@dataclass
class Part:
    """What one circle of readers reads of a record: members of `fields`, and members of `disagreements`, as JSON."""

    fields: list[str] = field(default_factory=list)
    disagreements: list[str] = field(default_factory=list)


def parts_of(record: Record) -> dict[str, Part]:
    """The record's fields and disagreements by the name of who may read them."""
    parts: dict[str, Part] = defaultdict(Part)
    for name in sorted(record.fields):
        part = parts[family_of(name).readers.name]
        part.fields.append(member(name) + record.fields[name].body())
    for name, derive in SENT_BESIDE.get(record.kind, {}).items():
        if (beside := derive(record)) is not None:
            parts[family_of(name).readers.name].fields.append(member(name) + beside.body())
    for between in record.disagreements.values():
        parts[family_of(between.name).readers.name].disagreements.append(between.body())
    return parts


def glue(body: bytes, fields_end: int, parts: list[tuple[bytes, bytes]]) -> bytes:
    """A record's body with more parts put in: each is what goes into its `fields` and into its `disagreements`.

    `body` is the whole JSON of what everyone reads, `fields_end` where its fields end, in bytes.
    """
    start, rest = body[:fields_end], body[fields_end:-2]
    fields = b",".join([text for text, _ in parts if text])
    disagreements = b",".join([text for _, text in parts if text])
    if fields and not start.endswith(b"{"):
        fields = b"," + fields
    if disagreements and not rest.endswith(b"["):
        disagreements = b"," + disagreements
    return b"".join([start, fields, rest, disagreements, body[-2:]])


def write_record(tx: Writing, record: Record, feed_seq: int) -> None:
    """Write a record, the parts of it that not everyone reads, and those of its fields that changed."""
    parts = parts_of(record)
    common = parts.pop(EVERYONE.name, Part())
    head = compact(record.head)
    start = f'{head[:-1]},"office_seq":{record.office_seq},"fields":{{{",".join(common.fields)}'
    tx.run(
        """
        INSERT INTO record (record_id, kind, day_id, office_seq, feed_seq, opened_seq, head, body, fields_end)
        VALUES (:record_id, :kind, :day_id, :office_seq, :feed_seq, :opened_seq, :head, :body, :fields_end)
        ON CONFLICT (record_id) DO UPDATE SET office_seq = excluded.office_seq,
            feed_seq = excluded.feed_seq, body = excluded.body, fields_end = excluded.fields_end
        """,
        record_id=record.record_id,
        kind=record.kind,
        day_id=record.day_id,
        office_seq=record.office_seq,
        feed_seq=feed_seq,
        opened_seq=record.opened_seq,
        head=head,
        body=f'{start}}},"disagreements":[{",".join(common.disagreements)}]}}',
        fields_end=len(start.encode()) if parts else None,
    )
    tx.run_many(
        """
        INSERT INTO record_part (record_id, readers, fields, disagreements) VALUES (?, ?, ?, ?)
        ON CONFLICT (record_id, readers) DO UPDATE SET
            fields = excluded.fields, disagreements = excluded.disagreements
        """,
        [
            (record.record_id, readers, ",".join(part.fields), ",".join(part.disagreements))
            for readers, part in parts.items()
        ],
    )
    if record.changed - record.fields.keys():  # of what was taken away a whole part may be gone
        tx.run(
            f"DELETE FROM record_part WHERE record_id = :record_id AND readers NOT IN {any_of('readers')}",
            record_id=record.record_id,
            readers=json.dumps(list(parts)),
        )
    write_fields(tx, record)
    write_disagreements(tx, record)


def write_fields(tx: Writing, record: Record) -> None:
    tx.run_many(
        """
        INSERT INTO field (record_id, name, value, operation_id, made_by, made_at, device_id, device_seq, agreed)
        VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
        ON CONFLICT (record_id, name) DO UPDATE SET
            value = excluded.value, operation_id = excluded.operation_id, made_by = excluded.made_by,
            made_at = excluded.made_at, device_id = excluded.device_id, device_seq = excluded.device_seq,
            agreed = excluded.agreed
        """,
        [
            (
                record.record_id,
                name,
                current.text,
                current.operation_id,
                current.made_by,
                current.made_at,
                current.device_id,
                current.device_seq,
                compact(dict(current.agreed)) if current.agreed else None,
            )
            for name, current in ((name, record.fields.get(name)) for name in record.changed)
            if current is not None
        ],
    )
    tx.run_many(
        "DELETE FROM field WHERE record_id = ? AND name = ?",
        [(record.record_id, name) for name in record.changed - record.fields.keys()],
    )
    record.changed.clear()


def write_disagreements(tx: Writing, record: Record) -> None:
    tx.run_many(
        """
        INSERT INTO disagreement (disagreement_id, record_id, name, office_seq, kept, other, settled)
        VALUES (?, ?, ?, ?, ?, ?, ?)
        ON CONFLICT (disagreement_id) DO UPDATE SET settled = excluded.settled
        """,
        [
            (
                between.disagreement_id,
                record.record_id,
                between.name,
                between.office_seq,
                between.kept,
                between.other,
                between.settled,
            )
            for between in record.disagreements.values()
        ],
    )
    tx.run_many(
        "DELETE FROM disagreement WHERE disagreement_id = ?",
        [(disagreement_id,) for disagreement_id in record.dropped],
    )
    record.dropped.clear()
