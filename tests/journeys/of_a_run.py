"""Which journeys a run makes: the browser takes more than half of a run's time, and few changes break but one journey.

Of each file some, other ones with each commit, by the rule of `tests/samples.py`; all with `--whole`, or where a file,
the folder or a word of their names is asked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.samples import sampled

JOURNEYS = Path(__file__).parent


def left_for_another_run(
    items: Sequence[pytest.Item], *, asked: Sequence[str], keyword: str
) -> list[pytest.Item]:
    """Those that this run leaves out, of all that were found. `asked`: paths; `keyword`: what `-k` chooses by."""
    if keyword or any(JOURNEYS.name in path for path in asked):
        return []
    journeys = [item for item in items if item.path.is_relative_to(JOURNEYS)]
    taken = {id(item) for item in sampled(journeys, of=3, kind=lambda item: item.path)}
    return [item for item in journeys if id(item) not in taken]
