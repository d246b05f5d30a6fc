"""A window of another version of the app beside this one: words and a way on, and nothing is lost."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import expect

from tests.conftest import Office
from tests.journeys.conftest import Open
from tests.journeys.test_one_item import phone_at_a_table

# Holds the database open as an app does that does not know that another version may ask for it.
HOLD = """(version) => new Promise((resolve, reject) => {
    const opening = indexedDB.open("intake", version);
    opening.onsuccess = () => { globalThis.held = opening.result; resolve(); };
    opening.onerror = () => reject(opening.error);
})"""
# Takes the database back to the first version, with nothing in it but what that one had.
BACK_TO_THE_FIRST = """() => new Promise((resolve, reject) => {
    const going = indexedDB.deleteDatabase("intake");
    going.onerror = () => reject(going.error);
    going.onsuccess = () => {
        const opening = indexedDB.open("intake", 1);
        opening.onerror = () => reject(opening.error);
        opening.onupgradeneeded = () => {
            const db = opening.result;
            db.createObjectStore("record", { keyPath: "record_id" }).createIndex("kind", "kind");
            const outbox = db.createObjectStore("outbox", { keyPath: "device_seq" });
            outbox.createIndex("operation_id", "operation_id");
            outbox.createIndex("record_id", "record_id");
            db.createObjectStore("refused", { keyPath: "operation_id" });
            db.createObjectStore("photo_bytes");
            db.createObjectStore("photo", { keyPath: "sha256" });
            db.createObjectStore("setting");
        };
        opening.onsuccess = () => { globalThis.held = opening.result; resolve(); };
    };
})"""


def test_a_window_of_an_older_app_is_named_and_closing_it_is_enough(
    office: Office, open_browser: Open
) -> None:
    phone = open_browser("phone")
    older = phone.pages[0]
    older.goto(f"{office.address}/health")
    older.evaluate(BACK_TO_THE_FIRST)
    page = phone.new_page()
    page.goto(office.address)
    expect(page.get_by_text("An older version of this app is open in another window")).to_be_visible()
    older.close()
    expect(page.get_by_label("Code")).to_be_visible(timeout=30_000)


def test_a_window_that_was_left_open_while_the_app_became_newer_says_so(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """The newer app takes the database; what is typed into the older window is not kept, and it says so."""
    phone, page = phone_at_a_table(open_browser, office)
    newer = phone.new_page()
    newer.goto(f"{office.address}/health")
    newer.evaluate(HOLD, 99)
    page.get_by_label("Short description").fill("tin omnibus")
    # Said in the bar, and where it was typed, once the device would send it.
    expect(page.get_by_role("alert").filter(has_text="A newer version of this app").first).to_be_visible()
    expect(page.get_by_label("Short description")).to_have_value("tin omnibus")
