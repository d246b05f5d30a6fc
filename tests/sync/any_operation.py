"""Operations of every kind there is, made from the office's own models: valid to read, often wrong to do.

The same few days, items, tags and fields meet again and again, so that rules are met, and so are earlier values.
"""

from __future__ import annotations

import random
from collections import defaultdict
from itertools import islice
from typing import Any

from intake.custody.closing_lines import digest_of
from intake.operation import KINDS
from intake.sync.kinds import READ_OPERATION
from intake.tagging.tags import codes, serial_of
from tests.builders import Ids

NUMBERS = list(islice(codes(77), 8))
ZONES = ["head", "back"]
PEOPLE = ["hester"] * 5 + ["ana"]  # ana is on no day's list until somebody puts her there
FACTS = ["maker", "materials", "packaging"]
SCHEMAS: dict[str, Any] = READ_OPERATION.json_schema()["$defs"]
WRONG = 0.1  # how often an id names nothing
#: Kinds that build on another: on which, and what of it they name.
BUILDS_ON = {
    "remove_tag": ("tie_tag", ("item_id", "tag")),
    "give_roll": ("issue_roll", ("day_id", "roll_id")),
    "print_labels": ("issue_roll", ("day_id", "roll_id")),
    "settle_incident": ("record_incident", ("day_id", "incident_id")),
}


