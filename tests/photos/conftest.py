"""Pictures here belong to no record yet, and such are read by the office alone."""

from __future__ import annotations

from typing import Any

import pytest

from tests.conftest import Office
from tests.phone import Phone


@pytest.fixture
def phone(office: Office, day: dict[str, Any]) -> Phone:
    """A phone that sends pictures and reads every one back."""
    return office.pair("manager", "Phone")
