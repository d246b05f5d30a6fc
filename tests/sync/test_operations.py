"""What travels: kept once, answered once, whatever the line does."""

from __future__ import annotations

import json
from typing import Any

import pytest

from intake.commands import main
from tests.builders import a_day, a_fact, a_finding, a_tie, a_visit, a_zone, an_item
from tests.conftest import Office
from tests.phone import Phone


def outcomes(answers: list[dict[str, Any]]) -> list[str]:
    return [answer["outcome"] for answer in answers]


def test_an_operation_sent_twice_is_kept_once(phone: Phone, item: dict[str, Any]) -> None:
    """A phone that lost our answer sends again, and hears the same answer."""
    phone.keep(a_fact(item["item_id"], "short_description", "plush elephant on iron wheels"))
    first = phone.push(lose_answer=True)
    second = phone.push()

    assert first == second
    assert phone.outbox == []
    history = phone.client.get(f"/records/{item['item_id']}/history").json()["operations"]
    assert [told["operation"]["kind"] for told in history] == ["open_item", "set_item"]


def test_a_refusal_is_repeated_word_for_word(office: Office, phone: Phone, item: dict[str, Any]) -> None:
    other = phone.keep(an_item(phone.ids, {"visit_id": item["visit_id"], "day_id": item["day_id"]}))
    phone.keep(a_tie(item["item_id"], "7K3-QW5"))
    phone.keep(a_tie(other["item_id"], "7K3-QW5"))

    first = phone.push(lose_answer=True)
    assert phone.push() == first
    assert first[2]["problem"]["code"] == "tag_taken"
    assert office.faults() == []


def test_one_bad_operation_does_not_hold_up_the_rest(phone: Phone, item: dict[str, Any]) -> None:
    phone.keep(a_fact(item["item_id"], "short_description", "vase"))
    phone.keep(a_fact(item["item_id"], "colour_of_the_sky", "grey"))
    phone.keep(a_fact(item["item_id"], "materials", "earthenware"))

    assert outcomes(phone.push()) == ["kept", "refused", "kept"]
    assert phone.refused[0]["answer"]["problem"]["code"] == "unreadable"
    assert phone.record(item["item_id"])["fields"]["materials"]["value"] == "earthenware"


def test_an_unknown_field_is_refused_and_taken_once_the_office_knows_it(
    phone: Phone, item: dict[str, Any]
) -> None:
    """A newer phone against an older office: its words stay on the phone, and nothing says they were kept."""
    newer = phone.keep(a_fact(item["item_id"], "materials", "tin"), sparkle=3)
    assert phone.push()[0]["problem"]["code"] == "unreadable"

    # The office was brought up to date: here, the same operation without what only the newer app knows.
    understood = {name: value for name, value in newer.items() if name != "sparkle"}
    assert outcomes(phone.push(only=[understood])) == ["kept"]


def test_two_batches_that_crossed_end_as_if_they_had_not(phone: Phone, day: dict[str, Any]) -> None:
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    opened = phone.keep(an_item(phone.ids, visit))
    described = phone.keep(a_fact(opened["item_id"], "short_description", "bowl"))

    assert outcomes(phone.push(only=[described])) == ["waiting"], "so the phone keeps it"
    assert outcomes(phone.push(only=[visit, opened])) == ["kept", "kept"]
    assert outcomes(phone.push()) == ["kept"]
    assert phone.record(opened["item_id"])["fields"]["short_description"]["value"] == "bowl"


def test_an_operation_on_nothing_is_refused_when_nothing_else_is_on_its_way(phone: Phone, ids: Any) -> None:
    phone.keep(a_fact(ids.id(), "materials", "oak"))
    assert phone.push()[0]["problem"]["code"] == "not_found"


def test_a_value_that_was_seen_is_replaced(phone: Phone, item: dict[str, Any]) -> None:
    first = phone.keep(a_fact(item["item_id"], "materials", "porcelain"))
    phone.keep(a_fact(item["item_id"], "materials", "bone china", seen=first["operation_id"]))
    phone.push()

    record = phone.record(item["item_id"])
    assert record["fields"]["materials"]["value"] == "bone china"
    assert record["disagreements"] == []


def test_two_people_who_did_not_see_each_other_disagree_and_a_person_settles_it(
    office: Office, phone: Phone, item: dict[str, Any]
) -> None:
    other, desk = office.pair("table", "Table 2"), office.pair("desk")
    phone.keep(a_fact(item["item_id"], "maker", "unmarked"))
    other.keep(a_fact(item["item_id"], "maker", "marked inside the cover"))
    phone.push()
    assert other.push()[0]["disagreement"] is True

    record = desk.record(item["item_id"])
    [between] = record["disagreements"]
    assert record["fields"]["maker"]["value"] == "unmarked"
    assert (between["kept"]["value"], between["other"]["value"]) == ("unmarked", "marked inside the cover")

    settle = {"record_id": item["item_id"], "disagreement_id": between["disagreement_id"], "choose": "other"}
    desk.keep(("settle_disagreement", {**settle, "note": "seen in the photo of the cover"}))
    assert outcomes(desk.push()) == ["kept"]
    record = desk.record(item["item_id"])
    assert record["fields"]["maker"]["value"] == "marked inside the cover"
    assert record["disagreements"][0]["settled"]["choose"] == "other"
    assert office.faults() == []


