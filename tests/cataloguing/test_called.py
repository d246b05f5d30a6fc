"""What stands on a row of the list, or is a filter's name, is found when it is typed."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from intake.cataloguing.called import ALWAYS, CALLED, marks_called
from intake.cataloguing.search import mark, words_in
from intake.setup.bootstrap import ROOT
from tests.app_rules import said_by_app
from tests.builders import a_caution, a_day, a_fact, a_finding, a_tie, a_visit, an_item
from tests.cataloguing.test_queue import ids_of
from tests.phone import Phone

CLOCK, DOLL, OWL, BACK = range(4)


@pytest.fixture
def things(phone: Phone, day: dict[str, Any]) -> list[str]:
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    opened = [str(phone.keep(an_item(phone.ids, visit))["item_id"]) for _ in range(4)]
    for item_id, class_id in zip(opened, ("clock", "doll", "soft-toy", "glass"), strict=True):
        phone.keep(a_fact(item_id, "class_id", class_id))
        phone.keep(a_fact(item_id, "short_description", f"thing {class_id[:1]}"))
    for item_id, tag in ((opened[DOLL], "7K3-QW5"), (opened[BACK], "00002Y")):
        phone.keep(a_tie(item_id, tag))
    phone.keep(
        ("remove_tag", {"item_id": opened[BACK], "tag": "00002Y", "why": "taken-back", "replaced_by": None})
    )
    phone.keep(a_finding(phone.ids, opened[DOLL], "head", severity=4))
    phone.keep(a_caution(phone.ids, opened[OWL], level="note", hazard="H54", sign="seen on its back"))
    for at, state in ((CLOCK, "described"), (DOLL, "picked-up")):
        phone.keep(("set_entry", {"item_id": opened[at], "state": state, "seen": None}))
    phone.keep(
        ("set_visit", {"visit_id": visit["visit_id"], "field": "table_id", "value": "t2", "seen": None})
    )
    assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    return opened


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("no tag", [CLOCK, OWL]),
        ("described", [CLOCK]),
        ("picked up", [DOLL]),
        ("note", [OWL]),
        ("back with its owner", [BACK]),
        ("clocks", [CLOCK]),
        ("stuffed", [OWL]),
        ("soft toys", [OWL]),
        ("dolls severe", [DOLL]),
        ("dolls slight", []),
        ("not signed for", [DOLL, BACK]),
        ("no picture", [CLOCK, DOLL, OWL, BACK]),
        ("none on record", [CLOCK, OWL, BACK]),
        ("vaseline", [OWL]),
        ("table", [CLOCK, DOLL, OWL, BACK]),
        ("class yet", []),
    ],
)
def test_the_words_of_filters_and_rows_find_what_bears_them(
    phone: Phone, things: list[str], typed: str, found: list[int]
) -> None:
    assert ids_of(phone, words=typed) == [things[at] for at in found]


def test_a_table_is_found_by_the_name_that_it_has_now(
    phone: Phone, day: dict[str, Any], things: list[str]
) -> None:
    table = {"day_id": day["day_id"], "table_id": "t2", "gone": False}
    phone.keep(("set_table", {**table, "name": "Stage left", "seen": None}))
    phone.push()
    assert ids_of(phone, words="stage left clocks") == [things[CLOCK]]
    assert ids_of(phone, words="stage right") == []
    assert ids_of(phone, words="table") == [], "by its number where no open day names it, and only there"


def test_what_two_open_days_call_a_table_finds_it_by_either(
    manager: Phone, phone: Phone, day: dict[str, Any], things: list[str]
) -> None:
    """A table that comes behind another one is asked for as well."""
    other = manager.keep(a_day(manager.ids))["day_id"]
    manager.push()
    for day_id, table_id, name in (
        (day["day_id"], "t2", "Stage left"),
        (other, "t2", "Gallery"),
        (day["day_id"], "t3", "Bar"),
    ):
        table = {"day_id": day_id, "table_id": table_id, "name": name, "gone": False, "seen": None}
        manager.keep(("set_table", table))
    manager.push()
    visit = phone.keep(a_visit(phone.ids, day["day_id"], ticket="Q02"))
    at_bar = phone.keep(an_item(phone.ids, visit))["item_id"]
    seat = {"visit_id": visit["visit_id"], "field": "table_id", "value": "t3", "seen": None}
    phone.keep(("set_visit", seat))
    phone.push()
    for name, found in (("stage", things), ("gallery", things), ("bar", [at_bar]), ("gall stage", things)):
        assert ids_of(phone, words=name) == found
    assert ids_of(phone, words="class yet") == [at_bar]


def test_one_letter_asks_what_is_on_the_thing_alone(phone: Phone, things: list[str]) -> None:
    """It begins a word by which nearly everything is called."""
    assert marks_called("n", ALWAYS) == []
    assert mark("is", "untagged") in marks_called("no", ALWAYS)
    assert ids_of(phone, words="zebra") == []


def test_the_office_knows_every_word_that_the_app_has_for_them(tmp_path: Path) -> None:
    said = said_by_app("called_here.js", {}, tmp_path / "given.json")
    bar = (ROOT / "web" / "parts" / "caution_bar.tsx").read_text("utf-8")
    levels = bar.partition("LEVEL_WORDS")[2].partition("}")[0]
    named = [
        *((mark("state", value), words) for value, words in said["LIST_STATES"]),
        *((mark("is", value), words) for value, words in said["TROUBLES"]),
        *(
            (mark("worst", "" if value == "none" else value), words)
            for value, words in said["SEVERITY_WORDS"]
        ),
        *(
            (mark("level", value), words)
            for value, words in re.findall(r'^  (\w+): "([^"]*)",$', levels, re.M)
        ),
    ]
    assert {of for of, _ in named} == set(CALLED)
    rows = {state: mark("state", state) for state in ("returned", "taken-away")}
    named += [(rows.get(value, mark("is", value)), words) for value, words in said["ROW_WORDS"].items()]
    lacking = [(of, words) for of, words in named if not set(words_in(words)) <= ALWAYS[of]]
    assert lacking == []
