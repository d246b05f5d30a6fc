"""A copy costs what is new, is whole at every moment, and says what keeps it from going on."""

from __future__ import annotations

import json
import sqlite3
from pathlib import Path
from typing import Any

import pytest

from intake.commands import main
from intake.copies.folder import Folder
from intake.copies.head import Head, framed, read_head
from intake.copies.keeper import reached_by
from intake.copies.reading import head_of
from intake.copies.seal import make_key
from intake.copies.source import DEVICE_COLUMNS, LOG_COLUMNS, PHOTO_COLUMNS
from intake.copies.states import CopyTrouble, State
from intake.photos.store import photo_file
from intake.settings import Settings
from tests.builders import a_photo, a_record_photo, digest, picture
from tests.conftest import Office, running
from tests.copies.tools import (
    LimitedFolder,
    LockedFolder,
    bytes_below,
    contents,
    copier_of,
    erase,
    faults_of,
    flip,
    photo_names,
    record_items,
    restored_from,
    until_done,
)
from tests.phone import Phone


def head_in(folder: Path) -> Head:
    return head_of(Folder(folder))


def test_a_copy_has_every_row_and_photo(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    photos = record_items(phone, day, 3)
    copier = copier_of(office.settings, copy)
    until_done(copier)
    assert head_in(copy).office_seq == contents(office.settings)["log"][-1][0]
    assert head_in(copy).chain == contents(office.settings)["log"][-1][8]
    assert copier.have == photo_names(photos)


def test_a_copy_costs_only_what_is_new(office: Office, phone: Phone, day: dict[str, Any], copy: Path) -> None:
    """The second step adds less than twice what the second item is; nothing that stood there is written again."""
    record_items(phone, day, 5, seed=1)
    copier = copier_of(office.settings, copy)
    until_done(copier)
    before = {name: (copy / name).read_bytes() for name in ("log.jsonl", "photos-0.pack", "photos.jsonl")}
    (photo,) = record_items(phone, day, 1, seed=2)
    until_done(copier)
    for name, content in before.items():
        assert (copy / name).read_bytes().startswith(content)
    assert (copy / "photos-0.pack").read_bytes() == before["photos-0.pack"] + photo


def test_a_step_without_news_writes_nothing(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    record_items(phone, day, 1)
    copier = copier_of(office.settings, copy)
    until_done(copier)
    before = bytes_below(copy)
    assert copier.step().nothing
    assert bytes_below(copy) == before


def test_a_copy_goes_on_after_the_office_was_started_anew(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    record_items(phone, day, 2, seed=1)
    until_done(copier_of(office.settings, copy))
    pack = (copy / "photos-0.pack").read_bytes()
    record_items(phone, day, 1, seed=2)
    until_done(copier_of(office.settings, copy, begun=True))
    assert (copy / "photos-0.pack").read_bytes().startswith(pack)
    assert head_in(copy).office_seq == len(contents(office.settings)["log"])


def test_what_stands_behind_the_head_is_cut_off(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, tmp_path: Path
) -> None:
    """A writer that was killed leaves half a line behind what counts."""
    record_items(phone, day, 1, seed=1)
    until_done(copier_of(office.settings, copy))
    for name in ("log.jsonl", "photos.jsonl", "photos-0.pack"):
        with (copy / name).open("ab") as stream:
            stream.write(b'0123456789abcdef {"rows":[{"off')
    record_items(phone, day, 1, seed=2)
    until_done(copier_of(office.settings, copy, begun=True))
    new = Settings(tmp_path / "new", clock=office.clock)
    assert restored_from(copy, new).faults == []
    assert contents(new)["log"] == contents(office.settings)["log"]


def test_a_full_stick_says_so_keeps_what_it_has_and_goes_on(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    folder = LimitedFolder(copy)
    copier = copier_of(office.settings, folder)
    folder.room = 10**9
    record_items(phone, day, 1, seed=1)
    until_done(copier)
    had = head_in(copy)
    record_items(phone, day, 3, seed=2)
    folder.room = sum(file.stat().st_size for file in copy.iterdir()) + 2000
    with pytest.raises(CopyTrouble) as told:
        copier.step()
    assert told.value.state is State.FULL
    assert "room" in told.value.detail
    assert head_in(copy).office_seq == had.office_seq
    assert sum(file.stat().st_size for file in copy.iterdir()) <= folder.room
    folder.room = 10**9
    until_done(copier)
    assert head_in(copy).office_seq == len(contents(office.settings)["log"])
    assert len(copier.have) == 4


def test_where_only_texts_fit_they_are_copied(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    folder = LimitedFolder(copy)
    folder.room = 10**9
    copier = copier_of(office.settings, folder)
    until_done(copier)
    photos = record_items(phone, day, 4)
    folder.room = sum(file.stat().st_size for file in copy.iterdir()) + sum(map(len, photos)) - 1
    with pytest.raises(CopyTrouble):
        copier.step()
    assert head_in(copy).office_seq == len(contents(office.settings)["log"])
    assert copier.have == set()


def test_a_locked_stick_says_so_and_goes_on_when_it_is_opened(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    folder = LockedFolder(copy)
    copier = copier_of(office.settings, folder)
    record_items(phone, day, 1, seed=1)
    until_done(copier)
    folder.locked = True
    record_items(phone, day, 1, seed=2)
    with pytest.raises(CopyTrouble) as told:
        copier.step()
    assert told.value.state is State.READ_ONLY
    folder.locked = False
    until_done(copier)
    assert len(copier.have) == 2


def test_a_stick_pulled_out_is_missed_and_none_is_begun_in_its_place(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    """Where a stick was mounted an empty folder may be left, on the office's own disk."""
    record_items(phone, day, 1, seed=1)
    copier = copier_of(office.settings, copy)
    until_done(copier)
    away = copy.rename(copy.with_name("away"))
    for _ in ("no folder", "an empty one"):
        with pytest.raises(CopyTrouble) as told:
            copier.step()
        assert told.value.state is State.MISSING
        copy.mkdir(exist_ok=True)
    assert [name for name in copy.iterdir() if name.name != "in-use"] == []
    for left in copy.iterdir():
        left.unlink()
    copy.rmdir()
    record_items(phone, day, 1, seed=2)
    away.rename(copy)
    until_done(copier)
    assert len(copier.have) == 2


def test_a_folder_with_other_things_in_it_is_left_alone(office: Office, copy: Path) -> None:
    copy.mkdir()
    (copy / "holiday.txt").write_text("sea")
    with pytest.raises(CopyTrouble) as told:
        copier_of(office.settings, copy).step()
    assert told.value.state is State.FOREIGN
    assert {file.name for file in copy.iterdir()} <= {"holiday.txt", "in-use"}


def test_another_office_s_copy_is_left_alone(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, tmp_path: Path
) -> None:
    other = Settings(tmp_path / "other", clock=office.clock)
    with running(other, office.clock, office.ids):
        until_done(copier_of(other, copy))
    before = bytes_below(copy)
    with pytest.raises(CopyTrouble) as told:
        copier_of(office.settings, copy).step()
    assert told.value.state is State.FOREIGN
    assert "another office" in told.value.detail
    assert bytes_below(copy) == before


@pytest.mark.parametrize("version", [0, 4])
def test_a_copy_of_another_format_is_left_alone(office: Office, copy: Path, version: int) -> None:
    until_done(copier_of(office.settings, copy))
    newest = read_head(Folder(copy))
    assert newest is not None
    head = newest.model_dump() | {"format": version, "serial": newest.serial + 1}
    (copy / f"head-{head['serial'] % 2}.json").write_bytes(framed(head))
    before = bytes_below(copy)
    with pytest.raises(CopyTrouble) as told:
        copier_of(office.settings, copy, begun=True).step()
    assert told.value.state is State.NEWER
    assert f"format {version}" in told.value.detail
    assert bytes_below(copy) == before


def test_a_damaged_newest_head_leaves_the_one_before(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    until_done(copier_of(office.settings, copy))
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy, begun=True))
    newest = head_in(copy)
    flip(copy / f"head-{newest.serial % 2}.json", 40)
    assert head_in(copy).serial == newest.serial - 1
    until_done(copier_of(office.settings, copy, begun=True))
    assert head_in(copy).office_seq == newest.office_seq


def test_two_damaged_heads_are_said_and_nothing_is_written(office: Office, copy: Path) -> None:
    until_done(copier_of(office.settings, copy))
    for name in ("head-0.json", "head-1.json"):
        flip(copy / name, 40)
    before = bytes_below(copy)
    with pytest.raises(CopyTrouble) as told:
        copier_of(office.settings, copy, begun=True).step()
    assert told.value.state is State.DAMAGED
    assert bytes_below(copy) == before


def test_photos_that_went_from_a_copy_are_copied_again(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, tmp_path: Path
) -> None:
    photos = record_items(phone, day, 2)
    until_done(copier_of(office.settings, copy))
    (copy / "photos-0.pack").unlink()
    copier = copier_of(office.settings, copy, begun=True)
    until_done(copier)
    assert copier.have == photo_names(photos)
    new = Settings(tmp_path / "new", clock=office.clock)
    assert restored_from(copy, new).photos == 2


@pytest.mark.parametrize(("left", "sealed"), [(0.0, False), (0.6, False), (0.6, True)])
@pytest.mark.parametrize(
    "kind", ["log", "words", "erased", "plans", "photos", "pack", "devices", "files", "house"]
)
def test_what_was_cut_in_a_copy_counts_no_more_and_is_copied_again(
    office: Office,
    phone: Phone,
    day: dict[str, Any],
    copy: Path,
    tmp_path: Path,
    kind: str,
    left: float,
    sealed: bool,
) -> None:
    """A file of the copy is gone, or shorter, while the office is at work; its head says all is there."""
    (office.settings.data_folder / "house").mkdir(exist_ok=True)
    (office.settings.data_folder / "house" / "words.yaml").write_text("teapot: a pot for tea")
    photos = [*record_items(phone, day, 1, seed=1), *record_items(phone, day, 2, seed=2)]
    visit = next(one for one in phone.answered if one["kind"] == "open_visit")
    secret, recipient = make_key() if sealed else (None, None)
    folder = LockedFolder(copy)
    copier = copier_of(office.settings, folder, seal_to=recipient)
    until_done(copier)
    erase(office.settings, visit["visit_id"])
    until_done(copier)
    newest = copier.holds_seq
    file = copy / getattr(head_in(copy), kind).name
    content = file.read_bytes()
    file.unlink() if left == 0 else file.write_bytes(content[: int(len(content) * left)])

    folder.locked = True
    with pytest.raises(CopyTrouble):
        copier.step()
    assert (copier.holds_seq < newest) == (kind in ("log", "words"))
    assert (len(copier.have) < len(photos)) == (kind in ("photos", "pack"))
    folder.locked = False
    until_done(copier)
    assert (copier.holds_seq, copier.have) == (newest, photo_names(photos))
    new = Settings(tmp_path / "new", clock=office.clock)
    assert restored_from(copy, new, secret=secret).faults == []
    for table in ("log", "words", "photos", "plans", "devices"):
        assert contents(new)[table] == contents(office.settings)[table]


def test_a_photo_that_the_office_cannot_read_is_never_called_safe(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    """A changed byte on the office's disk must not be passed on as a second place."""
    bad, good = record_items(phone, day, 2)
    (name,) = photo_names([bad])
    (file,) = office.settings.data_folder.rglob(name)
    flip(file, 100)
    copier = copier_of(office.settings, copy)
    lag = copier.step()
    assert copier.have == photo_names([good])
    assert (lag.photos, list(copier.unread)) == (1, [name])


def a_bag_and_a_vase(phone: Phone, item: dict[str, Any]) -> tuple[bytes, bytes]:
    """A picture of a visit and one of its item, both at the office."""
    bag, vase = picture(1), picture(2)
    phone.keep(a_record_photo(phone.ids, item["visit_id"], None, bag))
    phone.keep(a_photo(phone.ids, item["item_id"], vase, vase))
    phone.bundle([bag, vase]).raise_for_status()
    return bag, vase


@pytest.mark.parametrize("looked", [False, True])
def test_a_picture_that_went_with_its_owner_is_not_waited_for(
    office: Office,
    phone: Phone,
    item: dict[str, Any],
    copy: Path,
    new: Settings,
    *,
    looked: bool,
) -> None:
    """Its file is gone at the office: no copy is behind for it, whether it had been looked for or not."""
    bag, vase = a_bag_and_a_vase(phone, item)
    copier = copier_of(office.settings, copy)
    if looked:
        hidden = photo_file(office.settings.photos_folder, digest(bag))
        hidden.rename(hidden.with_name("elsewhere"))
        while copier.step().photos != 1:
            pass
        assert list(copier.unread) == [digest(bag)]
    data = str(office.settings.data_folder)
    assert main(["erase", "--data", data, item["visit_id"], "--yes"]) == 0
    until_done(copier)
    assert (copier.have, list(copier.gone), copier.unread) == ({digest(vase)}, [digest(bag)], {})
    assert reached_by(copier).photos == 2
    assert restored_from(copy, new).photos == 1
    assert faults_of(new) == []


def test_a_picture_that_went_with_its_owner_is_not_restored(
    office: Office, phone: Phone, item: dict[str, Any], copy: Path, new: Settings
) -> None:
    """A copy that was made before has its file, and keeps it until it is begun anew."""
    _, vase = a_bag_and_a_vase(phone, item)
    copier = copier_of(office.settings, copy)
    until_done(copier)
    assert main(["erase", "--data", str(office.settings.data_folder), item["visit_id"], "--yes"]) == 0
    until_done(copier)
    assert restored_from(copy, new).photos == 1
    files = {file.name for file in new.photos_folder.rglob("*") if file.is_file()}
    assert files == {digest(vase)}
    assert faults_of(new) == []


def test_no_code_that_pairs_and_no_secret_is_in_a_copy(office: Office, phone: Phone, copy: Path) -> None:
    """Source for what must stay out: a code of eight signs can be found from its digest by trying; 256 bits cannot."""
    code = office.code("manager", "thief's")
    until_done(copier_of(office.settings, copy))
    rows = sqlite3.connect(office.settings.database_file).execute("SELECT code_sha256 FROM pairing_code")
    digests = [row[0].encode() for row in rows]
    found = bytes_below(copy)
    secret = phone.client.cookies["intake"]
    assert len(digests) >= 3
    assert not any(one in found for one in [*digests, code.encode(), secret.encode()])
    assert contents(office.settings)["devices"][0][3].encode() in found


def test_a_signed_off_device_is_signed_off_in_the_copy(
    office: Office, manager: Phone, phone: Phone, copy: Path
) -> None:
    copier = copier_of(office.settings, copy)
    until_done(copier)
    manager.client.post(f"/devices/{phone.device_id}/revoke").raise_for_status()
    until_done(copier)
    head = head_in(copy)
    assert head.devices is not None
    devices = json.loads((copy / head.devices.name).read_bytes())
    (mine,) = [device for device in devices if device["device_id"] == phone.device_id]
    assert mine["revoked_at"] is not None


@pytest.mark.parametrize(
    ("table", "copied", "left_out"),
    [
        ("operation_log", LOG_COLUMNS, ()),
        ("private_words", ("operation_id", "words"), ()),
        ("photo_file", PHOTO_COLUMNS, ("arrival",)),
        ("plan_version", ("class_id", "version", "body"), ()),
        (
            "device",
            DEVICE_COLUMNS,
            ("last_seen_at", "holding", "day_id", "table_id", "known_since", "brought_for", "roles_before"),
        ),
        ("set_aside", ("operation_id", "content"), ()),
        (
            "office",
            ("only_row", "office_id", "first_serial", "last_serial"),
            (
                "epoch",
                "apply_version",
                "hearing_since",
                "proof_key",
                "losses",
                "loss_shown_by",
                "untidy",
            ),
        ),
    ],
)
def test_every_column_of_what_is_no_derived_table_is_copied_or_named(
    office: Office, table: str, copied: tuple[str, ...], left_out: tuple[str, ...]
) -> None:
    """Whoever adds a column decides whether it stands in copies."""
    rows = sqlite3.connect(office.settings.database_file).execute(f"SELECT * FROM {table} LIMIT 0")
    assert {one[0] for one in rows.description} == {*copied, *left_out}
