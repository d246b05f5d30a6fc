"""The queue: in order of arrival, found by words, tag, class and state."""

from __future__ import annotations

import json
from itertools import islice
from pathlib import Path
from typing import Any

import pytest

from intake.cataloguing.listing import KINDS_OF_TROUBLE
from intake.cataloguing.pages import SEVERITIES, Asked, Search, with_edge
from intake.cataloguing.queue import LIST_STATES
from intake.examination.plan import zone_keys
from intake.examination.plans import load_plans
from intake.tagging.tags import codes
from tests.app_rules import said_by_app
from tests.builders import (
    a_caution,
    a_consignor,
    a_crate,
    a_day,
    a_decision,
    a_fact,
    a_finding,
    a_move,
    a_tie,
    a_visit,
    a_zone,
    an_item,
    put_in,
)
from tests.conftest import Office
from tests.door import Door
from tests.phone import Phone
from tests.sync.test_before_a_stop import NUMBERS
from tests.sync.test_stopped_doubles import merged, two_items


@pytest.fixture
def things(phone: Phone, day: dict[str, Any]) -> list[str]:
    visit = phone.keep(a_visit(phone.ids, day["day_id"], ticket="Q17"))
    found = []
    for words, class_id in (
        ("plush elephant", "soft-toy"),
        ("bone china teapot", "ceramics"),
        ("owl", "free"),
    ):
        opened = phone.keep(an_item(phone.ids, visit))
        phone.keep(a_fact(opened["item_id"], "short_description", words))
        phone.keep(a_fact(opened["item_id"], "class_id", class_id))
        found.append(opened["item_id"])
    phone.keep(a_tie(found[1], "7K3-QW5"))
    listed = {"line_id": phone.ids.id(), "words": "a pair of tongs", "count": 1, "withdrawn": False}
    phone.keep(("list_piece", {"item_id": found[1], **listed, "seen": None}))
    phone.keep(a_zone(found[0], "ears/proper-left"))
    phone.keep(a_finding(phone.ids, found[0], "nose", severity=3))
    phone.keep(a_caution(phone.ids, found[2]))
    phone.keep(a_consignor(visit["visit_id"], "name", "Gloamwell, Auda"))
    phone.keep(
        ("set_visit", {"visit_id": visit["visit_id"], "field": "table_id", "value": "t2", "seen": None})
    )
    phone.push()
    return found


def test_a_number_that_is_gone_is_no_piece_and_still_finds_its_thing(phone: Phone, things: list[str]) -> None:
    """A pair of which one lost its tag has two numbers when another is tied, and none once both are gone."""
    lost, first, second = "7K3QW5", *islice(codes(9700), 2)
    phone.keep(("remove_tag", {"item_id": things[1], "tag": lost, "why": "lost", "replaced_by": first}))
    for piece, tag in ((1, first), (2, second)):
        _, tie = a_tie(things[1], tag, piece=piece)
        phone.keep(("tie_tag", {**tie, "of": 2}))
    assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    (entry,) = phone.client.get("/queue", params={"words": lost}).json()["entries"]
    assert (entry["item_id"], entry["tags"]) == (things[1], sorted([first, second]))

    for tag in (first, second):
        phone.keep(
            ("remove_tag", {"item_id": things[1], "tag": tag, "why": "fallen-off", "replaced_by": None})
        )
    assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    assert ids_of(phone, only="untagged") == things
    assert ids_of(phone, words=lost) == [things[1]]


def ids_of(phone: Phone, **asked: Any) -> list[str]:
    return [entry["item_id"] for entry in phone.client.get("/queue", params=asked).json()["entries"]]


