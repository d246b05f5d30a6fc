"""What the record behind another says that the one in front does not. The app: `web/job/behind.ts`."""

from __future__ import annotations

from intake.custody.found_behind import found_behind_alone, is_since
from intake.custody.receipt_lines import spaced, zone_name
from intake.in_words import counted
from intake.records.record import Record


def said_behind_alone(front: Record, behind: Record) -> list[str]:
    """Each difference in words.

    A count is answered by counting once it is known that they are one; a finding by the same one on the record in
    front, as bad or worse, or by speaking of its zone since.
    """
    found = []
    here, there = front.value("pieces") or 1, behind.value("pieces")
    if there and there != here and not is_since(front, behind, "pieces"):
        found.append(f"{counted(there, 'piece')} counted there, and {here} here")
    for finding in found_behind_alone(front, behind):
        found.append(f"{spaced(finding['term'])}, {zone_name(finding['zone'])}")
    return list(dict.fromkeys(found))
