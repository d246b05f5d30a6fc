"""Every screen against WCAG 2.2 A and AA, as axe-core reads it, light and dark. Source: axe-core's rules."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Any, Literal

from playwright.sync_api import CDPSession, Page, expect

from tests.builders import a_consignor, a_fact, a_tie, a_visit, an_item, picture
from tests.conftest import Office
from tests.custody.test_custody import NUMBERS
from tests.journeys.conftest import Open, go_back, go_to, next_screen, pair, pair_by_hand
from tests.journeys.test_one_item import begin_visit, photo
from tests.samples import sampled

AXE = Path(__file__).parents[2] / "web" / "node_modules" / "axe-core" / "axe.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
Scheme = Literal["light", "dark"]
SCHEMES: tuple[Scheme, ...] = ("light", "dark")


@cache
def session_of(page: Page) -> CDPSession:
    """What asks the browser for the worlds of a page: those that it made end with it."""
    return page.context.new_cdp_session(page)


def world_with_axe(page: Page) -> int:
    """A world of its own in which axe-core is run: the page's policy forbids more. A document is given it once."""
    session = session_of(page)
    frame = session.send("Page.getFrameTree")["frameTree"]["frame"]["id"]
    asked = {"frameId": frame, "worldName": "axe"}
    world: int = session.send("Page.createIsolatedWorld", asked)["executionContextId"]
    here = session.send("Runtime.evaluate", {"expression": "typeof axe", "contextId": world})
    if here["result"]["value"] == "undefined":
        session.send("Runtime.evaluate", {"expression": AXE.read_text("utf-8"), "contextId": world})
    return world


def faults(page: Page, schemes: Sequence[Scheme] = SCHEMES) -> list[str]:
    """What axe-core finds, light and dark, a line for each.

    The window is made as tall as the page: a link that lies half behind the bar at the thumb until it is
    scrolled would otherwise count as a small one.
    """
    size = page.viewport_size
    assert size is not None
    tall = "document.documentElement.scrollHeight"
    for _ in range(5):  # what is below is drawn a moment later, and the page grows
        page.set_viewport_size({"width": size["width"], "height": page.evaluate(tall)})
        page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
        if page.evaluate(f"{tall} <= innerHeight"):
            break
    world = world_with_axe(page)
    # All rules are tried; of what is good no list is made.
    asked = """axe.run(document, {runOnly: %s, resultTypes: ["violations"], selectors: false})
        .then((r) => r.violations.map((v) => v.id + ": " + v.nodes[0].html))"""
    found = []
    for scheme in schemes:
        page.emulate_media(color_scheme=scheme)
        answer = session_of(page).send(
            "Runtime.evaluate",
            {"expression": asked % RULES, "contextId": world, "awaitPromise": True, "returnByValue": True},
        )
        assert "exceptionDetails" not in answer, answer
        found += [f"{scheme}: {one}" for one in answer["result"]["value"]]
    page.set_viewport_size(size)
    return found


def small(page: Page, schemes: Sequence[Scheme] = SCHEMES) -> list[str]:
    """What can be pressed and is less than 48 px high, as our own look asks; a line of text may hold a link.

    Panes that stand side by side have hands on keys and a mouse: there 24 px are enough.
    Source of the 24: WCAG 2.2, success criterion 2.5.8.
    """
    size = page.viewport_size
    is_desk = (
        size is not None and size["width"] >= 1024 and page.locator(".desk, .glance, .closing").count() > 0
    )
    asked = """(least) => [...document.querySelectorAll("a[href], button, input, select, textarea, summary")]
            .filter((one) => one.checkVisibility() && !one.closest(".unseen"))
            .map((one) => [one.getBoundingClientRect().height, one.outerHTML.slice(0, 160)])
            .filter(([height]) => height > 0 && height < least).map((one) => one.join(": "))"""
    found = []
    for scheme in schemes:
        page.emulate_media(color_scheme=scheme)
        found += [f"{scheme}: {one}" for one in page.evaluate(asked, 24 if is_desk else 47.5)]
    return found


