"""What the closing of a day has to name, read off its records; every line is one difference, with where to look.

A device in the hall reads the same off the records that it holds (`web/job/closing.ts`), with no network; this is for
whoever keeps no copy of the day. `fixtures/closing.json` holds the two to the same lines.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, tzinfo
from functools import cached_property
from itertools import chain, islice
from operator import itemgetter
from typing import Any, NamedTuple

from intake.arrival.people import as_one_name
from intake.arrival.tickets import as_one_ticket
from intake.custody.compared import all_said, numbers_left
from intake.custody.day_on_record import OF_CHECK_IN, DayOnRecord, listed, values_of
from intake.custody.difference_kinds import KINDS, MOST_NAMED, OF_NO_OWNER, RAISED, RANKS, key_of_difference
from intake.custody.item_differences import (
    STILL,
    Named,
    chain_breaks,
    differs_by,
    holds_kept_apart,
    is_nobody_of,
    item_named,
    stopped_named,
    waits_for_its_owner,
)
from intake.custody.late_acts import late_acts, late_words
from intake.custody.loads import COME, Load, Loaded, load_name, loads_that_left
from intake.custody.moves import in_order
from intake.custody.number_parts import numbers_shown
from intake.custody.owed_signatures import Signed, signed_of
from intake.custody.packed import Packed
from intake.custody.plan_used import PlanUsed
from intake.custody.sealed import contradicted, wrong_seal
from intake.custody.whereabouts import (
    containers_by_number,
    pieces_of,
    tags_of,
    thing_name,
    where_is,
)
from intake.custody.with_owner import is_later
from intake.examination.whole_thing import is_stopped, may_be_returned
from intake.families import key_of
from intake.field_words import field_words
from intake.in_words import counted, some_of
from intake.records.record import Record
from intake.records.values import FieldValue
from intake.tagging.tags import codes, serial_of, shown

MOST_BROUGHT = 2  # things by which an owner is told from another


class Found(NamedTuple):
    """A difference: of what kind, in words, the app's address where to look, and what it is known by. `former` is by
    what closings of before know one whose words name things: it changed as one of those got another name."""

    kind: str
    words: str
    at: str
    key: str
    former: str = ""


Note = Callable[[Record, Signed], None]


@dataclass(frozen=True)
class Closing:
    """A day as it is closed. `row_names` are what the rows of hazards are called, `class_names` what classes are, and
    `zone` is the clock that people read."""

    day: DayOnRecord
    plan_used: PlanUsed
    row_names: dict[str, str]
    zone: tzinfo | None = None
    class_names: Mapping[str, str] | None = None

    @cached_property
    def tickets(self) -> dict[str, str]:
        return {visit.record_id: ticket_words(visit) for visit in self.day.visits}

    def signed_visits(self) -> Iterator[tuple[Record, Signed]]:
        """Each visit with what of its items was signed for."""
        for visit in self.day.visits:
            yield visit, signed_of(visit, self.day.items_of(visit.record_id), self.day)

    @cached_property
    def sharing(self) -> dict[str, dict[str, str]]:
        """The visits by their tickets, where several have one, each with the words that tell them apart."""
        by_ticket: dict[str, dict[str, str]] = {}
        for visit in self.day.visits:
            ticket = as_one_ticket(visit.value("ticket") or "")
            if ticket:
                by_ticket.setdefault(ticket, {})[visit.record_id] = self.came_words(visit)
        return {ticket: those for ticket, those in by_ticket.items() if len(those) > 1}

    @cached_property
    def doubled(self) -> set[str]:
        return {visit_id for those in self.sharing.values() for visit_id in those}

    @cached_property
    def loads(self) -> list[Load]:
        return loads_that_left(self.day)

    @cached_property
    def with_loads(self) -> set[str]:
        """The numbers that are named with a load of which they have not come."""
        return {loaded.number for load in self.loads for loaded in (*load.not_come, *load.taken_out)}

    def differences(self) -> Iterator[Found]:
        """All of them, in the order of their kinds; those of one kind in the order of the day."""
        return each_of(by_kind(self.found()))

    def found(self, note: Note = lambda visit, signed: None) -> Iterator[Found]:
        """All of them; those of one kind in the order of the day. `note` hears of each visit what was signed for, which
        is worked out on the way."""
        yield from self.of_incidents()
        yield from self.of_items()
        yield from self.of_containers()
        yield from of_loads(self.loads)
        yield from of_people(self.day.day)
        yield from of_tables(self.day.day)
        yield from of_contested(self.day.day)
        yield from of_rolls(self.day)
        yield from of_raised(self.day)
        yield from self.of_tickets()
        for visit, signed in self.signed_visits():
            note(visit, signed)
            yield from self.of_visit(visit, signed)

    def of_incidents(self) -> Iterator[Found]:
        """Incidents that nobody has settled, or two have and said otherwise, in the order in which they were seen."""
        day = self.day.day
        standing = [
            (incident_id, incident)
            for incident_id, incident in listed(day, "incidents/")
            if f"incident-ends/{incident_id}" not in day.fields
            or day.is_contested(f"incidents/{incident_id}")
            or day.is_contested(f"incident-ends/{incident_id}")
        ]
        for incident_id, entry in sorted(standing, key=lambda row: row[1].value["seen_at"]):
            by = ", by somebody who is not on the day's list" if is_nobody_of(day, entry) else ""
            key = key_of_difference("incident", incident_id)
            yield Found("incident", f"{self.incident_words(entry)}{by}", "#/stop", key)

    def incident_words(self, field: FieldValue) -> str:
        """When, where, beside whom; and what was seen, in the words of whoever typed it."""
        incident = field.value
        ticket = f"ticket {incident['ticket']}" if incident["ticket"] else "no ticket told"
        seen = ", ".join(filter(None, [self.row_names.get(incident["hazard"], ""), incident["sign"]]))
        return (
            f"Stop at {clock_words(incident['seen_at'], self.zone)}, {ticket}, {incident['place'] or 'no place told'}: "
            f"{seen or 'nothing written yet'} ({incident['hazard']})"
        )

    def on_item(self, item: Record, named: Iterable[Named]) -> Iterator[Found]:
        """What is said of an item, behind its name."""
        for one in named:
            kind, words = one[:2]
            known = known_by(kind, item.record_id, *one[1:])
            yield Found(kind, f"{self.named(item)}: {words}", f"#/item/{item.record_id}", *known)

    def named(self, item: Record) -> str:
        """Whose an item is, what it is and which numbers are on it."""
        tags = numbers_shown(item, tags_of(item))
        ticket = self.tickets.get(item.head["visit_id"], "no visit")
        return f"{ticket}, {thing_name(item)}{f' {tags}' if tags else ''}"

    def called(self, record: Record) -> str:
        """What an item or a visit is called in a line of its own."""
        return self.named(record) if record.kind == "item" else ticket_words(record)

    def of_items(self) -> Iterator[Found]:
        """What is stopped is of kinds that are of nothing else, so that an item is gone through once."""
        waiting: dict[str, str] = {}
        for item in self.day.items:
            if waits_for_its_owner(item, self.day):
                waiting[item.record_id] = self.named(item)
            yield from self.on_item(item, stopped_named(item, self.day))
            yield from self.of_late_acts(item)
            yield from self.on_item(item, item_named(item, self.day, self.plan_used, self.with_loads))
        if waiting:
            names = some_of([*waiting.values()], MOST_NAMED, "; ")
            words = f"In isolation, nobody has cleared it, and its owner is gone: {names}"
            key = key_of_difference("held", self.day.day.record_id, ",".join(sorted(waiting)))
            yield Found("held", words, "#/places", key)

    def of_late_acts(self, item: Record) -> Iterator[Found]:
        """What was done to a stopped item by whoever had not heard of that, and nobody has looked at since. It is
        known by what did it, whichever clock reads its hour."""
        day, things = self.day.day, self.day.things
        for late_id, late in late_acts(item):
            clock = clock_words(late.made_at, self.zone)
            words = late_words(item, late, day=day, things=things, clock=clock)
            key = key_of_difference("heard-late", item.record_id, late_id)
            yield Found("heard-late", f"{self.named(item)}: {words}", f"#/item/{item.record_id}/stop", key)

    def of_containers(self) -> Iterator[Found]:
        """What has not come of a load is named with that load, once."""
        for container in self.day.containers:
            for one in container_named(container, self.day):
                kind, words = one[:2]
                if kind == "not-arrived" and container.head["number"] in self.with_loads:
                    continue
                known = known_by(kind, container.record_id, *one[1:])
                yield on_container(container, kind, words, *known)
            if against := contradicted(container, self.day):
                words, said = against
                key = key_of_difference("seal-differs", container.record_id, said)
                yield on_container(container, "seal-differs", words, key)

    def of_tickets(self) -> Iterator[Found]:
        """A ticket that two owners hold, at each of them, with when they came and what they brought to tell them apart:
        whoever calls it, or looks it up, may have the wrong one. No owner is named, since what a closing names stands
        in the log."""
        for ticket, those in self.sharing.items():
            for visit_id, came in those.items():
                brought = self.day.items_of(visit_id)
                words = (
                    f"{ticket}{came}: {len(those)} owners hold this ticket, "
                    f"this one with {brought_words(brought)}; give one of them another"
                )
                key = key_of_difference("ticket-on-two", visit_id)
                yield Found("ticket-on-two", words, f"#/visit/{visit_id}", key)

    def came_words(self, visit: Record) -> str:
        """Which of two owners with one ticket it is: when they came, and to which table."""
        table = table_name(self.day.day, visit.value("table_id") or "") or "no table"
        return f" (came {clock_words(visit.head.get('opened_at') or '', self.zone)}, {table})"

    def has_gone(self, item: Record) -> bool:
        """Whether a thing, or a piece of it, has left the hall."""
        return any(piece.where.place in ("van", *COME) for piece in pieces_of(item, self.day.things))

    def of_visit(self, visit: Record, signed: Signed) -> Iterator[Found]:
        address = f"#/visit/{visit.record_id}"

        def found(kind: str, said: str, at: str = address) -> Found:
            key = key_of_difference(kind, visit.record_id, said)
            return Found(kind, f"{ticket}: {said}", at, key)

        ticket = ticket_words(visit) + (self.came_words(visit) if visit.record_id in self.doubled else "")
        has_left, counted_at_table = visit.value("stage") == "left", visit.value("item_count")
        if not has_left:
            yield found("visit", "the visit is still open")
        for item in signed.back_unsigned:
            yield from self.on_item(item, [("unsigned", "taken back, and nobody has signed for it")])
        for _, receipt in signed.receipts:
            if receipt.value.get("is_unnamed"):
                said = f"receipt {receipt.value['number']} for what was taken back names nobody who took it"
                yield found("unsigned", said, f"{address}/receipt")
        for item in signed.all_items:
            thing = self.day.same_thing(item)
            if item.record_id in signed.given_back and is_stopped(thing) and not may_be_returned(thing):
                words = "the owner has signed for having it back, and it is stopped"
                yield from self.on_item(item, [("stopped", words)])
        # What is signed for at the end of a visit still may have gone on its way before that.
        gone = [] if has_left else [item for item in signed.here_unsigned if self.has_gone(item)]
        if gone:
            count = f"{len(gone)} of {len(signed.here)}"
            yield found(
                "no-receipt", f"{count} left the hall without the owner's signature", f"{address}/receipt"
            )
        if has_left and signed.here_unsigned:
            count = f"{len(signed.here_unsigned)} of {len(signed.here)}"
            yield found(
                "no-receipt", f"{count} left here without the owner's signature", f"{address}/receipt"
            )
        if signed.changes:
            # What was said of it holds under whichever name a house gives a class.
            known = known_by("receipt-changed", visit.record_id, changed_words(signed), changed_of(signed))
            named = found("receipt-changed", changed_words(signed, self.class_names), f"{address}/receipt")
            yield named._replace(key=known.key, former=known.former)
        if isinstance(counted_at_table, int) and counted_at_table != len(signed.items):
            yield found(
                "count", f"{counted_at_table} things counted at the table, {len(signed.items)} on record"
            )


def changed_words(signed: Signed, class_names: Mapping[str, str] | None = None) -> str:
    """What is otherwise than the receipts of a visit say, thing by thing; without names no class is called."""
    changed = {change.receipt_id for change in signed.changes}
    numbers = [one.receipt.value["number"] for one in signed.standing if one.receipt_id in changed]
    things: dict[str, tuple[str, dict[str, None]]] = {}  # of one thing two lines may stand
    for change in signed.changes:
        what = change.what_named(class_names) if class_names else change.what
        things.setdefault(change.item_id, (change.name, {}))[1].update(dict.fromkeys(what))
    named = [f"{name} ({', '.join(what)})" for name, what in things.values()]
    since = f"changed since {' and '.join(numbers)} {'was' if len(numbers) == 1 else 'were'} signed"
    return f"{since}: {some_of(named, MOST_NAMED, '; ')}"


def changed_of(signed: Signed) -> str:
    """The same by ids alone: which thing of which receipt, and what of it."""
    return "; ".join(f"{one.receipt_id} {one.item_id} {', '.join(one.what)}" for one in signed.changes)


class Known(NamedTuple):
    """By what a difference is known, and by what it was in closings of before."""

    key: str
    former: str = ""


def known_by(kind: str, record_id: str, words: str, of: str = "") -> Known:
    """By what it says, if its words name nothing that may get another name; else by what it is `of`, in ids."""
    former = key_of_difference(kind, record_id, words)
    return Known(key_of_difference(kind, record_id, of), former) if of else Known(former)


def by_kind(found: Iterable[Found]) -> dict[str, Packed]:
    """Differences by their kinds, in the order of those: of a day of thousands they are tens of thousands."""
    packed: dict[str, Packed] = {}
    for one in found:
        packed.setdefault(one.kind, Packed()).add(one._asdict())
    return dict(sorted(packed.items(), key=lambda of_kind: RANKS.get(of_kind[0], len(KINDS))))


def each_of(packed: dict[str, Packed]) -> Iterator[Found]:
    """The differences that were packed."""
    return (Found(**json.loads(line)) for lines in packed.values() for line in lines)


def ticket_words(visit: Record) -> str:
    """The ticket of a visit; "no ticket" where its field was emptied."""
    return (visit.value("ticket") or "").strip() or "no ticket"


def clock_words(instant: str, zone: tzinfo | None) -> str:
    """Hour and minute by a clock on the wall; `zone` None for this machine's own."""
    try:
        return datetime.fromisoformat(instant).astimezone(zone).strftime("%H:%M")
    except ValueError:
        return "a time that nobody can read"


