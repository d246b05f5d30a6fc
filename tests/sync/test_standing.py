"""Where the office stands, with every answer: what a device needs to see that either side has forgotten something."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from datetime import timedelta
from typing import Any

import pytest

from intake.access.devices import stamp
from intake.access.proofs import Proofs, Told
from intake.sync.chain import CHAIN_START
from tests.builders import a_consignor, a_fact, a_visit, an_item
from tests.conftest import Office
from tests.copies.tools import bytes_below
from tests.phone import Phone, bundle_of


def stands(phone: Phone, **known: Any) -> dict[str, Any]:
    found: dict[str, Any] = phone.client.get("/pairing/me", params=known).json()["office"]
    return found


def test_every_answer_says_where_the_office_stands(phone: Phone, day: dict[str, Any]) -> None:
    phone.keep(a_visit(phone.ids, day["day_id"]))
    pushed = phone.client.post("/sync/operations", json={"operations": phone.outbox}).json()["office"]
    bundled = phone.client.post("/sync/bundle", content=bundle_of([], [])).json()["office"]
    assert pushed == bundled == phone.feed()["office"] == stands(phone)
    assert (pushed["office_seq"], pushed["device_seq"]) == (2, 1)
    assert (pushed["safe_seq"], pushed["hearing"]) == (None, False)


def test_an_empty_office_stands_at_the_start_of_the_chain(manager: Phone) -> None:
    assert stands(manager)["chain"] == CHAIN_START
    assert (stands(manager)["office_seq"], stands(manager)["device_seq"]) == (0, 0)


def test_what_was_answered_is_counted_up_to_the_first_gap(phone: Phone, day: dict[str, Any]) -> None:
    made = [phone.keep(a_visit(phone.ids, day["day_id"])) for _ in range(5)]
    phone.push(only=[made[3]])
    assert stands(phone)["device_seq"] == 0
    phone.push(only=made[:2])
    assert stands(phone)["device_seq"] == 2
    phone.push(only=[made[4]])
    assert stands(phone)["device_seq"] == 2
    phone.push(only=[made[2]])
    assert stands(phone)["device_seq"] == 5


def test_a_refused_operation_is_answered_too(phone: Phone, ids: Any) -> None:
    phone.keep(a_fact(ids.id(), "materials", "oak"))
    phone.push()
    assert stands(phone)["device_seq"] == 1


def test_what_has_no_place_that_can_be_told_is_answered_in_no_other_s(
    phone: Phone, day: dict[str, Any]
) -> None:
    sent = phone.client.post("/sync/operations", json={"operations": ["no operation"]})
    assert [one["outcome"] for one in sent.json()["answers"]] == ["refused"]
    assert stands(phone)["device_seq"] == 0


def test_the_chain_is_told_where_the_device_asks(phone: Phone, day: dict[str, Any]) -> None:
    """A device that was told of an operation sees whether that one is still what it was."""
    told = stands(phone)
    phone.keep(a_visit(phone.ids, day["day_id"]))
    phone.push()
    assert stands(phone, known_seq=told["office_seq"])["known_chain"] == told["chain"]
    assert stands(phone, known_seq=99)["known_chain"] is None
    assert stands(phone)["known_chain"] is None


def test_the_description_of_the_service_says_so(manager: Phone) -> None:
    described = manager.client.get("/openapi.json").json()
    assert set(described["components"]["schemas"]["OfficeStanding"]["required"]) == set(stands(manager))
    for path, method in {"/pairing/me": "get", "/sync/operations": "post", "/sync/feed": "get"}.items():
        answer = described["paths"][path][method]["responses"]["2XX"]["content"]["application/json"]["schema"]
        assert answer["properties"]["office"]["$ref"].endswith("/OfficeStanding")


def waiting(answers: list[dict[str, Any]]) -> list[str]:
    return [answer["outcome"] for answer in answers]


def was_told(office: Office, phone: Phone, office_seq: int) -> dict[str, Any]:
    """What a phone says that was told of an operation which the office has lost since."""
    with closing(sqlite3.connect(office.settings.database_file)) as file:
        key, losses = file.execute("SELECT proof_key, losses FROM office").fetchone()
    told = Told(office_seq, "ab" * 32, losses)
    return {
        "known_seq": office_seq,
        "known_chain": told.chain,
        "proof": Proofs(key).give(phone.device_id, told),
    }


@pytest.fixture
def other(office: Office) -> Phone:
    """One more device, which was there before anything was lost."""
    return office.pair("table", "Table 2")


@pytest.fixture
def forgetful(office: Office, phone: Phone, item: dict[str, Any], clock: Any) -> dict[str, Any]:
    """The item, at an office that has just been shown that it was told of more than it has."""
    phone.client.get("/sync/feed", params=was_told(office, phone, 99)).raise_for_status()
    assert stands(phone)["hearing"] is True
    return item


def test_what_a_device_says_that_it_was_told_counts_with_its_own_proof_only(
    office: Office, manager: Phone, phone: Phone, item: dict[str, Any]
) -> None:
    """A lying phone would have all others wait without end."""
    lies: tuple[dict[str, Any], ...] = (
        {"known_seq": 99, "known_chain": "ab" * 32},
        {"proof": "99_ab_99_" + "0" * 32},
        {"proof": was_told(office, manager, 99)["proof"]},
        {"before_loss": was_told(office, phone, 99)["proof"].replace("99_", "98_", 1)},
        {"before_loss": "\u00b2_\u00b2_\u00b2_\u00b2"},
        {"before_loss": "9_a_\u00b2_" + "0" * 32},
        {"proof": stands(phone)["proof"]},  # the office has it
    )
    for lie in lies:
        phone.client.get("/sync/feed", params=lie).raise_for_status()
        body: dict[str, Any] = {"operations": []}
        phone.client.post("/sync/operations", params=lie, json=body).raise_for_status()
        assert stands(phone)["hearing"] is False, lie


def test_the_manager_sees_who_showed_the_loss(manager: Phone, forgetful: dict[str, Any]) -> None:
    assert manager.client.get("/devices").json()["hearing"]["shown_by"] == "Table 1"


def test_what_names_something_lost_waits_and_holds_up_nothing(
    phone: Phone, forgetful: dict[str, Any], ids: Any
) -> None:
    lost = phone.keep(a_fact(ids.id(), "materials", "oak"))
    phone.keep(a_fact(forgetful["item_id"], "materials", "tin"))
    told = phone.push()
    assert waiting(told) == ["waiting", "kept"]
    assert told[0]["problem"]["code"] == "waits_for_more"
    assert "There is no item" in told[0]["problem"]["detail"]
    assert lost["item_id"] not in told[0]["problem"]["detail"], "an id says nothing to a person"
    assert phone.outbox == [lost]


def test_an_edit_of_a_value_that_was_lost_waits_and_is_no_disagreement(
    phone: Phone, other: Phone, forgetful: dict[str, Any], ids: Any
) -> None:
    """Two phones, the second saw what the first had said; the office lost both, and hears the second one first."""
    first = phone.keep(a_fact(forgetful["item_id"], "materials", "tin"))
    other.keep(a_fact(forgetful["item_id"], "materials", "pewter"), seen=first["operation_id"])
    assert waiting(other.push()) == ["waiting"]
    assert waiting(phone.push()) == ["kept"]
    assert waiting(other.push()) == ["kept"]
    record = phone.record(forgetful["item_id"])
    assert record["fields"]["materials"]["value"] == "pewter"
    assert record["disagreements"] == []


def test_once_nobody_is_waited_for_all_is_judged_as_it_is(
    manager: Phone, phone: Phone, forgetful: dict[str, Any], ids: Any
) -> None:
    phone.keep(a_fact(forgetful["item_id"], "materials", "tin"))
    phone.push()
    phone.keep(a_fact(ids.id(), "materials", "oak"))
    phone.keep(a_fact(forgetful["item_id"], "materials", "pewter"), seen=ids.id())
    assert waiting(phone.push()) == ["waiting", "waiting"]
    manager.says_nobody_else_comes().raise_for_status()
    told = phone.push()
    assert waiting(told) == ["refused", "kept"]
    assert told[1]["disagreement"] is True


def come(device: Phone, to_send: int = 0) -> None:
    """The device reads the feed, knowing the office as it is."""
    told = stands(device)
    known = {
        "known_seq": told["office_seq"],
        "known_chain": told["chain"],
        "to_send": to_send,
    }
    device.client.get("/sync/feed", params=known).raise_for_status()


def left(manager: Phone) -> list[str]:
    """The known devices that have yet to come."""
    names: list[str] = manager.client.get("/devices").json()["hearing"]["left"]
    return names


def test_the_manager_sees_who_has_yet_to_come_and_says_when_nobody_is(
    manager: Phone, phone: Phone, forgetful: dict[str, Any]
) -> None:
    """That all have come which are known ends nothing: one may have been paired after the copy."""
    assert left(manager) == ["Table 1", "manager"]
    come(manager)
    come(phone, to_send=3)
    assert left(manager) == ["Table 1"]
    come(phone)
    assert left(manager) == []
    assert stands(phone)["hearing"] is True
    manager.says_nobody_else_comes().raise_for_status()
    assert stands(phone)["hearing"] is False


def test_nobody_waits_for_a_phone_that_is_new(
    office: Office, manager: Phone, forgetful: dict[str, Any]
) -> None:
    """What was lost before it came it cannot have."""
    office.pair("table", "Table 2")
    assert left(manager) == ["Table 1", "manager"]


def test_nobody_waits_for_a_phone_that_was_signed_off(
    manager: Phone, phone: Phone, forgetful: dict[str, Any], clock: Any
) -> None:
    clock.pass_by(minutes=1)
    come(manager)
    manager.client.post(f"/devices/{phone.device_id}/revoke").raise_for_status()
    assert left(manager) == []


def test_a_phone_that_let_go_of_its_first_ones_says_so(phone: Phone, day: dict[str, Any], ids: Any) -> None:
    """What is before `holds_from` cannot come any more, so nothing waits for it."""
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    opened = phone.keep(an_item(phone.ids, visit))
    lost = phone.keep(a_fact(opened["item_id"], "materials", "oak"))
    assert waiting(phone.push(only=[lost])) == ["waiting"]
    body = {"operations": [lost], "holds_from": lost["device_seq"]}
    [told] = phone.client.post("/sync/operations", json=body).json()["answers"]
    assert told["problem"]["code"] == "not_found"


def test_a_second_loss_is_waited_for_anew(
    office: Office, manager: Phone, phone: Phone, forgetful: dict[str, Any], clock: Any
) -> None:
    """The office is put back once more while it waits: who had come by then may hold what went the second time."""
    clock.pass_by(minutes=1)
    come(manager)
    clock.pass_by(minutes=1)
    phone.client.get("/sync/feed", params=was_told(office, phone, 98)).raise_for_status()
    clock.pass_by(minutes=1)
    come(phone)
    assert left(manager) == ["manager"]
    phone.keep(a_fact(forgetful["item_id"], "materials", "tin"))
    body = {"operations": phone.outbox, "holds_from": 1}
    told = was_told(office, phone, 97)
    clock.pass_by(minutes=1)
    phone.client.post("/sync/operations", params=told, json=body).raise_for_status()
    clock.pass_by(minutes=1)
    come(manager)
    assert left(manager) == ["Table 1"]


def test_the_same_loss_is_waited_for_once(
    office: Office, manager: Phone, phone: Phone, item: dict[str, Any], clock: Any
) -> None:
    """A phone goes on saying what it was told before the loss until the office is whole, and a little longer."""
    told = was_told(office, phone, 99)["proof"]
    clock.pass_by(minutes=1)
    phone.client.get("/sync/feed", params={"before_loss": told}).raise_for_status()
    clock.pass_by(minutes=1)
    come(manager)
    phone.client.get("/sync/feed", params={"before_loss": told}).raise_for_status()
    assert left(manager) == ["Table 1"]
    come(phone)
    phone.client.get("/sync/feed", params={"before_loss": told}).raise_for_status()
    assert left(manager) == []
    manager.says_nobody_else_comes().raise_for_status()
    phone.client.get("/sync/feed", params={"before_loss": told}).raise_for_status()
    assert stands(phone)["hearing"] is False


@pytest.mark.parametrize("days", [90, -90])
def test_the_office_s_clock_says_nothing_of_what_came_before_a_loss(
    office: Office, manager: Phone, phone: Phone, item: dict[str, Any], ids: Any, clock: Any, days: int
) -> None:
    """The clock was months off when devices were paired and told, and is put right before they come back."""
    clock.pass_by(days=days)
    late = office.pair("table", "Table 2")
    told = was_told(office, phone, 99)["proof"]
    clock.pass_by(days=-days)
    lost = phone.keep(a_fact(ids.id(), "materials", "tin"))
    answered = phone.client.post(
        "/sync/operations", params={"proof": told}, json={"operations": [lost]}
    ).json()
    assert waiting(answered["answers"]) == ["waiting"], "the one who may have what it names has yet to come"
    come(manager)
    assert left(manager) == ["Table 1", "Table 2"]
    come(phone)
    assert left(manager) == ["Table 2"]
    come(late)
    assert left(manager) == []
    manager.says_nobody_else_comes().raise_for_status()
    phone.client.get("/sync/feed", params={"before_loss": told}).raise_for_status()
    assert stands(phone)["hearing"] is False, "each loss counts once"


def test_a_loss_is_news_although_the_folder_that_was_put_back_has_counted_fewer(
    office: Office, phone: Phone, item: dict[str, Any]
) -> None:
    """What was told after the second loss by an office that was then put back to before the first."""
    office.change("UPDATE office SET losses = 2")
    told = was_told(office, phone, 99)["proof"]
    office.change("UPDATE office SET losses = 0")
    phone.client.get("/sync/feed", params={"before_loss": told}).raise_for_status()
    assert stands(phone)["hearing"] is True
    office.change("UPDATE office SET hearing_since = NULL")
    phone.client.get("/sync/feed", params={"before_loss": told}).raise_for_status()
    assert stands(phone)["hearing"] is False


def test_a_phone_that_is_paired_again_while_others_are_heard_has_yet_to_come(
    office: Office, manager: Phone, phone: Phone, forgetful: dict[str, Any], clock: Any
) -> None:
    come(phone)
    clock.pass_by(minutes=1)
    code = office.code("manager", "manager")
    body = {"code": code, "device_id": manager.device_id}
    manager.client.post("/pairing", json=body).raise_for_status()
    assert left(manager) == ["manager"]
    come(manager)
    assert left(manager) == []


def test_what_was_refused_and_put_right_since_does_not_come_back(
    phone: Phone, forgetful: dict[str, Any], ids: Any
) -> None:
    """The office forgot why it refused: it would take the old one now, or have it wait, beside the one made instead."""
    old = phone.keep(a_fact(forgetful["item_id"], "materials", "tin"))
    unknown = phone.keep(a_fact(ids.id(), "materials", "oak"))
    new = phone.keep(a_fact(forgetful["item_id"], "materials", "pewter"))
    dealt_with = [old["operation_id"], unknown["operation_id"]]
    body = {"operations": [old, unknown, new], "dealt_with": dealt_with}
    said = phone.client.post("/sync/operations", json=body).json()
    assert waiting(said["answers"]) == ["refused", "refused", "kept"]
    codes = [answer["problem"]["code"] for answer in said["answers"][:2]]
    assert codes == ["refused_before", "not_found"]
    assert said["office"]["device_seq"] == new["device_seq"], "none is missing from the device's order"
    record = phone.record(forgetful["item_id"])
    assert (record["fields"]["materials"]["value"], record["disagreements"]) == ("pewter", [])


@pytest.mark.parametrize(
    ("off_s", "told"), [(0, None), (-45, None), (61, 61), (-3 * 24 * 3600, -3 * 24 * 3600)]
)
def test_a_clock_that_is_off_is_told_beside_its_own_time(
    phone: Phone, manager: Phone, item: dict[str, Any], clock: Any, off_s: int, told: int | None
) -> None:
    """Both times stay; how far apart the clocks were stands in the log, so that copies and rebuilds keep it."""
    fact = phone.keep(a_fact(item["item_id"], "materials", "tin"))
    sent_at = stamp(clock() + timedelta(seconds=off_s))
    body = {"operations": [fact], "sent_at": sent_at}
    [answer] = phone.client.post("/sync/operations", json=body).json()["answers"]
    assert answer.get("clock_off_s") == told
    history = manager.client.get(f"/records/{item['item_id']}/history").json()["operations"]
    assert history[-1]["clock_off_s"] == (told or 0)
    assert history[-1]["operation"]["made_at"] == fact["made_at"]
    body = {"operations": [fact], "sent_at": "2026-02-31T10:00:00.000Z"}
    assert phone.client.post("/sync/operations", json=body).json()["answers"] == [answer]
    devices = manager.client.get("/closing").json()["devices"]
    assert {one["name"]: one["clock_off_s"] for one in devices}["Table 1"] == (told or 0)


@pytest.mark.parametrize("over", ["operations", "bundle"])
def test_a_phone_that_lost_a_week_brings_no_erased_word_back(
    office: Office, manager: Phone, phone: Phone, item: dict[str, Any], over: str
) -> None:
    """Typed eight days ago, erased yesterday; its clock shows as it sends that it was typed just now."""
    visit_id, typed_at = item["visit_id"], office.clock()
    typed = phone.keep(a_consignor(visit_id, "address", "Bramble Row"), made_at=stamp(typed_at))
    office.clock.pass_by(days=7)
    manager.keep(("erase_consignor", {"visit_id": visit_id}), made_at=stamp(office.clock()))
    assert [one["outcome"] for one in manager.push()] == ["kept"]
    office.clock.pass_by(days=1)
    body = {"operations": [typed], "sent_at": stamp(office.clock() - timedelta(days=8))}
    if over == "bundle":
        head = json.dumps({**body, "photos": []}).encode()
        sent = phone.client.post("/sync/bundle", content=len(head).to_bytes(4, "big") + head)
    else:
        sent = phone.client.post("/sync/operations", json=body)
    [answer] = sent.json()["answers"]
    assert (answer["outcome"], answer["problem"]["code"]) == ("kept", "words_erased")
    assert b"Bramble" not in bytes_below(office.settings.data_folder)
    anew = phone.keep(a_consignor(visit_id, "address", "Bramble Row"), made_at=stamp(office.clock()))
    body = {"operations": [anew], "sent_at": stamp(office.clock())}
    [answer] = phone.client.post("/sync/operations", json=body).json()["answers"]
    assert (answer["outcome"], answer["problem"]) == ("kept", None)
    assert manager.record(visit_id)["fields"]["consignor/address"]["value"] == "Bramble Row"
    assert office.faults() == []


def test_a_device_hears_of_how_many_records_words_were_erased_and_asks_which(
    manager: Phone, phone: Phone, day: dict[str, Any]
) -> None:
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    phone.push()
    assert stands(phone)["erased"] == 0
    erasing = manager.keep(("erase_consignor", {"visit_id": visit["visit_id"]}))
    manager.push()
    assert stands(phone)["erased"] == 1
    told = phone.client.get("/sync/erasures").json()["erasures"]
    assert told == [{"record_id": visit["visit_id"], "made_at": erasing["made_at"], "office_seq": 3}]
