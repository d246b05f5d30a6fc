"""Two pieces of a set that went back from two devices at once; the app has the same rules in `web/job/set_apart.ts`.

Of a set under one number each piece that goes back gets a number first. Two devices that had not heard of each other
give theirs the same place: these are two pieces all the same, also if one of them stays.
"""

from __future__ import annotations

from collections.abc import Iterable

from intake.operation import instant
from intake.records.values import FieldValue

Fields = dict[str, FieldValue]


def set_apart(fields: Fields, records: Iterable[Fields]) -> Fields:
    """The fields of a thing with each of those on a place of its own: the first that no number has, as far as pieces
    were counted.

    What one device gave back twice, what was noted as come from its owner and what takes the place of a lost number is
    on the same piece. `records` are the fields of each of its records: two numbers of two of them are on one piece.
    """
    counted = fields["pieces"].value or 0 if "pieces" in fields else 0
    if counted < 3:
        return fields
    places = {_place_of(fields[name]) for name in fields if name.startswith("tags/")}
    apart = fields
    for own in records:
        devices: dict[int, set[str]] = {}
        void, tied = (_numbers(own, fields, gone) for gone in ("taken-back", None))
        for name, number in [*void, *tied]:
            gave_back = devices.setdefault(_place_of(number), set())
            is_same = not gave_back or number.device_id in gave_back
            if number.value["gone"]:
                gave_back.add(number.device_id)
            piece = next((one for one in range(1, counted + 1) if one not in places), None)
            tag = number.value["tag"]
            if is_same or piece is None or _is_from_owner(fields, tag) or _is_instead(own, fields, tag):
                continue
            places.add(piece)
            value = {**number.value, "piece": piece, "of": max(piece, number.value["of"] or 1)}
            apart = {**apart, name: number._replace(value=value)}
    return apart


def _place_of(number: FieldValue) -> int:
    return int(number.value["piece"] or 1)


def _numbers(own: Fields, fields: Fields, gone: str | None) -> list[tuple[str, FieldValue]]:
    """The numbers of one of its records as they are on all of it, in the order in which they were tied or came off."""
    found = [
        (name, fields[name])
        for name in own
        if name.startswith("tags/") and fields[name].value["gone"] == gone
    ]
    return sorted(found, key=lambda number: (instant(number[1].made_at), number[0]))


def _is_instead(own: Fields, fields: Fields, tag: str) -> bool:
    """Whether a number took the place of one that was lost, and is on what that was on."""
    return any(name.startswith("tags/") and fields[name].value["replaced_by"] == tag for name in own)


def _is_from_owner(fields: Fields, tag: str) -> bool:
    return any(
        move.value.get("from_place") == "returned" and move.value.get("tag") in (None, tag)
        for name, move in fields.items()
        if name.startswith("moves/")
    )
