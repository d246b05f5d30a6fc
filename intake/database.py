"""One writer and several readers on one SQLite file.

Work on the tables is a plain function that takes a `Reading` or a `Writing` and runs on a connection's own
thread in one go. The writer gathers all jobs that wait and keeps them with one commit, each in a savepoint of
its own: a job that raises takes back its own rows only, and every answer leaves after the commit. The handle's
type says what a function may do: only `Database.write` makes a `Writing`.

What only this engine has stands here and in `cataloguing/search.py`.
"""

from __future__ import annotations

import asyncio
import json
import logging
import sqlite3
from collections.abc import AsyncIterator, Callable, Iterable, Iterator, Sequence
from contextlib import AsyncExitStack, asynccontextmanager, closing, contextmanager
from functools import cache, partial
from importlib.resources import files
from pathlib import Path
from typing import Any, TypeVar, cast

import aiosqlite

from intake.errors import DamagedTables, IntakeError, NewerData, OfficeBusy, OfficeFull

log = logging.getLogger("intake")

T = TypeVar("T")
GROUP_LIMIT = 64  # jobs in one commit; more would only make the first of them wait longer
SCRATCH_KIB = 64 * 1024  # of tables that are made anew, what is held in memory
KEPT_WAL = (
    64 * 1024 * 1024
)  # bytes of the write-ahead log that stay after a change as large as tables made anew
CACHE_KIB = 8 * 1024  # of the file's pages, what a connection holds: a day of some hundred records
BUSY_MS = 5000  # how long a change waits for another process that is writing


#: The operations that said personal words and were refused, as a table: few, so that an index has them alone, by which
#: they are read whatever the engine makes of how many rows it has counted.
REFUSED_WITH_WORDS = """
    (SELECT operation_id, office_seq, record_id FROM operation_log INDEXED BY operation_log_refused_words
     WHERE instr(answer, '"outcome":"kept"') = 0 AND instr(operation, '"private_sha256":') > 0)
"""


def any_of(name: str) -> str:
    """SQL for any of the texts in the JSON list that is the value of this name, as in `tag IN {any_of("tags")}`."""
    return f"(SELECT value FROM json_each(:{name}))"


def told_of(name: str, key: str) -> str:
    """SQL for what the JSON object that is the value of this name says of a column's text; null if nothing."""
    return f"(SELECT value FROM json_each(:{name}) AS told WHERE told.key = {key})"


class Reading:
    """What a question may do: select."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection

    def all(self, sql: str, **values: object) -> list[sqlite3.Row]:
        return self._connection.execute(sql, values).fetchall()

    def gathered(self, columns: str, rest: str, **values: object) -> list[list[Any]]:
        """The rows of a select, fetched as one: a row less is a time less that other threads take the interpreter."""
        return cast(
            "list[list[Any]]",
            json.loads(self.value(f"SELECT json_group_array(json_array({columns})) {rest}", **values)),
        )

    def each(self, sql: str, **values: object) -> Iterator[sqlite3.Row]:
        """The rows one by one, for what may be more than memory should hold."""
        return iter(self._connection.execute(sql, values))

    def one(self, sql: str, **values: object) -> sqlite3.Row | None:
        return cast("sqlite3.Row | None", self._connection.execute(sql, values).fetchone())

    def value(self, sql: str, **values: object) -> Any:
        """The first column of the first row, or None if there is no row."""
        row = self._connection.execute(sql, values).fetchone()
        return None if row is None else row[0]

    def with_scratch(self, work: Callable[[Scratch], T]) -> T:
        """Do some work on one moment of the file, with tables beside it that are gone afterwards; nobody else is kept
        waiting. Its memory is bound: what is more than that lies in a file."""
        file = Path(self.one("PRAGMA database_list")["file"])  # type: ignore[index]
        with closing(scratch_file(SCRATCH_KIB)) as scratch:
            scratch.execute("ATTACH :file AS office", {"file": to_read(file)})
            scratch.execute("BEGIN")
            return work(Scratch(scratch))

    def is_whole(self) -> bool:
        """Whether every page of the file can be read and fits the others. Source: the engine's `PRAGMA quick_check`."""
        return bool(self.value("PRAGMA quick_check") == "ok")

    def faults_of_the_file(self) -> list[str]:
        """What does not fit in pages and indexes, ten at the most. Source: the engine's `PRAGMA integrity_check`."""
        return [fault for (fault,) in self.all("PRAGMA integrity_check(10)") if fault != "ok"]

    def names_in_schema(self) -> set[tuple[str, str]]:
        """What the file has, each as its type and its name: tables with their columns, indexes, views and triggers."""
        found = self.all("SELECT type, name FROM sqlite_schema WHERE name NOT LIKE 'sqlite~_%' ESCAPE '~'")
        columns = self.all(
            """
            SELECT one.name AS "table", here.name FROM sqlite_schema AS one, pragma_table_xinfo(one.name) AS here
            WHERE one.type = 'table' AND one.name NOT LIKE 'sqlite~_%' ESCAPE '~'
            """
        )
        return {(row["type"], row["name"]) for row in found} | {
            ("column", f"{row['table']}.{row['name']}") for row in columns
        }

    @property
    def schema_step(self) -> int:
        """The number of the last schema step that the file has seen."""
        return int(self.value("PRAGMA user_version"))


