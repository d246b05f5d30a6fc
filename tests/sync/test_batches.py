"""However operations are put together into batches, the office ends the same: answers, log, tables and pages.

A batch works on records in memory, and is answered half by half where a mistake of ours turns up in it. The
yardstick is the plainest way: one operation a batch. Seeds are printed by pytest as the parameter.
"""

from __future__ import annotations

import hashlib
import random
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import pytest

from intake.database import Database, opened
from intake.opening import name_office
from intake.records.record import Record
from intake.records.values import Source
from intake.sync.operations import answer_batch
from intake.sync.verifying import find_faults
from intake.tagging.tags import codes
from tests.builders import Ids, a_day, a_fact, a_finding, a_tie, a_visit, a_zone, an_item
from tests.door import Door
from tests.samples import sampled
from tests.tables import digests

DEVICE = "00000000-0000-7000-8000-00000000000d"
NUMBERS = [tag for tag, _ in zip(codes(77), range(4), strict=False)]


def sends_unreadable(seed: int) -> bool:
    return seed % 2 == 1


WITH_REFUSALS: list[int] = sampled(range(12), of=3, kind=sends_unreadable)
WITH_MISTAKES: list[int] = sampled(range(6), of=3, kind=sends_unreadable)


class Made:
    """A device's operations of one invented hour: many go wrong, since the same few things meet again and again."""

    def __init__(self, seed: int) -> None:
        self._chance, self._ids = random.Random(seed), Ids(seed)
        # One that cannot be read is in no log, and whatever refers to nothing then waits for it to come again.
        self._unreadable = sends_unreadable(seed)
        self.operations: list[dict[str, Any]] = []
        day = self._add(a_day(self._ids))
        visit = self._add(a_visit(self._ids, day["day_id"]))
        self._day_id = day["day_id"]
        self._items = [self._add(an_item(self._ids, visit))["item_id"] for _ in range(3)]
        self._crates = [
            self._add(("open_container", {**self._of_day(), "container_id": self._ids.id(), **crate}))[
                "container_id"
            ]
            for crate in (
                {"number": NUMBERS[3], "kind_of": "crate"},
                {"number": NUMBERS[2], "kind_of": "box"},
            )
        ]
        for _ in range(120):
            self._add(self._one())

    def _of_day(self) -> dict[str, Any]:
        return {"day_id": self._day_id}

    def _add(self, made: tuple[str, dict[str, Any]]) -> dict[str, Any]:
        kind, body = made
        operation = {
            "operation_id": self._ids.id(),
            "kind": kind,
            "made_at": self._ids.instant(),
            "made_by": "hester",
            "device_id": DEVICE,
            "device_seq": len(self.operations) + 1,
            **body,
        }
        self.operations.append(operation)
        return operation

    def _seen(self) -> str | None:
        return (
            None if self._chance.random() < 0.5 else str(self._chance.choice(self.operations)["operation_id"])
        )

    def _earlier(self, kind: str, name: str) -> str:
        """The id of something that was made before, or of nothing at all."""
        return str(
            self._chance.choice(
                [one[name] for one in self.operations if one["kind"] == kind] or [self._ids.id()]
            )
        )

    def _one(self) -> tuple[str, dict[str, Any]]:
        chance, ids = self._chance, self._ids
        item_id = chance.choice([*self._items, *self._items, self._ids.id()])
        zone = chance.choice(["head", "back", "ears/proper-left"])
        match chance.randrange(15):
            case 0 | 1:
                value = chance.choice(["plush", "mohair", "tin"])
                return a_fact(item_id, chance.choice(["maker", "materials"]), value, seen=self._seen())
            case 2:
                return a_zone(item_id, zone, state=chance.choice(["clear", "finding"]), seen=self._seen())
            case 3:
                return a_finding(ids, item_id, zone, withdrawn=chance.random() < 0.3)
            case 4:
                return "examine_rest", {"item_id": item_id, "zones": ["head", "back", "tail"], "light": None}
            case 5 | 6:
                return a_tie(item_id, chance.choice(NUMBERS))
            case 7:
                why = chance.choice(["lost", "on-another-item"])
                tag = chance.choice(NUMBERS)
                return "remove_tag", {"item_id": item_id, "tag": tag, "why": why, "replaced_by": None}
            case 8:
                told = {
                    "caution_id": ids.id(),
                    "hazard": "H26",
                    "sign": "dust",
                    "zone": None,
                    "called": "",
                    "place": "",
                }
                level = chance.choice(["red", "amber"])
                still = ["photo", "tag", "move", "check-in"] if level == "red" else None
                return "raise_caution", {
                    "item_id": item_id,
                    "level": level,
                    "seen": None,
                    "still_allowed": still,
                    **told,
                }
            case 9:
                decision = chance.choice(["cleared", "cleared", "isolated"])
                told = {
                    "decision": decision,
                    "decided_by": "an expert",
                    "cleared_for": "",
                    "place": "",
                    "note": "",
                }
                caution_id = self._earlier("raise_caution", "caution_id")
                of = {
                    "item_id": item_id,
                    "caution_id": caution_id,
                    "paper_given": False,
                    "seen": self._seen(),
                }
                return "decide_caution", {**of, **told}
            case 10:
                inside = chance.choice([*self._crates, None])
                thing = chance.choice([item_id, *self._crates])
                return "put_inside", {"thing_id": thing, "container_id": inside, "seen": self._seen()}
            case 11:
                places = {"from_place": "table", "to_place": chance.choice(["van", "isolation"]), "at": ""}
                people = {"given_by": "hester", "taken_by": "abel", "count": None, "signed": False}
                return "record_move", {"move_id": ids.id(), "thing_id": item_id, **places, **people}
            case 12:
                about = chance.choice(self.operations)["operation_id"]
                choose = chance.choice(["kept", "other"])
                told = {"record_id": item_id, "disagreement_id": about, "choose": choose, "note": ""}
                return "settle_disagreement", {**told, "salt": "0" * 32}
            case 13:
                self._crates.append(ids.id())
                box = {"container_id": self._crates[-1], "number": chance.choice(NUMBERS), "kind_of": "box"}
                return "open_container", {**self._of_day(), **box}
            case _:
                field = "no-such-field" if self._unreadable else "packaging"
                return a_fact(item_id, field, "box")


