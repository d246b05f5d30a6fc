"""What is on the disk after a write is what was given, whatever its length and wherever its memory starts."""

from __future__ import annotations

import errno
import os
import random
import stat
from collections.abc import Callable
from mmap import mmap
from pathlib import Path
from typing import Any

import pytest

from intake import disk
from intake.errors import OfficeFull
from intake.system import write_at

LENGTHS = [1, disk.PAGE - 1, disk.PAGE, disk.PAGE + 1, 350_000, 2 * disk.BUFFER_STEP]


@pytest.mark.parametrize("size", LENGTHS)
@pytest.mark.parametrize("aligned", [True, False])
def test_a_whole_file_is_written_as_it_was_given(tmp_path: Path, size: int, aligned: bool) -> None:
    content = random.Random(size).randbytes(size)
    buffer = mmap(-1, size + 1)
    start = 0 if aligned else 1  # a disk takes memory directly only where a page starts
    buffer[start : start + size] = content
    disk.write_whole(tmp_path / "file", memoryview(buffer)[start : start + size])
    assert (tmp_path / "file").read_bytes() == content
    if os.name == "posix":
        assert stat.S_IMODE((tmp_path / "file").stat().st_mode) == 0o600, "it is for nobody else"


def test_writing_again_mends_a_torn_file_and_never_shortens_a_whole_one(tmp_path: Path) -> None:
    content = random.Random(1).randbytes(10_000)
    file = tmp_path / "file"
    for torn in (content, content[:5000], content[:5000] + b"\0" * 3000, content + b"more"):
        file.write_bytes(torn)
        reader = os.open(file, os.O_RDONLY)
        disk.write_whole(file, content)
        assert os.pread(reader, 20_000, 0) == content  # a reader that had it open sees the same file
        os.close(reader)


@pytest.mark.parametrize("where", ["os.open", "write_at"])
def test_where_direct_writing_is_refused_the_bytes_are_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, where: str
) -> None:
    """A file system says so at the one or the other; the refusal itself is pretended here."""
    content = random.Random(2).randbytes(10_000)
    real: Callable[..., int] = os.open if where == "os.open" else write_at
    refusals: list[tuple[object, ...]] = []

    def refuses_once(*given: Any) -> int:
        if not refusals:
            refusals.append(given)
            raise OSError(errno.EINVAL, "Invalid argument")
        return real(*given)

    monkeypatch.setattr(f"intake.disk.{where}", refuses_once)
    disk.write_whole(tmp_path / "file", content)
    assert (tmp_path / "file").read_bytes() == content
    assert refusals


def test_bytes_go_on_where_they_stopped(tmp_path: Path) -> None:
    disk.write_on(tmp_path / "file", b"old and longer", offset=0)
    disk.write_on(tmp_path / "file", b"abc", offset=0)
    disk.write_on(tmp_path / "file", b"def", offset=3)
    assert (tmp_path / "file").read_bytes() == b"abcdef"


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EDQUOT])
def test_a_full_disk_is_told_as_such(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: int) -> None:
    def no_room(*_: object) -> int:
        raise OSError(code, "no room")

    monkeypatch.setattr("intake.disk.write_at", no_room)
    with pytest.raises(OfficeFull):
        disk.write_whole(tmp_path / "file", b"x" * 5000)


def test_buffers_are_lent_again_and_never_to_two() -> None:
    buffers = disk.Buffers()
    first, second = buffers.borrow(10), buffers.borrow(10)
    assert first is not second
    buffers.give_back(first)
    assert buffers.borrow(disk.BUFFER_STEP) is first
    buffers.give_back(first)
    large = buffers.borrow(disk.BUFFER_STEP + 1)
    assert len(large) >= disk.BUFFER_STEP + 1
    assert large is not first
    fitting = disk.BUFFERS_LIMIT // disk.BUFFER_STEP
    given = [mmap(-1, disk.BUFFER_STEP) for _ in range(3 * fitting)]
    for one in given:
        buffers.give_back(one)
    held = [buffers.borrow(1) for _ in range(fitting)]
    assert len({id(one) for one in held}) == len(held)
    assert id(buffers.borrow(1)) not in {id(one) for one in given}, "what does not fit is not kept"
