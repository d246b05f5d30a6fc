"""What an owner has signed for, and what nobody has signed for yet; the app's rules are in `web/job/receipt.ts`."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

from intake.custody.containers import holders_of
from intake.custody.day_on_record import DayOnRecord, listed
from intake.custody.doubles import merged_into
from intake.custody.receipt_changes import Change, came_again, changes_on, is_since
from intake.custody.receipt_lines import numbers_here, receipt_line
from intake.custody.whereabouts import is_with_owner
from intake.custody.with_owner import came_again_by, numbers_on, one_thing, tags_back
from intake.examination.whole_thing import Thing, is_left_alone, said_taken_away, taken_away
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.values import FieldValue


@dataclass(frozen=True)
class Standing:
    """A receipt for what was left, with those of its lines that hold: of each thing the newest."""

    receipt_id: str
    receipt: FieldValue
    lines: list[dict[str, Any]]


@dataclass(frozen=True)
class Signed:
    """The items of a visit, those that are here under a number, and which no receipt names. One that stands behind
    another record is among `all_items` alone.

    What has no number is not left with the house, and on no receipt; nor is what a red caution stops and nobody has
    decided on, since the house may not take it in. What went back and came again is signed for anew. `receipts` are the
    oldest first, `standing` those for what was left that hold, and `changes` what is otherwise than they say.
    """

    all_items: list[Record]
    items: list[Record]
    here: list[Record]
    here_unsigned: list[Record]
    back_unsigned: list[Record]
    receipts: list[tuple[str, FieldValue]]
    standing: list[Standing]
    changes: list[Change]

    @property
    def given_back(self) -> set[str]:
        """The items that receipts name as taken back."""
        return {
            item_id
            for _, receipt in self.receipts
            if is_back(receipt.value)
            for item_id in named_on(receipt.value)
        }


@dataclass(frozen=True)
class ThingOnRecord(DayOnRecord):
    """One thing by itself, as its records know of each other; `things` are it and the containers round it."""

    things: Mapping[str, Record]

    def same_thing(self, item: Record) -> list[Record]:
        return [item, *item.others()]

    def __post_init__(self) -> None:
        """Records in hand know of the others of the same thing."""


class Owed(NamedTuple):
    """What an owner has yet to sign of one thing: for it at all, or for what is otherwise since they did."""

    unsigned: bool
    signed_otherwise: bool


def owed_on(records: Records, item: Record) -> Owed:
    """Whether `signed_of` has it among those here, or back, that nobody has signed for, and whether among its changes.
    Of the receipts of its visit the lines of this one thing count, so that none of the others is read."""
    around = containers_round(records, item)
    thing = [item, *item.others()]
    visit = records.find(item.head["visit_id"] or "")
    receipts = [] if visit is None else sorted(listed(visit, "receipts/"))
    day = ThingOnRecord(item, (), (item,), (), around)  # of which no day is asked
    if is_with_owner(item, around):
        return Owed(owes_signature(item, receipts, day), False)
    standing = standing_of(receipts, [item], day)
    is_otherwise = any(
        any(changes_on(one.receipt_id, one.receipt, one.lines, [item], day)) for one in standing
    )
    is_out_of_hand = is_out_of_ours(thing) or not numbers_here(thing)
    return Owed(not is_out_of_hand and not is_covered(item, standing, day), is_otherwise)


def is_out_of_ours(thing: Thing) -> bool:
    """Whether nobody signs that it is left here: nobody handles it, or an authority has it."""
    return is_left_alone(thing) or taken_away(thing) != ""


def containers_round(records: Records, item: Record) -> dict[str, Record]:
    """The containers in which it or a piece of it is, at any depth, by their ids."""
    found: dict[str, Record] = {}
    queue = sorted(holders_of(item))
    for container_id in queue:
        container = records.find(container_id)
        if container is not None and container_id not in found:
            found[container_id] = container
            queue += sorted(holders_of(container))
    return found


def is_back(receipt: dict[str, Any]) -> bool:
    return bool(receipt["what"] == "taken-back")


def lines_on(receipt: dict[str, Any]) -> list[dict[str, Any]]:
    """What it was signed for, line by line; a log of any version may have it without."""
    return receipt["lines"] or []


def named_on(receipt: dict[str, Any]) -> set[str]:
    """The items that a receipt names."""
    return {line["item_id"] for line in lines_on(receipt)}


def signed_of(visit: Record, of_visit: Iterable[Record], day: DayOnRecord) -> Signed:
    """`of_visit` are its items."""
    items = [*of_visit]
    own = [item for item in items if not merged_into(item)]
    back = [item for item in own if is_with_owner(item, day.things)]
    here = [
        item
        for item in own
        if item not in back
        and not is_out_of_ours(day.same_thing(item))
        and numbers_here(day.same_thing(item))
    ]
    receipts = sorted(listed(visit, "receipts/"))
    standing = standing_of(receipts, own, day)
    return Signed(
        items,
        own,
        here,
        [item for item in here if not is_covered(item, standing, day)],
        [item for item in back if owes_signature(item, receipts, day)],
        receipts,
        standing,
        [
            change
            for one in standing
            for change in changes_on(one.receipt_id, one.receipt, one.lines, items, day)
        ],
    )


def standing_of(
    receipts: list[tuple[str, FieldValue]], own: list[Record], day: DayOnRecord
) -> list[Standing]:
    """Of the receipts whose place no other took, those that have the newest line of a thing, or the one that reads as
    it is now: two tables may have signed apart, each for what it knew of. The line of a record that stands behind
    another one goes on with that."""
    thing = {record.record_id: item.record_id for item in own for record in day.same_thing(item)}
    left = [(receipt_id, receipt) for receipt_id, receipt in receipts if not is_back(receipt.value)]
    replaced = {receipt.value.get("replaces") for _, receipt in receipts}
    items = {item.record_id: item for item in own}
    newest: dict[str, str] = {}
    signed = dict(left)

    def says_so(receipt_id: str, item_id: str) -> bool:
        return item_id in items and any(
            says_as_it_is(items[item_id], line, day)
            for line in lines_on(signed[receipt_id].value)
            if thing.get(line["item_id"], line["item_id"]) == item_id
        )

    for receipt_id, receipt in left:
        if receipt_id in replaced:
            continue
        for item_id in {thing.get(line["item_id"], line["item_id"]) for line in lines_on(receipt.value)}:
            before = newest.get(item_id)
            # Of two that came in the place of the same one neither is the later: nobody had heard of the other, and
            # whoever signed for the thing as it is now has signed for it.
            is_apart = before and signed[before].value.get("replaces") == receipt.value.get("replaces")
            if not (before and is_apart and says_so(before, item_id)) or says_so(receipt_id, item_id):
                newest[item_id] = receipt_id

    def is_without(item_id: str, receipt: FieldValue) -> bool:
        """Whoever signed anew since an authority took a thing has read a list without it."""
        item = items.get(thing.get(item_id, item_id))
        taken = item and said_taken_away(day.same_thing(item))
        return bool(
            taken
            and is_since(taken, receipt)
            and any(other is not receipt and not is_since(taken, other) for _, other in left)
        )

    standing = [
        Standing(
            receipt_id,
            receipt,
            [
                line
                for line in lines_on(receipt.value)
                if newest.get(thing.get(line["item_id"], line["item_id"])) == receipt_id
                and not is_without(line["item_id"], receipt)
            ],
        )
        for receipt_id, receipt in left
    ]
    return [one for one in standing if one.lines]


def says_as_it_is(item: Record, line: dict[str, Any], day: DayOnRecord) -> bool:
    """Whether a line reads as it would now."""
    now = receipt_line(item, day)
    is_of_class = line.get("class_id", now.class_id) == now.class_id
    return is_of_class and line["words"] == now.words and sorted(line["tags"]) == sorted(now.tags)


def lines_of(item: Record, lines: list[dict[str, Any]], day: DayOnRecord) -> list[dict[str, Any]]:
    """The lines that name a thing, under whichever of its records."""
    records = {record.record_id for record in day.same_thing(item)}
    return [line for line in lines if line["item_id"] in records]


def is_covered(item: Record, standing: list[Standing], day: DayOnRecord) -> bool:
    """Whether a receipt for what was left is for a thing as it is here now."""
    return any(
        not came_again(item, line, one.receipt) for one in standing for line in lines_of(item, one.lines, day)
    )


def owes_signature(item: Record, receipts: list[tuple[str, FieldValue]], day: DayOnRecord) -> bool:
    """Whether nobody signed for a thing that went back, the last time that it did: where that was noted, or after."""
    if not numbers_on(item) or is_signed_on_moves(item):
        return False
    signed = {
        tag
        for _, receipt in receipts
        if is_back(receipt.value)
        for line in lines_of(item, lines_on(receipt.value), day)
        for tag in line["tags"] or tags_back(item)
        if covers_return(item, tag, receipt)
    }
    return any(tag not in signed for tag in tags_back(item))


def covers_return(item: Record, tag: str, receipt: FieldValue) -> bool:
    """Whether a receipt for what was taken back is for the last time: not if a number came again with its thing after
    it was signed, and went back anew."""
    return not any(is_since(said, receipt) for said in came_again_by(item, tag))


def is_signed_on_moves(item: Record) -> bool:
    """Whether who took it back signed where that was noted, for all of it or for each piece."""
    thing, tags = one_thing(item), tags_back(item)
    whole = thing.value("whereabouts")
    moves = [thing.value(f"whereabouts/{tag}") or whole for tag in tags] or [whole]
    return all(move and move["to_place"] == "returned" and move["signed"] for move in moves)
