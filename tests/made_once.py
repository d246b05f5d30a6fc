"""What is the same each time and takes long to make: made once a process, and copied from then on."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from threading import Lock
from typing import Any

import pytest
from starlette.routing import Route

from intake import database, openapi
from intake.photos import drawn
from intake.shell import Shell
from intake.web_folder import web_folder
from tests.apart import forking

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


@contextmanager
def app_read_once() -> Iterator[None]:
    """The built app is read from its folder for the first office; a folder of a test's own is read each time."""
    read = Shell.read

    @cache
    def built(withdrawn: bool) -> Shell:
        return read(web_folder(), withdrawn=withdrawn)

    def read_once(folder: Path, *, withdrawn: bool = False) -> Shell:
        return built(withdrawn) if folder == web_folder() else read(folder, withdrawn=withdrawn)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Shell, "read", read_once)
        yield


@contextmanager
def service_described_once() -> Iterator[None]:
    """The document of the same addresses is the same for every office; making its schemas takes a tenth of a second."""
    describe = openapi.openapi_document
    made: dict[tuple[tuple[str, frozenset[str]], ...], dict[str, Any]] = {}

    def described(routes: list[Route]) -> dict[str, Any]:
        addresses = tuple((route.path, frozenset(route.methods or ())) for route in routes)
        if addresses not in made:
            made[addresses] = describe(routes)
        return made[addresses]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(openapi, "openapi_document", described)
        yield


@contextmanager
def pictures_drawn_in_forks() -> Iterator[None]:
    """Where the system forks, what draws an office's pictures is forked from a process that has read the modules: to
    start Python for it takes a third of a second, for every office that is asked for one picture.

    How the office starts these processes, and what it does when they end, is tried in `tests/photos/test_drawn.py`.
    """
    forked = forking()
    with pytest.MonkeyPatch.context() as patch:
        if forked is not None:
            patch.setattr(drawn, "get_context", lambda way: forked)
        yield
