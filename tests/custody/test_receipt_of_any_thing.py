"""Whatever a thing has on record, in one record or in two, the office reads its receipt as a device does.

Names and faults of any length, numbers, moves and returns in any order; the receipt was signed when less, or something
else, was on record, by this version or in the words of one before.
"""

from __future__ import annotations

import json
import random
from collections.abc import Callable
from pathlib import Path
from typing import Any, cast

from intake.custody.counted_things import COUNTED, COUNTS
from intake.custody.day_on_record import DayOnRecord
from intake.custody.failed_trials import FAILED
from intake.custody.receipt_lines import (
    fault_in_figures,
    fault_name,
    fault_on_bare_side,
    fault_words,
    receipt_line,
)
from intake.database import Reading
from intake.records.record import Record
from intake.records.values import FieldValue, compact
from intake.tagging.tags import codes
from tests.app_rules import said_by_app
from tests.custody.receipts_said import said_by_office

NO_TABLES = cast(Reading, None)
DAYS = 400
NAMES = (
    *("teapot", "teapot; the cover gilt", "teapot; chip, rim", "", "set; 3 pieces"),
    *("a vase " * 40, "🏺" * 130, "dish " + "x" * 243, "dish " + "x" * 247, "cup; back with the owner"),
)
ZONES = ("rim", "ears/proper-left", "viewers-left/back-of-it", "re-lined-back", "")
TERMS = ("chip", "re-glued-edge", "under-a-lamp", "crack", "missing")
EXTENTS = {
    "extent_mm": (None, 3, 12),
    "extent_mm_across": (None, None, 4),
    "extent_count": (None, None, 2),
    "extent_percent": (None, None, 40),
    "side": (None, "left", "proper-left", "viewers-right", "upper", "clock-3"),
    "extent_words": (None, "", "along it; all over", "a long line of small ones " * 4),
}
UNLIKE = ("a plane", "a plane.", "chisels; two rusty", "a blowlamp " * 9, "🏺" * 40, "")
TRIALS = ("is-it-going", "strike-once", "drawers", "ultraviolet")
RESULTS = ("works", "no-response", "no-response", "not-done")
PLACES = ("table", "holding", "van", "store", "returned", "returned")
WORDINGS: tuple[Callable[[dict[str, Any]], str], ...] = (
    *(fault_words, fault_words, fault_words),
    *(fault_in_figures, fault_name, fault_on_bare_side),
)


