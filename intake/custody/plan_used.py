"""How much of its plan an item has had, by the plan that it was made with, in whichever version that was."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Set
from typing import Any

from intake.custody.day_on_record import listed, values_of
from intake.database import Reading
from intake.examination.findings import is_left
from intake.examination.kinds_of import as_asked
from intake.examination.plan import Plan
from intake.records.record import Record

WORDS = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*")
BEHIND_A_NAME = re.compile(r" ?[,;:(]| (?:with|in|of|on|set) ")

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
        plan = known[class_id, version]
        return plan and as_asked(plan, item.value("short_description"), spoken_of(item))

    return find


def spoken_of(item: Record) -> set[str]:
    """The ids of a plan's rows on which anything is on record; those of zones with `zones/` before them as well."""
    said = {name.split("/")[1] for name in item.fields if "/" in name}
    zones = {name.split("/")[1] for name in item.fields if name.startswith("zones/")}
    zones |= {finding["zone"].split("/")[0] for finding in values_of(item, "findings/")}
    return said | zones | {f"zones/{zone}" for zone in zones}


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
    none = {zone["zone"] for zone in plan["zones"] if never_had(zone, item)}
    asked = [view for view in always if not is_of_none(view, none) and not is_of_other_kind(view, item)]
    return sum(view["view"] not in done for view in asked)


def never_had(zone: dict[str, Any], item: Record) -> bool:
    """Whether a thing never had a zone, nor was anything found there after all."""
    found = {finding["zone"] for finding in values_of(item, "findings/") if not finding["withdrawn"]}
    said = {key: item.value(f"zones/{key}") for key in keys_of(zone)}
    return all(
        state and state["reason"] == "not-applicable" and key not in found for key, state in said.items()
    )


def is_of_none(view: dict[str, Any], none: Set[str]) -> bool:
    """Whether a view is of zones alone that a thing never had. Plans of before say nothing of what a view is of."""
    of = set(view.get("of") or [])
    return bool(of) and of <= none


def is_of_other_kind(view: dict[str, Any], item: Record) -> bool:
    """Whether a view is none of such things, by what this one is called: as `isOfOtherKind` in the app tells it."""
    name = (item.value("short_description") or "").lower()
    built = WORDS.findall(BEHIND_A_NAME.split(name)[0])
    named = set(view.get("named") or [])
    is_not = bool(built) and built[-1] in view.get("not_named", [])
    return is_not or (bool(named) and named.isdisjoint(WORDS.findall(name)))
