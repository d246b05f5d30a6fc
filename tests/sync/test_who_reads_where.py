"""Which address tells whom what: each is asked over HTTP by a device of every role and in every state, with a marker
wherever something stands that not everyone reads."""

from __future__ import annotations

import json
import random
import sqlite3
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from dataclasses import dataclass
from datetime import timedelta
from itertools import islice
from typing import Any

import httpx
import pytest

from intake.access.readings import MOST_MOVES, ONE_READING
from intake.operation import KINDS
from intake.reading import AFTERWARDS
from intake.settings import Settings
from intake.tagging.tags import codes
from tests.builders import (
    Ids,
    a_consignor,
    a_crate,
    a_day,
    a_fact,
    a_photo,
    a_settlement,
    a_visit,
    an_item,
    digest,
    picture,
    put_in,
)
from tests.closings import close_with_all
from tests.conftest import Clock, Office, running
from tests.phone import Phone
from tests.sync.any_operation import AnyOperation
from tests.sync.planted import Planted, a_return, set_visit

CONTACTS = {"Marker-Name", "marker-telephone"}
OWNER = CONTACTS | {f"marker-{word}" for word in ("kinds", "needs", "note", "contested", "why")}
CALLED, TOLD, ELSEWHERE = {"Given"}, {"marker-told", "marker-finding", "marker-handed"}, {"marker-elsewhere"}
SIGNED = {"marker-signed", "marker-house", "marker-pad"}
ALL = OWNER | CALLED | TOLD | SIGNED | ELSEWHERE


@dataclass(frozen=True)
class Reads:
    """What a device hears of at all, and what of that never in a list."""

    role: str
    hears: frozenset[str]
    never_in_a_list: frozenset[str] = frozenset(SIGNED)
    table: str = ""


#: Who hears what, by the sentences of the house's rule.
WHO = {
    "a door: its day's visits": Reads("door", frozenset(OWNER | CALLED | TOLD | SIGNED)),
    "a table, of an owner elsewhere: ticket and first name": Reads("table", frozenset(CALLED)),
    "a table, of the owner at it now": Reads(
        "table", frozenset(OWNER | CALLED | TOLD | SIGNED), table="seat 1"
    ),
    "a porter: no owner, and not what was told": Reads("porter", frozenset()),
    "a desk: all, an owner only by asking for that visit": Reads(
        "desk", frozenset(ALL), frozenset(OWNER | SIGNED | TOLD)
    ),
    "a manager: all": Reads("manager", frozenset(ALL)),
}
#: Addresses that tell of many things at once.
LISTS = (
    "/sync/feed",
    "/queue",
    "/settlements?",
    "/closing",
    "/days",
    "/people",
    "/devices",
    "/readings",
    "/copies",
)


def markers_in(text: str) -> set[str]:
    return {marker for marker in ALL if marker in text}


def is_list(address: str) -> bool:
    return address.startswith(LISTS) or address == "/settlements"


def at_work(office: Office, planted: Planted, role: str, table: str = "") -> httpx.Client:
    """A device of that role which has said where it works."""
    client = office.pair(role).client
    client.get("/sync/feed", params={"day_id": planted.day_id, "table_id": table}).raise_for_status()
    return client


@pytest.fixture
def planted(office: Office, manager: Phone, day: dict[str, Any]) -> Planted:
    return Planted(office, manager, day)


def bring_to_table(planted: Planted, manager: Phone) -> None:
    manager.keep(set_visit(planted.visit_id, "table_id", "seat 1"))
    opened = manager.record(planted.visit_id)["fields"]["stage"]["operation_id"]
    manager.keep(set_visit(planted.visit_id, "stage", "at-table", opened))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}


@pytest.mark.parametrize("who", WHO)
def test_a_device_hears_what_it_may_and_nothing_else(
    who: str, office: Office, manager: Phone, planted: Planted
) -> None:
    reads = WHO[who]
    bring_to_table(planted, manager)
    client = at_work(office, planted, reads.role, reads.table)
    texts = planted.asked(client, reads.table)
    assert {marker for text in texts.values() for marker in markers_in(text)} == reads.hears
    for address, text in texts.items():
        if is_list(address):
            assert not markers_in(text) & reads.never_in_a_list, address
    reads_all = reads.role in ("desk", "manager")
    assert bool(texts[f"/photos/{planted.far}"]) == reads_all
    assert bool(texts[f"/records/{planted.elsewhere_id}"]) == reads_all
    assert bool(texts[f"/photos/{planted.withdrawn}"]) == reads_all
    assert bool(texts[f"/photos/{planted.bag}"]) == (reads_all or reads.hears >= OWNER)
    assert any(planted.bag in text for text in texts.values()) == (reads_all or reads.hears >= OWNER)
    for own in (f"/photos/{planted.photo}", f"/photos/{planted.thumb}", f"/records/{planted.item_id}"):
        assert texts[own], own
    assert texts[f"/tags/{planted.tag}"], "a tag is looked up by whoever finds it"


def test_whatever_tells_a_desk_of_an_owner_s_contacts_is_noted(
    office: Office, manager: Phone, planted: Planted
) -> None:
    """Each such address is asked by a desk of its own, so that no note of another stands for it. Why a value of an
    owner's holds may name them as well, and so does who took a thing back; on a picture of a visit stands a letter."""
    first = at_work(office, planted, "desk")
    told = [
        address
        for address, text in planted.asked(first).items()
        if markers_in(text) & (CONTACTS | SIGNED | {"marker-why", "marker-handed"})
    ]
    assert len(told) == 5, told
    told += [f"/photos/{planted.bag}", f"/photos/{planted.bag}/large"]
    for number, address in enumerate(told):
        office.pair("desk", f"Desk {number}").client.get(address).raise_for_status()
        noted = {note["device_name"] for note in manager.client.get("/readings").json()["readings"]}
        assert f"Desk {number}" in noted, address


def test_no_browser_keeps_a_picture_of_a_visit(office: Office, manager: Phone, planted: Planted) -> None:
    """An owner may go to another table, or be erased. Source: RFC 9111, 5.2.2.5: nothing stores such an answer."""
    door = at_work(office, planted, "door")
    for sha256, kept in ((planted.photo, "private, no-cache"), (planted.bag, "no-store")):
        for path in (f"/photos/{sha256}", f"/photos/{sha256}/large"):
            assert door.get(path).raise_for_status().headers["cache-control"] == kept


@pytest.mark.parametrize("role", ["door", "table", "porter", "desk"])
def test_whoever_hands_in_is_told_nothing_of_an_owner(
    role: str, office: Office, manager: Phone, planted: Planted
) -> None:
    """Operations of every kind, mostly refused or contested: an answer is no reading, so nobody notes it."""
    device = office.pair(role)
    made = AnyOperation(random.Random(20260314), device.ids, device.device_id)
    of = {"day_id": planted.day_id, "visit_id": planted.visit_id, "item_id": planted.item_id}
    for kind in ("open_day", "open_visit", "open_item") * 3:
        made.learn({"kind": kind, **of}, disagreement=False)
    outcomes = set()
    for _ in range(6):
        sent = [made.make(kind) for kind in sorted(KINDS)]
        answer = device.client.post("/sync/operations", json={"operations": sent})
        outcomes |= {one["outcome"] for one in answer.raise_for_status().json()["answers"]}
        assert not markers_in(answer.text)
    assert outcomes >= {"kept", "refused"}
    assert "marker-telephone" in manager.client.get(f"/records/{planted.visit_id}").text, "it is still there"


