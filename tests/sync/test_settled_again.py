"""What the desk settled stays settled after a loss, in whatever order devices are heard then.

Which of two values was said first is an accident of the line. A settlement names the operations that it was about, and
means the same two whichever of them stands beside the other now.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from intake.tagging.tags import codes
from tests.builders import (
    Ids,
    a_caution,
    a_consignor,
    a_crate,
    a_day,
    a_decision,
    a_fact,
    a_finding,
    a_settlement,
    a_visit,
    a_zone,
    an_item,
    put_in,
    settling,
)
from tests.closings import named_now
from tests.custody.test_closed_twice import a_closing
from tests.door import Door, at_the_door
from tests.samples import seeds
from tests.sync.lost_day import LostDay

GAMES = seeds(24, of=3)
ONCE_FAILED = [56, 62]  # what was chosen, or had lost, had a later word in its place that was heard first
STEPS = 7
LONG = 14
LONG_GAMES = [
    45,  # at the first office already: what was chosen had been replaced, and another word stood beside
    *(118, 121, 126, 136, 148, 160),  # a question was put again, or another of the values held
]


#: An operation that sets the field to the value of a number.
Says = Callable[[int], tuple[str, dict[str, Any]]]


class Game:
    """One field of some family that three devices set, and the desk settles, as chance has it.

    Each device sees what stood when it last looked, with its own words on top: it says so with what it sends.
    """

    def __init__(self, manager: Door, seed: int) -> None:
        self.day, self.chance = LostDay(manager), random.Random(seed)
        self.devices = [self.day.manager, self.day.one, self.day.two]
        self.seen: dict[str, str | None] = {door.device_id: None for door in self.devices}
        self.record_id = self.field = ""
        self.says: Says
        self._values = 0

    async def begin(self, containers: int) -> None:
        day = self.day
        opened = await day.say(day.manager, a_day(day.manager.ids))
        visit = await day.say(day.one, a_visit(day.manager.ids, opened["day_id"]))
        item = await day.say(day.one, an_item(day.manager.ids, visit))
        caution = await day.say(day.one, a_caution(day.manager.ids, item["item_id"], level="amber"))
        crates = [
            await day.say(day.two, a_crate(day.manager.ids, opened["day_id"], number))
            for number, _ in zip(codes(77), range(containers), strict=False)
        ]
        places = [None, *(crate["container_id"] for crate in crates)]
        finding_id = day.manager.ids.id()
        day_id, visit_id, item_id = opened["day_id"], visit["visit_id"], item["item_id"]
        person = {"person_id": "otis", "name": "Otis Cratehope"}
        self.record_id, self.field, self.says = self.chance.choice(
            [
                (item_id, "materials", lambda one: a_fact(item_id, "materials", f"cloth {one}")),
                (
                    item_id,
                    "zones/head",
                    lambda one: a_zone(item_id, "head", state="not-examined", reason="covered", count=one),
                ),
                (
                    item_id,
                    f"findings/{finding_id}",
                    lambda one: a_finding(
                        day.manager.ids, item_id, "head", finding_id=finding_id, extent_mm=one
                    ),
                ),
                (
                    item_id,
                    f"caution-decisions/{caution['caution_id']}",
                    lambda one: a_decision(item_id, caution["caution_id"], "cleared", note=f"expert {one}"),
                ),
                (visit_id, "consignor/name", lambda one: a_consignor(visit_id, "name", f"Tumblewick {one}")),
                (
                    item_id,
                    "inside",
                    lambda one: put_in(item_id, places[one % len(places)]),
                ),
                (
                    day_id,
                    "people/otis",
                    lambda one: (
                        "add_person",
                        {"day_id": day_id, "person": {**person, "name": f"Otis {one}", "roles": ["valuer"]}},
                    ),
                ),
                (
                    day_id,
                    "house",
                    lambda one: (
                        "correct_day",
                        {"day_id": day_id, "field": "house", "value": f"House {one}"},
                    ),
                ),
            ]
        )

    async def play(self, steps: int) -> None:
        """In long games nobody says by chance what another said before: of two who say the same the office takes the
        first, and whether it heard the second before that was replaced no device knows."""
        await self.begin(containers=2 if steps == STEPS else steps + 1)
        if self.field in ("house", "people/otis"):  # which managers alone set
            self.day.one.role = self.day.two.role = "manager"
        if (
            self.field == "people/otis"
        ):  # what is said of them without having seen anything replaces what stands
            await self.set(self.day.manager)
            for door in self.devices:
                await self.look(door)
        for _ in range(steps):
            door = self.chance.choice(self.devices)
            if self.chance.random() < 0.4:
                await self.look(door)
            if self.chance.random() < 0.25 and (open_now := await self.open_now()):
                await self.settle(self.chance.choice(open_now))
            else:
                await self.set(door)
        while open_now := await self.open_now():
            await self.settle(self.chance.choice(open_now))

    async def standing(self) -> str | None:
        current = (await self.day.manager.record(self.record_id))["fields"].get(self.field)
        return str(current["operation_id"]) if current else None

    async def look(self, door: Door) -> None:
        self.seen[door.device_id] = await self.standing()

    async def set(self, door: Door) -> None:
        self._values = self._values + 1
        made = await self.day.say(door, self.says(self._values), seen=self.seen[door.device_id])
        self.seen[door.device_id] = made["operation_id"]

    async def open_now(self) -> list[dict[str, Any]]:
        between: list[dict[str, Any]] = (await self.day.manager.record(self.record_id))["disagreements"]
        return [one for one in between if one["settled"] is None]

    async def settle(self, between: dict[str, Any]) -> None:
        manager = self.day.manager
        choose = self.chance.choice(["kept", "other", "standing"])
        record = await manager.record(self.record_id)
        await self.day.say(manager, settling(record, between, choose))
        await self.look(manager)


@pytest.mark.parametrize(
    ("seed", "steps"),
    [
        *((seed, STEPS) for seed in sorted({*GAMES, *ONCE_FAILED})),
        *((seed, LONG) for seed in sorted({*GAMES, *LONG_GAMES})),
    ],
)
async def test_all_that_was_settled_is_settled_the_same_in_another_order(
    tmp_path: Path, ids: Ids, door: Door, seed: int, steps: int
) -> None:
    game = Game(door, seed)
    await game.play(steps)
    before = await door.value(game.record_id, game.field)
    async with at_the_door(tmp_path / "anew", ids, numbers=(2, 2)) as anew:
        assert await game.day.come_in_parts(anew, game.chance) == []
        record = await anew.record(game.record_id)
        assert record["fields"][game.field]["value"] == before
        assert [one for one in record["disagreements"] if one["settled"] is None] == []
        assert await anew.faults() == []


@pytest.mark.parametrize("choose", ["kept", "other"])
async def test_what_an_app_of_before_settled_means_the_same_two(
    tmp_path: Path, ids: Ids, door: Door, choose: str
) -> None:
    """It named the word that was heard second alone."""
    day = LostDay(door)
    item_id = (await day.item())["item_id"]
    first = await day.say(day.one, a_fact(item_id, "materials", "tin"))
    second = await day.say(day.two, a_fact(item_id, "materials", "brass"))
    await day.say(door, a_settlement(item_id, second["operation_id"], choose))
    async with at_the_door(tmp_path / "anew", ids, numbers=(2, 2)) as anew:
        day.sent[day.one.device_id].remove(first)
        assert await day.come_to(anew, (day.manager, day.one, day.two, day.manager)) == [
            "settle_disagreement"
        ]
        day.sent[day.one.device_id].append(first)
        assert await day.come_to(anew, (day.one, day.manager)) == []
        record = await anew.record(item_id)
        assert record["fields"]["materials"]["value"] == ("tin" if choose == "kept" else "brass")
        assert [one["settled"] is None for one in record["disagreements"]] == [False]
        assert await anew.faults() == []


@pytest.mark.parametrize("choose", ["kept", "other"])
async def test_a_settlement_of_two_that_stand_no_longer_says_so(door: Door, choose: str) -> None:
    """A later word has taken the place of the one beside: who settles has read another pair, and is told of whom."""
    item_id = (await door.item())["item_id"]
    one, two = door.other("table"), door.other("table")
    await one.keep(a_fact(item_id, "materials", "tin"))
    said = await two.keep(a_fact(item_id, "materials", "brass"))
    [between] = (read := await door.record(item_id))["disagreements"]
    later = await two.keep(a_fact(item_id, "materials", "bronze", seen=said["operation_id"]))
    [answer] = await door.send(door.make(settling(read, between, choose)))
    assert (answer["outcome"], answer["problem"]["code"]) == ("refused", "changed_since")
    assert "“materials”" in answer["problem"]["detail"]
    assert "Hester Quillfeather" in answer["problem"]["detail"]
    assert "Open the record again" in answer["problem"]["hint"]
    [now] = (record := await door.record(item_id))["disagreements"]
    assert (now["disagreement_id"], now["settled"]) == (later["operation_id"], None)
    await door.keep(settling(record, now, "other"))
    assert await door.value(item_id, "materials") == "bronze"


async def test_a_settlement_puts_nothing_over_what_its_maker_had_not_read(door: Door) -> None:
    """A third person changed what stood, having seen it: the other of the two would have taken its place unread."""
    item_id = (await door.item())["item_id"]
    first = await door.keep(a_fact(item_id, "materials", "tin"))
    await door.other("table").keep(a_fact(item_id, "materials", "brass"))
    [between] = (read := await door.record(item_id))["disagreements"]
    await door.other("table").keep(a_fact(item_id, "materials", "tinplate", seen=first["operation_id"]))
    assert await door.refused(settling(read, between, "other")) == "changed_since"
    await door.keep(settling(read, between, "kept"))
    assert await door.value(item_id, "materials") == "tinplate"
    assert await door.faults() == []


def settled_elsewhere(record_id: str, kept: str, other: str, choose: str) -> tuple[str, dict[str, Any]]:
    """A settlement made where `kept` was heard first and stood."""
    kind, body = a_settlement(record_id, other, choose)
    return kind, {**body, "kept_id": kept, "standing_id": kept}


async def test_who_saw_what_was_settled_on_has_seen_the_word_itself(door: Door) -> None:
    """Here the chosen word was heard first, and so is in force without the settlement: both say the same."""
    item_id = (await door.item())["item_id"]
    chosen = await door.other("table").keep(a_fact(item_id, "materials", "brass"))
    beside = await door.other("table").keep(a_fact(item_id, "materials", "tin"))
    settled = await door.keep(
        settled_elsewhere(item_id, beside["operation_id"], chosen["operation_id"], "other")
    )
    after = await door.other("table").keep(
        a_fact(item_id, "materials", "bronze", seen=settled["operation_id"])
    )
    assert not after["disagreement"]
    assert await door.value(item_id, "materials") == "bronze"
    await door.rebuild()
    assert await door.faults() == []


async def test_a_settlement_ends_no_question_beside_a_word_that_its_maker_had_not_read(door: Door) -> None:
    """Both of the two stand beside a third here, which was heard before them."""
    item_id = (await door.item())["item_id"]
    await door.other("table").keep(a_fact(item_id, "materials", "copper"))
    tin = await door.other("table").keep(a_fact(item_id, "materials", "tin"))
    brass = await door.other("table").keep(a_fact(item_id, "materials", "brass"))
    settlement = settled_elsewhere(item_id, tin["operation_id"], brass["operation_id"], "other")
    assert await door.refused(settlement) == "changed_since"
    asked = (await door.record(item_id))["disagreements"]
    assert [one["settled"] for one in asked] == [None, None]


async def test_a_closing_that_stands_nowhere_any_more_is_settled_on_all_the_same(door: Door) -> None:
    """While devices are heard out a second word about two closings comes after the question was put away: what it
    chose is read off the log."""
    day_id = (await door.item())["day_id"]
    first = await door.keep(a_closing(day_id, "Winifred Thimblewick", **await named_now(door, day_id)))
    second = door.make(a_closing(day_id, "Ned Lanternfield", []))
    await door.send(second)
    door.hearing = True
    ids = first["operation_id"], second["operation_id"]
    await door.keep(settled_elsewhere(day_id, *ids, "kept"))
    assert (await door.value(day_id, "closed"))["closed_by"] == "Winifred Thimblewick"
    await door.keep(settled_elsewhere(day_id, *ids, "other"))
    assert (await door.value(day_id, "closed"))["closed_by"] == "Ned Lanternfield"
    await door.rebuild()
    assert await door.faults() == []


@pytest.mark.parametrize("choose", ["kept", "other"])
@pytest.mark.parametrize("second_first", [True, False])
async def test_which_of_two_closings_holds_is_settled_whichever_is_heard_first(
    tmp_path: Path, ids: Ids, door: Door, choose: str, second_first: bool
) -> None:
    """The one that is heard first closes the day; the other stands beside it, and the manager's word counts again."""
    day = LostDay(door)
    day_id = (await day.item())["day_id"]
    day.one.role = "manager"
    first = await day.say(day.one, a_closing(day_id, "Winifred Thimblewick", **await named_now(door, day_id)))
    second = door.make(a_closing(day_id, "Ned Lanternfield", ["Q04: no seal"]))
    [answer] = await door.send(second)
    assert (answer["outcome"], answer["disagreement"]) == ("refused", True)
    day.sent[door.device_id].append(second)
    [between] = (read := await door.record(day_id))["disagreements"]
    async with at_the_door(tmp_path / "anew", ids, numbers=(2, 2)) as anew:
        order = (day.manager, day.one) if second_first else (day.one, day.manager)
        for one in (day.manager, *order):
            opening = [one for one in day.sent[door.device_id] if one is not second]
            here = await day._at(anew, one)
            await here.send(
                *(opening if one is day.manager and not second_first else day.sent[one.device_id])
            )
        await day.come_to(anew, order)
        [asked] = [one for one in (await anew.record(day_id))["disagreements"] if one["settled"] is None]
        assert asked["disagreement_id"] == (first if second_first else second)["operation_id"]
        await day.say(door, settling(read, between, choose))
        await day.come_to(anew, order)
        record = await anew.record(day_id)
        said = "Winifred Thimblewick" if choose == "kept" else "Ned Lanternfield"
        assert record["fields"]["closed"]["value"]["closed_by"] == said
        assert [one["settled"] is None for one in record["disagreements"]] == [False]
        assert await anew.faults() == []


