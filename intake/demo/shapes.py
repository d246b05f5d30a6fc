"""The shapes of an outline as polygons, so that a picture can be drawn of them."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from itertools import pairwise

from intake.examination.outlines import Shape

Point = tuple[float, float]
Polygon = list[Point]
#: x from, y from, x to, y to.
Box = tuple[float, float, float, float]

TOKEN = re.compile(r"[A-Z]|-?[0-9.]+")
STEPS = 10  # straight pieces that stand for one curve
ARC_STEPS = 30  # those of an arc
ROUND = 36  # those of a whole circle


def polygons_of(shape: Shape) -> list[Polygon]:
    """Its parts, each a run of points; one that is closed ends where it began."""
    own = shape.attributes
    match shape.shape:
        case "circle" | "ellipse":
            rx, ry = (float(own.get(name, own.get("r", 0))) for name in ("rx", "ry"))
            return [ellipse(float(own["cx"]), float(own["cy"]), rx, ry)]
        case "rect":
            x, y, width, height = (float(own[name]) for name in ("x", "y", "width", "height"))
            corners = [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
            return [[*corners, corners[0]]]
        case "line":
            return [[(float(own["x1"]), float(own["y1"])), (float(own["x2"]), float(own["y2"]))]]
        case "polygon" | "polyline":
            values = [float(value) for value in re.findall(r"-?[0-9.]+", own["points"])]
            points = list(zip(values[::2], values[1::2], strict=True))
            return [[*points, points[0]] if shape.shape == "polygon" else points]
        case _:
            return list(path(own["d"]))


def ellipse(cx: float, cy: float, rx: float, ry: float) -> Polygon:
    turns = [2 * math.pi * step / ROUND for step in range(ROUND + 1)]
    return [(cx + rx * math.cos(turn), cy + ry * math.sin(turn)) for turn in turns]


def path(d: str) -> Iterator[Polygon]:
    """The runs of a path of absolute commands, its curves as straight pieces."""
    tokens = TOKEN.findall(d)
    run: Polygon = []
    command, at = "", 0
    while at < len(tokens):
        if tokens[at].isalpha():
            command, at = tokens[at], at + 1
        if command == "Z":
            if run:
                yield [*run, run[0]]
                run = [run[0]]
            continue
        count = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "Q": 4, "A": 7}[command]
        values = [float(value) for value in tokens[at : at + count]]
        at += count
        if command == "M":
            if len(run) > 1:
                yield run
            run, command = [(values[0], values[1])], "L"
        else:
            run += pieces(command, run[-1], values)
    if len(run) > 1:
        yield run


def pieces(command: str, begin: Point, values: list[float]) -> Polygon:
    """The points that one command leads through, without where it begins."""
    match command:
        case "H":
            return [(values[0], begin[1])]
        case "V":
            return [(begin[0], values[0])]
        case "L":
            return [(values[0], values[1])]
        case "A":
            return arc(begin, values)
        case _:
            points = [begin, *zip(values[::2], values[1::2], strict=True)]
            return [bezier(points, step / STEPS) for step in range(1, STEPS + 1)]


def bezier(points: Polygon, share: float) -> Point:
    """A point of a curve, by de Casteljau's construction."""
    while len(points) > 1:
        points = [
            (x + (x_next - x) * share, y + (y_next - y) * share)
            for (x, y), (x_next, y_next) in pairwise(points)
        ]
    return points[0]


def arc(begin: Point, values: list[float]) -> Polygon:
    """An arc of an ellipse. Source: SVG 2, appendix B.2.4, endpoint to centre."""
    rx, ry, turned, large, sweep, x_end, y_end = values
    if not rx or not ry or begin == (x_end, y_end):
        return [(x_end, y_end)]
    turn = math.radians(turned)
    dx, dy = (begin[0] - x_end) / 2, (begin[1] - y_end) / 2
    x, y = dx * math.cos(turn) + dy * math.sin(turn), dy * math.cos(turn) - dx * math.sin(turn)
    grown = math.sqrt(max(1, (x / rx) ** 2 + (y / ry) ** 2))
    rx, ry = rx * grown, ry * grown
    rest = (rx * ry) ** 2 - (rx * y) ** 2 - (ry * x) ** 2
    factor = math.sqrt(max(0, rest) / ((rx * y) ** 2 + (ry * x) ** 2))
    factor *= -1 if large == sweep else 1
    cx, cy = factor * rx * y / ry, -factor * ry * x / rx
    first = math.atan2((y - cy) / ry, (x - cx) / rx)
    last = math.atan2((-y - cy) / ry, (-x - cx) / rx)
    if sweep and last < first:
        last += 2 * math.pi
    if not sweep and last > first:
        last -= 2 * math.pi
    x_mid, y_mid = (begin[0] + x_end) / 2, (begin[1] + y_end) / 2
    made = []
    for step in range(1, ARC_STEPS + 1):
        here = first + (last - first) * step / ARC_STEPS
        px, py = cx + rx * math.cos(here), cy + ry * math.sin(here)
        made.append(
            (
                x_mid + px * math.cos(turn) - py * math.sin(turn),
                y_mid + px * math.sin(turn) + py * math.cos(turn),
            )
        )
    return made


def box_of(polygons: list[Polygon]) -> Box:
    xs = [x for polygon in polygons for x, _ in polygon]
    ys = [y for polygon in polygons for _, y in polygon]
    return min(xs), min(ys), max(xs), max(ys)


def is_inside(point: Point, polygon: Polygon) -> bool:
    """Whether a point lies in a closed polygon, by how often a ray meets its border."""
    x, y = point
    inside = False
    for (x_from, y_from), (x_to, y_to) in pairwise(polygon):
        if (y_from > y) != (y_to > y) and x < x_from + (y - y_from) * (x_to - x_from) / (y_to - y_from):
            inside = not inside
    return inside
