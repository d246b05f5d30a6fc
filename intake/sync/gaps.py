"""Rows that are gone from within the log, or from its end. No tables are made anew without them: those that stand may
be all that is left of them, and what hangs on a lost row would come out as nothing.
"""

from __future__ import annotations

from intake.database import Reading
from intake.errors import LogCutOff, LogHasGaps
from intake.sync.chain import newest_seq


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


def cut_off(tx: Reading) -> tuple[int, int] | None:
    """The log's last operation and the last that a record tells of, where that lies behind it: the end was cut off,
    which leaves no gap."""
    newest, touched = newest_seq(tx), int(tx.value("SELECT max(office_seq) FROM record") or 0)
    return (newest, touched) if touched > newest else None


def check_no_gaps(tx: Reading) -> None:
    """Raises LogHasGaps, LogCutOff."""
    missing = rows_missing(tx)
    if missing:
        raise LogHasGaps(missing, first_missing(tx))
    if cut := cut_off(tx):
        raise LogCutOff(*cut)
