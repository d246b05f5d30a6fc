"""What chance says of the demo's things is what a valuer could have said. Source: common practice."""

from __future__ import annotations

import json
from typing import Any

import pytest

from intake.demo.examining import Examining
from intake.demo.hand import SEED, Hand
from intake.demo.looking import (
    NEEDS_A_NOTE,
    PARTS,
    WHOLE,
    Looking,
    each_key,
    is_forbidden,
    loose_keys,
    shut_in,
)
from intake.examination.plan import zone_keys
from intake.examination.plans import load_plans
from intake.web_folder import fixtures_folder

PLANS = load_plans()
TERMS = {term.term: term for term in PLANS.vocabulary.terms}
PLURAL = {zone.zone for zone in PLANS.print.zones if zone.plural}
WRITTEN = json.loads((fixtures_folder() / "day.json").read_text("utf-8"))
THINGS = [item for item in WRITTEN["items"] if "without" in item]


def looked_over(thing: dict[str, Any], seed: int = SEED) -> dict[str, Any]:
    return Looking(seed, PLANS).over(PLANS.plans[thing["class_id"]], thing)


def test_a_fault_is_measured_as_somebody_would() -> None:
    """A glass is not replaced twice nor a print laid down by a share, and of the whole no part is said."""
    found = [
        (thing["number"], one)
        for seed in range(8)
        for thing in THINGS
        for one in looked_over(thing, seed)["findings"]
        if one not in thing.get("findings", [])  # what is written down is no chance
    ]
    assert len(found) > 500
    for number, one in found:
        term, zone = TERMS[one["term"]], one["zone"]
        assert term.term not in NEEDS_A_NOTE, number
        assert not (zone in WHOLE and term.term in PARTS), (number, one)
        if term.says:
            assert "extent_percent" not in one, (number, one)
            assert "extent_count" not in one or zone in PLURAL, (number, one)
        assert one.get("extent_percent", 5) % 5 == 0, (number, one)


def test_a_grave_fault_is_no_millimetre() -> None:
    for seed in range(8):
        for thing in THINGS:
            for one in looked_over(thing, seed)["findings"]:
                is_off = TERMS[one["term"]].measured == "by"
                if one not in thing.get("findings", []) and one["extent_mm"] and not is_off:
                    assert one["extent_mm"] >= {2: 3, 3: 8, 4: 8}.get(one["severity"], 1), thing["number"]


def test_a_thing_has_none_of_what_its_kind_has_not_and_folds_only_of_sheets() -> None:
    """A barometer has no door for a film; a survey whose maps fold has map sheets."""
    for thing in THINGS:
        absent, name = set(thing["without"].split()), thing["short_description"]
        plan = PLANS.plans[thing["class_id"]]
        if "barometer" in name:
            assert {zone.zone for zone in plan.zones if "barometer" in zone.not_named} <= absent
        if plan.class_id == "book-map" and "map-folds" not in absent:
            assert "map-sheet" not in absent, thing["number"]


def test_nothing_is_of_a_material_that_a_caution_is_of_without_that_caution() -> None:
    things = {thing["number"]: thing for thing in WRITTEN["items"]}
    species = next(row for row in PLANS.cautions.cautions if row.hazard == "H06")
    for thing in WRITTEN["examined"]:
        materials = (thing.get("facts", {}).get("materials") or "").lower()
        raised = {caution["hazard"] for caution in things[thing["number"]].get("cautions", [])}
        named = [word for word in species.synonyms if word.lower() in materials]
        assert not named or "H06" in raised, (thing["number"], named)


def test_what_a_thing_has_not_got_is_neither_found_nor_tried_nor_denied() -> None:
    unlikely_things = [thing for thing in THINGS if "unlikely" in thing]
    assert len(unlikely_things) > 10
    for thing in unlikely_things:
        unlikely = set(thing["unlikely"].split())
        for seed in range(8):
            looked = looked_over(thing, seed)
            said = {one["term"] for one in looked["findings"]}
            for _, body in looked["observations"]:
                said |= {body.get(name) for name in ("test", "term", "light")}
            assert unlikely.isdisjoint(said), (thing["number"], unlikely & said)


def test_what_is_held_is_raised_and_what_nobody_may_open_was_not_seen() -> None:
    """A watch with luminous paint stays shut: no examination of its movement, and none of what opens it."""
    (watch,) = [thing for thing in THINGS if thing["number"] == "011"]
    looked = looked_over(watch)
    assert looked["not_examined"].keys() == {"movement", "balance"}
    assert not {one["zone"] for one in looked["findings"]} & {"movement", "balance"}
    raised = [body["hazard"] for kind, body in looked["observations"] if kind == "raise_caution"]
    assert raised == ["H10"]


