"""Seeding an office with the invented day, and throwing such an office away."""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from pathlib import Path

from intake.access.devices import stamp
from intake.database import Writing, opened
from intake.demo.day import Day
from intake.demo.drawings import drawings_of
from intake.demo.hand import DEVICE
from intake.demo.pictures import LARGE
from intake.errors import CommandError
from intake.examination.plans import Plans
from intake.lock import LOCK, NOTE
from intake.opening import open_office
from intake.photos.store import record_file
from intake.settings import Settings
from intake.sync.operations import answer_batch
from intake.web_folder import fixtures_folder


def throw_away(folder: Path) -> None:
    """Empty a demo's data folder but for its lock, which the caller holds, with what the engine keeps beside that.

    Raises CommandError if it is no demo's.
    """
    kept = [file for file in folder.iterdir() if file.name != NOTE and not file.name.startswith(LOCK)]
    if kept and not folder.name.endswith("-demo") and not (folder / "demo").exists():
        raise CommandError(
            f"{folder} was not made by the demo, so nothing in it was thrown away.",
            hint="Remove it by hand if you mean it, or leave --fresh out.",
        )
    for file in kept:
        if file.is_dir():
            shutil.rmtree(file)
        else:
            file.unlink()


async def seed_day(settings: Settings, plans: Plans | None = None, *, across: int = LARGE) -> int:
    """Send the invented day to the office in the data folder, once. How many operations were kept.

    `across` is how many pixels wide the largest pictures are: drawing them takes most of the time.
    """
    async with opened(settings.database_file) as database:
        if await database.read(lambda tx: tx.value("SELECT count(*) FROM record")):
            return 0
    numbered = replace(settings, numbers=(1, 1))  # they are printed nowhere else
    async with open_office(numbered, plans) as office:
        (settings.data_folder / "demo").write_text("An invented day; may be thrown away.\n", "utf-8")
        written = json.loads((fixtures_folder() / "day.json").read_text("utf-8"))
        day = Day(office.photos, office.plans, written, drawings_of(written["items"], office.plans), across)
        operations = list(day.operations())

        def job(tx: Writing) -> int:
            for picture in day.pictures:
                record_file(tx, picture, stamp(settings.clock()))
            answers = answer_batch(
                tx,
                operations,
                device_id=DEVICE,
                role="manager",
                received_at=stamp(settings.clock()),
                rules=office.plans.cautions,
            )
            refused = [answer for answer in answers if answer["outcome"] != "kept"]
            if refused or len(answers) != len(operations):
                raise RuntimeError(f"The invented day does not fit the office: {refused[:1]}")
            return len(answers)

        return await office.database.write(job)
