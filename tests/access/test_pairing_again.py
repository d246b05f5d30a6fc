"""A device that comes back under its id: it proves that it is the one, or the manager says so for exactly that one."""

from __future__ import annotations

import re
from typing import Any

import httpx
import pytest

from intake.commands import main
from tests.builders import a_fact
from tests.conftest import Office
from tests.phone import Phone


def redeem(client: httpx.Client, code: str, device_id: str) -> Any:
    return client.post("/pairing", json={"code": code, "device_id": device_id}).json()


def code_typed(office: Office, capsys: pytest.CaptureFixture[str], *words: str) -> tuple[str, str]:
    """The code that `intake pair` prints beside the running office, and for whom it says it is; else what is wrong."""
    capsys.readouterr()
    if main(["pair", "--data", str(office.settings.data_folder), *words]):
        return "", capsys.readouterr().err
    found = re.search(r"Pairing code for (.*): (\S+)", capsys.readouterr().out)
    assert found is not None
    return found[2], found[1]


def code_for(manager: Phone, role: str, device_id: str | None = None) -> str:
    asked = {"role": role, "name": role.title(), "device_id": device_id}
    response = manager.client.post("/pairing/codes", json=asked)
    response.raise_for_status()
    return str(response.json()["code"])


def roles(manager: Phone) -> dict[str, str]:
    found = manager.client.get("/devices").json()["devices"]
    return {one["device_id"]: one["role"] for one in found}


def test_another_devices_id_is_not_enough_to_become_it(office: Office, manager: Phone) -> None:
    """Ids stand in every record, so whoever reads one could type a porter's code under the manager's."""
    stranger, code = office.client(), code_for(manager, "porter")
    refused = redeem(stranger, code, manager.device_id)
    assert refused["code"] == "device_needs_word"
    assert roles(manager) == {manager.device_id: "manager"}
    assert stranger.get("/pairing/me").status_code == 401
    assert office.client().post("/pairing", json={"code": code}).json()["role"] == "porter", "not used up"


def test_the_old_cookie_proves_the_id(office: Office, manager: Phone, phone: Phone) -> None:
    again = redeem(phone.client, code_for(manager, "porter"), phone.device_id)
    assert (again["device_id"], again["role"]) == (phone.device_id, "porter")


def test_a_cookie_proves_its_own_id_alone(manager: Phone, phone: Phone) -> None:
    assert redeem(phone.client, code_for(manager, "porter"), manager.device_id)["code"] == "device_needs_word"
    assert redeem(manager.client, code_for(manager, "porter"), phone.device_id)["code"] == "device_needs_word"


def test_a_signed_off_id_comes_back_only_by_the_managers_word_for_it(manager: Phone, phone: Phone) -> None:
    manager.client.post(f"/devices/{phone.device_id}/revoke").raise_for_status()
    refused = redeem(phone.client, code_for(manager, "table"), phone.device_id)
    assert refused["code"] == "device_needs_word", "its cookie is worth nothing any more"
    word = code_for(manager, "table", phone.device_id)
    assert redeem(phone.client, word, phone.device_id)["device_id"] == phone.device_id


def test_the_managers_word_is_for_one_device(office: Office, manager: Phone, phone: Phone) -> None:
    word = code_for(manager, "table", phone.device_id)
    assert redeem(office.client(), word, office.ids.id())["code"] == "code_for_another"
    lost_its_cookie = office.client()
    assert redeem(lost_its_cookie, word, phone.device_id)["device_id"] == phone.device_id
    assert lost_its_cookie.get("/pairing/me").json()["device_id"] == phone.device_id


def test_an_office_that_never_knew_the_id_takes_it_by_the_managers_word(
    office: Office, manager: Phone
) -> None:
    """A new, empty office knows nobody's secret: a porter's code would do for any id. The manager sees who asks, makes
    the code for exactly that device, and the office waits for the others."""
    returning, device_id = office.client(), office.ids.id()
    assert redeem(returning, code_for(manager, "table"), device_id)["code"] == "device_needs_word"
    assert returning.get("/pairing/me").status_code == 401
    asks = manager.client.get("/devices").json()["returning"]
    assert [(one["device_id"], one["role"], one["name"]) for one in asks] == [(device_id, "table", "Table")]
    word = code_for(manager, "table", device_id)
    assert redeem(returning, word, device_id)["device_id"] == device_id
    found = manager.client.get("/devices").json()
    assert (found["returning"], found["hearing"]["left"]) == ([], ["Table", "manager"])
    assert returning.get("/pairing/me").json()["office"]["hearing"] is True
    manager.says_nobody_else_comes().raise_for_status()
    assert returning.get("/pairing/me").json()["office"]["hearing"] is False


