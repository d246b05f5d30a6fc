"""The second day with the same devices: what was used the day before is known, and what was not used goes on."""

from __future__ import annotations

from itertools import islice
from typing import Any

from playwright.sync_api import Page, expect

from intake.tagging.tags import codes, serial_of, shown
from tests.builders import Ids, a_crate, a_fact, a_move, a_tie, a_visit, an_item, put_in
from tests.closings import close_with_all
from tests.conftest import Office
from tests.journeys.conftest import (
    Open,
    add_ana,
    all_is_done,
    choose_name,
    go_to,
    line_is_back,
    managers_day,
    next_screen,
    pair,
)
from tests.journeys.test_porter import key_in, move_to, press_twice
from tests.journeys.test_pressed_twice import at_the_desk
from tests.phone import Phone


def an_item_named(phone: Phone, ids: Ids, day: dict[str, Any], ticket: str, name: str) -> str:
    item = phone.keep(an_item(ids, phone.keep(a_visit(ids, day["day_id"], ticket=ticket))))["item_id"]
    phone.keep(a_fact(item, "short_description", name))
    return str(item)


def next_day(manager: Phone, day: dict[str, Any], held_on: str) -> dict[str, Any]:
    """Set up as the one before."""
    said = {name: day[name] for name in ("house", "place", "currency", "tables", "people")}
    return manager.keep(("open_day", {"day_id": manager.ids.id(), "held_on": held_on, **said}))


