"""What the valuers said of the day's things."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from intake.demo.hand import Hand
from intake.examination.plan import Plan, zone_keys
from intake.examination.vocabulary import Vocabulary


class Examining:
    """Facts, zones and findings of a thing; a caution above a note makes it one of the `held`, or of the `stopped`."""

    def __init__(self, hand: Hand, vocabulary: Vocabulary) -> None:
        self._hand = hand
        self._activities = {term.term: term.activity for term in vocabulary.terms}
        self.held: set[str] = set()
        self.stopped: set[str] = set()

    def fact(self, item_id: str, valuer: str, field: str, value: Any) -> dict[str, Any]:
        shared = {"item_id": item_id, "seen": None}
        if field == "dates":
            return self._hand.make("record_date", valuer, **shared, **value)
        if field.startswith("measures/"):
            measure = field.removeprefix("measures/")
            return self._hand.make("record_measure", valuer, **shared, measure=measure, **value)
        return self._hand.make("set_item", valuer, **shared, field=field, value=value)

    def noticed(self, item_id: str, valuer: str, caution: dict[str, Any]) -> dict[str, Any]:
        """A caution on what did not stay: nobody looked at more of it, and it went home with its owner."""
        given = {"item_id": item_id, "seen": None, "caution_id": self._hand.id()}
        return self._hand.make("raise_caution", valuer, **given, **caution)

    def examine(
        self, item_id: str, valuer: str, plan: Plan, examined: dict[str, Any]
    ) -> Iterator[dict[str, Any]]:
        if not examined:
            return
        keys = zone_keys(plan)
        zones = {finding["zone"] for finding in examined["findings"]} | set(examined["not_examined"])
        blank = {"count": None, "seen": None}
        for zone, reason in examined["not_examined"].items():
            state = {"state": "not-examined", "reason": reason}
            where = {"zone": zone, "light": None}
            yield self._hand.make("examine_zone", valuer, item_id=item_id, **where, **state, **blank)
        found_on = {finding["zone"]: finding for finding in examined["findings"]}
        for finding in found_on.values():
            state = {"state": "finding", "reason": None}
            where = {"zone": finding["zone"], "light": "lamp"}
            yield self._hand.make("examine_zone", valuer, item_id=item_id, **where, **state, **blank)
        for finding in examined["findings"]:
            rest = dict.fromkeys(("side", "extent_words", "origin"))
            # What the form at a table fills in before anybody says otherwise.
            usual = {"activity": self._activities[finding["term"]], "certainty": "certain"}
            yield self._hand.make(
                "record_finding",
                valuer,
                item_id=item_id,
                finding_id=self._hand.id(),
                withdrawn=False,
                seen=None,
                **{**rest, **usual, **finding},
            )
        # Of what was stopped nobody opened or turned anything to look at the rest.
        is_stopped = any(body.get("level") == "red" for _, body in examined["observations"])
        alone = [] if is_stopped else examined.get("alone", [])
        for zone in alone:  # a sweep passes over what lies inside a zone that was not seen
            state = {"state": "clear", "reason": None}
            where = {"zone": zone, "light": "lamp"}
            yield self._hand.make("examine_zone", valuer, item_id=item_id, **where, **state, **blank)
        zones |= set(alone)
        rest_keys = [] if is_stopped else [key for key in keys if key not in zones]
        if rest_keys:
            yield self._hand.make("examine_rest", valuer, item_id=item_id, zones=rest_keys, light="lamp")
        caution_id = ""
        for kind, body in examined["observations"]:
            given = {"mark_id": self._hand.id()} if kind == "record_mark" else {}
            if kind == "raise_caution":
                caution_id = self._hand.id()
                if body["level"] != "note":
                    (self.stopped if body["level"] == "red" else self.held).add(item_id)
            if kind == "decide_caution" and body["decision"] == "cleared":
                self.held.discard(item_id)
            if kind in ("raise_caution", "decide_caution"):
                given = {"caution_id": caution_id}
            yield self._hand.make(kind, valuer, item_id=item_id, seen=None, **given, **body)
