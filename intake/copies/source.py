"""What the office has that a copy takes: read by plain SQL, one moment at a time, beside whoever writes."""

from __future__ import annotations

import base64
import hashlib
import json
import os
import sqlite3
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple

from intake.copies.head import HEADS
from intake.copies.states import nameless
from intake.database import Reading, any_of, snapshot
from intake.photos.store import photo_file
from intake.settings import Settings
from intake.sync.chain import CHAIN_START

#: What a copy keeps of a device. Left out: when it was last seen and what it held then, which change all the time.
#: `key_sha256` is the digest of 256 random bits: it recognises the device again and lets nobody in.
DEVICE_COLUMNS = ("device_id", "name", "role", "key_sha256", "paired_at", "revoked_at", "letters")
LOG_COLUMNS = (
    "office_seq",
    "operation_id",
    "device_id",
    "device_seq",
    "record_id",
    "operation",
    "answer",
    "received_at",
    "chain",
)
#: Among the house's own files in a copy: which other copies there are. A restored office owes them what is erased.
COPIES = "copies.json"
PHOTO_COLUMNS = ("sha256", "bytes", "media_type", "width", "height", "received_at")


@dataclass(frozen=True)
class Office:
    """Which office this is. A restored office keeps its `office_id` and has a new `epoch`.

    `numbers` are the first and the last serial of the tag numbers that are its to give out.
    """

    office_id: str
    epoch: str
    schema_step: int
    numbers: tuple[int, int] | None


@dataclass(frozen=True)
class Photo:
    """A photo's row, and where it stands in the order in which photos reached the office."""

    arrival: int
    row: dict[str, Any]

    @property
    def sha256(self) -> str:
        return str(self.row["sha256"])

    @property
    def bytes(self) -> int:
        return int(self.row["bytes"])


FileMark = tuple[int, int, int, int] | None


@dataclass(frozen=True)
class Source:
    """The office's files, as a copy reads them."""

    database_file: Path
    photos_folder: Path
    house_folder: Path
    hall_folder: Path

    @property
    def folders(self) -> list[str]:
        """All that is copied, the office's own folder first; a part of it may be a link to another disk."""
        parts = (self.database_file.parent, self.photos_folder, self.house_folder, self.hall_folder)
        return [str(folder.absolute()) for folder in parts]

    @contextmanager
    def moment(self) -> Iterator[Reading]:
        """One moment of the tables. Keep it short: while it lasts, the database's journal cannot be folded in."""
        with snapshot(self.database_file) as tx:
            yield tx

    def photo(self, sha256: str) -> bytes:
        """A photo's bytes. Raises OSError."""
        return photo_file(self.photos_folder, sha256).read_bytes()

    def photo_mark(self, sha256: str) -> FileMark:
        """Another value when somebody wrote a photo's file, or put another in its place; null if there is none."""
        try:
            stat = photo_file(self.photos_folder, sha256).stat()
        except OSError:
            return None
        return stat.st_ino, stat.st_size, stat.st_mtime_ns, stat.st_ctime_ns

    def house(self) -> OwnFiles:
        """The house's own plans, words and drawings."""
        return own_files("house", self.house_folder)

    def hall(self) -> OwnFiles:
        """What phones in a hall know the office by."""
        return own_files("hall", self.hall_folder)


NOTHING: Mapping[str, bytes] = {}


@dataclass(frozen=True)
class OwnFiles:
    """Files that belong to the office beside its tables and photos, by the names they are copied under."""

    found: dict[str, Path]

    def mark(self) -> tuple[tuple[str, int, int], ...]:
        """Name, time and size of each: another mark when one of them changed."""
        stats = ((name, file.stat()) for name, file in self.found.items())
        return tuple((name, stat.st_mtime_ns, stat.st_size) for name, stat in stats)

    def packed(self, beside: Mapping[str, bytes] = NOTHING) -> bytes:
        """One JSON text: name, and bytes in base64. `beside` lies in no file of the office."""
        contents = {name: file.read_bytes() for name, file in self.found.items()}
        encoded = {
            name: base64.b64encode(content).decode() for name, content in {**contents, **beside}.items()
        }
        return json.dumps(encoded).encode()


def own_files(name: str, folder: Path) -> OwnFiles:
    """The files below a folder of the office, under its name."""
    return OwnFiles(
        {f"{name}/{file.relative_to(folder).as_posix()}": file for file in sorted(files_below(folder))}
    )


#: What systems put into a folder by themselves: where nothing else lies, the house's own files are away.
SYSTEM_FILES = ("desktop.ini", "Thumbs.db")


