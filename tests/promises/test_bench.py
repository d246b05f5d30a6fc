"""The benchmark runs and prints what it measured. How fast is no business of a test."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

import intake
from intake.bench import copies, door, growth, house, labels, large_day, phone, pull, screens, search
from intake.bench.growth_seen import Seen
from intake.bench.run import run
from intake.errors import CommandError
from intake.setup.lock import ROOT


def test_the_quick_benchmark_prints_its_ratios(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Here with sizes that say nothing of how fast it is, and print the same lines."""
    monkeypatch.setattr(pull, "SIZES", (40,))
    monkeypatch.setattr(search, "QUICK_SIZES", (100,))
    monkeypatch.setattr(search, "ASKED", 20)
    monkeypatch.setattr(search, "WORDS", 2000)
    monkeypatch.setattr(labels, "QUICK_TAGS", 30)
    monkeypatch.setattr(copies, "QUICK_RECORDS", 1)
    monkeypatch.setattr(copies, "QUICK_ITEMS", 5)
    assert run(quick=True, only="bcei") == 0
    told = capsys.readouterr().out
    assert re.search(r"40 records, [\d.]+ MB: .* ratio [\d.]+", told)
    assert re.search(r"100 items: p50 [\d.]+ ms, p99 [\d.]+ ms", told)
    assert re.search(r"30 tags in [\d.]+ s: .* bytes a tag", told)
    assert re.search(r"photos/s with a copy, \d+ without: [\d.]+", told)
    assert re.search(r"5 items, \d+ operations, 40 photos of 4 KB: .* \(ratio [\d.]+\)", told)


def test_two_versions_take_turns_at_the_door(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Here this one with itself."""
    monkeypatch.setattr(door, "TIMES", 2)
    monkeypatch.setattr(door, "ITEMS", 4)
    assert run(quick=True, only="j", beside=Path(intake.__file__).parent.parent) == 0
    told = capsys.readouterr().out
    page = "the feed of 6 records"
    for asked in (
        "23 operations answered",
        "a request, with its commit",
        f"{page}, to the first who asks",
        page,
    ):
        assert re.search(rf"{asked}: [\d.]+ ms, there [\d.]+: [\d.]+ \(target", told), asked
    assert len(re.findall(r", the means [\d.]+ and [\d.]+: [\d.]+$", told, re.MULTILINE)) == 4
    with pytest.raises(CommandError, match="no checkout"):
        run(quick=True, only="j", beside=Path(__file__))


def test_a_house_that_grows_is_measured_at_each_size(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Here at one, of two days, and without a browser, of which it says so."""
    monkeypatch.setattr(growth, "SIZES", (20,))
    monkeypatch.setattr(house, "ITEMS_A_DAY", 10)
    monkeypatch.setattr(large_day, "ITEMS", 20)
    monkeypatch.setattr(phone, "BROWSERS", ())
    monkeypatch.delenv("INTAKE_BROWSER", raising=False)
    assert run(quick=False, only="g") == 0
    told = capsys.readouterr().out
    assert "20 items, 350 operations" in told
    assert re.search(r"verify [\d.]+ s, [\d.]+ of them its start; operations a second behind that", told)
    assert re.search(r"closing of a day \d+ ms", told)
    assert "table 0.08 MB" in told, "ten items of its day, of eight kilobytes each"
    assert "desk: not seen" in told
    assert re.search(
        r"one day of 20 items, 71 lines .* [\d.]+ s; the office's memory at most \d+ MB .*\(target <= 300: met\)",
        told,
    )


def test_what_grew_is_said_beside_its_target() -> None:
    looked = growth.Looked(wall_s=1.0, cpu_s=1.0, peak=1e8)
    start = growth.Looked(wall_s=0.5, cpu_s=0.5, peak=5e7)
    least = growth.Size(
        1000, 17_000, 10**7, 1000, 25_000, 4 * 10**6, 0.2, 2e8, looked, start, None, None, None
    )
    most = replace(least, items=200_000, operations=3_400_000, table_feed=6 * 10**6)
    told = list(growth.growth_of(least, most))
    assert "table's bytes at 200000 of that at 1000: 1.50 (target <= 1.3: NOT met)" in told
    assert "desk's bytes at 200000 of that at 1000: 1.00 (target <= 1.3: met)" in told
    assert "the office's memory at 200000 of that at 1000: 1.00 (target <= 1.3: met)" in told
    assert list(growth.growth_of(least, least)) == []


def test_the_start_of_verify_is_told_apart_from_what_it_takes_for_its_operations() -> None:
    """It is the same at any size: at a small one it would be most of what is measured."""
    looked, start = (growth.Looked(seconds, seconds, peak) for seconds, peak in ((1.2, 1e8), (0.4, 6e7)))
    least = growth.Size(
        1000, 17_000, 10**7, 1000, 25_000, 4 * 10**6, 0.2, 2e8, looked, start, None, None, None
    )
    assert next(growth.lines_of(least)) == (
        "verify 1.2 s, 0.4 of them its start; operations a second behind that 21250.00 (target >= 20000: met), with it "
        "14167, of the processor's 14167; MB 100.00 (target <= 300: met)"
    )
    most = replace(least, items=10_000, operations=170_000, verify=growth.Looked(8.4, 8.4, 2e8))
    told = list(growth.growth_of(least, most))
    assert "verify an operation at 10000 of that at 1000: 1.00 (target <= 1.3: met)" in told
    assert not [line for line in told if "verify's memory" in line], "that has a bound, beside each size"


def test_the_figures_of_each_device_stand_beside_its_longest_stall() -> None:
    looked = growth.Looked(wall_s=1.0, cpu_s=1.0, peak=1e8)
    seen = Seen(first_s=1.5, heap=2 * 10**7, records=601, stalls={"today": 90.0, "closing": 120.0})
    start = growth.Looked(wall_s=0.5, cpu_s=0.5, peak=5e7)
    size = growth.Size(
        1000, 17_000, 10**7, 1000, 25_000, 4 * 10**6, 0.2, 2e8, looked, start, None, seen, seen
    )
    told = list(growth.lines_of(size))
    for device in ("table", "porter"):
        assert (
            f"{device}: 1.50 s from pairing to its first screen, heap 20 MB, 601 records kept; longest stall in ms "
            "120.00 (target <= 100: NOT met) (today 90, closing 120)"
        ) in told


def test_every_screen_of_the_app_is_measured_from_tap_to_drawn_or_named_with_a_reason() -> None:
    pieces = re.search(
        r"const PIECES = (\{.*?\}) as const", (ROOT / "web/addresses.ts").read_text("utf-8"), re.S
    )
    assert pieces
    named = {*re.findall(r'"([a-z/]+)"', pieces[1]), "pair"}
    assert {"today", "queue", "closing", "cards"} <= named, "one of each piece is found"
    measured = {**screens.ON_DEVICE, **screens.OF_OFFICE}
    assert set(measured) ^ set(screens.LEFT_OUT) == named
    assert all(screens.LEFT_OUT.values()), "a reason for each"


def test_each_address_that_is_tapped_leads_to_the_screen_of_its_name() -> None:
    for name, address in {**screens.ON_DEVICE, **screens.OF_OFFICE}.items():
        head, _, part = (*address.removeprefix("#/").split("/"), "", "")[:3]
        assert (f"{head}/{part}" if part else head) == name


def test_the_slowest_screen_stands_beside_its_target_and_the_others_after_it() -> None:
    told = screens.slowest({"today": 61.4, "queue": 101.2, "item": 80.0})
    assert told == "slowest queue 101.20 (target <= 100: NOT met); then item 80, today 61"
