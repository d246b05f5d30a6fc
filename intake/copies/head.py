"""The head of a copy: a small file that says how far each of its other files counts.

Two files are written in turn, and the newest whole one counts. So a copy is usable at any moment: whatever was
being written behind the head when power, stick or process went is no part of the copy, and the next writer cuts it
off. No file is ever renamed over another, which many a stick's file system does not do in one piece.
"""

from __future__ import annotations

import hashlib
import json
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from intake.copies.folder import OWN_NAME, Folder
from intake.copies.states import CopyTrouble, State, damaged, unreadable

FORMAT = 3  # 1 had no `copy_id`, and gets one when it is next written
READS = (1, 2, FORMAT)
#: Before this format the house's own files stood among `files`, and they stay there until they are written anew.
HOUSE_APART = 3
HEADS = ("head-0.json", "head-1.json")


class DamagedLine(Exception):
    """A line whose check does not fit."""


def framed(value: dict[str, Any]) -> bytes:
    """A value as a line of a copy: the first 16 digits of the SHA-256 of its JSON, a blank, its JSON."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":")).encode()
    return check_of(text) + b" " + text + b"\n"


def unframed(line: bytes) -> dict[str, Any]:
    """A line's value. Raises DamagedLine."""
    if not is_whole(line):
        raise DamagedLine
    value: dict[str, Any] = json.loads(line.partition(b" ")[2])
    return value


def is_whole(line: bytes) -> bool:
    """Whether a line's check fits."""
    check, _, text = line.removesuffix(b"\n").partition(b" ")
    return line.endswith(b"\n") and check == check_of(text)


def check_of(text: bytes) -> bytes:
    return hashlib.sha256(text).hexdigest()[:16].encode()


FileName = Annotated[str, Field(pattern=OWN_NAME)]
Size = Annotated[int, Field(ge=0)]


class Stretch(BaseModel):
    """The part of a file that counts, from its start: so many bytes in so many lines."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    name: FileName
    bytes: Size = 0
    lines: Size = 0


class Whole(BaseModel):
    """A small file written as a whole. `sha256` is of its content before sealing."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    name: FileName
    bytes: Size
    sha256: str


class Head(BaseModel):
    """How far a copy reaches, whose it is, and which: two sticks in turn under one path have two ids.

    Every operation up to `office_seq` stands in it with its personal words, those erased up to `erased_seq` taken
    out; `chain` is the log's value there. `complete_at` is when it last had everything, by the office's clock.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")
    format: int
    serial: int
    office_id: str
    copy_id: str | None = None
    epoch: str
    schema_step: int
    numbers: tuple[int, int] | None
    sealed_to: str | None
    office_seq: int
    chain: str
    erased_seq: int
    log: Stretch
    words: Stretch
    erased: Stretch
    plans: Stretch
    photos: Stretch
    pack: Stretch
    devices: Whole | None
    files: Whole | None
    house: Whole | None = None
    written_at: str
    complete_at: str | None


def read_head(folder: Folder) -> Head | None:
    """The newest whole head, or None if there never was one. Raises CopyTrouble (damaged, newer), OSError.

    One that the disk does not give is passed over like one that is damaged: `unreadable` of the folder has its name.
    """
    found, failed = [], None
    for name in HEADS:
        try:
            found.append(unframed(folder.read(name)))
        except FileNotFoundError:
            continue
        except OSError as error:
            failed = error
            folder.unreadable.add(name)
        except (DamagedLine, ValueError):
            continue
    if not found:
        if failed is not None:
            raise failed
        if folder.unreadable & {*HEADS}:
            raise unreadable(str(folder))
        if set(folder.own_names()) - {*HEADS}:
            raise damaged(str(folder), "neither of its two heads is there and whole")
        return None  # at most the very first head was being written
    newest = max(found, key=lambda value: int(value.get("serial", -1)))
    if newest.get("format") not in READS:
        raise CopyTrouble(
            State.NEWER,
            f"The copy in {folder} has format {newest.get('format')}; this version reads and writes format {FORMAT}.",
            hint="Use the version of this program that wrote it, or name another folder.",
        )
    try:
        return Head.model_validate(newest)
    except ValidationError as error:
        raise damaged(str(folder), "its head does not fit") from error


def write_head(folder: Folder, head: Head) -> None:
    """From now on this head counts. The one before it is left as it is until the next."""
    folder.write_whole(HEADS[head.serial % 2], framed(head.model_dump()))
