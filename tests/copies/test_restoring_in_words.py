"""What keeps `restore` and `bring-in` from going on is told in a sentence, whatever the disk does not take."""

from __future__ import annotations

import errno
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from intake.commands import main
from intake.copies.seal import make_key, on_paper
from intake.database import Database
from intake.errors import OfficeFull
from intake.settings import Settings
from tests.conftest import Office
from tests.copies.tools import contents, copier_of, record_items, until_done
from tests.phone import Phone


@pytest.fixture
def filled(office: Office, phone: Phone, day: dict[str, Any], copy: Path) -> Path:
    record_items(phone, day, 2)
    until_done(copier_of(office.settings, copy))
    return copy


@pytest.mark.parametrize("name", ["photos", "restoring.sqlite3", "house"])
def test_what_is_in_the_way_in_the_new_folder_is_named(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings, name: str, capsys: Any
) -> None:
    """A file where a folder is needed, or a folder where a file is."""
    house = office.settings.data_folder / "house"
    house.mkdir()
    (house / "words.yaml").write_text("teapot: a pot for tea")
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy))
    new.data_folder.mkdir()
    way = new.data_folder / name
    way.mkdir() if "." in name else way.write_text("in the way")
    assert main(["restore", str(copy), "--data", str(new.data_folder)]) == 1
    told = capsys.readouterr().err
    assert str(way) in told
    assert "another folder with --data" in told
    assert not new.database_file.exists()


def no_room_for_photos(*_: object) -> None:
    raise OSError(errno.ENOSPC, "No space left on device")


async def no_room_for_tables(*_: object) -> None:
    raise OfficeFull


@pytest.mark.parametrize(
    ("where", "fails"),
    [("intake.copies.restore.write_photo", no_room_for_photos), (Database, no_room_for_tables)],
    ids=["photos", "tables"],
)
def test_a_disk_that_fills_while_an_office_is_restored_is_told_and_it_goes_on(
    office: Office,
    filled: Path,
    new: Settings,
    where: Any,
    fails: Callable[..., Any],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """In words of this machine, also where the tables fill it, which tell a phone in theirs while the office serves."""
    command = ["restore", str(filled), "--data", str(new.data_folder)]
    with monkeypatch.context() as full:
        full.setattr(where, fails) if isinstance(where, str) else full.setattr(where, "write", fails)
        assert main(command) == 1
    told = capsys.readouterr().err
    assert f"The disk that {new.data_folder} is on is full" in told
    assert "start the same command again" in told
    assert not new.database_file.exists()
    assert main(command) == 0
    assert contents(new) == contents(office.settings)


def test_a_disk_that_is_full_when_photos_are_brought_in_is_told(
    office: Office, filled: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for photo in office.settings.photos_folder.glob("??/*"):
        photo.unlink()
    monkeypatch.setattr("intake.copies.bring_in.write_whole", no_room_for_photos)
    assert main(["bring-in", str(filled), "--data", str(office.settings.data_folder)]) == 1
    assert "is on is full" in capsys.readouterr().err


@pytest.mark.parametrize("command", ["restore", "bring-in"])
@pytest.mark.parametrize("there", ["nothing", "a folder"])
def test_a_file_for_the_key_that_cannot_be_read_is_told(
    office: Office,
    filled: Path,
    new: Settings,
    tmp_path: Path,
    command: str,
    there: str,
    capsys: pytest.CaptureFixture[str],
) -> None:
    key = tmp_path / "key"
    if there == "a folder":
        key.mkdir()
    data = new.data_folder if command == "restore" else office.settings.data_folder
    assert main([command, str(filled), "--data", str(data), "--key-file", str(key)]) == 1
    told = capsys.readouterr().err
    assert f"The key cannot be read from {key}" in told
    assert "INTAKE_COPY_KEY" in told


@pytest.mark.parametrize("encoding", ["ascii", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be"])
def test_a_key_is_read_however_an_editor_saved_it(
    office: Office, copy: Path, new: Settings, tmp_path: Path, encoding: str
) -> None:
    """Source: Notepad of Windows saves "UTF-8 with BOM", "UTF-16 LE" and "UTF-16 BE" beside plain UTF-8."""
    secret, recipient = make_key()
    until_done(copier_of(office.settings, copy, seal_to=recipient))
    file = tmp_path / "key.txt"
    paper = on_paper(secret, recipient).partition("\n\n")[0].replace("\n", "\r\n")
    file.write_bytes(paper.encode(encoding))
    assert main(["restore", str(copy), "--data", str(new.data_folder), "--key-file", str(file)]) == 0


def test_an_office_is_made_where_somebody_said(
    office: Office,
    filled: Path,
    new: Settings,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Not in the folder that other commands take when nobody names one, where the next office would be begun."""
    monkeypatch.delenv("INTAKE_DATA", raising=False)
    monkeypatch.setattr("intake.commands.default_data_folder", lambda: tmp_path / "home")
    assert main(["restore", str(filled)]) == 1
    assert f"`intake restore {filled} --data NEW`" in capsys.readouterr().err
    assert not (tmp_path / "home").exists()
    monkeypatch.setenv("INTAKE_DATA", str(new.data_folder))
    assert main(["restore", str(filled)]) == 0
    assert contents(new) == contents(office.settings)
