"""Loads: what left in the van by its numbers, and what of it has come; the app has the same rules in
`web/job/loads.ts`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from typing import Any

from intake.custody.containers import NESTED, container_of
from intake.custody.day_on_record import DayOnRecord, listed
from intake.custody.moves import in_order
from intake.custody.number_parts import part_words
from intake.custody.whereabouts import place_words, thing_name, thing_with, to_words, where_is
from intake.custody.with_owner import field_of_piece
from intake.examination.whole_thing import taken_away
from intake.operation import instant
from intake.records.record import Record
from intake.records.values import FieldValue
from intake.tagging.tags import shown

COME = ("store", "shelf")
Packed = dict[str, list[str]]


@dataclass(frozen=True)
class Fate:
    """What became of what left: whether it came, when that is known, and where it is else, in words; "" if it is on the
    way for all that is known. What left again is asked for with the later load."""

    came: bool = False
    came_at: str = ""
    now: str = ""
    again: bool = False

    @property
    def lacks(self) -> bool:
        return not self.came and not self.again


@dataclass(frozen=True)
class Loaded:
    """One number of a load and what it is on, by its id; `packed` is what lay in it when it left."""

    number: str
    thing_id: str | None
    words: str
    fate: Fate
    packed: list[Loaded] = field(default_factory=list)

    @property
    def lacking_name(self) -> str:
        return f"{self.words} ({self.fate.now})" if self.fate.now else self.words


@dataclass(frozen=True)
class Load:
    """A load that left in the van, and each of its numbers."""

    load_id: str
    value: dict[str, Any]
    things: list[Loaded]

    @property
    def not_come(self) -> list[Loaded]:
        """What left by its own number, and has not come."""
        return [thing for thing in self.things if thing.fate.lacks]

    @property
    def taken_out(self) -> list[Loaded]:
        """What lay in something when it left, and was not in it when that came."""
        return list(taken_out(self.things))


def taken_out(things: Iterable[Loaded]) -> Iterator[Loaded]:
    for thing in things:
        if thing.fate.came:
            yield from (inner for inner in thing.packed if inner.fate.lacks)
            yield from taken_out(thing.packed)


@dataclass(frozen=True)
class Leaving:
    """A load as it was said, with its numbers and those of what lay in its containers."""

    load_id: str
    value: dict[str, Any]
    made_at: str
    left: set[str]
    arrived: dict[str, str]
    device_id: str
    device_seq: int
    day: DayOnRecord

    def loaded(
        self, number: str, holder: Loaded | None, later: list[Leaving], packed: Packed, depth: int = 0
    ) -> Loaded:
        """`packed` is what lay in each container; it is taken from there, so that a circle ends."""
        thing = thing_with(number, self.day)
        again = next((load.made_at for load in later if number in load.left), "")
        recounted = "" if self.arrived or holder else self.recounted(later)
        fate = self.fate_of(number, thing, holder, again, recounted)
        thing_id = None if thing is None else thing.record_id
        whole = Loaded(number, thing_id, loaded_words(number, thing), fate)
        within = packed.pop(number, [])
        own = self.value["numbers"]  # each of these stands by itself
        deeper = [inner for inner in within if inner not in own] if depth < NESTED else []
        return replace(
            whole, packed=[self.loaded(inner, whole, later, packed, depth + 1) for inner in deeper]
        )

    def things(self, later: list[Leaving]) -> list[Loaded]:
        packed = {
            container["container"]: container["numbers"] for container in self.value.get("packed") or []
        }
        return [self.loaded(number, None, later, packed) for number in dict.fromkeys(self.value["numbers"])]

    def recounted(self, later: list[Leaving]) -> str:
        """When its device counted some of it again; "" if it did not."""
        own = set(self.value["numbers"])
        again = (load.made_at for load in later if load.device_id == self.device_id and own & load.left)
        return next(again, "")

    def fate_of(
        self, number: str, thing: Record | None, holder: Loaded | None, again: str, recounted: str
    ) -> Fate:
        """What has come was scanned at the arrival, or the ledger has had it at the store since: what somebody took
        back into the hall has not. What lay in a container came with that, unless it was taken out before."""
        if number in self.arrived:
            return Fate(came=True, came_at=self.arrived[number])
        if thing is None:
            return Fate()
        moves = list(moves_between(thing, number, self.made_at, again))
        stored = next((move for move in moves if move.value["to_place"] in COME), None)
        if stored:
            return Fate(came=True, came_at=stored.made_at)
        if again:
            return Fate(now="left again with a later load", again=True)
        if recounted:
            # What was out of the van when what it was with was counted again is of neither load.
            before = [move.value["to_place"] for move in moves_between(thing, number, "", recounted)]
            if before[-1:] != ["van"]:
                return Fate(now="taken out as it was counted again", again=True)
        if taken := taken_away(self.day.same_thing(thing)):
            return Fate(now=f"taken away: {taken}", again=True)
        if holder and is_in(thing, number, holder, moves):
            return holder.fate
        where = where_is(thing, self.day.things, number)
        if holder and not where.inside and not moves:
            return Fate(now=f"taken out of {holder.words}")
        if where.place in COME:
            return Fate(came=True)
        return Fate(now="" if where.place == "van" else place_words(where.place))


def moves_between(thing: Record, number: str, left: str, again: str) -> Iterator[FieldValue]:
    """The moves of a thing, or of its piece with this number, since a load left and until it left again."""
    for _, move in in_order(listed(thing, "moves/")):
        at, is_of_it = instant(move.made_at), move.value.get("tag") in (None, number)
        if is_of_it and at > instant(left) and (not again or at < instant(again)):
            yield move


def is_in(thing: Record, number: str, holder: Loaded, moves: list[FieldValue]) -> bool:
    """Whether something is in the container with which it left, or was until that had come; `moves` are its own since
    it left."""
    is_still_in = holder.thing_id is not None and container_of(thing, number) == holder.thing_id
    came_at = holder.fate.came_at
    said = field_of_piece(thing, "inside", number)
    since = said.made_at if said else ""
    since = next((move.made_at for move in moves if since and instant(move.made_at) > instant(since)), since)
    return is_still_in or (bool(came_at) and instant(since) >= instant(came_at))


def loads_that_left(day: DayOnRecord) -> list[Load]:
    """The loads that left, the latest first. Of one from before loads had numbers nothing can be said."""
    loads = list(listed(day.day, "loads/"))
    leaving = [
        Leaving(
            load_id,
            load.value,
            load.made_at,
            all_numbers(load.value),
            {
                number: arrival.made_at
                for _, arrival in loads
                if arrival.value.get("of_load") == load_id
                for number in arrival.value.get("numbers") or []
            },
            load.device_id,
            load.device_seq,
            day,
        )
        for load_id, load in loads
        if load.value["to_place"] == "van" and not load.value.get("of_load") and load.value.get("numbers")
    ]
    leaving = loads_in_order(leaving)[::-1]
    return [
        Load(load.load_id, load.value, load.things(leaving[:index][::-1]))
        for index, load in enumerate(leaving)
    ]


def loads_in_order(loads: Iterable[Leaving]) -> list[Leaving]:
    """In the order in which they were counted: by the clocks, and of one device's by its own order, since its clock may
    have been set back between them."""
    latest: dict[str, str] = {}
    by_time = []
    for load in sorted(loads, key=lambda load: (load.device_seq, instant(load.made_at))):
        latest[load.device_id] = at = max(latest.get(load.device_id, ""), instant(load.made_at))
        by_time.append((at, load))
    return [load for _, load in sorted(by_time, key=lambda timed: timed[0])]


def all_numbers(load: dict[str, Any]) -> set[str]:
    """The numbers of a load, and those of what lay in its containers."""
    return {*(load.get("numbers") or ()), *packed_in(load)}


def load_name(load: dict[str, Any]) -> str:
    """Which load it is: where it was bound, and who drove it."""
    driver = f", driven by {load['driver']}" if load.get("driver") else ""
    return f"load {to_words(load['to_place'], load['at'])}{driver}"


def packed_in(load: dict[str, Any]) -> Iterator[str]:
    for container in load.get("packed") or []:
        yield from container["numbers"]


def loaded_words(number: str, thing: Record | None) -> str:
    """A number and what it is on: "crate 7K3-QW5", "vase 7K3-QW5, piece 2 of 3"."""
    if thing is None:
        return f"{shown(number)}, on nothing this device knows"
    if thing.kind == "container":
        return thing_name(thing)
    tag = thing.value(f"tags/{number}") or {}
    part = f", {part_words(thing, tag)}" if (tag.get("of") or 1) > 1 else ""
    return f"{thing_name(thing)} {shown(number)}{part}"
