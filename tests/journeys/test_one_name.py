"""A person's name comes on the day's list twice: asked where it is typed, told apart where it is chosen, made one."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import expect

from tests.conftest import Office
from tests.journeys.conftest import Open, all_is_done, go_to, managers_day, pair_by_hand
from tests.phone import Phone


def test_a_name_that_is_on_the_list_is_asked_for_and_two_of_it_are_told_apart_and_made_one(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    page = managers_day(open_browser, office)
    people = page.locator("section", has=page.get_by_role("heading", name="People")).last
    page.get_by_label("Add a person").fill("  Cy   Orchard ")
    work = page.get_by_role("group", name="Work")
    work.get_by_role("button", name="Valuer").click()
    page.get_by_role("button", name="Add", exact=True).click()
    expect(people.locator("summary strong").get_by_text("Cy Orchard", exact=True)).to_have_count(1)
    page.get_by_label("Add a person").fill("cy  orchard")
    work.get_by_role("button", name="Door").click()
    expect(people).to_contain_text("Cy Orchard is on the list already (valuer). Is it the same person?")
    expect(page.get_by_role("button", name="Add", exact=True)).to_have_count(0)
    page.get_by_role("button", name="The same person").click()
    expect(people.locator("summary").filter(has_text="Cy Orchard")).to_contain_text("valuer, door")

    person = {"person_id": "zz", "name": "CY ORCHARD", "roles": ["porter"]}
    manager.keep(("add_person", {"day_id": day["day_id"], "person": person}))
    manager.push()
    expect(people).to_contain_text("2 on the list are called Cy Orchard: A valuer, door; B porter")
    phone = open_browser("phone").pages[0]
    pair_by_hand(phone, office, "table", "Table 1", named=False)
    who = phone.get_by_label("Who is at this device?")
    expect(who.locator("option")).to_contain_text(["Cy Orchard A (valuer, door)", "CY ORCHARD B (porter)"])
    go_to(page, f"{office.address}/#/closing")
    expect(page.locator("main")).to_contain_text("Cy Orchard: 2 on the day's list have this name")

    go_to(page, f"{office.address}/#/day")
    page.get_by_role("button", name="They are one person").click()
    all_is_done(page)
    cy = people.locator("summary").filter(has_text="Cy Orchard")
    expect(cy).to_contain_text(["valuer, door, porter", "has left"])
    page.get_by_role("button", name="Undo").click()
    page.get_by_role("button", name="They are one person").click()
    go_to(page, f"{office.address}/#/closing")
    expect(page.locator("main")).not_to_contain_text("have this name")
    assert office.faults() == []
