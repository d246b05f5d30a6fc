"""(j) The door with no line before it: the processor's time for an item's operations and for a page of the feed.

Another version's checkout may be measured beside this one: the two take turns, so that whatever else the machine does
falls on both, and the medians of all turns are compared.
"""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

import intake
from intake.bench import door_turns, marked
from intake.errors import CommandError

TURNS, TIMES = 15, 20  # turns of each version, and how often one asks for each thing in a turn
ITEMS = 300  # on the page that is read, beside their day and visit
Turn = dict[str, float]  # milliseconds, by what was asked


def measure_door(folder: Path, quick: bool, beside: Path | None = None) -> Iterator[str]:
    """A row for each thing that is asked for. Raises CommandError if the other version is not there."""
    checkouts = [Path(intake.__file__).parent.parent, *([beside.absolute()] if beside else [])]
    if not (checkouts[-1] / "intake" / "bench" / "pile.py").exists():
        raise CommandError(
            f"{beside} is no checkout of the office.", hint="Name the folder in which `intake` lies."
        )
    turns: list[list[Turn]] = [[] for _ in checkouts]
    with ExitStack() as stack:
        versions = [
            stack.enter_context(behind_door(checkout, folder / str(number)))
            for number, checkout in enumerate(checkouts)
        ]
        for number in range(3 if quick else TURNS):
            order = list(zip(versions, turns, strict=True))
            for version, taken in order if number % 2 == 0 else reversed(order):
                taken.append(version.turn())
    asked = {
        "batch": "an item's 23 operations answered",
        "upload": "the same as a request, with its commit",
        "first": f"a page of the feed of {ITEMS + 2} records, to the first who asks",
        "page": f"a page of the feed of {ITEMS + 2} records",
    }
    for name, words in asked.items():
        ours, *theirs = (statistics.median(turn[name] for turn in taken) for taken in turns)
        there = [f"there {ms:.2f}: {marked(ours / ms, 1.1, at_least=False)}" for ms in theirs]
        mean, *means = (statistics.fmean(turn[f"mean {name}"] for turn in taken) for taken in turns)
        there += [f"the means {mean:.2f} and {ms:.2f}: {mean / ms:.2f}" for ms in means]
        yield ", ".join([f"{words}: {ours:.2f} ms", *there])


@contextmanager
def behind_door(checkout: Path, folder: Path) -> Iterator[Version]:
    """The version in this checkout, in a process of its own until the block ends. Raises RuntimeError if it cannot be
    measured."""
    folder.mkdir()
    with subprocess.Popen(
        [sys.executable, "-P", door_turns.__file__, str(folder), str(TIMES), str(ITEMS)],
        env={**os.environ, "PYTHONPATH": str(checkout)},
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        version = Version(process)
        version.line()  # it is ready
        yield version
        process.communicate()


class Version:
    """A version of the office that does a turn when it is asked."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self._process = process

    def turn(self) -> Turn:
        assert self._process.stdin is not None
        self._process.stdin.write("\n")
        self._process.stdin.flush()
        turn: Turn = json.loads(self.line())
        return turn

    def line(self) -> str:
        """What it says next. Raises RuntimeError if it has ended."""
        assert self._process.stdout is not None
        line = self._process.stdout.readline()
        if not line:
            raise RuntimeError("A version at the door ended before its turn; what it printed says why.")
        return line
