"""A stranger's machine: a clone of what is committed, python3, git and the basic tools, no Node, an empty home.

It downloads what a first start downloads, nothing of Python's if `PIP_CACHE_DIR` names a folder that is kept. A seed
chooses the moment at which it is interrupted; INTAKE_KILLS in the environment asks for more of them, 5 for all.
"""

from __future__ import annotations

import os
import random
import re
import shutil
import signal
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from urllib.error import URLError

import pytest

from intake.bench.served import free_port
from intake.setup.lock import ROOT
from intake.setup.web_app import download_mb
from tests.samples import runs

BASIC_TOOLS = ["git", "bash", "sh", "env", "ls", "cat", "cp", "mv", "rm", "mkdir", "ln", "chmod", "uname"]
BASIC_TOOLS += ["sed", "grep", "dirname", "basename"]
KILLS = runs(5, of=5, asked_in="INTAKE_KILLS")
PATIENCE_S = 600  # a slow line is no fault of the program

pytestmark = [
    pytest.mark.skipif(os.name == "nt", reason="a PATH of links cannot be made there"),
    pytest.mark.skipif(not (ROOT / ".git").exists(), reason="these sources are no clone"),
]


def first_command() -> list[str]:
    """The first command of the README, as words."""
    return next(
        line.split("#")[0].split()
        for line in (ROOT / "README.md").read_text("utf-8").splitlines()
        if line.startswith("    python3")
    )


@dataclass
class Machine:
    """A folder that stands for a machine on which nobody has done anything yet."""

    folder: Path
    environment: dict[str, str]
    port: int

    @property
    def clone(self) -> Path:
        return self.folder / "a clone é"

    @property
    def home(self) -> Path:
        return self.folder / "home with space"

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def lines(self) -> list[str]:
        """What the last command printed so far."""
        return (self.folder / "printed").read_text("utf-8", errors="replace").splitlines()

    @contextmanager
    def running(self, *, interrupted: bool = False) -> Iterator[subprocess.Popen[bytes]]:
        """The README's command on a free port, at the head of its own group as in a terminal.

        Where it is to be interrupted, what it has started is left to its fate, as a kill leaves it.
        """
        with (self.folder / "printed").open("wb") as printed:
            process = subprocess.Popen(
                [*first_command(), "--port", str(self.port)],
                cwd=self.clone,
                env=self.environment,
                stdin=subprocess.DEVNULL,
                stdout=printed,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )
        try:
            yield process
        finally:
            if not interrupted or process.poll() is None:
                with suppress(ProcessLookupError):
                    os.killpg(process.pid, signal.SIGKILL)  # also what it has started, should it outlive it
            process.wait(PATIENCE_S)

    def until(self, process: subprocess.Popen[bytes], happened: Callable[[], bool]) -> None:
        """Wait for something that the running command does."""
        deadline = time.monotonic() + PATIENCE_S
        while not happened():
            assert process.poll() is None, "it ended first:\n" + "\n".join(self.lines())
            assert time.monotonic() < deadline, "it never came to that:\n" + "\n".join(self.lines())
            with suppress(subprocess.TimeoutExpired):
                process.wait(0.05)

    def says(self, words: str) -> bool:
        return any(words in line for line in self.lines())

    def serves_the_app(self) -> None:
        """The page that is served, and the scripts that it names: the first may be another one's name alone."""
        with urllib.request.urlopen(f"{self.address}/", timeout=30) as response:
            page = response.read().decode()
        scripts = re.findall(r' (?:src|href)="/(web/[^"]+\.js)"', page)
        assert any(script.startswith("web/app-") for script in scripts)
        sizes = []
        for script in scripts:
            with urllib.request.urlopen(f"{self.address}/{script}", timeout=30) as response:
                sizes.append(len(response.read()))
        assert min(sizes) > 0
        assert max(sizes) > 1000


@pytest.fixture
def machine(tmp_path: Path, pip_cache: Path) -> Machine:
    path = tmp_path / "bin"
    path.mkdir()
    (path / "python3").symlink_to(getattr(sys, "_base_executable", sys.executable))
    for tool in BASIC_TOOLS:
        found = shutil.which(tool)
        assert found, f"this machine lacks {tool}"
        (path / tool).symlink_to(found)
    # What belongs to reaching the network stays as the machine has it; all else is a stranger's.
    kept = ("PIP_", "NPM_CONFIG_", "NODE_EXTRA_", "SSL_", "HTTP_PROXY", "HTTPS_PROXY", "NO_PROXY")
    environment = {name: value for name, value in os.environ.items() if name.upper().startswith(kept)}
    environment |= {
        "PATH": str(path),
        "HOME": str(tmp_path / "home with space"),
        "PIP_CACHE_DIR": str(pip_cache),
    }
    machine = Machine(tmp_path, environment, free_port())
    machine.home.mkdir()
    subprocess.run(["git", "clone", "--quiet", str(ROOT), str(machine.clone)], check=True)
    return machine


