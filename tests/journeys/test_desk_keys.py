"""Keys of the desk do what whoever presses them can see, to the entry that they see."""

from __future__ import annotations

from itertools import islice
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from intake.tagging.tags import codes
from tests.builders import a_caution, a_fact, a_move, a_photo, a_tie, a_visit, an_item, picture, settling
from tests.conftest import Office
from tests.custody.test_receipts import a_receipt
from tests.journeys.conftest import DESK, Open, add_cataloguer, choose_at_desk, line_is_back, pair
from tests.phone import Phone

# All in one task of the page, as keys come that are pressed while it is at work.
PRESSED = """(keys) => {
    for (const key of keys) document.body.dispatchEvent(new KeyboardEvent("keydown", {key, bubbles: true}));
}"""

# The same of a word and Enter, typed into a field.
TYPED = """(field, words) => {
    field.focus();
    field.value = words;
    field.dispatchEvent(new InputEvent("input", {bubbles: true}));
    field.form.requestSubmit();
}"""

# The entries that the desk keeps, as if it had opened so many others since.
FORGET_OPENED = """() => new Promise((resolve) => {
    const opening = indexedDB.open("intake");
    opening.onsuccess = () => {
        const tx = opening.result.transaction(["record", "setting"], "readwrite");
        tx.objectStore("setting").delete("opened");
        const records = tx.objectStore("record");
        records.openCursor().onsuccess = ({target: {result: cursor}}) => {
            if (!cursor) return;
            if (cursor.value.kind === "item") cursor.delete();
            cursor.continue();
        };
        tx.oncomplete = () => { opening.result.close(); resolve(); };
    };
})"""


@pytest.fixture
def pistols(manager: Phone, day: dict[str, Any]) -> list[str]:
    """Of a class of which nothing is asked but a tag, so that only the last is still open."""
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q17"))
    ids = []
    for number, tag in enumerate(islice(codes(9500), 6), start=1):
        item_id = manager.keep(an_item(manager.ids, visit))["item_id"]
        manager.keep(a_fact(item_id, "short_description", f"pistol {number}"))
        manager.keep(a_fact(item_id, "class_id", "arms"))
        if number < 6:
            manager.keep(a_tie(item_id, tag))
            manager.keep(a_move(manager.ids, item_id, "store", tag=tag))
        ids.append(item_id)
    signed = [
        {"item_id": item_id, "tags": [tag], "words": f"pistol {number}", "class_id": "arms"}
        for number, (item_id, tag) in enumerate(zip(ids[:5], codes(9500), strict=False), start=1)
    ]
    manager.keep(a_receipt(manager, {**visit, "item_id": ids[0]}, number="Q17/1", lines=signed))
    shot, thumb = picture(1), picture(99, size=(160, 120))
    manager.keep(a_photo(manager.ids, ids[5], shot, thumb))
    manager.bundle([shot, thumb])
    return ids


@pytest.fixture
def desk(office: Office, pistols: list[str], open_browser: Open) -> Page:
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    expect(desk.get_by_text("6 in the queue")).to_be_visible()
    choose_at_desk(desk, "Hester Quillfeather")
    return desk


def at(desk: Page, number: int) -> None:
    expect(desk.get_by_role("heading", name=f"pistol {number}", exact=True)).to_be_visible()


def go(desk: Page, item_ids: list[str], number: int) -> None:
    desk.goto(f"{desk.url.split('#')[0]}#/entry/{item_ids[number - 1]}")
    at(desk, number)
    desk.get_by_role("heading", name=f"pistol {number}", exact=True).click()


def in_state(desk: Page, state: str, count: int) -> None:
    button = desk.get_by_role("region", name="State").get_by_role("button", name=state)
    expect(button).to_have_text(f"{state}{count}")


def test_a_key_held_down_describes_the_entry_in_sight_and_no_other(desk: Page, pistols: list[str]) -> None:
    """The arrows walk on while they are held; what writes is done once for each press."""
    go(desk, pistols, 1)
    desk.keyboard.down("d")
    at(desk, 2)
    for _ in range(3):
        desk.keyboard.down("d")
        desk.keyboard.down("p")
        desk.keyboard.down("p")
    desk.keyboard.up("d")
    desk.keyboard.up("p")
    in_state(desk, "Described", 1)
    in_state(desk, "Picked up", 1)
    for _ in range(2):
        desk.keyboard.down("ArrowDown")
    at(desk, 4)


