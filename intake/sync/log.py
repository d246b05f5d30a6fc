"""The log of operations: append-only, in the office's order, chained by SHA-256. All else follows from it."""

from __future__ import annotations

import hashlib
import json
import re
import sqlite3
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from typing import Any

import rfc8785
from pydantic_core import from_json, to_json

from intake.database import Reading, Writing, any_of
from intake.operation import KINDS, UUID_PATTERN, Operation
from intake.sync.personal import kind_without_words, put_back, take_apart, without_words

CHAIN_START = "0" * 64
SAFE_INTEGER = 2**53 - 1
UNTOLD = 0  # the device_seq of an operation whose place in its device's order nobody can tell
NO_PLACE = -1  # of one that another device made, and so has no place in the order of the one that sent it


OUTDATED = 0  # the office's apply_version while its tables have to be made anew


PLAIN = frozenset({str, bool, type(None)})  # what has one way to be written, whatever it says


class NotPlain(Exception):
    """A value holds something that has more than one way to be written."""


def canonical(value: Any) -> str:
    """RFC 8785 canonical JSON.

    Operations hold almost nothing but texts, safe whole numbers, truths and nulls under ASCII names. Of those the
    very same text comes from an ordinary writer once the names are in order, ten times faster; a test holds the
    two together. Everything else goes to the library made for it.
    """
    try:
        return to_json(in_order(value)).decode()
    except NotPlain:
        return rfc8785.dumps(value).decode()


def in_order(value: Any) -> Any:
    """The value with the names of every object in order. Raises NotPlain."""
    kind = type(value)
    if kind in PLAIN:
        return value
    if kind is int and -SAFE_INTEGER <= value <= SAFE_INTEGER:
        return value
    if kind is list:
        return [in_order(member) for member in value]
    if kind is dict and "".join(value).isascii():
        return {
            name: member if type(member) in PLAIN else in_order(member)
            for name, member in sorted(value.items())
        }
    raise NotPlain


@dataclass(frozen=True)
class Logged:
    """An operation as the log keeps it. `words` is the canonical JSON of the personal words taken out of it, if any;
    `whole` the operation as it will read from both. `gone`: its words were erased on its device before it came."""

    text: str
    words: str | None
    whole: dict[str, Any]
    gone: bool = False


#: Of words: that they were lost and what stood of them in the tables was kept in their place (`sync/lost_words.py`).
#: No device sends an empty salt, so that they say it themselves, in copies as well.
FROM_TABLES = "words ->> 'salt' = ''"


def are_from_tables(words: str) -> bool:
    """The same of one text: whether it is what the tables still had, which no digest in the log proves."""
    try:
        return bool(json.loads(words)["salt"] == "")
    except (ValueError, KeyError, TypeError):
        return False


def as_logged(kind: type[Operation], sent: dict[str, Any], personal: tuple[str, ...] | None = None) -> Logged:
    """What the log keeps of an operation as it was sent; `personal` are its personal members, if not those of today.

    The log keeps the SHA-256 of the personal words' canonical JSON. The device's salt is among them, so that nobody
    can find a telephone number by trying them all once the words are erased.
    """
    words, kept = None, sent
    apart: dict[str, Any] = {}
    gone = kind_without_words(sent) is not None
    personal = kind.personal_in(sent) if personal is None else personal
    if personal and not gone:
        kept, apart = take_apart(sent, personal)
        words = canonical(apart)
        kept["private_sha256"] = hashlib.sha256(words.encode()).hexdigest()
    try:
        whole = in_order(kept)
        text = to_json(whole).decode()
    except (
        NotPlain
    ):  # a number with a point may be written in several ways, and is taken as the log writes it
        text = rfc8785.dumps(kept).decode()
        whole = json.loads(text)
    if gone:
        return Logged(text, None, whole_operation(text, None), gone=True)
    return Logged(text, words, put_back(whole, apart))


def as_logged_before(kind: type[Operation], sent: dict[str, Any], text: str) -> Logged | None:
    """What the log keeps of an operation that a version of before logged as this text; None if none did."""
    forms = (as_logged(kind, sent, personal) for personal in kind.personal_before)
    return next((logged for logged in forms if logged.text == text), None)


def whole_operation(text: str, words: str | None) -> dict[str, Any]:
    """An operation read from the log, with its personal words put back; erased ones are empty."""
    return with_its_words(from_json(text), words)


