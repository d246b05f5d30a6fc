"""Rows that are gone from within the log. No tables are made anew without them: those that stand may be all that is
left of them, and what hangs on a lost row would come out as nothing.
"""

from __future__ import annotations

from intake.database import Reading
from intake.errors import LogHasGaps


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


def check_no_gaps(tx: Reading) -> None:
    """Raises LogHasGaps."""
    missing = rows_missing(tx)
    if missing:
        raise LogHasGaps(missing, first_missing(tx))
