"""Operations that are valid by default, so that a test names only what matters to it."""

from __future__ import annotations

import hashlib
import io
import itertools
import random
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from typing import Any

from PIL import Image, ImageDraw

from intake.ids import uuid7

DAY_START = datetime(2026, 3, 14, 9, 30, tzinfo=UTC)


class Ids:
    """UUIDv7s and instants of one invented morning, the same for the same seed."""

    def __init__(self, seed: int) -> None:
        self._random = random.Random(seed)
        self._count = itertools.count()

    def instant(self) -> str:
        moment = DAY_START + timedelta(seconds=next(self._count))
        return moment.isoformat(timespec="milliseconds").replace("+00:00", "Z")

    def id(self) -> str:
        moment = DAY_START + timedelta(seconds=next(self._count))
        return uuid7(int(moment.timestamp() * 1000), self._random.randbytes(10))


@lru_cache(maxsize=200)  # of some tens of kilobytes each
def picture(seed: int, *, size: tuple[int, int] = (640, 480), kind: str = "JPEG") -> bytes:
    """A drawn picture with something in it; other bytes for another seed."""
    chance = random.Random(seed)
    image = Image.new("RGB", size, (chance.randrange(256), chance.randrange(256), 120))
    draw = ImageDraw.Draw(image)
    for _ in range(40):
        x, y = chance.randrange(size[0]), chance.randrange(size[1])
        draw.ellipse((x, y, x + 60, y + 40), fill=(chance.randrange(256), chance.randrange(256), 60))
    stream = io.BytesIO()
    if kind == "MPO":
        image.save(stream, kind, save_all=True, append_images=[image.resize((320, 240))])
    else:
        image.save(stream, kind)
    return stream.getvalue()


def digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def a_day(ids: Ids) -> tuple[str, dict[str, Any]]:
    return "open_day", {
        "day_id": ids.id(),
        "house": "Thimblewick's Saleroom",
        "place": "Old Corn Hall, Market Pellowby",
        "held_on": "2026-03-14",
        "currency": "GBP",
        "tables": [{"table_id": "1", "name": "Table 1"}],
        "people": [{"person_id": "hester", "name": "Hester Quillfeather", "roles": ["valuer"]}],
    }


def a_visit(ids: Ids, day_id: str, *, ticket: str = "Q01") -> tuple[str, dict[str, Any]]:
    return "open_visit", {
        "visit_id": ids.id(),
        "day_id": day_id,
        "ticket": ticket,
        "bags": 2,
        "kinds": "toys",
        "salt": "0" * 32,
    }


def an_item(ids: Ids, visit: dict[str, Any]) -> tuple[str, dict[str, Any]]:
    return "open_item", {"item_id": ids.id(), "visit_id": visit["visit_id"], "day_id": visit["day_id"]}


def a_fact(item_id: str, field: str, value: Any, *, seen: str | None = None) -> tuple[str, dict[str, Any]]:
    return "set_item", {"item_id": item_id, "field": field, "value": value, "seen": seen}


def a_zone(item_id: str, zone: str, *, state: str = "clear", **more: Any) -> tuple[str, dict[str, Any]]:
    body = {"item_id": item_id, "zone": zone, "state": state, "reason": None, "light": None, "count": None}
    return "examine_zone", {**body, "seen": None, **more}


def a_finding(ids: Ids, item_id: str, zone: str, **more: Any) -> tuple[str, dict[str, Any]]:
    return "record_finding", {
        "item_id": item_id,
        "finding_id": ids.id(),
        "zone": zone,
        "term": "pile-loss",
        "side": None,
        "severity": 2,
        "extent_mm": 40,
        "extent_words": None,
        "activity": None,
        "certainty": None,
        "origin": None,
        "note": "",
        "withdrawn": False,
        "seen": None,
        **more,
    }


def a_photo(ids: Ids, item_id: str, content: bytes, thumb: bytes, **more: Any) -> tuple[str, dict[str, Any]]:
    return "attach_photo", {
        "item_id": item_id,
        "photo_id": ids.id(),
        "sha256": digest(content),
        "bytes": len(content),
        "media_type": "image/jpeg",
        "width": 640,
        "height": 480,
        "thumb_sha256": digest(thumb),
        "thumb_bytes": len(thumb),
        "view": "front",
        "zone": None,
        "finding_id": None,
        "taken_at": ids.instant(),
        "withdrawn": False,
        "seen": None,
        **more,
    }


