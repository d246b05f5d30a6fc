"""Where a folder lies, and whether one lies in another, by whatever ways the two are named.

Paths alone do not tell: through a link, a bind mount or a share that is mounted twice one folder has several. So a
folder is known by its real path, where it is there by its number on its disk, and on Linux by its path in the file
system that is mounted there, which tells of a mounted part of it as well.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from intake.copies.disks import MOUNTS, mount_of

Mark = tuple[str | int, ...]


@dataclass(frozen=True)
class Whereabouts:
    """A folder, which need not be there: the `path` without links, by what it is known itself, and by what it and every
    folder that it lies in are known."""

    path: str
    own: frozenset[Mark]
    around: frozenset[Mark]

    def lies_in(self, other: Whereabouts) -> bool:
        """Whether this is the other folder, or lies in it."""
        return not self.around.isdisjoint(other.own)

    def is_same(self, other: Whereabouts) -> bool:
        return not self.own.isdisjoint(other.own)


def whereabouts_of(folder: str) -> Whereabouts:
    """Where a folder lies; by its name alone where links go round. May hang with its disk or network."""
    try:
        path = Path(folder).resolve()
    except (OSError, RuntimeError):  # until Python 3.13 the latter
        return as_named(folder)
    file = Path("/") / MOUNTS
    mounts = file.read_text(errors="surrogateescape") if file.exists() else ""
    around = {
        mark for folder in (path, *path.parents) for mark in (*marks(folder), *marks_in_mount(folder, mounts))
    }
    return Whereabouts(
        str(path), frozenset([*marks(path), *marks_in_mount(path, mounts)[:1]]), frozenset(around)
    )


def as_named(folder: str) -> Whereabouts:
    """The same by the name alone, for a folder that nobody can look at now."""
    path = Path(os.path.abspath(folder))
    return Whereabouts(
        str(path), frozenset({path_mark(path)}), frozenset(map(path_mark, [path, *path.parents]))
    )


def path_mark(path: Path) -> Mark:
    return "path", str(path)


def marks(path: Path) -> list[Mark]:
    """By what a folder itself is known: its path, and its number where it is there."""
    try:
        found = path.stat()
    except OSError:  # it is not there, or nobody may look
        return [path_mark(path)]
    numbered = (
        [("number", found.st_dev, found.st_ino)] if found.st_ino else []
    )  # some file systems number nothing
    return [path_mark(path), *numbered]


def marks_in_mount(path: Path, mounts: str) -> list[Mark]:
    """The path in its file system, and those above it there: of a part that is mounted elsewhere no other path tells
    what it is a part of."""
    mount = mount_of(path, mounts)
    if mount is None:
        return []
    inside = mount.root / path.relative_to(mount.at)
    return [("mounted", mount.number, str(folder)) for folder in (inside, *inside.parents)]