def table_name(day: Record, table_id: str) -> str:
    """What a table of a day is called now; "" of one that there is not."""
    first = {table["table_id"]: table["name"] for table in day.head.get("tables") or []}
    now = day.value(f"tables/{table_id}") or {}
    return str(now.get("name") or first.get(table_id) or "")


def brought_words(items: Sequence[Record]) -> str:
    """The first things of an owner, by their names."""
    return some_of([*map(thing_name, items)], MOST_BROUGHT) or "nothing on record"


def on_container(container: Record, kind: str, words: str, key: str, former: str = "") -> Found:
    at = f"#/container/{container.record_id}"
    return Found(kind, f"{thing_name(container)}: {words}", at, key, former)


def container_named(container: Record, day: DayOnRecord) -> Iterator[Named]:
    where = where_is(container, day.things)
    if where.place in STILL and not where.inside:  # else it is named with the one that it is in
        yield "not-arrived", STILL[where.place]
    if where.place == "isolation" and not where.inside and not holds_kept_apart(container, day):
        yield "not-arrived", "in isolation, and nothing in it is held"
    seals = [seal.value for _, seal in container.said("seal")]
    if wrong := next(filter(None, map(wrong_seal, seals)), None):
        yield "seal-differs", wrong
    if not seals and any(move["to_place"] == "van" for move in values_of(container, "moves/")):
        yield "seal-differs", "it went into the van, and no seal of it is on record"
    current = container.fields.get("seal")
    came = [move for _, move in in_order(listed(container, "moves/")) if move.value["to_place"] == "store"]
    is_there = where.place == "store" and not where.inside  # what is in another came under the seal of that
    is_sealed = bool(current and current.value and current.value["state"] == "sealed")
    if current and is_sealed and is_there and came and is_later(came[-1], current):
        yield "seal-differs", f"nobody looked at seal {current.value['seal']} when it came to the store"
    if is_there:
        yield from not_compared(container, day)
    yield from container_contested(container, day)
    yield from chain_breaks(container, day.things)


