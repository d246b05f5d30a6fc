"""Two people close a day one after the other: what came up between their signings stands apart."""

from __future__ import annotations

import os
import re
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, expect

from tests.builders import a_visit, an_item
from tests.closings import close_with_all, whole_closing
from tests.conftest import Office
from tests.journeys.conftest import (
    DESK,
    Open,
    all_is_done,
    choose_name,
    go_to,
    line_is_back,
    pair,
    pair_by_hand,
)
from tests.journeys.test_pressed_twice import at_the_desk
from tests.phone import Phone

SIZES = {"phone": (390, 844), "tablet": (834, 1112), "desk": (1440, 900)}


def looked_at(page: Page, name: str) -> None:
    """Pictures of a screen in every size, light and dark, for whoever names a folder for them."""
    folder = os.environ.get("INTAKE_PICTURES")
    if not folder:
        return
    size = page.viewport_size
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
        for kind, (width, height) in SIZES.items():
            page.set_viewport_size({"width": width, "height": height})
            page.screenshot(path=Path(folder) / f"{name}-{kind}-{scheme}.png", full_page=True)
    page.emulate_media(color_scheme="light")
    if size:
        page.set_viewport_size(size)


def ana_comes(page: Page, office: Office, manager: Phone, day_id: str) -> None:
    """Ana Thistle is put on the day's list, and is at the manager's desk."""
    person = {"person_id": "ana", "name": "Ana Thistle", "roles": ["porter"]}
    manager.keep(("add_person", {"day_id": day_id, "person": person}))
    manager.push()
    pair(page, office, "manager", "Manager's desk")
    go_to(page, f"{office.address}/#/today")
    choose_name(page, "Ana Thistle")


def code_of_hester(open_browser: Open, office: Office) -> str:
    """The code of Hester Quillfeather, who is at the porter's phone."""
    other = open_browser("porter").pages[0]
    pair_by_hand(other, office, "porter", "Porter", named=False)
    choose_name(other, "Hester Quillfeather")
    return other.locator("strong.code").inner_text()


def at_the_closing(page: Page, office: Office) -> None:
    go_to(page, f"{office.address}/#/closing")
    expect(page.get_by_role("heading", name="Closing: 4 to explain")).to_be_visible()


def explain_all(page: Page, key: str) -> None:
    """From one to the next, by the press that leads there."""
    lead = page.get_by_role("button", name=re.compile(r"\d+ still unsaid: go to the next"))
    expect(lead).to_be_visible()  # it stands below, and what is below is drawn a moment later
    while lead.count():
        before = lead.inner_text()
        lead.click()
        expect(
            page.get_by_role("group", name=re.compile("What is known of it|One word for all"))
        ).to_be_focused()
        page.keyboard.press(key)
        expect(page.get_by_role("button", name=before)).to_have_count(0)


