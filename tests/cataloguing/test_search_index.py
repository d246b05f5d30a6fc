"""The index of the list: what stands in it under an entry, and that nothing is put there by the way."""

from __future__ import annotations

from intake.cataloguing.search import put, replace_mark, replace_owner_marks
from intake.database import Writing
from tests.door import Door


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


async def test_an_owner_s_other_words_are_found_where_the_entry_stands_and_behind_all_marks(
    door: Door,
) -> None:
    """So that a rebuild makes the same row, in whichever order it hears of a visit and its things."""

    def job(tx: Writing) -> list[str | None]:
        put(tx, 9001, "brass clock", "listed ownermary open")
        put(tx, 9002, "", "")  # it has left the list
        for entry_seq in (9001, 9002, 9003):
            replace_owner_marks(tx, entry_seq, ["owneranna", "ownerquill"])
        return [
            tx.value("SELECT marks FROM entry_words WHERE rowid = :seq", seq=seq)
            for seq in (9001, 9002, 9003)
        ]

    assert await door.database.write(job) == ["listed open owneranna ownerquill", "", None]