@pytest.fixture(scope="module")
def pip_cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    named = os.environ.get("PIP_CACHE_DIR")
    return Path(named) if named else tmp_path_factory.mktemp("pip")


def npm_kept_mb(machine: Machine) -> float:
    """What npm has downloaded to the end, as it keeps it."""
    kept = machine.home / ".npm" / "_cacache" / "content-v2"
    assert kept.is_dir()
    return sum(file.stat().st_size for file in kept.rglob("*") if file.is_file()) / 1e6


def until_served(machine: Machine, office: subprocess.Popen[bytes]) -> None:
    """The address is printed a moment before it answers."""

    def answers() -> bool:
        try:
            machine.serves_the_app()
        except OSError:
            return False
        return True

    machine.until(office, answers)


def has_a_package(machine: Machine) -> bool:
    """Whether pip has begun to put packages beside itself."""
    packages = machine.clone.glob(".venv/lib/python*/site-packages/*.dist-info")
    return any(not file.name.startswith(("pip-", "setuptools-", "wheel-")) for file in packages)


#: The step that is interrupted, what shows that it has begun, and how it is ended: by Ctrl-C, which reaches all that
#: runs, or by a signal to the one process.
MOMENTS: list[tuple[str, Callable[[Machine], bool], signal.Signals]] = [
    ("getting ready", lambda machine: True, signal.SIGKILL),
    ("making .venv", lambda machine: (machine.clone / ".venv" / "pyvenv.cfg").exists(), signal.SIGINT),
    ("installing", has_a_package, signal.SIGKILL),
    ("fetching Node", lambda machine: True, signal.SIGTERM),
    ("building", lambda machine: (machine.clone / "web" / "node_modules").exists(), signal.SIGINT),
]
WAITS = "another run is getting this folder ready"
INSTALLING = 2  # the last of them after which `.venv` is made anew


def interrupted(
    machine: Machine, moment: str, begun: Callable[[Machine], bool], ending: signal.Signals
) -> None:
    """Run the command up to a moment and end it there, in words unless it is killed."""
    with machine.running(interrupted=True) as process:
        machine.until(process, partial(machine.says, moment))
        machine.until(process, partial(begun, machine))
        if ending is signal.SIGINT:
            os.killpg(process.pid, ending)
        else:
            process.send_signal(ending)
        code = process.wait(60)
    assert code == (-ending if ending is signal.SIGKILL else 130), f"{moment}: {machine.lines()}"
    assert not machine.says("Traceback"), f"{moment}: {machine.lines()}"
    assert ending is signal.SIGKILL or machine.says("stopped"), f"{moment}: {machine.lines()}"


def test_the_first_command_goes_on_where_it_was_ended_and_serves_the_invented_day(machine: Machine) -> None:
    """Ended at moments one after the other on one clone; then it serves, and the second time at once."""
    seed = int(os.environ.get("INTAKE_SEED", random.SystemRandom().randrange(10**6)))
    print(f"seed {seed}: repeat with INTAKE_SEED={seed}")
    chosen = sorted(random.Random(seed).sample(range(len(MOMENTS)), min(KILLS, len(MOMENTS))))
    for number in chosen:
        interrupted(machine, *MOMENTS[number])
    with machine.running() as office:
        machine.until(office, lambda: machine.says("The office is at"))
        machine.until(office, lambda: machine.says(machine.address))
        # What a kill has left running ends first, and that is waited for.
        steps = [line for line in machine.lines() if line.startswith("[set-up]") and WAITS not in line]
        assert re.search(r"downloads at most \d+ MB", steps[0]), "the size is told first"
        assert len(steps) <= 6, steps
        until_served(machine, office)
        is_installed = bool(chosen) and chosen[-1] > INSTALLING
        assert machine.says("making .venv") != is_installed, "what was done is not done twice"
        assert not (machine.clone / ".node").exists(), "Node is needed to build, and by nobody else"
        assert npm_kept_mb(machine) <= download_mb(for_checks=False) + 1
        office.send_signal(signal.SIGTERM)
        assert office.wait(60) in (0, -signal.SIGTERM)
        with pytest.raises(URLError, match="refused"):
            machine.serves_the_app()  # the signal reached the office itself
    with machine.running() as office:
        machine.until(office, lambda: machine.says("The office is at"))
        until_served(machine, office)
        assert not machine.says("[set-up]"), machine.lines()
    changed = subprocess.run(["git", "status", "--short"], cwd=machine.clone, capture_output=True, check=True)
    assert changed.stdout == b"", "what getting ready makes is no part of the sources"
