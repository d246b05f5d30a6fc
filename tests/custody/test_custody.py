"""Containers, moves, differences and closing, over real HTTP and a real file."""

from __future__ import annotations

from itertools import islice
from typing import Any

import pytest

from intake.commands import main
from intake.custody.moves import MOST_PACKED
from intake.tagging.tags import codes
from tests.builders import a_finding, a_photo, a_record_photo, a_tie, digest, picture
from tests.conftest import Office
from tests.phone import Phone

NUMBERS = list(islice(codes(7000), 20))


def a_container(phone: Phone, day: dict[str, Any], number: str, kind_of: str = "box") -> dict[str, Any]:
    body = {"container_id": phone.ids.id(), "day_id": day["day_id"], "number": number, "kind_of": kind_of}
    return phone.keep(("open_container", body))


def inside(phone: Phone, thing_id: str, container_id: str | None) -> dict[str, Any]:
    body = {"thing_id": thing_id, "container_id": container_id, "seen": seen(phone, thing_id, "inside")}
    return phone.keep(("put_inside", body))


def seen(phone: Phone, record_id: str, field: str) -> str | None:
    """The operation whose value a screen would show."""
    response = phone.client.get(f"/records/{record_id}")
    found = response.json().get("fields", {}).get(field) if response.status_code == 200 else None
    return found and str(found["operation_id"])


def a_move(phone: Phone, thing_id: str, to_place: str, **more: Any) -> tuple[str, dict[str, Any]]:
    body = {"move_id": phone.ids.id(), "thing_id": thing_id, "from_place": "table", "to_place": to_place}
    rest = {"at": "", "given_by": "Hester", "taken_by": "Jonty", "count": None, "signed": False}
    return "record_move", {**body, **rest, **more}


def last_code(phone: Phone) -> str | None:
    problem = phone.push()[-1]["problem"]
    return problem and str(problem["code"])


def test_bags_in_boxes_in_crates(
    office: Office, phone: Phone, day: dict[str, Any], item: dict[str, Any]
) -> None:
    bag, box, crate = (
        a_container(phone, day, number, kind)["container_id"]
        for number, kind in zip(NUMBERS, ("bag", "box", "crate"), strict=False)
    )
    phone.push()
    inside(phone, item["item_id"], bag)
    inside(phone, bag, box)
    inside(phone, box, crate)
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    inside(phone, crate, bag)
    assert last_code(phone) == "inside_itself"
    assert phone.record(bag)["fields"]["inside"]["value"] == {"container_id": box}
    assert office.faults() == []


def test_a_number_is_on_one_thing_only(
    office: Office, phone: Phone, day: dict[str, Any], item: dict[str, Any]
) -> None:
    phone.keep(a_tie(item["item_id"], NUMBERS[0]))
    a_container(phone, day, NUMBERS[0])
    assert last_code(phone) == "tag_taken"
    a_container(phone, day, NUMBERS[1])
    phone.keep(a_tie(item["item_id"], NUMBERS[1]))
    assert last_code(phone) == "tag_taken"
    assert office.faults() == []


def test_the_ledger_keeps_every_move(office: Office, phone: Phone, item: dict[str, Any]) -> None:
    """A move from elsewhere than the ledger said is kept too: a device may not have heard of the one before."""
    for to_place, from_place in (("holding", "table"), ("van", "bench"), ("store", "van")):
        phone.keep(a_move(phone, item["item_id"], to_place, from_place=from_place))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    fields = phone.record(item["item_id"])["fields"]
    assert len([name for name in fields if name.startswith("moves/")]) == 3
    assert fields["whereabouts"]["value"]["to_place"] == "store"
    assert office.faults() == []


def test_what_can_spread_goes_to_no_other_shelf(office: Office, phone: Phone, item: dict[str, Any]) -> None:
    phone.keep(a_finding(phone.ids, item["item_id"], "cover", term="live-insects", activity="Q"))
    phone.keep(a_move(phone, item["item_id"], "shelf"))
    assert last_code(phone) == "not_isolation"
    phone.keep(a_move(phone, item["item_id"], "isolation"))
    assert last_code(phone) is None


def test_a_difference_ends_by_being_settled(office: Office, phone: Phone, day: dict[str, Any]) -> None:
    difference_id = phone.ids.id()
    of_day = {"day_id": day["day_id"], "difference_id": difference_id, "seen": None}
    end = ("settle_difference", {**of_day, "ended": "found", "words": "in the lid", "second_by": "Jonty"})
    phone.keep(end)
    assert last_code(phone) == "not_found"
    told = {"difference": "piece-short", "thing_id": None, "words": "a spoon", "owner_told": True}
    phone.keep(("raise_difference", {**of_day, **told}))
    phone.keep(end)
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    fields = phone.record(day["day_id"])["fields"]
    assert fields[f"differences/{difference_id}"]["value"] == {**told, "told": ""}
    assert office.faults() == []


