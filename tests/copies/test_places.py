"""Which folders copies are kept in: one folder is one copy, and what is open is never called sealed."""

from __future__ import annotations

import os
import re
import shutil
from dataclasses import replace
from functools import partial
from pathlib import Path

import pytest

from intake.copies.asking import real_paths
from intake.copies.at_start import add_places, keep_copies
from intake.copies.keeper import Copies, with_folder
from intake.copies.places import PlaceRefused, add_place, check_fit, copy_recipient, places
from intake.copies.source import source_of
from intake.copies.states import damaged, forgotten, missing
from intake.settings import Settings
from tests.door import RECEIVED_AT, Door


async def test_a_folder_under_another_name_is_the_same_copy(door: Door, tmp_path: Path) -> None:
    """Else one stick would count as two places."""
    stick, other_name = tmp_path / "stick", tmp_path / "by-label"
    stick.mkdir()
    other_name.symlink_to(stick)
    real = await real_paths([str(stick), str(other_name)], limit_s=30)
    for folder in (stick, other_name):
        job = partial(add_place, folder=str(folder), sealed=False, now=RECEIVED_AT, real=real)
        await door.database.write(job)
    assert [place.folder for place in await door.database.read(places)] == [str(stick)]


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("file", "is a file"),
        ("nowhere/copy", "There is no folder"),
        ("full", "has other things in it"),
        ("locked/copy", "may not write"),
    ],
)
def test_a_folder_that_cannot_take_a_copy_is_refused_in_words(
    tmp_path: Path, name: str, says: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").touch()
    for folder in ("full", "locked"):
        (tmp_path / folder).mkdir()
    (tmp_path / "full" / "letter.txt").touch()
    allowed = os.access  # whoever runs the tests may write everywhere
    monkeypatch.setattr("os.access", lambda path, mode: "locked" not in str(path) and allowed(path, mode))
    with pytest.raises(PlaceRefused, match=says):
        check_fit(str(tmp_path / name))


@pytest.mark.skipif(not Path("/proc/self").is_dir(), reason="only some systems have such a folder")
def test_a_folder_that_takes_files_from_nobody_is_refused() -> None:
    """Rights say that one may write there, to whoever may do everything."""
    with pytest.raises(PlaceRefused, match=r"No copy can be written|may not write"):
        check_fit("/proc/intake-copy")


async def test_a_new_place_that_is_not_there_is_refused_at_the_start_and_a_known_one_is_not(
    door: Door, tmp_path: Path
) -> None:
    """A slip in its name would be remembered, and missed, for ever; a stick that is known may be pulled out."""
    stick = tmp_path / "mounted" / "copy"
    settings = Settings(tmp_path / "office", copy_to=(str(stick),))
    copies = Copies(door.database, source_of(settings), settings.clock)
    with pytest.raises(PlaceRefused, match="There is no folder"):
        await keep_copies(copies, door.database, settings)
    assert await door.database.read(places) == []
    stick.parent.mkdir()
    await keep_copies(copies, door.database, settings)
    await copies.close()
    shutil.rmtree(stick.parent)
    await keep_copies(copies, door.database, settings)
    await copies.close()
    assert [place.folder for place in await door.database.read(places)] == [str(stick)]


def test_an_empty_folder_and_one_that_can_be_made_take_a_copy(tmp_path: Path) -> None:
    (tmp_path / "stick").mkdir()
    (tmp_path / "stick" / "lost+found").mkdir()
    (tmp_path / "stick" / "head-0.json").touch()
    for name in ("stick", "new"):
        check_fit(str(tmp_path / name))


def test_a_command_in_a_hint_names_the_folder_of_the_office() -> None:
    """Whoever reads a screen and goes to the machine would meet another office there."""
    for trouble in (missing("/m/s"), damaged("/m/s", "x"), forgotten("/m/s", 2, 1)):
        said = with_folder(trouble.hint, Path("/srv/intake"))
        commands = re.findall(r"`(intake [^`]+)`", said)
        assert commands
        assert all("--data " in command for command in commands), said
        assert said.count("--data NEW") == trouble.hint.count("--data NEW")
    assert with_folder("Run `intake verify`.", Path("/a b")) == 'Run `intake verify --data "/a b"`.'


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
