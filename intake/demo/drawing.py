"""Pictures of the day's things, drawn from the outlines of their class: colour, light, each finding where it is."""

from __future__ import annotations

import io
import random
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from PIL import Image, ImageChops, ImageColor, ImageDraw, ImageFilter

from intake.demo.marks import BITES, LINES, NETS, SPOTS, any_point, area, blob, jagged
from intake.demo.shapes import Polygon, box_of, polygons_of
from intake.demo.views import CLOSE_UP, Shot, bounds_of, is_of
from intake.examination.outlines import Shape

SMALL = (320, 240)
STEP_NEARER = 1.3
Size = tuple[int, int]
Colour = tuple[int, int, int]

#: What things of a class are mostly made of, as it looks.
BODIES = {
    "soft-toy": ("#b98a4e", "#8d6a3c", "#c9a877", "#9c5a3a", "#8a8f96"),
    "doll": ("#efd3bf", "#e8c6ae", "#f2dccb"),
    "tinplate-diecast": ("#a63a2e", "#2f5f8a", "#3d7a4a", "#c08a2c"),
    "ceramics": ("#f3efe6", "#e9e4d6", "#dfe6ea", "#9a7250"),
    "glass": ("#cfe3df", "#d8e6ec", "#b9d6c4"),
    "silver-plate": ("#c3c7cb", "#b4b9be", "#cbbf9a"),
    "jewellery": ("#d9b45a", "#cfd2d6", "#c79a62"),
    "watch": ("#c8ccd1", "#d7b765", "#b9bec4"),
    "clock": ("#7a4a2a", "#5f3a24", "#b08a46"),
    "furniture": ("#8a5a32", "#6f4526", "#a2713f"),
    "painting": ("#6f7f66", "#7a6a58", "#5f7483"),
    "work-on-paper": ("#efe6d0", "#e9dfc6"),
    "book-map": ("#7a3b2e", "#3f5a3a", "#5a4630", "#2f4a63"),
    "textile-rug": ("#8c3a3a", "#3d4f74", "#b08f5a", "#6f7a5a"),
    "stringed-instrument": ("#a5622c", "#8f4f22", "#b97a3c"),
    "medal-coin": ("#b9833f", "#b8bcc0", "#8a6a44"),
    "camera-scientific": ("#b08d45", "#33373a", "#9c7a3c"),
    "arms": ("#4a4d50",),
    "free": ("#8f7a5c", "#6f7f86", "#a5895f"),
}
#: Zones that look the same on whatever they are.
PARTS = {
    **dict.fromkeys(("gilding", "mounts", "frame-ornament", "slip", "finials"), "#c79a3a"),
    **dict.fromkeys(("dial", "chapter-ring", "mount", "text", "plates", "title-leaf", "margins"), "#efe8d6"),
    **dict.fromkeys(("frontispiece", "endpapers", "half-title", "edges", "map-sheet"), "#e4d9bf"),
    "hand-colour": "#b7c4a0",
    **dict.fromkeys(("label", "labels", "label-mark", "head-mark", "body-mark", "documents"), "#e6d9b4"),
    **dict.fromkeys(("eyes", "hands", "inside", "lens", "shutter", "aperture"), "#2c2a28"),
    **dict.fromkeys(("glass", "glazing", "glass-mirror"), "#cfdfe2"),
    **dict.fromkeys(("packaging", "box", "box-flaps", "case", "slipcase"), "#b79b74"),
    **dict.fromkeys(("frame", "hanging", "back-board", "stretcher"), "#7b5a2f"),
    **dict.fromkeys(("keys", "key", "handles-brass", "bell-gong", "movement", "locks"), "#b8923f"),
    **dict.fromkeys(("main-stone", "side-stones"), "#3d5f9a"),
    **dict.fromkeys(("nose", "mouth", "claws-front", "claws-hind"), "#4a2d22"),
    **dict.fromkeys(("hair", "strings", "bow-stick"), "#5c3d24"),
    **dict.fromkeys(("strap", "shoes", "bellows", "covering"), "#3a2f2a"),
    **dict.fromkeys(("outer-clothes", "dress"), "#7f93ad"),
}
#: But what in a class is called the same and is of what the thing is of.
OF_THE_BODY = {
    ("clock", "case"),
    ("watch", "case"),
    ("jewellery", "mount"),
    ("doll", "hands"),
    ("stringed-instrument", "case"),
    ("stringed-instrument", "edges"),
}
DARK, LIGHT, BROWN = (40, 32, 28), (244, 238, 226), (120, 82, 40)