def not_compared(container: Record, day: DayOnRecord) -> Iterator[Named]:
    """What lies in a container at the store, and nobody has compared."""
    held = day.items_within(container)
    left = [item for item in held if is_left_in(item, container, day)]
    of = ",".join(sorted(item.record_id for item in left))
    if left and len(left) == len(held):
        yield "not-compared", f"{counted(len(left), 'thing')} in it, and nothing was compared yet", of
    elif left:
        names = some_of([*map(thing_name, left)], MOST_NAMED)
        yield (
            "not-compared",
            f"{len(left)} of {len(held)} things in it not compared as it was checked in: {names}",
            of,
        )


def is_left_in(item: Record, container: Record, day: DayOnRecord) -> bool:
    """Whether one of its numbers that lie there was not compared, or all of what has none. A difference that was noted
    of it stands for a check-in of all of it, where none says of which number it is."""
    left = numbers_left(item)
    if not left or (item.record_id in day.noted_at_check_in and not all_said(item)):
        return False
    pieces = pieces_of(item, day.things)
    lying = {piece.tag for piece in pieces if container in piece.where.inside}
    return not lying or not lying.isdisjoint(left)


def container_contested(container: Record, day: DayOnRecord) -> Iterator[Named]:
    """What two people said otherwise of a container, neither having heard of the other."""
    for between in container.disagreements.values():
        if between.settled:
            continue
        kept, other = (json.loads(side)["value"] for side in (between.kept, between.other))
        # One that is broken or differs is named as that.
        if between.name == "seal" and not (wrong_seal(kept) or wrong_seal(other)):
            sides = " or ".join(f"{seal['seal']} {seal['state']}" for seal in (kept, other))
            yield "seal-differs", f"two people recorded its seal otherwise: {sides}"
        if between.name == "inside":
            sides = " or ".join(in_container(inside, day) for inside in (kept, other))
            yield "disagreement", f"two people put it otherwise: {sides}"


