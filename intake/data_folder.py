"""The data folder before anything opens it: whether the office that it belongs to is there, and can be read.

No command makes a database but the first `serve` in an empty folder, and `restore`: an empty office in the place of one
that is gone would tell its phones that nothing was ever here. So every command comes through here.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from intake.database import bring_up_to_date, snapshot
from intake.disk import is_of_a_full_disk
from intake.errors import CommandError, OfficeFull
from intake.lock import last_plans
from intake.settings import Settings
from intake.system import close_below, close_to_others, stands_open

RESTORE = "From a copy: `intake restore COPY --data NEW`, in a new folder."
BEGIN_EMPTY = (
    "With no copy left, `intake serve --begin-empty` begins an empty office here, which phones refill with what they "
    "hold."
)


def existing_office(folder: Path) -> Settings:
    """The settings of the office in a folder, with the house's plans that it was served with last, if they are still
    there. Raises CommandError if there is no office: a slip makes no new one."""
    plans = last_plans(folder)
    settings = Settings(folder, plans_folder=plans if plans and plans.is_dir() else None)
    if not settings.database_file.exists():
        check_nothing_is_left(settings)
        raise no_office(folder)
    close_to_others(folder)
    check_tables(settings.database_file)
    if not was_served(settings):
        check_nothing_is_left(settings)
        raise no_office(folder)
    return settings


PARTS = ("photos", "house", "hall")
CLOSED = "closed-to-others"  # names the parts in which all that an earlier version left open is closed


def close_parts(folder: Path, stopped: Callable[[], bool]) -> None:
    """What lies deep in the office's own folders, and was made by a version that left it open, or copied here open:
    once for each part, since ten years of photographs take a while. One that was stopped is begun anew at the next
    start. A part may be a link elsewhere.

    The mark goes along when somebody copies the data folder, perhaps with every file open to all: so it names the very
    folders that it holds for, by where they are and by their inodes, and holds while nothing that stands in them is
    open. A copy of a folder has another inode, and another disk another place. Source: inode(7).
    """
    mark = folder / CLOSED
    if mark.is_symlink():
        mark.unlink()  # what it leads to is not ours to write
    said = mark.read_text("utf-8", "replace").splitlines() if mark.exists() else []
    parts = [part for part in ((folder / name).resolve() for name in PARTS) if part.is_dir()]
    closed = [f"{part.stat().st_ino} {part}" for part in parts]
    for part, line in zip(parts, closed, strict=True):
        if (line not in said or stands_open(part)) and not close_below(part, stopped):
            return
    if said != closed:
        mark.write_text("".join(f"{line}\n" for line in closed), "utf-8", "replace")


def check_plans_are_there(settings: Settings) -> None:
    """Before the house's own files are copied. Raises CommandError if those that the office was served with are gone:
    the copy would let go of those that it has."""
    plans = last_plans(settings.data_folder)
    if plans and not plans.is_dir():
        raise CommandError(
            f"The office was served last with the house's own plans in {plans}, and they are not there. Nothing was "
            "copied: the copy would be without them.",
            hint="Bring that folder back, or serve the office once with --plans and where they are now.",
        )


def check_may_begin(settings: Settings) -> None:
    """Before an office is served. Raises CommandError where one would begin empty beside what is left of another."""
    if not was_served(settings):
        check_nothing_is_left(settings)


def check_tables(file: Path) -> None:
    """Bring a database's schema up to date. Raises CommandError for a file that is none, NewerData for a newer one.

    A file of no bytes is what a full disk or a broken copy leaves: as a new office it would hide that one is gone.
    """
    if file.exists() and file.stat().st_size == 0:
        raise CommandError(
            f"{file} is empty: the office that was in it is gone.",
            hint="Restore a copy into a new folder (`intake restore COPY --data NEW`). If there never was an office "
            "here, remove the file and start again.",
        )
    try:
        with closing(sqlite3.connect(file, isolation_level=None)) as connection:
            bring_up_to_date(connection)
    except sqlite3.Error as error:
        if is_of_a_full_disk(error):
            raise
        raise CommandError(
            f"{file} cannot be opened ({error}).",
            hint=f"Leave it as it is, or name another folder with --data. {RESTORE}",
        ) from error


def was_served(settings: Settings) -> bool:
    """Whether there is a database in which an office took its name, as it does when it is served first, or something is
    on record."""
    file = settings.database_file
    if not file.exists() or file.stat().st_size == 0:
        return False
    try:
        with snapshot(file) as tx:
            tables = {row["name"] for row in tx.all("SELECT name FROM sqlite_schema WHERE type = 'table'")}
            return {"office", "operation_log"} <= tables and bool(
                tx.value("SELECT EXISTS (SELECT 1 FROM office) OR EXISTS (SELECT 1 FROM operation_log)")
            )
    except sqlite3.Error:
        return True  # what is damaged was something: whoever opens it says what is wrong


def check_nothing_is_left(settings: Settings) -> None:
    """Raises CommandError where things of an office are here, and the database that they belong to is not."""
    file, photos = settings.database_file, settings.photos_folder
    if settings.unfinished_file.exists():
        raise CommandError(
            f"{settings.data_folder} has an office in it that is not made to its end: `intake restore` was "
            "interrupted, or is at work still.",
            hint=f"Once it has ended, type the same again: `intake restore COPY --data {settings.data_folder}` makes "
            f"it whole. {BEGIN_EMPTY}",
        )
    wal = Path(f"{file}-wal")
    left = [wal.name] if wal.exists() and not file.exists() else []
    if photos.is_dir() and any(file.is_file() for file in photos.rglob("*")):
        left.append(photos.name)
    if not left:
        return
    state = "is empty" if file.exists() else "is gone"
    raise CommandError(
        f"{settings.data_folder} has things of an office in it ({', '.join(left)}), and its database {state}.",
        hint=f"Look for it first. {RESTORE} {BEGIN_EMPTY}",
    )


def no_office(folder: Path) -> CommandError:
    if any(folder.glob("head-[01].json")):  # as every copy has
        return CommandError(
            f"There is a copy in {folder}, and no office.",
            hint="`intake verify --data FOLDER` of the office that keeps it looks at it as well; without that office: "
            f"`intake restore {folder} --data NEW` checks all of it.",
        )
    demo = folder.with_name(f"{folder.name}-demo")
    there = f" The demo's is --data {demo}." if Settings(demo).database_file.exists() else ""
    return CommandError(
        f"There is no office in {folder}.",
        hint=f"Name its folder with --data, or start one there with `intake serve`.{there}",
    )


@contextmanager
def full_disk_told(folder: Path) -> Iterator[None]:
    """For the block, a full disk is told in words of this machine, wherever it is noticed. Raises CommandError."""
    try:
        yield
    except (OfficeFull, OSError, sqlite3.Error) as error:
        if not is_of_a_full_disk(error):
            raise
        raise CommandError(
            f"The disk that {folder} is on is full, and the office cannot work there.",
            hint="Make room on it and start the same command again: what was kept so far is still there. For another "
            "disk name a folder on it with --data.",
        ) from error
