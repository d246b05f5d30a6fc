"""The list of devices that were signed off, beside the data folder, so that an office whose folder was put back from
before does not let a phone in again that somebody took."""

from __future__ import annotations

import asyncio
import logging
from datetime import datetime
from pathlib import Path

from intake.access.devices import revoke
from intake.copies.noted import Noted, NotedList, lacking, office_id_of
from intake.database import Database, Reading, Writing

log = logging.getLogger("intake")

SIGNED_OFF = NotedList("signed-off.jsonl", "device_id")


def signed_off_of(tx: Reading) -> Noted:
    """The devices that the office has as signed off, and since when."""
    rows = tx.all("SELECT device_id, revoked_at FROM device WHERE revoked_at IS NOT NULL")
    return {row["device_id"]: row["revoked_at"] for row in rows}


def sign_off_again(tx: Writing, listed: Noted) -> list[str]:
    """Sign off what a list says was signed off and the office has as paired; their names. One that was paired anew
    after that stays."""
    rows = tx.all("SELECT device_id, name, paired_at FROM device WHERE revoked_at IS NULL ORDER BY device_id")
    forgotten = [row for row in rows if listed.get(row["device_id"], "") > row["paired_at"]]
    for row in forgotten:
        revoke(tx, row["device_id"], datetime.fromisoformat(listed[row["device_id"]]))
    return [row["name"] for row in forgotten]


async def keep_signed_off(database: Database, data_folder: Path) -> list[str]:
    """Note beside the data folder which devices were signed off; sign off again those that were noted there and that
    this folder has forgotten. The names of these."""
    office_id, known = await database.read(lambda tx: (office_id_of(tx), signed_off_of(tx)))
    listed = await asyncio.to_thread(SIGNED_OFF.read_all, SIGNED_OFF.near(data_folder), office_id)
    names: list[str] = []
    if lacking(listed, known):
        names = await database.write(lambda tx: sign_off_again(tx, listed))
        if names:
            log.warning("signed off again, as was noted beside the folder: %s", ", ".join(names))
    await SIGNED_OFF.keep_beside(data_folder, office_id, known)
    return names
