"""What anybody on the network may send costs the office little, whatever it is, and is answered in words."""

from __future__ import annotations

import json
from typing import Any

import httpx
import pytest
from pydantic import ValidationError

from intake.custody.closing import MOST_NAMED
from intake.custody.moves import MOST_PACKED
from intake.custody.receipts import MOST_NUMBERS
from intake.operation import KINDS
from intake.photos.bundle import BundledPhoto
from intake.sync.kinds import READ_OPERATION
from intake.wire import DEEPEST, OUTBOX_LIMIT, SMALL_LIMIT, read_in_parts
from tests.builders import Ids, a_visit
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


def test_a_bundle_has_eight_mebibytes_and_no_more(phone: Phone) -> None:
    """Of one that is larger nothing is read; of one that is not, its head is."""
    most = 8 * 1024 * 1024
    nothing = b"\0" * most  # a head of no bytes
    answers = [phone.client.post("/sync/bundle", content=body) for body in (nothing, nothing + b"\0")]
    assert [answer.json()["code"] for answer in answers] == ["unreadable", "too_large"]
    with pytest.raises(ValidationError, match="less than or equal to"):
        BundledPhoto(sha256="a" * 64, bytes=most + 1)
    assert BundledPhoto(sha256="a" * 64, bytes=most).bytes == most


@pytest.mark.parametrize("spoilt", [{"sent_at": "2026\ud83d"}, {"sent_at": 7}, {"dealt_with": ["\ud83d"]}])
def test_what_is_said_beside_the_operations_never_costs_them(
    phone: Phone, day: dict[str, Any], spoilt: dict[str, Any]
) -> None:
    phone.keep(a_visit(phone.ids, day["day_id"]))
    answer = phone.client.post(
        "/sync/operations", content=json.dumps({"operations": phone.outbox, **spoilt}).encode()
    )
    assert [one["outcome"] for one in answer.json()["answers"]] == ["kept"]


ENVELOPE_MOST = (
    1024  # what stands round one operation in a request, the addresses of its members and the commas
)


def most_bytes(schema: dict[str, Any], models: dict[str, Any]) -> int:
    """The most bytes that a value may have as JSON: a sign takes six where it is written as an escape (RFC 8259, 7)."""
    if "$ref" in schema:
        return most_bytes(models[schema["$ref"].rsplit("/", 1)[-1]], models)
    if choices := schema.get("anyOf"):
        return max(most_bytes(choice, models) for choice in choices)
    if said := schema.get("enum") or ([schema["const"]] if "const" in schema else None):
        return max(len(json.dumps(value)) for value in said)
    match schema["type"]:
        case "string" if "maxLength" in schema:
            return 2 + 6 * int(schema["maxLength"])
        case "string" if (pattern := schema["pattern"]) and not {"*", "+"} & set(pattern):
            return 80  # ids, instants, digests: their patterns say how long they are
        case "array":
            return 2 + int(schema["maxItems"]) * (1 + most_bytes(schema["items"], models))
        case "object":
            return 2 + sum(4 + len(key) + most_bytes(of, models) for key, of in schema["properties"].items())
        case _:
            return 24  # a number, a truth value, null


def test_the_largest_operation_that_there_can_be_fits_into_a_request() -> None:
    models = READ_OPERATION.json_schema()["$defs"]
    # Of these lists the whole is limited, whatever stands in each of their lines.
    numbers = models["ReceiptLine"]["properties"]["tags"]
    numbers["maxItems"] = MOST_NUMBERS // models["SignReceipt"]["properties"]["lines"]["maxItems"]
    packed = models["CountLoad"]["properties"]["packed"]["anyOf"][0]
    models["Packed"]["properties"]["numbers"]["maxItems"] = MOST_PACKED // packed["maxItems"]
    named = models["CloseDay"]["properties"]["named"]
    named["items"]["maxLength"] = MOST_NAMED // named["maxItems"]
    models["CloseDay"]["properties"]["reasons"]["items"]["maxLength"] = 0  # counted with those that are named
    kinds = {name: schema for name, schema in models.items() if "kind" in schema["properties"]}
    assert len(kinds) == len(KINDS)
    for name, schema in kinds.items():
        most = most_bytes(schema, models)
        assert most + ENVELOPE_MOST <= OUTBOX_LIMIT, (
            f"{name} may have {most} bytes: limit its lists or its texts"
        )


def test_a_closing_and_a_receipt_have_no_more_than_fits() -> None:
    ids = Ids(3)
    made = {
        "operation_id": ids.id(),
        "made_at": ids.instant(),
        "made_by": "ana",
        "device_id": "d",
        "device_seq": 1,
    }
    closing = {**made, "kind": "close_day", "day_id": ids.id(), "closed_by": "Ana", "second_by": "Ned"}
    named = ["x" * 400] * (MOST_NAMED // 400)
    READ_OPERATION.validate_python({**closing, "named": named})
    with pytest.raises(ValidationError, match="end some of them first"):
        READ_OPERATION.validate_python({**closing, "named": [*named, "x"]})
    body = {
        "operation_id": ids.id(),
        "made_at": ids.instant(),
        "made_by": "ana",
        "device_id": "d",
        "device_seq": 1,
    }
    body |= {
        "kind": "sign_receipt",
        "visit_id": ids.id(),
        "receipt_id": ids.id(),
        "number": "Q01/1",
        "what": "left",
    }
    body |= {"replaces": None, "house_by": "Ana", "on_paper": "pad 1, 7", "signed_by": "B.", "strokes": ""}
    body["salt"] = "0" * 32
    line = {"item_id": ids.id(), "tags": ["7K3QW5"] * 100, "words": ""}
    READ_OPERATION.validate_python({**body, "lines": [line] * 50})
    with pytest.raises(ValidationError, match="at most 5000 numbers"):
        READ_OPERATION.validate_python({**body, "lines": [line] * 51})
