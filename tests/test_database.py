"""The office's file: every way of opening ends well, and reading waits for nobody who writes."""

from __future__ import annotations

import asyncio
import sqlite3
import threading
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

import intake.database
from intake.access.devices import devices, make_code, note_heard, pair, revoke
from intake.access.known import KnownDevices
from intake.database import Database, Reading, Writing, opened
from intake.errors import DamagedTables, DeviceRevoked, IntakeError, NewerData, OfficeBusy
from intake.settings import Settings, utc_now
from tests.apart import run_intake
from tests.builders import Ids, a_day, a_visit
from tests.conftest import Clock, Office, running
from tests.door import at_the_door
from tests.phone import Phone


@pytest.fixture(autouse=True)
def short_wait(monkeypatch: pytest.MonkeyPatch) -> None:
    """How long a change waits for another process; a person would not want to wait for a test."""
    monkeypatch.setattr("intake.database.BUSY_MS", 50)


@contextmanager
def written_to(file: Path) -> Iterator[None]:
    """Another process's transaction that is writing, as far as the engine can tell."""
    with closing(sqlite3.connect(file, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        yield
        other.execute("ROLLBACK")


@contextmanager
def nothing_left_running() -> Iterator[None]:
    """Every thread that the block starts ends; one that did not would keep the process from ending."""
    before = set(threading.enumerate())
    yield
    for thread in set(threading.enumerate()) - before:
        thread.join(5)
        assert not thread.is_alive()


def newer(file: Path) -> None:
    file.parent.mkdir(exist_ok=True)
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("PRAGMA user_version = 9999")


def cut_short(file: Path) -> None:
    file.write_bytes(b"SQLite format 3\0" + b"\0" * 100)


def no_database(file: Path) -> None:
    file.write_bytes(b"this is a letter, not a table\n" * 300)


@pytest.mark.parametrize(
    ("made", "error"), [(newer, NewerData), (cut_short, DamagedTables), (no_database, DamagedTables)]
)
async def test_a_file_that_cannot_be_opened_leaves_nothing_running(
    tmp_path: Path, made: Any, error: type[IntakeError]
) -> None:
    made(tmp_path / "file.sqlite3")
    with nothing_left_running(), pytest.raises(error):
        await Database.open(tmp_path / "file.sqlite3", readers=2)


@pytest.mark.parametrize(
    "command", [["serve", "--port", "0"], ["verify"], ["pair", "--as", "desk", "--name", "d"]]
)
def test_a_newer_folder_ends_a_command_with_words(tmp_path: Path, command: list[str]) -> None:
    newer(Settings(tmp_path).database_file)
    ended = run_intake(command[0], "--data", str(tmp_path), *command[1:])
    assert ended.returncode == 1
    assert "written by a newer version (schema 9999" in ended.stderr
    assert "Traceback" not in ended.stderr


async def test_a_reader_that_fails_to_open_closes_the_rest(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The third connection fails, where the system would have run out of files; all else is real."""
    real: Callable[..., sqlite3.Connection] = sqlite3.connect
    made: list[object] = []

    def refuses_the_third(*given: Any, **named: Any) -> sqlite3.Connection:
        made.append(given)
        if len(made) == 3:
            raise sqlite3.OperationalError("unable to open database file")
        return real(*given, **named)

    monkeypatch.setattr("sqlite3.connect", refuses_the_third)
    with nothing_left_running(), pytest.raises(sqlite3.OperationalError):
        await Database.open(tmp_path / "file.sqlite3", readers=3)


def test_reading_waits_for_nobody_who_writes(office: Office, phone: Phone) -> None:
    """An hour later the office would note when the phone was last seen; another process holds the tables."""
    office.clock.pass_by(hours=1)
    with written_to(office.settings.database_file):
        page = phone.client.get("/sync/feed", params={"holding": 4})
        assert page.status_code == 200
        assert [record["kind"] for record in page.json()["records"]] == ["day"]


def test_what_was_heard_shows_at_once_and_is_written_when_the_office_closes(
    settings: Settings, clock: Clock, ids: Ids
) -> None:
    with running(settings, clock, ids) as office:
        manager, phone = office.pair("manager"), office.pair("table")
        clock.pass_by(hours=1)
        phone.feed()
        phone.client.get("/sync/feed", params={"holding": 4})
        phone.feed()
        heard = {one["device_id"]: one for one in manager.client.get("/devices").json()["devices"]}
    assert heard[phone.device_id]["last_seen_at"] == "2026-03-14T19:00:00.000Z"
    assert heard[phone.device_id]["holding"] == 4
    with closing(sqlite3.connect(settings.database_file)) as file:
        rows = file.execute("SELECT device_id, last_seen_at, holding FROM device").fetchall()
    assert (phone.device_id, "2026-03-14T19:00:00.000Z", 4) in rows
    assert (manager.device_id, "2026-03-14T19:00:00.000Z", None) in rows


def test_an_owner_is_read_while_another_process_writes_and_the_note_is_not_lost(
    settings: Settings, clock: Clock, ids: Ids
) -> None:
    with running(settings, clock, ids) as office:
        manager, desk = office.pair("manager"), office.pair("desk", "Desk 1")
        day = manager.keep(a_day(ids))
        visit_id = manager.keep(a_visit(ids, day["day_id"], ticket="Q07"))["visit_id"]
        manager.push()
        with written_to(office.settings.database_file):
            assert desk.client.get(f"/records/{visit_id}").status_code == 200
            [note] = manager.client.get("/readings").json()["readings"]
            assert (note["device_name"], note["ticket"]) == ("Desk 1", "Q07")
    with closing(sqlite3.connect(settings.database_file)) as file:
        rows = file.execute("SELECT device_id, record_id FROM reading_note").fetchall()
    assert rows == [(desk.device_id, visit_id)]


async def a_device(database: Database, clock: Clock) -> str:
    """A paired device on the file itself; its secret."""

    def job(tx: Writing) -> str:
        code = make_code(tx, role="desk", name="Desk", now=clock(), device_id="d")
        return pair(tx, typed=code.code, device_id="d", secret=None, now=clock())[1]

    return await database.write(job)


async def test_what_was_heard_stays_in_memory_while_it_cannot_be_written(
    tmp_path: Path, clock: Clock
) -> None:
    file = tmp_path / "file.sqlite3"
    async with opened(file) as database:
        await a_device(database, clock)
        known = KnownDevices(database)
        known.hear("d", clock())
        with written_to(file), pytest.raises(OfficeBusy):
            await known.write_down()
        await known.write_down()
        (device,) = await database.read(devices)
        assert device.last_seen_at == "2026-03-14T18:00:00.000Z"


async def test_a_device_read_before_a_change_is_not_remembered_after_it(tmp_path: Path, clock: Clock) -> None:
    async with opened(tmp_path / "file.sqlite3") as database:
        secret = await a_device(database, clock)
        known = KnownDevices(database)
        reading = asyncio.create_task(known.with_secret(secret, clock()))
        await asyncio.sleep(0)  # it has asked
        known.forget()
        await reading
        await database.write(lambda tx: revoke(tx, "d", clock()))
        with pytest.raises(DeviceRevoked):
            await known.with_secret(secret, clock())


def test_a_change_while_another_process_writes_is_to_be_sent_again(
    office: Office, phone: Phone, day: dict[str, Any]
) -> None:
    phone.keep(
        (
            "open_visit",
            {"visit_id": phone.ids.id(), "day_id": day["day_id"], "ticket": "Q1", "bags": 1, "kinds": ""},
        )
    )
    with written_to(office.settings.database_file):
        told = phone.client.post("/sync/operations", json={"operations": phone.outbox})
        assert (told.status_code, told.json()["code"]) == (503, "office_busy")
        assert told.headers["retry-after"]
    assert phone.push()[0]["outcome"] == "kept"


async def test_whoever_reads_sees_one_moment_whatever_is_kept_meanwhile(tmp_path: Path) -> None:
    """What is read first and what is read last of a record fit together."""
    file = tmp_path / "office.sqlite3"
    async with opened(file) as database:
        await database.write(lambda tx: tx.run("CREATE TABLE said (word TEXT)"))

        def ask(tx: Reading) -> list[int]:
            count = "SELECT count(*) FROM said"
            before = tx.value(count)
            with closing(sqlite3.connect(file)) as other, other:
                other.execute("INSERT INTO said VALUES ('owl')")
            return [before, tx.value(count)]

        assert await database.read(ask) == [0, 0]
        assert await database.read(ask) == [1, 1], "and the next one sees what was kept"

        def fail(tx: Reading) -> None:
            tx.value("SELECT count(*) FROM said")
            raise RuntimeError

        with pytest.raises(RuntimeError):
            await database.read(fail)
        assert await database.read(ask) == [2, 2]


async def test_a_reader_that_meets_a_lock_is_told_to_try_again(tmp_path: Path) -> None:
    async with opened(tmp_path / "file.sqlite3") as database:
        # It asks for all locks, which nobody does at one moment of the file: so that ends first.
        with written_to(tmp_path / "file.sqlite3"), pytest.raises(OfficeBusy):
            await database.read(lambda tx: [tx.all("ROLLBACK"), tx.all("PRAGMA journal_mode = DELETE")])


async def test_a_large_change_leaves_no_large_file_beside_the_tables(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Tables made anew for a house of ten years left nearly a gigabyte beside them, until the office was closed."""
    monkeypatch.setattr("intake.database.KEPT_WAL", 200_000)
    file = tmp_path / "large.sqlite3"
    log = file.with_name(f"{file.name}-wal")
    async with opened(file) as database:
        await database.write(lambda tx: tx.run("CREATE TABLE large (bytes)"))
        await database.write(lambda tx: tx.run("INSERT INTO large VALUES (zeroblob(20000000))"))
        assert log.stat().st_size > 10_000_000, "it all went through the log"
        await database.write(lambda tx: tx.run("DELETE FROM large"))
        await database.write(lambda tx: tx.run("INSERT INTO large VALUES (1)"))
        assert log.stat().st_size < 1_000_000


async def test_whoever_waits_for_news_is_woken_by_what_was_kept_only(tmp_path: Path) -> None:
    woken = []

    def fails(tx: Writing) -> None:
        note_heard(tx, "d", utc_now(), holding=1)
        raise NewerData(2, 1)

    async with opened(tmp_path / "file.sqlite3") as database:
        database.on_commit.append(lambda: woken.append(1))
        with pytest.raises(NewerData):
            await database.write(fails)
        assert woken == []
        with written_to(tmp_path / "file.sqlite3"), pytest.raises(OfficeBusy):
            await database.write(lambda tx: None)
        assert woken == []
        await database.write(lambda tx: None)
        assert woken == [1]


@pytest.mark.parametrize("path", ["/sync/feed", "/queue"])
def test_a_page_of_nothing_is_refused(manager: Phone, path: str) -> None:
    """A page without rows could never say where the next one begins."""
    told = manager.client.get(path, params={"limit": 0})
    assert (told.status_code, told.json()["detail"]) == (400, "limit: it takes a whole number from 1 up.")


def test_a_device_is_known_anew_after_the_manager_changed_it(
    office: Office, manager: Phone, phone: Phone
) -> None:
    phone.feed()
    manager.client.post(f"/devices/{phone.device_id}/revoke")
    assert phone.client.get("/sync/feed").json()["code"] == "device_revoked"
    code = office.code("porter", "Porter 1", phone.device_id)
    phone.client.post("/pairing", json={"code": code, "device_id": phone.device_id}).raise_for_status()
    assert phone.client.get("/pairing/me").json()["role"] == "porter"


def test_a_device_that_another_process_changed_is_known_anew_within_a_minute(
    office: Office, phone: Phone
) -> None:
    phone.feed()
    with closing(sqlite3.connect(office.settings.database_file)) as other, other:
        other.execute("UPDATE device SET revoked_at = paired_at WHERE device_id = ?", (phone.device_id,))
    office.clock.pass_by(seconds=61)
    assert phone.client.get("/sync/feed").json()["code"] == "device_revoked"


@pytest.mark.parametrize(
    "origin", ["http://[::1", "null", "http://", "https://elsewhere.example", "http://[", "://"]
)
def test_a_page_from_elsewhere_may_not_write(phone: Phone, origin: str) -> None:
    """Source of the first: an address that RFC 3986 3.2.2 does not allow, which a parser may fail on."""
    told = phone.client.post("/sync/operations", json={"operations": []}, headers={"Origin": origin})
    assert (told.status_code, told.json()["code"]) == (403, "foreign_origin")


async def test_verifying_waits_for_nobody_and_keeps_nobody_waiting(tmp_path: Path, ids: Ids) -> None:
    """Another process is in the middle of a change all the while, as an office that serves always may be."""
    async with at_the_door(tmp_path, ids) as door:
        await door.item()
        with closing(sqlite3.connect(Settings(tmp_path).database_file, isolation_level=None)) as serving:
            serving.execute("BEGIN IMMEDIATE")
            serving.execute("UPDATE field SET value = '\"changed\"'")
            assert await door.faults() == []
            serving.execute("COMMIT")
        assert [fault for fault in await door.faults() if "table field differs" in fault]


async def test_who_came_while_another_process_wrote_does_not_wait_as_long_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tries = []
    run_group = intake.database._run_group

    def run_and_count(connection: Any, jobs: list[Any]) -> list[Any]:
        tries.append(len(jobs))
        return run_group(connection, jobs)

    async with opened(tmp_path / "file.sqlite3") as database:
        monkeypatch.setattr("intake.database._run_group", run_and_count)
        with written_to(tmp_path / "file.sqlite3"):
            first = asyncio.create_task(database.write(lambda tx: None))
            while tries == []:
                await asyncio.sleep(0)
            others = [database.write(lambda tx: None) for _ in range(3)]
            told = await asyncio.gather(first, *others, return_exceptions=True)
        assert [type(one) for one in told] == [OfficeBusy] * 4
        assert tries == [1]
        assert await database.write(lambda tx: 7) == 7


def test_no_two_steps_of_the_schema_have_one_number() -> None:
    """A file that has seen one of them would never see the other."""
    steps = sorted(step.name for step in files("intake.schema").iterdir() if step.name.endswith(".sql"))
    assert [int(name[:4]) for name in steps] == list(range(1, len(steps) + 1))
