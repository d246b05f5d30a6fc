"""The queue is the office's: whoever asks for it here is a manager, who makes what stands in it as well."""

from __future__ import annotations

from typing import Any

import pytest

from tests.conftest import Office
from tests.phone import Phone


@pytest.fixture
def phone(office: Office, day: dict[str, Any]) -> Phone:
    return office.pair("manager", "Manager's phone")
