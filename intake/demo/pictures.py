"""The day's photographs: which views of each thing were taken, and of what; what they show is drawn."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from typing import Any

from intake.access.devices import stamp
from intake.demo.drawing import Shot, Thing, centre_of, photograph
from intake.demo.hand import Hand
from intake.examination.outlines import Outline
from intake.examination.plan import Plan
from intake.examination.plans import Plans
from intake.photos.picture import Picture
from intake.photos.store import PhotoStore

LARGE = 960  # pixels across
TOLD = 2  # findings from this severity on have a picture of their own
#: What a view's name says of the side that it shows, for those that are not called after it.
SIDES = {
    "back": ("verso", "reverse", "rear", "mounting"),
    "underside": ("base", "bottom", "foot"),
    "inside": ("title", "frontispiece", "endpapers", "plate", "edition", "map"),
}
SEEN_FROM_A_SIDE = {"sides", "side", "three", "spine", "edge", "edges", "proper"}


class Photographer:
    """Takes the views of a thing and a near picture of each finding, and puts them where photos are kept.

    One thing of each class is photographed large, `across` pixels wide, the others two thirds of that.
    """

    def __init__(self, hand: Hand, photos: PhotoStore, plans: Plans, across: int) -> None:
        self._hand = hand
        self._photos = photos
        self._plans = plans
        self._across = across
        self._drawn: dict[tuple[str, str], tuple[bytes, bytes]] = {}  # of the thing in hand
        self._classes_seen: set[str] = set()
        self.pictures: list[Picture] = []

    def take_all(
        self, item_id: str, valuer: str, plan: Plan, thing: Thing, findings: list[dict[str, Any]]
    ) -> Iterator[dict[str, Any]]:
        """Every view that its class always has, then the findings; `findings` are their operations."""
        width = self._across * 2 // 3 if plan.class_id in self._classes_seen else self._across
        self._classes_seen.add(plan.class_id)
        self._drawn.clear()
        outlines = self._plans.outlines[plan.class_id]
        for view in plan.views:
            if "if" in view.words.split():
                continue  # it is taken where it applies
            yield self._take(item_id, valuer, thing, shot_of(view.view, outlines), width, view=view.view)
        for found in findings:
            near = nearest(found["zone"], outlines)
            if found["severity"] >= TOLD and near:
                shows = {"zone": found["zone"], "finding_id": found["finding_id"]}
                yield self._take(item_id, valuer, thing, near, width, **shows)

    def take_front(self, item_id: str, valuer: str, plan: Plan, thing: Thing) -> dict[str, Any]:
        """One picture, before the valuer was called away."""
        front = Shot(self._plans.outlines[plan.class_id][0])
        return self._take(item_id, valuer, thing, front, self._across * 2 // 3, view=plan.views[0].view)

    def _take(
        self,
        item_id: str,
        valuer: str,
        thing: Thing,
        shot: Shot,
        width: int,
        *,
        view: str | None = None,
        zone: str | None = None,
        finding_id: str | None = None,
    ) -> dict[str, Any]:
        shown = (
            thing.number,
            f"{shot.outline.outline} {shot.near} {shot.turned} {shot.has_scale} {shot.is_raked}",
        )
        if shown not in self._drawn:
            self._drawn[shown] = photograph(thing, shot, width)
        original, thumb = self._drawn[shown]
        kept = [self._photos.put(hashlib.sha256(one).hexdigest(), one) for one in (original, thumb)]
        self.pictures += kept
        return self._hand.make(
            "attach_photo",
            valuer,
            item_id=item_id,
            photo_id=self._hand.id(),
            sha256=kept[0].sha256,
            bytes=len(original),
            media_type="image/jpeg",
            width=width,
            height=width * 3 // 4,
            thumb_sha256=kept[1].sha256,
            thumb_bytes=len(thumb),
            view=view,
            zone=zone,
            finding_id=finding_id,
            taken_at=stamp(self._hand.clock),
            withdrawn=False,
            seen=None,
        )


def shot_of(view: str, outlines: list[Outline]) -> Shot:
    """How a view is taken: of the drawing that is called after it, near the zone that it names, or from a side."""
    words = view.split("-")
    by_name = {outline.outline: outline for outline in outlines}
    for name, others in SIDES.items():
        if name in by_name and ({name, *others} & set(words)):
            return Shot(by_name[name])
    if near := nearest(view, outlines) or nearest(words[0], outlines) or nearest(f"{words[0]}s", outlines):
        return near
    is_side = bool(SEEN_FROM_A_SIDE & set(words)) and "side" not in by_name
    return Shot(
        outlines[0],
        turned=0.62 if is_side else 1.0,
        has_scale="scale" in words,
        is_raked="lit" in words,
    )


def nearest(zone: str, outlines: list[Outline]) -> Shot | None:
    """A near picture of a zone, of the drawing that has it; of its whole zone if its member is not drawn."""
    for name in (zone, zone.split("/")[0]):
        for outline in outlines:
            if name != "outline" and centre_of(outline.shapes, name):
                return Shot(outline, near=name)
    return None
