"""Labels as PDF: string tags, bags, boxes, crates and pieces, on sheets and on label rolls, and a calibration page.

A label shows the number as a QR and in large characters, and never an owner's name or a reserve. Every module of the
QR is a whole number of printer dots and begins on a dot, so that it prints evenly. Source: at least four dots a
module as the QR's inventors advise, a quiet zone of four modules by ISO/IEC 18004.
"""

from __future__ import annotations

import io
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Annotated

import yaml
from PIL import Image
from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator
from qrcode.constants import ERROR_CORRECT_Q
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from intake.errors import NotFound, Unreadable
from intake.tagging.qr import QUIET_ZONE, qr_modules
from intake.tagging.tags import qr_text, shown

SHEETS_FILE = Path(__file__).parent / "label_sheets.yaml"
KINDS = {"tag": "", "piece": "Piece", "bag": "Bag", "box": "Box", "crate": "Crate"}
LEAST_DOTS, MOST_DOTS = 4, 24
MOST_WORDS = 14.0  # mm beside the code that words need
BETWEEN = 1.0  # mm between two lines of words
MOST_LINES = 4  # of a caution's mark
LEAST_LETTERS = 2.0  # mm; smaller ones are not read at arm's length
EDGE = 1.5  # mm kept free inside a label's edge, since cutting and feeding are never exact
LEAST_SIDE = 18.0  # mm; below it no code of ours fits with its quiet zone
BOLD, PLAIN = "VeraBd", "Vera"  # shipped with reportlab, so that they can be embedded
Millimetres = Annotated[float, Field(ge=0, le=2000)]


