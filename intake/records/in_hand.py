"""The records that one job has in hand, each of them once."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from typing import Any

from intake.database import Reading, Writing, is_of_the_disk
from intake.errors import NotFound
from intake.families import key_of
from intake.records.record import Record, record_on
from intake.records.registries import READ_ANEW, SHOWN_WITH, STANDS_BEHIND, VIEWS, IsOtherwise, View
from intake.records.same_thing import ids_of_thing
from intake.records.values import Source
from intake.records.writing import write_record


class Records:
    """The records that one job has in hand. Other tables are reached through `tx`.

    `feed_after` is the place in the feed after which records are put when they are written. `hearing`: the office lacks
    something that a device may bring; checks ask it, what is applied never goes by it. `logged` finds an operation
    that was answered before, as it was applied; None if there is none or its words are gone.
    """

    def __init__(
        self,
        tx: Writing,
        *,
        feed_after: int,
        logged: Callable[[str], Any] = lambda _: None,
        hearing: bool = False,
    ) -> None:
        self.tx, self.logged, self.hearing = tx, logged, hearing
        self._in_hand: dict[str, Record] = {}
        self._looked_up: dict[tuple[str, str], Any] = {}
        self._behind: dict[str, str] | None = (
            None  # the record behind which each one stands; None if not read yet
        )
        self._parted: set[str] = set()  # records behind which one stood that does so no more
        self._told_of: set[str] = set()  # unchanged records of which something more is said
        self._rows: dict[str, list[tuple[Any, ...]]] = {}  # of the steps' own tables, by the statement
        self._feed_seq = feed_after

    def find(self, record_id: str) -> Record | None:
        """The record, or None if there is no such one."""
        record = self._in_hand.get(record_id)
        if record is None and (record := record_on(self.tx, record_id)) is not None:
            self._in_hand[record_id] = record
            self._knows_others(record)
        return record

    def _knows_others(self, record: Record) -> None:
        if record.kind in STANDS_BEHIND:
            record.others = lambda: self.same_thing(record)[1:]

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
        self._knows_others(record)
        return record

    def unwritten(self) -> set[str]:
        """The ids of the records that were changed and that the tables do not have yet as they are."""
        return {record_id for record_id, record in self._in_hand.items() if not record.written}

    def touch(self, record_id: str, office_seq: int) -> None:
        """An operation has changed the record: it is to be written, and read again by devices."""
        record = self.find(record_id)
        if record is not None:
            record.office_seq, record.written = office_seq, False

    def tell_of(self, record_id: str) -> None:
        """Something more is said of this one, by another record or in its history: it is read again by devices, though
        unchanged."""
        self._told_of.add(record_id)

    def add_rows(self, statement: str, rows: Iterable[tuple[Any, ...]]) -> None:
        """Rows of a table that nobody asks before the records are written: they are written with them, in one go."""
        self._rows.setdefault(statement, []).extend(rows)

    def write(self, left_out: Callable[[Record, View, Exception], None] | None = None) -> None:
        """Write the records that were changed since the last time, and what shows them.

        A view that fails fails all of it, unless somebody hears of what is then `left_out`.
        """
        touched = [record for record in self._in_hand.values() if not record.written]
        if not touched and not self._told_of:
            return
        for statement, rows in self._rows.items():
            self.tx.run_many(statement, rows)
        self._rows.clear()
        touched.sort(key=lambda record: record.office_seq)
        read_anew = [record_id for record in touched for record_id in read_anew_with(self.tx, record)]
        shown_anew = [one for record in touched for one in shown_anew_with(self.tx, record)]
        for record in touched:
            self._feed_seq += 1
            write_record(self.tx, record, self._feed_seq)
            record.written = True
        also = [
            found
            for record_id, is_otherwise in dict.fromkeys(shown_anew)
            if (found := self.find(record_id)) is not None
            and (is_otherwise is None or is_otherwise(self, found))
        ]
        shown = self._shown_with([*touched, *also])
        # Of the same thing, or said of by another: it is shown otherwise by now.
        read_anew += [*(record.record_id for record in shown), *sorted(self._told_of)]
        self._told_of.clear()
        self._place_again(read_anew, {record.record_id for record in touched})
        for record in shown:
            for view in VIEWS.get(record.kind, ()):
                if left_out is None:
                    view(self, record)
                else:
                    self._show(view, record, left_out)
        self._parted.clear()

    def _place_again(self, read_anew: list[str], placed: set[str]) -> None:
        """Have devices read these anew, but for what was placed just now anyway."""
        for record_id in dict.fromkeys(read_anew):
            if record_id not in placed:
                self._feed_seq += 1
                self.tx.run(
                    "UPDATE record SET feed_seq = :feed_seq WHERE record_id = :record_id",
                    feed_seq=self._feed_seq,
                    record_id=record_id,
                )

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
        self._told_of.clear()
        self._rows.clear()
        self._behind = None

    def behind(self) -> dict[str, str]:
        """Which records stand behind another one, and behind which: the same thing was recorded twice."""
        if self._behind is None:
            pairs = (read(self.tx).items() for read in STANDS_BEHIND.values())
            self._behind = {record_id: into_id for those in pairs for record_id, into_id in those}
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
        if record.kind not in STANDS_BEHIND or not (behind := self.behind()):
            return [record]
        found = ids_of_thing(record.record_id, behind)
        return [other for record_id in found if (other := self.find(record_id)) is not None]


def read_anew_with(tx: Reading, record: Record) -> list[str]:
    """The records that are read otherwise now, though unchanged, since this one was changed in what it says of them."""
    found = READ_ANEW.get(record.kind, ())
    return [
        record_id
        for names, find in ([] if record.new else found)
        if not record.changed.isdisjoint(names)
        for record_id in find(tx, record.record_id)
    ]


def shown_anew_with(tx: Reading, record: Record) -> list[tuple[str, IsOtherwise | None]]:
    """The records whose views say something else now, though unchanged, since this one was changed; or may do so, each
    with what tells whether they do."""
    found = SHOWN_WITH.get(record.kind, ())
    families = {key_of(name) for name in record.changed} if found else frozenset()
    return [
        (record_id, is_otherwise)
        for names, find, is_otherwise in found
        if not names.isdisjoint(families)
        for record_id in find(tx, record)
    ]
