"""The office loses what it had, and phones in real browsers bring it back: nothing leaves their screens meanwhile."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from contextlib import AbstractContextManager
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from intake.copies import copier
from intake.settings import Settings
from tests.builders import Ids, a_day, a_fact, a_visit, an_item, digest, picture
from tests.conftest import Clock, Office, running
from tests.journeys.conftest import (
    DESK,
    Open,
    choose_name,
    go_back,
    go_to,
    line_is_back,
    next_screen,
    pair_by_hand,
    turn_to,
)
from tests.journeys.test_faults import large_picture
from tests.journeys.test_one_item import begin_visit, photo
from tests.phone import Phone

# A request under way when the office is closed may hang for half a minute; the next try follows within ten seconds.
HEARD_MS = 60_000


class House:
    """One address behind which the office's folder is exchanged, as whoever looks after it would."""

    def __init__(self, settings: Settings, clock: Clock, ids: Ids) -> None:
        self.settings, self.clock, self.ids = settings, clock, ids
        self._port = 0
        self._running: AbstractContextManager[Office] | None = None

    def open(self) -> Office:
        self._running = running(self.settings, self.clock, self.ids, port=self._port)
        office = self._running.__enter__()
        self._port = office.port
        return office

    def close(self) -> None:
        if self._running is not None:
            self._running.__exit__(None, None, None)
        self._running = None

    def keep_copy(self, folder: Path) -> Office:
        """Copy the folder while the office is closed, and open it again."""
        self.close()
        shutil.copytree(self.settings.data_folder, folder)
        return self.open()

    def put_back(self, folder: Path) -> Office:
        self.close()
        shutil.rmtree(self.settings.data_folder)
        shutil.copytree(folder, self.settings.data_folder)
        return self.open()

    def begin_anew(self) -> Office:
        self.close()
        shutil.rmtree(self.settings.data_folder)
        return self.open()


@pytest.fixture
def house(settings: Settings, clock: Clock, ids: Ids) -> Iterator[House]:
    house = House(replace(settings, data_folder=settings.data_folder), clock, ids)
    yield house
    house.close()


def record_item(page: Page, words: str, content: bytes) -> None:
    page.get_by_label("Short description").fill(words)
    turn_to(page, "Photos")
    photo(page, content, "view.jpg")
    expect(page.locator(".photo-rows img.thumb")).to_have_count(1)
    go_back(page, "Back to the item")


def one_more_item(page: Page) -> None:
    with next_screen(page):
        page.evaluate("() => { location.hash = '#/today'; }")
    begin_visit(page)


def expect_all_at_the_desk(page: Page) -> None:
    expect(page.get_by_role("link", name="At the desk")).to_be_visible(timeout=HEARD_MS)


def descriptions(phone: Phone) -> list[str]:
    entries = phone.client.get("/queue").json()["entries"]
    return sorted(entry["short_description"] or "" for entry in entries)


def described(phone: Phone, visit: dict[str, Any], words: str) -> dict[str, Any]:
    made = phone.keep(an_item(phone.ids, visit))
    phone.keep(a_fact(made["item_id"], "short_description", words))
    return made


def again(phone: Phone, office: Office) -> None:
    """The same device at the office as it is now."""
    cookies = phone.client.cookies
    phone.client = office.client()
    phone.client.cookies.update(cookies)


