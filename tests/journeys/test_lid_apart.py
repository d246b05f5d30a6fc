"""A part of a set packed apart under a number of its own: what it is on is said, and no piece is missed for it."""

from __future__ import annotations

import re
from itertools import islice
from typing import Any

from playwright.sync_api import Page, expect

from intake.tagging.tags import codes, shown
from tests.builders import a_crate, a_fact, a_move, a_visit, an_item
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, choose_at_desk, go_to, next_screen, pair
from tests.journeys.test_lost_number import key_in
from tests.journeys.test_one_item import tie_by_key
from tests.journeys.test_pieces import counted_with_no_network
from tests.phone import Phone

SET, LID, CASE, PENDULUM, FIRST, SECOND = islice(codes(8400), 6)


def say_part(page: Page, words: str) -> None:
    page.get_by_label("What this number is on").fill(words)


def test_a_lid_with_a_number_of_its_own_is_named_wherever_that_is_shown(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    phone, page = counted_with_no_network(open_browser, office, 14, "part tea set")
    item = page.url
    tie_by_key(page, SET)
    page.get_by_role("button", name="One more: a part of it is packed apart").click()
    main = page.get_by_role("main")
    expect(main).to_contain_text("1 of its 2 numbers is not tied yet.")
    expect(main).to_contain_text("14 pieces were counted, and 2 numbers are on parts of it.")
    key_in(page, LID)
    expect(page.get_by_role("button", name="Say what it is on")).to_be_disabled()
    say_part(page, "the lid")
    page.get_by_role("button", name=f"Tie {shown(LID)} to the lid").click()
    expect(main).to_contain_text("Its 2 numbers are tied.")
    expect(main).not_to_contain_text(re.compile("piece 1|piece 2|counted otherwise"))
    rows = main.locator(".row")
    expect(rows.filter(has_text=shown(SET))).to_contain_text("the rest of it")
    lid = rows.filter(has_text=shown(LID))
    lid.get_by_role("button", name="It is on another part").click()
    say_part(page, "the cover of the teapot")
    lid.get_by_role("button", name="Its number is on that").click()
    expect(lid).to_contain_text("the cover of the teapot")
    go_to(page, item)
    expect(page.get_by_role("main")).to_contain_text(f"{shown(LID)} (the cover of the teapot)")
    with next_screen(page):
        page.locator("header .back").click()  # the visit that it is of
    expect(page.locator(".item-row .tags")).to_have_text(re.compile(r"and the cover of the teapot$"))
    phone.set_offline(False)
    expect(page.get_by_text("At the desk")).to_be_visible()
    assert office.faults() == []


def test_a_clock_in_two_crates_is_described_and_one_with_its_pendulum_in_the_van_is_not(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(manager.ids, day["day_id"]))
    clock = str(manager.keep(an_item(manager.ids, visit))["item_id"])
    manager.keep(a_fact(clock, "short_description", "longcase clock"))
    crates = []
    for piece, (tag, part) in enumerate(((CASE, "the case"), (PENDULUM, "the pendulum")), 1):
        tied = {"item_id": clock, "tag": tag, "piece": piece, "of": 2, "mark": part, "parts": True}
        manager.keep(("tie_tag", tied))
        crate = manager.keep(a_crate(manager.ids, day["day_id"], (FIRST, SECOND)[piece - 1]))
        crates.append(crate["container_id"])
        inside = {"thing_id": clock, "container_id": crates[-1], "tag": tag, "seen": None}
        manager.keep(("put_inside", inside))
        manager.keep(a_move(manager.ids, crates[-1], "store"))
    assert [answer["problem"] for answer in manager.push() if answer["problem"]] == []
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    choose_at_desk(desk, "Hester Quillfeather")
    desk.get_by_role("link", name=re.compile("longcase clock")).click()
    finish = desk.get_by_role("region", name="Described or not")
    expect(finish).to_contain_text(
        f"Its parts lie apart, each accounted for: {shown(CASE)}, the case, in crate {shown(FIRST)}, store; "
        f"{shown(PENDULUM)}, the pendulum, in crate {shown(SECOND)}, store."
    )
    finish.get_by_role("button", name="Described, next").click()
    expect(finish.get_by_role("heading", name="Still open")).to_be_visible()
    expect(finish.get_by_role("heading", name="Not described")).to_have_count(0)
    finish.get_by_role("button", name="Not yet").click()

    manager.keep(a_move(manager.ids, crates[1], "van"))
    manager.push()
    expect(finish).not_to_contain_text("Its parts lie apart")
    finish.get_by_role("button", name="Described, next").click()
    expect(finish.get_by_role("alert")).to_contain_text(
        f"{shown(PENDULUM)}, the pendulum, in crate {shown(SECOND)}, van (on its way)."
    )
    assert office.faults() == []
