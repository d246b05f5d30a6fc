"""The list says which things nobody has signed for, by the rule of receipts and of the closing."""

from __future__ import annotations

from itertools import islice
from typing import Any

import pytest

from intake.tagging.tags import codes
from tests.builders import a_crate, a_day, a_fact, a_finding, a_move, a_tie, a_visit, an_item, put_in
from tests.cataloguing.test_queue import ids_of, queue
from tests.conftest import Office
from tests.custody.test_receipts import a_receipt
from tests.phone import Phone


@pytest.fixture
def owls(phone: Phone, day: dict[str, Any]) -> list[dict[str, Any]]:
    """Two that have a number, and one that has none yet."""
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    opened = [phone.keep(an_item(phone.ids, visit)) for _ in range(3)]
    for item, tag in zip(opened, islice(codes(9100), 2), strict=False):
        phone.keep(a_tie(item["item_id"], tag))
    phone.push()
    return opened


def line_of(item: dict[str, Any], phone: Phone) -> dict[str, Any]:
    tags = [name.removeprefix("tags/") for name in phone.record(item["item_id"])["fields"] if "tags/" in name]
    return {"item_id": item["item_id"], "tags": tags, "words": "owl"}


def test_what_no_receipt_names_is_found_until_one_does(
    office: Office, phone: Phone, owls: list[dict[str, Any]]
) -> None:
    first, second, untagged = (owl["item_id"] for owl in owls)
    assert ids_of(phone, only="unsigned") == [first, second]
    phone.keep(a_receipt(phone, owls[0], lines=[line_of(owls[0], phone)]))
    phone.push()
    assert ids_of(phone, only="unsigned") == [second], (
        "the receipt touches no item, and its thing is signed for"
    )
    assert queue(phone, counts="1")["counts"]["only"]["unsigned"] == 1
    phone.keep(a_tie(untagged, next(islice(codes(9100), 2, 3))))
    phone.push()
    assert ids_of(phone, only="unsigned") == [second, untagged], (
        "what has a number is the house's to answer for"
    )
    assert office.faults() == []


def test_what_goes_home_in_its_crate_is_nobody_s_to_sign_for_as_left(
    office: Office, phone: Phone, day: dict[str, Any], owls: list[dict[str, Any]]
) -> None:
    """The move is the crate's, in which it stands in a box: its own record says nothing of it."""
    first, second = (owl["item_id"] for owl in owls[:2])
    crate, box = (
        phone.keep(a_crate(phone.ids, day["day_id"], number))["container_id"]
        for number in islice(codes(9150), 2)
    )
    phone.keep(put_in(first, box))
    phone.keep(put_in(box, crate))
    phone.push()
    assert ids_of(phone, only="unsigned") == [first, second]
    phone.keep(a_move(phone.ids, crate, "returned"))
    phone.push()
    assert ids_of(phone, only="unsigned") == [second]
    assert office.faults() == []
    phone.keep(a_move(phone.ids, crate, "holding"))
    phone.push()
    assert ids_of(phone, only="unsigned") == [first, second]
    assert office.faults() == []


def test_what_is_brought_and_signed_for_at_once_is_not_listed(
    phone: Phone, owls: list[dict[str, Any]]
) -> None:
    day = phone.keep(a_day(phone.ids))
    other = phone.keep(an_item(phone.ids, phone.keep(a_visit(phone.ids, day["day_id"]))))
    phone.keep(a_tie(other["item_id"], next(islice(codes(9180), 1))))
    phone.keep(a_fact(other["item_id"], "short_description", "barn owl"))
    phone.keep(a_receipt(phone, other, lines=[{"item_id": other["item_id"], "tags": [], "words": "owl"}]))
    phone.push()
    assert ids_of(phone, only="unsigned") == [owl["item_id"] for owl in owls[:2]]


def test_what_is_otherwise_than_was_signed_for_is_found_and_said_in_its_row(
    office: Office, phone: Phone, owls: list[dict[str, Any]]
) -> None:
    first, second = (owl["item_id"] for owl in owls[:2])
    lines = [line_of(owl, phone) for owl in owls[:2]]
    for owl in owls[:2]:
        phone.keep(a_fact(owl["item_id"], "short_description", "owl"))
    signed = phone.keep(a_receipt(phone, owls[0], lines=lines))
    phone.push()
    assert ids_of(phone, only="otherwise") == []
    phone.keep(a_finding(phone.ids, second, "rim", term="chip", severity=3))
    phone.push()
    assert ids_of(phone, only="otherwise") == [second]
    said = {row["item_id"]: (row["unsigned"], row["otherwise"]) for row in queue(phone)["entries"]}
    assert said == {first: (False, False), second: (False, True), owls[2]["item_id"]: (False, False)}
    anew = [lines[0], {**lines[1], "words": "owl; chip on the rim, serious"}]
    phone.keep(a_receipt(phone, owls[0], lines=anew, replaces=signed["receipt_id"]))
    phone.push()
    assert ids_of(phone, only="otherwise") == [], "it was signed for anew"
    assert office.faults() == []
