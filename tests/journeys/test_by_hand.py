"""How much handwork a typical item is: taps, keys and screen changes of a scripted examination, counted and printed.

The time is a keystroke-level estimate. Source of the operator times: Card, Moran and Newell, "The keystroke-level
model for user performance time with interactive systems", Communications of the ACM 23 (1980): K 0.28 s for an
average person who is no typist, P 1.10 s, M 1.35 s. A tap is taken as P and K; thinking is put once before each
screen, finding, denial and measure. The scale is theirs for a desk: it compares designs, it is no promise.
"""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import Page, ViewportSize, expect

from intake.tagging.tags import codes
from tests.conftest import Office
from tests.journeys.conftest import Open, press_there
from tests.journeys.test_one_item import phone_at_a_table

K, P, M = 0.28, 1.10, 1.35
# What it came down to; more than this is a step back.
MOST_TAPS, MOST_KEYS, MOST_SCREENS = 39, 27, 4
TEAPOT_TAPS, TEAPOT_KEYS, TEAPOT_SCREENS = 49, 90, 6

COUNTERS = """() => {
    globalThis.counted = { taps: 0, keys: 0, screens: 0 };
    addEventListener("pointerdown", () => { counted.taps += 1; }, true);
    addEventListener("keydown", () => { counted.keys += 1; }, true);
    addEventListener("hashchange", () => { counted.screens += 1; });
}"""

FINDINGS = {"body": "hairline", "rim": "chip", "handles": "restuck", "spout": "chip", "gilding": "abrasion"}
DENIALS = {
    "neck": "Clear, and no chip or crack seen",
    "inside": "Clear, and no chip or crack seen",
    "cover": "No restoration seen",
    "foot rim": "Clear, and no chip or crack seen",
}
NEVER_HAD = {"stand": "Nor mounts"}
MARKS, ONE_MARK = "mark", "There is one, and without fault"
LAST_ZONE = "packaging"
TABLET: ViewportSize = {"width": 834, "height": 1112}


def walk(page: Page) -> None:
    """Every zone in its order, on one screen: a finding here, a denial there, clear the others, two it never had."""
    while True:
        expect(page.locator(".place-in-walk")).to_contain_text("Not looked at")
        zone = page.locator(".zone-head h2").inner_text().lower()
        if zone in FINDINGS:
            page.get_by_role("button", name=FINDINGS[zone], exact=True).click()
            expect(page.locator("article.finding")).to_have_count(1)
            page.get_by_role("button", name="Next:").click()
        elif zone in DENIALS:
            page.get_by_role("button", name=DENIALS[zone]).click()
            if not DENIALS[zone].startswith("Clear"):
                page.get_by_role("button", name="Clear", exact=True).click()
        elif zone in NEVER_HAD:
            page.get_by_role("button", name=NEVER_HAD[zone]).click()
        else:
            page.get_by_role("button", name=ONE_MARK if zone == MARKS else "Clear", exact=True).click()
        if zone == LAST_ZONE:
            return
        expect(page.locator(".zone-head h2")).not_to_have_text(re.compile(f"^{zone}$", re.IGNORECASE))


def test_a_typical_item_by_hand(office: Office, day: dict[str, Any], open_browser: Open) -> None:
    """21 zones, 5 findings, 4 denials, 3 measures, 8 photos: from the class to the last picture."""
    phone, page = phone_at_a_table(open_browser, office)
    phone.set_offline(True)
    page.evaluate(COUNTERS)
    page.get_by_role("button", name="Ceramics").click()
    expect(page.get_by_label("Short description")).to_be_focused()
    page.get_by_role("button", name="bone china", exact=True).click()
    expect(page.get_by_label("Short description")).to_be_focused()
    page.keyboard.type(" teapot and cover")
    expect(page.get_by_label("Short description")).to_have_value("bone china teapot and cover")
    page.get_by_role("link", name="Look: outline").click()
    page.get_by_role("button", name="lamp", exact=True).click()
    walk(page)
    expect(page.get_by_role("heading", name="Zones: all 21 done")).to_be_visible()
    page.get_by_label("This item").get_by_role("link", name="Measured").click()
    expect(page.get_by_label("Height; say")).to_be_focused()
    for number, size in enumerate(("155", "12", "265")):
        if number:
            page.keyboard.press("Enter")
        page.keyboard.type(size)
    page.get_by_role("link", name="Next: photos").click()
    for number in range(8):
        press_there(page.get_by_role("button", name="Take: "))
        expect(page.locator(".photo-rows li")).to_have_count(number + 1)
    counted = page.evaluate("() => globalThis.counted")
    item = page.url.split("/photos")[0]
    taps, keys, screens = counted["taps"], counted["keys"], counted["screens"]
    seconds = taps * (P + K) + keys * K + M * (screens + 5 + 4 + 3)
    print(f"\nby hand: {taps} taps, {keys} keys, {screens} screen changes, about {seconds:.0f} s")
    assert taps <= MOST_TAPS, counted
    assert keys <= MOST_KEYS, counted
    assert screens <= MOST_SCREENS, counted

    in_words_with_no_network(page, item)