class AnyDay:
    """A day with one visit, its items and a receipt; each day is another by its seed."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(seed)
        self.numbers = codes(2000)
        self.seq = 0
        self.day = self.record("day", "d", {})
        self.visit = self.record("visit", "v", {"ticket": self.said("Q01")})
        self.items = [self.record("item", f"i{at}", self.thing()) for at in range(3)]
        self.merge()
        self.sign()

    def record(self, kind: str, record_id: str, fields: dict[str, FieldValue]) -> Record:
        head: dict[str, Any] = {
            "kind": kind,
            "record_id": record_id,
            "day_id": "d",
            "visit_id": "v",
            "opened_at": record_id,
        }
        if kind == "day":
            head["tables"] = []
        record = Record(NO_TABLES, record_id, kind, "d", 0, head, new=True)
        record.fields = dict(sorted(fields.items()))
        return record

    def said(self, value: Any, minute: int | None = None) -> FieldValue:
        minute = self.chance.randrange(60) if minute is None else minute
        self.seq += 1
        part = self.chance.choice(["Z", "Z", ".500Z"])
        made_at = f"2026-03-14T10:{minute:02}:00{part}"
        device_id = self.chance.choice(["d0", "d1", "d1", "d2"])
        # What one device did has its own order, whatever its clock says; that of another says nothing.
        seq = minute + 1 if device_id == "d1" else 60 - minute
        return FieldValue(value, f"o{self.seq}", "ana", made_at, device_id, seq, compact(value))

    def finding(self) -> dict[str, Any]:
        chance = self.chance
        return {
            "zone": chance.choice(ZONES),
            "term": chance.choice(TERMS),
            "activity": chance.choice(["N", "N", "N", "Q"]),
            "severity": chance.choice([None, 0, 1, 2, 3, 4]),
            "withdrawn": chance.random() < 0.1,
            **{name: chance.choice(choices) for name, choices in EXTENTS.items()},
        }

    def thing(self) -> dict[str, FieldValue]:
        chance = self.chance
        fields = {"short_description": self.said(chance.choice(NAMES))}
        if chance.random() < 0.7:
            fields["class_id"] = self.said(chance.choice(["tin", "jug", None]))
        for at in range(chance.choice([0, 0, 1, 2, 3, 9])):
            fields[f"findings/f{at}"] = self.said(self.finding())
        for test in chance.sample(TRIALS, chance.choice([0, 0, 1, 2])):
            fields[f"tests/{test}"] = self.said({"result": chance.choice(RESULTS), "why": None, "note": ""})
        for measure in chance.sample(list(COUNTED), chance.choice([0, 0, 1, 3])):
            fields[f"measures/{measure}"] = self.said({"value": chance.choice([None, 1, 2, 62]), "typed": ""})
        pieces = chance.choice([1, 1, 1, 2, 3])
        tags = []
        for _ in range(chance.choice([0, 1, 1, pieces, pieces + 1])):
            tags.append(next(self.numbers))
            gone = chance.choice([None, None, None, "taken-back", "lost", "on-another-item"])
            piece = chance.choice([*range(1, pieces + 1), None])
            tied = {
                "tag": tags[-1],
                "piece": piece,
                "of": pieces,
                "mark": chance.choice(["", *UNLIKE]),
                "gone": gone,
            }
            fields[f"tags/{tags[-1]}"] = self.said({**tied, "replaced_by": None})
        for at in range(chance.choice([0, 0, 0, 1, 3])):
            line = {"words": chance.choice(UNLIKE), "count": chance.choice([1, 1, 2, 30])}
            fields[f"listed/l{at}"] = self.said({**line, "withdrawn": chance.random() < 0.2})
        for at in range(chance.choice([0, 0, 1, 2, 3])):
            self.move(fields, at, chance.choice([None, *tags]))
        if chance.random() < 0.1:
            level = chance.choice(["note", "amber", "red"])
            caution = {"hazard": "H26", "level": level, "sign": "", "zone": None, "called": "", "place": ""}
            fields["cautions/c"] = self.said({**caution, "still_allowed": []})
        return fields

    def move(self, fields: dict[str, FieldValue], at: int, tag: str | None) -> None:
        moved = {
            "move_id": f"m{self.seq}",
            "from_place": self.chance.choice(["table", "returned"]),
            "to_place": self.chance.choice(PLACES),
            "at": "",
            "given_by": "",
            "taken_by": "",
            "count": None,
            "signed": False,
            "tag": tag,
        }
        fields[f"moves/m{self.seq}"] = said = self.said(moved)
        if self.chance.random() < 0.9:
            fields[f"whereabouts/{tag}" if tag else "whereabouts"] = said

    def merge(self) -> None:
        """Two of them are one thing, which both records name by the same number or each by its own."""
        if self.chance.random() < 0.1:
            self.items[2].fields["merged"] = self.said({"into_id": "of another day", "why": ""})
        if self.chance.random() < 0.5:
            return
        first, second = self.items[:2]
        second.fields["merged"] = self.said({"into_id": first.record_id, "why": ""})
        shared = [name for name in first.fields if name.startswith("tags/")]
        if shared and self.chance.random() < 0.3:
            value = first.fields[shared[0]].value
            second.fields[shared[0]] = self.said({**value, "gone": self.chance.choice([None, "taken-back"])})

    def sign(self) -> None:
        """For each thing as it might have been then."""
        lines = []
        for item in self.items:
            if "merged" in item.fields and self.chance.random() < 0.7:
                continue
            then = self.record("item", item.record_id, self.then(item.fields))
            line = receipt_line(then, DayOnRecord(self.day, [], [then], []), self.chance.choice(WORDINGS))
            parts = line.words.split("; ")
            untried = "; ".join(part for part in parts if part not in FAILED.values())
            uncounted = "; ".join(part for part in parts if not COUNTS.search(part))
            words = self.chance.choice([line.words] * 7 + [untried] * 2 + [uncounted] * 2 + [""])
            said = {"item_id": item.record_id, "tags": line.tags, "words": words}
            lines.append({**said, **self.chance.choice([{"class_id": line.class_id}, {}])})
        receipt = {"number": "Q01/1", "what": "left", "lines": lines, "replaces": None}
        self.visit.fields["receipts/r"] = self.said(receipt, 30)._replace(device_id="d1", device_seq=31)

    def then(self, now: dict[str, FieldValue]) -> dict[str, FieldValue]:
        how = self.chance.random()
        if how < 0.3:
            return dict(now)
        if how < 0.6:  # without one thing that was said since
            gone = self.chance.choice(list(now))
            return {name: value for name, value in now.items() if name != gone}
        then = dict(now)
        if how < 0.75:
            name = now["short_description"].value
            longer = self.chance.choice([f"{name}; gilt", f"{name}; crack, rim", "jug", name.split("; ")[0]])
            then["short_description"] = self.said(longer)
        elif how < 0.85:  # before any number was off
            for name in [name for name in now if name.startswith("tags/")]:
                then[name] = now[name]._replace(value={**now[name].value, "gone": None})
        else:
            then["findings/f0"] = self.said(self.finding())
        return then

    def on_record(self) -> DayOnRecord:
        return DayOnRecord(self.day, [self.visit], self.items, [])

    def as_sent(self) -> dict[str, Any]:
        records = [
            {
                **record.head,
                "fields": {name: json.loads(value.body()) for name, value in record.fields.items()},
                "disagreements": [],
                "office_seq": 0,
            }
            for record in (self.day, self.visit, *self.items)
        ]
        return {"records": records, "plans": {}, "rows": {}}


def test_a_receipt_is_read_alike_on_both_sides(tmp_path: Path) -> None:
    days = [AnyDay(seed) for seed in range(DAYS)]
    said = said_by_app("back_here.js", [day.as_sent() for day in days], tmp_path / "days.json")
    changes = set()
    for seed, (day, here) in enumerate(zip(days, said, strict=True)):
        office = said_by_office(day.on_record())
        for name, value in office.items():
            assert here[name] == value, (seed, name)
        changes |= {words for _, what in office["changed"] for words in what}
    assert changes >= {
        *("what it is called", "its condition", "its numbers or pieces", "its number is gone"),
        *("a piece of it went back", "that it went back and came again", "that it is held apart"),
        *("that it is stopped", "that it is one with another on record", "its class: none"),
    }
