"""Containers: bags, boxes and crates, which nest. What is inside is known by scanning it in."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from typing import Annotated, Any, Literal

from pydantic import Field

from intake.custody.with_owner import field_of_piece, is_back_with_owner, is_later, one_thing, tags_here
from intake.edits import Edit
from intake.errors import (
    CrateOfAnotherDay,
    InsideItself,
    NestedTooDeep,
    NotAmongOthers,
    NotFound,
    NotIsolation,
    TakenAway,
)
from intake.examination.whole_thing import said_taken_away
from intake.operation import HandsOn, Identifier, Instant, Line, Opening, Operation, Tag, taken_away_on
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.registries import lies_with
from intake.records.values import Source
from intake.tagging.tags import normalise, shown
from intake.tagging.ties import check_free, require_tag, take_number

NESTED = 12  # containers inside each other; in a hall four do: bag, box, crate, cage (from memory)
APART = ("isolation", "returned", "table")  # where something that is held apart may be


class OpenContainer(Opening):
    """A bag, box or crate gets its number. `kind_of` says which; numbers come from the same rolls as tags."""

    roles = frozenset({"table", "porter", "door", "desk"})
    record_kinds = ("container",)
    record_member = "container_id"
    head_members = ("number", "kind_of")

    kind: Literal["open_container"]
    container_id: Identifier
    day_id: Identifier
    number: Tag
    kind_of: Literal["bag", "box", "crate"]

    def check_opening(self, records: Records) -> None:
        """Raises TagTaken if the number is on something."""
        records.require(self.day_id, "day")
        check_free(records, require_tag(self.number), self.container_id, self.day_id)

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        if self.number is not None:
            record.head["number"] = normalise(self.number)
            take_number(records, record.head["number"], record.record_id, source)
        return False


class PutInside(Edit, HandsOn):
    """An item or a container goes into a container, or out of it: null is not inside anything.

    `tag` is the piece's, for an item of several pieces that travel apart; null is the whole of it.
    """

    roles = frozenset({"table", "porter", "door", "desk"})
    record_kinds = ("item", "container")
    record_member = "thing_id"
    field_name = "inside[/{tag}]"
    is_of_place = True

    kind: Literal["put_inside"]
    thing_id: Identifier
    container_id: Identifier | None
    tag: Tag | None = None

    @classmethod
    def in_words(cls) -> str:
        return "put a thing inside"

    def check_on(self, record: Record, records: Records) -> None:
        """Raises NotFound for no such piece, and what `check_value` raises."""
        check_piece(record, self.tag)
        super().check_on(record, records)

    def handles(self, record: Record, records: Records) -> Iterable[Record]:
        into = records.find(self.container_id or "")
        opened = () if into is None else things_inside(outermost(into, records), records)
        return once([record, *things_inside(record, records), *opened, *beside(record, self.tag, records)])

    @classmethod
    def check_value(cls, record: Record, name: str, value: Any, records: Records, by: Operation) -> None:
        """Raises InsideItself, NestedTooDeep, NotFound for no such container, CrateOfAnotherDay, and what
        `check_carried`, `check_beside`, `check_among` and `check_contents` raise."""
        into = value["container_id"] and records.require(value["container_id"], "container")
        if into and into.day_id != record.day_id:
            raise CrateOfAnotherDay(shown(into.head["number"]))
        check_nesting(record, into or None, records)
        check_carried(by, record, place_of(into, records) if into else "table", records)
        check_beside(by, record, name.partition("/")[2] or None, records)
        if into:
            check_contents(by, outermost(into, records), records)
            check_among(by, record, into, records)


MOST_UNDER = 2_000  # numbers under one seal, as in one load


class SealContainer(Edit, HandsOn):
    """A numbered seal is put on, read at a check, or found broken; two people look at it.

    `numbers` are those of all that lay in the container as it was sealed, at any depth, and stay with the seal for as
    long as it holds, as does `sealed_at`, when that was: what is on record of it since then contradicts the seal.
    `put_on` and `read` are the two numbers once it was read otherwise than it was put on; every later seal keeps them.
    """

    roles = frozenset({"table", "porter", "door", "desk"})
    record_kinds = ("container",)
    record_member = "container_id"
    field_name = "seal"
    if_said = ("numbers", "sealed_at", "put_on", "read")

    kind: Literal["seal_container"]
    container_id: Identifier
    seal: Line
    state: Literal["sealed", "intact", "differs", "broken", "opened"]
    second_by: Line
    numbers: Annotated[list[Tag], Field(max_length=MOST_UNDER)] | None = None
    sealed_at: Instant | None = None
    put_on: Line | None = None
    read: Line | None = None

    def kind_obeyed(self, record: Record, records: Records) -> str:
        """What lies in it is handled as what is put in is."""
        return "put_inside"

    def handles(self, record: Record, records: Records) -> Iterable[Record]:
        return once([record, *things_inside(outermost(record, records), records)])

    def check_on(self, record: Record, records: Records) -> None:
        """Raises what `check_contents` raises."""
        super().check_on(record, records)
        check_contents(self, outermost(record, records), records)


def check_nesting(thing: Record, container: Record | None, records: Records) -> None:
    """Raises InsideItself if a thing holds the container that it is to go into, at any depth, NestedTooDeep for more
    than NESTED inside each other."""
    if container is None:
        return
    outside = list(containers_around(container, records))
    ids = [record.record_id for record in outside]
    if thing.record_id in ids or container_of(outside[-1]) in ids:
        raise InsideItself(shown((thing if thing.record_id in ids else container).head["number"]))
    within = containers_within(thing, records)
    if within and len(outside) + within > NESTED:
        raise NestedTooDeep(NESTED)


def container_of(thing: Record, tag: str | None = None) -> str | None:
    """The container in which a thing, or the piece of it that has a tag, lies by itself; None if in none.

    What was moved by itself since it was put in is out: whoever moves it takes it in hand. So is what an authority took
    away.
    """
    inside, moved = field_of_piece(thing, "inside", tag), field_of_piece(thing, "whereabouts", tag)
    if inside is None or (moved is not None and is_later(moved, inside)):
        return None
    if thing.kind == "item" and said_taken_away([thing, *thing.others()]):
        return None
    return inside.value["container_id"] or None


def holders_of(thing: Record) -> set[str]:
    """The containers in which a thing lies directly: several if its pieces do not lie together."""
    thing = one_thing(thing)
    numbers = thing.values("tags/").values()
    void = {number["tag"] for number in numbers if number["gone"] == "taken-back"}
    apart = {name.partition("/")[2] for name in thing.values("inside/")} - void
    tied = set(tags_here(thing))  # a number that went home says nothing of the rest
    # By no number only where it has none.
    asked: list[str | None] = [*(apart | tied)] if tied else [*apart, None]
    within = (container_of(thing, tag) for tag in asked)
    return {container_id for container_id in within if container_id}


def place_of(container: Record, records: Records) -> str:
    """Where a container is: where the outermost that it stands in was moved to."""
    moved = outermost(container, records).value("whereabouts")
    return moved["to_place"] if moved else "table"


def containers_around(container: Record, records: Records) -> Iterator[Record]:
    """A container and those that it stands in, from inside out, each once: versions of before could leave a circle on
    record."""
    passed: set[str] = set()
    around: Record | None = container
    while around is not None and around.record_id not in passed:
        passed.add(around.record_id)
        yield around
        around = records.find(container_of(around) or "")


def outermost(container: Record, records: Records) -> Record:
    """The container that a container stands in, over however many; of a circle any one of it."""
    return list(containers_around(container, records))[-1]


def things_inside(container: Record, records: Records) -> Iterator[Record]:
    """All that is in a container at any depth, whole or in pieces, each once; not what went back to its owner."""
    for layer in layers_inside(container, records):
        yield from layer


def layers_inside(container: Record, records: Records) -> Iterator[list[Record]]:
    """What `things_inside` gives, by depth: what lies in the container itself, then what lies in that, and so on.

    Each thing in hand that is not written yet is asked once where it is, however deep the containers stand.
    """
    if container.kind != "container":
        return
    unwritten: dict[str, set[str]] = defaultdict(set)
    in_hand = [thing for thing_id in records.unwritten() if (thing := records.find(thing_id)) is not None]
    for thing in in_hand:
        for name in thing.changed:
            if name.startswith("inside"):
                unwritten[thing.value(name)["container_id"]].add(thing.record_id)
    passed, layer = {container.record_id}, [container]
    while layer:
        found: dict[str, Record] = {}
        for outer in layer:
            rows = records.tx.all(
                """
                SELECT record_id FROM field
                WHERE name >= 'inside' AND name < 'inside0' AND value ->> 'container_id' = :outer
                """,
                outer=outer.record_id,
            )
            for thing_id in {row["record_id"] for row in rows} | unwritten[outer.record_id]:
                thing = records.find(thing_id) if thing_id not in passed else None
                if thing is not None and is_inside(thing, outer.record_id):
                    passed.add(thing_id)
                    found[thing_id] = thing
        layer = list(found.values())
        if layer:
            yield layer


def containers_within(thing: Record, records: Records) -> int:
    """How many containers stand inside each other in a thing, itself the outermost; 0 for an item."""
    if thing.kind != "container":
        return 0
    layers = layers_inside(thing, records)
    return 1 + sum(any(record.kind == "container" for record in layer) for layer in layers)


def is_inside(thing: Record, container_id: str) -> bool:
    """Whether a thing, or a piece of it, is in the container itself."""
    return container_id in holders_of(thing) and not is_back_with_owner(thing)


def check_carried(operation: Operation, thing: Record, place: str, records: Records) -> None:
    """Whether a thing may be carried to a place with all that is in it. Raises TakenAway, NotIsolation, and ItemStopped
    for what is inside; what the thing itself may have was asked before.

    What was there before anybody had set it apart stays there in the ledger until somebody moves it. To put a thing
    into a container, or out of it, is to carry it.
    """
    taken = taken_away_on(thing, records)
    if taken and operation.heard_of(taken):
        raise TakenAway(taken.value["decided_by"])
    for record in (thing, *things_inside(thing, records)):
        inside = "" if record is thing else name_inside(record)
        if inside:
            operation.check_not_stopped(record, "record_move", records, inside=inside)
        if place not in APART and apart_on(operation, record, records):
            raise NotIsolation(place, inside)


def apart_on(operation: Operation, thing: Record, records: Records) -> bool:
    """Whether a thing is held apart, as far as whoever made an operation can have known."""
    values = (value for same in records.same_thing(thing) for value in same.derived("held_apart") or ())
    return any(operation.knew_of(value) for value in values)


def check_among(operation: Operation, thing: Record, into: Record, records: Records) -> None:
    """Whether a thing may lie among what is in a container, at any depth. Raises NotAmongOthers if it, or something in
    it, is held apart and something there is not, or the other way about.

    In isolation they may lie together: what stands there is kept from the rest as it is. The device says the same
    (`web/job/kept_apart.ts`); `fixtures/among.json` holds both to it.
    """
    if place_of(into, records) == "isolation":
        return
    put = [one for one in (thing, *things_inside(thing, records)) if one.kind == "item"]
    same = {one.record_id for item in put for one in records.same_thing(item)}
    outer = outermost(into, records)
    there = [one for one in things_inside(outer, records) if one.kind == "item" and one.record_id not in same]
    for mine, others, is_in_it in ((put, there, False), (there, put, True)):
        apart = next((one for one in mine if apart_on(operation, one, records)), None)
        if apart and not all(apart_on(operation, one, records) for one in others):
            raise NotAmongOthers(shown(outer.head["number"]), name_inside(apart), is_in_it=is_in_it)


@lies_with
def beside(thing: Record, tag: str | None, records: Records) -> Iterator[Record]:
    """All that lies in what a thing, or the piece of it that has a tag, lies in, at any depth: whoever takes it out
    opens all of that."""
    within = holders_of(thing) if tag is None else {container_of(thing, tag)}
    around = (records.find(container_id) for container_id in sorted(filter(None, within)))
    for container in around:
        if container is not None:
            yield from things_inside(outermost(container, records), records)


def once(things: Iterable[Record]) -> list[Record]:
    """Each record once, in the order in which they are first named."""
    return list({thing.record_id: thing for thing in things}.values())


def check_beside(operation: Operation, thing: Record, tag: str | None, records: Records) -> None:
    """Whether a thing, or a piece of it, may be handled where it lies. Raises ItemStopped for what is stopped in there
    and may not be moved: nobody opens what holds it."""
    for record in beside(thing, tag, records):
        operation.check_not_stopped(record, "put_inside", records, inside=name_inside(record))


def check_contents(operation: Operation, container: Record, records: Records) -> None:
    """Whether a container may be handled: to seal it, or put something in, is to handle all that is in it. Raises
    ItemStopped for what is stopped in there and may not be moved."""
    for record in things_inside(container, records):
        operation.check_not_stopped(record, "put_inside", records, inside=name_inside(record))


def name_inside(thing: Record) -> str:
    return thing.value("short_description") or "something not named yet"


def check_piece(thing: Record, tag: str | None) -> None:
    """Raises NotFound for a piece's tag that was never on the thing."""
    if tag is not None and f"tags/{tag}" not in thing.fields:
        raise NotFound("piece with the tag", shown(tag))