def test_an_older_copy_is_put_back_under_the_same_address(
    house: House, ids: Ids, open_browser: Open, tmp_path: Path
) -> None:
    """Phones see it by themselves, keep all on their screens, and send again what the office lost, in any order."""
    office = house.open()
    manager = office.pair("manager")
    day = manager.keep(a_day(ids))
    manager.push()
    page = open_browser("phone").pages[0]
    pair_by_hand(page, office, "table", "Table 1")
    choose_name(page, "Hester Quillfeather")
    begin_visit(page)
    record_item(page, "before the copy", picture(1))
    expect_all_at_the_desk(page)
    other = office.pair("table", "Table 2")
    office = house.keep_copy(tmp_path / "copy")

    again(other, office)
    again(manager, office)
    visit = other.keep(a_visit(ids, day["day_id"]))
    theirs = described(other, visit, "of the other table")
    other.push()
    contents = [picture(2), large_picture(3)]
    for number, content in enumerate(contents):
        one_more_item(page)
        record_item(page, f"after the copy {number}", content)
    expect_all_at_the_desk(page)
    go_to(page, f"{office.address}/#/item/{theirs['item_id']}")
    page.get_by_label("Materials").fill("seen on the other table")
    expect_all_at_the_desk(page)
    assert len(descriptions(manager)) == 4

    page.route("**/sync/bundle*", lambda route: route.abort())  # so that it lasts long enough to be read
    office = house.put_back(tmp_path / "copy")
    again(manager, office)
    expect(page.get_by_text("put back from an older copy")).to_be_visible(timeout=HEARD_MS)
    page.unroute("**/sync/bundle*")
    expect(page.get_by_label("Short description")).to_have_value("of the other table")
    # What was said of the other table's item waits for that table, and holds up nothing.
    expect(page.get_by_role("link", name="On this device: 1", exact=True)).to_be_visible(timeout=HEARD_MS)
    expect(page.get_by_label("Materials")).to_have_value("seen on the other table")
    assert descriptions(manager) == ["after the copy 0", "after the copy 1", "before the copy"]
    page.get_by_role("link", name="On this device: 1", exact=True).click()
    expect(page.get_by_text("waits for").first).to_be_visible()
    for content in contents:
        assert manager.client.get(f"/photos/{digest(content)}").content == content

    again(other, office)
    other.send_again()
    assert {one["outcome"] for one in other.push()} == {"kept"}
    page.get_by_role("button", name="Send now").click()
    expect_all_at_the_desk(page)
    assert len(descriptions(manager)) == 4
    record = manager.record(theirs["item_id"])
    assert record["fields"]["materials"]["value"] == "seen on the other table"
    assert record["disagreements"] == []
    assert office.faults() == []


def test_an_empty_office_is_filled_from_phones(house: House, ids: Ids, open_browser: Open) -> None:
    """The folder is gone. The manager pairs every device again; what they hold becomes the office."""
    office = house.open()
    manager = office.pair("manager")
    day = manager.keep(a_day(ids))
    manager.push()
    page = open_browser("phone").pages[0]
    pair_by_hand(page, office, "table", "Table 1")
    contents = [picture(11), large_picture(12)]
    choose_name(page, "Hester Quillfeather")
    begin_visit(page)
    record_item(page, "tin omnibus", contents[0])
    one_more_item(page)
    record_item(page, "carriage clock", contents[1])
    expect_all_at_the_desk(page)

    office = house.begin_anew()
    line_is_back(page)
    expect(page.get_by_text("The office does not know this device")).to_be_visible(timeout=HEARD_MS)
    expect(page.get_by_text("taken this device off")).not_to_be_visible()
    expect(page.get_by_role("link", name="Not known at the desk")).to_be_visible()
    expect(page.get_by_label("Short description")).to_have_value("carriage clock")
    page.get_by_role("link", name="pair it again").click()
    page.get_by_label("Code").fill(office.code("table", "Table 1"))
    page.get_by_role("button", name="Pair", exact=True).click()
    expect(page.get_by_text("the office cannot see that it is")).to_be_visible()
    device_id = page.locator("code").inner_text()
    page.get_by_label("Code").fill(office.code("table", "Table 1", device_id))
    page.get_by_role("button", name="Pair", exact=True).click()
    page.wait_for_url(re.compile("#/today$"))
    # Nothing is judged before the manager's device has brought the day.
    expect(page.get_by_role("link", name=re.compile(r"On this device: \d+"))).to_be_visible(timeout=HEARD_MS)
    expect(page.locator("main").get_by_role("link", name=re.compile("Ashbody"))).to_have_count(2)
    manager.come_back(office.client(), office.code("manager", "Manager", manager.device_id))
    assert {one["outcome"] for one in manager.push()} == {"kept"}

    page.get_by_role(
        "link", name=re.compile(r"On this device: \d+|All at the desk")
    ).click()  # it sends by itself
    page.get_by_role("button", name="Send now").click()
    expect_all_at_the_desk(page)
    assert descriptions(manager) == ["carriage clock", "tin omnibus"]
    for content in contents:
        assert manager.client.get(f"/photos/{digest(content)}").content == content
    assert manager.record(day["day_id"])["fields"]
    assert office.faults() == []


