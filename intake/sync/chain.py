"""The log's hash chain: how a row follows from the one before, and a walk over all of them that names what does not."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Callable, Collection, Iterator
from typing import Any

from pydantic_core import from_json

from intake.database import Reading
from intake.operation import KINDS
from intake.sync.logged import aside_key

CHAIN_START = "0" * 64


def link(previous: str, office_seq: int, operation: str, answer: str, received_at: str) -> str:
    """The chain's value after one row: SHA-256 over the previous value and the row's canonical JSON."""
    row = f'{{"answer":{answer},"office_seq":{office_seq},"operation":{operation},"received_at":"{received_at}"}}'
    return hashlib.sha256(bytes.fromhex(previous) + row.encode()).hexdigest()


def newest_seq(tx: Reading) -> int:
    """The place of the newest operation; 0 if there is none."""
    return int(tx.value("SELECT max(office_seq) FROM operation_log") or 0)


def is_linked(previous: str, row: Any) -> bool:
    """Whether a row's chain value follows from the one before. One that a chain cannot be counted from does not."""
    try:
        return bool(
            link(previous, row["office_seq"], row["operation"], row["answer"], row["received_at"])
            == row["chain"]
        )
    except ValueError:
        return False


def read_logged(text: str) -> dict[str, Any]:
    """What the text of a row of the log says; nothing if that was changed and cannot be read."""
    try:
        operation = from_json(text)
    except (ValueError, TypeError):
        return {}
    return operation if isinstance(operation, dict) else {}


def columns_fit(row: Any) -> bool:
    """Whether a row's columns say what its operation says, in the log or in a copy."""
    return says_columns(read_logged(row["operation"]), row)


def says_columns(operation: dict[str, Any], row: Any) -> bool:
    """Whether an operation says what stands beside it: the chain covers its text, and only through it the columns.

    Of what was set aside the text is a digest; the key follows from it and the device.
    """
    try:
        if "content_sha256" in operation:
            digest = operation["content_sha256"]
            keys = (aside_key(row["device_id"], digest), f"aside-{digest}")  # the latter in logs of before
            return row["operation_id"] in keys and row["record_id"] == ""
        kind = KINDS.get(operation["kind"])
        of_record = kind is None or operation[kind.record_member] == row["record_id"]
        columns = operation["operation_id"], operation["device_id"], operation["device_seq"]
        return bool(of_record and columns == (row["operation_id"], row["device_id"], row["device_seq"]))
    except (KeyError, TypeError):
        return False


#: Hears from time to time how many are done, of how many.
Progress = Callable[[int, int], None]
HEARD_EVERY = 2000  # rows


def nobody_hears(done: int, of: int) -> None:
    """Progress that nobody asked for."""


#: Is given each row of the log, what its text says, and whether it follows from the row before.
Visit = Callable[[sqlite3.Row, dict[str, Any], bool], None]


def nobody_visits(row: sqlite3.Row, operation: dict[str, Any], linked: bool) -> None:
    """A row that nobody asked for."""


def chain_faults(
    tx: Reading,
    lacking: Collection[str],
    *,
    after: int = 0,
    chain: str = CHAIN_START,
    visit: Visit = nobody_visits,
    progress: Progress = nobody_hears,
) -> Iterator[str]:
    """Walk the chain; a sentence for each row that does not hold, and for each change or loss of words beside it.

    `lacking`: the operations whose words are gone, as `words_lacking` tells. `after`: an operation at which the log
    had the value `chain`, and behind which the walk begins. The rows are read once for whoever else wants to see them.
    """
    newest = newest_seq(tx)
    previous, expected = chain, after + 1
    for row in rows_behind(tx, after):
        seq = row["office_seq"]
        if seq % HEARD_EVERY == 0:
            progress(seq, newest)
        if seq != expected:
            yield f"Operation {expected} is missing from the log."
        operation, linked = read_logged(row["operation"]), is_linked(previous, row)
        if not linked:
            yield changed_words(seq)
        if not says_columns(operation, row):
            yield (
                f"What stands beside operation {seq} (its id, device, place or record) is not what its own text says: "
                "restore a copy."
            )
        if row["operation_id"] in lacking:
            kept = f" {FROM_TABLES_KEPT}" if row["words"] is not None else ""
            yield f"The personal words of operation {seq} are missing, and nobody erased them.{kept} {BRING_BACK}"
        elif row["words"] is not None or row["content"] is not None:
            yield from word_faults(row, operation)
        visit(row, operation, linked)
        previous, expected = row["chain"], seq + 1


def changed_words(seq: int) -> str:
    return f"Operation {seq} was changed after it was logged."


def changed_rows(tx: Reading) -> Iterator[int]:
    """The places of the rows that were changed since they were logged, by chain and columns."""
    previous = CHAIN_START
    for row in tx.each("SELECT * FROM operation_log ORDER BY office_seq"):
        if not (is_linked(previous, row) and columns_fit(row)):
            yield row["office_seq"]
        previous = row["chain"]


def rows_behind(tx: Reading, after: int) -> Iterator[sqlite3.Row]:
    """The rows of the log with what stands beside them, a page at a time: whoever is given one may take back a step of
    his own, with which the engine ends every question that is still open."""
    while rows := tx.all(
        """
        SELECT operation_log.*, private_words.words, set_aside.content FROM operation_log
        LEFT JOIN private_words USING (operation_id) LEFT JOIN set_aside USING (operation_id)
        WHERE office_seq > :after ORDER BY office_seq LIMIT :limit
        """,
        after=after,
        limit=HEARD_EVERY,
    ):
        yield from rows
        after = rows[-1]["office_seq"]


def word_faults(row: sqlite3.Row, operation: dict[str, Any]) -> Iterator[str]:
    """A sentence if what stands beside a row of the log is not what its digest was made of."""
    for column, digest_name, words in (
        ("words", "private_sha256", "The personal words of operation"),
        ("content", "content_sha256", "The set-aside words of operation"),
    ):
        beside = row[column]
        if beside is not None and operation.get(digest_name) != hashlib.sha256(beside.encode()).hexdigest():
            yield f"{words} {row['office_seq']} were changed after they were logged."


FROM_TABLES_KEPT = "What stood of them in the tables is kept in their place; nothing proves it."
BRING_BACK = "Take them from a copy (`intake bring-in COPY`), or let phones send again what they hold."
