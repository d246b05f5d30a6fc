"""Every word of every kind, marked, and an erasure: those of the owner are nowhere afterwards, all others stand."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Awaitable, Callable
from typing import Any, get_args

import pytest

from intake.arrival.items import WORDS, SetItem
from intake.arrival.visits import SetConsignor, SetVisit
from intake.custody.moves import OF_OWNER
from intake.examination.findings import TOLD
from intake.operation import KINDS
from intake.tagging.tags import codes
from tests.builders import a_settlement, a_tie
from tests.closings import named_now
from tests.door import Door
from tests.sync.any_operation import AnyOperation

#: What is the owner's: who they are, what they said, need, bring and sign, and why somebody held one of two values.
#: Everything else is what the house saw of the thing, where it went, and who of the house did what: common practice.
OWNERS = {
    "open_visit kinds",
    "set_visit value of kinds",
    "set_visit value of needs",
    "set_visit value of note",
    *(f"set_consignor value of {field}" for field in get_args(SetConsignor.model_fields["field"].annotation)),
    "set_item value of told_words",
    "record_finding note of the owner",
    "correct_told_note value",
    "sign_receipt signed_by",
    "sign_receipt lines words",
    "sign_receipt house_by",
    "sign_receipt head house",
    "sign_receipt head place",
    "settle_disagreement note",
    "record_move given_by of the owner",
    "record_move taken_by of the owner",
    "record_move at of the owner",
}
MARK = re.compile(r"Tumblewick\d+x")
TEXTS_OF_VISIT = {"ticket", "kinds", "needs", "note", "table_id"}
UNUSED = next(codes(2000))  # a number that no other operation here names
ROUNDS = 3
MOST_TRIES = 60


class Marking(AnyOperation):
    """Makes operations in which every text that takes any words is a word of its own.

    Each kind draws from chance of its own, so that a new one leaves what the others say as it was.
    """

    def __init__(self, seed: int, door: Door) -> None:
        super().__init__(random.Random(seed), door.ids, door.device_id)
        self._chances = {kind: random.Random(f"{seed} {kind}") for kind in KINDS}
        self.where: dict[str, str] = {}  # each mark: where it stands

    def make(self, kind: str) -> dict[str, Any]:
        self._chance = self._chances[kind]
        return super().make(kind)

    def _text(self, pattern: str) -> str:
        return self.mark() if pattern in ("", r"\S") else super()._text(pattern)

    def mark(self) -> str:
        self.where[mark := f"Tumblewick{len(self.where)}x"] = ""
        return mark

    def note_where(self, operation: dict[str, Any]) -> None:
        fact = f" of {operation['field']}" if "field" in operation else ""
        for path, text in texts_in(operation):
            if operation["kind"] == "record_move" and path in OF_OWNER:
                fact = " of the owner" if operation[OF_OWNER[path]] == "returned" else ""
            if operation["kind"] == "record_finding" and path == "note":
                fact = " of the owner" if operation["certainty"] == TOLD else ""
            for mark in MARK.findall(text):
                self.where[mark] = f"{operation['kind']} {path}{fact}"


def texts_in(value: Any, path: str = "") -> list[tuple[str, str]]:
    """Every text in an operation, with the names of the members that lead there."""
    if isinstance(value, str):
        return [(path.strip(), value)]
    if isinstance(value, dict):
        return [one for name, inner in value.items() for one in texts_in(inner, f"{path} {name}")]
    if isinstance(value, list):
        return [one for inner in value for one in texts_in(inner, path)]
    return []


def facts(kind: str) -> list[str | None]:
    """The facts that a kind sets one of, so that each of them is set; [None] for other kinds."""
    match kind:
        case "set_item":
            return [*sorted(WORDS)]
        case "set_visit":
            return [
                one for one in get_args(SetVisit.model_fields["field"].annotation) if one in TEXTS_OF_VISIT
            ]
        case "set_consignor":
            return list(get_args(SetConsignor.model_fields["field"].annotation))
        case "record_move":
            return ["returned", None]
        case "record_finding":
            return [TOLD, None]
    return [None]


def make(marking: Marking, kind: str, fact: str | None) -> dict[str, Any]:
    operation = marking.make(kind)
    if kind == "record_move" and fact:
        operation["to_place"] = fact
    elif kind == "record_finding" and fact:
        operation["certainty"] = fact
    elif fact is not None:
        operation |= {"field": fact, "value": marking.mark(), "seen": None}
    if kind == "raise_caution":
        operation["level"] = "note"  # nothing is stopped by it
    if kind == "record_incident":
        operation["level"] = "note"
    if kind == "close_day":
        operation |= {"closed_by": marking.mark(), "second_by": marking.mark(), "second_device": None}
    return operation


async def everywhere(door: Door) -> str:
    """All that stands in any table, the engine's own among them, as text."""

    def look(tx: Any) -> str:
        tables = [row["name"] for row in tx.all("SELECT name FROM sqlite_master WHERE type = 'table'")]
        return "\n".join(repr([tuple(row) for row in tx.all(f'SELECT * FROM "{table}"')]) for table in tables)

    return await door.database.read(look)


