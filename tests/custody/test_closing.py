"""The closing of a day at the office says what a device says that holds the day: one set of cases for both."""

from __future__ import annotations

import json
import random
from datetime import UTC
from pathlib import Path
from typing import Any, cast

import pytest

from intake.custody.changed_since import changed_since
from intake.custody.closing_lines import Line, found_since, lines_of, said_beside, signed_beside
from intake.custody.day_closing import named_told
from intake.custody.day_on_record import DayOnRecord, day_on_record
from intake.custody.difference_kinds import KINDS, RAISED
from intake.custody.differences import Closing, Found
from intake.custody.in_parts import Hand, InParts
from intake.database import Reading
from intake.families import Asker
from intake.reading import as_read, stored_many
from intake.records.contested import contested_beside
from intake.records.record import Record
from intake.records.values import Disagreement, FieldValue, compact
from tests.app_rules import said_by_app
from tests.builders import Ids, a_fact
from tests.closings import a_closing, a_saying, found_at, whole_closing
from tests.conftest import Office
from tests.custody.test_custody import last_code
from tests.custody.test_receipts import a_receipt
from tests.door import Door, at_the_door
from tests.phone import Phone
from tests.sync.any_operation import AnyOperation

ROOT = Path(__file__).parents[2]
CASES: dict[str, Any] = json.loads((ROOT / "fixtures" / "closing.json").read_text("utf-8"))
NO_TABLES = cast(Reading, None)  # the records of a case stand in the case alone


def said(
    value: Any, made_by: str = "hester", made_at: str = "", device_id: str = "", device_seq: int = 0
) -> FieldValue:
    return FieldValue(value, "", made_by, made_at, device_id, device_seq, compact(value))


def change(records: dict[str, Record], case: dict[str, Any]) -> None:
    """Put a record as the cases write it beside those that there are: its values alone, by whoever `by` names, at
    `made_at`."""
    record_id = case["record_id"]
    if record_id not in records:
        head = {
            name: case[name]
            for name in case.keys()
            - {"values", "between", "record_id", "kind", "day_id", "made_at", "device_id", "device_seq"}
        }
        records[record_id] = Record(NO_TABLES, record_id, case["kind"], case["day_id"], 0, head, new=True)
    record = records[record_id]
    for name, value in case.get("values", {}).items():
        if value is None:
            record.fields.pop(name, None)
        else:
            record.fields[name] = said(
                value,
                case.get("by", "hester"),
                case.get("made_at", ""),
                case.get("device_id", ""),
                case.get("device_seq", 0),
            )
    record.fields = dict(sorted(record.fields.items()))
    for between in case.get("between", []):
        kept, other = (
            compact(said(between[which]).with_source(between[which])) for which in ("kept", "other")
        )
        record.disagreements[between["field"]] = Disagreement(
            between["field"], between["field"], 0, kept, other, None
        )


def closing_of(changes: list[dict[str, Any]]) -> Closing:
    records: dict[str, Record] = {}
    for one in [*CASES["in_order"], *changes]:
        change(records, one)
    of = {
        kind: [one for one in records.values() if one.kind == kind] for kind in ("visit", "item", "container")
    }
    [day] = [one for one in records.values() if one.kind == "day"]
    return Closing(
        DayOnRecord(day, of["visit"], of["item"], of["container"]),
        lambda item: CASES["plans"].get(item.value("class_id")),
        CASES["rows"],
        UTC,
        CASES["classes"],
    )


def differences_of(changes: list[dict[str, Any]]) -> list[list[str]]:
    return [list(found) for found in closing_of(changes).differences()]


@pytest.mark.parametrize("case", CASES["changed"], ids=lambda case: case["says"])
def test_the_office_names_what_was_changed_after_the_closing(case: dict[str, Any]) -> None:
    closing = closing_of(case["changes"])
    assert [list(one) for one in changed_since(closing.day, closing.called)] == case["changed"]


@pytest.mark.parametrize("case", CASES["gave_way"], ids=lambda case: case["says"])
def test_the_office_tells_what_was_said_and_signed_by_whoever_gave_way(case: dict[str, Any]) -> None:
    day = closing_of(case["changes"]).day.day
    closed = day.value("closed")
    assert said_beside(day, lines_of(day, closed)) == case["beside"]
    assert signed_beside(day, closed) == case["signed"]


