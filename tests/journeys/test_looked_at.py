"""What a person saw who looked through the pictures of the screens: words that broke, ran together or led nowhere."""

from __future__ import annotations

import re
from itertools import islice
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from intake.tagging.tags import codes, shown
from tests.builders import Ids, a_fact, a_tie, a_visit, an_item
from tests.conftest import Office
from tests.custody.test_receipts import a_receipt
from tests.journeys.conftest import Open, go_to, pair
from tests.journeys.test_in_reach import a_clock, at_a_table
from tests.phone import Phone

LINES = "shown => Math.round(shown.getBoundingClientRect().height / parseFloat(getComputedStyle(shown).lineHeight))"

# Words of which a part stands on another line than the rest.
BROKEN = """(keys) => [...document.querySelectorAll(keys)].flatMap((key) => {
    const texts = document.createTreeWalker(key, NodeFilter.SHOW_TEXT), broken = [];
    for (let text = texts.nextNode(); text; text = texts.nextNode())
        for (const { index, 0: word } of text.data.matchAll(/[^\\s-]+/g)) {
            const range = document.createRange();
            range.setStart(text, index);
            range.setEnd(text, index + word.length);
            if (new Set([...range.getClientRects()].map((one) => Math.round(one.top))).size > 1) broken.push(word);
        }
    return broken;
})"""


def lines_of(shown: Locator) -> int:
    """Over how many lines it goes."""
    lines: int = shown.evaluate(LINES)
    return lines


def a_manager(open_browser: Open, office: Office) -> Page:
    page = open_browser("manager").pages[0]
    pair(page, office, "manager", "Manager")
    return page


