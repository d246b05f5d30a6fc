"""Personal words beside the log: which are gone without having been erased, and how they are erased for good."""

from __future__ import annotations

import json
import re
import sqlite3

from intake.access.readings import forget_searches
from intake.database import REFUSED_WITH_WORDS, Reading, Writing
from intake.operation import UUID_PATTERN

#: Of words: that they were lost and what stood of them in the tables was kept in their place (`sync/lost_words.py`).
#: No device sends an empty salt, so that they say it themselves, in copies as well.
#: Of words that are damaged it is not asked.
FROM_TABLES = "CASE WHEN json_valid(words) THEN words ->> 'salt' = '' ELSE 0 END"


def are_from_tables(words: str) -> bool:
    """The same of one text: whether it is what the tables still had, which no digest in the log proves."""
    try:
        return bool(json.loads(words)["salt"] == "")
    except (ValueError, KeyError, TypeError):
        return False


def words_lacking(tx: Reading, device_id: str | None = None, *, after: int = 0) -> dict[str, int]:
    """The operations, of one device or of all, whose words beside the log are gone without having been erased; also
    those in whose place stands what the tables had. Of those behind one in the log.

    By the log's key, each with its place in its device's order.
    """
    rows = tx.all(
        f"""
        SELECT operation_id, device_seq FROM operation_log
        LEFT JOIN private_words USING (operation_id) LEFT JOIN set_aside USING (operation_id)
        WHERE {"device_id = :device_id AND" if device_id else ""} office_seq > :after AND content IS NULL
            AND (words IS NULL OR {FROM_TABLES})
            AND (operation LIKE '%"private_sha256":%' OR operation LIKE '{{"content_sha256":%')
            AND NOT EXISTS (SELECT 1 FROM erased_words AS one WHERE one.operation_id = operation_log.operation_id)
            AND NOT EXISTS (
                SELECT 1 FROM erasure LEFT JOIN record ON record.record_id = operation_log.record_id
                WHERE erasure.record_id IN (operation_log.record_id, record.head ->> 'visit_id')
            )
        """,
        device_id=device_id,
        after=after,
    )
    return {row["operation_id"]: row["device_seq"] for row in rows}


NOTE_FROM_TABLES = "INSERT INTO private_words (operation_id, words) VALUES (?, ?)"
NOTE_ERASED = "INSERT INTO erased_words (operation_id) VALUES (?) ON CONFLICT DO NOTHING"
RECORD_ID = re.compile(UUID_PATTERN.strip("^$"))


def takes_words(tx: Reading, record_id: str, office_seq: int) -> bool:
    """Whether the operation at this place in the log erases the words of a record, and repeats no request."""
    erasure = tx.value(
        "SELECT 1 FROM erasure WHERE record_id = :record_id AND office_seq = :office_seq",
        record_id=record_id,
        office_seq=office_seq,
    )
    return erasure is not None


def erase_words(tx: Writing, record_id: str) -> int:
    """Erase the personal words of a visit and of its items for good; the log and its chain stay. Of how many
    operations.

    Words of what belongs to no visit, such as a note on the day, may be about any owner of the day and go with each of
    them; those of no record at all, since it was refused, may be anybody's and go with any erasure. All are noted, so
    that copies which have them still can be told.
    """
    tx.leave_no_trace()
    forget_searches(tx, record_id)
    tx.run("UPDATE office SET untidy = untidy + 1")
    words = tx.all(
        f"""
        WITH theirs (record_id) AS (
            SELECT :record_id UNION SELECT item_id FROM entry WHERE visit_id = :record_id
            UNION SELECT record_id FROM record
            WHERE day_id = (SELECT day_id FROM record WHERE record_id = :record_id)
                AND (kind IN ('day', 'container') OR head ->> 'visit_id' = :record_id)
        )
        SELECT operation_id, office_seq FROM theirs
        CROSS JOIN operation_log USING (record_id) -- in this order: few records are theirs
        CROSS JOIN private_words USING (operation_id)
        UNION SELECT operation_id, office_seq FROM {REFUSED_WITH_WORDS} AS refused
        CROSS JOIN private_words USING (operation_id)
        WHERE NOT EXISTS (SELECT 1 FROM record WHERE record.record_id = refused.record_id)
        ORDER BY office_seq
        """,
        record_id=record_id,
    )
    aside = [
        row for row in tx.each("SELECT operation_id, content FROM set_aside") if may_be_of(tx, row, record_id)
    ]
    gone = [(row["operation_id"],) for row in [*words, *aside]]
    tx.run_many(NOTE_ERASED, gone)
    tx.run_many("DELETE FROM private_words WHERE operation_id = ?", gone)
    tx.run_many("DELETE FROM set_aside WHERE operation_id = ?", gone)
    return len(gone)


def may_be_of(tx: Reading, aside: sqlite3.Row, record_id: str) -> bool:
    """Whether what was set aside may hold words of a record: it names it, or no record that is known at all."""
    named = set(RECORD_ID.findall(aside["content"].lower()))
    return record_id in named or not any(is_record(tx, record_id) for record_id in named)


def is_record(tx: Reading, record_id: str) -> bool:
    return tx.value("SELECT 1 FROM record WHERE record_id = :record_id", record_id=record_id) is not None


def names_erased(tx: Reading, content: str) -> bool:
    """Whether what is set aside names a record whose words were erased."""
    return any(
        tx.value("SELECT 1 FROM erasure WHERE record_id = :record_id", record_id=record_id)
        for record_id in set(RECORD_ID.findall(content.lower()))
    )
