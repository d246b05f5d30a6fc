"""What is gone from a data folder that an office is to be served from: rows of its log, or the whole database.

Neither is gone on without unsaid. The tables may be all that is left of a lost row, and an empty office beside the
photos of one would tell its phones that nothing was ever here.
"""

from __future__ import annotations

from pathlib import Path

from intake.database import opened
from intake.errors import CommandError
from intake.settings import Settings
from intake.sync.gaps import check_no_gaps


async def look_for_gaps(settings: Settings) -> None:
    """Before an office is served. Raises LogHasGaps."""
    if settings.database_file.exists():
        async with opened(settings.database_file) as database:
            await database.read(check_no_gaps)


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
