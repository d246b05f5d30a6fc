"""The manager sets up a second place on a screen, pulls it out, and reads what is so and what to do."""

from __future__ import annotations

import sqlite3
from pathlib import Path
from typing import Any

from playwright.sync_api import expect

from intake.copies.folder import Folder
from intake.copies.restore import restore
from tests.builders import a_day, a_visit
from tests.conftest import Office, in_own_loop
from tests.copies.test_keeping import is_current, until
from tests.copies.tools import record_items
from tests.journeys.conftest import DESK, Open, go_to, next_screen, pair
from tests.phone import Phone

#: Counts what the office tells of, beside the app.
LISTEN = """() => {
    window.heard = 0;
    new EventSource('/sync/events').addEventListener('message', () => { window.heard += 1; });
}"""
A_WHILE_MS = 3000  # whatever is asked for after something else is asked for by then


def test_a_second_place_is_set_up_and_looked_after_on_the_screen(
    office: Office, phone: Phone, day: dict[str, Any], open_browser: Open, tmp_path: Path
) -> None:
    record_items(phone, day, 1)
    page = open_browser("manager", size=DESK).pages[0]
    pair(page, office, "manager", "Manager")
    go_to(page, f"{office.address}/#/queue")
    expect(page.get_by_text("Nothing is kept in a second place")).to_be_visible()
    page.get_by_text("Nothing is kept in a second place").click()

    page.get_by_role("button", name="Make the key").click()
    expect(page.get_by_label("Signs of the key")).to_be_visible()
    secret = "".join(page.get_by_label("Signs of the key").get_by_role("listitem").all_inner_texts())
    page.once("dialog", lambda dialog: dialog.dismiss())
    page.get_by_role("link", name="Queue").click()
    expect(page.get_by_role("button", name="It is on paper")).to_be_disabled()
    page.get_by_label("The last six signs").fill(f"{secret[-6:-3]} {secret[-3:].lower()}")
    page.get_by_role("button", name="It is on paper").click()
    expect(page.get_by_label("Signs of the key")).to_have_count(0)
    expect(page.get_by_role("button", name="Make another key")).to_be_visible()

    page.get_by_label("Folder on the office's machine").fill("stick")
    page.get_by_role("button", name="Keep a copy there").click()
    refused = page.get_by_role("alert").filter(has_text="is not a whole path")
    expect(refused).to_be_visible()
    page.get_by_label("Folder on the office's machine").fill("/")
    expect(refused).to_be_visible()
    with next_screen(page):
        page.get_by_role("link", name="Queue").click()
    expect(refused).to_have_count(0)
    with next_screen(page):
        page.get_by_role("link", name="Copies").click()

    stick = tmp_path / "stick"
    page.get_by_label("Folder on the office's machine").fill(str(stick))
    page.get_by_role("button", name="Whoever has the key").click()
    page.get_by_role("button", name="Keep a copy there").click()
    expect(page.get_by_text("Everything the office has stands in the copy.")).to_be_visible()
    expect(
        page.get_by_text("does not count as a second place")
    ).to_be_visible()  # as the test's folder does not
    new = type(office.settings)(tmp_path / "new", clock=office.clock)
    assert in_own_loop(lambda: restore(Folder(stick), new, secret=secret)).faults == []

    away = stick.rename(tmp_path / "away")
    page.get_by_role("button", name="Look again").click()
    expect(page.get_by_text("Plug the stick in again.")).to_be_visible()
    assert page.locator(".command").evaluate("one => one.scrollWidth <= one.clientWidth"), "all is in sight"
    away.rename(stick)

    go_to(page, f"{office.address}/#/closing")
    expect(page.get_by_text(f"Copy in {stick}")).to_be_visible()
    with sqlite3.connect(office.settings.database_file) as tables:
        seq, chain = tables.execute("SELECT max(office_seq), chain FROM operation_log").fetchone()
    line = page.get_by_text(f"For the paper: {seq} entries")
    expect(line).to_contain_text(f"{chain[:8]} …; the paper has all of it")
    page.emulate_media(media="print")
    assert "".join(line.inner_text().split(" is ")[-1].split()) == chain


