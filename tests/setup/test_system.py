"""What the system offers is used, and beside it stands a way that needs nothing of it: both do the same."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from intake import system

HOLDER = """
import os, sys, time
from intake import system
descriptor = os.open(sys.argv[1], os.O_RDWR | os.O_CREAT)
print(system.lock(descriptor), flush=True)
sys.stdin.read()
"""


@contextmanager
def holder(file: Path) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """A process that takes a file's lock, and what it was told; it lets go at the end of the block."""
    process = subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(file)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert process.stdin is not None
    assert process.stdout is not None
    try:
        yield process, process.stdout.readline().strip()
    finally:
        process.stdin.close()
        process.wait(20)
        process.stdout.close()


def test_a_lock_is_one_process_s_alone_and_ends_with_it_however(tmp_path: Path) -> None:
    file = tmp_path / "lock"
    with holder(file) as (first, told):
        assert told == "True"
        with holder(file) as (_, told):
            assert told == "False"
        first.send_signal(signal.SIGKILL)
        first.wait(20)
        with holder(file) as (_, told):
            assert told == "True"


def test_who_waits_for_a_lock_gets_it_when_it_is_free(tmp_path: Path) -> None:
    file = tmp_path / "lock"
    waited: list[bool] = []
    with holder(file) as (process, _):

        def end_the_other() -> None:
            waited.append(True)
            process.kill()
            process.wait(20)

        with system.locked(file, wait=end_the_other), holder(file) as (_, told):
            assert told == "False"
    assert waited == [True]


def test_bytes_land_at_their_offset_with_and_without_positional_writing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("as the system has it", "without"):
        descriptor = os.open(tmp_path / name, os.O_WRONLY | os.O_CREAT)
        for offset, content in ((5, b"fghij"), (0, b"abcde"), (2, b"CD")):
            assert system.write_at(descriptor, content, offset) == len(content)
        os.close(descriptor)
        monkeypatch.delattr("intake.system.os.pwrite", raising=False)
    assert [file.read_bytes() for file in tmp_path.iterdir()] == [b"abCDefghij"] * 2


def test_a_folder_is_waited_for_or_let_be(tmp_path: Path) -> None:
    system.sync_folder(tmp_path)
    with pytest.raises(OSError, match="No such file"):
        system.sync_folder(tmp_path / "missing")


GOES_ON = "import os, sys; from intake import system; sys.exit(system.go_on_as({command}, os.environ))"
ENDS_WITH_3 = [sys.executable, "-c", "import sys; print(sys.argv[1:]); sys.exit(3)", "two words", "é"]


def test_going_on_as_another_program_hands_on_words_and_exit_code() -> None:
    done = subprocess.run(
        [sys.executable, "-c", GOES_ON.format(command=ENDS_WITH_3)],
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert done.stdout == "['two words', 'é']\n"
    assert done.returncode == 3


def test_the_programs_of_a_virtual_environment_are_where_each_system_puts_them(tmp_path: Path) -> None:
    """Source: Python's documentation of venv: `bin` on POSIX, `Scripts` on Windows."""
    assert system.venv_program(tmp_path, "python") == tmp_path / "bin" / "python"
    (tmp_path / "Scripts").mkdir()
    assert system.venv_program(tmp_path, "python") == tmp_path / "Scripts" / "python.exe"
