"""A crate from hall to store, with a porter's phone that has no network; then the closing names what is left."""

from __future__ import annotations

import io
import re
from itertools import islice
from typing import Any

import pdfplumber
from playwright.sync_api import Page, expect

from intake.tagging.tags import codes, serial_of, shown
from tests.builders import a_crate, a_fact, a_finding, a_photo, a_tie, a_visit, a_zone, an_item, put_in
from tests.conftest import Office
from tests.journeys.conftest import (
    DESK,
    Open,
    add_ana,
    all_is_done,
    choose_name,
    go_back,
    go_to,
    next_screen,
    pair,
    pair_by_hand,
    turn_to,
)
from tests.journeys.test_one_item import phone_at_a_table
from tests.phone import Phone

CRATE, GOOD, LOST, NEVER, SECOND = islice(codes(8000), 5)


def things(phone: Phone, day: dict[str, Any]) -> dict[str, str]:
    """Three items that are only referred, so that no zone or view is asked of them: good, tag lost, never tagged."""
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    stage = {"visit_id": visit["visit_id"], "field": "stage", "value": "left"}
    phone.keep(("set_visit", {**stage, "seen": visit["operation_id"]}))
    made = {}
    for name, tag in (("good", GOOD), ("lost", LOST), ("untagged", None)):
        item_id = str(phone.keep(an_item(phone.ids, visit))["item_id"])
        phone.keep(a_fact(item_id, "class_id", "arms"))
        phone.keep(a_fact(item_id, "short_description", f"{name} thing"))
        if tag:
            phone.keep(a_tie(item_id, tag))
        made[name] = item_id
    gone = {"item_id": made["lost"], "tag": LOST, "why": "lost", "replaced_by": None}
    phone.keep(("remove_tag", gone))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    return made


def key_in(page: Page, tag: str, words: str) -> None:
    page.get_by_label("or key it in").fill(shown(tag))
    page.get_by_role("button", name="Count it").click()
    expect(page.locator(".scanned .row").first).to_contain_text(words)


def choose_by_its_number(page: Page, crate: str) -> None:
    """The container is the one that is scanned first."""
    page.get_by_label("or key it in").fill(shown(crate))
    page.get_by_role("button", name="Count it").click()
    expect(page.get_by_label("Into").locator("option:checked")).to_have_text(f"crate {shown(crate)}")


# Numbers of the sort 7K3-QW5 in the words of a screen, that stand on two lines.
ON_TWO_LINES = """() => {
    const words = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
    const number = /[0-9A-Z]{3}-[0-9A-Z]{3}/g;
    const found = [];
    while (words.nextNode()) for (const match of words.currentNode.data.matchAll(number)) {
        const range = document.createRange();
        range.setStart(words.currentNode, match.index);
        range.setEnd(words.currentNode, match.index + match[0].length);
        if (new Set([...range.getClientRects()].map(({ top }) => top)).size > 1) found.push(match[0]);
    }
    return found;
}"""


def broken_tags(page: Page) -> list[str]:
    """The numbers that are broken over two lines, at any width of a phone, down to 320 px."""
    size = page.viewport_size
    assert size is not None
    found: set[str] = set()
    for width in range(320, 440, 8):
        page.set_viewport_size({"width": width, "height": size["height"]})
        found.update(page.evaluate(ON_TWO_LINES))
    page.set_viewport_size(size)
    return sorted(found)


def another_count(page: Page) -> None:
    page.get_by_role("button", name="Another count").click()


def move_to(page: Page, place: str, given_by: str = "Ana Thistle") -> None:
    page.get_by_role("button", name="Move to a place").click()
    page.get_by_role("button", name=place, exact=True).click()
    page.get_by_label("Given by").select_option(label=given_by)


