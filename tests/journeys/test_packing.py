"""Packing with a porter's phone: one crate after the other, and what of the hall stands where it is packed."""

from __future__ import annotations

import re
from itertools import islice
from typing import Any

from playwright.sync_api import Page, expect

from intake.tagging.tags import codes, shown
from tests.builders import (
    a_caution,
    a_crate,
    a_decision,
    a_fact,
    a_photo,
    a_tie,
    a_visit,
    an_item,
    picture,
    put_in,
)
from tests.closings import found_at
from tests.conftest import Office
from tests.journeys.conftest import (
    Open,
    add_ana,
    all_is_done,
    go_to,
    line_is_back,
    next_screen,
    pair,
)
from tests.journeys.test_porter import another_count, choose_by_its_number, key_in, move_to
from tests.phone import Phone

FIRST, SECOND, JUG, VASE, BOWL, LID = islice(codes(8200), 6)


def three_things(phone: Phone, day: dict[str, Any]) -> dict[str, str]:
    """Each with its number, by its name."""
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    made = {}
    for name, tag in (("jug", JUG), ("vase", VASE), ("bowl", BOWL)):
        made[name] = str(phone.keep(an_item(phone.ids, visit))["item_id"])
        phone.keep(a_fact(made[name], "short_description", name))
        phone.keep(a_tie(made[name], tag))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    return made


def crates(phone: Phone, day: dict[str, Any]) -> dict[str, str]:
    """Two crates with their numbers, by those."""
    made = {
        number: str(phone.keep(a_crate(phone.ids, day["day_id"], number))["container_id"])
        for number in (FIRST, SECOND)
    }
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    return made


def porter(office: Office, manager: Phone, day: dict[str, Any], open_browser: Open) -> Page:
    add_ana(manager, day)
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Hester Quillfeather")
    go_to(page, f"{office.address}/#/porter")
    expect(page.get_by_text("At the desk")).to_be_visible()
    return page


def in_crate(manager: Phone, item_id: str) -> str:
    return str(manager.record(item_id)["fields"]["inside"]["value"]["container_id"])


