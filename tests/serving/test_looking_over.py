"""A data folder from which something is gone is told, and served only where a person says how to go on."""

from __future__ import annotations

import asyncio
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from intake.commands import main
from intake.copies.bring_in import bring_in
from intake.copies.folder import Folder
from intake.copies.restore import restore
from intake.data_folder import check_may_begin
from intake.database import Writing, bring_up_to_date, opened, snapshot
from intake.errors import CommandError, LogChanged, LogCutOff, LogHasGaps, Refusal
from intake.photos.store import photo_file
from intake.settings import Settings
from intake.sync.looking_over import look_for_gaps
from intake.sync.rebuild import rebuild_if_outdated, rebuild_whole
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


CUT_OFF = "DELETE FROM operation_log WHERE office_seq = (SELECT max(office_seq) FROM operation_log)"
CHANGED = "UPDATE operation_log SET operation = replace(operation, 'tin', 'gold')"
UNREADABLE = (
    "UPDATE operation_log SET operation = '{' WHERE office_seq = (SELECT max(office_seq) FROM operation_log)"
)


@pytest.mark.parametrize(
    ("harm", "refusal", "says"),
    [
        (CUT_OFF, LogCutOff, "ends with operation 3, and a record tells of operation 4"),
        (CHANGED, LogChanged, "after they were logged: 4."),
        (UNREADABLE, LogChanged, "after they were logged: 4."),
    ],
)
async def test_of_a_log_that_was_cut_off_or_changed_no_tables_are_made(
    door: Door, harm: str, refusal: type[Refusal], says: str
) -> None:
    item = await door.item()
    await door.keep(a_fact(item["item_id"], "materials", "tin"))
    await door.database.write(lambda tx: tx.run("UPDATE office SET apply_version = 1"))
    await door.database.write(lambda tx: tx.run(harm))
    with pytest.raises(refusal) as told:
        await door.database.write(rebuild_if_outdated)
    assert says in told.value.detail
    assert await door.value(item["item_id"], "materials") == "tin"
    faults = await door.faults()
    assert any("its end was cut off" in fault or "Operation 4 was changed" in fault for fault in faults)
    assert all("do not rebuild" in fault for fault in faults if fault.startswith("The table"))


@pytest.mark.parametrize(("harm", "value"), [(CHANGED, "gold"), (UNREADABLE, None)])
async def test_who_has_no_copy_goes_on_with_what_a_changed_log_says_and_hears_of_it(
    door: Door, harm: str, value: str | None
) -> None:
    item = await door.item()
    await door.keep(a_fact(item["item_id"], "materials", "tin"))
    await door.database.write(lambda tx: tx.run(harm))
    again = await door.database.write(lambda tx: rebuild_whole(tx, all_the_same=True))
    record = await door.record(item["item_id"])
    assert record["fields"].get("materials", {}).get("value") == value
    assert again.left_out == ["Operation 4 was changed after it was logged."]


async def test_a_log_that_was_cut_off_stops_the_start(door: Door) -> None:
    item = await door.item()
    await door.database.write(lambda tx: tx.run(CUT_OFF))
    with pytest.raises(LogCutOff):
        await look_for_gaps(settings_of(door))
    with pytest.raises(LogCutOff):
        await door.database.write(lambda tx: rebuild_whole(tx, all_the_same=True))
    assert await door.record(item["item_id"])


async def test_an_index_that_lacks_a_row_is_named(door: Door) -> None:
    """What the tables say is right, and a question that goes by the index gets no answer."""
    await door.item()
    assert await door.faults() == []
    forged = (
        "UPDATE sqlite_schema SET sql = replace(sql, '(record_id, office_seq)', '(office_seq, record_id)')"
    )

    def harm(tx: Writing) -> None:
        tx.run("PRAGMA writable_schema = ON")
        tx.run(f"{forged} WHERE name = 'operation_log_by_record'")

    await door.database.write(harm)
    async with opened(settings_of(door).database_file) as database:
        faults = await Door(database, door.folder, door.ids, door.device_id).faults()
    assert any("missing from index operation_log_by_record" in fault for fault in faults), faults


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
    check_may_begin(settings)
    Path(f"{settings.database_file}-wal").write_bytes(b"left")
    with pytest.raises(CommandError):
        check_may_begin(settings)