def test_the_second_person_explains_what_came_up_since_the_first_signed(
    office: Office,
    manager: Phone,
    phone: Phone,
    day: dict[str, Any],
    item: dict[str, Any],
    open_browser: Open,
) -> None:
    day_id = day["day_id"]
    page = open_browser("manager", size=DESK).pages[0]
    ana_comes(page, office, manager, day_id)
    code = code_of_hester(open_browser, office)
    at_the_closing(page, office)
    looked_at(page, "1-unsaid")
    page.get_by_role("button", name="4 still unsaid: go to the next").click()
    expect(page.get_by_role("group", name="What is known of it")).to_be_focused()
    looked_at(page, "2-in-hand")
    page.set_viewport_size({"width": 1440, "height": 420})
    page.evaluate("scrollTo(0, 0)")
    expect(page.get_by_role("heading", name="Closing: 4 to explain")).to_be_visible()
    page.evaluate("scrollTo(0, document.body.scrollHeight)")
    page.get_by_role("button", name="Next unsaid (4)").click()
    in_hand = page.locator("li", has=page.get_by_role("group", name="What is known of it"))
    expect(in_hand.get_by_role("group")).to_be_focused()
    words = in_hand.locator(".named-line").bounding_box()
    header = page.locator(".top").bounding_box()
    assert words is not None
    assert header is not None
    assert words["y"] >= header["y"] + header["height"], "what is explained stands below the header"
    page.set_viewport_size(DESK)
    explain_all(page, "1")
    looked_at(page, "3-all-said")
    page.get_by_role("button", name="Go on to sign").click()
    expect(page.get_by_role("button", name="Sign 4 differences")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.get_by_text("Ana Thistle has signed 4 differences.")).to_be_visible()
    page.get_by_role("button", name="Now the second person").click()
    expect(page.get_by_label("Their code")).to_be_in_viewport()
    expect(page.get_by_role("heading", name=re.compile("What Ana Thistle signed"))).to_be_in_viewport()
    page.get_by_label("Second person").last.select_option(label="Hester Quillfeather")
    page.get_by_label("Their code").fill(code)
    expect(page.get_by_role("button", name="Close the day with 4 differences")).to_be_enabled()
    looked_at(page, "4-second")

    phone.keep(an_item(phone.ids, phone.keep(a_visit(phone.ids, day_id, ticket="Q91"))))
    assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    since = page.get_by_role("heading", name=re.compile("Come up since Ana Thistle signed"))
    expect(since).to_contain_text("4")
    expect(page.get_by_role("heading", name=re.compile("What Ana Thistle signed"))).to_contain_text("4")
    looked_at(page, "5-come-up")
    explain_all(page, "2")
    changed = page.get_by_role("button", name=re.compile("The list has changed since the code was typed"))
    expect(changed).to_be_disabled()
    page.get_by_role("button", name="Send it back to Ana Thistle").click()
    page.get_by_role("button", name="Sign 8 differences").click()
    expect(page.get_by_label("Their code")).to_have_value("")
    page.get_by_label("Second person").last.select_option(label="Hester Quillfeather")
    page.get_by_label("Their code").fill(code)
    page.locator(".dock .tie-on").filter(has_text="Close the day with 8 differences").click()
    expect(page.get_by_role("heading", name="The day is closed")).to_be_visible()
    expect(page.get_by_text(re.compile(r"\(Hester Quillfeather\)"))).to_have_count(4)
    looked_at(page, "6-closed")
    at_the_desk(page)
    named = whole_closing(manager.client, day_id)["sections"]["named"]
    assert {line["said_by"] for line in named} == {"", "Hester Quillfeather"}
    assert office.faults() == []


def test_a_closing_that_the_office_did_not_take_shows_what_is_new_and_keeps_what_was_said(
    office: Office,
    manager: Phone,
    phone: Phone,
    day: dict[str, Any],
    item: dict[str, Any],
    open_browser: Open,
) -> None:
    """A manager closes out of reach; something came up in the hall meanwhile. Back in reach the day is open again, with
    the new ones alone unsaid, and is closed with them."""
    day_id = day["day_id"]
    context = open_browser("manager", size=DESK)
    page = context.pages[0]
    ana_comes(page, office, manager, day_id)
    code = code_of_hester(open_browser, office)
    at_the_closing(page, office)
    explain_all(page, "1")
    page.get_by_role("button", name="Sign 4 differences").click()
    page.get_by_label("Second person").last.select_option(label="Hester Quillfeather")
    page.get_by_label("Their code").fill(code)
    expect(page.get_by_role("button", name="Close the day with 4 differences")).to_be_enabled()
    context.set_offline(True)
    phone.keep(an_item(phone.ids, phone.keep(a_visit(phone.ids, day_id, ticket="Q91"))))
    assert {answer["outcome"] for answer in phone.push()} == {"kept"}
    page.get_by_role("button", name="Close the day with 4 differences").click()
    expect(page.get_by_role("heading", name="The day is closed")).to_be_visible()
    context.set_offline(False)
    turned_back = page.get_by_role("alert").filter(has_text="The office did not take the closing")
    expect(turned_back).to_contain_text("Q91", timeout=30_000)
    expect(page.get_by_role("heading", name="Closing: 4 to explain")).to_be_visible()
    looked_at(page, "7-turned-back")
    expect(page.get_by_text("Ana Thistle has signed 4 differences.")).to_be_visible()  # that stays
    page.get_by_label("Second person").last.select_option(label="Hester Quillfeather")
    # Nothing is said in their name before their code.
    expect(page.get_by_role("button", name="Hester Quillfeather gives their code")).to_be_disabled()
    expect(page.get_by_text("type their code first: they explain these")).to_be_visible()
    expect(page.get_by_role("button", name=re.compile("^What is known of it"))).to_have_count(0)
    page.get_by_label("Their code").fill(code)
    explain_all(page, "2")
    page.get_by_label("Their code").fill(code)
    page.get_by_role("button", name="Close the day with 8 differences").click()
    expect(page.get_by_role("heading", name="The day is closed")).to_be_visible()
    at_the_desk(page)
    assert manager.record(day_id)["fields"]["closed"]["value"]["count"] == 8
    assert office.faults() == []


