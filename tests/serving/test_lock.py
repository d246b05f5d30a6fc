"""One office a data folder; the other commands know whether it is serving."""

from __future__ import annotations

import signal
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from intake.bench.served import free_port
from intake.commands import main
from intake.demo.seed import throw_away
from intake.errors import CommandError
from intake.lock import holder_of, last_address, only_one
from tests.apart import run_intake
from tests.serving.test_starting import an_office, ends_within, refused


def test_a_second_office_on_the_same_folder_is_refused_by_name(tmp_path: Path) -> None:
    with an_office(tmp_path) as (process, port):
        refused(
            run_intake("serve", "--data", str(tmp_path), "--port", str(free_port())),
            f"in use by process {process.pid}",
            f"http://127.0.0.1:{port}",
            "Ctrl-C",
        )


def test_the_lock_dies_with_its_process(tmp_path: Path) -> None:
    """Killed with no chance to tidy up, the next start is not in its way."""
    with an_office(tmp_path) as (process, _):
        assert holder_of(tmp_path)
        process.kill()
        assert ends_within(process, 10)
        assert holder_of(tmp_path) is None
    with only_one(tmp_path, "serving"):
        assert holder_of(tmp_path)


def test_a_child_of_the_office_does_not_keep_its_lock(tmp_path: Path) -> None:
    """A picture's worker may outlive its office for a moment."""
    with only_one(tmp_path, "serving"):
        child = subprocess.Popen([sys.executable, "-c", "input()"], stdin=subprocess.PIPE, close_fds=False)
    try:
        assert holder_of(tmp_path) is None
    finally:
        child.communicate(b"\n")


def test_pair_and_verify_work_beside_the_office(tmp_path: Path) -> None:
    with an_office(tmp_path) as (_, port):
        paired = run_intake("pair", "--data", str(tmp_path), "--as", "door", "--name", "Door")
        assert paired.returncode == 0
        assert f"Open http://127.0.0.1:{port} on the device" in paired.stdout
        assert "not running" not in paired.stdout
        assert run_intake("verify", "--data", str(tmp_path)).returncode == 0


@pytest.mark.parametrize(
    "command", [["rebuild"], ["erase", "some-visit"], ["demo", "--fresh", "--port", "0"]]
)
def test_what_needs_the_office_stopped_is_refused_while_it_serves(tmp_path: Path, command: list[str]) -> None:
    with an_office(tmp_path) as (process, _):
        (tmp_path / "demo").write_text("may be thrown away\n", "utf-8")
        refused(run_intake(*command, "--data", str(tmp_path)), f"in use by process {process.pid}")
        assert (tmp_path / "demo").exists()


def test_no_office_starts_while_its_tables_are_rebuilt(tmp_path: Path) -> None:
    with only_one(tmp_path, "rebuilding"):
        refused(run_intake("serve", "--data", str(tmp_path), "--port", "0"), "(rebuilding)")


@pytest.mark.parametrize(
    "command", [["pair", "--as", "table", "--name", "T"], ["verify"], ["rebuild"], ["erase", "some-visit"]]
)
def test_a_slip_in_the_folder_s_name_makes_no_office(
    tmp_path: Path, command: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    wrong = tmp_path / "WRONG"
    assert main([*command, "--data", str(wrong)]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert f"There is no office in {wrong}" in said.err
    assert not wrong.exists()


def test_pair_says_the_address_that_the_office_was_last_reached_by(tmp_path: Path) -> None:
    """Once it has ended, too; and then that it is not running."""
    with an_office(tmp_path, "--address", "https://intake.example.org") as (process, _):
        process.send_signal(signal.SIGTERM)
        assert ends_within(process, 10)
    said = run_intake("pair", "--data", str(tmp_path), "--as", "table", "--name", "T").stdout
    assert "Open https://intake.example.org on the device" in said
    assert "not running now" in said
    named = ["--address", "https://other.example.org/"]
    said = run_intake("pair", "--data", str(tmp_path), "--as", "table", "--name", "T", *named).stdout
    assert "Open https://other.example.org on the device" in said


def test_a_damaged_note_is_no_reason_to_stop(tmp_path: Path) -> None:
    (tmp_path / "office.json").write_text('{"pid": "?", "address": 7', "utf-8")
    with (
        only_one(tmp_path, "serving"),
        pytest.raises(CommandError, match="in use"),
        only_one(tmp_path, "serving"),
    ):
        pass
    assert last_address(tmp_path) == ""


def test_the_lock_is_held_against_whoever_opens_the_file(tmp_path: Path) -> None:
    """Source: SQLite's documentation, "BEGIN EXCLUSIVE": nobody else reads or writes until it ends."""
    with only_one(tmp_path, "serving"):
        other = sqlite3.connect(tmp_path / "office.lock", timeout=0)
        with pytest.raises(sqlite3.OperationalError, match="locked"):
            other.execute("SELECT count(*) FROM sqlite_schema")
        other.close()


def test_a_demo_begins_anew_in_a_folder_that_is_not_there_yet(tmp_path: Path) -> None:
    """What the engine keeps beside the lock that is held is nobody's data."""
    folder = tmp_path / "new"
    for _ in range(2):
        with only_one(folder, "throwing the demo's day away"):
            held = sorted(file.name for file in folder.iterdir())
            throw_away(folder)
            assert sorted(file.name for file in folder.iterdir()) == held
    (folder / "intake.sqlite3").touch()
    with only_one(folder, "throwing"), pytest.raises(CommandError, match="not made by the demo"):
        throw_away(folder)
