"""Six glasses are counted before any has a number, and a crack says on how many of them it is."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import BrowserContext, Page, expect

from tests.conftest import Office
from tests.journeys.conftest import Open, go_to
from tests.journeys.test_one_item import phone_at_a_table
from tests.journeys.test_three_classes import find


def counted_with_no_network(
    open_browser: Open, office: Office, pieces: int, short_description: str
) -> tuple[BrowserContext, Page]:
    """A thing of so many pieces, counted as it is begun on a phone at a table that has lost the network."""
    phone, page = phone_at_a_table(open_browser, office)
    phone.set_offline(True)
    page.get_by_role("group", name="How many pieces").get_by_role("button", name="More", exact=True).click()
    expect(page.get_by_label("Number of pieces")).to_be_focused()
    page.keyboard.type(str(pieces))
    page.get_by_role("button", name="Glass", exact=True).click()
    page.get_by_label("Short description").fill(short_description)
    return phone, page


def test_a_set_is_counted_as_it_is_begun_and_a_finding_says_on_how_many_it_is(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    phone, page = counted_with_no_network(open_browser, office, 6, "six wine glasses")
    item = page.url

    find(page, item, "stem", "crack", "lamp")
    which = page.get_by_label("Which of the 6 pieces")
    expect(which.locator("option").last).to_have_text("Not noted which")
    which.select_option(label="2 of them")
    expect(which).to_have_value("of 2")
    page.get_by_label("Which ones those are").fill("those with a gilt rim")
    go_to(page, f"{item}/tag")
    expect(page.locator("main")).to_contain_text("6 pieces were counted.")
    go_to(page, f"{item}/words")
    expect(page.locator("main")).to_contain_text(
        re.compile(r"Two of the six \(those with a gilt rim\) have a crack (.* )?in the stem")
    )

    phone.set_offline(False)
    expect(page.get_by_text("At the desk")).to_be_visible()
    assert office.faults() == []


def test_what_a_set_lacks_is_on_none_of_the_pieces_that_were_counted(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    _, page = counted_with_no_network(open_browser, office, 6, "six wine glasses")
    find(page, page.url, "set-count", "missing part", "lamp")
    which = page.get_by_label("Which of the 6 pieces")
    expect(which).to_have_value("")
    expect(which.locator("option").first).to_have_text("The set as a whole, or a piece that is not here")


def test_a_number_of_pieces_that_was_not_typed_stays_asked_for(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    _, page = phone_at_a_table(open_browser, office)
    item = page.url
    page.get_by_role("group", name="How many pieces").get_by_role("button", name="More", exact=True).click()
    page.get_by_role("button", name="Glass", exact=True).click()
    count = page.get_by_label("Number of pieces")
    expect(count).to_be_focused()  # before the name: it would be scrolled past
    go_to(page, f"{item}/zones")
    go_to(page, item)
    expect(count).to_be_visible()
    missing = page.locator(".gaps").get_by_text("How many pieces: more was said, and no number")
    expect(missing).to_be_visible()
    page.reload()
    count.fill("6")
    go_to(page, f"{item}/zones")
    go_to(page, item)
    expect(count).to_have_value("6")
    expect(page.locator(".gaps li").first).to_be_visible()
    expect(missing).to_have_count(0)


def test_of_one_piece_nobody_is_asked_which(office: Office, day: dict[str, Any], open_browser: Open) -> None:
    _, page = phone_at_a_table(open_browser, office)
    item = page.url
    one = page.get_by_role("group", name="How many pieces").get_by_role("button", name="1", exact=True)
    one.click()
    expect(one).to_have_attribute("aria-pressed", "true")
    page.get_by_role("button", name="Glass", exact=True).click()
    find(page, item, "stem", "crack", "lamp")
    expect(page.get_by_label(re.compile("^Which of the"))).to_have_count(0)


def test_what_is_on_more_pieces_than_are_counted_now_is_asked_until_it_is_said_anew(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    _, page = phone_at_a_table(open_browser, office)
    item = page.url
    page.get_by_role("group", name="How many pieces").get_by_role("button", name="More", exact=True).click()
    page.get_by_label("Number of pieces").fill("6")
    page.get_by_role("button", name="Glass", exact=True).click()
    find(page, item, "stem", "crack", "lamp")
    page.get_by_label("Which of the 6 pieces").select_option(label="5 of them")
    found = page.url

    go_to(page, item)
    page.get_by_role("group", name="How many pieces").get_by_role("button", name="1", exact=True).click()
    ask = "A fault is on 5 of its pieces, and 1 was counted."
    expect(page.get_by_text(ask)).to_be_visible()
    go_to(page, f"{item}/words")
    expect(page.locator("main")).to_contain_text(re.compile("A crack (.* )?in the stem"))
    expect(page.locator("main")).not_to_contain_text(re.compile("five of", re.IGNORECASE))
    go_to(page, found)
    expect(page.get_by_text(ask)).to_be_visible()
    page.get_by_label("Which of the pieces").select_option(label="Not said")
    expect(page.get_by_text(ask)).to_have_count(0)
    expect(page.get_by_label("Which of the pieces")).to_have_count(0)
    go_to(page, item)
    expect(page.get_by_role("group", name="How many pieces")).to_be_visible()
    expect(page.get_by_text(ask)).to_have_count(0)
    expect(page.get_by_text("At the desk")).to_be_visible()
    assert office.faults() == []


LINE_PX = 112  # its field and its keys on one line each


def listing(open_browser: Open, office: Office, count: int, called: str, *, first: str) -> Page:
    """A thing of so many pieces, of which one line is listed."""
    _, page = counted_with_no_network(open_browser, office, count, called)
    page.get_by_text("Its pieces, one by one").click()
    page.get_by_label("The first").fill(first)
    page.keyboard.press("Enter")
    return page


def test_a_box_of_unlike_pieces_has_a_list_of_them_and_one_has_what_is_its_own(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    page = listing(open_browser, office, 14, "box of fourteen tools", first="2 chisels")
    item = page.url
    expect(page.get_by_text("2 of 14 listed, 12 to go.")).to_be_visible()
    page.get_by_label("The next").fill("a blowlamp")
    page.reload()
    # What nobody has added yet is still there.
    expect(page.get_by_label("The next")).to_have_value("a blowlamp")
    page.get_by_role("button", name="Add", exact=True).click()
    lines = page.locator(".pieces-listed li")
    expect(lines).to_have_count(2)
    box = lines.nth(0).bounding_box()
    assert box
    assert box["height"] <= LINE_PX, "a list of five leaves room for the thing"
    lines.nth(0).get_by_label("Which, and how many").fill("14 chisels")
    over = page.get_by_role("button", name="Counted again: it has 15 pieces")
    expect(page.get_by_text("15 are listed, and 14 pieces counted.")).to_be_visible()
    over.click()
    expect(over).to_have_count(0)
    expect(page.get_by_text("All 15 are listed.")).to_be_visible()

    find(page, item, "stem", "crack", "lamp")
    page.get_by_label("Which of the 15 pieces").select_option(label="A blowlamp")
    expect(page.get_by_label("Which one it is")).to_have_value("a blowlamp")
    go_to(page, item)
    expect(lines.nth(1)).to_contain_text("crack on the stem")
    lines.nth(1).get_by_role("link", name="A caution on it").click()
    page.get_by_role("searchbox").fill("fuel")
    page.get_by_role("button", name="Fuel").first.click()
    expect(page.get_by_label("What was seen")).to_have_value("a blowlamp")


def test_one_piece_of_a_box_without_a_number_goes_back_and_the_box_does_not(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    page = listing(open_browser, office, 6, "box of six kitchen tools", first="a cleaver")
    item = page.url
    page.get_by_role("button", name="Goes back to the owner").click()
    said = page.get_by_text("A cleaver goes back to its owner. Tie a tag to the others first")
    expect(said).to_be_visible()
    home = page.get_by_role("button", name="goes home with its owner, without a tag")
    expect(home).to_have_count(0)
    page.get_by_role("button", name="It stays").click()
    expect(page.locator(".pieces-listed li")).to_have_count(1)
    go_to(page, f"{item}/tag")
    expect(said).to_have_count(0)
    expect(home).to_have_text("All of it goes home with its owner, without a tag")


def test_the_two_of_a_pair_are_told_apart_in_one_way_and_one_of_them_in_words(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    _, page = phone_at_a_table(open_browser, office)
    item = page.url
    page.get_by_role("group", name="How many pieces").get_by_role("button", name="A pair").click()
    page.get_by_role("button", name="Glass", exact=True).click()
    find(page, item, "stem", "crack", "lamp")
    which = page.get_by_label("Which of the two")
    expect(which.locator("option", has_text=re.compile("left|first"))).to_have_count(2)
    which.select_option(label="The second")
    page.get_by_label("How to tell it from the others").fill("with the bent foot")
    find(page, item, "rim", "chip", "lamp")
    # Whoever said first and second says neither left nor right of the next.
    expect(which.locator("option", has_text="left")).to_have_count(0)
    which.select_option(label="The second")
    expect(page.get_by_label("How to tell it from the others")).to_have_value("with the bent foot")


def test_what_is_said_of_a_wig_is_found_as_it_is_said(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    _, page = phone_at_a_table(open_browser, office)
    page.get_by_role("button", name="Dolls", exact=True).click()
    go_to(page, f"{page.url}/zone/hair")
    page.get_by_role("button", name="lamp", exact=True).click()
    page.get_by_role("button", name="Other", exact=True).click()
    search = page.get_by_label("Search all terms")
    for typed, term in (("bald", "hair loss"), ("tangled", "tangled"), ("replaced wig", "replaced part")):
        search.fill(typed)
        expect(page.get_by_role("button", name=term, exact=True)).to_be_visible()
