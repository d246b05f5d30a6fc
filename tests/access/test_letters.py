"""Each device has letters of its own, by which its tickets and receipts are told from those of the others."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from intake.access.devices import make_code, pair, revoke
from intake.access.letters import LETTERS
from intake.database import Writing
from tests.door import Door

NOW = datetime(2026, 3, 14, 9, tzinfo=UTC)
#: Letters whose English names are taken for each other. Source: common practice.
SOUND_ALIKE = ("AHJK", "BCDEGPTVZ", "FSX", "MN", "UQW", "IY")


def paired(tx: Writing, device_id: str | None = None) -> tuple[str, str]:
    """A device that was paired with a code of its own: its id, its letters."""
    code = make_code(tx, role="door", name="Door", now=NOW, device_id=device_id)
    device, _ = pair(tx, typed=code.code, device_id=device_id, secret=None, now=NOW)
    assert device.letters
    return device.device_id, device.letters


async def test_no_two_devices_have_the_same(door: Door) -> None:
    """As many as a house pairs in years: one letter first, then two, and a device that was signed off keeps its own."""

    def pair_many(tx: Writing) -> list[str]:
        found = [paired(tx) for _ in range(50)]
        revoke(tx, found[0][0], NOW)
        return [letters for _, letters in [*found, paired(tx)]]

    letters = await door.database.write(pair_many)
    assert len(set(letters)) == 51
    assert letters[: len(LETTERS)] == list(LETTERS)
    assert {len(one) for one in letters} == {1, 2}


async def test_a_device_that_is_paired_again_keeps_its_own(door: Door) -> None:
    def twice(tx: Writing) -> tuple[str, str]:
        paired(tx)
        device_id, before = paired(tx)
        paired(tx)
        return before, paired(tx, device_id)[1]

    before, after = await door.database.write(twice)
    assert before == after


@pytest.mark.parametrize("group", SOUND_ALIKE)
def test_letters_are_told_apart_when_they_are_called(group: str) -> None:
    assert len(set(LETTERS) & set(group)) <= 1


def test_no_letter_looks_like_a_figure_or_like_the_runs() -> None:
    assert not set(LETTERS) & set("IOLSQZ")
