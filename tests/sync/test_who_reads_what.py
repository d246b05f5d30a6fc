"""Who may read what: every field for every role, and every address that gives something away, with planted markers."""

from __future__ import annotations

import asyncio
import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from intake.access.devices import make_code, pair
from intake.access.known import KnownDevices
from intake.access.readings import Readings
from intake.arrival.items import WORDS
from intake.arrival.visits import first_name
from intake.cataloguing.search import mark
from intake.database import opened
from intake.errors import NotFound
from intake.families import FAMILIES, Asker, family_of
from intake.operation import KINDS
from intake.reading import AFTERWARDS, SETTLED_WITHIN, TAKEN_IN_WITHIN, as_read, is_over, stored, stored_many
from intake.records.in_hand import Records
from intake.records.registries import SHOWN_WITH, VIEWS
from intake.records.values import Source, compact
from intake.records.writing import in_pieces
from intake.sync.news import newest_change, news_since
from intake.sync.routes import BATCH_LIMIT
from tests.builders import (
    Ids,
    a_caution,
    a_consignor,
    a_crate,
    a_day,
    a_fact,
    a_move,
    a_tie,
    a_visit,
    a_zone,
    an_item,
    put_in,
)
from tests.closings import close
from tests.conftest import Office
from tests.door import RECEIVED_AT, Door
from tests.phone import Phone
from tests.sync.planted import Planted, set_visit

#: What the owner told, and what was typed of them as a thing went back.
TOLD = {"told_words", "finding-notes/", "handed/"}
ROLES = ("door", "table", "porter", "desk", "manager")
OWNER = {"consignor/", "kinds", "needs", "note", "settlement-notes/"}
#: What is the owner's on a visit alone.
OF_VISIT = {"photos/"}
#: What a device does not read of a record of its day, by its role; a table's of a visit of another table.
NOT_READ = {
    "door": {"consignor/signatures/", "called"},
    "table": {"consignor/signatures/"} | TOLD | OWNER,
    "own table": {"consignor/signatures/", "called"},
    "porter": {"consignor/signatures/", "called"} | TOLD | OWNER,
    "desk": {"consignor/signatures/"} | OWNER,
    "manager": {"consignor/signatures/", "called"},
}
#: What they read besides when they ask for that one record.
ASKED_FOR = {"desk": {"consignor/signatures/"} | OWNER, "manager": {"consignor/signatures/"}}


def fields_of(kind: str) -> dict[str, str]:
    """A field of each family that a record of this kind can have, by the family's name."""
    names = {
        name
        for of in KINDS.values()
        if kind in of.record_kinds
        for name in of.field_templates()
        if name[0] != "{"
    }
    if kind == "visit":
        names |= {
            "ticket",
            "bags",
            "kinds",
            "needs",
            "stage",
            "table_id",
            "item_count",
            "note",
            "private",
            "consignor/name",
        }
        names |= {"consignor/signatures/{receipt_id}"}
    if kind == "item":
        names |= WORDS | {"maker_certainty", "maker_evidence", "dates_certainty", "dates_evidence"}
    plain = {name.replace("{", "").replace("}", "") for name in names}
    return {family_of(name).key: name for name in plain}


async def read_by(door: Door, asker: Asker, record_id: str, *, asked: bool) -> str:
    def job(tx: Any) -> bytes:
        record = stored(tx, record_id)
        assert record
        [pieces] = as_read(tx, asker, [record], asked=asked)
        return b"".join(pieces)

    return (await door.database.read(job)).decode()


async def test_several_records_come_in_the_order_asked_each_once(door: Door) -> None:
    item = await door.item()
    asked = [item["item_id"], "none", item["day_id"], item["item_id"], item["visit_id"]]
    found = await door.database.read(lambda tx: stored_many(tx, asked))
    assert [record.record_id for record in found] == [item["item_id"], item["day_id"], item["visit_id"]]


