"""A copy of the checkout in which files are changed and tests run, so that nothing in the checkout itself ever is.

A change is tried with the tests that reach the function it stands in, the likeliest first, up to the first that fails.
Which they are is measured once, and kept in `.mutants/` as long as neither the tests nor what they read change.
"""

from __future__ import annotations

import ast
import hashlib
import json
import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property
from pathlib import Path

from intake.setup.bootstrap import ROOT
from tests import samples
from tests.app_tests import PLANS_IN, READ_PLANS
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
        "bare_operations",
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
    "intake/records": ("tests/test_records.py", "tests/test_records_in_hand.py", *OPERATIONS),
    "intake/disk.py": ("tests/test_disk.py",),
    "intake/connections.py": ("tests/test_connections.py",),
    "intake/shell.py": ("tests/promises/test_shell.py",),
    "intake/errors.py": ("tests/promises/test_errors.py",),
    "intake/sync": ("tests/sync",),
    "intake/edits.py": ("tests/sync",),
    "intake/settling.py": ("tests/sync",),
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
#: What a class says of itself is told to the app as a text that is kept, and no function of its module is called.
TOLD_TO_THE_APP = "tests/promises/test_app_types.py"
MEASURED = ".mutants"
LIKELIEST, A_LONG_TEST_S = 30, 0.5
PYTEST = (sys.executable, "-m", "pytest", "-x", "-q", "-n0", "-p", "no:cacheprovider", "--no-header")
FAILING = re.compile(r"FAILED |ERROR |\s*✖ ")  # as pytest and node say it
IMPORTED = re.compile(r'from "(\.{1,2}/[^"]+)"')
ASKED_IN_PYTHON = re.compile(r'said_by_app\(\s*"([^"]+\.js)"')


class FailsAsItIs(Exception):
    """A module's tests fail without any change, so that they notice nothing. `str()` names those that do."""


@dataclass(frozen=True)
class Reached:
    """Of each test: how long it takes, and of each module the first lines of the functions that it calls."""

    seconds: dict[str, float]
    lines: dict[str, dict[str, list[int]]]
    failed: list[str]

    @classmethod
    def together(cls, parts: Sequence[Reached]) -> Reached:
        seconds = {test: taken for part in parts for test, taken in part.seconds.items()}
        lines = {test: of for part in parts for test, of in part.lines.items()}
        return cls(seconds, lines, [test for part in parts for test in part.failed])

    def by(self, path: str, first_line: int | None) -> list[str]:
        """The tests that reach a function, or any of a module; the likeliest to notice a change first."""
        found = [
            test
            for test, lines in self.lines.items()
            if path in lines and (first_line is None or first_line in lines[path]) and test not in self.failed
        ]

        def place(test: str) -> tuple[bool, int, float]:
            """The likeliest to notice are those that do most with the module; to collect all of them takes longer."""
            seconds = self.seconds.get(test, 0)
            return seconds > A_LONG_TEST_S, -len(self.lines[test][path]), seconds

        return sorted(found, key=place)


