"""A porter out of reach packs and carries what was stopped meanwhile: whoever goes looking for it finds out where."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import expect

from intake.tagging.tags import shown
from tests.builders import a_caution, a_crate, a_fact, a_tie, a_visit, an_item
from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, add_ana, choose_name, go_to, line_is_back, pair
from tests.journeys.test_left_alone import CRATE, ROUNDS
from tests.journeys.test_porter import another_count, key_in, move_to
from tests.phone import Phone

IGNORANT = "before that device had heard of the stop"


def test_what_a_porter_carried_who_had_not_heard_of_the_stop_is_found(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    add_ana(manager, day)
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    crate = phone.keep(a_crate(phone.ids, day["day_id"], CRATE))
    item_id = str(phone.keep(an_item(phone.ids, visit))["item_id"])
    phone.keep(a_fact(item_id, "short_description", "tin of brass"))
    phone.keep(a_tie(item_id, ROUNDS))
    phone.push()
    away = open_browser("porter")
    page = away.pages[0]
    pair(page, office, "porter", "Porter")
    choose_name(page, "Hester Quillfeather")
    go_to(page, f"{office.address}/#/porter")
    expect(page.get_by_role("button", name="Put into a container")).to_be_visible()
    away.set_offline(True)
    phone.keep(a_caution(phone.ids, item_id, hazard="H02", still_allowed=[]))
    phone.push()

    page.get_by_role("button", name="Put into a container").click()
    page.get_by_label("Into").select_option(label=f"crate {shown(CRATE)}")
    key_in(page, ROUNDS, "tin of brass is in")
    another_count(page)
    move_to(page, "Van")
    key_in(page, CRATE, "to van")
    away.set_offline(False)
    line_is_back(page)

    packed = f"crate {shown(CRATE)}"
    where = f", Ticket Q01, Van, in {packed} is stopped: tin of brass."
    expect(page.get_by_role("alert").first).to_contain_text(where)
    boss = open_browser("manager", size=DESK).pages[0]
    pair(boss, office, "manager", "Manager")
    go_to(boss, f"{office.address}/#/today")
    choose_name(boss, "Hester Quillfeather")
    expect(boss.get_by_text(where)).to_be_visible()
    put = boss.get_by_role("alert").filter(has_text=f"it was put into {packed} by Hester Quillfeather at")
    expect(put).to_contain_text(IGNORANT)
    expect(put).to_contain_text(
        f"{packed}, which it lay in or beside, was moved to van by Hester Quillfeather at"
    )
    go_to(boss, f"{office.address}/#/closing")
    expect(boss.get_by_text(IGNORANT).first).to_be_visible()

    go_to(boss, f"{office.address}/#/item/{item_id}/stop")
    acts = boss.get_by_role("article").filter(has_text=IGNORANT)
    expect(acts).to_have_count(2)
    for found in ("untouched in the van, the safety lead was told", "the van stands still"):
        open_act = acts.filter(has=boss.get_by_label("Where it is now, and who was told")).first
        open_act.get_by_label("Where it is now, and who was told").fill(found)
        open_act.get_by_role("button", name="Settle it").click()
        expect(boss.get_by_text(f"Looked at by Hester Quillfeather: {found}")).to_be_visible()
    go_to(boss, f"{office.address}/#/today")
    expect(boss.get_by_text(where)).to_be_visible()
    expect(boss.get_by_text(IGNORANT)).to_have_count(0)
    assert crate
    assert office.faults() == []
