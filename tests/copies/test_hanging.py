"""A folder that never answers, as a stick or a network folder may be: whoever looks at it waits, and nobody else."""

from __future__ import annotations

import asyncio
import os
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from intake.commands import main
from intake.copies import at_start, copier, routes
from intake.copies.asking import answer, where_they_are
from intake.copies.at_start import keep_copies
from intake.copies.commands import copy_folders
from intake.copies.folder import READ_PIECE, Folder
from intake.copies.whereabouts import whereabouts_of
from intake.opening import open_office
from intake.settings import Settings
from tests.conftest import Office
from tests.phone import Phone

SOON = 0.2  # seconds that an answer is waited for here


class Hanging:
    """Whatever is asked of this folder blocks until `answers` is set; `asked` counts how often that was."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.folder, self.on, self.asked, self.answers = str(folder), False, 0, threading.Event()
        for name in ("stat", "lstat"):
            monkeypatch.setattr(os, name, self._blocking(getattr(os, name)))

    def _blocking(self, real: Callable[..., Any]) -> Callable[..., Any]:
        def asked(path: Any, *how: Any, **more: Any) -> Any:
            if self.on and str(path).startswith(self.folder):
                self.asked += 1
                assert self.answers.wait(60)
            return real(path, *how, **more)

        return asked


@pytest.fixture
def hanging(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Hanging]:
    monkeypatch.setattr(copier, "is_apart", lambda copy, office: True)
    for module in (routes, at_start):
        monkeypatch.setattr(module, "LOOK_S", SOON)
    hanging = Hanging(tmp_path / "hangs", monkeypatch)
    yield hanging
    hanging.answers.set()


def put(manager: Phone, *folders: str) -> Any:
    return manager.client.put("/copies", json={"places": [{"folder": folder} for folder in folders]})


def test_a_place_that_hangs_keeps_nobody_from_another_and_no_phone_waits(
    office: Office, manager: Phone, phone: Phone, hanging: Hanging, tmp_path: Path
) -> None:
    put(manager, hanging.folder).raise_for_status()
    hanging.on = True
    stick = str(tmp_path / "stick")
    for _ in range(office.settings.readers + 1):
        told = put(manager, hanging.folder, stick)
        assert told.status_code == 200, told.text
        assert [one["folder"] for one in told.json()["copies"]] == [hanging.folder, stick]
        assert phone.client.get("/pairing/me").status_code == 200


def test_a_new_place_that_hangs_is_refused_and_asked_once(
    office: Office, manager: Phone, phone: Phone, hanging: Hanging
) -> None:
    hanging.on = True
    for _ in range(office.settings.readers + 1):
        told = put(manager, hanging.folder)
        assert (told.status_code, told.json()["code"]) == (422, "copy_place_refused")
        assert "does not answer" in told.json()["detail"]
        assert phone.client.get("/pairing/me").status_code == 200
    assert hanging.asked == 1


def test_an_office_is_served_beside_a_place_that_hangs(hanging: Hanging, tmp_path: Path) -> None:
    """Named when it is started; it is kept on the list, and nobody waits for its end."""
    hanging.on = True
    settings = Settings(tmp_path / "office", copy_to=(hanging.folder,))

    async def work() -> list[str]:
        async with open_office(settings) as office:
            office.copies.pace = office.copies.pace.__class__(end_s=SOON)
            await keep_copies(office.copies, office.database, settings)
            return [one.folder for one in await office.copies.statuses()]

    assert asyncio.run(work()) == [hanging.folder]
    assert not hanging.answers.is_set()


def test_folders_named_at_the_start_are_not_waited_for(
    hanging: Hanging, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("intake.copies.commands.LOOK_S", SOON)
    hanging.on = True

    class Options:
        copy_to = (hanging.folder,)

    settings = Settings(tmp_path / "office")
    assert copy_folders(Options, {}, settings) == (hanging.folder,)  # type: ignore[arg-type]


def test_a_copy_by_hand_says_that_the_folder_does_not_answer(
    office: Office, hanging: Hanging, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("intake.copies.by_hand.LOOK_S", SOON)
    hanging.on = True
    assert main(["copy", hanging.folder, "--data", str(office.settings.data_folder)]) == 1
    assert "does not answer" in capsys.readouterr().err


async def test_what_a_folder_says_in_time_is_told(hanging: Hanging, tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to(tmp_path)
    hanging.on = True
    looked = await where_they_are([str(tmp_path / "link"), hanging.folder], SOON)
    assert {name: where.path for name, where in looked.items()} == {
        str(tmp_path / "link"): str(tmp_path.resolve())
    }
    with pytest.raises(TimeoutError):  # it was asked before, and has hung for longer than the limit
        await answer(whereabouts_of, hanging.folder, 1000, elapsed=lambda: time.monotonic() + 2000)
    with pytest.raises(ZeroDivisionError):
        await answer(lambda folder: str(1 // 0), str(tmp_path), 30)
    hanging.answers.set()
    assert hanging.folder in await where_they_are([hanging.folder], 30)


def test_a_slow_folder_gives_a_sign_of_life_with_each_piece_that_is_read(tmp_path: Path) -> None:
    """A stick of 400 KB/s takes most of a minute for one large original, and is at work all that time."""
    content = bytes(5 * READ_PIECE + 1)
    (tmp_path / "photos-0.pack").write_bytes(content)
    folder, signs = Folder(tmp_path), [0]

    def answered() -> None:
        signs[0] += 1

    folder.answered = answered
    with folder.open("photos-0.pack") as stream:
        assert stream.read(len(content)) == content
    assert signs[0] >= 6
    signs[0] = 0
    assert folder.read("photos-0.pack") == content
    assert signs[0] >= 6
