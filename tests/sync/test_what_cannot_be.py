"""What no person typed and no thing is: refused with words, in the log, and in nobody else's way."""

from __future__ import annotations

import json
from typing import Any

import pytest

from intake.cataloguing.search import count_matching, mark, match_of, words_in
from intake.sync.erasing import visits_named
from intake.wire import read_in_parts
from tests.builders import a_day, a_fact, a_visit, an_item
from tests.door import Door


async def unreadable(door: Door, made: tuple[str, dict[str, Any]], **envelope: Any) -> str:
    """Why it cannot be read; it stands in the log all the same, and what comes after it is kept."""
    bad = door.make(made, **envelope)
    good = door.make(a_fact((await door.item())["item_id"], "materials", "tin"))
    refused, kept = await door.send(bad, good)
    assert (refused["outcome"], kept["outcome"]) == ("refused", "kept")
    assert refused["problem"]["code"] == "unreadable"
    assert refused["office_seq"] > 0
    assert await door.faults() == []
    return str(refused["problem"]["detail"])


@pytest.mark.parametrize(
    "made_at",
    [
        "2026-13-14T10:00:00Z",
        "2026-02-31T10:00:00Z",
        "2026-03-14T24:10:00Z",
        "2026-03-14T10:61:00Z",
        "\u0662\u0660\u0662\u0666-03-14T10:00:00Z",  # other digits
        "0000-03-14T10:00:00Z",
    ],
)
async def test_a_moment_is_one_of_the_calendar(door: Door, made_at: str) -> None:
    item_id = (await door.item())["item_id"]
    assert "made_at" in await unreadable(door, a_fact(item_id, "maker", "unmarked"), made_at=made_at)


@pytest.mark.parametrize("where", ["value", "nested"])
async def test_a_sign_that_nobody_types_is_in_no_text(door: Door, where: str) -> None:
    """U+0000: the engine's functions end a text there. What only looks so once it is written is a text like any."""
    item_id = (await door.item())["item_id"]
    kind, day = a_day(door.ids)
    day["people"][0]["name"] = "Hes\x00ter"
    made = a_fact(item_id, "maker", "un\x00marked") if where == "value" else (kind, day)
    assert "U+0000" in await unreadable(door, made)
    for typed in ("\\u0000", "\\\\u0000"):
        await door.keep(a_fact((await door.item())["item_id"], "maker", typed))
    assert await door.faults() == []


@pytest.mark.parametrize("value", ["", " ", "\n\t"])
@pytest.mark.parametrize("field", ["place", "house"])
async def test_a_day_has_a_place(door: Door, field: str, value: str) -> None:
    day_id = (await door.item())["day_id"]
    await unreadable(door, ("correct_day", {"day_id": day_id, "field": field, "value": value, "seen": None}))


def test_one_operation_of_too_many_parts_is_unread_alone() -> None:
    """No reader takes the body as it is, for half a character in it; the others are read."""
    many = '{"kind":"x",' + ",".join(f'"m{number}":1' for number in range(200_000)) + "}"
    text = '{"operations":[{"kind":"a"},' + many + ',{"words":"\\ud800"},{"kind":"b"}]}'
    body = read_in_parts(text)
    assert [one.get("kind") for one in body["operations"]] == ["a", "x", None, "b"]
    deep = '{"kind":"x",' + ",".join(f'"m{number}":' + "[" * 300 + "]" * 300 for number in range(1000)) + "}"
    first, unread, last = read_in_parts('{"operations":[{"kind":"a"},' + deep + ',{"kind":"b"}]}')[
        "operations"
    ]
    assert (first, list(unread), last) == ({"kind": "a"}, ["unread"], {"kind": "b"})


async def test_what_stands_behind_another_record_is_described_there(door: Door) -> None:
    first = await door.item()
    second = await door.keep(an_item(door.ids, first))
    merge = {"item_id": second["item_id"], "into_id": first["item_id"], "why": "", "seen": None}
    merged = await door.keep(("merge_item", merge))

    def entry(item: dict[str, Any], state: str) -> tuple[str, dict[str, Any]]:
        return "set_entry", {"item_id": item["item_id"], "state": state, "seen": None}

    for state in ("picked-up", "described"):
        assert await door.refused(entry(second, state)) == "stands_behind"
    await door.keep(entry(second, "waiting"))
    await door.keep(entry(first, "described"))
    apart = {**merge, "into_id": None, "seen": merged["operation_id"]}
    await door.keep(("merge_item", apart))
    assert (await door.keep(entry(second, "described")))["disagreement"], "somebody had put it back"


async def test_a_sentence_is_found_by_the_words_that_are_printed(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    sentence = {
        "item_id": item_id,
        "text": "description",
        "sentence": "overall",
        "speaks_of": ["overall"],
        "record_words": "Good.",
    }
    seen = None
    for version, found in (("rewritten", 1), ("struck", 0), ("rewritten", 1), ("as-recorded", 0)):
        said = {**sentence, "version": version, "words": "Zebulon quality", "seen": seen}
        seen = (await door.keep(("write_sentence", said)))["operation_id"]
        match = match_of({word: [] for word in words_in("zebulon")}, [])
        assert await door.database.read(lambda tx, m=match: count_matching(tx, m, most=9)) == found, version  # type: ignore[misc]


def test_two_values_are_never_one_token() -> None:
    """Tables are called as the house likes, in any letters."""
    named = ["1", "Ä1", "Ö1", "1-1", "11", "T1", "t1", "стол 1", "桌子", "", "none", "x31x"]
    tokens = [mark("table", name) for name in named]
    assert len(set(tokens)) == len(named)
    assert all(token.isascii() and token.isalnum() and token == token.lower() for token in tokens)


async def test_a_visit_is_named_by_the_day_as_it_was_corrected(door: Door) -> None:
    day = await door.keep(a_day(door.ids))
    await door.keep(a_visit(door.ids, day["day_id"], ticket="Q77"))
    for field, value in (("place", "The New Barn"), ("held_on", "2026-03-21")):
        correction = {"day_id": day["day_id"], "field": field, "value": value, "seen": None}
        await door.keep(("correct_day", correction))
    [named] = await door.database.read(lambda tx: visits_named(tx, "q77"))
    assert (named.place, named.held_on) == ("The New Barn", "2026-03-21")


def test_a_body_of_ordinary_size_is_read_as_before() -> None:
    body = {"operations": [{"kind": "a", "list": list(range(50))} for _ in range(500)]}
    assert read_in_parts(json.dumps(body)) == body
