"""What is the same each time and takes long to make: made once a process, and copied from then on."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Lock

import pytest

from intake import database

BringUpToDate = Callable[[sqlite3.Connection], None]


@contextmanager
def new_tables_made_once() -> Iterator[None]:
    """A file with nothing in it gets the tables that the schema's steps made the first time.

    Copying them takes a millisecond, the steps thirty. A file with anything in it goes through the steps, and so does
    whatever runs in a process of its own.
    """
    by_steps = database.bring_up_to_date
    made = sqlite3.connect(":memory:", isolation_level=None, check_same_thread=False)
    by_steps(made)
    one_at_a_time = Lock()

    def copied(connection: sqlite3.Connection) -> None:
        version = connection.execute("PRAGMA user_version").fetchone()[0]
        if version or connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()[0]:
            by_steps(connection)
        else:
            with one_at_a_time:
                made.backup(connection)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(database, "bring_up_to_date", copied)
        yield
    made.close()
