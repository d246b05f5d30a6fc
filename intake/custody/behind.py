"""What the record behind another says that the one in front does not. The app: `web/job/behind.ts`."""

from __future__ import annotations

from intake.custody.receipt_lines import spaced, zone_name
from intake.custody.with_owner import is_later
from intake.examination.findings import standing_findings
from intake.in_words import counted
from intake.records.record import Record


def said_behind_alone(front: Record, behind: Record) -> list[str]:
    """Each difference in words.

    A count is answered by counting once it is known that they are one; a finding by the same one on the record in
    front, as bad or worse, or by speaking of its zone since.
    """
    merged = behind.fields.get("merged")

    def is_since(name: str) -> bool:
        said = front.fields.get(name)
        return merged is not None and said is not None and is_later(said, merged)

    found = []
    here, there = front.value("pieces") or 1, behind.value("pieces")
    if there and there != here and not is_since("pieces"):
        found.append(f"{counted(there, 'piece')} counted there, and {here} here")
    own = standing_findings(front)
    for finding in standing_findings(behind):
        zone, term, severity = finding["zone"], finding["term"], finding["severity"]
        is_here = any(
            one["zone"] == zone and one["term"] == term and (one["severity"] or 0) >= (severity or 0)
            for one in own
        )
        if not is_here and not is_since(f"zones/{zone}"):
            found.append(f"{spaced(term)}, {zone_name(zone)}")
    return list(dict.fromkeys(found))
