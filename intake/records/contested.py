"""Which disagreements on a record not everyone reads: whoever does not is told that there is one, and no word of it."""

from __future__ import annotations

from intake.families import EVERYONE, family_of
from intake.records.record import Record
from intake.records.values import Disagreement

#: The kinds of record whose disagreements a closing names whatever the field.
NAMED = ("item",)


def open_on(record: Record) -> list[Disagreement]:
    """What two people said otherwise and nobody has settled: first of what everyone reads, each in the order in which
    it came up. A device puts a record together in that order."""
    still = [between for between in record.disagreements.values() if between.settled is None]
    return sorted(still, key=lambda between: not is_read_by_all(record, between))


def is_read_by_all(record: Record, between: Disagreement) -> bool:
    return family_of(between.name, record.kind).readers is EVERYONE


def contested_beside(record: Record) -> list[dict[str, str]]:
    """Those of them that not everyone reads, each by its id and its family alone."""
    if record.kind not in NAMED:
        return []
    return [
        {"disagreement_id": between.disagreement_id, "family": family_of(between.name, record.kind).key}
        for between in open_on(record)
        if not is_read_by_all(record, between)
    ]
