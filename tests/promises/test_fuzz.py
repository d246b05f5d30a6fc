"""The whole API, fed from its own OpenAPI description: whatever comes, the office never breaks.

Source: schemathesis makes the requests from /openapi.json, valid and invalid ones.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from hypothesis import HealthCheck, given, seed, settings

from tests.conftest import Office
from tests.phone import Phone
from tests.samples import sampled

if TYPE_CHECKING:
    from schemathesis import Case

ENDLESS = {"/sync/events"}  # an open stream; it has nothing to be fed with


def test_nothing_makes_the_office_break(office: Office, manager: Phone) -> None:
    """No answer is a 5xx, and the log still verifies after all of it."""
    from schemathesis import openapi  # which every process that reads this file would wait for
    from schemathesis.core.result import Ok

    schema = openapi.from_url(f"{office.address}/openapi.json")
    cookie = "; ".join(f"{name}={value}" for name, value in manager.client.cookies.items())
    headers = {"Origin": office.address, "Cookie": cookie}
    fed, parts = 0, sampled(range(3), of=3)
    for found in schema.get_all_operations():
        assert isinstance(found, Ok), found
        operation = found.ok()
        if operation.path in ENDLESS:
            continue

        @given(case=operation.as_strategy())
        @settings(max_examples=9, deadline=None, suppress_health_check=list(HealthCheck), database=None)
        def feed(case: Case[Any]) -> None:
            answer = case.call(headers=headers, timeout=20)
            assert answer.status_code < 500, (
                f"{case.method} {case.path}: {answer.status_code} {answer.text[:300]}"
            )

        for part in parts:
            seed(part)(feed)()
        fed += 1
    assert fed >= 15
    assert office.faults() == []
