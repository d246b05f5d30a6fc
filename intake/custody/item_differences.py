"""What the closing of a day has to name of one item, each as its kind and words. In the app: `closing_items.ts`."""

from __future__ import annotations

import json
from collections.abc import Iterator, Set
from typing import Any

from intake.custody.behind import said_behind_alone
from intake.custody.compared import checks_of
from intake.custody.day_on_record import DayOnRecord, listed, values_of
from intake.custody.doubles import merged_into
from intake.custody.moves import in_order
from intake.custody.on_more import on_more_words
from intake.custody.plan_used import PlanUsed, views_left, zones_left
from intake.custody.whereabouts import (
    Things,
    Where,
    is_with_owner,
    lies_words,
    pieces_of,
    place_words,
    tags_of,
    thing_name,
    where_is,
)
from intake.custody.with_owner import is_back_with_owner, is_later, numbers_on, one_thing, pieces_away
from intake.examination.whole_thing import (
    cautions_on,
    is_all_decided,
    is_kept_apart,
    is_left_alone,
    is_stopped,
    may_be_returned,
    referred_to,
    taken_away,
)
from intake.field_words import field_words
from intake.in_words import counted
from intake.operation import instant
from intake.records.contested import open_on
from intake.records.record import Record
from intake.records.values import FieldValue
from intake.tagging.tags import shown

#: Its kind and its words; and, where those name something else that may get another name, what it is of by ids.
Named = tuple[str, str] | tuple[str, str, str]

#: How a number may leave an item without another in its place.
NOT_REPLACED = ("taken-back", "on-another-item")
#: Where something lies that has not come to where things are kept.
STILL = {
    "table": "still at the table",
    "bench": "still at the bench",
    "holding": "still in the holding area",
    "van": "still in the van",
}


def is_nobody_of(day: Record, said: FieldValue) -> bool:
    """Whether somebody made it who is not on the day's list: a Stop is taken from anybody."""
    return bool(said.made_by) and f"people/{said.made_by}" not in day.fields


def stopped_named(item: Record, day: DayOnRecord) -> Iterator[Named]:
    """Of an item that a red caution stops what a person has to look at: of a merged one if the caution is on its own
    record, of one that went back to its owner unless that was decided."""
    thing = day.same_thing(item)
    own = [
        standing
        for standing in cautions_on(thing)
        if standing.caution["level"] == "red" and standing.on is item
    ]
    if is_stopped(thing) and (own or not merged_into(item)):
        went = referred_to(thing)
        decided = f"stopped, as was decided: {went}" if went else "stopped, as was decided"
        words = decided if is_all_decided(thing) else "stopped, and nobody has decided"
        if not is_back_with_owner(item):
            yield "stopped", words
        elif not may_be_returned(thing):
            yield "stopped", f"{words}, and the ledger says it is back with its owner"
    for caution in own:
        if is_nobody_of(day.day, caution.said):
            yield "stopped", "Stop was pressed by somebody who is not on the day's list"


def item_named(item: Record, day: DayOnRecord, plan_used: PlanUsed, with_loads: Set[str]) -> Iterator[Named]:
    """What is in the way of one item; nothing if it went home, since who signed for that stands with its visit, or if
    it stands behind another record, which is the one that counts. `with_loads` are numbers that are named with a load
    of which they have not come."""
    where = where_is(item, day.things)
    if is_with_owner(item, day.things) or merged_into(item):
        return
    if item.record_id not in day.noted_at_check_in:
        yield from checked_in(item)
    yield from contested(item, day)
    yield from said_behind(item)
    yield from numbers(item, day)
    yield from unfinished(item, day, plan_used(item))
    yield from whereabouts(item, where, day)
    yield from left_behind(item, where, day, with_loads)
    yield from chain_breaks(item, day.things)


def checked_in(item: Record) -> Iterator[Named]:
    differs = differs_by(item)
    if differs and differs["state"] == "not-here":
        if is_not_come(item):
            yield (
                "item-short",
                ": ".join(filter(None, ["was not there as it was unpacked", differs["words"]])),
            )
    elif differs:
        yield "new-damage", f"differs from what was recorded: {differs['words'] or 'nothing written'}"


def differs_by(item: Record) -> dict[str, Any] | None:
    """The check-in by which it differs, or was not there."""
    found = [check.value for _, check in checks_of(item) if check.value["state"] != "as-recorded"]
    # That something differs is graver than that some of it is still looked for.
    return min(found, key=lambda check: check["state"] != "differs", default=None)


