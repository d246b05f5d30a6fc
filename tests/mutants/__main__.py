"""`python -m tests mutants [-- OPTION ... [PATH ...]]`: does a test notice a small change?

A sample that a printed seed chooses, for ten minutes; each module comes round before any comes again. With `--all`,
every place in every module; with `--each N`, so many of each. The places that no test notices are listed: each is a
test that is missing, or a change that means nothing, which `means_nothing.py` then says.
"""

from __future__ import annotations

import argparse
import random
import signal
import sys
import tempfile
import threading
import time
from collections import defaultdict
from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field
from itertools import chain, islice, zip_longest
from pathlib import Path

from intake.setup.bootstrap import ROOT
from tests.built import build_if_changed
from tests.mutants import in_python, in_typescript
from tests.mutants.change import Change
from tests.mutants.means_nothing import means_nothing
from tests.mutants.workshop import FailsAsItIs, Workshop

SIDE_BY_SIDE = 2
#: No test of this kind can say that they are right: how fast it is, what stands on a screen, a machine's own set-up.
NOT_TRIED = ("intake/bench/", "intake/setup/", "intake/demo/", "intake/app_types.py", "intake/__main__.py")
#: Written from the office's modules, and compared with them by `tests/promises/test_app_types.py`.
MADE = tuple(
    f"web/job/{name}.ts"
    for name in (
        "currencies",
        "day_times",
        "described_by",
        "field_words",
        "kinds",
        "operations",
        "receipt_counted",
        "receipt_failed",
        "receipt_lists",
    )
)


def modules(named: Sequence[str]) -> list[str]:
    """The files that are changed; those below the named paths, if any are named."""
    found = [file for file in ROOT.glob("intake/**/*.py") if file.name != "__init__.py"]
    found += [file for part in ("job", "local", "sync") for file in ROOT.glob(f"web/{part}/**/*.ts")]
    paths = sorted(file.relative_to(ROOT).as_posix() for file in found)
    return [
        path
        for path in paths
        if path not in MADE
        and not path.startswith(NOT_TRIED)
        and (not named or any(path.startswith(name) for name in named))
    ]


def sampled(paths: Sequence[str], seed: int, each: int | None) -> Iterator[Change]:
    """One change of each module, then another of each, in an order by chance; `each` ends it after so many of each."""
    paths = random.Random(seed).sample(paths, len(paths))

    def of(path: str) -> Iterator[Change]:
        return islice(with_a_meaning(path, (ROOT / path).read_text("utf-8"), seed), each)

    rounds = zip_longest(*(of(path) for path in paths))
    return (change for change in chain.from_iterable(rounds) if change is not None)


def with_a_meaning(path: str, source: str, seed: int) -> Iterator[Change]:
    """The changes of one module, in an order by chance, without those that mean nothing."""
    chance = random.Random(f"{seed} {path}")
    changes = (in_python if path.endswith(".py") else in_typescript).changes(path, source, chance)
    return (change for change in changes if not means_nothing(path, *change.lines(source)))


@dataclass
class Report:
    """What was tried, by module; `survived` are the changes that nothing noticed, `left_out` which tests of a module
    fail as things are."""

    tried: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    survived: dict[str, list[str]] = field(default_factory=lambda: defaultdict(list))
    left_out: dict[str, str] = field(default_factory=dict)

    def add(self, change: Change, *, noticed: bool) -> None:
        self.tried[change.path] += 1
        if not noticed:
            shown = change.shown((ROOT / change.path).read_text("utf-8"))
            self.survived[change.path].append(shown)
            print(f"\n{shown}", flush=True)

    def lines(self) -> Iterator[str]:
        for path in sorted(self.tried):
            noticed = self.tried[path] - len(self.survived[path])
            yield f"{100 * noticed // self.tried[path]:4} %  {noticed} of {self.tried[path]}  {path}"
        yield ""
        yield from (f"  {one}" for path in sorted(self.survived) for one in self.survived[path])
        for path, failing in sorted(self.left_out.items()):
            yield f"\n  left out, since its tests fail as things are: {path}\n{failing}"
        total, lost = sum(self.tried.values()), sum(map(len, self.survived.values()))
        yield f"\n{total - lost} of {total} changes were noticed, {100 * (total - lost) // max(1, total)} per cent."


