"""A visit whose things are tied, moved, taken back and brought again, at random, beside a plain note of the truth."""

from __future__ import annotations

import random
from collections.abc import Awaitable, Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

from intake.custody.day_on_record import DayOnRecord, day_on_record
from intake.custody.owed_signatures import signed_of
from intake.custody.receipt_lines import receipt_line
from intake.tagging.tags import codes
from tests.builders import a_crate, a_day, a_visit, an_item, put_in
from tests.door import Door

PLACES = ("holding", "van", "store")


@dataclass
class PieceNoted:
    """`number` is what is tied to it now, "" for none; `lost` the one that it had, `went` are those under which
    it ever went, and `stale` those that were left on it when it went, and are on no piece that is here."""

    number: str = ""
    is_home: bool = False
    comings: int = 0
    lost: str = ""
    went: list[str] = field(default_factory=list)
    stale: list[str] = field(default_factory=list)


@dataclass
class ThingNoted:
    """`signed` says how often each piece that was here had come, when it was signed for; `owes`: nobody signed for it,
    the last time that all of it went. `went_at_once`: it went whole, and nothing has come again."""

    item_id: str
    pieces: list[PieceNoted]
    had_number: bool = False
    signed: dict[int, int] = field(default_factory=dict)
    owes: bool = False
    went_at_once: bool = False
    doubled: str = ""  # the record behind it, and its number while that is on it
    second: str = ""

    @property
    def here(self) -> list[PieceNoted]:
        return [piece for piece in self.pieces if not piece.is_home]

    @property
    def comings(self) -> dict[int, int]:
        """How often each piece that is here has come again."""
        return {at: piece.comings for at, piece in enumerate(self.pieces) if not piece.is_home}

    @property
    def is_covered(self) -> bool:
        """Whether a receipt for what was left is for each piece that is here, since it last came."""
        return bool(self.here) and self.comings.items() <= self.signed.items()

    @property
    def is_home(self) -> bool:
        return not self.here

    @property
    def live(self) -> list[str]:
        """The numbers that no tag removal took off, those that are with the owner too."""
        return [tag for piece in self.pieces for tag in [piece.number, *piece.stale] if tag]

    @property
    def is_double(self) -> bool:
        """Whether a second number is on it here, and nothing of it ever went back."""
        return bool(self.second) and not self.is_home

    @property
    def numbers_here(self) -> list[str]:
        here = [piece.number for piece in self.here if piece.number]
        return [*here, self.second] if self.second and self.here else here