def test_two_presses_at_once_describe_one_entry_and_skip_none(desk: Page, pistols: list[str]) -> None:
    go(desk, pistols, 1)
    desk.evaluate(PRESSED, ["d", "d"])
    in_state(desk, "Described", 1)
    at(desk, 2)
    desk.keyboard.press("d")
    at(desk, 3)
    in_state(desk, "Described", 2)


def test_what_a_caution_holds_apart_is_not_described(desk: Page, manager: Phone, pistols: list[str]) -> None:
    """It is asked who cleared it, by a link to where that is put on record; no reason goes before it."""
    manager.keep(a_caution(manager.ids, pistols[5], level="amber", hazard="H04", sign="a flask of powder"))
    manager.push()
    go(desk, pistols, 6)
    desk.keyboard.press("d")
    refused = desk.get_by_role("alert").filter(has_text="Not described")
    expect(refused).to_contain_text("held apart for a flask of powder, and nobody has cleared it")
    expect(refused.get_by_role("link", name="Record who cleared it")).to_be_visible()
    expect(desk.get_by_role("group", name="Still open")).to_have_count(0)


def test_no_key_does_anything_behind_an_open_window(desk: Page, pistols: list[str]) -> None:
    """Nobody reads what the list of keys or a large photo lies over: neither an entry nor a reason is taken there."""
    go(desk, pistols, 6)
    keys = desk.get_by_role("dialog", name="Keys")
    desk.keyboard.press("?")
    expect(keys).to_be_visible()
    desk.evaluate(PRESSED, ["p", "d", "ArrowUp", "z"])
    desk.keyboard.press("Escape")
    expect(keys).to_have_count(0)
    expect(desk.get_by_role("dialog")).to_have_count(0)
    expect(desk.get_by_role("group", name="Still open")).to_have_count(0)

    desk.keyboard.press("d")
    expect(desk.get_by_role("group", name="Still open")).to_be_visible()
    desk.keyboard.press("?")
    expect(keys).to_be_visible()
    desk.evaluate(PRESSED, ["2"])
    desk.keyboard.press("Escape")
    expect(keys).to_have_count(0)
    expect(desk.get_by_role("group", name="Still open")).to_be_visible()
    desk.keyboard.press("Escape")
    expect(desk.get_by_role("group", name="Still open")).to_have_count(0)

    desk.keyboard.press("z")
    expect(desk.get_by_role("dialog")).to_be_visible()
    desk.evaluate(PRESSED, ["p", "ArrowUp", "ArrowRight", "z"])
    expect(desk.get_by_role("dialog")).to_have_count(0)
    at(desk, 6)
    desk.keyboard.press("p")
    in_state(desk, "Waiting", 5)
    in_state(desk, "Picked up", 1)
    assert desk.locator(".history li").filter(has_text="waiting").count() == 0, "it was picked up once"


def test_nobody_works_on_in_the_name_of_somebody_who_has_left(
    desk: Page, manager: Phone, day: dict[str, Any], pistols: list[str]
) -> None:
    go(desk, pistols, 1)
    [person] = day["people"]
    seen = manager.record(day["day_id"])["fields"][f"people/{person['person_id']}"]["operation_id"]
    gone = {**person, "left": True}
    manager.keep(("add_person", {"day_id": day["day_id"], "person": gone, "seen": seen}))
    answer = manager.push()[-1]
    assert answer["outcome"] == "kept"
    line_is_back(desk)
    expect(desk.get_by_text("Hester Quillfeather has left. Until then you can read")).to_be_visible()
    desk.get_by_role("heading", name="pistol 1", exact=True).click()
    desk.keyboard.press("p")
    expect(desk.get_by_text("Hester Quillfeather has left. Say first who is here")).to_be_visible()
    in_state(desk, "Waiting", 6)
    desk.set_viewport_size({"width": 834, "height": 1112})  # the entry alone
    expect(desk.get_by_role("searchbox")).not_to_be_visible()
    expect(desk.get_by_text("Hester Quillfeather has left. Until then you can read")).to_be_visible()
    expect(desk.get_by_label("Who is at this desk?")).to_be_in_viewport()


def test_nothing_is_picked_up_or_put_back_that_is_stopped(
    desk: Page, manager: Phone, pistols: list[str]
) -> None:
    go(desk, pistols, 1)
    desk.keyboard.press("d")
    at(desk, 2)
    in_state(desk, "Described", 1)
    manager.keep(a_caution(manager.ids, pistols[0]))
    manager.push()
    in_state(desk, "Waiting", 6)
    go(desk, pistols, 1)
    expect(desk.locator(".head-keys")).to_have_text("PrintStoppedClose")
    desk.keyboard.press("p")
    go(desk, pistols, 2)
    desk.keyboard.press("p")
    in_state(desk, "Picked up", 1)
    history = manager.client.get(f"/records/{pistols[0]}/history").json()["operations"]
    moves = [(one["outcome"], one["operation"]["state"]) for one in history if is_move(one["operation"])]
    assert moves == [("kept", "described")], "nothing was made of the key, that the office would refuse"