def test_who_has_left_a_table_is_called_by_the_first_name_there(
    office: Office, manager: Phone, planted: Planted
) -> None:
    bring_to_table(planted, manager)
    client = at_work(office, planted, "table", "seat 1")
    stage = manager.record(planted.visit_id)["fields"]["stage"]["operation_id"]
    manager.keep(set_visit(planted.visit_id, "stage", "left", stage))
    manager.push()
    texts = planted.asked(client, "seat 1")
    assert {marker for text in texts.values() for marker in markers_in(text)} == CALLED


def test_what_was_told_of_a_thing_comes_to_its_table_with_the_owner_and_leaves_with_them(
    office: Office, manager: Phone, planted: Planted
) -> None:
    """The thing comes again at every table, unchanged but for that; at the same place for all others."""
    devices = {seat: at_work(office, planted, "table", seat) for seat in ("seat 1", "seat 2")}
    cursors = dict.fromkeys(devices, 0)

    def hears(seat: str) -> dict[str, Any]:
        """What the device hears of the thing that it has not heard; nothing, or with or without what was told."""
        params: dict[str, str | int] = {"day_id": planted.day_id, "table_id": seat, "after": cursors[seat]}
        page = devices[seat].get("/sync/feed", params=params).raise_for_status().json()
        cursors[seat] = page["cursor"]
        asked = devices[seat].get(f"/records/{planted.item_id}").json()
        history = devices[seat].get(f"/records/{planted.item_id}/history").text
        assert ('"field":"told_words"' in history) == ("told_words" in asked["fields"])
        found = [one for one in page["records"] if one["record_id"] == planted.item_id]
        assert found in ([], [asked])
        return {
            name: one["fields"].get(name) is not None
            for one in found
            for name in ("told_words", "tags/7K3QW5")
        }

    def seen_by(field: str) -> str:
        return str(manager.record(planted.visit_id)["fields"][field]["operation_id"])

    away, here = {"told_words": False}, {"told_words": True}
    tagged = {"tags/7K3QW5": hears("seat 1")["tags/7K3QW5"]}
    away, here = away | tagged, here | tagged
    assert hears("seat 2") == away
    bring_to_table(planted, manager)
    assert (hears("seat 1"), hears("seat 2")) == (here, away)
    assert (hears("seat 1"), hears("seat 2")) == ({}, {})
    manager.keep(set_visit(planted.visit_id, "table_id", "seat 2", seen_by("table_id")))
    manager.push()
    assert (hears("seat 1"), hears("seat 2")) == (away, here)
    manager.keep(set_visit(planted.visit_id, "private", "yes"))
    manager.push()
    assert (hears("seat 1"), hears("seat 2")) == ({}, {}), "of what says nothing of who reads it"
    manager.keep(set_visit(planted.visit_id, "stage", "left", seen_by("stage")))
    manager.push()
    assert (hears("seat 1"), hears("seat 2")) == (away, away)


#: What anybody is told, paired or not: nothing that was recorded.
OPEN = ("/health", "/openapi.json", "/problems/refused")


def nobody(office: Office, manager: Phone, planted: Planted) -> httpx.Client:
    return office.client()


def signed_off(office: Office, manager: Phone, planted: Planted) -> httpx.Client:
    device = office.pair("manager", "Second manager")
    device.client.get(f"/records/{planted.visit_id}").raise_for_status()
    manager.client.post(f"/devices/{device.device_id}/revoke").raise_for_status()
    return device.client


def signed_off_by_itself(office: Office, manager: Phone, planted: Planted) -> httpx.Client:
    device = office.pair("manager", "Second manager")
    device.client.post(f"/devices/{device.device_id}/revoke").raise_for_status()
    return device.client


def with_its_cookie_of_before(office: Office, manager: Phone, planted: Planted) -> httpx.Client:
    """Whoever copied a manager's cookie before that device became a porter's."""
    device = office.pair("manager", "Second manager")
    thief = office.client()
    thief.cookies.update(device.client.cookies)
    thief.get(f"/records/{planted.visit_id}").raise_for_status()
    again = {"code": office.code("porter", "Porter 1"), "device_id": device.device_id}
    device.client.post("/pairing", json=again).raise_for_status()
    return thief


@pytest.mark.parametrize("state", [nobody, signed_off, signed_off_by_itself, with_its_cookie_of_before])
def test_who_may_ask_nothing_hears_nothing(
    state: Any, office: Office, manager: Phone, planted: Planted
) -> None:
    client = state(office, manager, planted)
    off = state in (signed_off, signed_off_by_itself)
    still_told = ("/sync/standing", "/sync/erasures") if off else ()
    for address in [*planted.addresses(client), "/labels.pdf", "/labels/calibration.pdf", "/sync/events"]:
        answer = client.get(address)
        assert answer.is_success == (address in OPEN + still_told), address
        assert not markers_in(answer.text), address
        assert planted.visit_id not in answer.text, address
    paths = client.get("/openapi.json").json()["paths"]
    for path, methods in paths.items():
        for method in set(methods) - {"get"}:
            address = path.replace("{sha256}", planted.photo).replace("{device_id}", manager.device_id)
            answer = client.request(method, address, content=b"" if method == "head" else b"{}")
            told = ("/pairing", "/sync/photos", "/sync/forget")
            assert answer.status_code in (401, 403, 422) or address in told, (
                method,
                address,
            )
            assert not markers_in(answer.text), address
    if not off:
        assert client.post("/sync/photos", json={"sha256": [planted.photo]}).status_code in (401, 403)


def test_a_manager_s_device_that_became_a_porter_s_reads_as_a_porter_at_once(
    office: Office, manager: Phone, planted: Planted
) -> None:
    device = office.pair("manager", "Second manager")
    assert markers_in(device.client.get(f"/records/{planted.visit_id}").text) >= OWNER
    again = {"code": office.code("porter", "Porter 1"), "device_id": device.device_id}
    device.client.post("/pairing", json=again).raise_for_status()
    device.client.get("/sync/feed", params={"day_id": planted.day_id}).raise_for_status()
    texts = planted.asked(device.client)
    assert not {marker for text in texts.values() for marker in markers_in(text)}
    assert texts[f"/records/{planted.visit_id}"]


@pytest.mark.parametrize("role", ["door", "table", "porter", "desk", "manager"])
def test_a_day_that_is_over_is_told_to_the_office_alone(
    role: str, office: Office, clock: Clock, manager: Phone, planted: Planted
) -> None:
    client = at_work(office, planted, role)
    close_with_all(manager, planted.day_id)
    clock.now += AFTERWARDS + timedelta(seconds=1)
    texts = planted.asked(client)
    heard = {marker for text in texts.values() for marker in markers_in(text)}
    if role in ("desk", "manager"):
        assert heard == ALL
        assert texts[f"/days/{planted.day_id}/closing"]
    else:
        assert heard == set()
        assert not any(texts[f"/photos/{sha256}"] for sha256 in (planted.photo, planted.thumb))
        assert not any(planted.item_id in text for text in texts.values())


