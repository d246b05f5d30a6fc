"""The measures of the shared fixture against a units library."""

from __future__ import annotations

import json
from decimal import Decimal
from fractions import Fraction
from math import floor
from pathlib import Path
from typing import Any

import pint
import pytest

FIXTURE = json.loads((Path(__file__).parents[2] / "fixtures" / "measures.json").read_text("utf-8"))
UNITS: pint.UnitRegistry[Any] = pint.UnitRegistry(non_int_type=Fraction)
NAMES = {"mm": "millimeter", "g": "gram"} | {
    unit["unit"]: unit["known_as"] for unit in FIXTURE["units"]["cases"]
}


def cases_of(group: str) -> list[dict[str, Any]]:
    cases: list[dict[str, Any]] = FIXTURE[group]["cases"]
    return cases


def converted(number: str | int | float, unit: str, to: str) -> Fraction:
    """An exact conversion by the library; a decimal is taken as printed, not as the nearest binary number."""
    return Fraction(UNITS.Quantity(Fraction(str(number)), unit).to(to).magnitude)


def half_up(number: Fraction) -> int:
    return floor(number + Fraction(1, 2))


@pytest.mark.parametrize("unit", cases_of("units"), ids=lambda unit: unit["unit"])
def test_units_are_as_published(unit: dict[str, str]) -> None:
    """Source: the exact figures of 1959, and as printed to seven digits in NIST SP 811, appendix B."""
    exact = converted(1, unit["known_as"], unit["base"])
    assert exact == Fraction(unit["exact"])
    printed = Decimal(unit["printed"])
    assert Decimal(unit["exact"]).quantize(printed) == printed


@pytest.mark.parametrize("case", cases_of("lengths"), ids=lambda case: case["typed"])
def test_lengths_add_up(case: dict[str, Any]) -> None:
    total = sum(converted(number, NAMES[unit], "millimeter") for number, unit in case["parts"])
    assert Fraction(half_up(Fraction(total) * 10), 10) == Fraction(str(case["mm"]))


@pytest.mark.parametrize("case", cases_of("weights"), ids=lambda case: case["typed"])
def test_weights_add_up(case: dict[str, Any]) -> None:
    total = sum(converted(number, NAMES[unit], "gram") for number, unit in case["parts"])
    assert Fraction(half_up(Fraction(total) * 100), 100) == Fraction(str(case["g"]))


def in_words(inches: Fraction) -> str:
    whole, rest = divmod(inches, 1)
    return " ".join(str(part) for part in (whole, rest) if part)


@pytest.mark.parametrize(
    "case",
    [*cases_of("inches"), *cases_of("cataloguing_rule")],
    ids=lambda case: f"{case['mm']} mm to 1/{case['step']}",
)
def test_inches_are_the_nearest_fraction(case: dict[str, Any]) -> None:
    steps = half_up(converted(case["mm"], "millimeter", "inch") * case["step"])
    expected = in_words(Fraction(steps, case["step"])) if steps else f"under 1/{case['step']}"
    assert case["words"] == f"{expected} in"


@pytest.mark.parametrize("case", cases_of("feet"), ids=lambda case: case["words"])
def test_feet_are_twelve_inches(case: dict[str, Any]) -> None:
    inches = Fraction(half_up(converted(case["mm"], "millimeter", "inch") * 16), 16)
    feet, rest = divmod(inches, 12)
    parts = [f"{feet} ft", *([f"{in_words(rest)} in"] if rest else [])]
    assert case["words"] == (" ".join(parts) if inches >= 36 else f"{in_words(inches)} in")


@pytest.mark.parametrize("case", cases_of("troy_ounces"), ids=lambda case: case["words"])
def test_troy_ounces_to_one_decimal(case: dict[str, Any]) -> None:
    tenths = half_up(converted(case["g"], "gram", "troy_ounce") * 10)
    assert case["words"] == (f"{tenths // 10}.{tenths % 10} oz t" if tenths else "under 0.1 oz t")
