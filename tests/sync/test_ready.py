"""What one device was sent is ready for the next: the same as if it had been read anew."""

from __future__ import annotations

import json
from typing import Any

from intake.sync.ready import ReadyRecords
from tests.builders import a_consignor, a_fact, a_visit, an_item
from tests.door import Door

TOLD, OWNER = "told-by-the-owner", "Marrowby"  # what the owner is called by is their first name


def ready_in(door: Door) -> str:
    """All that is kept in memory."""
    circles = door.ready._circles.values()
    return b"".join(content for kept in circles for _, content in kept.records.values()).decode()


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
            assert (TOLD in json.dumps(page)) == (role != "porter")
    assert OWNER in json.dumps(await door.feed(role="table")), "it opened the visit"
    assert OWNER not in json.dumps(await other.feed(role="table")), "what is one table's is kept for no other"
    assert TOLD in ready_in(door)
    assert OWNER not in ready_in(door)


async def test_a_record_is_read_again_once_it_has_changed(door: Door) -> None:
    item = await door.item()
    second = await door.keep(an_item(door.ids, item))
    before = await door.feed()
    await door.keep(a_fact(item["item_id"], "maker", "unmarked"))
    page = await door.feed()
    assert [record["record_id"] for record in page["records"]][-2:] == [second["item_id"], item["item_id"]]
    assert page["records"][-1]["fields"]["maker"]["value"] == "unmarked"
    assert page["cursor"] > before["cursor"]
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
    for role in ("table", "manager"):
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
