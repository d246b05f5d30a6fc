"""What a run left out, said where it ends: a skipped test looks like a good one to whoever reads the last lines."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

import pytest

#: Names the file into which a run writes what it left out, for whoever started it to say at the very end.
TOLD_IN = "INTAKE_LEFT_OUT"


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    lines = left_out(terminalreporter.stats.get("skipped", ()))
    if not lines:
        return
    terminalreporter.section("left out on this machine")
    for line in lines:
        terminalreporter.line(line)
    if TOLD_IN in os.environ:
        Path(os.environ[TOLD_IN]).write_text("\n".join(lines), "utf-8")


def left_out(reports: Iterable[pytest.TestReport | pytest.CollectReport]) -> list[str]:
    """Why tests were skipped, each reason once with the number of tests; a reason names what to install."""
    reasons = Counter(
        str(report.longrepr[2]).removeprefix("Skipped: ")
        for report in reports
        if isinstance(report.longrepr, tuple)
    )
    return [f"{count} not tried: {reason}" for reason, count in sorted(reasons.items())]
