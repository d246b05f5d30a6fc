"""What lies under a seal, and two seals of one crate: whoever looks says which holds, and nothing leaves unasked."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import expect

from intake.tagging.tags import shown
from tests.builders import a_crate, a_fact, a_tie, a_visit, an_item, put_in
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, choose_name, go_to, pair
from tests.journeys.test_left_alone import CRATE, ROUNDS, VASE
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
    take_out.click()
    asked = f"Crate {shown(CRATE)} is under the seal 7104. Two people open it first"
    expect(page.get_by_text(asked)).to_be_visible()
    expect(page.get_by_label("Seal number")).to_be_focused()
    assert manager.record(item_id)["fields"]["inside"]["value"] == {"container_id": crate}
    opened = a_seal(crate, "7104", "opened")
    seen = manager.record(crate)["fields"]["seal"]["operation_id"]
    phone.keep((opened[0], {**opened[1], "seen": seen}))
    phone.push()
    page.reload()
    expect(page.get_by_text("7104: opened by two")).to_be_visible()  # as heard, and not what a button offers
    take_out.click()
    expect(page.get_by_text("Nothing was scanned into it.")).to_be_visible()
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
        side.get_by_role("button", name="Looked at again").click()
        expect(two).to_have_count(0)
    go_to(page, f"{office.address}/#/container/{made[0]}")
    expect(page.get_by_text("9999: sealed now, second person")).to_be_visible()
    assert office.faults() == []
