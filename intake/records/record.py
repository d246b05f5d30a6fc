"""One record as it stands in memory: its fields and disagreements are read when they are first asked for."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

from intake.database import Reading
from intake.families import key_of
from intake.once import worked_out_once
from intake.records.registries import DERIVATIONS, DERIVED_FROM
from intake.records.values import NOBODY, Disagreement, FieldValue, Source, compact


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
    #: Those of the same thing, which was recorded more than once.
    others: Callable[[], list[Record]] = field(default=list, compare=False, repr=False)
    _derived: dict[str, Any] = field(default_factory=dict)

    @worked_out_once
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

    @worked_out_once
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


def record_on(tx: Reading, record_id: str) -> Record | None:
    """A record as the tables have it, or None if there is none of this id."""
    row = tx.one(
        "SELECT kind, day_id, opened_seq, head, office_seq FROM record WHERE record_id = :record_id",
        record_id=record_id,
    )
    if row is None:
        return None
    kind, day_id, opened_seq, head, office_seq = row
    return Record(tx, record_id, kind, day_id, opened_seq, json.loads(head), office_seq)
