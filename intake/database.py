"""One writer and several readers on one SQLite file.

Work on the tables is a plain function that takes a `Reading` or a `Writing` and runs on a connection's own
thread in one go. The writer gathers all jobs that wait and keeps them with one commit, each in a savepoint of
its own: a job that raises takes back its own rows only, and every answer leaves after the commit. The handle's
type says what a function may do: only `Database.write` makes a `Writing`.
"""

from __future__ import annotations

import asyncio
import sqlite3
from collections.abc import AsyncIterator, Awaitable, Callable, Iterator, Sequence
from contextlib import asynccontextmanager
from functools import partial
from importlib.resources import files
from pathlib import Path
from typing import Any, TypeVar, cast

import aiosqlite

from intake.errors import OfficeFull

T = TypeVar("T")
GROUP_LIMIT = 64  # jobs in one commit; more would only make the first of them wait longer


class Reading:
    """What a question may do: select."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection

    def all(self, sql: str, **values: object) -> list[sqlite3.Row]:
        return self._connection.execute(sql, values).fetchall()

    def each(self, sql: str, **values: object) -> Iterator[sqlite3.Row]:
        """The rows one by one, for what may be more than memory should hold."""
        return iter(self._connection.execute(sql, values))

    def one(self, sql: str, **values: object) -> sqlite3.Row | None:
        return cast("sqlite3.Row | None", self._connection.execute(sql, values).fetchone())

    def value(self, sql: str, **values: object) -> Any:
        """The first column of the first row, or None if there is no row."""
        row = self._connection.execute(sql, values).fetchone()
        return None if row is None else row[0]


class Writing(Reading):
    """What a change may do: select and write, inside a transaction by construction."""

    def run(self, sql: str, **values: object) -> int:
        """Run one statement; the number of rows it changed."""
        return self._connection.execute(sql, values).rowcount

    def run_many(self, sql: str, rows: Sequence[Sequence[object]]) -> None:
        """Run one statement for each row of values."""
        if rows:
            self._connection.executemany(sql, rows)

    def undoable(self, work: Callable[[], T]) -> T:
        """Do some work whose rows are taken back, and only those, if it raises."""
        self._connection.execute("SAVEPOINT step")
        try:
            result = work()
        except BaseException:
            if self._connection.in_transaction:  # a full disk makes SQLite take back the whole transaction
                self._connection.execute("ROLLBACK TO step")
                self._connection.execute("RELEASE step")
            raise
        self._connection.execute("RELEASE step")
        return result


class Database:
    """The office's file. `on_commit` is called on the event loop after each commit that kept something."""

    def __init__(
        self, writer: aiosqlite.Connection, readers: list[aiosqlite.Connection], glancing: sqlite3.Connection
    ) -> None:
        self._writer = writer
        self._readers = readers
        self._free_readers: asyncio.Queue[aiosqlite.Connection] = asyncio.Queue()
        for reader in readers:
            self._free_readers.put_nowait(reader)
        self._glancing = glancing
        self._waiting: list[tuple[Callable[[Writing], Any], asyncio.Future[Any]]] = []
        self._draining: asyncio.Task[None] | None = None
        self.on_commit: list[Callable[[], None]] = []

    @classmethod
    async def open(cls, file: Path, *, readers: int) -> Database:
        """Open the file, bring its schema up to date, and start the connections' threads."""
        file.parent.mkdir(parents=True, exist_ok=True)
        writer = await _connect(file)
        await _in_thread(writer, bring_up_to_date)
        glancing = sqlite3.connect(file, isolation_level=None, timeout=1)
        glancing.row_factory = sqlite3.Row
        glancing.execute("PRAGMA query_only = ON")
        return cls(writer, [await _connect(file, read_only=True) for _ in range(readers)], glancing)

    async def close(self) -> None:
        if self._draining is not None:
            await self._draining
        for connection in [*self._readers, self._writer]:
            await connection.close()
        self._glancing.close()

    async def read(self, question: Callable[[Reading], T]) -> T:
        """Ask on a reader's connection; it sees what was committed before it began."""
        reader = await self._free_readers.get()
        try:
            return await _in_thread(reader, lambda connection: question(Reading(connection)))
        finally:
            self._free_readers.put_nowait(reader)

    def glance(self, question: Callable[[Reading], T]) -> T:
        """Ask on the event loop itself. For one row by its key: that is over before a thread would have heard of it."""
        return question(Reading(self._glancing))

    async def write(self, job: Callable[[Writing], T]) -> T:
        """Do the job in a transaction; return after the commit, raise what the job raised.

        Raises OfficeFull when the disk is full; then nothing of the group was kept.
        """
        done: asyncio.Future[T] = asyncio.get_running_loop().create_future()
        self._waiting.append((job, done))
        if self._draining is None or self._draining.done():
            self._draining = asyncio.create_task(self._drain())
        return await done

    async def _drain(self) -> None:
        while self._waiting:
            group, self._waiting = self._waiting[:GROUP_LIMIT], self._waiting[GROUP_LIMIT:]
            jobs = [job for job, _ in group]
            try:
                outcomes = await _in_thread(self._writer, partial(_run_group, jobs=jobs))
            except BaseException as error:
                outcomes = [error] * len(group)
            for (_, done), outcome in zip(group, outcomes, strict=True):
                if done.done():  # whoever asked has gone; what was kept stays kept
                    continue
                if isinstance(outcome, BaseException):
                    done.set_exception(outcome)
                else:
                    done.set_result(outcome.value)
            for told in self.on_commit:
                told()


