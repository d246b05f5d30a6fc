"""Many cases of one kind: a part of them in each run, which follows the commit, and all of them with `--whole`.

What looks at one thing always runs. Of cases that are alike (simulated days, every class with every light, records by
chance) a run takes one of every few of each kind, beginning at another one for each seed: with `INTAKE_SEED=0`, `1`,
`2` ... all have come round. The seed is that of the commit, so that whoever runs it again tries the same; `tests/web/
samples.js` takes the same ones of the app's cases.
"""

from __future__ import annotations

import os
import random
import subprocess
from collections.abc import Callable, Iterable
from typing import Any, TypeVar

from intake.setup.lock import ROOT

T = TypeVar("T")
SEED, WHOLE = "INTAKE_SEED", "INTAKE_WHOLE"


def seed_of_commit() -> str:
    """The same for all who run this commit; by chance where there is none."""
    asked = ["git", "rev-parse", "HEAD"]
    try:
        commit = subprocess.run(asked, cwd=ROOT, capture_output=True, text=True, check=True).stdout
        return str(int(commit[:8], 16) % 10**6)
    except (OSError, subprocess.CalledProcessError, ValueError):
        return str(random.SystemRandom().randrange(10**6))


def begin() -> str:
    """Choose the seed for this process and those that it starts, if nobody has; what to print of it."""
    seed = os.environ.setdefault(SEED, seed_of_commit())
    again = f"repeat with {SEED}={seed}"
    if is_whole():
        return f"seed {seed}, and all of what is tried by many like cases: {again}"
    return f"seed {seed}, which chooses among many like cases: {again}, all of them with --whole or {WHOLE}=1"


def is_whole() -> bool:
    """Nobody chose a seed where a file is read by something other than a run of the tests: then nothing is left out."""
    return os.environ.get(WHOLE, "") not in ("", "0") or SEED not in os.environ


def sampled(cases: Iterable[T], *, of: int, kind: Callable[[T], Any] = lambda case: None) -> list[T]:
    """One of every `of` of each kind, and of each kind at least one; in their order."""
    numbered = list(enumerate(cases))
    if is_whole():
        return [case for _, case in numbered]
    kinds: dict[Any, list[int]] = {}
    for number, case in numbered:
        kinds.setdefault(kind(case), []).append(number)
    begins = int(os.environ[SEED])
    taken = {
        number
        for at, numbers in enumerate(kinds.values())
        for place, number in enumerate(numbers)
        if (place - begins - at) % min(of, len(numbers)) == 0
    }
    return [case for number, case in numbered if number in taken]


def runs(usual: int, *, of: int, asked_in: str = "INTAKE_RUNS") -> int:
    """How many lives by chance: as many as the environment asks for, else one of every `of` of the usual."""
    asked = os.environ.get(asked_in)
    return int(asked) if asked else usual if is_whole() else -(-usual // of)


def seeds(usual: int, *, of: int) -> list[int]:
    """Seeds from nought on, tried before: as many as INTAKE_RUNS asks for, else a sample of the usual."""
    asked = os.environ.get("INTAKE_RUNS")
    return list(range(int(asked))) if asked else sampled(range(usual), of=of)
