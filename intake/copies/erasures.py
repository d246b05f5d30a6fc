"""The list of erasures: of which records the words were erased, and when; ids and times, nothing else of them.

It stands where what is put back does not take it back: beside the data folder, and in every copy, behind no head. So an
office made from an older copy, or put back as a folder, learns which of its words were erased after that.
"""

from __future__ import annotations

import asyncio
import logging
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from intake.access.devices import stamp
from intake.copies.folder import Folder
from intake.copies.head import DamagedLine, framed, unframed
from intake.copies.reading import TEXT, Shape, has_shape
from intake.database import Database, Reading, Writing
from intake.operation import INSTANT_PATTERN, UUID_PATTERN
from intake.sync.erasing import erase_owed, owe_erasure

log = logging.getLogger("intake")

NAME = "erasures.jsonl"
LIMIT_BYTES = 50_000_000  # a house erases some thousands in its life; a longer file is none of ours
LINE: Shape = dict.fromkeys(("office_id", "record_id", "made_at"), TEXT)

Erasures = dict[str, str]  # by record, when its words were erased last, as was said then


def list_beside(data_folder: Path) -> Path:
    """Where the list of this data folder lies: not in it."""
    folder = data_folder.absolute()
    return folder.with_name(f"{folder.name}.{NAME}")


def lists_near(data_folder: Path) -> list[Path]:
    """Every such list beside a data folder: also of one that stood there under another name."""
    parent = data_folder.absolute().parent
    return sorted(parent.glob(f"*.{NAME}")) if parent.is_dir() else []


def office_id_of(tx: Reading) -> str:
    return str(tx.value("SELECT office_id FROM office") or "")


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


def as_lines(office_id: str, erasures: Erasures) -> bytes:
    return b"".join(
        framed({"office_id": office_id, "record_id": record_id, "made_at": made_at})
        for record_id, made_at in erasures.items()
    )


def read_list(content: bytes, office_id: str) -> Erasures:
    """What a list says of this office. Lines that are damaged, or another office's, say nothing."""
    found: Erasures = {}
    for line in content.splitlines(keepends=True):
        try:
            value = unframed(line)
        except (DamagedLine, ValueError):
            continue
        if has_shape(value, LINE) and value["office_id"] == office_id and is_erasure(value):
            found[value["record_id"]] = max(value["made_at"], found.get(value["record_id"], ""))
    return found


def is_erasure(value: dict[str, str]) -> bool:
    return bool(
        re.fullmatch(UUID_PATTERN, value["record_id"]) and re.fullmatch(INSTANT_PATTERN, value["made_at"])
    )


def read_lists(files: Iterable[Path], office_id: str) -> Erasures:
    """What all of them say; one that cannot be read says nothing."""
    found: Erasures = {}
    for file in files:
        try:
            content = file.read_bytes() if file.stat().st_size <= LIMIT_BYTES else b""
        except OSError:
            continue
        for record_id, made_at in read_list(content, office_id).items():
            found[record_id] = max(made_at, found.get(record_id, ""))
    return found


def lacking(known: Erasures, listed: Erasures) -> Erasures:
    """Those of the first that the second has not, or has as older."""
    return {record_id: made_at for record_id, made_at in known.items() if listed.get(record_id, "") < made_at}


def add_to_list(folder: Folder, name: str, office_id: str, erasures: Erasures) -> None:
    """Put what a list lacks behind what it has, and wait for the disk. Raises OSError.

    A line that was cut off in the middle of writing stays as a damaged one, in front of the new ones.
    """
    content = folder.read(name) if folder.size(name) else b""
    missing = lacking(erasures, read_list(content, office_id))
    if missing:
        end = b"" if content.endswith(b"\n") or not content else b"\n"
        folder.append(name, len(content), end + as_lines(office_id, missing))


def list_erasures(data_folder: Path, office_id: str, erasures: Erasures) -> None:
    """Bring the list beside the data folder up to date. Raises OSError, where nothing may be written there."""
    if erasures:
        file = list_beside(data_folder)
        add_to_list(Folder(file.parent), file.name, office_id, erasures)


async def list_beside_folder(database: Database, data_folder: Path) -> None:
    """The same from the tables; where nothing may be written there, copies have the list all the same."""
    office_id, known = await database.read(lambda tx: (office_id_of(tx), erasures_of(tx)))
    try:
        await asyncio.to_thread(list_erasures, data_folder, office_id, known)
    except OSError as error:
        log.debug("the list of erasures is not kept beside the folder: %s", error)


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
