"""What does not hold in an office: its chain, words, photos, plans and tables, each fault as a sentence."""

from __future__ import annotations

import hashlib
import json
import re
import sqlite3
from collections.abc import Callable, Iterator
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Any

from intake.database import Database, Reading, Scratch, names_in_new_file
from intake.derived_tables import DERIVED
from intake.examination.photos import photos_missing
from intake.photos.store import photo_file, set_aside
from intake.reading import went_with_owner
from intake.records.in_hand import Records
from intake.settings import utc_now
from intake.sync.canonical import canonical
from intake.sync.chain import HEARD_EVERY, Progress, chain_faults, nobody_hears
from intake.sync.gaps import cut_off
from intake.sync.log import find_kept
from intake.sync.lost_words import lost_words
from intake.sync.rebuild import IN_HAND_LIMIT, LoggedRow, apply_part
from intake.sync.rows_gone import own_row_faults
from intake.sync.verified import Verified
from intake.sync.words_beside import words_lacking

#: Hears of what is looked at, such as photos, how many are done, of how many.
Heard = Callable[[str, int, int], None]


def nobody_hears_of(what: str, done: int, of: int) -> None:
    """What is looked at, and nobody asked."""


DIGEST = re.compile(r"[0-9a-f]{64}")


class Applying:
    """The log is applied to empty tables beside it, part by part as it is walked; the office's own are held against
    them in the end.

    `lost_words`: what stands for words that are missing beside the log, by the operation's id. `left_out`: a sentence
    for each operation that could not be applied.
    """

    def __init__(self, tx: Scratch, lost_words: dict[str, str]) -> None:
        self._tx, self._lost_words = tx, lost_words
        self._records = Records(tx, feed_after=0, logged=partial(find_kept, tx))
        self._part: list[LoggedRow] = []
        self.left_out: list[str] = []

    def visit(self, row: sqlite3.Row, operation: dict[str, Any], linked: bool) -> None:
        """The next row. One that was changed after it was logged may say anything: it is applied as far as it goes."""
        words = row["words"] if row["words"] is not None else self._lost_words.get(row["operation_id"])
        logged = LoggedRow(row["office_seq"], operation, row["answer"], row["received_at"], words)
        if not linked:
            self.end_part()
            apply_part(self._records, [logged], [])
            return
        self._part.append(logged)
        if len(self._part) == IN_HAND_LIMIT:
            self.end_part()

    def end_part(self) -> None:
        if self._part:
            apply_part(self._records, self._part, self.left_out)
            self._part = []

    def table_faults(self, *, log_holds: bool) -> Iterator[str]:
        """A sentence for each operation that was left out, and for each table that came out otherwise.

        Where the log itself does not hold, the tables may be all that is left of what it lost: a rebuild is never
        advised.
        """
        advice = (
            "`intake rebuild` puts it right"
            if log_holds
            else "do not rebuild: the table may have what the log has lost"
        )
        yield from self.left_out
        for table, rows in DERIVED.items():
            if not self._tx.is_equal(table, rows):
                yield f"The table {table} differs from what the log says; {advice}."


def is_of_a_table(fault: str) -> bool:
    """Whether a sentence says that a table is not what the log says."""
    return fault.startswith("The table ")


def cut_faults(tx: Reading) -> Iterator[str]:
    """A sentence if a record was touched by an operation behind the log's end."""
    if cut := cut_off(tx):
        newest, touched = cut
        yield (
            f"The log ends with operation {newest}, and a record has operation {touched}: its end was cut off. "
            "Restore a copy into a new folder."
        )


def log_and_table_faults(tx: Scratch, heard: Heard, *, log_is_whole: bool) -> list[str]:
    """The log is walked once: each row is looked at, and applied to empty tables."""
    of_the_log = [*cut_faults(tx)]  # by the office's own tables, as are the next two
    lacking, standing = words_lacking(tx), dict(lost_words(tx))
    tx.begin_anew(DERIVED)
    applying = Applying(tx, standing)
    of_the_log += chain_faults(tx, lacking, visit=applying.visit, progress=partial(heard, "operations"))
    applying.end_part()
    return [*of_the_log, *applying.table_faults(log_holds=log_is_whole and not of_the_log)]


