"""No table escapes a rebuild: each follows from the log and is made anew, or no log gives it."""

from __future__ import annotations

import pytest

from intake.database import Reading, Writing
from intake.derived_tables import DERIVED
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.registries import VIEWS, shows
from tests.door import Door

#: Tables that no log gives: the log itself with what stands beside it, photos and plans, and who may talk to us.
FROM_NO_LOG = {
    *(
        "office",
        "operation_log",
        "private_words",
        "set_aside",
        "erased_words",
        "erasure_owed",
        "reading_note",
        "search_found",
        "photo_from",
    ),
    *("photo_file", "plan_version"),
    *("device", "pairing_code", "device_check", "returning_device", "waiting_operation"),
    *("copy_place", "copy_key", "erasure_owed"),
}


def tables_of(tx: Reading) -> set[str]:
    """The tables of the schema; those that the engine makes for an index of words are parts of it."""
    names = {row["name"] for row in tx.all("SELECT name FROM sqlite_schema WHERE type = 'table'")}
    return {name for name in names if not name.startswith(("sqlite_", "entry_words_"))}


async def test_every_table_is_made_anew_or_comes_from_no_log(door: Door) -> None:
    tables = await door.database.read(tables_of)
    assert tables - FROM_NO_LOG == set(DERIVED), "say `follows_from_log` of it, or that no log gives it"
    assert tables >= FROM_NO_LOG


def test_a_view_says_which_tables_it_writes() -> None:
    def view(records: Records, record: Record) -> None:
        """Writes something somewhere."""

    for tables, words in ((("shelf_list",), "shelf_list"), ((), "no table")):
        with pytest.raises(TypeError, match=f"{words}: say `follows_from_log`"):
            shows("item", *tables)(view)
    assert view not in VIEWS["item"]


@pytest.mark.parametrize("table", sorted(DERIVED))
async def test_what_no_log_gave_is_noticed_in_every_table(table: str, door: Door) -> None:
    await door.item()

    def leave_over(tx: Writing) -> None:
        columns = [row["name"] for row in tx.all(f"PRAGMA table_info({table})")]
        values = ", ".join("?" * len(columns))
        tx.run_many(f"INSERT INTO {table} ({', '.join(columns)}) VALUES ({values})", [[7] * len(columns)])

    await door.database.write(leave_over)
    faults = await door.faults()
    assert any(f"The table {table} differs from what the log says" in fault for fault in faults), faults
