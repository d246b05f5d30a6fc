"""`intake copy` where something stands in its way: it says so, and what can be copied all the same is."""

from __future__ import annotations

import errno
import sqlite3
import threading
from pathlib import Path
from typing import Any

import pytest

from intake import database
from intake.commands import main
from intake.copies.folder import Answering, Folder
from intake.copies.reading import CopyReader, head_of
from intake.copies.seal import Opener
from intake.database import Database, snapshot
from intake.errors import OfficeFull
from intake.lock import note
from intake.sync import commands as sync_commands
from tests.conftest import Office
from tests.copies.tools import contents, copier_of, record_items, until_done
from tests.phone import Phone


def data(office: Office) -> list[str]:
    return ["--data", str(office.settings.data_folder)]


def files_in(copy: Path) -> dict[str, str]:
    """The house's own files in an open copy."""
    head = head_of(Folder(copy))
    return CopyReader(Folder(copy), head, Opener(head.sealed_to, None)).files()


async def no_room(*_: object, **__: object) -> Database:
    raise OfficeFull


def test_the_office_s_full_disk_is_brought_to_a_stick(
    office: Office,
    phone: Phone,
    day: dict[str, Any],
    stick: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Nothing can be written there, not even where the copy lies."""
    record_items(phone, day, 1)
    with monkeypatch.context() as full:
        full.setattr(Database, "open", no_room)
        assert main(["copy", str(stick), *data(office)]) == 0
        assert "full disk" in capsys.readouterr().out
        assert main(["copy", str(stick.with_name("sealed")), "--sealed", *data(office)]) == 1
    assert head_of(Folder(stick)).office_seq == len(contents(office.settings)["log"])


def test_tables_are_read_where_nothing_can_be_made_beside_them(
    office: Office, phone: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever reads the file shares another one with all others who do, which takes room."""
    office.end()
    moment = database._moment

    def shared(uri: str, *, alone: bool = False) -> sqlite3.Connection:
        if not alone:
            error = sqlite3.OperationalError("disk I/O error")
            error.sqlite_errorcode = sqlite3.SQLITE_IOERR_SHMSIZE
            raise error
        return moment(uri, alone=alone)

    monkeypatch.setattr(database, "_moment", shared)
    with snapshot(office.settings.database_file) as tx:
        assert tx.value("SELECT count(*) FROM device") == 2


def test_a_copy_that_is_being_written_is_not_set_aside(
    office: Office, stick: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    until_done(copier_of(office.settings, stick))
    with Folder(stick).held():
        assert main(["copy", str(stick), "--anew", *data(office)]) == 1
        assert "Type the same again" in capsys.readouterr().err
        assert main(["copy", str(stick), *data(office)]) == 1
        assert "a command that stands still holds it" in capsys.readouterr().err
    assert list(stick.glob("before-*")) == []


def test_a_locked_stick_is_said_when_a_copy_is_to_be_begun_anew(
    office: Office, stick: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    until_done(copier_of(office.settings, stick))

    def locked(_: Folder) -> None:
        raise OSError(errno.EROFS, "Read-only file system")

    monkeypatch.setattr(Folder, "held", locked)
    assert main(["copy", str(stick), "--anew", *data(office)]) == 1
    assert "lock on the stick" in capsys.readouterr().err


def test_a_look_that_cannot_be_noted_is_told_all_the_same(
    office: Office, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def no_room_for_it(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(sync_commands, "note_verified", no_room_for_it)
    assert main(["verify", *data(office)]) == 0
    said = capsys.readouterr().out
    assert "all is well" in said
    assert "could not be noted (No space left on device)" in said


@pytest.mark.parametrize("there", ["a copy", "nothing else"])
def test_no_copy_is_kept_around_its_office(
    office: Office, there: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Its folder may have come to lie in a copy's, or have a name that is not shown."""
    office.end()
    around = tmp_path / "around"
    around.mkdir()
    if there == "a copy":
        until_done(copier_of(office.settings, around))
    moved = office.settings.data_folder.rename(around / ".office")
    before = sorted(around.iterdir())
    assert main(["copy", str(around), "--data", str(moved)]) == 1
    assert "is copied, lies in" in capsys.readouterr().err
    assert sorted(around.iterdir()) == before


def test_the_house_s_own_plans_are_copied_from_where_the_office_was_served_with_them(
    office: Office, stick: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    house = tmp_path / "house"
    house.mkdir()
    (house / "print.yaml").write_text("house: Marrow and Pell\n", "utf-8")
    note(office.settings.data_folder, plans=str(house))
    for _ in range(2):
        assert main(["copy", str(stick), *data(office)]) == 0
    assert "house/print.yaml" in files_in(stick)
    house.rename(tmp_path / "away")
    capsys.readouterr()
    assert main(["copy", str(stick), *data(office)]) == 1
    assert f"plans in {house}, and they are not there" in capsys.readouterr().err
    assert "house/print.yaml" in files_in(stick)


@pytest.mark.parametrize("at", ["head-", "log"])
def test_a_copy_by_hand_into_a_folder_that_stops_answering_ends_in_words(
    office: Office,
    phone: Phone,
    day: dict[str, Any],
    stick: Path,
    at: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """It answers when it is named, and hangs in the middle of a file, as a stick does that is half pulled out."""
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, stick))
    answers, read = threading.Event(), Answering.readinto

    def blocks(file: Answering, buffer: Any) -> int | None:
        if Path(str(file.name)).name.startswith(at):
            assert answers.wait(10), "the command waited for the folder"
        return read(file, buffer)

    monkeypatch.setattr(Answering, "readinto", blocks)
    monkeypatch.setattr("intake.copies.by_hand.SILENT_S", 0.2)
    assert main(["copy", str(stick), *data(office)]) == 1
    answers.set()
    assert f"{stick} does not answer" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("name", "says"), [("gone/copy", "There is no folder"), ("file", "is a file"), ("file/copy", "")]
)
def test_a_copy_by_hand_where_none_can_be_made_is_not_said_to_go_on_by_itself(
    office: Office, tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, says: str
) -> None:
    (tmp_path / "file").touch()
    assert main(["copy", str(tmp_path / name), *data(office)]) == 1
    said = capsys.readouterr().err
    assert says in said
    assert "by itself" not in said


def test_a_stick_that_is_full_or_locked_is_copied_to_by_the_same_command_again(
    office: Office,
    phone: Phone,
    stick: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    def refuse(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(Folder, "put", refuse)
    assert main(["copy", str(stick), *data(office)]) == 1
    assert "then type the same again" in capsys.readouterr().err
