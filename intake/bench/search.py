"""(c) Searching the queue at 10,000, 100,000 and a million items, beside the bare query on the same file.

The queue's tables are filled directly: what is measured is the search, and a million items through the door
would take an hour.
"""

from __future__ import annotations

import asyncio
import random
import sqlite3
import statistics
import time
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote

from intake.bench import marked
from intake.bench.served import Line, free_port, serving
from intake.bench.upload import prepare
from intake.cataloguing.search import LISTED, mark, match_of

CLASSES = ("soft-toy", "ceramics", "free", "glass", "clock")
QUICK_SIZES, SIZES = (1_000,), (10_000, 100_000, 1_000_000)  # items
ASKED = 400
WORDS = 20_000  # that there are, some of which are asked for
COLUMNS = (
    "entry_seq, item_id, visit_id, state, class_id, short_description, tags, photo_count, finding_count, "
    "disagreement_count, zones_told, thumb_sha256, arrived_at"
)
BARE = """
    SELECT entry.* FROM (SELECT rowid AS found FROM entry_words WHERE entry_words MATCH ?
    ORDER BY rowid LIMIT 50) JOIN entry ON entry_seq = found ORDER BY entry_seq
"""


def measure_search(folder: Path, quick: bool) -> Iterator[str]:
    """A row for each size of the queue."""
    for items in QUICK_SIZES if quick else SIZES:
        office = folder / str(items)
        office.mkdir()
        [(_, secret)] = asyncio.run(prepare(office, 1))
        words = fill(office / "intake.sqlite3", items)
        chance = random.Random(items)
        asked = [
            (chance.choice(words[:2000]), chance.choice(("", "waiting", "described"))) for _ in range(ASKED)
        ]
        port = free_port()
        with serving("intake", "serve", "--data", str(office), "--port", str(port), port=port) as served:

            async def ask(served=served, secret=secret, asked=asked) -> list[float]:  # type: ignore[no-untyped-def]
                spans = []
                async with Line(served, f"intake={secret}") as line:
                    for word, state in asked:
                        began = time.perf_counter()
                        await line.ask("GET", f"/queue?words={quote(word)}&state={state}")
                        spans.append(time.perf_counter() - began)
                return spans

            ours = asyncio.run(ask())
        bare = ask_bare(office / "intake.sqlite3", asked)
        p99 = 1000 * percentile(ours, 99)
        limit = marked(p99, 20, at_least=False) if items == 100_000 else f"{p99:.2f}"
        yield (
            f"{items} items: p50 {1000 * statistics.median(ours):.2f} ms, p99 {limit} ms; bare query p50 "
            f"{1000 * statistics.median(bare):.2f}, p99 {1000 * percentile(bare, 99):.2f} ms"
        )


def percentile(spans: list[float], percent: int) -> float:
    return sorted(spans)[min(len(spans) - 1, len(spans) * percent // 100)]


def ask_bare(file: Path, asked: list[tuple[str, str]]) -> list[float]:
    connection = sqlite3.connect(file)
    spans = []
    for word, state in asked:
        match = match_of([word], [mark("state", state)] if state else [])
        began = time.perf_counter()
        connection.execute(BARE, (match,)).fetchall()
        spans.append(time.perf_counter() - began)
    connection.close()
    return spans


def fill(file: Path, items: int) -> list[str]:
    """Fill the queue with made-up words, common ones first; the words."""
    chance = random.Random(items)
    words = [
        "".join(chance.choices("abcdefghijklmnoprstuvw", k=chance.randrange(3, 9))) for _ in range(WORDS)
    ]
    weights = [1 / (rank + 1) for rank in range(len(words))]
    connection = sqlite3.connect(file, isolation_level=None)
    connection.execute("BEGIN")
    for start in range(1, items + 1, 10_000):
        entries, indexed = [], []
        for seq in range(start, min(start + 10_000, items + 1)):
            text = " ".join(chance.choices(words, weights, k=12))
            state = "described" if chance.random() < 0.02 else "waiting"
            class_id = chance.choice(CLASSES)
            entries.append(
                (seq, f"item-{seq}", "visit", state, class_id, text[:60], "[]", 4, 2, 0, 20, None, "")
            )
            indexed.append((seq, text, f"{LISTED} {mark('state', state)} {mark('class', class_id)}"))
        connection.executemany(f"INSERT INTO entry ({COLUMNS}) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?)", entries)
        connection.executemany("INSERT INTO entry_words (rowid, words, marks) VALUES (?,?,?)", indexed)
    connection.execute("COMMIT")
    connection.close()
    return words
