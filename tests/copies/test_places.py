"""Which folders copies are kept in: one folder is one copy, and what is open is never called sealed."""

from __future__ import annotations

import os
import re
import shutil
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from intake.commands import main
from intake.copies.asking import where_they_are
from intake.copies.at_start import add_places, keep_copies
from intake.copies.keeper import Copies, with_folder
from intake.copies.places import (
    Place,
    PlaceRefused,
    Reached,
    add_place,
    check_fit,
    checked_folder,
    copy_recipient,
    former_copies,
    note_aside,
    note_copy,
    note_erased_aside,
    places,
)
from intake.copies.source import source_of
from intake.copies.states import damaged, forgotten, missing
from intake.copies.whereabouts import Mark, marks_in_mount, whereabouts_of
from intake.database import Writing
from intake.settings import Settings
from tests.apart import run_intake
from tests.conftest import Office, running
from tests.copies.test_keeping import until
from tests.copies.tools import bytes_below, copier_of, until_done
from tests.door import RECEIVED_AT, Door
from tests.phone import Phone


async def test_a_folder_under_another_name_is_the_same_copy(door: Door, tmp_path: Path) -> None:
    """Else one stick would count as two places."""
    stick, other_name = tmp_path / "stick", tmp_path / "by-label"
    stick.mkdir()
    other_name.symlink_to(stick)
    looked = await where_they_are([str(stick), str(other_name)], limit_s=30)
    for folder in (stick, other_name):
        job = partial(add_place, folder=str(folder), sealed=False, now=RECEIVED_AT, looked=looked)
        await door.database.write(job)
    assert [place.folder for place in await door.database.read(places)] == [str(stick)]


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("file", "is a file"),
        ("nowhere/copy", "There is no folder"),
        ("full", "has other things in it"),
        ("locked/copy", "may not write"),
    ],
)
def test_a_folder_that_cannot_take_a_copy_is_refused_in_words(
    tmp_path: Path, name: str, says: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").touch()
    for folder in ("full", "locked"):
        (tmp_path / folder).mkdir()
    (tmp_path / "full" / "letter.txt").touch()
    allowed = os.access  # whoever runs the tests may write everywhere
    monkeypatch.setattr("os.access", lambda path, mode: "locked" not in str(path) and allowed(path, mode))
    with pytest.raises(PlaceRefused, match=says):
        check_fit(str(tmp_path / name))


@pytest.mark.skipif(not Path("/proc/self").is_dir(), reason="only some systems have such a folder")
def test_a_folder_that_takes_files_from_nobody_is_refused() -> None:
    """Rights say that one may write there, to whoever may do everything."""
    with pytest.raises(PlaceRefused, match=r"No copy can be written|may not write"):
        check_fit("/proc/intake-copy")


async def test_a_new_place_that_is_not_there_is_refused_at_the_start_and_a_known_one_is_not(
    door: Door, tmp_path: Path
) -> None:
    """A slip in its name would be remembered, and missed, for ever; a stick that is known may be pulled out."""
    stick = tmp_path / "mounted" / "copy"
    settings = Settings(tmp_path / "office", copy_to=(str(stick),))
    copies = Copies(door.database, source_of(settings), settings.clock)
    with pytest.raises(PlaceRefused, match="There is no folder"):
        await keep_copies(copies, door.database, settings)
    assert await door.database.read(places) == []
    stick.parent.mkdir()
    await keep_copies(copies, door.database, settings)
    await copies.close()
    shutil.rmtree(stick.parent)
    await keep_copies(copies, door.database, settings)
    await copies.close()
    assert [place.folder for place in await door.database.read(places)] == [str(stick)]


def test_an_empty_folder_and_one_that_can_be_made_take_a_copy(tmp_path: Path) -> None:
    (tmp_path / "stick").mkdir()
    (tmp_path / "stick" / "lost+found").mkdir()
    (tmp_path / "stick" / "head-0.json").touch()
    for name in ("stick", "new"):
        check_fit(str(tmp_path / name))


def test_a_command_in_a_hint_names_the_folder_of_the_office() -> None:
    """Whoever reads a screen and goes to the machine would meet another office there."""
    for trouble in (missing("/m/s"), damaged("/m/s", "x"), forgotten("/m/s", 2, 1)):
        said = with_folder(trouble.hint, Path("/srv/intake"))
        commands = re.findall(r"`(intake [^`]+)`", said)
        assert commands
        assert all("--data " in command for command in commands), said
        assert said.count("--data NEW") == trouble.hint.count("--data NEW")
    assert with_folder("Run `intake verify`.", Path("/a b")) == 'Run `intake verify --data "/a b"`.'


async def test_an_open_copy_is_never_said_to_be_sealed(door: Door, tmp_path: Path) -> None:
    """Nor is a key printed as if something were closed with it."""
    stick = str(tmp_path / "stick")
    settings = Settings(tmp_path / "office", copy_to=(stick,))
    assert await door.database.write(lambda tx: add_places(tx, settings)) is None
    with pytest.raises(PlaceRefused, match="kept open"):
        await door.database.write(lambda tx: add_places(tx, replace(settings, seal_copies=True)))
    assert await door.database.read(copy_recipient) is None
    elsewhere = replace(settings, seal_copies=True, copy_to=(str(tmp_path / "another"),))
    assert await door.database.write(lambda tx: add_places(tx, elsewhere)) is not None


@pytest.mark.parametrize(
    ("copy", "says"),
    [
        ("office", "own folder"),
        ("office/hall/copy", "own folder"),
        ("link/copy", "own folder"),
        ("plans", "copy itself"),
        ("plans/copy", "copy itself"),
        ("big/copy", "copy itself"),  # a part of the data folder is a link to another disk
        (".", "is copied, lies in"),
        ("stick/..", "is copied, lies in"),
    ],
)
async def test_a_copy_lies_neither_in_nor_around_what_is_copied(tmp_path: Path, copy: str, says: str) -> None:
    for name in ("office", "plans", "big", "stick"):
        (tmp_path / name).mkdir()
    (tmp_path / "office" / "photos").symlink_to(tmp_path / "big")
    (tmp_path / "link").symlink_to(tmp_path / "office")
    own = source_of(Settings(tmp_path / "office", plans_folder=tmp_path / "plans")).folders
    folder, beside = str(tmp_path / copy), str(tmp_path / "stick")
    looked = await where_they_are([folder, beside, *own], limit_s=30)
    with pytest.raises(PlaceRefused, match=says):
        checked_folder(folder, own, looked)
    assert checked_folder(beside, own, looked) == beside


def test_a_copy_in_what_is_copied_is_refused_wherever_it_is_named(
    office: Office, manager: Phone, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    within = str(office.settings.data_folder / "house" / "copy")
    asked = manager.client.put("/copies", json={"places": [{"folder": within}]})
    assert (asked.status_code, asked.json()["code"]) == (422, "copy_place_refused")
    assert "own folder" in asked.json()["detail"]
    assert manager.client.get("/copies").json()["copies"] == []
    (tmp_path / "plans").mkdir()
    named = ["--plans", str(tmp_path / "plans"), "--copy-to", str(tmp_path / "plans" / "copy")]
    assert main(["serve", "--data", str(tmp_path / "other"), *named]) == 1
    assert "copy itself" in capsys.readouterr().err
    assert sorted(one.name for one in tmp_path.iterdir() if one.name in ("other", "copy")) == []


#: Source of the columns: proc(5), /proc/pid/mountinfo; the lines are invented.
MOUNTS = """21 1 8:2 / / rw - ext4 /dev/sda2 rw
22 21 8:2 /srv/office/photos /media/a rw - ext4 /dev/sda2 rw
23 21 8:17 / /media/b rw - vfat /dev/sdb1 rw
24 21 8:33 / /media/odd\u2028name\u00a0here rw - vfat /dev/sdc1 rw
"""


def test_a_part_of_a_folder_that_is_mounted_elsewhere_lies_in_it() -> None:
    def inside(path: str) -> list[Mark]:
        return marks_in_mount(Path(path), MOUNTS)

    [office, *_] = inside("/srv/office")
    assert office in inside("/media/a/copy")
    assert office not in inside("/media/b/srv/office/copy")
    assert office not in inside("/srv/office2")
    assert inside("/media/odd\u2028name\u00a0here/copy")[0] == ("mounted", "8:33", "/copy")


def test_a_folder_is_known_by_its_number_where_its_path_is_another(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As a share is that is mounted twice, or a folder on a system that has no list of mounts."""
    stat = os.stat
    (tmp_path / "office").mkdir()
    (tmp_path / "mounted").mkdir()
    (tmp_path / "empty").mkdir()

    def mounted(path: Any, *how: Any, **more: Any) -> os.stat_result:
        return stat(tmp_path / "office" if Path(path) == tmp_path / "mounted" else path, *how, **more)

    monkeypatch.setattr(os, "stat", mounted)
    office, copy = (whereabouts_of(str(tmp_path / name)) for name in ("office", "mounted/copy"))
    assert copy.lies_in(office)
    assert not office.lies_in(copy)
    assert not whereabouts_of(str(tmp_path / "empty" / "copy")).lies_in(office)


def test_links_that_go_round_are_refused_in_words(
    office: Office, copy: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "one").symlink_to(tmp_path / "other")
    (tmp_path / "other").symlink_to(tmp_path / "one")
    round_and_round = str(tmp_path / "one")
    assert main(["copy", str(copy), "--data", str(office.settings.data_folder)]) == 0
    assert main(["copy", round_and_round, "--data", str(office.settings.data_folder)]) == 1
    assert main(["restore", str(copy), "--data", round_and_round]) == 1
    said = capsys.readouterr().err
    assert "cannot be reached" in said
    assert "name another folder" in said


def test_a_copier_never_walks_into_a_copy(office: Office, tmp_path: Path) -> None:
    """A house that begins to keep its plans around a copy: it would grow by itself at each step."""
    house = tmp_path / "house"
    (house / "plans").mkdir(parents=True)
    (house / "plans" / "jugs.yaml").write_text("zones: []")
    settings = replace(office.settings, plans_folder=house)
    copier = copier_of(settings, house / "copy")
    until_done(copier)
    assert copier.step().nothing
    assert list(source_of(settings).house().found) == ["house/plans/jugs.yaml"]
    before = bytes_below(house / "copy")
    until_done(copier_of(settings, house / "copy", begun=True))
    assert bytes_below(house / "copy") == before


STICK, ASIDE_THERE = "/media/stick/copy", "/media/stick/copy/before-1"


def note(tx: Writing, folder: str, copy_id: str | None) -> None:
    note_copy(tx, Place(folder, False, True, Reached(), copy_id), RECEIVED_AT)


def erase_some(tx: Writing) -> None:
    tx.run_many("INSERT INTO erased_words (operation_id) VALUES (?)", [("one",), ("two",), ("three",)])


@pytest.mark.parametrize("readable", [True, False], ids=["", "with no head that can be read"])
@pytest.mark.parametrize("known", ["kept", "kept once", "named again after a restore"])
async def test_a_copy_that_was_set_aside_is_known_once_and_owed_until_erasures_reach_it(
    door: Door, known: str, readable: bool
) -> None:
    """A restored office knows it from the other copy; where it is named again it is refused, since it has more."""
    its_id = "b" if readable else None

    def until_set_aside(tx: Writing) -> None:
        if known != "kept":
            note(tx, STICK, "b")
        if known != "kept once":
            add_place(tx, STICK, sealed=False, now=RECEIVED_AT)
        if known == "kept":
            note(tx, STICK, "b")
        erase_some(tx)
        note_aside(tx, STICK, ASIDE_THERE, its_id, RECEIVED_AT)
        note(tx, STICK, "c")

    def reach(tx: Writing) -> None:
        note_erased_aside(tx, ASIDE_THERE, its_id, 3, RECEIVED_AT)

    await door.database.write(until_set_aside)
    owed = [copy for copy in await door.database.read(former_copies) if copy.copy_id != "c"]
    assert [(copy.folder, copy.copy_id, copy.erasures) for copy in owed] == [(ASIDE_THERE, "b", 3)]
    await door.database.write(reach)
    former = [copy for copy in await door.database.read(former_copies) if copy.copy_id != "c"]
    assert [(copy.folder, copy.copy_id, copy.erasures) for copy in former] == [(ASIDE_THERE, "b", 0)]
    kept = [(place.folder, place.copy_id) for place in await door.database.read(places)]
    assert kept == ([] if known == "kept once" else [(STICK, "c")])


async def test_a_copy_that_is_away_stays_owed_when_another_is_set_aside_in_its_place(door: Door) -> None:
    """Of two sticks that come in turn under one path."""

    def exchanged(tx: Writing) -> None:
        add_place(tx, STICK, sealed=False, now=RECEIVED_AT)
        note(tx, STICK, "away")
        note_aside(tx, STICK, ASIDE_THERE, "here", RECEIVED_AT)
        erase_some(tx)
        note_erased_aside(tx, ASIDE_THERE, "here", 3, RECEIVED_AT)

    await door.database.write(exchanged)
    former = await door.database.read(former_copies)
    assert {(copy.folder, copy.copy_id, copy.erasures) for copy in former} == {
        (STICK, "away", 3),
        (ASIDE_THERE, "here", 0),
    }
    assert [place.folder for place in await door.database.read(places)] == [STICK]


async def test_a_copy_that_does_not_say_which_it_is_takes_no_other_s_place(door: Door) -> None:
    """Of two that lay in a folder either may be meant: the other one is away, and still owed what is erased."""

    def one_of_two(tx: Writing) -> None:
        for copy_id in ("one", "other"):
            note(tx, STICK, copy_id)
        erase_some(tx)
        note_aside(tx, STICK, ASIDE_THERE, None, RECEIVED_AT)
        note_erased_aside(tx, ASIDE_THERE, None, 3, RECEIVED_AT)

    await door.database.write(one_of_two)
    former = {copy.copy_id: copy.erasures for copy in await door.database.read(former_copies)}
    assert former == {"one": 3, "other": 3, None: 0}


async def test_what_earlier_versions_noted_twice_of_a_set_aside_copy_is_one(door: Door) -> None:
    def noted_twice(tx: Writing) -> None:
        for copy_id in ("b", None):
            tx.run(
                """
                INSERT INTO copy_place
                    (folder, copy_id, sealed, added_at, begun, office_seq, erased_seq, photos, photo_bytes, kept)
                VALUES (:folder, :copy_id, 0, :now, 1, 0, 0, 0, 0, 0)
                """,
                folder=ASIDE_THERE,
                copy_id=copy_id,
                now=RECEIVED_AT,
            )
        erase_some(tx)
        note_erased_aside(tx, ASIDE_THERE, "b", 3, RECEIVED_AT)

    await door.database.write(noted_twice)
    former = await door.database.read(former_copies)
    assert [(copy.folder, copy.copy_id, copy.erasures) for copy in former] == [(ASIDE_THERE, "b", 0)]


@pytest.fixture
def anothers(tmp_path: Path, office: Office) -> Path:
    """A folder with another office's copy."""
    folder, other = tmp_path / "anothers", Settings(tmp_path / "other", clock=office.clock)
    with running(other, office.clock, office.ids):
        until_done(copier_of(other, folder))
    return folder


def test_another_office_s_copy_is_refused_where_it_is_named(
    office: Office, manager: Phone, anothers: Path
) -> None:
    before = bytes_below(anothers)
    refused = manager.client.put("/copies", json={"places": [{"folder": str(anothers)}]})
    assert (refused.status_code, refused.json()["code"]) == (422, "copy_place_refused")
    assert "another office" in refused.json()["detail"]
    office.end()
    served = run_intake("serve", "--copy-to", str(anothers), "--data", str(office.settings.data_folder))
    assert served.returncode == 1
    assert "another office" in served.stderr
    assert bytes_below(anothers) == before


def test_a_folder_that_another_office_took_is_said_to_lie_beside_the_office(
    office: Office, manager: Phone, anothers: Path
) -> None:
    """It was known before the other's copy came there. Nothing counts, and where it lies is true."""
    office.change(
        "INSERT INTO copy_place (folder, sealed, added_at, begun, office_seq, erased_seq, photos, photo_bytes, kept)"
        " VALUES (?, 0, '', 0, 0, 0, 0, 0, 1)",
        str(anothers),
    )
    manager.client.put("/copies", json={"places": [{"folder": str(anothers)}]}).raise_for_status()
    status = until(manager, lambda copy: copy["state"] == "foreign")
    assert status["copies"][0]["same_disk"] is True
    assert status["safe_seq"] is None