class Writing(Reading):
    """What a change may do: select and write, inside a transaction by construction."""

    leaves_traces = False  # whether what it took out has to go from the write-ahead log as well

    def run(self, sql: str, **values: object) -> int:
        """Run one statement; the number of rows it changed."""
        return self._connection.execute(sql, values).rowcount

    def run_many(self, sql: str, rows: Sequence[Sequence[object]]) -> None:
        """Run one statement for each row of values."""
        if rows:
            self._connection.executemany(sql, rows)

    def leave_no_trace(self) -> None:
        """What this change takes out is to be in none of the office's files once it is kept."""
        self.leaves_traces = True

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


class Scratch(Writing):
    """One moment of the office's file, beside tables that are made anew; the file itself cannot be written here.

    Source: https://www.sqlite.org/lang_attach.html (a table's name alone is looked for in `main` first, then in what is
    attached), https://www.sqlite.org/inmemorydb.html (a database without a name is in memory as far as there is room,
    else in a file that is removed as it is made).
    """

    def begin_anew(self, tables: Iterable[str]) -> None:
        """From now on these names are those of empty tables; what is in the file is `office.NAME` still.

        An index of words is a plain table here: nothing is searched in it.
        """
        for table in tables:
            for row in self.all(
                "SELECT sql FROM office.sqlite_schema WHERE tbl_name = :table AND sql IS NOT NULL",
                table=table,
            ):
                is_virtual = row["sql"].startswith("CREATE VIRTUAL")
                plain = f"CREATE TABLE {table} AS SELECT * FROM office.{table} LIMIT 0"
                self.run(plain if is_virtual else row["sql"])

    def is_equal(self, table: str, rows: str) -> bool:
        """Whether a table that was made anew says the same as the one in the file; `rows` is a select that names what
        is compared of it."""
        described = self.all("SELECT name, pk FROM pragma_table_info(:table)", table=table)
        keys = [row["name"] for row in described if row["pk"]] or ["rowid"]
        compared = [column[0] for column in self._connection.execute(f"{rows} LIMIT 0").description]
        on = " AND ".join(f"made.{key} = found.{key}" for key in keys)
        same = " AND ".join(f"made.{name} IS found.{name}" for name in compared)
        made, found, equal = self.all(
            f"""
            SELECT (SELECT count(*) FROM main.{table}), (SELECT count(*) FROM office.{table}),
                (SELECT count(*) FROM main.{table} AS made JOIN office.{table} AS found ON {on} WHERE {same})
            """
        )[0]
        return bool(made == found == equal)


