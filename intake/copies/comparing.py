"""What a copy in reach knows of the office beside the end of its log, compared with what stands here.

The log proves itself; devices, photo rows, erasures and the office's own row do not. Whoever has the office's file can
change them, and a copy was written before. Each difference is a sentence: some have a good reason that a person knows.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from itertools import tee
from typing import Any

from intake.copies import source as office
from intake.copies.folder import Folder
from intake.copies.head import Head
from intake.copies.photo_lines import PhotoLines
from intake.copies.places import copy_recipient
from intake.copies.read_back import erased_ids, whole_values
from intake.copies.reading import photo_lines
from intake.copies.source import DEVICE_COLUMNS, PHOTO_COLUMNS, Source
from intake.database import Reading

#: What of a device changes with its key when it is paired again, in words.
WORDS = {
    "name": "its name",
    "key_sha256": "the key that it is known by",
    "letters": "its letters",
    "paired_at": "when it was paired",
    "revoked_at": "whether it was signed off",
}


def differences(source: Source, folder: Folder, head: Head, *, put_back: bool = False) -> list[str]:
    """A sentence for each. Of a sealed copy only what is not closed is compared. `put_back`: the office has another log
    than the copy, so that it lacks erasures, and phones sent photos again. Raises OSError.

    The copy is read first, then the tables: while these are open nothing is asked of a stick, which may hang.
    """
    erased = erased_ids(folder, head.erased)
    photos = photo_lines(whole_values(folder, head.photos))
    devices = devices_in(folder, head)
    with source.moment() as tx:
        return [
            *differences_of_office(tx, folder, head),
            *(differences_of_erasures(tx, folder, erased) if not put_back else ()),
            *differences_of_photos(tx, folder, photos, sent_again=put_back),
            *(differences_of_devices(tx, folder, devices) if devices is not None else ()),
        ]


def devices_in(folder: Folder, head: Head) -> dict[str, dict[str, Any]] | None:
    """The devices that the copy has, by their ids; None of a sealed copy, or where the file is gone or damaged."""
    if head.sealed_to is not None or head.devices is None:
        return None
    try:
        content = folder.read(head.devices.name)
    except FileNotFoundError:
        return None
    if hashlib.sha256(content).hexdigest() != head.devices.sha256:
        return None
    return {device["device_id"]: device for device in json.loads(content)}


def differences_of_office(tx: Reading, folder: Folder, head: Head) -> Iterator[str]:
    ours = office.office_of(tx)
    if ours.epoch != head.epoch:
        yield (
            f"The office goes by another epoch than the copy in {folder} says. If it was not restored since the copy "
            "was written, somebody changed it: restore the copy into a new folder."
        )
    if ours.numbers != head.numbers:
        yield (
            f"The tag numbers that are this office's are other than the copy in {folder} says. If nobody set that "
            "with --numbers since, restore the copy into a new folder."
        )
    if head.sealed_to is not None and copy_recipient(tx) != head.sealed_to:
        yield (
            f"The copy in {folder} is closed with another key than copies that are begun now. If somebody made "
            f"another with `intake seal --anew`, begin this copy anew: `intake copy {folder} --anew`. If nobody did, "
            "whoever changed the key could open what is copied from now on: make another."
        )


def differences_of_erasures(tx: Reading, folder: Folder, copied: set[str]) -> Iterator[str]:
    """Noted erasures that are gone: to a copy, and to whoever asks, those words would be missing without a reason."""
    here = {row["operation_id"] for row in tx.all("SELECT operation_id FROM erased_words")}
    if gone := copied - here:
        yield (
            f"The copy in {folder} knows of {len(gone)} operations whose words were erased, and this office no longer "
            "does. Restore the copy into a new folder."
        )


def differences_of_photos(
    tx: Reading, folder: Folder, copied: PhotoLines, *, sent_again: bool
) -> Iterator[str]:
    here, changed = 0, []
    rows, again = tee(tx.each("SELECT * FROM photo_file ORDER BY arrival"))  # a house has millions
    for row, line in zip(rows, copied.along(row["sha256"] for row in again), strict=True):
        if line is None:
            continue
        here += 1
        other = [name for name in PHOTO_COLUMNS[1:] if line[name] != row[name]]
        is_later = other == ["received_at"] and row["received_at"] > line["received_at"]
        if other and not (sent_again and is_later):
            changed.append((row["sha256"], other))
    if gone := len(copied) - here:
        yield (
            f"{gone} photos in the copy in {folder} have no row here any more: `intake bring-in {folder}` brings "
            "them back."
        )
    for sha256, other in changed:
        yield (
            f"The row of the photo {sha256[:12]}… says otherwise than the copy in {folder} ({', '.join(other)}): "
            "the row was changed. Restore the copy into a new folder."
        )


def differences_of_devices(tx: Reading, folder: Folder, copied: dict[str, dict[str, Any]]) -> Iterator[str]:
    """A device that is here alone, that is in the copy alone, and what is said otherwise of one that is in both."""
    here = {row["device_id"]: row for row in tx.all("SELECT * FROM device ORDER BY name, device_id")}
    for device_id, row in here.items():
        before = copied.get(device_id)
        if before is None:
            yield (
                f"{row['name']}, paired as {row['role']}, is not in the copy in {folder}. If nobody paired it since "
                "the copy was written, sign it off."
            )
        else:
            yield from differences_of_device(row, before, folder)
    for device_id, before in copied.items():
        if device_id not in here:
            yield (
                f"{before.get('name')} is in the copy in {folder} and is gone here; a device is signed off, and never "
                "taken out. Restore the copy into a new folder, or pair it again."
            )


def differences_of_device(row: Any, before: dict[str, Any], folder: Folder) -> Iterator[str]:
    if row["revoked_at"] is None and row["role"] != before["role"]:
        yield (
            f"{row['name']} is paired as {row['role']}, and as {before['role']} in the copy in {folder}. If nobody "
            "changed that since the copy was written, sign the device off and pair it anew."
        )
    other = [WORDS[name] for name in DEVICE_COLUMNS if name in WORDS and row[name] != before.get(name)]
    if other:
        yield (
            f"Of {row['name']} this office says otherwise than the copy in {folder}: {', '.join(other)}. If it was "
            "not paired again or signed off since the copy was written, sign it off and pair it anew."
        )
