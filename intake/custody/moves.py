"""The ledger of moves: who gave what to whom, from where to where. Rows are only ever added.

A device may be offline when it records a move, so the office never refuses one because it had heard otherwise: it
keeps both, and where a move began elsewhere than the ledger said, that is a difference with a name.

What was typed of an owner, who takes something back or brings it again, are personal words.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator

from intake.arrival.days import OfDay
from intake.custody.containers import (
    beside,
    check_beside,
    check_carried,
    check_piece,
    once,
    things_inside,
)
from intake.derived_tables import follows_from_log
from intake.examination.cautions import check_goes_home
from intake.operation import Count, HandsOn, Identifier, Line, Rules, Salt, Tag, instant
from intake.records.in_hand import Records
from intake.records.record import Record
from intake.records.values import FieldValue, Source

Place = Literal["table", "bench", "holding", "van", "store", "shelf", "isolation", "returned"]
MOVE = ("from_place", "to_place", "at", "given_by", "taken_by", "count", "signed", "tag")
#: By which place a member speaks of the owner: where that is with them.
OF_OWNER = {"given_by": "from_place", "taken_by": "to_place", "at": "to_place"}
NAMES_NOBODY = ("", "the owner")
LOAD = ("to_place", "at", "given_by", "taken_by", "crates", "pieces", "scanned_crates", "scanned_pieces")
#: What a load has in its value only where it was said: those of before had none of it.
LOAD_IF_SAID = ("numbers", "packed", "driver", "of_load")


follows_from_log("custody_move", order="office_seq")


class RecordMove(HandsOn):
    """An item or a container changed hands and place.

    `from_place` is what the person who moved it believed; null if nobody knew. `at` is the place more closely,
    such as a shelf. `given_by` and `taken_by` are who gave it and who took it, as each is called: two people where it
    changes hands, one and the same where somebody carries it alone, such as from shelf to shelf, and nothing here asks
    whether that is so. `count` is what both counted; `signed` says that an owner who took something back has signed for
    it. What they say of an owner is personal, but for "the owner".
    """

    roles = frozenset({"table", "porter", "door", "desk"})
    record_kinds = ("item", "container")
    record_member = "thing_id"
    personal = ("salt", *OF_OWNER)
    personal_before = ((),)
    sets_too = ("moves/{move_id}", "whereabouts[/{tag}]", "handed/{move_id}")
    is_of_place = True

    kind: Literal["record_move"]
    move_id: Identifier
    thing_id: Identifier
    from_place: Place | None
    to_place: Place
    at: Line
    given_by: Annotated[Line, Field(min_length=1)]
    taken_by: Annotated[Line, Field(min_length=1)]
    count: Annotated[int, Field(ge=0, le=100_000)] | None
    signed: bool
    tag: Tag | None = None
    salt: Salt | None = None

    @classmethod
    def personal_in(cls, said: dict[str, Any]) -> tuple[str, ...]:
        """Those members that name an owner, or did before their words were taken out."""
        own = [
            name
            for name, place in OF_OWNER.items()
            if said.get(place) == "returned" and said.get(name) not in NAMES_NOBODY
        ]
        return ("salt", *own) if own else ()

    @classmethod
    def odd_form(cls, sent: dict[str, Any]) -> str:
        return odd_names(sent)

    def check_on(self, record: Record, records: Records) -> None:
        """Raises what `check_carried` and `check_beside` raise, and NotFound for no such piece."""
        check_piece(record, self.tag)
        check_carried(self, record, self.to_place, records)
        check_beside(self, record, self.tag, records)

    def check_by_rules(self, records: Records, rules: Rules) -> None:
        """Raises NotHome if the thing, or something in it, goes back to its owner and a caution does not let it."""
        thing = records.find(self.touches)
        if thing is not None and self.to_place == "returned":
            for record in (thing, *things_inside(thing, records)):
                check_goes_home(self, record, records, rules)

    def handles(self, record: Record, records: Records) -> Iterable[Record]:
        return once([record, *things_inside(record, records), *beside(record, self.tag, records)])

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        """Add one move to the ledger. Where the thing is follows from all of its moves in the order of their clocks,
        whichever the office heard first; moving the whole takes its pieces along, but none that is back with its
        owner."""
        if self.to_place is None:
            return False
        records.tx.run(
            """
            INSERT INTO custody_move (office_seq, thing_id, from_place, to_place, made_at)
            VALUES (:office_seq, :thing_id, :from_place, :to_place, :made_at)
            """,
            office_seq=source.office_seq,
            thing_id=record.record_id,
            from_place=self.from_place,
            to_place=self.to_place,
            made_at=source.made_at,
        )
        own = self.members(*self.personal_in(self.__dict__)[1:])
        record.put(f"moves/{self.move_id}", self.members(*MOVE) | dict.fromkeys(own, ""), source)
        if own and not source.words_gone:
            record.put(f"handed/{self.move_id}", own, source)
        for name in [f"whereabouts/{self.tag}"] if self.tag else whereabouts_of(record):
            move_id, last = last_move(record, name.partition("/")[2] or None)
            made = last.operation_id, last.made_by, last.made_at, last.device_id, last.device_seq
            record.put(name, {"move_id": move_id, **last.value}, Source(*made, source.office_seq))
        return False


#: In all containers of one load together, so that the largest fits into a request.
MOST_PACKED = 20_000


class Packed(BaseModel):
    """What lay in a container when it left, directly: the numbers of items, of their pieces, of other containers."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    container: Tag
    numbers: Annotated[list[Tag], Field(max_length=2000)]


