"""Building every derived table anew from the log, and checking that it comes out equal.

Only applying is done again: what was refused once stays refused, and no check of today holds up what was kept then.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

from intake.cataloguing.search import ALL_WORDS
from intake.database import Database, Reading, Writing
from intake.edits import Edit
from intake.examination.photos import photos_missing
from intake.operation import Operation
from intake.photos.store import photo_file, set_aside
from intake.records import Records, Source
from intake.sync.gaps import check_no_gaps
from intake.sync.kinds import from_log
from intake.sync.log import HEARD_EVERY, Progress, canonical, chain_faults, nobody_hears, whole_operation
from intake.sync.lost_words import keep_lost_words
from intake.sync.operations import apply, contest, source_of
from intake.sync.verified import Verified

#: Raise it with every change to what `apply` makes of an operation, or to what a derived table says: an office whose
#: tables were made by another version, older or newer, makes them anew when it starts.
APPLY_VERSION = 18

DERIVED = {
    "record": """
        SELECT record_id, kind, day_id, office_seq, opened_seq, head, body, fields_end FROM record ORDER BY record_id
        """,
    "record_part": "SELECT * FROM record_part ORDER BY record_id, readers",
    "field": "SELECT * FROM field ORDER BY record_id, name",
    "disagreement": "SELECT * FROM disagreement ORDER BY disagreement_id",
    "tag": "SELECT * FROM tag ORDER BY tag",
    "roll": "SELECT * FROM roll ORDER BY roll_id",
    "spoiled_tag": "SELECT * FROM spoiled_tag ORDER BY tag",
    "erasure": "SELECT * FROM erasure ORDER BY record_id, office_seq",
    "photo_of": "SELECT * FROM photo_of ORDER BY sha256, record_id",
    "custody_move": "SELECT * FROM custody_move ORDER BY office_seq",
    "entry": "SELECT * FROM entry ORDER BY entry_seq",
    "entry_words": ALL_WORDS,
    "visit_word": "SELECT * FROM visit_word ORDER BY word, visit_id",
}

IN_HAND_LIMIT = 2000  # operations whose records are held in memory at once


def rebuild(tx: Writing, progress: Progress = nobody_hears) -> int:
    """Empty the derived tables and apply every operation that left something again, in the office's order.

    How many were applied. `progress` hears from time to time how many rows of the log are done, of how many.
    Words that the log has lost are taken out of the tables before those go.
    """
    keep_lost_words(tx)
    before = {record_id: (feed_seq, digest) for record_id, feed_seq, digest in feed_places(tx)}
    newest = tx.value("SELECT max(office_seq) FROM operation_log") or 0
    for table in DERIVED:
        tx.run(f"DELETE FROM {table}")  # table names are ours, from the list above
    last_place = max([newest, *(place for place, _ in before.values())])
    records, count = Records(tx, feed_after=last_place), 0
    for row in tx.each(
        """
        SELECT office_seq, operation, answer, received_at, words FROM operation_log
        LEFT JOIN private_words USING (operation_id) ORDER BY office_seq
        """
    ):
        count += apply_again(records, row)
        if row["office_seq"] % IN_HAND_LIMIT == 0:
            records.write()
            records.forget()
            progress(row["office_seq"], newest)
    records.write()
    keep_feed_places(tx, before)
    tx.run("UPDATE office SET apply_version = :version", version=APPLY_VERSION)
    progress(newest, newest)
    return count


def apply_again(records: Records, row: sqlite3.Row) -> bool:
    """Do once more what was done when an operation was answered as this row of the log says. False if it had left
    nothing.

    Of words that are gone the same is asked as then: whether they had been erased before they came, or were since.
    """
    answered = json.loads(row["answer"])
    if answered["outcome"] != "kept" and not answered["disagreement"]:
        return False
    operation = from_log(whole_operation(row["operation"], row["words"]))
    if operation is None:
        return False
    operation = operation.as_ruled(answered.get("ruled", {}))
    apart = row["words"] is None and '"private_sha256":' in row["operation"]
    words_gone = apart and operation.words_erased(records, row["received_at"])
    source = source_of(operation, row["office_seq"], words_gone=words_gone)
    lost = apart and not words_gone and not answered["disagreement"]
    if lost and say_what_stands(records, operation, source):
        return True
    again = apply if answered["outcome"] == "kept" else contest
    again(records, operation, source)
    return True


def say_what_stands(records: Records, operation: Operation, source: Source) -> bool:
    """Whether an edit whose words are gone, and that nobody disagreed with, had not seen the value in force: then both
    said the same, which its words would show, and it agrees."""
    if not isinstance(operation, Edit) or (record := records.find(operation.touches)) is None:
        return False
    name, _ = operation.edited
    current = record.fields.get(name)
    if current is None or current.was_seen(operation.seen):
        return False
    record.agree(name, source)
    records.touch(operation.touches, source.office_seq)
    return True


def feed_places(tx: Reading) -> Iterator[tuple[str, int, bytes]]:
    """Where each record stands in the feed, and a digest of what devices read there, record by record."""
    record_id, feed_seq, content = "", 0, hashlib.blake2b(digest_size=16)
    for row in tx.each(
        """
        SELECT record.record_id, feed_seq, body, readers, record_part.fields, record_part.disagreements
        FROM record LEFT JOIN record_part USING (record_id) ORDER BY record.record_id, readers
        """
    ):
        if row["record_id"] != record_id:
            if record_id:
                yield record_id, feed_seq, content.digest()
            record_id, feed_seq = row["record_id"], row["feed_seq"]
            content = hashlib.blake2b(row["body"].encode(), digest_size=16)
        if row["readers"] is not None:
            content.update(repr((row["readers"], row["fields"], row["disagreements"])).encode())
    if record_id:
        yield record_id, feed_seq, content.digest()


def keep_feed_places(tx: Writing, before: dict[str, tuple[int, bytes]]) -> None:
    """Put the records that came out as they were back to their places in the feed.

    The others stay behind the last place that any device has read, so that every device reads them anew.
    """
    same = [
        (before[record_id][0], record_id)
        for record_id, _, digest in feed_places(tx)
        if record_id in before and before[record_id][1] == digest
    ]
    tx.run_many("UPDATE record SET feed_seq = ? WHERE record_id = ?", same)


def rebuild_if_outdated(tx: Writing, progress: Progress = nobody_hears) -> bool:
    """Rebuild if the tables were made by another version, an older or a newer one. Whether it was so.

    Raises LogHasGaps.
    """
    if not is_outdated(tx):
        return False
    check_no_gaps(tx)
    rebuild(tx, progress)
    return True


def is_outdated(tx: Reading) -> bool:
    return bool(tx.value("SELECT apply_version FROM office") != APPLY_VERSION)


def digests(tx: Reading) -> dict[str, str]:
    """A digest of every derived table's rows in a fixed order."""
    found = {}
    for table, sql in DERIVED.items():
        digest = hashlib.sha256()
        for row in tx.each(sql):
            digest.update(repr(tuple(row)).encode())
        found[table] = digest.hexdigest()
    return found