def test_a_device_that_was_signed_off_hears_which_of_its_days_are_settled(
    office: Office, clock: Clock, manager: Phone, planted: Planted
) -> None:
    """With no second place it keeps what it sent until then. Source of the 30 days: the operations' own rule."""
    door = office.pair("door")
    manager.client.post(f"/devices/{door.device_id}/revoke").raise_for_status()
    close_with_all(manager, planted.day_id)
    days = {"days": f"{planted.far_day_id},{planted.day_id}"}
    clock.now += timedelta(days=30) - timedelta(seconds=1)
    assert door.client.get("/sync/standing", params=days).json()["settled"] == []
    clock.now += timedelta(seconds=2)
    told = door.client.get("/sync/standing", params=days).json()
    assert told["settled"] == [planted.day_id]
    assert told["office"]["safe_seq"] is None
    assert door.client.get("/sync/standing").json()["settled"] == []


@pytest.mark.parametrize("role", ["door", "table", "desk", "manager"])
def test_words_that_were_erased_are_told_to_nobody(
    role: str, office: Office, manager: Phone, planted: Planted
) -> None:
    bring_to_table(planted, manager)
    manager.keep(("erase_consignor", {"visit_id": planted.visit_id}))
    assert manager.push()[0]["outcome"] == "kept"
    client = at_work(office, planted, role, "seat 1")
    texts = planted.asked(client, "seat 1")
    heard = {marker for text in texts.values() for marker in markers_in(text)}
    assert heard == (ELSEWHERE if role in ("desk", "manager") else set())


def test_the_news_of_a_device_that_was_signed_off_end(
    office: Office, manager: Phone, planted: Planted
) -> None:
    """A stream is one request, which may last for hours."""
    desk = office.pair("desk", "Desk 1")
    with desk.client.stream("GET", "/sync/events") as news:
        lines = news.iter_lines()
        next(lines)
        manager.client.post(f"/devices/{desk.device_id}/revoke").raise_for_status()
        manager.keep(a_visit(manager.ids, planted.day_id, ticket="Q77"))
        manager.push()
        assert len(list(islice(lines, 20))) < 20, "it goes on"


@pytest.mark.parametrize("role", ["door", "table", "porter"])
def test_the_news_tell_the_hall_nothing_but_that_there_are_some(
    role: str, office: Office, manager: Phone, planted: Planted
) -> None:
    with office.pair(role).client.stream("GET", "/sync/events") as news:
        lines = news.iter_lines()
        first = next(lines)
        visit = manager.keep(a_visit(manager.ids, planted.day_id, ticket="Q77"))
        manager.push()
        told = [first, *islice(lines, 5)]
        assert visit["visit_id"] not in " ".join(told)
        assert not markers_in(" ".join(told))


#: What is opened by the roles named alone, whatever there would be to tell.
OPENED_BY = {
    "/devices": {"manager"},
    "/readings": {"manager"},
    "/preflight": {"manager"},
    "/hall": {"manager"},
    "/copies": {"desk", "manager"},
    "/queue": {"desk", "manager"},
    "/settlements": {"desk", "manager"},
    "/days": {"desk", "manager"},
    "/people": {"desk", "manager"},
    "/closing": {"porter", "desk", "manager"},
}


@pytest.mark.parametrize("role", ["door", "table", "porter", "desk", "manager"])
def test_an_address_opens_to_its_roles_alone(role: str, office: Office, day: dict[str, Any]) -> None:
    client = office.pair(role).client
    opened = {path for path in OPENED_BY if client.get(path).status_code != 403}
    assert opened == {path for path, roles in OPENED_BY.items() if role in roles}


def photos_told(client: httpx.Client, sha256: str, length: int) -> list[Any]:
    """All that a device hears of a photo at the addresses that say whether there is one."""
    head = client.head(f"/photos/{sha256}")
    sent = {"Upload-Offset": "0", "Upload-Length": str(length)}
    begun = client.patch(f"/photos/{sha256}", content=b"", headers=sent)
    asked = client.post("/sync/photos", json={"sha256": [sha256]}).json()
    seen = [client.get(f"/photos/{sha256}{path}", headers={"If-None-Match": "*"}) for path in ("", "/large")]
    uploads = [
        {name: value for name, value in answer.headers.items() if name.startswith("upload-")}
        for answer in (head, begun)
    ]
    return [head.status_code, begun.status_code, uploads, asked, [answer.status_code for answer in seen]]


@pytest.mark.parametrize("role", ["door", "table", "porter"])
def test_whether_there_is_a_photo_is_told_to_who_reads_it_or_sent_it(
    role: str, office: Office, manager: Phone, planted: Planted
) -> None:
    far, none = picture(3), picture(33)
    client = at_work(office, planted, role)
    told = photos_told(client, planted.far, len(far))
    assert told == photos_told(client, digest(none), len(far)), "as of one that is not here"
    assert told[:2] == [404, 204]
    assert told[3] == {"here": [], "copied": []}
    assert photos_told(client, planted.photo, len(picture(1)))[0] == 200
    sent = {"Upload-Offset": "0", "Upload-Length": str(len(far))}
    whole = client.patch(f"/photos/{planted.far}", content=far, headers=sent)
    assert whole.headers["Upload-Complete"] == "?1", "who has the bytes may hand them in"
    assert client.head(f"/photos/{planted.far}").headers["Upload-Complete"] == "?1"
    assert client.post("/sync/photos", json={"sha256": [planted.far]}).json()["here"] == [planted.far]
    assert client.get(f"/photos/{planted.far}").status_code == 404, "and reads it no more than before"
    assert office.faults() == []


@pytest.mark.parametrize("role", ["door", "table", "porter"])
def test_whoever_names_a_digest_of_another_day_reads_no_more_for_it(
    role: str, office: Office, manager: Phone, clock: Clock, planted: Planted
) -> None:
    """A digest is no secret: whoever worked on a day has read those of that day."""
    device = office.pair(role)

    def seen(sha256: str) -> list[int]:
        whole, large = (device.client.get(f"/photos/{sha256}{path}") for path in ("", "/large"))
        return [whole.status_code, large.status_code, device.client.head(f"/photos/{sha256}").status_code]

    device.client.get("/sync/feed", params={"day_id": planted.day_id}).raise_for_status()
    assert seen(planted.photo) == [200, 200, 200]
    close_with_all(manager, planted.day_id)
    clock.now += AFTERWARDS + timedelta(seconds=1)
    device.client.get("/sync/feed", params={"day_id": planted.far_day_id}).raise_for_status()
    kind, body = a_photo(device.ids, planted.elsewhere_id, picture(1), picture(34, size=(60, 40)))
    device.keep((kind, body))
    other = {"photo_id": device.ids.id(), "sha256": digest(picture(35)), "thumb_sha256": planted.thumb}
    device.keep((kind, {**body, **other}))
    assert {one["outcome"] for one in device.push()} == {"kept"}
    none = photos_told(device.client, digest(picture(36)), len(picture(1)))
    for sha256 in (planted.photo, planted.thumb):
        assert seen(sha256) == [404, 404, 404]
        assert photos_told(device.client, sha256, len(picture(1))) == none
    manager.client.post(f"/devices/{device.device_id}/revoke").raise_for_status()
    asked = {"sha256": [planted.photo, planted.thumb]}
    assert device.client.post("/sync/photos", json=asked).json()["here"] == []