def test_a_closing_that_came_second_is_looked_at_and_needs_no_sending_again(
    office: Office, manager: Phone, day: dict[str, Any], item: dict[str, Any], open_browser: Open
) -> None:
    """Two managers close the day while one is out of reach: it is closed by the first, and the other has an end."""
    day_id = day["day_id"]
    context = open_browser("manager", size=DESK)
    page = context.pages[0]
    ana_comes(page, office, manager, day_id)
    code = code_of_hester(open_browser, office)
    at_the_closing(page, office)
    explain_all(page, "1")
    page.get_by_role("button", name="Sign 4 differences").click()
    page.get_by_label("Second person").last.select_option(label="Hester Quillfeather")
    page.get_by_label("Their code").fill(code)
    expect(page.get_by_role("button", name="Close the day with 4 differences")).to_be_enabled()
    all_is_done(page)
    context.set_offline(True)
    page.get_by_role("button", name="Close the day with 4 differences").click()
    expect(page.get_by_role("heading", name="The day is closed")).to_be_visible()
    close_with_all(manager, day_id)
    context.set_offline(False)
    line_is_back(page)
    go_to(page, f"{office.address}/#/outbox")
    expect(page.get_by_role("heading", name="Refused: a person must look")).to_be_visible(timeout=30_000)
    page.get_by_role("button", name="Nothing to add").click()
    expect(page.get_by_role("button", name="Send it again")).to_have_count(0)
    expect(page.get_by_text("All at the desk")).to_be_visible()
    assert office.faults() == []


def owned_by_one_who_is_private(manager: Phone, item: dict[str, Any]) -> None:
    visit_id = manager.record(item["item_id"])["visit_id"]
    manager.keep(("set_visit", {"visit_id": visit_id, "field": "private", "value": "yes", "seen": None}))
    owner = {"visit_id": visit_id, "field": "name", "value": "Zelda Quill", "seen": None}
    manager.keep(("set_consignor", {**owner, "salt": "0" * 32}))
    assert {one["outcome"] for one in manager.push()} == {"kept"}


def opened_closing(open_browser: Open, office: Office) -> Page:
    page = open_browser("manager", size=DESK).pages[0]
    pair(page, office, "manager", "Manager's desk")
    go_to(page, f"{office.address}/#/closing")
    return page


def test_a_reason_that_names_a_private_owner_is_asked_about_before_it_is_kept(
    office: Office, manager: Phone, item: dict[str, Any], day: dict[str, Any], open_browser: Open
) -> None:
    owned_by_one_who_is_private(manager, item)
    page = opened_closing(open_browser, office)
    page.get_by_role("button", name=re.compile("still unsaid: go to the next")).click()
    page.get_by_label("Or in your own words").fill("Zelda Quill is told by letter")
    page.get_by_role("button", name="Say it").click()
    expect(page.get_by_role("alert").filter(has_text="This names the private owner of")).to_be_visible()
    assert not [name for name in manager.record(day["day_id"])["fields"] if name.startswith("reasons/")]
    page.get_by_role("button", name="Keep it with the name").click()
    at_the_desk(page)
    fields = manager.record(day["day_id"])["fields"]
    said = [one["value"]["reason"] for name, one in fields.items() if name.startswith("reasons/")]
    assert said == ["Zelda Quill is told by letter"]
    assert office.faults() == []