def table_faults(tx: Writing, *, log_holds: bool, progress: Progress = nobody_hears) -> Iterator[str]:
    """Rebuild, and a sentence for each table that comes out otherwise. Only ever on a copy.

    Where the log itself does not hold, the tables may be all that is left of what it lost: a rebuild is never advised.
    """
    advice = (
        "`intake rebuild` puts it right"
        if log_holds
        else "do not rebuild: the table may have what the log has lost"
    )
    before = digests(tx)
    rebuild(tx, progress)
    after = digests(tx)
    for table in DERIVED:
        if before[table] != after[table]:
            yield f"The table {table} differs from what the log says; {advice}."


ELSEWHERE = "A phone that still holds it sends it when it asks; from a copy: `intake bring-in COPY`."


def photo_faults(
    tx: Reading, folder: Path, *, aside_too: bool = False, since: str = "", progress: Progress = nobody_hears
) -> Iterator[str]:
    """Read the photos that came since then against row and name; a sentence for each that is missing or changed."""
    of = tx.value("SELECT count(*) FROM photo_file WHERE received_at >= :since", since=since)
    rows = tx.each(
        "SELECT sha256, bytes FROM photo_file WHERE received_at >= :since ORDER BY received_at, sha256",
        since=since,
    )
    for done, row in enumerate(rows):
        if done % HEARD_EVERY == 0:
            progress(done, of)
        name, file = f"The photo {row['sha256'][:12]}…", photo_file(folder, row["sha256"])
        try:
            with file.open("rb") as stream:
                digest = hashlib.file_digest(stream, "sha256").hexdigest()
                size = stream.tell()
        except FileNotFoundError:
            yield f"{name} is not in the photo folder. {ELSEWHERE}"
        except OSError as error:
            yield f"{name} cannot be read ({error.strerror or error}). {ELSEWHERE}"
        else:
            if digest != row["sha256"]:
                aside = set_aside(file) if aside_too else None
                where = (
                    f" It was set aside as {aside.name[:12]}….damaged, and is asked for again."
                    if aside
                    else ""
                )
                yield f"{name} was changed on the disk.{where} {ELSEWHERE}"
            elif size != row["bytes"]:
                yield f"{name} has {size} bytes, and its row says {row['bytes']}: the row was changed."


