"""Labels on paper: geometry measured on the PDF, codes read back from the raster, turned, blurred and creased.

Sources: pdfplumber for geometry, pdfium for the raster, zxing-cpp for reading and as a second encoder, ISO/IEC 18004
for version, level and quiet zone. The rates at which damaged labels are read are measured here and printed; the bounds
are what this project asks of itself.
"""

from __future__ import annotations

import io
import random
from functools import cache
from itertools import islice
from pathlib import Path
from typing import Any

import pdfplumber
import pypdfium2
import pytest
import zxingcpp
from PIL import Image, ImageDraw, ImageFilter
from qrcode.constants import ERROR_CORRECT_M, ERROR_CORRECT_Q

from intake.errors import NotFound, Unreadable
from intake.settings import Settings
from intake.tagging.labels import Sheet, calibration_pdf, label_pdf, labels_of, sheet_named, sheets
from intake.tagging.qr import MASK, QUIET_ZONE, qr_modules
from intake.tagging.tags import codes, qr_text, serial_of, shown
from tests.builders import Ids
from tests.conftest import Clock, Office, running
from tests.phone import Phone

ADDRESS = "https://intake.example.org"
QR = zxingcpp.BarcodeFormat.QRCodeModel2  # the wider family takes blurred tags for its small sorts
SEED = 18004  # as measured with: another one blurs other labels
MM = 72 / 25.4


def some_labels(count: int, **more: Any) -> list[Any]:
    return list(labels_of(islice(codes(5000), count), **{"kind": "tag", **more}))


@cache
def full_sheet(name: str, dots_per_inch: int) -> bytes:
    """A page of tags, of which some tests read the codes and others measure the places."""
    sheet = sheet_named(name)
    return label_pdf(some_labels(sheet.per_page), sheet, address=ADDRESS, dots_per_inch=dots_per_inch)


def raster(pdf: bytes, dots_per_inch: int, page: int = 0) -> Image.Image:
    image: Image.Image = (
        pypdfium2.PdfDocument(pdf)[page].render(scale=dots_per_inch / 72).to_pil().convert("L")
    )
    return image


def read(image: Image.Image) -> list[Any]:
    return list(zxingcpp.read_barcodes(image, formats=zxingcpp.BarcodeFormats(QR)))


@pytest.mark.parametrize("dots_per_inch", [203, 300])
@pytest.mark.parametrize("name", list(sheets()))
def test_every_label_of_a_sheet_is_read_back(name: str, dots_per_inch: int) -> None:
    labels = some_labels(sheet_named(name).per_page)
    found = read(raster(full_sheet(name, dots_per_inch), dots_per_inch))
    assert sorted(one.text for one in found) == sorted(qr_text(label.tag, ADDRESS) for label in labels)


def by_another_encoder(text: str, level: str) -> list[list[bool]]:
    """The modules that zxing-cpp makes of a text with our mask, True is dark."""
    code = zxingcpp.create_barcode(text, QR, ec_level=level, data_mask=MASK)
    image: Any = code.to_image(
        scale=1, add_quiet_zones=False
    )  # a buffer of two dimensions, whatever its types say
    rows: list[list[int]] = memoryview(image).tolist()  # type: ignore[assignment]
    return [[shade == 0 for shade in row] for row in rows]


@pytest.mark.parametrize(("level", "version"), [("Q", 3), ("M", 2)])
def test_two_encoders_make_the_same_code(level: str, version: int) -> None:
    """Source: ISO/IEC 18004 table 7: 35 alphanumeric characters are version 3 at level Q, version 2 at level M, which
    is 17 + 4 x version modules wide; each module as zxing-cpp's encoder has it."""
    text = qr_text("7K3QW5", ADDRESS)
    assert len(text) == 35
    modules = qr_modules(text, {"Q": ERROR_CORRECT_Q, "M": ERROR_CORRECT_M}[level])
    assert len(modules) == 17 + 4 * version
    assert modules == by_another_encoder(text, level)


def holds_text(row: int, column: int, side: int) -> bool:
    """Whether a module is one of a code's text or of what mends it, of the versions that have one mark within."""
    in_a_corner = (
        (row < 9 and column < 9) or (row < 9 and column > side - 9) or (row > side - 9 and column < 9)
    )
    within = all(side - 9 <= place <= side - 5 for place in (row, column))
    return not (in_a_corner or within or 6 in (row, column))


