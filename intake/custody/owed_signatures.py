"""What an owner has signed for, and what nobody has signed for yet; the app's rules are in `web/job/receipt.ts`."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from intake.custody.day_on_record import DayOnRecord, listed
from intake.custody.doubles import merged_into
from intake.custody.whereabouts import is_returned, piece_count, pieces_back, tags_of, where_is
from intake.examination.whole_thing import is_left_alone
from intake.records.record import Record
from intake.records.values import FieldValue


@dataclass(frozen=True)
class Signed:
    """The items of a visit, those that are here under a number, and which no receipt names. One that stands behind
    another record is among `all_items` alone.

    What has no number is not left with the house, and on no receipt; nor is what a red caution stops and nobody has
    decided on, since the house may not take it in. `receipts` are the oldest first.
    """

    all_items: list[Record]
    items: list[Record]
    here: list[Record]
    here_unsigned: list[Record]
    back_unsigned: list[Record]
    receipts: list[tuple[str, FieldValue]]

    @property
    def given_back(self) -> set[str]:
        """The items that receipts name as taken back."""
        return {
            item_id
            for _, receipt in self.receipts
            if is_back(receipt.value)
            for item_id in named_on(receipt.value)
        }


def is_back(receipt: dict[str, Any]) -> bool:
    return bool(receipt["what"] == "taken-back")


def named_on(receipt: dict[str, Any]) -> set[str]:
    """The items that a receipt names."""
    return {line["item_id"] for line in receipt["lines"]}


def signed_of(visit: Record, items: list[Record], day: DayOnRecord) -> Signed:
    """`items` are those of the visit."""
    own = [item for item in items if not merged_into(item)]
    back = [item for item in own if where_is(item, day.things).place == "returned" or is_all_back(item)]
    here = [
        item
        for item in own
        if item not in back and not is_left_alone(day.same_thing(item)) and numbers_here(day.same_thing(item))
    ]
    receipts = sorted(listed(visit, "receipts/"))
    replaced = {receipt.value.get("replaces") for _, receipt in receipts}
    left: set[str] = set()
    taken: set[str] = set()
    for receipt_id, receipt in receipts:
        if is_back(receipt.value):
            taken |= named_on(receipt.value)
        elif receipt_id not in replaced:
            left |= named_on(receipt.value)
    return Signed(
        items,
        own,
        here,
        [item for item in here if not is_named(item, left, day)],
        [item for item in back if owes_signature(item) and not is_named(item, taken, day)],
        receipts,
    )


def is_named(item: Record, named: set[str], day: DayOnRecord) -> bool:
    """Whether a line names it; the line of a record that stands behind another one goes on with that."""
    return any(record.record_id in named for record in day.same_thing(item))


def is_all_back(item: Record) -> bool:
    """Whether all of it went back, at once or piece by piece; a piece without a number has not."""
    return is_returned(item) or len(pieces_back(item)) >= piece_count(item)


def numbers_here(thing: list[Record]) -> list[str]:
    """The numbers on a thing whose pieces are here; those on a record that stands behind it are on the same thing."""
    item, *doubles = thing
    return [
        tag
        for record in [item, *(double for double in doubles if not is_returned(double))]
        for tag in tags_of(record)
        if tag not in pieces_back(record)
    ]


def owes_signature(item: Record) -> bool:
    """Whether who took it back did not sign where that was noted: it had a number, and neither its move was signed nor
    that of each piece."""
    whole = item.value("whereabouts") or {}
    if whole.get("to_place") == "returned":
        signed = whole["signed"]
    else:
        moves = [item.value(f"whereabouts/{tag}") for tag in pieces_back(item)]
        signed = all(move and move["signed"] for move in moves)
    return any(True for _ in listed(item, "tags/")) and not signed