class Database:
    """The office's file. `on_commit` is called on the event loop after each commit that kept something."""

    def __init__(
        self, writer: aiosqlite.Connection, readers: list[aiosqlite.Connection], connections: AsyncExitStack
    ) -> None:
        self._writer = writer
        self._connections = connections
        self._free_readers: asyncio.Queue[aiosqlite.Connection] = asyncio.Queue()
        for reader in readers:
            self._free_readers.put_nowait(reader)
        self._waiting: list[tuple[Callable[[Writing], Any], asyncio.Future[Any]]] = []
        self._draining: asyncio.Task[None] | None = None
        self.on_commit: list[Callable[[], None]] = []

    @classmethod
    async def open(cls, file: Path, *, readers: int) -> Database:
        """Open the file, bring its schema up to date, and start the connections' threads.

        Raises NewerData, DamagedTables or OfficeBusy; no connection is left open then.
        """
        file.parent.mkdir(parents=True, exist_ok=True)
        async with AsyncExitStack() as opening:
            writer = await _connect(file, opening)
            await _in_thread(writer, bring_up_to_date)
            free = [await _connect(file, opening, read_only=True) for _ in range(readers)]
            return cls(writer, free, opening.pop_all())

    async def close(self) -> None:
        """Do what still waits, then close every connection, also if one of them cannot be closed well."""
        try:
            if self._draining is not None:
                await self._draining
        finally:
            await self._connections.aclose()

    async def read(self, question: Callable[[Reading], T]) -> T:
        """Ask on a reader's connection; it sees one moment, that at which it first asks. Raises OfficeBusy."""
        reader = await self._free_readers.get()
        try:
            return await _in_thread(reader, partial(_at_one_moment, question=question))
        finally:
            self._free_readers.put_nowait(reader)

    async def write(self, job: Callable[[Writing], T]) -> T:
        """Do the job in a transaction; return after the commit, raise what the job raised.

        Raises OfficeFull when the disk is full, OfficeBusy while another process writes; then nothing of the
        group was kept.
        """
        done: asyncio.Future[T] = asyncio.get_running_loop().create_future()
        self._waiting.append((job, done))
        if self._draining is None or self._draining.done():
            self._draining = asyncio.create_task(self._drain())
        return await done

    async def write_alone(self, job: Callable[[Writing], T]) -> T:
        """Do a job that touches most of the file, such as a rebuild, in a transaction by itself. Raises like `write`.

        A job of a group may be taken back alone, for which the engine holds each page that it changes in memory: of a
        rebuild that is the whole file.
        """
        result: T = await _in_thread(self._writer, partial(_run_alone, job=job))
        for listener in self.on_commit:
            listener()
        return result

    @property
    def is_busy(self) -> bool:
        """Whether changes are on their way."""
        return self._draining is not None and not self._draining.done()

    async def write_anew(self) -> None:
        """Write the whole file anew, so that nothing that was taken out is left between what stands, and empty the
        write-ahead log. Raises OfficeFull, and OfficeBusy, also if whoever reads an older moment kept it from that."""
        await _in_thread(self._writer, _write_anew)

    async def _drain(self) -> None:
        while self._waiting:
            group, self._waiting = self._waiting[:GROUP_LIMIT], self._waiting[GROUP_LIMIT:]
            jobs = [job for job, _ in group]
            try:
                outcomes = await _in_thread(self._writer, partial(_run_group, jobs=jobs))
            except BaseException as error:
                outcomes = [error] * len(group)
            if all(isinstance(outcome, OfficeBusy) for outcome in outcomes):
                # Whoever came meanwhile has waited as well, and would wait as long again; a device sends once more.
                outcomes += outcomes[:1] * len(self._waiting)
                group, self._waiting = group + self._waiting, []
            for (_, done), outcome in zip(group, outcomes, strict=True):
                if done.done():  # whoever asked has gone; what was kept stays kept
                    continue
                if isinstance(outcome, BaseException):
                    done.set_exception(outcome)
                else:
                    done.set_result(outcome.value)
            if any(isinstance(outcome, _Result) for outcome in outcomes):
                for listener in self.on_commit:
                    listener()


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


def _at_one_moment(connection: sqlite3.Connection, question: Callable[[Reading], T]) -> T:
    """Without a transaction each statement would see what was kept before it: fields without their record, or a part
    of a record that belongs to whoever sat there a moment ago."""
    connection.execute("BEGIN")
    try:
        return question(Reading(connection))
    finally:
        if connection.in_transaction:
            connection.execute("ROLLBACK")


