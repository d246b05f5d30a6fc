"""The dates of the shared fixture against another reader of EDTF."""

from __future__ import annotations

import json
from pathlib import Path
from typing import NotRequired, TypedDict

import edtf
import pytest

FIXTURE = json.loads((Path(__file__).parents[2] / "fixtures" / "dates.json").read_text("utf-8"))


class Case(TypedDict):
    words: str
    earliest: int | None
    latest: int | None
    edtf: str
    widened: NotRequired[list[int]]


CASES: list[Case] = [case for group in FIXTURE["groups"] for case in group["cases"]]
# XXXX says that nothing is known; the library makes it the years 0 to 9999, where we keep both ends open.
KNOWN = [case for case in CASES if case["edtf"] != "XXXX"]


@pytest.mark.parametrize("case", KNOWN, ids=lambda case: case["words"])
def test_the_edtf_covers_the_years_beside_it(case: Case) -> None:
    """Source: the edtf library's strict bounds. It knows no house's circa, which `widened` takes off again.

    An open end has no year; the library gives an infinity there.
    """
    read = edtf.parse_edtf(case["edtf"])
    before, behind = case.get("widened", [0, 0])
    if case["earliest"] is not None:
        assert read.lower_strict().tm_year == case["earliest"] + before
    else:
        assert read.lower_strict() == float("-inf")
    if case["latest"] is not None:
        assert read.upper_strict().tm_year == case["latest"] - behind
    else:
        assert read.upper_strict() == float("inf")


@pytest.mark.parametrize("text", FIXTURE["edtf"]["accepted"])
def test_what_we_accept_the_library_reads(text: str) -> None:
    """Source: examples of the Library of Congress EDTF specification."""
    assert edtf.parse_edtf(text) is not None


# The library takes these although the specification does not.
TAKEN_BY_THE_LIBRARY = {"1910/1890", "1900-02-29", "1760 ~"}
# On these it fails with another error than the one that means no.
FAILS_OTHERWISE = {"", "/", "..", "../..", "[..]"}


@pytest.mark.parametrize(
    "text", [one for one in FIXTURE["edtf"]["refused"] if one not in TAKEN_BY_THE_LIBRARY | FAILS_OTHERWISE]
)
def test_what_we_refuse_the_library_refuses(text: str) -> None:
    with pytest.raises(edtf.parser.edtf_exceptions.EDTFParseException):
        edtf.parse_edtf(text)