def files_below(folder: Path) -> Iterator[Path]:
    """Every file below a folder, but hidden ones, and those of a copy that lies there: it would copy itself, more at
    each step."""
    for at, inner, names in os.walk(folder):
        if not {*HEADS}.isdisjoint(names):
            inner.clear()
            continue
        own = (name for name in names if not name.startswith(".") and name not in SYSTEM_FILES)
        yield from (file for name in own if (file := Path(at, name)).is_file())


def source_of(settings: Settings) -> Source:
    """What the office with these settings keeps, and where."""
    house = settings.plans_folder or settings.data_folder / "house"
    return Source(settings.database_file, settings.photos_folder, house, settings.data_folder / "hall")


def office_of(tx: Reading) -> Office:
    row = tx.one("SELECT office_id, epoch, first_serial, last_serial FROM office")
    if row is None or row["office_id"] is None:  # it names itself when it first starts
        raise nameless()
    numbers = None if row["first_serial"] is None else (row["first_serial"], row["last_serial"])
    return Office(row["office_id"], row["epoch"], tx.schema_step, numbers)


def newest(tx: Reading) -> int:
    return int(tx.value("SELECT max(office_seq) FROM operation_log") or 0)


def chain_at(tx: Reading, office_seq: int) -> str | None:
    """The chain's value after an operation; None if the log does not have it."""
    if office_seq == 0:
        return CHAIN_START
    chain = tx.value("SELECT chain FROM operation_log WHERE office_seq = :seq", seq=office_seq)
    return None if chain is None else str(chain)


def rows_after(tx: Reading, office_seq: int, limit: int) -> list[dict[str, Any]]:
    """The next rows of the log."""
    rows = tx.all(
        """
        SELECT office_seq, operation_id, device_id, device_seq, record_id, operation, answer, received_at, chain
        FROM operation_log WHERE office_seq > :after ORDER BY office_seq LIMIT :limit
        """,
        after=office_seq,
        limit=limit,
    )
    return [dict(row) for row in rows]


def words_between(tx: Reading, after: int, last: int) -> dict[str, str]:
    """What stands beside a run of the log and may be erased, by the log's key: personal words, what was set aside."""
    rows = tx.all(
        """
        SELECT operation_id, coalesce(words, content) AS words FROM operation_log
        LEFT JOIN private_words USING (operation_id) LEFT JOIN set_aside USING (operation_id)
        WHERE office_seq > :after AND office_seq <= :last AND (words IS NOT NULL OR content IS NOT NULL)
        ORDER BY office_seq
        """,
        after=after,
        last=last,
    )
    return {row["operation_id"]: row["words"] for row in rows}


class Due(NamedTuple):
    """An operation that has words beside the log which nobody erased: its place, and their digest in the log."""

    office_seq: int
    digest: str

    def is_met_by(self, words: str) -> bool:
        """Whether these are the words. What the tables still had of lost ones is not."""
        return hashlib.sha256(words.encode()).hexdigest() == self.digest


def words_due(tx: Reading, after: int, last: int) -> dict[str, Due]:
    """What has to stand beside a run of the log, by the log's key, whether or not the office has it still."""
    rows = tx.all(
        """
        SELECT operation_id, office_seq,
            coalesce(operation ->> 'private_sha256', operation ->> 'content_sha256') AS digest
        FROM operation_log LEFT JOIN private_words USING (operation_id) LEFT JOIN set_aside USING (operation_id)
        WHERE office_seq > :after AND office_seq <= :last
            AND (operation LIKE '%"private_sha256":%' OR operation LIKE '{"content_sha256":%')
            AND NOT EXISTS (SELECT 1 FROM erased_words AS one WHERE one.operation_id = operation_log.operation_id)
            AND (words IS NOT NULL OR content IS NOT NULL OR NOT EXISTS (
                SELECT 1 FROM erasure LEFT JOIN record ON record.record_id = operation_log.record_id
                WHERE erasure.record_id IN (operation_log.record_id, record.head ->> 'visit_id')
            ))
        """,
        after=after,
        last=last,
    )
    return {row["operation_id"]: Due(row["office_seq"], row["digest"] or "") for row in rows}


def words_back(tx: Reading, owed: Mapping[str, Due]) -> dict[str, str]:
    """Those of the words that were owed which the office has, as the log says they are."""
    if not owed:
        return {}
    rows = tx.all(
        f"""
        SELECT operation_id, coalesce(words, content) AS words FROM operation_log
        LEFT JOIN private_words USING (operation_id) LEFT JOIN set_aside USING (operation_id)
        WHERE operation_id IN {any_of("owed")} AND (words IS NOT NULL OR content IS NOT NULL)
        """,
        owed=json.dumps(list(owed)),
    )
    return {
        row["operation_id"]: row["words"] for row in rows if owed[row["operation_id"]].is_met_by(row["words"])
    }