def test_unlikely_words_are_words_of_the_plans() -> None:
    for thing in THINGS:
        plan = PLANS.plans[thing["class_id"]]
        tests = {test.test for test in plan.tests}
        lights = {light.light for light in PLANS.words.lights}
        for word in thing.get("unlikely", "").split():
            assert word in tests | lights | set(TERMS), (thing["number"], word)


def test_a_thing_is_the_same_whatever_was_looked_at_before() -> None:
    looking = Looking(SEED, PLANS)
    in_turn = [looking.over(PLANS.plans[thing["class_id"]], thing) for thing in THINGS]
    assert in_turn == [looked_over(thing) for thing in THINGS]


def test_a_finding_goes_on_as_the_form_at_a_table_fills_it_in() -> None:
    """Else the day's texts are not those that a table would make: live insects hold a thing apart, perished rubber
    holds its word down."""
    examining = Examining(Hand(), PLANS.vocabulary)
    for thing in THINGS:
        plan = PLANS.plans[thing["class_id"]]
        made = examining.examine("an item", "a valuer", plan, looked_over(thing))
        for body in (one for one in made if one["kind"] == "record_finding"):
            assert body["activity"] == TERMS[body["term"]].activity, (thing["number"], body["term"])
            assert body["certainty"] == "certain"


def test_some_things_have_what_goes_on_by_itself_and_none_by_chance_what_spreads() -> None:
    """Else nobody reads what is printed of perished rubber; what spreads is never found without its caution."""
    by_chance = [
        TERMS[one["term"]].activity
        for thing in THINGS
        for one in looked_over(thing)["findings"]
        if one not in thing.get("findings", [])
    ]
    assert set(by_chance) == {"n", "w", "P"}


def test_each_finding_that_is_written_down_is_on_a_zone_that_a_table_offers() -> None:
    """A zone with members is offered by its members alone: on its bare name a fault would count for nothing."""
    of = {item["number"]: item["class_id"] for item in WRITTEN["items"]}
    for thing in [*WRITTEN["items"], *WRITTEN["examined"]]:
        keys = zone_keys(PLANS.plans[of[thing["number"]]])
        for found in thing.get("findings", []):
            assert found["zone"] in keys, (thing["number"], found["zone"])


def test_no_size_is_taken_without_a_part_that_the_thing_never_had() -> None:
    """A height "without handle and finial" of what has no finial tells of a part that its record denies."""
    names = {zone.zone: {zone.one, zone.many} - {None} for zone in PLANS.print.zones}
    items = {item["number"]: item for item in WRITTEN["items"]}
    for thing in [*WRITTEN["items"], *WRITTEN["examined"]]:
        unseen = thing.get("not_examined", {}).items()
        absent = {zone.split("/")[0] for zone, why in unseen if why == "not-applicable"}
        absent |= set(items[thing["number"]].get("without", "").split())
        for field, value in thing.get("facts", {}).items():
            basis = (value.get("basis") or "") if field.startswith("measures/") else ""
            named = [zone for zone in absent if any(str(name) in basis for name in names[zone])]
            assert not named, (thing["number"], basis, named)


def test_what_was_looked_for_was_looked_for_in_a_light_that_shows_it() -> None:
    """A hairline that nobody sees under a lamp alone is not denied by who had no other: a bidder buys on it."""
    of = {item["number"]: PLANS.plans[item["class_id"]] for item in WRITTEN["items"]}
    for thing in WRITTEN["examined"]:
        denied = [body for kind, body in thing["observations"] if kind == "record_denial"]
        for body in denied:
            zone, term = body["zone"].split("/")[0], body["term"]
            lights = [
                row.lights for row in of[thing["number"]].negatives if zone in row.zones and term in row.terms
            ]
            assert not lights or any(body["light"] in some for some in lights), (thing["number"], body)


def test_what_shows_nothing_of_a_thing_is_found_on_none_of_its_zones() -> None:
    """The burn of a mount is on the sheet, and what is laid down is the sheet, not its folds."""
    usual = {
        (class_id, zone.zone): set(zone.usual)
        for class_id, plan in PLANS.plans.items()
        for zone in plan.zones
    }
    assert "mount-burn" not in usual["work-on-paper", "mount"]
    assert "laid-down" not in usual["book-map", "map-folds"]
    assert "laid-down" in usual["book-map", "map-sheet"]


