"""What an owner has signed for, and what nobody has signed for yet; the app's rules are in `web/job/receipt.ts`."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from intake.custody.day_on_record import DayOnRecord, listed
from intake.custody.doubles import merged_into
from intake.custody.whereabouts import tags_of, where_is
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
    back = [item for item in own if where_is(item, day.things).place == "returned"]
    here = [
        item for item in own if item not in back and not is_left_alone(day.same_thing(item)) and tags_of(item)
    ]
    receipts = sorted(listed(visit, "receipts/"))
    left = [receipt.value for _, receipt in receipts if receipt.value["what"] == "left"]
    last = named_on(left[-1]) if left else set()
    taken = {
        item_id for _, receipt in receipts if is_back(receipt.value) for item_id in named_on(receipt.value)
    }
    return Signed(
        items,
        own,
        here,
        [item for item in here if item.record_id not in last],
        [item for item in back if owes_signature(item, taken)],
        receipts,
    )


def owes_signature(item: Record, taken: set[str]) -> bool:
    """Whether nobody signed for what went back: it had a number, and neither its move nor a receipt was signed."""
    had_number = any(True for _ in listed(item, "tags/"))
    return had_number and not item.value("whereabouts")["signed"] and item.record_id not in taken
