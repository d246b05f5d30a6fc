"""Whoever shows how the office is doing hears of each change over the stream that its page listens to."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from intake.copies import copier
from tests.conftest import Office
from tests.copies.test_keeping import is_current, put, until
from tests.copies.tools import record_items
from tests.phone import Phone

CHANGED = "event: office"


@pytest.mark.parametrize("role", ["manager", "desk"])
def test_a_page_hears_of_a_stick_that_is_pulled_out_and_of_its_coming_back(
    office: Office, manager: Phone, stick: Path, monkeypatch: pytest.MonkeyPatch, role: str
) -> None:
    """Nothing is recorded meanwhile, so the feed stands still."""
    monkeypatch.setattr(copier, "is_apart", lambda copy, office: True)
    put(manager, stick)
    until(manager, is_current)
    page = office.pair(role)
    with page.client.stream("GET", "/sync/events") as stream:
        news = (line for line in stream.iter_lines() if line == CHANGED)
        assert next(news), "the first is of how things stand as the page opens"
        away = stick.rename(stick.with_name("away"))
        until(manager, lambda copy: copy["state"] == "missing")
        assert next(news)
        away.rename(stick)
        until(manager, is_current)
        assert next(news)


def test_a_page_hears_that_a_device_was_heard_out(office: Office, manager: Phone, phone: Phone) -> None:
    office.change("UPDATE office SET hearing_since = '2026-03-14T18:00:00.000Z', losses = losses + 1")
    with manager.client.stream("GET", "/sync/events") as stream:
        news = (line for line in stream.iter_lines() if line == CHANGED)
        next(news)
        stands = phone.feed()["office"]
        known = {"known_seq": stands["office_seq"], "known_chain": stands["chain"], "to_send": 0}
        phone.client.get("/sync/feed", params=known).raise_for_status()
        assert next(news)


def test_a_page_that_shows_no_devices_hears_nothing_of_a_pairing(office: Office, manager: Phone) -> None:
    """Of fifty phones each desk would ask for the copies fifty times."""
    with manager.client.stream("GET", "/sync/events") as stream:
        news = (line for line in stream.iter_lines() if line.startswith("event: "))
        assert {next(news), next(news)} == {CHANGED, "event: devices"}, "how things stand as the page opens"
        for number in range(3):
            office.pair("table", f"Table {number}")
            assert next(news) == "event: devices"


def test_a_table_is_told_of_records_alone(office: Office, day: dict[str, Any], stick: Path) -> None:
    """It shows nothing of copies, and may not ask."""
    table, other = office.pair("table", "Table 1"), office.pair("table", "Table 2")
    with table.client.stream("GET", "/sync/events") as stream:
        lines = iter(stream.iter_lines())
        first = next(line for line in lines if line.startswith(("data:", "event:")))
        record_items(other, day, 1)
        second = next(line for line in lines if line.startswith(("data:", "event:")))
    assert first.startswith("data: ")
    assert second.startswith("data: ")
