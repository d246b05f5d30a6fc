"""Pairing, roles, signing off, and writes from foreign pages."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from intake.access.devices import stamp
from tests.builders import a_consignor, a_fact
from tests.conftest import Clock, Office
from tests.phone import Phone


def test_a_code_pairs_one_device_once(office: Office) -> None:
    code = office.code("table", "Table 2")
    first, second = office.client(), office.client()
    paired = first.post("/pairing", json={"code": code.lower().replace("-", " ")})
    assert paired.json()["role"] == "table"
    assert second.post("/pairing", json={"code": code}).json()["code"] == "pairing_code_unknown"
    assert first.get("/pairing/me").json()["name"] == "Table 2"


def test_a_code_is_worth_nothing_after_ten_minutes(office: Office, clock: Clock) -> None:
    code = office.code("table", "Table 2")
    clock.pass_by(minutes=10, seconds=1)
    assert office.client().post("/pairing", json={"code": code}).status_code == 404


def test_the_cookie_is_kept_from_scripts_and_other_sites(office: Office) -> None:
    response = office.client().post("/pairing", json={"code": office.code("door", "Door")})
    cookie = response.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie


def test_a_device_that_was_signed_off_neither_reads_nor_sends_and_is_told_kindly(
    office: Office, manager: Phone, phone: Phone, item: dict[str, Any]
) -> None:
    phone.keep(a_fact(item["item_id"], "materials", "tin"))
    manager.client.post(f"/devices/{phone.device_id}/revoke").raise_for_status()
    for answer in (
        phone.client.get("/sync/feed"),
        phone.client.post("/sync/operations", json={"operations": phone.outbox}),
    ):
        assert answer.status_code == 403
        assert answer.json()["code"] == "device_revoked"
        assert "Nothing on it is lost" in answer.json()["hint"]


def test_what_a_signed_off_device_holds_can_be_saved_by_pairing_it_again(
    office: Office, manager: Phone, phone: Phone, item: dict[str, Any]
) -> None:
    phone.keep(a_fact(item["item_id"], "materials", "tin"))
    manager.client.post(f"/devices/{phone.device_id}/revoke").raise_for_status()
    again_for = {"role": "table", "name": "Table 1", "device_id": phone.device_id}
    code = manager.client.post("/pairing/codes", json=again_for).json()["code"]
    again = phone.client.post("/pairing", json={"code": code, "device_id": phone.device_id})
    assert again.json()["device_id"] == phone.device_id
    assert phone.push()[0]["outcome"] == "kept"


@pytest.mark.parametrize("revoked", [False, True])
def test_what_a_device_owes_is_judged_by_the_work_it_did_as_it_was_made(
    office: Office, manager: Phone, phone: Phone, item: dict[str, Any], revoked: bool
) -> None:
    """A table's phone is given a porter's work before it has sent: what was typed at the table comes to the office, and
    no more than that."""
    phone.keep(a_consignor(item["visit_id"], "address", "3 Rope Walk"))
    if revoked:
        manager.client.post(f"/devices/{phone.device_id}/revoke").raise_for_status()
    for role, name in [("porter", "Porter"), ("door", "Door"), ("porter", "Porter again")]:
        again = {"code": office.code(role, name, phone.device_id), "device_id": phone.device_id}
        phone.client.post("/pairing", json=again).raise_for_status()
    since = office.clock() + timedelta(minutes=5)
    phone.keep(a_fact(item["item_id"], "materials", "tin"), made_at=stamp(since))
    phone.keep(("set_table", a_table(item["day_id"])))
    address, fact, table = phone.push()
    assert (address["outcome"], address["problem"]) == ("kept", None)
    assert [one["problem"]["code"] for one in (fact, table)] == ["role_may_not"] * 2, (
        "of a porter, and of nobody's"
    )
    assert manager.record(item["visit_id"])["fields"]["consignor/address"]["value"] == "3 Rope Walk"
    assert phone.client.get(f"/records/{item['visit_id']}").json()["fields"].get("consignor/address") is None
    assert office.faults() == []


def a_table(day_id: str) -> dict[str, Any]:
    return {"day_id": day_id, "table_id": "9", "name": "By the stage", "gone": False, "seen": None}


@pytest.mark.parametrize("origin", [None, "https://elsewhere.example.org", "null"])
def test_a_write_from_another_page_is_refused(office: Office, phone: Phone, origin: str | None) -> None:
    headers = {} if origin is None else {"Origin": origin}
    del phone.client.headers["Origin"]
    answer = phone.client.post("/sync/operations", json={"operations": []}, headers=headers)
    assert (answer.status_code, answer.json()["code"]) == (403, "foreign_origin")


@pytest.mark.parametrize("path", ["/sync/feed", "/queue", "/plans", "/devices", "/records/x", "/pairing/me"])
def test_nothing_is_read_without_pairing(office: Office, path: str) -> None:
    assert office.client().get(path).json()["code"] == "not_paired"


@pytest.mark.parametrize("role", ["door", "table", "porter", "desk"])
def test_only_the_manager_makes_codes_and_lists_devices(office: Office, role: str) -> None:
    device = office.pair(role)
    assert device.client.get("/devices").status_code == 403
    assert device.client.post("/pairing/codes", json={"role": "manager", "name": "me"}).status_code == 403


def test_an_error_has_the_members_of_the_standard(office: Office) -> None:
    """Source: RFC 9457 section 3.1, members type, title, status, detail; `status` equals the real one."""
    answer = office.client().get("/queue")
    problem = answer.json()
    assert answer.headers["content-type"] == "application/problem+json"
    assert {"type", "title", "status", "detail"} <= problem.keys()
    assert problem["status"] == answer.status_code