@dataclass
class Trial:
    """Changes that are tried one after another, each in a free workshop, until `until` by the monotonic clock."""

    changes: Iterator[Change]
    until: float
    report: Report = field(default_factory=Report)
    failures: list[BaseException] = field(default_factory=list)
    turn: threading.Lock = field(default_factory=threading.Lock)

    def work(self, shop: Workshop) -> None:
        """In a thread: what goes wrong here is told in the end."""
        try:
            while time.monotonic() < self.until and (change := self._next()) is not None:
                self._try_one(shop, change)
        except BaseException as error:
            self.failures.append(error)

    def _try_one(self, shop: Workshop, change: Change) -> None:
        """A module whose tests fail as things are is left out, and the others go on."""
        try:
            noticed = shop.notices(change)
        except FailsAsItIs as error:
            with self.turn:
                if self.until:
                    self.report.left_out[change.path] = str(error)
            return
        with self.turn:
            if self.until:  # else nobody waits for it, and its tests were ended
                self.report.add(change, noticed=noticed)
                print("." if noticed else "S", end="", flush=True)

    def _next(self) -> Change | None:
        with self.turn:
            return next(self.changes, None)


def main(words: Sequence[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests mutants --")
    parser.add_argument("node", help=argparse.SUPPRESS)
    parser.add_argument("paths", nargs="*", metavar="PATH", help="only what lies below these")
    parser.add_argument(
        "--each", type=int, metavar="N", help="N changes of each module, however long it takes"
    )
    parser.add_argument("--one", action="store_true", help="one at a time in place of two, beside other work")
    parser.add_argument("--all", action="store_true", help="every place, however long it takes")
    parser.add_argument("--minutes", type=float, default=10, help="how long to go on (10)")
    parser.add_argument("--seed", type=int, default=random.SystemRandom().randrange(10**6))
    asked = parser.parse_intermixed_args(words)
    paths = modules(asked.paths)
    if not paths:
        parser.error(
            f"No module lies below {', '.join(asked.paths)}; name one such as intake/sync or web/job/tag.ts."
        )
    print(
        f"seed {asked.seed}: repeat with -- --seed {asked.seed}; S is a change that no test notices",
        flush=True,
    )
    seconds = float("inf") if asked.all or asked.each else 60 * asked.minutes
    changes = sampled(paths, asked.seed, asked.each)
    return try_all(changes, asked.node, seconds, side_by_side=1 if asked.one else SIDE_BY_SIDE)


def try_all(changes: Iterator[Change], node: str, seconds: float, side_by_side: int) -> int:
    """0 if all went as it should, whatever was noticed: what survives is for people to read."""
    build_if_changed()  # the copies have it with them
    trial = Trial(changes, time.monotonic() + seconds)
    with tempfile.TemporaryDirectory() as folder, ExitStack() as ending:
        shops = [Workshop.opened(Path(folder) / str(number), node) for number in range(side_by_side)]
        threads = [threading.Thread(target=trial.work, args=[shop]) for shop in shops]
        for shop, thread in zip(shops, threads, strict=True):
            thread.start()
            ending.callback(thread.join)
            ending.callback(shop.close)
        try:
            for thread in threads:
                thread.join()
        except KeyboardInterrupt:
            trial.until = 0
            print("\nstopped", end="")
    print("\n" + "\n".join(trial.report.lines()))
    for failure in trial.failures:
        print(failure, file=sys.stderr)
    return 1 if trial.failures or trial.report.left_out else 0


if __name__ == "__main__":
    signal.signal(signal.SIGINT, signal.default_int_handler)  # the checks had it end without a word
    sys.exit(main(sys.argv[1:]))
