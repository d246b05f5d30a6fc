"""Whoever runs the tests is told at the end what was left out and what to install."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from intake import system
from intake.setup.lock import ROOT
from intake.setup.steps import SetUpError, Steps
from tests import checks
from tests.left_out import TOLD_IN


def test_a_journey_in_a_browser_that_is_not_here_is_told_of_at_the_end(tmp_path: Path) -> None:
    """On a machine whose PATH has no browser beside the one of the other journeys."""
    told = tmp_path / "told"
    (tmp_path / "bin").mkdir()
    ended = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "tests/journeys/engines"],
        cwd=ROOT,
        env={**os.environ, "PATH": str(tmp_path / "bin"), TOLD_IN: str(told)},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    lines = [
        "1 not tried: there is no Firefox here: `apt-get install firefox-esr`",
        "1 not tried: there is no WebKit to drive: `apt-get install webkit2gtk-driver xvfb`",
    ]
    assert told.read_text("utf-8").splitlines() == lines, ended.stdout
    end = ended.stdout[ended.stdout.index("left out on this machine") :]
    assert all(line in end for line in lines)


def test_the_checks_end_with_what_was_left_out(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    writes = f"import os; open(os.environ['{TOLD_IN}'], 'w').write('1 not tried: no browser here')"
    monkeypatch.setattr(checks, "checks", lambda more: {"pytest": lambda: [sys.executable, "-c", writes]})
    monkeypatch.setattr(checks, "find_browser", lambda steps: "chromium")
    assert checks.run_checks([]) == 0
    assert capsys.readouterr().out.splitlines()[-2:] == [
        "1 not tried: no browser here",
        "Every check that was tried is good.",
    ]


def test_the_engines_beside_chromiums_are_installed_where_that_may_be(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    asked: list[str] = []

    def install(steps: Steps, package: str, advice: str) -> None:
        asked.append(package)
        raise SetUpError(advice)

    monkeypatch.setattr(shutil, "which", lambda program, path=None: program == "apt-get")
    monkeypatch.setattr(system, "may_install_packages", lambda: True)
    monkeypatch.setattr(checks, "install_package", install)
    checks.look_for_engines(Steps())
    assert asked == ["firefox-esr", "webkit2gtk-driver", "xvfb"]
    assert "The journey in Firefox is skipped without it." in capsys.readouterr().err
