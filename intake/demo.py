"""The invented valuation day, sent through the same door as a real one.

The house, the town, the people and their things do not exist. Pictures are drawn; codes and ids come from a
seed, so that the same day comes out each time.
"""

from __future__ import annotations

import hashlib
import io
import json
import random
import shutil
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import count, islice
from pathlib import Path
from typing import Any

from PIL import Image, ImageDraw

from intake.access.devices import stamp
from intake.database import Writing, opened
from intake.errors import CommandError
from intake.examination.plan import Plan, zone_keys
from intake.examination.plans import Plans
from intake.ids import uuid7
from intake.lock import LOCK, NOTE
from intake.office import Office, open_office
from intake.photos.picture import Picture
from intake.photos.store import record_file
from intake.settings import Settings
from intake.sync.operations import answer_batch
from intake.tagging.tags import codes
from intake.web_folder import fixtures_folder

SEED = 20260314
DEVICE = "017f0000-0000-7000-8000-000000000001"
TAKEN_BACK = "109"  # the banjo goes home in the afternoon
LEFT_UNSIGNED = "Q19"  # gone before anybody thought of the receipt
ROLL = 200  # numbers given out for the day
FIRST_TAG = 101_000


def throw_away(folder: Path) -> None:
    """Empty a demo's data folder but for its lock, which the caller holds. Raises CommandError if it is no demo's."""
    kept = [file for file in folder.iterdir() if file.name not in (LOCK, NOTE)]
    if kept and not folder.name.endswith("-demo") and not (folder / "demo").exists():
        raise CommandError(
            f"{folder} was not made by the demo, so nothing in it was thrown away.",
            hint="Remove it by hand if you mean it, or leave --fresh out.",
        )
    for file in kept:
        if file.is_dir():
            shutil.rmtree(file)
        else:
            file.unlink()


async def seed_day(settings: Settings, plans: Plans | None = None) -> int:
    """Send the invented day to the office in the data folder, once. How many operations were kept."""
    async with opened(settings.database_file) as database:
        if await database.read(lambda tx: tx.value("SELECT count(*) FROM record")):
            return 0
    numbered = replace(settings, numbers=(1, 1))  # they are printed nowhere else
    async with open_office(numbered, plans) as office:
        (settings.data_folder / "demo").write_text("An invented day; may be thrown away.\n", "utf-8")
        day = Day(office, json.loads((fixtures_folder() / "day.json").read_text("utf-8")))
        operations = list(day.operations())

        def job(tx: Writing) -> int:
            for picture in day.pictures:
                record_file(tx, picture, stamp(settings.clock()))
            answers = answer_batch(
                tx, operations, device_id=DEVICE, role="manager", received_at=stamp(settings.clock())
            )
            refused = [answer for answer in answers if answer["outcome"] != "kept"]
            if refused or len(answers) != len(operations):
                raise RuntimeError(f"The invented day does not fit the office: {refused[:1]}")
            return len(answers)

        return await office.database.write(job)


