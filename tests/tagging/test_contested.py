"""One number tied to two items by two devices that had not heard of each other: a person settles it, both are safe."""

from __future__ import annotations

from typing import Any

import pytest

from intake.commands import main
from tests.builders import a_fact, a_settlement, a_tie, a_visit, an_item, settling
from tests.conftest import Office
from tests.door import Door
from tests.phone import Phone

TAG = "7K3QW5"


@pytest.fixture
def other(office: Office, phone: Phone, item: dict[str, Any]) -> dict[str, Any]:
    """An item of another table, tied to a number that the first item's table has used meanwhile."""
    second = office.pair("table", "Table 2")
    visit = second.keep(a_visit(second.ids, item["day_id"], ticket="Q02"))
    opened = second.keep(an_item(second.ids, visit))
    second.keep(a_tie(opened["item_id"], TAG))
    phone.keep(a_tie(item["item_id"], TAG))
    phone.push()
    answer = second.push()[-1]
    assert (answer["outcome"], answer["disagreement"]) == ("refused", True)
    assert answer["problem"]["code"] == "tag_taken"
    return opened


def live_tags(phone: Phone, item_id: str) -> list[str]:
    fields = phone.record(item_id)["fields"]
    return [name for name, told in fields.items() if name.startswith("tags/") and not told["value"]["gone"]]


def settle(desk: Phone, item_id: str, choose: str) -> None:
    """As the desk's button does it: the number is noted as gone from the one item, then goes to the other."""
    (between,) = desk.record(item_id)["disagreements"]
    if choose == "other":
        told = {"item_id": between["kept"]["value"]["item_id"], "tag": TAG, "replaced_by": None}
        desk.keep(("remove_tag", {**told, "why": "on-another-item"}))
    body = {"record_id": item_id, "disagreement_id": between["disagreement_id"], "choose": choose, "note": ""}
    desk.keep(("settle_disagreement", body))
    assert {answer["outcome"] for answer in desk.push()} == {"kept"}


def test_both_records_say_so_until_it_is_settled(
    office: Office, phone: Phone, item: dict[str, Any], other: dict[str, Any]
) -> None:
    (between,) = phone.record(other["item_id"])["disagreements"]
    assert between["field"] == f"tags/{TAG}"
    assert between["kept"]["value"] == {"tag": TAG, "item_id": item["item_id"]}
    assert between["other"]["value"]["tag"] == TAG
    assert live_tags(phone, item["item_id"]) == [f"tags/{TAG}"]
    assert live_tags(phone, other["item_id"]) == []
    assert office.faults() == [], "a rebuild leaves the disagreement too"


@pytest.mark.parametrize("choose", ["kept", "other"])
def test_the_number_is_on_the_item_that_was_chosen(
    office: Office, manager: Phone, item: dict[str, Any], other: dict[str, Any], choose: str
) -> None:
    settle(manager, other["item_id"], choose)
    holder, free = (item, other) if choose == "kept" else (other, item)
    assert live_tags(manager, holder["item_id"]) == [f"tags/{TAG}"]
    assert live_tags(manager, free["item_id"]) == []
    found = manager.client.get("/queue", params={"words": TAG}).json()["entries"]
    assert [entry["item_id"] for entry in found if TAG in entry["tags"]] == [holder["item_id"]]
    assert office.faults() == []


def test_the_item_that_lost_it_does_not_get_it_back(
    office: Office, manager: Phone, phone: Phone, item: dict[str, Any], other: dict[str, Any]
) -> None:
    settle(manager, other["item_id"], "other")
    phone.keep(a_tie(item["item_id"], TAG))
    assert phone.push()[0]["problem"]["code"] == "tag_spoiled"
    assert len(manager.record(item["item_id"])["disagreements"]) == 0
    assert office.faults() == []


def test_it_does_not_go_over_while_it_is_on_the_first(
    office: Office, manager: Phone, item: dict[str, Any], other: dict[str, Any]
) -> None:
    (between,) = manager.record(other["item_id"])["disagreements"]
    body = {"record_id": other["item_id"], "disagreement_id": between["disagreement_id"], "note": ""}
    manager.keep(("settle_disagreement", {**body, "choose": "other"}))
    (answer,) = manager.push()
    assert (answer["problem"]["code"], answer["disagreement"]) == ("tag_taken", False)
    assert manager.record(other["item_id"])["disagreements"][0]["settled"] is None
    assert live_tags(manager, item["item_id"]) == [f"tags/{TAG}"]
    assert office.faults() == []


def test_it_is_asked_about_once(
    phone: Phone, manager: Phone, item: dict[str, Any], other: dict[str, Any]
) -> None:
    """The device sends the same tie once more as a new operation; there is one question still."""
    manager.keep(a_tie(other["item_id"], TAG))
    (answer,) = manager.push()
    assert (answer["outcome"], answer["disagreement"]) == ("refused", False)
    assert len(manager.record(other["item_id"])["disagreements"]) == 1


