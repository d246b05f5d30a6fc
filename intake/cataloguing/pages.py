"""The desk's list as it is read: page by page, narrowed by what is asked, with how many there are of each kind."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from intake.cataloguing import search
from intake.cataloguing.called import ALWAYS, Called, marks_called, tables
from intake.cataloguing.listing import KINDS_OF_TROUBLE, SAID_IN_ROW
from intake.cataloguing.queue import LIST_STATES
from intake.cataloguing.search import mark
from intake.database import Reading
from intake.examination.kinds_of import not_asked
from intake.examination.plan import Plan, zone_keys
from intake.reading import held_on, latest_days

COUNT_LIMIT = 1000  # counting further would read the whole index for a number nobody uses
DAYS = 12  # so many of the latest: each costs a count
SEVERITIES = ("4", "3", "2", "1", "0", "none")
SHOWN = (
    *("entry_seq", "item_id", "visit_id", "short_description", "class_id", "state", "photo_count"),
    *("finding_count", "disagreement_count", "zones_told", "thumb_sha256", "arrived_at", "caution"),
    *("held_apart", "worst", "table_id", "ticket", "not_come"),
)


@dataclass(frozen=True)
class Asked:
    """What the list is narrowed to: words as typed, at most one state, day, class, table and gravest finding, "" for
    any.

    `only` are kinds of trouble, of which an entry has to have all. `class_id` "none" is what has no class yet.
    """

    words: str = ""
    state: str = ""
    class_id: str = ""
    table_id: str = ""
    worst: str = ""
    day_id: str = ""
    only: tuple[str, ...] = ()

    def marks(self) -> Iterator[str]:
        for of in ("state", "class_id", "table_id", "worst", "day_id"):
            if value := getattr(self, of):
                yield mark(of.removesuffix("_id"), "" if value == "none" else value)
        yield from (mark("is", name) for name in self.only)


class Search:
    """What one device asks of the list; `called` are the words by which it can be narrowed."""

    def __init__(self, tx: Reading, asked: Asked, called: Called = ALWAYS) -> None:
        self._tx, self.asked, self._called = tx, asked, called
        self._words = list(dict.fromkeys(search.words_in(asked.words)))

    def words(self) -> list[str]:
        """The words that were typed, each as it is searched."""
        return self._words

    def called(self) -> list[str]:
        """The marks that one of the words calls."""
        return sorted({of for word in self._words for of in marks_called(word, self._called)})

    def owners(self) -> list[str]:
        """The visits by whose owners' words it goes, and not by the ticket. Words that each stand for more than
        VISITS_LIMIT go by those in whom they meet, or, if they do in none, by so many of each."""
        by_word = {word: search.owners_with(self._tx, [word]) for word in self._words}
        common = [word for word, visits in by_word.items() if len(visits) > search.VISITS_LIMIT]
        met = search.owners_with(self._tx, sorted(common, key=len, reverse=True)) if common else []
        if met:
            by_word = {"": met, **{word: by_word[word] for word in self._words if word not in common}}
        return sorted({visit_id for visits in by_word.values() for visit_id in visits[: search.VISITS_LIMIT]})

    def days(self) -> dict[str, str]:
        """The days that are offered, each with its date: the latest, and the one that is asked."""
        return latest_days(self._tx, DAYS, self.asked.day_id)

    def match(self, asked: Asked | None = None) -> str:
        marks = (asked or self.asked).marks()
        return search.match_of(self._words, marks, lambda word: marks_called(word, self._called))

    def count(self, asked: Asked | None = None) -> int:
        """How many match, counted to one more than COUNT_LIMIT."""
        return search.count_matching(self._tx, self.match(asked), most=COUNT_LIMIT + 1)

    def page(self, after: int, limit: int) -> list[dict[str, Any]]:
        """The next entries in the order of arrival."""
        return rows(self._tx, search.MATCHING, match=self.match(), after=after, limit=limit)

    def among(self, item_ids: Iterable[str]) -> list[dict[str, Any]]:
        """Those of these items that the list has as it is asked, as they are now."""
        return rows(self._tx, search.AMONG, match=self.match(), item_ids=json.dumps(list(item_ids)))

    def counts(self) -> dict[str, dict[str, int]]:
        """How many there would be of each kind if that were chosen in place of what is, by group; no noughts."""
        dates = self.days()
        days = ("", *dates) if len(dates) > 1 else ()
        groups = {
            "state": [(state, replace(self.asked, state=state)) for state in ("", *LIST_STATES)],
            "class_id": [
                (value, replace(self.asked, class_id=value)) for value in ("", *classes(self._tx), "none")
            ],
            "table_id": [
                (value, replace(self.asked, table_id=value)) for value in ("", *tables(self._tx), "none")
            ],
            "day_id": [(value, replace(self.asked, day_id=value)) for value in days],
            "worst": [(value, replace(self.asked, worst=value)) for value in ("", *SEVERITIES)],
            "only": [
                (value, replace(self.asked, only=tuple({*self.asked.only, value})))
                for value in KINDS_OF_TROUBLE
            ],
        }
        return {
            group: {choice: count for choice, asked in choices if (count := self.count(asked)) or not choice}
            for group, choices in groups.items()
        }


def classes(tx: Reading) -> list[str]:
    """The classes that things have, found as their tables are."""
    return list(search.steps(tx, "SELECT min(class_id) FROM entry WHERE class_id > :last"))


def rows(tx: Reading, found: str, **values: object) -> list[dict[str, Any]]:
    """Entries as the list shows them; `zones` is still what was said of each, without the plan's order."""
    entries = tx.all(
        f"""
        SELECT entry.*, {search.stands("marks", "entry.entry_seq")} AS marks, {held_on("day")} AS held_on
        FROM {found} JOIN entry USING (entry_seq)
        JOIN record ON record.record_id = item_id LEFT JOIN record AS day ON day.record_id = record.day_id
        ORDER BY entry_seq
        """,
        **values,
    )
    return [
        {
            **{name: row[name] for name in SHOWN},
            "held_on": row["held_on"] or "",
            "tags": json.loads(row["tags"]),
            "zones": json.loads(row["zones"]),
            **{name: mark("is", name) in row["marks"].split() for name in SAID_IN_ROW},
        }
        for row in entries
    ]


def with_edge(entry: dict[str, Any], plan: Plan | None) -> dict[str, Any]:
    """The entry with its `edge`, a sign a zone in the plan's order, `.` where nobody spoke, and how many those are.

    Behind them stands what was found on zones that only the plan of an earlier class has.
    """
    zones = entry.pop("zones")
    kept = {key.split("/")[0] for key in zones}
    kept |= {f"zones/{zone}" for zone in kept}
    left_out = not_asked(plan.kinds_written if plan else (), entry["short_description"], kept)
    keys = [key for key in zone_keys(plan) if key.split("/")[0] not in left_out] if plan else []
    earlier = (sign for zone, sign in sorted(zones.items()) if plan and sign.isdigit() and zone not in keys)
    edge = "".join([*(zones.get(key, ".") for key in keys), *earlier])
    return {**entry, "edge": edge, "missing": edge.count(".") if plan else None}