async def answered(database: Database, batches: list[list[dict[str, Any]]]) -> list[dict[str, Any]]:
    told = []
    for batch in batches:
        told += await database.write(
            lambda tx, batch=batch: answer_batch(  # type: ignore[misc]
                tx, batch, device_id=DEVICE, role="manager", received_at="2026-03-14T12:00:00.000Z"
            )
        )
    return told


@asynccontextmanager
async def named(file: Path) -> AsyncIterator[Database]:
    """The file of an office that was started once: it says which office it is."""
    async with opened(file) as database:
        await database.write(lambda tx: name_office(tx, None))
        yield database


def cut_up(made: list[dict[str, Any]], chance: random.Random) -> list[list[dict[str, Any]]]:
    """The operations in batches of any size; now and then one is sent twice in its batch."""
    batches: list[list[dict[str, Any]]] = []
    rest = list(made)
    while rest:
        size = chance.choice([1, 2, 7, 40])
        batches.append(rest[:size])
        rest = rest[size:]
        if chance.random() < 0.3:
            batches[-1] = [*batches[-1], chance.choice(batches[-1])]
    return batches


@pytest.mark.parametrize("seed", WITH_REFUSALS)
async def test_batches_of_any_size_end_the_same(tmp_path: Path, seed: int) -> None:
    made, chance = Made(seed).operations, random.Random(seed)
    cut = cut_up(made, chance)
    async with named(tmp_path / "one.sqlite3") as plain, named(tmp_path / "many.sqlite3") as mixed:
        expected = await answered(plain, [[operation] for operation in made])
        told = await answered(mixed, cut)
        by_id = {answer["operation_id"]: answer for answer in expected}
        assert all(answer == by_id[answer["operation_id"]] for answer in told)
        assert {answer["operation_id"] for answer in told} == set(by_id)
        assert await mixed.read(digests) == await plain.read(digests)
        log = "SELECT * FROM operation_log ORDER BY office_seq"
        chain = await plain.read(lambda tx: [tuple(row) for row in tx.all(log)])
        assert await mixed.read(lambda tx: [tuple(row) for row in tx.all(log)]) == chain
        assert await find_faults(mixed, tmp_path) == []
        codes_told = {answer["problem"]["code"] for answer in expected if answer["problem"]}
        assert {"tag_taken", "unreadable" if seed % 2 else "not_found"} <= codes_told
        assert any(answer["disagreement"] for answer in expected)