def test_what_an_authority_took_away_is_nobodys_work(phone: Phone, things: list[str]) -> None:
    """It has an end of its own: nobody cleared it, and nobody waits for that."""
    _, teapot, owl = things
    [raised] = [one for one in phone.record(owl)["fields"] if one.startswith("cautions/")]
    decision = a_decision(owl, raised.removeprefix("cautions/"), "taken-away", place="gone with the police")
    phone.keep(decision)
    phone.keep(a_caution(phone.ids, teapot))
    assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    page = queue(phone, counts=1)
    assert [entry["state"] for entry in page["entries"]] == ["waiting", "waiting", "taken-away"]
    assert page["counts"]["state"] == {"waiting": 2, "taken-away": 1, "": 3}
    assert ids_of(phone, only="stopped") == [teapot]
    assert ids_of(phone, words="taken away") == [owl]
    assert owl not in ids_of(phone, only="untagged")


def test_what_differed_at_check_in_and_pieces_apart_are_told_by_the_row(
    phone: Phone, day: dict[str, Any], things: list[str]
) -> None:
    """And what was noted of the damage finds it."""
    elephant, teapot, _ = things
    compared = {"item_id": elephant, "state": "differs", "words": "the scroll is broken", "second_by": "Bo"}
    phone.keep(("check_in", {**compared, "seen": None}))
    second = next(codes(9700))
    _, tie = a_tie(teapot, second, piece=2)
    phone.keep(("tie_tag", {**tie, "of": 2}))
    crate = phone.keep(a_crate(phone.ids, day["day_id"], next(codes(9800))))
    _, inside = put_in(teapot, crate["container_id"])
    phone.keep(("put_inside", {**inside, "tag": second}))
    assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    said = [(entry["differs"], entry["apart"]) for entry in queue(phone)["entries"]]
    assert said == [(True, False), (False, True), (False, False)]
    assert ids_of(phone, only="apart") == ids_of(phone, words="apart") == [teapot]
    assert ids_of(phone, words="scroll broken") == [elephant]
    assert queue(phone, counts=1)["counts"]["only"]["apart"] == 1


def test_what_stop_was_pressed_for_finds_a_thing_as_people_call_it(phone: Phone, things: list[str]) -> None:
    """Nobody has typed the word at the table: whoever presses Stop picks a sign."""
    phone.keep(a_caution(phone.ids, things[1], hazard="H02", sign="brass cases"))
    assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    assert ids_of(phone, words="bullets") == ids_of(phone, words="ammunition") == [things[1]]


def test_the_list_is_narrowed_to_a_day_where_there_are_several(
    manager: Phone, phone: Phone, day: dict[str, Any], things: list[str]
) -> None:
    assert queue(phone, counts=1)["counts"]["day_id"] == {}, "of one day nothing is to be chosen"
    _, another = a_day(manager.ids)
    manager.keep(("open_day", {**another, "held_on": "2026-03-15"}))
    visit = manager.keep(a_visit(manager.ids, another["day_id"], ticket="Q17"))
    later = str(manager.keep(an_item(manager.ids, visit))["item_id"])
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    page = queue(phone, counts=1, day_id=another["day_id"])
    assert [entry["item_id"] for entry in page["entries"]] == [later]
    assert page["counts"]["day_id"] == {"": 4, day["day_id"]: 3, another["day_id"]: 1}
    assert list(page["days"].values()) == ["2026-03-15", day["held_on"]]
    assert ids_of(phone, day_id=day["day_id"]) == things
    assert phone.client.get("/queue", params={"day_id": "any"}).status_code == 400


def test_items_stand_in_the_order_in_which_they_arrived(phone: Phone, things: list[str]) -> None:
    assert ids_of(phone) == things
    first = phone.client.get("/queue").json()["entries"][0]
    assert (first["ticket"], first["state"]) == ("Q17", "waiting")


