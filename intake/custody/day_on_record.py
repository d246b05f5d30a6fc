"""A day's records, read for its closing: a day at a time, and of each record only what a closing goes by."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import chain
from typing import Any, TypeVar

from intake.custody.containers import holders_of
from intake.custody.doubles import merged_into
from intake.custody.in_parts import IN_HAND, ById, Hand, InParts
from intake.custody.with_owner import is_back_with_owner
from intake.database import Reading, told_of
from intake.errors import NotFound
from intake.operation import instant
from intake.records.record import Record
from intake.records.same_thing import ids_of_thing
from intake.records.values import FieldValue

#: What a check-in notes of a thing by itself.
OF_CHECK_IN = ("new-damage", "piece-short", "item-short")

#: What the closing of a day goes by. The rest of an item, most of it, is never read.
GOES_BY = frozenset(
    {
        *("house", "place", "held_on", "closed", "reasons/", "first-signings/", "tables/"),
        *("people/", "rolls/", "roll-holders/", "spoiled/", "loads/"),
        *("differences/", "difference-ends/", "incidents/", "incident-ends/"),
        *("ticket", "stage", "item_count", "table_id", "receipts/", "allowed_by", "stage_allowed_by"),
        *("short_description", "class_id", "plan_version", "pieces", "pieces-back", "listed/"),
        *("zones/", "findings/", "tests/", "photos/", "views/"),
        *("cautions/", "caution-decisions/", "check-in", "check-in/", "heard-late/"),
        *("late-ends/", "merged"),
        *("tags/", "inside", "inside/", "seal", "moves/", "whereabouts", "whereabouts/"),
    }
)

#: How far each device had been heard, by its id, as a day was closed; None where the closing does not say it.
Heard = Mapping[str, int] | None
#: A record with what was said of it after its day was closed, and what was said before and came later: the names of
#: those fields, in their order, and who said it.
SaidAfter = tuple[Record, list[tuple[str, str]], list[tuple[str, str]]]

T = TypeVar("T")


def is_opened_after(record: Record, since: str) -> bool:
    return instant(record.head.get("opened_at") or "") > since


@dataclass(frozen=True)
class DayOnRecord:
    """A day with its visits, items and containers, each the oldest first.

    All of them may be at hand, or some at a time (`DayInParts`): nothing that is worked out of a day holds its records.
    """

    day: Record
    visits: Sequence[Record]
    items: Sequence[Record]
    containers: Sequence[Record]
    _once: dict[Any, Any] = field(default_factory=dict, init=False, repr=False, compare=False)

    @cached_property
    def things(self) -> Mapping[str, Record]:
        """Items and containers by their ids."""
        return {thing.record_id: thing for thing in (*self.items, *self.containers)}

    @cached_property
    def noted_at_check_in(self) -> set[str]:
        """The things of which a difference was noted that a check-in notes: it stands for the check-in, until it is
        settled and afterwards."""
        noted = values_of(self.day, "differences/")
        return {one["thing_id"] for one in noted if one["thing_id"] and one["difference"] in OF_CHECK_IN}

    @cached_property
    def gone_owners(self) -> set[str]:
        """The visits whose owner has left."""
        return {visit.record_id for visit in self.visits if visit.value("stage") == "left"}

    @cached_property
    def _contents(self) -> dict[str, list[str]]:
        """The ids of what lies directly in each container, whole or in pieces."""
        contents: dict[str, list[str]] = {}
        for thing in chain(self.items, self.containers):
            if merged_into(thing) is None and not is_back_with_owner(thing):
                for container_id in sorted(holders_of(thing)):
                    contents.setdefault(container_id, []).append(thing.record_id)
        return contents

    def items_within(self, container: Record) -> list[Record]:
        """The items in a container, at any depth."""
        return [thing for thing in self.things_within(container) if thing.kind == "item"]

    def things_within(self, container: Record) -> list[Record]:
        """All that is in a container, at any depth."""
        found = dict.fromkeys([container.record_id])
        queue = list(found)
        for outer_id in queue:
            inside = [inner_id for inner_id in self._contents.get(outer_id, ()) if inner_id not in found]
            found |= dict.fromkeys(inside)
            queue += inside
        return [self.things[thing_id] for thing_id in queue[1:] if thing_id in self.things]

    def said_after(self, since: str, heard: Heard) -> Iterator[SaidAfter]:
        """The records of which something was said after an instant, or was said before and came after what was `heard`,
        in the order of the day."""
        for record in chain([self.day], self.visits, self.items, self.containers):
            after: list[tuple[str, str]] = []
            late: list[tuple[str, str]] = []
            for name, one in sorted(record.fields.items()):
                if instant(one.made_at) > since:
                    after.append((name, one.made_by))
                elif heard is not None and one.device_seq > heard.get(one.device_id, 0):
                    late.append((name, one.made_by))
            if after or late or is_opened_after(record, since):
                yield record, after, late

    @cached_property
    def behind(self) -> Mapping[str, str]:
        """The items that stand behind another one, each with that one's id."""
        return {item.record_id: into_id for item in self.items if (into_id := merged_into(item))}

    @cached_property
    def with_number(self) -> Mapping[str, list[str]]:
        """The numbers that were tied to items, each with the ids of those, the oldest first."""
        found: dict[str, list[str]] = {}
        for item in self.items:
            for tag, _ in listed(item, "tags/"):
                found.setdefault(tag, []).append(item.record_id)
        return found

    def items_of(self, visit_id: str) -> Sequence[Record]:
        """The items of a visit, the oldest first."""
        return [item for item in self.items if item.head["visit_id"] == visit_id]

    def same_thing(self, item: Record) -> list[Record]:
        """All records of the thing that an item is of, itself the first: whichever was merged into which."""
        found = ids_of_thing(item.record_id, self.behind)
        return [self.things[record_id] for record_id in found if record_id in self.things]

    def once(self, work: Callable[[DayOnRecord], T]) -> T:
        """What is worked out of the day, the first time that it is asked for."""
        if work not in self._once:
            self._once[work] = work(self)
        result: T = self._once[work]
        return result

    def __post_init__(self) -> None:
        """Each item knows of the others of the same thing."""
        for item_id in {*self.behind, *self.behind.values()}:
            if item := self.things.get(item_id):
                item.others = lambda item=item: self.same_thing(item)[1:]  # type: ignore[misc]