def test_a_picture_with_no_sender_is_read_where_it_was_named_first(
    office: Office, manager: Phone, planted: Planted
) -> None:
    """Versions of before noted none, and a restored copy has none."""
    table = at_work(office, planted, "table")
    office.change("DELETE FROM photo_from")
    manager.keep(a_photo(manager.ids, planted.item_id, picture(3), picture(34, size=(60, 40))))
    assert {one["outcome"] for one in manager.push()} == {"kept"}
    assert [table.get(f"/photos/{one}").status_code for one in (planted.photo, planted.far)] == [200, 404]
    manager.bundle([picture(3)], operations=[]).raise_for_status()
    assert table.get(f"/photos/{planted.far}").status_code == 200, "who named it there has it"


def test_who_is_the_first_to_name_another_s_picture_reads_no_more_for_it(
    office: Office, manager: Phone, planted: Planted
) -> None:
    """A picture may be told of where no thing's record names it, as beside a difference of a closing."""
    desk, porter = office.pair("desk"), office.pair("porter")
    desk.bundle([picture(40)], operations=[]).raise_for_status()
    porter.client.get("/sync/feed", params={"day_id": planted.day_id}).raise_for_status()
    porter.keep(a_photo(porter.ids, planted.item_id, picture(40), picture(41, size=(60, 40))))
    assert porter.push()[0]["outcome"] == "kept"
    path, asked = f"/photos/{digest(picture(40))}", {"sha256": [digest(picture(40))]}
    assert porter.client.get(path).status_code == 404
    assert porter.client.post("/sync/photos", json=asked).json()["here"] == []
    desk.keep(a_photo(desk.ids, planted.item_id, picture(40), picture(41, size=(60, 40))))
    assert desk.push()[0]["outcome"] == "kept"
    assert porter.client.get(path).status_code == 200, "whose picture it is says where it is from"


def test_a_device_hears_of_its_own_photos_whatever_it_reads_by_now(
    office: Office, manager: Phone, clock: Clock, planted: Planted, item: dict[str, Any]
) -> None:
    """What it sent, and what an earlier version took in that noted no sender: it waits to let go of it."""
    table = office.pair("table")
    loose, named, thumb = picture(7), picture(8), picture(9, size=(60, 40))
    table.keep(a_photo(table.ids, planted.item_id, named, thumb))
    assert {one["outcome"] for one in table.push()} == {"kept"}
    table.bundle([loose, named, thumb], operations=[]).raise_for_status()
    own = [digest(one) for one in (loose, named, thumb)]
    manager.client.post(f"/devices/{table.device_id}/revoke").raise_for_status()
    asked = {"sha256": [*own, planted.photo, planted.far]}
    assert table.client.post("/sync/photos", json=asked).json()["here"] == own
    office.change("DELETE FROM photo_from")
    assert table.client.post("/sync/photos", json=asked).json()["here"] == own[1:]


def test_a_closing_tells_a_porter_of_the_day_it_works_on_and_of_no_other(
    office: Office, manager: Phone, clock: Clock, planted: Planted
) -> None:
    lacking = manager.keep(a_photo(manager.ids, planted.elsewhere_id, picture(51), picture(52)))
    manager.keep(a_photo(manager.ids, planted.item_id, picture(53), picture(54)))
    assert {one["outcome"] for one in manager.push()} == {"kept"}
    porter, other = office.pair("porter"), office.pair("door")
    porter.client.get("/sync/feed", params={"day_id": planted.day_id}).raise_for_status()
    other.client.get("/sync/feed", params={"day_id": planted.far_day_id}).raise_for_status()
    other.bundle([picture(55)], operations=[]).raise_for_status()
    table = office.pair("table")
    for day_id, table_id in ((planted.day_id, "seat 1"), (planted.far_day_id, "far seat")):
        seat = {"day_id": day_id, "table_id": table_id}
        table.client.get("/sync/feed", params=seat).raise_for_status()
        assert table_id in porter.client.get("/closing").text or day_id != planted.day_id
    ids = [planted.elsewhere_id, lacking["sha256"], planted.far, digest(picture(55))]
    ids += [planted.far_day_id, "far seat"]
    for query in ({}, {"day_id": planted.day_id}):
        told = porter.client.get("/closing", params=query)
        assert planted.item_id in told.text
        assert not [one for one in ids if one in told.text]
    far, none = (
        porter.client.get("/closing", params={"day_id": day_id})
        for day_id in (planted.far_day_id, porter.ids.id())
    )
    assert (
        (far.status_code, far.json()["code"]) == (none.status_code, none.json()["code"]) == (404, "not_found")
    )
    assert planted.elsewhere_id in manager.client.get("/closing", params={"day_id": planted.far_day_id}).text
    close_with_all(manager, planted.day_id)
    clock.now += AFTERWARDS + timedelta(seconds=1)
    assert porter.client.get("/closing", params={"day_id": planted.day_id}).status_code == 404
    assert planted.item_id not in porter.client.get("/closing").text


def noted(manager: Phone) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = manager.client.get("/readings").json()["readings"]
    return found


def test_where_a_table_s_device_sits_and_who_moved_it_is_noted(
    office: Office, manager: Phone, planted: Planted
) -> None:
    """It reads the owners of the table that it names: no device reads two tables' in turn without a note of each."""
    bring_to_table(planted, manager)
    table = office.pair("table", "Table 2")
    seats = {"seat 1": "North table", "seat 2": "South table"}
    for table_id, name in seats.items():
        set_table = {
            "day_id": planted.day_id,
            "table_id": table_id,
            "name": name,
            "gone": False,
            "seen": None,
        }
        manager.keep(("set_table", set_table))
    assert {one["outcome"] for one in manager.push()} == {"kept"}

    def sit(table_id: str, by: str = "hester") -> str:
        asked = {"day_id": planted.day_id, "table_id": table_id, "by": by}
        return table.client.get("/sync/feed", params=asked).raise_for_status().text

    assert "Marker-Name" not in sit("")
    assert noted(manager) == [], "at no table there is nobody to read"
    assert "Marker-Name" in sit("seat 1")
    sit("seat 1")
    assert "Marker-Name" not in sit("seat 2", by="somebody")
    assert "Marker-Name" not in table.client.get(f"/records/{planted.visit_id}").text, "of the table it left"
    assert "Marker-Name" in sit("seat 1")
    moves = [
        (note["device_name"], note["what"], note["seat_left"], note["seat"], note["made_by"])
        for note in noted(manager)
    ]
    assert moves == [
        ("Table 2", "seat", "South table", "North table", "Hester Quillfeather"),
        ("Table 2", "seat", "North table", "South table", "somebody"),
        ("Table 2", "seat", "", "North table", "Hester Quillfeather"),
    ]
    porter = office.pair("porter")
    porter.client.get("/sync/feed", params={"day_id": planted.day_id, "table_id": "seat 1"})
    assert len(noted(manager)) == 3, "a table's device alone reads by its seat"


