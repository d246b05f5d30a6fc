"""Where a copy lies, and where an office is made from it."""

from __future__ import annotations

from pathlib import Path

import pytest

from intake.settings import Settings
from tests.conftest import Office


@pytest.fixture
def stick(tmp_path: Path) -> Path:
    """A folder that is not there yet, as on a stick that nobody has written to."""
    return tmp_path / "stick"


@pytest.fixture
def copy(stick: Path) -> Path:
    """The copy that lies there."""
    return stick


@pytest.fixture
def new(tmp_path: Path, office: Office) -> Settings:
    """The folder of an office that is yet to be made from a copy."""
    return Settings(tmp_path / "new", clock=office.clock)