# Source: WCAG 2.2, success criteria 1.4.10 (320 px of width) and 1.4.4 (text at 200 %).
REACHES_OUT = """(times) => {
    document.documentElement.style.fontSize = `${times * 106.25}%`;
    const out = document.documentElement.scrollWidth - innerWidth;
    const widest = out > 0 && [...document.querySelectorAll("main *, .dock *, .top *")]
        .find((one) => one.getBoundingClientRect().right > innerWidth + 1);
    document.documentElement.style.fontSize = "";
    return widest ? `${out} px: ${widest.outerHTML.slice(0, 160)}` : out > 0 ? `${out} px` : "";
}"""


def too_wide(page: Page, schemes: Sequence[Scheme] = SCHEMES) -> list[str]:
    """What makes a screen scroll sideways at 320 px, and on a phone with its text twice as large."""
    size = page.viewport_size
    assert size is not None
    found = []
    for width, times in ((size["width"], 2), (320, 1)):
        page.set_viewport_size({"width": width, "height": size["height"]})
        for scheme in schemes:
            page.emulate_media(color_scheme=scheme)
            found.append(page.evaluate(REACHES_OUT, times))
    page.set_viewport_size(size)
    return [one for one in found if one]


# A word of a key or of a row that stands on several lines, letter under letter; and a key that lies over a number.
BROKEN = """(within) => {
    document.documentElement.style.fontSize = "212.5%";
    const found = [];
    for (const part of document.querySelectorAll(within)) {
        if (!part.checkVisibility()) continue;
        const texts = document.createTreeWalker(part, NodeFilter.SHOW_TEXT);
        for (let text = texts.nextNode(); text; text = texts.nextNode()) {
            if (text.parentElement.closest(".unseen, option")) continue;
            for (const word of text.data.matchAll(/[\\p{L}\\d-]+/gu)) {
                const range = document.createRange();
                range.setStart(text, word.index);
                range.setEnd(text, word.index + word[0].length);
                const rects = [...range.getClientRects()];
                const isWhole = new Set(rects.map(({ top }) => Math.round(top))).size < 2;
                const { left, top, width, height } = range.getBoundingClientRect();
                const over = document.elementFromPoint(left + width - 1, top + height / 2)?.closest("button, a");
                const isCovered = over && !over.contains(text) && part.contains(over);
                if (!isWhole || isCovered) found.push(word[0]);
            }
        }
    }
    document.documentElement.style.fontSize = "";
    return found;
}"""


