"""The pictures of the invented day: shapes as polygons, findings where they are, views called after what they show."""

from __future__ import annotations

import io
import json
import math

import pytest
from PIL import Image, ImageChops, ImageDraw, ImageFilter

from intake.demo.drawing import Thing, photograph
from intake.demo.drawings import drawings_of
from intake.demo.shapes import box_of, is_inside, path, polygons_of
from intake.demo.views import Shot, near, shot_of
from intake.examination.outlines import Shape
from intake.examination.plans import load_plans
from intake.web_folder import fixtures_folder

ACROSS = 300
PLANS = load_plans()
DAY = json.loads((fixtures_folder() / "day.json").read_text("utf-8"))
DRAWINGS = drawings_of(DAY["items"], PLANS)
OUTLINES = DRAWINGS["teapot"]


def shape(name: str, **attributes: str) -> Shape:
    return Shape.model_validate({"zone": None, "shape": name, "attributes": attributes})


def test_an_arc_of_half_a_circle_runs_over_its_top() -> None:
    """Source: SVG 2, appendix B.2.4; the centre of a half circle lies between its ends."""
    (run,) = path("M0 0A10 10 0 0 1 20 0")
    assert run[-1] == pytest.approx((20, 0))
    assert all(math.dist(point, (10, 0)) == pytest.approx(10) for point in run)
    assert min(y for _, y in run) == pytest.approx(-10)
    (quarter,) = path("M10 0A10 10 0 0 1 0 10")
    assert all(math.hypot(*point) == pytest.approx(10) for point in quarter)
    (large,) = path("M10 0A10 10 0 1 1 0 10")
    assert all(math.dist(point, (10, 10)) == pytest.approx(10) for point in large)
    (other,) = path("M0 0A10 10 0 0 0 20 0")
    assert max(y for _, y in other) == pytest.approx(10)


def test_curves_end_where_they_say_and_close_where_they_began() -> None:
    """A cubic curve with equal handles is at three quarters of their height in its middle: Bernstein's weights."""
    (run,) = path("M0 0C0 8 8 8 8 0H0Z")
    assert run[0] == run[-1] == (0, 0)
    assert (8, 0) in run
    assert max(y for _, y in run) == pytest.approx(6)
    assert len(list(path("M0 0L1 1M5 5V9"))) == 2


def test_a_rectangle_and_a_circle_have_the_size_they_say() -> None:
    assert box_of(polygons_of(shape("rect", x="1", y="2", width="3", height="4"))) == (1, 2, 4, 6)
    assert box_of(polygons_of(shape("circle", cx="5", cy="5", r="2"))) == pytest.approx((3, 3, 7, 7))
    (square,) = polygons_of(shape("polygon", points="0 0 4 0 4 4 0 4"))
    assert is_inside((1, 1), square)
    assert not is_inside((5, 1), square)


@pytest.mark.parametrize("term", ["crack", "chip", "stain", "crazing", "foxing", "hole"])
def test_a_finding_is_seen_on_its_zone_and_nowhere_else(term: str) -> None:
    outline = OUTLINES[0]
    found = {"zone": "body", "term": term, "extent_mm": 20}
    with_it, without = (
        Image.open(
            io.BytesIO(
                photograph(Thing("014", "ceramics", "teapot", findings=told), Shot(outline), ACROSS)[0]
            )
        )
        for told in ((found,), ())
    )
    changed = ImageChops.difference(with_it, without).convert("L").point(lambda value: 255 * (value > 40))
    box = changed.getbbox()
    assert box, "nothing is seen of it"
    scale = min(ACROSS / outline.width, ACROSS * 0.75 / outline.height) * 0.92
    left, top, right, bottom = box_of(
        [one for drawn in outline.shapes if drawn.zone == "body" for one in polygons_of(drawn)]
    )
    far = 2  # pixels, for rounding
    middle = (ACROSS / 2 - outline.width / 2 * scale, ACROSS * 0.375 - outline.height / 2 * scale)
    assert box[0] >= middle[0] + left * scale - far
    assert box[1] >= middle[1] + top * scale - far
    assert box[2] <= middle[0] + right * scale + far
    assert box[3] <= middle[1] + bottom * scale + far


def test_views_show_what_they_are_called_after() -> None:
    plan = PLANS.plans["ceramics"]

    def shot(view: str, absent: tuple[str, ...] = ()) -> Shot | None:
        return shot_of(view, plan, OUTLINES, absent)

    assert shot("underside") == Shot(OUTLINES[2])
    assert OUTLINES[2].outline == "underside"
    assert shot("back") == Shot(OUTLINES[0], turned=-1)
    assert shot("spout") == Shot(OUTLINES[0], near="spout")
    assert shot("handle-joins") == Shot(OUTLINES[0], near="handles")
    assert shot("with-scale-and-tag") == Shot(OUTLINES[0], has_scale=True)
    assert shot("sides") == Shot(OUTLINES[0], turned=0.6)
    assert shot("spout", ("spout",)) is None, "a thing without a spout has no view of it"


def test_what_is_drawn_from_its_side_is_narrow_from_its_front() -> None:
    plan, drawn = PLANS.plans["tinplate-diecast"], DRAWINGS["lorry"]
    assert shot_of("sides", plan, drawn, ()) == Shot(drawn[0])
    for view, turned, tilted in (("front", 0.4, 1), ("rear", -0.4, 1), ("base", 1, -0.5), ("top", 1, 0.5)):
        assert shot_of(view, plan, drawn, ()) == Shot(drawn[0], turned=turned, tilted=tilted)


def test_what_no_drawing_has_is_seen_as_a_surface() -> None:
    shot = near("voice", DRAWINGS["cat"])
    assert shot.outline.outline == "close-up"
    assert [shape.zone for shape in shot.outline.shapes] == ["voice"]


@pytest.mark.parametrize(
    "kind", ["teapot", "coffee-pot", "covered-cup", "jug", "rabbit", "cat", "doll", "tripod-table"]
)
def test_a_thing_hangs_together(kind: str) -> None:
    """A lid lies on its pot, a limb joins its body: what is painted from one point on reaches all of it."""
    outline = DRAWINGS[kind][0]
    image = Image.new("L", (outline.width, outline.height))
    draw = ImageDraw.Draw(image)
    for shape in outline.shapes:
        for polygon in polygons_of(shape):
            draw.line(polygon, fill=255, width=2)
            if shape.zone:
                draw.polygon(polygon, fill=255)
    image = image.filter(ImageFilter.MaxFilter(3))  # pixels that meet at a corner belong together
    first = next((x, y) for y in range(image.height) for x in range(image.width) if image.getpixel((x, y)))
    ImageDraw.floodfill(image, first, 128)
    assert image.histogram()[255] == 0


def test_every_thing_that_stays_says_what_it_is_drawn_as() -> None:
    """So that no green car stands for a ship: what names a kind of thing is drawn as that kind."""
    drawn = {item["number"]: item["drawn"] for item in DAY["items"] if "drawn" in item}
    assert len(drawn) == 89
    undrawn = [item["class_id"] for item in DAY["items"] if item["tagged"] and item["number"] not in drawn]
    assert undrawn == ["arms"], "nobody photographs what is referred"
    for item in DAY["items"]:
        words = [word.strip(",") for word in item["short_description"].split()]
        named = {kind for kind in DRAWINGS if kind in words}
        if item["number"] in drawn and named:
            assert item["drawn"] in named, item["short_description"]