class AnyOperation:
    """Makes operations; `learn` is told of those that were kept, so that later ones speak of earlier ones."""

    def __init__(self, chance: random.Random, ids: Ids, device_id: str) -> None:
        self._chance, self._ids, self._device_id = chance, ids, device_id
        self._known: dict[str, list[str]] = defaultdict(list)
        self._kept: dict[str, list[dict[str, Any]]] = defaultdict(list)
        self._seq = 0

    def make(self, kind: str) -> dict[str, Any]:
        schema = SCHEMAS[KINDS[kind].__name__]
        self._seq += 1
        operation = {
            "operation_id": self._ids.id(),
            "kind": kind,
            "made_at": self._ids.instant(),
            "made_by": self._chance.choice(PEOPLE),
            "device_id": self._device_id,
            "device_seq": self._seq,
        }
        for name, member in schema["properties"].items():
            if name not in operation:
                operation[name] = self._member(kind, name, member)
        self._mend(operation)
        return operation

    @property
    def next_seq(self) -> int:
        """The device's next place in its own order."""
        return self._seq + 1

    def learn(self, operation: dict[str, Any], *, disagreement: bool) -> None:
        """Remember the ids of an operation that was kept."""
        for name, value in operation.items():
            if name.endswith("_id") and isinstance(value, str) and name not in ("device_id", "seen"):
                self._known[name].append(value)
        if operation["kind"] in ("open_item", "open_container"):
            self._known["thing_id"].append(operation[KINDS[operation["kind"]].record_member])
        if operation["kind"] in ("open_visit", "open_day"):
            self._known["of_id"].append(operation[KINDS[operation["kind"]].record_member])
        self._kept[operation["kind"]].append(operation)
        if disagreement:
            self._known["disagreement_id"] += [operation["operation_id"]] * 3
            self._known["record_id"] += [operation[KINDS[operation["kind"]].record_member]] * 3

    def _member(self, kind: str, name: str, schema: dict[str, Any]) -> Any:
        match name:
            case "tag" if "null" in str(schema) and self._chance.random() < 0.8:
                return None  # the whole thing moves, not a piece of it
            case "tag" | "number":
                return self._chance.choice(NUMBERS)
            case "heard_stops":
                return None  # one device alone hears of what it said itself
            case "numbers":
                return self._chance.choice([None, self._chance.sample(NUMBERS, 2)])
            case "packed":
                inside = self._chance.sample(NUMBERS, 2)
                return self._chance.choice([None, [{"container": NUMBERS[0], "numbers": inside}]])
            case "of_load":
                return self._chance.choice([None, *self._known["load_id"][-3:], self._ids.id()])
            case "first_tag":
                return next(codes(self._chance.choice([5000, 5003, 6000])))
            case "rows":
                return [{"first_tag": next(codes(self._chance.choice(range(5000, 5006)))), "count": 1}]
            case "zone":
                return self._chance.choice(ZONES)
            case "zones":
                return ZONES
            case "seen" if kind == "tie_tag":
                return next(
                    iter(self._known["operation_id"][-1:]), None
                )  # it says a number anew where that was its own
            case "seen":
                return self._chance.choice([None, self._chance.choice(self._known["operation_id"] or [None])])
            case "field" if kind == "set_item":
                return self._chance.choice(FACTS)
            case "salt":
                return "0" * 32
            case "strokes":
                return ""
            case "made_at" | "taken_at" | "seen_at" | "sealed_at":
                return self._ids.instant()
            case (
                "caution_id"
                | "incident_id"
                | "finding_id"
                | "roll_id"
                | "from_roll_id"
                | "difference_id"
                | "receipt_id"
                | "load_id"
            ):
                known = self._known[{"from_roll_id": "roll_id"}.get(name, name)][-3:]
                return self._chance.choice([*known, self._ids.id()])
        if name.endswith("_id") and "pattern" in str(schema):
            opens = kind.startswith("open_") and name == KINDS[kind].record_member
            if "null" in str(schema) and self._chance.random() < 0.3:
                return None
            known = self._known[{"into_id": "item_id"}.get(name, name)][-4:]
            if opens or not known or self._chance.random() < WRONG:
                return self._ids.id()
            return self._chance.choice(known)
        return self._value(schema)

    def _value(self, schema: dict[str, Any]) -> Any:
        if "$ref" in schema:
            inner = SCHEMAS[schema["$ref"].rsplit("/", 1)[-1]]
            return {name: self._value(member) for name, member in inner["properties"].items()}
        if "anyOf" in schema:
            return self._value(self._chance.choice(schema["anyOf"]))
        if "const" in schema:
            return schema["const"]
        if "enum" in schema:
            return self._chance.choice(schema["enum"])
        match schema["type"]:
            case "null":
                return None
            case "boolean":
                return self._chance.random() < 0.2
            case "integer" | "number":
                return self._chance.randint(
                    max(1, schema.get("minimum", 1)), min(3, schema.get("maximum", 3))
                )
            case "array":
                return [self._value(schema["items"])]
        return self._text(schema.get("pattern", ""))

    def _text(self, pattern: str) -> str:
        made = {
            "[0-9a-f]{8}-": self._ids.id(),
            "[0-9a-f]{64}": "ab" * 32,
            "H[0-9]": "H26",
            "not-noted": "left",
            "[A-Z]{3}": "GBP",
            r"^\d{4}-\d\d-\d\d$": "2026-03-14",
            "[a-z0-9][a-z0-9-]": "word",
            "[a-z0-9][a-z0-9_-]": "unseen/word",
        }
        found = next((value for start, value in made.items() if start in pattern), None)
        return found or self._chance.choice(["words", "other words"])

    def _mend(self, operation: dict[str, Any]) -> None:
        """What a model asks of two members at once, and what a kind builds on."""
        before, names = BUILDS_ON.get(operation["kind"], ("", ()))
        if self._kept[before] and self._chance.random() < 0.8:
            named = self._chance.choice(self._kept[before])
            operation |= {name: named[name] for name in names}
        match operation["kind"]:
            case "open_day":
                operation["people"] = [{"person_id": "hester", "name": "Hester", "roles": ["valuer"]}]
                if self._chance.random() < 0.5:
                    operation["people"].append({"person_id": "ana", "name": "Ana", "roles": ["porter"]})
                operation["tables"] = []
            case "record_finding":
                operation["piece_count"] = None if operation["piece"] else operation["piece_count"]
            case "examine_zone":
                operation["reason"] = "covered" if operation["state"] == "not-examined" else None
            case "set_visit":
                words = {"bags": 2, "item_count": 2, "private": "yes", "stage_allowed_by": "Hester"}
                operation["value"] = words.get(operation["field"], "left")
            case "correct_day":
                on_a_date = operation["field"] == "held_on"
                operation["value"] = "2026-03-15" if on_a_date else "Hester: the hall was another"
            case "give_tickets":
                operation["last"] += operation["first"]
            case "set_item":
                operation["value"] = self._chance.choice(["tin", "oak"])
            case "record_date":
                operation["earliest"] = operation["latest"] = None
            case "carry_roll" if self._kept["issue_roll"]:
                issued = self._chance.choice(self._kept["issue_roll"])
                operation |= {name: issued[name] for name in ("first_tag", "last_tag", "count")}
                operation["from_roll_id"] = issued["roll_id"]
            case "issue_roll" | "carry_roll":
                count = operation["count"]
                run = islice(codes(serial_of(operation["first_tag"])), count)
                operation["last_tag"] = list(run)[-1]
            case "sign_receipt":
                operation["number"], operation["on_paper"] = "Q01/RMBF1", "pad 3, number 7"
                for line in operation["lines"]:
                    line["item_id"], line["tags"] = self._ids.id(), []
                    line["class_id"] = line["class_id"] and "soft-toy"
            case "settle_disagreement":  # what it names beside the one is held to games of its own
                operation["kept_id"] = operation["standing_id"] = operation["beside_ids"] = None
            case "settle_incident":
                operation["settled_by"] = "Hester"
            case "close_day":
                operation["closed_by"], operation["second_by"] = "Winifred", "Otis"
                operation["reason_ids"], operation["digest"] = [], None  # it names its differences itself
                operation["first_signing"], operation["heard"] = None, []
            case "sign_closing":
                operation["reason_ids"], operation["digest"] = [], digest_of([])  # that everything agrees
                operation["withdrawn"] = False
            case "add_person":
                operation["person"] = {"person_id": "ana", "name": "Ana", "roles": ["porter"]}
            case "remove_tag":
                operation["replaced_by"] = None
            case "attach_record_photo":
                operation["difference_id"] = self._chance.choice([None, operation["difference_id"]])