@dataclass(frozen=True)
class DayInParts(DayOnRecord):
    """A day in the tables, its records read as they are come to; `of_visits` are the ids of the items of each visit."""

    hand: Hand
    of_visits: Mapping[str, list[str]]
    things: Mapping[str, Record]
    behind: Mapping[str, str]

    @cached_property
    def with_number(self) -> Mapping[str, list[str]]:
        """Read by itself, or a day of thousands would be gone through once more."""
        tied: dict[str, list[str]] = {}
        rows = self.hand.tx.each(
            """
            SELECT record_id, name FROM record JOIN field USING (record_id)
            WHERE day_id = :day_id AND kind = 'item' AND name >= 'tags/' AND name < 'tags0'
            ORDER BY head ->> 'opened_at', record_id, name
            """,
            day_id=self.day.record_id,
        )
        for item_id, name in rows:
            tied.setdefault(name.removeprefix("tags/"), []).append(item_id)
        return tied

    def said_after(self, since: str, heard: Heard) -> Iterator[SaidAfter]:
        """Read by itself, since a closing goes by few of the fields that may have been set."""
        said: dict[str, tuple[list[tuple[str, str]], list[tuple[str, str]]]] = {}
        for record_id, name, made_by, made_at in self.hand.tx.each(
            f"""
            SELECT record.record_id, name, made_by, made_at FROM record LEFT JOIN field
                ON field.record_id = record.record_id AND (made_at >= :second OR (
                    :heard IS NOT NULL
                    AND device_seq > coalesce({told_of("heard", "device_id")}, 0)
                ))
            WHERE day_id = :day_id AND (name IS NOT NULL OR head ->> 'opened_at' >= :second)
            ORDER BY kind = 'day' DESC, kind = 'visit' DESC, kind = 'item' DESC,
                head ->> 'opened_at', record.record_id, name
            """,
            day_id=self.day.record_id,
            second=since[:19],  # an instant has a fraction of a second or none
            heard=None if heard is None else json.dumps(heard),
        ):
            after, late = said.setdefault(record_id, ([], []))
            if name is not None and instant(made_at) > since:
                after.append((name, made_by))
            elif name is not None and heard is not None:
                late.append((name, made_by))
        for record_id, (after, late) in said.items():
            record = self.hand.record(record_id)
            if after or late or is_opened_after(record, since):
                yield record, after, late

    def items_of(self, visit_id: str) -> Sequence[Record]:
        return InParts(self.hand, self.of_visits.get(visit_id, ()))

    def __post_init__(self) -> None:
        """Whatever is read knows of the others of the same thing."""


def listed(record: Record, prefix: str) -> Iterator[tuple[str, FieldValue]]:
    """The fields of a family in the order of their names, each with the id that stands behind the family's name."""
    for name, value in record.fields.items():
        if name.startswith(prefix):
            yield name.removeprefix(prefix), value


def values_of(record: Record, prefix: str) -> Iterator[dict[str, Any]]:
    """The values of a family, such as `tags/`."""
    return (said.value for _, said in listed(record, prefix))


def day_on_record(tx: Reading, day_id: str, in_hand: int = IN_HAND) -> DayInParts:
    """A day, read as it is gone through; so many letters of it stay in hand. Raises NotFound if there is none of this
    id."""
    ids: dict[str, list[str]] = {"day": [], "visit": [], "item": [], "container": []}
    of_visits: dict[str, list[str]] = {}
    for record_id, kind, visit_id in tx.each(
        """
        SELECT record_id, kind, head ->> 'visit_id' FROM record WHERE day_id = :day_id
        ORDER BY head ->> 'opened_at', record_id
        """,
        day_id=day_id,
    ):
        ids.setdefault(kind, []).append(record_id)
        if kind == "item":
            of_visits.setdefault(visit_id, []).append(record_id)
    if ids["day"] != [day_id]:
        raise NotFound("day", day_id)
    behind = behind_on(tx, day_id)
    hand = Hand(tx, GOES_BY, behind, in_hand)
    of_kind = {kind: InParts(hand, ids[kind]) for kind in ("visit", "item", "container")}
    return DayInParts(
        hand.record(day_id),
        of_kind["visit"],
        of_kind["item"],
        of_kind["container"],
        hand,
        of_visits,
        ById(hand, (*ids["item"], *ids["container"])),
        behind,
    )


def behind_on(tx: Reading, day_id: str) -> dict[str, str]:
    rows = tx.each(
        """
        SELECT record_id, value ->> 'into_id' FROM record JOIN field USING (record_id)
        WHERE day_id = :day_id AND kind = 'item' AND name = 'merged' ORDER BY head ->> 'opened_at', record_id
        """,
        day_id=day_id,
    )
    return {record_id: into_id for record_id, into_id in rows if into_id}
