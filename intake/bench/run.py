"""`intake bench`: run the parts that were asked for and print what was measured, also where it falls short."""

from __future__ import annotations

import os
import platform
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

from intake.bench.cold_start import measure_cold_start
from intake.bench.copies import measure_copies
from intake.bench.door import measure_door
from intake.bench.growth import measure_growth
from intake.bench.labels import measure_labels
from intake.bench.pull import measure_pull
from intake.bench.scans import measure_scans
from intake.bench.search import measure_search
from intake.bench.second_start import measure_second_start
from intake.bench.upload import measure_upload
from intake.system import load_average

PARTS: dict[str, tuple[str, Callable[[Path, bool], Iterator[str]]]] = {
    "a": ("devices returning from the hall", measure_upload),
    "b": ("pulling the feed", measure_pull),
    "c": ("searching the queue", measure_search),
    "d": ("cold start of the app with no network, processor slowed 4 times", measure_cold_start),
    "e": ("labels of a roll as a PDF", measure_labels),
    "f": ("a porter's scans", measure_scans),
    "g": ("a house that grows", measure_growth),
    "h": ("second start of an office, to the first served page", measure_second_start),
    "i": ("copies, and an office made from one", measure_copies),
    "j": ("the door with no line before it, the processor's time alone", measure_door),
}


def run(*, quick: bool, only: str, beside: Path | None = None) -> int:
    """Print each part's table. Always 0: a slow machine is no fault of the program.

    `beside` is another version's checkout, which the door is measured with in turn.
    """
    print(
        f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}, "
        f"SQLite {sqlite3.sqlite_version}; {load_average():.1f} programs at work (above 0.5: distrust wall times)"
    )
    for letter, (title, measure) in PARTS.items():
        if only and letter not in only:
            continue
        if letter == "j":
            measure = partial(measure_door, beside=beside)
        print(f"\n({letter}) {title}", flush=True)
        with tempfile.TemporaryDirectory(prefix="intake-bench-") as folder:
            for line in measure(Path(folder), quick):
                print(f"    {line}", flush=True)
    return 0
