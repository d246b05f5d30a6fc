"""Rows of the log that are gone or were changed. No tables are made anew without them: those that stand may be all that
is left of them, and what hangs on a lost row would come out as nothing.
"""

from __future__ import annotations

from intake.database import Reading
from intake.errors import LogChanged, LogCutOff, LogHasGaps
from intake.sync.chain import changed_rows, newest_seq


def rows_missing(tx: Reading) -> int:
    """How many rows are gone from within the log; what was cut off at its end nobody can tell from it."""
    return int(tx.value("SELECT coalesce(max(office_seq), 0) - count(*) FROM operation_log"))


def first_missing(tx: Reading) -> int:
    """The first place of the log that has no row, where one after it has."""
    return int(
        tx.value(
            """
            SELECT min(office_seq) + 1
            FROM (SELECT 0 AS office_seq UNION ALL SELECT office_seq FROM operation_log) AS one
            WHERE NOT EXISTS (SELECT 1 FROM operation_log AS after WHERE after.office_seq = one.office_seq + 1)
            """
        )
    )


def newest_touched(tx: Reading) -> int:
    """The last operation that a record tells of; behind the log's end only where that was cut off, which leaves no gap
    in it."""
    return int(tx.value("SELECT max(office_seq) FROM record") or 0)


def check_no_gaps(tx: Reading) -> None:
    """Raises LogHasGaps, LogCutOff."""
    missing = rows_missing(tx)
    if missing:
        raise LogHasGaps(missing, first_missing(tx))
    newest, touched = newest_seq(tx), newest_touched(tx)
    if touched > newest:
        raise LogCutOff(newest, touched)


def check_unchanged(tx: Reading) -> None:
    """Raises LogChanged."""
    changed = [*changed_rows(tx)]
    if changed:
        raise LogChanged(changed)
