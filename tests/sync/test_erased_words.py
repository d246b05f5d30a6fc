"""What was erased stays erased: notes about it, what could not be read, and what comes in late."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tests.builders import a_consignor, a_fact, a_settlement
from tests.door import Door

EARLIER, ERASED, LATER = (f"2026-03-14T11:{minute}:00.000Z" for minute in ("00", "05", "10"))
WITH_WORDS = ("record", "record_part", "field", "disagreement", "operation_log", "private_words", "set_aside")


async def found(door: Door, words: str) -> list[str]:
    """The tables in which these words stand."""

    def look(tx: Any) -> list[str]:
        return [
            table
            for table in WITH_WORDS
            if words in json.dumps([tuple(row) for row in tx.all(f"SELECT * FROM {table}")])
        ]

    return await door.database.read(look)


async def erase(door: Door, visit_id: str) -> None:
    await door.keep(("erase_consignor", {"visit_id": visit_id}), made_at=ERASED)


async def test_the_note_of_a_settlement_is_as_personal_as_what_it_was_about(door: Door) -> None:
    visit_id = (await door.item())["visit_id"]
    await door.keep(a_consignor(visit_id, "name", "Barnaby"))
    between = await door.keep(a_consignor(visit_id, "name", "Barnabas"))
    kind, settling = a_settlement(visit_id, between["operation_id"], "other")
    await door.keep((kind, {**settling, "note": "as on his passport", "salt": "0" * 32}))
    assert "operation_log" not in await found(door, "passport")
    assert "passport" in str(await door.record(visit_id, "table"))
    assert "passport" not in str(await door.record(visit_id, "porter"))
    await erase(door, visit_id)
    assert await found(door, "passport") == []
    assert await door.faults() == []


async def test_the_note_of_an_older_app_has_no_salt(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    await door.keep(a_fact(item_id, "materials", "tin"))
    between = await door.keep(a_fact(item_id, "materials", "oak"))
    kind, settling = a_settlement(item_id, between["operation_id"], "other")
    await door.keep((kind, {**settling, "note": "looked again"}))
    assert (await door.record(item_id))["disagreements"][0]["settled"]["note"] == "looked again"
    assert await door.faults() == []


@pytest.mark.parametrize("named", [str.upper, lambda _: "not-an-id", lambda _: 7])
async def test_set_aside_words_are_erased_whatever_they_say_they_are_of(door: Door, named: Any) -> None:
    """Nobody can tell whose they are if they name no record at all; they are still on their device."""
    item = await door.item()
    visit_id = item["visit_id"]
    sent = a_consignor(visit_id, "name", "Barnaby Tumblewick")
    assert await door.refused((sent[0], {**sent[1], "visit_id": named(visit_id)})) == "unreadable"
    assert await door.refused(a_fact(item["item_id"], "weather", "dull")) == "unreadable"
    assert await found(door, "Tumblewick") == ["set_aside"]
    await erase(door, visit_id)
    assert await found(door, "Tumblewick") == []
    assert await found(door, "dull") == ["set_aside"], "it is of another record"
    assert await door.faults() == []


async def test_words_that_were_on_their_way_are_erased_as_well(door: Door) -> None:
    """A phone that was offline wrote them before the owner asked; what is written afterwards is another word."""
    visit_id = (await door.item())["visit_id"]
    await door.keep(a_consignor(visit_id, "name", "Barnaby"))
    await erase(door, visit_id)
    other = door.other()
    await other.keep(a_consignor(visit_id, "telephone", "Tumblewick 7"), made_at=EARLIER)
    await other.keep(a_consignor(visit_id, "name", "Tumblewick"), made_at=EARLIER)
    receipt = {
        "visit_id": visit_id,
        "receipt_id": door.ids.id(),
        "number": "Q01/1",
        "what": "left",
        "lines": [{"item_id": door.ids.id(), "tags": [], "words": "a bear"}],
        "replaces": None,
        "house_by": "Ana",
        "on_paper": "",
        "signed_by": "Tumblewick",
        "strokes": "M1 1L2 2",
        "salt": "0" * 32,
    }
    await other.keep(("sign_receipt", receipt), made_at=EARLIER)
    assert await other.refused(("sign_receipt", receipt), made_at=EARLIER) == "already_there"
    assert await other.refused(a_consignor(visit_id, "name", "Tumblewick", surprise=1)) == "unreadable"
    assert await found(door, "Tumblewick") == []
    record = await door.record(visit_id)
    assert record["fields"]["consignor/name"]["value"] == ""
    assert f"receipts/{receipt['receipt_id']}" in record["fields"], "that something was left stays on record"
    await other.keep(a_consignor(visit_id, "email", "new@example.org"), made_at=LATER)
    assert await door.value(visit_id, "consignor/email") == "new@example.org"
    assert await door.faults() == []


@pytest.mark.parametrize("more", [{"Barnaby Tumblewick": 1}, {"kind": "Tumblewick"}])
async def test_an_answer_repeats_nothing_that_no_model_knows(door: Door, more: dict[str, Any]) -> None:
    """An answer stands in the log for good, while what was set aside can be erased."""
    sent = door.make(a_consignor((await door.item())["visit_id"], "name", "B"))
    [answer] = await door.send({**sent, **more})
    assert answer["problem"]["code"] == "unreadable"
    assert await found(door, "Tumblewick") == ["set_aside"]
