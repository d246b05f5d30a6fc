"""A data folder from which something is gone is told, and served only where a person says how to go on."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import Any

import pytest

from intake.commands import main
from intake.copies.bring_in import bring_in
from intake.copies.folder import Folder
from intake.copies.restore import restore
from intake.database import opened
from intake.errors import CommandError, LogHasGaps
from intake.settings import Settings
from intake.sync.looking_over import check_database_is_there, look_for_gaps
from intake.sync.rebuild import rebuild_if_outdated
from tests.apart import run_intake
from tests.builders import Ids, a_fact
from tests.copies.tools import copier_of, until_done
from tests.door import Door, at_the_door
from tests.serving.test_starting import refused


def settings_of(door: Door) -> Settings:
    return Settings(door.folder, clock=lambda: door.now)


@pytest.fixture
async def gappy(door: Door) -> dict[str, Any]:
    """An item whose opening was deleted from the middle of the log."""
    item = await door.item()
    await door.keep(a_fact(item["item_id"], "materials", "tin"))
    await door.database.write(
        lambda tx: tx.run("DELETE FROM operation_log WHERE operation_id = :one", one=item["operation_id"])
    )
    return item


async def test_a_row_that_is_gone_from_the_middle_stops_the_start(door: Door, gappy: dict[str, Any]) -> None:
    with pytest.raises(LogHasGaps) as told:
        await look_for_gaps(settings_of(door))
    assert "the first of them 3" in told.value.detail
    assert await door.record(gappy["item_id"]), "the tables still have it"


async def test_nothing_is_made_anew_without_it_unsaid(door: Door, gappy: dict[str, Any]) -> None:
    await door.database.write(lambda tx: tx.run("UPDATE office SET apply_version = 1"))
    with pytest.raises(LogHasGaps):
        await door.database.write(rebuild_if_outdated)
    assert await door.record(gappy["item_id"])


async def test_a_copy_of_what_is_left_is_made_whole_by_the_phone_and_the_copy(
    door: Door, gappy: dict[str, Any], tmp_path: Path
) -> None:
    """What hangs on the lost row waits in the copy until the phone that made it has sent it again."""
    copy, new = tmp_path / "copy", Settings(tmp_path / "new", clock=lambda: door.now)
    until_done(copier_of(settings_of(door), copy))
    told = await restore(Folder(copy), new)
    assert (told.operations, told.brought_in.waiting, told.brought_in.refused) == (2, 1, 0)
    async with opened(new.database_file) as database:
        here = Door(database, new.data_folder, door.ids, door.device_id)
        assert (await here.feed())["office"]["hearing"] is True
        again = {name: value for name, value in gappy.items() if name != "disagreement"}
        assert [answer["outcome"] for answer in await here.send(again)] == ["kept"]
        await bring_in(Folder(copy), new, secret=None)
        assert await here.value(gappy["item_id"], "materials") == "tin"
        assert await here.faults() == []
    await look_for_gaps(new)


async def test_serve_and_rebuild_say_so(
    door: Door, gappy: dict[str, Any], capsys: pytest.CaptureFixture[str]
) -> None:
    folder = str(door.folder)
    refused(run_intake("serve", "--data", folder, "--port", "0"), "the first of them 3", "intake copy")
    refused(run_intake("rebuild", "--data", folder), "the first of them 3", "restore")


def test_a_database_that_is_gone_beside_photos_is_told(tmp_path: Path) -> None:
    """A photo is there; later a write-ahead log is all that is left."""
    settings = Settings(tmp_path)
    photo = settings.photos_folder / "ab" / "abc"
    photo.parent.mkdir(parents=True)
    photo.write_bytes(b"a photo")
    refused(
        run_intake("serve", "--data", str(tmp_path), "--port", "0"), "its database is gone", "--begin-empty"
    )
    assert not settings.database_file.exists()
    photo.unlink()
    check_database_is_there(settings)
    Path(f"{settings.database_file}-wal").write_bytes(b"left")
    with pytest.raises(CommandError):
        check_database_is_there(settings)


@pytest.mark.parametrize("command", ["copy", "verify", "rebuild", "bring-in"])
def test_a_damaged_database_is_told_by_every_command(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str
) -> None:
    """The first page is whole and what follows is not, as after a power cut on a disk that lied."""
    office, stick = tmp_path / "office", tmp_path / "stick"
    asyncio.run(an_office_in(office))
    assert main(["copy", str(stick), "--data", str(office)]) == 0
    file = Settings(office).database_file
    content = file.read_bytes()
    page = int.from_bytes(content[16:18], "big")
    file.write_bytes(content[:page] + b"\xff" * (len(content) - page))
    capsys.readouterr()
    folder = [str(stick)] if command in ("copy", "bring-in") else []
    assert main([command, *folder, "--data", str(office)]) == 1
    told = capsys.readouterr()
    assert "damaged" in told.err or "cannot be opened" in told.err
    assert "Traceback" not in told.err


async def an_office_in(folder: Path) -> None:
    async with at_the_door(folder, Ids(1)) as door:
        await door.item()
