"""What the record behind another found and the one in front did not. The app: `web/job/behind.ts`."""

from __future__ import annotations

from typing import Any

from intake.custody.doubles import merged_into
from intake.custody.with_owner import is_later
from intake.examination.findings import standing_findings
from intake.records.record import Record


def found_behind(front: Record) -> list[dict[str, Any]]:
    """Of all that stand behind it: a receipt says it, since it is of the one thing."""
    if merged_into(front):
        return []
    return [finding for behind in front.others() for finding in found_behind_alone(front, behind)]


def found_behind_alone(front: Record, behind: Record) -> list[dict[str, Any]]:
    own = standing_findings(front)

    def is_here(finding: dict[str, Any]) -> bool:
        return any(
            one["zone"] == finding["zone"]
            and one["term"] == finding["term"]
            and (one["severity"] or 0) >= (finding["severity"] or 0)
            for one in own
        )

    return [
        finding
        for finding in standing_findings(behind)
        if not is_here(finding) and not is_since(front, behind, f"zones/{finding['zone']}")
    ]


def is_since(front: Record, behind: Record, name: str) -> bool:
    """Whether the record in front was told something once it was known that they are one."""
    merged, said = behind.fields.get("merged"), front.fields.get(name)
    return merged is not None and said is not None and is_later(said, merged)
