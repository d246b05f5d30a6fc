"""After a loss nobody knows the devices that were paired after the copy; what they alone have is waited for."""

from __future__ import annotations

import asyncio
from typing import Any

import pytest

from intake.sync.commands import look
from tests.builders import a_fact, a_visit, an_item
from tests.conftest import Office
from tests.copies.tools import OWNER_NAME, a_consignor
from tests.phone import Phone
from tests.sync.test_standing import come, was_told


@pytest.fixture
def later(office: Office, manager: Phone, phone: Phone, day: dict[str, Any]) -> Phone:
    """A device that the office will know once it is paired again; it lost all that this one brought."""
    phone.client.get("/sync/feed", params=was_told(office, phone, 99)).raise_for_status()
    return office.pair("table", "Table 7")


def outcomes(answers: list[dict[str, Any]]) -> list[str]:
    return [one["outcome"] for one in answers]


def test_what_names_something_of_a_device_nobody_knows_is_not_refused_once_the_known_ones_came(
    manager: Phone, phone: Phone, later: Phone, day: dict[str, Any]
) -> None:
    visit = later.keep(a_visit(later.ids, day["day_id"]))
    item = later.keep(an_item(later.ids, visit))
    phone.keep(a_fact(item["item_id"], "materials", "tin"))
    assert outcomes(phone.push()) == ["waiting"]
    come(manager)
    come(phone)
    hearing = manager.client.get("/devices").json()["hearing"]
    assert hearing["left"] == []
    assert hearing["waits"] == [{"device": "Table 1", "of": "", "count": 1}]
    assert outcomes(phone.push()) == ["waiting"], "the manager has not said that nobody else is to come"
    assert outcomes(later.push()) == ["kept", "kept"]
    assert outcomes(phone.push()) == ["kept"]
    assert manager.client.get("/devices").json()["hearing"]["waits"] == []
    assert manager.record(item["item_id"])["fields"]["materials"]["value"] == "tin"
    manager.says_nobody_else_comes().raise_for_status()
    assert manager.client.get("/devices").json()["hearing"] is None


def test_what_waits_on_something_that_is_here_is_told_by_what_it_is_of(
    manager: Phone, phone: Phone, later: Phone, day: dict[str, Any]
) -> None:
    visit = phone.keep(a_visit(phone.ids, day["day_id"], ticket="Q12"))
    item = phone.keep(an_item(phone.ids, visit))
    phone.keep(a_fact(item["item_id"], "short_description", "tin drum"))
    phone.push()
    phone.keep(a_fact(item["item_id"], "materials", "tin"), seen=later.ids.id())
    assert outcomes(phone.push()) == ["waiting"]
    [waits] = manager.client.get("/devices").json()["hearing"]["waits"]
    assert waits == {"device": "Table 1", "of": "Q12, tin drum", "count": 1}


@pytest.mark.parametrize("said", [False, True], ids=["still waited for", "nobody was to come"])
def test_an_erasure_of_what_is_not_here_takes_hold_as_it_comes(
    office: Office,
    manager: Phone,
    phone: Phone,
    later: Phone,
    day: dict[str, Any],
    said: bool,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """The manager's device need not be there; also where nobody was waited for. Until then it is told of."""
    visit = later.keep(a_visit(later.ids, day["day_id"], ticket="Q08"))
    later.keep(a_consignor(visit["visit_id"], "name", OWNER_NAME))
    erasure = manager.keep(("erase_consignor", {"visit_id": visit["visit_id"]}))
    if said:
        manager.says_nobody_else_comes().raise_for_status()
    [told] = manager.push()
    assert told["outcome"] == "waiting"
    assert "is noted" in told["problem"]["detail"]
    owed = {"visit_id": visit["visit_id"], "made_at": erasure["made_at"]}
    assert manager.client.get("/devices").json()["erasures_owed"] == [owed]
    capsys.readouterr()
    assert asyncio.run(look(office.settings, None, new=False)) == []
    assert visit["visit_id"] in capsys.readouterr().out
    assert outcomes(later.push()) == ["kept", "kept"]
    assert OWNER_NAME not in str(manager.record(visit["visit_id"]))
    assert [one["record_id"] for one in manager.client.get("/sync/erasures").json()["erasures"]] == [
        visit["visit_id"]
    ]
    assert manager.client.get("/devices").json()["erasures_owed"] == []
    assert outcomes(manager.push(only=[erasure])) == ["kept"]
    assert OWNER_NAME.encode() not in b"".join(
        file.read_bytes() for file in office.settings.data_folder.rglob("*.sqlite3-wal")
    )
    assert office.faults() == []


def test_an_erasure_by_anybody_else_is_not_remembered(
    manager: Phone, phone: Phone, later: Phone, day: dict[str, Any]
) -> None:
    visit = later.keep(a_visit(later.ids, day["day_id"]))
    phone.keep(("erase_consignor", {"visit_id": visit["visit_id"]}))
    assert outcomes(phone.push()) == ["refused"]
    later.keep(a_consignor(visit["visit_id"], "name", OWNER_NAME))
    assert outcomes(later.push()) == ["kept", "kept"]
    assert OWNER_NAME in str(manager.record(visit["visit_id"]))


def test_a_word_of_an_earlier_waiting_does_not_end_a_later_one(
    office: Office, manager: Phone, later: Phone
) -> None:
    """A second manager's page stands open while a device comes back that the office did not know."""
    second = office.pair("manager", "Manager 2")
    seen = second.client.get("/devices").json()["hearing"]
    device_id = office.ids.id()
    returning = {"code": office.code("table", "Table 9", device_id), "device_id": device_id}
    office.client().post("/pairing", json=returning).raise_for_status()
    refused = second.says_nobody_else_comes(seen)
    assert (refused.status_code, refused.json()["code"]) == (409, "others_began_to_come")
    assert second.client.post("/devices/heard", json={}).status_code == 400, "an app from before names none"
    anew = manager.client.get("/devices").json()["hearing"]
    assert anew["loss"] == seen["loss"] + 1
    for _ in range(2):  # said twice, as when the first answer was lost
        assert manager.says_nobody_else_comes(anew).status_code == 200
    assert manager.client.get("/devices").json()["hearing"] is None
    assert second.says_nobody_else_comes(seen).status_code == 409
