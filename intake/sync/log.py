"""The log of operations: append-only, in the office's order, chained by SHA-256. All else follows from it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from typing import Any

import rfc8785
from pydantic_core import to_json

from intake.database import Reading, Writing
from intake.operation import Operation

CHAIN_START = "0" * 64
SAFE_INTEGER = 2**53 - 1


class NotPlain(Exception):
    """A value holds something that has more than one way to be written."""


def canonical(value: Any) -> str:
    """RFC 8785 canonical JSON.

    Operations hold almost nothing but texts, safe whole numbers, truths and nulls under ASCII names. Of those the
    very same text comes from an ordinary writer once the names are in order, ten times faster; a test holds the
    two together. Everything else goes to the library made for it.
    """
    try:
        return to_json(in_order(value)).decode()
    except NotPlain:
        return rfc8785.dumps(value).decode()


def in_order(value: Any) -> Any:
    """The value with the names of every object in order. Raises NotPlain."""
    kind = type(value)
    if kind is str or kind is bool or value is None:
        return value
    if kind is int and -SAFE_INTEGER <= value <= SAFE_INTEGER:
        return value
    if kind is list:
        return [in_order(one) for one in value]
    if kind is dict and "".join(value).isascii():
        return {name: in_order(value[name]) for name in sorted(value)}
    raise NotPlain


def redact(operation: Operation, raw: dict[str, Any]) -> tuple[dict[str, Any], str | None]:
    """An operation as the log keeps it, and the canonical JSON of the personal words taken out of it, if any.

    The log keeps the SHA-256 of the words' canonical JSON. The device's salt is among them, so that nobody can
    find a telephone number by trying them all once the words are erased.
    """
    if not operation.personal:
        return raw, None
    words = canonical({name: raw[name] for name in operation.personal})
    logged = {name: value for name, value in raw.items() if name not in operation.personal}
    logged["private_sha256"] = hashlib.sha256(words.encode()).hexdigest()
    return logged, words


def link(previous: str, office_seq: int, operation: str, answer: str, received_at: str) -> str:
    """The chain's value after one row: SHA-256 over the previous value and the row's canonical JSON."""
    row = f'{{"answer":{answer},"office_seq":{office_seq},"operation":{operation},"received_at":"{received_at}"}}'
    return hashlib.sha256(bytes.fromhex(previous) + row.encode()).hexdigest()


def find_answers(tx: Reading, operation_ids: list[str]) -> dict[str, dict[str, Any]]:
    """The answers that those of these operations got which came before, refusals too."""
    rows = tx.all(
        """
        SELECT operation_id, answer FROM operation_log
        WHERE operation_id IN (SELECT value FROM json_each(:operation_ids))
        """,
        operation_ids=json.dumps(operation_ids),
    )
    return {row["operation_id"]: json.loads(row["answer"]) for row in rows}


class LogTail:
    """The log's end while a batch is answered: rows are linked at once, and written together."""

    def __init__(self, tx: Writing, received_at: str) -> None:
        self._tx, self._received_at = tx, received_at
        end = tx.one("SELECT office_seq, chain FROM operation_log ORDER BY office_seq DESC LIMIT 1")
        self.office_seq: int = end["office_seq"] if end else 0
        self._chain: str = end["chain"] if end else CHAIN_START
        self._rows: list[tuple[int | str, ...]] = []
        self._words: list[tuple[str, str]] = []

    def append(self, operation: Operation, raw: dict[str, Any], answer: dict[str, Any]) -> None:
        """Add an operation as it was sent, and its answer; personal words go to a place of their own."""
        logged, words = redact(operation, raw)
        said, answered = canonical(logged), canonical(answer)
        self.office_seq += 1
        self._chain = link(self._chain, self.office_seq, said, answered, self._received_at)
        place = (self.office_seq, operation.operation_id, operation.device_id, operation.device_seq)
        self._rows.append((*place, operation.record_id, said, answered, self._received_at, self._chain))
        if words is not None:
            self._words.append((operation.operation_id, words))

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
        self._rows, self._words = [], []


def chain_faults(tx: Reading) -> Iterator[str]:
    """Walk the chain; a sentence for each row that does not hold, and for each erased-looking change of words."""
    previous, expected = CHAIN_START, 1
    for row in tx.all(
        """
        SELECT operation_log.*, private_words.words FROM operation_log
        LEFT JOIN private_words USING (operation_id) ORDER BY office_seq
        """
    ):
        seq = row["office_seq"]
        if seq != expected:
            yield f"Operation {expected} is missing from the log."
        if link(previous, seq, row["operation"], row["answer"], row["received_at"]) != row["chain"]:
            yield f"Operation {seq} was changed after it was logged."
        if row["words"] is not None:
            digest = hashlib.sha256(row["words"].encode()).hexdigest()
            if json.loads(row["operation"]).get("private_sha256") != digest:
                yield f"The personal words of operation {seq} were changed after they were logged."
        previous, expected = row["chain"], seq + 1


def erase_words(tx: Writing, record_id: str) -> int:
    """Erase the personal words of one record for good; the log and its chain stay. How many were erased."""
    return tx.run(
        """
        DELETE FROM private_words WHERE operation_id IN
            (SELECT operation_id FROM operation_log WHERE record_id = :record_id)
        """,
        record_id=record_id,
    )
