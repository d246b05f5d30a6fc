"""What a device does not hold is asked of the office: a container and a load at a desk; yesterday's at a porter's."""

from __future__ import annotations

from itertools import islice
from typing import Any

from playwright.sync_api import expect

from intake.tagging.tags import codes, shown
from tests.builders import Ids, a_crate, a_fact, a_move, a_tie, a_visit, an_item, put_in
from tests.closings import close_with_all
from tests.conftest import Office
from tests.journeys.conftest import Open, go_to, next_screen, pair
from tests.phone import Phone

CRATE, BOX, OWL, FOX = islice(codes(9000), 4)


def packed(manager: Phone, ids: Ids, day: dict[str, Any]) -> dict[str, str]:
    """A crate with a box in it, in that an owl; the crate left with a fox beside it, which came."""
    found = {"load": ids.id()}
    for name, number in {"crate": CRATE, "box": BOX}.items():
        kind, made = a_crate(ids, day["day_id"], number)
        found[name] = manager.keep((kind, {**made, "kind_of": name}))["container_id"]
    for name, number in {"owl": OWL, "fox": FOX}.items():
        visit = manager.keep(a_visit(ids, day["day_id"], ticket=name.upper()))
        found[name] = manager.keep(an_item(ids, visit))["item_id"]
        manager.keep(a_fact(found[name], "short_description", name))
        manager.keep(a_tie(found[name], number))
    manager.keep(put_in(found["owl"], found["box"]))
    manager.keep(put_in(found["box"], found["crate"]))
    by = {"day_id": day["day_id"], "given_by": "Ana", "taken_by": "Hester", "at": "", "crates": 1}
    counted = {**by, "scanned_crates": 1, "scanned_pieces": 1, "pieces": 1, "driver": "Ana", "of_load": None}
    within = [{"container": CRATE, "numbers": [BOX]}, {"container": BOX, "numbers": [OWL]}]
    left = {"load_id": found["load"], "to_place": "van", "numbers": [CRATE, FOX], "packed": within}
    manager.keep(("count_load", {**counted, **left}))
    for name in ("crate", "fox"):
        manager.keep(a_move(ids, found[name], "van"))
    assert [answer for answer in manager.push() if answer["outcome"] != "kept"] == []
    return found


def test_a_desk_finds_a_crate_by_its_number_and_reads_a_load_by_name(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    found = packed(manager, ids, day)
    desk = open_browser("desk").pages[0]
    pair(desk, office, "desk", "Desk")
    go_to(desk, f"{office.address}/#/tag")
    with next_screen(desk):
        desk.get_by_label("Key in the tag's number").fill(CRATE)
    main = desk.locator("main")
    expect(main).to_contain_text(shown(CRATE))
    expect(main).to_contain_text("1 item.")
    expect(main).to_contain_text("No seal is on record.")
    expect(desk.get_by_role("link", name=f"Box {shown(BOX)}")).to_be_visible()
    with next_screen(desk):
        desk.get_by_role("link", name=f"Box {shown(BOX)}").click()
    expect(main).to_contain_text(f"inside crate {shown(CRATE)}")
    with next_screen(desk):
        desk.get_by_role("link", name="Owl").click()
    expect(desk.get_by_role("heading", name="owl")).to_be_visible()
    go_to(desk, f"{office.address}/#/load/{found['load']}")
    expect(main).to_contain_text(f"Crate {shown(CRATE)}")
    expect(main).to_contain_text(f"{shown(OWL)} owl")
    expect(main).not_to_contain_text("on nothing this device knows")
    go_to(desk, f"{office.address}/#/item/{found['fox']}")
    expect(desk.get_by_role("heading", name="fox")).to_be_visible()
    assert office.faults() == []


def test_a_porter_of_the_next_day_opens_the_load_that_is_not_counted_as_come(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    found = packed(manager, ids, day)
    page = open_browser("phone").pages[0]
    pair(page, office, "porter", "Porter")
    go_to(page, f"{office.address}/#/load/{found['load']}")
    expect(page.get_by_role("button", name="It has come")).to_be_visible()
    close_with_all(manager, day["day_id"])
    said = {name: day[name] for name in ("house", "place", "currency", "tables", "people")}
    manager.keep(("open_day", {"day_id": ids.id(), "held_on": "2026-03-15", **said}))
    manager.push()
    go_to(page, f"{office.address}/#/today")
    page.get_by_role("button", name="Work on it").click()
    expect(page.get_by_role("button", name="Work on it")).to_have_count(0)
    go_to(page, f"{office.address}/#/load/{found['load']}")
    expect(page.get_by_role("button", name="It has come")).to_be_visible()
    go_to(page, f"{office.address}/#/tag")
    with next_screen(page):
        page.get_by_label("Key in the tag's number").fill(FOX)
    expect(page.get_by_label("Short description")).to_have_value("fox")
    assert office.faults() == []