@pytest.mark.parametrize(
    ("asked", "expected"),
    [
        ({"words": "eleph"}, [0]),
        ({"words": "TEAPOT china"}, [1]),
        ({"words": "7K3QW5"}, [1]),
        ({"words": "tongs"}, [1]),
        ({"words": "7K3-QW5"}, [1]),
        ({"class_id": "soft-toy"}, [0]),
        ({"state": "waiting"}, [0, 1, 2]),
        ({"state": "described"}, []),
        ({"words": "owl", "class_id": "ceramics"}, []),
        ({"words": "q17"}, [0, 1, 2]),
        ({"words": "gloamw"}, [0, 1, 2]),
        ({"words": "Äuda teapot"}, [1]),
        ({"words": "stopped"}, [2]),
        ({"only": "stopped"}, [2]),
        ({"only": "alone"}, [2]),
        ({"only": "untagged"}, [0, 2]),
        ({"worst": "3"}, [0]),
        ({"worst": "none"}, [1, 2]),
        ({"table_id": "t2"}, [0, 1, 2]),
        ({"table_id": "t1"}, []),
        ({"class_id": "soft-toy", "only": "untagged,unpictured"}, [0]),
    ],
)
def test_entries_are_found(
    phone: Phone, things: list[str], asked: dict[str, str], expected: list[int]
) -> None:
    assert ids_of(phone, **asked) == [things[place] for place in expected]


@pytest.mark.parametrize("state", ["differs", "not-here", "as-recorded"])
def test_what_differed_as_its_crate_was_opened_is_found(phone: Phone, things: list[str], state: str) -> None:
    compared = {"item_id": things[0], "state": state, "words": "", "second_by": "Ned", "seen": None}
    phone.keep(("check_in", compared))
    phone.push()
    assert ids_of(phone, only="differs") == ([] if state == "as-recorded" else [things[0]])


def test_what_two_people_compared_otherwise_is_found_until_it_is_settled(
    office: Office, phone: Phone, things: list[str]
) -> None:
    """The closing names it as new damage, whichever of the two holds for now."""
    compared = {"item_id": things[0], "words": "", "second_by": "Ned", "seen": None}
    phone.keep(("check_in", {**compared, "state": "as-recorded"}))
    phone.push()
    other = office.pair("porter")
    other.keep(("check_in", {**compared, "state": "differs", "words": "a new crack"}))
    other.push()
    assert ids_of(phone, only="differs") == [things[0]]


def test_pages_follow_each_other(phone: Phone, things: list[str]) -> None:
    page = phone.client.get("/queue", params={"limit": 2}).json()
    assert page["count"] == 3
    assert ids_of(phone, limit=2, after=page["next"]) == things[2:]


def test_picking_up_and_describing_moves_an_entry(office: Office, phone: Phone, things: list[str]) -> None:
    desk = office.pair("desk")
    picked = desk.keep(("set_entry", {"item_id": things[0], "state": "picked-up", "seen": None}))
    desk.keep(("set_entry", {"item_id": things[0], "state": "described", "seen": picked["operation_id"]}))
    desk.push()
    assert ids_of(phone, state="described") == [things[0]]
    assert ids_of(phone, state="waiting") == things[1:]
    assert office.faults() == []


def test_what_is_said_of_an_entry_after_it_was_described_brings_it_back_to_be_looked_at(
    office: Office, phone: Phone, things: list[str]
) -> None:
    desk = office.pair("desk")
    described = {"item_id": things[0], "state": "described"}
    first = desk.keep(("set_entry", {**described, "seen": None}))
    desk.keep(a_fact(things[0], "materials", "mohair"))  # whoever described it knows
    desk.push()
    assert ids_of(phone, only="changed") == []
    phone.keep(a_finding(phone.ids, things[0], "nose", severity=2))
    phone.push()
    assert ids_of(phone, only="changed") == [things[0]]
    [row] = [one for one in phone.client.get("/queue").json()["entries"] if one["item_id"] == things[0]]
    assert row["changed"] is True
    desk.keep(("set_entry", {**described, "seen": first["operation_id"]}))
    desk.push()
    assert ids_of(phone, only="changed") == []
    assert office.faults() == []


@pytest.mark.parametrize(
    "typed", ['"', '" OR marks:"', "AND", "NEAR(", "*", "words:", "(", "é 'x'", "-", "^a"]
)
def test_no_sign_in_a_search_is_read_as_syntax(phone: Phone, things: list[str], typed: str) -> None:
    assert phone.client.get("/queue", params={"words": typed}).status_code == 200


