"""A pile of records and photos as devices bring it back from the hall; invented, the same for the same seed."""

from __future__ import annotations

import hashlib
import io
import json
import random
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from itertools import count
from typing import Any

from PIL import Image

from intake.access.devices import stamp
from intake.ids import uuid7

PHOTO_BYTES = 350_000
ZONES = [
    "outline",
    "cover",
    "head",
    "face",
    "nose",
    "mouth",
    "muzzle",
    "neck",
    "chest",
    "back",
    "tail",
    "filling",
    "voice",
    "label-mark",
    "dress",
]
WORDS = [
    "plush",
    "velvet",
    "tin",
    "oak",
    "brass",
    "ivory-coloured",
    "carved",
    "painted",
    "gilt",
    "worn",
    "early",
    "late",
    "large",
    "small",
    "pair",
]


def a_photo(chance: random.Random) -> bytes:
    """350 KB that open as a JPEG: a small picture, and noise behind its end."""
    stream = io.BytesIO()
    Image.new("RGB", (640, 480), (chance.randrange(256),) * 3).save(stream, "JPEG")
    picture = stream.getvalue()
    return picture + chance.randbytes(PHOTO_BYTES - len(picture))


class Pile:
    """What one device holds: its operations, record by record."""

    def __init__(self, seed: int, device_id: str) -> None:
        self._chance = random.Random(seed)
        self._device_id = device_id
        self._seq = count(1)
        self._clock = datetime(2026, 3, 14, 9, 30, tzinfo=UTC)

    def id(self) -> str:
        self._clock += timedelta(milliseconds=5)
        return uuid7(int(self._clock.timestamp() * 1000), self._chance.randbytes(10))

    def make(self, kind: str, **body: Any) -> dict[str, Any]:
        return {
            "operation_id": self.id(),
            "kind": kind,
            "made_at": stamp(self._clock),
            "made_by": "hester",
            "device_id": self._device_id,
            "device_seq": next(self._seq),
            **body,
        }

    def day(self) -> dict[str, Any]:
        return self.make(
            "open_day",
            day_id=self.id(),
            house="Bench",
            place="Bench",
            held_on="2026-03-14",
            currency="GBP",
            tables=[],
            people=[{"person_id": "hester", "name": "Hester Quillfeather", "roles": ["valuer"]}],
        )

    def visit(self, day_id: str) -> dict[str, Any]:
        return self.make("open_visit", visit_id=self.id(), day_id=day_id, ticket="Q01", bags=2, kinds="toys")

    def record(self, visit: dict[str, Any], photos: list[bytes]) -> list[dict[str, Any]]:
        """One item: 8 facts, 5 zones one by one, the rest clear, 2 findings, and its photos."""
        item_id = self.id()
        shared = {"visit_id": visit["visit_id"], "day_id": visit["day_id"]}
        made = [self.make("open_item", item_id=item_id, **shared)]
        words = " ".join(self._chance.choices(WORDS, k=12))
        facts = [
            "short_description",
            "seen_words",
            "concluded_words",
            "told_words",
            "materials",
            "maker",
            "marks_looked",
            "packaging",
        ]
        made += [
            self.make("set_item", item_id=item_id, field=f, value=f"{words} {f}", seen=None) for f in facts
        ]
        for zone in ZONES[:5]:
            state = {"state": "finding", "reason": None, "light": "hall light", "count": None}
            made.append(self.make("examine_zone", item_id=item_id, zone=zone, seen=None, **state))
        for zone in ZONES[:2]:
            rest = dict.fromkeys(("side", "extent_words", "activity", "certainty", "origin", "seen"))
            finding = {"finding_id": self.id(), "zone": zone, "term": "wear", "severity": 2, "extent_mm": 12}
            made.append(
                self.make("record_finding", item_id=item_id, note=words, withdrawn=False, **finding, **rest)
            )
        made.append(self.make("examine_rest", item_id=item_id, zones=ZONES[5:], light="hall light"))
        for photo in photos:
            sha256 = hashlib.sha256(photo).hexdigest()
            size = {"bytes": len(photo), "width": 640, "height": 480, "thumb_bytes": 9000}
            link = {"view": "front", "zone": None, "finding_id": None, "withdrawn": False, "seen": None}
            names = {"sha256": sha256, "thumb_sha256": sha256, "media_type": "image/jpeg"}
            made.append(
                self.make(
                    "attach_photo",
                    item_id=item_id,
                    photo_id=self.id(),
                    taken_at=stamp(self._clock),
                    **names,
                    **size,
                    **link,
                )
            )
        return made


def bundle_of(operations: list[dict[str, Any]], photos: list[bytes]) -> bytes:
    """The framed body that `POST /sync/bundle` reads."""
    listed = [{"sha256": hashlib.sha256(photo).hexdigest(), "bytes": len(photo)} for photo in photos]
    head = json.dumps({"operations": operations, "photos": listed}, separators=(",", ":")).encode()
    return len(head).to_bytes(4, "big") + head + b"".join(photos)


def batches(items: list[Any], size: int) -> Iterator[list[Any]]:
    for start in range(0, len(items), size):
        yield items[start : start + size]
