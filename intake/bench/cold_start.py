"""(d) Cold start of the app with no network, as on a phone whose processor is four times slower.

Needs a Chromium on this machine and the `playwright` package of the tests; without them it says so and measures
nothing. "First possible keystroke" is when the code field of the first screen takes the focus.
"""

from __future__ import annotations

import json
import re
import statistics
import time
import urllib.request
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from intake.bench import marked
from intake.bench.phone import SLOWDOWN, on_a_phone, slow_down
from intake.bench.screens import measure_screens
from intake.bench.served import Served, free_port, serving

ROUNDS = 7
SETTLE_MS = 1500  # a new window of the browser reads scripts of its own for a second, on both cores
TARGET_S, TARGET_KB = 0.6, 110.0
#: The packs that a device fetches as soon as it is paired, beside the scanner where its browser needs that.
MORE_OF = {
    "a door or a table": ["words"],
    "a porter": ["custody", "words"],
    "a manager": ["custody", "office", "words"],
    "the desk": ["office", "words"],
}
HASHED = re.compile(r"-[A-Z0-9]{8}\.js$")  # as the bundler names what it makes


def measure_cold_start(folder: Path, quick: bool) -> Iterator[str]:
    """First-visit bytes, the time from opening to the first keystroke, and from tap to drawn; one line each."""
    yield from measure_start(folder, quick)
    yield from measure_screens(folder / "day", quick)


def measure_start(folder: Path, quick: bool) -> Iterator[str]:
    port = free_port()
    with serving("intake", "serve", "--data", str(folder), "--port", str(port), port=port) as served:
        size = marked(first_visit_kb(served), TARGET_KB, at_least=False)
        yield f"first visit, compressed, in KB without the scanner: {size}"
        yield f"of it before the first screen works, KB: {first_screen_kb(served):.1f}"
        for role, packs in MORE_OF.items():
            yield f"paired for {role}, KB more: {packs_kb(served, *packs):.1f}"
        yield f"of it, KB: {', '.join(f'{name} {kb:.1f}' for name, kb in sizes_by_screen(served).items())}"
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
                page.wait_for_timeout(SETTLE_MS)
                slow_down(page)
                began = time.perf_counter()
                page.goto(f"{served.origin}/", wait_until="commit")
                page.locator("#code").press("7")
                times.append(time.perf_counter() - began)
        median = marked(statistics.median(times), TARGET_S, at_least=False)
        yield f"first keystroke offline, processor slowed {SLOWDOWN} times, in s: {median}"


def first_visit_kb(served: Served) -> float:
    """All that every device keeps, over the line, in thousands of bytes."""
    return sum(compressed_kb(served, file) for file in listed(served)["files"])


def packs_kb(served: Served, *packs: str) -> float:
    """The files of these packs over the line, what two of them share once, in thousands of bytes."""
    listed_in = listed(served)["packs"]
    return sum(compressed_kb(served, file) for file in {file for pack in packs for file in listed_in[pack]})


def first_screen_kb(served: Served) -> float:
    """The page and what it names, in thousands of bytes; the worker fetches the rest while somebody types."""
    page = fetch(served, "/").decode()
    return sum(compressed_kb(served, file) for file in listed(served)["files"] if file == "/" or file in page)


def sizes_by_screen(served: Served) -> dict[str, float]:
    """Thousands of bytes over the line: what every screen needs, then each screen's own file, the largest first."""
    shell = listed(served)
    files = {*shell["files"], *shell["packs"]["office"], *shell["packs"]["words"]}
    scripts = {file: compressed_kb(served, file) for file in files if file.endswith(".js")}
    page = fetch(served, "/").decode()
    first = sum(size for file, size in scripts.items() if file in page)
    own: dict[str, float] = defaultdict(float)
    for file, size in scripts.items():
        if file not in page and HASHED.search(file):
            own[named(file)] += size
    shared = own.pop("chunk", 0.0)
    largest = sorted(own.items(), key=lambda of: -of[1])
    return {"with the app": first, **dict(largest), "shared by some": shared}


def named(file: str) -> str:
    """A file's name without its hash."""
    return HASHED.sub("", file.rsplit("/", 1)[-1])


def listed(served: Served) -> dict[str, Any]:
    """What the worker keeps: `files` on every device, and the packs that only some need."""
    worker = fetch(served, "/sw.js").decode()
    shell: dict[str, Any] = json.JSONDecoder().raw_decode(worker[worker.index('{"version"') :])[0]
    return shell


def compressed_kb(served: Served, file: str) -> float:
    return len(fetch(served, file, encoding="br")) / 1000


def fetch(served: Served, path: str, *, encoding: str = "identity") -> bytes:
    """What comes over the line for a path, unpacked by nobody."""
    request = urllib.request.Request(served.origin + path, headers={"Accept-Encoding": encoding})
    with urllib.request.urlopen(request) as response:
        body: bytes = response.read()
        return body
