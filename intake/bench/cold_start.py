"""(d) Cold start of the app with no network, as on a phone whose processor is four times slower.

Needs a Chromium on this machine and the `playwright` package of the tests; without them it says so and measures
nothing. "First possible keystroke" is when the code field of the first screen takes the focus.
"""

from __future__ import annotations

import json
import os
import shutil
import statistics
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

from intake.bench import marked
from intake.bench.served import Served, free_port, serving

ROUNDS = 7
SLOWDOWN = 4
PHONE = {"width": 390, "height": 844}
TARGET_S, TARGET_KB = 1.0, 150.0


def measure_cold_start(folder: Path, quick: bool) -> Iterator[str]:
    """First-visit bytes, and the time from opening to the first keystroke; one line each."""
    port = free_port()
    with serving("intake", "serve", "--data", str(folder), "--port", str(port), port=port) as served:
        size = marked(first_visit_kb(served), TARGET_KB, at_least=False)
        yield f"first visit, compressed, in KB without WebAssembly: {size}"
        browser = next(filter(None, map(shutil.which, ("chromium", "google-chrome", "microsoft-edge"))), None)
        browser = os.environ.get("INTAKE_BROWSER") or browser
        try:
            from playwright.sync_api import sync_playwright
        except ImportError:
            browser = None
        if browser is None:
            yield "time to the first keystroke: not measured, it needs Chromium and the tests' packages"
            return
        with sync_playwright() as playwright:
            opened = playwright.chromium.launch(executable_path=shutil.which(browser), args=["--no-sandbox"])
            context = opened.new_context(viewport=PHONE)  # type: ignore[arg-type]
            page = context.new_page()
            page.goto(f"{served.origin}/")
            page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
            page.locator("#code").wait_for()
            context.set_offline(True)
            times = []
            for _ in range(3 if quick else ROUNDS):
                page.close()
                page = context.new_page()
                slow = context.new_cdp_session(page)
                slow.send("Emulation.setCPUThrottlingRate", {"rate": SLOWDOWN})
                began = time.perf_counter()
                page.goto(f"{served.origin}/", wait_until="commit")
                page.locator("#code").press("7")
                times.append(time.perf_counter() - began)
            opened.close()
        median = marked(statistics.median(times), TARGET_S, at_least=False)
        yield f"first keystroke offline, processor slowed {SLOWDOWN} times, in s: {median}"


def first_visit_kb(served: Served) -> float:
    """What the worker's list comes to over the line, in thousands of bytes."""
    worker = fetch(served, "/sw.js").decode()
    listed = worker[worker.index('{"version"') :]
    files: list[str] = json.JSONDecoder().raw_decode(listed)[0]["files"]
    sizes = [len(fetch(served, file, encoding="br")) for file in files if not file.endswith(".wasm")]
    return sum(sizes) / 1000


def fetch(served: Served, path: str, *, encoding: str = "identity") -> bytes:
    """What comes over the line for a path, unpacked by nobody."""
    request = urllib.request.Request(served.origin + path, headers={"Accept-Encoding": encoding})
    with urllib.request.urlopen(request) as response:
        body: bytes = response.read()
        return body
