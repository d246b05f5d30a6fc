"""Logs as a version wrote them, kept under fixtures/logs, and what its records said.

`python -m tests.sync.frozen_logs 0002` writes the next one, when apply has changed; one that is there never changes.
`python -m tests.sync.frozen_logs tables` notes what the tables are that this version makes of them all.
"""

from __future__ import annotations

import asyncio
import json
import random
import sys
import tempfile
from pathlib import Path
from typing import Any

from intake.database import Reading, Writing
from intake.operation import KINDS, put_right
from intake.sync.rebuild import APPLY_VERSION
from intake.tagging.tags import codes
from tests.builders import Ids, a_caution, a_consignor, a_fact, a_settlement, a_tie, an_item
from tests.door import Door, at_the_door
from tests.sync.any_operation import AnyOperation

FOLDER = Path(__file__).parents[2] / "fixtures" / "logs"
#: The version by which the tables were made, and a digest of each table for each log.
TABLES = FOLDER / "tables.json"
LOGS = sorted(FOLDER.glob("*.jsonl"))
SEED, ROUNDS = 17, 8
YEAR_S = 365 * 24 * 3600
MORNING, EVENING = (
    "2026-03-14T09:00:00.000Z",
    "2026-03-14T17:00:00.000Z",
)  # before all that Ids makes, and after
TAG = next(codes(900))
LOG = [
    "office_seq",
    "operation_id",
    "device_id",
    "device_seq",
    "record_id",
    "operation",
    "answer",
    "received_at",
    "chain",
]


def log_rows(tx: Reading) -> list[dict[str, Any]]:
    """The whole log, with what stands beside it."""
    rows = tx.all(
        """
        SELECT operation_log.*, private_words.words, set_aside.content,
            operation_id IN (SELECT operation_id FROM erased_words) AS erased
        FROM operation_log LEFT JOIN private_words USING (operation_id) LEFT JOIN set_aside USING (operation_id)
        ORDER BY office_seq
        """
    )
    return [dict(row) for row in rows]


def put_log(tx: Writing, rows: list[dict[str, Any]]) -> None:
    """Put a log into an office that has none."""
    names = ", ".join(LOG)
    places = ", ".join("?" * len(LOG))
    tx.run_many(
        f"INSERT INTO operation_log ({names}) VALUES ({places})",
        [[row[name] for name in LOG] for row in rows],
    )
    for table, column in (("private_words", "words"), ("set_aside", "content")):
        tx.run_many(
            f"INSERT INTO {table} (operation_id, {column}) VALUES (?, ?)",
            [(row["operation_id"], row[column]) for row in rows if row[column] is not None],
        )
    erased = [(row["operation_id"],) for row in rows if row.get("erased")]  # the first log does not say
    tx.run_many("INSERT INTO erased_words (operation_id) VALUES (?)", erased)


def frozen(file: Path) -> list[dict[str, Any]]:
    """The rows of a frozen log."""
    return [json.loads(line) for line in file.read_text("utf-8").splitlines()]


async def tables_now() -> dict[str, Any]:
    """What this version makes of every frozen log, as `tables.json` says it."""
    found = {}
    for file in LOGS:
        with tempfile.TemporaryDirectory() as folder:
            async with at_the_door(Path(folder), Ids(SEED)) as door:
                rows = frozen(file)
                await door.database.write(lambda tx, rows=rows: put_log(tx, rows))  # type: ignore[misc]
                await door.rebuild()
                found[file.stem] = await door.digests()
    return {"apply_version": APPLY_VERSION, "logs": found}


def what_to_do(noted: dict[str, Any], now: dict[str, Any]) -> str:
    """What is to be done where the tables are otherwise than was noted; empty if nothing is."""
    if noted == now:
        return ""
    before, after = noted["apply_version"], now["apply_version"]
    changed = [
        f"{table} of log {number}"
        for number, digests in now["logs"].items()
        for table, digest in digests.items()
        if noted["logs"].get(number, {}).get(table, digest) != digest
    ]
    if changed and after <= before:
        return (
            f"A rule or a view has changed: the table {', '.join(changed)} comes out otherwise. Offices that run have "
            f"the tables of before: raise APPLY_VERSION in intake/sync/rebuild.py to {before + 1}, so that they make "
            "them anew, then `python -m tests.sync.frozen_logs tables`."
        )
    return "Note what this version makes of the frozen logs: `python -m tests.sync.frozen_logs tables`."


async def note_tables() -> None:
    """Raises SystemExit where a rule has changed and the version has not."""
    now = await tables_now()
    noted = json.loads(TABLES.read_text("utf-8")) if TABLES.exists() else {**now, "apply_version": 0}
    to_do = what_to_do(noted, now)
    if "raise APPLY_VERSION" in to_do:
        raise SystemExit(to_do)
    TABLES.write_text(json.dumps(now, indent=1) + "\n", "utf-8")


