"""The office in processes of its own, which a test may kill.

To start Python and read the office takes a second, the same second each time. So where the system can fork, a
process that has read it once is the parent of those that run it: each goes on from where `python -m intake` has found
its modules, with its own words, environment and streams. What is tried of the start itself starts Python anew.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from functools import cache
from multiprocessing import get_all_start_methods, get_context
from multiprocessing.context import ForkServerContext, ForkServerProcess
from pathlib import Path
from typing import Protocol

from intake.bench.served import Ending

START_ANEW = (sys.executable, "-m", "intake")


class Apart(Ending, Protocol):
    """A process, as `subprocess.Popen` is one."""

    pid: int

    def wait(self, timeout: float | None = None) -> int: ...

    def send_signal(self, sig: int) -> None: ...

    def kill(self) -> None: ...

    def terminate(self) -> None: ...


class Forked:
    """A forked process in the same words."""

    def __init__(self, process: ForkServerProcess) -> None:
        assert process.pid is not None
        self._process, self.pid = process, process.pid

    @property
    def returncode(self) -> int | None:
        return self._process.exitcode

    def poll(self) -> int | None:
        return self._process.exitcode

    def wait(self, timeout: float | None = None) -> int:
        self._process.join(timeout)
        code = self._process.exitcode
        if code is None:
            raise subprocess.TimeoutExpired(self._process.name, timeout or 0)
        return code

    def send_signal(self, sig: int) -> None:
        if self._process.exitcode is None:
            os.kill(self.pid, sig)

    def kill(self) -> None:
        self.send_signal(signal.SIGKILL)

    def terminate(self) -> None:
        self.send_signal(signal.SIGTERM)


@cache
def forking() -> ForkServerContext | None:
    """What forks, with the office read; None on a system that does not fork."""
    if "forkserver" not in get_all_start_methods():
        return None
    context = get_context("forkserver")
    context.set_forkserver_preload(["tests.read_ahead"])
    return context


def nothing_first() -> None:
    """What a process usually does before it runs its words."""


def go_on_as_intake(
    words: list[str],
    environment: dict[str, str],
    umask: int,
    streams: tuple[str, str],
    first: Callable[[], None],
) -> None:
    """In the forked process: what `python -m intake` does once it has found its modules."""
    for number, file in enumerate(streams, start=1):
        opened = os.open(file, os.O_WRONLY | os.O_APPEND)
        os.dup2(opened, number)
        os.close(opened)
    os.umask(umask)
    os.environ.clear()
    os.environ.update(environment)
    time.tzset()  # which Python does of itself only when it starts
    first()
    sys.argv = ["intake", *words]
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    from intake.setup.bootstrap import main

    sys.exit(main())


def umask_here() -> int:
    umask = os.umask(0o077)
    os.umask(umask)
    return umask


def begin(
    words: tuple[str, ...],
    environment: dict[str, str] | None = None,
    out: str = os.devnull,
    err: str = os.devnull,
    first: Callable[[], None] = nothing_first,
) -> Apart:
    """Begin a command; what it prints is put at the end of these files, which must be there.

    A forked process begins with `first`, which must not be asked for where the system does not fork.
    """
    everything = {**os.environ, **(environment or {})}
    context = forking()
    if context is None:
        assert first is nothing_first, "this system forks no process"
        with open(out, "ab") as to_out, open(err, "ab") as to_err:
            return subprocess.Popen([*START_ANEW, *words], stdout=to_out, stderr=to_err, env=everything)
    process = context.Process(
        target=go_on_as_intake,
        args=(list(words), everything, umask_here(), (out, err), first),
        daemon=False,
    )
    process.start()
    return Forked(process)


def run_intake(*words: str, **environment: str) -> subprocess.CompletedProcess[str]:
    """Run a command to its end, with more in its environment."""
    return run_after(nothing_first, *words, **environment)


def run_after(
    first: Callable[[], None], /, *words: str, **environment: str
) -> subprocess.CompletedProcess[str]:
    """The same in a process that begins with `first`; where the system forks."""
    with tempfile.TemporaryDirectory() as folder:
        out, err = Path(folder, "out"), Path(folder, "err")
        out.touch()
        err.touch()
        process = begin(words, environment, str(out), str(err), first)
        try:
            code = process.wait(120)
        finally:
            process.kill()
        return subprocess.CompletedProcess(words, code, out.read_text("utf-8"), err.read_text("utf-8"))
