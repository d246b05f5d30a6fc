"""Rolls, spoiled numbers and ties at the door without a socket: where each rule begins and ends."""

from __future__ import annotations

from itertools import islice
from typing import Any

import pytest

from intake.tagging.numbers import SERIALS
from intake.tagging.rolls import LONGEST_ROLL, last_of, left_before
from intake.tagging.tags import codes, serial_of, shown
from tests.builders import a_crate, a_day, a_tie, a_visit, an_item
from tests.door import Door

RUN = [*islice(codes(5000), 40)]
TAG, OTHER = RUN[0], RUN[1]


def a_roll(door: Door, numbers: list[str], **more: Any) -> tuple[str, dict[str, Any]]:
    body = {"day_id": door.day, "roll_id": door.ids.id(), "first_tag": numbers[0], "last_tag": numbers[-1]}
    return "issue_roll", {
        **body,
        "count": len(numbers),
        "given_to": "Table 1",
        "for_device_id": None,
        **more,
    }


def labels(
    door: Door, roll_id: str, *rows: list[str], label: str = "tag", **more: Any
) -> tuple[str, dict[str, Any]]:
    said = [{"first_tag": numbers[0], "count": len(numbers)} for numbers in rows]
    body = {"day_id": door.day, "print_id": door.ids.id(), "roll_id": roll_id, "label": label, "rows": said}
    return "print_labels", {**body, "seen": None, **more}


def spoiled(door: Door, tag: str) -> tuple[str, dict[str, Any]]:
    return "spoil_tag", {"day_id": door.day, "tag": tag, "why": "torn"}


def off(item_id: str, tag: str, why: str, replaced_by: str | None = None) -> tuple[str, dict[str, Any]]:
    return "remove_tag", {"item_id": item_id, "tag": tag, "why": why, "replaced_by": replaced_by}


@pytest.fixture
async def opened(door: Door) -> Door:
    door.day = str((await door.keep(a_day(door.ids)))["day_id"])
    return door


async def an_item_here(door: Door) -> str:
    visit = await door.keep(a_visit(door.ids, door.day, ticket=f"Q{door.next_seq:02}"))
    return str((await door.keep(an_item(door.ids, visit)))["item_id"])


async def test_rolls_may_touch_and_have_not_one_number_in_common(opened: Door) -> None:
    await opened.keep(a_roll(opened, RUN[10:20]))
    for common in (RUN[5:11], RUN[19:25], RUN[12:15], RUN[5:25], RUN[10:20]):
        assert await opened.refused(a_roll(opened, common)) == "roll_overlaps"
    await opened.keep(a_roll(opened, RUN[9:10]))
    await opened.keep(a_roll(opened, RUN[20:30]))
    assert await opened.faults() == []


async def test_an_office_with_no_number_left_names_the_one_behind_what_is_taken(opened: Door) -> None:
    await opened.database.write(
        lambda tx: tx.run(
            "UPDATE office SET first_serial = :first, last_serial = :last",
            first=serial_of(RUN[0]),
            last=serial_of(RUN[9]),
        )
    )
    await opened.keep(a_roll(opened, RUN[:10]))
    [told] = await opened.send(opened.make(a_roll(opened, RUN[5:8])))
    assert told["problem"]["code"] == "roll_overlaps"
    assert shown(RUN[10]) in told["problem"]["hint"]


async def test_no_two_files_of_labels_have_one_number_and_none_has_one_that_is_on_a_thing(
    opened: Door,
) -> None:
    """Tags, bags and crates of one roll, one after the other; what was passed over may be printed, what is used not."""
    kind, roll = a_roll(opened, RUN[:20])
    await opened.keep((kind, roll))
    roll_id = roll["roll_id"]
    item = await an_item_here(opened)
    await opened.keep(a_tie(item, RUN[3]))
    await opened.keep(labels(opened, roll_id, RUN[2:3], RUN[4:10]))
    for numbers in (RUN[9:12], RUN[2:3], RUN[3:4]):
        assert await opened.refused(labels(opened, roll_id, numbers, label="crate")) == "labels_printed", (
            numbers
        )
    await opened.keep(labels(opened, roll_id, RUN[10:12], label="crate"))
    assert await opened.refused(labels(opened, roll_id, RUN[12:14], RUN[13:15])) == "labels_printed"
    assert await opened.refused(labels(opened, roll_id, RUN[19:21])) == "not_found"
    assert await opened.refused(labels(opened, opened.ids.id(), RUN[12:14])) == "not_found"
    await opened.keep(labels(opened, roll_id, RUN[12:20], label="bag"))
    assert await opened.faults() == []


