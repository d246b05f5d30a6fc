"""What an authority takes away on the day has an end: it is at no table, and the desk keeps no red banner of it."""

from __future__ import annotations

import re
from itertools import islice
from typing import Any

from playwright.sync_api import expect

from intake.tagging.tags import codes
from tests.builders import a_caution, a_crate, a_decision, a_fact, a_tie, a_visit, an_item, put_in
from tests.conftest import Office
from tests.custody.test_receipts import a_receipt
from tests.journeys.conftest import DESK, Open, add_ana, choose_at_desk, go_to, next_screen, pair
from tests.journeys.test_count_left_open import loads_of
from tests.journeys.test_porter import key_in, move_to, press_twice
from tests.journeys.test_pressed_twice import at_the_desk
from tests.journeys.test_second_day import by_hand
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


def test_what_was_taken_away_after_it_was_signed_for_is_on_no_new_receipt(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """The owner reads that it is gone, and by whom, and signs for what is left."""
    add_ana(manager, day)
    ids = manager.ids
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q17"))
    tin, jug = (str(manager.keep(an_item(ids, visit))["item_id"]) for _ in range(2))
    lines = []
    for item, name, tag in ((tin, "tin of cartridges", "7K3QW5"), (jug, "jug", "7K3QW6")):
        manager.keep(a_fact(item, "short_description", name))
        manager.keep(a_tie(item, tag))
        lines.append({"item_id": item, "tags": [tag], "words": name, "class_id": None})
    manager.push()
    door = office.pair("door")
    door.keep(a_receipt(door, {"visit_id": visit["visit_id"], "item_id": tin}, lines=lines))
    assert door.push()[0]["outcome"] == "kept"
    caution = manager.keep(a_caution(ids, tin, hazard="H02", sign="brass cases"))
    gone = {"decided_by": "F. Wendle, disposal team", "place": "gone with the disposal team"}
    manager.keep(a_decision(tin, caution["caution_id"], "taken-away", **gone))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}

    page = open_browser("manager", size=DESK).pages[0]
    pair(page, office, "manager", "Manager's", person="Hester Quillfeather")
    go_to(page, f"{office.address}/#/visit/{visit['visit_id']}/receipt")
    since = page.locator(".bar", has_text="that an authority took it away: F. Wendle, disposal team")
    expect(since).to_contain_text("It is not here any more.")
    expect(since).not_to_contain_text("It now reads")
    page.get_by_role("button", name="Make a new receipt").click()
    left = page.locator("section").filter(has_text="Left with the house, to be signed")
    expect(left.get_by_role("listitem")).to_have_count(1)
    expect(left).to_contain_text("jug")
    expect(page.get_by_text("1 thing of this visit is stopped and not on the receipt")).to_be_visible()
    expect(page.get_by_text("Taken away by an authority.")).to_be_visible()
    assert office.faults() == []


def test_what_was_taken_away_out_of_a_crate_leaves_with_no_load(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """Of two things in a crate the police took one: the other is packed, and is all that there is to compare."""
    add_ana(manager, day)
    ids = manager.ids
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q17"))
    tin, jug = (str(manager.keep(an_item(ids, visit))["item_id"]) for _ in range(2))
    tag, of_tin, of_jug = islice(codes(9000), 3)
    crate = manager.keep(a_crate(ids, day["day_id"], tag))["container_id"]
    for item, name, number in ((tin, "tin of cartridges", of_tin), (jug, "jug", of_jug)):
        manager.keep(a_fact(item, "short_description", name))
        manager.keep(a_tie(item, number))
        manager.keep(put_in(item, crate))
    caution = manager.keep(a_caution(ids, tin, hazard="H02", sign="brass cases"))
    manager.keep(a_decision(tin, caution["caution_id"], "taken-away", place="gone with the police"))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}

    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Hester Quillfeather")
    go_to(page, f"{office.address}/#/container/{crate}")
    expect(page.get_by_role("button", name="Check in what is in it: 1 to compare")).to_be_visible()
    expect(page.get_by_text("tin of cartridges", exact=False)).to_have_count(0)
    expect(page.get_by_text("Something in it is stopped")).to_have_count(0)
    go_to(page, f"{office.address}/#/porter")
    move_to(page, "Van")
    key_in(page, tag, "to van")
    by_hand(page, 1, 0)
    page.get_by_label("Who drives").fill("Ana Thistle")
    press_twice(page)
    expect(page.locator(".dock").get_by_text("No seal is on record of")).to_be_visible()
    press_twice(page)
    expect(page.get_by_role("status").filter(has_text="What was counted is what was scanned")).to_be_visible()
    at_the_desk(page)
    ((load_id, load),) = loads_of(manager, day).items()
    assert load["packed"] == [{"container": tag, "numbers": [of_jug]}]
    go_to(page, f"{office.address}/#/load/{load_id}")
    expect(page.get_by_text("jug", exact=False).first).to_be_visible()
    expect(page.get_by_text("tin of cartridges", exact=False)).to_have_count(0)
    assert office.faults() == []