def test_nine_wrong_modules_are_put_right_wherever_they_are() -> None:
    """Source: ISO/IEC 18004, version 3 at level Q: two blocks of (35, 17), each of which mends nine codewords."""
    text, chance = qr_text("7K3QW5", ADDRESS), random.Random(SEED)
    modules = qr_modules(text, ERROR_CORRECT_Q)
    side = len(modules)
    places = [(row, column) for row in range(side) for column in range(side) if holds_text(row, column, side)]
    assert len(places) == 70 * 8 + 7, "the codewords and seven modules that are left over"
    for _ in range(40):
        wrong = set(chance.sample(places, 9))
        image = Image.new("L", (side + 8, side + 8), 255)
        for row, line in enumerate(modules):
            for column, is_dark in enumerate(line):
                if is_dark != ((row, column) in wrong):
                    image.putpixel((column + 4, row + 4), 0)
        (code,) = read(image.resize((image.width * 4, image.height * 4), Image.Resampling.NEAREST))
        assert code.text == text


def test_what_is_printed_has_level_q_and_four_modules_of_quiet() -> None:
    """Source: ISO/IEC 18004, which asks for four."""
    assert QUIET_ZONE == 4
    (code,) = read(raster(label_pdf(some_labels(1), sheet_named("tag-85x45"), address=ADDRESS), 300))
    assert code.ec_level == "Q"


@pytest.mark.parametrize("name", list(sheets()))
def test_places_on_the_paper_to_a_tenth_of_a_millimetre(name: str) -> None:
    """Source: the PDF measured by pdfplumber: page, code within its label, module a whole number of dots."""
    sheet = sheet_named(name)
    with pdfplumber.open(io.BytesIO(full_sheet(name, 300))) as document:
        (page,) = document.pages
        assert (float(page.width) / MM, float(page.height) / MM) == pytest.approx(sheet.page, abs=0.1)
        assert len(page.images) == sheet.per_page
        for position, image in enumerate(sorted(page.images, key=lambda one: (round(one["top"]), one["x0"]))):
            left, top = sheet.place(position)
            module = (image["x1"] - image["x0"]) / MM / 29
            quiet = QUIET_ZONE * module
            dots = module / (25.4 / 300)
            assert dots == pytest.approx(round(dots), abs=0.01)
            assert round(dots) >= 4
            assert image["x0"] / MM - quiet >= left - 0.1
            assert image["x1"] / MM + quiet <= left + sheet.label[0] + 0.1
            assert image["top"] / MM - quiet >= top - 0.1
            assert image["bottom"] / MM + quiet <= top + sheet.label[1] + 0.1
            on_dot = (image["x0"] / MM - quiet) / (25.4 / 300)
            assert on_dot == pytest.approx(round(on_dot), abs=0.02)


def test_the_calibration_page_has_each_edge_and_a_ruler() -> None:
    sheet = sheet_named("a4-63x38")
    with pdfplumber.open(io.BytesIO(calibration_pdf(sheet))) as document:
        page = document.pages[0]
        edges = sorted((round(one["top"] / MM, 1), round(one["x0"] / MM, 1)) for one in page.rects)
        places = [sheet.place(position) for position in range(sheet.per_page)]
        assert len(edges) == len(places)
        for (top, left), (x, y) in zip(edges, sorted(places, key=lambda one: (one[1], one[0])), strict=True):
            assert (left, top) == pytest.approx((x, y), abs=0.1)
        assert "100 mm from end to end" in (page.extract_text() or "")


@pytest.mark.parametrize("sheet", sheets().values(), ids=lambda sheet: sheet.sheet)
def test_no_words_are_cut_off_by_the_edge(sheet: Sheet) -> None:
    """Neither of a calibration page nor of a long caution mark, which is read at arm's length all the same."""
    with pdfplumber.open(io.BytesIO(calibration_pdf(sheet))) as document:
        page = document.pages[0]
        assert all(char["x0"] > 0 and char["x1"] < page.width for char in page.chars)
        assert all(char["top"] > 0 and char["bottom"] < page.height for char in page.chars)
    labels = some_labels(1, caution="held apart, isolation only, dust!")
    with pdfplumber.open(io.BytesIO(label_pdf(labels, sheet, address=ADDRESS))) as document:
        mark = [char for char in document.pages[0].chars if char["text"] == "!"]
        right, lower = sheet.label[0] + sheet.margin[0], sheet.label[1] + sheet.margin[1]
        assert len(mark) == 2
        for char in mark:
            assert char["size"] >= 5, "in points"
            assert char["x1"] / MM <= right
            assert char["bottom"] / MM <= lower


