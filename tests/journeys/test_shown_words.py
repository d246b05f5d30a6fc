"""What a desk shows of an owner is what is on record now: it follows the record, and leaves with the device's right."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page, expect

from tests.builders import a_consignor, a_fact, a_visit, an_item
from tests.conftest import Clock, Office
from tests.journeys.conftest import Open, pair
from tests.journeys.test_letting_go import left_of, taken_off
from tests.phone import Phone
from tests.sync.planted import set_visit

NAME, TELEPHONE, BEAR = "Clementine Ashburn", "07700 900077", "bear of Q04"


def a_desk_with(manager: Phone, day: dict[str, Any], office: Office, open_browser: Open) -> tuple[Page, str]:
    """A desk that has the entry of an owner's thing open, and their visit."""
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q04"))
    for field, value in (("name", NAME), ("telephone", TELEPHONE)):
        manager.keep(a_consignor(visit["visit_id"], field, value))
    item = manager.keep(an_item(manager.ids, visit))
    manager.keep(a_fact(item["item_id"], "short_description", BEAR))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    page = open_browser("desk").pages[0]
    pair(page, office, "desk", "Door 1")
    page.set_viewport_size({"width": 1300, "height": 800})
    page.goto(f"{office.address}/#/entry/{item['item_id']}")
    return page, visit["visit_id"]


def test_an_owners_words_that_a_desk_has_open_follow_the_record(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    page, visit_id = a_desk_with(manager, day, office, open_browser)
    show = page.get_by_role("button", name="Show the owner's words")
    show.click()
    expect(page.get_by_text(TELEPHONE)).to_be_visible()
    expect(show).to_have_count(0)

    seen = manager.record(visit_id)["fields"]["consignor/name"]["operation_id"]
    manager.keep(a_consignor(visit_id, "name", "Anna Ashburn", seen=seen))
    assert manager.push()[0]["outcome"] == "kept"
    expect(page.get_by_text("Anna Ashburn")).to_be_visible()  # it is asked for anew
    expect(page.get_by_text(NAME)).to_have_count(0)

    manager.keep(set_visit(visit_id, "private", "yes"))
    assert manager.push()[0]["outcome"] == "kept"
    expect(page.get_by_text(TELEPHONE)).to_have_count(0)
    show.click()
    expect(page.get_by_text(TELEPHONE)).to_be_visible()

    manager.keep(("erase_consignor", {"visit_id": visit_id}))
    assert manager.push()[0]["outcome"] == "kept"
    expect(page.get_by_text(TELEPHONE)).to_have_count(0)
    expect(show).to_be_visible()
    assert left_of(page, [NAME, "Anna Ashburn", TELEPHONE]) == []


def test_a_desk_that_is_signed_off_shows_no_rows_and_no_words(
    office: Office, manager: Phone, day: dict[str, Any], clock: Clock, open_browser: Open
) -> None:
    page, _ = a_desk_with(manager, day, office, open_browser)
    page.get_by_role("button", name="Show the owner's words").click()
    expect(page.get_by_text(TELEPHONE)).to_be_visible()
    search = page.get_by_role("searchbox")
    search.fill(NAME)
    row = page.locator("ul.queue li", has_text=BEAR)
    expect(row).to_be_visible()

    taken_off(page, office, manager, day, clock)
    expect(page.get_by_role("alert").filter(has_text="taken this device off")).to_be_visible()
    expect(row).to_have_count(0)
    expect(search).to_have_value("")
    for gone in (NAME, TELEPHONE, BEAR):
        expect(page.get_by_text(gone)).to_have_count(0)
    expect(page.get_by_text("Reading …", exact=True)).to_have_count(0)


def test_a_desk_is_told_that_words_it_saved_went_with_an_erasure(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    page, visit_id = a_desk_with(manager, day, office, open_browser)
    page.get_by_role("searchbox").fill(NAME)
    page.get_by_role("button", name="Save this").click()
    page.get_by_label("Name for this filter").fill(f"{NAME}, all of it")
    page.get_by_role("button", name="Save", exact=True).click()
    saved = page.get_by_role("region", name="Saved")
    expect(saved.get_by_role("button", name=f"Forget {NAME}")).to_be_visible()

    manager.keep(("erase_consignor", {"visit_id": visit_id}))
    assert manager.push()[0]["outcome"] == "kept"
    expect(saved.get_by_role("status")).to_contain_text("Gone with them: 1 filter with words to look for.")
    expect(saved.get_by_role("button", name=f"Forget {NAME}")).to_have_count(0)
    saved.get_by_role("button", name="Seen").click()
    expect(saved.get_by_role("status")).to_have_count(0)
    page.reload()
    expect(page.get_by_role("searchbox")).to_have_value("")
    expect(page.locator("ul.queue li", has_text=BEAR)).to_be_visible()
    expect(saved.get_by_role("status")).to_have_count(0)


def test_what_was_searched_for_goes_from_the_box_with_an_erasure(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """What finds nothing any more may have been theirs."""
    page, visit_id = a_desk_with(manager, day, office, open_browser)
    search = page.get_by_role("searchbox")
    search.fill(NAME)
    expect(page.locator("ul.queue li", has_text=BEAR)).to_be_visible()
    manager.keep(("erase_consignor", {"visit_id": visit_id}))
    assert manager.push()[0]["outcome"] == "kept"
    expect(search).to_have_value("")
    expect(page.get_by_role("status").filter(has_text="An owner’s words were erased")).to_be_visible()
    search.fill("bear")
    expect(page.get_by_text("An owner’s words were erased")).to_have_count(0)


def test_words_that_find_something_else_stay_in_the_box(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """They are on record still, whoever was erased: nobody who types is interrupted."""
    page, visit_id = a_desk_with(manager, day, office, open_browser)
    search = page.get_by_role("searchbox")
    search.fill("bear")
    expect(page.get_by_text("1 in the queue as asked")).to_be_visible()
    with page.expect_response(lambda answer: answer.url.endswith("/queue?words=bear&limit=1")) as heard:
        manager.keep(("erase_consignor", {"visit_id": visit_id}))
        assert manager.push()[0]["outcome"] == "kept"
    assert heard.value.json()["count"] == 1
    search.press_sequentially(" of")
    expect(search).to_have_value("bear of")
    expect(page.get_by_text("An owner’s words were erased")).to_have_count(0)


def test_a_managers_list_of_readings_lets_go_of_what_was_searched_for(
    office: Office, manager: Phone, day: dict[str, Any], clock: Clock, open_browser: Open
) -> None:
    page, visit_id = a_desk_with(manager, day, office, open_browser)
    with page.expect_response(
        lambda answer: NAME.split()[0] in answer.url
    ):  # the row stood there before, too
        page.get_by_role("searchbox").fill(NAME)
    expect(page.locator("ul.queue li", has_text=BEAR)).to_be_visible()
    keys = open_browser("keys").pages[0]
    pair(keys, office, "manager", "Keys")
    keys.goto(f"{office.address}/#/devices")
    keys.get_by_role("button", name="Show them").click()
    noted = keys.get_by_text(f"“{NAME}”")
    expect(noted).to_be_visible()
    manager.keep(("erase_consignor", {"visit_id": visit_id}))
    assert manager.push()[0]["outcome"] == "kept"
    expect(noted).to_have_count(0)
    keys.get_by_role("button", name="Show them").click()
    expect(keys.get_by_text("an owner since erased")).to_be_visible()
