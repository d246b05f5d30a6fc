"""Closing a day: every difference that the office finds gets a reason, and the list is signed by two."""

from __future__ import annotations

from datetime import UTC
from typing import Any

import httpx

from intake.custody.closing_lines import Line, digest_of
from intake.custody.day_closing import CHANGED, NAMED, RECEIPTS
from intake.custody.day_on_record import day_on_record
from intake.custody.differences import Closing
from tests.door import Door
from tests.phone import Phone

AT_ONCE = 200  # differences that one operation says a reason of


def whole_closing(client: httpx.Client, day_id: str) -> dict[str, Any]:
    """A day's closing as the office tells it, read page by page to its end; `sections` are all lines by section."""
    answer = client.get(f"/days/{day_id}/closing")
    answer.raise_for_status()
    closing: dict[str, Any] = answer.json()
    sections: dict[str, list[dict[str, Any]]] = {}
    for section in closing["sections"]:
        lines = sections[section["section"]] = section["lines"]
        while len(lines) < section["count"]:
            asked = {"state": closing["state"], "section": section["section"], "after": len(lines)}
            page = client.get(f"/days/{day_id}/closing/lines", params=asked)
            page.raise_for_status()
            lines += page.json()["lines"]
            assert page.json()["next"] == (len(lines) if len(lines) < section["count"] else None)
        assert len(lines) == section["count"]
    return {**closing, "sections": sections}


def differences_in(closing: dict[str, Any]) -> list[dict[str, str]]:
    """Its differences; of a day that is closed those that have come since."""
    return [
        line
        for section, lines in closing["sections"].items()
        if section not in (NAMED, CHANGED, RECEIPTS)
        for line in lines
    ]


def found_at(manager: Phone, day_id: str) -> list[dict[str, str]]:
    """What the office finds of a day, as a manager's device asks for it."""
    return differences_in(whole_closing(manager.client, day_id))


def a_saying(
    manager: Phone, day_id: str, found: list[dict[str, str]], reason: str, **more: Any
) -> tuple[str, dict[str, Any]]:
    """One reason for some differences."""
    of = [{"key": one["key"], "words": one["words"][:400]} for one in found]
    said = {"day_id": day_id, "reason_id": manager.ids.id(), "reason": reason, "of": of, "seen": None}
    return "explain_differences", {**said, **more}


def a_closing(
    day_id: str,
    sayings: list[dict[str, Any]],
    *,
    by: str = "Hester Quillfeather",
    second: str = "Ana Thistle",
    device: str | None = None,
) -> tuple[str, dict[str, Any]]:
    """A closing with the list of what these say."""
    lines = {
        one["key"]: Line(one["key"], one["words"], saying["reason"], saying.get("said_by", ""))
        for saying in sayings
        for one in saying["of"]
    }
    return "close_day", {
        "day_id": day_id,
        "closed_by": by,
        "second_by": second,
        "second_device": device,
        "named": [],
        "reason_ids": [saying["reason_id"] for saying in sayings],
        "count": len(lines),
        "digest": digest_of(lines.values()),
        "first_digest": digest_of(lines.values()),
    }


def close_with_all(
    manager: Phone, day_id: str, *, reason: str = "Known, and stays so", **who: str
) -> dict[str, Any]:
    """Close a day with one reason for all that the office finds; the operation, which was sent and kept."""
    manager.push()
    found = found_at(manager, day_id)
    parts = [found[start : start + AT_ONCE] for start in range(0, len(found), AT_ONCE)]
    said = [manager.keep(a_saying(manager, day_id, part, reason)) for part in parts]
    closing = manager.keep(a_closing(day_id, said, **who))
    answers = manager.push()
    assert {answer["outcome"] for answer in answers} == {"kept"}, answers
    return closing


async def named_now(door: Door, day_id: str) -> dict[str, list[str]]:
    """What the office finds of a day with one reason for all of it, as a closing of before named it in itself."""
    found = await door.database.read(
        lambda tx: [*Closing(day_on_record(tx, day_id), lambda _: None, {}, UTC).differences()]
    )
    return {"named": [one.words[:400] for one in found], "reasons": ["Known, and stays so"] * len(found)}


async def close(door: Door, day_id: str) -> None:
    """Close a day with one reason for all that the office finds."""
    names = {"closed_by": "A", "second_by": "B"}
    await door.keep(("close_day", {"day_id": day_id, **names, **await named_now(door, day_id)}))
