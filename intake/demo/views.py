"""How each view that a class asks for is taken: from which side of the thing, how near, of which of its parts."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from intake.demo.shapes import Box, Point, box_of, polygons_of
from intake.examination.outlines import Outline, Shape
from intake.examination.plan import Plan

#: The side that a view shows, where it is not called after it.
SIDES = {
    **dict.fromkeys(("rear", "reverse", "verso", "dressed-back", "mounting-back", "lower-board"), "back"),
    **dict.fromkeys(("back-open", "inside-case", "clasps-back"), "back"),
    **dict.fromkeys(("base", "feet-below"), "underside"),
    **dict.fromkeys(("title-leaf", "frontispiece", "endpapers", "movement"), "inside"),
    **{side: side for side in ("front", "back", "underside", "top", "inside", "spine", "plate", "board")},
    "sides": "sides",
    "upper-board": "board",
}
#: The zones that a view shows, the first that is there, where it is not called after one.
PARTS_SHOWN = {
    "handle-joins": ("handles", "handle"),
    "cover-apart": ("cover",),
    "projections": ("applied",),
    "numbers": ("signature", "mark"),
    "laid-out": ("keys",),
    "bell": ("bell-gong",),
    "clothes-labels": ("outer-clothes",),
    "edition-statement": ("title-leaf",),
    "map": ("map-sheet",),
    "map-sections": ("map-folds",),
    "drawer-joint": ("drawers",),
    "handle": ("handles",),
    "foot": ("feet",),
    "label": ("label-mark", "label", "labels"),
    "clasp": ("buckle",),
    "clasp-open": ("clasp",),
    "strap-inside": ("strap",),
    "pair": ("set-count",),
    "set": ("set-count",),
    "in-case": ("case",),
    "case-open": ("case",),
    "case-empty": ("case",),
    "case-inside": ("case",),
    "edge": ("rim",),
    "holder-label": ("holder",),
    "clasps-front": ("clasps",),
    "arms": ("engraving",),
    "joins": ("handles", "spout", "joins", "body"),
    "marks": ("marks-body", "marks"),
    "other-marks": ("marks-parts",),
    "pads": ("paw-pads", "foot-pads"),
    "back-seam": ("back",),
    "button": ("neck-joint",),
    "cracks": ("table",),
    "bow": ("bow-stick",),
    "bow-close": ("bow-frog",),
    "centre": ("field", "ground", "face"),
    "knots": ("back",),
    "stress-points": ("stress",),
    "corners": ("corners", "edges", "frame"),
    "frame-corner": ("frame-ornament", "frame"),
    "box-inside": ("box",),
    "box-faces": ("box",),
    "flaps": ("box-flaps",),
    "foot-edge": ("foot",),
    "crown-side": ("crown",),
    "face": ("face-paint", "face"),
}
#: Seen from between two sides: how much of the width is left, mirrored where it is below nothing.
TURNED = {
    "sides": 0.6,
    "side": 0.5,
    "dial-at-an-angle": 0.7,
    "three-quarter": 0.78,
    "three-quarter-left": 0.78,
    "three-quarter-right": -0.78,
    "proper-left-side": 0.55,
    "proper-right-side": -0.55,
    "framed-front": 1.0,
}
#: What a side that has no drawing of its own is drawn as: how much of the width and of the height is left of the front.
DERIVED = {"back": (-1.0, 1.0), "top": (1.0, 0.5), "underside": (1.0, -0.5), "sides": (0.6, 1.0)}
#: How the ends of a thing that is drawn from its side are seen.
ENDS = {"sides": (1.0, 1.0), "front": (0.4, 1.0), "rear": (-0.4, 1.0)}
CLOSE_UP, NEAR_SIZE = "close-up", (400, 300)


@dataclass(frozen=True)
class Shot:
    """How a picture is taken: of which drawing, how near at which zone, how far turned, with a scale and tag or not.

    `turned` and `tilted` are what is left of its width and of its height, below nothing if seen the other way round;
    `nearer` counts how often the photographer took one more step.
    """

    outline: Outline
    near: str | None = None
    turned: float = 1.0
    tilted: float = 1.0
    nearer: int = 0
    has_scale: bool = False
    is_raked: bool = False


def shot_of(view: str, plan: Plan, outlines: list[Outline], absent: Iterable[str]) -> Shot | None:
    """How a view of a thing is taken; None if it is of a part that the thing never had."""
    by_name = {outline.outline: outline for outline in outlines}
    side = SIDES.get(view, view)
    ends = ENDS if plan.views[0].view == "sides" else {}  # such a thing is drawn from its side
    if side in by_name and view not in ends:
        return Shot(by_name[side])
    never = set(absent)
    zones = {zone.zone for zone in plan.zones}
    asked = [zone for zone in PARTS_SHOWN.get(view, (view,)) if zone in zones]
    if asked and side not in DERIVED and view not in TURNED:
        there = [zone for zone in asked if zone not in never]
        drawn = [shot for zone in there if (shot := drawn_near(zone, outlines))]
        return drawn[0] if drawn else Shot(close_up(there[0]), near=there[0]) if there else None
    if side == "inside":
        return None  # there is nothing to look into
    turned, tilted = ends.get(view) or DERIVED.get(side, (TURNED.get(view, 1.0), 1.0))
    words = view.split("-")
    return Shot(
        outlines[0], turned=turned, tilted=tilted, has_scale="scale" in words, is_raked="lit" in words
    )


def near(zone: str, outlines: list[Outline]) -> Shot:
    """A near picture of a zone; where no drawing has it, of its surface alone."""
    return drawn_near(zone, outlines) or Shot(close_up(zone), near=zone)


def drawn_near(zone: str, outlines: list[Outline]) -> Shot | None:
    """A near picture of a zone, of the drawing that has it; of its whole zone if its member is not drawn."""
    for name in (zone, zone.split("/")[0]):
        for outline in outlines:
            if name != "outline" and bounds_of(outline.shapes, name):
                return Shot(outline, near=name)
    return None


def close_up(zone: str) -> Outline:
    """A surface so near that nothing else is in the picture."""
    width, height = NEAR_SIZE
    edges = {"x": "0", "y": "0", "width": str(width), "height": str(height)}
    surface = Shape(zone=zone, shape="rect", attributes=edges)
    return Outline(outline=CLOSE_UP, words="A surface", width=width, height=height, shapes=[surface])


def bounds_of(shapes: Iterable[Shape], zone: str) -> Box | None:
    """Where a zone is in a drawing: about the first of its regions, such as one wheel of four."""
    for shape in shapes:
        if is_of(shape.zone, zone) and (regions := polygons_of(shape)):
            return box_of(regions[:1])
    return None


def middle_of(shot: Shot) -> Point | None:
    """Where a near picture is taken, in units of the drawing; None of one of the whole."""
    if not (box := shot.near and bounds_of(shot.outline.shapes, shot.near)):
        return None
    left, top, right, bottom = box
    return (left + right) / 2, (top + bottom) / 2


def is_of(zone: str | None, asked: str) -> bool:
    """Whether a region is that of a zone, or of a member of it."""
    return zone is not None and (zone == asked or zone.startswith(f"{asked}/"))
