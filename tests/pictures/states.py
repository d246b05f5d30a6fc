"""The offices that are looked at: the invented day, the same with the longest words, and an empty one."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from intake.demo.pictures import LARGE
from intake.demo.seed import seed_day
from intake.examination.plans import shipped_plans
from intake.settings import Settings
from tests.builders import Ids, a_caution, a_consignor, a_fact, an_item
from tests.closings import close_with_all
from tests.conftest import Clock, Office, in_own_loop, running
from tests.phone import Phone


@contextmanager
def an_office(folder: Path, *, empty: bool, across: int = LARGE) -> Iterator[Office]:
    """`across`: how many pixels wide the largest photos are; drawing them takes most of the time."""
    clock = Clock(datetime(2026, 3, 14, 18, 0, tzinfo=UTC))
    settings = Settings(folder, clock=clock, numbers=(1, 1))
    if not empty:
        in_own_loop(lambda: seed_day(settings, shipped_plans(), across=across))
    with running(settings, clock, Ids(seed=7)) as office:
        yield office


def records_of(phone: Phone) -> list[dict[str, Any]]:
    records: list[dict[str, Any]] = []
    after = 0
    while (page := phone.feed(after))["records"]:
        records += page["records"]
        after = page["cursor"]
    return records


def is_red(item: dict[str, Any]) -> bool:
    cautions = [field["value"] for name, field in item["fields"].items() if name.startswith("cautions/")]
    return any(caution["level"] == "red" for caution in cautions)


def of_the_day(office: Office) -> dict[str, str]:
    """Which things of the invented day the pictures are of: the one most was said of, one of which little is known."""
    phone = office.pair("manager", "Looking")
    records = records_of(phone)
    items = [record for record in records if record["kind"] == "item"]

    def count(record: dict[str, Any], family: str) -> int:
        return sum(name.startswith(f"{family}/") for name in record["fields"])

    full = max(items, key=lambda one: (count(one, "findings"), count(one, "photos")))
    plans = shipped_plans().plans
    bare = min(
        (
            one
            for one in items
            if plans[one["fields"]["class_id"]["value"]].zones and not count(one, "cautions")
        ),
        key=lambda one: (count(one, "zones"), len(one["fields"])),
    )
    stopped = next(one for one in items if is_red(one))
    containers = [record for record in records if record["kind"] == "container"]
    came = next(one for one in containers if value_of(one, "whereabouts", "to_place") == "store")
    container = next(one for one in containers if one is not came)
    contested = next(one for one in items if one["disagreements"])
    found = next(field for name, field in full["fields"].items() if name.startswith("findings/"))
    day = next(record for record in records if record["kind"] == "day")
    visit = next(
        record
        for record in records
        if record["kind"] == "visit" and record["fields"]["stage"]["value"] == "at-table"
    )
    table = visit["fields"]["table_id"]["value"]
    load = next(
        name.removeprefix("loads/")
        for name, field in day["fields"].items()
        if name.startswith("loads/") and "of_load" not in field["value"]
    )
    ids = {
        "day": day["record_id"],
        "load": load,
        "item": full["record_id"],
        "visit": visit["record_id"],
        "signed": full["visit_id"],
        "table": next(one["name"] for one in day["tables"] if one["table_id"] == table),
        "new": phone.keep(an_item(phone.ids, full))["item_id"],
        "bare": bare["record_id"],
        "stopped": stopped["record_id"],
        "container": container["record_id"],
        "came": came["record_id"],
        "contested": contested["record_id"],
        "differed": next(one for one in items if value_of(one, "check-in", "state") == "differs")[
            "record_id"
        ],
        "several": max(items, key=lambda one: one["fields"].get("pieces", {}).get("value") or 0)["record_id"],
        "longcase": put(phone, full, "clock", "mahogany longcase clock"),
        "letters": put(phone, full, "work-on-paper", "bundle of letters"),
        "found": found["value"]["zone"].replace("/", "%2F"),
        "fresh": plans[bare["fields"]["class_id"]["value"]].zones[1].zone,
    }
    phone.push()
    return ids


def value_of(record: dict[str, Any], field: str, member: str) -> Any:
    """A member of what a field says; None where it says nothing."""
    return record["fields"].get(field, {}).get("value", {}).get(member)


def put(phone: Phone, visit: dict[str, Any], class_id: str, words: str) -> str:
    """One more thing of a visit, of a kind that the invented day has none of; its id."""
    item = str(phone.keep(an_item(phone.ids, visit))["item_id"])
    phone.keep(a_fact(item, "short_description", words))
    phone.keep(a_fact(item, "class_id", class_id))
    return item


def at_length(office: Office, ids: dict[str, str]) -> None:
    """The longest words that fit, on the thing, the visit and the day that the pictures are of."""
    phone = office.pair("manager", "Writing at length")
    fields = {record["record_id"]: record["fields"] for record in records_of(phone)}

    def seen(record_id: str, field: str) -> str | None:
        value = fields[record_id].get(field)
        return str(value["operation_id"]) if value else None

    what = "press-moulded stoneware commemorative presentation jug with Silberlöffelschubladenschlüsselring badge, "
    owner = "Wilhelmina-Philippa Featherstonehaugh-Cholmondeley of Llanfairpwllgwyngyll-under-Oatenpipe"
    phone.keep(
        a_fact(
            ids["item"], "short_description", (what * 2)[:200], seen=seen(ids["item"], "short_description")
        )
    )
    phone.keep(a_consignor(ids["visit"], "name", owner, seen=seen(ids["visit"], "consignor/name")))
    phone.push()


class InTheEvening(Ids):
    """A day is closed after all that was done on it: before, everything would have been changed since then."""

    def instant(self) -> str:
        return "2026-03-14T17:59:00.000Z"


def close_the_day(office: Office, ids: dict[str, str]) -> None:
    """Two people end it with what stands open, and one reason."""
    manager, other = office.pair("manager", "Closing"), office.pair("table", "Their own")
    manager.ids = InTheEvening(seed=8)
    day = manager.record(ids["day"])
    people = [field["value"] for name, field in day["fields"].items() if name.startswith("people/")]
    closing, second = [person["name"] for person in people][:2]
    close_with_all(manager, ids["day"], by=closing, second=second, device=other.device_id)


def stop_one(office: Office, ids: dict[str, str]) -> None:
    """Somebody stops the thing that the pictures are of, and nobody has decided yet."""
    phone = office.pair("manager", "Stopping")
    phone.keep(a_caution(phone.ids, ids["item"]))
    phone.push()