async def test_a_roll_s_id_names_one_roll(opened: Door) -> None:
    first = await opened.keep(a_roll(opened, RUN[:5]))
    assert first["disagreement"] is False
    again = a_roll(opened, RUN[3:10], roll_id=first["roll_id"])
    assert await opened.refused(again) == "already_there", "that it overlaps too is the lesser reason"
    assert await opened.refused(a_roll(opened, RUN[10:20], roll_id=first["roll_id"])) == "already_there"


@pytest.mark.parametrize(
    ("first", "last", "outside"),
    [(-3, 3, True), (0, 3, False), (46, 49, False), (47, 53, True), (60, 66, True), (-9, -3, True)],
)
async def test_only_the_office_s_own_numbers_are_given_out(
    opened: Door, first: int, last: int, outside: bool
) -> None:
    """Fifty of them; one that begins or ends beyond them is not. Heard out, an office takes those of before."""
    own = range(5000, serial_of([*islice(codes(5000), 50)][-1]) + 1)
    await opened.database.write(
        lambda tx: tx.run(
            "UPDATE office SET first_serial = :first, last_serial = :last", first=own[0], last=own[-1]
        )
    )
    around = [*islice(codes(4900), 200)]
    at = around.index(RUN[0])
    made = a_roll(opened, around[at + first : at + last + 1])
    if not outside:
        await opened.keep(made)
        return
    [told] = await opened.send(opened.make(made))
    assert told["problem"]["code"] == "numbers_of_another"
    assert shown(RUN[0]) in told["problem"]["hint"], "which number it may begin at"
    opened.hearing = True
    await opened.keep(made)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"first_tag": RUN[0].lower()}, "are written so, as on a tag"),
        ({"last_tag": RUN[9].lower()}, "are written so, as on a tag"),
        ({"count": 9}, "do not end at"),
        ({"count": 11}, "do not end at"),
        ({"first_tag": RUN[0][:5] + RUN[1][5]}, "a character is wrong"),
        ({"count": 0}, "count"),
        ({"count": LONGEST_ROLL + 1}, "20000"),
    ],
)
async def test_a_roll_that_does_not_hold_together_is_refused(
    opened: Door, change: dict[str, Any], words: str
) -> None:
    [told] = await opened.send(opened.make(a_roll(opened, RUN[:10], **change)))
    assert (told["outcome"], told["problem"]["code"]) == ("refused", "unreadable")
    assert words in told["problem"]["detail"]


def test_a_run_ends_where_so_many_numbers_are_counted() -> None:
    assert last_of(5000, 1) == RUN[0]
    assert last_of(5000, 40) == RUN[-1]
    left = [*codes(SERIALS - 50)]
    assert last_of(SERIALS - 50, len(left)) == left[-1]
    assert last_of(SERIALS - 50, len(left) + 1) is None


async def test_a_roll_of_more_numbers_than_there_are_is_refused(opened: Door) -> None:
    left = [*codes(SERIALS - 50)]
    [told] = await opened.send(opened.make(a_roll(opened, left, count=len(left) + 1)))
    assert f"There are no {len(left) + 1} numbers from {left[0]} on" in told["problem"]["detail"]


async def test_the_longest_roll_is_taken(opened: Door) -> None:
    numbers = [*islice(codes(5000), LONGEST_ROLL)]
    assert LONGEST_ROLL == 20_000
    await opened.keep(a_roll(opened, numbers))


async def test_only_a_roll_that_was_issued_is_given_on(opened: Door) -> None:
    roll = await opened.keep(a_roll(opened, RUN[:5]))
    given = {"day_id": opened.day, "given_to": "Table 2", "for_device_id": None, "seen": roll["operation_id"]}
    assert await opened.refused(("give_roll", {**given, "roll_id": opened.ids.id()})) == "not_found"
    await opened.keep(("give_roll", {**given, "roll_id": roll["roll_id"]}))
    name = f"roll-holders/{roll['roll_id']}"
    assert await opened.value(opened.day, name) == {"given_to": "Table 2", "for_device_id": None}