@pytest.mark.parametrize("kind", ["day", "visit", "item", "container"])
async def test_every_field_is_read_by_whom_the_table_says(
    kind: str, door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    for shows in (VIEWS, SHOWN_WITH):
        monkeypatch.setitem(shows, kind, [])  # no page shows values such as these
    day = await door.keep(a_day(door.ids))
    visit = await door.keep(a_visit(door.ids, day["day_id"]))
    fields = fields_of(kind)
    record_id = door.ids.id()

    def plant(tx: Any) -> None:
        records = Records(tx, feed_after=2)
        newest = tx.value("SELECT max(office_seq) FROM operation_log")
        source = Source(door.ids.id(), "hester", door.ids.instant(), "elsewhere", 1, newest)
        record = records.open(record_id, kind, day["day_id"], {"visit_id": visit["visit_id"]}, source)
        for family, name in fields.items():
            record.put(name, f"marker of {family}", source)
        records.touch(record_id, newest + 1)
        records.write()

    await door.database.write(plant)
    assert len(fields) >= 3
    for who, not_read in NOT_READ.items():
        role = who.split()[-1]
        device_id = door.device_id if who == "own table" else "another"
        asker = Asker(device_id, role, day["day_id"])
        for asked in (False, True):
            text = await read_by(door, asker, record_id, asked=asked)
            hidden = not_read - ASKED_FOR.get(who, set()) if asked else not_read
            if role == "table" and kind != "visit":
                hidden = hidden | OWNER  # a visit alone is a table's own
            if role == "table" and kind == "container":
                hidden = hidden | {"handed/"}  # it is of no visit
            if kind == "visit" and hidden >= OWNER:
                hidden = hidden | OF_VISIT
            for family in fields:
                expected = family not in hidden
                assert (f'"marker of {family}"' in text) == expected, (who, family, asked)


def test_the_table_above_knows_every_family_that_is_hidden_from_somebody() -> None:
    hidden = {family.key for family in FAMILIES.values() if family.readers.name != "everyone"}
    assert hidden == OWNER | TOLD | {"consignor/signatures/", "called"}


def test_a_name_that_nobody_lists_is_the_offices_alone() -> None:
    for name in ("surprise", "surprises/1"):
        assert family_of(name).readers.name == "office"


async def at_table(door: Door, ticket: str, name: str, seat: str) -> str:
    """A visit that the door opened, with its owner at this table."""
    visit = await door.keep(a_visit(door.ids, door.day, ticket=ticket))
    visit_id = str(visit["visit_id"])
    await door.keep(a_consignor(visit_id, "name", name))
    await door.keep(set_visit(visit_id, "table_id", seat))
    await door.keep(set_visit(visit_id, "stage", "at-table", seen=visit["operation_id"]))
    return visit_id


async def test_a_table_reads_the_owners_at_it_now_and_what_the_others_are_called_by(door: Door) -> None:
    door.day = (await door.keep(a_day(door.ids)))["day_id"]
    here = await at_table(door, "Q01", "Mrs Ada Byrne-Marker", "seat 1")
    there = await at_table(door, "Q02", "Barnaby Tumblewick", "seat 2")
    table = door.other("table")

    async def names() -> dict[str, list[str]]:
        page = await table.feed(role="table", table_id="seat 1")
        return {
            record["record_id"]: [
                record["fields"][name]["value"]
                for name in ("consignor/name", "called")
                if name in record["fields"]
            ]
            for record in page["records"]
            if record["kind"] == "visit"
        }

    assert await names() == {here: ["Mrs Ada Byrne-Marker"], there: ["Barnaby"]}
    stage = (await door.record(here))["fields"]["stage"]["operation_id"]
    await door.keep(set_visit(here, "stage", "left", stage))
    assert await names() == {here: ["Ada"], there: ["Barnaby"]}, (
        "who has left is nobody's at a table any more"
    )


async def test_what_a_table_may_no_longer_read_comes_to_it_anew(door: Door) -> None:
    """So that the words on it are written over."""
    door.day = (await door.keep(a_day(door.ids)))["day_id"]
    visit_id = await at_table(door, "Q01", "Ada Byrne", "seat 1")
    table = door.other("table")
    cursor = (await table.feed(role="table", table_id="seat 1"))["cursor"]
    stage = (await door.record(visit_id))["fields"]["stage"]["operation_id"]
    await door.keep(set_visit(visit_id, "stage", "left", stage))
    page = await table.feed(cursor, role="table", table_id="seat 1")
    assert [record["record_id"] for record in page["records"]] == [visit_id]
    assert "Byrne" not in json.dumps(page)


async def test_a_visit_is_its_own_for_the_table_that_opened_it(door: Door) -> None:
    day = await door.keep(a_day(door.ids))
    table = door.other("table")
    visit = await table.keep(a_visit(door.ids, day["day_id"]))
    await table.keep(a_consignor(visit["visit_id"], "telephone", "07700 900001"))
    assert "07700" in json.dumps(await table.record(visit["visit_id"], "table"))
    assert "07700" not in json.dumps(await door.other("table").record(visit["visit_id"], "table"))


OWN_VISITS = json.loads((Path(__file__).parents[2] / "fixtures" / "own-visits.json").read_text("utf-8"))


@pytest.mark.parametrize("case", OWN_VISITS, ids=[case["case"] for case in OWN_VISITS])
async def test_whose_a_visit_is_the_office_says_as_the_device_does(case: dict[str, Any], door: Door) -> None:
    """tests/web/own_visits.test.js reads the same cases."""
    day = await door.keep(a_day(door.ids))
    devices = {"this table": door.other("table"), "another device": door}
    visit = await devices[case["opened_by"]].keep(a_visit(door.ids, day["day_id"]))
    visit_id, seen = visit["visit_id"], {"stage": visit["operation_id"]}
    await door.keep(a_consignor(visit_id, "telephone", "07700 900001"))
    for who, field, value in case["said"]:
        said = await devices[who].keep(set_visit(visit_id, field, value, seen.get(field)))
        seen[field] = said["operation_id"]
    read = await devices["this table"].record(visit_id, "table", table_id=case["seat"])
    assert ("07700" in json.dumps(read)) == case["own"]


async def test_the_feed_has_one_day_and_the_list_of_the_others(door: Door) -> None:
    """Of another day a device reads what it is and who works there, and no record of it."""
    item = await door.item()
    other = await door.item()
    here, there = item["day_id"], other["day_id"]
    incident = {
        "day_id": there,
        "incident_id": door.ids.id(),
        "hazard": "H26",
        "level": "red",
        "sign": "marker",
    }
    where = {"ticket": "", "place": "", "seen_at": door.ids.instant(), "seen": None}
    await door.keep(("record_incident", {**incident, **where}))
    for role in set(ROLES) - {"desk"}:
        page = await door.feed(role=role, day_id=here)
        assert {record["day_id"] for record in page["records"] if record["kind"] != "day"} == {here}
        assert {record["record_id"] for record in page["records"] if record["kind"] == "day"} == {here, there}
        assert "marker" not in json.dumps(page), role
        assert (page["day_id"], page["day_over"]) == (here, False)
    people = next(record for record in page["records"] if record["record_id"] == there)["fields"]
    assert any(name.startswith("people/") for name in people)
    page = await door.feed(role="table", day_id="")
    assert {record["kind"] for record in page["records"]} == {"day"}, "of two open days a person chooses"


async def test_the_feed_of_a_day_is_paged_with_the_list_among_it(door: Door) -> None:
    here = (await door.item())["day_id"]
    await door.item()
    await door.keep(a_visit(door.ids, here, ticket="Q09"))
    whole = (await door.feed(role="table", day_id=here))["records"]
    found, cursor, more = [], 0, True
    while more:
        page = await door.feed(cursor, role="table", limit=2, day_id=here)
        found += page["records"]
        cursor, more = page["cursor"], page["more"]
    assert found == whole
    assert len(found) == 5


async def test_a_day_that_is_over_is_read_by_the_office_alone(door: Door) -> None:
    item = await door.item()
    day_id = item["day_id"]
    await close(door, day_id)
    assert len((await door.feed(role="porter", day_id=day_id))["records"]) == 3, (
        "things are still moved that night"
    )
    assert not await door.database.read(lambda tx: is_over(tx, day_id, door.now))
    door.now += AFTERWARDS + timedelta(seconds=1)
    for role in ("door", "table", "porter"):
        page = await door.feed(role=role, day_id=day_id)
        assert (page["records"], page["day_over"]) == ([], True)
        with pytest.raises(NotFound):
            await door.record(item["item_id"], role)
        with pytest.raises(NotFound):
            await door.history(item["item_id"], role)
    assert (await door.record(item["item_id"], "desk"))["record_id"] == item["item_id"]


async def test_what_is_on_its_way_is_every_porter_s_on_the_next_day_too(door: Door) -> None:
    """However long after the closing the van comes, on a device that was paired since too; nobody else's, and until it
    has come."""
    item = await door.item()
    before = item["day_id"]
    await door.keep(a_move(door.ids, item["item_id"], "van"))
    await close(door, before)
    here = (await door.item())["day_id"]
    door.now += AFTERWARDS + timedelta(hours=1)
    page = await door.feed(role="porter", day_id=here, limit=2)
    found = page["records"]
    while page["more"]:
        page = await door.feed(page["cursor"], role="porter", day_id=here, limit=2)
        found += page["records"]
    assert page["awaits"] == [before]
    assert [record["day_id"] for record in found].count(before) == 3
    assert len({record["record_id"] for record in found}) == len(found) == 6
    [day] = [record for record in found if record["record_id"] == before]
    assert day["fields"]["closed"]["value"]["named"], "whole, and not as in the list of days"
    assert not any("contact" in record["fields"] for record in found)
    assert (await door.record(item["item_id"], "porter"))["record_id"] == item["item_id"]
    for role in ("door", "table"):
        page = await door.feed(role=role, day_id=here)
        assert (page["awaits"], {record["day_id"] for record in page["records"]}) == ([], {here})
    own = await door.feed(role="porter", day_id=before)
    assert (own["awaits"], own["day_over"]) == ([before], True), (
        "its own day is over, and the van has not come"
    )
    await door.keep(a_move(door.ids, item["item_id"], "store"))
    assert (await door.feed(role="porter", day_id=here))["awaits"] == [before], "it is taken in, and compared"
    door.now = datetime.fromisoformat(RECEIVED_AT) + TAKEN_IN_WITHIN + timedelta(seconds=1)
    page = await door.feed(role="porter", day_id=before)
    assert (page["awaits"], {record["kind"] for record in page["records"]}) == ([], {"day"}), (
        "the list of days"
    )
    await door.keep(a_move(door.ids, item["item_id"], "van"))
    door.now += SETTLED_WITHIN
    assert (await door.feed(role="porter", day_id=here))["awaits"] == []


async def test_what_was_left_in_the_holding_area_is_every_porter_s_on_the_next_day_too(door: Door) -> None:
    """What was packed there went along with its crate, and keeps no day."""
    item = await door.item()
    before = item["day_id"]
    await door.keep(a_move(door.ids, item["item_id"], "holding"))
    await close(door, before)
    here = (await door.item())["day_id"]
    door.now += AFTERWARDS + timedelta(hours=1)
    assert (await door.feed(role="porter", day_id=here))["awaits"] == [before]
    assert (await door.record(item["item_id"], "porter"))["record_id"] == item["item_id"]
    assert (await door.feed(role="table", day_id=here))["awaits"] == []
    crate = await door.keep(a_crate(door.ids, before, "00002Y"))
    await door.keep(put_in(item["item_id"], crate["container_id"]))
    assert (await door.feed(role="porter", day_id=here))["awaits"] == []


async def test_a_device_that_is_paired_after_the_closing_works_on_that_day_until_it_is_over(
    door: Door,
) -> None:
    """The crate that was missing is received on whatever phone is at the store that night."""
    before = (await door.item())["day_id"]
    await close(door, before)
    closed = (await door.item())["day_id"]
    await close(door, closed)
    page = await door.feed(role="porter")
    assert (page["day_id"], page["day_over"], len(page["records"])) == (closed, False, 3)
    assert (await door.feed(role="desk"))["day_id"] == ""
    door.now += AFTERWARDS + timedelta(seconds=1)
    page = await door.feed(role="porter")
    assert (page["day_id"], page["records"]) == ("", [])
    opened = (await door.item())["day_id"]
    door.now -= AFTERWARDS + timedelta(seconds=1)
    assert (await door.feed(role="porter"))["day_id"] == opened


async def test_days_that_were_closed_are_not_in_a_new_device_s_list(door: Door) -> None:
    """It costs the same in a house's tenth year; who had read the list hears of the closing."""
    old = (await door.item())["day_id"]
    new = (await door.item())["day_id"]
    cursor = (await door.feed(role="table", day_id=new))["cursor"]
    await close(door, old)
    assert old not in json.dumps(await door.feed(role="table", day_id=new))
    [told] = (await door.feed(cursor, role="table", day_id=new))["records"]
    assert told["fields"]["closed"]["value"] == {
        "closed_by": "A",
        "second_by": "B",
        "named": [],
        "reasons": [],
    }


@pytest.mark.parametrize(
    ("typed", "called"),
    [
        ("Ada Byrne", "Ada"),
        ("Mrs. Ada Byrne", "Ada"),
        ("Byrne, Dr Ada", "Ada"),
        ("Mrs Byrne", ""),
        ("Mrs.Byrne", ""),
        ("Mrs.Ada Byrne", "Ada"),
        ("Byrne (Mrs)", ""),
        ("Captain Byrne", ""),
        ("Mr & Mrs Byrne", ""),
        ("Ada & Barnaby Byrne", "Ada"),
        ("Byrne & Sons Ltd", ""),
        ("Byrne Bros.", ""),
        ("The Byrne Trust", ""),
        ("BYRNE Ada", "Ada"),
        ("ADA BYRNE", "ADA"),
        ("BYRNE, ADA", "ADA"),
        ("J. BYRNE", "J."),
        ("A.B. Byrne", "A.B."),
        ("Byrne; Ada", "Ada"),
        ("ada.byrne@example.com", ""),
        ("Ada 07700 900077", ""),
        ("“Ada” Byrne", "Ada"),
        ("Ł. Byrne", "Ł."),
        ("?? Byrne", ""),
        ("Byrne,", ""),
        ("Byrne", "Byrne"),
        ("", ""),
        ("  ", ""),
    ],
)
def test_an_owner_is_called_by_the_first_name(typed: str, called: str) -> None:
    assert first_name(typed) == called


@pytest.mark.parametrize("role", ["manager", "desk"])
def test_nobody_reads_the_whole_house_by_leaving_the_day_away(
    office: Office, manager: Phone, day: dict[str, Any], role: str
) -> None:
    """Who may read every day asks for each thing: one address that told all would be the house's register, copied."""
    planted = Planted(office, manager, day)
    device = office.pair(role)
    for asked in ({}, {"day_id": ""}, {"limit": 2000}):
        text = device.client.get("/sync/feed", params=asked).text
        assert planted.day_id in text, "it is open"
        for one in (planted.item_id, planted.elsewhere_id, "Marker-Name", "marker-elsewhere"):
            assert one not in text, (asked, one)


def test_a_desk_s_reading_of_an_owner_is_noted(office: Office, manager: Phone, day: dict[str, Any]) -> None:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q07"))
    manager.keep(a_consignor(visit["visit_id"], "telephone", "07700 900001"))
    manager.push()
    desk = office.pair("desk", "Desk 1")
    assert "07700" not in desk.client.get("/sync/feed").text, "in a list a desk reads no owner"
    for _ in range(2):
        assert "07700" in desk.client.get(f"/records/{visit['visit_id']}").text
    manager.client.get(f"/records/{visit['visit_id']}").raise_for_status()
    [note] = manager.client.get("/readings").json()["readings"]
    assert (note["device_name"], note["ticket"]) == ("Desk 1", "Q07")
    assert desk.client.get("/readings").status_code == 403


async def test_where_a_device_works_is_known_after_it_was_written_down(tmp_path: Path, ids: Ids) -> None:
    """A picture is asked for between two readings of the feed, and after a start of the office."""
    now = datetime(2026, 3, 14, 18, tzinfo=UTC)
    async with opened(tmp_path / "file.sqlite3") as database:
        code = await database.write(lambda tx: make_code(tx, role="table", name="Table 1", now=now))
        device, secret = await database.write(
            lambda tx: pair(tx, typed=code.code, device_id=None, secret=None, now=now)
        )
        known = KnownDevices(database)
        await known.with_secret(secret, now)
        known.hear(device.device_id, now, day_id="day 1", table_id="table 2")
        known.hear(device.device_id, now, holding=3)
        for _ in range(2):
            heard = await known.with_secret(secret, now)
            assert (heard.day_id, heard.table_id, heard.holding) == ("day 1", "table 2", 3)
            await known.write_down()
        again = await KnownDevices(database).with_secret(secret, now)
        assert (again.day_id, again.table_id) == ("day 1", "table 2")


async def test_a_desk_keeps_the_open_days_and_nothing_that_came_to_them(door: Door) -> None:
    """It asks for each thing that it shows."""
    item = await door.item()
    day_id = item["day_id"]
    await door.keep(("count_load", a_load(door, day_id)))
    page = await door.feed(role="desk", day_id="")
    assert [record["record_id"] for record in page["records"]] == [day_id]
    assert any(name.startswith("loads/") for name in page["records"][0]["fields"]), "in full"
    assert (page["day_id"], page["day_over"]) == ("", False)
    assert item["item_id"] in json.dumps(await door.feed(role="manager", day_id=day_id))


def a_load(door: Door, day_id: str) -> dict[str, Any]:
    counted = dict.fromkeys(("crates", "pieces", "scanned_crates", "scanned_pieces"), 1)
    by = {"to_place": "van", "at": "", "given_by": "A", "taken_by": "B"}
    return {"day_id": day_id, "load_id": door.ids.id(), **by, **counted}


async def test_a_manager_works_on_a_closed_day_for_as_long_as_differences_are_settled(door: Door) -> None:
    day_id = (await door.item())["day_id"]
    await close(door, day_id)
    door.now += AFTERWARDS + timedelta(seconds=1)
    assert len((await door.feed(role="manager", day_id=day_id))["records"]) == 3
    door.now += SETTLED_WITHIN
    page = await door.feed(role="manager", day_id=day_id)
    assert (page["records"], page["day_over"]) == ([], True)


async def test_a_day_that_was_left_open_is_closed_at_a_manager_s_device_however_long_it_has(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Which rule holds is told by who asks, also where a house gives the hall as long as the office."""
    monkeypatch.setattr("intake.reading.SETTLED_WITHIN", AFTERWARDS)
    day_id = (await door.item())["day_id"]
    door.now += timedelta(days=4000)
    for role, reads in (("manager", 3), ("table", 0)):
        page = await door.feed(role=role, day_id=day_id)
        assert (len(page["records"]), page["day_over"]) == (reads, not reads), role


async def test_news_name_what_changed_to_those_who_read_all(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    item = await door.item()
    first = await door.database.read(lambda tx: news_since(tx, None, "desk", ""))
    assert first.changed is None, "nobody has been told anything before"
    await door.keep(a_fact(item["item_id"], "short_description", "owl"))
    news = await door.database.read(lambda tx: news_since(tx, first.cursor, "desk", ""))
    [(record_id, kind, place, day_id, marks, found)] = news.changed or []
    was = found.pop("was").split()
    assert [name for name in was if name not in marks.split()] == ["isunnamed"], (
        "it is counted otherwise by now"
    )
    assert found == {"words": "owl", "marks": True, "beside": item["visit_id"]}
    assert (record_id, kind, day_id) == (item["item_id"], "item", item["day_id"])
    assert isinstance(place, int), "its place in the list"
    assert marks.split()[:3] == ["listed", mark("day", item["day_id"]), "statewaiting"]
    table = await door.database.read(lambda tx: news_since(tx, first.cursor, "table", ""))
    assert (table.cursor, table.changed) == (news.cursor, None)
    monkeypatch.setattr("intake.sync.news.NAMED", 3)
    for _ in range(4):
        await door.keep(an_item(door.ids, item))
    many = await door.database.read(lambda tx: news_since(tx, first.cursor, "desk", ""))
    assert many.changed is None


async def test_news_name_so_many_and_no_more_and_nothing_to_a_device_that_is_ahead(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The office was put back as it had been before: what the device read last it does not know, so it looks again."""
    item = await door.item()
    first = await door.database.read(newest_change)
    for _ in range(3):
        await door.keep(an_item(door.ids, item))

    async def named(since: int) -> list[str] | None:
        news = await door.database.read(lambda tx: news_since(tx, since, "desk", ""))
        return None if news.changed is None else [row[0] for row in news.changed]

    every = await named(first)
    assert every is not None
    for most, told in ((len(every) - 1, None), (len(every), every)):
        monkeypatch.setattr("intake.sync.news.NAMED", most)
        assert await named(first) == told
    newest = await door.database.read(newest_change)
    assert (await named(newest), await named(newest + 1)) == ([], None)


async def test_news_name_the_things_that_are_listed_and_found_by_what_changed_of_their_visit(
    door: Door,
) -> None:
    """Their rows show its ticket, and are searched for by that and by its owner's name."""
    item = await door.item()
    visit_id, first = item["visit_id"], await door.database.read(newest_change)

    async def named(made: tuple[str, dict[str, Any]]) -> list[str]:
        nonlocal first
        await door.keep(made)
        news = await door.database.read(lambda tx: news_since(tx, first, "desk", ""))
        first = news.cursor
        return [row[0] for row in news.changed or []]

    for field, value, things in [
        ("ticket", "Q77", [item["item_id"]]),
        ("table_id", "2", [item["item_id"]]),
        ("note", "comes again", []),
    ]:
        seen = (await door.record(visit_id))["fields"].get(field, {}).get("operation_id")
        assert await named(set_visit(visit_id, field, value, seen)) == [visit_id, *things], field
    for field, things in [("name", [item["item_id"]]), ("telephone", [])]:
        assert await named(a_consignor(visit_id, field, "07700 900077")) == [visit_id, *things], field


async def test_news_say_what_of_a_thing_is_found_otherwise(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    """So a desk that searches asks for nothing that cannot have come to fit, nor for a row that is the `same`; an
    owner's words are in no news."""
    monkeypatch.setattr("intake.sync.news.WORDS_TOLD", len("worn tin ombre"))
    item = await door.item()
    item_id, first = item["item_id"], 0

    async def found(*made: tuple[str, dict[str, Any]]) -> Any:
        nonlocal first
        for one in made:
            await door.keep(one)
        news = await door.database.read(lambda tx: news_since(tx, first, "desk", ""))
        first = news.cursor
        told = next(row[5] for row in news.changed or [] if row[0] == item_id)
        # How it was counted before, and what its visit's other things show of it: tests/cataloguing/test_news_name.py.
        return {name: what for name, what in told.items() if name not in ("was", "beside")}

    assert (await found(a_fact(item_id, "maker", "Ombre")))["listed"], "it is new"
    assert await found(a_zone(item_id, "rim")) == {}, "a zone is no word and no mark"
    assert await found(a_fact(item_id, "materials", "tin")) == {"words": "tin ombre", "same": True}
    assert await found(("set_entry", {"item_id": item_id, "state": "picked-up", "seen": None})) == {
        "marks": True
    }
    assert await found(a_consignor(item["visit_id"], "name", "Gloamwell")) == {"listed": True, "same": True}
    await door.keep(a_fact(item_id, "seen_words", "worn"))
    assert await found(a_zone(item_id, "base")) == {"words": "worn tin ombre"}, "since it was heard last"
    too_long = a_fact(item_id, "concluded_words", "of a later time")
    assert await found(too_long) == {"listed": True, "same": True}
    assert await door.faults() == []


async def test_news_name_a_thing_that_is_shown_otherwise_for_what_a_record_behind_it_says(door: Door) -> None:
    item = await door.item()
    front, behind = item["item_id"], (await door.keep(an_item(door.ids, item)))["item_id"]
    first = await door.database.read(newest_change)

    async def named(made: tuple[str, dict[str, Any]]) -> set[str]:
        nonlocal first
        await door.keep(made)
        news = await door.database.read(lambda tx: news_since(tx, first, "desk", ""))
        first = news.cursor
        return {row[0] for row in news.changed or []}

    merge = {"item_id": behind, "into_id": front, "why": "twice", "seen": None}
    assert await named(("merge_item", merge)) == {front, behind}
    assert await named(a_caution(door.ids, behind, level="amber")) == {front, behind}
    seen = (await door.record(behind))["fields"]["merged"]["operation_id"]
    assert await named(("merge_item", {**merge, "into_id": None, "seen": seen})) == {front, behind}
    assert await named(a_fact(behind, "materials", "tin")) == {behind}, "they are two things now"
    assert await door.faults() == []


async def test_news_name_a_thing_whose_number_was_tied_to_another_one_as_well(door: Door) -> None:
    """Its entry says so, and leads to both."""
    item = await door.item()
    holder, other = item["item_id"], (await door.keep(an_item(door.ids, item)))["item_id"]
    await door.keep(a_tie(holder, "0002D4"))
    first = await door.database.read(newest_change)
    assert await door.refused(a_tie(other, "0002D4")) == "tag_taken"
    news = await door.database.read(lambda tx: news_since(tx, first, "desk", ""))
    assert {row[0] for row in news.changed or []} == {holder, other}
    assert await door.faults() == []


async def test_whatever_a_device_sends_at_once_is_named(door: Door) -> None:
    """A phone that comes back from a week without a line: a desk asks for what it shows of that alone."""
    item = await door.item()
    first = await door.database.read(newest_change)
    await door.send(*(door.make(an_item(door.ids, item)) for _ in range(BATCH_LIMIT)))
    news = await door.database.read(lambda tx: news_since(tx, first, "desk", ""))
    assert len(news.changed or []) >= BATCH_LIMIT


@pytest.mark.parametrize("fields", [{}, {"materials": "tin – ½"}])
@pytest.mark.parametrize("disagreements", [[], [{"field": "maker"}]])
@pytest.mark.parametrize("parts", [[], ["fields"], ["disagreements"], ["fields", "disagreements"]])
def test_parts_are_put_in_behind_what_everyone_reads(
    fields: dict[str, Any], disagreements: list[Any], parts: list[str]
) -> None:
    """Whether or not something stands there. Checked against the standard library's reader of JSON."""
    body = compact({"fields": fields, "disagreements": disagreements}).encode()
    more = {"fields": b'"needs":"a chair","called":"Q04"', "disagreements": b'{"field":"needs"}'}
    part = (
        more["fields"] if "fields" in parts else b"",
        more["disagreements"] if "disagreements" in parts else b"",
    )
    pieces = in_pieces(body, body.index(b'},"disagreements"'), [(b"", b""), part])
    assert json.loads(b"".join(pieces)) == {
        "fields": {**fields, **({"needs": "a chair", "called": "Q04"} if part[0] else {})},
        "disagreements": [*disagreements, *([{"field": "needs"}] if part[1] else [])],
    }


async def test_a_search_that_stands_is_written_down_by_itself(
    door: Door, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Neither by the next search nor by the housekeeping of the office, which comes every half minute."""
    for module in ("readings", "searches"):
        monkeypatch.setattr(f"intake.access.{module}.SETTLES", timedelta())
    now = datetime(2026, 3, 14, 18, tzinfo=UTC)
    readings = Readings(door.database, lambda: now)
    readings.note_search(Asker("a desk", "desk"), "smithers", ["a visit"], 1, now)
    words = None
    async with asyncio.timeout(30):  # as long as a busy machine takes, and no fewer reads than that
        while words is None:
            words = await door.database.read(lambda tx: tx.value("SELECT words FROM reading_note"))
    assert words == "smithers"
