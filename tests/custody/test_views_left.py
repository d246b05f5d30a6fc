"""How many views a closing says are missing: as many as the phone at the table asks for."""

from __future__ import annotations

from typing import Any, cast

import pytest

from intake.custody.plan_used import views_left
from intake.database import Reading
from intake.examination.plans import load_plans
from intake.records.record import Record
from intake.records.values import FieldValue, compact

NO_TABLES = cast(Reading, None)
JEWELLERY = load_plans().plans["jewellery"].body()


def item(**values: Any) -> Record:
    one = Record(NO_TABLES, "i", "item", "d", 0, {}, new=True)
    one.fields = {
        name: FieldValue(value, "", "ana", "", "", 0, compact(value)) for name, value in values.items()
    }
    return one


# Source: common practice; `tests/web/progress.test.js` asks the same of the app.
@pytest.mark.parametrize(
    ("name", "spared"),
    [
        ("gold ring with a brooch pin", {"pair", "clasp-open"}),
        ("Ring, set with a red stone", {"pair", "clasp-open"}),
        ("pair of earrings", set()),
        ("brooch", {"pair", "inside"}),
        ("necklace with a bolt ring", {"pair", "inside"}),
        ("", {"pair"}),
    ],
)
def test_a_view_of_other_kinds_of_things_is_not_missing(name: str, spared: set[str]) -> None:
    always = {view["view"] for view in JEWELLERY["views"]}
    assert views_left(JEWELLERY, item(short_description=name)) == len(always - spared)


def test_a_view_of_what_the_thing_never_had_is_not_missing() -> None:
    never = {"state": "not-examined", "reason": "not-applicable", "light": None, "count": None}
    brooch = item(short_description="brooch")
    without = item(short_description="brooch", **{"zones/case": never})
    assert views_left(JEWELLERY, without) == views_left(JEWELLERY, brooch) - 1