def with_its_words(logged: dict[str, Any], words: str | None) -> dict[str, Any]:
    """The same of what the log's text says."""
    if "private_sha256" not in logged:
        return logged
    operation = {name: value for name, value in logged.items() if name != "private_sha256"}
    if words is not None:
        return put_back(operation, from_json(words))
    kind = KINDS.get(operation["kind"])
    return without_words(kind, operation) if kind else operation


def link(previous: str, office_seq: int, operation: str, answer: str, received_at: str) -> str:
    """The chain's value after one row: SHA-256 over the previous value and the row's canonical JSON."""
    row = f'{{"answer":{answer},"office_seq":{office_seq},"operation":{operation},"received_at":"{received_at}"}}'
    return hashlib.sha256(bytes.fromhex(previous) + row.encode()).hexdigest()


@dataclass(frozen=True)
class Answered:
    """An operation that came before, as the log has it, and the answer it got."""

    operation: str
    answer: dict[str, Any]


def find_answered(tx: Reading, operation_ids: list[str]) -> dict[str, Answered]:
    """Those of these operations which came before, refused ones too."""
    rows = tx.all(
        f"""
        SELECT operation_id, operation, answer FROM operation_log
        WHERE operation_id IN {any_of("operation_ids")}
        """,
        operation_ids=json.dumps(operation_ids),
    )
    return {row["operation_id"]: Answered(row["operation"], json.loads(row["answer"])) for row in rows}


def find_kept(tx: Reading, operation_id: str) -> Operation | None:
    """An operation that was kept, as it was applied; None if it was not, or its words are gone."""
    row = tx.one(
        """
        SELECT operation, answer, words FROM operation_log LEFT JOIN private_words USING (operation_id)
        WHERE operation_id = :operation_id
        """,
        operation_id=operation_id,
    )
    if row is None:
        return None
    logged, answer = from_json(row["operation"]), from_json(row["answer"])
    kind = KINDS.get(logged.get("kind"))
    gone = row["words"] is None and "private_sha256" in logged
    if kind is None or gone or not (answer["outcome"] == "kept" or answer["disagreement"]):
        return None
    return kind.from_log(with_its_words(logged, row["words"])).as_ruled(answer.get("ruled", {}))


@dataclass(frozen=True)
class SetAside:
    """An operation that cannot stand in the log as it came: nobody could read it, its id is another's, or the office
    made a mistake with it. The log has its digest, under a key of its own; what was sent is kept beside the log.

    So its id stays free: an office that can read it one day takes it in as new when it is sent again, from its device
    or out of a copy. A rebuild does not: its device was told no, and may have sent it under another id since.
    """

    key: str
    text: str  # what stands in the log
    content: str  # what was sent, as JSON in ASCII

    @classmethod
    def of(cls, sent: Any, device_id: str) -> SetAside:
        """The same from two devices is set aside twice: each has an order of its own, in which it has its place."""
        content = whole_json(sent)
        digest = hashlib.sha256(content.encode()).hexdigest()
        return cls(aside_key(device_id, digest), canonical({"content_sha256": digest}), content)


def aside_key(device_id: str, digest: str) -> str:
    """The log's key of what a device sent and was set aside, from the digest that the log has of it."""
    return f"aside-{hashlib.sha256(f'{device_id} {digest}'.encode()).hexdigest()}"


def whole_json(sent: Any) -> str:
    """JSON in ASCII, the names in order. What is nested too deep for any writer is `{"unread": its JSON}`."""
    try:
        return json.dumps(sent, sort_keys=True)
    except RecursionError:
        return json.dumps({"unread": deep_json(sent)})


def deep_json(value: Any) -> str:
    """JSON however deep it is nested: what is still to be written stands in a list, not on the stack."""
    written: list[str] = []
    left: list[tuple[str, Any]] = [("", value)]  # a text, and the value behind it; ... if it ends there
    while left:
        text, one = left.pop()
        written.append(text)
        if isinstance(one, dict | list):
            by_name = (
                [(f"{json.dumps(name)}:", one[name]) for name in sorted(one)] if isinstance(one, dict) else []
            )
            inner = by_name or [("", member) for member in one]
            written.append("{" if isinstance(one, dict) else "[")
            left.append(("}" if isinstance(one, dict) else "]", ...))
            left += [(f"{',' * bool(at)}{name}", member) for at, (name, member) in enumerate(inner)][::-1]
        elif one is not ...:
            written.append(json.dumps(one))
    return "".join(written)


