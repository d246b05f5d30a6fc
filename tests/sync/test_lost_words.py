"""Personal words that the office lost, and nobody erased, come back from whoever holds them."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from intake.access.hearing import begin_hearing
from intake.copies.bring_in import BroughtIn, take_in
from intake.database import Writing
from intake.derived_tables import DERIVED
from intake.errors import OfficeBusy, TablesNotMade
from intake.opening import name_office, open_office
from intake.settings import Settings, utc_now
from intake.sync.canonical import canonical
from intake.sync.rebuild import is_outdated, rebuild, rebuild_if_outdated
from intake.sync.standing import Known, standing
from tests.builders import a_consignor, a_fact, a_settlement
from tests.door import RECEIVED_AT, Door
from tests.sync.frozen_logs import log_rows

#: But for what was heard of the bags when the visit was opened, which is no matter here.
LOSE = """
    DELETE FROM private_words WHERE operation_id IN
        (SELECT operation_id FROM operation_log WHERE operation ->> 'kind' <> 'open_visit')
    """


async def lose(door: Door, sql: str = LOSE) -> None:
    """Words go, and the tables are made from what is left, as a restored office makes them."""

    def job(tx: Writing) -> None:
        tx.run(sql)
        for table in DERIVED:
            tx.run(f"DELETE FROM {table}")
        rebuild(tx)

    await door.database.write(job)


async def lose_beside_the_log(door: Door) -> None:
    """Words go, and the tables have them still."""
    await door.database.write(lambda tx: tx.run(LOSE))


async def words_beside(door: Door) -> str:
    return str(
        await door.database.read(lambda tx: [tuple(row) for row in tx.all("SELECT * FROM private_words")])
    )


async def device_seq(door: Door) -> int:
    stands = await door.database.read(
        lambda tx: standing(tx, device_id=door.device_id, known=Known(), reached=0, safe_seq=None)
    )
    return stands.device_seq


@pytest.fixture
async def named(door: Door) -> tuple[str, list[dict[str, Any]]]:
    """A visit, and what two people called its owner."""
    visit_id = (await door.item())["visit_id"]
    made = [door.make(a_consignor(visit_id, "name", name)) for name in ("Barnaby", "Barnabas")]
    await door.send(*made)
    return visit_id, made


async def test_words_that_a_phone_sends_again_fill_the_gap(
    door: Door, named: tuple[str, list[dict[str, Any]]]
) -> None:
    visit_id, made = named
    before = await door.digests()
    await lose(door)
    assert "Barnaby" not in str(await door.record(visit_id))
    answers = await door.send(*made)
    assert [answer["outcome"] for answer in answers] == ["kept", "kept"]
    await door.database.write(rebuild_if_outdated)
    assert "Barnaby" in str(await door.record(visit_id))
    after = await door.digests()
    assert {name for name in before if before[name] != after[name]} <= {
        "record"
    }  # its place in the feed alone
    assert await door.faults() == []


async def test_other_words_under_the_same_id_fill_nothing(
    door: Door, named: tuple[str, list[dict[str, Any]]]
) -> None:
    _, made = named
    await lose(door)
    [answer] = await door.send({**made[0], "value": "Somebody else"})
    assert answer["problem"]["code"] == "operation_id_reused"
    assert "Barnab" not in await words_beside(door)


async def test_erased_words_never_come_back_so(door: Door, named: tuple[str, list[dict[str, Any]]]) -> None:
    visit_id, made = named
    await door.keep(("erase_consignor", {"visit_id": visit_id}))
    await door.send(*made)
    assert "Barnab" not in await words_beside(door)
    assert await door.faults() == []


async def test_verify_says_which_words_are_missing_before_and_after_a_rebuild(
    door: Door, named: tuple[str, list[dict[str, Any]]]
) -> None:
    await lose_beside_the_log(door)
    for _ in range(2):
        faults = await door.faults()
        assert sum("personal words" in fault and "missing" in fault for fault in faults) == 2
        assert len(faults) == 2, "what stood in the tables comes out equal"
        await door.rebuild()


async def test_no_rebuild_blanks_what_stands_in_the_tables(door: Door) -> None:
    """A fact of the owner, a signature, a note beside a settlement, and either side of a disagreement."""
    item = await door.item()
    visit_id = item["visit_id"]
    first = await door.keep(a_consignor(visit_id, "name", "Barnaby"))
    second = await door.keep(a_consignor(visit_id, "name", "Barnabas"))
    await door.keep(a_consignor(visit_id, "name", "Barnaby"))  # nobody disagrees with the same words
    await door.keep(a_consignor(visit_id, "email", "b@example.org"))
    await door.keep(a_consignor(visit_id, "email", "c@example.org"))
    line = {"item_id": item["item_id"], "tags": [], "words": "jug"}
    body = {
        "visit_id": visit_id,
        "receipt_id": door.ids.id(),
        "number": "Q01/1",
        "what": "left",
        "lines": [line],
    }
    who = {"replaces": None, "house_by": "Hester", "on_paper": "", "signed_by": "Barnaby"}
    await door.keep(("sign_receipt", {**body, **who, "strokes": "M30 120L80 60", "salt": "ef" * 16}))
    settled = a_settlement(visit_id, second["operation_id"], "other")
    await door.keep((settled[0], {**settled[1], "note": "as he said himself", "salt": "cd" * 16}))
    before, record = await door.digests(), await door.record(visit_id)
    assert first["value"] in str(record)
    applied = (await door.rebuild()).applied
    await lose_beside_the_log(door)
    assert (await door.rebuild()).applied == applied
    assert await door.digests() == before
    await lose(door, LOSE)
    assert "Barnab" not in str(await door.record(visit_id)), (
        "a rebuild of an office without tables has nothing"
    )


@pytest.mark.parametrize("way", ["a version", "one phone's sending again", "a copy"])
async def test_every_way_to_a_rebuild_keeps_them(
    door: Door, named: tuple[str, list[dict[str, Any]]], way: str
) -> None:
    """Brought back for one operation, the words of the other stay what the tables have."""
    visit_id, made = named
    rows = await door.database.read(log_rows)
    await lose_beside_the_log(door)
    if way == "a version":
        await door.database.write(lambda tx: tx.run("UPDATE office SET apply_version = 1"))
    elif way == "one phone's sending again":
        await door.send(made[1])
    else:
        words = {made[1]["operation_id"]: canonical({name: made[1][name] for name in ("salt", "value")})}
        done = BroughtIn()
        await door.database.write(lambda tx: take_in(tx, rows, words, {}, RECEIVED_AT, done, None))
        assert done.words == 1
    assert await door.database.write(lambda tx: name_office(tx, (1, 1)))
    assert "Barnaby" in str(await door.record(visit_id))
    assert await door.value(visit_id, "consignor/name") == "Barnaby"


async def test_words_with_their_salt_take_the_place_of_what_the_tables_had(
    door: Door, named: tuple[str, list[dict[str, Any]]]
) -> None:
    _, made = named
    await lose_beside_the_log(door)
    await door.rebuild()
    await door.send(*made)
    await door.database.write(rebuild_if_outdated)
    assert await door.faults() == []


async def test_what_the_tables_had_is_erased_with_the_rest(
    door: Door, named: tuple[str, list[dict[str, Any]]]
) -> None:
    visit_id, made = named
    await lose_beside_the_log(door)
    await door.rebuild()
    await door.keep(("erase_consignor", {"visit_id": visit_id}))
    await door.rebuild()
    await door.send(*made)
    assert "Barnab" not in await words_beside(door)
    assert "Barnab" not in str(await door.record(visit_id))
    assert await door.faults() == []


async def test_what_was_set_aside_and_lost_is_filled_in_too(door: Door) -> None:
    unread = {**door.make(a_fact("no id at all", "materials", "tin")), "surprise": 1}
    await door.send(unread)
    await door.database.write(lambda tx: tx.run("DELETE FROM set_aside"))
    assert any("missing" in fault for fault in await door.faults())
    await door.send(unread)
    assert await door.faults() == []


async def test_while_phones_are_heard_what_lost_its_words_counts_as_not_answered(
    door: Door, named: tuple[str, list[dict[str, Any]]]
) -> None:
    """So a phone that still holds it sends it again with all after it."""
    _, made = named
    await door.item()
    answered = await device_seq(door)
    await door.database.write(lambda tx: begin_hearing(tx, utc_now()))
    assert await device_seq(door) == answered
    await lose(door)
    assert await device_seq(door) == made[0]["device_seq"] - 1
    await door.send(*made)
    assert await device_seq(door) == answered


async def test_what_cannot_be_made_anew_is_tried_once_a_start_and_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each try stops all writing for as long as the log is long. The manager hears of it, and whoever watches."""
    tries = []

    def cannot(tx: Any) -> bool:
        tries.append(1)
        raise TablesNotMade(["Operation 7 is left out."])

    monkeypatch.setattr("intake.office.rebuild_if_outdated", cannot)
    async with open_office(Settings(tmp_path)) as office:
        await office.database.write(lambda tx: tx.run("UPDATE office SET apply_version = 0"))
        for _ in range(3):
            with suppress(TablesNotMade):
                await office.make_tables_anew()
        assert len(tries) == 1
        assert "Operation 7 is left out." in office.tables_fault


async def test_a_held_file_is_tried_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def busy(tx: Any) -> bool:
        raise OfficeBusy

    async with open_office(Settings(tmp_path)) as office:
        await office.database.write(lambda tx: tx.run("UPDATE office SET apply_version = 0"))
        with monkeypatch.context() as held:
            held.setattr("intake.office.rebuild_if_outdated", busy)
            with pytest.raises(OfficeBusy):
                await office.make_tables_anew()
        await office.make_tables_anew()
        assert office.tables_fault == ""
        assert not await office.database.read(is_outdated)
