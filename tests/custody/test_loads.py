"""What of a load has come, as the office says it at a closing: by the clocks, however deep it was packed."""

from __future__ import annotations

from itertools import islice, pairwise
from typing import Any, cast

from intake.custody.containers import holders_of
from intake.custody.day_on_record import DayOnRecord
from intake.custody.differences import of_loads
from intake.custody.loads import Load, Loaded, loads_that_left
from intake.database import Reading
from intake.records.record import Record
from intake.records.values import FieldValue, compact
from intake.tagging.tags import codes, shown

NO_TABLES = cast(Reading, None)
NUMBERS = list(islice(codes(3000), 16))
CRATE, BAG, POT, COVER = NUMBERS[:4]


def said(value: Any, minute: int) -> FieldValue:
    return FieldValue(value, "", "ana", f"2026-03-14T10:{minute:02}:00Z", "", 0, compact(value))


def record(kind: str, record_id: str, fields: dict[str, FieldValue], **head: Any) -> Record:
    one = Record(NO_TABLES, record_id, kind, "d", 0, {"kind": kind, "record_id": record_id, **head}, new=True)
    one.fields = fields
    return one


def crate(number: str, *moves: tuple[str, int], inside: tuple[str | None, int] | None = None) -> Record:
    fields = {
        f"moves/m{at}": said({"to_place": place, "from_place": "table", "tag": None, "at": ""}, minute)
        for at, (place, minute) in enumerate(moves)
    }
    if moves:
        fields["whereabouts"] = fields[f"moves/m{len(moves) - 1}"]
    if inside:
        fields["inside"] = said({"container_id": inside[0]}, inside[1])
    return record("container", number, fields, kind_of="crate", number=number)


def load(*numbers: str, packed: dict[str, list[str]] | None = None, **more: Any) -> dict[str, Any]:
    within = [{"container": one, "numbers": others} for one, others in (packed or {}).items()]
    return {"to_place": "van", "at": "", "numbers": list(numbers), "packed": within, "of_load": None, **more}


def loads_of(
    loads: dict[str, tuple[dict[str, Any], int]], *things: Record, items: list[Record] | None = None
) -> list[Load]:
    day = record("day", "d", {f"loads/{one}": said(value, minute) for one, (value, minute) in loads.items()})
    return loads_that_left(DayOnRecord(day, [], items or [], list(things)))


def fate(thing: Loaded) -> tuple[bool, bool, str]:
    return thing.fate.came, thing.fate.again, thing.fate.now


def test_what_left_three_times_is_asked_for_with_the_last() -> None:
    """Between two loads it counts what was done before the next one of them, not the last."""
    loads = {"one": (load(CRATE), 0), "two": (load(CRATE), 10), "three": (load(CRATE), 20)}
    box = crate(CRATE, ("van", 1), ("van", 11), ("store", 15), ("van", 21))
    told = {each.load_id: fate(each.things[0]) for each in loads_of(loads, box)}
    again = (False, True, "left again with a later load")
    assert told == {"one": again, "two": (True, False, ""), "three": (False, False, "")}
    assert [each.load_id for each in loads_of(loads, box)] == ["three", "two", "one"]


def test_of_the_loads_of_one_device_the_later_is_the_later_though_its_clock_was_set_back() -> None:
    loads = {"one": (load(CRATE), 20), "two": (load(CRATE), 10), "other": (load(BAG), 15)}
    day = record("day", "d", {f"loads/{one}": said(value, minute) for one, (value, minute) in loads.items()})
    for seq, (name, device_id) in enumerate((("one", "a"), ("two", "a"), ("other", "b")), start=1):
        day.fields[f"loads/{name}"] = day.fields[f"loads/{name}"]._replace(
            device_id=device_id, device_seq=seq
        )
    told = loads_that_left(DayOnRecord(day, [], [], [crate(CRATE, ("van", 1))]))
    assert [each.load_id for each in told] == ["two", "one", "other"]
    assert {each.load_id: fate(each.things[0])[1] for each in told[:2]} == {"two": False, "one": True}


def test_what_was_taken_out_as_its_load_was_counted_again_is_of_neither() -> None:
    stays, out = crate(CRATE, ("van", 1)), crate(BAG, ("van", 1), ("holding", 6))
    loads = {"one": (load(CRATE, BAG), 5), "two": (load(CRATE), 10)}
    two, one = loads_of(loads, stays, out)
    assert (len(one.not_come), len(two.not_come)) == (0, 1)
    assert fate(one.things[1]) == (False, True, "taken out as it was counted again")
    assert not loads_of(loads, stays, crate(BAG))[1].not_come, "before the office heard that it was in"
    late = crate(BAG, ("van", 1), ("holding", 11))
    assert len(loads_of(loads, stays, late)[1].not_come) == 1, "after the second had left"
    came = {**loads, "store": (load(CRATE, to_place="store", of_load="one"), 20)}
    assert len(loads_of(came, stays, out)[1].not_come) == 1, "some of the first has come"


