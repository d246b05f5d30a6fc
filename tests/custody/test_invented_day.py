"""The invented day, seeded into a real office, comes out with its totals."""

from __future__ import annotations

import json
from collections import Counter
from typing import Any

import pytest

from intake.custody.day_on_record import day_on_record
from intake.custody.differences import Closing, Found
from intake.custody.plan_used import plans_used
from intake.database import Reading
from intake.examination.kinds_of import plan_for
from intake.examination.plans import load_plans
from intake.web_folder import fixtures_folder
from tests.demo.records import records_of, seeded_into

DAY = fixtures_folder() / "day.json"

# The totals that the scenario was written with (invented).
ITEMS_BY_CLASS = {
    "arms": 3,
    "book-map": 7,
    "camera-scientific": 7,
    "ceramics": 10,
    "clock": 5,
    "doll": 6,
    "free": 5,
    "furniture": 4,
    "glass": 5,
    "jewellery": 8,
    "medal-coin": 6,
    "painting": 5,
    "silver-plate": 9,
    "soft-toy": 8,
    "stringed-instrument": 5,
    "textile-rug": 7,
    "tinplate-diecast": 8,
    "watch": 4,
    "work-on-paper": 8,
}


#: What the evening has to name: each difference of another kind, so that each is seen once, and what was stopped.
DIFFERENCES = [
    "no-receipt",
    "visit",
    "not-moved",
    "new-damage",
    "load-short",
    "not-arrived",
    "not-compared",  # of a crate at the store some things were compared, and others not
    *("stopped",) * 4,
    "held",  # what waits in isolation, its owner gone: all of it in one line
    "disagreement",
    "passed-over",
    "zones",
    "views",
]

#: What was looked at by itself though what is round it was not, as its name and zone.
SEEN_ALONE = {
    ("violin, bears label", "label"),
    ("violin, bears label", "sound-post"),
    ("county survey, lacks one map", "map-folds"),
}

Seeded = tuple[list[dict[str, Any]], list[Found]]


@pytest.fixture(scope="module")
def seeded(tmp_path_factory: pytest.TempPathFactory) -> Seeded:
    """Every record of the day as the feed has it, and what its closing has to name."""
    plans = load_plans().plans

    def job(tx: Reading) -> Seeded:
        records = records_of(tx)
        (day_id,) = (record["record_id"] for record in records if record["kind"] == "day")
        closing = Closing(day_on_record(tx, day_id), plans_used(tx, plans), {})
        return records, [*closing.differences()]

    return seeded_into(tmp_path_factory.mktemp("day"), job)


@pytest.fixture
def day(seeded: Seeded) -> list[dict[str, Any]]:
    return seeded[0]


def test_the_closing_names_a_dozen_differences_each_of_another_kind_and_what_was_stopped(
    seeded: Seeded,
) -> None:
    assert [kind for kind, *_ in seeded[1]] == DIFFERENCES


def test_where_things_are_is_what_was_decided(day: list[dict[str, Any]], seeded: Seeded) -> None:
    """What went with the police is named as that; who gave a thing back is a person of the day's list."""
    people = {person["name"] for person in json.loads(DAY.read_text("utf-8"))["people"]}
    assert any("decided: gone with the police" in found[1] for found in seeded[1])
    moves = [
        field["value"] for one in day for name, field in one["fields"].items() if name.startswith("moves/")
    ]
    assert {move["given_by"] for move in moves} <= people
    assert {move["taken_by"] for move in moves} <= people | {"the owner"}


def test_what_is_held_apart_is_shut_into_no_box(day: list[dict[str, Any]]) -> None:
    """Luminous paint gives off a gas, and mercury lies in no box that is turned. Source: the cautions' own rows."""
    held = [
        item
        for item in day
        if item["kind"] == "item" and any(name.startswith("cautions/") for name in item["fields"])
    ]
    assert len(held) > 3
    for item in held:
        assert item["fields"].get("inside", {"value": None})["value"] is None, item["record_id"]


def test_the_day_comes_out_with_its_totals(day: list[dict[str, Any]]) -> None:
    kinds = Counter(record["kind"] for record in day)
    items = [record for record in day if record["kind"] == "item"]
    tags = [
        field["value"] for one in items for name, field in one["fields"].items() if name.startswith("tags/")
    ]
    assert (kinds["visit"], kinds["item"]) == (40, 120)
    assert Counter(one["fields"]["class_id"]["value"] for one in items) == ITEMS_BY_CLASS
    assert len(tags) == 90  # issued
    assert sum(tag["gone"] is None for tag in tags) == 89  # live at the end: the banjo went home
    (roll,) = (
        field["value"]
        for record in day
        if record["kind"] == "day"
        for name, field in record["fields"].items()
        if name.startswith("rolls/")
    )
    assert roll["count"] >= len(tags) + kinds["container"]


def test_a_sweep_clears_nothing_inside_what_was_not_seen(day: list[dict[str, Any]]) -> None:
    """As the screens have it: a balance under a shut movement is not seen, nor are hinges behind a sealed sheet."""
    shipped, shut = load_plans(), 0
    for item in (record for record in day if record["kind"] == "item"):
        fields = {name: field["value"] for name, field in item["fields"].items()}
        said = {name.removeprefix("zones/"): fields[name] for name in fields if name.startswith("zones/")}
        for zone in shipped.plans[fields["class_id"]].zones if said else []:
            outer = [said[name] for name in zone.inside if name in said]
            if zone.zone in said and any(one["state"] == "not-examined" for one in outer):
                shut += 1
                if said[zone.zone]["state"] == "clear":
                    assert (fields["short_description"], zone.zone) in SEEN_ALONE, zone.zone
    assert shut > 5


def test_things_come_with_their_views_and_findings_with_a_picture(day: list[dict[str, Any]]) -> None:
    """So that the closing names about a dozen things, and the store has something to compare with."""
    shipped = load_plans()
    called_away, seen = 0, 0
    for item in (record for record in day if record["kind"] == "item"):
        fields = {name: field["value"] for name, field in item["fields"].items()}
        photos = [value for name, value in fields.items() if name.startswith("photos/")]
        if not photos:
            continue  # it went home, or is left to a specialist
        class_id, seen = fields["class_id"], seen + 1
        plan = plan_for(shipped.plans[class_id], fields["short_description"])
        wanted = {view.view for view in plan.views if "if" not in view.words.split()}
        skipped = {name.removeprefix("views/") for name in fields if name.startswith("views/")}
        if wanted - skipped - {photo["view"] for photo in photos}:
            called_away += 1
            continue
        shown = {photo["finding_id"] for photo in photos}
        for name, finding in fields.items():
            if name.startswith("findings/") and finding["severity"] >= 2:
                assert name.removeprefix("findings/") in shown
        assert len({photo["sha256"] for photo in photos}) == len(photos), "each picture shows something else"
    assert seen == 89  # the banjo was photographed before it went home
    assert called_away <= 4
