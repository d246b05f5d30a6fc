"""The line drawings: every mistake told by file and line, and every side where it belongs."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from intake.examination.outlines import Outline, Shape, read_outlines
from intake.examination.plan import zone_keys
from intake.examination.plan_check import Problem
from intake.examination.plans import SHIPPED, load_plans

PLANS = load_plans().plans
KEYS = {class_id: zone_keys(plan) for class_id, plan in PLANS.items()}
FILES = sorted((SHIPPED / "outlines").glob("*.svg"))
OUTLINES = read_outlines(FILES, KEYS, [])
WALKED = sorted(class_id for class_id, plan in PLANS.items() if not plan.refer_only)
GOOD = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 300 360">
  <title>Front, facing you</title>
  <g>
    <circle data-zone="head" cx="150" cy="90" r="60"/>
  </g>
  <path d="M10 10H20V30Z"/>
</svg>
"""


def told(folder: Path, text: str, name: str = "toy.front.svg") -> list[Problem]:
    file = folder / name
    file.write_text(text, "utf-8")
    problems: list[Problem] = []
    read_outlines([file], {"toy": ["head", "eyes/proper-left"]}, problems)
    return problems


def places(shape: Shape) -> tuple[list[float], list[float]]:
    """The horizontal and the vertical numbers that bound a shape; a curve's handles count as its points."""
    own = shape.attributes
    if shape.shape in ("circle", "ellipse"):
        x, y = float(own["cx"]), float(own["cy"])
        across, up = float(own.get("r") or own["rx"]), float(own.get("r") or own["ry"])
        return [x - across, x + across], [y - up, y + up]
    if shape.shape == "rect":
        x, y = float(own["x"]), float(own["y"])
        return [x, x + float(own["width"])], [y, y + float(own["height"])]
    if shape.shape == "line":
        return [float(own["x1"]), float(own["x2"])], [float(own["y1"]), float(own["y2"])]
    if shape.shape == "path":
        return path_places(own["d"])
    numbers = [float(one) for one in own["points"].replace(",", " ").split()]
    return numbers[::2], numbers[1::2]


def path_places(path: str) -> tuple[list[float], list[float]]:
    across, down = [], []
    for letter, rest in re.findall(r"([MLHVCQAZ])([^A-Z]*)", path):
        numbers = [float(one) for one in rest.replace(",", " ").split()]
        if letter == "A":
            # The drawings' arcs are half circles, from one side to the other.
            across += numbers[5::7]
            down += [
                y + way * up for up, y in zip(numbers[1::7], numbers[6::7], strict=True) for way in (-1, 1)
            ]
        else:
            across += {"H": numbers, "V": []}.get(letter, numbers[::2])
            down += {"H": [], "V": numbers}.get(letter, numbers[1::2])
    return across, down


def centres(outline: Outline) -> dict[str, float]:
    """The horizontal centre of each region."""
    found = {shape.zone: places(shape)[0] for shape in outline.shapes if shape.zone}
    return {zone: (min(across) + max(across)) / 2 for zone, across in found.items()}


def test_the_shipped_outlines_have_no_mistakes() -> None:
    problems: list[Problem] = []
    read_outlines(FILES, KEYS, problems)
    assert problems == []


def test_every_walked_class_has_an_outline_and_no_other_class_has() -> None:
    assert sorted(OUTLINES) == WALKED


def test_the_front_comes_first_and_then_the_names_count() -> None:
    assert [one.outline for one in OUTLINES["doll"]] == ["front", "back", "face"]
    assert OUTLINES["doll"][0].words == "Front, facing you, with the clothes beside it"


@pytest.mark.parametrize("class_id", WALKED)
def test_most_zones_of_a_plan_have_a_region(class_id: str) -> None:
    """Seven in ten at least: what cannot be drawn, such as a smell, is walked from the list alone."""
    drawn = {shape.zone for one in OUTLINES[class_id] for shape in one.shapes if shape.zone}
    assert len(drawn) >= 0.7 * len(KEYS[class_id]), sorted(set(KEYS[class_id]) - drawn)


