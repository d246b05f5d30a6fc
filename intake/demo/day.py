"""The day's file as operations, in the order in which the day went."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice
from typing import Any

from intake.custody.receipt_lines import HELD_WORDS
from intake.demo.drawing import Thing
from intake.demo.examining import Examining
from intake.demo.hand import SEED, Hand
from intake.demo.ledger import Ledger, Lines, Tagged
from intake.demo.looking import Looking, each_key, framed_in, loose_keys, never_had, shut_in
from intake.demo.pictures import LARGE, Photographer
from intake.examination.kinds_of import plan_for
from intake.examination.outlines import Outline
from intake.examination.plan import Plan
from intake.examination.plans import Plans
from intake.photos.picture import Picture
from intake.photos.store import PhotoStore
from intake.tagging.tags import codes

TAKEN_BACK = "109"  # the banjo goes home in the afternoon
LABEL_TORN = "064"  # one number of the roll is passed over
LEFT_UNSIGNED = "Q19"  # gone before anybody thought of the receipt
STILL_HERE = 1  # owner who is at a table when the day is shown
ROLL = 200  # numbers given out for the day
FIRST_TAG = 101_000


class Day:
    """Owner after owner: each visit with its things, what was said of them, and where they went."""

    def __init__(
        self,
        photos: PhotoStore,
        plans: Plans,
        written: dict[str, Any],
        drawings: dict[str, list[Outline]],
        across: int = LARGE,
    ) -> None:
        self._plans = plans
        self._hand = Hand()
        self._tags = codes(FIRST_TAG)
        self._examining = Examining(self._hand, plans.vocabulary)
        self._looking = Looking(SEED, plans)
        self._ledger = Ledger(self._hand, self._tags)
        self._photographer = Photographer(self._hand, photos, drawings, across)
        self._tagged: list[Tagged] = []
        self._written = written
        self._items: dict[str, str] = {}  # by the number of the thing
        self._lines: Lines = {}  # of the visit in hand
        self._names = {person["person_id"]: person["name"] for person in written["people"]}
        self._examined = {examined["number"]: examined for examined in written["examined"]}

    @property
    def pictures(self) -> list[Picture]:
        """The pictures that were drawn so far."""
        return self._photographer.pictures

    def operations(self) -> Iterator[dict[str, Any]]:
        day_id = self._hand.id()
        shared = ("house", "place", "held_on", "currency", "tables", "people")
        yield self._hand.make(
            "open_day", "winifred", day_id=day_id, **{name: self._written[name] for name in shared}
        )
        numbers = list(islice(codes(FIRST_TAG), ROLL))
        run = {"first_tag": numbers[0], "last_tag": numbers[-1], "count": ROLL}
        yield self._hand.make(
            "issue_roll",
            "winifred",
            day_id=day_id,
            roll_id=self._hand.id(),
            given_to="printed stock",
            for_device_id=None,
            **run,
        )
        for owner in self._written["owners"]:
            self._hand.wait_until(owner["arrives"])
            yield from self._visit(day_id, owner)
        yield from self._ledger.pack(day_id, self._tagged, self._examining.held)
        yield from self._what_differs()

    def _what_differs(self) -> Iterator[dict[str, Any]]:
        """Two things of which the closing has more to name than where they are, as the day's file says."""
        for number, difference in self._written["differs"].items():
            body = {name: value for name, value in difference.items() if name not in ("kind", "by")}
            yield self._hand.make(
                difference["kind"], difference["by"], item_id=self._items[number], seen=None, **body
            )

    def _visit(self, day_id: str, owner: dict[str, Any]) -> Iterator[dict[str, Any]]:
        visit_id, valuer = self._hand.id(), self._written["valuers"][owner["table_id"]]
        things = [item for item in self._written["items"] if item["ticket"] == owner["ticket"]]
        opened = self._hand.make(
            "open_visit",
            "jonty",
            visit_id=visit_id,
            day_id=day_id,
            ticket=owner["ticket"],
            bags=max(1, len(things) // 2),
            kinds=", ".join(sorted({self._plans.plans[item["class_id"]].name.lower() for item in things})),
        )
        yield opened
        for field in ("name", "address", "telephone", "email", "acting_as", "acting_for"):
            if owner[field]:
                yield self._hand.make(
                    "set_consignor",
                    "jonty",
                    visit_id=visit_id,
                    field=field,
                    value=owner[field],
                    salt=self._hand.chance.randbytes(16).hex(),
                    seen=None,
                )
        stage = opened["operation_id"]
        for field, value, seen in (
            ("table_id", owner["table_id"], None),
            ("item_count", len(things), None),
            ("stage", "at-table" if owner in self._written["owners"][-STILL_HERE:] else "left", stage),
        ):
            yield self._hand.make("set_visit", valuer, visit_id=visit_id, field=field, value=value, seen=seen)
        self._lines = {"left": [], "taken-back": []}
        for thing in things:
            yield from self._item(day_id, visit_id, thing)
        if owner["ticket"] != LEFT_UNSIGNED and owner not in self._written["owners"][-STILL_HERE:]:
            yield from self._ledger.receipts(visit_id, owner, self._lines)

    def _pictures(
        self, item_id: str, valuer: str, plan: Plan, thing: dict[str, Any], looked: list[dict[str, Any]]
    ) -> Iterator[dict[str, Any]]:
        """All views of what was examined, one of what was not; none of what nobody keeps, nor of what is referred."""
        if not thing["tagged"] or plan.refer_only:
            return
        findings = [made for made in looked if made["kind"] == "record_finding"]
        absent = frozenset(thing.get("without", "").split())
        of = {"colour": thing.get("colour", ""), "parts": thing.get("parts", {})}
        shown = Thing(
            thing["number"],
            plan.class_id,
            thing["drawn"],
            absent=absent,
            findings=tuple(findings),
            **of,
        )
        if looked:
            yield from self._photographer.take_all(item_id, valuer, plan, shown, findings)
        else:
            yield self._photographer.take_front(item_id, valuer, plan, shown)

    def _item(self, day_id: str, visit_id: str, thing: dict[str, Any]) -> Iterator[dict[str, Any]]:
        item_id, valuer = self._hand.id(), self._written["valuers"][thing["table_id"]]
        plan = plan_for(self._plans.plans[thing["class_id"]], thing["short_description"])
        self._items[thing["number"]] = item_id
        yield self._hand.make("open_item", valuer, item_id=item_id, visit_id=visit_id, day_id=day_id)
        if pieces := thing.get("pieces"):
            yield self._hand.make("count_pieces", valuer, item_id=item_id, pieces=pieces, seen=None)
        examined = self._examined.get(thing["number"]) or (
            self._looking.over(plan, thing) if thing["tagged"] else {}
        )
        if examined:
            # On which of its pieces each was found, by its zone; of some nobody said so.
            which = thing.get("which", {})
            found = [{**one, **which.get(one["zone"].split("/")[0], {})} for one in examined["findings"]]
            examined = {**examined, "findings": found}
            covered = dict.fromkeys(thing.get("covered", "").split(), "covered")
            stated = {body.get("statement", "") for _, body in examined["observations"]}
            framed = framed_in(plan, thing, stated)
            beside = each_key(plan, {**framed, **covered})
            unseen = {**beside, **never_had(plan, thing), **each_key(plan, examined["not_examined"])}
            alone = {*examined.get("alone", []), *(found["zone"] for found in examined["findings"])}
            unseen = {**unseen, **shut_in(plan, unseen, alone)}
            in_hand = [key for key in loose_keys(plan) if key not in {*alone, *unseen}]
            examined = {
                **examined,
                "not_examined": unseen,
                "alone": [*examined.get("alone", []), *in_hand],
            }
        facts = {
            "class_id": plan.class_id,
            "plan_version": plan.version,
            "short_description": thing["short_description"],
            **thing.get("facts", {}),
            **examined.get("facts", {}),
        }
        for field, value in facts.items():
            yield self._examining.fact(item_id, valuer, field, value)
        for caution in thing.get("cautions", []) if not thing["tagged"] else []:
            yield self._examining.noticed(item_id, valuer, caution)
        looked = list(self._examining.examine(item_id, valuer, plan, examined))
        yield from looked
        yield from self._pictures(item_id, valuer, plan, thing, looked)
        if thing["tagged"]:
            if thing["number"] == LABEL_TORN:
                next(self._tags)  # the label tore, and nobody struck its number through
            tag = next(self._tags)
            self._tagged.append((item_id, tag))
            yield self._hand.make("tie_tag", valuer, item_id=item_id, tag=tag, piece=1)
            what = "taken-back" if thing["number"] == TAKEN_BACK else "left"
            name, counted = thing["short_description"], f"{thing.get('pieces', 1)} pieces"
            words = [
                name,
                *([counted] if thing.get("pieces") and counted not in name else []),
                *([HELD_WORDS] if item_id in self._examining.held else []),
            ]
            line = {"item_id": item_id, "tags": [tag], "words": "; ".join(words)}
            self._lines[what].append(line)
            if what == "taken-back":
                yield from self._ledger.take_back(item_id, tag)
        elif item_id not in self._examining.stopped:
            yield self._ledger.went_home(item_id, self._names[valuer])