@pytest.mark.parametrize("class_id", ['"', "Soft Toy", "-"])
def test_what_is_no_class_finds_nothing_by_mistake(phone: Phone, things: list[str], class_id: str) -> None:
    """Not the items whose class nobody has said."""
    answer = phone.client.get("/queue", params={"class_id": class_id})
    assert (answer.status_code, answer.json()["code"]) == (400, "unreadable")


def queue(phone: Phone, **asked: Any) -> dict[str, Any]:
    answer: dict[str, Any] = phone.client.get("/queue", params=asked).json()
    return answer


def test_how_many_there_would_be_of_each_kind_is_said_with_a_page(phone: Phone, things: list[str]) -> None:
    """Of the group from which something is chosen the others are counted as if they were chosen in its place."""
    counts = queue(phone, counts=1, class_id="soft-toy")["counts"]
    assert counts["state"] == {"": 1, "waiting": 1}
    assert counts["class_id"] == {"": 3, "soft-toy": 1, "ceramics": 1, "free": 1}
    assert counts["worst"] == {"": 1, "3": 1}
    assert counts["table_id"] == {"": 1, "t2": 1}
    assert counts["only"] == {"untagged": 1, "unpictured": 1}
    assert queue(phone)["counts"] is None


def test_an_entry_s_edge_has_a_sign_for_each_zone_in_the_plan_s_order(
    office: Office, phone: Phone, things: list[str]
) -> None:
    entry = queue(phone)["entries"][0]
    plan = phone.client.get("/plans").json()["plans"]["soft-toy"]
    keys = [
        key
        for zone in plan["zones"]
        for key in (
            [f"{zone['zone']}/{member}" for member in zone["members"]]
            if isinstance(zone.get("members"), list) and zone["members"]
            else [zone["zone"]]
        )
    ]
    said = {"ears/proper-left": "c", "nose": "3"}
    assert entry["edge"] == "".join(said.get(key, ".") for key in keys)
    assert (entry["missing"], entry["worst"]) == (len(keys) - 2, 3)


def test_what_was_found_before_the_class_was_changed_stays_on_the_edge() -> None:
    """Common practice: a fault does not leave a thing that is called another class; what was clear says nothing."""
    plan = load_plans().plans["glass"]
    entry = with_edge(
        {"zones": {"spout": "2", "gilding": "c", "glaze": "c"}, "short_description": "jug"}, plan
    )
    keys = zone_keys(plan)
    assert entry["edge"] == "".join("c" if key == "gilding" else "." for key in keys) + "2"
    assert entry["missing"] == len(keys) - 1
    unplanned = with_edge({"zones": {"spout": "2"}, "short_description": ""}, None)
    assert (unplanned["edge"], unplanned["missing"]) == ("", None)


def test_of_what_a_page_shows_only_what_the_list_still_has_is_told(phone: Phone, things: list[str]) -> None:
    asked = {"items": ",".join(things[:2]), "class_id": "ceramics"}
    assert ids_of(phone, **asked) == [things[1]]
    assert phone.client.get("/queue", params={"items": "nothing"}).status_code == 400


def test_whose_words_are_erased_is_not_found_by_name(office: Office, phone: Phone, things: list[str]) -> None:
    visit_id = queue(phone)["entries"][0]["visit_id"]
    phone.keep(("erase_consignor", {"visit_id": visit_id}))
    phone.push()
    assert not phone.refused, phone.refused
    assert ids_of(phone, words="gloamwell") == []
    assert ids_of(phone, words="q17") == things, "a ticket is no word of hers"
    assert office.faults() == []


