"""Before the doors open: kept with the day as often as it was read, by the manager alone."""

from __future__ import annotations

from typing import Any

import pytest

from tests.builders import Ids
from tests.conftest import Office
from tests.phone import Phone


def a_preflight(ids: Ids, day_id: str, **more: Any) -> tuple[str, dict[str, Any]]:
    return "record_preflight", {
        "day_id": day_id,
        "preflight_id": ids.id(),
        "items_expected": 120,
        "labels_printed": 300,
        "ready": ["3 people, 1 valuer among them."],
        "not_ready": ["Door was never checked."],
        **more,
    }


def test_each_time_the_doors_open_is_kept(office: Office, manager: Phone, day: dict[str, Any]) -> None:
    """In the morning with one phone unchecked, after noon with everything ready."""
    morning = manager.keep(a_preflight(manager.ids, day["day_id"]))
    noon = manager.keep(a_preflight(manager.ids, day["day_id"], ready=["All is ready."], not_ready=[]))
    assert [answer["outcome"] for answer in manager.push()] == ["kept", "kept"]
    fields = manager.record(day["day_id"])["fields"]
    assert fields[f"preflights/{morning['preflight_id']}"]["value"] == {
        "items_expected": 120,
        "labels_printed": 300,
        "ready": ["3 people, 1 valuer among them."],
        "not_ready": ["Door was never checked."],
    }
    assert fields[f"preflights/{noon['preflight_id']}"]["value"]["not_ready"] == []
    assert office.faults() == []


@pytest.mark.parametrize("role", ["door", "table", "porter", "desk"])
def test_only_the_manager_opens_the_doors(office: Office, day: dict[str, Any], role: str) -> None:
    device = office.pair(role)
    device.keep(a_preflight(device.ids, day["day_id"]))
    assert device.push()[0]["problem"]["code"] == "role_may_not"


@pytest.mark.parametrize(
    "wrong", [{"items_expected": -1}, {"labels_printed": "many"}, {"ready": [""]}, {"not_ready": ["x" * 401]}]
)
def test_what_cannot_be_so_is_refused(manager: Phone, day: dict[str, Any], wrong: dict[str, Any]) -> None:
    manager.keep(a_preflight(manager.ids, day["day_id"], **wrong))
    assert manager.push()[0]["problem"]["code"] == "unreadable"
