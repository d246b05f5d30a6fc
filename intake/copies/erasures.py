"""The list of erasures: of which records the words were erased, and when; ids and times, nothing else of them.

It stands beside the data folder, and in every copy, behind no head. So an office made from an older copy, or put back
as a folder, learns which of its words were erased after that.
"""

from __future__ import annotations

import asyncio
import logging
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from intake.access.devices import stamp
from intake.copies.noted import Noted, NotedList, lacking, office_id_of
from intake.database import Database, Reading, Writing
from intake.sync.erasing import erase_owed, owe_erasure

log = logging.getLogger("intake")

Erasures = Noted  # by record, when its words were erased last, as was said then

ERASURES = NotedList("erasures.jsonl", "record_id")


def erasures_of(tx: Reading) -> Erasures:
    """What the office knows itself, done or still to be done as the record comes."""
    rows = tx.all(
        """
        SELECT record_id, max(made_at) AS made_at FROM (
            SELECT record_id, made_at FROM erasure UNION ALL SELECT record_id, made_at FROM erasure_owed
        ) GROUP BY record_id
        """
    )
    return {row["record_id"]: row["made_at"] for row in rows}


async def list_beside_folder(database: Database, data_folder: Path) -> None:
    """Bring the list beside the data folder up to date; where nothing may be written there, copies have it all the
    same."""
    office_id, known = await database.read(lambda tx: (office_id_of(tx), erasures_of(tx)))
    await ERASURES.keep_beside(data_folder, office_id, known)


@dataclass
class ErasedAgain:
    """Erasures that an office had forgotten: the tickets of visits whose words are erased again, and how many were of
    visits that it does not have."""

    tickets: list[str] = field(default_factory=list)
    unknown: int = 0


def erase_again(tx: Writing, listed: Erasures, now: datetime) -> ErasedAgain:
    """Erase what a list says was erased and the office does not know, as of when it was; where it has not the visit, as
    soon as that comes."""
    forgotten = lacking(listed, erasures_of(tx))
    for record_id, made_at in forgotten.items():
        owe_erasure(tx, record_id, made_at)
    tickets = erase_owed(tx, stamp(now))
    owed = {row["record_id"] for row in tx.all("SELECT record_id FROM erasure_owed")}
    return ErasedAgain(tickets, len(owed & set(forgotten)))


async def keep_erasures(database: Database, data_folder: Path, now: datetime) -> None:
    """Note beside the data folder what was erased; erase what was noted there and this folder has forgotten."""
    office_id, known = await database.read(lambda tx: (office_id_of(tx), erasures_of(tx)))
    listed = await asyncio.to_thread(ERASURES.read_all, ERASURES.near(data_folder), office_id)
    if lacking(listed, known):
        again = await database.write(lambda tx: erase_again(tx, listed, now))
        if again.tickets:
            log.warning("erased again, as was noted beside the folder: tickets %s", ", ".join(again.tickets))
    await list_beside_folder(database, data_folder)
