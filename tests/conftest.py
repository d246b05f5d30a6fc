"""A real office for each test: the real app behind a real socket, on a real SQLite file."""

from __future__ import annotations

import asyncio
import gc
import os
import shutil
import sqlite3
import ssl
import subprocess
import threading
from collections.abc import AsyncIterator, Callable, Coroutine, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

import httpx
import pytest
import uvicorn.server

from intake.access.devices import make_code
from intake.app import build_app
from intake.bench.served import until_open
from intake.database import Writing, opened
from intake.serving import OfficeServer, bound, server_config
from intake.settings import Settings
from intake.sync.verifying import find_faults
from intake.system import spare_what_is_loaded
from tests import samples, without_posix
from tests.apart import Apart, begin
from tests.builders import Ids, a_day, a_visit, an_item
from tests.built import build_if_changed
from tests.door import Door, at_the_door
from tests.left_out import pytest_terminal_summary  # noqa: F401 - called by name
from tests.made_once import (
    app_read_once,
    new_tables_made_once,
    pictures_drawn_in_forks,
    service_described_once,
)
from tests.of_a_run import left_for_another_run
from tests.phone import Phone

T = TypeVar("T")


def pytest_configure(config: pytest.Config) -> None:
    """One seed for the whole run, whichever process a test lands in; the one who starts the others chooses it."""
    samples.begin()
    in_memory()


MEMORY, ROOM = Path("/dev/shm"), 4 * 10**9  # bytes: the largest run needs a tenth of it


def in_memory() -> None:
    """Put the tests' folders into memory where Linux offers it: most of a test's time is the disk's own.

    What is tried with a killed office needs no disk: what the system has taken outlives the process.
    """
    if os.access(MEMORY, os.W_OK) and shutil.disk_usage(MEMORY).free > ROOM:
        os.environ.setdefault("PYTEST_DEBUG_TEMPROOT", str(MEMORY))


def pytest_report_header(config: pytest.Config) -> str:
    return samples.begin()


#: What takes longest is begun first, so that at the end nobody waits for one of these alone.
SLOWEST = (
    "tests/setup/test_fresh_clone.py",
    "tests/promises/test_bench.py",
    "tests/journeys",
    "tests/copies",
    "tests/examination/test_plans.py",
)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    asked, keyword = config.args, config.option.keyword
    others = left_for_another_run(items, asked=asked, keyword=keyword, once_more=without_posix.is_hidden())
    left = {id(item): item for item in others}
    if left:
        config.hook.pytest_deselected(items=[*left.values()])
        items[:] = [item for item in items if id(item) not in left]

    def place(item: pytest.Item) -> int:
        return next(
            (place for place, path in enumerate(SLOWEST) if item.nodeid.startswith(path)), len(SLOWEST)
        )

    items.sort(key=place)


def pytest_collection_finish() -> None:
    """What was read to begin with stays for the whole run, and is not gone through again after every few new things:
    looking for what nobody uses any more took a seventh of the time of the tests."""
    spare_what_is_loaded()
    gc.set_threshold(10_000)


class Clock:
    """The office's clock, set by the test."""

    def __init__(self, now: datetime) -> None:
        self.now = now

    def __call__(self) -> datetime:
        return self.now

    def pass_by(self, **span: float) -> None:
        self.now += timedelta(**span)


def in_own_loop(work: Callable[[], Coroutine[Any, Any, T]]) -> T:
    """Run it on a thread: a browser's driver already runs a loop on this one."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(lambda: asyncio.run(work())).result()


@cache
def authorities() -> ssl.SSLContext:
    """Read once for all clients of a run: reading them takes longer than most tests, and hardly any client asks."""
    return ssl.create_default_context()


@dataclass
class Office:
    """A running office and the means to pair devices with it; `end` ends it before its block does."""

    settings: Settings
    clock: Clock
    ids: Ids
    port: int
    clients: list[httpx.Client] = field(default_factory=list)
    end: Callable[[], None] = lambda: None

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def client(self) -> httpx.Client:
        client = httpx.Client(
            base_url=self.address, headers={"Origin": self.address}, timeout=30, verify=authorities()
        )
        self.clients.append(client)
        return client

    def code(self, role: str, name: str, device_id: str | None = None) -> str:
        """A pairing code made on the office's own file beside it, as the `pair` command does."""
        with closing(sqlite3.connect(self.settings.database_file)) as file, file:
            return make_code(Writing(file), role=role, name=name, now=self.clock(), device_id=device_id).shown

    def pair(self, role: str, name: str | None = None) -> Phone:
        """A newly paired device."""
        client = self.client()
        response = client.post("/pairing", json={"code": self.code(role, name or role)})
        response.raise_for_status()
        return Phone(client, self.ids, response.json()["device_id"])

    def change(self, sql: str, *values: Any) -> None:
        """Change the office's file from outside, as nothing of ours would."""
        with closing(sqlite3.connect(self.settings.database_file)) as file, file:
            file.execute(sql, values)

    def ask(self, sql: str, *values: Any) -> list[tuple[Any, ...]]:
        """What stands in the office's file."""
        with closing(sqlite3.connect(self.settings.database_file)) as file:
            return list(file.execute(sql, values))

    def faults(self, *, aside_too: bool = False) -> list[str]:
        """What `verify` would say."""

        async def work() -> list[str]:
            async with opened(self.settings.database_file) as database:
                return await find_faults(database, self.settings.photos_folder, aside_too=aside_too)

        return in_own_loop(work)