def test_a_half_used_sheet_goes_on_where_it_ended() -> None:
    sheet = sheet_named("a4-70x37")
    pdf = label_pdf(some_labels(10), sheet, address=ADDRESS, start=20)
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        assert [len(page.images) for page in document.pages] == [5, 5]
        first = min(document.pages[0].images, key=lambda one: (round(one["top"]), one["x0"]))
        left, top = sheet.place(19)
        assert left <= first["x0"] / MM <= left + 8
        assert top <= first["top"] / MM <= top + 8
    with pytest.raises(Unreadable, match="positions 1 to 24"):
        label_pdf(some_labels(1), sheet, address=ADDRESS, start=25)


def test_what_a_label_says() -> None:
    """The number is there for eyes; a piece and a caution are; nothing else is."""
    labels = some_labels(3, pieces=3, caution="held apart")
    with pdfplumber.open(io.BytesIO(label_pdf(labels, sheet_named("a4-70x37"), address=ADDRESS))) as document:
        words = document.pages[0].extract_text() or ""
        fonts = {one["fontname"] for one in document.pages[0].chars}
    for number, label in enumerate(labels, 1):
        assert words.count(shown(label.tag)) == 2
        assert f"piece {number} of 3" in words
    assert words.count("held apart") == 3
    assert all("+" in name for name in fonts), "every font is embedded"


def test_a_code_that_does_not_fit_is_refused() -> None:
    narrow = Sheet(
        sheet="x", words="x", page=(20, 20), columns=1, rows=1, label=(20, 20), margin=(0, 0), gap=(0, 0)
    )
    with pytest.raises(Unreadable, match="does not fit"):
        label_pdf(some_labels(1), narrow, address=ADDRESS, dots_per_inch=203)
    with pytest.raises(NotFound):
        sheet_named("no-such-sheet")
    with pytest.raises(ValueError, match="the page has"):
        Sheet(
            sheet="x", words="x", page=(50, 50), columns=2, rows=1, label=(40, 40), margin=(0, 0), gap=(0, 0)
        )


