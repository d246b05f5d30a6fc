"""What the tests of the houses' files share."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from intake.examination import plans
from intake.examination.plan_check import DataFile, Problem, read_file


@pytest.fixture(scope="package", autouse=True)
def shipped_files_parsed_once() -> Iterator[None]:
    """Each mistake in a house's folder is looked for in all of the shipped files as well, which stay as they are."""
    parsed: dict[tuple[Path, type[Any]], tuple[DataFile[Any] | None, list[Problem]]] = {}

    def read_once(file: Path, model: type[Any], problems: list[Problem]) -> DataFile[Any] | None:
        if plans.SHIPPED not in file.parents:
            return read_file(file, model, problems)
        if (file, model) not in parsed:
            found: list[Problem] = []
            parsed[file, model] = read_file(file, model, found), found
        read, found = parsed[file, model]
        problems += found
        return read

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(plans, "read_file", read_once)
        yield