def a_record_photo(
    ids: Ids, of_id: str, difference_id: str | None, content: bytes
) -> tuple[str, dict[str, Any]]:
    """A picture of a visit, or of a difference of a day."""
    _, body = a_photo(ids, "", content, content)
    told = {
        name: value for name, value in body.items() if name not in ("item_id", "view", "zone", "finding_id")
    }
    return "attach_record_photo", {**told, "of_id": of_id, "difference_id": difference_id}


def a_crate(ids: Ids, day_id: str, number: str) -> tuple[str, dict[str, Any]]:
    return "open_container", {
        "container_id": ids.id(),
        "day_id": day_id,
        "number": number,
        "kind_of": "crate",
    }


def a_load(day_id: str, load_id: str, numbers: list[str], **more: Any) -> tuple[str, dict[str, Any]]:
    """One loose piece that leaves in the van by its number."""
    counted = {"crates": 0, "pieces": 1, "scanned_crates": 0, "scanned_pieces": 1, "packed": None}
    by = {"given_by": "Ana", "taken_by": "Hester", "driver": "", "of_load": None, "at": ""}
    load = {"day_id": day_id, "load_id": load_id, "to_place": "van", "numbers": numbers}
    return "count_load", {**load, **counted, **by, **more}


def put_in(thing_id: str, container_id: str | None, *, seen: str | None = None) -> tuple[str, dict[str, Any]]:
    return "put_inside", {"thing_id": thing_id, "container_id": container_id, "seen": seen}


def a_caution(ids: Ids, item_id: str, *, level: str = "red", **more: Any) -> tuple[str, dict[str, Any]]:
    return "raise_caution", {
        "item_id": item_id,
        "caution_id": ids.id(),
        "hazard": "H26",
        "level": level,
        "sign": "white dust in the seams",
        "zone": None,
        "called": "",
        "place": "",
        "seen": None,
        **more,
    }


def a_decision(item_id: str, caution_id: str, decision: str, **more: Any) -> tuple[str, dict[str, Any]]:
    return "decide_caution", {
        "item_id": item_id,
        "caution_id": caution_id,
        "decision": decision,
        "decided_by": "an expert",
        "cleared_for": "",
        "place": "",
        "paper_given": False,
        "note": "",
        "seen": None,
        **more,
    }


def a_consignor(visit_id: str, field: str, value: str, **more: Any) -> tuple[str, dict[str, Any]]:
    body = {"visit_id": visit_id, "field": field, "value": value, "seen": None}
    return "set_consignor", {**body, "salt": "00112233445566778899aabbccddeeff", **more}


def a_settlement(record_id: str, disagreement_id: str, choose: str) -> tuple[str, dict[str, Any]]:
    return "settle_disagreement", {
        "record_id": record_id,
        "disagreement_id": disagreement_id,
        "choose": choose,
        "note": "",
        "salt": "0" * 32,
    }


def settling(record: dict[str, Any], between: dict[str, Any], choose: str) -> tuple[str, dict[str, Any]]:
    """A settlement as a desk says it that has the record before it."""
    kind, body = a_settlement(record["record_id"], between["disagreement_id"], choose)
    standing = record["fields"].get(between["field"])
    ids = {"kept_id": between["kept"]["operation_id"], "standing_id": standing and standing["operation_id"]}
    beside = [
        other["disagreement_id"]
        for other in record["disagreements"]
        if other is not between and other["field"] == between["field"] and other["settled"] is None
    ]
    return kind, {**body, **ids, "beside_ids": beside}


def a_tie(item_id: str, tag: str, *, piece: int = 1) -> tuple[str, dict[str, Any]]:
    return "tie_tag", {"item_id": item_id, "tag": tag, "piece": piece}


def a_move(ids: Ids, thing_id: str, to_place: str, **more: Any) -> tuple[str, dict[str, Any]]:
    return "record_move", {
        "move_id": ids.id(),
        "thing_id": thing_id,
        "from_place": None,
        "to_place": to_place,
        "at": "",
        "given_by": "Ana",
        "taken_by": "Otis",
        "count": None,
        "signed": False,
        **more,
    }
