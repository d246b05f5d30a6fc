"""What a copy's lines say of photos, by digest, beside memory: a house has millions, and a few MB are held at a time.

They lie in tables of no file of the office's, which nobody else can read and which are gone with the process.
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterable, Iterator
from itertools import islice
from typing import Any

from intake.copies.source import PHOTO_COLUMNS
from intake.database import Writing, scratch_file

HELD_KIB = 16 * 1024  # of the tables, what is held in memory
LINES_AT_ONCE = 1000
PACK_NAME = re.compile(r"photos-\d{1,15}\.pack")
DIGEST = re.compile(r"[0-9a-f]{64}")
COUNTED = range(2**63)  # what a table can have of numbers

PHOTO_SHAPE: dict[str, tuple[type, ...]] = {
    **dict.fromkeys(PHOTO_COLUMNS, (int,)),
    **dict.fromkeys(("sha256", "media_type", "received_at", "pack"), (str,)),
    **dict.fromkeys(("offset", "stored"), (int,)),
}
NUMBERS = tuple(name for name, types in PHOTO_SHAPE.items() if types == (int,))

BY_DIGEST = "CREATE UNIQUE INDEX photo_by_digest ON photo (sha256)"
PLAIN = """
    INSERT INTO photo
        (sha256, bytes, media_type, width, height, received_at, pack, "offset", stored, "check", seen)
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
"""
IN_ITS_PLACE = f"""
    {PLAIN} ON CONFLICT (sha256) DO UPDATE SET
        bytes = excluded.bytes, media_type = excluded.media_type, width = excluded.width,
        height = excluded.height, received_at = excluded.received_at, pack = excluded.pack,
        "offset" = excluded."offset", stored = excluded.stored, "check" = excluded."check", seen = excluded.seen
