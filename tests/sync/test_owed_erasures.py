"""An erasure of a visit that is not here yet takes what was said before it, in whatever order devices come back."""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import permutations
from typing import Any

import pytest

from intake.access.devices import stamp
from tests.builders import a_visit
from tests.conftest import Office
from tests.copies.tools import OWNER_NAME, a_consignor, bytes_below
from tests.phone import Phone
from tests.sync.test_standing import was_told

SINCE = "07700 900123"  # of the range that Ofcom keeps for drama, so nobody's


class Returning:
    """Three devices that come back to an office that knows the day alone: one has the visit and its owner's name of
    18:00, the manager's has the erasure of 18:10, one the telephone that the owner gave at 18:20."""

    def __init__(self, office: Office, manager: Phone, phone: Phone, day: dict[str, Any]) -> None:
        self.office, self.second = office, office.pair("table", "Table 2")
        phone.client.get("/sync/feed", params=was_told(office, phone, 99)).raise_for_status()
        self.visit = phone.keep(a_visit(phone.ids, day["day_id"]), made_at=self.passed(0))
        self.visit_id = self.visit["visit_id"]
        phone.keep(a_consignor(self.visit_id, "name", OWNER_NAME), made_at=self.passed(1))
        erasing = "erase_consignor", {"visit_id": self.visit_id}
        self.erasure = manager.keep(erasing, made_at=self.passed(10))
        self.since = self.second.keep(a_consignor(self.visit_id, "telephone", SINCE), made_at=self.passed(10))
        self.passed(30)
        self.devices = {"visit": phone, "erasure": manager, "words since": self.second}

    def passed(self, minutes: int) -> str:
        self.office.clock.pass_by(minutes=minutes)
        return stamp(self.office.clock())

    def says(self) -> dict[str, Any]:
        fields = self.devices["erasure"].record(self.visit_id)["fields"]
        return {name: fields[name]["value"] for name in fields if name.startswith("consignor/")}

    def erasures(self) -> list[dict[str, Any]]:
        found: list[dict[str, Any]] = self.second.client.get("/sync/erasures").json()["erasures"]
        return found


@pytest.fixture
def returning(office: Office, manager: Phone, phone: Phone, day: dict[str, Any]) -> Returning:
    return Returning(office, manager, phone, day)


def bytes_of(returning: Returning) -> bytes:
    return bytes_below(returning.office.settings.data_folder)


LATE = ("visit", "words since", "erasure")


@pytest.mark.parametrize("order", [one for one in permutations(LATE) if one != LATE], ids=" then ".join)
def test_words_since_stand_in_whatever_order_devices_come(
    returning: Returning, order: tuple[str, ...]
) -> None:
    """And the same erasure, sent again once it has run, takes nothing that came since."""
    answers: dict[str, Any] = {}
    for device in (*order, *order, *order):
        if (phone := returning.devices[device]).outbox:
            answers |= {one["operation_id"]: one for one in phone.push()}
    kept = answers[returning.since["operation_id"]]
    assert (kept["outcome"], kept["problem"]) == ("kept", None)
    assert answers[returning.erasure["operation_id"]]["outcome"] == "kept"
    assert returning.says()["consignor/telephone"] == SINCE
    assert not returning.says().get("consignor/name")
    [erasure] = returning.erasures()
    assert erasure["made_at"] == returning.erasure["made_at"]
    assert OWNER_NAME.encode() not in bytes_of(returning)
    assert returning.office.faults() == []


def test_words_that_the_office_had_before_it_heard_of_the_erasure_go(returning: Returning) -> None:
    """Nothing but the manager's own clock says that they came after it: an owner who asked does not find them again.
    Their device is told where the erasure stands, and asks for them once more."""
    for device in LATE:
        answers = returning.devices[device].push()
    assert answers[0]["outcome"] == "kept"
    assert set(returning.says().values()) == {""}
    [erasure] = returning.erasures()
    assert erasure["office_seq"] == answers[0]["office_seq"]
    assert SINCE.encode() not in bytes_of(returning)
    assert returning.office.faults() == []


