"""What an authority takes away on the day has an end: it is at no table, and the desk keeps no red banner of it."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import expect

from tests.builders import a_caution, a_fact, a_tie, a_visit, an_item
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, add_ana, choose_at_desk, go_to, next_screen, pair
from tests.phone import Phone


def test_what_was_taken_away_is_at_no_table_and_waits_for_nobody(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    add_ana(manager, day)
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q17"))
    tin = str(manager.keep(an_item(manager.ids, visit))["item_id"])
    manager.keep(a_fact(tin, "short_description", "tin of cartridges"))
    manager.keep(a_tie(tin, "7K3-QW5"))
    manager.keep(a_caution(manager.ids, tin, hazard="H02", sign="brass cases"))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    desk, glance = (open_browser(role, size=DESK).pages[0] for role in ("desk", "manager"))
    pair(desk, office, "desk", "Desk")
    choose_at_desk(desk, "Hester Quillfeather")
    pair(glance, office, "manager", "Manager's", person="Hester Quillfeather")
    road = glance.locator(".road")
    expect(road).to_contain_text("Table1thing")
    expect(road).to_contain_text("Stopped1")
    desk.get_by_role("link", name=re.compile("tin of cartridges")).click()
    expect(desk.locator(".entry .caution-bar.red")).to_be_visible()
    with next_screen(desk):
        desk.locator(".entry .caution-bar a").click()
    desk.get_by_role("button", name=re.compile("decided|decision")).first.click()
    decided = desk.get_by_role("group", name="Decided", exact=True)
    decided.get_by_role("button", name="Taken away by an authority").click()
    desk.get_by_label("Decided by").fill("F. Wendle, disposal team")
    desk.get_by_label("Where it goes, and who saw it go").fill("gone with the disposal team")
    desk.get_by_role("button", name="Record the decision").click()
    expect(desk.get_by_text("It is not here any more.")).to_be_visible()
    expect(desk.get_by_text("All at the desk").first).to_be_attached()

    go_to(desk, f"{office.address}/#/queue")
    states = desk.get_by_role("region", name="State")
    expect(states).to_contain_text("Taken away")
    expect(states).not_to_contain_text("Waiting")
    row = desk.get_by_role("link", name=re.compile("tin of cartridges"))
    expect(row).to_contain_text("taken away")
    expect(row).not_to_contain_text("stopped")
    row.click()
    expect(desk.locator(".entry .caution-bar")).to_contain_text(
        "Gone with the disposal team, as was decided."
    )
    expect(desk.locator(".entry .caution-bar.red")).to_have_count(0)
    expect(road).to_contain_text("Taken away1")
    expect(road).not_to_contain_text("Stopped")
    expect(road).not_to_contain_text("Table1")
    # Nobody signs that it was left here, and no porter counts it on.
    go_to(glance, f"{office.address}/#/visit/{visit['visit_id']}/receipt")
    expect(glance.get_by_text("tin of cartridges").first).to_be_visible()
    expect(glance.get_by_text("To sign for")).to_have_count(0)
    go_to(glance, f"{office.address}/#/porter")
    glance.get_by_role("button", name="Van", exact=True).click()
    glance.get_by_label("Given by").select_option(label="Ana Thistle")
    glance.get_by_label("or key it in").fill("7K3-QW5")
    glance.keyboard.press("Enter")
    expect(glance.get_by_text("was taken away: gone with the disposal team")).to_be_visible()
    assert office.faults() == []