async def test_a_number_is_struck_through_once_and_as_it_stands_on_the_tag(opened: Door) -> None:
    item_id = await an_item_here(opened)
    await opened.keep(a_tie(item_id, OTHER))
    assert await opened.refused(spoiled(opened, OTHER)) == "tag_taken"
    assert await opened.refused(spoiled(opened, TAG[:5] + OTHER[5])) == "tag_check_failed"
    for _ in range(2):
        assert (await opened.keep(spoiled(opened, TAG)))["disagreement"] is False
    assert await opened.value(opened.day, f"spoiled/{TAG}") == {"tag": TAG, "why": "torn"}
    assert await opened.refused(a_tie(item_id, TAG)) == "tag_spoiled"
    assert await opened.faults() == []


async def test_a_tie_says_all_that_it_was_given_and_the_number_as_printed(opened: Door) -> None:
    item_id = await an_item_here(opened)
    typed = f" {shown(TAG).lower()} "
    await opened.keep(a_tie(item_id, typed))
    plain = {"tag": TAG, "piece": 1, "of": 1, "mark": "", "gone": None, "replaced_by": None}
    assert await opened.value(item_id, f"tags/{TAG}") == plain
    kind, body = a_tie(item_id, OTHER, piece=2)
    await opened.keep((kind, {**body, "of": 3, "mark": "with the bell"}))
    said = {**plain, "tag": OTHER, "piece": 2, "of": 3, "mark": "with the bell"}
    assert await opened.value(item_id, f"tags/{OTHER}") == said


@pytest.mark.parametrize("typed", [TAG[:5], f"{TAG}0", f"{TAG[:5]}{'0' if TAG[5] != '0' else '1'}"])
async def test_what_is_no_number_is_tied_to_nothing(opened: Door, typed: str) -> None:
    assert await opened.refused(a_tie(await an_item_here(opened), typed)) == "tag_check_failed"


@pytest.mark.parametrize(
    ("why", "then", "refused"),
    [
        ("lost", "lost", None),
        ("lost", "damaged", "tag_gone"),
        ("fallen-off", "taken-back", "tag_gone"),
        ("lost", "on-another-item", None),
        ("on-another-item", "lost", "tag_gone"),
    ],
)
async def test_why_a_number_is_gone_is_said_once(
    opened: Door, why: str, then: str, refused: str | None
) -> None:
    """But that it turned up on another thing can be said of any that is gone."""
    item_id = await an_item_here(opened)
    assert await opened.refused(off(item_id, TAG, why)) == "not_found", "it was never on it"
    await opened.keep(a_tie(item_id, TAG))
    await opened.keep(off(item_id, TAG, why, OTHER))
    gone = await opened.value(item_id, f"tags/{TAG}")
    assert (gone["tag"], gone["gone"], gone["replaced_by"]) == (TAG, why, OTHER)
    if refused:
        assert await opened.refused(off(item_id, TAG, then)) == refused
    else:
        await opened.keep(off(item_id, TAG, then))
    assert await opened.refused(a_tie(item_id, TAG)) == "tag_spoiled"
    assert await opened.faults() == []


async def test_a_number_of_the_same_thing_is_no_question_between_two(opened: Door) -> None:
    """Nor is one that is gone from the first: it may still turn up there."""
    first, second = await an_item_here(opened), await an_item_here(opened)
    await opened.keep(a_tie(first, TAG))
    await opened.keep(off(first, TAG, "lost"))
    for item_id, code in ((first, "tag_spoiled"), (second, "tag_taken")):
        [told] = await opened.send(opened.make(a_tie(item_id, TAG)))
        assert (told["problem"]["code"], told["disagreement"]) == (code, False)
        assert (await opened.record(item_id))["disagreements"] == []


@pytest.mark.parametrize("later", [False, True])
async def test_what_two_devices_say_of_one_number_is_for_a_person_whichever_came_first(
    opened: Door, later: bool
) -> None:
    """However their ids and their own counts compare: only a device's own later word takes the place of its earlier."""
    item_id = await an_item_here(opened)
    other = opened.other()
    assert opened.device_id < other.device_id
    first, second = (opened, other) if later else (other, opened)
    second.next_seq = first.next_seq + 50
    await first.keep(a_tie(item_id, TAG, piece=1))
    between = await second.keep(a_tie(item_id, TAG, piece=2))
    assert between["disagreement"] is True
    assert (await opened.value(item_id, f"tags/{TAG}"))["piece"] == 1