def test_a_table_knows_the_numbers_of_the_day_before_and_its_roll_goes_on(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """With no network: yesterday's number is on something that this device holds no longer."""
    tablet = open_browser("phone")
    page = tablet.pages[0]
    pair(page, office, "table", "Table 1")
    [(table,)] = office.ask("SELECT device_id FROM device WHERE name = 'Table 1'")
    numbers = list(islice(codes(serial_of(manager.client.get("/labels/sheets").json()["next_tag"])), 10))
    roll = {"roll_id": ids.id(), "first_tag": numbers[0], "last_tag": numbers[-1], "count": 10}
    given = {"given_to": "Table 1", "for_device_id": table}
    manager.keep(("issue_roll", {"day_id": day["day_id"], **roll, **given}))
    prints = {"print_id": ids.id(), "roll_id": roll["roll_id"], "label": "tag", "seen": None}
    rows = [{"first_tag": numbers[0], "count": 8}]
    manager.keep(("print_labels", {"day_id": day["day_id"], **prints, "rows": rows}))
    first = an_item_named(manager, ids, day, "Q01", "violin")
    manager.keep(a_tie(first, numbers[0]))
    manager.keep(a_tie(an_item_named(manager, ids, day, "Q02", "bow"), numbers[2]))
    manager.push()
    go_to(page, f"{office.address}/#/item/{first}")
    expect(page.get_by_label("Short description")).to_have_value("violin")
    close_with_all(manager, day["day_id"])
    second = next_day(manager, day, "2026-03-15")
    item = an_item_named(manager, ids, second, "Q01", "tea caddy")
    manager.push()

    desk = managers_day(open_browser, office)
    go_to(desk, f"{office.address}/#/rolls")
    left = desk.get_by_role("listitem").filter(has_text=f"8 unused, from {shown(numbers[1])}")
    expect(left).to_contain_text("14 March 2026, Table 1")
    left.get_by_role("button", name="Goes on, at Table 1").click()
    expect(left).to_have_count(0)
    expect(desk.get_by_role("heading", name=f"{shown(numbers[3])} to {shown(numbers[7])}")).to_be_visible()
    all_is_done(desk)
    expect(desk.get_by_text("All at the desk")).to_be_visible()

    go_to(page, f"{office.address}/#/today")
    line_is_back(page)
    page.locator(".dock .tie-on", has_text="Work on").click()
    expect(page.get_by_text("Q01")).to_be_visible()
    go_to(page, f"{office.address}/#/item/{item}/tag")
    expect(
        page.get_by_text(f"8 numbers are left on this device's roll; the next is {shown(numbers[1])}")
    ).to_be_visible()
    expect(page.get_by_role("button", name="Make 2 string tags")).to_be_visible()
    tablet.set_offline(True)
    page.get_by_label("Key in the tag's number").fill(numbers[0])
    told = f"{shown(numbers[0])} is on something of 14 March 2026 already: take a fresh tag."
    expect(page.get_by_text(told)).to_be_visible()
    expect(page.get_by_role("button", name="Take a fresh tag")).to_be_disabled()
    page.get_by_role("button", name="Another").click()
    page.get_by_label("Key in the tag's number").fill(numbers[1])
    page.get_by_role("button", name=f"Tie {shown(numbers[1])} to this item").click()
    page.get_by_role("button", name="Tie another number").click()
    expect(
        page.get_by_text(f"7 numbers are left on this device's roll; the next is {shown(numbers[3])}")
    ).to_be_visible()
    tablet.set_offline(False)
    line_is_back(page)
    expect(page.get_by_text("At the desk").first).to_be_attached()
    assert office.faults() == []


def test_a_thing_left_the_day_before_is_found_by_its_number_and_its_day_is_gone_back_to(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """Its owner stands there: a table is told of which day it is and whom to ask, a manager reads it and goes back."""
    tag = next(codes(9000))
    item = an_item_named(manager, ids, day, "Q01", "violin")
    manager.keep(a_tie(item, tag))
    run = {"run_id": ids.id(), "first": 7, "last": 40, "given_to": "Door", "for_device_id": "door"}
    manager.keep(("give_tickets", {"day_id": day["day_id"], **run, "seen": None}))
    manager.keep(a_visit(ids, day["day_id"], ticket="Q07"))
    close_with_all(manager, day["day_id"], reason="Nobody knows why")
    next_day(manager, day, "2026-03-15")
    manager.push()
    page = open_browser("phone").pages[0]
    pair(page, office, "table", "Table 1")
    go_to(page, f"{office.address}/#/tag")
    page.get_by_label("Key in the tag's number").fill(tag)
    told = f"{shown(tag)} is on violin, ticket Q01, of 14 March 2026, a day that is closed. This device"
    expect(page.get_by_role("status").filter(has_text=told)).to_be_visible()
    go_to(page, f"{office.address}/#/item/{item}")
    expect(page.get_by_text("of another day the manager's device or the desk opens it")).to_be_visible()
    expect(page.get_by_role("link", name="Read it as the office has it")).to_have_count(0)

    desk = managers_day(open_browser, office)
    go_to(desk, f"{office.address}/#/item/{item}")
    expect(desk.get_by_role("link", name="Read it as the office has it")).to_be_visible()
    go_to(desk, f"{office.address}/#/closing")
    before = desk.locator("section").filter(has_text="Of the days before").last
    expect(before.get_by_role("link", name="not come, or not explained")).to_be_visible()
    expect(before).to_contain_text(f"violin {shown(tag)}: still at the table")
    expect(desk.get_by_text("None: everything agrees.")).to_be_visible()
    go_to(desk, f"{office.address}/#/day")
    expect(before).to_contain_text(f"violin {shown(tag)}: still at the table")
    goes_on = desk.get_by_role("button", name="Goes on: Q08 to Q40, Door")
    goes_on.click()
    expect(goes_on).to_have_count(0)
    expect(desk.get_by_text("Q08 to Q40", exact=True)).to_be_visible()
    go_to(desk, f"{office.address}/#/tag")
    desk.get_by_label("Key in the tag's number").fill(tag)
    said = desk.get_by_role("status").filter(has_text="is on violin, ticket Q01, of 14 March 2026")
    with next_screen(desk):
        said.get_by_role("link", name="See its record").click()
    expect(desk.get_by_role("heading", name="violin")).to_be_visible()
    go_to(desk, f"{office.address}/#/tag")
    desk.get_by_label("Key in the tag's number").fill(tag)
    with next_screen(desk):
        said.get_by_role("button", name="Work on 14 March 2026 to give it back").click()
    expect(desk.get_by_label("Short description")).to_have_value("violin")
    assert office.faults() == []


def test_a_door_whose_day_nobody_closed_is_led_to_the_next_one_and_says_so(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """Who closes a day comes the morning after: until then its door would write today's owners into yesterday."""
    page = open_browser("phone").pages[0]
    pair(page, office, "door", "Door")
    expect(page.get_by_role("button", name="New visit")).to_be_visible()
    next_day(manager, day, "2026-03-15")
    manager.push()
    line_is_back(page)
    bar = page.locator(".bar.with-key")
    expect(bar).to_contain_text("Set up: 15 March 2026")
    expect(bar).to_contain_text("14 March 2026 is not closed yet.")
    page.locator(".dock .tie-on", has_text="Work on 15 March 2026").click()
    expect(page.locator(".of-day")).to_contain_text("15 March 2026")
    expect(page.get_by_role("button", name="New visit", exact=True)).to_be_visible()
    expect(bar).to_have_count(0)
    assert office.faults() == []


def test_of_what_is_of_another_day_a_table_hears_the_date_alone(
    office: Office, manager: Phone, phone: Phone, ids: Ids, day: dict[str, Any]
) -> None:
    tag, other = islice(codes(9000), 2)
    item = an_item_named(manager, ids, day, "Q01", "violin")
    manager.keep(a_tie(item, tag))
    second = next_day(manager, day, "2026-03-15")
    manager.push()
    work = {"day_id": second["day_id"], "table_id": ""}
    phone.client.get("/sync/feed", params=work)
    asked = phone.client.get(f"/tags/{tag}", params=work).json()
    dated = {"held_on": "2026-03-14", "closed": False, "thing": "violin", "ticket": "Q01"}
    assert asked == {"kind": "of another day", "record_id": "", **dated}
    assert phone.client.get(f"/tags/{other}").status_code == 404
    manager.client.get("/sync/feed", params=work)
    of_another = {**dated, "day_id": day["day_id"]}
    assert manager.client.get(f"/tags/{tag}").json() == {"kind": "item", "record_id": item, **of_another}
    days = manager.client.get("/days").json()["days"]
    assert [(one["held_on"], one["is_over"]) for one in days] == [
        ("2026-03-15", False),
        ("2026-03-14", False),
    ]


def test_a_desk_s_row_says_of_which_day_a_ticket_is_where_the_list_has_things_of_two(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    an_item_named(manager, ids, day, "Q01", "violin")
    manager.push()
    desk = open_browser("desk").pages[0]
    pair(desk, office, "desk", "Desk")
    row = desk.locator(".queue-row", has_text="violin")
    expect(row).to_contain_text("Q01, no picture")
    second = next_day(manager, day, "2026-03-15")
    an_item_named(manager, ids, second, "Q01", "tea caddy")
    manager.push()
    expect(row).to_contain_text("Q01 of 14 March 2026, no picture")
    expect(desk.locator(".queue-row", has_text="tea caddy")).to_contain_text("Q01 of 15 March 2026")
    assert office.faults() == []


def test_what_is_on_its_way_comes_on_the_next_day_with_no_network(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """Nobody leaves a count behind that is owed; what left is known by its number the next day, and taken in alone."""
    add_ana(manager, day)
    crate, violin, jugs, today = islice(codes(9000), 4)
    in_crate = an_item_named(manager, ids, day, "Q01", "violin")
    manager.keep(a_tie(in_crate, violin))
    manager.keep(a_tie(an_item_named(manager, ids, day, "Q02", "jugs"), jugs))
    crate_id = manager.keep(a_crate(ids, day["day_id"], crate))["container_id"]
    manager.keep(put_in(in_crate, crate_id))
    manager.push()
    device = open_browser("porter")
    page = device.pages[0]
    pair(page, office, "porter", "Porter", person="Hester Quillfeather")
    go_to(page, f"{office.address}/#/porter")
    move_to(page, "Van")
    key_in(page, crate, "to van")
    key_in(page, jugs, "to van")
    at_the_desk(page)
    close_with_all(manager, day["day_id"])
    second = next_day(manager, {**day, "people": people_of(manager, day)}, "2026-03-15")
    manager.keep(a_tie(an_item_named(manager, ids, second, "Q11", "tea caddy"), today))
    manager.push()

    go_to(page, f"{office.address}/#/today")
    line_is_back(page)
    expect(page.get_by_text("First record the count that is open here, to van: 2 scanned.")).to_be_visible()
    expect(page.get_by_role("button", name="Work on")).to_have_count(0)
    with next_screen(page):
        page.locator(".dock").get_by_role("link", name="Record the count").click()
    by_hand(page, 1, 1)
    page.get_by_label("Who drives").fill("Ana Thistle")
    press_twice(page)
    expect(page.locator(".dock").get_by_text("No seal is on record of")).to_be_visible()
    press_twice(page)
    expect(page.get_by_role("status").filter(has_text="What was counted is what was scanned")).to_be_visible()
    go_to(page, f"{office.address}/#/today")
    page.get_by_role("button", name="Work on it").click()
    expect(page.get_by_role("button", name="Work on it")).to_have_count(0)
    expect(page.get_by_text("At the desk").first).to_be_attached()
    line_is_back(page)
    go_to(page, f"{office.address}/#/porter")
    not_come = f"Of 14 March 2026: crate {shown(crate)} and jugs {shown(jugs)} have not come."
    expect(page.get_by_text(not_come)).to_be_visible()
    expect(page.get_by_role("link", name="2 things on the way")).to_be_visible()

    office.clock.pass_by(hours=15)  # the hall reads nothing else of that day by then
    paired = open_browser("second porter")
    other = paired.pages[0]
    pair(other, office, "porter", "Porter 2")
    choose_name(other, "Hester Quillfeather")
    go_to(other, f"{office.address}/#/places")
    expect(other.get_by_text(not_come)).to_be_visible()
    paired.set_offline(True)
    with next_screen(other):
        other.get_by_role("link", name="2 things on the way").click()
    with next_screen(other):
        other.get_by_role("button", name="It has come").click()
    key_in(other, crate, "van to store")
    key_in(other, today, "is of 15 March 2026, and this count of 14 March 2026")
    by_hand(other, 1, 0)
    other.get_by_role("button", name="It is so").or_(
        other.get_by_role("button", name="Record the count")
    ).click()
    expect(other.get_by_role("status").filter(has_text="1 of 2 that left have come")).to_contain_text("jugs")
    paired.set_offline(False)
    line_is_back(other)
    all_is_done(other)
    line_is_back(page)
    left = f"Of 14 March 2026: jugs {shown(jugs)} has not come."
    expect(page.get_by_text(left)).to_be_visible()
    device.set_offline(True)
    move_to(page, "Store")
    key_in(page, jugs, "van to store")
    expect(page.get_by_label("Which load it left with").locator("option:checked")).to_contain_text(
        "14 March 2026"
    )
    by_hand(page, 0, 1)
    page.get_by_role("button", name="Record the count").click()
    expect(page.get_by_role("status").filter(has_text="2 of 2 that left have come")).to_be_visible()
    expect(page.get_by_text("Of 14 March 2026")).to_have_count(0)
    device.set_offline(False)
    line_is_back(page)
    all_is_done(page)
    expect(page.get_by_text("At the desk").first).to_be_attached()
    loads = [
        field["value"]
        for name, field in manager.record(day["day_id"])["fields"].items()
        if name.startswith("loads/")
    ]
    assert sorted(sorted(load["numbers"]) for load in loads) == sorted(
        [sorted([crate, jugs]), [crate], [jugs]]
    )
    assert not any(name.startswith("loads/") for name in manager.record(second["day_id"])["fields"])
    assert office.faults() == []


def test_what_was_left_in_the_holding_area_is_told_the_next_morning_and_taken_in(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    add_ana(manager, day)
    [chair] = islice(codes(9050), 1)
    item_id = an_item_named(manager, ids, day, "Q01", "side chair")
    manager.keep(a_tie(item_id, chair))
    manager.keep(a_move(ids, item_id, "holding"))
    manager.push()
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Hester Quillfeather")
    at_the_desk(page)
    close_with_all(manager, day["day_id"])
    next_day(manager, {**day, "people": people_of(manager, day)}, "2026-03-15")
    manager.push()
    go_to(page, f"{office.address}/#/today")
    line_is_back(page)
    page.get_by_role("button", name="Work on it").click()
    expect(page.get_by_role("button", name="Work on it")).to_have_count(0)
    line_is_back(page)
    office.clock.pass_by(hours=15)  # the hall reads nothing else of that day by then
    go_to(page, f"{office.address}/#/places")
    stayed = page.get_by_text(f"Of 14 March 2026: side chair {shown(chair)} has stayed in the holding area.")
    expect(stayed).to_be_visible()
    other = open_browser("second porter").pages[0]
    pair(other, office, "porter", "Porter 2")
    choose_name(other, "Hester Quillfeather")
    go_to(other, f"{office.address}/#/places")
    expect(other.get_by_text("has stayed in the holding area.")).to_be_visible()
    go_to(page, f"{office.address}/#/porter")
    move_to(page, "Store")
    key_in(page, chair, "holding area to store")
    expect(stayed).to_have_count(0)
    assert office.faults() == []


def test_what_was_done_on_the_day_before_is_undone_no_more(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """One press beside what is done all day would seat an owner of the closed day at the table again."""
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q01"))["visit_id"]
    manager.push()
    page = open_browser("phone").pages[0]
    pair(page, office, "table", "Table 1")
    go_to(page, f"{office.address}/#/visit/{visit}/receipt")
    with next_screen(page):
        page.locator(".tie-on", has_text="The owner leaves").click()
    undo = page.get_by_role("button", name="Undo")
    expect(undo).to_be_visible()
    all_is_done(page)
    expect(page.get_by_text("At the desk").first).to_be_attached()
    close_with_all(manager, day["day_id"])
    next_day(manager, day, "2026-03-15")
    manager.push()
    line_is_back(page)
    page.get_by_role("button", name="Work on it").click()
    expect(page.get_by_text("15 March 2026").first).to_be_visible()
    expect(page.get_by_role("button", name="Work on it")).to_have_count(0)
    expect(undo).to_have_count(0)
    assert office.faults() == []


def people_of(manager: Phone, day: dict[str, Any]) -> list[dict[str, Any]]:
    fields = manager.record(day["day_id"])["fields"]
    return [field["value"] for name, field in fields.items() if name.startswith("people/")]


def by_hand(page: Page, crates: int, pieces: int) -> None:
    page.get_by_role("button", name="Count by hand").click()
    page.get_by_label("Crates, boxes and bags").fill(str(crates))
    page.get_by_label("Loose pieces").fill(str(pieces))


def test_a_label_of_a_roll_that_has_not_gone_on_is_counted_by_itself_wherever_numbers_are(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """It hangs on a thing of the second day, lies in no roll of it, and is unused on the first no more."""
    numbers = list(islice(codes(serial_of(manager.client.get("/labels/sheets").json()["next_tag"])), 10))
    roll = {"roll_id": ids.id(), "first_tag": numbers[0], "last_tag": numbers[-1], "count": 10}
    given = {"given_to": "Table 1", "for_device_id": None}
    manager.keep(("issue_roll", {"day_id": day["day_id"], **roll, **given}))
    manager.keep(a_tie(an_item_named(manager, ids, day, "Q01", "violin"), numbers[0]))
    manager.push()
    close_with_all(manager, day["day_id"])
    second = next_day(manager, day, "2026-03-15")
    manager.keep(a_tie(an_item_named(manager, ids, second, "Q01", "tea caddy"), numbers[4]))
    assert [answer["problem"] for answer in manager.push() if answer["problem"]] == []
    desk = managers_day(open_browser, office)
    main = desk.get_by_role("main")
    said = f"1 number on things of this day is of no roll of it, and counted in none: {shown(numbers[4])}."
    for screen in ("rolls", "closing"):
        go_to(desk, f"{office.address}/#/{screen}")
        expect(main).to_contain_text(said)
    assert office.faults() == []
