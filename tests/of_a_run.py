"""What a run makes of all that takes long, or is many like cases, since most changes break none of it.

Other ones with each commit, by the rule of `tests/samples.py`; all with `--whole`, or where a file, its folder or a
word of its names is asked for. Journeys: the browser takes half of a whole run's time, and few changes break but one
of them: a twelfth. A sixth of what gets a whole machine ready, measures an office or builds the app by itself. A third
of a test's cases where it has ten and more, but for promises, and of what is made once more with all hidden that only
POSIX has.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.samples import sampled

JOURNEYS = Path(__file__).parent / "journeys"
#: Each takes as long as a hundred others. A run on a new machine is a fresh clone by itself.
TAKE_LONG = (
    "tests/setup/test_fresh_clone.py::test_the_first_command_goes_on_where_it_was_ended_and_serves_the_invented_day",
    "tests/setup/test_wheel.py::test_the_app_of_a_wheel_is_served_with_no_node_on_the_machine",
    "tests/setup/test_wheel.py::test_a_wheel_has_the_app_and_none_of_its_sources",
    "tests/promises/test_bench.py::test_the_quick_benchmark_prints_its_ratios",
    "tests/promises/test_bench.py::test_a_house_that_grows_is_measured_at_each_size",
    "tests/promises/test_bench.py::test_two_versions_take_turns_at_the_door",
    "tests/promises/test_wrong_types.py::test_a_kind_that_changed_in_the_office_does_not_compile_until_the_app_follows",
    "tests/promises/test_wrong_types.py::test_a_wheel_of_a_kind_that_the_app_does_not_follow_is_not_built",
    "tests/promises/test_wrong_types.py::test_an_app_with_wrong_types_is_built_into_no_wheel",
    "tests/promises/test_wrong_types.py::test_what_lacks_a_handler_or_has_a_wrong_property_does_not_compile",
    "tests/promises/test_fuzz.py::test_nothing_makes_the_office_break",
    "tests/setup/test_left_out.py::test_a_journey_in_a_browser_that_is_not_here_is_told_of_at_the_end",
)
MANY_CASES = 10
#: What holds for every file of the project is asked of each file in each run.
PROMISES = Path(__file__).parent / "promises"


def left_for_another_run(
    items: Sequence[pytest.Item], *, asked: Sequence[str], keyword: str, once_more: bool = False
) -> list[pytest.Item]:
    """Those that this run leaves out, of all that were found. `asked`: paths; `keyword`: what `-k` chooses by;
    `once_more`: they are made as on another system, after they were made as on this one."""
    if keyword:
        return []
    if once_more:
        made = {*map(id, sampled(items, of=3, kind=lambda item: item.path))}
        return [item for item in items if id(item) not in made]
    journeys = [item for item in items if item.path.is_relative_to(JOURNEYS)]
    if any(JOURNEYS.name in path for path in asked):
        journeys = []
    long = [item for item in items if item.nodeid in TAKE_LONG and not is_asked(item, asked)]
    cases = [
        case
        for like in like_cases(items).values()
        if len(like) >= MANY_CASES
        for case in like
        if not is_asked(case, asked)
    ]
    taken = {
        *map(id, sampled(journeys, of=12)),
        *map(id, sampled(long, of=6)),
        *map(id, sampled(cases, of=3, kind=name_of)),
    }
    return [item for item in [*journeys, *long, *cases] if id(item) not in taken]


def like_cases(items: Sequence[pytest.Item]) -> dict[str, list[pytest.Item]]:
    """The cases of each test that is made with many values, by the test; journeys are none of them, nor promises."""
    tests: dict[str, list[pytest.Item]] = {}
    for item in items:
        if "[" in item.nodeid and not any(item.path.is_relative_to(path) for path in (JOURNEYS, PROMISES)):
            tests.setdefault(name_of(item), []).append(item)
    return tests


def name_of(case: pytest.Item) -> str:
    return case.nodeid.partition("[")[0]


def is_asked(item: pytest.Item, asked: Sequence[str]) -> bool:
    """Whether its file or its folder is asked for, and not the tests as a whole."""
    return any(path not in ("", "tests") and item.nodeid.startswith(path.rstrip("/")) for path in asked)