def test_a_device_says_its_letters_when_it_comes_back(office: Office, manager: Phone) -> None:
    """Table 2 had B and holds an unsent B08; at the new office Table 1 comes first."""
    device_ids = {name: office.ids.id() for name in ("F", "B")}
    for letters, device_id in device_ids.items():
        word = code_for(manager, "table", device_id)
        asked = {"code": word, "device_id": device_id, "letters": letters}
        assert office.client().post("/pairing", json=asked).json()["letters"] == letters
    asked = {"code": code_for(manager, "table"), "letters": "b01"}
    assert office.client().post("/pairing", json=asked).status_code == 400


def test_the_first_manager_of_an_empty_office_comes_back_with_the_code_of_its_machine(office: Office) -> None:
    """Whoever has that code may name any device, and so may come as one; nobody else may, and no second one."""
    client, device_id = office.client(), office.ids.id()
    assert redeem(client, office.code("table", "Table 1"), device_id)["code"] == "device_needs_word"
    assert redeem(client, office.code("manager", "Manager"), device_id)["device_id"] == device_id
    assert (
        redeem(office.client(), office.code("manager", "M"), office.ids.id())["code"] == "device_needs_word"
    )


def test_who_has_no_code_is_not_listed(office: Office, manager: Phone) -> None:
    assert redeem(office.client(), "0000-0000", office.ids.id())["code"] == "pairing_code_unknown"
    assert manager.client.get("/devices").json()["returning"] == []


def test_a_code_typed_in_the_office_names_exactly_one_device(
    office: Office, phone: Phone, capsys: pytest.CaptureFixture[str]
) -> None:
    """The beginning of its number is enough, and what it is called and may do is taken from what is known of it."""
    code, whose = code_typed(office, capsys, "--device", phone.device_id[:8].upper())
    assert whose == "Table 1 (table)"
    assert redeem(office.client(), code, office.ids.id())["code"] == "code_for_another"
    assert redeem(office.client(), code, phone.device_id)["device_id"] == phone.device_id


def test_a_new_office_is_told_the_whole_number_of_a_device(
    office: Office, capsys: pytest.CaptureFixture[str]
) -> None:
    number = office.ids.id()
    assert "No device has a number" in code_typed(office, capsys, "--device", number[:13])[1]
    assert "what the device may do" in code_typed(office, capsys, "--device", number)[1]
    code, whose = code_typed(office, capsys, "--device", number, "--as", "door", "--name", "Door")
    assert whose == "Door (door)"
    assert redeem(office.client(), code, office.ids.id())["code"] == "code_for_another"
    assert redeem(office.client(), code, number)["device_id"] == number


def test_a_new_device_makes_nobody_wait(office: Office, manager: Phone) -> None:
    newcomer = office.pair("table")
    assert newcomer.client.get("/pairing/me").json()["office"]["hearing"] is False


def test_an_id_that_only_the_log_knows_needs_the_managers_word(
    office: Office, manager: Phone, phone: Phone, item: dict[str, Any]
) -> None:
    """An office restored without its devices: the log says whose ids these were."""
    phone.keep(a_fact(item["item_id"], "materials", "tin"))
    phone.push()
    office.change("DELETE FROM device WHERE device_id = ?", phone.device_id)
    assert redeem(phone.client, code_for(manager, "table"), phone.device_id)["code"] == "device_needs_word"
    word = code_for(manager, "table", phone.device_id)
    assert redeem(phone.client, word, phone.device_id)["device_id"] == phone.device_id


def test_with_every_reading_a_device_hears_when_it_was_paired(
    office: Office, manager: Phone, phone: Phone
) -> None:
    """One that was signed off, and never heard the answer to its new pairing, knows by it that it is paired."""
    first = phone.feed()["device"]["paired_at"]
    manager.client.post(f"/devices/{phone.device_id}/revoke").raise_for_status()
    assert phone.client.get("/sync/feed", params={"limit": 1}).json()["code"] == "device_revoked"
    office.clock.pass_by(minutes=1)
    answer = redeem(phone.client, code_for(manager, "porter", phone.device_id), phone.device_id)
    again = phone.feed()["device"]
    assert again["paired_at"] == answer["paired_at"] > first
    assert again["role"] == "porter"
    assert set(again) == {"device_id", "role", "name", "letters", "paired_at"}
    assert again == {name: answer[name] for name in again}, "as the answer said that was lost"