class Day:
    """Turns the day's file into operations, in the order in which the day went."""

    def __init__(self, office: Office, told: dict[str, Any]) -> None:
        self._office = office
        self._plans: Plans = office.plans
        self._terms = {term.term: term for term in self._plans.vocabulary.terms if term.activity == "n"}
        self._told = told
        self._random = random.Random(SEED)
        self._seq = count(1)
        self._clock = datetime(2026, 3, 14, 9, 30, tzinfo=UTC)
        self._tags = codes(FIRST_TAG)
        self._tagged: list[str] = []
        self._gone_home: set[str] = set()
        self._held: set[str] = set()
        self._lines: dict[str, list[dict[str, Any]]] = {}  # of the visit in hand, by what is signed for
        self._examined = {one["number"]: one for one in told["examined"]}
        self.pictures: list[Picture] = []

    def operations(self) -> Iterator[dict[str, Any]]:
        day_id = self._id()
        shared = ("house", "place", "held_on", "currency", "tables", "people")
        yield self._make("open_day", "winifred", day_id=day_id, **{name: self._told[name] for name in shared})
        numbers = list(islice(codes(FIRST_TAG), ROLL))
        run = {"first_tag": numbers[0], "last_tag": numbers[-1], "count": ROLL}
        yield self._make(
            "issue_roll",
            "winifred",
            day_id=day_id,
            roll_id=self._id(),
            given_to="printed stock",
            for_device_id=None,
            **run,
        )
        for owner in self._told["owners"]:
            hours, minutes = map(int, owner["arrives"].split(":"))
            self._clock = max(self._clock, self._clock.replace(hour=hours, minute=minutes, second=0))
            yield from self._visit(day_id, owner)
        yield from self._packing(day_id)

    def _packing(self, day_id: str) -> Iterator[dict[str, Any]]:
        """The first things are packed: two boxes in a crate that goes to the store, one box that stays behind.

        The rest stands in the holding area, but for the last few; what is held apart is in isolation.
        """
        people = {"given_by": "Hester Quillfeather", "taken_by": "Jonty", "count": None, "signed": False}
        crate, *boxes = (self._id() for _ in range(4))
        for container_id, kind_of in ((crate, "crate"), *((box, "box") for box in boxes)):
            number = next(self._tags)
            told = {"container_id": container_id, "day_id": day_id, "number": number, "kind_of": kind_of}
            yield self._make("open_container", "jonty", **told)
        for at, item_id in enumerate(self._tagged[:12]):
            told = {"thing_id": item_id, "container_id": boxes[at // 4]}
            yield self._make("put_inside", "jonty", seen=None, **told)
        for box in boxes[:2]:
            yield self._make("put_inside", "jonty", seen=None, thing_id=box, container_id=crate)
        seal = {"seal": "7103", "state": "sealed", "second_by": "Hester Quillfeather"}
        yield self._make("seal_container", "jonty", seen=None, container_id=crate, **seal)
        for place, before in (("van", "holding"), ("store", "van")):
            move = {"thing_id": crate, "from_place": before, "to_place": place, "at": "", **people}
            yield self._make("record_move", "jonty", move_id=self._id(), **move)
        for item_id in self._tagged[12:-5]:
            if item_id in self._gone_home:
                continue
            to_place = "isolation" if item_id in self._held else "holding"
            move = {"thing_id": item_id, "from_place": "table", "to_place": to_place, "at": "", **people}
            yield self._make("record_move", "jonty", move_id=self._id(), **move)

    def _visit(self, day_id: str, owner: dict[str, Any]) -> Iterator[dict[str, Any]]:
        visit_id, valuer = self._id(), self._told["valuers"][owner["table_id"]]
        things = [item for item in self._told["items"] if item["ticket"] == owner["ticket"]]
        opened = self._make(
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
                yield self._make(
                    "set_consignor",
                    "jonty",
                    visit_id=visit_id,
                    field=field,
                    value=owner[field],
                    salt=self._random.randbytes(16).hex(),
                    seen=None,
                )
        stage = opened["operation_id"]
        for field, value, seen in (
            ("table_id", owner["table_id"], None),
            ("item_count", len(things), None),
            ("stage", "at-table" if owner in self._told["owners"][-3:] else "left", stage),
        ):
            yield self._make("set_visit", valuer, visit_id=visit_id, field=field, value=value, seen=seen)
        self._lines = {"left": [], "taken-back": []}
        for thing in things:
            yield from self._item(day_id, visit_id, thing)
        if owner["ticket"] != LEFT_UNSIGNED and owner not in self._told["owners"][-3:]:
            yield from self._receipts(visit_id, owner)

    def _item(self, day_id: str, visit_id: str, thing: dict[str, Any]) -> Iterator[dict[str, Any]]:
        item_id, valuer = self._id(), self._told["valuers"][thing["table_id"]]
        plan = self._plans.plans[thing["class_id"]]
        yield self._make("open_item", valuer, item_id=item_id, visit_id=visit_id, day_id=day_id)
        examined = self._examined.get(thing["number"]) or (self._looked_over(plan) if thing["tagged"] else {})
        facts = {
            "class_id": plan.class_id,
            "plan_version": plan.version,
            "short_description": thing["short_description"],
            **examined.get("facts", {}),
        }
        for field, value in facts.items():
            yield self._fact(item_id, valuer, field, value)
        yield from self._examination(item_id, valuer, plan, examined)
        for view in examined.get("views", ["front"] if thing["tagged"] else []):
            yield self._photo(item_id, valuer, view, thing["number"])
        if thing["tagged"]:
            self._tagged.append(item_id)
            tag = next(self._tags)
            yield self._make("tie_tag", valuer, item_id=item_id, tag=tag, piece=1)
            what = "taken-back" if thing["number"] == TAKEN_BACK else "left"
            line = {"item_id": item_id, "tags": [tag], "words": thing["short_description"]}
            self._lines[what].append(line)
            if what == "taken-back":
                yield from self._take_back(item_id, tag)
        else:
            yield self._went_home(item_id)

    def _take_back(self, item_id: str, tag: str) -> Iterator[dict[str, Any]]:
        """An owner changed his mind at the door: the tag is void, and he signs for it."""
        gone = {"tag": tag, "why": "taken-back", "replaced_by": None}
        yield self._make("remove_tag", "jonty", item_id=item_id, **gone)
        yield self._went_home(item_id)

    def _went_home(self, item_id: str) -> dict[str, Any]:
        self._gone_home.add(item_id)
        move = {"thing_id": item_id, "from_place": "table", "to_place": "returned", "at": "", "count": 1}
        people = {"given_by": "Jonty", "taken_by": "the owner", "signed": False}
        return self._make("record_move", "jonty", move_id=self._id(), **move, **people)

    def _receipts(self, visit_id: str, owner: dict[str, Any]) -> Iterator[dict[str, Any]]:
        """The owner signs, with a scribble that is nobody's hand."""
        signed = [(what, lines) for what, lines in self._lines.items() if lines]
        for number, (what, lines) in enumerate(signed, start=1):
            places = [f"{40 + 20 * step} {self._random.randint(50, 150)}" for step in range(24)]
            yield self._make(
                "sign_receipt",
                "jonty",
                visit_id=visit_id,
                receipt_id=self._id(),
                number=f"{owner['ticket']}/{number}",
                what=what,
                lines=lines,
                replaces=None,
                house_by="Jonty",
                on_paper="",
                signed_by=owner["name"],
                strokes="M" + "L".join(places),
                salt=self._random.randbytes(16).hex(),
            )

    def _fact(self, item_id: str, valuer: str, field: str, value: Any) -> dict[str, Any]:
        shared = {"item_id": item_id, "seen": None}
        if field == "dates":
            return self._make("record_date", valuer, **shared, **value)
        if field.startswith("measures/"):
            measure = field.removeprefix("measures/")
            return self._make("record_measure", valuer, **shared, measure=measure, **value)
        return self._make("set_item", valuer, **shared, field=field, value=value)

    def _examination(
        self, item_id: str, valuer: str, plan: Plan, examined: dict[str, Any]
    ) -> Iterator[dict[str, Any]]:
        if not examined:
            return
        keys = zone_keys(plan)
        told = {finding["zone"] for finding in examined["findings"]} | set(examined["not_examined"])
        blank = {"light": "lamp", "count": None, "seen": None}
        for zone, reason in examined["not_examined"].items():
            state = {"state": "not-examined", "reason": reason}
            yield self._make("examine_zone", valuer, item_id=item_id, zone=zone, **state, **blank)
        for finding in examined["findings"]:
            state = {"state": "finding", "reason": None}
            yield self._make("examine_zone", valuer, item_id=item_id, zone=finding["zone"], **state, **blank)
            rest = dict.fromkeys(("side", "extent_words", "activity", "certainty", "origin"))
            yield self._make(
                "record_finding",
                valuer,
                item_id=item_id,
                finding_id=self._id(),
                withdrawn=False,
                seen=None,
                **finding,
                **rest,
            )
        rest_keys = [key for key in keys if key not in told]
        yield self._make("examine_rest", valuer, item_id=item_id, zones=rest_keys, light="lamp")
        for kind, body in examined["observations"]:
            given = {"mark_id": self._id()} if kind == "record_mark" else {}
            if kind == "raise_caution":
                given = {"caution_id": self._id()}
                self._held.add(item_id)
            yield self._make(kind, valuer, item_id=item_id, seen=None, **given, **body)

    def _looked_over(self, plan: Plan) -> dict[str, Any]:
        """What a valuer may have found on a thing of this class; one time in eight he was called away before it."""
        if plan.refer_only or self._random.randrange(8) == 0:
            return {}
        findings = []
        for zone in self._random.sample(plan.zones, min(len(plan.zones), self._random.randrange(4))):
            usual = [self._terms[name] for name in zone.usual if name in self._terms]
            if not usual:
                continue
            term = self._random.choice(usual)
            size = self._random.randrange(2, 30) if "mm" in term.extents else None
            key = next(key for key in zone_keys(plan) if key.split("/")[0] == zone.zone)
            told = {"zone": key, "term": term.term, "severity": term.severity, "note": ""}
            findings.append({**told, "extent_mm": size})
        return {"findings": findings, "not_examined": {}, "observations": []}

    def _photo(self, item_id: str, valuer: str, view: str, number: str) -> dict[str, Any]:
        original, thumb = drawn(f"{number}-{view}", 1200, 900), drawn(f"{number}-{view}", 320, 240)
        for content in (original, thumb):
            sha256 = hashlib.sha256(content).hexdigest()
            self.pictures.append(self._office.photos.put(sha256, content))
        return self._make(
            "attach_photo",
            valuer,
            item_id=item_id,
            photo_id=self._id(),
            sha256=hashlib.sha256(original).hexdigest(),
            bytes=len(original),
            media_type="image/jpeg",
            width=1200,
            height=900,
            thumb_sha256=hashlib.sha256(thumb).hexdigest(),
            thumb_bytes=len(thumb),
            view=view,
            zone=None,
            finding_id=None,
            taken_at=stamp(self._clock),
            withdrawn=False,
            seen=None,
        )

    def _make(self, kind: str, made_by: str, **body: Any) -> dict[str, Any]:
        self._clock += timedelta(seconds=2)
        return {
            "operation_id": self._id(),
            "kind": kind,
            "made_at": stamp(self._clock),
            "made_by": made_by,
            "device_id": DEVICE,
            "device_seq": next(self._seq),
            **body,
        }

    def _id(self) -> str:
        self._clock += timedelta(milliseconds=7)
        return uuid7(int(self._clock.timestamp() * 1000), self._random.randbytes(10))


def drawn(name: str, width: int, height: int) -> bytes:
    """A picture that stands for a photo: a shape on a table, another for another name."""
    chance = random.Random(name)
    tone = chance.randrange(360)
    image = Image.new("RGB", (width, height), "#d9d4c7")
    draw = ImageDraw.Draw(image)
    draw.rectangle((0, height * 0.72, width, height), fill="#b9ad97")
    for step in range(4):
        left, top = chance.uniform(0.28, 0.4) * width, chance.uniform(0.2, 0.4) * height
        right, bottom = chance.uniform(0.6, 0.72) * width, chance.uniform(0.7, 0.85) * height
        colour = f"hsl({(tone + step * 23) % 360}, 32%, {38 + 9 * step}%)"
        (draw.ellipse if step % 2 else draw.rounded_rectangle)((left, top, right, bottom), fill=colour)
    draw.text((width * 0.04, height * 0.05), f"drawn: {name}", fill="#333", font_size=height // 22)
    stream = io.BytesIO()
    image.save(stream, "JPEG", quality=82)
    return stream.getvalue()