class LogTail:
    """The log's end while a batch is answered: rows are linked at once, and written together."""

    def __init__(self, tx: Writing, received_at: str) -> None:
        self._tx, self._received_at = tx, received_at
        end = tx.one(
            """
            SELECT office_seq, chain, (SELECT max(feed_seq) FROM record) AS feed_seq
            FROM operation_log ORDER BY office_seq DESC LIMIT 1
            """
        )
        self.feed_seq: int = end["feed_seq"] or 0 if end else 0  # the feed's end, asked in the same statement
        self.office_seq: int = end["office_seq"] if end else 0
        self._chain: str = end["chain"] if end else CHAIN_START
        self._rows: list[tuple[int | str, ...]] = []
        self._words: list[tuple[str, str]] = []
        self._aside: list[tuple[str, str]] = []
        self._erased: list[tuple[str]] = []

    def append(
        self, operation: Operation, logged: Logged, answer: dict[str, Any], *, erased: bool = False
    ) -> None:
        """Add an operation as it was sent, and its answer; personal words go to a place of their own.

        `erased`: they had been erased before they came, and are written nowhere.
        """
        device = operation.device_id, operation.device_seq
        self._append(operation.operation_id, *device, operation.touches, logged.text, answer)
        if logged.words is not None or logged.gone:
            gone = erased or logged.gone
            self._keep(self._words, operation.operation_id, logged.words or "", erased=gone)

    def append_aside(
        self, aside: SetAside, device_id: str, device_seq: int, answer: dict[str, Any], *, erased: bool
    ) -> None:
        """Add one that cannot stand in the log as it came. `device_seq` as `seq_of` tells, `erased` as above."""
        self._append(aside.key, device_id, device_seq, "", aside.text, answer)
        self._keep(self._aside, aside.key, aside.content, erased=erased)

    def fill_in(self, key: str, words: str, *, aside: bool = False) -> bool:
        """Put back what stood beside a row of the log and was lost, not erased. Its digest in the log is the caller's
        to compare. Whether it was missing: then what follows from the words is made anew before long."""
        self.write()
        table, column = ("set_aside", "content") if aside else ("private_words", "words")
        unproven = f"private_words.{FROM_TABLES}" if not aside else "1 = 0"
        filled = self._tx.run(
            f"""
            INSERT INTO {table} (operation_id, {column}) SELECT :key, :words
            WHERE NOT EXISTS (SELECT 1 FROM erased_words WHERE operation_id = :key)
            ON CONFLICT (operation_id) DO UPDATE SET {column} = excluded.{column} WHERE {unproven}
            """,
            key=key,
            words=words,
        )
        if filled and not aside:
            self._tx.run("UPDATE office SET apply_version = :outdated", outdated=OUTDATED)
        return filled > 0

    def _keep(self, beside: list[tuple[str, str]], key: str, words: str, *, erased: bool) -> None:
        if erased:
            self._erased.append((key,))
        else:
            beside.append((key, words))

    def _append(
        self,
        operation_id: str,
        device_id: str,
        device_seq: int,
        record_id: str,
        text: str,
        answer: dict[str, Any],
    ) -> None:
        answer_text = canonical(answer)
        self.office_seq += 1
        self._chain = link(self._chain, self.office_seq, text, answer_text, self._received_at)
        row = (self.office_seq, operation_id, device_id, device_seq, record_id, text, answer_text)
        self._rows.append((*row, self._received_at, self._chain))

    def write(self) -> None:
        """Write what was added since the last time."""
        self._tx.run_many(
            """
            INSERT INTO operation_log
                (office_seq, operation_id, device_id, device_seq, record_id, operation, answer, received_at, chain)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
            """,
            self._rows,
        )
        self._tx.run_many("INSERT INTO private_words (operation_id, words) VALUES (?, ?)", self._words)
        self._tx.run_many("INSERT INTO set_aside (operation_id, content) VALUES (?, ?)", self._aside)
        self._tx.run_many(NOTE_ERASED, self._erased)
        self._rows, self._words, self._aside, self._erased = [], [], [], []

    def find(self, operation_id: str) -> Operation | None:
        """An operation that was kept, in this batch or before."""
        self.write()
        return find_kept(self._tx, operation_id)

    def has(self, operation_id: str) -> bool:
        """Whether an operation was answered, in this batch or before."""
        self.write()
        found = self._tx.value(
            "SELECT 1 FROM operation_log WHERE operation_id = :operation_id", operation_id=operation_id
        )
        return found is not None


