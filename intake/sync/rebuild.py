"""Building every derived table anew from the log, and checking that it comes out equal."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from intake.database import Database, Reading, Writing
from intake.records import Applied, Records
from intake.sync.log import chain_faults
from intake.sync.operations import PERSONAL, READ_OPERATION, apply_again, show

DERIVED = {
    "record": "SELECT * FROM record ORDER BY record_id",
    "field": "SELECT * FROM field ORDER BY record_id, name",
    "disagreement": "SELECT * FROM disagreement ORDER BY disagreement_id",
    "tag": "SELECT * FROM tag ORDER BY tag",
    "roll": "SELECT * FROM roll ORDER BY roll_id",
    "spoiled_tag": "SELECT * FROM spoiled_tag ORDER BY tag",
    "custody_move": "SELECT * FROM custody_move ORDER BY office_seq",
    "entry": "SELECT * FROM entry ORDER BY entry_seq",
    "entry_words": "SELECT rowid, words, marks FROM entry_words ORDER BY rowid",
}

IN_HAND_LIMIT = 2000  # operations whose records are held in memory at once


def rebuild(tx: Writing) -> int:
    """Empty the derived tables and apply every operation that left something again, in the office's order. How many."""
    for table in DERIVED:
        tx.run(f"DELETE FROM {table}")  # table names are ours, from the list above
    records, count = Records(tx), 0
    rows = tx.all(
        """
        SELECT operation_log.*, private_words.words FROM operation_log
        LEFT JOIN private_words USING (operation_id) ORDER BY office_seq
        """
    )
    for row in rows:
        answer = json.loads(row["answer"])
        if answer["outcome"] != "kept" and not answer["disagreement"]:
            continue
        operation = READ_OPERATION.validate_python(whole_operation(row["operation"], row["words"]))
        at = Applied(row["office_seq"], row["received_at"])
        apply_again(records, operation, at, outcome=answer["outcome"])
        count += 1
        if count % IN_HAND_LIMIT == 0:
            show(records)
            records.forget()
    show(records)
    return count


def whole_operation(logged: str, words: str | None) -> dict[str, Any]:
    """An operation with its personal words put back; erased ones are empty."""
    operation: dict[str, Any] = json.loads(logged)
    if operation.pop("private_sha256", None) is not None:
        gone = dict.fromkeys(PERSONAL[operation["kind"]], "")
        operation.update(gone if words is None else json.loads(words))
    return operation


def contents(tx: Reading) -> dict[str, list[tuple[Any, ...]]]:
    """Every derived table's rows in a fixed order."""
    return {table: [tuple(row) for row in tx.all(sql)] for table, sql in DERIVED.items()}


class Undone(Exception):
    """Carries what was found out of a transaction that must leave nothing behind."""

    def __init__(self, faults: list[str]) -> None:
        super().__init__("looked and left nothing behind")
        self.faults = faults


def compare_with_rebuild(tx: Writing) -> None:
    """Rebuild inside a transaction, compare, and take everything back. Raises Undone with what differs."""
    before = contents(tx)
    rebuild(tx)
    after = contents(tx)
    raise Undone(
        [
            f"The table {table} differs from what the log says; `intake rebuild` puts it right."
            for table in DERIVED
            if before[table] != after[table]
        ]
    )


def photo_faults(tx: Reading, folder: Path) -> Iterator[str]:
    """Read every photo against its name; a sentence for each that is missing or changed."""
    for row in tx.all("SELECT sha256 FROM photo_file ORDER BY sha256"):
        file = folder / row["sha256"][:2] / row["sha256"]
        try:
            with file.open("rb") as stream:
                digest = hashlib.file_digest(stream, "sha256").hexdigest()
        except FileNotFoundError:
            yield f"The photo {row['sha256'][:12]}… is not in the photo folder."
            continue
        if digest != row["sha256"]:
            yield f"The photo {row['sha256'][:12]}… was changed on the disk."


async def find_faults(database: Database, photos_folder: Path) -> list[str]:
    """A sentence for everything that does not hold: the chain, each photo's digest, each derived table."""
    faults = await database.read(lambda tx: [*chain_faults(tx), *photo_faults(tx, photos_folder)])
    try:
        await database.write(compare_with_rebuild)
    except Undone as found:
        faults += found.faults
    return faults