def test_a_difference_and_an_unpacking_have_pictures(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], item: dict[str, Any]
) -> None:
    """The closing counts them as pictures of a record, and knows which have not come yet."""
    seal, bag = picture(1), picture(2)
    difference_id = phone.ids.id()
    phone.keep(a_record_photo(phone.ids, day["day_id"], difference_id, seal))
    assert last_code(phone) == "not_found"
    raised = {"difference": "seal-differs", "thing_id": None, "words": "7103", "owner_told": False}
    told = {"day_id": day["day_id"], "difference_id": difference_id, "told": "the day-lead", "seen": None}
    phone.keep(("raise_difference", {**told, **raised}))
    phone.keep(a_record_photo(phone.ids, day["day_id"], difference_id, seal))
    phone.keep(a_record_photo(phone.ids, item["visit_id"], None, bag))
    answered = phone.bundle([seal]).json()
    assert [one["outcome"] for one in answered["answers"] + answered["photos"]] == ["kept"] * 4
    closing = manager.client.get("/closing").json()
    assert closing["orphans"] == []
    assert {one["sha256"] for one in closing["awaited"]} == {digest(bag)}
    pictures = [name for name in phone.record(item["visit_id"])["fields"] if name.startswith("photos/")]
    assert len(pictures) == 1
    assert office.faults() == []


def test_a_load_is_counted_once(office: Office, phone: Phone, day: dict[str, Any]) -> None:
    people = {"to_place": "van", "at": "trip 2", "given_by": "Hester", "taken_by": "Jonty"}
    counted = {"crates": 2, "pieces": 1, "scanned_crates": 3, "scanned_pieces": 1}
    load = ("count_load", {"day_id": day["day_id"], "load_id": phone.ids.id(), **people, **counted})
    phone.keep(load)
    assert last_code(phone) is None
    phone.keep(load)
    assert last_code(phone) == "already_there"
    assert phone.record(day["day_id"])["fields"][f"loads/{load[1]['load_id']}"]["value"] == {
        **people,
        **counted,
    }
    assert office.faults() == []


@pytest.mark.parametrize(("second", "code"), [("jonty ", "second_is_first"), ("Hester", None)])
def test_two_people_close_a_day(
    office: Office, manager: Phone, day: dict[str, Any], second: str, code: str | None
) -> None:
    said = {
        "day_id": day["day_id"],
        "closed_by": "Jonty",
        "second_by": second,
        "named": ["one tag without item"],
    }
    manager.keep(("close_day", said))
    (answer,) = manager.push()
    assert (answer["problem"] or {}).get("code") == code
    if code:
        assert answer["problem"]["detail"].startswith(
            "Jonty signed first and cannot be the second person too"
        )


def test_the_second_code_comes_off_another_device(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any]
) -> None:
    """The closing device's own code, and one of no device of this office, close nothing."""
    said = {"day_id": day["day_id"], "closed_by": "Jonty", "second_by": "Hester", "named": []}
    for device, code in (
        (manager.device_id, "second_not_there"),
        (manager.ids.id(), "second_not_there"),
        (phone.device_id, None),
    ):
        manager.keep(("close_day", {**said, "second_device": device}))
        assert last_code(manager) == code
    closed = manager.record(day["day_id"])["fields"]["closed"]["value"]
    assert closed["second_device"] == phone.device_id


def test_a_tag_that_fell_off_is_replaced_by_another(
    office: Office, phone: Phone, item: dict[str, Any]
) -> None:
    old, new = NUMBERS[:2]
    item_id = item["item_id"]
    phone.keep(a_tie(item_id, old))
    phone.keep(("remove_tag", {"item_id": item_id, "tag": old, "why": "fallen-off", "replaced_by": new}))
    phone.keep(a_tie(item_id, new))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    phone.keep(a_tie(item_id, old))
    assert last_code(phone) == "tag_spoiled"
    desk = office.pair("desk")
    for tag in (old, new):
        assert desk.client.get("/queue", params={"words": tag}).json()["count"] == 1
    assert office.faults() == []


