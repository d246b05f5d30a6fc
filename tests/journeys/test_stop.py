"""Stop: found in a second, with no network and with no item; what a red row still allows; what may go home."""

from __future__ import annotations

import re
from typing import Any

from playwright.sync_api import Locator, Page, expect

from intake.examination.caution_pack import CAUTION_FITS, NAME_FITS, NOTICE_FITS, STEP_FITS
from tests.conftest import Office
from tests.journeys.conftest import DESK, DRAWN, Open, go_to, line_is_back, pair
from tests.journeys.test_one_item import phone_at_a_table

# Every text of the cards as long as the check of a house's cautions lets it be.
FILL = """([step, name, caution, notice]) => {
  const words = (length) => "Nobody goes back there ".repeat(20).slice(0, length);
  const fill = (where, length) => document.querySelectorAll(where).forEach((one) => one.textContent = words(length));
  fill(".card-page li", step); fill(".card-page dt", name); fill(".card-page dd", caution);
  document.querySelectorAll(".card-page .hint").forEach((one) => one.textContent += words(notice).slice(200));
}"""
SIZES = """() => ["h2", "dt", "dd"].map((part) =>
  parseFloat(getComputedStyle(document.querySelector(`.card-page.wall ${part}`)).fontSize))"""


def expect_frozen(page: Page, words: str) -> None:
    """Nothing can be entered, and not only because the cautions were not read yet."""
    expect(page.get_by_role("alert")).to_contain_text(words)
    page.evaluate(DRAWN)  # by then every part of it has read them
    expect(page.locator("fieldset.frozen[disabled]")).not_to_have_count(0)


def first_minute(page: Page) -> Any:
    return page.locator(".first-minute")


