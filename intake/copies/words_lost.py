"""Personal words that a copy has no longer, told by their visit: whoever restores the copy asks the owner again."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from enum import StrEnum
from typing import NamedTuple

from intake.database import Reading


class How(StrEnum):
    """In what way words do not hold."""

    MISSING = "missing"
    CHANGED = "changed"
    UNPROVEN = "what the office's tables had when they were lost from its log; nothing proves them"


class LostWords(NamedTuple):
    """The words of one operation."""

    office_seq: int
    operation_id: str
    how: How


def sentences_of(tx: Reading, lost: list[LostWords]) -> Iterator[str]:
    """A sentence for each visit and for each way in which words do not hold, once the tables are made."""
    rows = sorted((*visit_of(tx, logged.operation_id), logged.how, logged.office_seq) for logged in lost)
    erased = {row["record_id"] for row in tx.all("SELECT DISTINCT record_id FROM erasure")}
    for (visit_id, whose, how), same in itertools.groupby(rows, key=lambda row: row[:3]):
        numbers = [str(seq) for *_, seq in same]
        operations = f"operation{'' if len(numbers) == 1 else 's'} {', '.join(numbers)}"
        if how is How.UNPROVEN:
            what_next = "Let the phone that took them send them if it still can."
        elif visit_id in erased:
            what_next = "This owner's words were erased: ask nobody, unless they were said again since."
        else:
            what_next = "Ask the owner again, or let the phone that took them send them if it still can."
        yield f"The personal words of {whose} ({operations}) are {how}. {what_next}"


def visit_of(tx: Reading, operation_id: str) -> tuple[str, str]:
    """The visit that an operation belongs to, and how a person knows it: what it is on says so, or is the visit."""
    row = tx.one(
        """
        WITH visit (visit_id) AS (
            SELECT coalesce(
                operation ->> 'visit_id',
                (
                    SELECT operation ->> 'visit_id' FROM operation_log AS other
                    WHERE other.record_id = one.record_id AND operation ->> 'visit_id' IS NOT NULL LIMIT 1
                ),
                record_id
            )
            FROM operation_log AS one WHERE operation_id = :operation_id
        )
        SELECT visit_id, ticket.value ->> '$' AS ticket, owner.value ->> '$' AS name
        FROM visit
            LEFT JOIN field AS ticket ON ticket.record_id = visit_id AND ticket.name = 'ticket'
            LEFT JOIN field AS owner ON owner.record_id = visit_id AND owner.name = 'consignor/name'
        """,
        operation_id=operation_id,
    )
    if row is None or not row["ticket"]:
        return (str(row["visit_id"]) if row else ""), "an owner whose ticket is not known"
    name = f", {row['name']}" if row["name"] else ""
    return str(row["visit_id"]), f"the owner with ticket {row['ticket']}{name}"
