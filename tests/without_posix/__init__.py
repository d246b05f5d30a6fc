"""The office as it would be on a system that is not POSIX: its modules do not find what only POSIX has.

`hide()` puts itself between our modules and Python's library. Only what is imported by `intake` is changed, so that
Python and the tests' own tools work on. In place of what Windows has and this system has not stands the same with the
same words (`msvcrt.locking`). The folder is put on PYTHONPATH with `sitecustomize.py`, so that every process that the
tests start is hidden from as well.

Source of the names: Python's documentation of os, signal, asyncio and ctypes, "Availability".
"""

from __future__ import annotations

import asyncio
import builtins
import ctypes
import errno
import os
import signal
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from types import ModuleType
from typing import Any

HERE = Path(__file__).resolve().parent

#: Modules that are not there at all.
NO_MODULES = {
    "fcntl",
    "grp",
    "posix",
    "pty",
    "pwd",
    "readline",
    "resource",
    "syslog",
    "termios",
    "tty",
    "uvloop",
}

NO_NAMES = {
    "os": {
        *(
            "chown",
            "chroot",
            "confstr",
            "ctermid",
            "fchdir",
            "fchmod",
            "fchown",
            "fdatasync",
            "fork",
            "forkpty",
        ),
        *(
            "getegid",
            "geteuid",
            "getgid",
            "getgroups",
            "getloadavg",
            "getpgid",
            "getpgrp",
            "getpriority",
            "getsid",
        ),
        *(
            "getuid",
            "killpg",
            "lchown",
            "mkfifo",
            "mknod",
            "nice",
            "openpty",
            "pathconf",
            "pipe2",
            "posix_fadvise",
        ),
        *(
            "posix_fallocate",
            "posix_spawn",
            "pread",
            "preadv",
            "pwrite",
            "pwritev",
            "readv",
            "register_at_fork",
        ),
        *("sched_getaffinity", "sched_setaffinity", "sendfile", "setegid", "seteuid", "setgid", "setpgid"),
        *("setpriority", "setsid", "setuid", "statvfs", "sync", "sysconf", "uname", "wait", "wait3", "wait4"),
        *("waitid", "writev", "O_CLOEXEC", "O_DIRECT", "O_DIRECTORY", "O_DSYNC", "O_NOFOLLOW", "O_NONBLOCK"),
        *("O_SYNC",),
    },
    "signal": {
        *("SIGALRM", "SIGCHLD", "SIGCONT", "SIGHUP", "SIGKILL", "SIGPIPE", "SIGQUIT", "SIGSTOP", "SIGTSTP"),
        *("SIGUSR1", "SIGUSR2", "SIGWINCH", "alarm", "pause", "pthread_kill", "pthread_sigmask", "setitimer"),
        *("siginterrupt", "sigpending", "sigwait"),
    },
}


class Hidden(ModuleType):
    """A module of Python's library without some of its names; what a test patches on it is patched in it."""

    def __init__(self, real: ModuleType, missing: set[str], changed: Mapping[str, Any]) -> None:
        super().__init__(real.__name__)
        self.__dict__.update(_real=real, _missing=missing, _changed=changed)

    def __getattr__(self, name: str) -> Any:
        if name in self._missing:
            raise AttributeError(f"module '{self.__name__}' has no attribute '{name}' on this system")
        return self._changed.get(name) or getattr(self._real, name)


def open_no_folders(path: Any, *given: Any, **named: Any) -> int:
    """os.open as Windows has it: a folder cannot be opened. Source: CreateFile, FILE_FLAG_BACKUP_SEMANTICS."""
    if os.path.isdir(path):
        raise PermissionError(errno.EACCES, "Permission denied", str(path))
    return os.open(path, *given, **named)


def no_library(name: str | None, *given: Any, **named: Any) -> ctypes.CDLL:
    """ctypes.CDLL as Windows has it: there is no library without a name."""
    if name is None:
        raise TypeError("argument of type 'NoneType' is not iterable")
    return ctypes.CDLL(name, *given, **named)


def no_signal_handler(*_: object) -> None:
    """Source: Python's documentation, "Platform Support" of asyncio: Windows' loops do not know it."""
    raise NotImplementedError


def msvcrt() -> ModuleType:
    """Windows' way to lock bytes of a file, kept by the lock that this system has.

    Source: Python's documentation of msvcrt: LK_NBLCK raises OSError if the bytes are taken; the lock ends with the
    process.
    """
    import fcntl

    unlock, wait, at_once = 0, 1, 2

    def locking(descriptor: int, mode: int, size: int) -> None:
        assert size == 1
        words = {unlock: fcntl.LOCK_UN, wait: fcntl.LOCK_EX}
        try:
            fcntl.flock(descriptor, words.get(mode, fcntl.LOCK_EX | fcntl.LOCK_NB))
        except BlockingIOError as error:
            raise PermissionError(errno.EACCES, "Permission denied") from error

    module = ModuleType("msvcrt")
    module.__dict__.update(LK_UNLCK=unlock, LK_LOCK=wait, LK_NBLCK=at_once, locking=locking)
    return module


def is_hidden() -> bool:
    """Whether it was hidden from this process."""
    return "uvloop" in sys.modules and sys.modules["uvloop"] is None


def hide() -> None:
    """From now on what `intake` imports is what a system without POSIX has."""
    real_import = builtins.__import__
    stands_for: dict[str, ModuleType] = {
        "os": Hidden(os, NO_NAMES["os"], {"open": open_no_folders}),
        "signal": Hidden(signal, NO_NAMES["signal"], {}),
        "ctypes": Hidden(ctypes, set(), {"CDLL": no_library}),
        "msvcrt": msvcrt(),
    }
    sys.modules["uvloop"] = None  # type: ignore[assignment]  # also from the server that would take it
    asyncio.SelectorEventLoop.add_signal_handler = no_signal_handler  # type: ignore[assignment]

    def import_as_without_posix(
        name: str,
        globals: Mapping[str, Any] | None = None,
        locals: Mapping[str, Any] | None = None,
        fromlist: Sequence[str] | None = (),
        level: int = 0,
    ) -> ModuleType:
        importer = str((globals or {}).get("__name__", ""))
        if importer.split(".")[0] == "intake" and level == 0:
            if name in NO_MODULES:
                raise ImportError(f"No module named '{name}' on this system", name=name)
            if name in stands_for:
                return stands_for[name]
        return real_import(name, globals, locals, fromlist or (), level)

    builtins.__import__ = import_as_without_posix
    inherited = [folder for folder in os.environ.get("PYTHONPATH", "").split(os.pathsep) if folder]
    if str(HERE) not in inherited:
        os.environ["PYTHONPATH"] = os.pathsep.join([str(HERE), *inherited])
