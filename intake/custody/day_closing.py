"""A day's closing as the office tells it to whoever keeps no copy of the day: the list of days, and one of them."""

from __future__ import annotations

import json
from typing import Any

from intake.custody.closing_lines import come_since, lines_of
from intake.custody.differences import Closing, Found, ticket_words
from intake.custody.owed_signatures import Signed
from intake.database import Reading, any_of
from intake.records.record import Record

FACTS = ("house", "place", "held_on")


def days_listed(tx: Reading, before: int, limit: int) -> list[dict[str, Any]]:
    """The days that there were, the one that was opened last first; only those opened before an office_seq, if any.

    What each is called now, and when it was closed by the clock of who closed it, null if nobody has.
    """
    days = tx.all(
        """
        SELECT record_id, opened_seq, head FROM record WHERE kind = 'day' AND opened_seq < :before
        ORDER BY opened_seq DESC LIMIT :limit
        """,
        before=before,
        limit=limit,
    )
    found: dict[str, dict[str, Any]] = {row["record_id"]: {} for row in days}
    for row in tx.each(
        f"""
        SELECT record_id, name, value, made_at FROM field
        WHERE record_id IN {any_of("days")} AND name IN ('house', 'place', 'held_on', 'closed')
        """,
        days=json.dumps(list(found)),
    ):
        of_day = found[row["record_id"]]
        if row["name"] == "closed":
            of_day["closed_at"] = row["made_at"]
        else:
            of_day[row["name"]] = json.loads(row["value"])
    return [
        {
            "day_id": row["record_id"],
            "opened_seq": row["opened_seq"],
            **{name: json.loads(row["head"])[name] for name in FACTS},
            "closed_at": None,
            **found[row["record_id"]],
        }
        for row in days
    ]


def closing_told(closing: Closing) -> dict[str, Any]:
    """One day: what it is, how many records it has, who closed it with what, its differences, and its receipts."""
    day, differences = closing.day.day, closing.differences()
    return {
        "day_id": day.record_id,
        **{name: day.value(name) or day.head[name] for name in FACTS},
        "visits": len(closing.day.visits),
        "items": len(closing.day.items),
        "containers": len(closing.day.containers),
        "closed": closed_told(day, differences),
        "differences": [found._asdict() for found in differences],
        "visits_signed": [signatures_told(visit, signed) for visit, signed in closing.signed],
    }


def closed_told(day: Record, found: list[Found]) -> dict[str, Any] | None:
    """Who closed the day with which differences, what was known of each, and how many have come since; None while it is
    open."""
    closed = day.fields.get("closed")
    if closed is None:
        return None
    lines = lines_of(day, closed.value)
    return {
        "closed_by": closed.value["closed_by"],
        "second_by": closed.value["second_by"],
        "closed_at": closed.made_at,
        "named": [line._asdict() for line in lines],
        "since": come_since(found, lines),
    }


def signatures_told(visit: Record, signed: Signed) -> dict[str, Any]:
    """The receipts of a visit, the oldest first, and of how many things nobody has signed for what became of them."""
    return {
        "visit_id": visit.record_id,
        "ticket": ticket_words(visit),
        "here": len(signed.here),
        "here_unsigned": len(signed.here_unsigned),
        "back_unsigned": len(signed.back_unsigned),
        "receipts": [
            {
                "receipt_id": receipt_id,
                "number": receipt.value["number"],
                "what": receipt.value["what"],
                "things": len(receipt.value["lines"] or []),
                "is_on_paper": receipt.value.get("is_on_paper", False),
                "made_at": receipt.made_at,
            }
            for receipt_id, receipt in signed.receipts
        ],
    }