@pytest.mark.parametrize(
    "by", ["the table", "a manager", "a settlement", "the table, which moved as it sent"]
)
def test_an_owner_who_comes_to_a_table_is_noted_for_the_device_there(
    by: str, office: Office, manager: Phone, clock: Clock, planted: Planted
) -> None:
    """It reads them from then on, whoever made it so; one reading is one note."""
    bring_to_table(planted, manager)
    table, visit = office.pair("table", "Table 5"), f"/records/{planted.visit_id}"

    def sit(seat: str) -> None:
        asked = {"day_id": planted.day_id, "table_id": seat}
        table.client.get("/sync/feed", params=asked).raise_for_status()

    def say(who: Phone, field: str, value: str, *, stale: bool = False) -> dict[str, Any]:
        fields = manager.record(planted.visit_id)["fields"]
        who.keep(set_visit(planted.visit_id, field, value, None if stale else fields[field]["operation_id"]))
        [answer] = who.push()
        assert answer["outcome"] == "kept"
        return answer

    sit("seat 5")
    before = len(noted(manager))
    if by == "the table":
        say(table, "table_id", "seat 5")
    elif by == "a manager":
        say(manager, "table_id", "seat 5")
    elif by == "a settlement":
        said = say(table, "table_id", "seat 5", stale=True)
        assert said["disagreement"]
        assert "marker-telephone" not in table.client.get(visit).text
        manager.keep(a_settlement(planted.visit_id, said["operation_id"], "other"))
        assert manager.push()[0]["outcome"] == "kept"
    else:
        sit("seat 1")
        before = len(noted(manager))
        seen = manager.record(planted.visit_id)["fields"]["table_id"]["operation_id"]
        table.keep(set_visit(planted.visit_id, "table_id", "seat 5", seen))

        def slowly() -> Iterator[bytes]:
            yield b'{"operations": '
            httpx.get(
                f"{table.client.base_url}/sync/feed",
                params={"day_id": planted.day_id, "table_id": "seat 5"},
                cookies=dict(table.client.cookies),
            ).raise_for_status()
            yield json.dumps(table.outbox).encode() + b"}"

        headers = {"Content-Type": "application/json"}
        table.client.post("/sync/operations", content=slowly(), headers=headers).raise_for_status()
        before += 1  # that it moved
    assert "marker-telephone" in table.client.get(visit).text
    [note, *_] = noted(manager)
    assert len(noted(manager)) == before + 1
    ticket = manager.record(planted.visit_id)["fields"]["ticket"]["value"]
    assert (note["device_name"], note["what"], note["ticket"]) == ("Table 5", "visit", ticket)
    say(manager, "needs", "a chair")
    for _ in range(3):
        say(manager, "stage", "at-table")
    assert len(noted(manager)) == before + 1, "it goes on reading, and one reading is one note"
    clock.now += ONE_READING + timedelta(seconds=1)
    say(manager, "stage", "at-table")
    assert len(noted(manager)) == before + 2


def test_an_owner_at_another_table_or_on_another_day_is_noted_for_nobody(
    office: Office, manager: Phone, planted: Planted
) -> None:
    for name, day_id, seat in (
        ("Elsewhere", planted.day_id, "seat 2"),
        ("Another day", planted.far_day_id, "seat 1"),
    ):
        table = office.pair("table", name).client
        table.get("/sync/feed", params={"day_id": day_id, "table_id": seat}).raise_for_status()
    bring_to_table(planted, manager)
    assert {note["what"] for note in noted(manager)} == {"seat"}


@pytest.mark.parametrize("was", ["door", "porter", "desk", "manager"])
def test_whom_a_device_reads_by_what_it_said_in_other_work_is_noted_as_it_becomes_a_table_s(
    was: str, office: Office, manager: Phone, clock: Clock, planted: Planted
) -> None:
    """It called the owner, who sits nowhere yet: so they are at it, with all that is said of them since."""
    device = office.pair(was, "Called")
    seen = manager.record(planted.visit_id)["fields"]["stage"]["operation_id"]
    (manager if was == "porter" else device).keep(set_visit(planted.visit_id, "stage", "at-table", seen))
    (manager if was == "porter" else device).push()
    assert noted(manager) == []
    again = {"code": office.code("table", "Table 6", device.device_id), "device_id": device.device_id}
    device.client.post("/pairing", json=again).raise_for_status()
    device.client.get("/sync/feed", params={"day_id": planted.day_id}).raise_for_status()
    reads = "marker-telephone" in device.client.get(f"/records/{planted.visit_id}").text
    assert reads == (was != "porter")
    ticket = manager.record(planted.visit_id)["fields"]["ticket"]["value"]
    read = [(note["device_name"], note["what"], note["ticket"]) for note in noted(manager)]
    assert read == [("Table 6", "visit", ticket)] * reads


@pytest.mark.parametrize("moves", ["owner", "table"])
def test_who_called_an_owner_reads_them_while_they_sit_there(
    moves: str, office: Office, manager: Phone, planted: Planted
) -> None:
    """One to whom they go on may say their seat alone; and the table itself may go elsewhere."""
    caller = office.pair("table")

    def sits(seat: str) -> None:
        caller.client.get("/sync/feed", params={"day_id": planted.day_id, "table_id": seat})

    def reads() -> bool:
        return "marker-telephone" in caller.client.get(f"/records/{planted.visit_id}").text

    sits("seat 1")
    opened = manager.record(planted.visit_id)["fields"]["stage"]["operation_id"]
    caller.keep(set_visit(planted.visit_id, "stage", "at-table", opened))
    assert caller.push()[0]["outcome"] == "kept"
    assert reads(), "nobody said a seat"
    manager.keep(set_visit(planted.visit_id, "table_id", "seat 1"))
    manager.push()
    assert reads()
    seen = manager.record(planted.visit_id)["fields"]["table_id"]["operation_id"]
    if moves == "table":
        sits("seat 7")
    else:
        manager.keep(set_visit(planted.visit_id, "table_id", "seat 2", seen))
        assert manager.push()[0]["outcome"] == "kept"
    assert not reads()


def test_a_table_that_steps_off_its_seat_reads_no_owner_for_it(
    office: Office, manager: Phone, planted: Planted
) -> None:
    """What it called while it sat would be read all day, with no note of it."""
    manager.keep(set_visit(planted.visit_id, "table_id", "seat 2"))
    manager.push()
    caller = office.pair("table", "Table 1")

    def reads(seat: str) -> bool:
        asked = {"day_id": planted.day_id, "table_id": seat}
        caller.client.get("/sync/feed", params=asked).raise_for_status()
        return "marker-telephone" in caller.client.get(f"/records/{planted.visit_id}").text

    def say(field: str, value: str) -> None:
        seen = manager.record(planted.visit_id)["fields"][field]["operation_id"]
        caller.keep(set_visit(planted.visit_id, field, value, seen))
        assert caller.push()[0]["outcome"] == "kept"

    assert not reads("seat 1")
    say("stage", "at-table")
    assert (reads("seat 1"), reads("")) == (False, False)
    assert {note["what"] for note in noted(manager)} == {"seat"}
    say("table_id", "")
    assert noted(manager)[0]["what"] == "visit"
    assert (reads(""), reads("seat 1")) == (True, True), "it says that they sit at none, and called them"


