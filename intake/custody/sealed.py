"""What went out of a container, or into it, while its seal says that nothing did; in the app: `web/job/sealed.ts`.

A seal keeps what it was put on, as a list and as a time. What hands did since stands in the ledger all the same.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from typing import Any, NamedTuple

from intake.custody.compared import all_said
from intake.custody.containers import container_of
from intake.custody.day_on_record import DayOnRecord, listed
from intake.custody.difference_kinds import MOST_NAMED
from intake.custody.whereabouts import tags_of, thing_name, thing_with, where_is
from intake.custody.with_owner import one_thing
from intake.in_words import some_of
from intake.operation import instant
from intake.records.record import Record
from intake.records.values import FieldValue

SHUT = ("sealed", "intact")
OUT, IN, AGAIN = "taken out", "put in", "out and in again"


class Crossed(NamedTuple):
    """A thing that went through a seal: which way, and what says so first."""

    way: str
    thing: Record
    said: FieldValue


def contradicted(container: Record, day: DayOnRecord) -> tuple[str, str] | None:
    """In words what went through a container's seal, by whom; and what that is known by. None if nothing did."""
    crossed = list(through_its_seal(container, day))
    if not crossed:
        return None
    parts = [
        f"{way}: {names_of([one for one in crossed if one.way == way], day)}"
        for way in (OUT, IN, AGAIN)
        if any(one.way == way for one in crossed)
    ]
    acts = ",".join(sorted(one.said.operation_id for one in crossed))
    return f"since seal {container.value('seal')['seal']} was put on, {'; '.join(parts)}", f"since {acts}"


def wrong_seal(seal: dict[str, Any]) -> str | None:
    """In words what is wrong with a seal, with both numbers where it was read otherwise; None if nothing is."""
    put_on, read = seal.get("put_on"), seal.get("read") or ""
    both = f"seal {put_on} was put on, {read} was read" if put_on else ""
    if seal["state"] == "broken":
        return "; ".join(filter(None, [f"seal {seal['seal']} is broken", both]))
    return both or (f"seal {seal['seal']} differs" if seal["state"] == "differs" else None)


def names_of(crossed: list[Crossed], day: DayOnRecord) -> str:
    return some_of([with_doer(one, day.day) for one in crossed], MOST_NAMED)


def with_doer(crossed: Crossed, day: Record) -> str:
    person = day.value(f"people/{crossed.said.made_by}")
    return thing_name(crossed.thing) + (f" (by {person['name']})" if person else "")


def through_its_seal(container: Record, day: DayOnRecord) -> Iterator[Crossed]:
    """What went through it, each thing once. Once something in it was checked in two people have opened it,
    and what goes out then goes as it should."""
    seal = container.fields.get("seal")
    if seal is None or not seal.value or seal.value["state"] not in SHUT:
        return
    within = day.things_within(container)
    inside = {container.record_id, *(one.record_id for one in within)}
    under = list(under_seal(seal.value, day))
    listed_under = {thing.record_id for thing, _ in under}
    since = instant(seal.value.get("sealed_at") or seal.made_at)
    opened = opened_at([*within, *(thing for thing, _ in under)], since)

    def is_through(said: FieldValue) -> bool:
        at = instant(said.made_at)
        return at > since and (opened is None or at <= opened)

    crossed: dict[str, Crossed] = {}
    for thing in within:
        put = (said for _, said in insides_of(thing) if said.value["container_id"] in inside)
        if first := first_of(filter(is_through, put)):
            way = AGAIN if thing.record_id in listed_under else IN
            crossed[thing.record_id] = Crossed(way, thing, first)
    was_in = day.once(once_in)
    left = ((day.things[thing_id], tag) for one in inside for thing_id, tag in was_in.get(one, ()))
    for thing, tag in (*under, *left):
        if thing.record_id in crossed or container in where_is(thing, day.things, tag).inside:
            continue
        if first := first_of(filter(is_through, acts_on(thing, tag))):
            crossed[thing.record_id] = Crossed(OUT, thing, first)
    yield from sorted(crossed.values(), key=lambda one: one.thing.record_id)


def opened_at(things: list[Record], since: str) -> str | None:
    """When two people began to compare what lay under a seal, for which they had opened it; None if nobody has."""
    checked = (instant(check.made_at) for thing in things for _, check in all_said(thing))
    return min((at for at in checked if at > since), default=None)


def under_seal(seal: dict[str, Any], day: DayOnRecord) -> Iterator[tuple[Record, str | None]]:
    """What lay in a container as it was sealed, by the list that was made of it then; of an item with its number."""
    for number in seal.get("numbers") or ():
        if (thing := thing_with(number, day)) is not None:
            yield thing, number if thing.kind == "item" else None


def first_of(said: Iterator[FieldValue]) -> FieldValue | None:
    return min(said, key=lambda one: (instant(one.made_at), one.operation_id), default=None)


def insides_of(thing: Record) -> Iterator[tuple[str | None, FieldValue]]:
    """What says in which container a thing, or the piece of it that has a number, was put, or that it was taken out."""
    for name, said in one_thing(thing).fields.items():
        family, _, tag = name.partition("/")
        if family == "inside":
            yield tag or None, said


def acts_on(thing: Record, tag: str | None) -> Iterator[FieldValue]:
    """What took a thing, or a piece of it, out of where it lay."""
    moves = (move for _, move in listed(one_thing(thing), "moves/"))
    yield from (move for move in moves if move.value["tag"] in (None, tag))
    yield from (said for of, said in insides_of(thing) if of in (None, tag))


def once_in(day: DayOnRecord) -> dict[str, list[tuple[str, str | None]]]:
    """What was put into each container and was moved from there by itself since, by its ids and numbers."""
    found: dict[str, list[tuple[str, str | None]]] = {}
    for thing in chain(day.items, day.containers):
        for tag, said in insides_of(thing):
            container_id = said.value["container_id"]
            numbers: list[str | None] = [tag] if tag else [*tags_of(thing)] or [None]
            for of in numbers:
                if container_id and container_of(thing, of) != container_id:
                    found.setdefault(container_id, []).append((thing.record_id, of))
    return found