def test_a_crate_reaches_the_store(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    add_ana(manager, day)
    made = things(phone, day)
    porter = open_browser("porter")
    page = porter.pages[0]
    pair_by_hand(page, office, "porter", "Porter")
    choose_name(page, "Hester Quillfeather")
    go_to(page, f"{office.address}/#/porter")
    expect(page.get_by_role("button", name="Put into a container")).to_be_visible()
    expect(page.get_by_text("At the desk")).to_be_visible()
    porter.set_offline(True)

    page.get_by_role("button", name="New bag, box or crate").click()
    page.get_by_role("button", name="Crate", exact=True).click()
    for number in (CRATE, SECOND):
        key_in(page, number, "crate opened")
    expect(page.get_by_role("button", name=f"Into crate {shown(SECOND)}")).to_be_visible()
    another_count(page)
    page.get_by_role("button", name="Put into a container").click()
    choose_by_its_number(page, CRATE)
    key_in(page, GOOD, "good thing is in")
    unsigned = page.get_by_text("Nobody has signed for good thing")
    expect(unsigned).to_contain_text("Ask its table for the receipt.")
    key_in(page, NEVER, "is on nothing this device knows")
    counted = page.locator(".counted")
    expect(counted).to_have_text("1 counted")
    another_count(page)
    out_and_in_again(page)
    load_the_van(page)
    unload_at_the_store(page)
    go_to(page, f"{office.address}/#/closing")
    page.reload()
    expect(page.get_by_role("heading", name="Differences")).to_be_visible()
    porter.set_offline(False)
    expect(page.get_by_text("At the desk")).to_be_visible()

    fields = manager.record(made["good"])["fields"]
    crate_id = fields["inside"]["value"]["container_id"]
    crate = manager.record(crate_id)
    assert (crate["number"], crate["kind_of"]) == (CRATE, "crate")
    here = crate["fields"]["whereabouts"]["value"]
    assert (here["to_place"], here["given_by"], here["taken_by"]) == (
        "store",
        "Ana Thistle",
        "Hester Quillfeather",
    )

    said = [
        one["value"]
        for name, one in manager.record(day["day_id"])["fields"].items()
        if name.startswith("loads/")
    ]
    assert [load["to_place"] for load in said] == ["van", "store"]
    assert [load.get("packed") for load in said if load["to_place"] == "van"] == [
        [{"container": CRATE, "numbers": [GOOD]}]
    ]

    closing = open_browser("manager", size=DESK).pages[0]
    pair(closing, office, "manager", "Manager's desk")
    go_to(closing, f"{office.address}/#/closing")
    expect(closing.get_by_role("heading", name="Differences")).to_be_visible()
    expect(closing.locator(".gaps li")).to_have_count(11)
    counts = "Hester Quillfeather counted 3 crates and 0 loose pieces; scanned: 2 and 0"
    seals = sorted((CRATE, SECOND))
    assert sorted(closing.locator(".gaps .named-line > span").all_inner_texts()) == [
        f"Load to van: 1 of 2 things not come: crate {shown(SECOND)} (still in the van)",
        "Q01, lost thing: no tag is on it",
        "Q01, lost thing: still at the table",
        f"Q01, lost thing: tag {shown(LOST)} is lost and was not replaced",
        "Q01, untagged thing: no tag is on it",
        "Q01, untagged thing: still at the table",
        "Q01: 1 of 1 left here without the owner's signature",
        f"Two counts of a load differ: Load to van: {counts}",
        f"crate {shown(CRATE)}: 1 thing in it, and nothing was compared yet",
        *(f"crate {shown(crate)}: it went into the van, and no seal of it is on record" for crate in seals),
    ]
    close_it(closing, page, office)
    after_the_closing(closing, office)
    assert office.faults() == []


def out_and_in_again(page: Page) -> None:
    """What was scanned outlives the page, and the newest can be taken out again."""
    move_to(page, "Van")
    key_in(page, CRATE, "to van")
    key_in(page, SECOND, "to van")
    with next_screen(page):
        page.get_by_role("link", name="What is where, place by place").click()
    expect(page.locator(".place").filter(has_text="Van")).to_contain_text("2 Van")
    go_back(page)
    page.reload()
    expect(page.locator(".counted")).to_have_text("2 counted")
    page.get_by_label("or key it in").fill("00")
    page.reload()
    expect(page.get_by_label("or key it in")).to_have_value("00")
    page.get_by_role("button", name="Out").click()
    expect(page.locator(".counted")).to_have_text("1 counted")
    key_in(page, CRATE, "was counted already")
    key_in(page, SECOND, "to van")


def press_twice(page: Page) -> None:
    """A finger that trembles: both presses are heard before anything of the first is drawn."""
    all_is_done(page)
    page.locator(".dock .main", has_text="Record the count").evaluate("key => { key.click(); key.click(); }")


def by_hand(page: Page, crates: int) -> None:
    """Where nothing on the screen gives the figure, with all of it in reach."""
    page.get_by_role("button", name="Count by hand").click()
    expect(page.get_by_label("Crates, boxes and bags")).to_be_in_viewport()
    expect(page.locator(".counted, .scanned")).to_have_count(0)
    expect(page.get_by_role("button", name="Count crates and pieces first")).to_be_in_viewport()
    page.get_by_label("Crates, boxes and bags").fill(str(crates))
    page.get_by_label("Loose pieces").fill("0")


def count_by_hand(page: Page, crates: int) -> None:
    by_hand(page, crates)
    press_twice(page)


def count_without_a_driver(page: Page) -> None:
    """It is asked once who drives, and then recorded as it is."""
    expect(page.get_by_text("Nobody is named who drives it.")).to_be_visible()
    press_twice(page)


def load_the_van(page: Page) -> None:
    """Two crates leave, and a third is counted by hand that nobody has scanned: nothing of it is recorded unasked."""
    by_hand(page, 3)
    expect(page.get_by_role("alert").filter(has_text="nothing is recorded yet")).to_be_visible()
    expect(page.get_by_role("button", name="Record the count")).to_have_count(0)
    page.get_by_role("button", name="Count again").click()
    expect(page.get_by_label("Crates, boxes and bags")).to_be_focused()
    expect(page.get_by_label("Crates, boxes and bags")).to_have_value("")
    page.get_by_label("Crates, boxes and bags").fill("3")
    page.get_by_label("Loose pieces").fill("0")
    expect(page.get_by_role("alert").filter(has_text="Nobody is named who drives it.")).to_be_visible()
    page.get_by_role(
        "button", name="It leaves so, with both counts"
    ).dblclick()  # pressed twice it is one load
    expect(page.get_by_role("status").filter(has_text="The counts differ")).to_be_visible()


def unload_at_the_store(page: Page) -> None:
    """One crate of two comes: what was scanned agrees with itself, and not with what left."""
    move_to(page, "Store")
    loads = page.get_by_label("Which load it left with")
    expect(loads.locator("option:checked")).to_contain_text("load to van")  # the only one on its way
    loads.select_option(label="None of these")
    page.get_by_label("Given by").select_option(label="Not chosen")
    page.get_by_label("Given by").select_option(label="Ana Thistle")
    expect(loads.locator("option:checked")).to_have_text("None of these")
    loads.select_option(index=1)
    key_in(page, CRATE, "to store")
    expect(loads.locator("option:checked")).to_contain_text("load to van")  # still shown, and can be changed
    expect(page.locator(".gaps li")).to_have_text([f"crate {shown(SECOND)}"])
    count_by_hand(page, 1)
    said = page.get_by_role("status").filter(has_text="1 of 2 that left have come")
    expect(said).to_contain_text(f"Not come: crate {shown(SECOND)}")
    assert broken_tags(page) == []
    with next_screen(page):
        page.get_by_role("link", name="What is where, place by place").click()
    page.get_by_role("link", name="load to van").click()
    expect(page.get_by_text("1 of 2 not come.")).to_be_visible()
    expect(page.locator(".row").filter(has_text=shown(SECOND))).to_contain_text("not come")
    expect(page.locator(".loaded li")).to_have_text([f"{shown(GOOD)} good thing"])


def test_a_load_that_is_counted_again_is_one_load(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    add_ana(manager, day)
    made = things(phone, day)
    crates = [phone.keep(a_crate(phone.ids, day["day_id"], number)) for number in (CRATE, SECOND)]
    phone.keep(put_in(made["good"], str(crates[0]["container_id"])))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Hester Quillfeather")
    go_to(page, f"{office.address}/#/porter")
    move_to(page, "Van")
    key_in(page, CRATE, "to van")
    expect(page.get_by_text(f"No seal is on record of crate {shown(CRATE)}")).to_be_visible()
    by_hand(page, 2)
    expect(page.get_by_text(f"No seal is on record of crate {shown(CRATE)}. Nobody is named")).to_be_visible()
    page.get_by_role("button", name="It leaves so, with both counts").click()
    again = page.get_by_role("button", name="Count this load again")
    expect(again).to_be_visible()
    page.reload()  # it is read off the record, and not off what the screen remembers
    expect(page.get_by_role("status").filter(has_text="The counts differ:")).to_be_visible()
    again.click()
    expect(page.locator(".counted")).to_have_text("1 counted")
    page.reload()
    key_in(page, SECOND, "to van")
    count_by_hand(page, 2)
    press_twice(page)
    expect(page.get_by_role("status").filter(has_text="What was counted is what was scanned")).to_be_visible()

    load = page.get_by_role("link", name="See the load, and print its list").get_attribute("href")
    page.get_by_role(
        "button", name="New bag, box or crate"
    ).click()  # another count, which owes nobody a load
    key_in(page, NEVER, "box opened")
    go_to(page, f"{office.address}/{load}")
    with next_screen(page):
        page.get_by_role("button", name="It has come").click()
    expect(page.get_by_label("Given by").locator("option:checked")).to_have_text("Not chosen")
    page.get_by_label("Given by").select_option(label="Ana Thistle")
    expect(page.locator(".counted")).to_have_text("0 counted")
    expect(page.get_by_role("button", name="Store")).to_have_attribute("aria-pressed", "true")
    loads = page.get_by_label("Which load it left with")
    expect(loads.locator("option")).to_have_count(3)  # not said yet, the load, none of these
    expect(loads.locator("option:checked")).to_contain_text("2 things on the way")
    key_in(page, CRATE, "to store")
    expect(page.locator(".gaps li")).to_have_text([f"crate {shown(SECOND)}"])
    all_is_done(page)
    expect(page.get_by_text("At the desk")).to_be_visible()
    fields = manager.record(day["day_id"])["fields"]
    [ended] = [one["value"] for name, one in fields.items() if name.startswith("difference-ends/")]
    assert (ended["ended"], ended["second_by"]) == ("corrected", "Ana Thistle")
    assert office.faults() == []


def close_it(closing: Page, porter: Page, office: Office) -> None:
    """Whoever is at the manager's desk closes it with a second person, who reads their code off their own phone."""
    go_to(closing, f"{office.address}/#/today")
    choose_name(closing, "Ana Thistle")
    go_to(closing, f"{office.address}/#/closing")
    expect(closing.get_by_role("heading", name="Closing: 11 to explain")).to_be_visible()
    explain(closing)
    closing.get_by_role("button", name="Sign 11 differences").click()
    second = closing.get_by_label("Second person").last
    expect(second.locator("option")).to_have_text(["Not chosen", "Hester Quillfeather"])
    second.select_option(label="Hester Quillfeather")
    closing.get_by_label("Their code").fill("12")
    expect(closing.get_by_role("button", name="Hester Quillfeather gives their code")).to_be_disabled()
    expect(porter.get_by_text("The manager closes the day at their own device")).to_be_visible()
    code = code_of(porter, office)
    closing.get_by_label("Their code").fill(f"{(int(code) + 1) % 10_000:04}")
    expect(closing.get_by_role("button", name="This is not the code of Hester Quillfeather")).to_be_disabled()
    on_the_same_device(closing, office)
    closing.get_by_label("Second person").last.select_option(label="Hester Quillfeather")
    closing.get_by_label("Their code").fill(code)
    closing.get_by_role("button", name="Close the day with 11 differences").click()
    expect(closing.get_by_role("heading", name="The day is closed")).to_be_visible()
    expect(closing.get_by_text("Closed by Ana Thistle and Hester Quillfeather")).to_be_visible()
    expect(closing.get_by_text("with 11 differences, all of them explained.")).to_be_visible()
    expect(closing.get_by_text("Jonty has it")).to_be_visible()
    expect(closing.get_by_label("Their code")).to_have_count(0)


def explain(closing: Page) -> None:
    """What is known of a difference, by its key, and of another in somebody's own words; one press leads to the next of
    which nothing was said, and one reason may be said of all that are left of a kind."""
    unsaid = closing.get_by_role("button", name=re.compile("^What is known of it"))
    expect(unsaid).to_have_count(11)
    closing.get_by_role("button", name="11 still unsaid: go to the next").click()
    expect(closing.get_by_role("group", name="What is known of it")).to_be_focused()
    closing.keyboard.press("1")
    closing.keyboard.press("Enter")  # says it of what a number only chooses for, and else nothing
    expect(unsaid).to_have_count(10)
    closing.get_by_role("button", name="10 still unsaid: go to the next").click()
    closing.get_by_label("Or in your own words").fill("Jonty has it")
    closing.get_by_role("button", name="Say it").click()
    expect(unsaid).to_have_count(9)
    for left in range(9, 0, -1):
        closing.get_by_role("button", name=f"{left} still unsaid: go to the next").click()
        expect(closing.get_by_role("group", name="What is known of it")).to_be_focused()
        closing.keyboard.press("3")
        closing.keyboard.press("Enter")
        expect(unsaid).to_have_count(left - 1)


def code_of(page: Page, office: Office) -> str:
    """The code of whoever is at a device, for a closing on another."""
    go_to(page, f"{office.address}/#/today")
    page.get_by_role("button", name="Change").click()
    return page.locator("strong.code").inner_text()


def on_the_same_device(closing: Page, office: Office) -> None:
    """One person who takes the other's name at the closing device gets no code that closes the day there."""
    go_to(closing, f"{office.address}/#/today")
    closing.get_by_role("button", name="Change").click()
    who = closing.get_by_label("Who is at this device?")
    who.select_option(label="Hester Quillfeather")
    expect(closing.get_by_text("Hester Quillfeather's code on this device")).to_be_visible()
    code = closing.locator("strong.code").inner_text()
    who.select_option(label="Ana Thistle")
    expect(closing.get_by_text("Ana Thistle's code on this device")).to_be_visible()
    go_to(closing, f"{office.address}/#/closing")
    closing.get_by_label("Second person").last.select_option(label="Hester Quillfeather")
    closing.get_by_label("Their code").fill(code)
    own = "This code is this device's own: Hester Quillfeather reads theirs on another"
    expect(closing.get_by_role("button", name=own)).to_be_disabled()


def after_the_closing(manager: Page, office: Office) -> None:
    """Closed: a visit asks for a manager's word, which stays with it, and the closing says what came since."""
    go_to(manager, f"{office.address}/#/today")
    manager.get_by_role("button", name="New visit").click()
    asked = manager.get_by_role("alert").filter(has_text="After the closing")
    expect(asked.get_by_role("button", name="Nobody has allowed it yet")).to_be_disabled()
    managers = asked.get_by_label("Which manager allows it?")
    own_out = ["Nobody yet", "Hester Quillfeather"]  # nobody allows their own
    expect(managers.locator("option")).to_have_text(own_out)
    managers.select_option(label="Hester Quillfeather")
    asked.get_by_role("button", name="Open the visit, Hester Quillfeather allows it").click()
    allowed = "Opened after the day was closed: Hester Quillfeather allowed it."
    expect(manager.get_by_text(allowed)).to_be_visible()
    go_to(manager, f"{office.address}/#/closing")
    said = "with 11 differences, all of them explained. 1 difference has come since."
    expect(manager.get_by_text(said)).to_be_visible()


def change_name(page: Page, office: Office, name: str) -> None:
    go_to(page, f"{office.address}/#/today")
    choose_name(page, name)
    page.get_by_role("button", name=f"Go on as {name}").click()


def test_whoever_takes_the_phone_over_is_not_their_own_second_person(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """What was chosen outlives a change of name: the one who gave, or stood by, may be the one who takes it now."""
    for person_id, name in (("ana", "Ana Thistle"), ("bo", "Bo Fennel")):
        person = {"person_id": person_id, "name": name, "roles": ["porter"]}
        manager.keep(("add_person", {"day_id": day["day_id"], "person": person}))
    manager.push()
    made = things(phone, day)
    phone.keep(a_zone(made["good"], "whole"))  # there is something to compare it with
    crate = phone.keep(a_crate(phone.ids, day["day_id"], CRATE))
    phone.keep(put_in(made["good"], str(crate["container_id"])))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Ana Thistle")

    go_to(page, f"{office.address}/#/container/{crate['container_id']}")
    page.get_by_role("button", name="Check in what is in it").click()
    page.get_by_label("Second person").first.select_option(label="Bo Fennel")
    go_to(page, f"{office.address}/#/porter")
    move_to(page, "Van", given_by="Bo Fennel")
    key_in(page, CRATE, "to van")

    change_name(page, office, "Bo Fennel")
    go_to(page, f"{office.address}/#/porter")
    expect(page.get_by_text("Say who gives.")).to_be_visible()
    expect(page.get_by_label("or key it in")).to_have_count(0)
    expect(page.get_by_role("button", name="Out")).to_have_count(0)
    expect(page.get_by_role("button", name="Count by hand")).to_have_count(0)
    page.get_by_label("Given by").select_option(label="Ana Thistle")
    expect(page.locator(".counted")).to_have_text("1 counted")
    page.get_by_role("button", name="Count by hand").click()
    expect(page.get_by_label("Crates, boxes and bags")).to_be_visible()

    go_to(page, f"{office.address}/#/container/{crate['container_id']}")
    page.get_by_role("button", name="Check in what is in it").click()
    expect(page.get_by_text("Name the second person first.")).to_be_visible()
    page.get_by_role("button", name="As recorded").click()
    page.get_by_label("Second person").first.select_option(label="Hester Quillfeather")
    page.get_by_role("button", name="As recorded").click()
    all_is_done(page)
    expect(page.get_by_text("At the desk")).to_be_visible()
    [said] = [one for name, one in manager.record(made["good"])["fields"].items() if name == "check-in"]
    assert (said["made_by"], said["value"]["second_by"]) == ("bo", "Hester Quillfeather")
    assert office.faults() == []


def test_a_set_is_as_recorded_once_all_of_it_was_counted(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    add_ana(manager, day)
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    crate = str(phone.keep(a_crate(phone.ids, day["day_id"], CRATE))["container_id"])
    glasses, cups = (str(phone.keep(an_item(phone.ids, visit))["item_id"]) for _ in range(2))
    for item_id, name, tag in ((glasses, "six glasses", GOOD), (cups, "four cups", LOST)):
        phone.keep(a_fact(item_id, "class_id", "glass"))
        phone.keep(a_fact(item_id, "short_description", name))
        phone.keep(
            ("count_pieces", {"item_id": item_id, "pieces": 6 if item_id == glasses else 4, "seen": None})
        )
        phone.keep(a_tie(item_id, tag))
        phone.keep(a_zone(item_id, "rim"))
        phone.keep(put_in(item_id, crate))
    # One of the cups went back, under a number of its own: three are waited for.
    phone.keep(("tie_tag", {"item_id": cups, "tag": SECOND, "piece": 2, "of": 2}))
    gone = {"item_id": cups, "tag": SECOND, "why": "taken-back", "replaced_by": None}
    phone.keep(("remove_tag", gone))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Ana Thistle")
    go_to(page, f"{office.address}/#/container/{crate}")
    page.get_by_role("button", name="Seal it").click()
    expect(page.get_by_label("Seal number")).to_be_focused()
    expect(page.get_by_text("Not recorded yet")).to_have_count(0)
    page.get_by_role("button", name="Sealed now").click()
    expect(page.get_by_text("Not recorded yet.")).to_be_visible()
    seal_by_the_gold_key(page)
    page.get_by_role("button", name="Check in what is in it").click()
    page.get_by_label("Second person").last.select_option(label="Hester Quillfeather")
    for name, here, key in (
        ("Six glasses", 6, "All 6 are there: as recorded"),
        ("Four cups", 2, "2 of 3: it differs"),
    ):
        thing = page.get_by_role("article").filter(has_text=name)
        thing.get_by_role("button", name="As recorded").click()
        thing.get_by_label("How many pieces are there").fill(str(here))
        thing.get_by_role("button", name=key).click()
    expect(page.get_by_label("What differs")).to_have_value("2 of 3 pieces are there")
    expect(page.get_by_text("At the desk")).to_be_visible()
    said = [manager.record(item_id)["fields"]["check-in"]["value"] for item_id in (glasses, cups)]
    assert [(one["state"], one["words"]) for one in said] == [
        ("as-recorded", "no photograph to compare with, only what was found on it; 6 of 6 pieces counted"),
        ("differs", "2 of 3 pieces are there"),
    ]
    assert office.faults() == []


def seal_by_the_gold_key(page: Page) -> None:
    """Once all is said, what led to the form records it; then the form is empty, and the seal stands first."""
    expect(page.locator("section:has(h2:text-is('In it')) ~ #seal")).to_be_visible()
    page.get_by_label("Seal number").fill("S-1002")
    page.locator("#seal").get_by_label("Second person").select_option(label="Hester Quillfeather")
    expect(page.get_by_role("button", name="Seal it")).to_have_count(0)
    page.locator(".dock .tie-on").filter(has_text="Record the seal").click()
    expect(page.get_by_text("S-1002: sealed now, second person Hester Quillfeather.")).to_be_visible()
    expect(page.get_by_label("Seal number")).to_have_value("")
    expect(page.get_by_text("Not recorded yet")).to_have_count(0)
    expect(page.locator("#seal ~ section:has(h2:text-is('In it'))")).to_be_visible()


def test_a_sealed_crate_is_led_on_to_where_it_goes(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    add_ana(manager, day)
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    phone.keep(a_crate(phone.ids, day["day_id"], CRATE))
    item = str(phone.keep(an_item(phone.ids, visit))["item_id"])
    phone.keep(a_fact(item, "short_description", "good thing"))
    phone.keep(a_tie(item, GOOD))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Ana Thistle")
    porter = f"{office.address}/#/porter"
    go_to(page, porter)
    page.get_by_role("button", name="Put into a container").click()
    choose_by_its_number(page, CRATE)
    key_in(page, GOOD, "good thing is in")
    with next_screen(page):
        page.locator(".dock a.tie-on", has_text=f"Seal crate {shown(CRATE)}").click()
    page.get_by_role("button", name="Seal it").click()
    page.get_by_role("button", name="Sealed now").click()
    seal_by_the_gold_key(page)
    unsigned = page.get_by_text("Nobody has signed for good thing")
    expect(unsigned).to_be_visible()
    go_to(page, porter)
    expect(unsigned).to_be_visible()
    page.locator(".dock .tie-on", has_text=f"Move crate {shown(CRATE)}").click()
    expect(page.get_by_role("button", name="Move to a place")).to_have_attribute("aria-pressed", "true")
    assert office.faults() == []


def test_a_check_in_says_what_was_on_record_and_without_photographs_what_to_look_at_instead(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    add_ana(manager, day)
    visit = phone.keep(a_visit(phone.ids, day["day_id"]))
    crate = str(phone.keep(a_crate(phone.ids, day["day_id"], CRATE))["container_id"])
    jar, box = (str(phone.keep(an_item(phone.ids, visit))["item_id"]) for _ in range(2))
    for item_id, name, tag in ((jar, "blue jar", GOOD), (box, "plain box", LOST)):
        phone.keep(a_fact(item_id, "class_id", "ceramics"))
        phone.keep(a_fact(item_id, "short_description", name))
        phone.keep(a_tie(item_id, tag))
        phone.keep(put_in(item_id, crate))
    phone.keep(a_finding(phone.ids, jar, "rim", term="chip", extent_mm=3))
    pot = str(phone.keep(an_item(phone.ids, visit))["item_id"])
    phone.keep(a_fact(pot, "class_id", "ceramics"))
    phone.keep(a_fact(pot, "short_description", "white pot"))
    phone.keep(a_photo(phone.ids, pot, b"white pot", b"white"))
    phone.keep(a_finding(phone.ids, pot, "rim", term="chip", severity=3, extent_mm=12))
    phone.keep(a_zone(pot, "base", state="not-examined", reason="no-time"))
    phone.keep(put_in(pot, crate))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Ana Thistle")

    page.goto(f"{office.address}/#/container/{crate}")
    page.get_by_role("button", name="Check in what is in it").click()
    page.get_by_label("Second person").first.select_option(label="Hester Quillfeather")
    first = page.get_by_role("article").filter(has_text="Blue jar")
    expect(first).to_contain_text("No photograph was taken of it before it was packed.")
    expect(first.get_by_role("listitem")).to_contain_text(["A chip of 3 mm to the rim"])
    expect(first).to_contain_text("Photograph it as it is now")
    expect(first.get_by_text("Beside its photographs")).to_have_count(0)
    page.set_viewport_size({"width": 390, "height": 500})
    first.get_by_role("button", name="As recorded").click()
    second = page.get_by_role("article").filter(has_text="Plain box")
    # Its keys stand where those of the one before were, so that its name has to be seen.
    expect(second.get_by_role("heading")).to_be_in_viewport()
    expect(second).to_contain_text("Nothing of how it was is on record, so it cannot be compared.")
    expect(second.get_by_role("button", name="Differs")).to_be_visible()
    expect(second.get_by_role("button", name="As recorded")).to_have_count(0)
    expect(second.get_by_role("button", name="Photographed as it came")).to_have_count(0)
    page.get_by_role("button", name=re.compile("White pot")).click()
    pictured = page.get_by_role("article").filter(has_text="White pot")
    expect(pictured).to_contain_text("On record of it before it was packed:")
    expect(pictured).to_contain_text("Put off to the store: the base.")
    expect(pictured.get_by_role("listitem")).to_contain_text(
        ["A chip of 12 mm to the rim, severity 3 (serious)"]
    )
    expect(page.get_by_text("No seal of it is on record")).to_have_count(0)
    page.get_by_role("button", name="Opened by two").click()
    expect(page.get_by_text("No seal of it is on record")).to_be_visible()
    expect(page.get_by_text("At the desk")).to_be_visible()
    words = manager.record(jar)["fields"]["check-in"]["value"]["words"]
    assert words == "no photograph to compare with, only what was found on it"
    assert office.faults() == []


def test_a_number_that_went_home_packs_nothing_and_moves_nothing(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    add_ana(manager, day)
    made = things(phone, day)
    home = {
        "move_id": phone.ids.id(),
        "thing_id": made["good"],
        "from_place": "table",
        "to_place": "returned",
    }
    given = {
        "given_by": "Hester Quillfeather",
        "taken_by": "the owner",
        "count": None,
        "signed": False,
        "at": "",
    }
    phone.keep(("record_move", {**home, **given, "tag": None}))
    void = {"item_id": made["good"], "tag": GOOD, "why": "taken-back", "replaced_by": None}
    phone.keep(("remove_tag", void))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Ana Thistle")

    go_to(page, f"{office.address}/#/porter")
    page.get_by_role("button", name="New bag, box or crate").click()
    page.get_by_role("button", name="Crate", exact=True).click()
    key_in(page, CRATE, "crate opened")
    page.get_by_role("button", name=f"Into crate {shown(CRATE)}").click()
    why = "is void, since good thing went back to its owner under it. If it is here all the same, take it to a table"
    key_in(page, GOOD, why)
    expect(page.locator(".counted")).to_have_text("0 counted")
    another_count(page)
    move_to(page, "Van", "Hester Quillfeather")
    key_in(page, GOOD, why)
    expect(page.get_by_text("At the desk")).to_be_visible()
    fields = manager.record(made["good"])["fields"]
    assert "inside" not in fields
    assert fields["whereabouts"]["value"]["to_place"] == "returned"
    assert office.faults() == []


def test_what_comes_to_the_store_in_nothing_is_offered_its_check_in(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """What came of the count stands first, with what is next, above the dock of a phone."""
    add_ana(manager, day)
    made = things(phone, day)
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Hester Quillfeather")
    go_to(page, f"{office.address}/#/porter")
    for place in ("Van", "Store"):
        move_to(page, place)
        key_in(page, GOOD, f"to {place.lower()}")
        page.get_by_role("button", name="Count by hand").click()
        page.get_by_label("Crates, boxes and bags").fill("0")
        page.get_by_label("Loose pieces").fill("1")
        if place == "Van":
            page.get_by_label("Who drives").fill("Ana Thistle")
        page.get_by_role("button", name="Record the count").click()
        expect(
            page.get_by_role("status").filter(has_text="What was counted is what was scanned")
        ).to_be_visible()
    check_in = page.get_by_role("link", name="Check in good thing")
    expect(check_in).to_be_in_viewport(ratio=1)
    with next_screen(page):
        check_in.click()
    page.get_by_label("Second person").first.select_option(label="Ana Thistle")
    expect(page.get_by_text("No photograph was taken of it before it was packed.")).to_be_visible()
    expect(page.get_by_role("button", name="As recorded")).to_have_count(0)
    page.get_by_role("button", name="Not here").click()
    all_is_done(page)
    expect(page.get_by_text("At the desk")).to_be_visible()
    said = manager.record(made["good"])["fields"]["check-in"]["value"]
    assert (said["state"], said["second_by"]) == ("not-here", "Ana Thistle")
    [missed] = [
        one["value"]["words"]
        for name, one in manager.record(day["day_id"])["fields"].items()
        if name.startswith("differences/")
    ]
    assert missed == "good thing was not there as it was to be compared"
    assert office.faults() == []


def test_whoever_scans_a_crate_s_label_as_a_bag_s_says_which_it_is(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    add_ana(manager, day)
    roll = {"roll_id": manager.ids.id(), "first_tag": CRATE, "last_tag": SECOND, "count": 5}
    manager.keep(
        ("issue_roll", {"day_id": day["day_id"], **roll, "given_to": "spare", "for_device_id": None})
    )
    print_of = {"print_id": manager.ids.id(), "roll_id": roll["roll_id"], "label": "crate", "seen": None}
    rows = [{"first_tag": CRATE, "count": 2}]
    manager.keep(("print_labels", {"day_id": day["day_id"], **print_of, "rows": rows}))
    assert [answer["outcome"] for answer in manager.push()[-2:]] == ["kept", "kept"]
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Ana Thistle")
    go_to(page, f"{office.address}/#/porter")
    page.get_by_role("button", name="New bag, box or crate").click()
    page.get_by_role("button", name="Bag", exact=True).click()
    second = next(islice(codes(8000), 1, None))
    for number, kind_of in ((CRATE, "crate"), (second, "bag")):
        key_in(page, number, "is the label of a crate, and not of a bag. Which is it?")
        page.get_by_role("button", name=f"It is a {kind_of}").click()
        expect(page.locator(".scanned .row").first).to_contain_text(f"{kind_of} opened")
    expect(page.get_by_role("button", name=f"Into bag {shown(second)}")).to_be_visible()
    assert office.faults() == []


def test_a_porters_phone_says_that_loads_are_coming_and_a_table_where_they_are_chosen(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    left = {"to_place": "van", "at": "", "given_by": "Ana", "taken_by": "Hester", "crates": 0, "pieces": 1}
    more = {"scanned_crates": 0, "scanned_pieces": 1, "numbers": [next(codes(9600))], "packed": None}
    load = {
        "day_id": day["day_id"],
        "load_id": manager.ids.id(),
        **left,
        **more,
        "driver": "Ana",
        "of_load": None,
    }
    manager.keep(("count_load", load))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    (page,) = open_browser("porter").pages
    page.add_init_script("delete Navigator.prototype.serviceWorker")  # whose requests could not be held back
    page.route("**/custody_screens-*.js", lambda route: None)  # on its way, as on a slow line
    page.goto(office.address)
    page.get_by_label("Code").fill(office.code("porter", "Porter"))
    page.get_by_role("button", name="Pair", exact=True).click()
    choose_name(page, "Hester Quillfeather")
    go_to(page, f"{office.address}/#/porter")
    page.get_by_role("button", name="Store", exact=True).click()
    expect(page.get_by_text("The loads that left are still coming")).to_be_visible()
    page.unroute("**/custody_screens-*.js")  # which lets go of what is held
    expect(page.get_by_label("Which load it left with")).to_be_visible()
    expect(page.get_by_text("The loads that left are still coming")).to_have_count(0)

    table = open_browser("table").pages[0]
    pair(table, office, "table", "Table 1")
    go_to(table, f"{office.address}/#/porter")
    table.get_by_role("button", name="Store", exact=True).click()
    expect(
        table.get_by_text("Which load arrives is chosen on a porter's or the manager's device")
    ).to_be_visible()
    expect(table.get_by_text("The loads that left are still coming")).to_have_count(0)


def test_a_number_of_anothers_roll_is_told_apart_before_it_is_tied(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """With no network: who has the roll may tie it as well, and only the tag in the hand says which is so."""
    rolls = {"Table 1": [*islice(codes(9000), 30)], "Table 2": [*islice(codes(9100), 30)]}
    for holder, numbers in rolls.items():
        roll = {"roll_id": manager.ids.id(), "first_tag": numbers[0], "last_tag": numbers[-1], "count": 30}
        manager.keep(
            ("issue_roll", {"day_id": day["day_id"], **roll, "given_to": holder, "for_device_id": None})
        )
    manager.push()
    phone, page = phone_at_a_table(open_browser, office)
    turn_to(page, "Tag")
    own, others = rolls["Table 1"][0], rolls["Table 2"][0]
    expect(page.get_by_text(f"the next is {shown(own)}")).to_be_visible()
    phone.set_offline(True)
    box = page.get_by_label("Key in the tag's number")
    told = page.get_by_role("alert").filter(
        has_text=f"{shown(others)} is of the roll of Table 2, not of this device's."
    )
    box.fill(shown(others))
    expect(page.get_by_role("button", name=f"Tie {shown(others)}")).to_be_visible()
    expect(told).to_contain_text(f"else tie one of your own: the next is {shown(own)}")
    page.get_by_role("button", name="Another").click()
    expect(told).to_have_count(0)
    box.fill(shown(own))
    expect(page.get_by_role("button", name=f"Tie {shown(own)}")).to_be_visible()
    expect(told).to_have_count(0)
    assert office.faults() == []


def test_a_table_prints_its_roll_with_no_network(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """The office's own PDF is kept on the device; the same bytes are opened offline."""
    numbers = list(islice(codes(9000), 30))
    roll = {"roll_id": manager.ids.id(), "first_tag": numbers[0], "last_tag": numbers[-1], "count": 30}
    manager.keep(
        ("issue_roll", {"day_id": day["day_id"], **roll, "given_to": "Table 1", "for_device_id": None})
    )
    manager.push()
    phone, page = phone_at_a_table(open_browser, office, restarts=True)  # the whole browser: it shows a PDF
    turn_to(page, "Tag")
    left = f"30 numbers are left on this device's roll; the next is {shown(numbers[0])}"
    expect(page.get_by_text(left)).to_be_visible()
    page.get_by_role("button", name=f"Make 30 string tags from {shown(numbers[0])} on").click()
    page.get_by_role("button", name="Keep labels here").click()
    expect(page.get_by_role("button", name="Open the kept labels")).to_be_visible()
    phone.set_offline(True)
    page.reload()
    page.evaluate(
        """() => {
            const make = URL.createObjectURL.bind(URL);
            URL.createObjectURL = (blob) => { globalThis.printed = blob; return make(blob); };
        }"""
    )
    with page.expect_popup() as opened:
        page.get_by_role("button", name="Open the kept labels").click()
    assert opened.value.url.startswith("blob:")
    begins = page.evaluate("async () => (await globalThis.printed.slice(0, 5).text())")
    assert begins == "%PDF-"


def test_labels_of_one_roll_printed_one_after_the_other_have_numbers_of_their_own(
    office: Office, manager: Phone, day: dict[str, Any], item: dict[str, Any], open_browser: Open
) -> None:
    """String tags, then crate labels: none that is on a thing, behind a number passed over, and none twice."""
    numbers = list(islice(codes(serial_of(manager.client.get("/labels/sheets").json()["next_tag"])), 12))
    roll = {"roll_id": manager.ids.id(), "first_tag": numbers[0], "last_tag": numbers[-1], "count": 12}
    manager.keep(
        ("issue_roll", {"day_id": day["day_id"], **roll, "given_to": "printed stock", "for_device_id": None})
    )
    manager.keep(a_tie(item["item_id"], numbers[1]))
    assert [answer["outcome"] for answer in manager.push()[-2:]] == ["kept", "kept"]
    page = open_browser("manager").pages[0]
    pair(page, office, "manager", "Manager")
    go_to(page, f"{office.address}/#/rolls")
    page.get_by_role("button", name="Print its labels").click()
    page.get_by_label("How many", exact=True).fill("4")
    page.get_by_role("button", name=f"Make 4 string tags from {shown(numbers[0])} on").click()
    page.get_by_role("button", name="Crate labels").click()
    page.get_by_label("How many", exact=True).fill("8")
    expect(page.get_by_text("7 numbers of the roll have no label yet: take no more.")).to_be_visible()
    page.get_by_label("How many", exact=True).fill("2")
    page.get_by_role("button", name=f"Make 2 crate labels from {shown(numbers[5])} on").click()
    opened = page.get_by_role("link", name="Open the labels")
    expect(opened).to_have_count(2)
    said = []
    # Each by what it says it is: which is the newer is told by the office's clock, and that stands still here.
    for of in (f"2 crate labels from {shown(numbers[5])} on", f"4 string tags from {shown(numbers[0])} on"):
        made = page.locator(".made-labels").filter(has_text=of).get_by_role("link", name="Open the labels")
        content = page.request.get(f"{office.address}{made.get_attribute('href')}").body()
        with pdfplumber.open(io.BytesIO(content)) as document:
            words = " ".join(sheet.extract_text() for sheet in document.pages)
        said.append([tag for tag in numbers if shown(tag) in words])
    assert said == [numbers[5:7], [numbers[0], *numbers[2:5]]]
    assert office.faults() == []


def test_a_porter_that_has_heard_of_no_day_is_not_sent_to_choose_one(
    office: Office, open_browser: Open
) -> None:
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter")
    for screen in ("porter", "places"):
        go_to(page, f"{office.address}/#/{screen}")
        expect(page.locator("main")).to_contain_text("No valuation day is on this device yet.")
        expect(page.locator("main")).to_contain_text("stay in reach of the network")


def test_the_porter_who_drove_takes_in_alone_and_says_so(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """Nobody else is at the store: no name is asked of somebody who is not there."""
    add_ana(manager, day)
    made = things(phone, day)
    left = {"to_place": "van", "at": "", "given_by": "Ana Thistle", "taken_by": "Hester Quillfeather"}
    counts = {"crates": 0, "pieces": 1, "scanned_crates": 0, "scanned_pieces": 1}
    load = {"day_id": day["day_id"], "load_id": manager.ids.id(), **left, **counts, "numbers": [GOOD]}
    manager.keep(("count_load", {**load, "packed": None, "driver": "Hester Quillfeather", "of_load": None}))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Hester Quillfeather")
    go_to(page, f"{office.address}/#/porter")
    page.get_by_role("button", name="Store", exact=True).click()
    page.get_by_label("Given by").select_option(label="Nobody else: I drove it")
    page.get_by_role("button", name="Shelf", exact=True).click()
    page.get_by_label("Given by").select_option(label="Nobody else: I bring it myself")
    page.get_by_role("button", name="Holding area", exact=True).click()
    expect(page.get_by_label("Given by").locator("option")).to_have_text(["Not chosen", "Ana Thistle"])

    go_to(page, f"{office.address}/#/load/{load['load_id']}")
    page.get_by_role("button", name="It has come").click()
    expect(page.get_by_label("Given by").locator("option:checked")).to_have_text("Nobody else: I drove it")
    key_in(page, GOOD, "to store")
    expect(page.get_by_text("To store, by Hester Quillfeather alone")).to_be_visible()
    page.get_by_role("button", name="Count by hand").click()
    page.get_by_label("Crates, boxes and bags").fill("0")
    page.get_by_label("Loose pieces").fill("1")
    press_twice(page)
    expect(page.get_by_role("status").filter(has_text="1 of 1 that left have come")).to_be_visible()
    go_to(page, f"{office.address}/#/load/{load['load_id']}")
    arrived = page.get_by_text("Arrived: by Hester Quillfeather alone, who drove it.")
    expect(arrived).to_be_visible()
    go_to(page, f"{office.address}/#/closing")
    expect(page.locator(".loads")).to_contain_text("taken in by Hester Quillfeather alone")
    expect(page.get_by_text("All at the desk").first).to_be_attached()
    moved = manager.record(made["good"])["fields"]["whereabouts"]["value"]
    assert (moved["given_by"], moved["taken_by"]) == ("Hester Quillfeather", "Hester Quillfeather")
    assert office.faults() == []


def test_what_nobody_signed_for_is_one_line_above_the_count(
    office: Office, manager: Phone, phone: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """Its names are a press away: of three things they had pushed the count out of sight."""
    add_ana(manager, day)
    made = things(phone, day)
    phone.keep(a_tie(made["untagged"], NEVER))
    assert {one["outcome"] for one in phone.push()} == {"kept"}
    page = open_browser("porter").pages[0]
    pair(page, office, "porter", "Porter", person="Hester Quillfeather")
    go_to(page, f"{office.address}/#/porter")
    move_to(page, "Van")
    key_in(page, GOOD, "to van")
    expect(page.get_by_text("Nobody has signed for good thing")).to_be_visible()
    key_in(page, NEVER, "to van")
    line = page.get_by_text("Nobody has signed for 2 things: Q01")
    expect(line).to_be_visible()
    expect(page.get_by_text("Nobody has signed for good thing")).not_to_be_visible()
    page.evaluate("scrollTo(0, 0)")
    expect(page.locator(".counted")).to_be_in_viewport()
    line.click()
    expect(page.get_by_text("Nobody has signed for untagged thing")).to_be_visible()
    assert office.faults() == []
