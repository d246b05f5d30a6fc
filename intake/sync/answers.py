"""What the office says to an operation: kept, waiting or refused, and why."""

from __future__ import annotations

from typing import Any

from intake.errors import IntakeError, Refusal, WaitsForMore
from intake.sync.canonical import canonical


def kept(operation_id: str, office_seq: int, *, disagreement: bool) -> dict[str, Any]:
    return {
        "operation_id": operation_id,
        "outcome": "kept",
        "office_seq": office_seq,
        "disagreement": disagreement,
        "problem": None,
    }


def as_text(answer: dict[str, Any]) -> str:
    """An answer's canonical JSON. Almost all say that an operation was kept and no more: those are put together."""
    if len(answer) == 5 and answer["outcome"] == "kept" and answer["problem"] is None:
        disagreement = "true" if answer["disagreement"] else "false"
        return (
            f'{{"disagreement":{disagreement},"office_seq":{answer["office_seq"]},'
            f'"operation_id":"{answer["operation_id"]}","outcome":"kept","problem":null}}'
        )
    return canonical(answer)


def waiting(operation_id: str, why: str) -> dict[str, Any]:
    """It has no place in the log yet, and the office has forgotten it again: its device sends it another time."""
    return {
        "operation_id": operation_id,
        "outcome": "waiting",
        "office_seq": None,
        "disagreement": False,
        "problem": in_answer(WaitsForMore(why)),
    }


def in_answer(error: IntakeError) -> dict[str, Any]:
    """What of a problem stands in an answer."""
    problem = error.problem()
    return {name: problem[name] for name in ("code", "title", "detail", "hint")}


def refused(
    operation_id: str, office_seq: int, error: Refusal, *, disagreement: bool = False
) -> dict[str, Any]:
    """A refusal. `disagreement` says that it is on the record all the same, for a person to settle."""
    return {
        "operation_id": operation_id,
        "outcome": "refused",
        "office_seq": office_seq,
        "disagreement": disagreement,
        "problem": in_answer(error),
    }