@pytest.fixture(autouse=True)
def nothing_is_named_wrongly(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tests.sync.any_operation.WRONG", 0)


async def fill(door: Door, marking: Marking) -> str:
    """One visit, and every kind on it with every text marked; two values of a field of each record are settled. The
    visit's id."""
    marked_kinds: set[str] = set()

    async def send(operation: dict[str, Any]) -> None:
        marking.note_where(operation)
        [answer] = await door.send(operation)
        assert answer["problem"] is None or answer["problem"]["code"] != "operation_fault", answer
        if answer["outcome"] == "kept":
            marked_kinds.add(operation["kind"])
            marking.learn(operation, disagreement=answer["disagreement"])

    opening = ["open_day", "open_visit", "open_item", "open_item", "open_container", "raise_caution"]
    first = [
        *opening,
        *["record_move"] * ROUNDS,
    ]  # before anything is found on a thing that holds it where it is
    others = sorted(set(KINDS) - {*first, "erase_consignor", "close_day", "merge_item"})
    for kind in [*first, *others * ROUNDS, *["merge_item"] * 4 * ROUNDS]:
        for fact in facts(kind):
            await send(make(marking, kind, fact))
    await send(make(marking, "raise_caution", None))  # on a thing of which the others speak by now
    for kind in sorted(set(others) - marked_kinds):  # those that met nothing yet to build upon
        for _ in range(MOST_TRIES):
            if kind not in marked_kinds:
                await send(make(marking, kind, None))
    for day_id in list(marking._known["day_id"]):
        said = await named_now(door, day_id)
        reasons = [marking.mark() for _ in said["reasons"]]
        await send(
            make(marking, "close_day", None) | {"day_id": day_id, "named": said["named"], "reasons": reasons}
        )
    await settle_late_act(door, marking, send)
    door.next_seq = marking.next_seq
    for record_id in await door.record_ids():
        record = await door.record(record_id)
        for between in record["disagreements"]:
            kind, body = a_settlement(record["record_id"], between["disagreement_id"], "standing")
            await send(door.make((kind, {**body, "note": marking.mark(), "salt": "0" * 32})))
    [issued, *_] = marking._kept["issue_roll"]
    another = make(marking, "open_day", None)
    await send(another)
    run = {name: issued[name] for name in ("first_tag", "last_tag", "count")}
    onward = {"day_id": another["day_id"], "from_roll_id": issued["roll_id"], "roll_id": door.ids.id()}
    await send(make(marking, "carry_roll", None) | run | onward)
    assert marked_kinds == set(KINDS) - {"erase_consignor"}, "every kind is kept with its words"
    return str(marking._known["visit_id"][0])


async def settle_late_act(door: Door, marking: Marking, send: Callable[[Any], Awaitable[None]]) -> None:
    """What another device did to a thing that was stopped by then, and what somebody found who looked."""
    day_id, visit_id = (marking._known[name][0] for name in ("day_id", "visit_id"))
    item = {**make(marking, "open_item", None), "day_id": day_id, "visit_id": visit_id}
    await send(item)
    stop = make(marking, "raise_caution", None)
    await send({**stop, "item_id": item["item_id"], "level": "red", "still_allowed": [], "seen": None})
    late = await door.other().keep(a_tie(item["item_id"], UNUSED), heard_stops=[])
    settled = {"item_id": item["item_id"], "late_id": late["operation_id"], "seen": None}
    await send({**make(marking, "settle_late_act", None), **settled})


async def test_what_an_owner_said_is_nowhere_once_it_is_erased(door: Door) -> None:
    marking = Marking(4, door)
    visit_id = await fill(door, marking)
    before = set(MARK.findall(await everywhere(door)))
    said = {marking.where[mark] for mark in before}
    assert said >= OWNERS, "each of them was said"
    await door.keep(("erase_consignor", {"visit_id": visit_id}))
    left = {marking.where[mark] for mark in MARK.findall(await everywhere(door))}
    assert left & OWNERS == set()
    assert left == said - OWNERS, "what is not the owner's stands"

    told = [json.dumps(await door.feed(role=role)) for role in ("door", "table", "porter", "desk", "manager")]
    for record_id in await door.record_ids():
        told.append(json.dumps(await door.record(record_id)))
        told.append(json.dumps(await door.history(record_id)))
    assert {marking.where[mark] for mark in MARK.findall("".join(told))} & OWNERS == set()
    assert await door.faults() == []
    await door.rebuild()
    assert {marking.where[mark] for mark in MARK.findall(await everywhere(door))} & OWNERS == set()


def test_personal_are_the_words_of_facts_that_can_be_erased() -> None:
    assert SetItem.personal_in({"field": "told_words"}) == ("salt", "value")
    assert SetItem.personal_in({"field": "maker"}) == ()
    assert SetVisit.personal_in({"field": "stage"}) == ()
