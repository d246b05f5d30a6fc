"""Each device has letters of its own, by which its tickets and receipts are told from those of the others."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from intake.access.devices import make_code, note_returning, pair, revoke
from intake.access.hearing import begin_hearing
from intake.access.letters import LETTERS
from intake.database import Writing
from tests.door import Door

NOW = datetime(2026, 3, 14, 9, tzinfo=UTC)
#: Letters whose English names are taken for each other. Source: common practice.
SOUND_ALIKE = ("AHJK", "BCDEGPTVZ", "FSX", "MN", "UQW", "IY")


def paired(tx: Writing, device_id: str | None = None, brings: str | None = None) -> tuple[str, str]:
    """A device that was paired with a code of its own: its id, its letters."""
    code = make_code(tx, role="door", name="Door", now=NOW, device_id=device_id)
    device, _ = pair(tx, typed=code.code, device_id=device_id, secret=None, now=NOW, letters=brings)
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


async def test_devices_of_a_lost_office_keep_the_letters_they_had(door: Door) -> None:
    """They come back in another order than the first time, and each may hold tickets that nobody else has seen."""

    def come_back(tx: Writing) -> list[str]:
        return [paired(tx, door.ids.id(), brings)[1] for brings in ("F", "B", "A")]

    assert await door.database.write(come_back) == ["F", "B", "A"]


async def test_letters_that_another_device_has_by_now_stay_with_it(door: Door) -> None:
    """Whoever comes too late gets such as nobody can have got in their order."""

    def too_late(tx: Writing) -> tuple[str, str]:
        return paired(tx)[1], paired(tx, door.ids.id(), "A")[1]

    first, late = await door.database.write(too_late)
    assert first == "A"
    assert len(late) == 3


@pytest.mark.parametrize("how", ["lost", "asked"])
async def test_a_new_device_gets_none_that_one_unheard_may_have(door: Door, how: str) -> None:
    """An office that lacks something, or is asked by a device that it never knew, has not heard all letters in use."""

    def pair_many(tx: Writing) -> list[str]:
        if how == "lost":
            begin_hearing(tx, NOW)
        else:
            code = make_code(tx, role="table", name="Table 2", now=NOW)
            note_returning(tx, code.code, door.ids.id(), NOW)
        return [paired(tx)[1] for _ in range(20)]

    letters = await door.database.write(pair_many)
    assert {len(one) for one in letters} == {3}
    assert len(set(letters)) == 20
    assert set("".join(letters)) <= set(LETTERS)


@pytest.mark.parametrize("group", SOUND_ALIKE)
def test_letters_are_told_apart_when_they_are_called(group: str) -> None:
    assert len(set(LETTERS) & set(group)) <= 1


def test_no_letter_looks_like_a_figure_or_like_the_runs() -> None:
    assert not set(LETTERS) & set("IOLSQZ")
