"""What lies under a seal, and two seals of one crate: whoever looks says which holds, and nothing leaves unasked."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from typing import Any

from playwright.sync_api import expect

from intake.tagging.tags import shown
from tests.builders import a_crate, a_fact, a_move, a_tie, a_visit, an_item, put_in
from tests.closings import found_at
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, add_ana, choose_name, go_to, pair
from tests.journeys.test_left_alone import CRATE, ROUNDS, VASE
from tests.journeys.test_porter import key_in, move_to
from tests.phone import Phone


def a_seal(container_id: str, seal: str, state: str = "sealed") -> tuple[str, dict[str, Any]]:
    return "seal_container", {
        "container_id": container_id,
        "seal": seal,
        "state": state,
        "second_by": "Hester Quillfeather",
        "seen": None,
    }


def test_nothing_is_taken_out_of_a_sealed_crate_before_two_have_opened_it(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    crate = str(phone.keep(a_crate(phone.ids, day["day_id"], CRATE))["container_id"])
    item_id = str(phone.keep(an_item(phone.ids, visit))["item_id"])
    phone.keep(a_fact(item_id, "short_description", "vase"))
    phone.keep(a_tie(item_id, ROUNDS))
    phone.keep(put_in(item_id, crate))
    phone.keep(a_seal(crate, "7104"))
    phone.push()
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter")
    choose_name(page, "Hester Quillfeather")
    go_to(page, f"{office.address}/#/container/{crate}")
    take_out = page.get_by_role("button", name="Take out")
    expect(page.get_by_text("Its number shows once the one on it is keyed")).to_be_visible()
    take_out.click()
    asked = f"Crate {shown(CRATE)} is under a seal. Two people open it first"
    expect(page.get_by_text(asked)).to_be_visible()
    expect(page.get_by_label("Seal number")).to_be_focused()
    expect(page.get_by_text("7104")).to_have_count(0)
    assert manager.record(item_id)["fields"]["inside"]["value"] == {"container_id": crate}
    opened = a_seal(crate, "7104", "opened")
    seen = manager.record(crate)["fields"]["seal"]["operation_id"]
    phone.keep((opened[0], {**opened[1], "seen": seen}))
    phone.push()
    page.reload()
    expect(page.get_by_text("7104: opened by two")).to_be_visible()  # as heard, and not what a button offers
    take_out.click()
    expect(page.get_by_text("Nothing is in it, as far as was scanned.")).to_be_visible()
    assert office.faults() == []


def test_an_owner_takes_nothing_back_that_lies_under_a_seal(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    crate = str(phone.keep(a_crate(phone.ids, day["day_id"], CRATE))["container_id"])
    item_id = str(phone.keep(an_item(phone.ids, visit))["item_id"])
    phone.keep(a_tie(item_id, ROUNDS))
    phone.keep(put_in(item_id, crate))
    phone.keep(a_move(phone.ids, crate, "store"))
    phone.keep(a_seal(crate, "7104"))
    phone.push()
    page = open_browser("table").pages[0]
    pair(page, office, "table", "Table 1", person="Hester Quillfeather")
    go_to(page, f"{office.address}/#/item/{item_id}/tag")
    shut = f"It lies in crate {shown(CRATE)}, which is under the seal 7104: two people open that first"
    expect(page.locator(".bar").filter(has_text=shut)).to_be_visible()
    back = page.get_by_role("button", name="The owner takes it back")
    expect(back).to_have_count(0)
    opened = a_seal(crate, "7104", "opened")
    seen = manager.record(crate)["fields"]["seal"]["operation_id"]
    phone.keep((opened[0], {**opened[1], "seen": seen}))
    phone.push()
    back.click()
    expect(page.get_by_text(f"It lies here: Store, inside crate {shown(CRATE)}.")).to_be_visible()
    page.locator(".dock").get_by_role("button", name="Give it back, and sign for it").click()
    expect(page.get_by_text("It is back with the owner.")).to_be_visible()
    assert office.faults() == []


def test_nothing_is_scanned_out_of_a_sealed_crate_or_into_it_and_what_was_is_told(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """A scan is asked about as the crate's own list is; what a device did that had not heard of the seal is named."""
    add_ana(manager, day)
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    crate = str(phone.keep(a_crate(phone.ids, day["day_id"], CRATE))["container_id"])
    made = {}
    for name, tag in (("bear", ROUNDS), ("clock", VASE)):
        made[name] = str(phone.keep(an_item(phone.ids, visit))["item_id"])
        phone.keep(a_fact(made[name], "short_description", name))
        phone.keep(a_tie(made[name], tag))
    phone.keep(put_in(made["bear"], crate))
    phone.push()
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Hester Quillfeather")
    go_to(page, f"{office.address}/#/container/{crate}")
    page.get_by_label("Seal number").fill("7104")
    page.locator("#seal").get_by_label("Second person").select_option(label="Ana Thistle")
    page.get_by_role("button", name="Sealed now").click()
    page.locator(".dock .tie-on").filter(has_text="Record the seal").click()
    expect(page.get_by_text("7104: sealed now")).to_be_visible()
    expect(page.get_by_text("At the desk")).to_be_visible()
    go_to(page, f"{office.address}/#/porter")
    move_to(page, "Holding area")
    key_in(page, ROUNDS, f"lies in crate {shown(CRATE)}, which is under the seal 7104")
    expect(page.locator(".counted")).to_have_text("0 counted")
    page.get_by_role("link", name="To its seal").click()
    expect(page.get_by_label("Seal number")).to_be_visible()
    # A device that has not heard of the seal takes the bear out and puts the clock in.
    seal = manager.record(crate)["fields"]["seal"]
    assert seal["value"]["numbers"] == [ROUNDS]
    later = (datetime.fromisoformat(seal["made_at"]) + timedelta(seconds=1)).isoformat(
        timespec="milliseconds"
    )
    at = later.replace("+00:00", "Z")
    moved = {
        "move_id": phone.ids.id(),
        "thing_id": made["bear"],
        "from_place": "table",
        "to_place": "holding",
    }
    hands = {"at": "", "given_by": "Hester Quillfeather", "taken_by": "Ana Thistle", "tag": None}
    phone.keep(("record_move", {**moved, **hands, "count": None, "signed": False}), made_at=at)
    phone.keep(put_in(made["clock"], crate), made_at=at)
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    through = "since seal 7104 was put on, taken out: bear (by Hester Quillfeather); put in: clock (by"
    against = page.get_by_role("alert").filter(has_text="The seal and the ledger do not agree")
    expect(against).to_contain_text(through)
    named = [one["words"] for one in found_at(manager, day["day_id"]) if one["kind"] == "seal-differs"]
    assert len(named) == 1
    assert through in named[0]
    page.get_by_label("Seal number").fill("7104")
    page.locator("#seal").get_by_label("Second person").select_option(label="Ana Thistle")
    page.get_by_role("button", name="Intact at the check").click()
    page.locator(".dock .tie-on").filter(has_text="Record the seal").click()
    expect(page.get_by_text("7104: intact at the check")).to_be_visible()
    expect(against).to_contain_text(through)  # that it is whole makes it no truer
    assert office.faults() == []


