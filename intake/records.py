"""Records as a batch of operations works on them: read once, changed in memory, written once.

A record is what never changes of it, its fields, and the disagreements about them. Each statement to the database
lets other threads take the interpreter, which costs more than the statement; so a batch of twenty operations on one
item reads that item once and writes it once.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from pydantic_core import to_json

from intake.database import Writing
from intake.errors import AlreadyThere, NotFound
from intake.operation import Operation

PERSONAL_PREFIX = "consignor/"


@dataclass(frozen=True)
class Applied:
    """What applying an operation needs beside its own words."""

    office_seq: int
    received_at: str


def compact(value: Any) -> str:
    """JSON as we store it: keys in the order given, no spaces, letters as they are."""
    return to_json(value).decode()


@dataclass(frozen=True, slots=True)
class Said:
    """The value in force of one field, and who said it, when and on which device. `text` is the value as JSON."""

    value: Any
    operation_id: str
    made_by: str
    made_at: str
    device_id: str
    text: str

    @classmethod
    def by(cls, operation: Operation, value: Any) -> Said:
        """A value that an operation sets."""
        return cls(
            value,
            operation.operation_id,
            operation.made_by,
            operation.made_at,
            operation.device_id,
            compact(value),
        )

    def told(self, value: Any) -> dict[str, Any]:
        """A value as said by whoever said this one, as disagreements carry it."""
        return {
            "value": value,
            "operation_id": self.operation_id,
            "made_by": self.made_by,
            "made_at": self.made_at,
            "device_id": self.device_id,
        }

    def body(self) -> str:
        return (
            f'{{"value":{self.text},"operation_id":"{self.operation_id}","made_by":{compact(self.made_by)},'
            f'"made_at":"{self.made_at}","device_id":{compact(self.device_id)}}}'
        )


@dataclass
class Disagreement:
    """Two values of one field, each with who said it, as JSON; `settled` says who chose what, null while open."""

    disagreement_id: str
    name: str
    office_seq: int
    kept: str
    other: str
    settled: str | None

    def body(self) -> str:
        return (
            f'{{"disagreement_id":"{self.disagreement_id}","field":{json.dumps(self.name)},'
            f'"kept":{self.kept},"other":{self.other},"settled":{self.settled or "null"}}}'
        )


@dataclass
class Record:
    """One day, visit, item or container. `head` is what never changes; `stopped_by` the red caution that stops it."""

    tx: Writing
    record_id: str
    kind: str
    day_id: str
    opened_seq: int
    head: dict[str, Any]
    stopped_by: str | None = None
    office_seq: int = 0  # the last operation in hand that touched it; 0 if none has
    new: bool = False  # opened in this batch: the tables have nothing of it to be read
    written: bool = True  # whether the tables have what is in memory
    changed: set[str] = field(default_factory=set)

    @cached_property
    def fields(self) -> dict[str, Said]:
        """By name. Read when first asked for: many a record is only asked for its kind."""
        if self.new:
            return {}
        # One row in place of one a field, for the reason given at the top.
        rows = self.tx.value(
            """
            SELECT json_group_array(json_array(name, value, operation_id, made_by, made_at, device_id))
            FROM field WHERE record_id = :record_id
            """,
            record_id=self.record_id,
        )
        return {
            name: Said(json.loads(text), operation_id, made_by, made_at, device_id, text)
            for name, text, operation_id, made_by, made_at, device_id in json.loads(rows)
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
        said = self.fields.get(name)
        return None if said is None else said.value

    def values(self, prefix: str = "") -> dict[str, Any]:
        """The values in force of the fields whose names begin so, by name."""
        return {name: self.fields[name].value for name in sorted(self.fields) if name.startswith(prefix)}

    def put(self, operation: Operation, name: str, value: Any) -> None:
        """Put a value in force, whatever was there."""
        self.fields[name] = Said.by(operation, value)
        self.changed.add(name)

    def put_new(self, operation: Operation, name: str, value: Any, *, what: str) -> None:
        """Put a value that no later one replaces. Raises AlreadyThere if there is one: `what` it is, in words."""
        if name in self.fields:
            raise AlreadyThere(what, name.split("/")[-1])
        self.put(operation, name, value)

    def disagree(self, operation: Operation, at: Applied, name: str, *, kept: Any, other: Any) -> None:
        """Keep what the operation says beside what stands, until a person settles it."""
        self.disagreements[operation.operation_id] = Disagreement(
            operation.operation_id,
            name,
            at.office_seq,
            compact(kept),
            compact(Said.by(operation, other).told(other)),
            None,
        )

    @property
    def open_disagreements(self) -> int:
        return sum(one.settled is None for one in self.disagreements.values())

    def body(self, *, plain: bool) -> str:
        """The whole record as devices read it. `plain` leaves personal words out."""

        def shown(name: str) -> bool:
            return not (plain and name.startswith(PERSONAL_PREFIX))

        members = ",".join(
            f"{json.dumps(name)}:{self.fields[name].body()}" for name in sorted(self.fields) if shown(name)
        )
        told = ",".join(one.body() for one in self.disagreements.values() if shown(one.name))
        head = compact(self.head)
        return f'{head[:-1]},"office_seq":{self.office_seq},"fields":{{{members}}},"disagreements":[{told}]}}'

    @property
    def has_personal(self) -> bool:
        names = [*self.fields, *(one.name for one in self.disagreements.values())]
        return any(name.startswith(PERSONAL_PREFIX) for name in names)


class Records:
    """The records that one job has in hand. Other tables are reached through `tx`."""

    def __init__(self, tx: Writing) -> None:
        self.tx = tx
        self._in_hand: dict[str, Record] = {}

    def find(self, record_id: str) -> Record | None:
        """The record, or None if there is no such one."""
        record = self._in_hand.get(record_id)
        if record is None:
            row = self.tx.one(
                "SELECT kind, day_id, opened_seq, head, stopped_by FROM record WHERE record_id = :record_id",
                record_id=record_id,
            )
            if row is None:
                return None
            record = self._in_hand[record_id] = Record(
                self.tx,
                record_id,
                row["kind"],
                row["day_id"],
                row["opened_seq"],
                json.loads(row["head"]),
                row["stopped_by"],
            )
        return record

    def require(self, kind: str, record_id: str) -> Record:
        """The record. Raises NotFound unless there is one of this kind."""
        record = self.find(record_id)
        if record is None or record.kind != kind:
            raise NotFound(kind, record_id)
        return record

    def open(
        self, operation: Operation, at: Applied, *, kind: str, day_id: str, head: dict[str, Any]
    ) -> Record:
        """Make a record. Raises AlreadyThere if its id is in use."""
        record_id = operation.record_id
        if self.find(record_id) is not None:
            raise AlreadyThere(kind, record_id)
        whole = {
            "kind": kind,
            "record_id": record_id,
            "day_id": day_id,
            "opened_at": operation.made_at,
            "opened_by": operation.made_by,
            **head,
        }
        record = self._in_hand[record_id] = Record(
            self.tx, record_id, kind, day_id, at.office_seq, whole, new=True
        )
        return record

    def touch(self, record_id: str, office_seq: int) -> None:
        """An operation has changed the record: it moves to this place in the feed."""
        record = self.find(record_id)
        if record is not None:
            record.office_seq, record.written = office_seq, False

    def write(self) -> list[Record]:
        """Write the records that were touched since the last time; which they were."""
        touched = [record for record in self._in_hand.values() if not record.written]
        for record in touched:
            self._write(record)
            record.written = True
        return touched

    def forget(self) -> None:
        """Let go of all of them: what was not written is gone."""
        self._in_hand.clear()

    def _write(self, record: Record) -> None:
        self.tx.run(
            """
            INSERT INTO record (record_id, kind, day_id, office_seq, opened_seq, head, stopped_by, body, plain_body)
            VALUES (:record_id, :kind, :day_id, :office_seq, :opened_seq, :head, :stopped_by, :body, :plain_body)
            ON CONFLICT (record_id) DO UPDATE SET office_seq = excluded.office_seq,
                stopped_by = excluded.stopped_by, body = excluded.body, plain_body = excluded.plain_body
            """,
            record_id=record.record_id,
            kind=record.kind,
            day_id=record.day_id,
            office_seq=record.office_seq,
            opened_seq=record.opened_seq,
            head=compact(record.head),
            stopped_by=record.stopped_by,
            body=record.body(plain=False),
            plain_body=record.body(plain=True) if record.has_personal else None,
        )
        changed = [(name, record.fields[name]) for name in record.changed]
        self.tx.run_many(
            """
            INSERT INTO field (record_id, name, value, operation_id, made_by, made_at, device_id)
            VALUES (?, ?, ?, ?, ?, ?, ?)
            ON CONFLICT (record_id, name) DO UPDATE SET
                value = excluded.value, operation_id = excluded.operation_id, made_by = excluded.made_by,
                made_at = excluded.made_at, device_id = excluded.device_id
            """,
            [
                (
                    record.record_id,
                    name,
                    said.text,
                    said.operation_id,
                    said.made_by,
                    said.made_at,
                    said.device_id,
                )
                for name, said in changed
            ],
        )
        record.changed.clear()
        self.tx.run_many(
            """
            INSERT INTO disagreement (disagreement_id, record_id, name, office_seq, kept, other, settled)
            VALUES (?, ?, ?, ?, ?, ?, ?)
            ON CONFLICT (disagreement_id) DO UPDATE SET settled = excluded.settled
            """,
            [
                (
                    one.disagreement_id,
                    record.record_id,
                    one.name,
                    one.office_seq,
                    one.kept,
                    one.other,
                    one.settled,
                )
                for one in record.disagreements.values()
            ],
        )
