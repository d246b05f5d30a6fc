"""(d) Cold start of the app with no network, as on a phone whose processor is four times slower.

Needs a Chromium on this machine and the `playwright` package of the tests; without them it says so and measures
nothing. "First possible keystroke" is when the code field of the first screen takes the focus.
"""

from __future__ import annotations

import json
import statistics
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

from intake.bench import marked
from intake.bench.phone import SLOWDOWN, on_a_phone, slow_down
from intake.bench.screens import measure_screens
from intake.bench.served import Served, free_port, serving

ROUNDS = 7
TARGET_S, TARGET_KB = 0.6, 110.0


def measure_cold_start(folder: Path, quick: bool) -> Iterator[str]:
    """First-visit bytes, the time from opening to the first keystroke, and from tap to drawn; one line each."""
    yield from measure_start(folder, quick)
    yield from measure_screens(folder / "day", quick)


def measure_start(folder: Path, quick: bool) -> Iterator[str]:
    port = free_port()
    with serving("intake", "serve", "--data", str(folder), "--port", str(port), port=port) as served:
        size = marked(first_visit_kb(served), TARGET_KB, at_least=False)
        yield f"first visit, compressed, in KB without WebAssembly: {size}"
        with on_a_phone() as context:
            if context is None:
                yield "time to the first keystroke: not measured, it needs Chromium and the tests' packages"
                return
            page = context.new_page()
            page.goto(f"{served.origin}/")
            page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
            page.locator("#code").wait_for()
            context.set_offline(True)
            times = []
            for _ in range(3 if quick else ROUNDS):
                page.close()
                page = context.new_page()
                slow_down(page)
                began = time.perf_counter()
                page.goto(f"{served.origin}/", wait_until="commit")
                page.locator("#code").press("7")
                times.append(time.perf_counter() - began)
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
