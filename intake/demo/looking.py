"""What a valuer may have found on a thing of which the day says nothing more, drawn with its plan."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import Any

from intake.examination.plan import Plan, Zone, zone_keys
from intake.examination.plans import Plans
from intake.examination.vocabulary import Term


def never_had(plan: Plan, thing: dict[str, Any]) -> dict[str, str]:
    """The zones of its class that a thing never had, as its record says them."""
    absent = thing.get("without", "").split()
    return {key: "not-applicable" for key in zone_keys(plan) if key.split("/")[0] in absent}


class Looking:
    """Findings, denials and tests of a thing: only on its own zones, and only what can be on what it is made of."""

    def __init__(self, chance: Random, plans: Plans) -> None:
        self._chance = chance
        self._terms = {term.term: term for term in plans.vocabulary.terms if term.activity in "nw"}

    def over(self, plan: Plan, thing: dict[str, Any]) -> dict[str, Any]:
        """What was found, looked for and tried; nothing on what the day does not say the parts of."""
        if "without" not in thing:
            return {}
        absent, made_of = thing["without"].split(), {"ALL", *thing["of"].split()}
        zones = [zone for zone in plan.zones if zone.zone not in absent]
        findings = []
        for zone in self._chance.sample(zones, min(len(zones), self._chance.randrange(1, 5))):
            usual = [self._terms[name] for name in zone.usual if name in self._terms]
            fitting = [term for term in usual if made_of & set(term.materials)]
            if fitting:
                findings.append(self._found(plan, zone, self._chance.choice(fitting)))
        gone = {found["zone"].split("/")[0] for found in findings if found["term"] == "missing-part"}
        there = [zone for zone in zones if zone.zone not in gone]
        denied = list(self._denied(plan, there))
        used = {body["light"] for _, body in denied}
        # What lacks its movement was not wound, and a light that showed something was used.
        looked = [*denied, *([] if gone else self._tried(plan, there, used))]
        return {"findings": findings, "not_examined": {}, "observations": looked}

    def _found(self, plan: Plan, zone: Zone, term: Term) -> dict[str, Any]:
        """One finding, with a measure that its term can have, as grave as its term mostly is."""
        key = self._chance.choice([key for key in zone_keys(plan) if key.split("/")[0] == zone.zone])
        found = {
            "zone": key,
            "term": term.term,
            "note": "",
            "severity": term.severity,
            "extent_mm": None,
        }
        ways = [way for way in term.extents if way in ("mm", "%", "n")]
        if ways and self._chance.randrange(4):
            way = self._chance.choice(ways)
            extent = {"mm": "extent_mm", "%": "extent_percent", "n": "extent_count"}[way]
            most = {"mm": 30, "%": 40, "n": 4}[way]
            return {**found, extent: self._chance.randrange(1, most)}
        return found

    def _denied(self, plan: Plan, zones: list[Zone]) -> Iterator[list[Any]]:
        """What a buyer expects to hear was looked for, with a light that can show it."""
        here = {zone.zone for zone in zones}
        for negative in plan.negatives:
            keys = [key for key in zone_keys(plan) if key.split("/")[0] in here & set(negative.zones)]
            if keys and self._chance.randrange(2):
                light = {"light": self._chance.choice(negative.lights), "withdrawn": False}
                for key in keys:
                    yield ["record_denial", {"zone": key, "term": negative.terms[0], **light}]

    def _tried(self, plan: Plan, zones: list[Zone], used: set[str]) -> Iterator[list[Any]]:
        """A test or two that may be made on what is there, with what came of it."""
        here = {zone.zone for zone in zones}
        may = [
            test
            for test in plan.tests
            if test.never_when != "always"
            and used.isdisjoint({test.looks, test.test})
            and not (test.rules_out and test.rules_out.zones and here.isdisjoint(test.rules_out.zones))
        ]
        for test in self._chance.sample(may, min(len(may), self._chance.randrange(3))):
            results = ["works", "works", "not-done", *(["works-in-part"] if test.in_part else [])]
            result = self._chance.choice(results)
            why = "no-time" if result == "not-done" else ""
            yield ["record_test", {"test": test.test, "result": result, "why": why, "note": ""}]