def test_a_seal_read_otherwise_is_recorded_with_both_numbers_and_stands_until_it_is_explained(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    add_ana(manager, day)
    crate = str(phone.keep(a_crate(phone.ids, day["day_id"], CRATE))["container_id"])
    phone.keep(a_seal(crate, "447120"))
    phone.push()
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Hester Quillfeather")
    go_to(page, f"{office.address}/#/container/{crate}")
    record = page.locator(".dock .tie-on")
    for seen, key in (("Intact at the check", "Record that the number differs"), ("Opened by two", "Record")):
        page.get_by_label("Seal number").fill("447128")
        page.locator("#seal").get_by_label("Second person").select_option(label="Ana Thistle")
        page.get_by_role("button", name=seen).click()
        with page.expect_response("**/sync/operations?*"):
            record.filter(has_text=key).click()
        named = [one["words"] for one in found_at(manager, day["day_id"]) if one["kind"] == "seal-differs"]
        assert named == [f"crate {shown(CRATE)}: seal 447120 was put on, 447128 was read"]
    assert office.faults() == []


def test_two_seals_of_a_crate_and_a_box_in_two_crates_are_settled_where_they_stand(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    made = [str(phone.keep(a_crate(phone.ids, day["day_id"], tag))["container_id"]) for tag in (CRATE, VASE)]
    box = str(phone.keep(a_crate(phone.ids, day["day_id"], ROUNDS))["container_id"])
    phone.keep(a_seal(made[0], "7104"))
    phone.keep(put_in(box, made[0]))
    phone.push()
    manager.keep(a_seal(made[0], "9999"))
    manager.keep(put_in(box, made[1]))
    assert {one["disagreement"] for one in manager.push()} == {True}
    page = open_browser("manager", size=DESK).pages[0]
    pair(page, office, "manager", "Manager")
    go_to(page, f"{office.address}/#/today")
    choose_name(page, "Hester Quillfeather")
    for container_id, other in ((made[0], "9999: sealed now"), (box, f"in crate {shown(VASE)}")):
        go_to(page, f"{office.address}/#/container/{container_id}")
        two = page.get_by_role("region", name=re.compile("Two people"))
        expect(two.locator(".side")).to_have_count(2)
        side = two.locator(".side").filter(has_text=other)
        side.get_by_role("button", name="This one holds").click()
        two.get_by_role("button", name="Looked at again").click()
        expect(two).to_have_count(0)
    go_to(page, f"{office.address}/#/container/{made[0]}")
    page.get_by_label("Seal number").fill("9999")
    page.get_by_role("button", name="Intact at the check").click()
    expect(page.get_by_text("9999: sealed now, second person")).to_be_visible()
    assert office.faults() == []
