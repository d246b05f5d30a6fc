"""What a copy's texts say, beside memory: a house's tenth year has millions of operations, and a few MB are held.

It lies in tables of no file of the office's, which nobody else can read and which are gone with the process. What a
table cannot have (half a character) is no text of an office: whoever can write to a copy may have put anything in it.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from itertools import islice
from typing import Any

from intake.copies.photo_lines import HELD_KIB
from intake.database import Writing, scratch_file

LINES_AT_ONCE = 200  # a signature among the words is long


def is_plain(text: str) -> bool:
    """Whether a text can stand in a table, and have a digest."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def tables_with(table: str) -> Writing:
    """Tables of no name, with this one."""
    tables = Writing(scratch_file(HELD_KIB, threads=True))
    tables.run(table)
    return tables


def put_all(tables: Writing, how: str, rows: Iterable[tuple[str, ...]]) -> None:
    """Run a statement for each of these, some at a time."""
    rows = iter(rows)
    while some := list(islice(rows, LINES_AT_ONCE)):
        tables.run("BEGIN")
        tables.run_many(how, some)
        tables.run("COMMIT")


class WordLines(Mapping[str, str]):
    """The personal words of a copy by operation; of several lines of one the last."""

    def __init__(self, lines: Iterable[tuple[str, str]]) -> None:
        self._tables = tables_with(
            "CREATE TABLE said (seq INTEGER PRIMARY KEY, operation_id TEXT NOT NULL, words TEXT NOT NULL) STRICT"
        )
        fit = (line for line in lines if all(map(is_plain, line)))
        put_all(self._tables, "INSERT INTO said (operation_id, words) VALUES (?, ?)", fit)
        self._tables.run("CREATE INDEX said_by_operation ON said (operation_id, seq)")

    def __getitem__(self, operation_id: str) -> str:
        words = None
        if is_plain(operation_id):
            words = self._tables.value(
                "SELECT words FROM said WHERE operation_id = :id ORDER BY seq DESC LIMIT 1", id=operation_id
            )
        if words is None:
            raise KeyError(operation_id)
        return str(words)

    def remove(self, operation_ids: Iterable[str]) -> None:
        """Take out what there is of these."""
        ids = ((operation_id,) for operation_id in operation_ids)
        put_all(self._tables, "DELETE FROM said WHERE operation_id = ?", ids)

    def __iter__(self) -> Iterator[str]:
        rows = self._tables.each("SELECT DISTINCT operation_id FROM said ORDER BY operation_id")
        return (str(row["operation_id"]) for row in rows)

    def __len__(self) -> int:
        return int(self._tables.value("SELECT count(DISTINCT operation_id) FROM said"))


class OperationIds:
    """Operations by the log's key, each once, in the order in which they were first named."""

    def __init__(self, operation_ids: Iterable[str] = ()) -> None:
        self._tables = tables_with(
            "CREATE TABLE one (seq INTEGER PRIMARY KEY, operation_id TEXT NOT NULL UNIQUE) STRICT"
        )
        ids = ((operation_id,) for operation_id in operation_ids if is_plain(operation_id))
        put_all(self._tables, "INSERT INTO one (operation_id) VALUES (?) ON CONFLICT DO NOTHING", ids)

    def is_new(self, operation_id: str) -> bool:
        """Take it up; whether it was not among these. Of what is no text there is none."""
        return is_plain(operation_id) and bool(
            self._tables.run(
                "INSERT INTO one (operation_id) VALUES (:id) ON CONFLICT DO NOTHING", id=operation_id
            )
        )

    def __contains__(self, operation_id: str) -> bool:
        found = "SELECT 1 FROM one WHERE operation_id = :id"
        return is_plain(operation_id) and self._tables.value(found, id=operation_id) is not None

    def __iter__(self) -> Iterator[str]:
        rows = self._tables.each("SELECT operation_id FROM one ORDER BY seq")
        return (str(row["operation_id"]) for row in rows)


class RowsApart:
    """Rows of a log that do not hang together with those before, in the order of the copy."""

    def __init__(self) -> None:
        self._tables = tables_with("CREATE TABLE apart (seq INTEGER PRIMARY KEY, row TEXT NOT NULL) STRICT")
        self._count = 0

    def append(self, row: dict[str, Any]) -> None:
        self._count += 1
        self._tables.run("INSERT INTO apart (row) VALUES (:row)", row=json.dumps(row))

    def __len__(self) -> int:
        return self._count

    def __iter__(self) -> Iterator[dict[str, Any]]:
        return (json.loads(row["row"]) for row in self._tables.each("SELECT row FROM apart ORDER BY seq"))
