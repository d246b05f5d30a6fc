"""The log of operations: append-only, in the office's order, chained by SHA-256. All else follows from it."""

from __future__ import annotations

import json
from typing import Any, NamedTuple

from pydantic_core import from_json

from intake.database import Reading, Writing, any_of
from intake.operation import KINDS, Operation
from intake.sync.answers import as_text
from intake.sync.chain import CHAIN_START, link
from intake.sync.logged import Logged, SetAside, with_its_words
from intake.sync.words_beside import FROM_TABLES, NOTE_ERASED

UNTOLD = 0  # the device_seq of an operation whose place in its device's order nobody can tell
NO_PLACE = -1  # of one that another device made, and so has no place in the order of the one that sent it
OUTDATED = 0  # the office's apply_version while its tables have to be made anew


class Answered(NamedTuple):
    """An operation that came before, as the log has it, and the answer it got."""

    operation: str
    answer: dict[str, Any]


def find_answered(tx: Reading, operation_ids: list[str]) -> dict[str, Answered]:
    """Those of these operations which came before, refused ones too."""
    rows = tx.all(
        f"""
        SELECT operation_id, operation, answer FROM operation_log
        WHERE operation_id IN {any_of("operation_ids")}
        """,
        operation_ids=json.dumps(operation_ids),
    )
    return {row["operation_id"]: Answered(row["operation"], json.loads(row["answer"])) for row in rows}


def words_of(tx: Reading, operation_id: str) -> str | None:
    """What stands beside the log of an operation's personal words; None if nothing does."""
    words = tx.value(
        "SELECT words FROM private_words WHERE operation_id = :operation_id", operation_id=operation_id
    )
    return None if words is None else str(words)


def find_kept(tx: Reading, operation_id: str) -> Operation | None:
    """An operation that was kept, as it was applied; None if it was not, or its words are gone."""
    row = tx.one(
        """
        SELECT operation, answer, words FROM operation_log LEFT JOIN private_words USING (operation_id)
        WHERE operation_id = :operation_id
        """,
        operation_id=operation_id,
    )
    if row is None:
        return None
    logged, answer = from_json(row["operation"]), from_json(row["answer"])
    kind = KINDS.get(logged.get("kind"))
    gone = row["words"] is None and "private_sha256" in logged
    if kind is None or gone or not (answer["outcome"] == "kept" or answer["disagreement"]):
        return None
    return kind.from_log(with_its_words(logged, row["words"])).as_ruled(answer.get("ruled", {}))


class LogTail:
    """The log's end while a batch is answered: rows are linked at once, and written together."""

    def __init__(self, tx: Writing, received_at: str) -> None:
        self._tx, self._received_at = tx, received_at
        end = tx.one(
            """
            SELECT office_seq, chain, (SELECT max(feed_seq) FROM record) AS feed_seq
            FROM operation_log ORDER BY office_seq DESC LIMIT 1
            """
        )
        self.feed_seq: int = end["feed_seq"] or 0 if end else 0  # the feed's end, asked in the same statement
        self.office_seq: int = end["office_seq"] if end else 0
        self._chain: str = end["chain"] if end else CHAIN_START
        self._rows: list[tuple[int | str, ...]] = []
        self._words: list[tuple[str, str]] = []
        self._aside: list[tuple[str, str]] = []
        self._erased: list[tuple[str]] = []

    def append(
        self, operation: Operation, logged: Logged, answer: dict[str, Any], *, erased: bool = False
    ) -> None:
        """Add an operation as it was sent, and its answer; personal words go to a place of their own.

        `erased`: they had been erased before they came, and are written nowhere.
        """
        device = operation.device_id, operation.device_seq
        self._append(operation.operation_id, *device, operation.touches, logged.text, answer)
        if logged.words is not None or logged.gone:
            gone = erased or logged.gone
            self._keep(self._words, operation.operation_id, logged.words or "", erased=gone)

    def append_aside(
        self, aside: SetAside, device_id: str, device_seq: int, answer: dict[str, Any], *, erased: bool
    ) -> None:
        """Add one that cannot stand in the log as it came. `device_seq` as `seq_of` tells, `erased` as above."""
        self._append(aside.key, device_id, device_seq, "", aside.text, answer)
        self._keep(self._aside, aside.key, aside.content, erased=erased)

    def fill_in(self, key: str, words: str, *, aside: bool = False) -> None:
        """Put back what stood beside a row of the log and was lost, not erased. Its digest in the log is the caller's
        to compare. If it was missing, what follows from the words is made anew before long."""
        self.write()
        table, column = ("set_aside", "content") if aside else ("private_words", "words")
        unproven = f"{FROM_TABLES} AND words <> excluded.words" if not aside else "1 = 0"
        filled = self._tx.run(
            f"""
            INSERT INTO {table} (operation_id, {column}) SELECT :key, :words
            WHERE NOT EXISTS (SELECT 1 FROM erased_words WHERE operation_id = :key)
            ON CONFLICT (operation_id) DO UPDATE SET {column} = excluded.{column} WHERE {unproven}
            """,
            key=key,
            words=words,
        )
        if filled and not aside:
            self._tx.run("UPDATE office SET apply_version = :outdated", outdated=OUTDATED)

    def _keep(self, beside: list[tuple[str, str]], key: str, words: str, *, erased: bool) -> None:
        if erased:
            self._erased.append((key,))
        else:
            beside.append((key, words))

    def _append(
        self,
        operation_id: str,
        device_id: str,
        device_seq: int,
        record_id: str,
        text: str,
        answer: dict[str, Any],
    ) -> None:
        answer_text = as_text(answer)
        self.office_seq += 1
        self._chain = link(self._chain, self.office_seq, text, answer_text, self._received_at)
        row = (self.office_seq, operation_id, device_id, device_seq, record_id, text, answer_text)
        self._rows.append((*row, self._received_at, self._chain))

    def write(self) -> None:
        """Write what was added since the last time."""
        self._tx.run_many(
            """
            INSERT INTO operation_log
                (office_seq, operation_id, device_id, device_seq, record_id, operation, answer, received_at, chain)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
            """,
            self._rows,
        )
        self._tx.run_many("INSERT INTO private_words (operation_id, words) VALUES (?, ?)", self._words)
        self._tx.run_many("INSERT INTO set_aside (operation_id, content) VALUES (?, ?)", self._aside)
        self._tx.run_many(NOTE_ERASED, self._erased)
        self._rows, self._words, self._aside, self._erased = [], [], [], []

    def find(self, operation_id: str) -> Operation | None:
        """An operation that was kept, in this batch or before."""
        self.write()
        return find_kept(self._tx, operation_id)

    def words_of(self, operation_id: str) -> str | None:
        """The personal words of an operation, in this batch or before."""
        self.write()
        return words_of(self._tx, operation_id)

    def has(self, operation_id: str) -> bool:
        """Whether an operation was answered, in this batch or before."""
        self.write()
        found = self._tx.value(
            "SELECT 1 FROM operation_log WHERE operation_id = :operation_id", operation_id=operation_id
        )
        return found is not None