def in_words_with_no_network(page: Page, item: str) -> None:
    """What was said is read back, by itself and beside the walk of a tablet, on a device just started anew."""
    denied = "No crack, hairline or chip seen on the neck, the inside or the foot-rim"
    page.goto(f"{item}/words")
    page.reload()
    expect(page.get_by_text(denied).first).to_be_visible()
    page.set_viewport_size(TABLET)
    page.goto(f"{item}/zone/rim")
    page.reload()
    known = page.get_by_label("What is known so far")
    expect(known.get_by_role("heading", name="Findings so far 5")).to_be_visible()
    expect(known.get_by_text(denied)).to_be_visible()


def say(page: Page, zone: str, *names: str) -> None:
    """Press what is said of the zone in hand, which is this one, until the next zone comes."""
    head = page.locator(".zone-head h2")
    expect(head).to_have_text(re.compile(f"^{zone}$", re.IGNORECASE))
    for name in names:
        page.get_by_role("button", name=re.compile(f"^{name}")).click()
    expect(head).not_to_have_text(re.compile(f"^{zone}$", re.IGNORECASE))


def test_a_silver_teapot_by_hand(office: Office, day: dict[str, Any], open_browser: Open) -> None:
    """23 zones, 3 findings, 8 it never had, a mark, 3 trials, 2 sizes, 12 photos, a tag: from its class to the tag."""
    phone, page = phone_at_a_table(open_browser, office)
    phone.set_offline(True)
    page.evaluate(COUNTERS)
    page.get_by_role("button", name="Silver, plate").click()
    expect(page.get_by_label("Short description")).to_be_focused()
    page.keyboard.type("silver teapot")
    page.keyboard.press("Enter")
    expect(page.get_by_label("Materials")).to_be_focused()
    page.keyboard.type("silver, ebony")
    page.get_by_label("Told by the owner").click()
    page.keyboard.type("from her aunt, a wedding gift 1931")
    page.get_by_role("link", name="Look: outline").click()
    page.get_by_role("button", name="hall light", exact=True).click()
    say(page, "outline", "Clear")
    say(page, "body", "dent", "Next:")
    for zone in ("rim", "decoration", "engraving"):
        say(page, zone, "Clear")
    say(
        page,
        "blank shield",
        "Nor loading, gilding, plating, packaging \\(box\\)$",
    )
    say(page, "handles", "solder repair", "Next:")
    say(page, "insulators", "crack", "Next:")
    page.get_by_role("button", name="Rest clear (4)").click()
    page.get_by_role("button", name="I looked at all 4: clear").click()
    # What shows only when it is opened or turned over is said by itself.
    for zone in ("hinge", "base"):
        say(page, zone, "Clear")
    say(page, "marks on the body", ONE_MARK)
    page.get_by_role("button", name=ONE_MARK).click()  # the marks on the other parts, the last
    page.get_by_role("link", name="Next: marks").click()
    page.get_by_role("button", name="underside", exact=True).click()
    expect(page.get_by_label("As it stands")).to_be_focused()
    page.keyboard.type("lion, anchor, G")
    page.get_by_role("button", name="struck", exact=True).click()
    page.get_by_role("button", name="Worn", exact=True).click()
    page.get_by_role("link", name="Next: what works").click()
    page.get_by_role("group", name="breathing on the engraving").get_by_role(
        "button", name="Not done"
    ).click()
    page.get_by_role("button", name="This item never had it").click()
    page.get_by_role("button", name="Weighed", exact=True).click()
    page.get_by_role("button", name="Works", exact=True).click()
    page.get_by_label("Height").click()
    page.keyboard.type("140")
    page.get_by_label("Weight").click()
    page.keyboard.type("518")
    page.get_by_role("button", name="gross", exact=True).click()
    page.get_by_role("link", name="Next: photos").click()
    for number in range(12):
        press_there(page.get_by_role("button", name="Take: "))
        expect(page.locator(".photo-rows li")).to_have_count(number + 1)
    page.get_by_role("link", name="Next: tie a tag").click()
    page.get_by_label("Key in the tag's number").click()
    page.keyboard.type(next(iter(codes(5000))))
    page.get_by_role("button", name="Tie ").click()
    expect(page.get_by_role("status").filter(has_text="is tied")).to_be_visible()
    counted = page.evaluate("() => globalThis.counted")
    taps, keys, screens = counted["taps"], counted["keys"], counted["screens"]
    print(f"\nsilver teapot: {taps} taps, {keys} keys, {screens} screen changes")
    assert taps <= TEAPOT_TAPS, counted
    assert keys <= TEAPOT_KEYS, counted
    assert screens <= TEAPOT_SCREENS, counted
