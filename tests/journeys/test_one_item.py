"""One item, from a phone with no network to the cataloguing queue, in real browsers."""

from __future__ import annotations

import hashlib
import re
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Page, expect

from intake.tagging.tags import codes, shown
from tests.builders import a_tie, a_visit, an_item, digest, picture
from tests.conftest import Office
from tests.journeys.camera import film_of_tag
from tests.journeys.conftest import (
    DESK,
    Open,
    choose_at_desk,
    choose_name,
    go_back,
    pair,
    pair_by_hand,
    turn_to,
)
from tests.phone import Phone

SAVED_OFFLINE = re.compile(r"On this device: \d+")


def begin_visit(page: Page) -> None:
    page.get_by_role("button", name="New visit").click()
    expect(page.get_by_label("Name", exact=True)).to_be_focused()
    page.keyboard.type("Clementine Ashbody")
    page.get_by_role("button", name="Put an item on the table").click()
    page.wait_for_url(re.compile("#/item/"))
    expect(page.get_by_label("Short description")).to_be_visible()


def phone_at_a_table(open_browser: Open, office: Office, **how: bool) -> tuple[BrowserContext, Page]:
    """A paired phone with a new item open on it."""
    phone = open_browser("phone", **how)
    page = phone.pages[0]
    pair(page, office, "table", "Table 1", person="Hester Quillfeather")
    begin_visit(page)
    return phone, page


def photo(page: Page, content: bytes, name: str) -> None:
    page.get_by_label("Files").set_input_files({"name": name, "mimeType": "image/jpeg", "buffer": content})


def record_a_toy(page: Page, pictures: list[bytes]) -> None:
    """Class, words, two findings with a photo each, the rest clear, two views."""
    page.get_by_role("button", name="Soft toys").click()
    page.get_by_label("Short description").fill("plush elephant on iron wheels")
    page.get_by_label("Seen", exact=True).fill("Grey plush, glass eyes, four spoked wheels")
    turn_to(page, "Zones")
    for number in range(2):
        page.locator("ol.zones li.next a").click()
        if number == 0:
            page.get_by_role("button", name="hall light").click()
        page.get_by_role("button", name="Other", exact=True).click()
        page.get_by_label("Search all terms").fill("bald")
        page.get_by_role("button", name="pile loss", exact=True).click()
        finding = page.locator("article.finding")
        expect(finding).to_have_count(1)
        finding.get_by_role("button", name="Size", exact=True).click()
        finding.get_by_label("Longest").fill("3.5 cm")
        finding.get_by_role("button", name="Picture").click()
        photo(finding, pictures[number], f"finding-{number}.jpg")  # type: ignore[arg-type]
        expect(finding.locator("img.thumb")).to_have_count(1)
        go_back(page)
    page.get_by_role("button", name=re.compile("Rest clear")).click()
    page.get_by_role("button", name="hall light").click()
    page.get_by_role("button", name=re.compile("I looked at all")).click()
    # The filling, the joints and the voice are said by whoever felt or tried them, of a label whether there is one.
    expect(page.get_by_role("heading", name=re.compile("Zones: 5 left"))).to_be_visible()
    go_back(page)
    turn_to(page, "Photos")
    for number, content in enumerate(pictures[2:]):
        photo(page, content, f"view-{number}.jpg")
        expect(page.locator(".photo-rows img.thumb")).to_have_count(3 + number)
    a_view_that_does_not_apply(page)
    go_back(page, "Back to the item")


def a_view_that_does_not_apply(page: Page) -> None:
    """It is said with its reason, is asked for no more, and can be asked for again."""
    heading = page.get_by_role("heading", level=1)
    # Only of a view that is not taken: the one in hand is the next after what was taken last.
    expect(page.get_by_role("button", name="No picture of:")).to_be_visible()
    before = heading.inner_text()
    view = page.locator(".view-tile.in-hand span").first.inner_text()
    page.get_by_role("button", name=f"No picture of: {view}").click()
    page.get_by_role("button", name="This item never had it").click()
    expect(page.locator(".view-tile.skipped")).to_contain_text(view)
    expect(heading).not_to_have_text(before)
    page.locator(".view-tile.skipped").click()
    expect(page.locator("main")).to_contain_text("not taken. This item never had it.")
    page.get_by_role("button", name="Ask for it again").click()
    expect(page.get_by_role("button", name=f"No picture of: {view}")).to_be_visible()
    expect(heading).to_have_text(before)


def tie_by_camera(page: Page, tag: str) -> None:
    turn_to(page, "Tag")
    page.get_by_role("button", name="Scan the tag").click()
    expect(page.locator(".big-tag")).to_contain_text(shown(tag))
    page.get_by_role("button", name=f"Tie {shown(tag)} to this item").click()
    expect(page.get_by_role("status").filter(has_text=f"{shown(tag)} is tied")).to_be_visible()
    go_back(page, "Back to the item")


def tie_by_key(page: Page, tag: str, *, another: bool = False) -> None:
    wrong = tag[:4] + ("0" if tag[4] != "0" else "1") + tag[5]
    turn_to(page, "Tag")
    if another:
        expect(page.get_by_text("Its number is tied.")).to_be_visible()
        expect(page.get_by_label("Key in the tag's number")).to_have_count(
            0
        )  # no box stands open as if none was
        page.get_by_role("button", name="Tie another number").click()
    page.get_by_label("Key in the tag's number").fill(wrong)
    expect(page.locator("#tag-hint")).to_contain_text("is no tag: a character is wrong")
    page.get_by_label("Key in the tag's number").fill(shown(tag))
    page.get_by_role("button", name=f"Tie {shown(tag)} to this item").click()
    expect(page.get_by_role("status").filter(has_text=f"{shown(tag)} is tied")).to_be_visible()


