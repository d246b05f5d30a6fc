"""A sample holds each kind, follows its seed, and is the same in the office's tests and in the app's."""

from __future__ import annotations

import json
import os
import subprocess
from pathlib import Path
from typing import Any

import pytest

from tests import samples
from tests.checks import checks_node
from tests.of_a_run import JOURNEYS, MANY_CASES, PROMISES, TAKE_LONG, left_for_another_run
from tests.samples import runs, sampled, seeds

ROOT = Path(__file__).parents[2]
CASES = [
    (kind, number) for number in range(17) for kind in "abcd" if number < ord(kind) - ord("a") or kind == "d"
]
SAMPLES = ROOT / "tests" / "web" / "samples.js"
ASKED = """const [file, asked, cases] = process.argv.slice(1);
const taken = [];
for (const [seed, whole] of JSON.parse(asked)) {
    Object.assign(process.env, { INTAKE_SEED: seed, INTAKE_WHOLE: whole });
    const { sampled } = await import(`${file}?${seed}-${whole}`);
    taken.push(sampled(JSON.parse(cases), 3, ([kind]) => kind));
}
console.log(JSON.stringify(taken));"""


def chosen(monkeypatch: pytest.MonkeyPatch, seed: int) -> list[tuple[str, int]]:
    monkeypatch.setenv(samples.SEED, str(seed))
    monkeypatch.delenv(samples.WHOLE, raising=False)
    return sampled(CASES, of=3, kind=lambda case: case[0])


@pytest.mark.parametrize("first", [0, 7, 999_998])
def test_each_kind_is_in_each_sample_and_every_case_comes_round(
    monkeypatch: pytest.MonkeyPatch, first: int
) -> None:
    taken = [chosen(monkeypatch, seed) for seed in range(first, first + 3)]
    for cases in taken:
        assert {kind for kind, _ in cases} == set("bcd")
        assert len(cases) <= 8, "a third of seventeen, and one of each of the two small kinds"
        assert cases == [case for case in CASES if case in cases], "in their order"
    assert {case for cases in taken for case in cases} == set(CASES)


def test_all_of_it_is_tried_when_it_is_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("INTAKE_RUNS", raising=False)
    assert len(chosen(monkeypatch, 5)) < len(CASES)
    assert (runs(40, of=3), seeds(6, of=3)) == (14, [2, 5])
    monkeypatch.setenv("INTAKE_RUNS", "100")
    assert (runs(40, of=3), seeds(6, of=3)) == (100, list(range(100)))
    monkeypatch.delenv("INTAKE_RUNS")
    monkeypatch.setenv(samples.WHOLE, "1")
    assert sampled(CASES, of=3) == CASES
    assert (runs(40, of=3), seeds(6, of=3)) == (40, list(range(6)))


def test_the_seed_is_the_commit_s_and_is_told_with_how_to_repeat_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(samples.WHOLE, raising=False)
    monkeypatch.setenv(samples.SEED, "44")
    assert "INTAKE_SEED=44" in samples.begin()
    assert "--whole" in samples.begin()
    monkeypatch.delenv(samples.SEED)
    told = samples.begin()
    assert f"INTAKE_SEED={os.environ[samples.SEED]}" in told
    if (ROOT / ".git").exists():
        assert os.environ[samples.SEED] == samples.seed_of_commit()


def test_the_app_s_tests_take_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = [(str(seed), whole) for seed in (0, 1, 2, 123_456) for whole in ("", "1")]
    command = [str(checks_node().program), "--input-type=module", "--eval", ASKED]
    command += [SAMPLES.as_uri(), json.dumps(asked), json.dumps(CASES)]
    told = subprocess.run(command, capture_output=True, check=True).stdout
    theirs = [[tuple(case) for case in cases] for cases in json.loads(told)]
    assert theirs == [CASES if whole else chosen(monkeypatch, int(seed)) for seed, whole in asked]


class Found:
    """A test as pytest found it."""

    def __init__(self, path: Path, name: str = "test_x") -> None:
        self.path = path
        self.nodeid = f"{path.relative_to(ROOT).as_posix()}::{name}"


