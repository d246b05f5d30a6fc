"""Building every derived table anew from the log.

Only applying is done again: what was refused once stays refused, and no check of today holds up what was kept then. A
mistake of ours in one operation, or in a view of one record, leaves that one out and is named: an office starts.
"""

from __future__ import annotations

import hashlib
import traceback
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Any, NamedTuple

from pydantic_core import from_json

from intake.database import Reading, Writing, is_of_the_disk
from intake.derived_tables import DERIVED
from intake.edits import Edit
from intake.errors import LogChanged, TablesNotMade
from intake.families import TOLD
from intake.operation import Operation
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.registries import View
from intake.records.values import Source
from intake.sync.chain import Progress, changed_rows, changed_words, nobody_hears, read_logged
from intake.sync.gaps import check_no_gaps
from intake.sync.kinds import from_log
from intake.sync.log import find_kept
from intake.sync.logged import with_its_words
from intake.sync.lost_words import keep_lost_words
from intake.sync.operations import apply, contest, source_of

#: Raise it with every change to what `apply` makes of an operation, or to what a derived table says: an office whose
#: tables were made by another version, older or newer, makes them anew when it starts.
APPLY_VERSION = 50

IN_HAND_LIMIT = 2000  # operations whose records are held in memory at once


class Rebuilt(NamedTuple):
    """How many operations were applied, and a sentence for each one, or view of its record, that had to be left out, or
    that was changed since it was logged."""

    applied: int
    left_out: list[str]


def rebuild(tx: Writing, progress: Progress = nobody_hears) -> Rebuilt:
    """Empty the derived tables and apply every operation that left something again, in the office's order.

    `progress` hears from time to time how many rows of the log are done, of how many.
    Words that the log has lost are taken out of the tables before those go.
    """
    keep_lost_words(tx)
    before = {record_id: (feed_seq, digest) for record_id, feed_seq, digest in feed_places(tx)}
    newest = tx.value("SELECT max(office_seq) FROM operation_log") or 0
    for table in DERIVED:
        tx.run(f"DELETE FROM {table}")  # table names are ours, from the list above
    last_place = max([newest, *(place for place, _ in before.values())])
    records, again = Records(tx, feed_after=last_place, logged=partial(find_kept, tx)), Rebuilt(0, [])
    for rows in log_in_parts(tx):
        applied = apply_part(records, rows, again.left_out)
        again = again._replace(applied=again.applied + applied)
        progress(rows[-1].office_seq, newest)
    keep_feed_places(tx, before)
    tx.run("UPDATE office SET apply_version = :version", version=APPLY_VERSION)
    progress(newest, newest)
    return again


class LoggedRow(NamedTuple):
    """A row of the log as it is applied again: what its text says, and its words, None if they are gone."""

    office_seq: int
    operation: dict[str, Any]
    answer: str
    received_at: str
    words: str | None


def log_in_parts(tx: Reading) -> Iterator[list[LoggedRow]]:
    """The log with its words, in the office's order, so much at once as is held in memory."""
    after = 0
    while rows := tx.all(
        """
        SELECT office_seq, operation, answer, received_at, words FROM operation_log
        LEFT JOIN private_words USING (operation_id) WHERE office_seq > :after ORDER BY office_seq LIMIT :limit
        """,
        after=after,
        limit=IN_HAND_LIMIT,
    ):
        yield [LoggedRow(seq, read_logged(text), *rest) for seq, text, *rest in rows]
        after = rows[-1]["office_seq"]


def apply_part(records: Records, rows: list[LoggedRow], left_out: list[str]) -> int:
    """Apply these rows of the log and write what they touched; how many left something.

    What goes wrong in them is found by halves, as at the door, and goes into `left_out`.
    """

    def apply_all() -> int:
        applied = sum(apply_again(records, row) for row in rows)
        records.write()
        return applied

    try:
        return records.tx.undoable(apply_all)
    except Exception as fault:
        if is_of_the_disk(fault):
            raise
        if len(rows) == 1:
            return apply_what_can_be(records, rows[0], left_out)
    finally:
        records.forget()
    half = len(rows) // 2
    return sum(apply_part(records, part, left_out) for part in (rows[:half], rows[half:]))


def apply_what_can_be(records: Records, row: LoggedRow, left_out: list[str]) -> int:
    """Apply one row in which something went wrong: without the views that fail, or not at all."""
    faults: list[str] = []

    def leave_out_view(record: Record, view: View, fault: Exception) -> None:
        faults.append(
            f"{named(row)} is applied, and {view.__name__} does not show its {record.kind}: {where(fault)}."
        )

    def apply_one() -> int:
        applied = apply_again(records, row)
        records.write(leave_out_view)
        return int(applied)

    try:
        applied = records.tx.undoable(apply_one)
        left_out += [f"{fault} {STAYS}" for fault in faults]
        return applied
    except Exception as fault:
        if is_of_the_disk(fault):
            raise
        left_out.append(f"{named(row)} is left out of the tables: {where(fault)}. {STAYS}")
        return 0
    finally:
        records.forget()


STAYS = "It stands in the log."


def named(row: LoggedRow) -> str:
    return f"Operation {row.office_seq} ({row.operation.get('kind', 'of no kind')})"