def test_who_was_overruled_hears_of_it_wherever_the_desk_has_gone_on_to(
    desk: Page, manager: Phone, pistols: list[str]
) -> None:
    """The entry is none of those that the desk keeps any more, and the office tells of it all the same."""
    go(desk, pistols, 1)
    desk.context.set_offline(True)
    desk.keyboard.press("p")
    expect(desk.get_by_role("status").filter(has_text="picked up")).to_be_visible()
    manager.keep(("set_entry", {"item_id": pistols[0], "state": "described", "reason": "sold", "seen": None}))
    manager.push()
    desk.context.set_offline(False)
    line_is_back(desk)
    expect(desk.locator(".queue-row").first).to_contain_text("two values")
    desk.goto(f"{desk.url.split('#')[0]}#/queue")
    expect(desk.get_by_role("link", name="All at the desk")).to_be_visible()
    desk.evaluate(FORGET_OPENED)
    desk.reload()
    expect(desk.get_by_text("6 in the queue")).to_be_visible()

    record = manager.record(pistols[0])
    kind, body = settling(record, record["disagreements"][0], "kept")
    other = add_cataloguer(manager)
    manager.keep((kind, {**body, "note": "it was sold by then"}), made_by=other)
    assert manager.push()[-1]["outcome"] == "kept"
    told = desk.get_by_text("Pistol 1: ")
    expect(told).to_contain_text("this device said otherwise")
    expect(told).to_contain_text("it was sold by then")
    desk.get_by_role("button", name="Seen").click()
    expect(told).to_have_count(0)
    desk.reload()
    expect(desk.get_by_text("6 in the queue")).to_be_visible()
    expect(told).to_have_count(0)


def is_move(operation: dict[str, Any]) -> bool:
    return bool(operation["kind"] == "set_entry")


def test_enter_says_a_reason_in_ones_own_words(desk: Page, manager: Phone, pistols: list[str]) -> None:
    """To the last letter, however soon, and also after another had been chosen."""
    expect(desk.get_by_role("link", name="All at the desk")).to_be_visible()
    go(desk, pistols, 6)
    desk.keyboard.press("d")
    still = desk.get_by_role("group", name="Still open")
    expect(still.get_by_role("heading", name="Still open")).to_be_focused()
    desk.keyboard.press("1")
    expect(still.get_by_role("button", name="Described: Sold as seen")).to_be_focused()
    still.get_by_label("Another reason").evaluate(TYPED, "tag lost at the fair")
    in_state(desk, "Described", 1)
    expect(desk.get_by_role("link", name="All at the desk")).to_be_visible()
    assert manager.record(pistols[5])["fields"]["entry"]["value"]["reason"] == "tag lost at the fair"
    expect(desk.get_by_text("Described with something open: tag lost at the fair")).to_be_visible()


def test_escape_leaves_the_field_and_then_the_question(
    desk: Page, manager: Phone, pistols: list[str]
) -> None:
    """What was typed of a reason stays; the keys are the entry's again."""
    expect(desk.get_by_role("link", name="All at the desk")).to_be_visible()
    go(desk, pistols, 6)
    desk.keyboard.press("d")
    reason = desk.get_by_label("Another reason")
    reason.fill("tag lost")
    desk.keyboard.press("Escape")
    expect(reason).not_to_be_focused()
    expect(reason).to_have_value("tag lost")
    desk.keyboard.press("Escape")
    expect(reason).to_have_count(0)
    desk.keyboard.press("d")
    expect(reason).to_have_value("tag lost")


def test_a_filter_that_is_being_named_is_left_by_a_key_and_by_escape(desk: Page) -> None:
    desk.get_by_role("region", name="State").get_by_role("button", name="Waiting").click()
    for leave in ("Cancel", "Escape"):
        desk.get_by_role("button", name="Save this").click()
        desk.get_by_label("Name for this filter").fill("to do")
        if leave == "Escape":
            desk.keyboard.press("Escape")
        else:
            desk.get_by_role("button", name=leave, exact=True).click()
        expect(desk.get_by_label("Name for this filter")).to_have_count(0)
    expect(desk.get_by_role("button", name="to do", exact=True)).to_have_count(0)
    desk.get_by_role("button", name="Save this").click()
    expect(desk.get_by_label("Name for this filter")).to_have_value("")