def test_an_entry_comes_with_all_that_its_screen_shows(
    office: Office, phone: Phone, things: list[str]
) -> None:
    desk = office.pair("desk")
    entry = desk.client.get(f"/entries/{things[1]}").json()
    assert [record["kind"] for record in entry["records"]] == ["item", "visit"]
    assert entry["records"][1]["fields"]["called"]["value"] == "Auda"
    assert "Gloamwell" not in str(entry), "an owner's words are asked for by themselves, which is noted"
    assert entry["people"] == {"hester": "Hester Quillfeather"}
    assert [other["item_id"] for other in entry["others"]] == [things[0], things[2]]
    assert entry["row"] == queue(phone)["entries"][1]
    assert entry["operations"][0]["operation"]["kind"] == "open_item"
    assert desk.client.get("/entries/00000000-0000-7000-8000-000000000000").status_code == 404
    assert office.pair("table").client.get(f"/entries/{things[1]}").status_code == 403


def test_an_owner_s_words_come_with_an_entry_for_whoever_asks_and_that_is_noted(
    office: Office, phone: Phone, things: list[str]
) -> None:
    desk = office.pair("desk")
    bare = desk.client.get(f"/entries/{things[1]}").json()
    assert bare["told"] is None
    assert phone.client.get("/readings").json()["readings"] == []
    told = desk.client.get(f"/entries/{things[1]}", params={"told": 1}).json()["told"]
    assert told["fields"]["consignor/name"]["value"] == "Gloamwell, Auda"
    assert told == desk.client.get(f"/records/{told['record_id']}").json()
    [note] = phone.client.get("/readings").json()["readings"]
    assert (note["what"], note["ticket"]) == ("visit", told["fields"]["ticket"]["value"])


def test_an_entry_says_where_the_office_stands_by_what_the_device_was_told(
    phone: Phone, office: Office, things: list[str]
) -> None:
    desk = office.pair("desk")
    stands = desk.client.get(f"/entries/{things[1]}").json()["office"]
    assert stands["office_seq"] == office.ask("SELECT max(office_seq) FROM operation_log")[0][0]
    again = desk.client.get(f"/entries/{things[1]}", params={"known_seq": stands["office_seq"]}).json()[
        "office"
    ]
    assert again["known_chain"] == stands["chain"]
    before = desk.client.get(f"/entries/{things[1]}", params={"known_seq": stands["office_seq"] + 1}).json()
    assert before["office"]["known_chain"] is None


@pytest.mark.parametrize("beside", [{"items": "1,2", "class_id": "ceramics"}, {"items": ""}, {"limit": 2}])
def test_beside_an_entry_the_list_is_told_as_by_itself(
    phone: Phone, things: list[str], beside: dict[str, Any]
) -> None:
    """A page on which both are open asks once."""
    asked = {**beside, "counts": 1}
    if beside.get("items"):
        asked["items"] = ",".join(things[:2])
    entry = phone.client.get(f"/entries/{things[1]}", params=asked).json()
    assert entry["list"] == queue(phone, **asked)
    assert phone.client.get(f"/entries/{things[1]}").json()["list"] is None


def test_an_entry_shows_the_gravest_caution_that_stands(phone: Phone, things: list[str]) -> None:
    """In whichever order they were raised."""
    raised = [
        phone.keep(a_caution(phone.ids, things[0], hazard=hazard, level=level))
        for hazard, level in (("H26", "amber"), ("H02", "red"), ("H26", "amber"))
    ]
    phone.push()
    assert queue(phone)["entries"][0]["caution"] == "red"
    phone.keep(a_decision(things[0], raised[1]["caution_id"], "cleared"))
    phone.push()
    assert queue(phone)["entries"][0]["caution"] == "amber"


PIECES = ("7K3QX3", "7K3QY1")
LOST, BACK = "parts_lost", "back_with_owner"


