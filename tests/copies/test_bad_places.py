"""A stick with a bad place: what stands on it is lost and named, and all that stands behind it is read."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest

from intake.commands import main
from intake.copies.folder import SECTOR, Folder
from intake.copies.head import HEADS
from intake.copies.reading import head_of
from intake.settings import Settings
from tests.conftest import Office
from tests.copies.tools import (
    contents,
    copier_of,
    erase,
    faults_of,
    record_items,
    restored_from,
    spoil,
    until_done,
)
from tests.phone import Phone

ALL = range(10**9)


@pytest.fixture
def whole(office: Office, phone: Phone, day: dict[str, Any], copy: Path) -> Path:
    """A copy with all that the office has."""
    for seed in range(4):
        record_items(phone, day, 4, seed=seed)
    until_done(copier_of(office.settings, copy))
    return copy


def lines_on(file: Path, place: range) -> list[int]:
    """Which lines of a file stand on a place, the first as 0."""
    found, at = [], 0
    for number, line in enumerate(file.read_bytes().splitlines(keepends=True)):
        if at < place.stop and place.start < at + len(line):
            found.append(number)
        at += len(line)
    return found


def test_a_bad_place_in_the_log_costs_the_operations_on_it_and_no_others(
    office: Office, whole: Path, new: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    """They are the last facts of items, so that nothing hangs on them."""
    log = (whole / "log.jsonl").read_bytes()
    at = log.index(b"jug 1-3")
    place = range(at // SECTOR * SECTOR, at // SECTOR * SECTOR + SECTOR)
    lost, before = lines_on(whole / "log.jsonl", place), contents(office.settings)["log"]
    spoil(monkeypatch, "log.jsonl", place)
    told = restored_from(whole, new)
    assert 1 <= len(lost) <= 3
    assert (
        f"{len(lost)} of {len(before)} lines with operations in log.jsonl are damaged (the disk has bad places there)."
        in told.faults
    )
    kept = {row[1] for row in before} - {before[number][1] for number in lost}
    again = {row[1] for row in contents(new)["log"]}
    assert again <= kept
    assert len(kept - again) == told.brought_in.waiting + told.brought_in.refused
    assert len(again) > lost[-1] + 20, "what stands far behind it is there"
    assert faults_of(new) == []


@pytest.mark.parametrize("name", ["photos.jsonl", "words-0.jsonl"])
def test_a_bad_place_in_another_file_of_lines_costs_the_lines_on_it(
    office: Office, whole: Path, new: Settings, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    place = range(SECTOR, 2 * SECTOR)
    lost, before = lines_on(whole / name, place), contents(office.settings)
    spoil(monkeypatch, name, place)
    told = restored_from(whole, new)
    assert any(f"{len(lost)} of " in fault and name in fault for fault in told.faults)
    kept, table = contents(new), "photos" if name.startswith("photos") else "words"
    assert len(kept[table]) == len(before[table]) - len(lost)
    assert kept["log"] == before["log"]


def test_a_place_that_is_given_when_asked_once_more_costs_nothing(
    office: Office, whole: Path, new: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = spoil(monkeypatch, "log.jsonl", range(5000, 5001), times=1)
    assert restored_from(whole, new).faults == []
    assert len(asked) == 1
    assert contents(new) == contents(office.settings)


def test_a_long_bad_place_is_passed_over_in_growing_steps(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each time that a disk is asked for what it cannot give may take seconds."""
    size = 64 * 1024 * 1024
    with (tmp_path / "log.jsonl").open("wb") as stream:
        stream.truncate(size)
        stream.seek(-4, os.SEEK_END)
        stream.write(b"last")
    asked = spoil(monkeypatch, "log.jsonl", range(1024, size // 2))
    content = Folder(tmp_path).read("log.jsonl")
    assert (len(content), content[-4:]) == (size, b"last")
    assert len(asked) < 200


def test_a_folder_that_is_gone_is_no_bad_place(whole: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A stick that was pulled out says the same of each of its files."""
    folder = Folder(whole)
    spoil(monkeypatch, "log.jsonl", ALL)
    with folder.open("log.jsonl") as stream:
        whole.rename(whole.with_name("elsewhere"))
        with pytest.raises(OSError, match="No such file"):
            stream.read(100)


@pytest.mark.parametrize("name", HEADS)
@pytest.mark.parametrize("last", ["a record", "an erasure"])
def test_a_copy_is_restored_without_one_of_its_heads(
    office: Office,
    manager: Phone,
    phone: Phone,
    day: dict[str, Any],
    whole: Path,
    new: Settings,
    monkeypatch: pytest.MonkeyPatch,
    name: str,
    last: str,
) -> None:
    """Also where the newer is lost: what it counted stands behind the other, and words or devices in another file."""
    copier, before = copier_of(office.settings, whole, begun=True), contents(office.settings)
    if last == "a record":
        record_items(phone, day, 1, seed=7)
    else:
        visit = next(one for one in phone.feed()["records"] if one["kind"] == "visit")
        erase(office.settings, visit["record_id"])
        office.change("UPDATE device SET letters = 'ZZ'")
    until_done(copier)
    spoil(monkeypatch, name, ALL)
    told = restored_from(whole, new)
    assert any(f"{name} cannot be read" in fault for fault in told.faults)
    kept, ours = contents(new), contents(office.settings)
    assert len(kept["devices"]) == len(before["devices"])
    assert kept["log"] == ours["log"]
    assert kept["photos"] == ours["photos"]
    assert kept["words"] == ours["words"]


@pytest.mark.parametrize("name", HEADS)
def test_a_copy_with_an_unreadable_head_is_gone_on_with(
    office: Office, phone: Phone, day: dict[str, Any], whole: Path, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    record_items(phone, day, 1, seed=8)
    asked = spoil(monkeypatch, name, ALL)
    assert main(["copy", str(whole), "--data", str(office.settings.data_folder)]) == 0
    assert asked
    monkeypatch.undo()
    assert head_of(Folder(whole)).office_seq == len(contents(office.settings)["log"])


def test_a_copy_whose_disk_gives_neither_head_is_called_unreadable(
    whole: Path, new: Settings, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in HEADS:
        spoil(monkeypatch, name, ALL)
    assert main(["restore", str(whole), "--data", str(new.data_folder)]) == 1
    said = capsys.readouterr().err
    assert "gives neither of its two heads" in said
    assert "look for another copy" in said
    assert not new.data_folder.exists()


@pytest.mark.parametrize("within", ["stick", "."])
def test_where_the_copy_lies_within_is_named(
    whole: Path, new: Settings, within: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Somebody names the stick, and the copy is in a folder of it."""
    (whole.parent / "mounted").mkdir()
    at = whole.rename(whole.parent / "mounted" / "stick")
    named = at.parent if within == "stick" else at.parent.parent
    assert main(["restore", str(named), "--data", str(new.data_folder)]) == 1
    said = capsys.readouterr().err
    assert f"There is no copy in {named}." in said
    assert f"There is one in {at}: name that folder." in said