def test_the_crate_of_one_count_is_not_that_of_the_next(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """The next crate's label is scanned first, or by mistake within a count: it never goes into the one before."""
    made, into = three_things(phone, day), crates(phone, day)
    page = porter(office, manager, day, open_browser)
    page.context.set_offline(True)
    page.get_by_role("button", name="Put into a container").click()
    choose_by_its_number(page, FIRST)
    key_in(page, JUG, "jug is in")
    key_in(page, SECOND, f"does not go into crate {shown(FIRST)}: press Another count, and scan it first")
    expect(page.locator(".counted")).to_have_text("1 counted")
    another_count(page)
    expect(page.get_by_label("Into").locator("option:checked")).to_have_text("The one that is scanned first")
    choose_by_its_number(page, SECOND)
    key_in(page, VASE, "vase is in")
    another_count(page)
    move_to(page, "Holding area")  # another work between
    page.get_by_role("button", name="Put into a container").click()
    expect(page.get_by_label("Into").locator("option:checked")).to_have_text("The one that is scanned first")
    choose_by_its_number(page, SECOND)
    key_in(page, BOWL, "bowl is in")
    page.context.set_offline(False)
    expect(page.get_by_text("At the desk")).to_be_visible()
    assert [in_crate(manager, made[name]) for name in ("jug", "vase", "bowl")] == [
        into[FIRST],
        into[SECOND],
        into[SECOND],
    ]
    assert "inside" not in manager.record(into[SECOND])["fields"]
    assert office.faults() == []


def test_what_is_packed_in_the_holding_area_stays_there(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """A crate that was never moved stands where the first thing that goes into it stood."""
    three_things(phone, day)
    into = crates(phone, day)
    page = porter(office, manager, day, open_browser)
    page.context.set_offline(True)
    move_to(page, "Holding area")
    key_in(page, JUG, "jug: table to holding area")
    another_count(page)
    key_in(page, JUG, "jug is there already, taken by Hester Quillfeather: no move is recorded")
    another_count(page)
    page.get_by_role("button", name="Put into a container").click()
    choose_by_its_number(page, FIRST)
    key_in(page, JUG, "jug is in")
    go_to(page, f"{office.address}/#/places")
    place = page.locator(".place").filter(has_text="Holding area")
    expect(place).to_contain_text("1 Holding area")
    go_to(page, f"{office.address}/#/container/{into[FIRST]}")
    expect(page.locator(".lead").first).to_have_text("Holding area. 1 item.")


def test_a_trip_is_not_taken_for_a_shelf(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """Where exactly a thing is belongs to its place: another place begins with none."""
    three_things(phone, day)
    page = porter(office, manager, day, open_browser)
    page.context.set_offline(True)
    move_to(page, "Van")
    exactly = page.get_by_label("Where exactly")
    exactly.fill("first trip")
    page.get_by_role("button", name="Van", exact=True).click()
    expect(exactly).to_have_value("first trip")
    page.get_by_role("button", name="Shelf", exact=True).click()
    expect(exactly).to_have_value("")
    given = page.get_by_label("Given by")
    expect(given.locator("option:checked")).to_have_text("Not chosen")  # another gives there
    given.select_option(label="Ana Thistle")
    key_in(page, JUG, "jug: table to shelf")
    go_to(page, f"{office.address}/#/places")
    expect(page.locator(".place summary")).to_contain_text(["2 Table", "1 Shelf 1 thing"])


def test_what_cannot_be_looked_at_is_not_as_recorded(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """With no network and no pictures fetched there is nothing to compare with, until the office is heard again."""
    made, into = three_things(phone, day), crates(phone, day)
    shots: list[bytes] = []
    for seed in (1, 2):
        shot = picture(seed)
        phone.keep(a_photo(phone.ids, made["jug"], shot, shot, view="front" if seed == 1 else "back"))
        shots.append(shot)
    phone.keep(put_in(made["jug"], into[FIRST]))
    phone.bundle(shots).raise_for_status()
    page = porter(office, manager, day, open_browser)
    page.context.set_offline(True)
    go_to(page, f"{office.address}/#/container/{into[FIRST]}")
    page.get_by_role("button", name="Check in what is in it").click()
    page.get_by_label("Second person").first.select_option(label="Ana Thistle")
    jug = page.get_by_role("article").filter(has_text="Jug")
    expect(jug).to_contain_text("None of its pictures can be shown")
    expect(page.locator("img.thumb")).to_have_count(0)
    expect(jug.get_by_role("button", name="Differs")).to_be_visible()
    expect(jug.get_by_role("button", name="As recorded")).to_have_count(0)
    page.context.set_offline(False)
    line_is_back(page)
    expect(jug.locator("img.thumb")).to_have_count(2)
    expect(jug.get_by_text("can be shown")).to_have_count(0)
    jug.get_by_role("button", name="Not here").click()
    all_is_done(page)
    page.get_by_role("button", name=re.compile("Jug.* Not here$")).click()
    expect(page.locator(".lead")).to_contain_text("0 items, 1 not there as it was unpacked")
    expect(page.get_by_text("At the desk")).to_be_visible()
    assert [one["kind"] for one in found_at(manager, day["day_id"])].count("item-short") == 1
    jug.get_by_role("button", name="As recorded").click()
    expect(page.get_by_text("0 left")).to_be_visible()
    all_is_done(page)
    expect(page.get_by_text("At the desk")).to_be_visible()
    assert manager.record(made["jug"])["fields"]["check-in"]["value"]["state"] == "as-recorded"
    assert "item-short" not in [one["kind"] for one in found_at(manager, day["day_id"])]


def test_a_row_that_is_opened_while_a_press_is_kept_stays_open_and_nothing_leaves_a_box_with_what_is_stopped(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    made, into = three_things(phone, day), crates(phone, day)
    for name in ("jug", "vase", "bowl"):
        phone.keep(put_in(made[name], into[FIRST]))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    page = porter(office, manager, day, open_browser)
    go_to(page, f"{office.address}/#/container/{into[FIRST]}")
    expect(page.get_by_role("button", name="Take out")).to_have_count(3)
    page.get_by_role("button", name="Check in what is in it").click()
    page.get_by_label("Second person").first.select_option(label="Ana Thistle")
    articles = page.get_by_role("article")
    expect(articles).to_have_count(1)
    for state in ("Not here", "Differs"):
        page.locator("button.row").last.wait_for()
        opened = page.evaluate(
            """(state) => {
                const rows = [...document.querySelectorAll("button.row")];
                const keys = [...document.querySelectorAll("article button")];
                keys.find((key) => key.textContent.trim() === state).click();
                rows.at(-1).click();
                return rows.at(-1).querySelector(".what").textContent;
            }""",
            state,
        )
        expect(page.locator("button.row").filter(has_text=state)).to_have_count(1)
        all_is_done(page)
        expect(articles).to_have_count(1)
        expect(articles.first).to_contain_text(opened.split()[0])
    phone.keep(a_caution(phone.ids, made["bowl"]))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    expect(page.get_by_text("Nobody opens, moves, seals or checks this container.")).to_be_visible()
    expect(page.get_by_role("link", name="Vase")).to_be_visible()
    expect(page.get_by_role("button", name="Take out")).to_have_count(0)
    assert office.faults() == []


def test_a_crate_that_was_sealed_is_not_offered_to_be_sealed(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    three_things(phone, day)
    crates(phone, day)
    page = porter(office, manager, day, open_browser)
    page.get_by_role("button", name="Put into a container").click()
    choose_by_its_number(page, FIRST)
    key_in(page, JUG, "jug is in")
    to_seal = page.get_by_role("link", name=f"Seal crate {shown(FIRST)}")
    with next_screen(page):
        to_seal.click()
    page.get_by_label("Seal number").fill("S-1002")
    page.locator("#seal").get_by_label("Second person").select_option(label="Ana Thistle")
    page.get_by_role("button", name="Sealed now").click()
    page.locator(".dock .tie-on").filter(has_text="Record the seal").click()
    expect(page.get_by_text("S-1002: sealed now, second person Ana Thistle.")).to_be_visible()
    leads_to = page.locator(".dock .tie-on")
    expect(leads_to).to_contain_text(f"Move crate {shown(FIRST)}")
    with next_screen(page):
        leads_to.click()
    expect(page.get_by_role("button", name="Van", exact=True)).to_have_attribute("aria-pressed", "true")
    expect(to_seal).to_have_count(0)
    page.get_by_role("button", name="Put into a container").click()
    choose_by_its_number(page, FIRST)
    key_in(page, VASE, f"does not go into crate {shown(FIRST)}, which is under the seal S-1002")
    expect(page.locator(".counted")).to_have_text("0 counted")
    another_count(page)
    move_to(page, "Store")
    key_in(page, FIRST, "table to store")
    page.get_by_role("button", name="Count by hand").click()
    page.get_by_label("Crates, boxes and bags").fill("1")
    page.get_by_label("Loose pieces").fill("0")
    page.get_by_role("button", name="Record the count").click()
    with next_screen(page):
        page.get_by_role("link", name=f"Check in crate {shown(FIRST)}").click()
    expect(leads_to).to_have_text("Look at its seal")
    expect(page.get_by_role("button", name="Check in what is in it")).to_have_count(0)
    expect(page.get_by_text("Its seal comes first: then 1 item to compare.")).to_be_visible()
    page.get_by_label("Seal number").fill("S-1002")
    page.locator("#seal").get_by_label("Second person").select_option(label="Ana Thistle")
    page.get_by_role("button", name="Opened by two").click()
    leads_to.filter(has_text="Record the seal").click()
    expect(leads_to).to_have_text("Check in what is in it")
    leads_to.click()
    expect(page.get_by_role("heading", name="Check in")).to_be_visible()
    expect(leads_to).to_have_count(0)
    expect(page.get_by_label("Second person")).to_have_count(1)  # who looked at the seal compares
    expect(page.get_by_label("Second person").locator("option:checked")).to_have_text("Ana Thistle")
    page.get_by_role("button", name="Say otherwise").click()
    expect(page.get_by_label("Second person")).to_have_count(1)
    assert office.faults() == []


def test_what_is_taken_out_of_a_crate_stays_where_that_stands(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """What it was noted at before it went in says nothing of that any more; and put back it is in the crate again."""
    made, into = three_things(phone, day), crates(phone, day)
    phone.keep(put_in(made["jug"], into[FIRST]))
    phone.keep(("tie_tag", {"item_id": made["vase"], "tag": LID, "piece": 2, "of": 2, "mark": "lid"}))
    for tag in (VASE, LID):
        one = {"thing_id": made["vase"], "container_id": into[FIRST], "seen": None, "tag": tag}
        phone.keep(("put_inside", one))
    moved = {"move_id": phone.ids.id(), "thing_id": into[FIRST], "from_place": "table", "to_place": "shelf"}
    hands = {"at": "B2", "given_by": "Ana", "taken_by": "Hester", "count": None, "signed": False, "tag": None}
    phone.keep(("record_move", {**moved, **hands}))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    page = porter(office, manager, day, open_browser)

    def take_out(name: str) -> None:
        page.get_by_role("listitem").filter(has_text=name).get_by_role("button", name="Take out").click()
        expect(page.get_by_text(f"{name.lower()} is out.")).to_be_visible()
        all_is_done(page)

    places = page.locator(".place summary")
    go_to(page, f"{office.address}/#/container/{into[FIRST]}")
    take_out("Jug")
    go_to(page, f"{office.address}/#/places")
    expect(places.filter(has_text="Shelf")).to_contain_text("Shelf B2")
    expect(places.filter(has_text="Table")).to_contain_text("2 Table")
    go_to(page, f"{office.address}/#/container/{into[FIRST]}")
    take_out("Vase")
    page.get_by_role("button", name="Undo").click()
    all_is_done(page)
    take_out("Vase")
    expect(page.get_by_text("At the desk")).to_be_visible()
    fields = manager.record(made["vase"])["fields"]
    for tag in (VASE, LID):
        assert fields[f"inside/{tag}"]["value"]["container_id"] is None
        assert (fields[f"whereabouts/{tag}"]["value"]["to_place"], "whereabouts" in fields) == (
            "shelf",
            False,
        )
    where = manager.record(made["jug"])["fields"]["whereabouts"]["value"]
    assert (where["to_place"], where["at"], where["taken_by"]) == ("shelf", "B2", "Hester Quillfeather")
    assert office.faults() == []


def test_what_was_scanned_into_the_van_is_not_dropped_unrecorded(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """Only a recorded count is a load that an arrival is held against: another count asks before it begins, and a load
    that has come says that one is open."""
    three_things(phone, day)
    counted = {"crates": 0, "pieces": 1, "scanned_crates": 0, "scanned_pieces": 1, "numbers": [VASE]}
    people = {"given_by": "Ana Thistle", "taken_by": "Hester Quillfeather"}
    load = phone.ids.id()
    of_day = {"day_id": day["day_id"], "load_id": load, "to_place": "van", "at": ""}
    phone.keep(("count_load", {**of_day, **people, **counted}))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    page = porter(office, manager, day, open_browser)
    page.context.set_offline(True)
    move_to(page, "Van")
    key_in(page, JUG, "jug: table to van")
    go_to(page, f"{office.address}/#/load/{load}")
    page.get_by_role("button", name="It has come").click()
    expect(page.get_by_text("Another count is open here, to van, and not recorded yet.")).to_be_visible()
    go_to(page, f"{office.address}/#/porter")
    another_count(page)
    expect(page.get_by_text("This count is not recorded yet")).to_be_visible()
    page.get_by_role("button", name="Not now").click()
    expect(page.locator(".counted")).to_have_text("1 counted")
    another_count(page)
    another_count(page)
    expect(page.locator(".counted")).to_have_text("0 counted")
    move_to(page, "Holding area")
    key_in(page, VASE, "vase: table to holding area")
    another_count(page)
    expect(page.locator(".counted")).to_have_text("0 counted")


def test_a_thing_found_by_its_number_says_where_it_is(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """And what left with whoever was called is not among what a tag may have fallen off."""
    made, into = three_things(phone, day), crates(phone, day)
    phone.keep(put_in(made["jug"], into[FIRST]))
    visit = phone.keep(a_visit(phone.ids, day["day_id"], ticket="Q02"))
    gone, loose = (str(phone.keep(an_item(phone.ids, visit))["item_id"]) for _ in range(2))
    for item_id, name in ((gone, "tin of cases"), (loose, "loose lid")):
        phone.keep(a_fact(item_id, "short_description", name))
    raised = phone.keep(a_caution(phone.ids, gone))
    decided = a_decision(gone, str(raised["caution_id"]), "referred", place="gone with the police")
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    manager.keep(decided)
    assert {one["outcome"] for one in manager.push()} == {"kept"}
    page = porter(office, manager, day, open_browser)
    page.context.set_offline(True)
    go_to(page, f"{office.address}/#/tag")
    expect(page.get_by_text("loose lid")).to_be_visible()
    expect(page.get_by_text("tin of cases")).to_have_count(0)
    where = page.locator("main p.lead")
    with next_screen(page):
        page.get_by_label("Key in the tag's number").fill(shown(JUG))
    expect(where).to_have_text(f"Table, inside crate {shown(FIRST)}.")
    go_to(page, f"{office.address}/#/tag")
    with next_screen(page):
        page.get_by_label("Key in the tag's number").fill(shown(VASE))
    expect(page.get_by_role("heading", name="vase")).to_be_visible()
    expect(where).to_have_count(0)


def test_what_lies_in_a_sealed_crate_leads_to_that(
    office: Office, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """Neither sealed nor moved by itself: whoever did that would open the crate."""
    made, boxes = three_things(phone, day), crates(phone, day)
    outer, box = boxes[FIRST], boxes[SECOND]
    phone.keep(put_in(made["jug"], box))
    phone.keep(put_in(box, outer))
    seal = {"seal": "7103", "state": "sealed", "second_by": "Ned", "seen": None}
    phone.keep(("seal_container", {"container_id": outer, **seal}))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Hester Quillfeather")
    go_to(page, f"{office.address}/#/container/{box}")
    on = page.get_by_role("link", name=re.compile(f"^On to crate {shown(FIRST)}"))
    expect(on).to_contain_text("it lies in there, under a seal")
    expect(page.get_by_role("button", name="Seal it")).to_have_count(0)
    on.click()
    expect(page.get_by_role("button", name=re.compile(f"^Move crate {shown(FIRST)}"))).to_be_visible()
    assert office.faults() == []


def test_what_is_held_apart_is_not_packed_among_others(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """Refused at the scan, with no network; what was packed before anybody knew is said by name wherever it goes on."""
    made, into = three_things(phone, day), crates(phone, day)
    phone.keep(put_in(made["jug"], into[FIRST]))
    phone.keep(put_in(made["vase"], into[FIRST]))
    phone.keep(a_caution(phone.ids, made["vase"], level="amber", hazard="H04"))
    phone.keep(a_caution(phone.ids, made["bowl"], level="amber", hazard="H04"))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    page = porter(office, manager, day, open_browser)
    page.context.set_offline(True)
    page.get_by_role("button", name="Put into a container").click()
    choose_by_its_number(page, FIRST)
    key_in(page, BOWL, "bowl is held apart: take it to isolation, or into a container of its own")
    another_count(page)
    move_to(page, "Van")
    key_in(page, FIRST, "holds vase, which is held apart: isolation only. Take that out first")
    with next_screen(page):
        page.get_by_role("link", name=f"See what is in crate {shown(FIRST)}").click()
    by_name = f"Vase is held apart: take it out of crate {shown(FIRST)} and to isolation, before it is sealed"
    expect(page.locator(".bar.wrong").first).to_contain_text(by_name)
    expect(page.get_by_role("button", name="Seal it")).to_have_count(0)
    page.get_by_role("button", name="Sealed now").click()
    expect(page.get_by_role("alert").filter(has_text=by_name)).to_be_visible()
    page.locator(".row", has_text="Vase").get_by_role("button", name="Take out").click()
    expect(page.get_by_text(by_name)).to_have_count(0)
    go_to(page, f"{office.address}/#/porter")
    key_in(page, FIRST, "table to van")
    expect(page.locator(".scanned .row")).to_have_count(1)  # what was refused before is so no more
    page.context.set_offline(False)
    line_is_back(page)
    assert office.faults() == []
