"""A thing whose parts lie in two crates: each crate asks of what lies in it, and nothing covers what nobody saw."""

from __future__ import annotations

import re
from itertools import islice
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from intake.tagging.tags import codes, shown
from tests.builders import a_crate, a_fact, a_move, a_tie, a_visit, a_zone, an_item, put_in
from tests.closings import found_at
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, add_ana, all_is_done, choose_at_desk, go_to, pair
from tests.phone import Phone

CLOCK, PENDULUM, TOOLS, EFJ, EDN = islice(codes(8600), 5)


@pytest.fixture
def packed(manager: Phone, phone: Phone, day: dict[str, Any]) -> dict[str, str]:
    """A clock in one crate at the store, its pendulum and a box of five tools in another."""
    add_ana(manager, day)
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    clock, tools = (str(phone.keep(an_item(phone.ids, visit))["item_id"]) for _ in range(2))
    for item_id, class_id, name in ((clock, "clock", "mantel clock"), (tools, "tools", "box of tools")):
        phone.keep(a_fact(item_id, "class_id", class_id))
        phone.keep(a_fact(item_id, "short_description", name))
        phone.keep(a_zone(item_id, "base"))
    phone.keep(("tie_tag", {"item_id": clock, "tag": CLOCK, "piece": 1, "of": 2, "parts": True}))
    part = {"item_id": clock, "tag": PENDULUM, "piece": 2, "of": 2, "mark": "the pendulum and key"}
    phone.keep(("tie_tag", {**part, "parts": True}))
    phone.keep(a_tie(tools, TOOLS))
    phone.keep(("count_pieces", {"item_id": tools, "pieces": 5, "seen": None}))
    for words in ("plane", "mallet"):
        line = {"item_id": tools, "line_id": phone.ids.id(), "count": 1, "words": words, "withdrawn": False}
        phone.keep(("list_piece", {**line, "seen": None}))
    crates = {}
    for name, number in (("EFJ", EFJ), ("EDN", EDN)):
        crates[name] = str(phone.keep(a_crate(phone.ids, day["day_id"], number))["container_id"])
    phone.keep(put_in(tools, crates["EFJ"]))
    for tag, crate in ((CLOCK, "EDN"), (PENDULUM, "EFJ")):
        kind, body = put_in(clock, crates[crate])
        phone.keep((kind, {**body, "tag": tag}))
    for crate in crates.values():
        phone.keep(a_move(phone.ids, crate, "store"))
    answers = phone.push()
    assert {one["outcome"] for one in answers} == {"kept"}, answers
    return {"clock": clock, "tools": tools, **crates}


def open_crate(page: Page, office: Office, crate: str) -> None:
    go_to(page, f"{office.address}/#/container/{crate}")
    begin(page)


def begin(page: Page) -> None:
    page.get_by_role("button", name="Check in what is in it:").click()
    page.get_by_label("Second person").first.select_option(label="Hester Quillfeather")


def test_as_recorded_covers_no_part_in_another_crate(
    office: Office,
    manager: Phone,
    packed: dict[str, str],
    day: dict[str, Any],
    open_browser: Open,
) -> None:
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Ana Thistle")
    open_crate(page, office, packed["EFJ"])
    row = page.get_by_role("button", name=re.compile("Mantel clock"))
    if row.count():
        row.click()
    clock = page.get_by_role("article").filter(has_text="Mantel clock")
    expect(clock).to_contain_text(f"only this is compared: the pendulum and key, {shown(PENDULUM)}")
    clock.get_by_role("button", name="As recorded").click()
    all_is_done(page)
    expect(page.get_by_text("At the desk")).to_be_visible()
    of_other = [one for one in found_at(manager, day["day_id"]) if one["kind"] == "not-compared"]
    assert any(shown(EDN) in one["words"] for one in of_other), of_other

    go_to(page, f"{office.address}/#/container/{packed['EDN']}")
    expect(page.get_by_role("button", name="Check in what is in it: 1 to compare")).to_be_visible()
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    choose_at_desk(desk, "Hester Quillfeather")
    desk.get_by_role("link", name=re.compile("mantel clock")).click()
    main = desk.get_by_role("main")
    expect(main).to_contain_text(
        f"The pendulum and key, {shown(PENDULUM)}: compared as it was unpacked: as recorded"
    )
    expect(main).to_contain_text(f"The rest of it, {shown(CLOCK)}: not compared yet")

    begin(page)
    page.get_by_role("article").get_by_role("button", name="Differs").click()
    page.get_by_label("What differs").fill("the glass is broken")
    all_is_done(page)
    expect(page.get_by_text("At the desk")).to_be_visible()
    expect(main).to_contain_text(f"The rest of it, {shown(CLOCK)}: compared as it was unpacked: differs")
    expect(main).to_contain_text("the glass is broken")
    expect(main).not_to_contain_text("not compared yet")
    kinds = [one["kind"] for one in found_at(manager, day["day_id"])]
    assert kinds.count("not-compared") == 1, "the tools"
    assert office.faults() == []


def test_what_differs_of_a_thing_of_several_pieces_is_counted_too(
    office: Office, manager: Phone, packed: dict[str, str], open_browser: Open
) -> None:
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Ana Thistle")
    open_crate(page, office, packed["EFJ"])
    row = page.get_by_role("button", name=re.compile("Box of tools"))
    if row.count():
        row.click()
    tools = page.get_by_role("article").filter(has_text="Box of tools")
    expect(tools.get_by_role("listitem")).to_contain_text(["Plane", "Mallet"])
    tools.get_by_role("button", name="Differs").click()
    tools.get_by_label("How many pieces are there").fill("4")
    tools.get_by_role("button", name="4 of 5: it differs").click()
    differs = page.get_by_label("What differs")
    expect(differs).to_have_value("4 of 5 pieces are there")
    differs.fill("the mallet is not in the box")
    all_is_done(page)
    expect(page.locator(".row").filter(has_text="Box of tools").last).to_contain_text("4 of 5 here")
    expect(page.get_by_text("At the desk")).to_be_visible()
    said = manager.record(packed["tools"])["fields"]["check-in"]["value"]
    assert (said["pieces"], said["of"], said["words"]) == (4, 5, "the mallet is not in the box")
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    choose_at_desk(desk, "Hester Quillfeather")
    desk.get_by_role("link", name=re.compile("box of tools")).click()
    noted = "4 of 5 pieces are there; the mallet is not in the box"
    expect(desk.get_by_role("main")).to_contain_text(noted)
    assert office.faults() == []
