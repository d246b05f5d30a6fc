"""Where an office may be made from a copy: in a new folder, and beside no copy's files."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from intake.copies.folder import Folder
from intake.copies.head import HEADS
from intake.copies.whereabouts import whereabouts_of
from intake.errors import Refusal
from intake.settings import Settings

ELSEWHERE = "Name a folder on the office's own disk with --data."


class OfficeInTheWay(Refusal):
    """An office cannot be made where there is one."""

    code = "office_in_the_way"
    title = "There is an office in this folder"


def check_new_folder(settings: Settings, copy: Folder) -> None:
    """Whether an office can be made in the data folder from the copy. Nothing is made. Raises OfficeInTheWay."""
    refuse_office(settings)
    refuse_leftovers(settings)
    refuse_within(settings.data_folder, copy)
    refuse_other_copies(settings.data_folder)


def refuse_office(settings: Settings) -> None:
    if settings.database_file.exists():
        raise OfficeInTheWay(
            f"{settings.data_folder} has an office in it. Nothing was changed.",
            hint="Name a new folder with --data; once the office runs from there, the old one can go.",
        )


def refuse_leftovers(settings: Settings) -> None:
    """What an engine left beside a database that is gone it would read into the new one. Raises OfficeInTheWay."""
    file = settings.database_file
    left = [
        leftover.name for end in ("-wal", "-shm", "-journal") if (leftover := Path(f"{file}{end}")).exists()
    ]
    if left:
        raise OfficeInTheWay(
            f"{settings.data_folder} has leftovers of an office that was in it ({', '.join(left)}), which would be "
            "mixed into the restored one. Nothing was changed.",
            hint="Name a new folder with --data; or move these files away, and keep them until all that is missing is "
            "found.",
        )


def refuse_within(data_folder: Path, copy: Folder) -> None:
    """An office beside its copy's files is lost with them; on a sealed stick all would then stand open. Raises
    OfficeInTheWay."""
    data, own = whereabouts_of(str(data_folder)), whereabouts_of(str(copy))
    if data.lies_in(own) or own.lies_in(data):
        raise OfficeInTheWay(
            f"{data_folder} and the copy in {copy} lie one in the other. Nothing was changed.", hint=ELSEWHERE
        )


def refuse_other_copies(data_folder: Path) -> None:
    """Nor beside another copy's files, which takes no other things among them. Raises OfficeInTheWay."""
    for folder in near(Path(os.path.realpath(data_folder))):
        if any(os.path.exists(folder / name) for name in HEADS):
            raise OfficeInTheWay(
                f"{data_folder} and another copy, in {folder}, lie one in the other. Nothing was changed.",
                hint=ELSEWHERE,
            )


def near(folder: Path) -> Iterator[Path]:
    """A folder, those that it lies in, and those that lie in it."""
    yield from (folder, *folder.parents)
    with suppress(OSError):
        yield from (entry for entry in folder.iterdir() if entry.is_dir())