async def test_a_box_s_number_is_on_no_thing_and_no_question_between_two(opened: Door) -> None:
    await opened.keep(a_crate(opened.ids, opened.day, TAG))
    item_id = await an_item_here(opened)
    [told] = await opened.send(opened.make(a_tie(item_id, TAG)))
    assert (told["problem"]["code"], told["disagreement"]) == ("tag_taken", False)
    assert (await opened.record(item_id))["disagreements"] == []


def carried(door: Door, of: dict[str, Any], numbers: list[str], **more: Any) -> tuple[str, dict[str, Any]]:
    _, body = a_roll(door, numbers, from_roll_id=of["roll_id"], **more)
    return "carry_roll", body


async def another_day(door: Door) -> str:
    door.day = str((await door.keep(a_day(door.ids)))["day_id"])
    return door.day


async def left_over(door: Door) -> list[tuple[str, int, list[tuple[str, int, str]]]]:
    rolls = await door.database.read(lambda tx: left_before(tx, door.day))
    rows = [[(row["first_tag"], row["count"], row["label"]) for row in roll["rows"]] for roll in rolls]
    return [(roll["given_to"], roll["unused"], row) for roll, row in zip(rolls, rows, strict=True)]


async def test_what_is_unused_of_a_day_goes_on_on_the_next_once_and_no_number_that_is_used(
    opened: Door,
) -> None:
    roll = await opened.keep(a_roll(opened, RUN[:12], for_device_id="d1"))
    roll_id = roll["roll_id"]
    await opened.keep(a_tie(await an_item_here(opened), RUN[0]))
    await opened.keep(a_tie(await an_item_here(opened), RUN[4]))
    await opened.keep(spoiled(opened, RUN[5]))
    await opened.keep(labels(opened, roll_id, RUN[6:9]))
    assert await opened.refused(carried(opened, roll, RUN[6:9])) == "not_found", "it is of this day"

    await another_day(opened)
    rows = [(RUN[1], 3, ""), (RUN[6], 3, "tag"), (RUN[9], 3, "")]
    assert await left_over(opened) == [("Table 1", 9, rows)]
    assert await opened.refused(carried(opened, roll, RUN[3:6])) == "numbers_not_left"
    assert await opened.refused(carried(opened, roll, RUN[4:5])) == "numbers_not_left"
    assert await opened.refused(carried(opened, roll, RUN[5:7])) == "numbers_not_left"
    assert await opened.refused(carried(opened, roll, RUN[11:13])) == "not_found"
    assert await opened.refused(carried(opened, {"roll_id": opened.ids.id()}, RUN[6:9])) == "not_found"
    second = await opened.keep(carried(opened, roll, RUN[6:12], for_device_id="d1"))
    assert await opened.refused(carried(opened, roll, RUN[6:7])) == "numbers_not_left"
    assert await opened.refused(carried(opened, roll, RUN[1:4], roll_id=second["roll_id"])) == "already_there"
    assert await left_over(opened) == [("Table 1", 3, rows[:1])]
    holder = await opened.value(opened.day, f"roll-holders/{second['roll_id']}")
    assert holder == {"given_to": "Table 1", "for_device_id": "d1"}
    await opened.keep(labels(opened, second["roll_id"], RUN[6:9]))
    await opened.keep(a_tie(await an_item_here(opened), RUN[6]))

    await another_day(opened)
    assert await left_over(opened) == [
        ("Table 1", 5, [(RUN[7], 2, "tag"), rows[2]]),
        ("Table 1", 3, rows[:1]),
    ]
    await opened.keep(carried(opened, second, RUN[9:12]))
    assert await opened.refused(carried(opened, roll, RUN[9:12])) == "numbers_not_left"
    twice = [opened.make(carried(opened, roll, numbers)) for numbers in (RUN[1:3], RUN[2:4])]
    assert [one["outcome"] for one in await opened.send(*twice)] == ["kept", "refused"]
    assert await opened.faults() == []


async def test_an_office_that_hears_devices_out_takes_numbers_that_went_on_from_a_day_it_lacks(
    opened: Door,
) -> None:
    opened.hearing = True
    await opened.keep(carried(opened, {"roll_id": opened.ids.id()}, RUN[6:9]))
    opened.hearing = False
    assert await opened.faults() == []
