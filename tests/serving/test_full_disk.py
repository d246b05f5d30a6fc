"""An office whose disk is full says so in a sentence, at whatever step of its start the room ends."""

from __future__ import annotations

import ctypes
import os
from functools import partial
from pathlib import Path

import pytest

from tests.apart import forking, run_after

#: Source: linux/sched.h.
NEW_MOUNTS, NEW_USERS = 0x00020000, 0x10000000


def put_on_a_disk(folder: Path, size: int) -> None:
    """Put `folder` on a disk of `size` kB, in the view that this process alone has of the system.

    Its user need not be the system's. Raises OSError. Source: unshare(2), mount(2), user_namespaces(7), tmpfs(5).
    """
    library = ctypes.CDLL(None, use_errno=True)
    user, group = os.getuid(), os.getgid()
    if library.unshare(NEW_USERS | NEW_MOUNTS):
        raise OSError(ctypes.get_errno(), "no view of its own")
    for name, line in (("setgroups", "deny"), ("uid_map", f"0 {user} 1"), ("gid_map", f"0 {group} 1")):
        Path("/proc/self", name).write_text(line)
    if library.mount(b"none", os.fsencode(folder), b"tmpfs", 0, f"size={size}k".encode()):
        raise OSError(ctypes.get_errno(), "no disk of its own")


def has_disks(folder: Path) -> bool:
    if forking() is None:
        return False
    return run_after(partial(put_on_a_disk, folder, 100), "--version").returncode == 0


@pytest.mark.parametrize(
    ("hall", "size"),
    [([], 100), ([], 300), *((["--hall"], size) for size in (4, 40, 100, 200, 300, 500))],
)
def test_a_full_disk_is_told_in_a_sentence(tmp_path: Path, size: int, hall: list[str]) -> None:
    if not has_disks(tmp_path):
        pytest.skip("this system gives a test no disk of its own")
    ports = ["--port", "0", *(["--page-port", "0"] if hall else [])]
    serve = ["serve", *hall, *ports, "--data", str(tmp_path / "office")]
    done = run_after(partial(put_on_a_disk, tmp_path, size), *serve)
    assert done.returncode == 1, done.stderr
    assert "Traceback" not in done.stderr
    assert "room" in done.stderr
    assert len(done.stderr.splitlines()) <= 3, done.stderr