def where(fault: Exception) -> str:
    """What went wrong and at which line of ours, without its words: those may hold somebody's name."""
    *_, last = traceback.extract_tb(fault.__traceback__)
    return f"{type(fault).__name__} in {last.name}, {Path(last.filename).name} line {last.lineno}"


def apply_again(records: Records, row: LoggedRow) -> bool:
    """Do once more what was done when an operation was answered as this row of the log says. False if it had left
    nothing.

    Of words that are gone the same is asked as then: whether they had been erased before they came, or were since.
    """
    answered = from_json(row.answer)
    if answered["outcome"] != "kept" and not answered["disagreement"]:
        return False
    operation = from_log(with_its_words(row.operation, row.words))
    if operation is None:
        return False
    said_at = operation.made_at
    operation = operation.as_ruled(answered.get("ruled", {}))
    apart = row.words is None and "private_sha256" in row.operation
    # What stands beside the log came in with its words. A picture has none there, nor has what a version of before took
    # for nobody's: either is asked as when it came.
    words_gone = row.words is None and operation.words_erased(records, row.received_at, said_at=said_at)
    goes_on_from = answered.get("goes_on_from", "")
    source = source_of(operation, row.office_seq, words_gone=words_gone, goes_on_from=goes_on_from)
    lost = apart and not (words_gone or answered["disagreement"] or goes_on_from)
    if lost and say_what_stands(records, operation, source):
        return True
    again = apply if answered["outcome"] == "kept" else contest
    again(records, operation, source)
    return True


def say_what_stands(records: Records, operation: Operation, source: Source) -> bool:
    """Whether an edit whose words are gone, and that nobody disagreed with, had not seen the value in force: then both
    said the same, which its words would show, and it agrees."""
    if not isinstance(operation, Edit) or (record := records.find(operation.touches)) is None:
        return False
    name, _ = operation.edited
    current = record.fields.get(name)
    if current is None or current.was_seen(operation.seen):
        return False
    record.agree(name, source)
    records.touch(operation.touches, source.office_seq)
    return True


def feed_places(tx: Reading) -> Iterator[tuple[str, int, bytes]]:
    """Where each record stands in the feed, and a digest of what devices read there and who reads it, record by record.

    Of what an owner told of an item the visit says who: where they sit, who said so, who opened it.
    """
    record_id, feed_seq, content = "", 0, hashlib.blake2b(digest_size=16)
    for row in tx.each(
        """
        SELECT record.record_id, record.feed_seq, record.body, readers, record_part.fields, record_part.disagreements,
            visit.opened_seq, stage.value AS stage, stage.device_id AS staged_by, seat.value AS seat
        FROM record LEFT JOIN record_part USING (record_id)
            LEFT JOIN record AS visit ON readers = :told AND visit.record_id = record.head ->> 'visit_id'
            LEFT JOIN field AS stage ON stage.record_id = visit.record_id AND stage.name = 'stage'
            LEFT JOIN field AS seat ON seat.record_id = visit.record_id AND seat.name = 'table_id'
        ORDER BY record.record_id, readers
        """,
        told=TOLD.name,
    ):
        if row["record_id"] != record_id:
            if record_id:
                yield record_id, feed_seq, content.digest()
            record_id, feed_seq = row["record_id"], row["feed_seq"]
            content = hashlib.blake2b(row["body"].encode(), digest_size=16)
        if row["readers"] is not None:
            seated = row["opened_seq"], row["stage"], row["staged_by"], row["seat"]
            part = row["readers"], row["fields"], row["disagreements"], *seated
            content.update(repr(part).encode())
    if record_id:
        yield record_id, feed_seq, content.digest()


def keep_feed_places(tx: Writing, before: dict[str, tuple[int, bytes]]) -> None:
    """Put the records that came out as they were back to their places in the feed.

    The others stay behind the last place that any device has read, so that every device reads them anew.
    """
    same = [
        (before[record_id][0], record_id)
        for record_id, _, digest in feed_places(tx)
        if record_id in before and before[record_id][1] == digest
    ]
    tx.run_many("UPDATE record SET feed_seq = ? WHERE record_id = ?", same)


def rebuild_whole(tx: Writing, progress: Progress = nobody_hears, *, all_the_same: bool = False) -> Rebuilt:
    """Rebuild for an office that goes on with it.

    Nobody goes on without what was left out: a Stop that is not there stops nothing, a number that is not there is
    given out again. `all_the_same`: a person has read of what is damaged, has no copy, and goes on with what the log
    says now. Raises LogHasGaps, LogCutOff, LogChanged, and TablesNotMade, which has to end the transaction, so that the
    tables stay.
    """
    check_no_gaps(tx)
    changed = [*changed_rows(tx)]
    if changed and not all_the_same:
        raise LogChanged(changed)
    again = rebuild(tx, progress)
    if again.left_out and not all_the_same:
        raise TablesNotMade(again.left_out)
    return again._replace(left_out=[*map(changed_words, changed), *again.left_out])


def rebuild_if_outdated(tx: Writing, progress: Progress = nobody_hears) -> bool:
    """Rebuild if the tables were made by another version, an older or a newer one. Whether it was so.

    Raises what `rebuild_whole` does.
    """
    if not is_outdated(tx):
        return False
    rebuild_whole(tx, progress)
    return True


def is_outdated(tx: Reading) -> bool:
    return bool(tx.value("SELECT apply_version FROM office") != APPLY_VERSION)
