"""What is gone from a data folder that an office is to be served from: rows of its log, or the whole database.

Neither is gone on without unsaid. The tables may be all that is left of a lost row, and an empty office beside the
photos of one would tell its phones that nothing was ever here.
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from intake.access.hearing import Until, begin_hearing
from intake.database import Writing, opened
from intake.errors import CommandError, LogHasGaps
from intake.settings import Settings
from intake.sync.gaps import check_no_gaps, rows_missing
from intake.sync.log import Progress
from intake.sync.rebuild import rebuild


def go_on_with_gaps(tx: Writing, now: datetime, progress: Progress) -> None:
    """Make the tables from the rows that are left, and hear the phones out for what they may have of the others."""
    tx.run("UPDATE office SET gaps = :missing", missing=rows_missing(tx))
    rebuild(tx, progress)
    begin_hearing(tx, Until.PHONES if tx.value("SELECT 1 FROM device LIMIT 1") else Until.WORD, now)


async def look_for_gaps(settings: Settings, *, go_on: bool, progress: Progress) -> Path | None:
    """Before an office is served. Raises LogHasGaps, unless it is to go on all the same: then the database as it was is
    kept beside it, and told."""
    if not settings.database_file.exists():
        return None
    async with opened(settings.database_file) as database:
        try:
            await database.read(check_no_gaps)
        except LogHasGaps:
            if not go_on:
                raise
            now = settings.clock()
            kept = settings.database_file.with_name(
                f"before-{now:%Y%m%dT%H%M%SZ}.{settings.database_file.name}"
            )
            await database.read(lambda tx: tx.keep_whole(kept))
            await database.write_alone(lambda tx: go_on_with_gaps(tx, now, progress))
            return kept
    return None


def check_database_is_there(settings: Settings) -> None:
    """Raises CommandError where the database of an office is gone and other things of it are not."""
    file = settings.database_file
    if file.exists():
        return
    photos = settings.photos_folder
    left = [f"{file.name}-wal"] if Path(f"{file}-wal").exists() else []
    if photos.is_dir() and any(one.is_file() for one in photos.rglob("*")):
        left.append(photos.name)
    if left:
        raise CommandError(
            f"{settings.data_folder} has things of an office in it ({', '.join(left)}), and its database is gone.",
            hint="Look for it first. From a copy: `intake restore COPY --data NEW`, in a new folder. With no copy "
            "left, `intake serve --begin-empty` begins an empty office here, which phones refill with what they "
            "hold.",
        )
