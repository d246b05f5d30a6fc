"""News: which records changed, so that a page that shows one asks for it and the others ask for nothing."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any, TypedDict

from intake.cataloguing import search
from intake.cataloguing.keep_away import left_alone
from intake.database import Reading
from intake.families import OFFICE_ROLES
from intake.records.values import compact
from intake.sync.overruled import gave_way_since

#: How the office itself is doing is otherwise than it was: its copies, or which devices it waits for. Whoever shows
#: that asks for it.
OFFICE_CHANGED = "event: office\ndata: {}\n\n"
DEVICES_CHANGED = "event: devices\ndata: {}\n\n"  # one was paired
#: More than so many are not named: whoever shows anything looks again. It is twice what a device sends at once.
NAMED = 1000
#: Words of a thing that are longer than this are not told: whoever searches asks.
WORDS_TOLD = 4000
#: What a desk shows of a thing that nobody handles.
ALONE_SHOWN = ("item_id", "short_description", "keep_away")


class Found(TypedDict, total=False):
    """What of a thing is otherwise than it was: its own words, as they are now in the index, and whether some are gone
    from there; the marks by which a list is narrowed and counted, and which these were, where that is known; that it is
    listed, or its owner's words, which are in no news; what the entries of its visit's other things say of it, by that
    visit; and whether the list's row of it is the same as it was, but for what its marks tell."""

    words: str
    lost: bool
    marks: bool
    was: str
    listed: bool
    beside: str
    same: bool


@dataclass(frozen=True)
class News:
    """Where the feed stands, and what changed before it: the record's id, its kind, its place in the desk's list (none
    unless it is an item), its day, the marks by which the list is narrowed, and what of it is found otherwise.
    `gave_way` are the disagreements on these records in which a value of the device that hears gave way. None where
    nobody can say, or it would be too long a list. `alone` are the things that nobody handles, as they are told now."""

    cursor: int
    changed: list[tuple[str, str, int | None, str, str, Found]] | None
    gave_way: list[str] | None
    alone: list[dict[str, str]] | None

    def line(self) -> str:
        """As an event of the stream. Source: WHATWG HTML, server-sent events."""
        return f"id: {self.cursor}\ndata: {compact(asdict(self))}\n\n"


def news_since(tx: Reading, last: int | None, role: str, device_id: str) -> News:
    """What changed since a place in the feed, None if this is the first that the device hears.

    Only those who may read every record hear which ones changed; the others hear that something did.
    """
    newest = newest_change(tx)
    if last is None or role not in OFFICE_ROLES:
        return News(newest, None, None, None)
    rows = tx.all(
        f"""
        SELECT record_id, kind, entry_seq AS place, day_id, {search.stands("marks", "entry_seq")} AS marks,
            CASE WHEN words_seq > :last THEN {search.stands("words", "entry_seq")} END AS words,
            lost_seq > :last AS words_lost, marks_seq > :last AS marks_changed, marks_before,
            coalesce(marks_since <= :last, 0) AS marks_known, listed_seq > :last AS listed_changed,
            row_seq <= :last AS same, CASE WHEN beside_seq > :last THEN visit_id END AS beside
        FROM record LEFT JOIN entry ON item_id = record_id WHERE feed_seq > :last ORDER BY feed_seq LIMIT :most
        """,
        last=last,
        most=NAMED + 1,
    )
    if len(rows) > NAMED or newest < last:
        return News(newest, None, None, None)
    changed = [
        (
            *(row["record_id"], row["kind"], row["place"], row["day_id"]),
            *(search.narrowing(row["marks"] or ""), found_in(row)),
        )
        for row in rows
    ]
    alone = [{name: one[name] for name in ALONE_SHOWN} for one in left_alone(tx)]
    return News(newest, changed, gave_way_since(tx, last, device_id), alone)


def found_in(row: Any) -> Found:
    """What of a thing is otherwise than before."""
    words = row["words"]
    is_long = words is not None and len(words) > WORDS_TOLD
    found: Found = {}
    if words is not None and not is_long:
        found["words"] = words
    if row["words_lost"]:
        found["lost"] = True
    if row["marks_changed"]:
        found["marks"] = True
        if row["marks_known"]:  # else they were others more than once since
            found["was"] = row["marks_before"]
    if row["listed_changed"] or is_long:
        found["listed"] = True
    if row["same"]:
        found["same"] = True
    if row["beside"]:
        found["beside"] = row["beside"]
    return found


def newest_change(tx: Reading) -> int:
    """Where the feed stands; 0 while the office has no record."""
    return int(tx.value("SELECT max(feed_seq) FROM record") or 0)
