"""Every record of the invented day, as an office holds it after the day was seeded into it."""

from __future__ import annotations

import asyncio
import json
import sys
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, TypeVar

from intake.database import Reading, opened
from intake.demo.seed import seed_day
from intake.settings import Settings
from tests.conftest import Clock

Records = list[dict[str, Any]]
Found = TypeVar("Found")


def seeded_into(folder: Path, read: Callable[[Reading], Found]) -> Found:
    """What is read of an office into which the invented day was seeded, in an empty folder."""

    async def work() -> Found:
        settings = Settings(folder, clock=Clock(datetime(2026, 3, 14, 18, 0, tzinfo=UTC)))
        await seed_day(settings, across=60)  # pixels: nobody looks at these pictures
        async with opened(settings.database_file) as database:
            return await database.read(read)

    return asyncio.run(work())


def records_of(tx: Reading) -> Records:
    return [json.loads(row["body"]) for row in tx.all("SELECT body FROM record ORDER BY record_id")]


if __name__ == "__main__":  # for the tests of the web app
    with TemporaryDirectory() as made:
        json.dump(seeded_into(Path(made), records_of), sys.stdout)
