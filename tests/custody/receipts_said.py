"""What the office says of receipts and of what is where, beside which the app's word is held."""

from __future__ import annotations

from typing import Any

from intake.custody.day_on_record import DayOnRecord
from intake.custody.owed_signatures import signed_of
from intake.custody.receipt_lines import receipt_line
from intake.custody.with_owner import is_back_with_owner, pieces_away, tags_here


def said_by_office(day: DayOnRecord) -> dict[str, Any]:
    """Of the only visit of a day, as the app's rules say it, too."""
    [visit] = day.visits
    signed = signed_of(visit, day.items, day)
    return {
        "items": {
            item.record_id: {
                "away": pieces_away(item),
                "here": tags_here(item),
                "back": is_back_with_owner(item),
                "line": receipt_line(item, day).words,
            }
            for item in day.items
        },
        "unsigned": sorted(item.record_id for item in signed.here_unsigned),
        "owed": sorted(item.record_id for item in signed.back_unsigned),
        "changed": [[change.item_id, change.what] for change in signed.changes],
    }
