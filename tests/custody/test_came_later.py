"""What was made before a closing and brought after it: nobody signed for it, and the closing's list of what was changed
since names it, at the office as on a device."""

from __future__ import annotations

from typing import Any

from tests.builders import Ids, a_fact, a_visit, an_item
from tests.closings import a_closing, a_saying, found_at, whole_closing
from tests.conftest import Office
from tests.phone import Phone


def heard_by(manager: Phone) -> list[dict[str, Any]]:
    """How far a device has heard each, off its records, as the app reckons it."""
    heard: dict[str, int] = {}
    for record in manager.feed()["records"]:
        for field in record["fields"].values():
            heard[field["device_id"]] = max(field["device_seq"], heard.get(field["device_id"], 0))
    return [{"device_id": device_id, "device_seq": device_seq} for device_id, device_seq in heard.items()]


def test_what_a_phone_brings_after_the_closing_stands_in_its_list_though_it_was_made_before(
    office: Office, manager: Phone, phone: Phone, ids: Ids, day: dict[str, Any]
) -> None:
    day_id = day["day_id"]
    item = phone.keep(an_item(ids, phone.keep(a_visit(ids, day_id, ticket="Q03"))))["item_id"]
    phone.keep(a_fact(item, "short_description", "dress"))
    phone.push()
    phone.keep(a_fact(item, "seen_words", "sash in two parts"))  # with no network, before the closing
    said = [manager.keep(a_saying(manager, day_id, found_at(manager, day_id), "Known, and stays so"))]
    kind, closing = a_closing(day_id, said)
    manager.keep((kind, {**closing, "heard": heard_by(manager)}))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    assert "changed" not in whole_closing(manager.client, day_id)["sections"]
    assert [answer["outcome"] for answer in phone.push()] == ["kept"]
    [told] = whole_closing(manager.client, day_id)["sections"]["changed"]
    assert told["key"] == f"later {item}"
    assert told["words"].startswith("came later: Q03, dress")
    assert ": seen" in told["words"]
    assert office.faults() == []
