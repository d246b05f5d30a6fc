"""What one device was sent is ready for the next: the same as if it had been read anew."""

from __future__ import annotations

import json
import random
import sqlite3
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from intake.database import Reading
from intake.families import EVERYONE, Asker
from intake.operation import KINDS
from intake.reading import told_items
from intake.sync.kinds import STEPS
from intake.sync.ready import ReadyRecords
from intake.sync.rebuild import rebuild
from tests.builders import Ids, a_consignor, a_fact, a_visit, an_item
from tests.door import Door, at_the_door
from tests.samples import seeds
from tests.sync.any_operation import AnyOperation
from tests.sync.planted import set_visit
from tests.sync.test_any_operations import FIRST

assert STEPS, "all kinds are gathered"
GAMES = seeds(12, of=3)
ROLES = sorted(EVERYONE.roles)
LOOKS = 60
#: What changes who reads what, or of many records at once, comes more often than the rest.
OFTEN = [
    *("set_visit", "set_visit", "set_item", "set_item", "set_item", "set_consignor"),
    *("erase_consignor", "merge_item", "settle_disagreement"),
]
TOLD, OWNER = "told-by-the-owner", "Marrowby"  # what the owner is called by is their first name


def ready_in(door: Door) -> str:
    """All that is kept in memory."""
    circles = door.ready._circles.values()
    return b"".join(sent.content for kept in circles for sent in kept.records.values()).decode()


async def read_anew(door: Door, **asked: Any) -> dict[str, Any]:
    """The same page by a device that finds nothing ready."""
    other = door.other()
    other.ready, other.device_id = ReadyRecords(), door.device_id
    return await other.feed(**asked)


async def test_what_is_ready_is_what_is_read_anew(door: Door) -> None:
    item = await door.item()
    await door.keep(a_fact(item["item_id"], "told_words", TOLD))
    await door.keep(a_consignor(item["visit_id"], "name", f"Clementine {OWNER}"))
    other = door.other("table")
    for reader in (door, other):
        for role in ("porter", "table", "door", "manager") * 2:
            page = await reader.feed(role=role)
            assert page == await read_anew(reader, role=role), role
            assert (TOLD in json.dumps(page)) == (role != "porter" and (reader is door or role != "table"))
    assert OWNER in json.dumps(await door.feed(role="table")), "it opened the visit"
    assert OWNER not in json.dumps(await other.feed(role="table")), "what is one table's is kept for no other"
    assert TOLD in ready_in(door), "for a door and a manager"
    assert OWNER not in ready_in(door)


async def test_what_was_told_at_one_table_is_kept_ready_for_none(door: Door) -> None:
    """Whichever of them asks first, and wherever the visit is by then."""
    item = await door.item()
    await door.keep(a_fact(item["item_id"], "told_words", TOLD))
    devices = {seat: door.other("table") for seat in ("t1", "t2")}

    async def read_told() -> list[str]:
        """The seats whose devices read it, all asking in turn and twice, with and without what is ready."""
        told = []
        for seat, device in [*devices.items(), *reversed(devices.items())]:
            page = await device.feed(role="table", table_id=seat)
            assert page == await read_anew(device, role="table", table_id=seat)
            assert (await device.record(item["item_id"], "table", seat)) in page["records"]
            told += [seat] if TOLD in json.dumps(page) else []
        assert TOLD not in ready_in(door)
        return sorted(told)

    assert await read_told() == []
    at = await door.keep(set_visit(item["visit_id"], "table_id", "t1"))
    opened = (await door.record(item["visit_id"]))["fields"]["stage"]["operation_id"]
    await door.keep(set_visit(item["visit_id"], "stage", "at-table", opened))
    assert await read_told() == ["t1", "t1"]
    await door.keep(set_visit(item["visit_id"], "table_id", "t2", at["operation_id"]))
    assert await read_told() == ["t2", "t2"]