def newest_seq(tx: Reading) -> int:
    """The place of the newest operation; 0 if there is none."""
    return int(tx.value("SELECT max(office_seq) FROM operation_log") or 0)


def is_linked(previous: str, row: Any) -> bool:
    """Whether a row's chain value follows from the one before. One that a chain cannot be counted from does not."""
    try:
        return bool(
            link(previous, row["office_seq"], row["operation"], row["answer"], row["received_at"])
            == row["chain"]
        )
    except ValueError:
        return False


def read_logged(text: str) -> dict[str, Any]:
    """What the text of a row of the log says; nothing if that was changed and cannot be read."""
    try:
        operation = from_json(text)
    except (ValueError, TypeError):
        return {}
    return operation if isinstance(operation, dict) else {}


def columns_fit(row: Any) -> bool:
    """Whether a row's columns say what its operation says, in the log or in a copy."""
    return says_columns(read_logged(row["operation"]), row)


def says_columns(operation: dict[str, Any], row: Any) -> bool:
    """Whether an operation says what stands beside it: the chain covers its text, and only through it the columns.

    Of what was set aside the text is a digest; the key follows from it and the device.
    """
    try:
        if "content_sha256" in operation:
            digest = operation["content_sha256"]
            keys = (aside_key(row["device_id"], digest), f"aside-{digest}")  # the latter in logs of before
            return row["operation_id"] in keys and row["record_id"] == ""
        kind = KINDS.get(operation["kind"])
        of_record = kind is None or operation[kind.record_member] == row["record_id"]
        said = operation["operation_id"], operation["device_id"], operation["device_seq"]
        return bool(of_record and said == (row["operation_id"], row["device_id"], row["device_seq"]))
    except (KeyError, TypeError):
        return False


#: Hears from time to time how many are done, of how many.
Progress = Callable[[int, int], None]
HEARD_EVERY = 2000  # rows


def nobody_hears(done: int, of: int) -> None:
    """Progress that nobody asked for."""


#: Is given each row of the log, what its text says, and whether it follows from the row before.
Visit = Callable[[sqlite3.Row, dict[str, Any], bool], None]


def nobody_visits(row: sqlite3.Row, operation: dict[str, Any], linked: bool) -> None:
    """A row that nobody asked for."""


def chain_faults(
    tx: Reading,
    lacking: Collection[str],
    *,
    after: int = 0,
    chain: str = CHAIN_START,
    visit: Visit = nobody_visits,
    progress: Progress = nobody_hears,
) -> Iterator[str]:
    """Walk the chain; a sentence for each row that does not hold, and for each change or loss of words beside it.

    `lacking`: the operations whose words are gone, as `words_lacking` tells. `after`: an operation at which the log
    had the value `chain`, and behind which the walk begins. The rows are read once for whoever else wants to see them.
    """
    newest = newest_seq(tx)
    previous, expected = chain, after + 1
    for row in rows_behind(tx, after):
        seq = row["office_seq"]
        if seq % HEARD_EVERY == 0:
            progress(seq, newest)
        if seq != expected:
            yield f"Operation {expected} is missing from the log."
        operation, linked = read_logged(row["operation"]), is_linked(previous, row)
        if not linked:
            yield f"Operation {seq} was changed after it was logged."
        if not says_columns(operation, row):
            yield (
                f"What stands beside operation {seq} (its id, device, place or record) is not what its own text says: "
                "restore a copy."
            )
        if row["operation_id"] in lacking:
            kept = f" {FROM_TABLES_KEPT}" if row["words"] is not None else ""
            yield f"The personal words of operation {seq} are missing, and nobody erased them.{kept} {BRING_BACK}"
        elif row["words"] is not None or row["content"] is not None:
            yield from word_faults(row, operation)
        visit(row, operation, linked)
        previous, expected = row["chain"], seq + 1


def rows_behind(tx: Reading, after: int) -> Iterator[sqlite3.Row]:
    """The rows of the log with what stands beside them, a page at a time: whoever is given one may take back a step of
    his own, with which the engine ends every question that is still open."""
    while rows := tx.all(
        """
        SELECT operation_log.*, private_words.words, set_aside.content FROM operation_log
        LEFT JOIN private_words USING (operation_id) LEFT JOIN set_aside USING (operation_id)
        WHERE office_seq > :after ORDER BY office_seq LIMIT :limit
        """,
        after=after,
        limit=HEARD_EVERY,
    ):
        yield from rows
        after = rows[-1]["office_seq"]


