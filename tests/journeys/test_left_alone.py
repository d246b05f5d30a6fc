"""What a red caution stops is left alone, by porter, visit and receipt; an incident stands until it is settled."""

from __future__ import annotations

import os
import re
from itertools import islice
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, expect

from intake.tagging.tags import codes, shown
from tests.builders import a_caution, a_crate, a_fact, a_tie, a_visit, an_item, put_in
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, add_ana, choose_at_desk, choose_name, go_to, pair
from tests.journeys.test_porter import another_count, key_in, move_to
from tests.phone import Phone

CRATE, ROUNDS, VASE = islice(codes(8100), 3)


def crate_with_rounds(phone: Phone, day: dict[str, Any]) -> dict[str, str]:
    """A crate with a tin that was tagged, packed, and only then found to be ammunition; a vase beside it."""
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    crate = phone.keep(a_crate(phone.ids, day["day_id"], CRATE))
    made = {"visit": str(visit["visit_id"]), "crate": str(crate["container_id"])}
    for name, tag in (("rounds", ROUNDS), ("vase", VASE)):
        item_id = made[name] = str(phone.keep(an_item(phone.ids, visit))["item_id"])
        phone.keep(a_fact(item_id, "class_id", "glass"))
        phone.keep(a_fact(item_id, "short_description", f"{name} of brass"))
        phone.keep(a_tie(item_id, tag))
    phone.keep(put_in(made["rounds"], made["crate"]))
    phone.keep(a_caution(phone.ids, made["rounds"], hazard="H02", still_allowed=[]))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    return made


def two_ends(one: Phone, other: Phone, day: dict[str, Any]) -> None:
    """Two devices settle one incident otherwise, neither having heard of the other."""
    incident = {"day_id": day["day_id"], "incident_id": one.ids.id(), "seen": None}
    seen = {"hazard": "H02", "level": "red", "sign": "brass cases", "ticket": "Q09", "place": "steps"}
    one.keep(("record_incident", {**incident, **seen, "seen_at": "2026-03-14T09:34:02.000Z"}))
    one.push()
    for phone, ended, name in (
        (one, "taken-away", "Hester Quillfeather"),
        (other, "by-mistake", "Ana Thistle"),
    ):
        end = {"ended": ended, "settled_by": name, "present": "", "words": ""}
        phone.keep(("settle_incident", {**incident, **end}))
        assert phone.push()[-1]["outcome"] == "kept"


def look(page: Page, name: str) -> None:
    """Pictures for whoever wants to see it: INTAKE_LOOK names a folder."""
    if folder := os.environ.get("INTAKE_LOOK"):
        for scheme in ("light", "dark"):
            page.emulate_media(color_scheme=scheme)
            page.screenshot(path=Path(folder) / f"{name}-{scheme}.png", full_page=True)


