"""Whatever operations of whatever kinds come, in whatever order: what must hold at the door holds.

Seeds come from hypothesis, which shrinks what it finds; the same office rules are then held against the device's.
"""

from __future__ import annotations

import asyncio
import json
import random
import tempfile
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from intake.operation import KINDS
from intake.records.record import Record
from intake.records.registries import DERIVATIONS
from intake.sync.kinds import STEPS
from tests.app_rules import said_by_app
from tests.builders import Ids
from tests.door import Door, at_the_door
from tests.samples import runs
from tests.sync.any_operation import AnyOperation

ROOT = Path(__file__).parents[2]
assert STEPS, "all kinds are gathered"
#: What a little world needs before anything can be done in it, more than once so that things meet.
FIRST = [
    "open_day",
    "open_visit",
    "open_item",
    "open_item",
    "open_container",
    "open_container",
    "raise_caution",
]
#: Kinds that make things stop, circle, merge or disagree come more often than others.
OFTEN = [
    "put_inside",
    "put_inside",
    "merge_item",
    "settle_disagreement",
    "decide_caution",
    "raise_caution",
    "tie_tag",
    "open_day",
    "add_person",
]
FAULT_CODES = {"operation_fault", "unreadable"}


@pytest.fixture(autouse=True)
def derived_is_current(monkeypatch: pytest.MonkeyPatch) -> None:
    """What follows from fields is remembered until one of its families changes: it is what would follow now."""
    remembered = Record.derived

    def derived(record: Record, name: str) -> Any:
        value = remembered(record, name)
        derive = DERIVATIONS.get((record.kind, name))
        assert derive is None or value == derive(record), name
        return value

    monkeypatch.setattr(Record, "derived", derived)


async def play(door: Door, other: Door, seed: int, kinds: list[str]) -> list[dict[str, Any]]:
    """Send one operation of each kind in turn, and look after each; to the other office in batches of any sizes.

    Those that were kept.
    """
    made = AnyOperation(random.Random(seed), door.ids, door.device_id)
    kept, sent, answers = [], [], []
    for kind in [*FIRST, *kinds]:
        operation = made.make(kind)
        before = await door.digests()
        [answer] = await door.send(operation)
        sent.append(operation)
        answers.append(answer)
        code = answer["problem"] and answer["problem"]["code"]
        assert code not in FAULT_CODES, (operation, answer)
        if answer["outcome"] == "kept":
            kept.append({**operation, **answer.get("ruled", {})})
            made.learn(operation, disagreement=answer["disagreement"])
        elif not answer["disagreement"]:
            assert await door.digests() == before, "a refused one leaves no trace"
    assert [answer for batch in cut_up(sent, seed) for answer in await other.send(*batch)] == answers
    assert await other.digests() == await door.digests(), "few batches end like many"
    return kept


def cut_up(sent: list[dict[str, Any]], seed: int) -> list[list[dict[str, Any]]]:
    """The operations in batches: all in one, or in a few that are cut by chance."""
    chance = random.Random(seed)
    cuts = sorted(chance.sample(range(1, len(sent)), chance.choice([0, 1, 3, len(sent) // 3])))
    return [sent[first:last] for first, last in pairwise([0, *cuts, len(sent)])]


async def circles(door: Door) -> list[str]:
    """Things that are inside themselves, and items that stand behind themselves, over however many."""
    found = []
    for name, member in (("inside", "container_id"), ("merged", "into_id")):
        rows = await door.database.read(
            lambda tx, name=name: tx.all("SELECT record_id, value FROM field WHERE name = :name", name=name)  # type: ignore[misc]
        )
        into = {row["record_id"]: json.loads(row["value"])[member] for row in rows}
        for start in into:
            passed, here = {start}, into[start]
            while here is not None and here not in passed:
                passed.add(here)
                here = into.get(here)
            found += [start] if here is not None else []
    return found


async def stopped_items(door: Door) -> dict[str, bool]:
    """Whether each item is stopped, by what the office answers to somebody who goes on with it."""
    found = {}
    for record_id in await door.record_ids():
        if (await door.record(record_id))["kind"] == "item":
            fact = {"item_id": record_id, "field": "heading", "value": "x", "seen": None}
            [answer] = await door.send(door.make(("set_item", fact)))
            found[record_id] = answer["outcome"] == "refused"
    return found


def run(seed: int, kinds: list[str]) -> tuple[list[dict[str, Any]], dict[str, bool]]:
    async def work() -> tuple[list[dict[str, Any]], dict[str, bool]]:
        with tempfile.TemporaryDirectory() as folder:
            async with (
                at_the_door(Path(folder), Ids(seed)) as door,
                at_the_door(Path(folder, "other"), Ids(seed)) as other,
            ):
                kept = await play(door, other, seed, kinds)
                assert await door.faults() == [], "a rebuild comes out equal"
                assert await circles(door) == []
                door.next_seq = len(FIRST) + len(kinds) + 1
                return kept, await stopped_items(door)

    return asyncio.run(work())


@settings(max_examples=runs(25, of=3), deadline=None, suppress_health_check=list(HealthCheck))
@given(
    st.integers(0, 10**6),
    st.lists(st.one_of(st.sampled_from(sorted(KINDS)), st.sampled_from(OFTEN)), min_size=10, max_size=45),
)
def test_whatever_comes_what_must_hold_holds(seed: int, kinds: list[str]) -> None:
    run(seed, kinds)


@pytest.mark.parametrize("seed", [1, 3, 6])
def test_what_was_settled_goes_with_the_owner(seed: int) -> None:
    run(seed, ["set_visit", "settle_disagreement"] * 4 + ["erase_consignor"])


def test_every_kind_is_kept_now_and_then() -> None:
    """The yardstick of the above: none of it would mean much if a kind were always refused."""
    kept_kinds: set[str] = set()
    asked = set(KINDS) - {"settle_late_act"}  # nothing is heard late of one device alone
    for seed in range(60):
        kept, _ = run(seed, [*random.Random(seed).sample(sorted(KINDS), len(KINDS)), *OFTEN])
        kept_kinds |= {operation["kind"] for operation in kept}
        if kept_kinds >= asked:
            return
    raise AssertionError(f"{asked - kept_kinds} were never kept")


def test_stopped_is_the_same_on_device_and_office(tmp_path: Path) -> None:
    """The device applies what was kept to its own copies, and says of each item whether it is stopped."""
    games: list[dict[str, Any]] = []
    outcomes: set[bool] = set()
    for seed in range(12):  # all: few of them stop anything
        chance = random.Random(seed)
        kinds = [
            "raise_caution",
            *chance.choices(["raise_caution", "decide_caution", "settle_disagreement", "merge_item"], k=24),
        ]
        kept, stopped = run(seed, kinds)
        games.append({"operations": kept, "stopped": stopped})
        outcomes |= set(stopped.values())
    assert outcomes == {True, False}, "some are stopped, some are not"
    said_by_app("stopped_here.js", games, tmp_path / "games.json")