ELSEWHERE = "A phone that still holds it sends it when it asks; from a copy: `intake bring-in COPY`."


def photo_faults(
    tx: Reading, folder: Path, *, aside_too: bool = False, after: int = 0, progress: Progress = nobody_hears
) -> Iterator[str]:
    """Read the photos that came after that one against row and name; a sentence for each that is missing or changed."""
    of = tx.value("SELECT count(*) FROM photo_file WHERE arrival > :after", after=after)
    for done, row in enumerate(photo_rows(tx, after)):
        if done % HEARD_EVERY == 0:
            progress(done, of)
        name, file = f"The photo {row['sha256'][:12]}…", photo_file(folder, row["sha256"])
        try:
            with file.open("rb") as stream:
                digest = hashlib.file_digest(stream, "sha256").hexdigest()
                size = stream.tell()
        except FileNotFoundError:
            if went_with_owner(tx, row["sha256"]):
                continue
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


def photo_rows(tx: Reading, after: int) -> Iterator[sqlite3.Row]:
    """The photos that came after that one, in that order. A page at a time, since reading their files may take hours,
    and while a question is open the office's write-ahead log only grows."""
    while rows := tx.all(
        "SELECT arrival, sha256, bytes FROM photo_file WHERE arrival > :after ORDER BY arrival LIMIT 1000",
        after=after,
    ):
        yield from rows
        after = rows[-1]["arrival"]


#: How long a photo may have lain in its folder, at the moment that is looked at, and still wait for its row: an office
#: that serves puts the file there first. Seconds.
COMING_S = 60.0


def photos_without_row(tx: Reading, folder: Path, began: datetime) -> Iterator[str]:
    """A sentence for each photo that lies in its folder, that a record names, and that no row has. One that came just
    before that moment of the file, or since, may be on its way: the next look tells."""
    for sha256 in sorted(photos_missing(tx)):
        try:
            lies_since = photo_file(folder, sha256).stat().st_mtime
        except OSError:
            continue
        if lies_since <= began.timestamp() - COMING_S:
            yield f"The photo {sha256[:12]}… lies in the photo folder, and its row is gone. {ELSEWHERE}"


def photos_of_no_office(tx: Reading, folder: Path) -> Iterator[str]:
    """A sentence if nothing is on record, and photos of an office lie there all the same: it was begun empty."""
    if tx.value("SELECT 1 FROM operation_log LIMIT 1"):
        return
    count = sum(1 for file in folder.glob("[0-9a-f][0-9a-f]/*") if DIGEST.fullmatch(file.name))
    if count:
        yield (
            f"Nothing is on record here, and photos of an office lie in {folder} ({count} of them): its database is "
            "gone, or was begun empty. From a copy: `intake restore COPY --data NEW`, in a new folder; else pair its "
            "phones again, which send what they hold."
        )


def plan_faults(tx: Reading) -> Iterator[str]:
    """A sentence for each version of a plan that is not the one it was kept as."""
    for row in tx.all("SELECT class_id, version, body FROM plan_version ORDER BY class_id, version"):
        try:
            plan = json.loads(row["body"])
            named = plan.pop("version"), hashlib.sha256(canonical(plan).encode()).hexdigest()[:12]
        except (ValueError, AttributeError, KeyError):
            named = None
        if named != (row["version"], row["version"]):
            yield f"The plan {row['class_id']} in its version {row['version']} was changed: take it from a copy."


def file_faults(tx: Reading) -> Iterator[str]:
    """A sentence for each page or index of the file that does not fit the others, some at the most."""
    for fault in tx.faults_of_the_file():
        yield (
            f"The file is damaged ({fault}). Make a copy (`intake copy FOLDER`) and restore it into a new folder; look "
            "at the disk."
        )