@pytest.mark.parametrize(
    ("moves", "refused"),
    [
        pytest.param([("van", PIECES[0])], LOST, id="one piece moved by itself"),
        pytest.param([("van", None)], None, id="the whole moved"),
        pytest.param([("returned", None)], BACK, id="the whole went back"),
        pytest.param([("returned", tag) for tag in PIECES], BACK, id="each went back by itself"),
        pytest.param([("returned", None), ("table", None)], None, id="it was brought again"),
        pytest.param([("van", PIECES[0]), ("van", PIECES[1])], None, id="each moved to the same place"),
        pytest.param([("returned", PIECES[1])], LOST, id="one went back to its owner"),
        pytest.param(
            [("isolation", PIECES[0]), ("returned", PIECES[1])], LOST, id="one is held apart, one went back"
        ),
    ],
)
async def test_that_of_which_a_piece_is_lost_is_not_described(
    door: Door, moves: list[tuple[str, str | None]], refused: str | None
) -> None:
    """Two pieces with a tag each."""
    item_id = await of_two_pieces(door)
    for place, tag in moves:
        await door.keep(a_move(door.ids, item_id, place, tag=tag))
    await check_described(door, item_id, refused)


@pytest.mark.parametrize(
    ("boxes", "places", "refused"),
    [
        pytest.param([0, None], ["store"], LOST, id="one was left at the table"),
        pytest.param([0, 1], ["store"], LOST, id="one of two boxes has not come"),
        pytest.param([0, 1], ["store", "store"], None, id="two boxes in one place"),
        pytest.param([0, 0], ["store"], None, id="both in one box"),
        pytest.param([0, 1], ["store", "van", "returned"], BACK, id="all of it went back out of its boxes"),
    ],
)
async def test_pieces_in_boxes_are_where_their_boxes_are(
    door: Door, boxes: list[int | None], places: list[str], refused: str | None
) -> None:
    """A piece that is in a box of its own is there, wherever the whole was said to be before. `places` are those to
    which the first box, the second and the thing itself are moved."""
    item_id = await of_two_pieces(door)
    day_id = (await door.record(item_id))["day_id"]
    crates = [await door.keep(a_crate(door.ids, day_id, number)) for number in NUMBERS]
    for piece, box in zip(PIECES, boxes, strict=True):
        if box is not None:
            kind, body = put_in(item_id, crates[box]["container_id"])
            await door.keep((kind, {**body, "tag": piece}))
    things = [*(crate["container_id"] for crate in crates), item_id]
    for thing_id, place in zip(things, places, strict=False):
        await door.keep(a_move(door.ids, thing_id, place))
    await check_described(door, item_id, refused)


async def of_two_pieces(door: Door) -> str:
    item_id = str((await door.item())["item_id"])
    for piece, tag in enumerate(PIECES, 1):
        kind, body = a_tie(item_id, tag, piece=piece)
        await door.keep((kind, {**body, "of": 2}))
    return item_id


async def check_described(door: Door, item_id: str, refused: str | None) -> None:
    described = ("set_entry", {"item_id": item_id, "state": "described", "reason": "no time", "seen": None})
    if refused:
        assert await door.refused(described) == refused
    else:
        await door.keep(described)


@pytest.mark.parametrize("state", ["picked-up", "described"])
async def test_nobody_goes_on_with_a_record_that_stands_behind_another(door: Door, state: str) -> None:
    """Whoever had picked it up before can let go of it."""
    front, behind = await two_items(door)
    entry = {"item_id": behind, "seen": None}
    picked = await door.keep(("set_entry", {**entry, "state": "picked-up"}))
    await door.keep(merged(behind, front))
    entry["seen"] = picked["operation_id"]
    assert await door.refused(("set_entry", {**entry, "state": state})) == "stands_behind"
    await door.keep(("set_entry", {**entry, "state": "waiting"}))


async def test_what_went_back_waits_for_nobody_and_is_shown_by_itself(door: Door) -> None:
    """Whatever the desk had made of it; brought again, it stands where it stood."""
    untagged, of_two = str((await door.item())["item_id"]), await of_two_pieces(door)
    await door.keep(("set_entry", {"item_id": of_two, "state": "picked-up", "seen": None}))
    assert await states(door) == {"": 2, "waiting": 1, "picked-up": 1}
    await door.keep(a_move(door.ids, untagged, "returned"))
    await door.keep(a_move(door.ids, of_two, "returned", tag=PIECES[0]))
    assert await states(door) == {"": 2, "picked-up": 1, "returned": 1}, "one piece is still here"
    await door.keep(a_move(door.ids, of_two, "returned", tag=PIECES[1]))
    assert await states(door) == {"": 2, "returned": 2}
    await door.keep(a_move(door.ids, of_two, "table", from_place="returned"))
    assert await states(door) == {"": 2, "picked-up": 1, "returned": 1}
    assert await door.faults() == []


