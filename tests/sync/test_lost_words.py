"""Personal words that the office lost, and nobody erased, come back from whoever holds them."""

from __future__ import annotations

from typing import Any

import pytest

from intake.access.hearing import Until, begin_hearing
from intake.settings import utc_now
from intake.sync.rebuild import rebuild, rebuild_if_outdated
from intake.sync.standing import Known, standing
from tests.builders import a_consignor, a_fact
from tests.door import Door

LOSE = "DELETE FROM private_words"


async def lose(door: Door, sql: str = LOSE) -> None:
    """Words go, and the tables are made from what is left, as a restored office makes them."""
    await door.database.write(lambda tx: tx.run(sql))
    await door.rebuild()


async def device_seq(door: Door) -> int:
    stands = await door.database.read(
        lambda tx: standing(tx, device_id=door.device_id, known=Known(), reached=0, safe_seq=None)
    )
    return stands.device_seq


@pytest.fixture
async def named(door: Door) -> tuple[str, list[dict[str, Any]]]:
    """A visit, and what two people called its owner."""
    visit_id = (await door.item())["visit_id"]
    made = [door.make(a_consignor(visit_id, "name", name)) for name in ("Barnaby", "Barnabas")]
    await door.send(*made)
    return visit_id, made


async def test_words_that_a_phone_sends_again_fill_the_gap(
    door: Door, named: tuple[str, list[dict[str, Any]]]
) -> None:
    visit_id, made = named
    before = await door.digests()
    await lose(door)
    assert "Barnaby" not in str(await door.record(visit_id))
    answers = await door.send(*made)
    assert [answer["outcome"] for answer in answers] == ["kept", "kept"]
    await door.database.write(rebuild_if_outdated)
    assert "Barnaby" in str(await door.record(visit_id))
    after = await door.digests()
    assert {name for name in before if before[name] != after[name]} <= {
        "record"
    }  # its place in the feed alone
    assert await door.faults() == []


async def test_other_words_under_the_same_id_fill_nothing(
    door: Door, named: tuple[str, list[dict[str, Any]]]
) -> None:
    _, made = named
    await lose(door)
    [answer] = await door.send({**made[0], "value": "Somebody else"})
    assert answer["problem"]["code"] == "operation_id_reused"
    assert await door.database.read(lambda tx: tx.all("SELECT * FROM private_words")) == []


async def test_erased_words_never_come_back_so(door: Door, named: tuple[str, list[dict[str, Any]]]) -> None:
    visit_id, made = named
    await door.keep(("erase_consignor", {"visit_id": visit_id}))
    await door.send(*made)
    assert await door.database.read(lambda tx: tx.all("SELECT * FROM private_words")) == []
    assert await door.faults() == []


async def test_verify_says_which_words_are_missing_and_never_to_rebuild(
    door: Door, named: tuple[str, list[dict[str, Any]]]
) -> None:
    """A rebuild would blank the names that still stand in the tables."""
    await door.database.write(lambda tx: tx.run(LOSE))
    faults = await door.faults()
    assert sum("personal words" in fault and "missing" in fault for fault in faults) == 2
    assert not any("puts it right" in fault for fault in faults), faults
    await door.database.write(rebuild)
    assert sum("personal words" in fault and "missing" in fault for fault in await door.faults()) == 2


async def test_what_was_set_aside_and_lost_is_filled_in_too(door: Door) -> None:
    unread = {**door.make(a_fact("no id at all", "materials", "tin")), "surprise": 1}
    await door.send(unread)
    await door.database.write(lambda tx: tx.run("DELETE FROM set_aside"))
    assert any("missing" in fault for fault in await door.faults())
    await door.send(unread)
    assert await door.faults() == []


async def test_while_phones_are_heard_what_lost_its_words_counts_as_not_answered(
    door: Door, named: tuple[str, list[dict[str, Any]]]
) -> None:
    """So a phone that still holds it sends it again with all after it."""
    _, made = named
    await door.item()
    answered = await device_seq(door)
    await door.database.write(lambda tx: begin_hearing(tx, Until.PHONES, utc_now()))
    assert await device_seq(door) == answered
    await lose(door)
    assert await device_seq(door) == made[0]["device_seq"] - 1
    await door.send(*made)
    assert await device_seq(door) == answered
