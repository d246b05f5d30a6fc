"""What one kind of system has and another has not: Linux, macOS and Windows are told apart here and nowhere else.

Each function does the best that the system offers and has a portable way beside it, chosen by what is there, not by
the system's name. Needs the standard library only: the set-up uses it before anything is installed.
"""

from __future__ import annotations

import contextlib
import ctypes
import errno
import gc
import math
import os
import signal
import stat
import subprocess
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from types import FrameType
from typing import Any

try:
    import fcntl
except ImportError:  # Windows
    fcntl = None  # type: ignore[assignment]
try:
    import msvcrt
except ImportError:  # every other system
    msvcrt = None  # type: ignore[assignment]

INTERRUPTED = 130  # what a shell expects of a program that Ctrl-C ended

# Typed loosely, since half of what stands below is unknown to a type checker that looks at one system only.
_fcntl: Any = fcntl
_msvcrt: Any = msvcrt

DIRECT: int = getattr(
    os, "O_DIRECT", 0
)  # writing past the kernel's page cache; 0 where there is no such thing
BINARY: int = getattr(os, "O_BINARY", 0)  # Windows would turn every line feed into two bytes without it
NO_ROOM = {getattr(errno, name) for name in ("ENOSPC", "EDQUOT") if hasattr(errno, name)}
TAKEN = {errno.EAGAIN, errno.EACCES, errno.EDEADLK}  # what a lock that another process holds answers with


def write_at(descriptor: int, view: memoryview | bytes, offset: int) -> int:
    """Write at an offset; the number of bytes that were taken, which may be fewer. One thread a descriptor."""
    if hasattr(os, "pwrite"):
        return os.pwrite(descriptor, view, offset)
    os.lseek(descriptor, offset, os.SEEK_SET)
    return os.write(descriptor, view)


def end_direct_writing(descriptor: int) -> None:
    """What is written to this descriptor from now on goes the common way: the rest of a file is less than a page."""
    if _fcntl is not None:
        _fcntl.fcntl(descriptor, _fcntl.F_SETFL, 0)


def sync_folder(folder: Path) -> None:
    """Wait until a new name in a folder is on the disk, where a folder can be opened; NTFS keeps names by itself."""
    try:
        descriptor = os.open(folder, os.O_RDONLY)
    except PermissionError:  # Windows opens no folders
        return
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def sync_files(files: Iterable[Path]) -> None:
    """Wait until many files that were just written are on the disk: in one go where the system can do that."""
    if hasattr(os, "sync"):
        os.sync()
        return
    for file in files:
        with file.open("r+b") as stream:
            os.fsync(stream.fileno())


def lock(descriptor: int) -> bool:
    """Take a file for this process; False if another one has it. It is given back when the process ends, however."""
    try:
        if _fcntl is not None:
            _fcntl.flock(descriptor, _fcntl.LOCK_EX | _fcntl.LOCK_NB)
        else:
            os.lseek(descriptor, 0, os.SEEK_SET)  # the lock is on the first byte, whether it exists or not
            _msvcrt.locking(descriptor, _msvcrt.LK_NBLCK, 1)
    except OSError as error:
        if error.errno in TAKEN:
            return False
        raise
    return True


@contextlib.contextmanager
def locked(file: Path, *, wait: Callable[[], None]) -> Iterator[None]:
    """Hold a file's lock for the block; `wait` is called as long as another process has it.

    Programs that are started with `close_fds=False` hold it as well, where the system hands on locks: if this one is
    killed, nobody else begins before they have ended.
    """
    descriptor = os.open(file, os.O_RDWR | os.O_CREAT | BINARY, 0o600)
    os.set_inheritable(descriptor, True)
    try:
        while not lock(descriptor):
            wait()
        yield
    finally:
        os.close(descriptor)


def make_files_private() -> None:
    """From now on whatever this process and those it starts make is for its own account alone, where modes say that."""
    if os.name == "posix":
        os.umask(0o077)


def close_to_others(folder: Path) -> None:
    """Take a folder that an earlier version made open from every other account, with the files that stand in it.

    What lies deeper is out of reach behind it, until somebody copies it as it is: see `close_below`. A folder that
    everybody may write in by its sticky bit, such as /tmp, is not ours to close, nor is what belongs to another
    account. Source: inode(7).
    """
    if os.name != "posix" or not folder.is_dir() or folder.stat().st_mode & stat.S_ISVTX:
        return
    for path in (folder, *folder.iterdir()):
        close_if_ours(path, path.lstat())


def close_below(folder: Path, stopped: Callable[[], bool]) -> bool:
    """The same of a folder and of everything below it, however much; whether it came to its end before it was stopped.

    Neither a link nor what lies on another disk is followed, and nothing below a folder of another account.
    """
    if os.name != "posix" or not folder.is_dir():
        return True
    top = folder.stat()
    if not close_if_ours(folder, top):
        return True
    waiting = [os.fspath(folder)]  # as words: over years of photographs to make a Path of each takes longest
    while waiting:
        with contextlib.suppress(OSError), os.scandir(waiting.pop()) as found:
            for entry in found:
                if stopped():
                    return False
                one = entry.stat(follow_symlinks=False)
                if one.st_dev == top.st_dev and close_if_ours(entry.path, one) and stat.S_ISDIR(one.st_mode):
                    waiting.append(entry.path)
    return True


