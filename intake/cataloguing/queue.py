"""The cataloguing queue: one entry an item, in the order in which items reached the office."""

from __future__ import annotations

import json
from typing import Any, Literal

from intake.arrival.items import ItemEdit
from intake.cataloguing import search
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
    state = fields.get("entry", {}).get("state") or "waiting"
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
        visit_id=item.head["visit_id"] or "",
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
    if merged_into is not None:
        search.hide(tx, item.opened_seq)  # it stands behind another record
        return
    words = [
        *(str(fields[n]) for n in SEARCHED if fields.get(n)),
        *(v["words"] or "" for n, v in fields.items() if n.startswith("sentences/")),
        fields.get("dates", {}).get("words") or "",
        *(f"{mark['text']} {mark['reading']}" for mark in marks_on(fields)),
        *tags,
        *(f"{tag[:3]} {tag[3:]}" for tag in tags),
        *(f"{finding['term']} {finding['note']}" for finding in findings),
    ]
    search.put_words(tx, item.opened_seq, words, state, class_id)


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


def entries(
    tx: Reading, *, words: str, state: str | None, class_id: str | None, after: int, limit: int
) -> tuple[list[dict[str, Any]], int, bool]:
    """A page of the queue, how many match (at most 1,000), and whether there are more than that."""
    match = search.match_of(words, state, class_id)
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
            SELECT {columns} FROM {search.MATCHING}
            JOIN entry USING (entry_seq) {ticket} ORDER BY entry_seq
            """,
            match=match,
            after=after,
            limit=limit,
        )
        count = search.count_matching(tx, match, most=COUNT_LIMIT + 1)
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
