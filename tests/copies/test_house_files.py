"""A copy never lets go of the house's own plans because the office does not find them: it may be all that has them."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from intake.commands import main
from intake.copies.folder import Folder
from intake.copies.head import HEADS, framed
from intake.copies.keeper import words_of
from intake.copies.reading import CopyReader, head_of
from intake.copies.seal import Opener, make_key
from intake.copies.states import State
from intake.lock import note
from intake.settings import Settings
from tests.conftest import Office
from tests.copies.tools import bytes_below, copier_of, restored_from, until_done

CAUTIONS = "house/cautions.yaml"


@pytest.fixture
def house(office: Office) -> Path:
    folder = office.settings.data_folder / "house"
    folder.mkdir()
    (folder / "cautions.yaml").write_text("cautions: []\n")
    return folder


def files_in(copy: Path, secret: str | None = None) -> dict[str, str]:
    head = head_of(Folder(copy))
    return CopyReader(Folder(copy), head, Opener(head.sealed_to, secret)).files()


@pytest.mark.parametrize("sealed", [False, True])
@pytest.mark.parametrize("left", ["nothing", "an empty folder", "what systems put there"])
def test_a_copy_keeps_the_house_s_own_files_when_their_folder_is_gone(
    office: Office, house: Path, copy: Path, new: Settings, tmp_path: Path, left: str, sealed: bool
) -> None:
    """While the office serves, and when it is started anew. A share that is not mounted leaves an empty folder."""
    secret, recipient = make_key() if sealed else (None, None)
    copier = copier_of(office.settings, copy, seal_to=recipient)
    until_done(copier)
    assert not copier.keeps_house
    away = house.rename(tmp_path / "away")
    if left != "nothing":
        house.mkdir()
    if left == "what systems put there":
        for name in (".directory", "Thumbs.db"):
            (house / name).write_text("no plan")
    for one in (copier, copier_of(office.settings, copy, seal_to=recipient, begun=True)):
        until_done(one)
        assert CAUTIONS in files_in(copy, secret)
        assert "which the office does not find" in words_of(State.CURRENT, one)[0]
    before = bytes_below(copy)
    until_done(one)
    assert bytes_below(copy) == before, "a step without news writes nothing"
    restored = restored_from(copy, new, secret=secret)
    assert restored.faults == []
    assert (new.data_folder / CAUTIONS).read_text() == "cautions: []\n"

    if house.is_dir():
        shutil.rmtree(house)
    away.rename(house)
    (house / "cautions.yaml").rename(house / "words.yaml")
    until_done(one)
    assert not one.keeps_house
    assert [name for name in files_in(copy, secret) if name.startswith("house/")] == ["house/words.yaml"]


def test_a_copy_by_hand_keeps_them_when_nobody_knows_where_they_were(
    office: Office, house: Path, stick: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What the office noted of its last start is empty, as after a power cut."""
    moved, data = house.rename(tmp_path / "plans"), ["--data", str(office.settings.data_folder)]
    note(office.settings.data_folder, plans=str(moved))
    assert main(["copy", str(stick), *data]) == 0
    assert "keeps the house's own plans" not in capsys.readouterr().out
    (office.settings.data_folder / "office.json").write_text("")
    assert main(["copy", str(stick), *data]) == 0
    assert "keeps the house's own plans" in capsys.readouterr().out
    assert CAUTIONS in files_in(stick)


@pytest.mark.parametrize("sealed", [False, True])
def test_a_copy_of_an_earlier_format_keeps_them_too(
    office: Office, house: Path, copy: Path, tmp_path: Path, sealed: bool
) -> None:
    """There they stood in one file with the list of the other copies."""
    secret, recipient = make_key() if sealed else (None, None)
    until_done(copier_of(office.settings, copy, seal_to=recipient))
    head = head_of(Folder(copy))
    assert head.house is not None
    earlier = head.model_dump() | {"format": 2, "files": head.house.model_dump()}
    del earlier["house"]
    for name in HEADS:
        (copy / name).unlink(missing_ok=True)
    (copy / HEADS[head.serial % 2]).write_bytes(framed(earlier))
    assert CAUTIONS in files_in(copy, secret)

    house.rename(tmp_path / "away")
    for _ in range(2):
        until_done(copier_of(office.settings, copy, seal_to=recipient, begun=True))
        assert json.loads((copy / HEADS[head_of(Folder(copy)).serial % 2]).read_text()[17:])["format"] == 3
        assert CAUTIONS in files_in(copy, secret)
    (tmp_path / "away").rename(house)
    (house / "cautions.yaml").rename(house / "words.yaml")
    until_done(copier_of(office.settings, copy, seal_to=recipient, begun=True))
    assert [name for name in files_in(copy, secret) if name.startswith("house/")] == ["house/words.yaml"]