@dataclass(frozen=True)
class Thing:
    """What the pictures are of.

    `drawn` is the kind of thing that is drawn; `colour` is what it is mostly of, that of its class if nobody says,
    and `parts` are those of another colour; `absent` are the zones that it never had; findings are as their records
    say them.
    """

    number: str
    class_id: str
    drawn: str
    colour: str = ""
    parts: dict[str, str] = field(default_factory=dict)
    absent: frozenset[str] = frozenset()
    findings: tuple[dict[str, Any], ...] = ()


def photograph(thing: Thing, shot: Shot, width: int) -> tuple[bytes, bytes]:
    """A picture of so many pixels across and its small copy, as JPEG."""
    image = Drawing(thing, shot, (width, width * 3 // 4)).made()
    small = image.copy()
    small.thumbnail(SMALL, Image.Resampling.BILINEAR)
    return encoded(image), encoded(small)


@cache
def table(size: Size, has_shadow: bool) -> Image.Image:
    """Grey cloth, and a thing's shadow on it."""
    width, height = size
    image = Image.new("RGB", size, (112, 120, 124))
    draw = ImageDraw.Draw(image)
    draw.rectangle((0, height * 0.8, width, height), fill=(96, 103, 107))
    if has_shadow:
        draw.ellipse((width * 0.26, height * 0.86, width * 0.8, height * 0.97), fill=(70, 76, 80))
    return image.filter(ImageFilter.BoxBlur(width // 80))


@cache
def falloff(size: Size, is_raked: bool) -> Image.Image:
    """Light from the upper left, which falls off; from low at the side where it is raked."""
    darkest = 130 if is_raked else 185
    across = Image.linear_gradient("L").rotate(90).resize(size)
    down = across if is_raked else Image.linear_gradient("L").resize(size)
    both = Image.blend(across, down, 0.5).point(lambda value: 255 - (255 - darkest) * value // 255)
    return Image.merge("RGB", (both, both, both))


def encoded(image: Image.Image) -> bytes:
    stream = io.BytesIO()
    image.save(stream, "JPEG", quality=84)
    return stream.getvalue()


class Drawing:
    """One picture on its way."""

    def __init__(self, thing: Thing, shot: Shot, size: Size) -> None:
        self.thing, self.shot, self.size = thing, shot, size
        bodies = BODIES.get(thing.class_id, BODIES["free"])
        self.body = ImageColor.getrgb(thing.colour or bodies[int(thing.number) % len(bodies)])[:3]
        self.image = table(size, not shot.near).copy()
        self.draw = ImageDraw.Draw(self.image, "RGBA")
        self.pen = max(1, size[0] // 400)
        self.scale, self.left, self.top = self.framed()

    def framed(self) -> tuple[float, float, float]:
        """Pixels a unit of the drawing, and where its corner lies. What is near fills half of the picture."""
        outline, shot = self.shot.outline, self.shot
        width, height = self.size
        whole = min(width / outline.width, height / outline.height)
        scale, (left, top, right, bottom) = (
            whole * 0.92,
            (0.0, 0.0, float(outline.width), float(outline.height)),
        )
        if shot.near and (found := bounds_of(outline.shapes, shot.near)):
            left, top, right, bottom = found
            filling = min(width / max(1, right - left), height / max(1, bottom - top))
            scale = min(max(filling * 0.55, whole), whole * 6)
        scale *= STEP_NEARER**shot.nearer
        across, down = scale * shot.turned, scale * shot.tilted
        return scale, width / 2 - (left + right) / 2 * across, height / 2 - (top + bottom) / 2 * down

    def placed(self, polygon: Polygon) -> Polygon:
        across, down = self.scale * self.shot.turned, self.scale * self.shot.tilted
        return [(self.left + x * across, self.top + y * down) for x, y in polygon]

    def made(self) -> Image.Image:
        for shape in self.shot.outline.shapes:
            self.part(shape)
        if self.shot.outline.outline == CLOSE_UP:
            self.grain()
        for finding in self.thing.findings:
            self.finding(finding)
        image = ImageChops.multiply(self.image, falloff(self.size, self.shot.is_raked))
        if self.shot.has_scale:
            scale_and_tag(image, self.thing.number)
        return image

    def grain(self) -> None:
        """What a surface looks like from near, at another place each time."""
        chance = random.Random(f"{self.thing.number} {self.shot.near} {self.shot.nearer}")
        width, height = self.size
        for _ in range(90):
            x, y = chance.uniform(-0.1, 1) * width, chance.uniform(0, 1) * height
            tone = chance.choice((DARK, LIGHT))
            end = (x + width * chance.uniform(0.05, 0.2), y + height * 0.01)
            self.draw.line([(x, y), end], fill=(*tone, 36), width=self.pen)

    def part(self, shape: Shape) -> None:
        """A region in its colour, or a line. Of a path's runs one within another is a hole in it."""
        polygons = [self.placed(polygon) for polygon in polygons_of(shape)]
        if shape.zone:
            self.image.paste(self.colour_of(shape.zone), mask=self.covered(polygons))
        for polygon in polygons:
            if len(polygon) > 1:
                self.draw.line(polygon, fill=(*DARK, 120), width=self.pen, joint="curve")

    def covered(self, polygons: list[Polygon]) -> Image.Image:
        """The pixels that are within an odd number of the polygons."""
        mask = Image.new("1", self.size)
        for polygon in polygons:
            run = Image.new("1", self.size)
            if len(polygon) > 1:
                ImageDraw.Draw(run).polygon(polygon, fill=1)
            mask = ImageChops.logical_xor(mask, run)
        return mask

    def colour_of(self, zone: str) -> Colour:
        """Its part's own colour, else a shade of the body's; what was replaced does not quite match."""
        name = zone.split("/")[0]
        own = None if (self.thing.class_id, name) in OF_THE_BODY else PARTS.get(name)
        part = self.thing.parts.get(name, own)
        base = ImageColor.getrgb(part)[:3] if part else self.body
        shade = random.Random(f"{self.thing.number} {name}").uniform(0.92, 1.06)
        odd = any(
            found["term"] in ("replaced-part", "associated-part", "colour-mismatch")
            and is_of(zone, found["zone"])
            for found in self.thing.findings
        )
        red, green, blue = (min(255, int(value * shade)) for value in base)
        return (min(255, int(red * 1.12)), int(green * 0.98), int(blue * 0.8)) if odd else (red, green, blue)

    def finding(self, finding: dict[str, Any]) -> None:
        """What was found, on its zone: a line, a bite, spots, a net, or a patch of another tone."""
        shapes = [shape for shape in self.shot.outline.shapes if is_of(shape.zone, finding["zone"])]
        regions = [polygon for shape in shapes for polygon in polygons_of(shape) if len(polygon) > 2]
        if not regions:
            return
        region = max(regions, key=lambda polygon: area(box_of([polygon])))
        chance = random.Random(f"{self.thing.number} {finding['zone']} {finding['term']}")
        clean = self.image.copy()
        for _ in range(min(finding.get("extent_count") or 1, 12)):
            self.mark(finding, region, chance)
        marked = self.image.copy()
        self.image.paste(clean)
        for shape in shapes:  # a mark ends where its zone ends
            self.image.paste(
                marked, mask=self.covered([self.placed(polygon) for polygon in polygons_of(shape)])
            )

    def mark(self, finding: dict[str, Any], region: Polygon, chance: random.Random) -> None:
        term, (left, top, right, bottom) = finding["term"], box_of([region])
        span = max(right - left, bottom - top)
        size = min(span * 0.4, max(4.0, span * (finding.get("extent_mm") or 12) / 120))
        at = any_point(region, chance)
        if term in LINES:
            colour = (*LIGHT, 230) if term == "scratch" else (*DARK, 235)
            self.draw.line(
                self.placed(jagged(at, size * 1.6, chance)), fill=colour, width=self.pen + 1, joint="curve"
            )
        elif term in BITES:
            colour = (*DARK, 220) if term in ("hole", "missing-part", "dent") else (*LIGHT, 235)
            self.draw.polygon(self.placed(blob(at, size * 0.5, chance)), fill=colour, outline=(*DARK, 160))
        elif term in SPOTS or term in NETS:
            for _ in range(28):
                point = any_point(region, chance)
                if term in NETS:
                    self.draw.line(self.placed(jagged(point, span * 0.2, chance)), fill=(*DARK, 110))
                else:
                    self.draw.polygon(self.placed(blob(point, span * 0.015, chance)), fill=(*BROWN, 190))
        else:
            grown = size * (0.5 + (finding.get("extent_percent") or 20) / 60)
            tone = LIGHT if term in ("fading", "wear", "abrasion", "pile-thinning") else BROWN
            self.draw.polygon(self.placed(blob(at, grown, chance)), fill=(*tone, 120))


def scale_and_tag(image: Image.Image, number: str) -> None:
    """A scale of ten pieces and the thing's label, laid beside it."""
    draw = ImageDraw.Draw(image)
    width, height = image.size
    piece, rim = width / 38, height * 0.93
    for step in range(10):
        colour = (250, 250, 250) if step % 2 else (20, 20, 20)
        left = piece * (2 + step)
        draw.rectangle((left, rim, left + piece, rim + piece * 0.7), fill=colour, outline=(20, 20, 20))
    x, y, unit = width * 0.79, height * 0.84, width / 1200
    tag = [(0, 0), (150, 0), (185, 30), (185, 60), (150, 90), (0, 90)]
    draw.polygon([(x + across * unit, y + down * unit) for across, down in tag], fill=(240, 210, 140))
    draw.text((x + 22 * unit, y + 24 * unit), number, fill=DARK, font_size=max(8, int(36 * unit)))