def test_a_doubled_record_stands_behind_the_other(office: Office, phone: Phone, item: dict[str, Any]) -> None:
    """The queue has it once, and both histories stay."""
    first = item["item_id"]
    second = phone.keep(
        ("open_item", {"item_id": phone.ids.id(), "visit_id": item["visit_id"], "day_id": item["day_id"]})
    )
    other = second["item_id"]
    phone.keep(a_tie(other, NUMBERS[3]))
    desk = office.pair("desk")
    phone.push()
    assert desk.client.get("/queue").json()["count"] == 2
    merge = {"item_id": other, "into_id": first, "why": "same mark", "seen": None}
    desk.keep(("merge_item", merge))
    desk.keep(("merge_item", {"item_id": first, "into_id": other, "why": "", "seen": None}))
    answers = desk.push()
    assert [one["outcome"] for one in answers] == ["kept", "refused"]
    queue = desk.client.get("/queue").json()
    assert [entry["item_id"] for entry in queue["entries"]] == [first]
    assert desk.client.get("/queue", params={"words": NUMBERS[3]}).json()["count"] == 0
    history = desk.client.get(f"/records/{other}/history").json()["operations"]
    assert [one["operation"]["kind"] for one in history] == ["open_item", "tie_tag", "merge_item"]
    phone.keep(a_tie(first, NUMBERS[3]))
    assert last_code(phone) == "tag_taken"
    assert office.faults() == []


def test_an_item_is_compared_when_its_crate_is_opened(
    office: Office, phone: Phone, item: dict[str, Any]
) -> None:
    told = {"state": "differs", "words": "chip at the foot", "second_by": "Ana"}
    phone.keep(("check_in", {"item_id": item["item_id"], "seen": None, **told, "second_by": ""}))
    assert last_code(phone) == "unreadable"
    phone.keep(("check_in", {"item_id": item["item_id"], "seen": None, **told}))
    assert last_code(phone) is None
    assert phone.record(item["item_id"])["fields"]["check-in"]["value"] == told


def test_what_only_the_office_can_say_at_the_closing(
    office: Office, manager: Phone, phone: Phone, item: dict[str, Any]
) -> None:
    """A phone that still holds something, a picture that nobody names, a record whose picture is not here."""
    alone, named, thumb = picture(1), picture(2), picture(3, size=(320, 240))
    phone.bundle([alone, thumb], operations=[]).raise_for_status()
    phone.keep(a_photo(phone.ids, item["item_id"], named, thumb))
    phone.push()
    phone.client.get("/sync/feed", params={"after": 0, "holding": 3}).raise_for_status()
    told = manager.client.get("/closing").json()
    assert {one["name"]: one["holding"] for one in told["devices"]} == {"manager": None, "Table 1": 3}
    assert told["orphans"] == [digest(alone)]
    assert told["awaited"] == [{"sha256": digest(named), "item_id": item["item_id"]}]
    assert phone.client.get("/closing").status_code == 403