def in_container(inside: dict[str, Any], day: DayOnRecord) -> str:
    if not inside["container_id"]:
        return "in no container"
    outer = day.things.get(inside["container_id"])
    return f"in {thing_name(outer) if outer else 'a container'}"


def of_loads(loads: list[Load]) -> Iterator[Found]:
    """The loads of which something has not come."""
    for load in loads:
        lacking, taken = load.not_come, load.taken_out
        if lacking or taken:
            name = load_name(load.value).replace("load", "Load", 1)
            count = f"{len(lacking)} of {counted(len(load.things), 'thing')} not come"
            parts = [f"{count}: {names(map(with_ledger, lacking))}"] if lacking else []
            parts += [f"missing from what came: {names(map(with_ledger, taken))}"] if taken else []
            words = f"{name}: {'; '.join(parts)}"
            of = "; ".join(",".join(sorted(thing.number for thing in things)) for things in (lacking, taken))
            known = known_by("load-short", load.load_id, words, of)
            yield Found("load-short", words, f"#/load/{load.load_id}", *known)


def with_ledger(thing: Loaded) -> Loaded:
    """With where the ledger has it: what is nowhere else is still in the van."""
    now = thing.fate.now or ("still in the van" if thing.thing_id else "")
    return replace(thing, fate=replace(thing.fate, now=now))


