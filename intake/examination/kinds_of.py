"""What a plan asks of one thing, by what it is called: the trunk of a longcase clock, of no other clock.

As `kindOf` in the app tells it (web/job/kind_of.ts); both are held to `fixtures/kinds-of.json`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Any

from intake.examination.plan import Plan

WORDS = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*")
#: The rows of a plan by the member that is their id.
ROWS = {"zones": "zone", "tests": "test", "views": "view", "measures": "measure", "negatives": "negative"}


def not_asked(
    kinds: Sequence[dict[str, Any]], name: str | None, kept: Iterable[str] = (), of_rows: str = "zones"
) -> set[str]:
    """The ids among these rows that a thing of this name is not asked about, by the kinds of its plan; `kept`: on which
    something is on record. A zone without which a kind is kept by what was said of it alone, `zones/clasp`, not by a
    trial or a view of the same id."""
    words = f" {' '.join(WORDS.findall((name or '').lower()))} "

    def has(said: Iterable[str]) -> bool:
        return any(f" {one} " in words for one in said)

    of = [kind for kind in kinds if has(kind["named"]) and not has(kind["not_named"])]
    # A teapot on a tray, called by the words of two kinds, is of neither.
    own = of[0] if len(of) == 1 else None
    others = {row for kind in kinds if kind is not own for row in kind["only"]}
    kept = set(kept)
    if own is None:
        return others - kept
    zones = own.get("without_zones", ()) if of_rows == "zones" else ()  # plans of before have none
    left_out = (others | set(own["without"])) - set(own["only"]) - kept
    return left_out | {zone for zone in zones if f"zones/{zone}" not in kept}


def as_asked(plan: dict[str, Any], name: str | None, kept: Iterable[str] = ()) -> dict[str, Any]:
    """The plan without the rows that such a thing is not asked about, but for those on which something is on record."""
    kinds = plan.get("kinds") or ()  # plans of before know none
    if not kinds:
        return plan
    spoken = list(kept)
    rows = {}
    for of, own_id in ROWS.items():
        left_out = not_asked(kinds, name, spoken, of)
        rows[of] = [row for row in plan[of] if row[own_id] not in left_out]
    return {**plan, **rows}


def plan_for(plan: Plan, name: str | None) -> Plan:
    """The same of a plan that was read. Its version stays that of the whole."""
    _ = plan.version  # worked out before a row is left out
    rows = {}
    for of, own_id in ROWS.items():
        left_out = not_asked(plan.kinds_written, name, of_rows=of)
        rows[of] = [row for row in getattr(plan, of) if getattr(row, own_id) not in left_out]
    return plan.model_copy(update=rows)