async def test_what_is_stopped_after_it_was_described_is_not_shown_as_described(door: Door) -> None:
    """It waits for whoever decides; once they have cleared it, it is what the desk had made of it."""
    item_id = str((await door.item())["item_id"])
    await door.keep(("set_entry", {"item_id": item_id, "state": "described", "seen": None}))
    raised = a_caution(door.ids, item_id)
    await door.keep(raised)
    assert await states(door) == {"": 1, "waiting": 1}
    await door.keep(a_decision(item_id, raised[1]["caution_id"], "cleared"))
    assert await states(door) == {"": 1, "described": 1}


async def states(door: Door) -> dict[str, int]:
    """How many the list says there are of each state."""
    return await door.database.read(lambda tx: Search(tx, Asked()).counts()["state"])


def test_why_a_thing_counts_as_described_stands_on_record(phone: Phone, things: list[str]) -> None:
    phone.keep(
        ("set_entry", {"item_id": things[1], "state": "described", "reason": "sold as seen", "seen": None})
    )
    phone.keep(("set_entry", {"item_id": things[0], "state": "described", "seen": None}))
    phone.push()
    assert phone.record(things[1])["fields"]["entry"]["value"]["reason"] == "sold as seen"
    assert phone.record(things[0])["fields"]["entry"]["value"] == {"state": "described"}


def test_who_may_sit_at_a_desk_is_said_by_every_day_s_list(office: Office, phone: Phone) -> None:
    """And what they make on a thing of another day is taken: the day was over before they began."""
    people = [{"person_id": "ivo", "name": "Ivo Penmarsh", "roles": ["cataloguer"]}]
    people += [{"person_id": "otis", "name": "Otis Cratehope", "roles": ["porter"]}]
    kind, body = a_day(phone.ids)
    phone.keep((kind, {**body, "people": people}))
    day = phone.keep(a_day(phone.ids))
    item = phone.keep(an_item(phone.ids, phone.keep(a_visit(phone.ids, day["day_id"]))))
    phone.push()
    desk = office.pair("desk")
    names = [person["name"] for person in desk.client.get("/people").json()["people"]]
    assert names == ["Hester Quillfeather", "Ivo Penmarsh"]
    at_managers = [person["name"] for person in phone.client.get("/people").json()["people"]]
    assert at_managers == [*names, "Otis Cratehope"], "what comes from there is taken whatever the hat"
    desk.keep(("set_entry", {"item_id": item["item_id"], "state": "picked-up", "seen": None}), made_by="ivo")
    desk.keep(a_fact(item["item_id"], "heading", "An owl"), made_by="nobody-known")
    desk.push()
    assert [one["answer"]["problem"]["code"] for one in desk.refused] == ["person_not_on_day"]
    entry = desk.client.get(f"/entries/{item['item_id']}").json()
    assert entry["people"]["ivo"] == "Ivo Penmarsh"


def test_a_history_can_name_each_container_that_a_thing_was_ever_in(
    office: Office, phone: Phone, day: dict[str, Any], things: list[str]
) -> None:
    first, second = (
        phone.keep(a_crate(phone.ids, day["day_id"], number))["container_id"]
        for number in islice(codes(9900), 2)
    )
    phone.keep(put_in(things[1], first))
    phone.push()
    before = phone.record(things[1])["fields"]["inside"]["operation_id"]
    phone.keep(put_in(things[1], second, seen=before))
    assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    records = office.pair("desk").client.get(f"/entries/{things[1]}").json()["records"]
    assert {first, second} <= {record["record_id"] for record in records}