@pytest.mark.parametrize("class_id", WALKED)
def test_a_drawing_stays_on_its_sheet_and_its_regions_can_be_touched(class_id: str) -> None:
    for outline in OUTLINES[class_id]:
        for shape in outline.shapes:
            across, down = places(shape)
            assert min(across) >= 0, (outline.outline, shape)
            assert min(down) >= 0, (outline.outline, shape)
            assert max(across) <= outline.width, (outline.outline, shape)
            assert max(down) <= outline.height, (outline.outline, shape)
            if shape.zone:
                assert min(max(across) - min(across), max(down) - min(down)) >= 24, (
                    outline.outline,
                    shape.zone,
                )


# Which of two sides is on the left of the picture in a front view, and which in a back view.
# Source: common practice: proper left is the thing's own left, so it is on the right when it faces you; a
# viewer's left is on the left as one faces the front; a violin that stands upright facing you has its bass side
# on your left.
SIDES = [
    ("proper-right", "proper-left"),
    ("viewers-left", "viewers-right"),
    ("upper-left", "upper-right"),
    ("lower-left", "lower-right"),
    ("bass", "treble"),
]


def sided(outline: Outline) -> list[tuple[str, float, float]]:
    """Zones of which both sides are drawn, each with where the front's left side and its right side are."""
    found = centres(outline)
    return [
        (zone, found[zone], found[zone.removesuffix(left) + right])
        for left, right in SIDES
        for zone in found
        if zone.endswith("/" + left) and zone.removesuffix(left) + right in found
    ]


@pytest.mark.parametrize("class_id", WALKED)
def test_each_side_is_drawn_where_its_frame_puts_it(class_id: str) -> None:
    for outline in OUTLINES[class_id]:
        for zone, one, other in sided(outline):
            swapped = outline.outline.endswith("back")
            assert (one > other) if swapped else (one < other), (outline.outline, zone)


@pytest.mark.parametrize("class_id", WALKED)
def test_a_side_is_never_drawn_without_its_fellow(class_id: str) -> None:
    """A lone side would escape the test above."""
    for outline in OUTLINES[class_id]:
        found = set(centres(outline))
        for left, right in SIDES:
            lefts = {zone.removesuffix(left) for zone in found if zone.endswith("/" + left)}
            assert lefts == {zone.removesuffix(right) for zone in found if zone.endswith("/" + right)}


def test_the_sides_that_buyers_ask_about_are_among_those_tested() -> None:
    fronts = {class_id: {zone for zone, *_ in sided(found[0])} for class_id, found in OUTLINES.items()}
    assert {"ears/proper-right", "eyes/proper-right", "arms/proper-right"} <= fronts["soft-toy"]
    assert "hands/proper-right" in fronts["doll"]
    assert "shoulders/proper-right" in fronts["jewellery"]
    assert "sides/viewers-left" in fronts["furniture"]
    assert "ribs/bass" in fronts["stringed-instrument"]


def test_lugs_count_clockwise_from_twelve() -> None:
    """Source: the watch plan's own count_start."""
    shapes = {shape.zone: places(shape) for shape in OUTLINES["watch"][0].shapes}
    corners = {
        number: (min(shapes[f"lugs/{number}"][0]) > 120, max(shapes[f"lugs/{number}"][1]) > 200)
        for number in (1, 2, 3, 4)
    }
    assert corners == {1: (True, False), 2: (True, True), 3: (False, True), 4: (False, False)}


def test_a_good_file_is_read_as_it_stands(tmp_path: Path) -> None:
    file = tmp_path / "toy.front.svg"
    file.write_text(GOOD, "utf-8")
    head = Shape(zone="head", shape="circle", attributes={"cx": "150", "cy": "90", "r": "60"})
    line = Shape(zone=None, shape="path", attributes={"d": "M10 10H20V30Z"})
    expected = Outline(outline="front", words="Front, facing you", width=300, height=360, shapes=[head, line])
    assert read_outlines([file], {"toy": ["head"]}, []) == {"toy": [expected]}