def test_a_load_has_so_much_in_its_containers_as_a_request_takes(
    office: Office, phone: Phone, day: dict[str, Any]
) -> None:
    people = {"to_place": "van", "at": "", "given_by": "Hester", "taken_by": "Jonty"}
    counted = {"crates": 1, "pieces": 0, "scanned_crates": 1, "scanned_pieces": 0}
    crate, inside = NUMBERS[0], [NUMBERS[1]] * 2000
    for times, code in ((MOST_PACKED // 2000, None), (MOST_PACKED // 2000 + 1, "unreadable")):
        packed = [{"container": crate, "numbers": inside}] * times
        load = {"day_id": day["day_id"], "load_id": phone.ids.id(), "numbers": [crate], "packed": packed}
        phone.keep(("count_load", {**load, **people, **counted}))
        assert last_code(phone) == code


def test_what_is_here_is_not_put_behind_what_went_back(
    office: Office, phone: Phone, item: dict[str, Any]
) -> None:
    """The record of what went back goes behind that of what is here, if they are one after all."""
    first = item["item_id"]
    second = phone.keep(
        ("open_item", {"item_id": phone.ids.id(), "visit_id": item["visit_id"], "day_id": item["day_id"]})
    )["item_id"]
    phone.keep(a_tie(first, NUMBERS[2]))
    phone.keep(a_tie(second, NUMBERS[3]))
    gone = {"item_id": first, "tag": NUMBERS[2], "why": "taken-back", "replaced_by": None}
    phone.keep(("remove_tag", gone))
    assert last_code(phone) is None
    merge = {"why": "same mark", "seen": None}
    phone.keep(("merge_item", {"item_id": second, "into_id": first, **merge}))
    assert last_code(phone) == "behind_what_went_back"
    phone.keep(("merge_item", {"item_id": first, "into_id": second, **merge}))
    assert last_code(phone) is None
    assert office.faults() == []


def test_a_picture_of_what_was_unpacked_goes_with_its_owner(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], item: dict[str, Any]
) -> None:
    """Nobody opens it any more, nor one that was taken before and comes later; one of a thing as well stays."""
    bag, vase, late, since = (picture(number) for number in range(1, 5))
    visit_id = item["visit_id"]
    for content in (bag, vase):
        phone.keep(a_record_photo(phone.ids, visit_id, None, content))
    phone.keep(a_photo(phone.ids, item["item_id"], vase, vase))
    answered = phone.bundle([bag, vase]).json()
    assert {one["outcome"] for one in answered["answers"] + answered["photos"]} == {"kept"}
    phone.keep(a_record_photo(phone.ids, visit_id, None, late))
    assert manager.client.get(f"/photos/{digest(bag)}").status_code == 200

    manager.keep(("erase_consignor", {"visit_id": visit_id}))
    assert {one["outcome"] for one in manager.push()} == {"kept"}
    answered = phone.bundle([late]).json()
    assert {one["outcome"] for one in answered["answers"] + answered["photos"]} == {"kept"}
    assert not [name for name in phone.record(visit_id)["fields"] if name.startswith("photos/")]
    for asks in (phone, manager, office.pair("porter")):
        for content, status in ((bag, 404), (late, 404), (vase, 200)):
            for size in ("", "/large"):
                assert asks.client.get(f"/photos/{digest(content)}{size}").status_code == status
    assert manager.client.get("/closing").json()["orphans"] == []
    phone.keep(a_record_photo(phone.ids, visit_id, None, since))
    phone.bundle([since]).raise_for_status()
    assert manager.client.get(f"/photos/{digest(since)}").status_code == 200
    assert office.faults() == []


def test_whoever_says_a_digest_keeps_no_picture_from_going_with_its_owner(
    office: Office, manager: Phone, phone: Phone, item: dict[str, Any]
) -> None:
    """A porter may not read it, and can say its digest of any thing. Whoever has its bytes and sends them keeps it."""
    bag, vase = picture(1), picture(2)
    visit_id, item_id = item["visit_id"], item["item_id"]
    for content in (bag, vase):
        phone.keep(a_record_photo(phone.ids, visit_id, None, content))
    phone.bundle([bag, vase]).raise_for_status()
    porter, other = office.pair("porter"), office.pair("table")
    for device, content in ((porter, bag), (other, vase)):
        assert device.client.get(f"/photos/{digest(content)}").status_code == 404
        device.keep(a_photo(device.ids, item_id, content, content))
        assert {one["outcome"] for one in device.push()} == {"kept"}
    other.bundle([vase], operations=[]).raise_for_status()

    data = str(office.settings.data_folder)
    assert main(["erase", "--data", data, visit_id, "--yes"]) == 0
    for content, status in ((bag, 404), (vase, 200)):
        assert manager.client.get(f"/photos/{digest(content)}").status_code == status
        assert any(office.settings.photos_folder.rglob(digest(content))) == (status == 200)
    assert main(["verify", "--data", data]) == 0
    porter.bundle([bag], operations=[]).raise_for_status()
    assert manager.client.get(f"/photos/{digest(bag)}").status_code == 200, "it had the picture after all"
    assert office.faults() == []


def test_the_file_of_a_picture_goes_with_its_owner(
    office: Office, manager: Phone, phone: Phone, item: dict[str, Any]
) -> None:
    """To a phone it is here, so that it lets go of it, and no check misses it."""
    bag, vase = picture(1), picture(2)
    for content in (bag, vase):
        phone.keep(a_record_photo(phone.ids, item["visit_id"], None, content))
    phone.keep(a_photo(phone.ids, item["item_id"], vase, vase))
    phone.bundle([bag, vase]).raise_for_status()
    folder, data = office.settings.photos_folder, str(office.settings.data_folder)
    for content in (bag, vase):
        manager.client.get(f"/photos/{digest(content)}/large").raise_for_status()

    def lie_there(content: bytes) -> list[str]:
        return sorted(file.suffix for file in folder.rglob(f"{digest(content)}*"))

    assert (lie_there(bag), lie_there(vase)) == (["", ".jpg"], ["", ".jpg"])
    assert main(["erase", "--data", data, item["visit_id"], "--yes"]) == 0
    assert (lie_there(bag), lie_there(vase)) == ([], ["", ".jpg"])
    asked = {"sha256": [digest(bag), digest(vase)]}
    assert set(phone.client.post("/sync/photos", json=asked).json()["here"]) == set(asked["sha256"])
    head = phone.client.head(f"/photos/{digest(bag)}")
    assert head.headers["upload-complete"] == "?1"
    assert phone.client.get(f"/photos/{digest(bag)}").status_code == 404
    assert office.faults() == []
    assert main(["verify", "--data", data]) == 0
    phone.bundle([bag], operations=[]).raise_for_status()
    assert manager.client.get(f"/photos/{digest(bag)}").status_code == 404
    assert main(["erase", "--data", data, item["visit_id"], "--yes"]) == 0
    assert lie_there(bag) == [], "a phone had sent it once more"
