"""An office made from a copy, checked while it is made, with a new epoch.

It is made beside its final name and takes that name at the very end, so that one that was interrupted is made anew
and never mistaken for an office. Photos that are there already are not written again.
"""

from __future__ import annotations

import asyncio
import base64
import hashlib
import json
import os
import sqlite3
import uuid
from collections.abc import AsyncIterator, Iterator, Mapping
from contextlib import ExitStack, asynccontextmanager
from dataclasses import dataclass, field
from datetime import datetime
from functools import partial
from itertools import chain, islice
from pathlib import Path, PurePosixPath
from typing import Any

from intake import system
from intake.access.devices import stamp
from intake.access.hearing import begin_hearing
from intake.copies.bring_in import BroughtIn, add_photos, batches, take_in
from intake.copies.erasures import ERASURES, ErasedAgain, erase_again
from intake.copies.folder import Folder, InUse, sync_folder
from intake.copies.new_folder import check_new_folder
from intake.copies.photo_lines import PhotoLines
from intake.copies.places import Place, Reached, note_copy
from intake.copies.reading import TEXT, CopyReader, Shape, has_shape, head_of, is_row, opened_copy
from intake.copies.seal import Opener
from intake.copies.signed_off import keep_signed_off
from intake.copies.source import COPIES, DEVICE_COLUMNS, LOG_COLUMNS
from intake.copies.states import CopyTrouble, State
from intake.copies.text_lines import OperationIds, RowsApart
from intake.copies.words_lost import How, LostWords, sentences_of
from intake.database import Database, Reading, Writing, opened
from intake.errors import DamagedTables
from intake.examination.photos import photos_missing
from intake.examination.plans import load_plans
from intake.operation import KINDS
from intake.photos.store import photo_file, remove_gone
from intake.reading import photos_gone
from intake.settings import Settings
from intake.sync.chain import CHAIN_START, columns_fit, link
from intake.sync.rebuild import rebuild
from intake.sync.words_beside import are_from_tables

ROWS_A_JOB = PHOTOS_A_JOB = 2000
TURNS, TURN_S = 100, 0.1  # a step of whoever writes ends within seconds


@dataclass
class Restored:
    """What became of a copy. `faults` says what was damaged or missing, a sentence each; `copied_at` how old it is.

    `photos_missing` counts pictures that records name and the copy does not: phones had them still, it is unfinished,
    or, with `index_damaged`, they may have stood on lines that do not hold.
    `other_copies` are the folders of the copies that the office knew beside this one.
    """

    copied_at: str
    operations: int = 0
    photos: int = 0
    photos_missing: int = 0
    index_damaged: bool = False
    devices: list[str] = field(default_factory=list)
    other_copies: list[str] = field(default_factory=list)
    brought_in: BroughtIn = field(default_factory=BroughtIn)
    erased_since: ErasedAgain = field(default_factory=ErasedAgain)
    signed_off_since: list[str] = field(default_factory=list)  # names of devices
    faults: list[str] = field(default_factory=list)


class WholeRows:
    """The log's rows as long as they hang together; from the first that does not, what is left is set apart."""

    def __init__(self, reader: CopyReader) -> None:
        self.rest = RowsApart()
        self.office_seq, self._chain, self._reader = 0, CHAIN_START, reader
        self._ids = OperationIds()

    def __iter__(self) -> Iterator[dict[str, Any]]:
        head, fits = self._reader.head, self._reader.head.office_seq == 0
        for row in self._reader.rows():
            if not self.rest and self._follows(row):
                self.office_seq, self._chain = row["office_seq"], row["chain"]
                fits = fits or (self.office_seq == head.office_seq and self._chain == head.chain)
                yield self._as_its_text_says(row)
            else:
                self.rest.append(row)
        if not fits:
            self._reader.faults.append(
                f"The log holds together up to operation {self.office_seq} of {head.office_seq}. What could be read "
                "behind that was taken in anew; what could not is missing until a phone or another copy brings it."
            )

    def _follows(self, row: dict[str, Any]) -> bool:
        linked = link(self._chain, row["office_seq"], row["operation"], row["answer"], row["received_at"])
        is_next = row["office_seq"] == self.office_seq + 1 and linked == row["chain"]
        return is_next and self._ids.is_new(as_its_text_says(row)["operation_id"])

    def _as_its_text_says(self, row: dict[str, Any]) -> dict[str, Any]:
        """The row with what stands beside its text put right from it: the chain covers the text alone."""
        right = as_its_text_says(row)
        if right != row or not columns_fit(right):
            self._reader.faults.append(
                f"Somebody changed what stands beside operation {row['office_seq']} in the copy. "
                + (
                    "It was put right from the operation's own text."
                    if right != row
                    else "It was taken as it is."
                )
            )
        return right