@pytest.mark.parametrize("case", CASES["cases"], ids=lambda case: case["says"])
def test_the_office_names_what_a_device_names(case: dict[str, Any]) -> None:
    assert [found[:3] for found in differences_of(case["changes"])] == case["differences"]


@pytest.mark.parametrize("case", CASES["cases"], ids=lambda case: case["says"])
def test_of_what_not_everyone_reads_devices_are_told_that_two_differ(case: dict[str, Any]) -> None:
    """The app's tests give its records what the case names; this is what the office sends."""
    told = [one["family"] for item in closing_of(case["changes"]).day.items for one in contested_beside(item)]
    assert told == case.get("not_read_by_all", [])


@pytest.mark.parametrize("case", CASES["renamed"], ids=lambda case: case["says"])
def test_a_difference_is_known_by_what_it_is_of_and_not_by_names(case: dict[str, Any]) -> None:
    """What was signed of it holds under another name, and it does not come a second time; nor does one that was signed
    by a closing of before, until a name in it changes."""

    def of_kind(changes: list[dict[str, Any]]) -> Found:
        [found] = [one for one in closing_of(changes).differences() if one.kind == case["kind"]]
        return found

    before, after = of_kind(case["changes"]), of_kind([*case["changes"], *case["then"]])
    assert after.key == before.key
    assert after.words != before.words, "the name stands in it"
    signed = Line(before.key, before.words, "It is known")
    formerly = Line(before.former, before.words, "It is known")
    assert [*found_since([after], [signed])] == []
    assert [*found_since([before], [formerly])] == []
    [told] = named_told([signed], [after], {})
    [told_formerly] = named_told([formerly], [before], {})
    assert (told["is_found"], told_formerly["is_found"]) == (True, True)


async def said_last(door: Door, item_id: str, field: str) -> str | None:
    said = (await door.record(item_id, "desk"))["fields"].get(field)
    return said and str(said["operation_id"])


async def test_whoever_may_not_read_what_two_differ_on_names_that_they_do(door: Door, tmp_path: Path) -> None:
    """A porter, the table of another owner, the owner's own and a manager: as many lines as the office, in its order,
    and to the first two no word of what was said."""
    item = await door.item()
    other = door.other("table")
    item_id, day_id = item["item_id"], item["day_id"]
    for field in ("told_words", "materials", "told_words"):
        await door.keep(
            a_fact(item_id, field, f"marker {field} here", seen=await said_last(door, item_id, field))
        )
        await other.keep(a_fact(item_id, field, f"marker {field} there"))
    whole, found = await door.database.read(lambda tx: both_sides(tx, day_id))
    askers = {
        who: Asker(device_id, role, day_id)
        for who, role, device_id in (
            ("porter", "porter", "another"),
            ("another table", "table", "another"),
            ("own table", "table", door.device_id),
            ("manager", "manager", "another"),
        )
    }
    ids = [record["record_id"] for record in whole["records"]]
    told = {
        who: await door.database.read(
            lambda tx, asker=asker: [  # type: ignore[misc]
                b"".join(pieces).decode() for pieces in as_read(tx, asker, stored_many(tx, ids), asked=False)
            ]
        )
        for who, asker in askers.items()
    }
    days = [{**whole, "records": [json.loads(text) for text in texts]} for texts in told.values()]
    assert [words for kind, words, *_ in found if kind == "disagreement"] == [
        f"Q01, an item not named yet: two people set {name} otherwise"
        for name in ("materials", "told by the owner", "told by the owner")
    ]
    for who, named in zip(told, named_here(days, tmp_path / "days.json"), strict=True):
        assert named == found, who
    reads = {who: "marker told_words" in "".join(texts) for who, texts in told.items()}
    assert reads == {"porter": False, "another table": False, "own table": True, "manager": True}


