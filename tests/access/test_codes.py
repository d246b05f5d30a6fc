"""Pairing codes, secrets and what a device says of itself, at the door without a socket."""

from __future__ import annotations

import re
from dataclasses import astuple
from datetime import UTC, datetime, timedelta

import pytest

from intake.access.devices import (
    Device,
    PairingCode,
    device_with,
    devices,
    make_code,
    named_device,
    normalise_code,
    note_heard,
    note_returning,
    open_code,
    pair,
    returning,
    revoke,
    stamp,
)
from intake.database import Reading, Writing
from intake.errors import (
    CodeForAnother,
    CommandError,
    DeviceNeedsWord,
    DeviceRevoked,
    NotFound,
    NotPaired,
    PairingCodeUnknown,
)
from tests.door import Door

NOW = datetime(2026, 3, 14, 9, tzinfo=UTC)
FIRST, SECOND = "01954a3c-1111-7000-8000-000000000001", "01954a3c-2222-7000-8000-000000000002"
THIRD = "01954b3d-1111-7000-8000-000000000003"
NEVER_KNOWN = "01954a3f-0000-7000-8000-000000000009"


def a_code(tx: Writing, role: str = "table", device_id: str | None = None) -> str:
    return make_code(tx, role=role, name=role.title(), now=NOW, device_id=device_id).code


def paired(
    tx: Writing, device_id: str, role: str = "table", *, at: datetime = NOW, word: bool = True
) -> tuple[Device, str]:
    code = a_code(tx, role, device_id if word else None)
    return pair(tx, typed=code, device_id=device_id, secret=None, now=at)


@pytest.mark.parametrize(("after_s", "is_good"), [(0, True), (599, True), (600, False)])
async def test_a_code_is_good_for_ten_minutes(door: Door, after_s: int, is_good: bool) -> None:
    def at(tx: Writing) -> bool:
        return open_code(tx, a_code(tx), NOW + timedelta(seconds=after_s)) is not None

    assert await door.database.write(at) is is_good


async def test_a_code_is_two_groups_of_four_that_nobody_can_misread(door: Door) -> None:
    """Source: Crockford's base 32, which has neither I, L, O nor U, and reads I and L as 1 and O as 0."""
    made = await door.database.write(lambda tx: make_code(tx, role="door", name="Door", now=NOW))
    assert re.fullmatch(r"[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}", made.shown)
    assert normalise_code(made.shown.lower()) == made.code
    assert normalise_code("o1iL-  il0O") == "01111100"
    assert PairingCode("0123ABCD", "Door", "door", NOW).shown == "0123-ABCD"


async def test_a_secret_has_256_bits_and_is_new_at_each_pairing(door: Door) -> None:
    """Source: RFC 4648, 32 bytes are 43 signs of base 64 for addresses without padding."""

    def twice(tx: Writing) -> tuple[str, str, str]:
        (_, before), (_, after) = paired(tx, FIRST), paired(tx, FIRST)
        with pytest.raises(NotPaired):
            device_with(tx, before)
        return before, after, device_with(tx, after).device_id

    before, after, device_id = await door.database.write(twice)
    assert {len(before), len(after)} == {43}
    assert before != after
    assert device_id == FIRST


async def test_no_secret_is_no_device(door: Door) -> None:
    def ask(tx: Writing) -> None:
        paired(tx, FIRST)
        for secret in (None, "", "another"):
            with pytest.raises(NotPaired):
                device_with(tx, secret)

    await door.database.write(ask)


async def test_a_code_is_used_up_by_the_device_that_it_pairs(door: Door) -> None:
    def twice(tx: Writing) -> None:
        code = a_code(tx)
        pair(tx, typed=code, device_id=None, secret=None, now=NOW)
        with pytest.raises(PairingCodeUnknown):
            pair(tx, typed=code, device_id=None, secret=None, now=NOW)

    await door.database.write(twice)


async def test_only_the_first_manager_of_an_empty_office_may_name_a_device(door: Door) -> None:
    def come(tx: Writing) -> tuple[str, str]:
        with pytest.raises(DeviceNeedsWord, match="one that was here before"):
            paired(tx, FIRST, "table", word=False)
        first, _ = paired(tx, FIRST, "manager", word=False)
        with pytest.raises(DeviceNeedsWord, match="one that was here before"):
            paired(tx, SECOND, "manager", word=False)
        with pytest.raises(DeviceNeedsWord, match="Manager"):
            paired(tx, FIRST, "manager", word=False)
        return first.device_id, first.role

    assert await door.database.write(come) == (FIRST, "manager")