def test_a_device_that_is_paired_again_sits_nowhere_until_it_says_so(
    office: Office, manager: Phone, clock: Clock, planted: Planted
) -> None:
    """Else what it said in other work would stand for a seat of which no note was taken."""
    bring_to_table(planted, manager)
    for was in ("porter", "table"):
        device = office.pair(was, f"Was {was}")
        seat = {"day_id": planted.day_id, "table_id": "seat 1"}
        device.client.get("/sync/feed", params=seat).raise_for_status()
        again = {"code": office.code("table", f"Was {was}"), "device_id": device.device_id}
        device.client.post("/pairing", json=again).raise_for_status()
        clock.pass_by(seconds=1)
        before = len(noted(manager))
        visit = f"/records/{planted.visit_id}"
        assert "marker-telephone" not in device.client.get(visit).text
        assert "marker-telephone" in device.client.get("/sync/feed", params=seat).text
        assert len(noted(manager)) == before + 1
        assert (noted(manager)[0]["seat"], noted(manager)[0]["seat_left"]) == ("seat 1", "")


def test_a_day_that_nobody_closed_is_not_read_in_the_hall_for_ever(
    office: Office, manager: Phone, clock: Clock, planted: Planted
) -> None:
    """A manager opens it again with a word on the day."""
    clock.pass_by(days=400)
    bring_to_table(planted, manager)
    for role in ("door", "table", "porter"):
        device = office.pair(role, f"{role} again").client
        page = device.get("/sync/feed", params={"day_id": planted.day_id, "table_id": "seat 1"})
        assert not markers_in(page.text), role
        assert page.json()["day_over"]
        for path in (f"/records/{planted.visit_id}", f"/photos/{planted.photo}"):
            assert device.get(path).status_code == 404, (role, path)
    assert "marker-telephone" in manager.client.get(f"/records/{planted.visit_id}").text
    seen = manager.record(planted.day_id)["fields"].get("place", {}).get("operation_id")
    place = {"day_id": planted.day_id, "field": "place", "value": "The great hall", "seen": seen}
    manager.keep(("correct_day", place))
    assert manager.push()[0]["outcome"] == "kept"
    door = at_work(office, planted, "door")
    visit = f"/records/{planted.visit_id}"
    assert "marker-telephone" in door.get(visit).text
    keys = office.pair("manager", "Second manager")
    again = {"code": office.code("door", "Door 2", manager.device_id), "device_id": manager.device_id}
    manager.client.post("/pairing", json=again).raise_for_status()
    assert "marker-telephone" in door.get(visit).text, "it was a manager's when that was said"
    clock.pass_by(days=15)
    manager.keep(("correct_day", {**place, "value": "The yard", "seen": None}))
    assert manager.push()[0]["outcome"] == "refused"
    assert door.get(visit).status_code == 404, "what was refused opens nothing"
    keys.keep(("correct_day", {**place, "value": "The yard", "seen": None}))
    assert keys.push()[0]["outcome"] == "kept"
    assert "marker-telephone" in door.get(visit).text


def test_a_device_that_goes_from_day_to_day_is_noted(
    office: Office, manager: Phone, planted: Planted
) -> None:
    door = office.pair("door", "Door 2")
    for day_id in (planted.day_id, planted.day_id, planted.far_day_id):
        door.client.get("/sync/feed", params={"day_id": day_id, "by": "hester"}).raise_for_status()
    [note] = noted(manager)
    named = manager.record(planted.day_id)
    assert (note["device_name"], note["what"]) == ("Door 2", "day")
    assert note["seat_left"] == f"{named['house']}, {named['held_on']}"
    assert named["held_on"] in note["seat"]


def test_who_changes_tables_over_and_over_is_told_to_ask_a_manager(
    office: Office, manager: Phone, clock: Clock, planted: Planted
) -> None:
    """What it sends is taken all the while, and what it reads at the table that it has."""
    table = office.pair("table", "Table 2")

    def sit(seat: str) -> httpx.Response:
        return table.client.get("/sync/feed", params={"day_id": planted.day_id, "table_id": seat})

    with ThreadPoolExecutor(8) as at_once:
        answers = list(at_once.map(sit, [f"seat {number}\u0007\u202e" for number in range(80)]))
    refused = [answer for answer in answers if not answer.is_success]
    assert {(answer.status_code, answer.json()["code"]) for answer in refused} == {(429, "moves_too_often")}
    assert "manager" in refused[0].json()["hint"]
    moves = noted(manager)
    assert len(moves) == len(answers) - len(refused) == MOST_MOVES
    assert all(move["seat"].isprintable() for move in moves)
    left = {move["seat_left"] for move in moves}
    assert left == {"", *(move["seat"] for move in moves)} - {moves[0]["seat"]}, (
        "each goes on from the one before"
    )
    assert sit(moves[0]["seat"]).is_success
    table.keep(a_visit(table.ids, planted.day_id, ticket="Q77"))
    assert table.push()[0]["outcome"] == "kept"
    clock.pass_by(minutes=11)
    assert sit("seat 1").is_success


def test_a_search_that_went_by_an_owner_s_words_is_noted_once_it_stands(
    office: Office, manager: Phone, clock: Clock, planted: Planted
) -> None:
    desk = office.pair("desk", "Desk 1")

    def look_for(words: str, beside: str = "", **more: str) -> int:
        asked = {"words": words, **more}
        answer = (
            desk.client.get(f"/entries/{beside}" if beside else "/queue", params=asked)
            .raise_for_status()
            .json()
        )
        return int((answer["list"] if beside else answer)["count"])

    def searches() -> list[tuple[str, int]]:
        return [(note["words"], note["found"]) for note in noted(manager) if note["what"] == "search"]

    for words in ("Q01", "elsewhere", "nobody-at-all", ""):
        look_for(words)
    assert searches() == [], "a ticket, a thing, and nothing"
    for words in ("G", "Giv", "Given", "Given mark", "Given"):
        assert look_for(words) == 1
        clock.pass_by(seconds=1)
    assert searches() == [("Given", 1)], "typed on and back again is one"
    clock.pass_by(seconds=5)
    assert look_for("Given Marker", beside=planted.item_id, items=planted.item_id) == 1
    look_for("Given Marker", counts="1")
    clock.pass_by(seconds=5)
    look_for("given")
    assert searches() == [("Given Marker", 1), ("Given", 1)], "the same again is no further one"
    clock.pass_by(hours=1)
    look_for("Given", state="described")
    assert searches()[0] == ("Given", 0)
    manager.client.get("/queue", params={"words": "Given"})
    assert len(searches()) == 3


def an_owner(manager: Phone, planted: Planted, name: str, ticket: str) -> str:
    visit = manager.keep(a_visit(manager.ids, planted.day_id, ticket=ticket))
    manager.keep(a_consignor(visit["visit_id"], "name", name))
    manager.keep(an_item(manager.ids, visit))
    assert {one["outcome"] for one in manager.push()} == {"kept"}
    return str(visit["visit_id"])


