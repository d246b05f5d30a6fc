"""How much of its plan an item has had, by the plan that it was made with, in whichever version that was."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from typing import Any

from intake.custody.day_on_record import listed, values_of
from intake.database import Reading
from intake.examination.findings import is_left
from intake.examination.plan import Plan
from intake.records.record import Record

#: The plan of an item as it was written, or None if it has no class that has one.
PlanUsed = Callable[[Record], dict[str, Any] | None]


def plans_used(tx: Reading, plans: dict[str, Plan]) -> PlanUsed:
    """Finds plans: the version with which a record was made, else the one of now; each is read once."""
    known: dict[tuple[str, str], dict[str, Any] | None] = {}

    def find(item: Record) -> dict[str, Any] | None:
        class_id, version = item.value("class_id") or "", item.value("plan_version") or ""
        if (class_id, version) not in known:
            body = tx.value(
                "SELECT body FROM plan_version WHERE class_id = :class_id AND version = :version",
                class_id=class_id,
                version=version,
            )
            now = plans.get(class_id)
            known[class_id, version] = json.loads(body) if body else now.body() if now else None
        return known[class_id, version]

    return find


def zones_left(plan: dict[str, Any], item: Record) -> int:
    """How many zones nobody spoke of, or are to be looked at again."""
    return sum(is_left(item.value(f"zones/{key}")) for zone in plan["zones"] for key in keys_of(zone))


def keys_of(zone: dict[str, Any]) -> list[str]:
    """The keys under which a zone's states are recorded; one whose members are counted is one."""
    members = zone["members"] if isinstance(zone["members"], list) else []
    return [f"{zone['zone']}/{member}" for member in members] or [zone["zone"]]


def views_left(plan: dict[str, Any], item: Record) -> int:
    """How many of the views that are always taken have no photo, and nobody said why not. One whose words say "if" is
    taken where it applies."""
    done = {photo["view"] for photo in values_of(item, "photos/") if not photo["withdrawn"]}
    done |= {view for view, skipped in listed(item, "views/") if skipped.value["reason"]}
    always = [view for view in plan["views"] if not re.search(r"\bif\b", view["words"], re.ASCII)]
    return sum(view["view"] not in done for view in always)
