"""Where the day's things went: packed, moved, taken back, signed for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from intake.demo.hand import Hand

#: Lines of a visit's receipts, by what is signed for: left or taken back.
Lines = dict[str, list[dict[str, Any]]]


class Ledger:
    """The porter's part of the day."""

    def __init__(self, hand: Hand, tags: Iterator[str]) -> None:
        self._hand = hand
        self._tags = tags
        self._gone_home: set[str] = set()

    def pack(self, day_id: str, tagged: list[str], held: set[str]) -> Iterator[dict[str, Any]]:
        """The first things are packed: two boxes in a crate that goes to the store, one box that stays behind.

        The rest stands in the holding area, but for the last few; what is held apart is in isolation.
        """
        people = {"given_by": "Hester Quillfeather", "taken_by": "Jonty", "count": None, "signed": False}
        crate, *boxes = (self._hand.id() for _ in range(4))
        for container_id, kind_of in ((crate, "crate"), *((box, "box") for box in boxes)):
            number = next(self._tags)
            told = {"container_id": container_id, "day_id": day_id, "number": number, "kind_of": kind_of}
            yield self._hand.make("open_container", "jonty", **told)
        for index, item_id in enumerate(tagged[:12]):
            told = {"thing_id": item_id, "container_id": boxes[index // 4]}
            yield self._hand.make("put_inside", "jonty", seen=None, **told)
        for box in boxes[:2]:
            yield self._hand.make("put_inside", "jonty", seen=None, thing_id=box, container_id=crate)
        seal = {"seal": "7103", "state": "sealed", "second_by": "Hester Quillfeather"}
        yield self._hand.make("seal_container", "jonty", seen=None, container_id=crate, **seal)
        for place, before in (("van", "holding"), ("store", "van")):
            move = {"thing_id": crate, "from_place": before, "to_place": place, "at": "", **people}
            yield self._hand.make("record_move", "jonty", move_id=self._hand.id(), **move)
        for item_id in tagged[12:-2]:
            if item_id in self._gone_home:
                continue
            to_place = "isolation" if item_id in held else "holding"
            move = {"thing_id": item_id, "from_place": "table", "to_place": to_place, "at": "", **people}
            yield self._hand.make("record_move", "jonty", move_id=self._hand.id(), **move)

    def take_back(self, item_id: str, tag: str) -> Iterator[dict[str, Any]]:
        """An owner changed his mind at the door: the tag is void, and he signs for it."""
        gone = {"tag": tag, "why": "taken-back", "replaced_by": None}
        yield self._hand.make("remove_tag", "jonty", item_id=item_id, **gone)
        yield self.went_home(item_id)

    def went_home(self, item_id: str) -> dict[str, Any]:
        self._gone_home.add(item_id)
        move = {"thing_id": item_id, "from_place": "table", "to_place": "returned", "at": "", "count": 1}
        people = {"given_by": "Jonty", "taken_by": "the owner", "signed": False}
        return self._hand.make("record_move", "jonty", move_id=self._hand.id(), **move, **people)

    def receipts(self, visit_id: str, owner: dict[str, Any], lines_of: Lines) -> Iterator[dict[str, Any]]:
        """The owner signs, with a scribble that is nobody's hand."""
        signed = [(what, lines) for what, lines in lines_of.items() if lines]
        for number, (what, lines) in enumerate(signed, start=1):
            points = [f"{40 + 20 * step} {self._hand.chance.randint(50, 150)}" for step in range(24)]
            yield self._hand.make(
                "sign_receipt",
                "jonty",
                visit_id=visit_id,
                receipt_id=self._hand.id(),
                number=f"{owner['ticket']}/{number}",
                what=what,
                lines=lines,
                replaces=None,
                house_by="Jonty",
                on_paper="",
                signed_by=owner["name"],
                strokes="M" + "L".join(points),
                salt=self._hand.chance.randbytes(16).hex(),
            )