def _run_group(connection: JobConnection, jobs: list[Callable[[Writing], Any]]) -> list[Any]:
    outcomes: list[Any] = []
    try:
        connection.execute("BEGIN IMMEDIATE")
        for job in jobs:
            connection.execute("SAVEPOINT job")
            writing = Writing(connection)
            try:
                outcomes.append(_Result(job(writing)))
                connection.has_traces |= writing.leaves_traces
            except Exception as error:
                if not connection.in_transaction:  # a full disk makes SQLite take back the whole transaction
                    raise
                connection.execute("ROLLBACK TO job")
                outcomes.append(as_known(error))
            connection.execute("RELEASE job")
        connection.execute("COMMIT")
    except BaseException as error:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        return [as_known(error)] * len(jobs)
    if connection.has_traces:
        _clear_traces(connection)
    return outcomes


def _run_alone(connection: JobConnection, job: Callable[[Writing], T]) -> T:
    try:
        connection.execute("BEGIN IMMEDIATE")
        writing = Writing(connection)
        result = job(writing)
        connection.execute("COMMIT")
    except BaseException as error:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        known = as_known(error)
        if known is error:
            raise
        raise known from error
    connection.has_traces |= writing.leaves_traces
    if connection.has_traces:
        _clear_traces(connection)
    return result


def _clear_traces(connection: JobConnection) -> None:
    """Empty the write-ahead log, in which pages stand as they were before something was erased.

    Nobody is waited for: while somebody reads an older moment, or on a disk that fails, it is tried again after the
    next change. Source: https://www.sqlite.org/pragma.html#pragma_wal_checkpoint (TRUNCATE; the first column is 1 if
    it was kept from it).
    """
    connection.has_traces = True
    connection.execute("PRAGMA busy_timeout = 0")
    try:
        connection.has_traces = bool(connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0])
    except sqlite3.Error as error:  # what was asked for is kept all the same
        log.warning("what was erased is still in the write-ahead log: %s", error)
    finally:
        connection.execute(f"PRAGMA busy_timeout = {BUSY_MS}")


def _write_anew(connection: sqlite3.Connection) -> None:
    """Source: https://www.sqlite.org/lang_vacuum.html (what was deleted is left out; an INTEGER PRIMARY KEY stays as it
    is). Its working copy goes into a file, since all of it may be more than memory has."""
    assert isinstance(connection, JobConnection)
    connection.execute("PRAGMA temp_store = FILE")
    try:
        connection.execute("VACUUM")
    finally:
        connection.execute("PRAGMA temp_store = MEMORY")
    _clear_traces(connection)
    if connection.has_traces:
        raise OfficeBusy


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


#: What the engine cannot do, by its primary result code. Source: https://www.sqlite.org/rescode.html
KNOWN: dict[int, Callable[[], IntakeError]] = {
    sqlite3.SQLITE_FULL: OfficeFull,
    sqlite3.SQLITE_BUSY: OfficeBusy,
    sqlite3.SQLITE_LOCKED: OfficeBusy,
    sqlite3.SQLITE_CORRUPT: DamagedTables,
    sqlite3.SQLITE_NOTADB: DamagedTables,
}


def as_known(error: BaseException) -> BaseException:
    """The engine's error as one of ours, where a person can do something about it."""
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF if isinstance(error, sqlite3.Error) else 0
    return KNOWN[code]() if code in KNOWN else error


class JobConnection(sqlite3.Connection):
    """A connection whose `execute` takes a whole job as well as a statement.

    A job is one hand-over between threads in place of one a statement, and aiosqlite carries it as any other call.
    """

    has_traces = False  # whether something erased may still be in the write-ahead log

    def execute(self, statement: str | Callable[[sqlite3.Connection], Any], values: Any = (), /) -> Any:
        if isinstance(statement, str):
            return super().execute(statement, values)
        return _Done(statement(self))


class _Done:
    """A job's result, fetched as rows are."""

    def __init__(self, result: Any) -> None:
        self._result = result

    def fetchall(self) -> Any:
        return self._result


async def _connect(file: Path, opening: AsyncExitStack, *, read_only: bool = False) -> aiosqlite.Connection:
    """A connection that is closed with the stack, also when what follows here fails."""
    connection = await opening.enter_async_context(
        aiosqlite.connect(file, isolation_level=None, cached_statements=512, factory=JobConnection)
    )
    connection.row_factory = sqlite3.Row
    await _in_thread(connection, partial(_set_up, read_only=read_only))
    return connection