async def close_thrice(day: LostDay, chance: random.Random) -> str:
    """Three managers close a day, each before hearing of another, and the desk settles in between and afterwards; the
    day's id."""
    manager = day.manager
    day_id = str((await day.item())["day_id"])
    doors = [manager, day.one, day.two]
    day.one.role = day.two.role = "manager"

    async def settle_one() -> None:
        record = await manager.record(day_id)
        if open_now := [one for one in record["disagreements"] if one["settled"] is None]:
            choose = chance.choice(["kept", "other", "standing"])
            await day.say(manager, settling(record, chance.choice(open_now), choose))

    for number, door in enumerate(chance.sample(doors, len(doors))):
        closing = door.make(a_closing(day_id, f"Winifred {number}", **await named_now(door, day_id)))
        await door.send(closing)
        day.sent[door.device_id].append(closing)
        if chance.random() < 0.4:
            await settle_one()
    for _ in doors:
        await settle_one()
    return day_id


@pytest.mark.parametrize("seed", GAMES)
async def test_of_three_closings_the_same_holds_in_another_order(
    tmp_path: Path, ids: Ids, door: Door, seed: int
) -> None:
    """The second settlement goes on from what the first one chose."""
    day, chance = LostDay(door), random.Random(seed)
    day_id = await close_thrice(day, chance)
    before = await door.value(day_id, "closed")
    async with at_the_door(tmp_path / "anew", ids, numbers=(2, 2)) as anew:
        await day.come_in_parts(anew, chance)
        record = await anew.record(day_id)
        assert record["fields"]["closed"]["value"] == before
        assert [one for one in record["disagreements"] if one["settled"] is None] == []
        assert await anew.faults() == []


