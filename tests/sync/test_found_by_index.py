"""What a device asks costs the same in a house's tenth year: no statement goes through a table that grows with it."""

from __future__ import annotations

import re
import sqlite3
from contextlib import closing
from typing import Any

import pytest

from intake.commands import main
from intake.database import Reading, Writing, snapshot
from intake.reading import photos_gone, went_with_owner
from tests.builders import a_fact, a_photo, a_tie, a_visit, an_item, picture
from tests.closings import close_with_all
from tests.conftest import Office
from tests.phone import Phone
from tests.sync.planted import Planted

#: What has a row for each operation, record, value or photo that the house ever had.
GROWS = "operation_log|record|field|entry|visit_word|tag|custody_move|photo_of|photo_file|photo_from|private_words"
GROWS += "|reading_note|search_found|disagreement"
THROUGH = re.compile(rf"SCAN (\S+ AS )?({GROWS})\b")
#: Or through all that comes behind a place in it.
BEHIND = re.compile(rf"SEARCH (\S+ AS )?({GROWS}) USING INTEGER PRIMARY KEY \(rowid>\?\)")
#: Indexes of few rows: the days, the records that stand behind another, what stands in the van, and the words that were
#: refused.
FEW = re.compile(
    r"USING (COVERING )?INDEX (record_of_days|field_merged|field_in_van|operation_log_refused_words)\b"
)
#: Its last row alone is read.
LAST = re.compile(r"FROM operation_log ORDER BY office_seq DESC LIMIT 1\b")
#: What comes of going through all: a page, one row of counts, or the operations whose words are lost.
FEW_ROWS = re.compile(r"\bLIMIT\b|^\s*SELECT \(SELECT count|words IS NULL")
EXPLAIN = "EXPLAIN QUERY PLAN "

#: By statement: by which function it was run, and with which values, the first time.
Asked = dict[str, tuple[str, dict[str, object]]]


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> Asked:
    """Each statement that was run meanwhile."""
    found: Asked = {}

    def watched(by: str, plain: Any) -> Any:
        def noted(self: Reading, sql: str, **values: object) -> Any:
            found.setdefault(sql, (by, values))
            return plain(self, sql, **values)

        return noted

    for of, names in ((Reading, ("all", "each", "one", "value")), (Writing, ("run",))):
        for name in names:
            monkeypatch.setattr(of, name, watched(name, getattr(of, name)))
    return found


def through_all(office: Office, asked: Asked, *, behind_too: bool = False) -> list[str]:
    """The statements that go through one of those tables, each with the line of the engine's plan that says so."""
    found = []
    with closing(sqlite3.connect(office.settings.database_file)) as file:
        file.execute("ATTACH :file AS office", {"file": str(office.settings.database_file)})
        for sql, (_, values) in list(asked.items()):
            if not re.match(r"\s*(SELECT|WITH|UPDATE|DELETE)", sql):
                continue
            statement = " ".join(sql.split())
            for *_, detail in file.execute(EXPLAIN + sql, values):
                through = THROUGH.match(detail) or (behind_too and BEHIND.match(detail))
                if not through or FEW.search(detail):
                    continue
                if detail != "SCAN operation_log" or not LAST.search(statement):
                    found.append(f"{detail}: {statement}")
    return found


@pytest.mark.parametrize("role", ["door", "table", "porter", "desk", "manager"])
def test_no_question_goes_through_all_that_the_house_ever_had(
    role: str, office: Office, manager: Phone, day: dict[str, Any], asked: Asked
) -> None:
    planted = Planted(office, manager, day)
    client = office.pair(role).client
    client.get("/sync/feed", params={"day_id": planted.day_id}).raise_for_status()
    asked.clear()
    planted.asked(client)
    assert any("FROM record" in sql for sql in asked)
    assert through_all(office, asked) == []


def test_no_change_goes_through_all_that_the_house_ever_had(
    office: Office, manager: Phone, day: dict[str, Any], asked: Asked
) -> None:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q07"))
    item = manager.keep(an_item(manager.ids, visit))
    manager.keep(a_fact(item["item_id"], "maker", "unmarked"))
    manager.keep(a_tie(item["item_id"], "7K3QW5"))
    photo, thumb = picture(1), picture(2, size=(60, 40))
    manager.keep(a_photo(manager.ids, item["item_id"], photo, thumb))
    manager.bundle([photo, thumb]).raise_for_status()
    close_with_all(manager, day["day_id"])
    manager.keep(("erase_consignor", {"visit_id": visit["visit_id"]}))
    manager.push()
    assert any("operation_log" in sql for sql in asked)
    assert through_all(office, asked) == []


def test_pictures_that_went_with_their_owner_are_found_from_the_erasures(
    office: Office, asked: Asked
) -> None:
    """Where the engine has counted no table, it would as soon begin with all pictures."""
    with snapshot(office.settings.database_file) as tx:
        assert photos_gone(tx) == set()
        assert not went_with_owner(tx, "0" * 64)
    assert len(asked) > 1
    assert through_all(office, asked) == []


@pytest.mark.parametrize("command", ["verify", "rebuild", "verify --new"])
def test_what_looks_at_all_of_it_holds_a_page_of_it_at_a_time(
    command: str, office: Office, manager: Phone, day: dict[str, Any], asked: Asked
) -> None:
    """A house's tenth year fits into no memory: rows come one by one, or so many at once."""
    Planted(office, manager, day)
    office.end()
    asked.clear()
    assert main([*command.split(), "--data", str(office.settings.data_folder)]) == 0
    gone_through = [sql for sql in asked if through_all(office, {sql: asked[sql]}, behind_too=True)]
    assert gone_through
    held = [sql for sql in gone_through if asked[sql][0] == "all" and not FEW_ROWS.search(sql)]
    assert held == []
