"""What anybody on the network may send costs the office little, whatever it is, and is answered in words."""

from __future__ import annotations

import json
from typing import Any

import httpx
import pytest

from intake.wire import DEEPEST, OUTBOX_LIMIT, SMALL_LIMIT, read_in_parts
from tests.builders import a_visit
from tests.conftest import Office
from tests.phone import Phone

#: The first takes days if every quotation mark is a place to begin anew from.
HOSTILE = {
    "a text that never ends": '{"code":' + "[" * 2000 + '"' + '\\"' * (OUTBOX_LIMIT // 2),
    "texts inside brackets": "[" * 2000 + '"' * (OUTBOX_LIMIT // 16 + 1),
    "a text that ends on a backslash": '["' + "\\" * (OUTBOX_LIMIT // 2 - 1),
    "brackets that never end": "[" * (OUTBOX_LIMIT // 16),
    "brackets that end too often": "[" * 2000 + "]" * 4000,
    "more parts than there can be": '{"operations":[' + "[]," * 110_000 + "[" * 300 + "]" * 300 + "]}",
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_body_is_read_once_however_it_is_made(name: str) -> None:
    with pytest.raises(ValueError, match=r"."):
        read_in_parts(HOSTILE[name])


def test_the_parts_that_can_be_read_are() -> None:
    """Two thousand operations nested deeper than any reader goes: each is looked at once, and set aside by itself."""
    deep = "[" * DEEPEST + "]" * DEEPEST
    body = '{"operations":[' + ",".join([deep] * 2000) + '],"holds_from":1}'
    unread = {"unread": deep[1:-1]}  # an operation is the third level, and what is in it is read as a whole
    value = read_in_parts(body)
    assert value["holds_from"] == 1
    assert value["operations"] == [[unread]] * 2000
    assert read_in_parts('{"a":[],"b":{},"c":[{"d":' + deep + ',"e":" ] , \\" "},{}]}') == {
        "a": [],
        "b": {},
        "c": [{"d": {"unread": deep}, "e": ' ] , " '}, {}],
    }


@pytest.mark.parametrize(
    "wrong", ['{"a",1,"b":DEEP}', '["a":DEEP]', "{[]:1,2:DEEP}", '{"a":DEEP]', "[DEEP][]", "[DEEP],1"]
)
def test_what_is_no_json_is_not_taken_for_some(wrong: str) -> None:
    with pytest.raises(ValueError, match=r"."):
        read_in_parts(wrong.replace("DEEP", "[" * DEEPEST + "]" * DEEPEST))


def test_a_stranger_is_answered_at_once(office: Office) -> None:
    with httpx.Client(base_url=office.address, headers={"Origin": office.address}) as stranger:
        answer = stranger.post("/pairing", content=HOSTILE["a text that never ends"][: SMALL_LIMIT - 1])
        assert (answer.status_code, answer.json()["code"]) == (400, "unreadable")
        answer = stranger.post("/pairing", content=HOSTILE["a text that never ends"])
        assert (answer.status_code, answer.json()["code"]) == (413, "too_large")


def test_the_head_of_a_bundle_is_no_longer_than_an_outbox(phone: Phone) -> None:
    head = json.dumps({"operations": [], "photos": [], "more": "x" * OUTBOX_LIMIT}).encode()
    answer = phone.client.post("/sync/bundle", content=len(head).to_bytes(4, "big") + head)
    assert (answer.status_code, answer.json()["code"]) == (400, "unreadable")
    assert "head" in answer.json()["detail"]


@pytest.mark.parametrize("spoilt", [{"sent_at": "2026\ud83d"}, {"sent_at": 7}, {"dealt_with": ["\ud83d"]}])
def test_what_is_said_beside_the_operations_never_costs_them(
    phone: Phone, day: dict[str, Any], spoilt: dict[str, Any]
) -> None:
    phone.keep(a_visit(phone.ids, day["day_id"]))
    answer = phone.client.post(
        "/sync/operations", content=json.dumps({"operations": phone.outbox, **spoilt}).encode()
    )
    assert [one["outcome"] for one in answer.json()["answers"]] == ["kept"]
