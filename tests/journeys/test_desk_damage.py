"""What was noted as a thing was unpacked becomes a finding at the desk, where no table has it any more."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.builders import a_fact, a_visit, a_zone, an_item
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, choose_at_desk, pair
from tests.phone import Phone

NOTED = "scroll broken off at the neck, and the table has a new crack"


@pytest.fixture
def violin(manager: Phone, day: dict[str, Any]) -> str:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q17"))
    item_id = str(manager.keep(an_item(manager.ids, visit))["item_id"])
    manager.keep(a_fact(item_id, "class_id", "stringed-instrument"))
    manager.keep(a_fact(item_id, "short_description", "violin in its case"))
    for zone in ("scroll", "table", "back", "ribs"):
        manager.keep(a_zone(item_id, zone, light="lamp"))
    compared = {"item_id": item_id, "state": "differs", "words": NOTED, "second_by": "Bram", "seen": None}
    manager.keep(("check_in", compared))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    return item_id


def test_the_desk_records_damage_of_the_way_as_findings(
    office: Office, manager: Phone, violin: str, open_browser: Open
) -> None:
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    choose_at_desk(desk, "Hester Quillfeather")
    desk.get_by_role("link", name=re.compile("violin in its case")).click()
    expect(desk.get_by_text("not recorded as a finding yet")).to_be_visible()
    desk.get_by_role("button", name="Record it as a finding: what differed as it was unpacked").click()
    form = desk.get_by_role("form", name="Record it as a finding: what differed as it was unpacked")
    expect(form.get_by_role("button", name="Write it first")).to_be_disabled()
    form.get_by_label("Where").select_option("scroll")
    form.get_by_label("Search all terms").fill("detached")
    expect(form.get_by_role("button", name="Say what it is")).to_be_disabled()
    form.get_by_role("button", name="Detached part", exact=True).click()
    form.get_by_role("button", name="Severe", exact=True).click()
    form.get_by_label("Note").fill("at the neck")
    form.get_by_role("button", name="Put it on record").click()
    expect(form).to_have_count(0)
    expect(desk.get_by_text("not recorded as a finding yet")).to_have_count(0)
    expect(desk.locator(".finding-line")).to_contain_text("scroll")
    expect(desk.get_by_text("Not graded: it differed")).to_have_count(0)

    again = "Record another finding: what differed as it was unpacked"
    desk.get_by_role("button", name=again).click()
    form = desk.get_by_role("form", name=again)
    form.get_by_label("Where").select_option("table")
    form.get_by_role("button", name="Crack", exact=True).click()
    form.get_by_label("Length, such as 12 mm").fill("long")
    expect(form.get_by_role("button", name="Give a length such as 12 mm")).to_be_disabled()
    form.get_by_label("Length, such as 12 mm").fill("4 cm")
    form.get_by_label("What showed it").select_option("loupe")
    form.get_by_role("button", name="Put it on record").click()
    expect(form).to_have_count(0)
    expect(desk.locator(".finding-line")).to_have_count(2)
    # The crack has grown: it is the one that was found before, and not a second one.
    desk.get_by_role("button", name=again).click()
    form = desk.get_by_role("form", name=again)
    form.get_by_label("Where").select_option("table")
    form.get_by_role("button", name="Crack", exact=True).click()
    form.get_by_role("button", name=re.compile("^Yes: ")).click()
    form.get_by_label("Length, such as 12 mm").fill("6 cm")
    form.get_by_role("button", name="Put it on record").click()
    expect(form).to_have_count(0)
    expect(desk.locator(".finding-line").filter(has_text="60 mm")).to_have_count(1)
    expect(desk.locator(".finding-line")).to_have_count(2)
    expect(desk.get_by_text("All at the desk").first).to_be_attached()

    fields = manager.record(violin)["fields"]
    found = {
        field["value"]["zone"]: field["value"]
        for name, field in fields.items()
        if name.startswith("findings/")
    }
    scroll, table = found["scroll"], found["table"]
    assert (scroll["term"], scroll["severity"], scroll["note"]) == ("detached-part", 4, "at the neck")
    assert scroll["light"] == "as-unpacked", "the lamp of the table did not show it"
    assert (table["extent_mm"], table["light"]) == (60, "as-unpacked")
    states = [(fields[f"zones/{zone}"]["value"][name]) for zone in found for name in ("state", "light")]
    assert states == ["finding", "lamp", "finding", "lamp"], "how its zone was examined stays"
    assert office.faults() == []


def test_which_piece_it_is_on_is_kept_without_a_number_or_asked_for(
    office: Office, manager: Phone, violin: str, open_browser: Open
) -> None:
    manager.keep(("count_pieces", {"item_id": violin, "pieces": 2, "seen": None}))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    choose_at_desk(desk, "Hester Quillfeather")
    desk.get_by_role("link", name=re.compile("violin in its case")).click()
    says = "Record it as a finding: what differed as it was unpacked"
    desk.get_by_role("button", name=says).click()
    form = desk.get_by_role("form", name=says)
    form.get_by_label("Where").select_option("scroll")
    form.get_by_label("Search all terms").fill("detached")
    form.get_by_role("button", name="Detached part", exact=True).click()
    form.get_by_role("button", name="Severe", exact=True).click()
    which = form.get_by_label("Which", exact=True)
    which.fill("the bows")
    expect(form.get_by_role("button", name="Say on how many of the 2 pieces that is")).to_be_disabled()
    which.fill("the case")
    form.get_by_role("button", name="Put it on record").click()
    expect(form).to_have_count(0)
    expect(desk.locator(".finding-line")).to_contain_text("the case")
    expect(desk.get_by_text("which was not noted")).to_have_count(0)
    expect(desk.get_by_text("All at the desk").first).to_be_attached()
    fields = manager.record(violin)["fields"]
    [found] = [field["value"] for name, field in fields.items() if name.startswith("findings/")]
    assert (found["piece_count"], found["piece_words"]) == (1, "the case")
    assert office.faults() == []