#: What the day's scenario puts into its things, by their numbers: so it is found on them, whatever chance says more.
SCENARIO = {
    "003": ("chest", "live-insects"),
    "005": ("paint", "paint-loss"),
    "017": ("set-count", "missing-part"),
    "018": ("outline", "converted"),
    "043": ("accessories", "missing-part"),
    "062": ("support", "tear"),
    "076": ("set-count", "missing-part"),
    "103": ("stopper", "missing-part"),
    "112": ("sheet-edges/bottom", "mould"),
}


@pytest.mark.parametrize("number", SCENARIO)
def test_what_the_scenario_puts_into_a_thing_is_found_on_it_and_nothing_against_it(number: str) -> None:
    (thing,) = [one for one in THINGS if one["number"] == number]
    for seed in range(8):
        looked = looked_over(thing, seed)
        assert SCENARIO[number] in [(one["zone"], one["term"]) for one in looked["findings"]]
        zones = [one["zone"] for one in looked["findings"]]
        assert zones.count(SCENARIO[number][0]) == 1, "chance says nothing else of that zone"
        assert not contradictions(thing, looked)


def test_no_trial_is_made_and_no_light_used_that_a_caution_forbids() -> None:
    held = [thing for thing in THINGS if thing.get("cautions")]
    assert len(held) > 10
    for thing in held:
        hazards = {caution["hazard"] for caution in thing["cautions"]}
        forbidden = {
            word
            for row in PLANS.cautions.cautions
            if row.hazard in hazards
            for rule in row.forbids
            if not rule.classes or thing["class_id"] in rule.classes
            for word in (*rule.tests, *rule.lights)
        }
        for seed in (SEED, *range(8)):
            said = {
                body.get(name)
                for _, body in looked_over(thing, seed)["observations"]
                if body.get("result") != "not-done"
                for name in ("test", "light")
            }
            assert said.isdisjoint(forbidden), (thing["number"], said & forbidden)


def test_what_lies_inside_a_zone_that_was_not_seen_is_not_seen_either() -> None:
    """A movement that is shut in shuts in its balance; what was looked at by itself, such as a label, was seen."""
    plan = PLANS.plans["watch"]
    assert shut_in(plan, {"movement": "sealed"}, set()) == {"balance": "sealed"}
    assert shut_in(plan, {"movement": "sealed"}, {"balance"}) == {}
    assert shut_in(plan, {"movement": "sealed", "balance": "unsafe-person"}, set()) == {}


@pytest.mark.parametrize(
    ("number", "told"),
    [
        ("083", "Found in a field."),
        ("084", "Found near the brooch."),
        ("105", "Brought home by a missionary."),
    ],
)
def test_what_an_owner_told_stands_as_told_and_not_in_the_name(number: str, told: str) -> None:
    (thing,) = [item for item in WRITTEN["items"] if item["number"] == number]
    assert thing["facts"]["told_words"] == told
    words = [thing["short_description"], *(one["sign"] for one in thing.get("cautions", []))]
    told_of = {"found", "field", "near", "brought", "missionary", "story"}
    assert not told_of & {word for some in words for word in some.split()}


# What a valuer stops who only hears what it is. Source: the cautions' own rows and their signs.
STOPPED = {"006": "H02", "040": "H16", "044": "H01", "099": "H19"}


def test_what_nobody_may_touch_is_stopped_and_decided() -> None:
    """A gun in a tin, film that smells, crusted chemicals: a red caution each, and whoever was called has decided."""
    examined = {one["number"]: one["observations"] for one in WRITTEN["examined"]}
    for number, hazard in STOPPED.items():
        (raised, caution), (decided, decision) = examined.get(number) or [("", {}), ("", {})]
        assert (raised, caution.get("hazard"), caution.get("level")) == ("raise_caution", hazard, "red"), (
            number
        )
        assert (decided, decision["decision"]) == ("decide_caution", "referred"), number


