"""What the desk's filters count is what its rows bear, and is found when it is typed."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Page, Route, expect

from tests.builders import a_caution, a_day, a_fact, a_finding, a_move, a_tie, a_visit, an_item
from tests.conftest import Office
from tests.custody.test_receipts import a_receipt
from tests.journeys.conftest import DESK, Open, go_to, line_is_back, pair
from tests.phone import Phone

OWLS = ["barn owl", "snowy owl", "eagle owl", "little owl", ""]
BARN, SNOWY, EAGLE, LITTLE, NAMELESS = range(5)
#: Each filter, and how its rows say the same.
AS_ROWS_SAY = [
    ("No tag", "no tag", 3),
    ("No photo", "no picture", 5),
    ("No name", "Not named yet", 1),
    ("Picked up", "picked up", 1),
    ("Described", "described", 1),
    ("Back with owners", "back with its owner", 1),
]


@pytest.fixture
def owls(manager: Phone, day: dict[str, Any]) -> list[dict[str, Any]]:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q17"))
    opened = [manager.keep(an_item(manager.ids, visit)) for _ in OWLS]
    ids = [item["item_id"] for item in opened]
    for item_id, name in zip(ids, OWLS, strict=True):
        if name:
            manager.keep(a_fact(item_id, "short_description", name))
    for at, tag in ((BARN, "7K3-QW5"), (SNOWY, "00002Y")):
        manager.keep(a_tie(ids[at], tag))
    void = {"item_id": ids[SNOWY], "tag": "00002Y", "why": "taken-back", "replaced_by": None}
    manager.keep(("remove_tag", void))
    manager.keep(a_finding(manager.ids, ids[EAGLE], "head", severity=4))
    manager.keep(a_caution(manager.ids, ids[LITTLE], level="note", hazard="H54", sign="read on its back"))
    for at, state in ((BARN, "described"), (EAGLE, "picked-up")):
        manager.keep(("set_entry", {"item_id": ids[at], "state": state, "seen": None}))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    return opened


def count_of(desk: Page, words: str) -> int:
    filters = desk.get_by_role("region", name="Narrow the list")
    line = filters.get_by_role("button", name=re.compile(rf"^{words} \d+$"))
    return int(line.locator(".count-of").inner_text())


def test_a_filter_counts_the_rows_that_bear_its_words(
    office: Office, manager: Phone, owls: list[dict[str, Any]], open_browser: Open
) -> None:
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    rows, box = desk.locator(".queue-row"), desk.get_by_role("searchbox")
    expect(desk.get_by_text("5 in the queue")).to_be_visible()
    expect(rows).to_have_count(5)
    for name, words, expected in AS_ROWS_SAY:
        bearing = rows.filter(has=desk.get_by_text(re.compile(rf"(^|\W){words}$")))
        expect(bearing).to_have_count(expected)
        assert count_of(desk, name) == expected, name
    for typed, found in (("no tag", 3), ("back with its owner", 1), ("note", 1), ("severe owl", 1)):
        box.fill(typed)
        expect(desk.get_by_text(f"{found} in the queue as asked")).to_be_visible()


def test_the_desk_sees_what_nobody_signed_for_until_somebody_has(
    office: Office, manager: Phone, owls: list[dict[str, Any]], open_browser: Open
) -> None:
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    desk.get_by_role("button", name=re.compile("^Not signed for 2$")).click()
    expect(desk.get_by_text("2 in the queue as asked")).to_be_visible()
    barn, snowy = (desk.get_by_role("link", name=re.compile(OWLS[at])) for at in (BARN, SNOWY))
    snowy.click()
    line = desk.get_by_text("Not signed for:")
    expect(line.locator("..")).to_contain_text("it went back, and nobody has signed for that")
    barn.click()
    expect(line.locator("..")).to_contain_text("no receipt that its owner signed names it")
    lines = [{"item_id": owls[BARN]["item_id"], "tags": ["7K3QW5"], "words": "barn owl"}]
    manager.keep(a_receipt(manager, owls[BARN], lines=lines))
    manager.push()
    expect(line).to_have_count(0)
    expect(desk.get_by_text("1 in the queue as asked")).to_be_visible()


def test_the_desk_sees_what_did_not_come_until_it_is_found(
    office: Office, manager: Phone, owls: list[dict[str, Any]], open_browser: Open
) -> None:
    """A crate and a loose owl left, and the crate came."""
    day_id, owl = owls[BARN]["day_id"], owls[BARN]["item_id"]
    counted = dict.fromkeys(("crates", "pieces", "scanned_crates", "scanned_pieces"), 1)
    people = {"day_id": day_id, "given_by": "Ana", "taken_by": "Otis", "driver": "Otis Reed", **counted}
    left = {**people, "load_id": manager.ids.id(), "to_place": "van", "at": "", "numbers": ["7K3QW5"]}
    came = {**people, "load_id": manager.ids.id(), "to_place": "store", "at": "", "numbers": []}
    manager.keep(a_move(manager.ids, owl, "van"))
    manager.keep(("count_load", left))
    manager.keep(("count_load", {**came, "of_load": left["load_id"]}))
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    desk.get_by_role("button", name=re.compile("^Did not come 1$")).click()
    expect(desk.get_by_text("1 in the queue as asked")).to_be_visible()
    barn = desk.get_by_role("link", name=re.compile(OWLS[BARN]))
    words = "not come with load to van, driven by Otis Reed"
    expect(barn).to_contain_text(words)
    barn.click()
    line = desk.get_by_text("Nobody has it:")
    expect(line.locator("..")).to_contain_text(words)
    manager.keep(a_move(manager.ids, owl, "store"))
    manager.push()
    expect(line).to_have_count(0)
    expect(desk.get_by_text("0 in the queue as asked")).to_be_visible()


def test_rows_that_are_not_as_asked_do_not_say_that_they_are(
    office: Office, owls: list[dict[str, Any]], open_browser: Open
) -> None:
    """With no line what was there last stays, and so it does while an answer is slow."""
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    rows, box = desk.locator(".queue-row"), desk.get_by_role("searchbox")
    how_many, before = desk.locator(".how-many"), "These are as asked before."
    expect(how_many).to_contain_text("5 in the queue")
    desk.context.set_offline(True)
    box.fill("quagmire")
    expect(desk.get_by_text("The office is not reached.")).to_be_visible()
    expect(how_many).to_contain_text(before)
    expect(how_many).not_to_contain_text("in the queue")
    expect(rows).to_have_count(5)
    desk.context.set_offline(False)
    line_is_back(desk)
    expect(how_many).to_contain_text("0 in the queue as asked")
    expect(desk.get_by_text("Nothing in the queue has “quagmire”.")).to_be_visible()
    held: list[Route] = []
    is_slow = True  # taking the route away would let a request go on that is about to be held
    desk.route("**/queue?*", lambda route: held.append(route) if is_slow else route.continue_())
    box.fill("")
    expect(how_many).to_contain_text(f"Reading … {before}")
    expect(desk.get_by_text("Nothing is in the queue yet.")).to_have_count(0)
    expect(desk.get_by_text("Nothing in the queue has")).to_have_count(0)
    is_slow = False
    for route in held:
        route.continue_()
    expect(how_many).to_contain_text("5 in the queue")
    expect(how_many).not_to_contain_text(before)


def test_a_search_without_hits_says_so_and_leaves_the_filters(
    office: Office, manager: Phone, owls: list[dict[str, Any]], open_browser: Open
) -> None:
    """Also once the desk has been elsewhere: what was looked for is still asked."""
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    filters, box = desk.get_by_role("region", name="Narrow the list"), desk.get_by_role("searchbox")
    how_many = desk.locator(".how-many")

    def groups() -> list[str]:
        return filters.locator("h3").all_inner_texts()

    expect(how_many).to_contain_text("5 in the queue")
    expect(filters.get_by_role("button", name=re.compile("^No tag 3$"))).to_be_visible()
    before = groups()
    box.fill("quagmire")
    for _ in range(2):
        expect(desk.get_by_text("Nothing in the queue has “quagmire”.")).to_be_visible()
        expect(filters.get_by_role("button", name=re.compile("^No tag 0$"))).to_be_visible()
        assert groups() == before
        go_to(desk, f"{office.address}/#/outbox")
        go_to(desk, f"{office.address}/#/queue")
    filters.get_by_role("button", name=re.compile("^No tag 0$")).click()
    expect(desk.get_by_text("Nothing of what the filters leave has “quagmire”.")).to_be_visible()
    desk.get_by_role("button", name="Clear the filters").click()
    expect(desk.get_by_text("Nothing in the queue has “quagmire”.")).to_be_visible()
    desk.get_by_role("button", name="Clear the search").click()
    expect(how_many).to_contain_text("5 in the queue")
    expect(box).to_be_focused()


def test_a_long_name_is_read_to_its_end_while_nothing_stands_beside_the_list(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    visit = manager.keep(a_visit(manager.ids, day["day_id"], ticket="Q17"))
    item = manager.keep(an_item(manager.ids, visit))
    manager.keep(a_fact(item["item_id"], "short_description", "doll's house with forty pieces of furniture"))
    manager.push()
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    name = desk.locator(".queue-name strong")
    expect(name).to_be_visible()
    assert name.evaluate("name => name.scrollWidth <= name.clientWidth")


def test_a_row_says_what_differed_the_day_is_chosen_and_the_history_says_what_was_signed(
    office: Office, manager: Phone, owls: list[dict[str, Any]], open_browser: Open
) -> None:
    owl = owls[EAGLE]["item_id"]
    lines = [{"item_id": owl, "tags": [], "words": "eagle owl"}]
    manager.keep(a_receipt(manager, owls[EAGLE], lines=lines))
    compared = {
        "item_id": owl,
        "state": "differs",
        "words": "beak broken off",
        "second_by": "Bo",
        "seen": None,
    }
    manager.keep(("check_in", compared))
    _, another = a_day(manager.ids)
    manager.keep(("open_day", {**another, "held_on": "2026-03-15"}))
    visit = manager.keep(a_visit(manager.ids, another["day_id"], ticket="Q17"))
    manager.keep(
        a_fact(str(manager.keep(an_item(manager.ids, visit))["item_id"]), "short_description", "wren")
    )
    assert {answer["outcome"] for answer in manager.push()} == {"kept"}
    desk = open_browser("desk", size=DESK).pages[0]
    pair(desk, office, "desk", "Desk")
    desk.get_by_role("searchbox").fill("beak broken")
    expect(desk.get_by_text("1 in the queue as asked")).to_be_visible()
    desk.get_by_role("searchbox").fill("")
    days = desk.get_by_role("region", name="Day")
    days.get_by_role("button", name=re.compile("15 March 2026 1$")).click()
    expect(desk.get_by_text("1 in the queue as asked")).to_be_visible()
    expect(desk.locator(".queue-row")).to_contain_text("wren")
    days.get_by_role("button", name=re.compile(" 5$")).click()
    row = desk.get_by_role("link", name=re.compile("eagle owl"))
    expect(row).to_contain_text("differed at check-in")
    row.click()
    history = desk.locator(".history").last.locator("li")
    before = history.filter(has_text="compared it with what was recorded")
    signed = history.filter(has_text="The owner signed")
    expect(signed).to_contain_text("it was left here")
    expect(before).to_be_attached()
    texts = history.all_inner_texts()
    places = [
        next(at for at, text in enumerate(texts) if words in text) for words in ("beak", "signed", "found:")
    ]
    assert places == sorted(places), "the newest first: what differed came after the signature"
    assert office.faults() == []
