"""The log of operations: append-only, in the office's order, chained by SHA-256. All else follows from it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from typing import Any, NamedTuple

import rfc8785

from intake.database import Reading, Writing
from intake.operation import Operation

CHAIN_START = "0" * 64
SAFE_INTEGER = 2**53 - 1
ENCODER = json.JSONEncoder(ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def canonical(value: Any) -> str:
    """RFC 8785 canonical JSON.

    For what operations hold the standard library writes the very same text, five times faster; a test holds the
    two together. Everything else goes to the library made for it.
    """
    if is_plain(value):
        return ENCODER.encode(value)
    return rfc8785.dumps(value).decode()


def is_plain(value: Any) -> bool:
    """Whether there are only texts, safe whole numbers, truths and nulls in it, under ASCII names."""
    kind = type(value)
    if kind is str or kind is bool or value is None:
        return True
    if kind is int:
        return bool(-SAFE_INTEGER <= value <= SAFE_INTEGER)
    if kind is list:
        return all(map(is_plain, value))
    return (
        kind is dict
        and all(type(name) is str and name.isascii() for name in value)
        and all(map(is_plain, value.values()))
    )


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


class LogEnd(NamedTuple):
    """Where the log ends: the number of its last operation, and the chain's value after it."""

    office_seq: int
    chain: str


def log_end(tx: Reading) -> LogEnd:
    row = tx.one("SELECT office_seq, chain FROM operation_log ORDER BY office_seq DESC LIMIT 1")
    return LogEnd(0, CHAIN_START) if row is None else LogEnd(row["office_seq"], row["chain"])


def find_answer(tx: Reading, operation_id: str) -> dict[str, Any] | None:
    """The answer this operation got before, a refusal too."""
    stored = tx.value("SELECT answer FROM operation_log WHERE operation_id = :id", id=operation_id)
    return None if stored is None else json.loads(stored)


def append(
    tx: Writing,
    operation: Operation,
    logged: dict[str, Any],
    words: str | None,
    answer: dict[str, Any],
    *,
    end: LogEnd,
    received_at: str,
) -> LogEnd:
    """Add an operation and its answer to the log, and link the chain. Where the log ends now."""
    office_seq = end.office_seq + 1
    said, answered = canonical(logged), canonical(answer)
    chain = link(end.chain, office_seq, said, answered, received_at)
    tx.run(
        """
        INSERT INTO operation_log
            (office_seq, operation_id, device_id, device_seq, record_id, operation, answer, received_at, chain)
        VALUES (:office_seq, :operation_id, :device_id, :device_seq, :record_id, :operation, :answer,
            :received_at, :chain)
        """,
        office_seq=office_seq,
        operation_id=operation.operation_id,
        device_id=operation.device_id,
        device_seq=operation.device_seq,
        record_id=operation.record_id,
        operation=said,
        answer=answered,
        received_at=received_at,
        chain=chain,
    )
    if words is not None:
        tx.run(
            "INSERT INTO private_words (operation_id, words) VALUES (:operation_id, :words)",
            operation_id=operation.operation_id,
            words=words,
        )
    return LogEnd(office_seq, chain)


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
