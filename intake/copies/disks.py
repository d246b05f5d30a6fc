"""Whether a copy outlives its office's disk: what lies on the same one is lost with it, and is no second place.

Another device number is not enough: two partitions, two volumes or two subvolumes of one disk have two of them, and
so has a folder in memory. Linux tells which disk lies under each, and which folders are another machine's. Whatever
cannot be told there (the layers of a container, a pool of several disks) is taken for the same disk: phones that
keep too much cost room, phones that let go too early cost the day. Elsewhere the volume decides.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import NamedTuple

IN_MEMORY = {"tmpfs", "ramfs", "devtmpfs"}
MEMORY = "memory"
MOUNTS = "proc/self/mountinfo"
NETWORK = re.compile(r"nfs4?|cifs|smb3|fuse\.sshfs|ceph|davfs")


def is_apart(copy: Path, office: Path, root: Path = Path("/")) -> bool:
    """Whether the copy lies elsewhere than the office. Raises OSError where one of them is not there."""
    if copy.stat().st_dev == office.stat().st_dev:
        return False
    mounts = root / MOUNTS
    if not mounts.exists():
        return True  # not Linux: another volume is all that can be told
    return lies_apart(copy.resolve(), office.resolve(), mounts.read_text(errors="surrogateescape"), root)


def lies_apart(copy: Path, office: Path, mounts: str, root: Path) -> bool:
    """The same for Linux, by its list of mounts and what lies in `root`/sys."""
    under_copy, under_office = under(copy, mounts, root), under(office, mounts, root)
    return bool(under_copy and under_office) and MEMORY not in under_copy and not under_copy & under_office


class Mount(NamedTuple):
    """Where a file system is mounted: its path there, which part of it that is, and what lies below it."""

    at: Path
    root: Path
    file_system: str
    source: str
    number: str


def mount_of(path: Path, mounts: str) -> Mount | None:
    """What a whole path lies on.

    Source of the columns: the kernel's Documentation/filesystems/proc.rst, 3.5.
    """
    found = None
    for line in filter(None, mounts.split("\n")):  # a volume's name may hold any other sign, as it is
        before, _, behind = line.partition(" - ")
        columns, (kind, source, *_) = before.split(" "), behind.split(" ")
        at = unescaped(columns[4])
        if path.is_relative_to(at) and (found is None or len(at.parts) >= len(found.at.parts)):
            found = Mount(at, unescaped(columns[3]), kind, source, columns[2])
    return found


def unescaped(column: str) -> Path:
    return Path(re.sub(r"\\(\d{3})", lambda octal: chr(int(octal[1], 8)), column))


def under(path: Path, mounts: str, root: Path) -> set[str]:
    """The disks that a whole path lies on, the machine whose folder it is, or `memory`; nothing if nobody can tell."""
    mount = mount_of(path, mounts)
    if mount is None:
        return set()
    if mount.file_system in IN_MEMORY:
        return {MEMORY}
    if NETWORK.fullmatch(mount.file_system):
        return {re.split(r"[:/]", mount.source.removeprefix("//").rpartition("@")[2])[0]}
    numbered, named = (
        root / "sys/dev/block" / mount.number,
        root / "sys/class/block" / Path(mount.source).name,
    )
    device = numbered if numbered.exists() else named
    is_device = mount.source.startswith("/dev/") and device.exists()
    return disks(device.resolve(), mounts, root) if is_device else set()


def disks(device: Path, mounts: str, root: Path) -> set[str]:
    """The whole disks below a partition, a volume of several, or a file that is mounted as a disk."""
    if (device / "partition").exists():
        return disks(device.parent, mounts, root)
    backing = device / "loop/backing_file"
    if backing.exists():
        return under(Path(backing.read_text().strip()), mounts, root)
    below = list((device / "slaves").glob("*"))
    found = [disks(device.resolve(), mounts, root) for device in below]
    return set().union(*found) if found else {device.name}
