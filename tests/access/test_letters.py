"""Each device has letters of its own, by which its tickets and receipts are told from those of the others."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from intake.access.devices import make_code, pair, revoke
from intake.access.letters import LETTERS
from intake.database import Writing
from tests.builders import Ids
from tests.door import Door, at_the_door

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
    """As many as a house pairs in years; a device that was signed off keeps its own."""

    def pair_many(tx: Writing) -> list[str]:
        found = [paired(tx) for _ in range(50)]
        revoke(tx, found[0][0], NOW)
        return [letters for _, letters in [*found, paired(tx)]]

    letters = await door.database.write(pair_many)
    assert len(set(letters)) == 51
    assert {len(one) for one in letters} == {4}
    assert set("".join(letters)) <= set(LETTERS)


async def test_letters_that_others_have_are_never_chosen(door: Door, monkeypatch: pytest.MonkeyPatch) -> None:
    """However chance falls; and when none of four are left, there are some of five."""
    monkeypatch.setattr("intake.access.letters.HOW_MANY", 1)

    def pair_many(tx: Writing) -> list[str]:
        return [paired(tx)[1] for _ in range(9)]

    letters = await door.database.write(pair_many)
    assert sorted(letters[:7]) == sorted(LETTERS)
    assert [len(one) for one in letters[7:]] == [2, 2]
    assert len(set(letters)) == 9


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
    def too_late(tx: Writing) -> tuple[str, str]:
        first = paired(tx)[1]
        return first, paired(tx, door.ids.id(), first)[1]

    first, late = await door.database.write(too_late)
    assert first != late


async def test_two_offices_give_no_device_what_the_other_gave(tmp_path: Path) -> None:
    """A folder begun anew, and one that lost an hour, cannot know whom an office before them paired: here each pairs as
    many as went before, in the same order, and before any of the others comes back.

    Letters of an order would be the same throughout. By chance one pair in 2,401 is; of these 36 five would be once in
    more than a million million runs.
    """

    async def pair_six(name: str) -> list[str]:
        async with at_the_door(tmp_path / name, Ids(7)) as door:
            return await door.database.write(lambda tx: [paired(tx)[1] for _ in range(6)])

    before, anew = [await pair_six(name) for name in ("before", "anew")]
    assert len(set(before) & set(anew)) < 5


async def test_none_are_given_that_an_older_version_gave(door: Door) -> None:
    """It gave one to three letters, in their order or after a loss: a device that has those may hold tickets."""
    letters = await door.database.write(lambda tx: [paired(tx)[1] for _ in range(20)])
    assert min(len(one) for one in letters) > 3


@pytest.mark.parametrize("group", SOUND_ALIKE)
def test_letters_are_told_apart_when_they_are_called(group: str) -> None:
    assert len(set(LETTERS) & set(group)) <= 1


def test_no_letter_looks_like_a_figure_or_like_the_runs() -> None:
    assert not set(LETTERS) & set("IOLSQZ")
