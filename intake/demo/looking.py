"""What a valuer may have found on a thing of which the day says nothing more, drawn with its plan."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import Any

from intake.examination.plan import FunctionTest, NeverBeside, Plan, Zone, zone_keys
from intake.examination.plans import Plans
from intake.examination.vocabulary import Term

WHOLE = {"outline", "set-count"}
#: What is said of a part: of the whole, a valuer would say which part.
PARTS = {"missing-part", "associated-part", "replaced-part", "loose-part", "detached-part", "bent", "trimmed"}
#: What says nothing without a note on what was done.
NEEDS_A_NOTE = {"converted"}
#: What spreads is held apart by a caution, which no chance raises: the day's file says it itself.
GOES_ON = "nwP"
#: So much at most: millimetres of a fault, and of what was cut off or is out of line; things.
MOST_MM, MOST_OFF_MM, MOST_COUNT = 30, 6, 3
#: By how grave it is called: a millimetre of it is none that matters.
LEAST_MM = {2: 3, 3: 8, 4: 8}
SHARE, MOST_SHARES, MOST_SHARES_LOST = 5, 8, 2  # nobody tells hundredths apart


def touch(plan: Plan, one: str, other: str) -> bool:
    """Whether one zone is the other, a member of it, or holds it; what is said of the whole is said of every zone."""
    a, b = one.split("/")[0], other.split("/")[0]
    if a == b:
        return one == other or a in (one, other)
    holds = {zone.zone: zone.holds for zone in plan.zones}
    return "outline" in (a, b) or b in holds[a] or a in holds[b]


def never_had(plan: Plan, thing: dict[str, Any]) -> dict[str, str]:
    """The zones of its class that a thing never had, as its record says them."""
    absent = thing.get("without", "").split()
    return {key: "not-applicable" for key in zone_keys(plan) if key.split("/")[0] in absent}


def each_key(plan: Plan, unseen: dict[str, str]) -> dict[str, str]:
    """What was not examined by the keys of the plan: a zone stands for its members, and one that it lacks is a slip."""
    keys = zone_keys(plan)
    zones = {zone.zone for zone in plan.zones}
    if unknown := unseen.keys() - zones - set(keys):
        raise ValueError(
            f"no zone of {plan.class_id}: {', '.join(sorted(unknown))}; write it as its plan has it"
        )
    return {key: unseen[name] for key in keys for name in {key, key.split("/")[0]} if name in unseen}


def loose_keys(plan: Plan) -> list[str]:
    """What lies with a thing and is taken in hand by itself, such as a key: a bidder asks whether it is there."""
    asked = {one.zone for question in plan.questions for one in question.present}
    asked |= {
        question.if_there.zone
        for question in plan.questions
        if question.if_there
        and question.if_there.zone not in question.judged
        and " or " not in question.if_there.words  # which of them would have to be said
    }
    return [
        key
        for zone in plan.zones
        if zone.zone in asked
        for key in zone_keys(plan)
        if zone.zone == key.split("/")[0]
    ]


def framed_in(plan: Plan, thing: dict[str, Any], stated: set[str]) -> dict[str, str]:
    """What lies under a part that is there, such as a frame, was not seen unless that was said to be off."""
    if "without" not in thing:
        return {}
    absent = set(thing["without"].split())
    return {
        zone.zone: "covered"
        for zone in plan.zones
        if not set(zone.under) <= absent and stated.isdisjoint(zone.tests)
    }


def is_forbidden(
    plan: Plan, test: FunctionTest, findings: list[dict[str, Any]], absent: set[str], unseen: set[str]
) -> bool:
    """Whether what is on record of a thing forbids a test; its zones are there but for the `absent`."""

    def stands(beside: NeverBeside) -> bool:
        zones = set(beside.zones)
        match beside.when:
            case "found":
                found = [one for one in findings if one["term"] in beside.terms]
                return any(not zones or one["zone"].split("/")[0] in zones for one in found)
            case "there":
                return not zones <= absent | unseen
            case "none":
                return zones <= absent
            case "unseen":
                return bool(zones & unseen)

    return any(stands(beside) for beside in test.never_beside)


def shut_in(plan: Plan, unseen: dict[str, str], but: set[str]) -> dict[str, str]:
    """What is not seen where a zone round it was not, as the screens have it, and why; `but` what was seen alone."""
    found: dict[str, str] = {}

    def shut(outer: str, why: str) -> None:
        held = {name for zone in plan.zones if zone.zone == outer for name in zone.holds}
        for zone in plan.zones:
            if (outer in zone.inside or zone.zone in held) and zone.zone not in found:
                found[zone.zone] = why
                shut(zone.zone, why)

    for key, why in unseen.items():
        shut(key.split("/")[0], why)
    return {
        key: found[key.split("/")[0]]
        for key in zone_keys(plan)
        if key.split("/")[0] in found and key not in unseen and not {key, key.split("/")[0]} & but
    }


class Looking:
    """Findings, denials and tests of a thing: only on its own zones, and only what can be on what it is made of.

    What the day's file itself says was found comes first, and chance says nothing else of those zones.
    """

    def __init__(self, seed: int, plans: Plans) -> None:
        self._seed, self._chance = seed, Random(seed)
        self._covers = {term.term: set(term.covers) for term in plans.vocabulary.terms}
        self._terms = {term.term: term for term in plans.vocabulary.terms if term.activity in GOES_ON}
        self._plural = {zone.zone for zone in plans.print.zones if zone.plural}

    def over(self, plan: Plan, thing: dict[str, Any]) -> dict[str, Any]:
        """What was found, looked for and tried; nothing on what the day does not say the parts of.

        Each thing has a chance of its own, so that none changes with another. What cannot be on it or be done to it,
        though its class has it, stands under its `unlikely`: a quilt has no pile.
        """
        if "without" not in thing:
            return {}
        self._chance = Random(f"{self._seed} {thing['number']}")
        unlikely = set(thing.get("unlikely", "").split())
        stated = thing.get("statements", "").split()
        framed = framed_in(plan, thing, set(stated))
        unseen, made_of = {**framed, **thing.get("unseen", {})}, {"ALL", *thing["of"].split()}
        shut = {key.split("/")[0] for key in shut_in(plan, unseen, set())}
        absent = {*thing["without"].split(), *unseen, *shut}
        zones = [zone for zone in plan.zones if zone.zone not in absent]
        findings = list(thing.get("findings", []))
        said = {found["zone"].split("/")[0] for found in findings}
        for zone in self._chance.sample(zones, min(len(zones), self._chance.randrange(1, 5))):
            if zone.zone in said:
                continue
            usual = [self._terms[name] for name in zone.usual if name in self._terms]
            fitting = [
                term
                for term in usual
                if made_of & set(term.materials)
                and term.term not in unlikely | NEEDS_A_NOTE
                and not (zone.zone in WHOLE and term.term in PARTS)
            ]
            if fitting:
                findings.append(self._found(plan, zone, self._chance.choice(fitting)))
        gone = {found["zone"].split("/")[0] for found in findings if found["term"] == "missing-part"}
        there = [zone for zone in zones if zone.zone not in gone]
        denied = list(self._denied(plan, there, findings, unlikely))
        used = {body["light"] for _, body in denied}
        # What lacks its movement was not wound, and a light that showed something was used.
        without, hidden = set(thing["without"].split()), {*unseen, *shut}
        tried = [] if gone else self._tried(plan, there, findings, used | unlikely, without, hidden)
        words = {negative.negative: negative.words for negative in plan.negatives}
        statements = [
            ["record_statement", {"statement": name, "words": words[name], "withdrawn": False}]
            for name in stated
        ]
        looked = [*denied, *tried, *statements]
        cautions = [["raise_caution", caution] for caution in thing.get("cautions", [])]
        marks = [["record_mark", mark] for mark in thing.get("marks", [])]
        return {
            "findings": findings,
            "not_examined": each_key(plan, unseen),
            "observations": [*cautions, *marks, *looked],
        }

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
        ways = [way for way in term.extents if self._is_said(way, key, term)]
        if not ways or not self._chance.randrange(4):
            return found
        match self._chance.choice(ways):
            case "mm":
                is_off = term.measured == "by"
                least, most = (1, MOST_OFF_MM) if is_off else (LEAST_MM.get(term.severity, 1), MOST_MM)
                return {**found, "extent_mm": self._chance.randint(least, most)}
            case "%":
                most = MOST_SHARES_LOST if term.family == "loss" else MOST_SHARES
                return {**found, "extent_percent": SHARE * self._chance.randint(1, most)}
            case _:
                return {**found, "extent_count": self._chance.randint(1, MOST_COUNT)}

    def _is_said(self, way: str, key: str, term: Term) -> bool:
        """Whether somebody would measure it so: a glass is replaced, not two or a tenth of it; two wheels are."""
        if way == "n":
            return not term.says or key in self._plural
        return way == "mm" or (way == "%" and not term.says)

    def _denied(
        self, plan: Plan, zones: list[Zone], findings: list[dict[str, Any]], unlikely: set[str]
    ) -> Iterator[list[Any]]:
        """What a buyer expects to hear was looked for, with a light that can show it, and was not found."""
        here = {zone.zone for zone in zones}
        for negative in plan.negatives:
            keys = [key for key in zone_keys(plan) if key.split("/")[0] in here & set(negative.zones)]
            lights = [light for light in negative.lights if light not in unlikely]
            if keys and lights and unlikely.isdisjoint(negative.terms) and self._chance.randrange(2):
                light = {"light": self._chance.choice(lights), "withdrawn": False}
                for key in keys:
                    if any(self._speaks(plan, found, key, negative.terms[0]) for found in findings):
                        continue
                    yield ["record_denial", {"zone": key, "term": negative.terms[0], **light}]

    def _speaks(self, plan: Plan, found: dict[str, Any], key: str, name: str) -> bool:
        """Whether a finding speaks against "no such fault there": one of its family, on a zone that touches it."""
        term = found["term"]
        is_family = term == name or name in self._covers[term] or term in self._covers[name]
        return is_family and touch(plan, found["zone"], key)

    def _tried(
        self,
        plan: Plan,
        zones: list[Zone],
        findings: list[dict[str, Any]],
        used: set[str],
        absent: set[str],
        unseen: set[str],
    ) -> Iterator[list[Any]]:
        """A test or two that may be made on what is there, with what came of it; none that would leave a size.

        What was found and what was seen stands: nothing works beside it, and nobody says that he did not look.
        """
        here = {zone.zone for zone in zones}

        def may_be_made(test: FunctionTest) -> bool:
            is_of_it = not test.rules_out or not test.rules_out.zones or here & set(test.rules_out.zones)
            is_there = not test.of or bool(here & set(test.of))
            is_free = test.never_when != "always" and not test.measures
            return is_free and is_there and bool(is_of_it) and used.isdisjoint({test.looks, test.test})

        def is_said_by(found: dict[str, Any], test: FunctionTest) -> bool:
            if not test.rules_out:
                return False
            zone, zones = found["zone"].split("/")[0], test.rules_out.zones
            return found["term"] in test.rules_out.terms and (not zones or zone in zones)

        may = [test for test in plan.tests if may_be_made(test)]
        for test in self._chance.sample(may, min(len(may), self._chance.randrange(3))):
            is_seen = here & set(test.shows or [])
            left_out = [] if is_seen else ["not-done"]
            results = ["works", "works", *left_out, *(["works-in-part"] if test.in_part else [])]
            result = self._chance.choice(results)
            if any(is_said_by(found, test) for found in findings):
                continue
            if result != "not-done" and is_forbidden(plan, test, findings, absent, unseen):
                continue
            is_shown = any(found["term"] in (test.seeks or []) for found in findings)
            is_blank = test.looks and result == "works" and not is_shown
            why = "no-time" if result == "not-done" else "nothing-seen" if is_blank else ""
            yield ["record_test", {"test": test.test, "result": result, "why": why, "note": ""}]