def test_words_stay_whole_with_the_text_twice_as_large(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """An owner's name, the keys of a picture, a number that is tied, what is urgent: none letter under letter."""
    table = office.pair("table")
    visit = table.keep(a_visit(table.ids, day["day_id"]))
    table.keep(a_consignor(visit["visit_id"], "name", "Quentin Rookanchor"))
    item = table.keep(an_item(table.ids, visit))
    table.keep(a_fact(item["item_id"], "short_description", "plush elephant"))
    table.keep(a_tie(item["item_id"], NUMBERS[0]))
    table.push()
    page = open_browser("axe").pages[0]
    pair(page, office, "manager", "Manager")
    address = f"{office.address}/#/item/{item['item_id']}"
    go_to(page, f"{office.address}/#/today")
    expect(page.get_by_text("Quentin Rookanchor")).to_be_visible()
    assert page.evaluate(BROKEN, ".row") == []
    go_to(page, f"{address}/tag")
    expect(page.get_by_text("Numbers of this item")).to_be_visible()
    page.locator(".row").scroll_into_view_if_needed()
    assert page.evaluate(BROKEN, ".row") == []
    go_to(page, f"{address}/stop")
    expect(page.get_by_role("button", name="Ammunition")).to_be_visible()
    assert page.evaluate(BROKEN, ".urgent") == []
    go_to(page, address)
    page.get_by_role("button", name="Soft toys").click()
    go_to(page, f"{address}/photos")
    photo(page, picture(1), "front.jpg")
    expect(page.locator(".photo-rows img.thumb")).to_have_count(1)
    assert page.evaluate(BROKEN, ".photo-rows") == []


def test_how_much_is_only_here_fits_beside_its_sign(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    page = open_browser("axe").pages[0]
    pair(page, office, "manager", "Manager")
    page.context.set_offline(True)
    go_to(page, f"{office.address}/#/today")
    begin_visit(page)
    page.get_by_role("button", name="Soft toys").click()
    for address in (page.url, f"{office.address}/#/today"):
        page.goto(address)
        expect(page.get_by_text("On this device:")).to_be_visible()
        assert too_wide(page) == []


def test_where_it_all_is_stands_on_one_line(office: Office, open_browser: Open) -> None:
    """On two it would lie over the name of the screen, since it has no more room than one."""
    page = open_browser("axe").pages[0]
    pair(page, office, "porter", "Porter")
    go_to(page, f"{office.address}/#/porter")
    words = page.locator(".saved").get_by_text("All at the desk", exact=True)
    lines = """(words) => {
        const inside = document.createRange();
        inside.selectNodeContents(words);
        return new Set([...inside.getClientRects()].map(({ top }) => top)).size;
    }"""
    assert words.evaluate(lines) == 1


def test_every_screen(office: Office, day: dict[str, Any], open_browser: Open) -> None:
    """Each is looked at before the next is gone to, since the way there is what takes long; of a list of addresses
    each light or dark, the other way round with another seed."""
    page = open_browser("axe").pages[0]
    page.goto(office.address)
    expect(page.get_by_label("Code")).to_be_visible()
    assert faults(page) == []
    pair_by_hand(page, office, "manager", "Manager")
    go_to(page, f"{office.address}/#/today")
    begin_visit(page)
    page.get_by_role("button", name="Soft toys").click()
    page.get_by_label("Short description").fill("plush elephant")
    item = page.url
    go_back(page)
    with next_screen(page):
        page.get_by_role("link", name="Nothing to sign for yet").click()
    receipt = page.url
    go_to(page, f"{item}/zones")
    page.locator("ol.zones li.next a").click()
    page.get_by_role("button", name="hall light").click()
    page.locator("section:has(h3:text('Seen a fault?')) .chip").first.click()
    expect(page.locator("article.finding")).to_have_count(1)
    assert faults(page) == []
    assert small(page) == []
    assert too_wide(page) == []
    go_to(page, f"{item}/marks")
    page.get_by_role("button", name="Elsewhere").click()
    expect(page.locator("article.finding")).to_have_count(1)
    assert faults(page) == []
    go_to(page, f"{item}/photos")
    photo(page, picture(1), "front.jpg")
    expect(page.locator(".photo-rows img.thumb")).to_have_count(1)
    assert faults(page) == []
    expect(page.get_by_text("At the desk")).to_be_visible()
    phone = page.viewport_size
    assert phone is not None
    places = ["/#/today", "/#/outbox", "/#/day", "/#/devices", "/#/queue", "/#/tag"]
    places += ["/#/rolls", "/#/porter", "/#/places", "/#/closing", "/#/stop", "/#/cards"]
    addresses = [
        item,
        receipt,
        receipt.removesuffix("/receipt"),
        f"{item}/zones",
        f"{item}/tag",
        item.replace("/item/", "/entry/"),
    ]
    addresses += [f"{item}/{part}" for part in ("works", "measures", "words", "stop")]
    addresses += [office.address + place for place in places]
    looks = [(address, scheme) for address in addresses for scheme in SCHEMES]
    schemes: dict[str, list[Scheme]] = {}
    for address, scheme in sampled(looks, of=2, kind=lambda look: look[0]):
        schemes.setdefault(address, []).append(scheme)
    for address, looked_at in schemes.items():
        go_to(page, address)
        expect(page.get_by_role("heading", level=1)).to_be_visible()
        expect(page.get_by_text("Reading …").locator("visible=true")).to_have_count(0)
        assert faults(page, looked_at) == [], address
        assert small(page, looked_at) == [], address
        assert too_wide(page, looked_at) == [], address
        page.set_viewport_size({"width": 1440, "height": 900})
        assert small(page, looked_at) == [], address
        page.set_viewport_size(phone)
    go_to(page, f"{item}/stop")
    page.get_by_label("What do you see, hear or smell?").fill("old signal cartridges")
    page.locator(".rows .row").first.click()
    expect(page.get_by_role("alert").filter(has_text="Red: stopped")).to_be_visible()
    assert faults(page) == []
    go_to(page, item)
    expect(page.get_by_label("Short description")).to_be_disabled()
    assert faults(page) == [], "a stopped item"