class CountLoad(OfDay):
    """Whoever takes a load has counted it by hand: crates and loose pieces, beside how many were scanned.

    `numbers` are those that were scanned, each of a container or a loose piece: what left by name, or what came.
    `packed` says what lay in each container of what leaves, at any depth, so that what is taken out or put in on the
    way changes nothing about what left; null if nobody said. `driver` is who drives what leaves. `of_load` is the load
    that this is the arrival of: what left and did not come is read off the two. The office asks for no such load, since
    it may hear of the arrival first.
    """

    roles = frozenset({"table", "porter", "door", "desk"})

    sets_too = ("loads/{load_id}",)

    kind: Literal["count_load"]
    load_id: Identifier
    to_place: Place
    at: Line
    given_by: Annotated[Line, Field(min_length=1)]
    taken_by: Annotated[Line, Field(min_length=1)]
    crates: Count
    pieces: Count
    scanned_crates: Count
    scanned_pieces: Count
    numbers: Annotated[list[Tag], Field(max_length=2000)] | None = None
    packed: Annotated[list[Packed], Field(max_length=2000)] | None = None
    driver: Line = ""
    of_load: Identifier | None = None

    @model_validator(mode="after")
    def check_packed(self) -> CountLoad:
        """It fits into one request."""
        if sum(len(container.numbers) for container in self.packed or []) > MOST_PACKED:
            raise ValueError(f"a load has at most {MOST_PACKED} numbers in its containers: count it as two")
        return self

    @classmethod
    def odd_form(cls, sent: dict[str, Any]) -> str:
        return odd_names(sent)

    def apply_to(self, record: Record, records: Records, source: Source) -> bool:
        members = {name: value for name, value in self.members(*LOAD_IF_SAID).items() if value}
        record.put(f"loads/{self.load_id}", self.members(*LOAD) | members, source)
        return False


def odd_names(sent: dict[str, Any]) -> str:
    """What is wrong with the names of who gave and who took, which could be blank once; "" if nothing is. Words that
    were erased since are empty, and no names any more."""
    for name in ("given_by", "taken_by"):
        said = sent.get(name)
        if said and not any(map(str.isalnum, said)):
            return f"{name}: it is somebody's name, with a letter or a figure in it."
    return ""


def in_order(moves: Iterable[tuple[str, FieldValue]]) -> list[tuple[str, FieldValue]]:
    """Moves by their ids, in the order in which they were made: by the clocks as they were put right, then by id."""
    return sorted(moves, key=lambda move: (instant(move[1].made_at), move[0]))


def last_move(thing: Record, tag: str | None) -> tuple[str, FieldValue]:
    """The last move of a thing, or of the piece of it that has a tag, which went along with the whole; with its id.

    What is back with its owner the whole passes over, unless all of it comes from there."""
    moves = [
        (name.removeprefix("moves/"), move)
        for name, move in thing.fields.items()
        if name.startswith("moves/")
    ]
    last: tuple[str, FieldValue] | None = None
    for move_id, move in in_order(move for move in moves if move[1].value["tag"] in (None, tag)):
        is_whole = move.value["tag"] is None
        is_away = last is not None and last[1].value["tag"] and last[1].value["to_place"] == "returned"
        if not (is_whole and is_away and move.value["from_place"] != "returned"):
            last = move_id, move
    assert last is not None, "a move was put on record before this"
    return last


def whereabouts_of(thing: Record) -> list[str]:
    """The fields that say where a thing and its pieces are."""
    return ["whereabouts", *thing.values("whereabouts/")]
