"""News: which records changed, so that a page that shows one asks for it and the others ask for nothing."""

from __future__ import annotations

from dataclasses import dataclass

from intake.database import Reading
from intake.families import OFFICE_ROLES
from intake.records.values import compact

#: How the office itself is doing is otherwise than it was: its copies, or which devices it waits for. Whoever shows
#: that asks for it.
OFFICE_CHANGED = "event: office\ndata: {}\n\n"
#: More than so many are not named: whoever shows anything looks again.
NAMED = 200


@dataclass(frozen=True)
class News:
    """Where the feed stands, and what changed before it: the record's id, its kind, and its place in the desk's list,
    which is none unless it is an item. None where nobody can say, or it would be too long a list."""

    cursor: int
    changed: list[tuple[str, str, int | None]] | None

    def line(self) -> str:
        """As an event of the stream. Source: WHATWG HTML, server-sent events."""
        said = {"cursor": self.cursor, "changed": self.changed}
        return f"id: {self.cursor}\ndata: {compact(said)}\n\n"


def news_since(tx: Reading, last: int | None, role: str) -> News:
    """What changed since a place in the feed, None if this is the first that the device hears.

    Only those who may read every record hear which ones changed; the others hear that something did.
    """
    newest = tx.value("SELECT max(feed_seq) FROM record") or 0
    if last is None or role not in OFFICE_ROLES:
        return News(newest, None)
    rows = tx.all(
        "SELECT record_id, kind, opened_seq FROM record WHERE feed_seq > :last ORDER BY feed_seq LIMIT :most",
        last=last,
        most=NAMED + 1,
    )
    if len(rows) > NAMED or newest < last:
        return News(newest, None)
    return News(newest, [(row[0], row[1], row[2] if row[1] == "item" else None) for row in rows])