def test_screens_that_are_open_follow_a_stick_that_is_pulled_out(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open, tmp_path: Path
) -> None:
    """Nobody opens one of them anew, nor looks again; nothing is recorded meanwhile."""
    stick = tmp_path / "stick"
    manager.client.put("/copies", json={"places": [{"folder": str(stick)}]}).raise_for_status()
    pages = [open_browser(name, size=DESK).pages[0] for name in ("manager", "desk")]
    for page, role in zip(pages, ("manager", "desk"), strict=True):
        pair(page, office, role, role)
    copies, queue = pages
    go_to(copies, f"{office.address}/#/copies")
    queue.goto(f"{office.address}/#/queue")
    expect(copies.get_by_text("Everything the office has stands in the copy.")).to_be_visible()
    bar = queue.get_by_text(f"Copy in {stick}")
    expect(bar).to_be_visible()
    for page in pages:
        page.wait_for_load_state()
    away = stick.rename(tmp_path / "away")
    expect(copies.get_by_text(f"The copy is not in {stick}.")).to_be_visible()
    expect(bar).to_contain_text("is out of reach")
    away.rename(stick)
    expect(copies.get_by_text("Everything the office has stands in the copy.")).to_be_visible()
    expect(bar).not_to_contain_text("is out of reach")


def test_a_desk_asks_for_copies_and_for_a_closing_as_something_of_them_changes(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open, tmp_path: Path
) -> None:
    """Not at each change of any record: a hall that works on another day is none of their business."""
    manager.client.put("/copies", json={"places": [{"folder": str(tmp_path / "stick")}]}).raise_for_status()
    another = manager.keep(a_day(manager.ids))
    manager.push()
    page = open_browser("desk", size=DESK).pages[0]
    page.clock.install()
    pair(page, office, "desk", "desk")
    go_to(page, f"{office.address}/#/copies")
    expect(page.get_by_text("Everything the office has stands in the copy.")).to_be_visible()
    page.clock.run_for(A_WHILE_MS)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url.removeprefix(office.address)))

    def kept(of: dict[str, Any]) -> None:
        """Something of a day is kept, and the page has heard of it."""
        before = page.evaluate("() => window.heard")
        manager.keep(a_visit(manager.ids, of["day_id"]))
        manager.push()
        page.wait_for_function("before => window.heard > before", arg=before)
        until(manager, is_current)
        page.clock.run_for(A_WHILE_MS)

    page.evaluate(LISTEN)
    page.wait_for_function("() => window.heard > 0")
    for _ in range(3):
        kept(day)
    assert [address for address in asked if "/copies" in address] == []

    go_to(page, f"{office.address}/#/closings/{day['day_id']}")
    expect(page.get_by_text("3 visits")).to_be_visible()
    page.clock.run_for(A_WHILE_MS)
    assert len([address for address in asked if "/closing" in address]) == 1, "as it is opened"
    asked.clear()
    kept(another)
    kept(day)
    expect(page.get_by_text("4 visits")).to_be_visible()
    assert [address for address in asked if "/closing" in address] == [f"/days/{day['day_id']}/closing"]


def test_two_sticks_that_come_to_one_folder_in_turn_are_told_apart(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open, tmp_path: Path
) -> None:
    stick = tmp_path / "stick"

    def keep(*folders: Path) -> None:
        places = [{"folder": str(folder)} for folder in folders]
        manager.client.put("/copies", json={"places": places}).raise_for_status()

    keep(stick)
    first = until(manager, is_current)["copies"][0]["copy_id"]
    keep()
    stick.rename(tmp_path / "drawer")
    keep(stick)
    second = until(manager, is_current)["copies"][0]["copy_id"]
    page = open_browser("manager", size=DESK).pages[0]
    pair(page, office, "manager", "Manager")
    go_to(page, f"{office.address}/#/copies")
    several = page.get_by_text("One of several that were in this folder")
    for place, copy_id in enumerate((second, first)):
        expect(several.nth(place)).to_contain_text(f"number {copy_id[:8]}")
    again = page.get_by_role("button", name="Keep it up to date again")
    expect(again).to_have_count(0)

    keep(tmp_path / "other")
    expect(again).to_have_count(2)
    again.first.click()
    expect(page.get_by_text(f"A copy is kept in {stick} from now on.")).to_be_visible()
    expect(again).to_have_count(0)