def test_office_and_copy_are_lost_together(
    house: House, ids: Ids, open_browser: Open, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What no device can send again is told, and the manager's device sets the day up again with one tap."""
    monkeypatch.setattr(copier, "is_apart", lambda copy, office: True)
    office = house.open()
    page = open_browser("manager").pages[0]
    pair_by_hand(page, office, "manager", "Manager")
    other = office.pair("manager", "Other")
    day = other.keep(a_day(ids))
    other.push()
    table = office.pair("table", "Table 1")
    described(table, table.keep(a_visit(ids, day["day_id"])), "tin omnibus")
    table.push()
    stick = str(tmp_path / "stick")
    other.client.put("/copies", json={"places": [{"folder": stick}]}).raise_for_status()
    line_is_back(page)
    go_to(page, f"{office.address}/#/today")
    expect(page.locator("main").get_by_text("came 09:30")).to_be_visible(timeout=HEARD_MS)

    house.close()
    shutil.rmtree(stick)
    office = house.begin_anew()
    line_is_back(page)
    expect(page.get_by_text("The office does not know this device")).to_be_visible(timeout=HEARD_MS)
    page.get_by_role("link", name="pair it again").click()
    page.get_by_label("Code").fill(office.code("manager", "Manager"))
    page.get_by_role("button", name="Pair", exact=True).click()
    told = page.get_by_text("1 day, 1 visit and 1 item that the office does not have")
    expect(told).to_be_visible(timeout=HEARD_MS)
    table.answered.clear()  # it let go of what stood in the copy
    table.come_back(office.client(), office.code("table", "Table 1", table.device_id))
    table.keep(a_visit(ids, day["day_id"]))
    assert [one["outcome"] for one in table.push()] == ["waiting"]
    page.get_by_role("link", name="See what to do").click()
    expect(page.get_by_role("link", name="Not all at the desk")).to_be_visible()
    expect(page.get_by_text("Enter none of it anew yet")).to_be_visible()
    with page.expect_download() as saved:
        page.get_by_role("button", name="Save all of it as text").click()
    assert "tin omnibus" in Path(saved.value.path()).read_text()
    page.get_by_role("button", name="Set this day up again").click()
    expect(page.get_by_text("New visits wait on the phones")).to_have_count(0)
    expect(page.get_by_text("The day is set up again")).to_be_visible()
    expect(page.get_by_role("link", name="Not all at the desk")).to_be_visible(timeout=HEARD_MS)
    expect(page.get_by_text("1 visit and 1 item that the office had")).to_be_visible()
    assert [one["outcome"] for one in table.push()] == ["kept"]
    assert set(table.record(day["day_id"])["fields"]) == {
        f"people/{one['person_id']}" for one in day["people"]
    }
    assert table.client.post("/devices/heard").status_code == 403, "a table has no say in it"
    page.get_by_role("button", name="Send now").click()
    expect(page.get_by_text("Enter none of it anew yet")).to_be_visible()
    page.evaluate(
        """async () => {
          const { since, loss } = (await (await fetch('/devices')).json()).hearing;
          const body = JSON.stringify({ since, loss });
          if (!(await fetch('/devices/heard', { method: 'POST', body })).ok) throw Error(body);
        }"""
    )
    page.get_by_role("button", name="Send now").click()
    expect(page.get_by_text("Then enter anew what is still listed")).to_be_visible(timeout=HEARD_MS)
    assert office.faults() == []


def test_devices_follows_who_has_come_and_the_manager_s_word(
    house: House, ids: Ids, open_browser: Open
) -> None:
    """The screen stays open: its own device is in hand, and another comes meanwhile."""
    office = house.open()
    page = open_browser("manager", size=DESK).pages[0]
    pair_by_hand(page, office, "manager", "Manager")
    table, other = office.pair("table", "Table 1"), office.pair("manager", "Another")
    other.keep(a_day(ids))
    other.push()
    other.client.post(f"/devices/{other.device_id}/revoke", json={}).raise_for_status()
    line_is_back(page)
    expect(page.get_by_text("Old Corn Hall").first).to_be_visible()
    office.change("UPDATE office SET hearing_since = '2026-03-14T18:00:00.000Z', losses = losses + 1")
    go_to(page, f"{office.address}/#/devices")
    expect(page.get_by_text("Table 1. Bring each into reach")).to_be_visible()
    stands = table.feed()["office"]
    known = {"known_seq": stands["office_seq"], "known_chain": stands["chain"], "to_send": 0}
    table.client.get("/sync/feed", params=known).raise_for_status()
    expect(page.get_by_text("Every device that this office knows has come.")).to_be_visible()
    page.get_by_role("button", name="No other device will come").click()
    page.get_by_role("button", name="No other device will come").last.click()
    expect(page.get_by_text("waits for every device that may have")).to_have_count(0)
    expect(page.get_by_text("Still to come")).to_have_count(0)
