"""What the manager's screens are told of the hall, and what devices tell of themselves."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from intake.hall.asked import HallAsked
from intake.hall.certificates import HallCertificates, hall_certificates
from intake.hall.opening import settings_in_hall
from intake.settings import Settings
from tests.builders import Ids
from tests.conftest import Clock, Office, running
from tests.phone import Phone

CHECK: dict[str, Any] = {
    "states": {"trusted": "good", "offline": "good", "camera": "good", "battery": "unknown"},
    "room_bytes": 4_000_000_000,
    "clock_off_ms": -2500,
    "battery_percent": None,
    "charging": None,
    "app_version": "abc",
}


@pytest.fixture
def hall(settings: Settings, clock: Clock) -> HallCertificates:
    return hall_certificates(settings.data_folder, name="thimblewick", addresses=[], now=clock())


@pytest.fixture
def hall_office(hall: HallCertificates, settings: Settings, clock: Clock, ids: Ids) -> Iterator[Office]:
    with running(replace(settings, page_port=8766), clock, ids) as office:
        yield office


def test_the_manager_sees_what_the_terminal_shows(hall_office: Office, hall: HallCertificates) -> None:
    told = hall_office.pair("manager").client.get("/hall").json()["hall"]
    assert told["groups"] == list(hall.groups)
    assert told["name"] == "thimblewick.local"
    assert told["shown_until"] < told["valid_until"]
    assert all(page.startswith("http://") and page.endswith(":8766") for page in told["pages"])
    assert all("127.0.0.1" not in page for page in told["pages"])


def test_outside_hall_mode_there_is_none(manager: Phone) -> None:
    assert manager.client.get("/hall").json() == {"hall": None}


def test_a_harmed_certificate_is_told_in_words(hall_office: Office, hall: HallCertificates) -> None:
    hall.key_file.unlink()
    answer = hall_office.pair("manager").client.get("/hall")
    assert (answer.status_code, answer.json()["code"]) == (409, "hall_not_ready")


@pytest.mark.parametrize("path", ["/hall", "/preflight"])
def test_only_the_manager_is_told(office: Office, phone: Phone, path: str) -> None:
    assert phone.client.get(path).json()["code"] == "role_may_not"
    assert office.client().get(path).json()["code"] == "not_paired"


def test_a_device_s_latest_check_is_with_it(phone: Phone, manager: Phone, clock: Clock) -> None:
    worse = {**CHECK, "states": {**CHECK["states"], "camera": "not-good"}}
    phone.client.post("/devices/check", json=worse).raise_for_status()
    clock.pass_by(minutes=5)
    phone.client.post("/devices/check", json=CHECK).raise_for_status()
    for path in ("/devices", "/preflight"):
        checks = {one["name"]: one["check"] for one in manager.client.get(path).json()["devices"]}
        assert checks["manager"] is None
        assert checks["Table 1"] == {**CHECK, "checked_at": "2026-03-14T18:05:00.000Z", "passed": True}


def test_one_thing_that_is_not_good_and_it_has_not_passed(phone: Phone, manager: Phone) -> None:
    phone.client.post("/devices/check", json={**CHECK, "states": {"camera": "not-good", "offline": "good"}})
    checks = [one["check"] for one in manager.client.get("/devices").json()["devices"] if one["check"]]
    assert [check["passed"] for check in checks] == [False]


@pytest.mark.parametrize(
    "wrong",
    [{"states": {"wings": "good"}}, {"states": {"camera": "fine"}}, {"battery_percent": 101}, {"more": 1}],
)
def test_a_check_that_cannot_be_read_is_refused(phone: Phone, wrong: dict[str, Any]) -> None:
    answer = phone.client.post("/devices/check", json={**CHECK, **wrong})
    assert (answer.status_code, answer.json()["code"]) == (400, "unreadable")


def test_a_device_that_is_not_paired_reports_nothing(office: Office) -> None:
    assert office.client().post("/devices/check", json=CHECK).json()["code"] == "not_paired"


def test_a_device_that_was_signed_off_is_not_asked_for(manager: Phone, phone: Phone) -> None:
    manager.client.post(f"/devices/{phone.device_id}/revoke").raise_for_status()
    assert [one["name"] for one in manager.client.get("/preflight").json()["devices"]] == ["manager"]


def test_the_office_s_room_and_time_are_told(manager: Phone) -> None:
    told = manager.client.get("/preflight").json()
    assert told["office_time"] == "2026-03-14T18:00:00.000Z"
    assert told["free_bytes"] > 0
    assert manager.client.get("/health").json()["office_time"] == told["office_time"]


@pytest.mark.parametrize(
    ("origin", "status"),
    [
        ("https://thimblewick.local:8765", 200),
        ("https://10.42.0.1:8765", 200),  # a phone that knows no names, on the laptop's own connection
        ("https://10.42.0.2:8765", 403),
    ],
)
def test_a_hall_s_fixed_addresses_are_its_own_pages(
    settings: Settings, clock: Clock, ids: Ids, origin: str, status: int
) -> None:
    in_hall, _ = settings_in_hall(replace(settings, port=8765), HallAsked("thimblewick"))
    plain = replace(settings, address=in_hall.address, other_addresses=in_hall.other_addresses)
    with running(plain, clock, ids) as office:
        code = {"code": office.code("table", "Table 1")}
        answer = office.client().post("/pairing", json=code, headers={"Origin": origin})
    assert answer.status_code == status