def names(things: Iterable[Loaded]) -> str:
    return "; ".join(thing.lacking_name for thing in things)


def of_people(day: Record) -> Iterator[Found]:
    """Several on the day's list under one name: whose records are whose can then be told by nobody."""
    by_name: dict[str, list[tuple[str, dict[str, Any]]]] = {}
    for person_id, field in sorted(listed(day, "people/"), key=itemgetter(0)):
        if not field.value.get("left"):
            by_name.setdefault(as_one_name(field.value["name"]), []).append((person_id, field.value))
    for people in by_name.values():
        if len(people) > 1:
            first_id, first = people[0]
            how = "; ".join(", ".join(person["roles"]) for _, person in people)
            words = (
                f"{first['name']}: {len(people)} on the day's list have this name ({how}); "
                "say whether they are one"
            )
            yield Found("one-name", words, "#/day", key_of_difference("one-name", first_id))


def key_of_same(kind: str, those: list[tuple[str, str]]) -> str:
    """What tables of one name are known by: what was said of two of them was not said of a third, nor under another
    name."""
    return key_of_difference(kind, those[0][0], " ".join(chain.from_iterable(those)))


def of_tables(day: Record) -> Iterator[Found]:
    """Several tables under one name, also those that were taken away: at which one a thing was is told by nobody."""
    first: list[dict[str, Any]] = day.head.get("tables") or []
    now = {name.removeprefix("tables/"): field.value for name, field in listed(day, "tables/")}
    begun = sorted(table["table_id"] for table in first)
    named = {table["table_id"]: table["name"] for table in first}
    named |= {table_id: table["name"] for table_id, table in now.items()}
    by_name: dict[str, list[tuple[str, str]]] = {}
    for table_id in [*begun, *sorted(named.keys() - set(begun))]:
        by_name.setdefault(as_one_name(named[table_id]), []).append((table_id, named[table_id]))
    for tables in by_name.values():
        if len(tables) > 1:
            words = f"{len(tables)} tables are called {tables[0][1]}; give each a name of its own"
            yield Found("one-table", words, "#/day", key_of_same("one-table", tables))