def test_of_the_journeys_a_twelfth_is_made_and_all_of_what_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    one, two, other = JOURNEYS / "test_one.py", JOURNEYS / "test_two.py", JOURNEYS.parent / "test_other.py"
    found: list[Any] = [*(Found(one) for _ in range(14)), Found(two), *(Found(other) for _ in range(5))]
    monkeypatch.delenv(samples.WHOLE, raising=False)
    made = set()
    for seed in range(12):
        monkeypatch.setenv(samples.SEED, str(seed))
        left = left_for_another_run(found, asked=["tests"], keyword="")
        kept = [item for item in found if item not in left]
        assert sum(item.path == other for item in kept) == 5
        assert sum(item.path in (one, two) for item in kept) in (1, 2)
        made |= {id(item) for item in kept}
        assert left_for_another_run(found, asked=["tests/journeys/test_one.py::x"], keyword="") == []
        assert left_for_another_run(found, asked=["tests"], keyword="receipt") == []
    assert made == {id(item) for item in found}, "after twelve commits each has been made"
    monkeypatch.setenv(samples.WHOLE, "1")
    assert left_for_another_run(found, asked=["tests"], keyword="") == []


def test_of_what_is_made_once_more_without_posix_a_third_of_each_file_is(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    one, two = JOURNEYS.parent / "test_one.py", JOURNEYS.parent / "test_two.py"
    found: list[Any] = [*(Found(one, f"test_{number}") for number in range(6)), Found(two)]
    monkeypatch.delenv(samples.WHOLE, raising=False)
    made = set()
    for seed in range(3):
        monkeypatch.setenv(samples.SEED, str(seed))
        left = left_for_another_run(found, asked=["tests/test_one.py"], keyword="", once_more=True)
        kept = [item for item in found if item not in left]
        assert [sum(item.path == path for item in kept) for path in (one, two)] == [2, 1]
        made |= {id(item) for item in kept}
    assert made == {id(item) for item in found}
    monkeypatch.setenv(samples.WHOLE, "1")
    assert left_for_another_run(found, asked=["tests"], keyword="", once_more=True) == []


def test_of_what_takes_long_a_sixth_is_made_and_each_is_there(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    found: list[Any] = [Found(ROOT / path, name) for path, name in (one.split("::") for one in TAKE_LONG)]
    for one in found:
        assert f"def {one.nodeid.split('::')[1]}(" in one.path.read_text("utf-8"), (
            "it has another name by now"
        )
    monkeypatch.delenv(samples.WHOLE, raising=False)
    made = set()
    for seed in range(6):
        monkeypatch.setenv(samples.SEED, str(seed))
        left = left_for_another_run(found, asked=["tests"], keyword="")
        assert len(left) == 10
        made |= {one.nodeid for one in found if one not in left}
        named = left_for_another_run(found, asked=["tests/promises/test_bench.py"], keyword="")
        assert not any("test_bench" in one.nodeid for one in named)
        assert left_for_another_run(found, asked=["tests"], keyword="wheel") == []
    assert made == set(TAKE_LONG), "after six commits each has been made"


def test_of_a_test_with_many_cases_a_third_is_made_and_every_promise(monkeypatch: pytest.MonkeyPatch) -> None:
    path = JOURNEYS.parent / "test_one.py"
    many: list[Any] = [Found(path, f"test_many[{number}]") for number in range(MANY_CASES)]
    few: list[Any] = [Found(path, f"test_few[{number}]") for number in range(MANY_CASES - 1)]
    every: list[Any] = [Found(PROMISES / "test_files.py", f"test_each[{number}]") for number in range(50)]
    found = [*many, *few, Found(path, "test_one_thing"), *every]
    monkeypatch.delenv(samples.WHOLE, raising=False)
    made = set()
    for seed in range(3):
        monkeypatch.setenv(samples.SEED, str(seed))
        left = left_for_another_run(found, asked=["tests"], keyword="")
        kept = {id(item) for item in many if item not in left}
        assert len(kept) in (3, 4)
        assert {id(item) for item in left} == {id(item) for item in many} - kept
        made |= kept
        assert left_for_another_run(found, asked=["tests/test_one.py"], keyword="") == []
    assert made == {id(item) for item in many}, "after three commits each has been made"
    monkeypatch.setenv(samples.WHOLE, "1")
    assert left_for_another_run(found, asked=["tests"], keyword="") == []
