"""The benchmark runs and prints what it measured. How fast is no business of a test."""

from __future__ import annotations

import re

import pytest

from intake.bench.run import run


def test_the_quick_benchmark_prints_its_ratios(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(quick=True, only="bcei") == 0
    told = capsys.readouterr().out
    assert re.search(r"1000 records, [\d.]+ MB: .* ratio [\d.]+", told)
    assert re.search(r"1000 items: p50 [\d.]+ ms, p99 [\d.]+ ms", told)
    assert re.search(r"500 tags in [\d.]+ s: .* bytes a tag", told)
    assert re.search(r"photos/s with a copy, \d+ without: [\d.]+", told)
    assert re.search(r"50 items, \d+ operations, 400 photos of 4 KB: .* \(ratio [\d.]+\)", told)