@pytest.mark.parametrize("class_id", sorted(PLANS.plans))
def test_each_class_has_one_thing_that_is_described_and_examined(class_id: str) -> None:
    """Maker or none, date or none, materials, and of a class that is examined findings and what was looked for."""
    numbers = {item["number"] for item in WRITTEN["items"] if item["class_id"] == class_id}
    whole = [
        one
        for one in WRITTEN["examined"]
        if one["number"] in numbers
        and {"materials", "maker_certainty", "dates_certainty"} <= one.get("facts", {}).keys()
    ]
    assert whole, class_id
    plan = PLANS.plans[class_id]
    for one in whole:
        assert all(finding["zone"] in zone_keys(plan) for finding in one["findings"])
        if plan.refer_only:
            kinds = [kind for kind, _ in one["observations"]]
            assert not one["findings"]
            assert kinds == ["raise_caution", "decide_caution"], "described after a clearance alone"
        else:
            assert one["findings"]
            assert one["observations"]


def contradictions(thing: dict[str, Any], looked: dict[str, Any]) -> list[str]:
    """What cannot both be so on one thing: of what was found, looked for and tried."""
    plan = PLANS.plans[thing["class_id"]]
    holds = {zone.zone: set(zone.holds) for zone in plan.zones}
    absent = {*thing.get("without", "").split()}
    findings = looked["findings"]

    def touch(one: str, other: str) -> bool:
        a, b = one.split("/")[0], other.split("/")[0]
        if a == b:
            return one == other or one in (a, b) or other in (a, b)
        return "outline" in (a, b) or b in holds[a] or a in holds[b]

    def is_family(one: str, other: str) -> bool:
        return one == other or other in TERMS[one].covers or one in TERMS[other].covers

    gone = {one["zone"] for one in findings if one["term"] == "missing-part" and not one.get("extent_count")}
    unseen = {zone.split("/")[0] for zone in looked["not_examined"]}
    said = [
        f"{one['term']} on {one['zone']}, which it has not got" for one in findings if one["zone"] in absent
    ]
    for kind, body in looked["observations"]:
        if kind == "record_denial":
            outer, _, side = body["zone"].partition("/")
            usual = {zone.zone: zone.usual for zone in plan.zones if side in zone.members}
            said += [
                f"{body['term']} denied of {body['zone']}, the end of which, {inner}/{side}, was not seen"
                for inner in sorted(holds[outer] & usual.keys())
                if body["term"] in usual[inner] and f"{inner}/{side}" in looked["not_examined"]
            ]
            said += [
                f"{body['term']} denied of {body['zone']} beside {one['term']} of {one['zone']}"
                for one in findings
                if touch(one["zone"], body["zone"]) and is_family(one["term"], body["term"])
            ]
            zone = next(one for one in plan.zones if one.zone == outer)
            beside = set(zone.beside)
            if beside and beside <= absent and TERMS[body["term"]].absent and body["term"] not in zone.usual:
                said.append(f"{body['term']} denied of {outer}, beside which there is none")
        if kind != "record_test":
            continue
        test = next(one for one in plan.tests if one.test == body["test"])
        if body["result"] == "not-done":
            seen = set(test.shows or []) - absent - unseen
            said += [f"{test.test} was not made, and {zone} was examined" for zone in sorted(seen)]
        elif is_forbidden(plan, test, findings, absent, unseen):
            said.append(f"{test.test} was made, and what is on record forbids it")
        elif test.of and set(test.of) <= absent | gone:
            said.append(f"{test.test} of what is not there")
        elif test.rules_out and body["result"] == "works":
            zones = set(test.rules_out.zones)
            said += [
                f"{test.test} works beside {one['term']} of {one['zone']}"
                for one in findings
                if one["term"] in test.rules_out.terms and (not zones or one["zone"].split("/")[0] in zones)
            ]
    return said


def test_what_forbids_a_test_is_a_finding_of_its_terms_or_what_is_known_of_its_zones() -> None:
    def forbids(class_id: str, name: str, **known: Any) -> bool:
        plan = PLANS.plans[class_id]
        (test,) = [one for one in plan.tests if one.test == name]
        of = {"findings": [], "absent": set[str](), "unseen": set[str](), **known}
        return is_forbidden(plan, test, **of)

    slack = [{"zone": "stringing", "term": "slack-stringing"}]
    assert forbids("doll", "sleep-eyes", findings=slack)
    assert not forbids("doll", "sleep-eyes", findings=[{"zone": "eyes", "term": "seized"}])
    assert forbids("watch", "set-hands", findings=[{"zone": "dial", "term": "hairline"}])
    assert not forbids("watch", "set-hands", findings=[{"zone": "glass", "term": "hairline"}])
    assert forbids("doll", "light-head", absent={"crown"})
    assert not forbids("doll", "light-head", unseen={"crown"})
    assert forbids("camera-scientific", "shutter-fire", unseen={"film-inside"})
    assert not forbids("camera-scientific", "shutter-fire", absent={"film-inside"})
    assert forbids("jewellery", "stone-tester")
    assert not forbids("jewellery", "stone-tester", absent={"enamel"})


