"""What a device hears of the words that it says and may not read: that they are kept, and not what they met there.

Else it could say a telephone number, and hear by a disagreement that it is another: so right guesses look like wrong
ones. Nothing is lost by that: both values are on record, and whoever reads the owner settles them.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from intake.database import Reading
from intake.families import Asker
from intake.operation import KINDS, Operation
from intake.reading import own_records


def as_told(
    tx: Reading, asker: Asker, sent: Sequence[Any], answers: Sequence[dict[str, Any]]
) -> list[dict[str, Any]]:
    """The answers as they are told to the device that sent these operations. The log has them as they were."""
    return [
        blind(answer) if says_it_met_another(answer) and not reads_what_it_said(tx, asker, raw) else answer
        for raw, answer in zip(sent, answers, strict=True)
    ]


def says_it_met_another(answer: dict[str, Any]) -> bool:
    return answer["outcome"] == "kept" and bool(answer["disagreement"] or answer.get("goes_on_from"))


def blind(answer: dict[str, Any]) -> dict[str, Any]:
    told = {name: value for name, value in answer.items() if name != "goes_on_from"}
    return {**told, "disagreement": False}


def reads_what_it_said(tx: Reading, asker: Asker, raw: Any) -> bool:
    """Whether the device reads any field that this operation may have set."""
    kind = KINDS[raw["kind"]]
    operation: Operation = kind.from_log(raw)
    record_kind = tx.value("SELECT kind FROM record WHERE record_id = :id", id=operation.touches) or ""
    own = own_records(tx, asker, {operation.touches: record_kind}).get(operation.touches, "")
    names = operation.field_names()
    return not names or any(asker.may_read(name, record_kind, own=own) for name in names)
