"""After an erasure no byte of the words is in any file, and copies go on counting photos where they were."""

from __future__ import annotations

import asyncio
import sqlite3
from pathlib import Path
from typing import Any

import pytest

from intake.copies.source import photos_after
from intake.database import snapshot
from intake.errors import OfficeBusy, OfficeFull
from intake.office import PUT_OFF_MOST, beside
from intake.opening import open_office
from intake.settings import Settings
from intake.sync.tidying import erasures_untidy, tidy
from tests.builders import a_consignor, a_fact, a_visit, an_item
from tests.door import Door

WORDS = ("Quintablewick", "zebulonquartz")


def in_files(door: Door) -> set[str]:
    """Which of the words stand in any file of the folder, in small letters or not."""
    content = b"".join(file.read_bytes() for file in door.folder.iterdir() if file.is_file()).lower()
    return {word for word in WORDS if word.lower().encode() in content}


async def erased(door: Door) -> None:
    """A hall of visits, so that pages are split and joined, and one whose words are erased in the middle of them."""
    day = await door.item()
    wanted = ""
    for number in range(120):
        visit = await door.keep(a_visit(door.ids, day["day_id"], ticket=f"Q{number}"))
        name = "Barnaby Quintablewick" if number == 60 else f"Owner{number} Name{number * 7919 % 120}"
        item = door.make(an_item(door.ids, visit))
        told = "from zebulonquartz, as told" if number == 60 else f"told of number {number}"
        await door.send(
            item,
            door.make(a_consignor(visit["visit_id"], "name", name)),
            door.make(a_fact(item["item_id"], "told_words", told)),
        )
        if number == 60:
            wanted = visit["visit_id"]
    assert in_files(door) == set(WORDS)
    await door.keep(("erase_consignor", {"visit_id": wanted}))


async def owed(door: Door) -> int:
    return await door.database.read(erasures_untidy)


async def test_no_byte_is_left_between_what_stands(door: Door) -> None:
    await erased(door)
    assert await owed(door) == 1
    assert in_files(door) != set(), "overwriting what is deleted is not enough"
    assert await tidy(door.database) is True
    assert in_files(door) == set()
    assert await owed(door) == 0
    assert await tidy(door.database) is False
    assert await door.faults() == []


async def test_whoever_reads_an_older_moment_makes_it_owed(door: Door) -> None:
    await erased(door)
    with snapshot(Settings(door.folder).database_file) as tx:
        assert tx.value("SELECT count(*) FROM record")
        with pytest.raises(OfficeBusy):
            await tidy(door.database)
    assert await owed(door) == 1
    await tidy(door.database)
    assert (in_files(door), await owed(door)) == (set(), 0)


async def test_a_full_disk_makes_it_owed(door: Door, monkeypatch: pytest.MonkeyPatch) -> None:
    await erased(door)

    error = sqlite3.OperationalError("database or disk is full")
    error.sqlite_errorcode = sqlite3.SQLITE_FULL
    with monkeypatch.context() as patched:

        def vacuum_on_a_full_disk(connection: Any) -> None:
            raise error

        patched.setattr("intake.database._write_anew", vacuum_on_a_full_disk)
        with pytest.raises(OfficeFull):
            await tidy(door.database)
    assert await owed(door) == 1
    await door.keep(a_visit(door.ids, (await door.item())["day_id"]))
    await tidy(door.database)
    assert (in_files(door), await owed(door)) == (set(), 0)


async def test_copies_count_photos_on_where_they_were(door: Door) -> None:
    """Rows that were taken out leave gaps, which writing the file anew must not close."""
    await erased(door)

    def put(tx: Any) -> None:
        tx.run_many(
            """
            INSERT INTO photo_file (sha256, bytes, media_type, width, height, received_at)
            VALUES (?, 1, 'image/jpeg', 1, 1, 'now')
            """,
            [(f"{number:064}",) for number in range(6)],
        )
        tx.run("DELETE FROM photo_file WHERE sha256 < :below", below=f"{3:064}")

    await door.database.write(put)
    before = await door.database.read(lambda tx: list(photos_after(tx, 4)))
    await tidy(door.database)
    assert await door.database.read(lambda tx: list(photos_after(tx, 4))) == before
    assert len(before) == 2


async def test_a_serving_office_gives_way_to_whoever_sends_but_not_for_good(tmp_path: Path) -> None:
    async with open_office(Settings(tmp_path, numbers=(1, 1))) as office:
        untidy = "UPDATE office SET untidy = 1"
        sending = [asyncio.create_task(office.database.write(lambda tx: tx.run(untidy)))]
        await asyncio.sleep(0)  # the task is taken up
        for _ in range(PUT_OFF_MOST):
            assert office.database.is_busy
            await office.tidy_when_quiet()
        assert not sending[0].done(), "nothing was waited for"
        await beside(office.tidy_when_quiet())
        await asyncio.gather(*sending)
        for _ in range(
            PUT_OFF_MOST
        ):  # what the office reads by itself may stand in the way, as it may in a hall
            await beside(office.tidy_when_quiet())
        assert await office.database.read(erasures_untidy) == 0