"""


def names_a_photo(line: Any) -> bool:
    """Whether a line of the right shape can be one of a photo: whoever can write to a copy may have put anything in."""
    return (
        PACK_NAME.fullmatch(line["pack"]) is not None
        and DIGEST.fullmatch(line["sha256"]) is not None
        and all(line[name] in COUNTED for name in NUMBERS)
        and (line["media_type"] + line["received_at"]).isascii()
    )


class PhotoLines:
    """The last line of each photo: its row, and where its bytes lie. In the order in which they first came.

    Of each it can be noted that it was `seen`, for whoever looks at them little by little.
    """

    def __init__(self, lines: Iterable[dict[str, Any]] = ()) -> None:
        self.tables = Writing(scratch_file(HELD_KIB, threads=True))
        self.tables.run(
            """
            CREATE TABLE photo (
                seq         INTEGER PRIMARY KEY,
                sha256      BLOB NOT NULL,   -- 32 bytes
                bytes       INTEGER NOT NULL,
                media_type  TEXT NOT NULL,
                width       INTEGER NOT NULL,
                height      INTEGER NOT NULL,
                received_at TEXT NOT NULL,
                pack        TEXT NOT NULL,
                "offset"    INTEGER NOT NULL,
                stored      INTEGER NOT NULL,
                "check"     TEXT,                   -- null in a line that has none
                seen        INTEGER NOT NULL
            ) STRICT
            """
        )

        self._insert(lines, PLAIN)
        try:  # sorted once all is there, which is far less work than in its place a line
            self.tables.run(BY_DIGEST)
        except sqlite3.IntegrityError:
            self._keep_the_last()
            self.tables.run(BY_DIGEST)

    def _keep_the_last(self) -> None:
        """Of several lines of a photo the last, in the place of the first."""
        self.tables.run("CREATE INDEX of_photo ON photo (sha256)")
        self.tables.run(
            """
            CREATE TABLE twice AS SELECT sha256, min(seq) AS first, max(seq) AS last
            FROM photo GROUP BY sha256 HAVING count(*) > 1
            """
        )
        self.tables.run(
            """
            DELETE FROM photo WHERE seq IN (
                SELECT photo.seq FROM twice JOIN photo USING (sha256) WHERE photo.seq < last
            )
            """
        )
        self.tables.run("UPDATE photo SET seq = first FROM twice WHERE photo.seq = last")
        self.tables.run("DROP INDEX of_photo")
        self.tables.run("DROP TABLE twice")

    def put(self, lines: Iterable[dict[str, Any]], *, seen: bool = False) -> None:
        """Take up lines; one of the same photo takes the place of the one before."""
        self._insert(lines, IN_ITS_PLACE, seen=seen)

    def _insert(self, lines: Iterable[dict[str, Any]], how: str, *, seen: bool = False) -> None:
        rows = (values_of(line, seen) for line in lines)
        while some := list(islice(rows, LINES_AT_ONCE)):
            self.tables.run("BEGIN")
            self.tables.run_many(how, some)
            self.tables.run("COMMIT")

    def remove(self, sha256: str) -> None:
        self.tables.run("DELETE FROM photo WHERE sha256 = :digest", digest=bytes.fromhex(sha256))

    def row_of(self, sha256: str) -> sqlite3.Row | None:
        """A photo's line as it is held; what is no digest has none."""
        if not DIGEST.fullmatch(sha256):
            return None
        return self.tables.one("SELECT * FROM photo WHERE sha256 = :digest", digest=bytes.fromhex(sha256))

    def along(self, digests: Iterable[str]) -> Iterator[sqlite3.Row | None]:
        """The line of each of these photos. They come mostly in the order of the lines, so both are gone along
        together, and one is looked up only where they part."""
        lines = self._after(0)
        following = next(lines, None)
        for sha256 in digests:
            if following is None or following["sha256"].hex() != sha256:
                found = self.row_of(sha256)
                if found is not None and (following is None or found["seq"] > following["seq"]):
                    lines = self._after(found["seq"])
                    following = next(lines, None)
                yield found
            else:
                yield following
                following = next(lines, None)

    def _after(self, seq: int) -> Iterator[sqlite3.Row]:
        return self.tables.each("SELECT * FROM photo WHERE seq > :seq ORDER BY seq", seq=seq)

    def unseen_after(self, seq: int) -> list[sqlite3.Row]:
        """The next few that were not seen."""
        return self.tables.all(
            "SELECT * FROM photo WHERE seq > :seq AND NOT seen ORDER BY seq LIMIT :most",
            seq=seq,
            most=LINES_AT_ONCE,
        )

    def without_check_after(self, seq: int, most: int) -> list[sqlite3.Row]:
        """The next few that were seen, and have no check."""
        return self.tables.all(
            """
            SELECT seq, sha256, stored FROM photo
            WHERE seq > :seq AND seen AND "check" IS NULL ORDER BY seq LIMIT :most
            """,
            seq=seq,
            most=most,
        )

    def note_seen(self, seq: int) -> None:
        self.tables.run("UPDATE photo SET seen = 1 WHERE seq = :seq", seq=seq)

    def seen(self) -> Iterator[dict[str, Any]]:
        return map(line_of, self.tables.each("SELECT * FROM photo WHERE seen ORDER BY seq"))

    def was_seen(self, sha256: object) -> bool | None:
        """Whether a photo was seen; None if no line names it."""
        if not isinstance(sha256, str) or not DIGEST.fullmatch(sha256):
            return None
        seen = self.tables.value(
            "SELECT seen FROM photo WHERE sha256 = :digest", digest=bytes.fromhex(sha256)
        )
        return None if seen is None else bool(seen)

    def __len__(self) -> int:
        return int(self.tables.value("SELECT count(*) FROM photo"))

    def __iter__(self) -> Iterator[dict[str, Any]]:
        return map(line_of, self.tables.each("SELECT * FROM photo ORDER BY seq"))


def values_of(line: dict[str, Any], seen: bool) -> tuple[Any, ...]:
    row = (line[name] for name in PHOTO_COLUMNS[1:])
    check = str(line["check"]) if "check" in line else None
    return (bytes.fromhex(line["sha256"]), *row, line["pack"], line["offset"], line["stored"], check, seen)


def line_of(row: sqlite3.Row) -> dict[str, Any]:
    """A line as it stands in a copy."""
    line = {"sha256": row["sha256"].hex()}
    line |= {name: row[name] for name in (*PHOTO_COLUMNS[1:], "pack", "offset", "stored")}
    return line if row["check"] is None else {**line, "check": row["check"]}
