"""The index of the list: what stands in it under an entry, and that nothing is put there by the way."""

from __future__ import annotations

from typing import Any

from intake.cataloguing.search import VISITS_LIMIT, put, replace_mark
from intake.database import Writing
from tests.builders import a_consignor, a_visit, an_item
from tests.conftest import Office
from tests.door import Door
from tests.phone import Phone


async def test_a_mark_is_replaced_where_the_entry_stands_and_puts_none_there(door: Door) -> None:
    """Common practice: what is not in the list does not come into it because something else of it changed."""

    def job(tx: Writing) -> list[tuple[str, str] | None]:
        def row(entry_seq: int) -> tuple[str, str] | None:
            found = tx.one("SELECT words, marks FROM entry_words WHERE rowid = :seq", seq=entry_seq)
            return None if found is None else (found["words"], found["marks"])

        put(tx, 9001, "brass clock", "listed open")
        put(tx, 9002, "", "")  # it has left the list
        for entry_seq in (9001, 9002, 9003):
            replace_mark(tx, entry_seq, "open", "described")
        return [row(entry_seq) for entry_seq in (9001, 9002, 9003)]

    assert await door.database.write(job) == [("brass clock", "listed described"), ("", ""), None]


def test_a_whole_name_is_found_among_hundreds_of_the_same_first_name(
    office: Office, manager: Phone, day: dict[str, Any]
) -> None:
    """And where a word stands for more owners than are looked at, the list says that there may be more."""
    for number in range(VISITS_LIMIT + 20):
        visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket=f"Q{number}"))
        manager.keep(an_item(manager.ids, visit))
        manager.keep(a_consignor(visit["visit_id"], "name", f"Anna Common{number:03}"))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    desk = office.pair("desk").client

    def asked(words: str) -> tuple[list[str], int, bool]:
        page = desk.get("/queue", params={"words": words}).json()
        return [row["ticket"] for row in page["entries"]], page["count"], page["count_capped"]

    for number in (0, VISITS_LIMIT + 19):
        tickets, count, _ = asked(f"Anna Common{number:03}")
        assert (tickets, count) == ([f"Q{number}"], 1)
        assert asked(f"common{number:03} an")[0] == [f"Q{number}"]
    assert asked("Anna")[1:] == (VISITS_LIMIT, True)
    assert asked("Common001")[1:] == (1, False)
