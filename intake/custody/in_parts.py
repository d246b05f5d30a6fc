"""A day's records in parts: each is read as it is come to, and let go of again, however many there are.

Of a common day all that was read stays in hand, so that nothing is read twice. Of one of thousands only so much stays;
a record that was let go of while somebody still has it is the same one when it is asked for again.
"""

from __future__ import annotations

import json
from collections import OrderedDict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import overload
from weakref import WeakValueDictionary

from intake.database import Reading, any_of
from intake.families import key_of
from intake.records.record import Record
from intake.records.same_thing import ids_of_thing
from intake.records.values import Disagreement, FieldValue

#: Letters of JSON that stay in hand, which as records are some six times as many bytes: a common day and a half.
IN_HAND = 5_000_000
OF_A_FIELD = 200  # letters that a field comes to beside its value
AT_ONCE = 100  # records that are read with one question


class Hand:
    """The records of a day that were asked for last. `goes_by` are the families of fields that are read of them,
    `behind` the items that stand behind another one, each with that one's id."""

    def __init__(self, tx: Reading, goes_by: frozenset[str], behind: Mapping[str, str], most: int) -> None:
        self.tx, self._goes_by, self._behind, self._most = tx, goes_by, behind, most
        self._of_several = {*behind, *behind.values()}
        self._held: OrderedDict[str, tuple[Record, int]] = OrderedDict()  # the one asked for last at the end
        self._size = 0
        self._known: WeakValueDictionary[str, Record] = WeakValueDictionary()

    def record(self, record_id: str) -> Record:
        """Raises KeyError if there is none of this id."""
        return self.records([record_id])[0]

    def records(self, record_ids: Sequence[str]) -> list[Record]:
        """Some of them, in this order. Raises KeyError if there is none of an id."""
        found = {}
        for record_id in record_ids:
            if (record := self._known.get(record_id)) is not None:
                found[record_id] = record
            if record_id in self._held:
                self._held.move_to_end(record_id)
        found |= self._read([record_id for record_id in record_ids if record_id not in found])
        return [found[record_id] for record_id in record_ids]

    def let_go(self) -> None:
        """Hold nothing more. Records of one thing know of each other through here, so that nothing else frees them."""
        self._held.clear()
        self._size = 0

    def _read(self, record_ids: list[str]) -> dict[str, Record]:
        if not record_ids:
            return {}
        asked = json.dumps(record_ids)
        found = {record.record_id: record for record in self._without_fields(asked)}
        sizes = dict.fromkeys(found, 0)
        for row in self.tx.each(
            f"""
            SELECT record_id, name, value, operation_id, made_by, made_at, device_id, device_seq FROM field
            WHERE record_id IN {any_of("asked")} ORDER BY record_id, name
            """,
            asked=asked,
        ):
            record_id, name, value, operation_id, made_by, made_at, device_id, device_seq = row
            if key_of(name) in self._goes_by and record_id in found:
                made = operation_id, made_by, made_at, device_id, device_seq
                found[record_id].fields[name] = FieldValue(json.loads(value), *made, value)
                sizes[record_id] += len(value) + OF_A_FIELD
        for row in self.tx.each(
            f"""
            SELECT record_id, disagreement_id, name, office_seq, kept, other, settled FROM disagreement
            WHERE record_id IN {any_of("asked")} AND settled IS NULL ORDER BY office_seq
            """,  # those that nobody has settled, of whatever field
            asked=asked,
        ):
            record_id, *between = row
            found[record_id].disagreements[between[0]] = Disagreement(*between)
            sizes[record_id] += len(row["kept"]) + len(row["other"])
        for record_id, record in found.items():
            self._hold(record, sizes[record_id])
        return found

    def _without_fields(self, asked: str) -> Iterator[Record]:
        for row in self.tx.each(
            f"""
            SELECT record_id, kind, day_id, opened_seq, head FROM record WHERE record_id IN {any_of("asked")}
            """,
            asked=asked,
        ):
            record_id, kind, day_id, opened_seq, head = row
            record = Record(self.tx, record_id, kind, day_id, opened_seq, json.loads(head))
            record.fields, record.disagreements = {}, {}
            if record.record_id in self._of_several:
                record.others = lambda record_id=record.record_id: self._others_of(record_id)  # type: ignore[misc]
            yield record

    def _others_of(self, record_id: str) -> list[Record]:
        return [self.record(other) for other in ids_of_thing(record_id, self._behind)[1:]]

    def _hold(self, record: Record, size: int) -> None:
        self._known[record.record_id] = record
        self._held[record.record_id] = record, size
        self._size += size
        while self._size > self._most and len(self._held) > 1:
            self._size -= self._held.popitem(last=False)[1][1]


class InParts(Sequence[Record]):
    """Records of a day in an order: who goes through them has a part of them at a time."""

    def __init__(self, hand: Hand, record_ids: Sequence[str]) -> None:
        self._hand, self._ids = hand, record_ids

    def __len__(self) -> int:
        return len(self._ids)

    @overload
    def __getitem__(self, at: int) -> Record: ...
    @overload
    def __getitem__(self, at: slice) -> list[Record]: ...
    def __getitem__(self, at: int | slice) -> Record | list[Record]:
        return (
            self._hand.records(self._ids[at]) if isinstance(at, slice) else self._hand.record(self._ids[at])
        )

    def __iter__(self) -> Iterator[Record]:
        for start in range(0, len(self._ids), AT_ONCE):
            yield from self._hand.records(self._ids[start : start + AT_ONCE])


class ById(Mapping[str, Record]):
    """The same by their ids."""

    def __init__(self, hand: Hand, record_ids: Iterable[str]) -> None:
        self._hand, self._ids = hand, set(record_ids)

    def __len__(self) -> int:
        return len(self._ids)

    def __iter__(self) -> Iterator[str]:
        return iter(self._ids)

    def __contains__(self, record_id: object) -> bool:
        return record_id in self._ids

    def __getitem__(self, record_id: str) -> Record:
        if record_id not in self._ids:
            raise KeyError(record_id)
        return self._hand.record(record_id)
