"""What counts as kept twice was read back from a copy, or written to it, since it was last met: nothing else does."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from intake.copies import copier as copying
from intake.copies import news
from intake.copies.copier import Copier
from intake.copies.folder import Folder
from intake.copies.head import framed, unframed, write_head
from intake.copies.reading import head_of
from intake.copies.seal import make_key
from intake.copies.source import source_of
from intake.copies.states import CopyTrouble
from intake.settings import Settings
from tests.builders import digest
from tests.conftest import Office
from tests.copies.tools import (
    OWNER_NAME,
    LimitedFolder,
    bytes_below,
    contents,
    copier_of,
    erase,
    flip,
    photo_names,
    record_items,
    restored_from,
    until_done,
    watch_moments,
)
from tests.phone import Phone

ROOMY = 10**9


@pytest.fixture(params=["open", "sealed"])
def key(request: pytest.FixtureRequest) -> tuple[str, str] | None:
    """The secret half of a copy's key and what it is sealed to; None for an open copy."""
    return make_key() if request.param == "sealed" else None


def begun_again(office: Office, copy: Path | Folder, key: tuple[str, str] | None = None) -> Copier:
    """The copier of another process, or of the same after the stick was away."""
    return copier_of(office.settings, copy, begun=True, seal_to=key[1] if key else None)


def owner_s_words(office: Office) -> tuple[int, str, str]:
    """The first operation with personal words: its place, its id, its words."""
    log, words = contents(office.settings)["log"], dict(contents(office.settings)["words"])
    return next((row[0], row[1], words[row[1]]) for row in log if row[1] in words)


def lose_words(office: Office, operation_id: str) -> None:
    office.change("DELETE FROM private_words WHERE operation_id = ?", operation_id)


def words_come_back(office: Office, operation_id: str, words: str) -> None:
    office.change("INSERT INTO private_words (operation_id, words) VALUES (?, ?)", operation_id, words)


def test_a_photo_damaged_in_its_pack_is_copied_until_it_stands(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, key: tuple[str, str] | None, new: Settings
) -> None:
    """The index names it, and the pack is as long as it was."""
    photos = record_items(phone, day, 2)
    until_done(copier_of(office.settings, copy, seal_to=key[1] if key else None))
    flip(copy / "photos-0.pack", 300)
    copier = begun_again(office, copy, key)
    lag = copier.step()
    assert (copier.have, lag.photos) == (photo_names(photos[1:]), 1)
    until_done(copier)
    assert copier.have == photo_names(photos)
    assert restored_from(copy, new, secret=key[0] if key else None).faults == []


@pytest.mark.parametrize("cut", [0, 1], ids=["whole", "cut"])
def test_a_sealed_photo_without_a_check_counts_for_its_length_where_room_is_scarce(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, cut: int
) -> None:
    """Copies sealed by earlier versions have no checks: a stick would be filled with what it has already."""
    photos = record_items(phone, day, 2)
    recipient = make_key()[1]
    until_done(copier_of(office.settings, copy, seal_to=recipient))
    without_checks(copy)
    pack = copy / "photos-0.pack"
    size = pack.stat().st_size
    with pack.open("r+b") as stream:
        stream.truncate(size - cut)
    folder = LimitedFolder(copy)
    folder.room = sum(file.stat().st_size for file in copy.iterdir()) + size * 3 // 2
    copier = copier_of(office.settings, folder, begun=True, seal_to=recipient)
    copier.step()
    assert copier.have == photo_names(photos[: 2 - cut])
    for _ in range(3):
        until_done(copier)
    assert copier.have == photo_names(photos)
    if not cut:
        assert bytes_of_packs(copy) == size, "nothing was copied twice"


