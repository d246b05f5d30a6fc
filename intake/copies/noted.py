"""Lists of what must not be forgotten when an older folder or copy is put back: an id and a moment a line, no more.

They stand where what is put back does not take them back: beside the data folder.
"""

from __future__ import annotations

import asyncio
import logging
import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from intake.copies.folder import Folder
from intake.copies.head import DamagedLine, framed, unframed
from intake.copies.reading import TEXT, Shape, has_shape
from intake.database import Reading
from intake.operation import INSTANT_PATTERN, UUID_PATTERN

log = logging.getLogger("intake")

LIMIT_BYTES = 50_000_000  # a house notes some thousands in its life; a longer file is none of ours

Noted = dict[str, str]  # by id, the last moment that was noted of it


@dataclass(frozen=True)
class NotedList:
    """One kind of list. `name`: its file's; `member`: what the ids are called in its lines."""

    name: str
    member: str

    def beside(self, data_folder: Path) -> Path:
        """Where the list of this data folder lies: not in it."""
        folder = data_folder.absolute()
        return folder.with_name(f"{folder.name}.{self.name}")

    def near(self, data_folder: Path) -> list[Path]:
        """Every such list beside a data folder: also of one that stood there under another name."""
        parent = data_folder.absolute().parent
        return sorted(parent.glob(f"*.{self.name}")) if parent.is_dir() else []

    def as_lines(self, office_id: str, noted: Noted) -> bytes:
        return b"".join(
            framed({"office_id": office_id, self.member: noted_id, "made_at": made_at})
            for noted_id, made_at in noted.items()
        )

    def read(self, content: bytes, office_id: str) -> Noted:
        """What a list says of this office. Lines that are damaged, or another office's, say nothing."""
        found: Noted = {}
        shape: Shape = dict.fromkeys(("office_id", self.member, "made_at"), TEXT)
        for line in content.splitlines(keepends=True):
            try:
                value = unframed(line)
            except (DamagedLine, ValueError):
                continue
            if has_shape(value, shape) and value["office_id"] == office_id and self._is_noted(value):
                noted_id = value[self.member]
                found[noted_id] = max(value["made_at"], found.get(noted_id, ""))
        return found

    def _is_noted(self, value: dict[str, str]) -> bool:
        return bool(
            re.fullmatch(UUID_PATTERN, value[self.member]) and re.fullmatch(INSTANT_PATTERN, value["made_at"])
        )

    def read_all(self, files: Iterable[Path], office_id: str) -> Noted:
        """What all of them say; one that cannot be read says nothing."""
        found: Noted = {}
        for file in files:
            try:
                content = file.read_bytes() if file.stat().st_size <= LIMIT_BYTES else b""
            except OSError:
                continue
            for noted_id, made_at in self.read(content, office_id).items():
                found[noted_id] = max(made_at, found.get(noted_id, ""))
        return found

    def add(self, folder: Folder, name: str, office_id: str, noted: Noted) -> None:
        """Put what a list lacks behind what it has, and wait for the disk. Raises OSError.

        A line that was cut off in the middle of writing stays as a damaged one, in front of the new ones.
        """
        content = folder.read(name) if folder.size(name) else b""
        missing = lacking(noted, self.read(content, office_id))
        if missing:
            end = b"" if content.endswith(b"\n") or not content else b"\n"
            folder.append(name, len(content), end + self.as_lines(office_id, missing))

    async def keep_beside(self, data_folder: Path, office_id: str, noted: Noted) -> None:
        """Bring the list beside the data folder up to date, unless nothing may be written there."""
        file = self.beside(data_folder)
        try:
            if noted:
                await asyncio.to_thread(self.add, Folder(file.parent), file.name, office_id, noted)
        except OSError as error:
            log.debug("%s is not kept beside the folder: %s", file.name, error)


def office_id_of(tx: Reading) -> str:
    return str(tx.value("SELECT office_id FROM office") or "")


def lacking(known: Noted, listed: Noted) -> Noted:
    """Those of the first that the second has not, or has as older."""
    return {noted_id: made_at for noted_id, made_at in known.items() if listed.get(noted_id, "") < made_at}
