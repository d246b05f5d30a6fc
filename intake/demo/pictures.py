"""The day's photographs: which views of each thing were taken, and of what; what they show is drawn."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from intake.access.devices import stamp
from intake.demo.drawing import Thing, photograph
from intake.demo.hand import Hand
from intake.demo.views import Shot, middle_of, near, shot_of
from intake.examination.outlines import Outline
from intake.examination.plan import Plan
from intake.photos.picture import Picture
from intake.photos.store import PhotoStore

LARGE = 960  # pixels across
TOLD = 2  # findings from this severity on have a picture of their own


class Photographer:
    """Takes the views of a thing and a near picture of each finding, and puts them where photos are kept.

    One thing of each class is photographed large, `across` pixels wide, the others two thirds of that.
    """

    def __init__(
        self, hand: Hand, photos: PhotoStore, drawings: dict[str, list[Outline]], across: int
    ) -> None:
        self._hand = hand
        self._photos = photos
        self._drawings = drawings
        self._across = across
        self._taken: Counter[tuple[Any, ...]] = Counter()  # pictures aimed alike, of the thing in hand
        self._classes_seen: set[str] = set()
        self.pictures: list[Picture] = []

    def take_all(
        self, item_id: str, valuer: str, plan: Plan, thing: Thing, findings: list[dict[str, Any]]
    ) -> Iterator[dict[str, Any]]:
        """Every view that its class always has, then the findings; `findings` are their operations. A view of what
        the thing never had does not apply."""
        width = self._across * 2 // 3 if plan.class_id in self._classes_seen else self._across
        self._classes_seen.add(plan.class_id)
        self._taken.clear()
        outlines = self._drawings[thing.drawn]
        for view in plan.views:
            if "if" in view.words.split():
                continue  # it is taken where it applies
            if shot := shot_of(view.view, plan, outlines, thing.absent):
                yield self._take(item_id, valuer, thing, shot, width, view=view.view)
            else:
                why = {"reason": "not-applicable", "note": "", "seen": None}
                yield self._hand.make("skip_view", valuer, item_id=item_id, view=view.view, **why)
        for found in findings:
            if found["severity"] >= TOLD:
                shows = {"zone": found["zone"], "finding_id": found["finding_id"]}
                yield self._take(item_id, valuer, thing, near(found["zone"], outlines), width, **shows)

    def take_front(self, item_id: str, valuer: str, plan: Plan, thing: Thing) -> dict[str, Any]:
        """One picture, before the valuer was called away."""
        self._taken.clear()
        front = Shot(self._drawings[thing.drawn][0])
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
        aimed = (
            shot.outline.outline,
            middle_of(shot),
            shot.turned,
            shot.tilted,
            shot.has_scale,
            shot.is_raked,
        )
        nearer = replace(shot, nearer=self._taken[aimed])  # no two pictures of a thing are the same
        self._taken[aimed] += 1
        original, thumb = photograph(thing, nearer, width)
        kept = [
            self._photos.put(hashlib.sha256(content).hexdigest(), content) for content in (original, thumb)
        ]
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
