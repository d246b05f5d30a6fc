"""The marks that findings leave in a picture: which terms are a line, a bite, spots or a net, and how those run."""

from __future__ import annotations

import random

from intake.demo.shapes import Box, Point, Polygon, box_of, is_inside

LINES = {
    "crack",
    "hairline",
    "split",
    "tear",
    "open-seam",
    "open-joint",
    "shrinkage-gap",
    "crease",
    "scratch",
}
BITES = {
    "chip",
    "fleabite",
    "loss",
    "hole",
    "missing-part",
    "pile-loss",
    "paint-loss",
    "plating-loss",
    "dent",
}
SPOTS = {"foxing", "flight-holes", "mould", "pitting", "frass", "contact-marks", "corrosion-stable"}
NETS = {"crazing", "craquelure"}


def area(box: Box) -> float:
    left, top, right, bottom = box
    return (right - left) * (bottom - top)


def any_point(region: Polygon, chance: random.Random) -> Point:
    """A point in a region, by chance."""
    left, top, right, bottom = box_of([region])
    for _ in range(40):
        point = (chance.uniform(left, right), chance.uniform(top, bottom))
        if is_inside(point, region):
            return point
    return (left + right) / 2, (top + bottom) / 2


def jagged(begin: Point, length: float, chance: random.Random) -> Polygon:
    """A line that runs on with small turns."""
    x, y = begin
    across, down = chance.choice([(0.9, 0.4), (0.5, 0.9), (-0.6, 0.8), (0.95, -0.2)])
    points = [begin]
    for _ in range(6):
        x += length / 6 * (across + chance.uniform(-0.5, 0.5))
        y += length / 6 * (down + chance.uniform(-0.5, 0.5))
        points.append((x, y))
    return points


def blob(middle: Point, radius: float, chance: random.Random) -> Polygon:
    """An uneven round patch."""
    turns = [(1, 0), (0.7, 0.7), (0, 1), (-0.7, 0.7), (-1, 0), (-0.7, -0.7), (0, -1), (0.7, -0.7)]
    reach = [radius * chance.uniform(0.6, 1.2) for _ in turns]
    return [(middle[0] + x * far, middle[1] + y * far) for (x, y), far in zip(turns, reach, strict=True)]