def test_a_third_that_is_called_as_two_were_has_come_since() -> None:
    records: dict[str, Record] = {}
    change(records, CASES["in_order"][0])
    untagged = "Q01, an item not named yet: no tag is on it"
    closed = {"closed_by": "Hester", "second_by": "Ana", "named": [untagged, untagged]}
    change(records, {"record_id": "d", "values": {"closed": closed}})
    found = [Found("item-without-tag", untagged, "", f"item-without-tag {number}") for number in range(3)]
    for count, since in ((3, 1), (2, 0), (1, 0)):
        lines = lines_of(records["d"], closed)
        assert len([*found_since(found[:count], lines)]) == since


def test_a_day_in_order_has_nothing_to_name() -> None:
    assert differences_of([]) == []


async def test_a_record_that_somebody_has_is_the_same_one_until_they_let_go(door: Door) -> None:
    """By its place or with others, with what a closing goes by alone."""
    item = await door.item()
    await door.keep(a_fact(item["item_id"], "materials", "tin"))
    await door.keep(a_fact(item["item_id"], "maker", "a maker"))
    ids = [item["visit_id"], item["item_id"]]

    def job(tx: Reading) -> None:
        hand = Hand(tx, frozenset({"materials"}), {}, 10**6)
        parts = InParts(hand, ids)
        second = parts[1]
        assert (second.record_id, [*second.fields]) == (ids[1], ["materials"])
        assert [one.record_id for one in parts[:2]] == [one.record_id for one in parts] == ids
        assert parts[1] is second is parts[1:][0]
        hand.let_go()
        assert parts[1] is second

    await door.database.read(job)


def test_the_kinds_are_those_of_the_app() -> None:
    """Their order and what is raised by hand are said on both sides; the app's list is read as it is written."""
    written = (ROOT / "web" / "job" / "closing_kinds.ts").read_text("utf-8")
    keys = written[written.index("export const KINDS") :]
    places = [keys.index(f'"{kind}"') for kind in KINDS]
    assert places == sorted(places)
    assert keys.count("\n  [") + keys.count("\n  raised(") == len(KINDS)
    for kind, words in RAISED.items():
        assert f'["{kind}", "{words}"]' in written


#: Kinds from which differences follow come often.
OFTEN = (
    *("open_item", "open_item", "open_visit", "open_container", "tie_tag", "tie_tag", "tie_tag"),
    *("record_move", "record_move", "put_inside", "count_load", "merge_item", "raise_caution"),
    *("decide_caution", "settle_disagreement", "set_item", "attach_photo", "examine_rest", "sign_receipt"),
    *(
        "issue_roll",
        "spoil_tag",
        "set_visit",
        "check_in",
        "raise_difference",
        "record_incident",
        "remove_tag",
    ),
)


#: A class with a plan in the words that any operation has, so that some things are whole and others are not.
PLANS = {
    "tin": {
        "refer_only": False,
        "zones": [{"zone": "head", "members": []}, {"zone": "back", "members": ["left", "right"]}],
        "views": [{"view": "word", "words": "whole"}, {"view": "inside", "words": "inside, if it opens"}],
    }
}
ROUNDS, AT_ONCE, SEEDS = 16, 12, 8


FIRST = ("open_day", "open_visit", "open_item", "open_container")


async def a_planted_day(door: Door, seed: int) -> list[str]:
    """Play any operations on one or more days; the ids of the days."""
    chance = random.Random(seed)
    made = AnyOperation(chance, door.ids, door.device_id)
    items: list[str] = []
    for kinds in [FIRST, *(chance.choices(OFTEN, k=AT_ONCE) for _ in range(ROUNDS))]:
        operations = [made.make(kind) for kind in kinds]
        for operation in operations:
            if operation["kind"] == "set_item" and chance.random() < 0.7:
                operation["field"] = "class_id"
            for line in operation.get("lines", []):
                line["item_id"] = chance.choice([line["item_id"], *items])
        for operation, answer in zip(operations, await door.send(*operations), strict=True):
            if answer["outcome"] == "kept":
                made.learn(operation, disagreement=answer["disagreement"])
                items += [operation["item_id"]] if operation["kind"] == "open_item" else []
    return await door.database.read(
        lambda tx: [row[0] for row in tx.all("SELECT record_id FROM record WHERE kind = 'day'")]
    )


