"""What a run makes of all that takes long, since most changes break none of it.

Other ones with each commit, by the rule of `tests/samples.py`; all with `--whole`, or where a file, its folder or a
word of its names is asked for. Journeys: the browser takes half of a run's time, and few changes break but one of them.
A sixth of them. What gets a whole machine ready, measures an office or builds the app by itself, and what is made once
more with all hidden that only POSIX has: a third of that.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.samples import sampled

JOURNEYS = Path(__file__).parent / "journeys"
#: Each takes as long as a hundred others. A run on a new machine is a fresh clone by itself.
WHOLE_MACHINES = (
    "tests/setup/test_fresh_clone.py::test_the_first_command_goes_on_where_it_was_ended_and_serves_the_invented_day",
    "tests/setup/test_wheel.py::test_the_app_of_a_wheel_is_served_with_no_node_on_the_machine",
    "tests/promises/test_bench.py::test_the_quick_benchmark_prints_its_ratios",
    "tests/promises/test_bench.py::test_a_house_that_grows_is_measured_at_each_size",
    "tests/promises/test_wrong_types.py::test_a_kind_that_changed_in_the_office_does_not_compile_until_the_app_follows",
    "tests/promises/test_wrong_types.py::test_a_wheel_of_a_kind_that_the_app_does_not_follow_is_not_built",
)


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
    whole = [item for item in items if item.nodeid in WHOLE_MACHINES and not is_asked(item, asked)]
    taken = {
        *map(id, sampled(journeys, of=6)),
        *map(id, sampled(whole, of=3)),
    }
    return [item for item in [*journeys, *whole] if id(item) not in taken]


def is_asked(item: pytest.Item, asked: Sequence[str]) -> bool:
    """Whether its file or its folder is asked for, and not the tests as a whole."""
    return any(path not in ("", "tests") and item.nodeid.startswith(path.rstrip("/")) for path in asked)