def test_going_back_to_words_that_are_noted_hides_no_search(
    office: Office, manager: Phone, clock: Clock, planted: Planted
) -> None:
    an_owner(manager, planted, "Ada Smithers", "Q21")
    desk = office.pair("desk", "Desk 1")

    def look_for(words: str, seconds: int) -> None:
        desk.client.get("/queue", params={"words": words}).raise_for_status()
        clock.pass_by(seconds=seconds)

    look_for("s", 5)
    look_for("Given", 5)
    for words in ("smithers", "s", "given", "s"):
        look_for(words, 1)
    assert [note["words"] for note in noted(manager)] == ["smithers", "Given", "s"]


def test_the_same_words_are_noted_again_with_whom_else_they_find(
    office: Office, manager: Phone, clock: Clock, planted: Planted
) -> None:
    desk = office.pair("desk", "Desk 1")

    def look_for(words: str, seconds: int) -> None:
        desk.client.get("/queue", params={"words": words}).raise_for_status()
        clock.pass_by(seconds=seconds)

    def searches() -> list[tuple[str, int]]:
        return [(note["words"], note["found"]) for note in noted(manager)]

    an_owner(manager, planted, "Ann Stonely", "Q21")
    look_for("stonely", 60)
    look_for("given", 60)
    second = an_owner(manager, planted, "Bea Stonely", "Q22")
    look_for("stonely", 1)
    third = an_owner(manager, planted, "Cy Stonely", "Q23")
    look_for("stonely", 60)
    look_for("given", 60)
    look_for("stonely", 60)
    assert searches() == [("stonely", 3), ("given", 1), ("stonely", 1)]
    for visit_id in (second, third):
        manager.keep(("erase_consignor", {"visit_id": visit_id}))
    assert {one["outcome"] for one in manager.push()} == {"kept"}
    assert searches() == [("", 3), ("given", 1), ("stonely", 1)]


def test_a_search_is_noted_by_the_words_that_were_searched(
    office: Office, manager: Phone, clock: Clock, planted: Planted
) -> None:
    desk = office.pair("desk", "Desk 1")
    words = "Given" + " " * 195 + "zzzz harmless"
    assert desk.client.get("/queue", params={"words": words}).json()["count"] == 0
    clock.pass_by(seconds=5)
    desk.client.get("/queue", params={"words": " Given   Marker "}).raise_for_status()
    clock.pass_by(seconds=2)
    desk.client.get(f"/records/{planted.visit_id}").raise_for_status()
    assert [note["words"] for note in noted(manager)] == [
        "",
        "Given Marker",
        "Given zzzz harmless",
    ], "the latest first"


def test_a_search_is_not_hidden_by_the_next_and_outlasts_the_office(
    settings: Settings, clock: Clock, ids: Ids
) -> None:
    with running(settings, clock, ids) as office:
        manager, desk = office.pair("manager"), office.pair("desk", "Desk 1")
        day = manager.keep(a_day(ids))
        manager.push()
        planted = Planted(office, manager, day)
        for words in ("Marker", "elsewhere", "Given"):
            desk.client.get("/queue", params={"words": words}).raise_for_status()
        assert [note["words"] for note in noted(manager)] == ["Given", "Marker"]
    with running(settings, clock, ids) as office:
        manager = office.pair("manager")
        assert [note["words"] for note in noted(manager)] == ["Given", "Marker"]
        manager.keep(("erase_consignor", {"visit_id": planted.visit_id}))
        assert manager.push()[0]["outcome"] == "kept"
        assert [note["words"] for note in noted(manager)] == ["", ""], "they are the owner's"


def test_a_search_that_is_not_written_yet_loses_an_owner_who_is_erased(
    office: Office, manager: Phone, planted: Planted
) -> None:
    desk = office.pair("desk", "Desk 1")
    desk.client.get("/queue", params={"words": "Marker"}).raise_for_status()
    assert [note["words"] for note in noted(manager)] == ["Marker"]
    manager.keep(("erase_consignor", {"visit_id": planted.visit_id}))
    assert manager.push()[0]["outcome"] == "kept"
    assert [note["words"] for note in noted(manager)] == [""]
    desk.client.get("/queue", params={"words": "Given"}).raise_for_status()
    office.end()
    with closing(sqlite3.connect(office.settings.database_file)) as file:
        assert file.execute("SELECT what, words FROM reading_note").fetchall() == [("search", "")]


def forgets(answer: httpx.Response) -> bool:
    """Source: W3C, Clear Site Data, 3.1: a list of quoted words; `storage` would take what a device owes."""
    told: str = answer.headers.get("clear-site-data", "")
    assert told in ("", '"cache"')
    return bool(told)


def test_whoever_is_to_see_less_is_told_to_forget_what_it_was_shown(
    office: Office, manager: Phone, clock: Clock, planted: Planted
) -> None:
    device, day = office.pair("table"), {"day_id": planted.day_id}
    assert not forgets(device.client.get("/sync/feed"))
    assert not forgets(device.client.get("/sync/feed", params=day))
    assert not forgets(device.client.get("/sync/feed", params=day))
    other = {"day_id": planted.far_day_id}
    assert [forgets(device.client.get("/sync/feed", params=other)) for _ in range(3)] == [True, False, False]
    close_with_all(manager, planted.far_day_id)
    clock.pass_by(hours=13)
    assert device.client.get("/sync/feed", params=other).json()["day_over"]
    assert [forgets(device.client.get("/sync/feed")) for _ in range(2)] == [True, False]
    again = {"code": office.code("porter", "Porter", device.device_id), "device_id": device.device_id}
    assert forgets(device.client.post("/pairing", json=again))
    assert not forgets(office.client().post("/pairing", json={"code": office.code("porter", "Porter 2")}))
    assert forgets(device.client.post("/sync/forget")), "whenever it lets go of something"
    manager.client.post(f"/devices/{device.device_id}/revoke").raise_for_status()
    with device.client.stream("GET", "/sync/standing", params={"days": ""}) as standing:
        assert standing.status_code == 200, "what is told to who lets go uses nothing up"
    refused = [device.client.get(f"/photos/{planted.photo}") for _ in range(2)]
    assert [(answer.status_code, forgets(answer)) for answer in refused] == [(403, True)] * 2, (
        "an answer may be lost on its way"
    )
    assert forgets(device.client.post("/sync/forget"))
    before = dict(device.client.cookies)
    lost = {"code": office.code("porter", "Porter", device.device_id), "device_id": device.device_id}
    device.client.post("/pairing", json=lost).raise_for_status()
    device.client.cookies.clear()
    device.client.cookies.update(before)
    unknown = device.client.get(f"/photos/{planted.photo}")
    assert (unknown.status_code, forgets(unknown)) == (401, True), "the answer that made it another was lost"
    assert not forgets(office.client().get(f"/photos/{planted.photo}"))
    desk = office.pair("desk")
    for day_id in (planted.day_id, planted.far_day_id, ""):
        assert not forgets(desk.client.get("/sync/feed", params={"day_id": day_id})), "it reads every day"


