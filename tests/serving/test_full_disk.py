"""An office whose disk is full says so in a sentence, at whatever step of its start the room ends."""

from __future__ import annotations

import shlex
import subprocess
import sys
from pathlib import Path

import pytest

#: A disk of this test's own, so small; its user need not be the system's. Source: unshare(1), mount(8), tmpfs(5).
ON_A_DISK = "mount -t tmpfs -o size={size}k none {folder} && exec {command}"


def on_a_disk(size: int, folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """Run a program in a view of the system where `folder` is on a disk of `size` kB."""
    script = ON_A_DISK.format(size=size, folder=shlex.quote(str(folder)), command=shlex.join(words))
    return subprocess.run(
        ["unshare", "--user", "--map-root-user", "--mount", "sh", "-c", script],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


def has_disks(folder: Path) -> bool:
    try:
        return on_a_disk(100, folder, "true").returncode == 0
    except OSError:
        return False


@pytest.mark.parametrize(
    ("hall", "size"),
    [([], 100), ([], 300), *((["--hall"], size) for size in (4, 40, 100, 200, 300, 500))],
)
def test_a_full_disk_is_told_in_a_sentence(tmp_path: Path, size: int, hall: list[str]) -> None:
    if not has_disks(tmp_path):
        pytest.skip("this system gives a test no disk of its own")
    ports = ["--port", "0", *(["--page-port", "0"] if hall else [])]
    serve = [sys.executable, "-m", "intake", "serve", *hall, *ports, "--data", str(tmp_path / "office")]
    done = on_a_disk(size, tmp_path, *serve)
    assert done.returncode == 1, done.stderr
    assert "Traceback" not in done.stderr
    assert "room" in done.stderr
    assert len(done.stderr.splitlines()) <= 3, done.stderr