def test_a_lost_number_is_no_question(office: Office, phone: Phone, item: dict[str, Any]) -> None:
    phone.keep(a_tie(item["item_id"], TAG))
    phone.keep(("remove_tag", {"item_id": item["item_id"], "tag": TAG, "why": "lost", "replaced_by": None}))
    opened = phone.keep(an_item(phone.ids, {"visit_id": item["visit_id"], "day_id": item["day_id"]}))
    phone.keep(a_tie(opened["item_id"], TAG))
    assert [answer["disagreement"] for answer in phone.push()] == [False] * 4
    assert phone.refused[0]["answer"]["problem"]["code"] == "tag_taken"


def test_a_rebuild_of_the_file_comes_out_equal(
    office: Office, manager: Phone, other: dict[str, Any], capsys: pytest.CaptureFixture[str]
) -> None:
    settle(manager, other["item_id"], "other")
    assert main(["verify", "--data", str(office.settings.data_folder)]) == 0
    assert capsys.readouterr().out


def test_a_third_item_may_ask_for_it_too(
    office: Office, manager: Phone, item: dict[str, Any], other: dict[str, Any]
) -> None:
    """Whoever has it by then is who has to give it up."""
    third = manager.keep(an_item(manager.ids, {"visit_id": item["visit_id"], "day_id": item["day_id"]}))
    manager.keep(a_tie(third["item_id"], TAG))
    assert manager.push()[-1]["disagreement"] is True
    settle(manager, other["item_id"], "other")
    (between,) = manager.record(third["item_id"])["disagreements"]
    told = {"record_id": third["item_id"], "disagreement_id": between["disagreement_id"], "note": ""}
    manager.keep(("settle_disagreement", {**told, "choose": "other"}))
    assert manager.push()[0]["problem"]["code"] == "tag_taken"
    gone = {"item_id": other["item_id"], "tag": TAG, "why": "on-another-item", "replaced_by": None}
    manager.keep(("remove_tag", gone))
    manager.keep(("settle_disagreement", {**told, "choose": "other"}))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    tagged = [one for one in (item, other, third) if live_tags(manager, one["item_id"])]
    assert tagged == [third]
    assert office.faults() == []


@pytest.mark.parametrize("choose", ["kept", "other"])
async def test_two_pieces_of_one_item_tied_to_one_number_are_for_a_person(door: Door, choose: str) -> None:
    """Each table has a piece before it; neither word is lost, and the number stays the item's."""
    item_id = (await door.item())["item_id"]
    first, second = door, door.other()
    await first.keep(a_tie(item_id, TAG, piece=1))
    assert (await second.keep(a_tie(item_id, TAG, piece=1)))["disagreement"] is False, "both say the same"
    between = await second.keep(a_tie(item_id, TAG, piece=2))
    assert between["disagreement"]
    assert (await door.value(item_id, f"tags/{TAG}"))["piece"] == 1
    await first.keep(a_settlement(item_id, between["operation_id"], choose))
    assert (await door.value(item_id, f"tags/{TAG}"))["piece"] == (1 if choose == "kept" else 2)
    assert await door.faults() == []


async def test_the_later_word_of_one_device_holds_in_whatever_order_it_comes(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    before, after = door.make(a_tie(item_id, TAG, piece=1)), door.make(a_tie(item_id, TAG, piece=2))
    answers = await door.send(after, before)
    assert [(one["outcome"], one["disagreement"]) for one in answers] == [("kept", False)] * 2
    assert (await door.value(item_id, f"tags/{TAG}"))["piece"] == 2
    assert await door.faults() == []


async def test_no_settlement_brings_back_a_number_that_is_gone(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    await door.keep(a_tie(item_id, TAG, piece=1))
    between = await door.other().keep(a_tie(item_id, TAG, piece=2))
    gone = {"item_id": item_id, "tag": TAG, "why": "fallen-off", "replaced_by": None}
    await door.keep(("remove_tag", gone))
    assert await door.refused(a_settlement(item_id, between["operation_id"], "other")) == "tag_spoiled"
    await door.keep(a_settlement(item_id, between["operation_id"], "kept"))


async def test_of_what_two_desks_settled_on_otherwise_the_later_holds_while_devices_are_heard_out(
    door: Door,
) -> None:
    """What is chosen stands in no open question any more: it comes from the tie that said it."""
    item_id = (await door.item())["item_id"]
    await door.keep(a_tie(item_id, TAG, piece=1))
    await door.other().keep(a_tie(item_id, TAG, piece=2))
    read = await door.record(item_id)
    [between] = read["disagreements"]
    door.hearing = True
    for choose, piece in (("kept", 1), ("other", 2), ("kept", 1)):
        await door.keep(settling(read, between, choose))
        assert (await door.value(item_id, f"tags/{TAG}"))["piece"] == piece
    assert await door.faults() == []


async def test_a_number_is_asked_about_also_on_a_thing_that_is_in_dispute_over_something_else(
    door: Door,
) -> None:
    first = await door.item()
    second = await door.keep(an_item(door.ids, first))
    await door.keep(a_tie(first["item_id"], TAG))
    another = door.other()
    for device, wood in ((door, "oak"), (another, "walnut")):
        await device.keep(a_fact(second["item_id"], "materials", wood))
    [answer] = await another.send(another.make(a_tie(second["item_id"], TAG)))
    assert (answer["problem"]["code"], answer["disagreement"]) == ("tag_taken", True)
    told = (await door.record(second["item_id"]))["disagreements"]
    assert [between["field"] for between in told] == ["materials", f"tags/{TAG}"]
