"""Where the day's things went: packed, moved, taken back, signed for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from intake.demo.hand import Hand

#: Lines of a visit's receipts, by what is signed for: left or taken back.
Lines = dict[str, list[dict[str, Any]]]
#: A thing and the number on it.
Tagged = tuple[str, str]
DOOR, PORTER, DRIVER, STORE = "Jonty Barleymow", "Magnus Ropewalk", "Edith Shelfgood", "Gil Hawsercroft"
PACKED = 12  # things in three boxes
STILL_AT_TABLE = 1  # thing of the owner who has not left yet


class Ledger:
    """The porter's part of the day."""

    def __init__(self, hand: Hand, tags: Iterator[str]) -> None:
        self._hand = hand
        self._tags = tags
        self._gone_home: set[str] = set()

    def pack(self, day_id: str, tagged: list[Tagged], held: set[str]) -> Iterator[dict[str, Any]]:
        """The first things are packed: two boxes in a crate that goes to the store, one box that stays behind.

        The rest is carried, but for the last few, which stay at their tables.
        """
        crate, *boxes = (self._hand.id() for _ in range(4))
        numbers = []
        for container_id, kind_of in ((crate, "crate"), *((box, "box") for box in boxes)):
            numbers.append(next(self._tags))
            members = {
                "container_id": container_id,
                "day_id": day_id,
                "number": numbers[-1],
                "kind_of": kind_of,
            }
            yield self._hand.make("open_container", "jonty", **members)
        # What is held apart is shut into no box.
        packed = [thing for thing in tagged if thing[0] not in held][:PACKED]
        for index, (item_id, _) in enumerate(packed):
            members = {"thing_id": item_id, "container_id": boxes[index // 4]}
            yield self._hand.make("put_inside", "jonty", seen=None, **members)
        for box in boxes[:2]:
            yield self._hand.make("put_inside", "jonty", seen=None, thing_id=box, container_id=crate)
        seal = {"seal": "7103", "state": "sealed", "second_by": "Hester Quillfeather"}
        sealed = self._hand.make("seal_container", "jonty", seen=None, container_id=crate, **seal)
        yield sealed
        in_crate = [{"container": numbers[0], "numbers": numbers[1:3]}]
        for index, box in enumerate(numbers[1:3]):
            tags = [tag for _, tag in packed[index * 4 : index * 4 + 4]]
            in_crate.append({"container": box, "numbers": tags})
        yield from self._drive(day_id, 1, [(crate, numbers[0])], packed=in_crate)
        # At the store two people look at the seal before they open.
        intact = {**seal, "state": "intact"}
        yield self._hand.make(
            "seal_container", "jonty", seen=sealed["operation_id"], container_id=crate, **intact
        )
        yield from self._carry(
            day_id, [thing for thing in tagged[:-STILL_AT_TABLE] if thing not in packed], held
        )

    def _carry(self, day_id: str, tagged: list[Tagged], held: set[str]) -> Iterator[dict[str, Any]]:
        """What was not packed goes to the holding area, and loose with the second trip, of which one does not come;
        what is held apart goes to isolation.
        """
        people = {"given_by": "Hester Quillfeather", "taken_by": PORTER, "count": None, "signed": False}
        loose: list[Tagged] = []
        for item_id, number in tagged:
            if item_id in self._gone_home:
                continue
            to_place = "isolation" if item_id in held else "holding"
            move = {"thing_id": item_id, "from_place": "table", "to_place": to_place, "at": "", **people}
            yield self._hand.make("record_move", "jonty", move_id=self._hand.id(), **move)
            if to_place == "holding":
                loose.append((item_id, number))
        yield from self._drive(day_id, 2, loose, lost=1)

    def _drive(
        self,
        day_id: str,
        trip: int,
        things: list[Tagged],
        lost: int = 0,
        packed: list[dict[str, Any]] | None = None,
    ) -> Iterator[dict[str, Any]]:
        """One trip of the van; at the store all but the `lost` last are counted in, against what left."""
        left = None
        for destination, before, given_by, taken_by in (
            ("van", "holding", PORTER, DRIVER),
            ("store", "van", DRIVER, STORE),
        ):
            here = things[: len(things) - lost] if left else things
            people = {
                "at": f"trip {trip}",
                "given_by": given_by,
                "taken_by": taken_by,
                "to_place": destination,
            }
            for thing_id, _ in here:
                move = {"thing_id": thing_id, "from_place": before, "count": None, "signed": False, **people}
                yield self._hand.make("record_move", "jonty", move_id=self._hand.id(), **move)
            crates, pieces = (len(here), 0) if trip == 1 else (0, len(here))
            counts = {"crates": crates, "pieces": pieces, "scanned_crates": crates, "scanned_pieces": pieces}
            load = {
                "numbers": [number for _, number in here],
                "packed": None if left else packed,
                "driver": "" if left else DRIVER,
                "of_load": left,
            }
            left = self._hand.id()
            yield self._hand.make(
                "count_load", "jonty", day_id=day_id, load_id=left, **load, **counts, **people
            )

    def take_back(self, item_id: str, tag: str) -> Iterator[dict[str, Any]]:
        """An owner changed his mind at the door: the tag is void, and he signs for it."""
        gone = {"tag": tag, "why": "taken-back", "replaced_by": None}
        yield self._hand.make("remove_tag", "jonty", item_id=item_id, **gone)
        yield self.went_home(item_id, DOOR)

    def went_home(self, item_id: str, house_by: str) -> dict[str, Any]:
        self._gone_home.add(item_id)
        move = {"thing_id": item_id, "from_place": "table", "to_place": "returned", "at": "", "count": 1}
        people = {"given_by": house_by, "taken_by": "the owner", "signed": False}
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
                house_by=DOOR,
                on_paper="",
                signed_by=owner["name"],
                strokes="M" + "L".join(points),
                salt=self._hand.chance.randbytes(16).hex(),
            )