#: Every command that opens the office of a folder, with what else it is given.
OPENING = {
    "seal": [],
    "copy": ["stick"],
    "bring-in": ["stick"],
    "verify": [],
    "rebuild": [],
    "pair": ["--as", "table", "--name", "Table 1"],
    "erase": ["Q01"],
    "serve": ["--port", "0"],
}


@pytest.mark.parametrize("left", ["no database", "no bytes", "no tables", "no name"])
@pytest.mark.parametrize("command", OPENING)
def test_no_command_makes_an_office_in_the_place_of_one_that_is_gone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str, left: str
) -> None:
    """Its photos are there. The file is gone, empty, or one in which no office has ever been served."""
    settings = Settings(tmp_path / "office")
    photo = photo_file(settings.photos_folder, "ab" * 32)
    photo.parent.mkdir(parents=True)
    photo.write_bytes(b"a photo")
    if left != "no database":
        settings.database_file.touch()
    if left in ("no tables", "no name"):
        with closing(sqlite3.connect(settings.database_file, isolation_level=None)) as connection:
            connection.execute(
                "PRAGMA journal_mode = WAL"
            )  # as the office's own file; from now on it has a page
            if left == "no name":
                bring_up_to_date(connection)
    before = settings.database_file.exists(), is_named(settings.database_file)
    given = [str(tmp_path / one) if one == "stick" else one for one in OPENING[command]]
    assert main([command, *given, "--data", str(settings.data_folder)]) == 1
    told = capsys.readouterr().err
    assert "its database is" in told or "is empty" in told
    assert "restore COPY" in told
    assert (settings.database_file.exists(), is_named(settings.database_file)) == before
    assert not (tmp_path / "stick").exists()


@pytest.mark.parametrize("command", OPENING)
def test_no_command_makes_an_office_where_one_is_half_restored(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str
) -> None:
    """`restore` was killed before its first photo."""
    settings = Settings(tmp_path / "office")
    settings.data_folder.mkdir()
    settings.unfinished_file.write_bytes(b"half of it")
    given = [str(tmp_path / one) if one == "stick" else one for one in OPENING[command]]
    assert main([command, *given, "--data", str(settings.data_folder)]) == 1
    told = capsys.readouterr().err
    assert "was interrupted" in told
    assert f"`intake restore COPY --data {settings.data_folder}`" in told
    assert not settings.database_file.exists()


@pytest.mark.parametrize("command", [one for one in OPENING if one != "serve"])
def test_no_command_but_serve_makes_an_office_where_none_was(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str
) -> None:
    settings = Settings(tmp_path / "office")
    given = [str(tmp_path / one) if one == "stick" else one for one in OPENING[command]]
    assert main([command, *given, "--data", str(settings.data_folder)]) == 1
    assert "There is no office" in capsys.readouterr().err
    assert not settings.database_file.exists()


def is_named(file: Path) -> bool:
    """Whether an office has its name in a database."""
    if not file.exists() or file.stat().st_size == 0:
        return False
    with snapshot(file) as tx:
        tables = tx.value("SELECT count(*) FROM sqlite_schema WHERE name = 'office'")
        return bool(tables and tx.value("SELECT 1 FROM office"))


async def test_an_office_that_was_begun_empty_beside_photos_is_told_when_it_is_looked_at(door: Door) -> None:
    photo = photo_file(door.folder, "ab" * 32)
    photo.parent.mkdir(parents=True)
    photo.write_bytes(b"a photo")
    assert [fault for fault in await door.faults() if "photos of an office" in fault]
    await door.item()
    assert await door.faults() == []


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