class Sheet(BaseModel):
    """How labels lie on a page. All sizes are millimetres, from the page's upper left corner."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    sheet: str
    words: str
    page: tuple[Millimetres, Millimetres]
    columns: Annotated[int, Field(ge=1, le=50)]
    rows: Annotated[int, Field(ge=1, le=100)]
    label: tuple[Millimetres, Millimetres]
    margin: tuple[Millimetres, Millimetres]
    gap: tuple[Millimetres, Millimetres]

    @model_validator(mode="after")
    def check_fit(self) -> Sheet:
        """Labels that run off the page, or hold no code, are a mistake in the numbers."""
        for side, count in ((0, self.columns), (1, self.rows)):
            used = self.margin[side] + count * self.label[side] + (count - 1) * self.gap[side]
            if used > self.page[side] + 0.05:
                raise ValueError(f"the labels need {used:.1f} mm and the page has {self.page[side]:.1f}")
        if min(self.label) < LEAST_SIDE:
            raise ValueError(f"a label of less than {LEAST_SIDE:.0f} mm holds no code")
        return self

    @property
    def per_page(self) -> int:
        return self.columns * self.rows

    def place(self, position: int) -> tuple[float, float]:
        """The left and upper edge, in mm, of a label by its place on the page, row by row from 0."""
        row, column = divmod(position, self.columns)
        return (
            self.margin[0] + column * (self.label[0] + self.gap[0]),
            self.margin[1] + row * (self.label[1] + self.gap[1]),
        )


@dataclass(frozen=True)
class Label:
    """What one label says. `piece` is which of how many; `part` what its number is on, in words; `caution` a mark for
    everybody; `note` small print."""

    tag: str
    kind: str = "tag"
    piece: tuple[int, int] | None = None
    part: str = ""
    caution: str = ""
    note: str = ""

    def words(self) -> list[str]:
        piece = f"piece {self.piece[0]} of {self.piece[1]}" if self.piece else ""
        kind = KINDS[self.kind] if self.kind != "piece" else ""
        return [word for word in (kind, piece, self.part, self.note) if word]


@cache
def sheets(house: Path | None = None) -> dict[str, Sheet]:
    """The sheets that are known, by name: the shipped ones, then those of the house's `label_sheets.yaml`.

    Raises Unreadable naming what does not fit.
    """
    own = house / SHEETS_FILE.name if house else None
    found: dict[str, Sheet] = {}
    for file in [SHEETS_FILE, *([own] if own and own.exists() else [])]:
        try:
            read = yaml.safe_load(file.read_text("utf-8"))["sheets"]
            found |= {sheet["sheet"]: Sheet.model_validate(sheet) for sheet in read}
        except (yaml.YAMLError, KeyError, TypeError, ValidationError) as error:
            raise Unreadable(f"{file.name}: {error}") from error
    return found


def sheet_named(name: str, house: Path | None = None) -> Sheet:
    """Raises NotFound for a sheet nobody has described."""
    try:
        return sheets(house)[name]
    except KeyError as error:
        raise NotFound("label sheet", name) from error


def label_pdf(
    labels: Sequence[Label], sheet: Sheet, *, address: str, start: int = 1, dots_per_inch: int = 300
) -> bytes:
    """The labels as a PDF, from the given position of a half-used first page, counted from 1.

    `address` is where the office is reached, which the QR says. Raises Unreadable for a position off the page.
    """
    if not 1 <= start <= sheet.per_page:
        raise Unreadable(f"This sheet has the positions 1 to {sheet.per_page}; begin at one of them.")
    stream = io.BytesIO()
    page = begun(stream, sheet)
    for number, label in enumerate(labels, start - 1):
        position = number % sheet.per_page
        if position == 0 and number >= sheet.per_page:
            page.showPage()
        draw_label(page, label, sheet, position, address, dots_per_inch)
    page.save()
    return stream.getvalue()


def begun(stream: io.BytesIO, sheet: Sheet) -> Canvas:
    for name in (BOLD, PLAIN):
        pdfmetrics.registerFont(TTFont(name, f"{name}.ttf"))
    # The same labels are the same bytes: no clock in the file.
    page = Canvas(stream, (sheet.page[0] * mm, sheet.page[1] * mm), pageCompression=1, invariant=1)
    page.setTitle("Labels")
    return page


def draw_label(
    page: Canvas, label: Label, sheet: Sheet, position: int, address: str, dots_per_inch: int
) -> None:
    """Code on the left with the number beneath it, words beside it; a low label has its number beside it only."""
    left, top = sheet.place(position)
    width, height = sheet.label
    modules = qr_modules(qr_text(label.tag, address), ERROR_CORRECT_Q)
    count, dot = len(modules) + 2 * QUIET_ZONE, 25.4 / dots_per_inch
    text_height = min(14.0, height * 0.2)
    dots = dots_for(count, dot, min(width - 2 * EDGE, height - 2 * EDGE - text_height))
    beneath = dots >= LEAST_DOTS
    if not beneath:
        dots = dots_for(count, dot, min(width - MOST_WORDS, height - 2 * EDGE))
    if dots < LEAST_DOTS:
        raise Unreadable(
            f"The code does not fit on {sheet.words} at {dots_per_inch} dots an inch. Take a larger label, or an "
            "address with fewer characters."
        )
    side = count * dots * dot
    beside = label_has_room(width - side)
    x = snapped(left + EDGE if beside else left + (width - side) / 2, dot)
    y = snapped(top + EDGE, dot)
    draw_code(page, modules, sheet, x, y, dots * dot)
    if beneath:
        draw_number(page, shown(label.tag), sheet, (x + side / 2, y + side), (side, text_height))
    if beside:
        draw_words(page, label, sheet, (x + side, top), left + width)


def dots_for(count: int, dot: float, room: float) -> int:
    """How many printer dots a module may have, so that the code with its quiet zone fits."""
    return min(MOST_DOTS, int(room / (count * dot)))


def draw_number(
    page: Canvas, words: str, sheet: Sheet, middle: tuple[float, float], room: tuple[float, float]
) -> None:
    size = room[1] * 0.95 * mm
    size = min(size, size * room[0] * mm / pdfmetrics.stringWidth(words, BOLD, size))
    page.setFont(BOLD, size)
    below = sheet.page[1] - middle[1] - 0.8 * size / mm
    page.drawCentredString(middle[0] * mm, below * mm, words)


def label_has_room(room: float) -> bool:
    """Whether words fit beside the code."""
    return room > MOST_WORDS


def draw_words(page: Canvas, label: Label, sheet: Sheet, corner: tuple[float, float], right: float) -> None:
    """The number once more, what it is on, and a caution's mark, beside the code if there is room."""
    room = right - corner[0] - EDGE
    lines = [(BOLD, shown(label.tag)), *((PLAIN, words) for words in label.words())]
    y = corner[1] + EDGE
    most = min(sheet.label[1] * 0.2, 14.0)
    sized = [(font, words, size_in(room, most, font, [words])) for font, words in lines]
    if label.caution:
        rest = sheet.label[1] - 2 * EDGE - sum(size + BETWEEN for _, _, size in sized)
        sized += caution_lines(f"! {label.caution}", room, rest, most)
    for font, words, size_mm in sized:
        size = size_mm * mm
        y += size_mm
        page.setFont(font, size)
        page.drawString(corner[0] * mm, (sheet.page[1] - y) * mm, words)
        y += BETWEEN