def test_nothing_that_was_found_contradicts_what_was_looked_for_or_tried() -> None:
    for seed in range(SEED, SEED + 8):
        for thing in THINGS:
            looked = looked_over(thing, seed)
            assert not contradictions(thing, looked), (thing["number"], thing["short_description"], seed)


@pytest.mark.parametrize("examined", WRITTEN["examined"], ids=lambda examined: examined["number"])
def test_what_is_written_of_a_thing_does_not_contradict_itself(examined: dict[str, Any]) -> None:
    (thing,) = [item for item in WRITTEN["items"] if item["number"] == examined["number"]]
    assert not contradictions(thing, examined)


def test_no_peg_is_looked_at_below_a_stopper_that_nobody_lifted() -> None:
    """Source: the plan's own trial of the stopper; a peg sits in the neck."""
    glass = [
        thing
        for thing in THINGS
        if thing["class_id"] == "glass" and "stopper" not in thing["without"].split()
    ]
    written = {one["number"]: one for one in WRITTEN["examined"]}
    assert len(glass) > 2
    for thing in glass:
        looked = written.get(thing["number"]) or looked_over(thing)
        lifted = [body["result"] for _, body in looked["observations"] if body.get("test") == "stopper"]
        assert ("stopper-peg" in thing.get("covered", "")) == (lifted != ["works"]), thing["number"]


def test_of_what_was_stopped_nobody_calls_any_part_clear() -> None:
    """A closed folder has not shown its frame. Source: the cautions' own rows, leave it as it lies."""
    classes = {item["number"]: item["class_id"] for item in WRITTEN["items"]}
    for number in STOPPED:
        (examined,) = [one for one in WRITTEN["examined"] if one["number"] == number]
        plan = PLANS.plans[classes[number]]
        made = list(Examining(Hand(), PLANS.vocabulary).examine("an item", "a valuer", plan, examined))
        assert not [one for one in made if one["kind"] in ("examine_rest", "examine_zone")], number


def test_what_is_not_seen_is_a_zone_of_the_plan_with_each_of_its_members() -> None:
    plan = PLANS.plans["painting"]
    assert each_key(plan, {"tacking": "covered"}).keys() == {
        f"tacking/{side}" for side in ("top", "viewers-right", "bottom", "viewers-left")
    }
    with pytest.raises(ValueError, match="no zone of painting: tacking-edges"):
        each_key(plan, {"tacking-edges": "covered"})


def test_what_a_frame_lies_over_is_seen_only_out_of_it() -> None:
    """Nobody sees the tacking edges of a framed picture, nor light through the sheet. Source: common practice."""
    framed = [
        thing
        for thing in THINGS
        if any(zone.under for zone in PLANS.plans[thing["class_id"]].zones)
        and "frame" not in thing["without"].split()
    ]
    written = {one["number"]: one for one in WRITTEN["examined"]}
    assert len(framed) > 3
    for thing in framed:
        plan = PLANS.plans[thing["class_id"]]
        looked = written.get(thing["number"]) or looked_over(thing)
        stated = {body.get("statement") for _, body in looked["observations"]}
        under = {zone.zone for zone in plan.zones if "frame" in zone.under}
        said = {one["zone"].split("/")[0] for one in looked["findings"]}
        said |= {
            body["zone"].split("/")[0] for kind, body in looked["observations"] if kind == "record_denial"
        }
        assert "out-of-frame" in stated or not said & under, thing["number"]


def test_no_casting_is_spoken_of_where_nothing_says_that_it_is_cast() -> None:
    toys = [thing for thing in THINGS if thing["class_id"] == "tinplate-diecast"]
    for thing in toys:
        of_casting = {body.get("term") for _, body in looked_over(thing)["observations"]} & {"zinc-fatigue"}
        assert not of_casting or "die-cast" in thing["short_description"], thing["number"]


def test_what_lies_with_a_thing_is_taken_in_hand_by_itself() -> None:
    """A bidder asks whether the key is there; of plating that is clear he asks nothing."""
    assert loose_keys(PLANS.plans["clock"]) == ["finials", "pendulum", "weights", "keys"]
    assert loose_keys(PLANS.plans["tinplate-diecast"]) == ["key"]
    assert loose_keys(PLANS.plans["watch"]) == loose_keys(PLANS.plans["silver-plate"]) == []