def photos_without_row(tx: Reading, folder: Path) -> Iterator[str]:
    """A sentence for each photo that lies in its folder, that a record names, and that no row has."""
    for sha256 in sorted(photos_missing(tx)):
        if photo_file(folder, sha256).is_file():
            yield f"The photo {sha256[:12]}… lies in the photo folder, and its row is gone. {ELSEWHERE}"


def plan_faults(tx: Reading) -> Iterator[str]:
    """A sentence for each version of a plan that is not the one it was kept as."""
    for row in tx.all("SELECT class_id, version, body FROM plan_version ORDER BY class_id, version"):
        try:
            plan = json.loads(row["body"])
            said = plan.pop("version"), hashlib.sha256(canonical(plan).encode()).hexdigest()[:12]
        except (ValueError, AttributeError, KeyError):
            said = None
        if said != (row["version"], row["version"]):
            yield f"The plan {row['class_id']} in its version {row['version']} was changed: take it from a copy."


#: Hears of what is looked at, such as photos, how many are done, of how many.
Heard = Callable[[str, int, int], None]


def nobody_hears_of(what: str, done: int, of: int) -> None:
    """What is looked at, and nobody asked."""


def all_faults(tx: Writing, photos_folder: Path, *, aside_too: bool, heard: Heard) -> list[str]:
    of_the_log = list(chain_faults(tx, progress=partial(heard, "operations in the log")))
    return [
        *of_the_log,
        *photo_faults(tx, photos_folder, aside_too=aside_too, progress=partial(heard, "photos")),
        *photos_without_row(tx, photos_folder),
        *plan_faults(tx),
        *table_faults(tx, log_holds=not of_the_log, progress=partial(heard, "operations in the tables")),
    ]


async def find_faults(
    database: Database, photos_folder: Path, *, aside_too: bool = False, heard: Heard = nobody_hears_of
) -> list[str]:
    """A sentence for everything that does not hold: chain, columns and words of the log, photos, plans, derived tables.

    All of it is looked at on a copy of one moment: an office that serves is neither waited for nor kept waiting.
    `aside_too`: photos that were changed are set aside, so that the office no longer says it has them.
    """
    return await database.read(
        lambda tx: tx.on_a_copy(
            lambda copy: all_faults(copy, photos_folder, aside_too=aside_too, heard=heard)
        )
    )


async def find_new_faults(
    database: Database, photos_folder: Path, verified: Verified, *, heard: Heard = nobody_hears_of
) -> list[str]:
    """A sentence for everything that does not hold of what came since all was well: the log behind that operation,
    its words, and photos. A changed photo is set aside. Tables, earlier photos and copies are not looked at."""

    def job(tx: Reading) -> list[str]:
        since = verified.photo_received_at
        return [
            *chain_faults(
                tx,
                after=verified.office_seq,
                chain=verified.chain,
                progress=partial(heard, "operations in the log"),
            ),
            *photo_faults(tx, photos_folder, aside_too=True, since=since, progress=partial(heard, "photos")),
        ]

    return await database.read(job)
