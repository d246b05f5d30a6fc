"""Personal words that are gone from beside the log and stand in the tables still: kept before those are made anew.

The log has nothing but the digest of what was lost, so a rebuild would leave a blank where a name can still be read.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from typing import Any

from intake.database import Reading, Writing
from intake.families import family_of
from intake.operation import Operation
from intake.sync.canonical import canonical
from intake.sync.kinds import from_log
from intake.sync.logged import whole_operation
from intake.sync.words_beside import NOTE_FROM_TABLES


def keep_lost_words(tx: Writing) -> int:
    """Put what the tables have of lost words in their place, marked as what it is. Of how many operations."""
    found = list(lost_words(tx))
    tx.run_many(NOTE_FROM_TABLES, found)
    return len(found)


def lost_words(tx: Reading) -> Iterator[tuple[str, str]]:
    """Each operation whose words were lost, and what stands of them in the tables.

    What was erased stays so: it is noted, and where a whole visit was, the tables have nothing of it either.
    """
    for row in tx.all(
        """
        SELECT operation_id, record_id, operation FROM operation_log LEFT JOIN private_words USING (operation_id)
        WHERE words IS NULL AND operation LIKE '%"private_sha256":%'
            AND EXISTS (SELECT 1 FROM record WHERE record.record_id = operation_log.record_id)
            AND NOT EXISTS (SELECT 1 FROM erased_words AS one WHERE one.operation_id = operation_log.operation_id)
        """
    ):
        if (words := words_in_tables(tx, row)) is not None:
            yield row["operation_id"], words


def words_in_tables(tx: Reading, row: sqlite3.Row) -> str | None:
    """What stands in the tables of the words of an operation, as canonical JSON with an empty salt; None if nothing."""
    operation = from_log(whole_operation(row["operation"], None))
    if operation is None:
        return None
    words: dict[str, Any] = {}
    for template in operation.field_templates():
        name = template.format_map(operation.__dict__)
        if family_of(name).erasable:
            words |= words_of(operation, standing_value(tx, operation, name))
    if not any(words.values()):
        return None
    apart = [name for name in operation.personal_in(operation.__dict__) if "." not in name]
    return canonical({**dict.fromkeys(apart, ""), **words})


def words_of(operation: Operation, value: Any) -> dict[str, Any]:
    """The personal members of an operation out of the value that it made: an object has them by name, or in each one of
    a list; else it is the only one."""
    apart = [name for name in operation.personal_in(operation.__dict__) if name != "salt"]
    if not isinstance(value, dict):
        return dict.fromkeys(apart, value or "")
    each = [name.partition(".") for name in apart]
    in_lists = {
        f"{several}.{word}": [line.get(word, "") for line in value[several] or ()]
        for several, dot, word in each
        if dot and any(line.get(word) for line in value.get(several) or ())
    }
    return {**{name: value[name] for name in apart if name in value}, **in_lists}


def standing_value(tx: Reading, operation: Operation, name: str) -> Any:
    """The value that an operation gave to a field, in force or on a side of a disagreement; None if it is gone."""
    found = tx.value(
        """
        SELECT value FROM field
        WHERE record_id = :record_id AND name = :name AND operation_id = :operation_id
        UNION ALL
        SELECT other -> 'value' FROM disagreement WHERE disagreement_id = :operation_id AND name = :name
        UNION ALL
        SELECT kept -> 'value' FROM disagreement
        WHERE record_id = :record_id AND name = :name AND kept ->> 'operation_id' = :operation_id
        """,
        record_id=operation.touches,
        name=name,
        operation_id=operation.operation_id,
    )
    return None if found is None else json.loads(found)