def test_stop_is_two_taps_from_today_with_no_item_and_no_network(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    phone, page = phone_at_a_table(open_browser, office)
    phone.set_offline(True)
    for place in ("today", "porter"):
        go_to(page, f"{office.address}/#/{place}")
        page.get_by_role("link", name="Stop", exact=True).click()
        expect(page.locator(".urgent button")).to_have_count(8)
        page.get_by_role("button", name="Ammunition", exact=True).click()
        expect(first_minute(page)).to_contain_text("Walk away and take everybody with you.")
        expect(first_minute(page)).to_contain_text("999 or 112")
        page.get_by_role("button", name="Close this page").click()
        expect(page).to_have_url(re.compile(f"#/{place}$"))


def test_pressed_on_a_visit_it_is_of_its_ticket_by_one_key_and_of_none_until_then(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    phone, page = phone_at_a_table(open_browser, office)
    phone.set_offline(True)
    page.go_back()
    expect(page).to_have_url(re.compile("#/visit/"))
    visit = page.url
    ticket = page.get_by_role("heading", level=1).inner_text().removeprefix("Visit ")
    page.get_by_role("link", name="Stop", exact=True).click()
    expect(page.get_by_role("link", name="Stop", exact=True)).to_have_count(0)  # it is here
    page.get_by_role("button", name="Ammunition", exact=True).click()
    mine = page.get_by_role("button", name=f"It is of ticket {ticket}", exact=True)
    expect(page.get_by_role("article")).to_contain_text("no ticket told")
    mine.click()
    expect(page.get_by_role("article")).to_contain_text(f"ticket {ticket}")
    expect(mine).to_have_count(0)
    page.get_by_role("button", name="Close this page").click()
    expect(page).to_have_url(visit)


def test_what_is_typed_finds_the_row_and_what_is_not_found_says_whom_to_call(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    phone, page = phone_at_a_table(open_browser, office)
    phone.set_offline(True)
    go_to(page, f"{office.address}/#/stop")
    words = page.get_by_label("What do you see, hear or smell?")
    words.fill("granades")
    expect(page.locator(".rows .row").first).to_contain_text("Shell, grenade, firework")
    words.fill("qqqzzz")
    expect(page.get_by_role("status")).to_contain_text("call the safety lead")
    page.get_by_role("button", name=re.compile("Something nobody knows")).click()
    expect(first_minute(page)).to_contain_text("Hands off. Leave it as it is.")


def test_the_cards_are_there_offline_and_print_on_one_page_each(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    phone, page = phone_at_a_table(open_browser, office)
    phone.set_offline(True)
    go_to(page, f"{office.address}/#/stop")
    page.get_by_role("link", name="Cards to print").click()
    expect(page.get_by_role("article", name="Card for the wall")).to_be_visible()
    expect_two_pages(page)
    page.evaluate(FILL, [STEP_FITS, NAME_FITS, CAUTION_FITS, NOTICE_FITS])
    expect_two_pages(page)
    # The cards are set for whoever stands far away: a name on the wall is larger than what is said of it, and the title
    # larger than both.
    page.emulate_media(media="print")
    sizes = page.evaluate(SIZES)
    assert sizes == sorted(sizes, reverse=True)
    assert sizes[0] > 1.5 * sizes[2], sizes


def expect_two_pages(page: Page) -> None:
    for paper in ("A4", "Letter", "A2"):  # on A2 both would fit on one
        for across in (False, True):
            pages = re.findall(rb"/Type\s*/Page\b", page.pdf(format=paper, landscape=across))
            assert len(pages) == 2, (paper, across)


def test_beside_ammunition_nothing_is_asked_for_and_it_is_not_sent_home(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    _, page = phone_at_a_table(open_browser, office)
    item = page.url
    page.get_by_role("button", name="Glass").click()
    go_to(page, f"{item}/stop")
    page.get_by_role("button", name="Ammunition", exact=True).click()
    expect(first_minute(page)).to_be_visible()
    expect(page.get_by_role("alert")).to_contain_text("Red: stopped")  # at the first tap
    expect(page.get_by_label("What was seen")).to_have_count(0)
    expect(page.get_by_role("button", name="Go away first. Call, then the decision")).to_be_visible()
    page.get_by_role("button", name="What was decided").click()
    decided = page.get_by_role("group", name="Decided", exact=True)
    expect(decided.get_by_role("button")).to_have_count(4)
    expect(decided.get_by_role("button", name="Goes home with the owner")).to_have_count(0)
    for part in ("photos", "tag"):
        go_to(page, f"{item}/{part}")
        expect_frozen(page, "Do not touch. People away first")


def test_the_number_to_call_and_each_step_of_the_decision_are_in_the_first_view(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    _, page = phone_at_a_table(open_browser, office)
    item = page.url
    go_to(page, f"{item}/stop")
    page.get_by_role("button", name="Unknown chemical or crystals", exact=True).click()
    expect_in_view(page, first_minute(page).get_by_text("999 or 112"))
    expect(page.get_by_text("Do not open, touch or move it.")).to_have_count(1)
    page.get_by_role("button", name="Call, then the decision").click()
    decided = page.get_by_role("group", name="Decided", exact=True)
    expect_in_view(page, decided)
    cleared_for = page.get_by_label("Cleared for what")
    expect(cleared_for).to_have_count(0)
    decided.get_by_role("button", name="Cleared to go on").click()
    cleared_for.fill("sale")
    decided.get_by_role("button", name="Referred, stays held").click()
    expect(cleared_for).to_have_count(0)
    page.get_by_label("Decided by").fill("F. Wendle, fire service")
    expect_in_view(page, page.locator(".dock").get_by_role("button", name="Record the decision"))
    page.get_by_role("button", name="Record the decision").click()
    said = page.locator("article strong").get_by_text("Referred, stays held")
    expect_in_view(page, said)
    expect(said.locator("..")).not_to_contain_text("for sale")
    assert office.faults() == []


def test_of_several_red_signs_the_last_that_was_pressed_is_in_the_first_view(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    _, page = phone_at_a_table(open_browser, office)
    go_to(page, f"{page.url}/stop")
    for sign, words in (("Smoke, fire, gas", "Everybody out"), ("Ammunition", "Ammunition")):
        page.get_by_role("button", name=sign, exact=True).click()
        expect(first_minute(page).first).to_contain_text(words)
    expect_in_view(page, first_minute(page).first.get_by_role("heading").first)
    expect(page.locator(".caution-bar strong")).to_have_text(
        ["Red: stopped."]
    )  # what each is stands below it
    page.get_by_role("button", name="Call, then the decision").click()
    decided = page.locator("article").filter(has=page.get_by_role("group", name="Decided", exact=True))
    expect(decided.get_by_role("heading", level=3)).to_have_text(
        "Red: stopped: Ammunition"
    )  # as it was picked
    assert office.faults() == []


# Ends when the whole of it lies between the head of the screen and its keys.
IN_VIEW = """async (shown) => {
  for (;;) {
    const at = shown.getBoundingClientRect();
    const keys = document.querySelector(".dock").getBoundingClientRect().top;
    if (at.top >= 58 && (at.bottom <= keys || shown.closest(".dock"))) return;
    await new Promise(requestAnimationFrame);
  }
}"""


def expect_in_view(page: Page, shown: Locator) -> None:
    """Nobody scrolls for it on a phone."""
    expect(shown).to_be_visible()
    page.wait_for_function(IN_VIEW, arg=shown.element_handle())


def test_nothing_leads_to_a_photograph_of_what_may_not_be_photographed(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """Not of a thing that nobody has said the class of; and what is disabled looks so."""
    _, page = phone_at_a_table(open_browser, office)
    item = page.url
    expect(page.get_by_role("link", name="Picture first")).to_be_visible()
    go_to(page, f"{item}/stop")
    page.get_by_role("button", name="Shell, grenade, firework", exact=True).click()
    expect(first_minute(page)).to_contain_text("Nobody goes back")
    go_to(page, item)
    expect_frozen(page, "Nobody goes back")
    expect(page.get_by_role("link", name="Leave it")).to_be_visible()
    expect(page.locator("a[href*='/photos']")).to_have_count(0)
    go_to(page, f"{item}/photos")
    expect_frozen(page, "Nobody goes back")
    for disabled in (page.locator(".file-button label").first, page.locator(".view-tile.in-hand")):
        expect(disabled).to_have_css("border-top-style", "dashed")
        expect(disabled).to_have_css("background-color", "rgba(0, 0, 0, 0)")


def test_from_a_distance_a_gun_may_be_photographed_and_not_tagged(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    _, page = phone_at_a_table(open_browser, office)
    item = page.url
    go_to(page, f"{item}/stop")
    page.get_by_role("button", name="Gun", exact=True).click()
    page.get_by_label("What was seen").fill("a barrel in a blanket")
    page.get_by_role("button", name="Stop this item").click()
    expect(page.get_by_role("alert")).to_contain_text("Red: stopped")
    expect(first_minute(page).get_by_role("listitem").first).to_be_in_viewport(ratio=1)
    go_to(page, f"{item}/photos")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Photos")
    expect(page.locator("fieldset.frozen")).to_have_count(0)
    go_to(page, f"{item}/tag")
    expect_frozen(page, "do not touch, turn or unwrap it")


def test_a_trial_that_a_standing_caution_forbids_is_withdrawn(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    _, page = phone_at_a_table(open_browser, office)
    item = page.url
    page.get_by_role("button", name="Glass").click()
    go_to(page, f"{item}/works")
    stopper = page.locator("article", has=page.get_by_role("heading", name="lifting the stopper"))
    expect(stopper.get_by_role("button", name="Works", exact=True)).to_be_visible()
    go_to(page, f"{item}/stop")
    page.get_by_label("What do you see, hear or smell?").fill("poison bottle")
    page.locator(".rows .row").first.click()
    page.get_by_role("button", name="Put the caution on it").click()
    go_to(page, f"{item}/works")
    expect(stopper).to_contain_text("Not to be tried: caution H18 stands on this item.")
    expect(stopper.get_by_role("button", name="Works", exact=True)).to_have_count(0)


def test_two_taps_at_the_door_with_no_network_are_an_incident_at_the_managers(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """Within five seconds of the network; ticket and place follow; it stands until it is settled by name."""
    manager = open_browser("manager", size=DESK).pages[0]
    pair(manager, office, "manager", "Manager")
    phone = open_browser("phone")
    door = phone.pages[0]
    pair(door, office, "door", "Door")
    expect(door.get_by_role("button", name="New visit")).to_be_visible()  # the day is on it
    go_to(manager, f"{office.address}/#/today")
    expect(manager.get_by_role("heading", name="Waiting")).to_be_visible()
    expect(manager.get_by_role("alert")).to_have_count(0)

    phone.set_offline(True)
    door.get_by_role("link", name="Stop", exact=True).click()
    door.get_by_role("button", name="Ammunition", exact=True).click()
    expect(first_minute(door)).to_contain_text("Walk away and take everybody with you.")
    expect(door.get_by_role("status")).to_contain_text("On record since")
    expect(door.get_by_role("textbox")).to_have_count(0)  # folded away: nobody types before people are away

    phone.set_offline(False)
    expect(manager.get_by_role("alert")).to_contain_text("no ticket told", timeout=5000)

    door.get_by_text("When people are away").click()
    door.get_by_label("Ticket, if there is one").fill("Q07")
    door.get_by_label("Place").fill("front steps")
    expect(manager.get_by_role("alert")).to_contain_text("ticket Q07, front steps", timeout=5000)
    expect(door.get_by_role("button", name="How it ended")).to_have_count(0)  # not the door's to say
    expect(door.get_by_text("settles it, by name")).to_be_visible()

    settle_at_the_closing(manager, office)
    go_to(door, f"{office.address}/#/today")
    expect(door.get_by_role("heading", name="Waiting")).to_be_visible()
    line_is_back(door)
    expect(door.get_by_role("alert")).to_have_count(0)
    assert office.faults() == []


def settle_at_the_closing(manager: Page, office: Office) -> None:
    """The closing names it first of all, and lets go of it only when somebody gives a name."""
    go_to(manager, f"{office.address}/#/closing")
    expect(manager.get_by_role("heading", level=2).first).to_have_text("Incidents 1")
    expect(manager.locator(".gaps li").first).to_contain_text("ticket Q07, front steps")
    manager.get_by_role("button", name="How it ended").click()
    manager.get_by_role("button", name="Taken away by those called").click()
    expect(manager.get_by_role("button", name="Say how it ended and who says so")).to_be_disabled()
    manager.get_by_role("button", name="Hester Quillfeather").click()
    manager.get_by_role("button", name="Settle it").click()
    expect(manager.get_by_role("heading", level=2).first).to_have_text("Incidents 0")
    expect(manager.get_by_text("settled by Hester Quillfeather")).to_be_visible()
    expect(manager.get_by_role("link", name="All at the desk")).to_be_visible()
    expect(manager.locator(".gaps").get_by_text("front steps")).to_have_count(0)


def test_a_card_that_is_only_looked_up_is_no_incident_until_somebody_says_so(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """A red sign pressed twice is one incident; an amber one is on record when a button says so."""
    phone, page = phone_at_a_table(open_browser, office)
    phone.set_offline(True)
    go_to(page, f"{office.address}/#/stop")
    for _ in range(2):
        page.get_by_role("button", name="Ammunition", exact=True).click()
        expect(page.get_by_role("status")).to_contain_text("On record since")
        page.get_by_role("button", name="Another sign").click()
    standing = page.locator("article.finding")
    expect(standing).to_have_count(1)
    page.get_by_label("What do you see, hear or smell?").fill("poison bottle")
    page.locator(".rows .row").first.click()
    expect(page.get_by_text("Nothing is on record yet")).to_be_visible()
    page.get_by_role("button", name="Put it on the day's record").click()
    expect(page.get_by_role("status")).to_contain_text("On record since")
    page.get_by_role("button", name="Another sign").click()
    page.get_by_label("What do you see, hear or smell?").fill("")
    expect(standing).to_have_count(2)
