"""Counts and moments in what a terminal says."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from intake.in_words import counted, moment_words
from tests.apart import run_intake
from tests.conftest import Office
from tests.copies.tools import copier_of, until_done


@pytest.mark.parametrize(("count", "words"), [(0, "0 pictures"), (1, "1 picture"), (2, "2 pictures")])
def test_one_is_no_plural(count: int, words: str) -> None:
    assert counted(count, "picture") == words


def test_a_moment_is_one_of_the_machine_s_clock_to_the_minute() -> None:
    said = moment_words("2026-03-14T12:10:51.677Z")
    assert re.fullmatch(r"1[3-5] March 2026, \d\d:\d\d", said)


def test_no_command_of_a_copy_says_a_moment_as_it_is_stored(
    office: Office, day: dict[str, Any], tmp_path: Path
) -> None:
    stick, new = tmp_path / "stick", tmp_path / "new"
    until_done(copier_of(office.settings, stick))
    ours = ["--data", str(office.settings.data_folder)]
    commands = (
        ["copy", str(stick), *ours],
        ["bring-in", str(stick), *ours],
        ["verify", *ours],
        ["verify", "--new", *ours],
        ["restore", str(stick), "--data", str(new)],
    )
    for command in commands:
        said = run_intake(*command).stdout
        assert said
        assert not re.search(r"\d{4}-\d\d-\d\dT", said), said
        assert not re.search(r"\b1 (?:operation|photo|picture)s", said), said
