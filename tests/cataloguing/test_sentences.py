"""The desk's version of a sentence: whose it is, what it may not touch, and that it is found."""

from __future__ import annotations

from typing import Any

import pytest

from intake.cataloguing.pages import Asked, Search
from tests.door import Door

FINDING = "findings/017f22e2-79b0-7cc3-98c4-dc0c0c07398f"


def a_sentence(item: dict[str, Any], **more: Any) -> tuple[str, dict[str, Any]]:
    return "write_sentence", {
        "item_id": item["item_id"],
        "text": "condition",
        "sentence": FINDING,
        "speaks_of": [FINDING],
        "record_words": "A chip of 3 mm to the rim.",
        "version": "rewritten",
        "words": "A nibble to the rim.",
        "seen": None,
        **more,
    }


async def test_the_desk_words_a_sentence_and_a_table_does_not(door: Door) -> None:
    item = await door.item()
    table, desk = door.other("table"), door.other("desk")
    assert await table.refused(a_sentence(item)) == "role_may_not"
    await desk.keep(a_sentence(item))
    assert (await door.value(item["item_id"], f"sentences/condition/{FINDING}"))["version"] == "rewritten"
    assert await door.faults() == []


@pytest.mark.parametrize(
    "more",
    [
        {"sentence": "held/1", "speaks_of": ["held/1"]},
        {"speaks_of": [FINDING, "held/1"]},
        {"sentence": "A chip to the rim."},
        {"text": "price"},
    ],
)
async def test_what_a_caution_says_is_not_worded_nor_what_is_no_sentence(
    door: Door, more: dict[str, Any]
) -> None:
    item = await door.item()
    assert await door.refused(a_sentence(item, **more)) == "unreadable"


async def test_an_entry_is_found_by_the_desks_own_words(door: Door) -> None:
    item = await door.item()
    await door.keep(a_sentence(item))
    found, count = await door.database.read(
        lambda tx: (
            (search := Search(tx, Asked(words="nibble"))).page(after=0, limit=10),
            search.count(),
        )
    )
    assert [entry["item_id"] for entry in found] == [item["item_id"]]
    assert count == 1