async def test_of_which_things_an_owner_told_is_asked_once_for_all_tables(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A page of a day has hundreds of them; where their owners sit is asked each time."""
    item = await door.item()
    await door.keep(a_fact(item["item_id"], "told_words", TOLD))
    asked: list[list[str]] = []

    def told(tx: Reading, asker: Asker, record_ids: Sequence[str]) -> dict[str, str]:
        asked.append(list(record_ids))
        return told_items(tx, asker, record_ids)

    monkeypatch.setattr("intake.sync.ready.told_items", told)
    for seat in ("t1", "t2", "t1"):
        assert TOLD not in json.dumps(await door.other("table").feed(role="table", table_id=seat))
    assert asked == [[item["item_id"]], [], []]


async def test_what_one_device_was_sent_is_not_read_again_for_the_next(door: Door) -> None:
    """As long as a record keeps its place in the feed, whatever the tables say; visits are read each time."""
    item = await door.item()
    await door.keep(a_fact(item["item_id"], "maker", "unmarked"))
    page = await door.feed(role="porter")
    await door.database.write(
        lambda tx: tx.run("UPDATE record SET body = replace(body, 'unmarked', 'Plumb')")
    )
    assert await door.feed(role="porter") == page
    assert "Plumb" in json.dumps(await read_anew(door, role="porter"))


async def test_a_record_is_read_again_once_it_has_changed(door: Door) -> None:
    item = await door.item()
    second = await door.keep(an_item(door.ids, item))
    before = await door.feed()
    await door.keep(a_fact(item["item_id"], "maker", "unmarked"))
    page = await door.feed()
    assert [record["record_id"] for record in page["records"]][-2:] == [second["item_id"], item["item_id"]]
    assert page["records"][-1]["fields"]["maker"]["value"] == "unmarked"
    assert page["cursor"] > before["cursor"]
    [kept] = door.ready._circles.values()
    assert kept.size == sum(len(sent.content) for sent in kept.records.values()), "the last of each alone"
    assert page == await read_anew(door)
    assert await door.feed(before["cursor"]) == await read_anew(door, after=before["cursor"])
    assert await door.feed(limit=2) == await read_anew(door, limit=2)


async def test_one_that_was_made_anew_and_is_another_in_its_place_is_not_taken_for_it(door: Door) -> None:
    """A record that a rebuild leaves out may free the last place in the feed."""
    item = await door.item()
    await door.feed()

    def change_places(tx: Any) -> None:
        place = tx.value("SELECT feed_seq FROM record WHERE record_id = :item", item=item["item_id"])
        tx.run("UPDATE record SET feed_seq = feed_seq + 10 WHERE record_id = :item", item=item["item_id"])
        tx.run(
            "UPDATE record SET feed_seq = :place WHERE record_id = :visit",
            place=place,
            visit=item["visit_id"],
        )

    await door.database.write(change_places)
    assert await door.feed() == await read_anew(door)


async def test_words_that_are_erased_are_not_kept_ready(door: Door) -> None:
    item = await door.item()
    await door.keep(a_fact(item["item_id"], "told_words", TOLD))
    for role in ("door", "manager"):
        await door.feed(role=role)
    assert ready_in(door).count(TOLD) == 2
    await door.keep(("erase_consignor", {"visit_id": item["visit_id"]}))
    assert TOLD not in json.dumps(await door.feed(role="manager"))
    assert TOLD not in ready_in(door), "whoever asks first after an erasure has all of it let go"


async def test_whoever_looks_at_a_moment_before_an_erasure_leaves_nothing_ready(door: Door) -> None:
    item = await door.item()
    await door.keep(a_fact(item["item_id"], "told_words", TOLD))
    asker = await door.asker("manager")
    after_one = await door.database.read(lambda tx: door.ready.of_day(tx, asker, 0, 500, erased=1))
    door.ready._circles.clear()
    before = await door.database.read(lambda tx: door.ready.of_day(tx, asker, 0, 500, erased=0))
    assert before == after_one
    assert ready_in(door) == ""


async def test_no_more_is_kept_than_there_is_room_for(door: Door) -> None:
    await door.keep(a_visit(door.ids, (await door.item())["day_id"], ticket="Q09"))
    await door.feed(role="porter")
    size = len(ready_in(door))
    door.ready = ReadyRecords(limit=size + 10)
    for role in ("porter", "manager", "table", "porter"):
        assert await door.feed(role=role) == await read_anew(door, role=role)
        assert 0 < len(ready_in(door)) <= size + 10, role
    door.ready = ReadyRecords(limit=10)
    for _ in range(2):
        assert await door.feed() == await read_anew(door)
        assert ready_in(door) == ""


async def test_whoever_reads_more_than_there_is_room_for_still_finds_what_is_kept(door: Door) -> None:
    item = await door.item()
    for _ in range(6):
        await door.keep(an_item(door.ids, item))
    await door.feed()
    size = len(ready_in(door))
    door.ready = ReadyRecords(limit=size // 2)

    async def read_in_pages() -> str:
        after, more = 0, True
        while more:
            page = await door.feed(after=after, limit=2)
            assert page == await read_anew(door, after=after, limit=2)
            after, more = page["cursor"], page["more"]
        return ready_in(door)

    kept = await read_in_pages()
    assert size // 4 < len(kept) <= size // 2, "what comes last lets go of nothing that came first"
    assert await read_in_pages() == kept, "page after page, it is there for the next"


def made_anew(tx: Any) -> None:
    """Tables that come out otherwise, as after words that came back: what they had is not what the log says."""
    tx.run("UPDATE record SET body = replace(body, '\"value\":', '\"value\": ') WHERE kind = 'item'")
    rebuild(tx)


async def test_what_was_told_comes_again_where_a_rebuild_seats_its_owner_elsewhere(door: Door) -> None:
    item = await door.item()
    await door.keep(a_fact(item["item_id"], "told_words", TOLD))
    await door.keep(set_visit(item["visit_id"], "table_id", "t1"))
    opened = (await door.record(item["visit_id"]))["fields"]["stage"]["operation_id"]
    await door.keep(set_visit(item["visit_id"], "stage", "at-table", opened))
    table = door.other("table")
    before = await table.feed(role="table", table_id="t1")
    await door.rebuild()
    assert (await table.feed(before["cursor"], "table", table_id="t1"))["records"] == [], "it is as it was"
    await door.database.write(lambda tx: tx.run("UPDATE field SET value = '\"t2\"' WHERE name = 'table_id'"))
    before = await table.feed(role="table", table_id="t2")
    assert TOLD in json.dumps(before)
    await door.rebuild()
    [again] = (await table.feed(before["cursor"], "table", table_id="t2"))["records"]
    assert again["record_id"] == item["item_id"]
    assert TOLD not in json.dumps(again)


class Follower:
    """What a table's device has of a day, from reading on from where it was."""

    def __init__(self) -> None:
        self.cursor, self.records = 0, dict[str, dict[str, Any]]()

    async def read_on(self, device: Door, day_id: str, seat: str) -> None:
        more = True
        while more:
            page = await device.feed(self.cursor, "table", 3, day_id=day_id, table_id=seat)
            self.records |= {one["record_id"]: one for one in page["records"]}
            self.cursor, more = page["cursor"], page["more"]

    def of_day(self, day_id: str = "") -> dict[str, dict[str, Any]]:
        """Those of the day on which it works; of others the list alone, which has what was open when it began."""
        return {record_id: one for record_id, one in self.records.items() if day_id in ("", one["day_id"])}


class ManyReaders:
    """Several devices that ask for pages in turn, of now and of a moment that is past, while the office hears more."""

    def __init__(self, door: Door, seed: int) -> None:
        self.door, self.chance = door, random.Random(seed)
        self.made = AnyOperation(self.chance, door.ids, door.device_id)
        self.devices = [door, *(door.other() for _ in range(3))]
        self.seats = ["", "t1", "t2"]
        self.looks = 0
        self.followers: dict[tuple[int, str], Follower] = {}
        self.opened_by: dict[str, set[str]] = {}

    async def play(self) -> None:
        """Whatever is done, each page is to the byte the one of an office that keeps nothing ready."""
        for kind in FIRST:
            await self.say(kind)
        while self.looks < LOOKS:
            what = self.chance.random()
            if what < 0.35:
                await self.say(self.chance.choice([*OFTEN, *sorted(KINDS)]))
            elif what < 0.37:
                await self.door.database.write(made_anew)
            elif what < 0.45:
                await self.look_from_before()
            elif what < 0.55:
                await self.follow()
            else:
                await self.look()

    async def say(self, kind: str) -> None:
        operation = self.made.make(kind)
        if kind == "set_visit" and self.chance.random() < 0.7:
            await self.seat(operation)
        if kind == "set_item" and self.chance.random() < 0.7:
            operation["field"] = "told_words"  # which a porter does not read
        [answer] = await self.door.send(operation)
        if answer["outcome"] == "kept":
            self.made.learn(operation, disagreement=answer["disagreement"])
            if kind == "open_visit":
                self.opened_by.setdefault(operation["device_id"], set()).add(operation["visit_id"])

    async def seat(self, operation: dict[str, Any]) -> None:
        """Have it say where the owner is, and know what was said of that before."""
        field = operation["field"] = self.chance.choice(["stage", "table_id"])
        where = ["at-table", "at-table", "left", "waiting"] if field == "stage" else ["t1", "t2"]
        operation["value"] = self.chance.choice(where)
        operation["seen"] = await self.door.database.read(
            lambda tx: tx.value(
                "SELECT operation_id FROM field WHERE record_id = :visit_id AND name = :field",
                visit_id=operation["visit_id"],
                field=field,
            )
        )

    async def follow(self) -> None:
        """Tables that read on from where they were have what one reads that begins now: nothing that they may not."""
        await self.say("set_visit")
        for number, seat in enumerate(["t1", "t1", "t2"]):
            device = self.devices[number]
            for day_id in await self.days():
                follower = self.followers.setdefault((number, day_id), Follower())
                await follower.read_on(device, day_id, seat)
                anew = Follower()
                await anew.read_on(device, day_id, seat)
                assert follower.of_day(day_id) == anew.of_day(day_id), (number, seat)
                await self.hears_of_its_own_alone(device, seat, anew)

    async def hears_of_its_own_alone(self, device: Door, seat: str, follower: Follower) -> None:
        """By the visits as a manager reads them."""
        for item in follower.of_day().values():
            if item["kind"] != "item":
                continue
            whole = await self.door.record(item["record_id"])
            visit = await self.door.record(item["visit_id"])
            fields = visit["fields"]
            stage, table_id = fields["stage"], fields.get("table_id", {}).get("value")
            own = visit["record_id"] in self.opened_by.get(device.device_id, set()) or (
                stage["value"] == "at-table"
                and (stage["device_id"] == device.device_id or (bool(seat) and table_id == seat))
            )
            told = whole["fields"].get("told_words") if own else None
            assert item["fields"].get("told_words") == told, own

    async def days(self) -> list[str]:
        rows = await self.door.database.read(
            lambda tx: tx.all("SELECT record_id FROM record WHERE kind = 'day'")
        )
        return [row["record_id"] for row in rows]

    async def look(self) -> None:
        await self.door.database.read(await self.a_look())

    async def look_from_before(self) -> None:
        """A reader whose moment is past by the time it puts its page together."""
        file = self.door.folder / "intake.sqlite3"
        with closing(sqlite3.connect(file, isolation_level=None)) as connection:
            connection.row_factory = sqlite3.Row
            connection.execute("BEGIN")
            connection.execute("SELECT count(*) FROM record").fetchone()
            for _ in range(self.chance.randrange(1, 4)):
                await self.say(self.chance.choice([*OFTEN, *sorted(KINDS)]))
            await self.look()
            (await self.a_look())(Reading(connection))
        await self.look()

    async def a_look(self) -> Any:
        """A page that some device asks for, as what it works on and where it sits may be by now."""
        chance, device = self.chance, self.chance.choice(self.devices)
        asker = await device.asker(
            chance.choice(ROLES), chance.choice(await self.days()), chance.choice(self.seats)
        )
        after, limit = chance.choice([0, 0, chance.randrange(60)]), chance.choice([1, 3, 500])
        self.looks += 1

        def look(tx: Reading) -> None:
            anew = device.page(tx, asker, ReadyRecords(), after, limit)
            assert device.page(tx, asker, self.door.ready, after, limit) == anew, (asker, after, limit)

        return look


@pytest.mark.parametrize("seed", GAMES)
async def test_whatever_happens_a_page_is_the_one_of_an_office_that_keeps_nothing(
    tmp_path: Path, seed: int
) -> None:
    async with at_the_door(tmp_path, Ids(seed)) as door:
        readers = ManyReaders(door, seed)
        for reader in readers.devices:
            reader.ready = door.ready = ReadyRecords(readers.chance.choice([3000, 32_000_000]))
        await readers.play()