def test_a_difference_that_names_a_private_owner_is_asked_about_as_it_is_raised_and_as_it_ends(
    office: Office, manager: Phone, item: dict[str, Any], day: dict[str, Any], open_browser: Open
) -> None:
    owned_by_one_who_is_private(manager, item)
    page = opened_closing(open_browser, office)
    named = page.get_by_role("alert").filter(has_text="This names the private owner of")

    def kept(family: str) -> list[Any]:
        fields = manager.record(day["day_id"])["fields"]
        return [one["value"] for name, one in fields.items() if name.startswith(family)]

    page.get_by_role("button", name="Note a difference").click()
    page.get_by_role("button", name="New damage", exact=True).click()
    seen = page.get_by_label("What was seen and done first")
    seen.fill("Zelda Quill saw it fall")
    page.get_by_role("button", name="Put it on record").click()
    expect(named).to_be_visible()
    seen.fill("the owner saw it fall")
    expect(named).to_have_count(0)
    page.get_by_role("button", name="Put it on record").click()
    page.get_by_role("button", name="How it ended").click()
    page.get_by_role("group", name="How it ended").get_by_role("button").first.click()
    page.get_by_label("What was done").fill("ms quill was rung up")
    page.get_by_label("Second person").last.fill("Barnaby Tumblewick")
    page.get_by_role("button", name="Settle it").click()
    expect(named).to_be_visible()
    page.get_by_role("button", name="Keep it with the name").click()
    expect(named).to_have_count(0)
    at_the_desk(page)
    [raised], [ended] = kept("differences/"), kept("difference-ends/")
    assert (raised["words"], ended["words"]) == ("the owner saw it fall", "ms quill was rung up")
    assert office.faults() == []


def test_own_words_are_kept_to_the_last_letter_and_what_is_typed_next_is_no_reason(
    office: Office, manager: Phone, item: dict[str, Any], day: dict[str, Any], open_browser: Open
) -> None:
    page = open_browser("manager", size=DESK).pages[0]
    pair(page, office, "manager", "Manager's desk")
    go_to(page, f"{office.address}/#/closing")
    page.get_by_role("button", name="4 still unsaid: go to the next").click()
    expect(page.get_by_role("group", name="What is known of it")).to_be_focused()
    page.get_by_label("Or in your own words").press_sequentially("own word one")
    page.keyboard.press("Enter")
    page.keyboard.type("2 weeks")
    expect(page.get_by_role("button", name="3 still unsaid: go to the next")).to_be_visible()
    at_the_desk(page)
    fields = manager.record(day["day_id"])["fields"]
    said = [one["value"]["reason"] for name, one in fields.items() if name.startswith("reasons/")]
    assert said == ["own word one"]


def test_the_second_is_another_than_who_signed_whoever_is_at_the_device(
    office: Office, manager: Phone, day: dict[str, Any], item: dict[str, Any], open_browser: Open
) -> None:
    page = open_browser("manager", size=DESK).pages[0]
    ana_comes(page, office, manager, day["day_id"])
    at_the_closing(page, office)
    explain_all(page, "1")
    page.get_by_role("button", name="Sign 4 differences").click()
    go_to(page, f"{office.address}/#/today")
    choose_name(page, "Hester Quillfeather")
    go_to(page, f"{office.address}/#/closing")
    second = page.get_by_label("Second person").last
    expect(second.get_by_role("option", name="Hester Quillfeather")).to_have_count(1)
    expect(second.get_by_role("option", name="Ana Thistle")).to_have_count(0)