@contextmanager
def running(settings: Settings, clock: Clock, ids: Ids, *, port: int = 0) -> Iterator[Office]:
    """Serve from a thread until the block ends."""
    with bound("127.0.0.1", port) as listener:
        port = listener.getsockname()[1]
        app = build_app(settings)
        started = threading.Event()

        async def say() -> None:
            started.set()

        server = OfficeServer(server_config(settings, app), say)
        thread = threading.Thread(target=lambda: asyncio.run(server.serve([listener])), daemon=True)
        thread.start()
        assert started.wait(30), "the office did not start"

        def end() -> None:
            server.should_exit = True
            thread.join(30)
            # A connection that Python's loop takes in the very turn in which the server closes is held by nobody and
            # open until it is collected. In a process that goes on, whoever came would wait for an answer until then.
            gc.collect(1)

        office = Office(settings, clock, ids, port, end=end)
        try:
            yield office
        finally:
            for client in office.clients:
                client.close()
            end()


def serve_apart(folder: Path, port: int, *options: str) -> Apart:
    """Serve in a process of its own, which a test may kill; return when it answers."""
    process = begin(("serve", "--data", str(folder), "--port", str(port), *options))
    in_own_loop(lambda: until_open(process, port))
    return process


@contextmanager
def answering(command: Sequence[str], port: int, **more: Any) -> Iterator[subprocess.Popen[bytes]]:
    """A command that serves, from its first answer until the block ends."""
    quiet = subprocess.DEVNULL
    process = subprocess.Popen(command, stdout=quiet, stderr=quiet, **more)
    try:
        in_own_loop(lambda: until_open(process, port))
        yield process
    finally:
        process.terminate()
        process.wait(20)


@pytest.fixture(scope="session", autouse=True)
def built_app() -> None:
    build_if_changed()


@pytest.fixture(scope="session", autouse=True)
def made_once() -> Iterator[None]:
    with new_tables_made_once(), app_read_once(), service_described_once(), pictures_drawn_in_forks():
        yield


@pytest.fixture
def ids() -> Ids:
    return Ids(seed=20260314)


@pytest.fixture
def clock() -> Clock:
    return Clock(datetime(2026, 3, 14, 18, 0, tzinfo=UTC))


class Hasty:
    """`asyncio` for a server that looks often whether it is to end: its own pauses add up to minutes in a run."""

    LONGEST_S = 0.01

    def __getattr__(self, name: str) -> Any:
        return getattr(asyncio, name)

    async def sleep(self, seconds: float) -> None:
        await asyncio.sleep(min(seconds, self.LONGEST_S))


@pytest.fixture(scope="session", autouse=True)
def servers_end_soon() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(uvicorn.server, "asyncio", Hasty())
        yield


async def at_once(seconds: float) -> None:
    """No pause: what a wrong code costs its caller is tried where the pauses are counted."""


@pytest.fixture
def settings(tmp_path: Path, clock: Clock) -> Settings:
    return Settings(tmp_path / "office", clock=clock, pause=at_once, numbers=(1, 1))


@pytest.fixture
def office(settings: Settings, clock: Clock, ids: Ids) -> Iterator[Office]:
    with running(settings, clock, ids) as office:
        yield office


@pytest.fixture
def manager(office: Office) -> Phone:
    return office.pair("manager")


@pytest.fixture
def day(manager: Phone) -> dict[str, Any]:
    """A day that is set up."""
    opened = manager.keep(a_day(manager.ids))
    assert manager.push()[0]["outcome"] == "kept"
    return opened


@pytest.fixture
def phone(office: Office, day: dict[str, Any]) -> Phone:
    """A phone at a table of that day."""
    return office.pair("table", "Table 1")


@pytest.fixture
def item(phone: Phone, day: dict[str, Any]) -> dict[str, Any]:
    """An item that is at the office, with nothing said of it yet."""
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    opened = phone.keep(an_item(phone.ids, visit))
    phone.push()
    return opened


@pytest.fixture
async def door(tmp_path: Path, ids: Ids) -> AsyncIterator[Door]:
    """The office's door without a socket, with the manager's device at it."""
    async with at_the_door(tmp_path, ids) as door:
        yield door
