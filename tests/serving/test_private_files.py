"""What the office keeps of people is for its own account alone, and what an earlier version left open is closed."""

from __future__ import annotations

import os
import stat
from contextlib import closing
from pathlib import Path

import pytest

from intake.system import close_to_others
from tests.apart import run_intake
from tests.serving.test_starting import an_office, paired

pytestmark = pytest.mark.skipif(os.name != "posix", reason="Windows says by other means who may read a file")


def open_to_others(folder: Path) -> list[str]:
    paths = [folder, *folder.rglob("*")]
    return [str(path.relative_to(folder)) for path in paths if path.stat().st_mode & 0o077]


def test_whatever_the_office_makes_is_closed_to_others(tmp_path: Path) -> None:
    """The files of its tables, its lock, its note, its pictures' folders and its copy, made under a usual umask."""
    office, copy = tmp_path / "office", tmp_path / "copy"
    before = os.umask(0o022)
    try:
        with an_office(office, "--copy-to", str(copy)) as (_, port), closing(paired(office, port)):
            assert open_to_others(office) == []
            assert copy.exists()
            assert open_to_others(copy) == []
    finally:
        os.umask(before)


def test_what_was_open_is_closed_at_the_next_start(tmp_path: Path) -> None:
    with an_office(tmp_path):
        pass
    tmp_path.chmod(0o755)
    for file in tmp_path.iterdir():
        file.chmod(0o755 if file.is_dir() else 0o644)
    assert open_to_others(tmp_path)
    assert run_intake("pair", "--data", str(tmp_path), "--as", "door", "--name", "Door").returncode == 0
    assert open_to_others(tmp_path) == []


def test_a_folder_of_everybody_s_is_left_as_it_is(tmp_path: Path) -> None:
    tmp_path.chmod(0o1777)
    close_to_others(tmp_path)
    assert stat.S_IMODE(tmp_path.stat().st_mode) == 0o1777