@asynccontextmanager
async def opened(file: Path, *, readers: int = 1) -> AsyncIterator[Database]:
    """The file for as long as the block lasts."""
    database = await Database.open(file, readers=readers)
    try:
        yield database
    finally:
        await database.close()


class _Result:
    """Tells a job's returned value from the error it raised."""

    def __init__(self, value: Any) -> None:
        self.value = value


def _run_group(connection: sqlite3.Connection, jobs: list[Callable[[Writing], Any]]) -> list[Any]:
    outcomes: list[Any] = []
    try:
        connection.execute("BEGIN IMMEDIATE")
        for job in jobs:
            connection.execute("SAVEPOINT job")
            try:
                outcomes.append(_Result(job(Writing(connection))))
            except Exception as error:
                if not connection.in_transaction:  # a full disk makes SQLite take back the whole transaction
                    raise
                connection.execute("ROLLBACK TO job")
                outcomes.append(_known(error))
            connection.execute("RELEASE job")
        connection.execute("COMMIT")
    except BaseException as error:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        return [_known(error)] * len(jobs)
    return outcomes


OF_THE_DISK = {
    sqlite3.SQLITE_FULL,
    sqlite3.SQLITE_IOERR,
    sqlite3.SQLITE_BUSY,
    sqlite3.SQLITE_LOCKED,
    sqlite3.SQLITE_READONLY,
    sqlite3.SQLITE_CANTOPEN,
    sqlite3.SQLITE_CORRUPT,
    sqlite3.SQLITE_NOTADB,
    sqlite3.SQLITE_NOMEM,
}


def is_of_the_disk(error: BaseException) -> bool:
    """Whether an error is of the machine (full, locked, failing), and not of what was asked of it."""
    code = getattr(error, "sqlite_errorcode", None)
    return isinstance(error, MemoryError) or (code is not None and code & 0xFF in OF_THE_DISK)


def _known(error: BaseException) -> BaseException:
    full = (
        isinstance(error, sqlite3.Error)
        and getattr(error, "sqlite_errorcode", 0) & 0xFF == sqlite3.SQLITE_FULL
    )
    return OfficeFull() if full else error


async def _connect(file: Path, *, read_only: bool = False) -> aiosqlite.Connection:
    connection = await aiosqlite.connect(file, isolation_level=None, cached_statements=512)
    connection.row_factory = sqlite3.Row
    await connection.execute("PRAGMA journal_mode = WAL")
    await connection.execute("PRAGMA synchronous = FULL")  # what was acknowledged survives a power cut
    await connection.execute("PRAGMA foreign_keys = ON")
    await connection.execute("PRAGMA temp_store = MEMORY")  # what a savepoint may have to take back
    await connection.execute("PRAGMA wal_autocheckpoint = 4000")  # pages; a burst is written back once
    await connection.execute("PRAGMA busy_timeout = 5000")
    if read_only:
        await connection.execute("PRAGMA query_only = ON")
    return connection


async def _in_thread(connection: aiosqlite.Connection, job: Callable[[sqlite3.Connection], T]) -> T:
    """Run a whole job on the connection's thread: one hand-over instead of one a statement."""
    execute = cast("Callable[..., Awaitable[T]]", connection._execute)
    return await execute(job, connection._conn)


def bring_up_to_date(connection: sqlite3.Connection) -> None:
    """Apply the schema steps that this file has not seen, each with its number in one transaction."""
    steps = sorted(
        (int(step.name[:4]), step.read_text("utf-8"))
        for step in files("intake.schema").iterdir()
        if step.name.endswith(".sql")
    )
    done = connection.execute("PRAGMA user_version").fetchone()[0]
    if done > steps[-1][0]:
        raise RuntimeError(
            f"This data folder was written by a newer version (schema {done}, this one knows {steps[-1][0]}). "
            "Install the newer version, or start with another --data folder."
        )
    for number, sql in steps:
        if number > done:
            connection.executescript(f"BEGIN;\n{sql}\nPRAGMA user_version = {number};\nCOMMIT;")
