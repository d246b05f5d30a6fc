"""The cataloguing queue: one entry an item, in the order in which items reached the office."""

from __future__ import annotations

import json
import re
from typing import Any, Literal

from intake.arrival.items import ItemEdit
from intake.database import Reading, Writing
from intake.records import Record, compact, shows

COUNT_LIMIT = 1000  # counting further would read the whole index for a number nobody uses
ENTRY_STATES = ("waiting", "picked-up", "described")


class SetEntry(ItemEdit):
    """A cataloguer picks an item up, puts it back, or has described it."""

    roles = frozenset({"desk"})
    field_name = "entry"

    kind: Literal["set_entry"]
    state: Literal["waiting", "picked-up", "described"]


@shows("item")
def list_entry(tx: Writing, item: Record) -> None:
    """Write an item's entry and its searchable words anew."""
    fields = item.values("")
    photos = [v for n, v in fields.items() if n.startswith("photos/") and not v["withdrawn"]]
    findings = [v for n, v in fields.items() if n.startswith("findings/") and not v["withdrawn"]]
    tags = [  # a lost number still finds its item
        v["tag"] for n, v in fields.items() if n.startswith("tags/") and v["gone"] != "on-another-item"
    ]
    merged_into = item.derived("merged_into")
    state = fields.get("entry", {"state": "waiting"})["state"]
    class_id = fields.get("class_id") or ""
    first = min(photos, key=lambda photo: photo["taken_at"], default=None)
    tx.run(
        """
        INSERT INTO entry (entry_seq, item_id, visit_id, state, class_id, short_description, tags, photo_count,
            finding_count, disagreement_count, zones_told, thumb_sha256, arrived_at, caution, merged_into)
        VALUES (:entry_seq, :item_id, :visit_id, :state, :class_id, :short_description, :tags, :photo_count,
            :finding_count, :disagreement_count, :zones_told, :thumb_sha256,
            (SELECT received_at FROM operation_log WHERE office_seq = :entry_seq), :caution, :merged_into)
        ON CONFLICT (entry_seq) DO UPDATE SET
            state = excluded.state, class_id = excluded.class_id, tags = excluded.tags,
            short_description = excluded.short_description, photo_count = excluded.photo_count,
            finding_count = excluded.finding_count, disagreement_count = excluded.disagreement_count,
            zones_told = excluded.zones_told, thumb_sha256 = excluded.thumb_sha256,
            caution = excluded.caution, merged_into = excluded.merged_into
        """,
        entry_seq=item.opened_seq,
        item_id=item.record_id,
        visit_id=item.head["visit_id"],
        state=state,
        class_id=class_id,
        short_description=fields.get("short_description") or "",
        tags=compact(tags),
        photo_count=len(photos),
        finding_count=len(findings),
        disagreement_count=item.open_disagreements,
        zones_told=sum(name.startswith("zones/") for name in fields),
        thumb_sha256=first["thumb_sha256"] if first else None,
        caution=item.derived("caution"),
        merged_into=merged_into,
    )
    words = " ".join(
        [
            *(str(fields[n]) for n in SEARCHED if fields.get(n)),
            fields.get("dates", {}).get("words", ""),
            *(f"{mark['text']} {mark['reading']}" for mark in marks_on(fields)),
            *tags,
            *(f"{tag[:3]} {tag[3:]}" for tag in tags),
            *(f"{finding['term']} {finding['note']}" for finding in findings),
        ]
    )
    marks = f"{state_mark(state)} {class_mark(class_id)}"
    if merged_into is not None:
        words = marks = ""  # no search finds what stands behind another record
    known = tx.one("SELECT words, marks FROM entry_words WHERE rowid = :rowid", rowid=item.opened_seq)
    if known is None:
        tx.run(
            "INSERT INTO entry_words (rowid, words, marks) VALUES (:rowid, :words, :marks)",
            rowid=item.opened_seq,
            words=words,
            marks=marks,
        )
    elif (known["words"], known["marks"]) != (words, marks):
        tx.run(
            "UPDATE entry_words SET words = :words, marks = :marks WHERE rowid = :rowid",
            rowid=item.opened_seq,
            words=words,
            marks=marks,
        )


def marks_on(fields: dict[str, Any]) -> list[dict[str, Any]]:
    return [v for n, v in fields.items() if n.startswith("marks/") and not v["withdrawn"]]


SEARCHED = (
    "short_description",
    "seen_words",
    "concluded_words",
    "told_words",
    "materials",
    "maker",
    "class_id",
    "heading",
    "lot_description",
)


def state_mark(state: str) -> str:
    """The state as one token of the search index."""
    return f"state{state.replace('-', '')}"


def class_mark(class_id: str) -> str:
    """The class as one token of the search index."""
    return f"class{re.sub(r'[^a-z0-9]', '', class_id) or 'none'}"


def entries(
    tx: Reading, *, words: str, state: str | None, class_id: str | None, after: int, limit: int
) -> tuple[list[dict[str, Any]], int, bool]:
    """A page of the queue, how many match (at most 1,000), and whether there are more than that.

    The index holds state and class as tokens and its rowid is the queue's order, so that a page costs the same
    however long the queue is.
    """
    match = match_of(words, state, class_id)
    columns = "entry.*, field.value AS ticket"
    ticket = "LEFT JOIN field ON field.record_id = entry.visit_id AND field.name = 'ticket'"
    if match is None:
        rows = tx.all(
            f"""
            SELECT {columns} FROM entry {ticket}
            WHERE entry_seq > :after AND merged_into IS NULL ORDER BY entry_seq LIMIT :limit
            """,
            after=after,
            limit=limit,
        )
        count = tx.value(
            "SELECT count(*) FROM (SELECT 1 FROM entry WHERE merged_into IS NULL LIMIT :most)",
            most=COUNT_LIMIT + 1,
        )
    else:
        rows = tx.all(
            f"""
            SELECT {columns} FROM
                (SELECT rowid AS found FROM entry_words WHERE entry_words MATCH :match AND rowid > :after
                 ORDER BY rowid LIMIT :limit)
            JOIN entry ON entry_seq = found {ticket} ORDER BY entry_seq
            """,
            match=match,
            after=after,
            limit=limit,
        )
        count = tx.value(
            "SELECT count(*) FROM (SELECT 1 FROM entry_words WHERE entry_words MATCH :match LIMIT :most)",
            match=match,
            most=COUNT_LIMIT + 1,
        )
    told = [
        "entry_seq",
        "item_id",
        "visit_id",
        "short_description",
        "class_id",
        "state",
        "photo_count",
        "finding_count",
    ]
    told += ["disagreement_count", "zones_told", "thumb_sha256", "arrived_at", "caution"]
    found = [
        {
            **{name: row[name] for name in told},
            "tags": json.loads(row["tags"]),
            "ticket": json.loads(row["ticket"]) if row["ticket"] else "",
        }
        for row in rows
    ]
    return found, min(count, COUNT_LIMIT), count > COUNT_LIMIT


def match_of(words: str, state: str | None, class_id: str | None) -> str | None:
    """The search as an index expression: every word as a beginning, all of them. None if nothing was asked.

    What was typed is only ever quoted text, so that no sign in it is read as search syntax.
    """
    asked = [f'words: "{word}"*' for word in re.findall(r"\w+", words)]
    if state is not None:
        asked.append(f'marks: "{state_mark(state)}"')
    if class_id is not None:
        asked.append(f'marks: "{class_mark(class_id)}"')
    return " AND ".join(asked) or None
