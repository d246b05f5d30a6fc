"""What goes wrong on a phone, in a real browser: a plain sentence, and nothing is lost."""

from __future__ import annotations

import io
import random
import re
import shutil
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import FilePayload, Route, expect

from intake.settings import Settings
from intake.tagging.tags import codes, shown
from tests.builders import Ids, a_day, digest, picture
from tests.conftest import Clock, Office, running
from tests.journeys.conftest import Open, choose_name, go_back, pair, turn_to
from tests.journeys.test_one_item import phone_at_a_table, photo, tie_on_two_items
from tests.phone import Phone

# What is left of the app in the browser when nothing is, or after half a minute: a browser waits five minutes for a
# worker that has not ended what it does, and what it is that stays says more than a test that took so long.
LEFT_OF_APP = """async () => {
    const worker = (name, one) => `${name} ${one?.state ?? "none"}`;
    const left = async () => [
        ...(await caches.keys()),
        ...(await navigator.serviceWorker.getRegistrations()).map((one) =>
            ["installing", "waiting", "active"].map((name) => worker(name, one[name])).join(", ")),
    ];
    for (const end = Date.now() + 30_000; ; await new Promise(requestAnimationFrame)) {
        const all = await left();
        if (!all.length || Date.now() > end) return all;
    }
}"""
# Asks for the office's worker; whether it came within half a minute.
LOOK_FOR_ANOTHER = """() => Promise.race([
    navigator.serviceWorker.ready.then((one) => one.update()).then(() => true),
    new Promise((late) => setTimeout(late, 30_000, false)),
])"""
# Stands where the browser would find its disk full; everything else is real.
FULL_DISK = """() => {
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function (...given) {
        if (globalThis.diskIsFull) throw new DOMException("full", "QuotaExceededError");
        return put.apply(this, given);
    };
    globalThis.diskIsFull = true;
}"""


