"""Wrong pairing codes slow down whoever tries them; good ones pass, however many come."""

from __future__ import annotations

import asyncio
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import islice

import httpx
import pytest

from intake.access.tries import FREE, LONGEST_S, MOST_KNOWN, MOST_WAITING, Tries
from intake.errors import TooManyTries
from intake.settings import Settings
from tests.builders import Ids
from tests.conftest import Clock, Office, running

NOW = datetime(2026, 3, 14, 18, 0, tzinfo=UTC)
WRONG = {"code": "0000-0000"}


@pytest.fixture
def waits() -> list[float]:
    """How long each try was made to wait, in seconds."""
    return []


@pytest.fixture
def settings(settings: Settings, waits: list[float]) -> Settings:
    async def pause(seconds: float) -> None:
        waits.append(seconds)

    return replace(settings, pause=pause)


def test_fifty_phones_behind_one_address_are_paired_in_the_same_minute(
    office: Office, waits: list[float]
) -> None:
    phones = [office.pair("table", f"Table {number}") for number in range(50)]
    assert len({phone.device_id for phone in phones}) == 50
    assert waits == []


def test_a_guesser_waits_longer_each_time_and_a_good_code_still_works(
    office: Office, waits: list[float]
) -> None:
    guesser = office.client()
    answers = [guesser.post("/pairing", json=WRONG).status_code for _ in range(FREE + 6)]
    assert set(answers) == {404}, "slowed down, and never locked out"
    assert waits == [1, 2, 4, LONGEST_S, LONGEST_S, LONGEST_S]
    assert guesser.post("/pairing", json={"code": office.code("door", "Door")}).status_code == 200


def test_failures_are_forgotten(office: Office, clock: Clock, waits: list[float]) -> None:
    guesser = office.client()
    for _ in range(FREE + 1):
        guesser.post("/pairing", json=WRONG)
    waits.clear()
    clock.pass_by(minutes=5, seconds=1)
    guesser.post("/pairing", json=WRONG)
    assert waits == []


async def mistype(tries: Tries, address: str, count: int) -> None:
    for _ in range(count):
        await tries.failed(address, NOW)


async def test_one_who_waits_holds_up_nobody_else_and_waits_in_no_crowd() -> None:
    gate = asyncio.Event()

    async def pause(seconds: float) -> None:
        await gate.wait()

    tries = Tries(pause, asyncio.Event())
    await mistype(tries, "192.0.2.7", FREE)
    crowd = [asyncio.create_task(tries.failed("192.0.2.7", NOW)) for _ in range(MOST_WAITING)]
    await asyncio.sleep(0)
    await tries.failed("192.0.2.8", NOW)  # returns at once
    with pytest.raises(TooManyTries) as sent_away:
        async with asyncio.timeout(5):  # else it would wait for the gate, and this test with it
            await tries.failed("192.0.2.7", NOW)
    assert int(sent_away.value.headers["Retry-After"]) <= LONGEST_S
    gate.set()
    await asyncio.gather(*crowd)
    await tries.failed("192.0.2.7", NOW)  # there is room again


async def test_no_wait_outlasts_the_office() -> None:
    async def pause(seconds: float) -> None:
        await asyncio.Event().wait()

    closing = asyncio.Event()
    tries = Tries(pause, closing)
    await mistype(tries, "192.0.2.7", FREE)
    waiting = asyncio.create_task(tries.failed("192.0.2.7", NOW))
    await asyncio.sleep(0)
    assert not waiting.done()
    closing.set()
    async with asyncio.timeout(5):
        await waiting


async def test_a_good_code_passes_a_crowd_of_wrong_ones_which_the_office_s_end_lets_go(
    settings: Settings, clock: Clock, ids: Ids
) -> None:
    """Nobody's wait ends by itself here."""

    async def pause(seconds: float) -> None:
        await asyncio.Event().wait()

    with running(replace(settings, pause=pause), clock, ids) as office:
        own, limits = {"Origin": office.address}, httpx.Limits(max_connections=None)
        async with httpx.AsyncClient(
            base_url=office.address, headers=own, timeout=30, limits=limits
        ) as client:
            code = office.code("door", "Door")
            crowd = [asyncio.create_task(client.post("/pairing", json=WRONG)) for _ in range(60)]
            sent_away = [(await one).status_code for one in islice(asyncio.as_completed(crowd), 20)]
            assert sent_away.count(429) > 0
            assert (await client.post("/pairing", json={"code": code})).status_code == 200
            assert not all(one.done() for one in crowd)
            await asyncio.to_thread(office.end)
            assert {(await one).status_code for one in crowd} == {404, 429}


async def test_a_network_of_one_machine_is_counted_together() -> None:
    """Source: RFC 4291, section 2.5.4 (64 bits of network), 2.5.5.2 (an IPv4 address written as IPv6)."""
    tries = Tries(asyncio.sleep, asyncio.Event())
    for number in range(FREE):
        await tries.failed(f"2001:db8:0:7::{number:x}", NOW)
        await tries.failed("::ffff:192.0.2.7", NOW)
    assert tries.delay_s("2001:db8:0:7:ffff::1", NOW) == tries.delay_s("192.0.2.7", NOW) == 1
    assert tries.delay_s("2001:db8:0:8::1", NOW) == 0


async def test_what_is_remembered_of_strangers_is_limited() -> None:
    tries = Tries(asyncio.sleep, asyncio.Event())
    for number in range(FREE):
        await tries.failed("first", NOW + timedelta(seconds=number))
    for number in range(MOST_KNOWN):
        await tries.failed(str(number), NOW)
    assert tries.delay_s("first", NOW) == 0
    assert len(tries._failures) == MOST_KNOWN


@pytest.fixture
def behind(settings: Settings, clock: Clock, ids: Ids) -> Iterator[Office]:
    with running(replace(settings, behind_proxy="127.0.0.1"), clock, ids) as office:
        yield office


def wrong_codes_from(office: Office, address: str, count: int) -> None:
    client = office.client()
    for _ in range(count):
        client.post("/pairing", json=WRONG, headers={"X-Forwarded-For": address})


def test_behind_a_named_proxy_each_caller_is_counted_by_itself(behind: Office, waits: list[float]) -> None:
    """What a caller says of itself stands before what the proxy added, and counts for nothing."""
    wrong_codes_from(behind, "192.0.2.7", FREE)
    wrong_codes_from(behind, "192.0.2.8", FREE)
    assert waits == []
    wrong_codes_from(behind, "198.51.100.1, 192.0.2.7", 1)
    assert waits == [1]


def test_with_no_proxy_named_nobody_is_believed(office: Office, waits: list[float]) -> None:
    for number in range(FREE + 1):
        wrong_codes_from(office, f"192.0.2.{number}", 1)
    assert waits == [1]
