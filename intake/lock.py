"""One office a data folder: a lock that dies with its process, who holds it, and where the office was reached last.

The lock is SQLite's own, on an empty file beside the database. The office trusts the same library with every record
on every system, it is given back when the process ends however it ends, and a child process does not keep it.
"""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from intake.errors import CommandError

LOCK, NOTE = "office.lock", "office.json"
PATIENCE_S = 1.0  # whoever only looks whether the lock is held lets go of it at once


@dataclass(frozen=True)
class Holder:
    """Who works on a data folder: what it does there, its process, and where the office is reached."""

    doing: str
    pid: int
    address: str

    def words(self) -> str:
        at = f", at {self.address}" if self.doing == "serving" and self.address else ""
        return f"process {self.pid} ({self.doing}{at})"


@contextmanager
def only_one(folder: Path, doing: str) -> Iterator[None]:
    """Nobody else serves or rebuilds this folder for as long as the block lasts.

    Raises CommandError naming who holds it, or why nothing can be written there.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        connection = sqlite3.connect(folder / LOCK, isolation_level=None, timeout=PATIENCE_S)
    except (OSError, sqlite3.Error) as error:
        raise not_writable(folder, error) from error
    with closing(connection):
        try:
            connection.execute("BEGIN EXCLUSIVE")
            note(folder, doing=doing, pid=os.getpid())
        except sqlite3.OperationalError as error:
            if is_busy(error):
                raise held(folder) from error
            raise not_writable(folder, error) from error
        except OSError as error:
            raise not_writable(folder, error) from error
        yield


def holder_of(folder: Path) -> Holder | None:
    """Who serves or rebuilds this folder now, None if nobody does."""
    if not (folder / LOCK).exists():
        return None
    with closing(sqlite3.connect(folder / LOCK, isolation_level=None, timeout=0)) as connection:
        try:
            connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()
        except sqlite3.OperationalError as error:
            return read_holder(folder) if is_busy(error) else None
    return None


def is_busy(error: sqlite3.OperationalError) -> bool:
    return error.sqlite_errorcode & 0xFF == sqlite3.SQLITE_BUSY


def held(folder: Path) -> CommandError:
    return CommandError(
        f"The office in {folder} is in use by {read_holder(folder).words()}.",
        hint="Two at once would not hear of each other. Use the one that runs, or end it first (Ctrl-C where it was "
        "started, or stop its service); for another office name another folder with --data.",
    )


def not_writable(folder: Path, error: Exception) -> CommandError:
    return CommandError(
        f"Nothing can be written in {folder} ({error}).",
        hint="Let this account write there and see that the disk has room, or name another folder with --data.",
    )


def note(folder: Path, **words: Any) -> None:
    """Keep what is known of who holds the folder and where the office is reached; the rest stays as it was."""
    written = folder / f"{NOTE}.new"
    written.write_text(json.dumps({**read_note(folder), **words}, indent=1) + "\n", "utf-8")
    written.replace(folder / NOTE)


def read_note(folder: Path) -> dict[str, Any]:
    """What was kept, empty if nothing can be read."""
    try:
        found = json.loads((folder / NOTE).read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) else {}


def read_holder(folder: Path) -> Holder:
    found = read_note(folder)
    return Holder(
        str(found.get("doing") or "serving"), int(found.get("pid") or 0), str(found.get("address") or "")
    )


def last_address(folder: Path) -> str:
    """Where the office of this folder is reached, or was when it last ran; empty if it never did."""
    return str(read_note(folder).get("address") or "")


def last_plans(folder: Path) -> Path | None:
    """The house's own plans that the office of this folder was served with last, if there were any."""
    found = read_note(folder).get("plans")
    return Path(found) if isinstance(found, str) and found else None