def as_its_text_says(row: dict[str, Any]) -> dict[str, Any]:
    """A row of the log with its id, device, place and record as its operation says them; as it is if that says none."""
    operation = json.loads(row["operation"])
    kind = KINDS.get(str(operation.get("kind")))
    if columns_fit(row) or kind is None:
        return row
    members = {name: operation.get(name) for name in ("operation_id", "device_id", "device_seq")}
    right = {**row, **members, "record_id": operation.get(kind.record_member)}
    return right if columns_fit(right) and is_row(right) else row


async def restore(
    folder: Folder, settings: Settings, *, secret: str | None = None, keep_devices: bool = True
) -> Restored:
    """Make an office in the data folder from the copy. Raises CopyTrouble, WrongKey, OfficeInTheWay, OSError."""
    Opener(head_of(folder).sealed_to, secret)
    async with kept_still(folder):
        return await make_office(folder, settings, secret=secret, keep_devices=keep_devices)


@asynccontextmanager
async def kept_still(folder: Folder) -> AsyncIterator[None]:
    """For the block nobody writes to the copy, as an office would that serves still, and removes what it erases.

    Where that cannot be had, since the stick is locked or whoever writes does not end, it is read all the same.
    """
    with ExitStack() as held:
        for _ in range(TURNS):
            try:
                held.enter_context(folder.held())
                break
            except InUse:
                await asyncio.sleep(TURN_S)
            except OSError:
                break
        yield


async def make_office(
    folder: Folder, settings: Settings, *, secret: str | None, keep_devices: bool
) -> Restored:
    reader = opened_copy(folder, secret)
    head = reader.head
    check_new_folder(settings, folder)
    settings.data_folder.mkdir(parents=True, exist_ok=True)
    unfinished = settings.unfinished_file
    for left in settings.data_folder.glob(f"{unfinished.name}*"):
        left.unlink()
    restored = Restored(copied_at=head.complete_at or head.written_at, faults=reader.faults)
    async with opened(unfinished) as database:
        await database.read(lambda tx: refuse_newer(folder, head.schema_step, tx.schema_step))
        await fill(database, reader, restored, settings, keep_devices=keep_devices)
        end = await database.read(end_of_log)
    os.replace(unfinished, settings.database_file)
    sync_folder(settings.data_folder)
    await check_made(settings.database_file, end)
    return restored


def end_of_log(tx: Reading) -> tuple[int, str]:
    row = tx.one("SELECT office_seq, chain FROM operation_log ORDER BY office_seq DESC LIMIT 1")
    return (row["office_seq"], row["chain"]) if row else (0, CHAIN_START)


async def check_made(file: Path, end: tuple[int, str]) -> None:
    """Open the office as `serve` will, under its own name. Raises CopyTrouble if it is not what was made."""
    try:
        async with opened(file) as database:
            good = await database.read(lambda tx: tx.is_whole() and end_of_log(tx) == end)
    except (sqlite3.Error, DamagedTables):
        good = False
    if not good:
        aside = file.with_name(f"not-whole.{file.name}")
        os.replace(file, aside)
        raise CopyTrouble(
            State.DAMAGED,
            f"The office that was made is not whole on the disk; it was put aside as {aside}. The copy is as it was.",
            hint="Try again into a new folder on another disk.",
        )


def refuse_newer(folder: Folder, step: int, known: int) -> None:
    if step > known:
        raise CopyTrouble(
            State.NEWER,
            f"The copy in {folder} was written by a newer version (schema {step}, this one knows {known}).",
            hint="Install the newer version and restore with it.",
        )


def still_paired(tx: Reading) -> list[str]:
    """Each device that the office lets in, with its work."""
    rows = tx.all("SELECT name, role FROM device WHERE revoked_at IS NULL ORDER BY name, device_id")
    return [f"{row['name']} ({row['role']})" for row in rows]