def is_not_come(item: Record) -> bool:
    """Whether it was not in its container as that was opened: once it is moved, or scanned into something, after that
    was said, it has come."""
    missed = [(tag, check) for tag, check in checks_of(item) if check.value["state"] == "not-here"]
    moved = [
        (name.partition("/")[2], value)
        for name, value in one_thing(item).fields.items()
        if name.partition("/")[0] in ("whereabouts", "inside")
    ]

    def has_come(tag: str, said: FieldValue) -> bool:
        """Another piece that comes says nothing of the one that was not there."""
        return any(is_later(move, said) for of, move in moved if not (tag and of) or of == tag)

    return any(not has_come(tag, said) for tag, said in missed)


def contested(item: Record, day: DayOnRecord) -> Iterator[Named]:
    """What two people said otherwise and nobody has settled; a number that two things ask for by itself."""
    for between in open_on(item):
        kept: Any = json.loads(between.kept)["value"]
        if between.name.startswith("tags/") and kept.get("item_id"):
            other = thing_name(day.things.get(kept["item_id"], item))
            of = f"{kept['tag']} {kept['item_id']}"
            yield "tag-on-two", f"tag {shown(kept['tag'])} was tied to “{other}” as well", of
        else:
            yield "disagreement", f"two people set {field_words(between.name)} otherwise"


def said_behind(item: Record) -> Iterator[Named]:
    """What only a record behind it says: nothing on record is lost in silence."""
    for behind in item.others():
        for words in said_behind_alone(item, behind):
            yield "disagreement", f"the record behind it: {words}"


def numbers(item: Record, day: DayOnRecord) -> Iterator[Named]:
    thing = day.same_thing(item)
    if not tags_of(item) and not is_left_alone(thing) and not referred_to(thing):
        yield "item-without-tag", "no tag is on it"
    for tag in values_of(one_thing(item), "tags/"):
        if tag["gone"] and tag["gone"] not in NOT_REPLACED and not tag["replaced_by"]:
            yield (
                "tag-gone",
                f"tag {shown(tag['tag'])} is {tag['gone'].replace('-', ' ')} and was not replaced",
            )


def unfinished(item: Record, day: DayOnRecord, plan: dict[str, Any] | None) -> Iterator[Named]:
    """Nothing is asked of what is stopped but what was decided."""
    if is_stopped(day.same_thing(item)):
        return
    if plan is None:
        yield "class", "no class was chosen"
        return
    if plan["refer_only"]:
        return
    if zones := zones_left(plan, item):
        yield "zones", f"{zones} of its zones {'was' if zones == 1 else 'were'} not spoken of"
    if views := views_left(plan, item):
        yield "views", f"{counted(views, 'view')} {'is' if views == 1 else 'are'} missing"


def whereabouts(item: Record, where: Where, day: DayOnRecord) -> Iterator[Named]:
    """What the ledger says of an item that does not go together."""
    thing, pieces = day.same_thing(item), pieces_of(item, day.things)
    if taken_away(thing):
        return
    on_table = where.place == "table" and not where.inside
    is_ours = not is_left_alone(thing) and not referred_to(thing)
    if is_ours and on_table and all(piece.where.place == "table" for piece in pieces):
        yield "not-moved", "still at the table"
    if is_kept_apart(thing) and where.place not in ("isolation", "table"):
        yield "held", f"held, and the ledger says {place_words(where.place)}"
    is_at_table = where.place == "table" and not is_stopped(thing)  # in isolation it lies where it belongs
    if is_at_table and is_kept_apart(thing) and item.head["visit_id"] in day.gone_owners:
        yield "held", "held apart, nobody has cleared it, and its owner is gone"
    of = max([1, *(piece.of for piece in pieces)])
    # Its number went back with it: that it has none here is no gap.
    back = pieces_away(item)
    away = [piece for piece in back if piece not in {one.piece for one in pieces}]
    if of > 1 and len(pieces) < of - len(away):
        tied = f"{len(pieces)} of its {of} numbers {'is' if len(pieces) == 1 else 'are'} tied"
        yield "item-without-tag", tied
    for words in on_more_words(item):
        yield "disagreement", words
    # What is with its owner is in no place of ours; that it went is named until it is signed for.
    stand = sorted((one for one in pieces if one.piece not in back), key=lambda one: one.piece)
    places = {(piece.where.place, *(outer.record_id for outer in piece.where.inside)) for piece in stand}
    if len(places) > 1:
        each = [f"{shown(piece.tag)}, {piece.words}, {lies_words(piece.where)}" for piece in stand]
        # A part and a container may get another name: it is known by what closings of before said of it.
        known = [f"{piece.piece} of {piece.of} {place_words(piece.where.place)}" for piece in stand]
        yield "pieces-apart", f"it is apart: {'; '.join(each)}", f"its pieces are apart: {', '.join(known)}"


