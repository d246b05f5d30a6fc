"""What the log gives back of an operation that came before, and when its tables count as made of other words."""

from __future__ import annotations

from typing import Any

import pytest

from intake.operation import Operation
from intake.reading import first_heard_since
from intake.sync import chain
from intake.sync import rebuild as rebuilding
from intake.sync.chain import newest_seq
from intake.sync.log import find_kept
from intake.sync.rebuild import is_outdated
from intake.tagging.tags import codes
from tests.builders import a_consignor, a_fact, a_tie, an_item
from tests.door import Door


async def found(door: Door, made: dict[str, Any]) -> Operation | None:
    return await door.database.read(lambda tx: find_kept(tx, made["operation_id"]))


async def test_an_operation_is_found_as_it_was_applied(door: Door) -> None:
    """Also one that was refused and left a question between two; not one that left nothing."""
    first = await door.item()
    second = await door.keep(an_item(door.ids, first))
    fact = await door.keep(a_fact(first["item_id"], "materials", "tin"))
    said = await found(door, fact)
    assert said is not None
    assert said.says == ("materials", "tin")
    tag = next(codes(77))
    await door.keep(a_tie(first["item_id"], tag))
    contested = door.make(a_tie(second["item_id"], tag))
    refused = door.make(a_fact(door.ids.id(), "materials", "tin"))
    answers = await door.send(contested, refused)
    assert [(one["outcome"], one["disagreement"]) for one in answers] == [
        ("refused", True),
        ("refused", False),
    ]
    assert await found(door, contested) is not None
    assert await found(door, refused) is None
    assert await found(door, {"operation_id": door.ids.id()}) is None


async def test_what_nobody_can_say_again_is_not_found(door: Door) -> None:
    """A kind that this version does not know, and words that were erased or lost: nothing can be settled on them."""
    item = await door.item()
    fact = await door.keep(a_fact(item["item_id"], "materials", "tin"))
    name = await door.keep(a_consignor(item["visit_id"], "name", "Barnaby"))
    said = await found(door, name)
    assert said is not None
    assert said.says == ("consignor/name", "Barnaby")

    def lose(tx: Any) -> None:
        tx.run("DELETE FROM private_words")
        tx.run(
            """
            UPDATE operation_log SET operation = json_set(operation, '$.kind', 'set_weather')
            WHERE operation_id = :operation_id
            """,
            operation_id=fact["operation_id"],
        )

    await door.database.write(lose)
    assert await found(door, fact) is None
    assert await found(door, name) is None


async def test_only_words_that_were_missing_have_the_tables_made_anew(door: Door) -> None:
    """A phone sends again whatever it got no answer to, and what could not be read is in no table."""
    item = await door.item()
    name = door.make(a_consignor(item["visit_id"], "name", "Barnaby"))
    unread = door.make(a_fact(item["item_id"], "materials", "x" * 8001))
    await door.send(name, unread)
    for lost in ("", "set_aside"):
        if lost:
            await door.database.write(lambda tx: tx.run("DELETE FROM set_aside"))
        await door.send(name, unread)
        assert not await door.database.read(is_outdated), lost
    await door.database.write(lambda tx: tx.run("DELETE FROM private_words"))
    await door.send(name, unread)
    assert await door.database.read(is_outdated)


async def test_whoever_has_read_nothing_reads_the_first_record_too(door: Door) -> None:
    """Also where the log began with what was refused, so that there are operations and no record yet."""
    await door.refused(a_fact(door.ids.id(), "materials", "tin"))
    item = await door.item()
    read = [record["record_id"] for record in (await door.feed())["records"]]
    assert read == [item["day_id"], item["visit_id"], item["item_id"]]


async def test_an_office_to_which_nobody_has_said_anything_stands_at_nothing(door: Door) -> None:
    assert await door.database.read(newest_seq) == 0
    assert (await door.rebuild()).applied == 0


async def test_all_parts_that_are_applied_anew_are_counted_and_those_done_are_heard_of(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    await door.item()
    await door.refused(a_fact(door.ids.id(), "materials", "tin"))
    await door.item()
    monkeypatch.setattr(rebuilding, "IN_HAND_LIMIT", 3)
    logged = await door.database.read(newest_seq)
    heard: list[tuple[int, int]] = []
    again = await door.database.write(lambda tx: rebuilding.rebuild(tx, lambda *done: heard.append(done)))
    assert (again.applied, again.left_out) == (logged - 1, [])
    assert [done for done, _ in heard] == [*range(3, logged, 3), logged, logged]


async def test_whoever_waits_for_the_chain_hears_how_much_of_it_was_walked(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    await door.item()
    monkeypatch.setattr(chain, "HEARD_EVERY", 2)
    heard: list[tuple[int, int]] = []
    faults = await door.database.read(
        lambda tx: [*chain.chain_faults(tx, (), progress=lambda *done: heard.append(done))]
    )
    newest = await door.database.read(newest_seq)
    assert (faults, heard) == ([], [(seq, newest) for seq in range(2, newest + 1, 2)])


async def test_where_the_log_was_at_a_moment_is_found(door: Door) -> None:
    """Also where it was heard in bursts, and where numbers are missing in it; every second is tried."""
    item = await door.item()
    for number in range(12):
        await door.keep(a_fact(item["item_id"], "materials", f"tin {number}"))

    def look(tx: Any) -> None:
        tx.run("DELETE FROM operation_log WHERE office_seq IN (5, 6, 9)")
        heard = {
            row["office_seq"]: (row["office_seq"] + 1) // 3 * 2
            for row in tx.all("SELECT office_seq FROM operation_log")
        }
        newest = max(heard)
        for office_seq, second in heard.items():
            tx.run(
                "UPDATE operation_log SET received_at = :at WHERE office_seq = :office_seq",
                at=f"2026-03-14T10:00:{second:02}.000Z",
                office_seq=office_seq,
            )
        for second in range(-1, max(heard.values()) + 2):
            since = f"2026-03-14T{'09:59:59' if second < 0 else f'10:00:{second:02}'}.500Z"
            after = [office_seq for office_seq, at in heard.items() if at > second]
            found = first_heard_since(tx, since)
            assert (
                newest < found if not after else max(set(heard) - set(after), default=0) < found <= after[0]
            )

    await door.database.write(look)