def tie_on_two_items(phone: BrowserContext, manager: Phone, day: dict[str, Any], tag: str) -> dict[str, Any]:
    """A phone with no network ties a number that another table has used meanwhile: the other table's item."""
    phone.set_offline(True)
    phone.pages[0].get_by_label("Short description").fill("glass paperweight")
    tie_by_key(phone.pages[0], tag)
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q77"))
    other = manager.keep(an_item(manager.ids, visit))
    manager.keep(a_tie(other["item_id"], tag))
    manager.push()
    return other


def item_address(context: BrowserContext) -> str:
    return context.pages[0].url.split("/zone")[0].split("/photos")[0].split("/tag")[0]


def test_from_a_phone_with_no_network_to_the_queue(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open, tmp_path: Path
) -> None:
    """Everything is recorded offline, survives a restart, and is at the desk within five seconds of the network."""
    scanned, keyed = [tag for tag, _ in zip(codes(5000), range(2), strict=False)]
    film = film_of_tag(scanned, office.address, tmp_path / "tag.y4m")
    pictures = [picture(seed, size=(1600, 1200)) for seed in range(4)]

    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    expect(desk.get_by_text("0 in the queue")).to_be_visible()

    phone = open_browser("phone", film=film)
    pair_by_hand(phone.pages[0], office, "table", "Table 1")
    expect(phone.pages[0].get_by_label("Who is at this device?")).to_be_visible()
    phone.set_offline(True)

    page = phone.pages[0]
    choose_name(page, "Hester Quillfeather")
    begin_visit(page)
    record_a_toy(page, pictures)
    tie_by_camera(page, scanned)
    tie_by_key(page, keyed, another=True)
    item = item_address(phone)

    phone.close()
    phone = open_browser("phone", restarts=True)
    phone.set_offline(True)
    page = phone.pages[0]
    page.goto(item)
    expect(page.get_by_label("Short description")).to_have_value("plush elephant on iron wheels")
    expect(page.get_by_label("This item").get_by_role("link", name="Tag")).to_contain_text(shown(keyed))
    expect(page.get_by_role("link", name=SAVED_OFFLINE)).to_be_visible()
    turn_to(page, "Photos")
    expect(page.locator(".photo-rows img.thumb")).to_have_count(4)

    phone.set_offline(False)
    arrived = desk.get_by_role("link", name=re.compile("plush elephant"))
    expect(arrived).to_be_visible(timeout=5000)
    expect(arrived.locator("img.thumb")).to_be_visible(timeout=5000)
    arrived.click()
    expect(desk.locator("dd").filter(has_text="Grey plush, glass eyes")).to_be_visible()
    expect(desk.locator(".entry-head").filter(has_text="Clementine")).to_be_visible()
    expect(desk.locator(".zone-table tr.finding")).to_have_count(2)

    expect(page.get_by_text("At the desk")).to_be_visible()
    for content in pictures:
        kept = manager.client.get(f"/photos/{digest(content)}")
        assert hashlib.sha256(kept.content).hexdigest() == digest(content)
    assert office.faults() == []

    choose_at_desk(desk, "Hester Quillfeather")
    desk.get_by_role("button", name="Pick up").click()
    expect(page.get_by_text("At the desk")).to_be_visible()
    signs = desk.locator(".queue-row[aria-current] .entry-state")
    expect(signs).to_have_text(["picked up", "not signed for"])


def test_the_page_is_killed_while_somebody_types(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """The last key that was pressed is there when the app opens again."""
    phone, page = phone_at_a_table(open_browser, office)
    phone.set_offline(True)
    page.get_by_label("Short description").press_sequentially("velveteen rabbit", delay=5)
    expect(page.get_by_label("Short description")).to_have_value("velveteen rabbit")
    crash = phone.new_cdp_session(page)
    address = page.url
    other = phone.new_page()
    crash.send("Page.close")
    other.goto(address)
    expect(other.get_by_label("Short description")).to_have_value("velveteen rabbit")


def test_two_tabs_on_one_phone(office: Office, day: dict[str, Any], open_browser: Open) -> None:
    """Both show what either types, numbers are never given twice, and all of it arrives."""
    phone, page = phone_at_a_table(open_browser, office)
    other = phone.new_page()
    other.goto(page.url)
    page.get_by_label("Short description").fill("tin omnibus")
    expect(other.get_by_label("Short description")).to_have_value("tin omnibus")
    other.get_by_label("Materials").fill("printed tin")
    page.get_by_label("How it is wrapped").fill("crate 3")
    expect(page.get_by_label("Materials")).to_have_value("printed tin")
    expect(other.get_by_text("At the desk")).to_be_visible()
    assert office.faults() == []


def test_a_revoked_device_is_told_and_its_outbox_is_saved(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    phone, page = phone_at_a_table(open_browser, office)
    expect(page.get_by_text("At the desk")).to_be_visible()
    phone.set_offline(True)
    page.get_by_label("Short description").fill("carriage clock")
    devices = manager.client.get("/devices").json()["devices"]
    taken_off = next(device for device in devices if device["name"] == "Table 1")
    manager.client.post(f"/devices/{taken_off['device_id']}/revoke", json={}).raise_for_status()
    phone.set_offline(False)
    expect(page.get_by_text("taken this device off")).to_be_visible()

    page.get_by_role("link", name="pair it again").click()
    page.get_by_label("Code").fill(office.code("table", "Table 1", taken_off["device_id"]))
    page.get_by_role("button", name="Pair", exact=True).click()
    expect(page.get_by_text("At the desk")).to_be_visible()
    entries = manager.client.get("/queue").json()["entries"]
    assert [entry["short_description"] for entry in entries] == ["carriage clock"]