async def fill(
    database: Database, reader: CopyReader, restored: Restored, settings: Settings, *, keep_devices: bool
) -> None:
    """Everything from the copy into the tables and the folder."""
    writing_photos = asyncio.create_task(
        asyncio.to_thread(write_photos, CopyReader(reader.folder, reader.head, reader.opener), settings)
    )
    # Where the tables fail, too, that is told, and not twice.
    writing_photos.add_done_callback(lambda task: task.cancelled() or task.exception())
    words, rows = reader.words(), WholeRows(reader)
    erased = reader.erased()
    jobs, lost = iter(rows), list[LostWords]()
    while batch := list(islice(jobs, ROWS_A_JOB)):
        lost += await database.write(partial(add_rows, rows=batch, words=words, erased=erased))
    restored.operations = rows.office_seq
    devices = reader.devices() if keep_devices else []
    await database.write(
        partial(add_rest, reader=reader, erased=erased, devices=devices, now=settings.clock())
    )
    restored.signed_off_since = await keep_signed_off(database, settings.data_folder)
    restored.devices = await database.read(still_paired)
    await database.write_alone(rebuild)
    roles = {device["device_id"]: device["role"] for device in devices}
    now, rules, done = (
        stamp(settings.clock()),
        load_plans(settings.plans_folder).cautions,
        restored.brought_in,
    )
    for run in batches(rows.rest):
        await database.write(
            partial(take_in, rows=run, words=words, roles=roles, received_at=now, done=done, rules=rules)
        )
    lists = [reader.folder.path / ERASURES.name, *ERASURES.near(settings.data_folder)]
    listed = ERASURES.read_all(lists, reader.head.office_id)
    restored.erased_since = await database.write(partial(erase_again, listed=listed, now=settings.clock()))
    reader.faults += await database.read(lambda tx: list(sentences_of(tx, lost)))
    lines, photos_reader = await writing_photos
    reader.faults += photos_reader.faults
    stood = iter(lines)
    while some := list(islice(stood, PHOTOS_A_JOB)):
        await database.write(partial(add_photos, lines=some))
    # The copy has the files of pictures that went with their owner: they stay out of an office that begins anew.
    gone = await database.read(photos_gone)
    await remove_gone(database, settings.photos_folder)
    stay = [line["sha256"] for line in lines if line["sha256"] not in gone]
    restored.photos = len(stay)
    restored.photos_missing = len(await database.read(photos_missing) - photos_reader.lost)
    restored.index_damaged = photos_reader.index_damaged
    files = reader.files()
    restored.other_copies = await database.write(
        partial(remember_copies, reader=reader, listed=copies_in(files), now=now)
    )
    written = write_files(settings.data_folder, files, keys=reader.head.sealed_to is not None)
    photos = (photo_file(settings.photos_folder, sha256) for sha256 in stay)
    await asyncio.to_thread(system.sync_files, chain(photos, written))


def add_rows(
    tx: Writing, rows: list[dict[str, Any]], words: Mapping[str, str], erased: OperationIds
) -> list[LostWords]:
    """Rows of the log as they were, with those of their personal words that fit. Those that do not."""
    tx.run_many(
        """
        INSERT INTO operation_log
            (office_seq, operation_id, device_id, device_seq, record_id, operation, answer, received_at, chain)
        VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
        """,
        [[row[name] for name in LOG_COLUMNS] for row in rows],
    )
    lost = []
    beside: dict[str, list[tuple[str, str]]] = {"private_sha256": [], "content_sha256": []}
    for row in rows:
        operation, operation_id = json.loads(row["operation"]), row["operation_id"]
        name = next((name for name in beside if name in operation), None)
        if name is None or operation_id in erased:
            continue
        text = words.get(operation_id)
        if text is not None and name == "private_sha256" and are_from_tables(text):
            lost.append(LostWords(row["office_seq"], operation_id, How.UNPROVEN))
            beside[name].append((operation_id, text))
        elif text is None or hashlib.sha256(text.encode()).hexdigest() != operation[name]:
            how = How.MISSING if text is None else How.CHANGED
            lost.append(LostWords(row["office_seq"], operation_id, how))
        else:
            beside[name].append((operation_id, text))
    tx.run_many("INSERT INTO private_words (operation_id, words) VALUES (?, ?)", beside["private_sha256"])
    tx.run_many("INSERT INTO set_aside (operation_id, content) VALUES (?, ?)", beside["content_sha256"])
    return lost