def test_what_comes_at_the_moment_in_which_it_leaves_has_not_come_since() -> None:
    assert fate(loads_of({"l": (load(CRATE), 5)}, crate(CRATE, ("store", 5), ("van", 6)))[0].things[0]) == (
        *(False, False, ""),
    )
    loads = {"one": (load(CRATE), 0), "two": (load(CRATE), 10)}
    assert fate(loads_of(loads, crate(CRATE, ("store", 10)))[1].things[0])[1], "it left again in that moment"


def test_what_was_moved_by_itself_before_its_crate_came_was_not_in_it() -> None:
    def bag(*moves: tuple[str, int]) -> list[tuple[bool, str]]:
        packed = {CRATE: [BAG]}
        box = crate(CRATE, ("van", 1), ("store", 20))
        within = crate(BAG, *moves, inside=(CRATE, 0))
        [one] = loads_of({"l": (load(CRATE, packed=packed), 1)}, box, within)
        [inner] = one.things[0].packed
        return [(inner.fate.came, inner.lacking_name)]

    assert bag() == [(True, f"crate {shown(BAG)}")]
    assert bag(("holding", 10)) == [(False, f"crate {shown(BAG)} (holding area)")]
    assert bag(("holding", 25)) == [(True, f"crate {shown(BAG)}")]
    assert bag(("holding", 20)) == [(True, f"crate {shown(BAG)}")], "as it came"


def test_what_was_moved_into_the_van_by_itself_is_named_as_still_there() -> None:
    within = crate(BAG, ("van", 10), inside=(None, 10))
    box = crate(CRATE, ("van", 1), ("store", 20))
    [found] = of_loads(loads_of({"l": (load(CRATE, packed={CRATE: [BAG]}), 1)}, box, within))
    assert found.words == f"Load to van: missing from what came: crate {shown(BAG)} (still in the van)"


def test_containers_are_read_as_deep_as_they_may_stand_in_each_other() -> None:
    def depth(thing: Loaded) -> int:
        return 1 + depth(thing.packed[0]) if thing.packed else 0

    chain = {outer: [inner] for outer, inner in pairwise(NUMBERS)}
    [one] = loads_of({"l": (load(NUMBERS[0], packed=chain), 1)})
    assert depth(one.things[0]) == 12
    circle = {CRATE: [BAG], BAG: [POT], POT: [BAG]}
    [one] = loads_of({"l": (load(CRATE, packed=circle), 1)})
    assert depth(one.things[0]) == 3


def test_a_piece_is_named_as_one_of_several() -> None:
    tied = {"piece": 1, "of": 1, "gone": None, "mark": ""}
    tags = {
        f"tags/{number}": said({**tied, "tag": number, **more}, 0)
        for number, more in (
            (POT, {}),
            (COVER, {"piece": 2, "of": 3}),
            (BAG, {"of": None}),
            (CRATE, {"of": 0}),
        )
    }
    pot = record("item", "pot", {"short_description": said("teapot", 0), **tags}, visit_id="v")
    [one] = loads_of({"l": (load(POT, COVER, BAG, CRATE, NUMBERS[9]), 1)}, items=[pot])
    assert [thing.words for thing in one.things] == [
        f"teapot {shown(POT)}",
        f"teapot {shown(COVER)}, piece 2 of 3",
        f"teapot {shown(BAG)}",
        f"teapot {shown(CRATE)}",
        f"{shown(NUMBERS[9])}, on nothing this device knows",
    ]


def test_a_thing_lies_wherever_a_number_of_it_lies_that_did_not_go_home() -> None:
    """A piece whose number came off lies where that was put; one that its owner has lies nowhere."""

    def tag(number: str, piece: int, gone: str | None = None) -> tuple[str, FieldValue]:
        return f"tags/{number}", said({"tag": number, "piece": piece, "of": 2, "gone": gone}, 0)

    def lies(number: str, container_id: str) -> tuple[str, FieldValue]:
        return f"inside/{number}", said({"container_id": container_id}, 1)

    def found(*fields: tuple[str, FieldValue]) -> set[str]:
        return holders_of(record("item", "teapot", dict(fields)))

    off, void = tag(COVER, 2, "fallen-off"), tag(COVER, 2, "taken-back")
    assert found(tag(POT, 1), lies(POT, CRATE), off, lies(COVER, BAG)) == {CRATE, BAG}
    assert found(tag(POT, 1), lies(POT, CRATE), void, lies(COVER, BAG)) == {CRATE}
    assert found(tag(POT, 1, "lost"), lies(POT, CRATE), off, ("inside", said({"container_id": BAG}, 1))) == {
        CRATE,
        BAG,
    }