def both_sides(tx: Reading, day_id: str) -> tuple[dict[str, Any], list[list[str]]]:
    """A day as a device gets it, with its records as a porter's reads them, and what the office names of it."""
    rows = tx.all(
        "SELECT body FROM record WHERE day_id = :day_id ORDER BY head ->> 'opened_at', record_id",
        day_id=day_id,
    )
    records = [json.loads(row["body"]) for row in rows]
    found, once_more = (
        [
            list(one)
            for one in Closing(day, lambda item: PLANS.get(item.value("class_id")), {}, UTC).differences()
        ]
        for day in (day_on_record(tx, day_id), day_on_record(tx, day_id, in_hand=0))
    )
    assert once_more == found, "the same if each record is let go of as soon as the next is read"
    return {"records": records, "plans": PLANS, "rows": {}}, found


def named_here(days: list[dict[str, Any]], file: Path) -> list[list[list[str]]]:
    """What a device names of each of these days."""
    named: list[list[list[str]]] = said_by_app("closing_here.js", days, file)
    return named


async def test_planted_days_are_closed_alike_on_both_sides(tmp_path: Path) -> None:
    """Whatever was done on a day: a device that holds it names what the office does, in the same order."""
    days, named = [], []
    for seed in range(SEEDS):
        async with at_the_door(tmp_path / str(seed), Ids(seed)) as door:
            for day_id in await a_planted_day(door, seed):
                day, found = await door.database.read(lambda tx, day_id=day_id: both_sides(tx, day_id))  # type: ignore[misc]
                days.append(day)
                named.append(found)
    for here, there in zip(named_here(days, tmp_path / "days.json"), named, strict=True):
        assert here == there
    kinds = {kind for found in named for kind, *_ in found}
    assert kinds >= {"stopped", "held", "tag-on-two", "disagreement", "not-moved", "visit", "class", "zones"}


def test_a_desk_reads_the_closing_of_a_day_that_it_never_held(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], item: dict[str, Any]
) -> None:
    """The list of days leads to one, which is told with who closed it, its differences and its receipts."""
    desk = office.pair("desk").client
    phone.keep(a_receipt(phone, item))
    assert last_code(phone) is None
    here = found_at(manager, day["day_id"])
    gone = [
        {"key": f"left-behind {number}", "words": f"something {number} put right since"}
        for number in range(2500)
    ]
    named = [*here[:2], *gone]
    parts = [named[start : start + 200] for start in range(0, len(named), 200)]
    said = [manager.keep(a_saying(manager, day["day_id"], part, "It is known")) for part in parts]
    said.append(manager.keep(a_saying(manager, day["day_id"], here[2:], "The desk does it")))
    manager.keep(a_closing(day["day_id"], said))
    assert last_code(manager) is None

    [listed] = desk.get("/days").json()["days"]
    told = whole_closing(desk, listed["day_id"])

    assert listed["day_id"] == day["day_id"]
    assert listed["closed_at"]
    assert desk.get("/days", params={"before": listed["opened_seq"]}).json() == {"days": [], "next": None}
    assert (told["visits"], told["items"], told["containers"]) == (1, 1, 0)
    assert [one["kind"] for one in here] == [
        "receipt-changed",
        "visit",
        "not-moved",
        "item-without-tag",
        "class",
    ]
    assert list(told["sections"]) == ["named", "receipts"], "nothing has come since"
    lines = told["sections"]["named"]
    assert (len(lines), told["closed"]["named"], told["differences"]) == (2505, 2505, 0)
    assert [line["reason"] for line in lines if line["key"] == "left-behind 7"] == ["It is known"]
    found_still = {line["key"]: line["at"] for line in lines if line["is_found"]}
    assert found_still == {one["key"]: one["at"] for one in here}
    [visit] = told["sections"]["receipts"]
    assert [(one["what"], one["things"]) for one in visit["receipts"]] == [("left", 1)]
    assert phone.client.get("/days").status_code == 403
    assert phone.client.get(f"/days/{day['day_id']}/closing").status_code == 403
    assert desk.get(f"/days/{item['item_id']}/closing").status_code == 404
