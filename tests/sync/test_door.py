"""One operation that goes wrong, in whatever way, never holds up another, and nothing of it is lost."""

from __future__ import annotations

import json
import sqlite3
from itertools import pairwise
from typing import Any

import pytest

from intake.errors import OfficeFull
from intake.ids import own_id
from intake.operation import KINDS
from intake.records.record import Record
from intake.records.registries import VIEWS
from intake.settings import read_share
from intake.sync.logged import deep_json
from intake.tagging.numbers import SERIALS, serials_of
from intake.tagging.tags import SYMBOLS, codes, serial_of
from tests.builders import a_consignor, a_day, a_fact, a_finding, a_tie, a_visit, an_item
from tests.conftest import Office
from tests.door import Door
from tests.phone import Phone

HALF = "plush elephant \ud83d"  # the first half of a character beyond the first plane


def a_roll(door: Door, day_id: str, first: str, count: int, **more: Any) -> tuple[str, dict[str, Any]]:
    last = [tag for tag, _ in zip(codes(serial_of(first)), range(count), strict=False)][-1]
    numbers = {"first_tag": first, "last_tag": last, "count": count}
    rest = {"given_to": "Table 1", "for_device_id": None}
    return "issue_roll", {"day_id": day_id, "roll_id": door.ids.id(), **numbers, **rest, **more}


async def aside(door: Door) -> list[Any]:
    """What was set aside, as it was sent."""
    return [
        json.loads(row["content"])
        for row in await door.database.read(lambda tx: tx.all("SELECT content FROM set_aside"))
    ]