async def test_what_was_chosen_holds_where_another_word_stands_beside_it(door: Door) -> None:
    """That word goes on from what is chosen, which had been replaced, and its question is put after this one."""
    item_id = (await door.item())["item_id"]
    one, two = door.other("table"), door.other("table")
    tin = await one.keep(a_fact(item_id, "materials", "tin"))
    await two.keep(a_fact(item_id, "materials", "brass"))
    tinplate = await one.keep(a_fact(item_id, "materials", "tinplate", seen=tin["operation_id"]))
    await two.keep(a_fact(item_id, "materials", "pewter", seen=tin["operation_id"]))
    brass, pewter = (record := await door.record(item_id))["disagreements"]
    assert record["fields"]["materials"]["operation_id"] == tinplate["operation_id"]
    await door.keep(settling(record, brass, "kept"))
    assert await door.value(item_id, "materials") == "tin"
    await door.keep(settling(await door.record(item_id), pewter, "standing"))
    assert await door.value(item_id, "materials") == "tin"
    assert await door.faults() == []


async def test_what_was_chosen_and_stands_nowhere_any_more_comes_and_not_another_word_beside(
    door: Door,
) -> None:
    """The later word of who said it had been read, and was not chosen: it stays a question of its own."""
    item_id = (await door.item())["item_id"]
    one, two = door.other("table"), door.other("table")
    tin = (await one.keep(a_fact(item_id, "materials", "tin")))["operation_id"]
    brass = (await two.keep(a_fact(item_id, "materials", "brass")))["operation_id"]
    pewter = (await two.keep(a_fact(item_id, "materials", "pewter", seen=brass)))["operation_id"]
    kind, body = settled_elsewhere(item_id, tin, brass, "other")
    door.hearing = True
    await door.keep((kind, {**body, "beside_ids": [pewter]}))
    record = await door.record(item_id)
    assert record["fields"]["materials"]["value"] == "brass"
    assert [(one["disagreement_id"], one["settled"]) for one in record["disagreements"]] == [(pewter, None)]
    assert await door.faults() == []
