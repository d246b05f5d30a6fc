"""What a copy brings in may seat an owner at a table whose device is there: that it reads them now is noted."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest

from intake.copies.bring_in import bring_in
from intake.copies.folder import Folder
from intake.settings import Settings
from tests.builders import Ids, a_consignor, a_day, a_visit
from tests.conftest import Clock, at_once, running
from tests.copies.tools import copier_of, restored_from, until_done
from tests.sync.planted import set_visit


@pytest.mark.parametrize("apart", [False, True])
def test_who_comes_to_be_read_at_a_table_by_a_copy_is_noted(
    tmp_path: Path, settings: Settings, clock: Clock, ids: Ids, apart: bool
) -> None:
    """Also where the visit comes in one run and where it sits in another, which another device said."""
    with running(settings, clock, ids) as office:
        manager, door = office.pair("manager"), office.pair("door")
        day = manager.keep(a_day(ids))
        manager.push()
        until_done(copier_of(settings, tmp_path / "older"))
        visit = manager.keep(a_visit(ids, day["day_id"]))
        manager.keep(a_consignor(visit["visit_id"], "telephone", "07700 900321"))
        manager.push()
        says = door if apart else manager
        says.keep(set_visit(visit["visit_id"], "table_id", "seat 1"))
        says.keep(set_visit(visit["visit_id"], "stage", "at-table", visit["operation_id"]))
        says.push()
        until_done(copier_of(settings, tmp_path / "newer"))
    new = Settings(tmp_path / "new", clock=clock, pause=at_once)
    restored_from(tmp_path / "older", new)
    with running(new, clock, Ids(seed=5)) as office:
        manager, table = office.pair("manager"), office.pair("table", "Table 1")
        sits = {"day_id": day["day_id"], "table_id": "seat 1"}
        table.client.get("/sync/feed", params=sits).raise_for_status()
    with running(new, clock, Ids(seed=6)) as office:
        asyncio.run(bring_in(Folder(tmp_path / "newer"), new, secret=None))
        notes = office.ask(
            "SELECT device_id, record_id FROM reading_note WHERE what = 'visit' ORDER BY note_seq"
        )
        assert notes == [(table.device_id, visit["visit_id"])]