def size_in(room: float, most: float, font: str, lines: Sequence[str]) -> float:
    """The largest letters, in mm, with which each of some lines fits."""
    widest: float = max(pdfmetrics.stringWidth(line, font, 1) for line in lines)
    return min(most, room / widest)


def caution_lines(words: str, room: float, height: float, most: float) -> list[tuple[str, str, float]]:
    """A caution's mark on as few lines as let its letters be read, else on as many as let them be largest."""
    best: list[tuple[str, str, float]] = []
    for count in range(1, MOST_LINES + 1):
        lines = textwrap.wrap(words, max(1, -(-len(words) // count)), break_long_words=False)
        size = min(size_in(room, most, BOLD, lines), height / len(lines) - BETWEEN)
        if not best or size > best[0][2]:
            best = [(BOLD, line, size) for line in lines]
        if best[0][2] >= LEAST_LETTERS:
            break
    return best


def snapped(length: float, dot: float) -> float:
    """The nearest whole number of printer dots, in mm."""
    return round(length / dot) * dot


def draw_code(
    page: Canvas, modules: list[list[bool]], sheet: Sheet, x: float, y: float, module: float
) -> None:
    """The modules as a one-bit picture; the quiet zone is white paper round it."""
    count = len(modules)
    width = (count + 7) // 8
    rows = (int("".join("01"[not dark] for dark in row).ljust(width * 8, "1"), 2) for row in modules)
    image = Image.frombytes("1", (count, count), b"".join(row.to_bytes(width, "big") for row in rows))
    side = count * module
    corner = (x + QUIET_ZONE * module) * mm, (sheet.page[1] - y - QUIET_ZONE * module - side) * mm
    page.drawInlineImage(image, *corner, side * mm, side * mm)


def calibration_pdf(sheet: Sheet) -> bytes:
    """A page with each label's edge drawn and rulers of 100 mm, to be laid over the stock before printing on it."""
    stream = io.BytesIO()
    page = begun(stream, sheet)
    page.setLineWidth(0.2)
    for position in range(sheet.per_page):
        left, top = sheet.place(position)
        lower = sheet.page[1] - top - sheet.label[1]
        page.rect(left * mm, lower * mm, sheet.label[0] * mm, sheet.label[1] * mm)
        page.setFont(PLAIN, 7)
        page.drawString((left + 1) * mm, (lower + 1) * mm, str(position + 1))
    length = min(100, int(min(sheet.page)) // 10 * 10 - 10)
    middle = sheet.page[0] / 2, sheet.page[1] / 2
    for step in range(0, length + 1, 10):
        x, y = middle[0] - length / 2 + step, middle[1] - length / 2 + step
        page.line(x * mm, (middle[1] - 2) * mm, x * mm, (middle[1] + 2) * mm)
        page.line((middle[0] - 2) * mm, y * mm, (middle[0] + 2) * mm, y * mm)
    beneath = middle[1] - length / 2 - 4  # beside the rulers there is no room on a small label
    page.drawCentredString(middle[0] * mm, beneath * mm, f"{length} mm from end to end")
    page.save()
    return stream.getvalue()


def labels_of(
    tags: Iterator[str],
    *,
    kind: str,
    pieces: int = 1,
    piece: int = 1,
    part: str = "",
    caution: str = "",
    note: str = "",
) -> Iterator[Label]:
    """A label for each tag; with several pieces each piece has a number of its own, "piece 2 of 3".

    `piece` is which piece the first label is for.
    """
    for number, tag in enumerate(tags, start=piece - 1):
        which = (number % pieces + 1, pieces) if pieces > 1 else None
        yield Label(tag, kind="piece" if which else kind, piece=which, part=part, caution=caution, note=note)
