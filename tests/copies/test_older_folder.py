"""Whoever put an older folder back does what the README says, beside the running office."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from intake.copies import copier
from intake.settings import Settings
from tests.apart import run_intake
from tests.builders import Ids, a_day
from tests.conftest import Clock, Office, running
from tests.copies.test_keeping import is_current, put, until
from tests.copies.tools import contents, faults_of, record_items
from tests.phone import Phone


def a_day_and_items(manager: Phone, table: Phone, items: int) -> None:
    day = manager.keep(a_day(manager.ids))
    manager.push()
    record_items(table, day, items)


def test_the_page_for_an_older_folder_holds(
    settings: Settings, clock: Clock, ids: Ids, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What came since the older folder is only in the copy. Afterwards the office has it, and the copy goes on."""
    monkeypatch.setattr(copier, "is_apart", lambda copy, office: True)
    stick, before = tmp_path / "stick", tmp_path / "before"

    def work(office: Office, items: int) -> None:
        manager = office.pair("manager")
        a_day_and_items(manager, office.pair("table", f"Table {items}"), items)
        put(manager, stick)
        until(manager, is_current)

    with running(settings, clock, ids) as office:
        work(office, 1)
    shutil.copytree(settings.data_folder, before)
    with running(settings, clock, ids) as office:
        work(office, 2)
    whole = contents(settings)["log"]
    shutil.rmtree(settings.data_folder)
    shutil.copytree(before, settings.data_folder)

    data = ["--data", str(settings.data_folder)]
    with running(settings, clock, ids) as office:
        manager = office.pair("manager")
        until(manager, lambda copy: copy["state"] == "forgotten")
        brought = run_intake("bring-in", str(stick), *data)
        assert brought.returncode == 0, brought.stderr
        begun = run_intake("copy", str(stick), "--anew", *data)
        assert begun.returncode == 0, begun.stderr
        until(manager, is_current)
        assert manager.client.get("/devices").json()["hearing"] is None, "no device showed that it knows more"
        verified = run_intake("verify", *data)
        assert verified.returncode == 0, verified.stdout + verified.stderr
    assert {row[1] for row in whole} <= {row[1] for row in contents(settings)["log"]}
    assert faults_of(settings) == []
