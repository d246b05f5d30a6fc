"""A day's closing as the office tells it to whoever keeps no copy of the day: the list of days, and one of them."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from itertools import chain
from typing import Any

from intake.custody.changed_since import changed_since
from intake.custody.closing_lines import MOST_WORDS, Line, found_since, lines_of, said_beside, signed_beside
from intake.custody.difference_kinds import OF_RECORDS
from intake.custody.differences import Closing, Found, by_kind, each_of, ticket_words
from intake.custody.kept_closings import ToldClosing
from intake.custody.owed_signatures import Signed, lines_on
from intake.custody.packed import Packed
from intake.database import Reading, any_of
from intake.records.record import Record

#: The kinds of what has not come yet, and what is said of a difference where nobody knows better (the app offers it).
ON_THE_WAY = ("load-short", "not-arrived")
NOBODY_KNOWS = "Nobody knows why"

FACTS = ("house", "place", "held_on")

#: The sections of a closing beside the kinds of difference.
NAMED, CHANGED, RECEIPTS = "named", "changed", "receipts"


def days_listed(tx: Reading, before: int, limit: int) -> list[dict[str, Any]]:
    """The days that there were, the one that was opened last first; only those opened before an office_seq, if any.

    What each is called now, who set it up and when, whether it was let go since another was set up as well, how many
    visits it holds, and when it was closed by the clock of who closed it, null if nobody has.
    """
    days = tx.all(
        """
        SELECT record_id, opened_seq, head, (
            SELECT value ->> 'name' FROM field WHERE field.record_id = record.record_id
                AND name = 'people/' || (head ->> 'opened_by')
        ) AS set_up_by, (
            SELECT count(*) FROM record AS visit WHERE visit.day_id = record.record_id AND visit.kind = 'visit'
        ) AS visits FROM record WHERE kind = 'day' AND opened_seq < :before
        ORDER BY opened_seq DESC LIMIT :limit
        """,
        before=before,
        limit=limit,
    )
    found: dict[str, dict[str, Any]] = {row["record_id"]: {} for row in days}
    for row in tx.each(
        f"""
        SELECT record_id, name, value, made_at FROM field
        WHERE record_id IN {any_of("days")} AND name IN ('house', 'place', 'held_on', 'let_go', 'closed')
        """,
        days=json.dumps(list(found)),
    ):
        of_day = found[row["record_id"]]
        if row["name"] == "closed":
            of_day["closed_at"] = row["made_at"]
        else:
            of_day[row["name"]] = json.loads(row["value"])
    return [
        {
            "day_id": row["record_id"],
            "opened_seq": row["opened_seq"],
            **{name: json.loads(row["head"])[name] for name in FACTS},
            "set_up_by": row["set_up_by"] or "",
            "set_up_at": json.loads(row["head"])["opened_at"],
            "visits": row["visits"],
            "let_go": "",
            "closed_at": None,
            **found[row["record_id"]],
        }
        for row in days
    ]


def closing_told(closing: Closing) -> ToldClosing:
    """One day: what it is, how many records it has, who closed it with what, its differences, and its receipts.

    Of a day that was closed `named` is what its closing names, the kinds hold what has come since, and `changed` each
    record that was changed after it.
    """
    day, receipts = closing.day.day, Receipts()
    sections = found = by_kind(closing.found(receipts.note))
    closed = day.fields.get("closed")
    changed = Packed()
    if closed is not None:
        for one in changed_since(closing.day, closing.called):
            changed.add(one._asdict())
        lines = lines_of(day, closed.value)
        since = by_kind(found_since(each_of(found), lines))
        sections = {NAMED: Packed(named_told(lines, each_of(found), said_beside(day, lines))), **since}
    differences = sum(len(lines) for name, lines in sections.items() if name != NAMED)
    head = {
        "day_id": day.record_id,
        **{name: day.value(name) or day.head[name] for name in FACTS},
        "visits": len(closing.day.visits),
        "items": len(closing.day.items),
        "containers": len(closing.day.containers),
        "closed": closed
        and {
            "closed_by": closed.value["closed_by"],
            "second_by": closed.value["second_by"],
            "closed_at": closed.made_at,
            "named": len(sections[NAMED]),
            "signed_beside": signed_beside(day, closed.value),
        },
        "differences": differences,
        "changed": len(changed),
        "receipts": receipts.count,
    }
    return ToldClosing.of(head, {**sections, CHANGED: changed, RECEIPTS: receipts.told()})


def still_open(told: ToldClosing) -> list[str]:
    """What of a day is not settled by its closing, in words: what was named and has not come still, or was said to be
    known to nobody; and what has come since, or if nobody has closed it all that differs, but for what a desk mends off
    the records. What has not come stands first: it is waited for."""
    coming: list[str] = []
    others: list[str] = []
    for name, section in told.sections.items():
        if name in OF_RECORDS or name in (CHANGED, RECEIPTS):
            continue
        for line in map(json.loads, section):
            kind = line["key"].split(" ")[0]
            is_unknown = line.get("reason") == NOBODY_KNOWS and kind not in OF_RECORDS
            is_coming = kind in ON_THE_WAY
            if name != NAMED or (line["is_found"] and (is_coming or is_unknown)):
                (coming if is_coming else others).append(line["words"])
    return coming + others


def named_told(
    lines: list[Line], found: Iterable[Found], beside: Mapping[str, list[dict[str, str]]]
) -> Iterator[dict[str, Any]]:
    """What a closing names, each with where to look for it now; `is_found` is false of what is found no more, and
    `beside` is what others had said of it."""
    at = dict.fromkeys((line.key or line.words for line in lines), "")
    is_found = set()
    for one in found:
        for name in (one.key, one.former, one.words[:MOST_WORDS]):
            if name in at:
                at[name] = one.at
                is_found.add(name)
    for line in lines:
        name = line.key or line.words
        yield {**line._asdict(), "at": at[name], "is_found": name in is_found, "beside": beside.get(name, [])}


class Receipts:
    """The visits of which something was left or signed for; those first in which somebody has yet to sign."""

    def __init__(self) -> None:
        self.count = 0
        self._owed, self._signed = Packed(), Packed()

    def note(self, visit: Record, signed: Signed) -> None:
        told = signatures_told(visit, signed)
        if told["receipts"] or told["here"] or told["back_unsigned"]:
            self.count += len(told["receipts"])
            is_owed = told["here_unsigned"] + told["back_unsigned"] > 0
            (self._owed if is_owed else self._signed).add(told)

    def told(self) -> Packed:
        told = Packed()
        for line in chain(self._owed, self._signed):
            told.add_told(line)
        return told


def signatures_told(visit: Record, signed: Signed) -> dict[str, Any]:
    """The receipts of a visit, the oldest first, and of how many things nobody has signed for what became of them."""
    return {
        "visit_id": visit.record_id,
        "ticket": ticket_words(visit),
        "here": len(signed.here),
        "here_unsigned": len(signed.here_unsigned),
        "back_unsigned": len(signed.back_unsigned),
        "receipts": [
            {
                "receipt_id": receipt_id,
                "number": receipt.value["number"],
                "what": receipt.value["what"],
                "things": len(lines_on(receipt.value)),
                "is_on_paper": receipt.value.get("is_on_paper", False),
                "made_at": receipt.made_at,
            }
            for receipt_id, receipt in signed.receipts
        ],
    }
