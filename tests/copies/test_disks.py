"""What counts as a second place: another disk, another machine, and nothing that cannot be told.

Source of the lists of mounts: proc(5), /proc/pid/mountinfo; of the tree below sys: the kernel's
Documentation/ABI/testing/sysfs-block and sysfs-block-loop. The lines themselves are invented.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from intake.copies.disks import is_apart, lies_apart

MOUNTS = r"""
21 1 8:2 / / rw,relatime - ext4 /dev/sda2 rw
22 21 8:3 / /srv rw,relatime - ext4 /dev/sda3 rw
23 21 0:41 /home /home rw,relatime - btrfs /dev/sda4 rw
24 21 8:17 / /media/a\040stick rw,relatime - vfat /dev/sdb1 rw
25 21 253:0 / /vault rw,relatime - ext4 /dev/mapper/vault rw
26 21 7:0 / /image rw,relatime - ext4 /dev/loop0 rw
27 21 0:52 / /share rw,relatime - nfs4 keep.invalid:/day rw
28 21 0:53 / /share2 rw,relatime - cifs //keep.invalid/other rw
29 21 0:30 / /dev/shm rw shared:4 - tmpfs tmpfs rw
30 21 0:60 / /layers rw,relatime - overlay overlay rw
31 21 0:61 / /pool rw,relatime - zfs pool/day rw
"""


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A disk sda with three partitions, a stick sdb, a closed volume on sda3, and a file mounted as a disk."""
    block, by_number = tmp_path / "sys/class/block", tmp_path / "sys/dev/block"
    devices = {
        "sda": "",
        "sda2": "sda",
        "sda3": "sda",
        "sda4": "sda",
        "sdb": "",
        "sdb1": "sdb",
        "dm-0": "",
        "loop0": "",
    }
    numbers = {"8:2": "sda2", "8:3": "sda3", "8:17": "sdb1", "253:0": "dm-0", "7:0": "loop0"}
    block.mkdir(parents=True)
    by_number.mkdir(parents=True)
    for name, whole in devices.items():
        device = tmp_path / "sys/devices" / whole / name
        device.mkdir(parents=True)
        if whole:
            (device / "partition").write_text("1\n")
        (block / name).symlink_to(device)
    for number, name in numbers.items():
        (by_number / number).symlink_to((block / name).resolve())
    (block / "dm-0/slaves").mkdir()
    (block / "dm-0/slaves/sda3").symlink_to((block / "sda3").resolve())
    (block / "loop0/loop").mkdir()
    (block / "loop0/loop/backing_file").write_text("/srv/disk.img\n")
    return tmp_path


@pytest.mark.parametrize(
    ("copy", "office", "apart"),
    [
        ("/media/a stick/copy", "/home/office", True),
        ("/share/copy", "/home/office", True),
        ("/media/a stick/copy", "/dev/shm/office", True),
        ("/var/copy", "/home/office", False),  # another partition of the same disk
        ("/vault/copy", "/var/office", False),  # a closed volume on the same disk
        ("/image/copy", "/var/office", False),  # a file on the same disk
        ("/share2/copy", "/share/office", False),  # two folders of one machine
        ("/dev/shm/copy", "/var/office", False),
        ("/layers/copy", "/var/office", False),
        ("/media/a stick/copy", "/layers/office", False),
        ("/pool/copy", "/var/office", False),
    ],
)
def test_only_what_is_told_to_be_elsewhere_is(root: Path, copy: str, office: str, apart: bool) -> None:
    assert lies_apart(Path(copy), Path(office), MOUNTS.strip(), root) is apart


def test_two_folders_of_one_disk_are_not_apart(tmp_path: Path) -> None:
    (tmp_path / "copy").mkdir()
    (tmp_path / "office").mkdir()
    assert not is_apart(tmp_path / "copy", tmp_path / "office")