@dataclass
class Workshop:
    folder: Path
    node: str
    _seconds: dict[tuple[str, ...], float] = field(default_factory=dict)
    _failing: dict[tuple[str, ...], str] = field(default_factory=dict)
    _reached: dict[tuple[str, ...], Reached] = field(default_factory=dict)
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
        return (*PYTEST, *APART, *found)

    def _node_command(self, path: str) -> tuple[str, ...]:
        tests = sorted((self.folder / "tests" / "web").glob("*.test.js"))
        reached = [str(test) for test in tests if self.folder / path in imported_by(test)]
        return (self.node, "--test", *reached) if reached else ()

    def notices(self, change: Change) -> bool:
        """Whether a test fails, or hangs, with the change. Raises FailsAsItIs if one fails without it."""
        command = self.command(change.path)
        if not command:
            return False
        if self.node not in command:
            self._try_unchanged(command)
        return any(self._fail(tests, command, change) for tests in self._narrowed(command, change) if tests)

    def _fail(self, tests: tuple[str, ...], command: tuple[str, ...], change: Change) -> bool:
        """Whether one of these tests of a command fails with the change. Of Node's, each file is tried as things are
        once it is needed: the first few notice most of what there is to be noticed."""
        if self.node in tests:
            self._try_unchanged(tests)
        limit_s = AT_LEAST_S + 10 * self._seconds.get(tests, self._seconds.get(command, 0))
        file = self.folder / change.path
        before, times = file.read_bytes(), file.stat()
        try:
            file.write_text(change.text, "utf-8")
            return not self._passes(tests, limit_s)
        finally:
            file.write_bytes(before)
            # What Python compiled of it as it was is good again, but only by the time that is written in there.
            os.utime(file, ns=(times.st_atime_ns, times.st_mtime_ns))

    def _narrowed(self, command: tuple[str, ...], change: Change) -> list[tuple[str, ...]]:
        """The commands of those tests alone that reach the change; all of them of a change to none of them. Outside
        of any function also those of what the app is told.

        Node's tests are a process a file: those that import the module itself come first, then those over the fewest
        others, of these the quickest, and the first that fails ends it.
        """
        if command not in self._reached:
            files: list[tuple[str, ...]] = [
                (self.node, word) for word in command if word.endswith(".test.js")
            ]
            module = self.folder / change.path

            def place(tests: tuple[str, ...]) -> tuple[int, float]:
                return imported_by(Path(tests[-1]))[module], self._seconds.get(tests, 0)

            return [*sorted(files, key=place), *self._in_python(module)] or [command]
        reached = self._reached[command]
        source = (self.folder / change.path).read_text("utf-8")
        function = function_around(source, change.line)
        told = [(*PYTEST, TOLD_TO_THE_APP)] if function is None else []
        tests = reached.by(change.path, function) or reached.by(change.path, None)
        if not tests:
            return [*told, command]
        return [self._only(tests[:LIKELIEST], "likeliest"), *told, self._only(tests[LIKELIEST:], "others")]

    def _in_python(self, module: Path) -> list[tuple[str, ...]]:
        """The tests that compare with the office what a module of the app says, asked by a script that imports it."""
        found: list[tuple[str, ...]] = []
        for test in sorted((self.folder / "tests").glob("**/test_*.py")):
            asked = ASKED_IN_PYTHON.findall(test.read_text("utf-8"))
            scripts = (self.folder / "tests" / "web" / name for name in asked)
            if any(imported_by(script).get(module, 2) < 2 for script in scripts):
                found.append((*PYTEST, test.relative_to(self.folder).as_posix()))
        return found

    def _only(self, tests: list[str], name: str) -> tuple[str, ...]:
        """The command of these tests; empty if there are none."""
        chosen = self.folder / name
        chosen.write_text("\n".join(tests), "utf-8")
        return (*PYTEST, f"@{chosen}") if tests else ()

    def _try_unchanged(self, command: tuple[str, ...]) -> None:
        """How long the tests take as things are; they run once. Raises FailsAsItIs."""
        if command in self._seconds:
            return
        if command not in self._failing:
            began = time.monotonic()
            if self._measured(command):
                self._seconds[command] = time.monotonic() - began
                return
            printed = self._printed.read_text("utf-8", errors="replace").splitlines()
            failing = [line.strip() for line in printed if FAILING.match(line)]
            self._failing[command] = "\n".join(failing) or " ".join(command)
        raise FailsAsItIs(self._failing[command])

    def _measured(self, command: tuple[str, ...]) -> bool:
        """Run the tests as things are, and note which of them reaches what; whether they pass."""
        if command[: len(PYTEST)] != PYTEST:
            return self._passes(command, None)
        # Each folder or file of tests by itself: most are asked for by many modules.
        targets = [word for word in command[len(PYTEST) :] if not word.startswith("-")]
        parts = [self._measured_of(target) for target in targets]
        self._reached[command] = Reached.together([part for part in parts if part is not None])
        return None not in parts

    def _measured_of(self, target: str) -> Reached | None:
        """What the tests of a folder or a file reach, measured if it is not known; None if one of them fails."""
        kept = ROOT / MEASURED / f"{self._digest(target)}.json"
        if not kept.is_file():
            kept.parent.mkdir(exist_ok=True)
            anew = self.folder / "reached.json"
            words = (*PYTEST, *APART, "-p", "tests.mutants.reached", target)
            # It may write what it compiles: the tries that follow read it.
            if not self._passes(words, None, INTAKE_REACHED=str(anew), PYTHONDONTWRITEBYTECODE=""):
                return None
            shutil.copy2(anew, kept)
        return Reached(**json.loads(kept.read_text("utf-8")))

    def _digest(self, target: str) -> str:
        """What the tests of a folder or a file may read, as one name."""
        digest = hashlib.sha256(target.encode())
        for file in sorted(self.folder.glob("**/*")):
            name = file.relative_to(self.folder).as_posix()
            read = name.startswith(("intake/", "fixtures/", target)) or re.fullmatch(r"tests/\w+\.py", name)
            if read and file.suffix in (".py", ".json", ".sql", ".yaml"):
                digest.update(name.encode() + file.read_bytes())
        return digest.hexdigest()[:20]

    @cached_property
    def _plans(self) -> str:
        """The plans as the app's tests read them: to ask Python for them takes longer than most of those tests."""
        kept = self.folder / "plans.json"
        with kept.open("wb") as out:
            subprocess.run(READ_PLANS, cwd=self.folder, stdout=out, check=True)
        return str(kept)

    def _passes(self, command: tuple[str, ...], limit_s: float | None, **more: str) -> bool:
        if self.node in command:
            more = {PLANS_IN: self._plans, **more}
        environment = {
            **os.environ,
            "PYTHONDONTWRITEBYTECODE": "1",
            "PYTHON": sys.executable,
            samples.SEED: "1",
            samples.WHOLE: "1",  # what is noticed by one case of many is noticed
            **more,
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


@cache
def imported_by(file: Path) -> dict[Path, int]:
    """What a module imports, and what those import: each with over how many imports it is reached, itself over none."""
    found: dict[Path, int] = {}
    waiting = [(file, 0)]
    for one, steps in waiting:
        if one in found or not one.is_file():
            continue
        found[one] = steps
        names = IMPORTED.findall(one.read_text("utf-8"))
        waiting += [((one.parent / name).resolve(), steps + 1) for name in names]
    return found


def function_around(source: str, line: int) -> int | None:
    """The first line of the innermost function that a line stands in, its decorators with it; None outside of any."""
    found: int | None = None
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            first = min([node.lineno, *(decorator.lineno for decorator in node.decorator_list)])
            if first <= line <= (node.end_lineno or line) and (found is None or first > found):
                found = first
    return found