def test_the_marks_in_the_news_say_which_things_a_narrowed_list_has(
    phone: Phone, things: list[str], tmp_path: Path
) -> None:
    """So a desk asks for no row that its list has not; an owner's words are no part of the news."""
    phone.keep(("set_entry", {"item_id": things[0], "state": "picked-up", "seen": None}))
    phone.push()
    with phone.client.stream("GET", "/sync/events", headers={"Last-Event-ID": "0"}) as stream:
        news = next(line for line in stream.iter_lines() if '"changed"' in line)
    assert "gloamwell" not in news.casefold()
    changed = json.loads(news.removeprefix("data: "))["changed"]
    marks = {record_id: marks for record_id, kind, _, _, marks, _ in changed if kind == "item"}
    assert set(marks) == set(things)
    nothing = dict.fromkeys(("words", "state", "class_id", "table_id", "worst", "only"), "")
    states = [{"state": state} for state in LIST_STATES]
    worst = [{"worst": severity} for severity in SEVERITIES]
    only = [{"only": kind} for kind in (*KINDS_OF_TROUBLE, "untagged,unpictured")]
    classes = [{"class_id": class_id} for class_id in ("ceramics", "glass", "none")]
    asked = [{**nothing, **narrowed} for narrowed in (*states, *worst, *only, *classes, {"table_id": "none"})]
    given = [{"asked": one, "marks": marks[item_id]} for one in asked for item_id in things]
    fits = iter(said_by_app("fits_here.js", given, tmp_path / "given.json"))
    for one in asked:
        listed = {row["item_id"] for row in queue(phone, **one)["entries"]}
        assert {item_id for item_id in things if next(fits)} == listed, one


def test_in_the_place_of_what_left_a_page_comes_what_is_behind_it(phone: Phone, things: list[str]) -> None:
    def asked(**more: str) -> dict[str, Any]:
        page: dict[str, Any] = phone.client.get("/queue", params={"state": "waiting", **more}).json()
        return page

    first, *others = asked()["entries"]
    gone = {"items": things[0], "after": str(first["entry_seq"])}
    assert asked(**gone, fill="1")["filled"] is None, "nothing left it"
    phone.push()
    phone.outbox = []
    phone.keep(("set_entry", {"item_id": things[0], "state": "described", "reason": "", "seen": None}))
    assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    after, behind = first["entry_seq"], others[0]["entry_seq"]
    assert asked(**gone)["filled"] is None, "a page that is not full asks for nothing more"
    assert asked(**gone, fill="1")["filled"] == {"after": after, "entries": others[:1], "next": behind}
    assert asked(**{**gone, "after": str(others[-1]["entry_seq"])}, fill="1")["filled"]["next"] is None


def test_what_an_amber_caution_holds_apart_is_described_once_somebody_cleared_it(
    phone: Phone, things: list[str]
) -> None:
    raised = phone.keep(a_caution(phone.ids, things[0], hazard="H26", level="amber"))
    described = {"item_id": things[0], "state": "described", "reason": "Sold as seen", "seen": None}
    seen = None
    for decision in ("isolated", "cleared"):
        phone.keep(("set_entry", described))
        assert phone.push()[-1]["problem"]["code"] == "not_cleared"
        decided = phone.keep(a_decision(things[0], raised["caution_id"], decision, seen=seen))
        seen = decided["operation_id"]
        assert phone.push()[-1]["outcome"] == "kept"
    phone.keep(("set_entry", described))
    assert phone.push()[-1]["outcome"] == "kept"


async def test_what_is_only_noted_of_a_thing_leaves_it_to_be_described(door: Door) -> None:
    """An amber caution holds it apart until somebody cleared it; a note is there to be read."""
    item_id = (await door.item())["item_id"]
    await door.keep(a_caution(door.ids, item_id, hazard="H54", level="note"))
    described = {"item_id": item_id, "state": "described", "reason": "Sold as seen", "seen": None}
    await door.keep(("set_entry", described))
    await door.keep(a_caution(door.ids, item_id, hazard="H54", level="amber"))
    assert await door.refused(("set_entry", described)) == "not_cleared"
