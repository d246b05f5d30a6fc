"""Logs as a version wrote them, kept under fixtures/logs, and what its records said.

`python -m tests.sync.frozen_logs 0002` writes the next one, when apply has changed; one that is there never changes.
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
from intake.operation import KINDS
from tests.builders import Ids
from tests.door import Door, at_the_door
from tests.sync.any_operation import AnyOperation

FOLDER = Path(__file__).parents[2] / "fixtures" / "logs"
SEED, ROUNDS = 8, 6
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
        SELECT operation_log.*, private_words.words, set_aside.content FROM operation_log
        LEFT JOIN private_words USING (operation_id) LEFT JOIN set_aside USING (operation_id) ORDER BY office_seq
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


async def records_of(door: Door) -> dict[str, Any]:
    """What the records say, in the job's words alone: where and how it is stored may change."""
    found = {}
    for listed in (await door.feed(limit=2000))["records"]:
        record = await door.record(listed["record_id"])
        found[record["record_id"]] = {
            "kind": record["kind"],
            "fields": {
                name: field["value"]
                for name, field in record["fields"].items()
                # The notes stood in the disagreements before version 8, which was the first to say that one came late.
                if not name.startswith("settlement-notes/")
                and field["value"] != {"kind": "settle_disagreement"}
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


async def write(number: str) -> None:
    """Write a log in which every kind was kept, with refusals, disagreements, set-aside and erased words among them."""
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
            assert shown == set(KINDS), set(KINDS) - shown
            rows = await door.database.read(log_rows)
            records = await records_of(door)
    FOLDER.mkdir(exist_ok=True)
    file.write_text("".join(json.dumps(row, ensure_ascii=False) + "\n" for row in rows), "utf-8")
    said = json.dumps(records, indent=1, ensure_ascii=False) + "\n"
    file.with_suffix(".records.json").write_text(said, "utf-8")


if __name__ == "__main__":
    asyncio.run(write(sys.argv[1]))
