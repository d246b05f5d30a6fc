"""Whether rows of the log are gone of an office that is to be served.

Nobody goes on without them unsaid: the tables may be all that is left of a lost row.
"""

from __future__ import annotations

from intake.database import opened
from intake.settings import Settings
from intake.sync.gaps import check_no_gaps


async def look_for_gaps(settings: Settings) -> None:
    """Before an office is served. Raises LogHasGaps."""
    if settings.database_file.exists():
        async with opened(settings.database_file) as database:
            await database.read(check_no_gaps)