def schema_faults(tx: Reading) -> Iterator[str]:
    """A sentence for each thing in the file that no step of the schema puts there, or that one does and is gone. A
    trigger above all: it does something at each change, such as taking out what was just kept."""
    here, made = tx.names_in_schema(), names_in_new_file()
    for kind, name in sorted(here - made):
        yield (
            f"The file has a {kind} {name} that is none of this program's: somebody put it there. Do not go on with "
            "this file: make a copy (`intake copy FOLDER`) and restore it into a new folder."
        )
    for kind, name in sorted(made - here):
        yield f"The {kind} {name} is gone from the file. Restore a copy into a new folder."


def orphan_faults(tx: Reading) -> Iterator[str]:
    """A sentence for words beside the log that no operation in it has: somebody wrote them there, or cut the log."""
    for table, member in (("private_words", "private_sha256"), ("set_aside", "content_sha256")):
        count = tx.value(
            f"""
            SELECT count(*) FROM {table} LEFT JOIN operation_log USING (operation_id)
            WHERE operation IS NULL OR operation NOT LIKE '%"{member}":%'
            """  # names are ours, from the line above
        )
        if count:
            yield (
                f"{count} rows of {table} belong to no operation in the log: they were put there, or the log was cut. "
                "Restore a copy into a new folder."
            )


def faults_beside(
    tx: Reading, photos_folder: Path, *, aside_too: bool, heard: Heard, began: datetime
) -> list[str]:
    return [
        *file_faults(tx),
        *schema_faults(tx),
        *orphan_faults(tx),
        *own_row_faults(tx),
        *photo_faults(tx, photos_folder, aside_too=aside_too, progress=partial(heard, "photos")),
        *photos_without_row(tx, photos_folder, began),
        *photos_of_no_office(tx, photos_folder),
        *plan_faults(tx),
    ]


async def find_faults(
    database: Database,
    photos_folder: Path,
    *,
    aside_too: bool = False,
    log_is_whole: bool = True,
    heard: Heard = nobody_hears_of,
    clock: Callable[[], datetime] = utc_now,
) -> list[str]:
    """A sentence for everything that does not hold: chain, columns and words of the log, derived tables, photos, plans.

    Log and tables are looked at as they were at one moment: an office that serves is neither waited for nor kept
    waiting. `aside_too`: photos that were changed are set aside, so that the office no longer says it has them.
    `log_is_whole`: no copy is known to have more of it, which a log that was cut at its end does not show.
    """
    in_the_file = await database.read(
        lambda tx: tx.with_scratch(
            lambda scratch: log_and_table_faults(scratch, heard, log_is_whole=log_is_whole)
        )
    )
    began = clock()
    return in_the_file + await database.read(
        lambda tx: faults_beside(tx, photos_folder, aside_too=aside_too, heard=heard, began=began)
    )


async def find_new_faults(
    database: Database,
    photos_folder: Path,
    verified: Verified,
    *,
    heard: Heard = nobody_hears_of,
    clock: Callable[[], datetime] = utc_now,
) -> list[str]:
    """A sentence for everything that does not hold of what came since all was well: the log behind that operation,
    its words, and photos. A changed photo is set aside. Tables, earlier photos and copies are not looked at, but for
    photos whose row is gone, which have no place in any order."""
    began = clock()

    def job(tx: Reading) -> list[str]:
        return [
            *schema_faults(tx),
            *chain_faults(
                tx,
                words_lacking(tx, after=verified.office_seq),
                after=verified.office_seq,
                chain=verified.chain,
                progress=partial(heard, "operations"),
            ),
            *photo_faults(
                tx,
                photos_folder,
                aside_too=True,
                after=verified.photo_arrival,
                progress=partial(heard, "photos"),
            ),
            *photos_without_row(tx, photos_folder, began),
            *cut_faults(tx),
        ]

    return await database.read(job)
