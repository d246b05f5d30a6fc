"""What the day's things look like: line drawings of each kind of thing, several sides of most.

They are files as the outlines of the classes are, `KIND.SIDE.svg`, with the zones of the class that the kind is of.
Where an outline shows every zone that a class may have, apart if need be, a drawing shows one thing as it stands there.
"""

from __future__ import annotations

from typing import Any

from intake.examination.outlines import Outline, read_outlines
from intake.examination.plan import zone_keys
from intake.examination.plan_check import Problem
from intake.examination.plans import Plans
from intake.web_folder import fixtures_folder


def drawings_of(items: list[dict[str, Any]], plans: Plans) -> dict[str, list[Outline]]:
    """The drawings of each kind that the items are drawn as, the front first. Raises RuntimeError if one is wrong."""
    kinds = {item["drawn"]: zone_keys(plans.plans[item["class_id"]]) for item in items if "drawn" in item}
    problems: list[Problem] = []
    drawings = read_outlines(sorted((fixtures_folder() / "drawings").glob("*.svg")), kinds, problems)
    if problems or set(drawings) != set(kinds):
        raise RuntimeError(
            f"The invented day's drawings do not fit: {problems[:1] or set(kinds) - set(drawings)}"
        )
    return drawings