@pytest.mark.parametrize("gone", [False, True])
async def test_a_secret_proves_a_device_until_it_is_signed_off(door: Door, gone: bool) -> None:
    def again(tx: Writing) -> Device:
        _, secret = paired(tx, FIRST)
        if gone:
            revoke(tx, FIRST, NOW)
        device, _ = pair(tx, typed=a_code(tx, "door"), device_id=FIRST, secret=secret, now=NOW)
        return device

    if gone:
        with pytest.raises(DeviceNeedsWord):
            await door.database.write(again)
    else:
        assert (await door.database.write(again)).role == "door"


async def test_a_code_for_one_device_is_no_other_s(door: Door) -> None:
    def other(tx: Writing) -> None:
        pair(tx, typed=a_code(tx, device_id=FIRST), device_id=SECOND, secret=None, now=NOW)

    with pytest.raises(CodeForAnother):
        await door.database.write(other)


async def test_a_device_waits_for_the_manager_s_word_until_it_has_it(door: Door) -> None:
    """One that is known here, or has no good code, does not ask; the latest is named first."""

    def ask(tx: Writing) -> list[tuple[str, str, str]]:
        code = a_code(tx, "porter")
        paired(tx, FIRST)
        note_returning(tx, code, FIRST, NOW)
        note_returning(tx, "0000-0000", SECOND, NOW)
        assert returning(tx) == []
        note_returning(tx, code, SECOND, NOW)
        note_returning(tx, code, THIRD, NOW + timedelta(seconds=1))
        asked = [(one.device_id, one.name, one.role) for one in returning(tx)]
        paired(tx, SECOND)
        paired(tx, THIRD)
        assert returning(tx) == []
        return asked

    asked = await door.database.write(ask)
    assert asked == [(THIRD, "Porter", "porter"), (SECOND, "Porter", "porter")]


async def test_a_device_is_signed_off_once(door: Door) -> None:
    """Its later signing off leaves the moment of the first; pairing it again brings it back."""

    def sign_off(tx: Writing) -> tuple[str | None, str | None]:
        with pytest.raises(NotFound):
            revoke(tx, FIRST, NOW)
        _, secret = paired(tx, FIRST)
        revoke(tx, FIRST, NOW)
        revoke(tx, FIRST, NOW + timedelta(hours=1))
        with pytest.raises(DeviceRevoked, match="Table"):
            device_with(tx, secret)
        off = devices(tx)[0].revoked_at
        paired(tx, FIRST)
        return off, devices(tx)[0].revoked_at

    assert await door.database.write(sign_off) == (stamp(NOW), None)


async def test_what_a_device_says_of_itself_stands_until_it_says_otherwise(door: Door) -> None:
    def hear(tx: Writing) -> Device:
        paired(tx, FIRST)
        assert astuple(devices(tx)[0])[4:9] == (None,) * 5, "nobody has heard it yet"
        note_heard(tx, FIRST, NOW, holding=3, day_id="a day", table_id="t2")
        note_heard(tx, FIRST, NOW + timedelta(seconds=1), holding=None)
        return devices(tx)[0]

    heard = await door.database.write(hear)
    assert (heard.holding, heard.day_id, heard.table_id) == (3, "a day", "t2")
    assert heard.last_seen_at == "2026-03-14T09:00:01.000Z"


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        (FIRST, FIRST),
        (f" {FIRST[:10].upper()} ", FIRST),
        (SECOND[:10], SECOND),
        (THIRD[:8], THIRD),
        (THIRD[:7], "1 device has a number"),
        (FIRST[:8], "2 devices have a number"),
        (FIRST[:7], "2 devices have a number"),
        ("ffffffff", "No device has a number"),
        (NEVER_KNOWN, NEVER_KNOWN),
        (NEVER_KNOWN[:-1], "No device has a number"),
    ],
)
async def test_a_device_is_named_by_the_beginning_of_its_number(door: Door, typed: str, found: str) -> None:
    """Eight characters at least, and as many as tell it from the others; one nobody knew has to say all of it."""

    def pair_three(tx: Writing) -> None:
        for device_id in (FIRST, SECOND, THIRD):
            paired(tx, device_id)

    def name(tx: Reading) -> str:
        try:
            return named_device(tx, typed).device_id
        except CommandError as error:
            return str(error)

    await door.database.write(pair_three)
    assert (await door.database.read(name)).startswith(found)