def word_faults(row: sqlite3.Row, operation: dict[str, Any]) -> Iterator[str]:
    """A sentence if what stands beside a row of the log is not what its digest was made of."""
    for column, digest_name, words in (
        ("words", "private_sha256", "The personal words of operation"),
        ("content", "content_sha256", "The set-aside words of operation"),
    ):
        beside = row[column]
        if beside is not None and operation.get(digest_name) != hashlib.sha256(beside.encode()).hexdigest():
            yield f"{words} {row['office_seq']} were changed after they were logged."


FROM_TABLES_KEPT = "What stood of them in the tables is kept in their place; nothing proves it."
BRING_BACK = "Take them from a copy (`intake bring-in COPY`), or let phones send again what they hold."


def words_lacking(tx: Reading, device_id: str | None = None, *, after: int = 0) -> dict[str, int]:
    """The operations, of one device or of all, whose words beside the log are gone without having been erased; also
    those in whose place stands what the tables had. Of those behind one in the log.

    By the log's key, each with its place in its device's order.
    """
    rows = tx.all(
        f"""
        SELECT operation_id, device_seq FROM operation_log
        LEFT JOIN private_words USING (operation_id) LEFT JOIN set_aside USING (operation_id)
        WHERE {"device_id = :device_id AND" if device_id else ""} office_seq > :after AND content IS NULL
            AND (words IS NULL OR {FROM_TABLES})
            AND (operation LIKE '%"private_sha256":%' OR operation LIKE '{{"content_sha256":%')
            AND NOT EXISTS (SELECT 1 FROM erased_words AS one WHERE one.operation_id = operation_log.operation_id)
            AND NOT EXISTS (
                SELECT 1 FROM erasure LEFT JOIN record ON record.record_id = operation_log.record_id
                WHERE erasure.record_id IN (operation_log.record_id, record.head ->> 'visit_id')
            )
        """,
        device_id=device_id,
        after=after,
    )
    return {row["operation_id"]: row["device_seq"] for row in rows}


NOTE_FROM_TABLES = "INSERT INTO private_words (operation_id, words) VALUES (?, ?)"
NOTE_ERASED = "INSERT INTO erased_words (operation_id) VALUES (?) ON CONFLICT DO NOTHING"
RECORD_ID = re.compile(UUID_PATTERN.strip("^$"))


def erase_words(tx: Writing, record_id: str) -> int:
    """Erase the personal words of a visit and of its items for good; the log and its chain stay. Of how many
    operations.

    Words of what belongs to no visit, such as a note on the day, may be about any owner of the day and go with each of
    them; those of no record at all, since it was refused, may be anybody's and go with any erasure. All are noted, so
    that copies which have them still can be told.
    """
    tx.leave_no_trace()
    tx.run("UPDATE office SET untidy = untidy + 1")
    words = tx.all(
        """
        SELECT operation_id FROM private_words JOIN operation_log USING (operation_id)
            LEFT JOIN record USING (record_id)
        WHERE operation_log.record_id = :record_id OR head ->> 'visit_id' = :record_id OR head IS NULL
            OR (record.kind IN ('day', 'container')
                AND record.day_id = (SELECT day_id FROM record WHERE record_id = :record_id))
        ORDER BY operation_log.office_seq
        """,
        record_id=record_id,
    )
    aside = [
        row for row in tx.each("SELECT operation_id, content FROM set_aside") if may_be_of(tx, row, record_id)
    ]
    gone = [(row["operation_id"],) for row in [*words, *aside]]
    tx.run_many(NOTE_ERASED, gone)
    tx.run_many("DELETE FROM private_words WHERE operation_id = ?", gone)
    tx.run_many("DELETE FROM set_aside WHERE operation_id = ?", gone)
    return len(gone)


def may_be_of(tx: Reading, aside: sqlite3.Row, record_id: str) -> bool:
    """Whether what was set aside may hold words of a record: it names it, or no record that is known at all."""
    named = set(RECORD_ID.findall(aside["content"].lower()))
    return record_id in named or not any(is_record(tx, one) for one in named)


def is_record(tx: Reading, record_id: str) -> bool:
    return tx.value("SELECT 1 FROM record WHERE record_id = :record_id", record_id=record_id) is not None


def names_erased(tx: Reading, content: str) -> bool:
    """Whether what is set aside names a record whose words were erased."""
    return any(
        tx.value("SELECT 1 FROM erasure WHERE record_id = :record_id", record_id=one)
        for one in set(RECORD_ID.findall(content.lower()))
    )
