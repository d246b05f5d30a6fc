"""One item from a phone with no network to the office, in WebKit and in Firefox.

What an engine lacks here (a camera, codes that it reads by itself, storage that is promised to stay) is shown in words.
"""

from __future__ import annotations

import glob
import hashlib
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from intake.tagging.tags import codes, shown
from tests.builders import digest, picture
from tests.conftest import Office
from tests.journeys.engines.engine import Engine, line_to, see, until
from tests.journeys.engines.gecko import Gecko
from tests.journeys.engines.webkit import BROWSERS, Screen, WebKit
from tests.phone import Phone

KEPT = """(async () => {
    await navigator.serviceWorker.ready;
    const lacks = async () => !navigator.serviceWorker.controller || !(await caches.match("/packs/words"));
    while (await lacks()) await new Promise((after) => setTimeout(after, 20));
    return true;
})()"""

OpenEngine = Callable[[str], Engine]


@pytest.fixture
def open_engine(tmp_path: Path) -> Iterator[OpenEngine]:
    """An engine by its name, if this machine has it."""
    closers: list[Callable[[], None]] = []

    def start(name: str) -> Engine:
        engine: Engine
        if name == "Firefox":
            program = shutil.which("firefox-esr") or shutil.which("firefox")
            if program is None:
                pytest.skip("there is no Firefox here: `apt-get install firefox-esr`")
            engine = Gecko(program, tmp_path / "firefox")
        else:
            programs = glob.glob(BROWSERS)
            if not programs or not shutil.which("WebKitWebDriver") or not shutil.which("Xvfb"):
                pytest.skip("there is no WebKit to drive: `apt-get install webkit2gtk-driver xvfb`")
            screen = Screen()
            closers.append(screen.close)
            engine = WebKit(programs[0], screen)
        closers.append(engine.close)
        return engine

    yield start
    for close in reversed(closers):
        close()


def choose(engine: Engine, label: str, option: str) -> None:
    """A list's option, as a person's choice reaches the page: its value and the event of a change."""
    script = """
        const label = [...document.querySelectorAll("label")].find((one) => one.textContent.includes(args[0]));
        const option = [...(label?.control.options ?? [])].find((one) => one.text.includes(args[1]));
        if (!option) return false;
        label.control.value = option.value;
        for (const kind of ["input", "change"]) label.control.dispatchEvent(new Event(kind, { bubbles: true }));
        return true;"""
    until(engine, f"(async () => {{ {script} }})()", label, option, what=f"{option} in {label}")


#: What an engine offers: the names of what it lacks, by what the check page asks of it.
LACKS = """
    const codes = await globalThis.BarcodeDetector?.getSupportedFormats();
    const devices = (await navigator.mediaDevices?.enumerateDevices()) ?? [];
    return {
        codes: !codes?.includes("qr_code"),
        camera: !devices.some(({ kind }) => kind === "videoinput"),
        kept: (await navigator.storage?.persisted?.()) !== true,
    };"""
#: The words for it, as a person reads them.
SHOWN_LACK = {
    "codes": "This browser reads no codes from the camera: a reader that is kept with the app does",
    "camera": "No camera was found",
    "kept": "the browser may clear what it holds|does not say whether it keeps what it holds",
}


def says_what_the_engine_lacks(engine: Engine, address: str) -> None:
    """Neither engine here reads codes, has a camera or has promised to keep anything."""
    assert engine.run(LACKS) == dict.fromkeys(SHOWN_LACK, True), engine.name
    engine.go(f"{address}/#/check")
    for words in SHOWN_LACK.values():
        see(engine, words)
    see(engine, "The app is kept on it and opens with no network")


@pytest.mark.parametrize("name", ["WebKit", "Firefox"])
def test_one_item_with_no_network_and_a_restart(
    office: Office, manager: Phone, day: dict[str, Any], open_engine: OpenEngine, name: str, tmp_path: Path
) -> None:
    tag = next(codes(5000))
    photo = tmp_path / "front.jpg"
    photo.write_bytes(picture(7, size=(1600, 1200)))

    with line_to(office.port) as line:
        engine = open_engine(name)
        engine.go(line.address)
        engine.type("Code", office.code("table", "Table 1"))
        engine.press("^Pair$")
        see(engine, "Who is at this device")
        until(engine, KEPT, what="the app kept on the device")
        see(engine, "All at the desk")  # day and plans have arrived, too
        line.cut()

        choose(engine, "Who is at this device", "Hester Quillfeather")
        see(engine, "Go on as Hester Quillfeather")
        engine.press("New visit")
        engine.type("^Name", "Clementine Ashbody")
        engine.press("Put an item on the table")
        engine.press("Soft toys")
        engine.type("Short description", "plush elephant on iron wheels")
        item = str(engine.run("return location.href;"))
        engine.press("Photos", within="[aria-label='This item']")
        engine.choose_file("Files", photo)
        until(engine, "document.querySelectorAll('.photo-rows img.thumb').length === 1", what="the photo")
        engine.press("Back to the item")
        engine.press("Tag", within="[aria-label='This item']")
        engine.type("Key in the tag's number", shown(tag))
        engine.press(f"Tie {shown(tag)} to this item")
        see(engine, f"{shown(tag)} is tied")

        engine.restart()
        engine.go(item)
        see(engine, r"On this device: \d+")
        until(
            engine,
            "[...document.querySelectorAll('input, textarea')].some((one) => one.value === args[0])",
            "plush elephant on iron wheels",
            what="the words typed before",
        )

        line.mend()
        see(engine, "All at the desk")

        says_what_the_engine_lacks(engine, line.address)

    entries = manager.client.get("/queue").json()["entries"]
    assert [entry["short_description"] for entry in entries] == ["plush elephant on iron wheels"]
    kept = manager.client.get(f"/photos/{digest(photo.read_bytes())}")
    assert hashlib.sha256(kept.content).hexdigest() == digest(photo.read_bytes())
    assert office.faults() == []