def test_of_a_long_line_on_closing_what_is_so_is_pressed_and_the_names_are_read(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """Sixteen things held apart were one link of fourteen lines."""
    names = ", ".join(f"brass lamp {number}" for number in range(1, 16))
    raised = {"difference": "piece-short", "thing_id": None, "owner_told": False, "seen": None}
    told = {"day_id": day["day_id"], "difference_id": ids.id(), "words": f"not in the corridor: {names}"}
    manager.keep(("raise_difference", {**told, **raised}))
    manager.push()
    page = a_manager(open_browser, office)
    go_to(page, f"{office.address}/#/closing")
    line = page.locator(".found .named-line").filter(has_text="brass lamp 15")
    expect(line).to_contain_text("brass lamp 1, brass lamp 2")
    expect(line.get_by_role("link")).not_to_contain_text("brass lamp 15")
    assert office.faults() == []


def test_a_single_figure_is_as_wide_to_a_thumb_as_it_is_high(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    item = a_clock(manager, ids, day, "bracket clock")
    page = at_a_table(open_browser, office, manager)
    go_to(page, f"{office.address}/#/item/{item}")
    box = page.get_by_role("button", name="1", exact=True).bounding_box()
    assert box is not None
    assert box["width"] >= 47.5  # as tests/journeys/test_accessibility.py asks of heights
    assert office.faults() == []


def test_on_a_narrow_desk_the_ticket_of_a_receipt_is_in_one_line_with_its_words(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q09"))
    items: list[dict[str, Any]] = []
    for number in islice(codes(8800), 2):  # the second came after the receipt
        items.append(manager.keep(an_item(ids, visit)))
        manager.keep(a_tie(items[-1]["item_id"], number))
    manager.keep(a_receipt(manager, items[0], number="Q09/1"))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    page = open_browser("desk", size={"width": 320, "height": 844}).pages[0]
    pair(page, office, "desk", "Desk")
    go_to(page, f"{office.address}/#/closings/{day['day_id']}")
    ticket = page.locator(".gaps li").filter(has_text="not signed for").locator("strong")
    expect(ticket).to_have_text("Q09")
    assert lines_of(ticket) == 1
    assert office.faults() == []


def test_a_key_that_cannot_be_pressed_yet_says_what_is_missing(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    page = a_manager(open_browser, office)
    for address, field, missing, then in (
        ("devices", "Its name", "Say its name first", "Make a pairing code"),
        ("copies", "Folder on the office's machine", "Say which folder first", "Keep a copy there"),
        ("rolls", "Number", "Key in the number first", "Strike it through"),
        ("day", "Add a person", "Write the name first", "Add"),
    ):
        go_to(page, f"{office.address}/#/{address}")
        expect(page.get_by_role("button", name=missing, exact=True)).to_be_disabled()
        page.get_by_label(field, exact=True).fill("Otis")
        expect(page.get_by_role("button", name=then, exact=True)).to_be_visible()
        page.get_by_label(field, exact=True).fill("")
    assert office.faults() == []


def test_the_cards_say_in_words_when_they_were_checked(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    page = a_manager(open_browser, office)
    go_to(page, f"{office.address}/#/cards")
    expect(page.get_by_text(re.compile(r"Checked on \d+ [A-Z][a-z]+ \d{4}")).first).to_be_visible()
    expect(page.get_by_text(re.compile(r"\d{4}-\d\d-\d\d"))).to_have_count(0)
    assert office.faults() == []


def test_a_thing_that_nobody_named_is_chosen_by_its_ticket_and_number(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """It stood in the list of things under the end of its id."""
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q09"))
    number = next(codes(8900))
    manager.keep(a_tie(manager.keep(an_item(ids, visit))["item_id"], number))
    manager.push()
    page = a_manager(open_browser, office)
    go_to(page, f"{office.address}/#/closing")
    page.get_by_role("button", name="Note a difference").click()
    expect(page.get_by_role("button", name="Say what does not agree first")).to_be_disabled()
    choices = page.get_by_label("Which item").locator("option")
    expect(choices).to_have_text(["None, or not known", f"Q09, an item not named yet {shown(number)}"])
    assert office.faults() == []


def test_five_answers_to_a_trial_stand_two_in_a_row_of_a_phone(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    """Four in a row had one word a line: six lines of them."""
    item = a_clock(manager, ids, day, "mahogany longcase clock")
    page = at_a_table(open_browser, office, manager)
    go_to(page, f"{office.address}/#/item/{item}/works")
    answer = page.get_by_role("button", name="The pendulum swung when tried")
    expect(answer).to_be_visible()
    assert lines_of(answer) <= 5  # its rims count
    assert office.faults() == []


@pytest.mark.parametrize("width", [390, 834])
def test_no_word_of_what_sends_people_away_is_broken(
    office: Office, day: dict[str, Any], open_browser: Open, width: int
) -> None:
    """ "Ammunitio" stood on one line of a tablet, "n" on the next."""
    page = open_browser("tablet", size={"width": width, "height": 1112}).pages[0]
    pair(page, office, "table", "Table 1")
    go_to(page, f"{office.address}/#/stop")
    expect(page.get_by_role("button", name="Ammunition", exact=True)).to_be_visible()
    broken = page.evaluate(BROKEN, ".urgent button")
    assert broken == []
    assert office.faults() == []


def test_the_keys_of_two_values_stand_on_one_line(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q09"))
    item = str(manager.keep(an_item(ids, visit))["item_id"])
    manager.push()
    other = office.pair("table", "Table 9")
    for phone, maker in (
        (manager, "unmarked"),
        (other, "a metal button in the left ear, with a red cloth label"),
    ):
        phone.keep(a_fact(item, "maker", maker))
        phone.push()
    page = a_manager(open_browser, office)
    page.set_viewport_size({"width": 390, "height": 844})
    go_to(page, f"{office.address}/#/entry/{item}")
    keys = page.get_by_role("button", name="This one holds")
    expect(keys).to_have_count(2)
    tops = [round(key.bounding_box()["y"]) for key in keys.all()]  # type: ignore[index]
    assert tops[0] == tops[1]
    keys.last.click()
    why = page.get_by_role("alert").filter(has_text="Why?")
    both = page.locator(".between .sides").bounding_box()
    assert round(why.bounding_box()["width"]) == round(both["width"])  # type: ignore[index]
    expect(keys.last).to_have_attribute("aria-pressed", "true")
    expect(keys.first).to_have_attribute("aria-pressed", "false")
    assert office.faults() == []