def test_a_full_phone_says_so_and_keeps_what_it_had(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    phone, page = phone_at_a_table(open_browser, office)
    phone.set_offline(True)
    page.get_by_label("Materials").fill("mohair")
    page.evaluate(FULL_DISK)
    page.get_by_label("Short description").fill("teddy bear")
    # In the bar, and for a moment where it was typed as well.
    full = page.get_by_role("alert").filter(has_text="This phone is full").first
    expect(full).to_be_visible()
    expect(page.get_by_label("Short description")).to_have_value("teddy bear")
    page.evaluate("() => { location.hash = '#/today'; }")
    expect(page.get_by_label("Short description")).to_have_count(0)
    expect(full).to_be_visible()
    page.go_back()

    page.evaluate("() => { globalThis.diskIsFull = false; }")
    page.get_by_label("Short description").fill("teddy bear, 1930s")
    page.reload()
    expect(page.get_by_label("Short description")).to_have_value("teddy bear, 1930s")
    expect(page.get_by_label("Materials")).to_have_value("mohair")


def test_a_tag_that_is_on_another_item_is_refused_with_what_to_do(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open
) -> None:
    """Both devices were offline: the second is told, corrects it on the list, and both items are safe."""
    taken, fresh = [tag for tag, _ in zip(codes(9000), range(2), strict=False)]
    phone, page = phone_at_a_table(open_browser, office)
    tie_on_two_items(phone, manager, day, taken)

    phone.set_offline(False)
    page.get_by_role("link", name="1 refused").click()
    expect(page.get_by_text("a number is never used twice")).to_be_visible()
    expect(page.get_by_text("What it did not take is listed here")).to_be_visible()
    expect(page.get_by_text("nowhere else")).to_have_count(0)
    page.get_by_label("Another tag").fill(shown(fresh))
    page.reload()  # what was typed is kept before it is sent
    expect(page.get_by_label("Another tag")).to_have_value(shown(fresh))
    expect(page.get_by_text("what the office does not have yet is nowhere else")).to_be_visible()
    with page.expect_response(lambda answer: "/sync/operations" in answer.url):
        page.get_by_role("button", name="Send it corrected").click()
    expect(page.get_by_text("Everything from this device is at the desk")).to_be_visible()
    tags = {
        entry["short_description"] or "": entry["tags"]
        for entry in manager.client.get("/queue").json()["entries"]
    }
    assert tags == {"": [taken], "glass paperweight": [fresh]}
    assert office.faults() == []


def large_picture(seed: int, *, kind: str = "JPEG") -> bytes:
    """It opens, and is sent in pieces."""
    return picture(seed, size=(2400, 1800), kind=kind) + random.Random(seed).randbytes(3_000_000)


@pytest.mark.parametrize("had", ["nothing", "damaged", "all of it, damaged", "all of it"])
def test_a_large_picture_goes_in_pieces_and_anew_if_the_office_has_it_damaged(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open, had: str
) -> None:
    """`had`: what lies at the office from before a cut, with no row yet: that alone frees no original."""
    content = large_picture(1)
    phone, page = phone_at_a_table(open_browser, office)
    phone.set_offline(True)
    turn_to(page, "Photos")
    photo(page, content, "large.jpg")
    expect(page.locator(".photo-rows img.thumb")).to_have_count(1)
    lies = {
        "nothing": b"",
        "damaged": b"\0" * 600_000,
        "all of it, damaged": b"\0" * len(content),
        "all of it": content,
    }[had]
    if lies:
        known = manager.client.get("/devices").json()["devices"]
        (device_id,) = [one["device_id"] for one in known if one["role"] == "table"]
        part = office.settings.photos_folder / "incoming" / device_id / f"{digest(content)}.{len(content)}"
        part.parent.mkdir()
        part.write_bytes(lies)
    phone.set_offline(False)
    expect(page.get_by_text("At the desk")).to_be_visible(timeout=20_000)
    assert manager.client.get(f"/photos/{digest(content)}").content == content
    assert office.faults() == []


# What this phone still has of a picture: how many bytes, and whether it takes it to be at the office.
HELD = """(sha256) => new Promise((resolve, reject) => {
    const opening = indexedDB.open("intake");
    opening.onerror = () => reject(opening.error);
    opening.onsuccess = () => {
        const tx = opening.result.transaction(["photo", "photo_bytes"]);
        const photo = tx.objectStore("photo").get(sha256);
        const bytes = tx.objectStore("photo_bytes").get(sha256);
        tx.oncomplete = () => {
            opening.result.close();
            resolve([bytes.result ? bytes.result.byteLength : 0, Boolean(photo.result.at_office)]);
        };
    };
})"""


@pytest.mark.parametrize("how", ["in a bundle", "in pieces"])
def test_a_picture_that_the_office_refuses_stays_on_the_phone(
    office: Office, manager: Phone, day: dict[str, Any], open_browser: Open, how: str
) -> None:
    """A GIF under another name: browsers look at the bytes, the office takes no such picture."""
    content = large_picture(3, kind="GIF") if how == "in pieces" else picture(3, kind="GIF")
    _, page = phone_at_a_table(open_browser, office)
    turn_to(page, "Photos")
    photo(page, content, "view.jpg")
    expect(page.get_by_role("link", name="1 refused")).to_be_visible(timeout=20_000)
    assert page.evaluate(HELD, digest(content)) == [len(content), False]
    assert manager.client.get(f"/photos/{digest(content)}").status_code == 404


def build_anew(web: Path, more_style: str) -> None:
    """What another build makes of a changed style: a file of another name, and a page that asks for it."""
    before = next(web.glob("styles-*.css"))
    after = before.with_name("styles-SECOND22.css")
    after.write_text(before.read_text("utf-8") + more_style, "utf-8")
    before.unlink()
    page = web / "index.html"
    page.write_text(page.read_text("utf-8").replace(before.name, after.name), "utf-8")


def test_a_picture_too_large_among_several_is_named_and_the_others_are_kept(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    _, page = phone_at_a_table(open_browser, office)
    turn_to(page, "Photos")
    plain = io.BytesIO()
    Image.new("1", (8000, 8000)).save(plain, "PNG")
    several = [("wall.png", plain.getvalue()), ("front.png", picture(3)), ("back.png", picture(4))]
    page.get_by_label("Files").set_input_files(
        [FilePayload(name=name, mimeType="image/png", buffer=content) for name, content in several]
    )
    expect(page.locator(".photo-rows img.thumb")).to_have_count(2)
    expect(page.get_by_role("alert")).to_contain_text("wall.png: This picture is too large")


def test_a_screen_that_stops_on_its_way_says_so(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """The line dies in the middle of a desk's first screen: nothing ends by itself, and the person is told."""
    (page,) = open_browser("desk").pages
    page.add_init_script("delete Navigator.prototype.serviceWorker")  # whose requests could not be held back
    held: list[Route] = []
    page.route("**/office_screens-*.js", lambda route: held.append(route))
    page.clock.install()
    page.goto(office.address)
    page.get_by_label("Code").fill(office.code("desk", "Desk"))
    page.get_by_role("button", name="Pair", exact=True).click()
    expect(page.get_by_text("Opening …")).to_be_visible()
    page.clock.fast_forward(8_000)
    expect(page.get_by_text("This screen is not kept on this device")).to_be_visible()
    page.get_by_role("button", name="Open it again").click()
    expect(page.get_by_text("Opening …")).to_be_visible()
    page.unroute("**/office_screens-*.js")  # which lets go of what is held
    expect(page.get_by_role("heading", name="Cataloguing queue")).to_be_visible()


def test_whoever_goes_on_while_the_day_still_comes_is_not_thrown_back(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    """A paired device shows its first screen at once: that all is here at last moves nobody who has gone on."""
    (page,) = open_browser("phone").pages
    page.add_init_script("delete Navigator.prototype.serviceWorker")  # whose requests could not be held back
    page.route("**/plans**", lambda route: held.append(route))
    held: list[Route] = []
    page.goto(office.address)
    page.get_by_label("Code").fill(office.code("table", "Table 1"))
    with page.expect_request("**/plans**"):
        page.get_by_role("button", name="Pair", exact=True).click()
    choose_name(page, "Hester Quillfeather")
    page.get_by_role("button", name="New visit").click()
    page.get_by_label("Name", exact=True).fill("Clementine Ashbody")
    assert held, "the plans are still under way"
    page.unroute("**/plans**")  # which lets go of what is held
    expect(page.get_by_text("All at the desk")).to_be_visible()
    page.get_by_role("button", name="Put an item on the table").click()
    expect(page.get_by_role("heading", name="What is it?")).to_be_visible()


def test_a_new_version_waits_for_a_half_filled_form(
    settings: Settings, clock: Clock, ids: Ids, open_browser: Open, tmp_path: Path
) -> None:
    """The old app goes on, says that a new one is ready, and is replaced when a person says so on Today."""
    web = tmp_path / "web"
    shutil.copytree(settings.web, web)
    with running(replace(settings, web=web), clock, ids) as office:
        manager = office.pair("manager")
        manager.keep(a_day(ids))
        manager.push()
        _, page = phone_at_a_table(open_browser, office)
        page.get_by_label("Short description").fill("mantel clock")
        port = office.port
    build_anew(web, "\n:root { --version: second; }\n")
    with running(replace(settings, web=web), clock, ids, port=port):
        assert page.evaluate(LOOK_FOR_ANOTHER), "the new version has not come"
        expect(page.get_by_text("Finish this first")).to_be_visible()
        expect(page.get_by_label("Short description")).to_have_value("mantel clock")
        item = page.url
        page.goto(f"http://127.0.0.1:{port}/#/today")
        with page.expect_navigation(wait_until="load"):
            page.get_by_role("button", name="Use it now").click()
        page.goto(item)
        expect(page.get_by_label("Short description")).to_have_value("mantel clock")
        version = page.evaluate(
            "() => getComputedStyle(document.documentElement).getPropertyValue('--version').trim()"
        )
        assert version == "second"


def test_a_withdrawn_app_is_forgotten_and_nothing_else(
    settings: Settings, clock: Clock, ids: Ids, open_browser: Open
) -> None:
    """A phone whose kept app is broken gets the office's own again; what was typed is still there."""
    with running(settings, clock, ids) as office:
        manager = office.pair("manager")
        manager.keep(a_day(ids))
        manager.push()
        phone, page = phone_at_a_table(open_browser, office)
        phone.set_offline(True)
        page.get_by_label("Short description").fill("barometer")
        port = office.port
    kept = "() => caches.keys().then((names) => names.filter((name) => name.startsWith('shell ')).length)"
    assert page.evaluate(kept) == 1
    phone.set_offline(False)
    with running(replace(settings, withdraw_app=True), clock, ids, port=port):
        assert page.evaluate(LOOK_FOR_ANOTHER), "the worker that forgets the app has not come"
        assert page.evaluate(LEFT_OF_APP) == []
        page.reload()
        expect(page.get_by_label("Short description")).to_have_value("barometer")
        expect(page.get_by_text("At the desk")).to_be_visible()


def test_a_second_press_in_haste_makes_no_second_visit_or_item(
    office: Office, day: dict[str, Any], open_browser: Open
) -> None:
    twice = "(key) => { key.click(); key.click(); }"
    (page,) = open_browser("phone").pages
    pair(page, office, "table", "Table 1", person="Hester Quillfeather")
    page.get_by_role("button", name="New visit").evaluate(twice)
    page.get_by_label("Name", exact=True).fill("Clementine Ashbody")
    page.get_by_role("button", name="Put an item on the table").evaluate(twice)
    page.get_by_label("Short description").fill("plush elephant on iron wheels")
    go_back(page)
    expect(page.get_by_text("plush elephant on iron wheels")).to_be_visible()
    expect(page.get_by_text("Not named yet")).to_have_count(0)
    go_back(page)
    expect(page.get_by_text(re.compile("came \\d"))).to_have_count(1)
