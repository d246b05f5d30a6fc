"""Office and copy are lost, an empty office is begun in its place, and then a copy is found."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from intake.settings import Settings
from tests.apart import run_intake
from tests.builders import Ids, a_day, a_visit, an_item
from tests.conftest import Clock, Office, running
from tests.copies.tools import contents, copier_of, faults_of, until_done


@pytest.fixture
def found(settings: Settings, clock: Clock, ids: Ids, copy: Path) -> Path:
    """The copy of an office that is lost."""
    with running(settings, clock, ids) as office:
        manager = office.pair("manager")
        day = manager.keep(a_day(manager.ids))
        manager.push()
        manager.keep(a_visit(manager.ids, day["day_id"]))
        manager.push()
        until_done(copier_of(settings, copy))
    clock.pass_by(hours=1)
    return copy


def bring_in(copy: Path, settings: Settings) -> str:
    """What the command says of it; nothing is taken in."""
    before = contents(settings)["log"]
    said = run_intake("bring-in", str(copy), "--data", str(settings.data_folder))
    assert said.returncode == 1
    assert contents(settings)["log"] == before
    return said.stderr


def test_who_brings_it_in_is_told_what_it_is_and_how_to_go_on(
    settings: Settings, clock: Clock, ids: Ids, found: Path, new: Settings
) -> None:
    with running(new, clock, ids) as office:
        office.pair("manager")
        said = bring_in(found, new)
    assert "a copy of another office: 2 operations, as of 14 March 2026" in said
    assert "begun after that" in said
    assert f"intake restore {found} --data NEW" in said
    assert "empty folder" not in said, "that is for whoever wants to copy to it"


def test_the_copy_of_a_younger_office_is_not_gone_on_from(
    settings: Settings, clock: Clock, ids: Ids, copy: Path, new: Settings
) -> None:
    with running(settings, clock, ids) as office:
        office.pair("manager")
    clock.pass_by(hours=1)
    with running(new, clock, ids) as office:
        office.pair("manager")
        until_done(copier_of(new, copy))
    assert "begun after" not in bring_in(copy, settings)


def test_going_on_from_it_loses_nothing(settings: Settings, clock: Clock, ids: Ids, tmp_path: Path) -> None:
    """What came after the copy, and what came to the empty office, is with the phone, and it brings it."""
    copy = tmp_path / "stick"
    with running(settings, clock, ids) as office:
        manager = office.pair("manager")
        day = manager.keep(a_day(manager.ids))
        manager.push()
        until_done(copier_of(settings, copy))
        phone = office.pair("table", "Table 1")
        visit = phone.keep(a_visit(phone.ids, day["day_id"]))
        phone.push()

    def comes(office: Office) -> None:
        for one, role in ((manager, "manager"), (phone, "table")):
            one.come_back(office.client(), office.code(role, role, one.device_id))
            one.push()

    empty, third = (replace(settings, data_folder=tmp_path / name) for name in ("empty", "third"))
    names = ("day_id", "house", "place", "held_on", "currency", "tables", "people")
    with running(empty, clock, ids) as office:
        comes(office)
        manager.keep(("open_day", {name: day[name] for name in names}))
        manager.push()
        phone.keep(an_item(phone.ids, visit))
        phone.push()
    restored = run_intake("restore", str(copy), "--data", str(third.data_folder))
    assert restored.returncode == 0, restored.stderr
    with running(third, clock, ids) as office:
        comes(office)
        assert office.pair("manager").says_nobody_else_comes().status_code == 200
        comes(office)
        assert (manager.outbox, phone.outbox) == ([], [])
        assert (manager.refused, phone.refused) == ([], [])
    sent = {one["operation_id"] for one in [*manager.answered, *phone.answered]}
    assert {row[1] for row in contents(third)["log"]} == sent
    assert faults_of(third) == []