@pytest.mark.parametrize(
    ("before", "after", "line", "words"),
    [
        ("</svg>", "</g>", 7, "no well-formed XML"),
        ('r="60"/>', 'r="60">', 5, "no well-formed XML"),
        ("<svg", "<!DOCTYPE svg>\n<svg", 1, "DOCTYPE"),
        ("<svg", '<!DOCTYPE svg [<!ENTITY a "b">]>\n<svg', 1, "DOCTYPE"),
        ("Front,", "&front;", 2, "no well-formed XML"),
        ("<svg", '<?xml-stylesheet href="a.css"?>\n<svg', 1, "instruction to a program"),
        ("  <path", "  <script/>\n  <path", 6, "<script> is not allowed"),
        ("  <path", "  words\n  <path", 6, "text stands outside"),
        ('"M10 10H20V30Z"/>', '"M10 10H20V30Z"><g/></path>', 6, "<g> stands inside <path>"),
        ("  <path", "  <svg/>\n  <path", 6, "<svg> cannot stand here"),
        ("<g>", '<g transform="scale(2)">', 3, "transform is not allowed in <g>"),
        ("<path d", '<path onclick="x" d', 6, "onclick is not allowed in <path>"),
        ('data-zone="head"', 'data-zone="hat"', 4, 'no zone "hat"'),
        ("<path d", '<path data-zone="head" d', 6, "has a region here already"),
        ("<path d", '<line data-zone="eyes/proper-left" x1="1" y1="1" x2="9" y2="9"/><path d', 6, "is open"),
        ("  <title>Front, facing you</title>\n", "", 1, "no title"),
        ("Front, facing you", " ", 1, "no title"),
        (' viewBox="0 0 300 360"', "", 1, "the viewBox is missing"),
        ("0 0 300 360", "0 0 300", 1, "the viewBox is missing"),
        (' xmlns="http://www.w3.org/2000/svg"', "", 1, "does not say that it is SVG"),
        (' r="60"', "", 4, "<circle> has no r"),
        ('r="60"', 'r="-60"', 4, 'r="-60" does not fit'),
        ('r="60"', 'r="1e9"', 4, 'r="1e9" does not fit'),
        ("M10 10H20", "M10 10h20", 6, "does not fit"),
        ("M10 10H20", "M10H20", 6, "does not fit"),
        ("M10 10H20", "L10 10H20", 6, "does not fit"),
    ],
)
def test_each_mistake_is_told_by_file_and_line(
    tmp_path: Path, before: str, after: str, line: int, words: str
) -> None:
    assert before in GOOD
    [problem] = told(tmp_path, GOOD.replace(before, after, 1))
    assert (problem.file, problem.line) == ("toy.front.svg", line)
    assert words in problem.words
    assert ": " in problem.words, "the words say what to do next"


@pytest.mark.parametrize("name", ["hat.front.svg", "toy.svg", "toy.front.back.svg"])
def test_a_file_named_for_no_class_is_told(tmp_path: Path, name: str) -> None:
    [problem] = told(tmp_path, GOOD, name)
    assert (problem.file, problem.line) == (name, 1)
    assert "CLASS.VIEW.svg" in problem.words


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    problems: list[Problem] = []
    assert read_outlines([tmp_path / "toy.front.svg"], {"toy": []}, problems) == {}
    assert [problem.line for problem in problems] == [1]


def test_every_mistake_of_a_file_is_told_and_it_gives_no_outline(tmp_path: Path) -> None:
    bad = GOOD.replace("head", "hat").replace("<path d", '<path fill="red" d')
    assert [problem.line for problem in told(tmp_path, bad)] == [4, 6]