def test_what_is_stopped_is_left_alone_on_every_screen(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    add_ana(manager, day)
    made = crate_with_rounds(phone, day)
    two_ends(manager, phone, day)
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter")
    choose_name(page, "Hester Quillfeather")

    go_to(page, f"{office.address}/#/porter")
    expect(page.get_by_role("alert")).to_contain_text("ticket Q09, steps")
    where = f"{shown(ROUNDS)}, Ticket Q01, Table, in crate {shown(CRATE)} is stopped: rounds of brass."
    expect(page.get_by_role("alert")).to_contain_text(where)  # the hall reads where not to go
    page.get_by_role("button", name="Put into a container").click()
    page.get_by_label("Into").select_option(label=f"crate {shown(CRATE)}")
    key_in(page, VASE, "which is stopped: nothing goes in")
    another_count(page)
    move_to(page, "Van")
    key_in(page, ROUNDS, "is stopped. Nothing more is done with it: keep away.")
    key_in(page, CRATE, "holds rounds of brass, which is stopped. Nothing more is done with it")
    key_in(page, VASE, "to van")
    expect(page.locator(".counted")).to_have_text("1 counted")
    look(page, "porter")

    go_to(page, f"{office.address}/#/container/{made['crate']}")
    expect(page.get_by_role("alert")).to_contain_text("Nobody opens, moves, seals or checks this container")
    expect(page.get_by_role("heading", name="Seal")).to_have_count(0)
    expect(page.get_by_role("button", name="Check in")).to_have_count(0)
    look(page, "crate")

    go_to(page, f"{office.address}/#/visit/{made['visit']}")
    expect(page.get_by_role("alert")).to_contain_text("ticket Q09, steps")
    expect(page.get_by_role("link", name="rounds of brass")).to_contain_text("stopped")
    go_to(page, f"{office.address}/#/visit/{made['visit']}/receipt")
    expect(page.get_by_text("1 thing of this visit is stopped and not on the receipt")).to_be_visible()
    expect(page.get_by_role("link", name="Rounds of brass", exact=True)).to_be_visible()
    look(page, "receipt")

    go_to(page, f"{office.address}/#/item/{made['rounds']}")
    expect(page.get_by_role("alert")).to_contain_text("Nothing more is done with it: keep away.")
    expect(page.get_by_role("heading", name="Still missing")).to_have_count(0)
    expect(page.get_by_role("link", name="Next:")).to_have_count(0)
    look(page, "item")
    settle_it(open_browser, office, made["rounds"])
    assert office.faults() == []


def test_what_lies_beside_it_is_not_given_back(
    office: Office, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """Nobody opens the crate, so that its owner does not sign for what is shut in there."""
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    crate = phone.keep(a_crate(phone.ids, day["day_id"], CRATE))["container_id"]
    of = {}
    for name, tag in (("rounds", ROUNDS), ("vase", VASE)):
        item_id = of[name] = str(phone.keep(an_item(phone.ids, visit))["item_id"])
        phone.keep(a_fact(item_id, "short_description", f"{name} of brass"))
        phone.keep(a_tie(item_id, tag))
        phone.keep(put_in(item_id, crate))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    (page,) = open_browser("phone").pages
    pair(page, office, "table", "Table 1")
    go_to(page, f"{office.address}/#/item/{of['vase']}/tag")
    back = page.get_by_role("button", name="The owner takes it back")
    expect(back).to_be_visible()
    phone.keep(a_caution(phone.ids, of["rounds"], hazard="H02", still_allowed=[]))
    phone.push()
    shut = f"It lies in crate {shown(CRATE)} with rounds of brass, which is stopped: nobody opens that"
    expect(page.get_by_text(shut)).to_be_visible(timeout=45_000)
    expect(back).to_have_count(0)
    assert office.faults() == []


def settle_it(open_browser: Open, office: Office, rounds: str) -> None:
    """The desk is told, too; the closing shows what both said, and it stands until one of them is chosen."""
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    choose_at_desk(desk, "Hester Quillfeather")
    expect(desk.get_by_role("alert").filter(has_text="ticket Q09, steps")).to_be_visible()
    desk.get_by_role("link", name="Keep away. How it ended").click()
    expect(desk.get_by_text("Two people settled this otherwise")).to_be_visible()
    expect(desk.locator(".between .said")).to_have_text(
        [
            "Taken away by those called, settled by Hester Quillfeather.",
            "Stop was pressed by mistake, settled by Ana Thistle.",
        ]
    )
    look(desk, "contested")
    desk.get_by_role("button", name="This one holds").first.click()
    desk.get_by_role("alert").get_by_role("button", name="The other was a slip").click()
    expect(desk.locator(".between")).to_have_count(0)
    go_to(desk, f"{office.address}/#/queue")
    expect(desk.get_by_role("button", name="Show more").or_(desk.get_by_role("list").first)).to_be_visible()
    away = rf"^{shown(ROUNDS)}, Ticket Q01, Table, in crate {shown(CRATE)} is stopped: rounds of brass\."
    expect(desk.get_by_role("alert")).to_have_text(re.compile(away))
    desk.goto(f"{office.address}/#/entry/{rounds}")
    expect(desk.get_by_role("alert")).to_have_text(re.compile("Nothing more is done with it"))  # told once
