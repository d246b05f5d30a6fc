"""Outlines: plain line drawings of each class, in which every zone that has a place is a region to touch.

The files are `CLASS.VIEW.svg`. One that is for some things of its class alone says by which words in their names they
are known (`data-of`, with commas between), and which views it is shown in place of (`data-instead`). They keep to the
small part of SVG named here, so that a screen can draw them from data and nothing in them can run or fetch anything.
Shapes lie over each other in the order of the file: a screen fills those with a zone, and of several under one finger
the last is meant.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Literal
from xml.parsers import expat

from intake.examination.plan_check import Problem, Text, Written

ShapeName = Literal["path", "circle", "ellipse", "rect", "line", "polyline", "polygon"]
SHAPES: dict[str, set[str]] = {
    "path": {"d"},
    "circle": {"cx", "cy", "r"},
    "ellipse": {"cx", "cy", "rx", "ry"},
    "rect": {"x", "y", "width", "height"},
    "line": {"x1", "y1", "x2", "y2"},
    "polyline": {"points"},
    "polygon": {"points"},
}
SPACE = "http://www.w3.org/2000/svg"
FILE_NAME = re.compile(r"([a-z0-9-]+)\.([a-z0-9-]+)\.svg")
VIEW_BOX = re.compile(r"0 0 ([1-9][0-9]{1,3}) ([1-9][0-9]{1,3})")
SIZE = r"[0-9]{1,4}(?:\.[0-9]{1,3})?"
NUMBER = f"-?{SIZE}"
# How many numbers follow each command. Absolute ones only, so that a shape's place can be read off its numbers.
COMMANDS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "Q": 4, "A": 7}


def numbers(count: int) -> str:
    """The pattern of one or more sets of so many numbers."""
    one = rf"{NUMBER}(?:[\s,]+{NUMBER}){{{count - 1}}}"
    return rf"\s*{one}(?:[\s,]+{one})*\s*"


LETTERS = f"after {', '.join(COMMANDS)} or Z"
STEPS = "|".join(letter + numbers(count) for letter, count in COMMANDS.items())
VALUES = {
    "d": re.compile(rf"(?=M)(?:{STEPS}|Z\s*)+"),
    "points": re.compile(numbers(2)),
    **dict.fromkeys(("r", "rx", "ry", "width", "height"), re.compile(SIZE)),
}


class Shape(Written):
    """One shape: the region of a zone, or with no zone a helping line that is only seen.

    `zone` is a zone's key as states are recorded under it; `attributes` are the shape's own, numbers as written.
    """

    zone: str | None
    shape: ShapeName
    attributes: dict[str, str]


class Outline(Written):
    """One view of a class, its shapes from the bottom up. Width and height are in the drawing's own units.

    `of` are words of which one has to be in what a thing is called, none if it is for all of the class; then it is
    shown in place of the view `instead`, or of several with commas between.
    """

    outline: str
    of: list[str] = []  # noqa: RUF012 - each model gets its own
    instead: str | None = None
    words: Text
    width: int
    height: int
    shapes: list[Shape]


class Refused(Exception):
    """Reading has to end here; the problem is told already."""


def read_outlines(
    files: list[Path], keys: dict[str, list[str]], problems: list[Problem]
) -> dict[str, list[Outline]]:
    """The outlines of each class: the front first, then by name. `keys` are the zone keys of each known class.

    Mistakes are added to the problems; a file that has any gives no outline.
    """
    outlines: dict[str, list[Outline]] = {}
    for file in files:
        name = FILE_NAME.fullmatch(file.name)
        if name is None or name[1] not in keys:
            problem = "the file is named for no class: name it CLASS.VIEW.svg for a class that has a plan."
            problems.append(Problem(file.name, 1, problem))
            continue
        reading = Reading(file, name[2], keys[name[1]])
        outline = reading.outline()
        problems += reading.problems
        if outline:
            outlines.setdefault(name[1], []).append(outline)
    for found in outlines.values():
        found.sort(key=lambda view: (view.outline != "front", view.outline))
    return outlines


class Reading:
    """One file on its way to an outline. Expat reads it, since it tells the line of whatever it meets."""

    def __init__(self, file: Path, view: str, keys: list[str]) -> None:
        self.file, self.view, self.keys = file, view, keys
        self.problems: list[Problem] = []
        self.shapes: list[Shape] = []
        self.inside: list[str] = []
        self.words, self.size = "", (0, 0)
        self.of: list[str] = []
        self.instead: str | None = None
        self.parser = expat.ParserCreate()
        self.parser.StartElementHandler = self.start
        self.parser.EndElementHandler = lambda name: self.inside.pop()
        self.parser.CharacterDataHandler = self.text
        self.parser.StartDoctypeDeclHandler = self.doctype
        self.parser.ProcessingInstructionHandler = lambda *_: self.wrong(
            "an instruction to a program (<? ... ?>) has no place here: remove it."
        )

    def wrong(self, words: str, line: int | None = None) -> None:
        self.problems.append(Problem(self.file.name, line or self.parser.CurrentLineNumber, words))

    def outline(self) -> Outline | None:
        """Read the file, once. None if it has a mistake; the problems then name every one."""
        try:
            self.parser.Parse(self.file.read_bytes(), True)
        except Refused:
            return None
        except OSError as error:
            self.wrong(f"the file cannot be read ({error}): save it again.", 1)
            return None
        except expat.ExpatError as error:
            kind = expat.ErrorString(error.code)
            self.wrong(f"this is no well-formed XML ({kind}): close every tag and quote.", error.lineno)
            return None
        words = " ".join(self.words.split())
        if not 1 <= len(words) <= 400:
            self.wrong("the view has no title: add <title>Front, facing you</title> or the like.", 1)
        if self.problems:
            return None
        width, height = self.size
        return Outline(
            outline=self.view,
            of=self.of,
            instead=self.instead,
            words=words,
            width=width,
            height=height,
            shapes=self.shapes,
        )

    def doctype(self, *_: object) -> None:
        # Entities can name other files or grow without end, so nothing after this line is read.
        self.wrong("a DOCTYPE or entity has no place here: remove it and write plain shapes.")
        raise Refused

    def text(self, text: str) -> None:
        if self.inside and self.inside[-1] == "title":
            self.words += text
        elif text.strip():
            self.wrong("text stands outside the title: remove it, or move it into <title>.")

    def start(self, name: str, attributes: dict[str, str]) -> None:
        parent = self.inside[-1] if self.inside else None
        self.inside.append(name)
        if (parent is None) != (name == "svg"):
            self.wrong(f"<{name}> cannot stand here: one <svg> holds everything.")
        elif parent not in (None, "svg", "g"):
            self.wrong(f"<{name}> stands inside <{parent}>: close <{parent}> before it.")
        elif name == "svg":
            self.begin(attributes)
        elif name in SHAPES:
            self.shape(name, attributes)
        elif name not in ("title", "g"):
            self.wrong(f"<{name}> is not allowed: use only title, g, {', '.join(SHAPES)}.")
        else:
            self.only(name, attributes, set())

    def begin(self, attributes: dict[str, str]) -> None:
        self.only("svg", attributes, {"xmlns", "viewBox", "data-of", "data-instead"})
        self.of = [
            word for part in attributes.get("data-of", "").split(",") if (word := part.strip().lower())
        ]
        self.instead = attributes.get("data-instead")
        if self.instead is not None and not self.of:
            self.wrong("it is shown in place of another view: say in data-of of which things.")
        if attributes.get("xmlns") != SPACE:
            self.wrong(f'the drawing does not say that it is SVG: write xmlns="{SPACE}" in <svg>.')
        box = VIEW_BOX.fullmatch(attributes.get("viewBox", ""))
        if box is None:
            self.wrong(
                'the viewBox is missing or odd: write viewBox="0 0 300 360", your width and height last.'
            )
        else:
            self.size = int(box[1]), int(box[2])

    def shape(self, name: str, attributes: dict[str, str]) -> None:
        optional = {"data-zone", "rx"} if name == "rect" else {"data-zone"}
        self.only(name, attributes, SHAPES[name] | optional)
        for missing in sorted(SHAPES[name] - set(attributes)):
            self.wrong(f'<{name}> has no {missing}: add {missing}="...".')
        own = {key: value for key, value in attributes.items() if key in SHAPES[name] | optional}
        zone = own.pop("data-zone", None)
        for key, value in own.items():
            if not VALUES.get(key, re.compile(NUMBER)).fullmatch(value):
                self.wrong(f'{key}="{value}" does not fit: write plain numbers, in paths {LETTERS}.')
        if zone is not None:
            self.region(zone, name, own)
        self.shapes.append(Shape.model_validate({"zone": zone, "shape": name, "attributes": own}))

    def region(self, zone: str, name: str, own: dict[str, str]) -> None:
        if zone not in self.keys:
            self.wrong(f'the plan has no zone "{zone}": correct data-zone, or add the zone there first.')
        if any(shape.zone == zone for shape in self.shapes):
            self.wrong(f'the zone "{zone}" has a region here already: make one path of both.')
        if name in ("line", "polyline") or not own.get("d", "Z").rstrip().endswith("Z"):
            self.wrong(f'the region "{zone}" is open: end its path with Z, or use another shape.')

    def only(self, name: str, attributes: dict[str, str], allowed: set[str]) -> None:
        for odd in sorted(set(attributes) - allowed):
            self.wrong(f"{odd} is not allowed in <{name}>: remove it; the screen has its own looks.")