class Played:
    """One visit at the door. `steps` plays so many; each is something that a screen, or another client, may do."""

    def __init__(self, door: Door, chance: random.Random) -> None:
        self.door, self.chance = door, chance
        self.things: list[ThingNoted] = []
        self.visit_id = self.crate_id = self.day_id = ""
        self._numbers: Iterator[str] = codes(1000 + chance.randrange(1000))
        self._signed = 0

    async def begin(self) -> None:
        day = await self.door.keep(a_day(self.door.ids))
        visit = await self.door.keep(a_visit(self.door.ids, day["day_id"]))
        crate = await self.door.keep(a_crate(self.door.ids, day["day_id"], next(self._numbers)))
        self.day_id, self.visit_id, self.crate_id = day["day_id"], visit["visit_id"], crate["container_id"]
        for pieces in (1, 2, 3):
            item = await self.door.keep(an_item(self.door.ids, visit))
            self.things.append(ThingNoted(item["item_id"], [PieceNoted() for _ in range(pieces)]))

    async def step(self) -> str:
        """Do something that can be done; its name and which thing's turn it was."""
        thing = self.chance.choice(self.things)
        steps: list[Callable[[ThingNoted], Awaitable[bool]]] = [
            *(self.tie, self.tie, self.tie, self.pack, self.move, self.lose),
            *(
                self.back_by_screen,
                self.back_by_move,
                self.piece_back,
                self.again,
                self.again,
                self.moved_again,
            ),
            *(self.sign_left, self.sign_left, self.sign_back),
            *(self.double, self.move_double),
        ]
        while True:
            done = self.chance.choice(steps)
            if await done(thing):
                return f"{done.__name__} {self.things.index(thing)}"
            thing = self.chance.choice(self.things)

    async def tie(self, thing: ThingNoted) -> bool:
        """A number for a piece that is here and has none."""
        piece = next((piece for piece in thing.here if not piece.number), None)
        if piece is None or thing.is_home:
            return False
        await self._tie(thing, piece)
        return True

    async def again(self, thing: ThingNoted) -> bool:
        """A piece comes again: it gets a fresh number."""
        home = [piece for piece in thing.pieces if piece.is_home]
        if not home:
            return False
        piece = self.chance.choice(home)
        self._comes(thing, piece)
        if piece.number:
            piece.stale.append(piece.number)
        thing.second = ""  # left on it when it went
        await self._tie(thing, piece)
        return True

    async def moved_again(self, thing: ThingNoted) -> bool:
        """All of it comes again at once, by a move: with the numbers that were left on it, if any were."""
        is_whole = not thing.had_number or all(piece.number and not piece.stale for piece in thing.pieces)
        if not (is_whole and thing.is_home and thing.went_at_once):
            return False
        await self._move(thing, "table", None, "returned")
        for piece in thing.pieces:
            self._comes(thing, piece)
        return True

    async def pack(self, thing: ThingNoted) -> bool:
        """What has a number here is scanned into the crate."""
        if not thing.numbers_here:
            return False
        tag = self._as_scanned(thing)
        await self.door.keep(self._put_in(thing, self.crate_id, tag))
        return True

    async def move(self, thing: ThingNoted) -> bool:
        if not thing.numbers_here:
            return False
        await self._move(thing, self.chance.choice(PLACES), self._as_scanned(thing))
        return True

    async def double(self, thing: ThingNoted) -> bool:
        """It was recorded twice, with a number each: the second record stands behind the first."""
        if len(thing.pieces) > 1 or thing.doubled or not thing.numbers_here:
            return False
        thing.doubled, thing.second = self.door.ids.id(), next(self._numbers)
        thing.went_at_once = False
        head = {"visit_id": self.visit_id, "day_id": self.day_id, "item_id": thing.doubled}
        await self.door.keep(("open_item", head))
        tied = {"item_id": thing.doubled, "tag": thing.second, "piece": 1, "of": 1, "mark": ""}
        await self.door.keep(("tie_tag", tied))
        merged = {"item_id": thing.doubled, "into_id": thing.item_id, "why": "one mark", "seen": None}
        await self.door.keep(("merge_item", merged))
        return True

    async def move_double(self, thing: ThingNoted) -> bool:
        """It is moved, or given back, by the number of the second record."""
        if not thing.is_double:
            return False
        place = self.chance.choice([*PLACES, "returned"])
        if place == "returned":
            await self._goes_whole(thing, thing.doubled)
        else:
            await self._move(thing, place, None, thing_id=thing.doubled)
        return True

    async def lose(self, thing: ThingNoted) -> bool:
        piece = next((piece for piece in thing.here if piece.number), None)
        if piece is None:
            return False
        await self._untie(thing, piece.number, self.chance.choice(["lost", "fallen-off", "damaged"]))
        piece.number, piece.lost = "", piece.number
        thing.went_at_once = False
        return True

    async def back_by_screen(self, thing: ThingNoted) -> bool:
        """All of it goes back, and its tags are void."""
        if not thing.numbers_here:
            return False
        tags = thing.live
        for tag in tags:
            await self._untie(thing, tag, "taken-back")
        await self._untie_second(thing)
        await self._goes_whole(thing)
        thing.second = ""
        for piece in thing.pieces:
            piece.number, piece.stale = "", []
        return True

    async def back_by_move(self, thing: ThingNoted) -> bool:
        """All of it goes back, and its tags stay on it."""
        if thing.is_home:
            return False
        await self._goes_whole(thing)
        return True

    async def piece_back(self, thing: ThingNoted) -> bool:
        """One piece goes back, its tag void or left on it, by a move or not."""
        piece = next((piece for piece in thing.here if piece.number), None)
        if piece is None:
            return False
        how = self.chance.choice(["moved", "void", "both"])
        if how != "void":
            await self._move(thing, "returned", piece.number)
        if how != "moved":
            await self._untie(thing, piece.number, "taken-back")
            await self._untie_second(thing)
        piece.went += list(filter(None, [piece.number, thing.second]))
        piece.is_home = True
        if how != "moved":
            piece.number = thing.second = ""
        thing.went_at_once = False
        thing.owes = thing.is_home
        return True

    async def sign_left(self, thing: ThingNoted) -> bool:
        """A receipt for what is left, unless a number that was signed for is gone: first it gets another."""
        signing = [one for one in self.things if not one.is_home and (one.numbers_here or one.is_covered)]
        untied = any(one.is_covered and len(one.numbers_here) < len(one.here) for one in signing)
        if not signing or untied or all(one.is_covered for one in signing):
            return False
        records, replaces = await self.door.database.read(self._as_on_record)
        lines: list[dict[str, Any]] = [
            {"item_id": one.item_id, "tags": now.tags, "words": now.words, "class_id": now.class_id}
            for one in signing
            for now in [receipt_line(records.things[one.item_id], records)]
        ]
        for one, line in zip(signing, lines, strict=True):
            assert sorted(line["tags"]) == sorted(one.numbers_here), "a receipt names what is here"
            one.signed = one.comings
        await self._sign("left", lines, replaces)
        return True

    async def sign_back(self, thing: ThingNoted) -> bool:
        """A receipt for what went back, under the numbers that it ever went under."""
        owing = [one for one in self.things if one.owes and one.had_number]
        if not owing:
            return False
        lines = []
        for one in owing:
            went = [tag for piece in one.pieces for tag in piece.went]
            lines.append({"item_id": one.item_id, "tags": went, "words": "as it went", "class_id": None})
            one.owes = False
        await self._sign("taken-back", lines, None)
        return True

    def _comes(self, thing: ThingNoted, piece: PieceNoted) -> None:
        piece.is_home = False
        piece.comings += 1
        thing.owes = thing.went_at_once = False

    async def _goes_whole(self, thing: ThingNoted, thing_id: str = "") -> None:
        await self._move(thing, "returned", None, thing_id=thing_id)
        for piece in thing.here:
            piece.is_home = True
            piece.went += list(filter(None, [piece.number or piece.lost, thing.second]))
        thing.owes = thing.went_at_once = True

    async def _tie(self, thing: ThingNoted, piece: PieceNoted) -> None:
        piece.number, piece.lost = next(self._numbers), ""
        thing.had_number = True
        thing.went_at_once = False
        body = {
            "item_id": thing.item_id,
            "tag": piece.number,
            "piece": 1 + thing.pieces.index(piece),
            "of": len(thing.pieces),
            "mark": "",
        }
        await self.door.keep(("tie_tag", body))

    async def _untie(self, thing: ThingNoted, tag: str, why: str) -> None:
        body = {"item_id": thing.item_id, "tag": tag, "why": why, "replaced_by": None}
        await self.door.keep(("remove_tag", body))

    async def _untie_second(self, thing: ThingNoted) -> None:
        """What goes back goes under all its numbers."""
        if thing.second:
            body = {"item_id": thing.doubled, "tag": thing.second, "why": "taken-back", "replaced_by": None}
            await self.door.keep(("remove_tag", body))

    def _as_scanned(self, thing: ThingNoted) -> str | None:
        """Of a thing with one number a scan is of the whole, as it is on a porter's screen."""
        tag = self.chance.choice(thing.numbers_here)
        return tag if len(thing.live) > 1 else None

    def _put_in(self, thing: ThingNoted, crate_id: str, tag: str | None) -> tuple[str, dict[str, Any]]:
        kind, body = put_in(thing.item_id, crate_id)
        return kind, {**body, "tag": tag}

    async def _move(
        self, thing: ThingNoted, place: str, tag: str | None, from_place: str = "table", thing_id: str = ""
    ) -> None:
        body = {
            "move_id": self.door.ids.id(),
            "thing_id": thing_id or thing.item_id,
            "from_place": from_place,
            "to_place": place,
            "at": "",
            "given_by": "Ana",
            "taken_by": "Hester",
            "count": None,
            "signed": False,
            "tag": tag,
        }
        await self.door.keep(("record_move", body))

    async def _sign(self, what: str, lines: list[dict[str, Any]], replaces: str | None) -> None:
        self._signed += 1
        body = {
            "visit_id": self.visit_id,
            "receipt_id": self.door.ids.id(),
            "number": f"Q01/{self._signed}",
            "what": what,
            "lines": lines,
            "replaces": replaces,
            "house_by": "Hester",
            "on_paper": "pad 1, no. 7",
            "signed_by": "Auda Gloamwell",
            "strokes": "",
            "salt": "0" * 32,
        }
        await self.door.keep(("sign_receipt", body))

    def _as_on_record(self, tx: Any) -> tuple[DayOnRecord, str | None]:
        """The day, and the newest receipt for what was left that holds."""
        day = day_on_record(tx, self.day_id)
        [visit] = day.visits
        standing = signed_of(visit, day.items, day).standing
        return day, standing[-1].receipt_id if standing else None