def _set_up(connection: sqlite3.Connection, *, read_only: bool) -> None:
    connection.execute(f"PRAGMA busy_timeout = {BUSY_MS}")
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")  # what was acknowledged survives a power cut
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute("PRAGMA secure_delete = ON")  # what is erased is overwritten, not only let go of
    connection.execute("PRAGMA temp_store = MEMORY")  # what a savepoint may have to take back
    connection.execute("PRAGMA wal_autocheckpoint = 4000")  # pages; a burst is written back once
    connection.execute(f"PRAGMA journal_size_limit = {KEPT_WAL}")
    connection.execute(f"PRAGMA cache_size = -{CACHE_KIB}")
    if read_only:
        connection.execute("PRAGMA query_only = ON")


async def _in_thread(connection: aiosqlite.Connection, job: Callable[[sqlite3.Connection], T]) -> T:
    """Run a whole job on the connection's own thread. Raises the engine's errors as ours."""
    try:
        return cast(T, await connection.execute_fetchall(cast(str, job)))
    except sqlite3.Error as error:
        known = as_known(error)
        if known is error:
            raise
        raise known from error


def bring_up_to_date(connection: sqlite3.Connection) -> None:
    """Apply the schema steps that this file has not seen, each with its number in one transaction. Raises NewerData."""
    steps = sorted(
        (int(step.name[:4]), step.read_text("utf-8"))
        for step in files("intake.schema").iterdir()
        if step.name.endswith(".sql")
    )
    done = connection.execute("PRAGMA user_version").fetchone()[0]
    if done > steps[-1][0]:
        raise NewerData(done, steps[-1][0])
    for number, sql in steps:
        if number > done:
            connection.executescript(f"BEGIN;\n{sql}\nPRAGMA user_version = {number};\nCOMMIT;")


@cache
def names_in_new_file() -> frozenset[tuple[str, str]]:
    """What the schema's steps make of an empty file, the same as long as the program runs."""
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as connection:
        connection.row_factory = sqlite3.Row
        bring_up_to_date(connection)
        return frozenset(Reading(connection).names_in_schema())


def to_read(file: Path) -> str:
    """The file's address for whoever only reads it."""
    return f"{file.absolute().as_uri()}?mode=ro"


def scratch_file(held_kib: int, *, threads: bool = False) -> sqlite3.Connection:
    """A database without a name, which nobody else can read and which is gone once it is closed. So much of it is held
    in memory, what is more lies in a file that is removed as it is made. `threads`: several may ask it, each in its
    turn.

    Source: https://www.sqlite.org/inmemorydb.html
    """
    connection = sqlite3.connect(
        "", uri=True, isolation_level=None, cached_statements=512, check_same_thread=not threads
    )
    connection.row_factory = sqlite3.Row
    connection.execute("PRAGMA main.synchronous = OFF")  # it outlives no power cut
    connection.execute("PRAGMA main.journal_mode = MEMORY")  # what a step may have to take back
    connection.execute(f"PRAGMA main.cache_size = -{held_kib}")
    return connection


@contextmanager
def snapshot(file: Path) -> Iterator[Reading]:
    """One moment of the file, read on the calling thread beside whoever writes. Raises what sqlite3 raises."""
    try:
        connection = _moment(to_read(file))
    except sqlite3.OperationalError as error:
        if error.sqlite_errorcode & 0xFF not in (sqlite3.SQLITE_IOERR, sqlite3.SQLITE_CANTOPEN):
            raise
        connection = _moment(f"{file.absolute().as_uri()}?mode=rw", alone=True)
    try:
        yield Reading(connection)
    finally:
        connection.close()


def _moment(uri: str, *, alone: bool = False) -> sqlite3.Connection:
    """A connection that sees one moment. `alone`: on a disk so full that the file through which processes share the
    write-ahead log cannot be made, it can be read by one. Source: https://www.sqlite.org/wal.html#noshm (exclusive)."""
    connection = sqlite3.connect(uri, uri=True, isolation_level=None)
    try:
        connection.row_factory = sqlite3.Row
        if alone:
            connection.execute("PRAGMA locking_mode = EXCLUSIVE")
            connection.execute("PRAGMA query_only = ON")
        connection.execute("BEGIN")
        connection.execute("SELECT 1 FROM sqlite_schema")  # the moment begins with what is read first
    except BaseException:
        connection.close()
        raise
    return connection