def test_sealed_photos_without_a_check_get_one_when_all_else_is_done(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    """Of one that is damaged nobody else would ever know before it is restored, and phones let go of it. What the
    office cannot read itself stays as it is."""
    photos = record_items(phone, day, 4)
    secret, recipient = make_key()
    until_done(copier_of(office.settings, copy, seal_to=recipient))
    without_checks(copy)
    flip(copy / "photos-0.pack", 300)
    gone, changed = [next(office.settings.photos_folder.rglob(digest(photo))) for photo in photos[2:]]
    gone.unlink()
    flip(changed, 100)
    size, copier = bytes_of_packs(copy), copier_of(office.settings, copy, begun=True, seal_to=recipient)
    until_done(copier)
    assert copier.step().nothing
    grown = bytes_of_packs(copy)
    assert size < grown < 2 * size
    had = copier.have, copier.have_bytes
    assert had == (photo_names(photos), sum(map(len, photos)))
    for again in (copier, copier_of(office.settings, copy, begun=True, seal_to=recipient)):
        until_done(again)
        assert (again.step().nothing, bytes_of_packs(copy)) == (True, grown), "once is enough"
    assert restored_from(copy, new, secret=secret).faults == []


def without_checks(copy: Path) -> None:
    """Write the index of photos as earlier versions did."""
    folder = Folder(copy)
    head = head_of(folder)
    lines = [unframed(line) for line in (copy / head.photos.name).read_bytes().splitlines(keepends=True)]
    old = [framed({name: said for name, said in line.items() if name != "check"}) for line in lines]
    assert old != [framed(line) for line in lines]
    (copy / head.photos.name).write_bytes(b"".join(old))
    counted = head.photos.model_copy(update={"bytes": sum(map(len, old))})
    write_head(folder, head.model_copy(update={"serial": head.serial + 1, "photos": counted}))


def bytes_of_packs(copy: Path) -> int:
    return sum(file.stat().st_size for file in copy.glob("*.pack"))


def test_a_photo_that_neither_side_had_whole_counts_once_it_came_and_was_written(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    """As in an office that was made from the damaged copy."""
    photos = record_items(phone, day, 2)
    until_done(copier_of(office.settings, copy))
    flip(copy / "photos-0.pack", 300)
    [lost] = photo_names(photos[:1])
    office.change("DELETE FROM photo_file WHERE sha256 = ?", lost)
    (office.settings.photos_folder / lost[:2] / lost).unlink()
    copier = begun_again(office, copy)
    until_done(copier)
    assert lost not in copier.have
    phone.bundle(photos[:1]).raise_for_status()
    assert lost not in copier.have
    until_done(copier)
    assert lost in copier.have
    assert restored_from(copy, new).faults == []


def test_nothing_is_asked_of_a_copy_while_the_tables_are_read(
    office: Office,
    manager: Phone,
    phone: Phone,
    day: dict[str, Any],
    copy: Path,
    key: tuple[str, str] | None,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A stick that hangs then would keep the write-ahead log from being folded in, and it would grow without end."""
    asked = watch_moments(monkeypatch)
    recipient = key[1] if key else None
    record_items(phone, day, 2, seed=1)
    until_done(copier_of(office.settings, copy, seal_to=recipient))
    for name in ("log.jsonl", "words-0.jsonl", "photos.jsonl", "photos-0.pack"):
        flip(copy / name, 40)
    visit = next(one for one in phone.feed()["records"] if one["kind"] == "visit")
    manager.keep(("erase_consignor", {"visit_id": visit["record_id"]}))
    assert manager.push()[0]["outcome"] == "kept"
    (copy / "before-1").mkdir()
    until_done(begun_again(office, copy, key))
    full = LimitedFolder(copy)
    record_items(phone, day, 1, seed=2)
    with pytest.raises(CopyTrouble, match="no room"):
        begun_again(office, full, key).step()
    assert asked == []
    with source_of(office.settings).moment():
        head_of(Folder(copy))
    assert asked, "this would have been seen"


def test_photos_are_read_back_a_little_at_a_time(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A step is bounded, however large the copy is: what was not looked at yet is not said to stand."""
    photos = record_items(phone, day, 3)
    until_done(copier_of(office.settings, copy))
    monkeypatch.setattr(copying, "READ_BACK_A_STEP", 1)
    copier = begun_again(office, copy)
    seen = []
    for _ in range(3):
        lag = copier.step()
        seen.append((len(copier.have), lag.photos, lag.bytes))
    assert seen == [(1, 2, 0), (2, 1, 0), (3, 0, 0)]
    assert copier.have == photo_names(photos)
    assert (copy / "photos-0.pack").stat().st_size == sum(map(len, photos)), "nothing was copied twice"


def test_words_damaged_in_a_copy_and_lost_at_the_office_count_once_they_are_written(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    """The phone that sends them again asks in the same breath what it may let go of."""
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy))
    place, operation_id, words = owner_s_words(office)
    flip(copy / "words-0.jsonl", (copy / "words-0.jsonl").read_bytes().index(words[5:30].encode()[:4]))
    lose_words(office, operation_id)
    copier = begun_again(office, copy)
    until_done(copier)
    assert copier.holds_seq == place - 1
    words_come_back(office, operation_id, words)
    assert copier.holds_seq == place - 1
    until_done(copier)
    assert copier.holds_seq == head_of(Folder(copy)).office_seq
    assert restored_from(copy, new).faults == []
    assert contents(new)["words"] == contents(office.settings)["words"]


def test_words_that_the_office_has_replace_damaged_ones(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, key: tuple[str, str] | None, new: Settings
) -> None:
    record_items(phone, day, 1)
    until_done(copier_of(office.settings, copy, seal_to=key[1] if key else None))
    flip(copy / "words-0.jsonl", 150)
    copier = begun_again(office, copy, key)
    until_done(copier)
    assert copier.holds_seq == len(contents(office.settings)["log"])
    assert restored_from(copy, new, secret=key[0] if key else None).faults == []


def test_words_that_come_back_while_there_is_no_room_for_them_do_not_count(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    """They were gone when the copy was begun; its last operation stands in it all the same."""
    record_items(phone, day, 1)
    place, operation_id, words = owner_s_words(office)
    lose_words(office, operation_id)
    folder = LimitedFolder(copy)
    folder.room = ROOMY
    copier = copier_of(office.settings, folder)
    until_done(copier)
    assert copier.holds_seq == place - 1
    folder.room = sum(file.stat().st_size for file in copy.iterdir())
    words_come_back(office, operation_id, words)
    with pytest.raises(CopyTrouble):
        copier.step()
    assert copier.holds_seq == place - 1
    folder.room = ROOMY
    until_done(copier)
    assert copier.holds_seq == len(contents(office.settings)["log"])
    assert restored_from(copy, new).faults == []


@pytest.mark.parametrize("how", ["open", "sealed"])
def test_what_tables_had_of_lost_words_gives_way_to_those_that_came(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, how: str
) -> None:
    """As many words stand here as there; one of them proves nothing."""
    record_items(phone, day, 1)
    key = make_key() if how == "sealed" else None
    place, operation_id, words = owner_s_words(office)
    lose_words(office, operation_id)
    words_come_back(office, operation_id, '{"salt":"","value":"Philippa"}')
    until_done(copier_of(office.settings, copy, seal_to=key[1] if key else None))
    copier = begun_again(office, copy, key)
    until_done(copier)
    assert copier.holds_seq == place - 1
    office.change("UPDATE private_words SET words = ? WHERE operation_id = ?", words, operation_id)
    until_done(copier)
    assert copier.holds_seq == len(contents(office.settings)["log"])
    assert begun_again(office, copy, key).step().nothing


@pytest.mark.parametrize("how", ["open", "sealed"])
def test_a_damaged_row_of_the_log_counts_no_further_until_it_is_written(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, how: str, new: Settings
) -> None:
    """The log is written beside the damaged one, so that what stands behind the damage is never cut off."""
    record_items(phone, day, 1)
    key = make_key() if how == "sealed" else None
    folder = LimitedFolder(copy)
    folder.room = ROOMY
    until_done(copier_of(office.settings, folder, seal_to=key[1] if key else None))
    log = (copy / "log.jsonl").read_bytes()
    lines = log.splitlines(keepends=True)
    at = len(lines) // 2
    flip(copy / "log.jsonl", sum(map(len, lines[:at])) + 40)
    damaged = (copy / "log.jsonl").read_bytes()
    folder.room = sum(file.stat().st_size for file in copy.iterdir())
    copier = begun_again(office, folder, key)
    for _ in range(2):
        with pytest.raises(CopyTrouble):
            copier.step()
        assert copier.holds_seq == (at if key is None else 0)
    assert (copy / "log.jsonl").read_bytes() == damaged
    folder.room = ROOMY
    until_done(copier)
    assert copier.holds_seq == len(contents(office.settings)["log"])
    assert (copy / "log.jsonl").read_bytes() == damaged, "the head before this one names it still"
    record_items(phone, day, 1, seed=2)
    until_done(copier)
    assert not (copy / "log.jsonl").exists()
    assert restored_from(copy, new, secret=key[0] if key else None).faults == []
    assert contents(new)["log"] == contents(office.settings)["log"]


def test_damaged_lists_of_devices_and_erasures_are_written_anew(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path, new: Settings
) -> None:
    record_items(phone, day, 1)
    (visit,) = [row[4] for row in contents(office.settings)["log"] if '"kind":"open_visit"' in row[5]]
    copier = copier_of(office.settings, copy)
    until_done(copier)
    erase(office.settings, visit)
    until_done(copier)
    head = head_of(Folder(copy))
    assert head.devices is not None
    flip(copy / head.erased.name, 40)
    flip(copy / head.devices.name, 40)
    until_done(begun_again(office, copy))
    assert restored_from(copy, new).faults == []
    assert contents(new)["devices"] == contents(office.settings)["devices"]


def put_back(office: Office, before: Path) -> None:
    """The office's tables as they were, under the same epoch."""
    with (
        closing(sqlite3.connect(before)) as saved,
        closing(sqlite3.connect(office.settings.database_file)) as file,
    ):
        saved.backup(file)


def test_erasures_are_told_by_what_stands_in_the_copy_and_by_no_number(
    office: Office,
    phone: Phone,
    day: dict[str, Any],
    copy: Path,
    new: Settings,
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
) -> None:
    """The tables of before an erasure are put back, and another owner's erasure gets the number that the first had."""
    for seed in (1, 2):
        record_items(phone, day, 1, seed=seed)
    visits = [row[4] for row in contents(office.settings)["log"] if '"kind":"open_visit"' in row[5]]
    mine = {
        visit: {row[1] for row in contents(office.settings)["log"] if row[4] == visit} for visit in visits
    }
    monkeypatch.setattr(news, "ROWS_A_STEP", len(contents(office.settings)["log"]) - 1)
    before = tmp_path / "before.sqlite3"
    with (
        closing(sqlite3.connect(office.settings.database_file)) as file,
        closing(sqlite3.connect(before)) as to,
    ):
        file.backup(to)
    copier_of(office.settings, copy).step()
    erase(office.settings, visits[0])
    copier_of(office.settings, copy, begun=True).step()
    put_back(office, before)
    erase(office.settings, visits[1])
    copier = begun_again(office, copy)
    until_done(copier)
    words = (copy / head_of(Folder(copy)).words.name).read_text()
    standing = {one for one, _ in contents(office.settings)["words"]}
    assert not any(one in words for one in mine[visits[1]])
    assert all(one in words for one in mine[visits[0]] & standing)
    assert restored_from(copy, new).faults == []
    assert contents(new)["words"] == contents(office.settings)["words"]
    erase(office.settings, visits[0])
    until_done(copier)
    assert OWNER_NAME.encode() not in bytes_below(copy)


@pytest.mark.parametrize("again", [False, True])
def test_an_owner_whose_words_only_the_copy_had_is_erased_there(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], copy: Path, again: bool
) -> None:
    """The office had lost them, so that it notes of no operation that its words were erased."""
    record_items(phone, day, 1)
    (visit,) = [row[4] for row in contents(office.settings)["log"] if '"kind":"open_visit"' in row[5]]
    copier = copier_of(office.settings, copy)
    until_done(copier)
    office.change("DELETE FROM private_words")
    manager.keep(("erase_consignor", {"visit_id": visit}))
    assert manager.push()[0]["outcome"] == "kept"
    assert OWNER_NAME.encode() in bytes_below(copy)
    until_done(begun_again(office, copy) if again else copier)
    assert OWNER_NAME.encode() not in bytes_below(copy)


def test_a_photo_that_the_office_could_not_read_for_a_while_is_copied_when_it_can(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    """`verify` sets a changed photo aside, and its phone sends it again."""
    photos = record_items(phone, day, 2)
    [name] = photo_names(photos[:1])
    file = office.settings.photos_folder / name[:2] / name
    flip(file, 100)
    copier = copier_of(office.settings, copy)
    copier.step()
    assert list(copier.unread) == [name]
    file.rename(file.with_name(f"{name}.damaged"))
    assert copier.step().photos == 1
    phone.bundle(photos[:1]).raise_for_status()
    until_done(copier)
    assert (copier.unread, copier.have) == ({}, photo_names(photos))


def test_a_full_stick_is_not_read_anew_at_every_look(
    office: Office, phone: Phone, day: dict[str, Any], copy: Path
) -> None:
    """What was read back stays so as long as the stick is in reach; what was about to be written is not forgotten."""
    folder = CountingFolder(copy)
    folder.room = ROOMY
    record_items(phone, day, 1, seed=1)
    copier = copier_of(office.settings, folder)
    until_done(copier)
    record_items(phone, day, 2, seed=2)
    folder.room = sum(file.stat().st_size for file in copy.iterdir())
    folder.opened.clear()
    for _ in range(3):
        with pytest.raises(CopyTrouble):
            copier.step()
    assert folder.opened == []
    folder.room = ROOMY
    until_done(copier)
    assert len(copier.have) == 3


class CountingFolder(LimitedFolder):
    """It notes which files are read through."""

    def __init__(self, path: Path) -> None:
        super().__init__(path)
        self.opened: list[str] = []

    def open(self, name: str) -> Any:
        self.opened.append(name)
        return super().open(name)