def worn(image: Image.Image, chance: random.Random) -> Image.Image:
    """A label as a camera may see it: turned, out of focus, with a crease across and grey light."""
    side = max(image.size) * 3 // 2
    paper = Image.new("L", (side, side), 205)
    paper.paste(image, ((side - image.width) // 2, (side - image.height) // 2))
    at = chance.uniform(0.35, 0.65) * side
    slope = chance.uniform(-0.2, 0.2) * side
    ImageDraw.Draw(paper).line((0, at - slope, side, at + slope), fill=235, width=max(1, image.height // 60))
    turned = paper.rotate(chance.uniform(0, 360), resample=Image.Resampling.BICUBIC, fillcolor=205)
    return turned.filter(ImageFilter.GaussianBlur(chance.uniform(0.5, 1.8)))


def test_worn_labels_are_read_or_not_but_never_wrongly() -> None:
    """60 labels, each turned, blurred and creased by a printed seed, at 300 dots an inch."""
    chance = random.Random(SEED)
    sheet = sheet_named("tag-85x45")
    labels = some_labels(60)
    pdf = label_pdf(labels, sheet, address=ADDRESS)
    good = 0
    for page, label in enumerate(labels):
        for code in read(worn(raster(pdf, 300, page), chance)):
            assert code.text == qr_text(label.tag, ADDRESS)
            good += 1
    print(f"\nseed {SEED}: {good} of {len(labels)} worn labels read, none wrongly")
    assert good >= 45  # one still frame each; a camera has many


def test_labels_over_http(office: Office) -> None:
    manager = office.pair("manager")
    told = manager.client.get("/labels/sheets").json()
    asked = {"sheet": told["sheets"][0]["sheet"], "first": told["next_tag"], "count": 30, "kind": "bag"}
    found = manager.client.get("/labels.pdf", params=asked)
    assert found.headers["content-type"] == "application/pdf"
    with pdfplumber.open(io.BytesIO(found.content)) as document:
        assert [len(page.images) for page in document.pages] == [24, 6]
    assert manager.client.get("/labels.pdf", params=asked).content == found.content
    for wrong in ({"count": 0}, {"first": "7K3-QW6"}, {"kind": "lot"}, {"start": 99}):
        refused = manager.client.get("/labels.pdf", params={**asked, **wrong})
        assert refused.status_code == 400, wrong
        assert refused.json()["hint"]
    assert manager.client.get("/labels.pdf", params={**asked, "sheet": "none"}).status_code == 404
    page = {"accept": "text/html,*/*;q=0.8"}  # as a browser asks for what it opens by itself
    opened = manager.client.get("/labels.pdf", params={**asked, "start": "99"}, headers=page)
    assert opened.headers["content-type"].startswith("text/html")
    assert "positions 1 to" in opened.text
    assert "<h1>" in opened.text, "in the letters of the app, not in those of a file"
    assert "style-src 'sha256-" in opened.headers["content-security-policy"]
    assert '"code"' not in opened.text
    assert office.client().get("/labels.pdf", params=asked).status_code == 401


def test_labels_that_are_on_record_are_those_numbers_and_no_others(
    manager: Phone, day: dict[str, Any]
) -> None:
    """A number passed over and those behind the used ones, as crate labels; the same file again."""
    told = manager.client.get("/labels/sheets").json()
    numbers = list(islice(codes(serial_of(told["next_tag"])), 9))
    roll = {
        "day_id": day["day_id"],
        "roll_id": manager.ids.id(),
        "first_tag": numbers[0],
        "last_tag": numbers[-1],
    }
    manager.keep(("issue_roll", {**roll, "count": 9, "given_to": "spare", "for_device_id": None}))
    rows = [{"first_tag": numbers[1], "count": 1}, {"first_tag": numbers[6], "count": 3}]
    print_id = manager.ids.id()
    asked = {"sheet": "tag-85x45", "day_id": day["day_id"], "print_id": print_id}
    assert manager.client.get("/labels.pdf", params=asked).status_code == 404
    of_roll = {"day_id": day["day_id"], "roll_id": roll["roll_id"], "print_id": print_id}
    manager.keep(("print_labels", {**of_roll, "label": "crate", "rows": rows, "seen": None}))
    assert manager.push()[-1]["outcome"] == "kept"
    found = manager.client.get("/labels.pdf", params=asked)
    with pdfplumber.open(io.BytesIO(found.content)) as document:
        words = [page.extract_text() for page in document.pages]
    assert [[tag for tag in numbers if shown(tag) in text] for text in words] == [
        [tag] for tag in [numbers[1], *numbers[6:]]
    ]
    assert all("Crate" in text for text in words)
    assert manager.client.get("/labels.pdf", params=asked).content == found.content


def test_labels_have_the_office_s_own_numbers(tmp_path: Path, clock: Clock, ids: Ids) -> None:
    """Two offices never print the same number: neither from another's first, nor over the end of one's own."""
    with running(Settings(tmp_path / "office", clock=clock, numbers=(2, 5)), clock, ids) as office:
        manager = office.pair("manager")
        told = manager.client.get("/labels/sheets").json()
        asked: dict[str, str | int] = {"sheet": "tag-85x45", "count": 30}
        last = next(codes(told["serials"]["last"] - 20))
        for first, status in ((told["next_tag"], 200), (next(codes(5000)), 409), (last, 409)):
            found = manager.client.get("/labels.pdf", params={**asked, "first": first})
            assert found.status_code == status, first
        assert told["next_tag"][:3] in found.json()["hint"]


def test_a_house_s_own_label_sheet(tmp_path: Path, clock: Clock, ids: Ids) -> None:
    house = tmp_path / "house"
    house.mkdir()
    own = "{sheet: ours, words: ours, page: [100, 60], columns: 2, rows: 1, label: [48, 50], "
    own += "margin: [2, 5], gap: [0, 0]}"
    (house / "label_sheets.yaml").write_text(f"sheets:\n  - {own}\n", "utf-8")
    with running(Settings(tmp_path / "office", clock=clock, plans_folder=house), clock, ids) as office:
        manager = office.pair("manager")
        told = manager.client.get("/labels/sheets").json()
        assert [one["sheet"] for one in told["sheets"]] == [*sheets(), "ours"]
        asked: dict[str, str | int] = {"sheet": "ours", "first": told["next_tag"], "count": 3}
        with pdfplumber.open(io.BytesIO(manager.client.get("/labels.pdf", params=asked).content)) as document:
            assert [len(page.images) for page in document.pages] == [2, 1]
    (house / "label_sheets.yaml").write_text("sheets: [{sheet: wide, words: x}]\n", "utf-8")
    sheets.cache_clear()
    with pytest.raises(Unreadable, match=r"label_sheets\.yaml"):
        sheets(house)


def test_one_label_of_a_piece_that_is_held(office: Office) -> None:
    """Printed anew after a caution was raised: which piece it is, and the mark that everybody must see."""
    asked: dict[str, Any] = {"sheet": "tag-85x45", "first": "7K3QW5", "count": 1, "pieces": 3, "piece": 2}
    found = office.pair("table").client.get("/labels.pdf", params={**asked, "caution": "held apart"})
    with pdfplumber.open(io.BytesIO(found.content)) as document:
        (page,) = document.pages
        words = page.extract_text()
    assert "7K3-QW5" in words
    assert "piece 2 of 3" in words
    assert "held apart" in words
