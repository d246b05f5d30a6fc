"""(h) The second start of the demo: from the command to the page that a browser gets, everything being installed."""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from intake.bench import marked
from intake.bench.cold_start import fetch
from intake.bench.served import free_port, serving

ROUNDS, TARGET_S = 5, 2.0


def measure_second_start(folder: Path, quick: bool) -> Iterator[str]:
    """Seconds of the first start, which seeds the invented day, and the median of the later ones."""
    first = start_s(folder / "office")
    later = [start_s(folder / "office") for _ in range(2 if quick else ROUNDS)]
    middle = marked(statistics.median(later), TARGET_S, at_least=False)
    yield f"first {first:.2f} s, later {middle}, slowest {max(later):.2f} s ({Path(sys.executable).name} included)"


def start_s(office: Path) -> float:
    port, began = free_port(), time.perf_counter()
    with serving("intake", "demo", "--data", str(office), "--port", str(port), port=port) as served:
        fetch(served, "/", encoding="br")
        return time.perf_counter() - began
