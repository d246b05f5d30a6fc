"""A watch, a rug and a part tea service at one table with the network off; then the desk reads each in words."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import Page, expect

from tests.conftest import Office
from tests.journeys.conftest import DESK, Open, go_back, go_to, pair
from tests.journeys.test_one_item import phone_at_a_table


def open_zone(page: Page, item: str, zone: str, light: str) -> None:
    go_to(page, f"{item}/zone/{zone}")
    expect(page.locator(".place-in-walk")).to_be_visible()
    button = page.get_by_role("button", name=light, exact=True)
    if button.count():
        button.click()


def say_and_go_on(page: Page, name: str | re.Pattern[str]) -> None:
    """What ends a zone; the screen goes on to the next by itself, and a person waits for that."""
    zone = page.locator(".zone-head h2").inner_text()
    page.get_by_role("button", name=name, exact=isinstance(name, str)).click()
    expect(page.locator(".zone-head h2")).not_to_have_text(zone)


def find(page: Page, item: str, zone: str, term: str, light: str) -> None:
    open_zone(page, item, zone, light)
    page.get_by_role("button", name="Other", exact=True).click()
    page.get_by_label("Search all terms").fill(term)
    page.get_by_role("button", name=term, exact=True).first.click()
    expect(page.locator("article.finding")).to_have_count(1)


def rest_clear(page: Page, item: str, light: str) -> None:
    go_to(page, f"{item}/zones")
    page.get_by_role("button", name=re.compile("Rest clear")).click()
    expect(page.get_by_role("heading", name="Rest clear")).to_be_visible()
    chosen = page.get_by_role("button", name=re.compile("^Looked at with"))
    if chosen.count():  # the light of the thing before is still in hand
        chosen.click()
    page.get_by_role("button", name=light, exact=True).click()
    page.get_by_role("button", name=re.compile("I looked at all")).click()
    expect(page.get_by_text(re.compile("^Said together")).first).to_be_visible()


def describe(page: Page, class_name: str, words: str, date: str, years: str) -> str:
    page.get_by_role("button", name=class_name).click()
    page.get_by_label("Short description").fill(words)
    expect(page.get_by_label("Date", exact=True)).to_be_hidden()  # folded until somebody says something of it
    page.locator("summary").filter(has_text="Maker and date").click()
    page.get_by_label("Date", exact=True).fill(date)
    expect(page.get_by_text(years)).to_be_visible()
    page.get_by_role("group", name="How sure of the date").get_by_role("button", name="Probable").click()
    return page.url


def another_item(page: Page) -> None:
    go_back(page)
    page.get_by_role("button", name=re.compile("item on the table")).click()
    expect(page.get_by_label("Short description")).to_have_value("")


def the_watch(page: Page) -> str:
    item = describe(page, "Watches", "silver pocket watch", "circa 1885", "1880 to 1890")
    find(page, item, "dial", "hairline", "loupe x10")
    page.get_by_role("button", name="Size", exact=True).click()
    page.get_by_label("Length").fill("1/4 in")
    expect(page.get_by_text("6.4 mm (1/4 in)")).to_be_visible()
    page.get_by_role("button", name="Where", exact=True).click()
    page.get_by_label("Where on it").select_option(label="at 4 o'clock")
    open_zone(page, item, "movement", "loupe x10")
    page.get_by_role("button", name="Not examined").click()
    say_and_go_on(page, re.compile("^Sealed"))
    page.get_by_role(
        "button", name="Not examined"
    ).click()  # what lies inside it is not called clear with the rest
    say_and_go_on(page, re.compile("^Sealed"))
    rest_clear(page, item, "lamp")
    go_to(page, f"{item}/works")
    going = page.locator("article", has=page.get_by_role("heading", name="running"))
    # Nobody reads that nothing forbids it; of what does not forbid itself it is said when not.
    expect(going.get_by_text("Not when:")).to_have_count(0)
    expect(page.get_by_text("Not when:").first).to_be_visible()
    going.get_by_role("button", name="Going", exact=True).click()
    page.get_by_role("button", name=re.compile("^Movement not opened")).click()
    go_to(page, f"{item}/marks")
    page.get_by_role("button", name="inside the case back").click()
    page.get_by_label("As it stands").fill("THORNAPPLE\n2204")
    go_to(page, f"{item}/measures")
    page.get_by_label("Case diameter").fill("12 m")
    expect(page.get_by_text("That is a lot for this")).to_be_visible()
    page.get_by_label("Case diameter").fill("52")
    expect(page.get_by_text("5.2 cm (2 1/16 in)")).to_be_visible()
    go_to(page, item)
    return item


def the_rug(page: Page) -> str:
    item = describe(
        page,
        "Textiles, rugs",
        "hand-knotted rug",
        "late 19th century",
        "1870 to 1900",
    )
    find(page, item, "border%2Fviewers-left", "insect grazing", "lamp")
    page.get_by_role("button", name="Size", exact=True).click()
    page.get_by_label("Longest").fill("40")
    page.get_by_label("Across").fill("25")
    open_zone(page, item, "field", "lamp")
    page.get_by_role("button", name=re.compile("^No moth seen")).click()
    say_and_go_on(page, "Clear")
    open_zone(page, item, "back", "lamp")  # it was not tried by turning it over: nobody says it with the rest
    say_and_go_on(page, "Clear")
    rest_clear(page, item, "lamp")
    go_to(page, f"{item}/measures")
    page.get_by_label("length; say").fill("6 ft 4")
    page.get_by_label("width; say").fill("4' 1\"")
    expect(page.get_by_text(re.compile(r"193\.0\scm"))).to_be_visible()
    go_to(page, item)
    return item


def the_tea_service(page: Page) -> str:
    item = describe(
        page,
        "Ceramics",
        "part tea service of seven pieces",
        "before 1840",
        "up to 1839",
    )
    find(page, item, "set-count", "missing part", "lamp")
    page.get_by_role("button", name="Size", exact=True).click()
    page.get_by_label("How many", exact=True).fill("2")
    page.get_by_role("button", name="More", exact=True).click()
    page.get_by_label("Note", exact=True).fill("two saucers of six")
    open_zone(page, item, "rim", "lamp")
    denied = page.get_by_role("button", name=re.compile("^No restoration seen"))
    denied.click()  # a lamp does not show it: with what it was looked for is asked
    asked = page.get_by_role("group", name="Looked for with what?")
    asked.get_by_role("button", name="ultraviolet", exact=True).click()
    expect(denied).to_have_attribute("aria-pressed", "true")
    say_and_go_on(page, "Clear")
    rest_clear(page, item, "ultraviolet")
    go_to(page, f"{item}/stop")
    page.get_by_label("What do you see, hear or smell?").fill("lead figures")
    page.locator(".rows .row").first.click()
    page.get_by_role("button", name="Put the caution on it").click()
    expect(page.locator(".caution-bar")).to_contain_text("Note")
    go_to(page, item)
    return item


def test_three_very_different_classes(office: Office, day: dict[str, Any], open_browser: Open) -> None:
    phone, page = phone_at_a_table(open_browser, office)
    phone.set_offline(True)
    said: dict[str, str] = {}
    for record, words in (
        (
            the_watch,
            "A hairline of 6.4 mm in the dial, at 4 o'clock. It was going when examined, not timed. "
            "Movement not opened. Not examined: the movement",
        ),
        (
            the_rug,
            "Grazing by insects over 40 x 25 mm on the left border as viewed. "
            "No live insect, fresh insect droppings or grazing by insects seen on the field",
        ),
        (
            the_tea_service,
            "Two pieces missing from the set (two saucers of six). No sign of filling or retouching to the rim",
        ),
    ):
        if said:
            another_item(page)
        said[record(page)] = words
    phone.set_offline(False)
    expect(page.get_by_text("At the desk")).to_be_visible()

    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    for item, words in said.items():
        desk.goto(item.replace("/item/", "/entry/"))
        condition = desk.get_by_role("listbox", name=re.compile("^Condition"))
        for sentence in words.split(". "):
            expect(condition).to_contain_text(sentence)
        expect(desk.locator("svg.outline").first).to_be_visible()
    heading = desk.get_by_role("listbox", name=re.compile("^Heading"))
    expect(heading).to_have_text("A part tea service of seven pieces, before 1840")
    assert office.faults() == []
