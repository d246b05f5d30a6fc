"""Which test reaches which function: a pytest plugin, `-p tests.mutants.reached`, that writes it down.

`INTAKE_REACHED` names the file that it writes, as `workshop.Reached` reads it: `seconds` of each test, those that
`failed`, and `lines`: of each test, by module, the first lines of the functions that were called, decorators with them.
"""

from __future__ import annotations

import json
import os
import sys
import threading
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from types import CodeType, FrameType

import pytest

HERE = str(Path.cwd() / "intake") + os.sep

called: set[CodeType] = set()
seconds: dict[str, float] = defaultdict(float)
failed: list[str] = []
reached: dict[str, dict[str, list[int]]] = {}


def note(frame: FrameType, event: str, argument: object) -> None:
    """Asked at each call; that it returns nothing keeps the lines of the call from being traced."""
    called.add(frame.f_code)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    called.clear()
    threading.settrace(note)
    sys.settrace(note)
    try:
        return (yield)
    finally:
        sys.settrace(None)
        threading.settrace(None)
        lines: dict[str, set[int]] = defaultdict(set)
        for code in called.copy():
            if code.co_filename.startswith(HERE):
                lines[code.co_filename].add(code.co_firstlineno)
        reached[item.nodeid] = {
            Path(file).relative_to(Path.cwd()).as_posix(): sorted(found) for file, found in lines.items()
        }


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    seconds[report.nodeid] += report.duration
    if report.failed:
        failed.append(report.nodeid)


def pytest_sessionfinish() -> None:
    Path(os.environ["INTAKE_REACHED"]).write_text(
        json.dumps({"seconds": seconds, "failed": failed, "lines": reached}), "utf-8"
    )
