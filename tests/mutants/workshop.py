"""A copy of the checkout in which files are changed and tests run, so that nothing in the checkout itself ever is."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path

from intake.setup.bootstrap import ROOT
from tests.mutants.change import Change

LENT = (".venv", ".node", "web/node_modules")  # too large to copy, and nothing writes there
AT_LEAST_S = 60  # how long tests may take in any case; beyond, and ten times as long as unchanged, they hang
#: What every module that answers operations is tried with.
OPERATIONS = tuple(
    f"tests/sync/test_{name}.py"
    for name in (
        "cases",
        "check_and_apply",
        "door",
        "who_may",
        "never_refused",
        "stopped_doubles",
        "before_a_stop",
        "erased_words",
    )
)
#: Tests of modules that stand in no folder, or whose tests stand elsewhere.
MORE = {
    "intake/database.py": ("tests/test_database.py",),
    "intake/records": ("tests/test_records.py", *OPERATIONS),
    "intake/disk.py": ("tests/test_disk.py",),
    "intake/connections.py": ("tests/test_connections.py",),
    "intake/shell.py": ("tests/promises/test_shell.py",),
    "intake/errors.py": ("tests/promises/test_errors.py",),
    "intake/sync": ("tests/sync",),
}
FOLDERS = (
    "access",
    "arrival",
    "cataloguing",
    "copies",
    "custody",
    "examination",
    "hall",
    "photos",
    "tagging",
)
APART = ("--deselect=tests/custody/test_simulated_day.py", "--deselect=tests/sync/test_killed.py")
FAILING = re.compile(r"FAILED |ERROR |\s*✖ ")  # as pytest and node say it
IMPORTED = re.compile(r'from "(\.{1,2}/[^"]+)"')


class FailsAsItIs(Exception):
    """A module's tests fail without any change, so that they notice nothing. `str()` names those that do."""


@dataclass
class Workshop:
    folder: Path
    node: str
    _seconds: dict[tuple[str, ...], float] = field(default_factory=dict)
    _failing: dict[tuple[str, ...], str] = field(default_factory=dict)
    _running: subprocess.Popen[bytes] | None = None

    @classmethod
    def opened(cls, folder: Path, node: str) -> Workshop:
        """Copy what is committed or about to be, the built app with it."""
        listed = subprocess.run(
            ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
            cwd=ROOT,
            capture_output=True,
            text=True,
            check=True,
        )
        for name in filter(None, listed.stdout.split("\0")):
            if (ROOT / name).is_file() and not (ROOT / name).is_symlink():
                (folder / name).parent.mkdir(parents=True, exist_ok=True)
                shutil.copy2(ROOT / name, folder / name)
        shutil.copytree(ROOT / "web" / "built", folder / "web" / "built")
        for name in LENT:
            if (ROOT / name).exists():
                (folder / name).symlink_to((ROOT / name).resolve())
        return cls(folder, node)

    @property
    def _printed(self) -> Path:
        """What the last tests printed."""
        return self.folder / "printed"

    def command(self, path: str) -> tuple[str, ...]:
        """The tests that a change to this file may fail; empty if there are none."""
        if path.startswith("web/"):
            return self._node_command(path)
        step = path.split("/")[1]
        own = (f"tests/{step}",) if step in FOLDERS else ()
        found = next((tests for start, tests in MORE.items() if path.startswith(start)), (*OPERATIONS, *own))
        python = [sys.executable, "-m", "pytest", "-x", "-q", "-n0", "-p", "no:cacheprovider", "--no-header"]
        return (*python, *APART, *found)

    def _node_command(self, path: str) -> tuple[str, ...]:
        tests = sorted((self.folder / "tests" / "web").glob("*.test.js"))
        reached = [str(test) for test in tests if self.folder / path in closure(test)]
        return (self.node, "--test", *reached) if reached else ()

    def notices(self, change: Change) -> bool:
        """Whether a test fails, or hangs, with the change. Raises FailsAsItIs if one fails without it."""
        command = self.command(change.path)
        if not command:
            return False
        self._try_unchanged(command)
        file = self.folder / change.path
        before = file.read_bytes()
        try:
            file.write_text(change.text, "utf-8")
            return not self._passes(command, AT_LEAST_S + 10 * self._seconds[command])
        finally:
            file.write_bytes(before)

    def _try_unchanged(self, command: tuple[str, ...]) -> None:
        """How long the tests take as things are; they run once. Raises FailsAsItIs."""
        if command in self._seconds:
            return
        if command not in self._failing:
            began = time.monotonic()
            if self._passes(command, None):
                self._seconds[command] = time.monotonic() - began
                return
            printed = self._printed.read_text("utf-8", errors="replace").splitlines()
            failing = [line.strip() for line in printed if FAILING.match(line)]
            self._failing[command] = "\n".join(failing) or " ".join(command)
        raise FailsAsItIs(self._failing[command])

    def _passes(self, command: tuple[str, ...], limit_s: float | None) -> bool:
        environment = {
            **os.environ,
            "PYTHONDONTWRITEBYTECODE": "1",
            "PYTHON": sys.executable,
            "INTAKE_SEED": "1",
        }
        with self._printed.open("wb") as printed:
            self._running = process = subprocess.Popen(
                command,
                cwd=self.folder,
                env=environment,
                stdout=printed,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )
        try:
            return process.wait(limit_s) == 0
        except subprocess.TimeoutExpired:
            return False
        finally:
            end_group(process)

    def close(self) -> None:
        """End the tests that run here."""
        if self._running is not None:
            end_group(self._running)


def end_group(process: subprocess.Popen[bytes]) -> None:
    """End it with all that it has started."""
    if os.name == "posix":
        try:
            os.killpg(process.pid, 9)
        except ProcessLookupError:
            return
    else:
        process.kill()
    process.wait()


def closure(file: Path) -> set[Path]:
    """A module with all that it imports, and what those import."""
    found: set[Path] = set()
    waiting = [file]
    while waiting:
        one = waiting.pop()
        if one in found or not one.is_file():
            continue
        found.add(one)
        waiting += [(one.parent / name).resolve() for name in IMPORTED.findall(one.read_text("utf-8"))]
    return found