def test_one_batch_brings_the_visit_and_words_of_either_side(returning: Returning) -> None:
    """What the erasure takes is told of that word alone. Sent again, each has the answer that it had."""
    phone, manager = returning.devices["visit"], returning.devices["erasure"]
    phone.keep(a_consignor(returning.visit_id, "email", "new@example.org"), made_at=returning.passed(0))
    manager.push()
    sent = list(phone.outbox)
    answers = phone.push()
    told = [(one["outcome"], one["problem"] and one["problem"]["code"]) for one in answers]
    assert told == [("kept", None), ("kept", "words_erased"), ("kept", None)]
    manager.push()
    assert returning.says() == {"consignor/email": "new@example.org"}
    phone.outbox = sent
    assert phone.push() == answers
    assert returning.says() == {"consignor/email": "new@example.org"}
    assert OWNER_NAME.encode() not in bytes_of(returning)


def test_a_later_erasure_takes_what_came_since_the_one_that_was_owed(returning: Returning) -> None:
    """It is asked for anew, and is no repeat of that one."""
    for device in ("erasure", "visit", "words since", "erasure"):
        returning.devices[device].push()
    manager = returning.devices["erasure"]
    manager.keep(("erase_consignor", {"visit_id": returning.visit_id}), made_at=returning.passed(1))
    manager.push()
    assert set(returning.says().values()) == {""}
    assert len(returning.erasures()) == 2
    assert SINCE.encode() not in bytes_of(returning)
    assert returning.office.faults() == []


def test_what_two_managers_asked_for_while_the_visit_was_away_is_done_for_both(returning: Returning) -> None:
    """And the device of a third that heard of one of them, and tells the office of it again, asks for nothing new."""
    managers = [returning.devices["erasure"], *(returning.office.pair("manager", f"M{n}") for n in (2, 3))]
    erasing = "erase_consignor", {"visit_id": returning.visit_id}
    second = managers[1].keep(erasing, made_at=returning.since["made_at"])
    for manager in managers[:2]:
        assert [one["outcome"] for one in manager.push()] == ["waiting"]
    returning.devices["visit"].push()
    returning.second.push()
    managers[2].keep(erasing, made_at=returning.erasure["made_at"])
    for manager in managers:
        assert [one["outcome"] for one in manager.push()] == ["kept"]
    assert returning.says()["consignor/telephone"] == SINCE
    told = [one["made_at"] for one in returning.erasures()]
    assert told == [returning.erasure["made_at"], second["made_at"]]
    assert returning.office.faults() == []


@pytest.mark.parametrize("drift_s", [0, 1], ids=["as fast", "faster"])
def test_an_owed_erasure_is_of_the_office_s_time(returning: Returning, drift_s: int) -> None:
    """The manager's clock is an hour ahead: what was said since is not before the erasure by it. It is known again,
    too, by a clock that has gone on since."""
    manager, hour = returning.devices["erasure"], timedelta(hours=1)
    [erasure] = manager.outbox
    ahead = {**erasure, "made_at": stamp(datetime.fromisoformat(erasure["made_at"]) + hour)}

    def send_erasure(drift: timedelta) -> str:
        body = {"operations": [ahead], "sent_at": stamp(returning.office.clock() + hour + drift)}
        [answer] = manager.client.post("/sync/operations", json=body).json()["answers"]
        return str(answer["outcome"])

    assert send_erasure(timedelta()) == "waiting"
    [owed] = manager.client.get("/devices").json()["erasures_owed"]
    assert owed["made_at"] == erasure["made_at"]
    returning.devices["visit"].push()
    returning.devices["words since"].push()
    assert returning.says()["consignor/telephone"] == SINCE
    assert send_erasure(timedelta(seconds=drift_s)) == "kept"
    assert returning.says()["consignor/telephone"] == SINCE
    assert len(returning.erasures()) == 1