def is_known_to_the_first(name: str, value: Any) -> bool:
    """Whether the version that wrote the first log had such a field: notes stood in the disagreements then, and nothing
    said that a settlement had come late."""
    return not name.startswith("settlement-notes/") and value != {"kind": "settle_disagreement"}


async def records_of(door: Door, number: str) -> dict[str, Any]:
    """What the records say, in the job's words alone: where and how it is stored may change. `number` is the log's."""
    found = {}
    for record_id in await door.record_ids():
        record = await door.record(record_id)
        found[record["record_id"]] = {
            "kind": record["kind"],
            "fields": {
                name: field["value"]
                for name, field in record["fields"].items()
                if number != "0001" or is_known_to_the_first(name, field["value"])
            },
            "disagreements": [
                [
                    between["field"],
                    between["kept"]["value"],
                    between["other"]["value"],
                    between["settled"] and between["settled"]["choose"],
                ]
                for between in record["disagreements"]
            ],
        }
    return dict(sorted(found.items()))


async def bring_late(door: Door, next_seq: int) -> None:
    """What was done before a Stop and before an erasure, and is heard after; what two devices say of one tag."""
    door.next_seq = next_seq
    item = await door.item()
    item_id, visit_id = item["item_id"], item["visit_id"]
    second = await door.keep(an_item(door.ids, item))
    await door.keep(a_fact(item_id, "materials", "tin"))
    between = await door.keep(a_fact(item_id, "materials", "oak"))
    await door.keep(a_tie(second["item_id"], TAG, piece=1))
    for off_s in (0, YEAR_S, -YEAR_S):
        phone = door.other()
        phone.clock_off_s = off_s
        before, after = (put_right(at, -phone.clock_off_s) for at in (MORNING, EVENING))
        await phone.keep(a_tie(second["item_id"], TAG, piece=2))
        late = [
            phone.make(made, made_at=before)
            for made in (
                a_fact(item_id, "maker", "a maker"),
                a_settlement(item_id, between["operation_id"], "other"),
                a_consignor(visit_id, "name", "Barnaby"),
            )
        ]
        if phone.clock_off_s == 0:
            await door.keep(a_caution(door.ids, item_id, still_allowed=[]))
            await door.keep(("erase_consignor", {"visit_id": visit_id}))
        await phone.send(*late, phone.make(a_consignor(visit_id, "email", "new@example.org"), made_at=after))
        if phone.clock_off_s == 0:
            settled = {
                "item_id": item_id,
                "late_id": late[0]["operation_id"],
                "words": "looked at",
                "seen": None,
            }
            await door.keep(("settle_late_act", settled))


async def write(number: str) -> None:
    """Write a log in which every kind was kept, with refusals, disagreements, set-aside and erased words among them,
    and what other devices bring late or by clocks that are off."""
    file = FOLDER / f"{number}.jsonl"
    if file.exists():
        raise SystemExit(f"{file.name} is there, and what is frozen stays as it is.")
    with tempfile.TemporaryDirectory() as folder:
        async with at_the_door(Path(folder), Ids(SEED)) as door:
            chance = random.Random(SEED)
            made = AnyOperation(chance, door.ids, door.device_id)
            kinds = [kind for kind in KINDS if not kind.startswith("open_") and kind != "erase_consignor"]
            shown = set()
            for part in range(ROUNDS):
                opening = [
                    "open_day",
                    "open_visit",
                    "open_item",
                    "open_item",
                    "open_container",
                    "open_container",
                ]
                chance.shuffle(kinds)
                for kind in [*opening, *kinds, *(["erase_consignor"] if part == ROUNDS - 2 else [])]:
                    operation = made.make(kind)
                    [answer] = await door.send(operation)
                    if answer["outcome"] == "kept":
                        shown.add(kind)
                        made.learn(operation, disagreement=answer["disagreement"])
            await door.send({**made.make("set_item"), "surprise": 1}, "nonsense")
            await bring_late(door, made.next_seq)
            shown.add("settle_late_act")  # among what came late
            assert shown == set(KINDS), set(KINDS) - shown
            rows = await door.database.read(log_rows)
            records = await records_of(door, number)
    FOLDER.mkdir(exist_ok=True)
    file.write_text("".join(json.dumps(row, ensure_ascii=False) + "\n" for row in rows), "utf-8")
    said = json.dumps(records, indent=1, ensure_ascii=False) + "\n"
    file.with_suffix(".records.json").write_text(said, "utf-8")


if __name__ == "__main__":
    asyncio.run(note_tables() if sys.argv[1] == "tables" else write(sys.argv[1]))