def test_the_same_value_from_two_people_is_no_disagreement(
    office: Office, phone: Phone, item: dict[str, Any]
) -> None:
    other = office.pair("table", "Table 2")
    for device in (phone, other):
        device.keep(a_zone(item["item_id"], "cover"))
        device.push()
    assert phone.record(item["item_id"])["disagreements"] == []


def test_rest_clear_leaves_what_was_examined_meanwhile(
    office: Office, phone: Phone, item: dict[str, Any]
) -> None:
    other = office.pair("table", "Table 2")
    other.keep(a_zone(item["item_id"], "nose", state="not-examined", reason="covered"))
    other.push()
    phone.keep(
        ("examine_rest", {"item_id": item["item_id"], "zones": ["nose", "mouth"], "light": "hall light"})
    )
    phone.push()

    fields = phone.record(item["item_id"])["fields"]
    assert fields["zones/nose"]["value"]["state"] == "not-examined"
    assert fields["zones/mouth"]["value"] == {
        "state": "clear",
        "reason": None,
        "light": "hall light",
        "count": None,
    }


def test_a_zone_with_findings_cannot_be_called_clear(phone: Phone, item: dict[str, Any]) -> None:
    state = phone.keep(a_zone(item["item_id"], "nose", state="finding"))
    phone.keep(a_finding(phone.ids, item["item_id"], "nose"))
    phone.keep(a_zone(item["item_id"], "nose", seen=state["operation_id"]))
    assert phone.push()[2]["problem"]["code"] == "findings_on_zone"


def test_a_zone_not_examined_needs_its_reason(phone: Phone, item: dict[str, Any]) -> None:
    phone.keep(a_zone(item["item_id"], "nose", state="not-examined"))
    assert outcomes(phone.push()) == ["refused"]


@pytest.mark.parametrize("role", ["door", "porter", "desk", "table"])
def test_only_the_manager_sets_up_a_day(office: Office, role: str) -> None:

    device = office.pair(role)
    device.keep(a_day(device.ids))
    assert device.push()[0]["problem"]["code"] == "role_may_not"


def test_a_clock_two_days_wrong_changes_no_truth(office: Office, phone: Phone, item: dict[str, Any]) -> None:
    """The later word wins by what its editor saw, never by the clock."""
    first = phone.keep(a_fact(item["item_id"], "materials", "tin"))
    phone.push()
    late = office.pair("table", "Table 2")
    late.keep(
        a_fact(item["item_id"], "materials", "brass", seen=first["operation_id"]),
        made_at="2026-03-12T09:00:00.000Z",
    )
    late.push()
    assert late.record(item["item_id"])["fields"]["materials"]["value"] == "brass"
    history = late.client.get(f"/records/{item['item_id']}/history").json()["operations"]
    assert [told["office_seq"] for told in history] == sorted(told["office_seq"] for told in history)


def test_personal_words_are_not_in_the_log_and_can_be_erased(
    office: Office, phone: Phone, day: dict[str, Any]
) -> None:
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    body = {"visit_id": visit["visit_id"], "field": "name", "value": "Barnaby Tumblewick", "seen": None}
    phone.keep(("set_consignor", {**body, "salt": "00112233445566778899aabbccddeeff"}))
    phone.push()

    assert phone.record(visit["visit_id"])["fields"]["consignor/name"]["value"] == "Barnaby Tumblewick"
    history = phone.client.get(f"/records/{visit['visit_id']}/history").text
    assert "Tumblewick" not in history
    assert office.faults() == []

    assert main(["erase", "--data", str(office.settings.data_folder), visit["visit_id"], "--yes"]) == 0
    assert phone.record(visit["visit_id"])["fields"]["consignor/name"]["value"] == ""
    assert office.faults() == [], "the chain still holds and a rebuild comes out equal"
    assert office.pair("manager").client.get("/devices").json()["untidy"] == 0, "the file was written anew"


def test_a_porter_reads_no_owner(office: Office, phone: Phone, day: dict[str, Any]) -> None:
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    body = {"visit_id": visit["visit_id"], "field": "telephone", "value": "07700 900001", "seen": None}
    phone.keep(("set_consignor", {**body, "salt": "00112233445566778899aabbccddeeff"}))
    phone.push()
    porter = office.pair("porter")
    assert "07700" not in json.dumps(porter.feed())
    assert "07700" not in porter.client.get(f"/records/{visit['visit_id']}").text
    assert "07700" in json.dumps(phone.feed())


def test_the_feed_is_paged_and_resumes(phone: Phone, day: dict[str, Any]) -> None:
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    items = [phone.keep(an_item(phone.ids, visit))["item_id"] for _ in range(7)]
    phone.push()
    found: list[str] = []
    cursor, more = 0, True
    while more:
        page = phone.feed(cursor, limit=3)
        found += [record["record_id"] for record in page["records"]]
        cursor, more = page["cursor"], page["more"]
    assert found == [day["day_id"], visit["visit_id"], *items]
    assert phone.feed(cursor)["records"] == []


def test_a_changed_log_is_found(office: Office, phone: Phone, item: dict[str, Any]) -> None:
    import sqlite3

    phone.keep(a_fact(item["item_id"], "materials", "tin"))
    phone.push()
    with sqlite3.connect(office.settings.database_file) as connection:
        connection.execute("UPDATE operation_log SET operation = replace(operation, 'tin', 'gold')")
    assert any("changed after it was logged" in fault for fault in office.faults())
