"""What does not hold in an office: its chain, words, photos, plans and tables, each fault as a sentence."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

from intake.database import Database, Reading, Writing, names_in_new_file
from intake.derived_tables import DERIVED
from intake.examination.photos import photos_missing
from intake.photos.store import photo_file, set_aside
from intake.sync.log import HEARD_EVERY, Progress, canonical, chain_faults, nobody_hears
from intake.sync.rebuild import digests, rebuild
from intake.sync.verified import Verified

DIGEST = re.compile(r"[0-9a-f]{64}")


def table_faults(tx: Writing, *, log_holds: bool, progress: Progress = nobody_hears) -> Iterator[str]:
    """Rebuild, and a sentence for each operation that it leaves out and each table that comes out otherwise. Only ever
    on a copy.

    Where the log itself does not hold, the tables may be all that is left of what it lost: a rebuild is never advised.
    """
    advice = (
        "`intake rebuild` puts it right"
        if log_holds
        else "do not rebuild: the table may have what the log has lost"
    )
    before = digests(tx)
    yield from rebuild(tx, progress).left_out
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


def photos_of_no_office(tx: Reading, folder: Path) -> Iterator[str]:
    """A sentence if nothing is on record, and photos of an office lie there all the same: it was begun empty."""
    if tx.value("SELECT 1 FROM operation_log LIMIT 1"):
        return
    count = sum(1 for one in folder.glob("[0-9a-f][0-9a-f]/*") if DIGEST.fullmatch(one.name))
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
            said = plan.pop("version"), hashlib.sha256(canonical(plan).encode()).hexdigest()[:12]
        except (ValueError, AttributeError, KeyError):
            said = None
        if said != (row["version"], row["version"]):
            yield f"The plan {row['class_id']} in its version {row['version']} was changed: take it from a copy."


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


#: Hears of what is looked at, such as photos, how many are done, of how many.
Heard = Callable[[str, int, int], None]


def nobody_hears_of(what: str, done: int, of: int) -> None:
    """What is looked at, and nobody asked."""


def all_faults(tx: Writing, photos_folder: Path, *, aside_too: bool, heard: Heard) -> list[str]:
    of_the_log = list(chain_faults(tx, progress=partial(heard, "operations in the log")))
    return [
        *schema_faults(tx),
        *of_the_log,
        *orphan_faults(tx),
        *photo_faults(tx, photos_folder, aside_too=aside_too, progress=partial(heard, "photos")),
        *photos_without_row(tx, photos_folder),
        *photos_of_no_office(tx, photos_folder),
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
            *schema_faults(tx),
            *chain_faults(
                tx,
                after=verified.office_seq,
                chain=verified.chain,
                progress=partial(heard, "operations in the log"),
            ),
            *photo_faults(tx, photos_folder, aside_too=True, since=since, progress=partial(heard, "photos")),
        ]

    return await database.read(job)