def left_behind(item: Record, where: Where, day: DayOnRecord, with_loads: Set[str]) -> Iterator[Named]:
    """An item, or a piece of it, that lies loose in the hall or the van; what is in a container is named with that, and
    what has not come of a load with the load, and what was taken away is nowhere of ours."""
    if taken_away(day.same_thing(item)):
        return
    pieces = [
        # A part may get another name: it is known by what closings of before said of it.
        (piece.where, f"{piece.words}, ", f"piece {piece.piece} of {piece.of}, ", piece.tag)
        if piece.of > 1
        else (piece.where, "", "", piece.tag)
        for piece in pieces_of(item, day.things)
    ]
    for place, which, known, tag in pieces or [(where, "", "", "")]:
        words = ""
        if is_left_isolated(item, place, day):
            words = "in isolation, and no caution holds it"
        elif place.place in STILL and place.place != "table" and not place.inside and tag not in with_loads:
            words = STILL[place.place]
        if words:
            yield "left-behind", f"{which}{words}", f"{known}{words}"


def waits_for_its_owner(item: Record, day: DayOnRecord) -> bool:
    """Whether it lies in isolation where it belongs, under a caution that nobody has cleared, and whose thing it is has
    gone: whoever could say what becomes of it is asked no more today."""
    thing = day.same_thing(item)
    return (
        item.head["visit_id"] in day.gone_owners
        and where_is(item, day.things).place == "isolation"
        and not (merged_into(item) or is_stopped(thing))
        and any(standing.caution["level"] == "amber" for standing in cautions_on(thing))
    )


def is_left_isolated(item: Record, where: Where, day: DayOnRecord) -> bool:
    """Whether something lies in isolation that nothing keeps there. What is in a container is named by itself only if
    something beside it is kept there, else the container is."""
    thing = day.same_thing(item)
    if where.place != "isolation" or is_kept_apart(thing) or is_stopped(thing) or referred_to(thing):
        return False
    return not where.inside or holds_kept_apart(where.inside[-1], day)


def holds_kept_apart(container: Record, day: DayOnRecord) -> bool:
    return container.record_id in day.once(holding_kept_apart)


def holding_kept_apart(day: DayOnRecord) -> set[str]:
    """The outermost containers, by their ids, in which something lies that is kept apart."""
    holding = set()
    for item in day.items:
        thing = day.same_thing(item)
        if is_kept_apart(thing) or is_stopped(thing):
            places = [where_is(item, day.things), *(piece.where for piece in pieces_of(item, day.things))]
            holding |= {where.inside[-1].record_id for where in places if where.inside}
    return holding


def chain_breaks(thing: Record, things: Things) -> Iterator[Named]:
    """Moves that began elsewhere than the one before had ended; their order is that of devices' clocks, so a person
    looks. What was put into a container in between has gone along with that."""
    moves = [one for one in in_order(listed(one_thing(thing), "moves/")) if not one[1].value.get("tag")]
    records = [thing, *thing.others()]
    merged = max(
        (one.fields["merged"] for one in records if "merged" in one.fields),
        key=lambda said: instant(said.made_at),
        default=None,
    )

    def of_one_record(*move_ids: str) -> bool:
        return any(all(f"moves/{move_id}" in one.fields for move_id in move_ids) for one in records)

    for index, (move_id, move) in enumerate(moves):
        # Until it was known that they are one, each record told the moves of its own.
        is_of_all = merged is None or is_later(move, merged)
        earlier = (
            one for its_id, one in reversed(moves[:index]) if is_of_all or of_one_record(its_id, move_id)
        )
        before = next(earlier, None)
        if before is None:
            continue
        begun, ledger = move.value["from_place"], before.value["to_place"]
        if (ledger, begun) == ("returned", "table") and is_tied_since(thing, before):
            continue
        if ledger and begun and begun != ledger and begun != carried_to(thing, before, move, things):
            yield (
                "wrong-place",
                f"moved from {place_words(begun)}, while the ledger said {place_words(ledger)}",
            )


def is_tied_since(thing: Record, before: FieldValue) -> bool:
    """Whether a number was tied since: what came again after it went back came to a table."""
    return any(is_later(number, before) for number in numbers_on(thing).values())


def carried_to(thing: Record, before: FieldValue, move: FieldValue, things: Things) -> str | None:
    """Where a container, that a thing was put into after one of its moves, had brought it by the next; None if it was
    put into none."""
    inside = thing.fields.get("inside")
    if inside is None or not instant(before.made_at) <= instant(inside.made_at) <= instant(move.made_at):
        return None
    container = things.get(inside.value["container_id"] or "")
    if container is None:
        return None
    outer = (where_is(container, things).inside or [container])[-1]
    made = [
        one for _, one in in_order(listed(outer, "moves/")) if instant(one.made_at) <= instant(move.made_at)
    ]
    return made[-1].value["to_place"] if made else "table"
