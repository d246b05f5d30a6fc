"""Which folders copies are kept in: one folder is one copy, and what is open is never called sealed."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path

import pytest

from intake.copies.at_start import add_places
from intake.copies.places import PlaceRefused, add_place, copy_recipient, places
from intake.settings import Settings
from tests.door import RECEIVED_AT, Door


async def test_a_folder_under_another_name_is_the_same_copy(door: Door, tmp_path: Path) -> None:
    """Else one stick would count as two places."""
    stick, other_name = tmp_path / "stick", tmp_path / "by-label"
    stick.mkdir()
    other_name.symlink_to(stick)
    for folder in (stick, other_name):
        job = partial(add_place, folder=str(folder), sealed=False, now=RECEIVED_AT)
        await door.database.write(job)
    assert [place.folder for place in await door.database.read(places)] == [str(stick)]


async def test_an_open_copy_is_never_said_to_be_sealed(door: Door, tmp_path: Path) -> None:
    """Nor is a key printed as if something were closed with it."""
    stick = str(tmp_path / "stick")
    settings = Settings(tmp_path / "office", copy_to=(stick,))
    assert await door.database.write(lambda tx: add_places(tx, settings)) is None
    with pytest.raises(PlaceRefused, match="kept open"):
        await door.database.write(lambda tx: add_places(tx, replace(settings, seal_copies=True)))
    assert await door.database.read(copy_recipient) is None
    elsewhere = replace(settings, seal_copies=True, copy_to=(str(tmp_path / "another"),))
    assert await door.database.write(lambda tx: add_places(tx, elsewhere)) is not None