def stands_open(folder: Path) -> bool:
    """Whether this folder, or something that stands in it and is ours, is open to another account."""
    if os.name != "posix":
        return False
    with os.scandir(folder) as found:
        modes = [folder.stat(), *(entry.stat(follow_symlinks=False) for entry in found)]
    return any(is_ours(one) and bool(one.st_mode & 0o077) for one in modes)


def is_ours(found: os.stat_result) -> bool:
    """Whether it is this account's to close: no link, not everybody's, and nobody else's."""
    mode = found.st_mode
    if not hasattr(os, "geteuid"):  # where folders are closed otherwise
        return False
    return not stat.S_ISLNK(mode) and not mode & stat.S_ISVTX and found.st_uid == os.geteuid()


def close_if_ours(path: str | Path, found: os.stat_result) -> bool:
    """Take a file or a folder from every other account. Whether it is ours: no link, and nobody else's."""
    if not is_ours(found):
        return False
    if found.st_mode & 0o077:
        with contextlib.suppress(OSError):
            os.chmod(path, stat.S_IMODE(found.st_mode) & 0o700)
    return True


def keep_freed_memory() -> None:
    """Let the C library keep what is freed, up to 64 MiB.

    The pieces of photos come and go, and memory that went back to the system costs its first touch again (measured:
    a tenth of an upload). Source: mallopt(3) of glibc; other libraries have no such setting and go on as they are.
    """
    trim_threshold, mmap_threshold = -1, -3
    try:
        mallopt = getattr(ctypes.CDLL(None), "mallopt", None)
    except (OSError, TypeError):  # Windows has no library of that kind
        return
    if mallopt is not None:
        mallopt(trim_threshold, 64 * 1024 * 1024)
        mallopt(mmap_threshold, 32 * 1024 * 1024)


def spare_what_is_loaded() -> None:
    """Leave what is in memory now out of every later look for what nobody uses any more.

    Modules, models and plans stay as long as the office is served, and to go through them all held up one request in
    fifteen for some tens of milliseconds (measured). Source: `gc.freeze` of Python's library.
    """
    gc.collect()
    gc.freeze()


def go_on_as(command: Sequence[str], environment: Mapping[str, str]) -> int:
    """Run another program in place of this one, so that a signal reaches it; its exit code where that cannot be."""
    sys.stdout.flush()
    sys.stderr.flush()
    if hasattr(os, "fork"):  # Windows has execve as well, but the shell would not wait for what was started
        os.execve(command[0], list(command), dict(environment))
    process = subprocess.Popen(command, env=dict(environment))

    def pass_on(number: int, frame: FrameType | None) -> None:
        process.terminate()

    def heard_there_too(number: int, frame: FrameType | None) -> None:
        """Ctrl-C goes to everybody at a terminal: heard twice, the other program would drop what is under way."""

    signal.signal(signal.SIGTERM, pass_on)
    signal.signal(signal.SIGINT, heard_there_too)
    if hasattr(signal, "SIGBREAK"):  # Windows: Ctrl-Break, and what ends a program with its window
        signal.signal(signal.SIGBREAK, pass_on)
    while True:
        try:
            code = process.wait(0.2)  # in short turns, since Windows runs no handler during a longer wait
        except subprocess.TimeoutExpired:
            continue
        return code if code >= 0 else 128 - code


def processor_seconds(process_id: int) -> float:
    """Processor time that a running process has used; not a number where the system does not tell. Source: proc(5)."""
    try:
        fields = Path(f"/proc/{process_id}/stat").read_text("utf-8").rsplit(")", 1)[1].split()
        ticks = os.sysconf("SC_CLK_TCK")
    except (OSError, AttributeError):
        return math.nan
    return (int(fields[11]) + int(fields[12])) / ticks


def memory_at_most(process_id: int) -> float:
    """Bytes of memory that a running process has held at most; not a number where the system does not tell. Source:
    proc(5), VmHWM."""
    try:
        lines = Path(f"/proc/{process_id}/status").read_text("utf-8").splitlines()
        return next(1024.0 * int(line.split()[1]) for line in lines if line.startswith("VmHWM:"))
    except (OSError, StopIteration):
        return math.nan


def wait_and_weigh(process: subprocess.Popen[bytes]) -> tuple[float, float]:
    """Wait until a process has ended: the bytes of memory that it held at most, and its processor seconds; not numbers
    where the system does not tell. Source: getrusage(2): kilobytes, on macOS bytes."""
    if not hasattr(os, "wait4"):
        process.wait()
        return math.nan, math.nan
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    unit = 1 if sys.platform == "darwin" else 1024
    return float(usage.ru_maxrss * unit), usage.ru_utime + usage.ru_stime


def load_average() -> float:
    """How many programs wanted a processor in the last minute; not a number where the system does not tell."""
    return os.getloadavg()[0] if hasattr(os, "getloadavg") else math.nan


def may_install_packages() -> bool:
    """Whether this is a system's administrator, who may install packages of the system."""
    return hasattr(os, "geteuid") and os.geteuid() == 0


def venv_program(venv: Path, name: str) -> Path:
    """A program of a virtual environment. Source: the documentation of Python's venv."""
    windows = venv / "Scripts"
    return windows / f"{name}.exe" if os.name == "nt" or windows.is_dir() else venv / "bin" / name
