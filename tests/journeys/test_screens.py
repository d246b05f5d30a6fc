"""What a screen does when something goes otherwise: undo, a bad address, a broken record, a refused camera, a kill."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.builders import Ids, a_fact, a_visit, an_item
from tests.conftest import Office
from tests.journeys.conftest import Open, go_back, go_to, line_is_back, next_screen, pair, turn_to, untold
from tests.journeys.test_one_item import phone_at_a_table
from tests.journeys.test_three_classes import rest_clear
from tests.phone import Phone

# What stands in localStorage, but for the address to come back to.
ENTERED_AT_ONCE = "() => Object.keys(localStorage).filter((name) => name !== 'place')"
# Writes what no office would into every record of a kind, behind the app's back.
BREAK = """async (kind) => {
    const opening = indexedDB.open("intake");
    await new Promise((resolve) => { opening.onsuccess = resolve; });
    const store = opening.result.transaction("record", "readwrite").objectStore("record");
    const all = await new Promise((resolve) => {
        const asked = store.getAll();
        asked.onsuccess = () => resolve(asked.result);
    });
    for (const record of all.filter((one) => one.kind === kind)) {
        store.put({...record, fields: {...record.fields, "consignor/name": {value: 5}}});
    }
    await new Promise((resolve) => { store.transaction.oncomplete = resolve; });
    opening.result.close();
}"""
REFUSE_TO_PLAY = """() => {
    const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
    window.streams = [];
    navigator.mediaDevices.getUserMedia = async (wanted) => {
        const stream = await ask(wanted);
        window.streams.push(stream);
        return stream;
    };
    HTMLMediaElement.prototype.play = () => Promise.reject(new DOMException("saving", "AbortError"));
}"""
TRACKS = "() => window.streams.flatMap((stream) => stream.getTracks()).map((track) => track.readyState)"


def walk_to_first_zone(page: Page) -> str:
    """The name of the first zone of a soft toy, opened, with its light chosen."""
    page.get_by_role("button", name="Soft toys").click()
    turn_to(page, "Zones")
    page.locator("ol.zones li.next a").click()
    page.get_by_role("button", name="hall light").click()
    return page.locator(".zone-head h2").inner_text()


def test_undo_takes_back_what_was_said_of_a_zone(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """Cleared by mistake with no network: after Undo nobody has spoken of the zone, on the phone or at the office."""
    phone, page = phone_at_a_table(open_browser, office)
    expect(page.get_by_text("At the desk")).to_be_visible()
    with untold(phone, office):
        phone.set_offline(True)
        zone = walk_to_first_zone(page)
        page.get_by_role("button", name="Clear", exact=True).click()
        expect(page.locator(".zone-head h2")).not_to_have_text(zone)
        page.get_by_role("button", name="Undo").click()
        expect(page.locator(".zone-head h2")).to_have_text(zone)
        expect(page.locator(".place-in-walk")).to_contain_text("Not looked at")
        page.get_by_role("button", name="Clear", exact=True).click()
        expect(page.locator(".zone-head h2")).not_to_have_text(zone)
    phone.set_offline(False)
    expect(page.get_by_text("At the desk")).to_be_visible(timeout=20_000)
    manager = office.pair("manager")
    items = [record for record in manager.feed()["records"] if record["kind"] == "item"]
    assert [name for name in items[0]["fields"] if name.startswith("zones/")] == [f"zones/{zone.lower()}"]
    assert items[0]["disagreements"] == []


def offered_as_never_had(page: Page) -> list[str]:
    """The zones that may be said so, in their order; nothing is said."""
    page.get_by_role("button", name="It never had …").click()
    expect(page.locator("h1")).to_have_text("It never had")
    zones = page.locator(".chips .chip").all_inner_texts()
    page.get_by_role("button", name="Back to the zones").click()
    return zones


def say_never_had(page: Page, zones: list[str]) -> None:
    page.get_by_role("button", name="It never had …").click()
    for zone in zones:
        page.get_by_role("button", name=zone, exact=True).click()
    page.get_by_role("button", name=f"It never had these {len(zones)}").click()
    expect(page.locator("h1")).to_contain_text("left of")


def test_undo_takes_a_sweep_back_or_says_what_stays(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """Three zones said in one sweep by mistake: all are taken back while nobody was told, else each is named."""
    phone, page = phone_at_a_table(open_browser, office)
    expect(page.get_by_text("At the desk")).to_be_visible()
    with untold(phone, office):
        phone.set_offline(True)
        walk_to_first_zone(page)
        go_back(page)
        heading = page.locator("h1")
        expect(heading).to_contain_text("left of")
        before = heading.inner_text()
        zones = offered_as_never_had(page)[:3]
        say_never_had(page, zones)
        expect(heading).not_to_have_text(before)
        page.get_by_role("button", name="Undo").click()
        expect(heading).to_have_text(before)
        expect(page.get_by_role("alert")).to_have_count(0)

        say_never_had(page, zones)
        go_back(page)
        page.get_by_label("Short description").fill("jug with a spout")
        expect(page.get_by_label("Short description")).to_have_value("jug with a spout")
        page.get_by_role("button", name="Undo").click()
        turn_to(page, "Zones")
        expect(heading).to_have_text(before)
        expect(page.get_by_role("alert")).to_have_count(0)

    say_never_had(page, zones)
    phone.set_offline(False)
    line_is_back(page)
    expect(page.get_by_text("At the desk")).to_be_visible()
    go_back(page)
    page.get_by_role("button", name="Undo").click()
    names = "; ".join(zone.lower() for zone in zones)
    expect(page.get_by_role("status").filter(has_text=names)).to_contain_text("so to be looked at again")
    expect(page.get_by_role("alert")).to_have_count(0)
    expect(page.get_by_label("Short description")).to_be_visible()  # nobody is sent to another screen
    turn_to(page, "Zones")
    expect(heading).to_have_text(before)
    page.reload()
    expect(heading).to_have_text(before)
    assert office.faults() == []


def test_undo_takes_back_the_last_act_and_says_which(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """A fault pressed by mistake after a sweep: Undo names the fault, takes that back and says so; the sweep stays."""
    phone, page = phone_at_a_table(open_browser, office)
    expect(page.get_by_text("At the desk")).to_be_visible()
    with untold(phone, office):
        phone.set_offline(True)
        walk_to_first_zone(page)
        go_back(page)
        heading = page.locator("h1")
        zones = offered_as_never_had(page)[1:3]
        say_never_had(page, zones)
        swept = heading.inner_text()
        page.locator("ol.zones li.next a").click()
        zone = page.locator(".zone-head h2").inner_text().lower()
        expect(page.get_by_role("button", name=f"Undo: It never had {zones[0].lower()}")).to_be_visible()
        fault = page.locator("h3.hint + .chips .chip").first
        words = fault.inner_text().capitalize()
        fault.click()
        expect(page.get_by_role("status").filter(has_text=f"{words} on {zone}.")).to_be_visible()
        page.get_by_role("button", name="Undo").click()
        expect(page.get_by_role("status").filter(has_text=f"Taken back: {words} on {zone}.")).to_be_visible()
        expect(page.locator("article.finding")).to_have_count(0)
        expect(page.locator(".place-in-walk")).to_contain_text("Not looked at")
        expect(page.get_by_role("button", name="Undo")).to_have_count(0)
        go_back(page)
        expect(heading).to_have_text(swept)


def test_an_undo_of_the_zones_does_not_stand_under_the_trials(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """There it would take back what nobody sees, and the dock would lie over one trial more."""
    _, page = phone_at_a_table(open_browser, office)
    walk_to_first_zone(page)
    page.get_by_role("button", name="Clear", exact=True).click()
    undo = page.locator(".dock .undo")
    expect(undo).to_be_visible()
    walk = page.evaluate("location.hash")
    for address, stands in ((re.sub("/zone.*", "/works", walk), 0), (walk, 1)):
        with next_screen(page):
            page.evaluate("address => { location.hash = address }", address)
        expect(undo).to_have_count(stands)
        expect(page.locator(".dock").get_by_role("button", name="Rest not done")).to_have_count(0)


def test_an_office_that_does_not_answer_is_said_where_it_was_asked(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """The network is there and nobody answers in it: the key came back as it was, and looked as if all had gone."""
    phone, page = phone_at_a_table(open_browser, office)
    with next_screen(page):
        page.evaluate("location.hash = '#/outbox'")
    expect(page.get_by_text("Everything from this device is at the desk")).to_be_visible()
    silent = page.get_by_role("alert").filter(has_text="The office did not answer.")
    phone.route("**/*", lambda route: route.abort())
    page.get_by_role("button", name="Send now").click()
    expect(silent).to_contain_text("goes by itself once it answers")
    phone.unroute("**/*")
    page.get_by_role("button", name="Send now").click()
    expect(silent).to_have_count(0)
    expect(page.get_by_text("Everything from this device is at the desk")).to_be_visible()


def test_a_finding_at_the_desk_is_withdrawn_by_undo_and_its_zone_asked_again(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """What the office may have is withdrawn; its zone has what was said of it before, or is left to look at."""
    _, page = phone_at_a_table(open_browser, office)
    zone = walk_to_first_zone(page)
    page.get_by_role("button", name="Clear", exact=True).click()
    expect(page.locator(".zone-head h2")).not_to_have_text(zone)
    go_back(page)
    page.locator("ol.zones li a").first.click()
    expect(page.locator(".zone-head h2")).to_have_text(zone)
    place = page.locator(".place-in-walk")
    expect(place).to_contain_text("Clear")
    chips = page.locator("h3.hint + .chips .chip")
    chips.first.click()
    expect(place).to_contain_text("Finding")
    expect(page.get_by_text("At the desk")).to_be_visible()
    page.get_by_role("button", name="Undo").click()
    expect(place).to_contain_text("Clear")
    expect(page.get_by_role("status").filter(has_text="Taken back")).to_be_visible()
    chips.first.click()
    expect(place).to_contain_text("Finding")
    page.get_by_role("button", name="More", exact=True).click()
    page.get_by_role("button", name="Withdraw this finding").click()
    expect(place).to_contain_text("Not looked at")
    page.get_by_role("button", name="Undo").click()
    expect(place).to_contain_text("Finding")
    expect(page.locator("article.finding")).to_have_count(1)
    expect(page.get_by_text("At the desk")).to_be_visible()
    assert office.faults() == []


def test_what_a_sweep_said_to_the_desk_is_said_anew_in_one_press(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """Each zone opens, or all are to be looked at again: left on the walk, and cleared with the rest."""
    _, page = phone_at_a_table(open_browser, office)
    walk_to_first_zone(page)
    go_back(page)
    heading = page.locator("h1")
    expect(heading).to_contain_text("left of")
    before = heading.inner_text()
    page.get_by_role("button", name="It never had …").click()
    zones = page.locator(".chips .chip").all_inner_texts()[:3]
    page.get_by_role("button", name="Back to the zones").click()
    say_never_had(page, zones)
    said = heading.inner_text()
    expect(page.get_by_text("At the desk")).to_be_visible()
    together = page.locator("details").filter(has_text="Said together: 3 zones it never had")
    together.locator("summary").click()
    expect(together.get_by_role("link", name=zones[1].lower(), exact=True)).to_be_visible()
    expect(together).to_contain_text("The desk may have been told: both stand in the history.")
    together.get_by_role("button", name="Say all 3 as not looked at again").click()
    expect(heading).to_have_text(before)
    expect(heading).not_to_have_text(said)
    expect(page.get_by_text("Said together")).to_have_count(0)
    expect(page.get_by_text("At the desk")).to_be_visible()
    page.get_by_role("button", name="Undo").click()  # that, too, is at the desk, and nothing is wrong with it
    expect(page.get_by_text("They are left on its list of zones: open each.")).to_be_visible()
    expect(page.get_by_role("alert")).to_have_count(0)
    page.reload()
    expect(heading).to_have_text(before)
    expect(page.get_by_text("nothing is taken back")).to_have_count(0)
    (item,) = (record for record in manager.feed()["records"] if record["kind"] == "item")
    states = [field["value"] for name, field in item["fields"].items() if name.startswith("zones/")]
    assert [state["reason"] for state in states] == ["to-look-at"] * 3
    assert item["disagreements"] == []
    page.get_by_role("button", name=re.compile("Rest clear")).click()
    page.get_by_role("button", name="hall light").click()
    page.get_by_role("button", name=re.compile("I looked at all")).click()
    expect(heading).to_have_text(re.compile("^Zones: 5 left"))  # which nobody sees who only looks
    expect(page.get_by_text("At the desk")).to_be_visible()
    (item,) = (record for record in manager.feed()["records"] if record["kind"] == "item")
    states = [field["value"] for name, field in item["fields"].items() if name.startswith("zones/")]
    assert {state["state"] for state in states} == {"clear"}
    assert office.faults() == []


def test_what_is_pressed_and_not_said_yet_stands_there_again(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """Zones ticked as never had, and a test not used with no reason yet: kept with no network, by every way out."""
    phone, page = phone_at_a_table(open_browser, office)
    page.get_by_role("button", name="Ceramics").click()
    phone.set_offline(True)
    turn_to(page, "Zones")
    page.get_by_role("button", name="It never had …").click()
    chips = page.locator(".chips .chip")
    for at in (0, 2):
        chips.nth(at).click()
    zones = page.locator(".chip[aria-pressed=true]").all_inner_texts()
    page.get_by_role("button", name="Back to the zones").click()
    page.get_by_role("button", name="It never had …").click()
    expect(page.locator(".chip[aria-pressed=true]")).to_have_text(zones)
    page.get_by_role("link", name="Back", exact=True).click()
    turn_to(page, "Zones")
    page.reload()
    page.get_by_role("button", name="It never had …").click()
    expect(page.locator(".chip[aria-pressed=true]")).to_have_text(zones)
    page.get_by_role("button", name="It never had these 2").click()
    page.get_by_role("button", name="It never had …").click()
    expect(page.locator(".chip[aria-pressed=true]")).to_have_count(0)

    item = page.url.split("/zones")[0]
    page.goto(f"{item}/works")
    used = page.locator("article.trial").filter(has_text="Ultraviolet").first
    used.get_by_role("button", name="Not used").click()
    expect(used.get_by_text("Why not?")).to_be_visible()
    page.goto(f"{item}/marks")
    expect(page.get_by_role("heading", level=1)).to_have_text("Marks")
    page.goto(f"{item}/works")
    expect(used.get_by_text("Why not?")).to_be_visible()
    expect(used.get_by_role("button", name="Not used")).to_have_attribute("aria-pressed", "true")
    used.get_by_role("button", name="Light not good enough").click()
    expect(used.get_by_text("Why not?")).to_have_count(0)
    page.reload()
    expect(used.get_by_text("Light not good enough")).to_be_visible()
    nothing = used.get_by_role("button", name="Used, nothing seen")
    nothing.click()
    expect(nothing).to_have_attribute("aria-pressed", "true")
    page.reload()
    expect(nothing).to_have_attribute("aria-pressed", "true")
    expect(used.get_by_role("button", name="Used, see findings")).to_have_attribute("aria-pressed", "false")
    expect(used.get_by_text("Why not?")).to_have_count(0)
    assert office.faults() == []


def test_a_bare_number_is_taken_in_the_unit_last_typed_and_says_so(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """14 after 25,4 cm is 14 cm, shown as such, with millimetres a press away; else it is that of its class."""
    phone, page = phone_at_a_table(open_browser, office)
    page.get_by_role("button", name="Ceramics").click()
    phone.set_offline(True)
    page.goto(page.url + "/measures")
    height, diameter = page.get_by_label("Height; say"), page.get_by_label("Diameter, of plates")
    cards = page.locator(".measure")
    height.fill("250")
    expect(cards.nth(0)).to_contain_text("Taken for 250 mm")
    height.fill("25,4 cm")
    expect(cards.nth(0)).to_contain_text("25.4 cm (10 in)")
    expect(cards.nth(0)).not_to_contain_text("Taken for")
    diameter.fill("14")
    expect(cards.nth(1)).to_contain_text("Taken for 14 cm")
    expect(cards.nth(1)).to_contain_text("140 mm: 14.0 cm")
    page.reload()
    expect(diameter).to_have_value("14")
    expect(cards.nth(1)).to_contain_text("Taken for 14 cm")
    diameter.fill("150")
    expect(cards.nth(1)).to_contain_text("Taken for 150 mm")
    diameter.fill("85")
    cards.nth(1).get_by_role("button", name="85 mm").click()
    expect(diameter).to_have_value("85 mm")
    expect(cards.nth(1)).to_contain_text("85 mm: 8.5 cm")
    assert office.faults() == []


def test_what_is_said_of_a_size_is_what_is_kept_and_one_that_cannot_be_is_asked_about_once(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """A unit typed beside a bare number changes nothing of it in silence; a candlestick of an inch is asked about."""
    phone, page = phone_at_a_table(open_browser, office)
    page.get_by_role("button", name="Silver").click()
    phone.set_offline(True)
    page.goto(page.url + "/measures")
    height, diameter = page.get_by_label("Height", exact=True), page.get_by_label("Diameter", exact=True)
    cards = page.locator(".measure")
    tall, wide = (cards.filter(has=field) for field in (height, diameter))
    height.fill("25")
    expect(tall).to_contain_text("Taken for 25 cm, not 25 mm")
    diameter.fill("12.5 in")
    expect(tall).to_contain_text("Taken for 25 cm, not 25 in")
    expect(tall).to_contain_text("250 mm: 25.0 cm")
    tall.get_by_role("button", name="25 in", exact=True).click()
    expect(tall).to_contain_text("63.5 cm (25 in)")
    page.reload()
    expect(height).to_have_value("25 in")
    height.fill("6 mm")
    expect(tall).to_contain_text("That is little for this. It is kept as it was typed: is it so?")
    tall.get_by_role("button", name="No: 6 cm").click()
    expect(height).to_have_value("6 cm")
    expect(tall).not_to_contain_text("is it so?")
    height.fill("6 mm")
    tall.get_by_role("button", name="It is so").click()
    expect(tall).not_to_contain_text("is it so?")
    page.reload()
    expect(height).to_have_value("6 mm")
    expect(tall).to_contain_text("6 mm (1/4 in)")
    expect(tall).not_to_contain_text("is it so?")
    diameter.fill("125 cm")
    expect(wide).to_contain_text("That is a lot for this.")
    assert office.faults() == []


def test_the_views_that_are_missing_are_counted_alike(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """The label that leads to the photos, their heading and their tiles have one number, with a finding to picture."""
    _, page = phone_at_a_table(open_browser, office)
    walk_to_first_zone(page)
    page.get_by_role("button", name="Other", exact=True).click()
    page.get_by_label("Search all terms").fill("bald")
    page.get_by_role("button", name="pile loss", exact=True).click()
    page.get_by_role("button", name="moderate").click()
    item = page.url.split("/zone")[0]
    page.goto(f"{item}/works")
    page.get_by_role("button", name=re.compile("Rest not done")).click()
    page.get_by_label("Height", exact=False).first.fill("25 cm")
    onward = page.get_by_role("link", name="Next: photos")
    expect(onward).to_contain_text("views are missing")
    count = re.search(r"\d+(?= views)", onward.inner_text())
    page.goto(f"{item}/photos")
    heading = page.get_by_role("heading", level=1)
    assert count
    expect(heading).to_have_text(f"Photos, {count[0]} views missing")
    expect(page.locator(".view-tiles.views legend")).to_contain_text(f"0 of {count[0]} taken")
    expect(page.locator(".view-tiles").last).to_contain_text("0 of 1 taken")
    assert office.faults() == []


def test_a_sweep_outlives_the_page_with_its_way_back(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """With no network, the page killed right after: all of it stands, is named, and is taken back as if never said."""
    phone, page = phone_at_a_table(open_browser, office)
    expect(page.get_by_text("At the desk")).to_be_visible()
    walk_to_first_zone(page)
    go_back(page)
    heading = page.locator("h1")
    expect(heading).to_contain_text("left of")
    before = heading.inner_text()
    phone.set_offline(True)
    page.get_by_role("button", name="It never had …").click()
    zones = page.locator(".chips .chip").all_inner_texts()[:4]
    page.get_by_role("button", name="Back to the zones").click()
    say_never_had(page, zones)
    page.close()
    page = phone.new_page()
    page.goto(f"{office.address}/")
    heading = page.locator("h1")
    expect(heading).to_contain_text("left of")
    page.get_by_text("Said together: 4 zones it never had").click()
    last = zones[3].partition(" (")[0].lower()  # a key has in brackets what is lacking
    expect(page.get_by_role("link", name=last, exact=True)).to_be_visible()
    page.get_by_role("button", name="Take all 4 back: nobody was told").click()
    expect(heading).to_have_text(before)
    expect(page.get_by_text("Said together")).to_have_count(0)
    phone.set_offline(False)
    line_is_back(page)
    expect(page.get_by_text("At the desk")).to_be_visible()
    (item,) = (record for record in office.pair("manager").feed()["records"] if record["kind"] == "item")
    assert not [name for name in item["fields"] if name.startswith("zones/")]
    assert office.faults() == []


def test_what_lies_inside_a_sealed_zone_is_not_called_clear_with_the_rest(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q17"))
    item_id = manager.keep(an_item(ids, visit))["item_id"]
    manager.keep(a_fact(item_id, "class_id", "watch"))
    sealed = {"state": "not-examined", "reason": "sealed", "light": None, "count": None, "seen": None}
    manager.keep(("examine_zone", {"item_id": item_id, "zone": "movement", **sealed}))
    manager.push()
    (page,) = open_browser("phone").pages
    pair(page, office, "table", "Table 1")
    page.goto(f"{office.address}/#/item/{item_id}/zones")
    page.get_by_role("button", name=re.compile("Rest clear")).click()
    expect(page.locator(".covered")).to_contain_text("dial")
    expect(page.locator(".covered")).not_to_contain_text("balance")
    expect(page.get_by_text("was not examined: balance (movement).")).to_be_visible()
    page.get_by_role("button", name="hall light").click()
    page.get_by_role("button", name=re.compile("I looked at all")).click()
    expect(page.locator("h1")).to_contain_text("6 left of")
    expect(page.get_by_role("button", name=re.compile("Rest clear"))).to_have_count(0)
    expect(page.get_by_role("link", name=re.compile("^Go on: "))).to_be_visible()
    assert office.faults() == []


@pytest.mark.parametrize(
    ("role", "what"), [("manager", "Set up the day"), ("porter", "The manager sets it up")]
)
def test_where_no_day_has_come_the_closing_says_so(
    office: Office, open_browser: Open, role: str, what: str
) -> None:
    (page,) = open_browser(role).pages
    pair(page, office, role, role.title())
    page.goto(f"{office.address}/#/closing")
    main = page.locator("main")
    expect(main).to_contain_text("No valuation day is on this device yet.")
    expect(main).to_contain_text(what)
    expect(main).to_contain_text("tay in reach of the network until it appears here")
    expect(main).not_to_contain_text("Choose the day first")
    assert office.faults() == []


def test_an_address_that_cannot_be_read_is_not_come_back_to(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    phone, page = phone_at_a_table(open_browser, office)
    page.get_by_label("Short description").fill("mantel clock")
    item = page.url
    for bad in ("#/tag/%E0%A4%A", "#/nowhere/at/all"):
        page.evaluate("(bad) => { location.hash = bad; }", bad)
        expect(page.get_by_role("heading", level=1)).to_have_text("Today")
        page.close()
        page = phone.new_page()
        page.goto(f"{office.address}/")
        expect(page.get_by_label("Short description")).to_have_value("mantel clock")
        assert page.url == item


def test_a_screen_that_cannot_be_drawn_says_so_and_the_rest_goes_on(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    phone, page = phone_at_a_table(open_browser, office)
    expect(page.get_by_text("At the desk")).to_be_visible()
    page.goto(f"{office.address}/#/today")
    phone.set_offline(True)  # else the office's own copy mends it
    page.reload()  # and so would an answer that is still being read
    expect(page.get_by_role("heading", level=1)).to_have_text("Today")
    page.evaluate(BREAK, "visit")
    page.reload()
    page.locator("a.row").first.click()
    expect(page.get_by_role("heading", name="This screen could not be drawn")).to_be_visible()
    expect(page.get_by_text("What was entered is kept on this device")).to_be_visible()
    page.get_by_role("link", name="To the start").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Today")


def test_a_camera_whose_picture_does_not_start_is_let_go_of(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    _, page = phone_at_a_table(open_browser, office)
    page.evaluate(REFUSE_TO_PLAY)
    turn_to(page, "Tag")
    page.get_by_role("button", name="Scan the tag").click()
    expect(page.get_by_text("The camera's picture does not start")).to_be_visible()
    assert page.evaluate(TRACKS) == ["ended"]


def top_of_add(page: Page) -> float:
    """Where on the page the key stands that adds a person, however far it is scrolled."""
    key = page.get_by_role("button", name="Add", exact=True)
    top: float = key.evaluate(
        "key => key.getBoundingClientRect().top - key.closest('form').getBoundingClientRect().top"
    )
    return top


def test_what_is_half_entered_outlives_the_page(office: Office, open_browser: Open) -> None:
    """A person half added to the day: there after a kill, in the database and in no other store."""
    phone = open_browser("manager")
    page = phone.pages[0]
    pair(page, office, "manager", "Manager")
    page.goto(f"{office.address}/#/day")
    page.get_by_role("button", name="Set up a day").click()
    for label, value in (("House", "Quillfeather"), ("Place", "Old mill")):
        page.get_by_label(label, exact=True).fill(value)
    page.get_by_label("Currency (three letters)").fill("XXY")
    page.get_by_role("button", name="Set it up").click()
    expect(page.get_by_role("alert")).to_contain_text("XXY is no currency")
    page.get_by_label("Currency (three letters)").fill("eur")
    page.get_by_role("button", name="Set it up").click()
    expect(page.get_by_text("The day is set up")).to_be_visible()
    page.get_by_label("Your own name").fill("Clementine Ashb")
    stood = top_of_add(page)
    page.get_by_role("group", name="Work", exact=True).get_by_role("button", name="Valuer").click()
    expect(page.get_by_role("button", name="Add", exact=True)).to_be_enabled()
    assert top_of_add(page) == stood  # a press at once is not lost
    page.close()
    page = phone.new_page()
    page.goto(f"{office.address}/#/day")
    expect(page.get_by_label("Your own name")).to_have_value("Clementine Ashb")
    page.wait_for_function(f"({ENTERED_AT_ONCE})().length === 0")
    page.reload()
    expect(page.get_by_label("Your own name")).to_have_value("Clementine Ashb")
    page.get_by_role("button", name="Add", exact=True).click()
    expect(page.get_by_text("Clementine Ashb is added")).to_be_visible()
    page.reload()
    # Whoever was added first is at this device, and adds the others.
    expect(page.get_by_label("Add a person")).to_have_value("")
    expect(page.get_by_label("Who is at this device?")).to_have_count(0)
    valuer = page.get_by_role("group", name="Work", exact=True).get_by_role("button", name="Valuer")
    page.get_by_label("Add a person").fill("Ivy Pell")
    valuer.click()
    page.get_by_label("Add a person").fill("")
    expect(valuer).to_have_attribute("aria-pressed", "false")  # it was said of whoever stood there
    page.get_by_label("Add a person").fill("Ivy Pell")
    valuer.click()
    page.get_by_role("button", name="Add", exact=True).click()
    expect(page.get_by_text("Ivy Pell is added")).to_be_visible()
    # Nothing is kept of whoever has left: who is here is asked before anything is typed for the next person.
    page.locator("summary").filter(has_text="Clementine Ashb").click()
    page.get_by_role("button", name="Has left").click()
    expect(page.get_by_text("Choose your name at the top first, then add the others.")).to_be_visible()
    expect(page.get_by_label("Add a person")).to_have_count(0)
    page.get_by_label("Who is at this device?").select_option(label="Ivy Pell")
    expect(page.get_by_label("Add a person")).to_have_value("")


def test_a_table_with_an_owner_at_it_is_taken_away_after_a_question_and_stays_in_sight(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q17"))
    for field, value in (("table_id", "1"), ("stage", "at-table")):
        said = {"visit_id": visit["visit_id"], "field": field, "value": value}
        manager.keep(("set_visit", {**said, "seen": visit["operation_id"] if field == "stage" else None}))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    page = open_browser("manager").pages[0]
    pair(page, office, "manager", "Manager")
    page.goto(f"{office.address}/#/day")
    tables = page.locator(".tables-now")
    expect(tables.get_by_role("link")).to_contain_text("Q17")
    page.get_by_role("button", name="Correct house, date or tables").click()
    page.get_by_role("button", name="Take it away").click()
    expect(page.get_by_role("alert").filter(has_text="Q17: still at Table 1.")).to_be_visible()
    page.get_by_role("button", name="Leave it").click()
    expect(tables.get_by_text("Table 1", exact=True)).to_be_visible()
    page.get_by_role("button", name="Take it away").click()
    page.get_by_role("button", name="Take it away now").click()
    expect(tables.get_by_text("Table 1, taken away", exact=True)).to_be_visible()
    expect(tables.get_by_role("link")).to_contain_text("Q17")
    page.get_by_role("button", name="Done", exact=True).click()
    expect(page.get_by_role("button", name="Correct house, date or tables")).to_be_visible()


def test_a_year_that_is_far_is_asked_about_and_tables_of_one_name_are_told_apart(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    page = open_browser("manager").pages[0]
    pair(page, office, "manager", "Manager")
    page.goto(f"{office.address}/#/day")
    heading = page.get_by_role("heading", name=re.compile("2026: "))
    expect(heading).to_be_visible()
    before = heading.inner_text()
    page.get_by_role("button", name="Correct house, date or tables").click()
    date = page.get_by_label("Date", exact=True)
    as_it_was = date.input_value()
    date.fill("2006-03-14")
    asked = page.get_by_role("status").filter(has_text="14 March 2006 is years from that")
    expect(asked).to_be_visible()
    asked.get_by_role("button", name=re.compile("^Leave ")).click()
    expect(asked).to_have_count(0)
    expect(date).to_have_value(as_it_was)
    expect(heading).to_have_text(before)
    page.get_by_role("button", name="One table more").click()
    page.get_by_label("Name of Table 2").fill("table 1")
    told = page.get_by_role("status").filter(has_text="2 tables are called Table 1")
    expect(told).to_be_visible()
    expect(page.locator(".tables-now").get_by_text("table 1 B", exact=True)).to_be_visible()
    page.get_by_label("Name of table 1 B").fill("By the stage")
    expect(told).to_have_count(0)
    expect(page.locator(".tables-now").get_by_text("Table 1", exact=True)).to_be_visible()


def test_a_new_screen_begins_at_its_heading(office: Office, day: dict[str, Any], open_browser: Open) -> None:
    """For whoever hears the screen: the page's title is the screen's, and the focus is on its heading. Source:
    WCAG 2.2, 2.4.2 and 2.4.3."""
    _, page = phone_at_a_table(open_browser, office)
    page.get_by_label("Short description").fill("mantel clock")
    expect(page).to_have_title(re.compile("^mantel clock · "))
    page.get_by_label("This item").get_by_role("link", name="Photos").click()
    expect(page).to_have_title(re.compile("^Photos"))
    expect(page.get_by_role("heading", level=1)).to_be_focused()


def test_an_own_reason_why_a_test_was_not_made_is_done_with_enter(
    office: Office, manager: Phone, ids: Ids, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(ids, day["day_id"], ticket="Q17"))
    item_id = manager.keep(an_item(ids, visit))["item_id"]
    manager.keep(a_fact(item_id, "class_id", "watch"))
    manager.push()
    (page,) = open_browser("phone").pages
    pair(page, office, "table", "Table 1")
    page.goto(f"{office.address}/#/item/{item_id}/works")
    test = page.locator("article.trial").first
    test.get_by_role("button", name="Not done").click()
    own = test.get_by_label("Or in your own words")
    own.focus()
    page.keyboard.type("the owner wound it this morning\n")
    expect(own).to_have_count(0)
    expect(test).to_contain_text("the owner wound it this morning")
    assert office.faults() == []


def test_a_light_not_used_that_something_was_looked_for_with_is_told_at_once(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """With no network, whichever of the two is said last: it is told there, and no more once one is taken back."""
    phone, page = phone_at_a_table(open_browser, office)
    page.get_by_role("button", name="Ceramics").click()
    phone.set_offline(True)
    item = page.url
    page.goto(f"{item}/zone/rim")
    page.get_by_role("button", name="hall light").click()
    denied = page.get_by_role("button", name=re.compile("^No restoration seen"))
    denied.click()
    expect(denied).to_have_attribute("aria-pressed", "false")  # shown by another: which is asked
    asked = page.get_by_role("group", name="Looked for with what?")
    asked.get_by_role("button", name="ultraviolet", exact=True).click()
    expect(denied).to_have_attribute("aria-pressed", "true")
    page.goto(f"{item}/works")
    used = page.locator("article.trial").filter(has_text="ultraviolet").first
    used.get_by_role("button", name="Not used").click()
    used.get_by_role("button", name="Light not good enough").click()
    expect(used.get_by_role("alert")).to_contain_text("One of the two is not so")
    used.get_by_role("link", name="rim").click()
    expect(page.locator(".denial").get_by_role("alert")).to_contain_text("Ultraviolet stands as not used")
    denied.click()
    expect(page.locator(".denial").get_by_role("alert")).to_have_count(0)
    assert office.faults() == []


def test_the_light_of_one_thing_is_not_said_of_the_next(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    _, page = phone_at_a_table(open_browser, office)
    page.get_by_role("button", name="Glass", exact=True).click()
    visit = f"{office.address}/{page.locator('a.back').get_attribute('href')}"
    rest_clear(page, page.url, "lamp")
    page.goto(visit)
    page.get_by_role("button", name="Put an item on the table").click()
    page.get_by_role("button", name="Clocks", exact=True).click()
    item = page.url
    go_to(page, f"{item}/zones")
    page.get_by_role("button", name=re.compile("Rest clear")).click()
    expect(page.get_by_role("button", name="Say in which light first")).to_be_disabled()
    expect(page.get_by_role("button", name=re.compile("^Looked at with"))).to_have_count(0)


def test_no_word_is_broken_in_a_result_that_is_pressed(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    _, page = phone_at_a_table(open_browser, office)
    page.get_by_role("button", name="Clocks", exact=True).click()
    item = page.url
    go_to(page, f"{item}/works")
    pressed = page.get_by_role("button", name="Not going")
    before = pressed.bounding_box()
    pressed.click()
    expect(pressed).to_have_attribute("aria-pressed", "true")
    after = pressed.bounding_box()
    assert before
    assert after
    assert after["height"] == before["height"]
    assert office.faults() == []


def test_the_rest_is_not_examined_for_one_reason_and_a_lamp_not_in_hand_is_asked_about(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """On a bowl: what it never has by one press, a denial by a named lamp, marks apart."""
    phone, page = phone_at_a_table(open_browser, office)
    page.get_by_label("Short description").fill("rose bowl")
    page.get_by_role("button", name="Silver").click()
    phone.set_offline(True)
    item = page.url
    title = page.locator(".zone-head h2")
    go_to(page, f"{item}/zone/body")
    page.get_by_role("button", name="hall light").click()
    denial = page.get_by_role("button", name=re.compile("^No split or hole"))
    denial.click()
    expect(denial).to_have_attribute("aria-pressed", "false")
    page.get_by_role("group", name="Looked for with what?").get_by_role("button").first.click()
    expect(denial).to_have_attribute("aria-pressed", "true")
    page.get_by_role("button", name="Clear", exact=True).click()
    expect(title).to_have_text("Rim")
    page.goto(f"{item}/zone/spout")
    expect(title).to_have_text("Spout")
    page.get_by_role("button", name=re.compile("^Nor .*tines or blades")).click()
    expect(title).not_to_have_text("Spout")
    # What shows only once it is turned over is not called clear with the rest: it stays in hand.
    page.goto(f"{item}/zone/base")
    expect(title).to_have_text("Base")
    page.get_by_role("button", name=re.compile("^Rest clear")).click()
    expect(page.get_by_text("Not these, where marks are: marks on the body")).to_be_visible()
    page.get_by_role("button", name=re.compile("I looked at all")).click()
    expect(title).to_have_text("Base")
    page.goto(f"{item}/zone/marks-body")
    expect(title).to_have_text("Marks on the body")
    page.get_by_role("button", name="Clear", exact=True).click()
    page.get_by_role("button", name="There is one, and without fault").click()
    expect(title).not_to_have_text("Marks on the body")
    go_to(page, f"{item}/zones")
    page.get_by_role("button", name="Rest not examined").click()
    expect(page.get_by_role("button", name="Say why first")).to_be_disabled()
    page.get_by_role("button", name="Queue too long").click()
    page.get_by_role("button", name="Base", exact=True).click()
    page.get_by_role("button", name=re.compile("^Nobody looked at these")).click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Zones: 1 left")
    expect(page.locator("ol.zones li.next")).to_contain_text("base")
    assert office.faults() == []