def add_rest(
    tx: Writing, reader: CopyReader, erased: OperationIds, devices: list[dict[str, Any]], now: datetime
) -> None:
    """Which office this is, in a new epoch; its plans, devices and erasures, and what it seals with.

    Phones may have what the copy had not yet: from `now` on they are waited for.
    """
    first, last = reader.head.numbers or (None, None)
    tx.run(
        """
        INSERT INTO office (only_row, epoch, office_id, first_serial, last_serial)
        VALUES (1, :epoch, :office_id, :first, :last)
        """,
        epoch=str(uuid.uuid4()),
        office_id=reader.head.office_id,
        first=first,
        last=last,
    )
    begin_hearing(tx, now)
    tx.run_many(
        "INSERT INTO plan_version (class_id, version, body) VALUES (?, ?, ?) ON CONFLICT DO NOTHING",
        [(plan["class_id"], plan["version"], plan["body"]) for plan in reader.plans()],
    )
    tx.run_many(
        """
        INSERT INTO device (device_id, name, role, key_sha256, paired_at, revoked_at, letters)
        VALUES (?, ?, ?, ?, ?, ?, ?)
        """,
        [[device.get(name) for name in DEVICE_COLUMNS] for device in devices],
    )
    ids = iter(erased)
    while some := list(islice(ids, ROWS_A_JOB)):
        tx.run_many(
            "INSERT INTO erased_words (operation_id) VALUES (?) ON CONFLICT DO NOTHING",
            [(operation_id,) for operation_id in some],
        )
    if reader.head.sealed_to:
        tx.run(
            "INSERT INTO copy_key (only_row, recipient) VALUES (1, :recipient)",
            recipient=reader.head.sealed_to,
        )


KNOWN_COPY: Shape = {"folder": TEXT, "copy_id": TEXT}


def copies_in(files: dict[str, str]) -> list[dict[str, Any]]:
    """The copies that the office knew, as this one says; a copy that was written before they were said says none."""
    try:
        listed = json.loads(base64.b64decode(files.get(COPIES, "")) or b"[]")
    except ValueError:
        return []
    return [known for known in listed if has_shape(known, KNOWN_COPY)] if isinstance(listed, list) else []


def remember_copies(tx: Writing, reader: CopyReader, listed: list[dict[str, Any]], now: str) -> list[str]:
    """Note this copy and the others, none of them attached yet: each is owed what is erased. The folders of the others.

    What was erased in another one counts as far as this one knows of it: behind that, numbers are given anew.
    """
    head = reader.head
    this = {
        "folder": str(reader.folder.path.absolute()),
        "copy_id": head.copy_id,
        "sealed_to": head.sealed_to,
        "erased_seq": head.erased_seq,
    }
    others = [known for known in listed if known["copy_id"] != head.copy_id]
    for copy in [this, *others] if head.copy_id else others:
        sealed_to, erased_seq = copy.get("sealed_to"), copy.get("erased_seq")
        known = erased_seq if isinstance(erased_seq, int) else 0
        complete_at = head.complete_at if copy is this else None  # of the others it is not known
        place = Place(
            copy["folder"],
            sealed=sealed_to is not None,
            begun=True,
            reached=Reached(erased_seq=min(known, head.erased_seq), complete_at=complete_at),
            copy_id=copy["copy_id"],
            sealed_to=sealed_to if isinstance(sealed_to, str) else None,
        )
        note_copy(tx, place, now)
    return [other["folder"] for other in others]


def write_photos(reader: CopyReader, settings: Settings) -> tuple[PhotoLines, CopyReader]:
    """Every photo that holds, into the photo folder. Their lines, and the reader, which noted what does not hold."""
    lines = PhotoLines()
    for line, content in reader.photos():
        write_photo(photo_file(settings.photos_folder, line["sha256"]), content)
        lines.put([line])
    if reader.faults:
        reader.faults.append(
            "Phones that took these photos send them again if they still hold them; another copy may have them: "
            "`intake bring-in`."
        )
    return lines, reader


def write_photo(file: Path, content: bytes) -> None:
    """Write it unless the same bytes are there. Nobody waits for the disk here: that is done once, for all."""
    try:
        if file.read_bytes() == content:
            return
    except OSError:
        file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(content)


def write_files(data_folder: Path, files: dict[str, str], *, keys: bool) -> list[Path]:
    """The house's own files, and the hall's keys, which only their owner may read. Which were written.

    A name that would lead anywhere else is left out: whoever wrote the copy wrote the names as well.
    """
    folders, written = ("house", "hall") if keys else ("house",), []
    for name, content in files.items():
        path = PurePosixPath(name)
        if (
            not name.startswith(tuple(f"{folder}/" for folder in folders))
            or ".." in path.parts
            or "\\" in name
        ):
            continue
        file, private = data_folder / path, path.parts[0] == "hall"
        file.parent.mkdir(parents=True, exist_ok=True, mode=0o700 if private else 0o777)
        file.touch(mode=0o600 if private else 0o666)
        file.write_bytes(base64.b64decode(content))
        written.append(file)
    return written