def test_two_managers_each_at_their_own_device_sign_one_after_the_other(
    office: Office, manager: Phone, day: dict[str, Any], item: dict[str, Any], open_browser: Open
) -> None:
    """Ana signs first at the desk; Hester's device says so, reads what stands otherwise, and closes the day."""
    page = open_browser("manager", size=DESK).pages[0]
    ana_comes(page, office, manager, day["day_id"])
    other = open_browser("other", size=DESK).pages[0]
    pair(other, office, "manager", "Hester's device", person="Hester Quillfeather")
    at_the_closing(page, office)
    explain_all(page, "1")
    page.get_by_role("button", name="Sign 4 differences").click()
    waits = re.compile("Ana Thistle has signed 4 differences, .* and waits for a second")
    expect(page.get_by_text(waits)).to_be_visible()
    expect(page.get_by_label("Their code")).to_be_visible()
    all_is_done(page)

    go_to(other, f"{office.address}/#/closing")
    expect(other.get_by_text(waits)).to_contain_text("you can be that, here")
    expect(other.get_by_label("Their code")).to_have_count(0)
    looked_at(other, "7-at-their-own")
    manager.keep(an_item(manager.ids, manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q91"))))
    manager.push()
    since = other.get_by_role("heading", name=re.compile("Come up since Ana Thistle signed"))
    expect(since).to_contain_text("4")
    explain_all(other, "2")
    other.get_by_role("button", name="Close the day with 8 differences").click()
    expect(other.get_by_role("heading", name="The day is closed")).to_be_visible()
    expect(page.get_by_role("heading", name="The day is closed")).to_be_visible()
    expect(page.get_by_text("Closed by Ana Thistle and Hester Quillfeather")).to_be_visible()
    assert office.faults() == []


def test_of_two_who_signed_first_while_apart_the_later_goes_on_as_the_second(
    office: Office, manager: Phone, day: dict[str, Any], item: dict[str, Any], open_browser: Open
) -> None:
    page = open_browser("manager", size=DESK)
    other = open_browser("other", size=DESK)
    ana, hester = page.pages[0], other.pages[0]
    ana_comes(ana, office, manager, day["day_id"])
    pair(hester, office, "manager", "Hester's device", person="Hester Quillfeather")
    at_the_closing(ana, office)
    explain_all(ana, "1")
    all_is_done(ana)
    go_to(hester, f"{office.address}/#/closing")
    expect(hester.get_by_role("button", name="Sign 4 differences")).to_be_enabled()
    for context in (page, other):
        context.set_offline(True)
    ana.get_by_role("button", name="Sign 4 differences").click()
    expect(ana.get_by_text(re.compile("Ana Thistle has signed 4 differences, "))).to_be_visible()
    hester.get_by_role("button", name="Sign 4 differences").click()
    expect(hester.get_by_text(re.compile("Hester Quillfeather has signed 4 differences, "))).to_be_visible()
    for context, one in ((other, hester), (page, ana)):
        context.set_offline(False)
        line_is_back(one)
    as_well = re.compile("has signed 4 differences, .* signed as well")
    # Which of the two was the earlier is told by their clocks as they were put right, on both devices alike.
    pages = {"Ana Thistle": ana, "Hester Quillfeather": hester}
    for one in pages.values():
        expect(one.get_by_text(as_well)).to_be_visible()
    first = ana.get_by_text(as_well).locator("strong").inner_text()
    [later] = pages.keys() - {first}
    expect(pages[later].get_by_text(as_well)).to_contain_text(f"{first} has signed 4 differences")
    expect(pages[later].get_by_text(as_well)).to_contain_text("you can be that, here")
    expect(pages[later].get_by_label("Their code")).to_have_count(0)
    expect(pages[later].get_by_role("heading", name=re.compile("Come up since"))).to_have_count(0)
    expect(pages[first].get_by_label("Their code")).to_be_visible()
    pages[first].get_by_role("button", name=f"Send it back to {first}").click()
    waits = re.compile(f"^{later} has signed 4 differences, .* and waits for a second")
    expect(pages[later].get_by_text(waits)).to_be_visible()
    expect(pages[first].get_by_text(waits)).to_contain_text("you can be that, here")
    pages[first].locator(".dock").get_by_role("button", name="Close the day with 4 differences").click()
    expect(pages[later].get_by_text(f"Closed by {later} and {first}")).to_be_visible()
    assert office.faults() == []
