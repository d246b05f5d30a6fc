"""A device that was signed off stays so when something older is put back: the list of them beside the folder."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from intake.copies.commands import print_restored
from intake.copies.signed_off import SIGNED_OFF
from intake.settings import Settings
from tests.conftest import Clock, Office, running
from tests.copies.tools import copier_of, restored_from, until_done
from tests.phone import Phone


def sign_off(manager: Phone, device: Phone) -> None:
    assert manager.client.post(f"/devices/{device.device_id}/revoke").status_code == 200


def is_let_in(office: Office, device: Phone) -> bool:
    """At this office, which may have another address than the one that it was paired with."""
    client = office.client()
    client.cookies = device.client.cookies
    return bool(client.get("/sync/feed").status_code == 200)


def put_back(folder: Path, before: Path) -> None:
    shutil.rmtree(folder)
    shutil.copytree(before, folder)


def test_a_folder_that_is_put_back_lets_nobody_in_who_was_signed_off_since(
    office: Office, manager: Phone, phone: Phone, clock: Clock, tmp_path: Path
) -> None:
    """The list is there as the answer is, whatever happens to the office after that. A device that was paired anew
    since it was signed off is let in."""
    folder, before = office.settings.data_folder, tmp_path / "before"
    again = office.pair("porter", "Paired anew")
    clock.pass_by(minutes=5)
    sign_off(manager, again)
    clock.pass_by(minutes=5)
    again.come_back(again.client, office.code("porter", "Paired anew", again.device_id))
    shutil.copytree(folder, before)
    clock.pass_by(minutes=5)
    sign_off(manager, phone)
    listed = SIGNED_OFF.beside(folder).read_bytes()
    assert phone.device_id.encode() in listed
    office.end()
    put_back(folder, before)
    with running(office.settings, clock, office.ids) as served:
        assert is_let_in(served, again)
        assert is_let_in(served, manager)
        assert not is_let_in(served, phone)


def test_an_older_copy_that_is_restored_lets_nobody_in_who_was_signed_off_since(
    office: Office,
    manager: Phone,
    phone: Phone,
    clock: Clock,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    stick = tmp_path / "stick"
    until_done(copier_of(office.settings, stick))
    clock.pass_by(minutes=5)
    sign_off(manager, phone)
    office.end()
    new = Settings(tmp_path / "new", clock=clock)
    restored = restored_from(stick, new)
    assert len(restored.signed_off_since) == 1
    assert restored.devices == ["manager (manager)"]
    print_restored(restored, new.data_folder, 0.1)
    said = " ".join(capsys.readouterr().out.split())
    assert f"signed off here, too: {restored.signed_off_since[0]}" in said
    with running(new, clock, office.ids) as served:
        assert not is_let_in(served, phone)
        assert is_let_in(served, manager)
