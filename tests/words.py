"""`python -m tests words`: every text that is printed of the invented day, in one file for a person to read through.

No check takes the place of that: what is made from records can be true, agree in number and still be no English.
"""

from __future__ import annotations

import asyncio
import json
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

from intake.database import Reading, opened
from intake.demo.seed import seed_day
from intake.settings import Settings
from intake.setup.bootstrap import ROOT

SMALL = 60  # pixels across: nobody looks at these pictures
OUT = Path(tempfile.gettempdir()) / "texts-of-the-invented-day.txt"


def item_records(tx: Reading) -> list[dict[str, Any]]:
    """The items' records as a device reads them, in the order in which they came to the tables."""
    rows = tx.all("SELECT body FROM record WHERE kind = 'item' ORDER BY record_id")
    return [json.loads(row["body"]) for row in rows]


async def items_of_the_day(folder: Path) -> list[dict[str, Any]]:
    settings = Settings(data_folder=folder)
    await seed_day(settings, across=SMALL)
    async with opened(settings.database_file) as database:
        return await database.read(item_records)


def main(node: str) -> int:
    with tempfile.TemporaryDirectory(suffix="-demo") as folder:
        items = asyncio.run(items_of_the_day(Path(folder)))
    command = [node, str(ROOT / "tests" / "web" / "write_texts.js")]
    made = subprocess.run(command, input=json.dumps(items), text=True, stdout=subprocess.PIPE, check=False)
    if made.returncode == 0:
        OUT.write_text(made.stdout, "utf-8")
        print(f"The texts of {len(items)} items are in {OUT}: read them from beginning to end.")
    return made.returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