def erased_after(tx: Reading, erased_seq: int) -> tuple[int, list[str]]:
    """The operations whose personal words were erased since, and how far that reaches now."""
    rows = tx.all(
        "SELECT erased_seq, operation_id FROM erased_words WHERE erased_seq > :after ORDER BY erased_seq",
        after=erased_seq,
    )
    return (rows[-1]["erased_seq"] if rows else erased_seq), [row["operation_id"] for row in rows]


def owners_erased_after(tx: Reading, erased_seq: int) -> int:
    """Of how many owners words were erased since, be it of how many operations or in how many turns. Notes that are of
    no visit went with an owner's; what is of no record is counted by itself, since it may be anybody's."""
    count = tx.value(
        """
        SELECT max(
            count(DISTINCT CASE
                WHEN kind IS NULL THEN operation_id
                WHEN kind = 'visit' THEN record_id
                ELSE head ->> 'visit_id'
            END),
            min(count(*), 1)
        )
        FROM erased_words LEFT JOIN operation_log USING (operation_id) LEFT JOIN record USING (record_id)
        WHERE erased_seq > :after
        """,
        after=erased_seq,
    )
    return int(count)


def erased_order(tx: Reading) -> dict[str, int]:
    """The place of every operation whose words were erased, in that order."""
    rows = tx.all("SELECT operation_id, erased_seq FROM erased_words")
    return {row["operation_id"]: row["erased_seq"] for row in rows}


@dataclass(frozen=True)
class ErasedWords:
    """All that was ever erased: the operations, the records that were meant, and how far that reaches; beside them the
    operations whose words stand here, since they were written later."""

    erased_seq: int
    operations: frozenset[str]
    records: frozenset[str]
    standing: frozenset[str]


def erased_ever(tx: Reading) -> Iterator[str]:
    """The operations whose words were erased, one by one."""
    return (str(row["operation_id"]) for row in tx.each("SELECT operation_id FROM erased_words"))


def newest_erased(tx: Reading) -> int:
    return int(tx.value("SELECT max(erased_seq) FROM erased_words") or 0)


def erased_words(tx: Reading) -> ErasedWords:
    erased_seq, operations = erased_after(tx, 0)
    return ErasedWords(
        erased_seq,
        frozenset(operations),
        frozenset(row["record_id"] for row in tx.all("SELECT DISTINCT record_id FROM erasure")),
        frozenset(row["operation_id"] for row in tx.all("SELECT operation_id FROM private_words")),
    )


def plans(tx: Reading, known: set[tuple[str, str]]) -> list[dict[str, Any]]:
    """Every version of a plan that is not among those known."""
    keys = [
        tuple(row) for row in tx.all("SELECT class_id, version FROM plan_version ORDER BY class_id, version")
    ]
    missing = [key for key in keys if key not in known]
    return [
        {
            "class_id": class_id,
            "version": version,
            "body": tx.value(
                "SELECT body FROM plan_version WHERE class_id = :class_id AND version = :version",
                class_id=class_id,
                version=version,
            ),
        }
        for class_id, version in missing
    ]


def devices(tx: Reading) -> bytes:
    """Every device as JSON, in a fixed order."""
    rows = tx.all(
        "SELECT device_id, name, role, key_sha256, paired_at, revoked_at, letters FROM device ORDER BY device_id"
    )
    return json.dumps([dict(row) for row in rows], ensure_ascii=False).encode()


def copies(tx: Reading) -> bytes:
    """Every copy that was ever met as JSON: where it lay, which it is, with what it is closed, what was erased in it.
    How far each reaches is left out, which changes all the time."""
    rows = tx.all(
        """
        SELECT folder, copy_id, sealed_to, erased_seq FROM copy_place
        WHERE begun = 1 AND copy_id IS NOT NULL ORDER BY copy_id
        """
    )
    return json.dumps([dict(row) for row in rows], ensure_ascii=False).encode()


def photos_after(tx: Reading, arrival: int) -> Iterator[Photo]:
    """Every photo that arrived since, in order, one by one: a house has millions."""
    return _photos(tx, "arrival > :after", after=arrival)


def photos_named(tx: Reading, digests: Iterable[str]) -> list[Photo]:
    """The photos with these digests that the office has, in the order in which they came."""
    return list(_photos(tx, f"sha256 IN {any_of('digests')}", digests=json.dumps(list(digests))))


def _photos(tx: Reading, which: str, **values: Any) -> Iterator[Photo]:
    rows = tx.each(
        f"""
        SELECT arrival, sha256, bytes, media_type, width, height, received_at
        FROM photo_file WHERE {which} ORDER BY arrival
        """,
        **values,
    )
    return map(photo_of, rows)


def photo_of(row: sqlite3.Row) -> Photo:
    return Photo(row["arrival"], {name: row[name] for name in PHOTO_COLUMNS})