async def test_half_a_character_costs_the_operation_in_which_it_stands(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    sent = [
        door.make(a_fact(item_id, "materials", "tin")),
        door.make(a_fact(item_id, "short_description", HALF)),
        door.make(a_fact(item_id, "maker", "unmarked"), **{HALF: HALF}),
        door.make(a_fact(item_id, "packaging", "box")),
    ]
    answers = await door.send(*sent)
    assert [answer["outcome"] for answer in answers] == ["kept", "refused", "refused", "kept"]
    assert [answer["operation_id"] for answer in answers] == [one["operation_id"] for one in sent]
    assert {answer["problem"]["code"] for answer in answers[1:3]} == {"unreadable"}
    assert await door.send(*sent) == answers, "sent again, they get the same answers"
    assert sorted(await aside(door), key=str) == sorted(sent[1:3], key=str)
    assert await door.faults() == []


@pytest.mark.parametrize("where", ["in it", "as it"])
async def test_what_is_nested_deeper_than_any_writer_goes_is_set_aside_whole(door: Door, where: str) -> None:
    """No body brings it, but whoever calls the door may; the rest of the batch is answered."""
    item_id = (await door.item())["item_id"]
    deep: Any = "the innermost"
    for level in range(20_000):
        deep = {"b": deep, "a": level} if level % 2 else [1, deep]
    sent = door.make(a_fact(item_id, "materials", "tin"), **({"deep": deep} if where == "in it" else {}))
    batch = [deep if where == "as it" else sent, door.make(a_fact(item_id, "maker", "unmarked"))]
    answers = await door.send(*batch)
    assert [answer["outcome"] for answer in answers] == ["refused", "kept"]
    assert answers[0]["problem"]["code"] == "unreadable"
    assert await door.send(*batch) == answers
    [content] = await aside(door)
    assert '"the innermost"' in content["unread"]
    assert content["unread"].count("[") == 10_000
    assert await door.faults() == []


def test_deep_json_is_json() -> None:
    """Against Python's own writer, on what both can write."""
    some = {"b": [1, None, {"ä": "\ud83d", "": []}], "a": {}, "c": [[], {"z": 1.5, "y": True}]}
    assert json.loads(deep_json(some)) == some
    assert deep_json(some) == json.dumps(some, sort_keys=True, separators=(",", ":"))


def test_half_a_character_over_http(phone: Phone, item: dict[str, Any]) -> None:
    """As browsers write it: JSON.stringify escapes the half that stands alone (ECMA-262, well-formed stringify)."""
    phone.keep(a_fact(item["item_id"], "short_description", HALF))
    phone.keep(a_fact(item["item_id"], "materials", "tin"))
    response = phone.client.post(
        "/sync/operations",
        content=json.dumps({"operations": phone.outbox}),
        headers={"Content-Type": "application/json"},
    )
    assert [answer["outcome"] for answer in response.json()["answers"]] == ["refused", "kept"]


def test_bytes_that_are_no_text_cost_one_operation(phone: Phone, item: dict[str, Any]) -> None:
    phone.keep(a_fact(item["item_id"], "short_description", "HERE"))
    phone.keep(a_fact(item["item_id"], "materials", "tin"))
    body = json.dumps({"operations": phone.outbox}).encode().replace(b"HERE", b"\xff\xfe")
    answers = phone.client.post("/sync/operations", content=body).json()["answers"]
    assert [answer["outcome"] for answer in answers] == ["refused", "kept"]
    assert phone.client.post("/sync/operations", content=body[:-1]).status_code == 400


@pytest.mark.parametrize("depth", [199, 500, 900, 970, 100_000])
@pytest.mark.parametrize("bracket", ["[]", "{}"])
def test_one_nested_too_deep_costs_one_operation(
    phone: Phone, day: dict[str, Any], depth: int, bracket: str
) -> None:
    before, after = ("[" * depth, "]" * depth) if bracket == "[]" else ('{"a":' * depth, "}" * depth)
    check_one_is_refused(phone, day, f"{before}7{after}")


@pytest.mark.parametrize("digits", [4301, 5000, 100_000])
def test_a_number_that_nobody_can_read_costs_one_operation(
    phone: Phone, day: dict[str, Any], digits: int
) -> None:
    check_one_is_refused(phone, day, "9" * digits)


def check_one_is_refused(phone: Phone, day: dict[str, Any], spoilt: str) -> None:
    """Of three operations over HTTP, the one with this text in it is refused, and so it is another time."""
    for _ in range(3):
        phone.keep(a_visit(phone.ids, day["day_id"], ticket='Q1, [\\"x'))
    phone.outbox[1]["ticket"] = "HERE"
    body = json.dumps({"operations": phone.outbox, "holds_from": 1}).replace('"HERE"', spoilt).encode()
    response = phone.client.post("/sync/operations", content=body)
    assert response.status_code == 200, response.text
    answers = response.json()["answers"]
    assert [answer["outcome"] for answer in answers] == ["kept", "refused", "kept"]
    assert [answer["operation_id"] for answer in answers] == [one["operation_id"] for one in phone.outbox]
    assert "ticket" in answers[1]["problem"]["detail"]
    assert phone.client.post("/sync/operations", content=body).json()["answers"] == answers
    assert phone.client.post("/sync/operations", content=body[:-1]).status_code == 400


@pytest.mark.parametrize(
    "spoilt",
    [
        {"value": "x" * 8001},
        {"kind": "of_a_later_version"},
        {"operation_id": 7},
        {"value": [{"a": float("nan")}]},
        {"value": 10**40},
    ],
)
async def test_later_operations_of_the_device_are_answered(door: Door, spoilt: dict[str, Any]) -> None:
    """The office has heard of the one that it could not read, so what refers to nothing is refused, not waited for."""
    item_id = (await door.item())["item_id"]
    [answer] = await door.send({**door.make(a_fact(item_id, "materials", "tin")), **spoilt})
    assert answer["problem"]["code"] == "unreadable"
    assert answer["office_seq"] > 0, "it is in the log"
    assert await door.refused(a_fact(door.ids.id(), "materials", "oak")) == "not_found"
    assert await door.faults() == []


@pytest.mark.parametrize("seq", ["3", None, 0, -1, 2**53, 3.5])
async def test_a_place_that_cannot_be_told_is_waited_for_by_nobody(door: Door, seq: Any) -> None:
    item_id = (await door.item())["item_id"]
    unread = door.make(a_fact(item_id, "materials", "tin"), device_seq=seq)
    [answer] = await door.send(unread)
    assert answer["problem"]["code"] == "unreadable"
    assert await door.send(unread) == [answer], "and sent again it fills no second place"
    await door.refused(a_fact(door.ids.id(), "materials", "oak"))
    door.next_seq += 1  # one that is still on its way
    [answer] = await door.send(door.make(a_fact(door.ids.id(), "materials", "oak")))
    assert answer["outcome"] == "waiting"


async def test_what_another_device_could_not_hand_in_has_its_place_in_its_own(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    unread = door.make(a_fact(item_id, "materials", "x" * 8001))
    other = door.other()
    [at_other] = await other.send(unread)
    other.next_seq += 1  # one that is still on its way
    [waits] = await other.send(other.make(a_fact(door.ids.id(), "materials", "oak")))
    assert waits["outcome"] == "waiting", "what was made elsewhere fills no place of this one's"
    [at_its_own] = await door.send(unread)
    assert at_its_own["office_seq"] > at_other["office_seq"]
    assert await door.refused(a_fact(door.ids.id(), "materials", "oak")) == "not_found"
    assert await aside(door) == [unread, unread]
    assert await door.faults() == []


async def test_a_line_that_is_too_long_is_named(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    [answer] = await door.send(
        door.make(a_finding(door.ids, item_id, "nose", extent_words="x" * 401)),
    )
    assert "extent_words" in answer["problem"]["detail"]
    assert "400" in answer["problem"]["detail"]


@pytest.mark.parametrize("sent", [7, None, "text", [], {}, {"operation_id": "x"}])
async def test_what_is_no_operation_at_all_is_answered(door: Door, sent: Any) -> None:
    [answer] = await door.send(sent)
    assert answer["problem"]["code"] == "unreadable"
    assert await door.faults() == []


async def test_another_operation_under_a_known_id_is_refused(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    first = door.make(a_fact(item_id, "materials", "tin"))
    changed = {**first, "value": "brass"}
    [kept] = await door.send(first)
    [refused] = await door.send(changed)
    assert refused["problem"]["code"] == "operation_id_reused"
    assert await door.send(first, changed) == [kept, refused]
    assert await door.value(item_id, "materials") == "tin"
    assert await aside(door) == [changed]
    assert await door.faults() == []


async def test_what_was_taken_in_under_an_id_of_its_own_is_answered_as_that_and_nothing_else_is(
    door: Door,
) -> None:
    """So one stands in the log that came by a copy, where another device's has the id that it was made with."""
    item_id = (await door.item())["item_id"]
    first = await door.keep(a_fact(item_id, "materials", "tin"))
    made = {**door.make(a_fact(item_id, "maker", "Thorn")), "operation_id": first["operation_id"]}
    [kept] = await door.send({**made, "operation_id": own_id(first["operation_id"], door.device_id)})
    assert await door.send(made) == [{**kept, "operation_id": first["operation_id"]}]
    [refused] = await door.send({**made, "value": "Ash"})
    assert refused["problem"]["code"] == "operation_id_reused"


async def test_personal_words_come_with_salt(door: Door) -> None:
    """Without it anybody with the log could find a telephone number by trying them all."""
    visit_id = (await door.item())["visit_id"]
    for salt in ("", "0" * 31, "x" * 32):
        telephone = a_consignor(visit_id, "telephone", "01632 960001", salt=salt)
        assert await door.refused(telephone) == "unreadable"


@pytest.mark.parametrize(
    "as_typed", [str.lower, lambda tag: tag.replace("0", "O"), lambda tag: tag.replace("1", "I")]
)
@pytest.mark.parametrize("member", ["first_tag", "last_tag"])
async def test_a_rolls_numbers_are_written_as_on_its_tags(door: Door, as_typed: Any, member: str) -> None:
    day_id = (await door.keep(a_day(door.ids)))["day_id"]
    tag = next(tag for tag in codes(40_000) if {"0", "1", "A"} <= set(tag))
    kind, roll = a_roll(door, day_id, tag, 1)
    [answer] = await door.send(door.make((kind, {**roll, member: as_typed(tag)})))
    assert answer["problem"]["code"] == "unreadable"
    assert "as on a tag" in answer["problem"]["detail"]


async def test_a_roll_past_the_last_number_is_refused_with_words(door: Door) -> None:
    day_id = (await door.keep(a_day(door.ids)))["day_id"]
    kind, roll = a_roll(door, day_id, list(codes(SERIALS - 40))[-1], 1)
    [answer] = await door.send(door.make((kind, {**roll, "count": 5})))
    assert answer["problem"]["code"] == "unreadable"
    assert "There are no 5 numbers" in answer["problem"]["detail"]


async def test_a_rolls_id_used_twice_is_refused_with_words(door: Door) -> None:
    day_id = (await door.keep(a_day(door.ids)))["day_id"]
    roll = await door.keep(a_roll(door, day_id, next(codes(5000)), 10))
    again = a_roll(door, day_id, next(codes(9000)), 10, roll_id=roll["roll_id"])
    answers = await door.send(door.make(again), door.make(a_visit(door.ids, day_id)))
    assert [answer["outcome"] for answer in answers] == ["refused", "kept"]
    assert answers[0]["problem"]["code"] == "already_there"


class Mistake(Exception):
    """A mistake of ours."""


async def test_a_mistake_of_ours_is_answered_for_the_one_operation(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In the middle of applying, after something was done: that one's changes are taken back, the others go on."""
    item = await door.item()
    put = Record.put

    def put_or_fail(record: Record, name: str, value: Any, source: Any) -> None:
        put(record, name, value, source)
        if name.startswith("tags/") and record.record_id == item["item_id"]:
            raise Mistake

    monkeypatch.setattr(Record, "put", put_or_fail)
    other = door.make(an_item(door.ids, item))
    sent = [
        door.make(a_fact(item["item_id"], "materials", "tin")),
        door.make(a_tie(item["item_id"], "7K3-QW5")),
        other,
        door.make(a_tie(other["item_id"], "0002D4")),
        door.make(a_fact(item["item_id"], "maker", "unmarked")),
    ]
    answers = await door.send(*sent)
    assert [answer["outcome"] for answer in answers] == ["kept", "refused", "kept", "kept", "kept"]
    assert answers[1]["problem"]["code"] == "operation_fault"
    assert await door.send(*sent) == answers
    assert await door.faults() == []


async def test_a_corrected_office_takes_what_met_a_mistake_of_ours(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its id was kept free: sent again it is new, from its device or out of a copy; and only once."""
    item_id = (await door.item())["item_id"]
    sent = door.make(a_fact(item_id, "materials", "tin"))

    def fail(*_: Any) -> None:
        raise Mistake

    with monkeypatch.context() as mistaken:
        mistaken.setattr(Record, "put", fail)
        [answer] = await door.send(sent)
        assert await door.send(sent) == [answer]
    assert answer["problem"]["code"] == "operation_fault"
    assert await door.faults() == []
    [answer] = await door.send(sent)
    assert answer["outcome"] == "kept"
    assert await door.send(sent) == [answer]
    assert await door.value(item_id, "materials") == "tin"
    assert await door.faults() == []


async def test_a_mistake_that_shows_only_when_a_record_is_written(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    item_id = (await door.item())["item_id"]

    def show(records: Any, record: Record) -> None:
        if record.value("materials") == "ether":
            raise Mistake

    monkeypatch.setitem(VIEWS, "item", [*VIEWS["item"], show])
    answers = await door.send(
        door.make(a_fact(item_id, "maker", "unmarked")),
        door.make(a_fact(item_id, "materials", "ether")),
        door.make(a_fact(item_id, "packaging", "box")),
    )
    assert [answer["outcome"] for answer in answers] == ["kept", "refused", "kept"]
    assert "materials" not in (await door.record(item_id))["fields"]
    assert await door.faults() == []


async def test_who_made_it_is_on_the_days_list(door: Door) -> None:
    item_id = (await door.item())["item_id"]
    assert await door.refused(a_fact(item_id, "materials", "tin"), made_by="nobody") == "person_not_on_day"
    await door.keep(a_fact(item_id, "maker", "unmarked"), made_by="")


async def test_a_person_who_may_be_on_the_way_is_waited_for(door: Door) -> None:
    """The manager adds a helper with no network, and the helper's first words arrive before."""
    item = await door.item()
    person = {"person_id": "ana", "name": "Ana Thistle", "roles": ["valuer"]}
    added = door.make(("add_person", {"day_id": item["day_id"], "person": person}))
    fact = door.make(a_fact(item["item_id"], "materials", "tin"), made_by="ana")
    assert [answer["outcome"] for answer in await door.send(fact)] == ["waiting"], "so the device keeps it"
    assert [answer["outcome"] for answer in await door.send(added, fact)] == ["kept", "kept"]


async def test_a_hat_that_changes_in_the_afternoon_refuses_no_work_of_the_morning(door: Door) -> None:
    """She values at ten and carries from three on; her phone is heard at four. Her clock is a day ahead, as well."""
    item = await door.item()

    async def wears(hat: str, at: str) -> None:
        person = {"person_id": "ana", "name": "Ana Thistle", "roles": [hat], "left": False}
        await door.keep(
            ("add_person", {"day_id": item["day_id"], "person": person}), made_at=f"2026-03-14T{at}Z"
        )

    await wears("valuer", "09:40:00")
    await wears("porter", "15:00:00")
    table = door.other("table")
    table.clock_off_s = 24 * 3600
    morning, evening = "2026-03-15T10:00:00.000Z", "2026-03-15T15:30:00.000Z"
    await table.keep(a_fact(item["item_id"], "materials", "tin"), made_by="ana", made_at=morning)
    refused = await table.refused(a_fact(item["item_id"], "maker", "none"), made_by="ana", made_at=evening)
    assert refused == "hat_does_not_fit"
    before = a_fact(item["item_id"], "packaging", "box")
    assert (
        await table.refused(before, made_by="ana", made_at="2026-03-15T09:00:00.000Z") == "hat_does_not_fit"
    )
    assert await door.faults() == []


@pytest.mark.parametrize("count", [1, 3])
async def test_a_disk_that_fails_is_no_fault_of_an_operation(
    door: Door, monkeypatch: pytest.MonkeyPatch, count: int
) -> None:
    """Nothing is answered, or a good one would be refused for good: the devices keep all and send it again."""
    item_id = (await door.item())["item_id"]
    facts = [("materials", "tin"), ("maker", "unmarked"), ("packaging", "box")]
    sent = [door.make(a_fact(item_id, field, value)) for field, value in facts[:count]]
    error = sqlite3.OperationalError("database or disk is full")
    error.sqlite_errorcode = sqlite3.SQLITE_FULL

    def on_a_full_disk(*_: Any) -> None:
        raise error

    with monkeypatch.context() as full:
        full.setattr(KINDS["set_item"], "apply_to", on_a_full_disk)
        with pytest.raises(OfficeFull):
            await door.send(*sent)
    assert [answer["outcome"] for answer in await door.send(*sent)] == ["kept"] * count
    assert await door.faults() == []


async def test_what_goes_wrong_with_nothing_sent_has_an_end(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    """There is nothing to halve."""

    def fail(*_: Any) -> None:
        raise Mistake

    monkeypatch.setattr("intake.sync.operations.LogTail", fail)
    with pytest.raises(Mistake):
        await door.send()


@pytest.mark.parametrize("off_s", [0, 24 * 3600])
async def test_how_a_clock_was_put_right_is_said_of_what_left_something_alone(door: Door, off_s: int) -> None:
    """Of what was kept, and of what is contested; a refusal that left nothing was not applied otherwise either."""
    first = await door.item()
    second = await door.keep(an_item(door.ids, first))
    tag = next(codes(77))
    await door.keep(a_tie(first["item_id"], tag))
    other = door.other()
    other.clock_off_s = off_s
    made = [
        a_fact(door.ids.id(), "materials", "tin"),
        a_tie(second["item_id"], tag),
        a_fact(second["item_id"], "materials", "tin"),
    ]
    answers = await other.send(*(other.make(one, made_at="2026-03-15T10:00:00.000Z") for one in made))
    assert [answer["disagreement"] for answer in answers] == [False, True, False]
    assert [answer["outcome"] for answer in answers] == ["refused", "refused", "kept"]
    ruled = {"made_at": "2026-03-14T10:00:00.000Z"} if off_s else None
    assert [answer.get("ruled") for answer in answers] == [None, ruled, ruled]


async def test_the_hat_has_to_fit(door: Door) -> None:
    item = await door.item()
    for person_id, hats in (("otis", ["porter"]), ("ivo", ["cataloguer", "valuer"]), ("may", ["tea lady"])):
        person = {"person_id": person_id, "name": person_id.title(), "roles": hats}
        await door.keep(("add_person", {"day_id": item["day_id"], "person": person}))
    table = door.other("table")
    fact = a_fact(item["item_id"], "materials", "tin")
    assert await table.refused(fact, made_by="otis") == "hat_does_not_fit"
    await table.keep(fact, made_by="ivo")
    await table.keep(a_fact(item["item_id"], "packaging", "box"), made_by="may")
    grown = {"person_id": "otis", "name": "Otis", "roles": ["porter", "clerk"]}
    await door.keep(("add_person", {"day_id": item["day_id"], "person": grown}))
    await table.keep(a_fact(item["item_id"], "maker", "unmarked"), made_by="otis")


@pytest.mark.parametrize("currency", ["XXX", "GBX", "ZZZ", "XAU"])
async def test_money_comes_in_a_currency_that_there_is(door: Door, currency: str) -> None:
    """Source: ISO 4217: GBX and ZZZ are none, XXX is no currency, XAU is gold by weight."""
    kind, body = a_day(door.ids)
    [answer] = await door.send(door.make((kind, {**body, "currency": currency})))
    assert "ISO 4217" in answer["problem"]["detail"]


async def test_numbers_come_from_the_offices_own_share(door: Door) -> None:
    share = serials_of("", (2, 5))
    await door.database.write(
        lambda tx: tx.run(
            "UPDATE office SET first_serial = :first, last_serial = :last", first=share[0], last=share[-1]
        )
    )
    day_id = (await door.keep(a_day(door.ids)))["day_id"]
    [answer] = await door.send(door.make(a_roll(door, day_id, next(codes(5000)), 10)))
    assert answer["problem"]["code"] == "numbers_of_another"
    free = answer["problem"]["hint"].split()[2].strip(",").replace("-", "")
    await door.keep(a_roll(door, day_id, free, 10))


def test_shares_leave_no_number_out_and_have_none_in_common() -> None:
    every = len(SYMBOLS) ** 5
    for of in (1, 2, 3, 7, 1000):
        shares = [serials_of("", (number, of)) for number in range(1, of + 1)]
        assert shares[0].start == 1
        assert shares[-1].stop == every
        assert all(one.stop == other.start for one, other in pairwise(shares))
    blocks = {serials_of(f"00000000-0000-4000-8000-{number:012x}", None) for number in range(2000)}
    assert len(blocks) == 255
    assert all(block.start > 0 and block.stop <= every for block in blocks)


@pytest.mark.parametrize("text", ["0/5", "6/5", "2", "a/b", "1/1001", "-1/5", ""])
def test_a_share_that_is_none_is_refused_in_words(text: str) -> None:
    with pytest.raises(ValueError, match="is no share of the numbers"):
        read_share(text)


def test_the_office_says_which_number_is_free(office: Office, manager: Phone, day: dict[str, Any]) -> None:
    told = manager.client.get("/labels/sheets").json()
    assert told["next_tag"] == next(codes(1))
    assert told["serials"] == {"first": 1, "last": 32**5 - 1}


async def test_a_record_is_opened_once(door: Door) -> None:
    item = await door.item()
    again = ("open_item", {name: item[name] for name in ("item_id", "visit_id", "day_id")})
    assert await door.refused(again) == "already_there"
    kind, opening = a_visit(door.ids, item["day_id"])
    assert await door.refused((kind, {**opening, "visit_id": item["visit_id"]})) == "already_there"