#: What a day was set up with. Two closings, and what two tell otherwise of an incident, have lines of their own.
SET_UP = frozenset({"house", "place", "held_on", "tables/"})


def of_contested(day: Record) -> Iterator[Found]:
    """What two managers set otherwise of the day: it is closed and printed under a house and a date."""
    for between in day.disagreements.values():
        if key_of(between.name) in SET_UP and not between.settled:
            values = [json.loads(side)["value"] for side in (between.kept, between.other)]
            named = "" if between.name == "held_on" else f", {' or '.join(map(set_up_words, values))}"
            words = f"the day: two people set {field_words(between.name)} otherwise{named}"
            key = key_of_difference("disagreement", between.disagreement_id, words)
            yield Found("disagreement", words, "#/day", key)


def set_up_words(value: str | dict[str, Any]) -> str:
    """A house or a place as it was typed, a table by its name."""
    if isinstance(value, str):
        return f"“{value}”"
    return f"“{value['name']}{', taken away' if value['gone'] else ''}”"


def of_rolls(day: DayOnRecord) -> Iterator[Found]:
    """Numbers of a roll that lie before one that was used, and were neither used nor struck through."""
    used = day.with_number.keys() | day.once(containers_by_number).keys()
    spoiled = {number.value["tag"] for _, number in listed(day.day, "spoiled/")}
    rolls = sorted(listed(day.day, "rolls/"), key=lambda roll: serial_of(roll[1].value["first_tag"]))
    for roll_id, given in rolls:
        numbers = list(islice(codes(serial_of(given.value["first_tag"])), given.value["count"]))
        last = max((index for index, number in enumerate(numbers) if number in used), default=0)
        passed = [number for number in numbers[:last] if number not in used and number not in spoiled]
        if passed:
            holder = day.day.value(f"roll-holders/{roll_id}") or {"given_to": ""}
            named = some_of([*map(shown, passed)], MOST_NAMED)
            words = f"{holder['given_to']}: {named} passed over and not struck through"
            known = known_by("passed-over", roll_id, words, ",".join(passed))
            yield Found("passed-over", words, "#/rolls", *known)


def of_raised(day: DayOnRecord) -> Iterator[Found]:
    """What somebody has noted, and nobody has settled; of what was noted at a check-in with what was written there."""
    for difference_id, field in listed(day.day, "differences/"):
        raised = field.value
        if not day.day.value(f"difference-ends/{difference_id}"):
            is_told = raised["owner_told"] or raised["difference"] in OF_NO_OWNER
            owner = "" if is_told else ", the owner is not told"
            kind = RAISED.get(raised["difference"], raised["difference"])
            thing = day.things.get(raised["thing_id"] or "") if raised["difference"] in OF_CHECK_IN else None
            differs = differs_by(thing) if thing is not None and thing.kind == "item" else None
            written = ": ".join(filter(None, [raised["words"], differs["words"] if differs else ""]))
            words = f"{kind}: {written or 'nothing written'}{owner}"
            key = key_of_difference(raised["difference"], difference_id)
            yield Found(raised["difference"], words, "#/closing", key)