def test_a_settlement_s_note_follows_the_owner_and_whoever_reads_it_is_noted(
    office: Office, manager: Phone, planted: Planted
) -> None:
    """Whose value gave way was at the table then: the note is read where the owner is read now."""
    table, door = office.pair("table", "Table 7"), office.pair("door", "Door 7")
    table.client.get("/sync/feed", params={"day_id": planted.day_id, "table_id": "seat 1"}).raise_for_status()
    door.client.get("/sync/feed", params={"day_id": planted.day_id}).raise_for_status()

    def gives_way(phone: Phone) -> str:
        """A number for the ticket that this device says and the desk does not take: the disagreement."""
        said = phone.keep(set_visit(planted.visit_id, "ticket", f"Q{len(phone.device_id)}"))
        [answer] = phone.push()
        assert answer["disagreement"]
        kind, settled = a_settlement(planted.visit_id, said["operation_id"], "kept")
        manager.keep((kind, {**settled, "note": "Marker-Name was asked", "salt": "0" * 32}))
        assert manager.push()[0]["outcome"] == "kept"
        return f"/settlements/{said['operation_id']}"

    def readers() -> list[tuple[str, str]]:
        return [(note["device_name"], note["what"]) for note in noted(manager) if note["what"] == "visit"]

    asked = gives_way(table)
    assert table.client.get(asked).json() == {"note": "", "kept_back": True}
    assert readers() == []
    bring_to_table(planted, manager)
    assert readers() == [("Table 7", "visit")]
    assert table.client.get(asked).json() == {"note": "Marker-Name was asked", "kept_back": False}
    again = {"code": office.code("porter", "Porter 7"), "device_id": table.device_id}
    table.client.post("/pairing", json=again).raise_for_status()
    table.client.get("/sync/feed", params={"day_id": planted.day_id}).raise_for_status()
    assert table.client.get(asked).json() == {"note": "", "kept_back": True}
    assert door.client.get(gives_way(door)).json()["note"] == "Marker-Name was asked"
    assert readers()[0] == ("Door 7", "visit")


def test_a_day_is_opened_again_by_what_managers_alone_may_say(
    office: Office, manager: Phone, clock: Clock, planted: Planted
) -> None:
    """Not by what anybody said of it whose device does a manager's work by now."""
    porter = office.pair("porter")
    clock.pass_by(days=400)
    counted = dict.fromkeys(("crates", "pieces", "scanned_crates", "scanned_pieces"), 1)
    by = {"to_place": "van", "at": "", "given_by": "A", "taken_by": "B", **counted}
    porter.keep(("count_load", {"day_id": planted.day_id, "load_id": porter.ids.id(), **by}))
    assert porter.push()[0]["outcome"] == "kept"
    door = at_work(office, planted, "door")
    assert door.get(f"/records/{planted.visit_id}").status_code == 404
    again = {"code": office.code("manager", "Keys", porter.device_id), "device_id": porter.device_id}
    porter.client.post("/pairing", json=again).raise_for_status()
    assert door.get(f"/records/{planted.visit_id}").status_code == 404


def test_a_desk_that_reads_who_took_a_crate_back_is_noted(
    office: Office, manager: Phone, planted: Planted
) -> None:
    """With each owner of what lies in it at any depth; of an empty one, with the crate itself."""
    outer, inner, empty = (
        manager.keep(a_crate(manager.ids, planted.day_id, number)) for number in islice(codes(5000), 3)
    )
    manager.keep(put_in(planted.item_id, inner["container_id"]))
    manager.keep(put_in(inner["container_id"], outer["container_id"]))
    for crate in (outer, empty):
        manager.keep(a_return(manager.ids.id(), crate["container_id"], "marker-crate"))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    desk = office.pair("desk", "Desk 7").client
    notes = len(noted(manager))
    desk.get(f"/records/{inner['container_id']}").raise_for_status()
    assert len(noted(manager)) == notes, "nobody is named on it"
    assert "marker-crate" in desk.get(f"/records/{outer['container_id']}").text
    assert noted(manager)[0]["record_id"] == planted.visit_id
    assert "marker-crate" in desk.get(f"/records/{empty['container_id']}").text
    newest = noted(manager)[0]
    assert (newest["device_name"], newest["record_id"]) == ("Desk 7", empty["container_id"])
    assert newest["crate"] == empty["number"]


def test_a_desk_that_reads_why_one_of_two_values_of_a_thing_holds_is_noted(
    office: Office, manager: Phone, planted: Planted
) -> None:
    """As it is where it asks for that note alone. The entry does not have it."""
    item = manager.keep(an_item(manager.ids, {"visit_id": planted.visit_id, "day_id": planted.day_id}))
    item_id = item["item_id"]
    manager.keep(a_fact(item_id, "maker", "marked"))
    between = manager.keep(a_fact(item_id, "maker", "unmarked"))
    desk = office.pair("desk", "Desk 7").client
    manager.push()
    before = len(noted(manager))
    kind, settled = a_settlement(item_id, between["operation_id"], "kept")
    manager.keep((kind, {**settled, "note": "marker-of-item"}))
    assert manager.push()[0]["outcome"] == "kept"
    assert "marker-of-item" not in desk.get(f"/entries/{item_id}").text
    assert len(noted(manager)) == before
    assert "marker-of-item" in desk.get(f"/records/{item_id}").text
    assert len(noted(manager)) == before + 1
    assert noted(manager)[0]["record_id"] == planted.visit_id


def test_a_desk_that_reads_why_a_value_of_a_day_or_a_crate_holds_is_noted(
    office: Office, manager: Phone, planted: Planted
) -> None:
    """It may be about any owner of the day: the day stands for them. The same whichever way it asks."""
    crate = manager.keep(a_crate(manager.ids, planted.day_id, next(codes(5000))))

    def contested(record_id: str, *two: tuple[str, dict[str, Any]]) -> str:
        _, between = (manager.keep(one) for one in two)
        assert manager.push()[-1]["disagreement"]
        kind, settled = a_settlement(record_id, between["operation_id"], "kept")
        manager.keep((kind, {**settled, "note": "Marker-Name asked for it"}))
        assert manager.push()[0]["outcome"] == "kept"
        return str(between["operation_id"])

    sealed = {"container_id": crate["container_id"], "second_by": "Ana", "seen": None}
    of_day = contested(
        planted.day_id,
        *(
            ("correct_day", {"day_id": planted.day_id, "field": "place", "value": place, "seen": None})
            for place in ("Old Corn Hall", "Chapel")
        ),
    )
    of_crate = contested(
        crate["container_id"],
        *(("seal_container", {**sealed, "seal": seal, "state": "sealed"}) for seal in ("A1", "B2")),
    )
    for number, (record_id, between_id, named) in enumerate(
        [
            (planted.day_id, of_day, ("", "Thimblewick's Saleroom, 2026-03-14")),
            (crate["container_id"], of_crate, (crate["number"], "")),
        ]
    ):
        for address in (f"/records/{record_id}", f"/settlements/{between_id}"):
            desk = office.pair("desk", f"{number} {address}").client
            assert "Marker-Name" in desk.get(address).text
            newest = noted(manager)[0]
            assert (newest["device_name"], newest["record_id"]) == (f"{number} {address}", record_id)
            assert (newest["crate"], newest["day"]) == named