class Mistake(Exception):
    """A mistake of ours."""


@pytest.mark.parametrize("seed", WITH_MISTAKES)
async def test_mistakes_inside_apply_end_the_same_too(
    tmp_path: Path, seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Some operations meet a mistake of ours in the middle of what they do; all others end as if those were not."""
    made, chance = Made(seed).operations, random.Random(seed)
    opening = {operation["operation_id"] for operation in made[:7]}
    put = Record.put

    def put_or_fail(record: Record, name: str, value: Any, source: Source) -> None:
        if source.operation_id not in opening and hash_of(source.operation_id, seed) % 10 < 3:
            if hash_of(source.operation_id, seed) % 2:
                put(record, name, value, source)
            raise Mistake
        put(record, name, value, source)

    monkeypatch.setattr(Record, "put", put_or_fail)
    async with named(tmp_path / "one.sqlite3") as plain, named(tmp_path / "many.sqlite3") as mixed:
        expected = await answered(plain, [[operation] for operation in made])
        answers = await answered(mixed, cut_up(made, chance))
        by_id = {answer["operation_id"]: answer for answer in expected}
        assert all(answer == by_id[answer["operation_id"]] for answer in answers)
        assert await mixed.read(digests) == await plain.read(digests)
        assert await find_faults(mixed, tmp_path) == []
        problems = [answer["problem"]["code"] for answer in expected if answer["problem"]]
        assert problems.count("operation_fault") > 5
        assert sum(answer["outcome"] == "kept" for answer in expected) > 15


def hash_of(text: str, seed: int) -> int:
    return int.from_bytes(hashlib.sha256(f"{seed} {text}".encode()).digest()[:4], "big")


async def test_who_is_on_the_list_of_a_day_of_the_same_batch_is_known(door: Door) -> None:
    """At a manager's device whoever is on any day's list may work on another's: of a day that was opened in the same
    batch as well, of a list that was added to in it, and of both the later day's word counts."""
    item = await door.item()
    day, (kind, more) = a_day(door.ids), a_day(door.ids)
    person = {"person_id": "ana", "name": "Ana", "roles": []}
    sent = [
        door.make(a_fact(item["item_id"], "materials", "tin"), made_by="ana"),
        door.make(day),
        door.make(("add_person", {"day_id": day[1]["day_id"], "person": person})),
        door.make(a_fact(item["item_id"], "maker", "unmarked"), made_by="ana"),
        door.make((kind, {**more, "people": [{"person_id": "odile", "name": "Odile", "roles": []}]})),
        door.make(a_fact(item["item_id"], "packaging", "box"), made_by="odile"),
        door.make(a_fact(item["item_id"], "packaging", "box"), made_by="nobody"),
    ]
    answers = await door.send(*sent)
    outcomes = [answer["problem"]["code"] if answer["problem"] else answer["outcome"] for answer in answers]
    assert outcomes == ["person_not_on_day", *["kept"] * 5, "person_not_on_day"]
