"""The tag code and its QR, against libraries and tables that are not ours."""

from __future__ import annotations

import io
from itertools import islice, product

import pytest
import zxingcpp
from PIL import Image
from stdnum.iso7064 import mod_37_2

from intake.tagging.qr import qr_modules, qr_png
from intake.tagging.tags import (
    SYMBOLS,
    TagError,
    check_character,
    codes,
    normalise,
    parse_tag,
    qr_text,
    serial_of,
    shown,
)


def test_every_check_character_of_three_symbols_equals_the_reference() -> None:
    """Source: python-stdnum's ISO 7064 MOD 37-2. 28,341 of the 32,768 candidates may be issued (counted with it)."""
    issued = 0
    for signs in product(SYMBOLS, repeat=3):
        expected = mod_37_2.calc_check_digit("".join(signs))
        ours = check_character("".join(signs))
        assert ours == (expected if expected in SYMBOLS else None)
        issued += ours is not None
    assert issued == 28_341


@pytest.mark.parametrize(
    ("data", "check"), [("A999914123456", "N"), ("0", "1"), ("Z", "5"), ("G123489654321", "Y")]
)
def test_published_vectors(data: str, check: str) -> None:
    """Source: examples of ISO/IEC 7064 MOD 37-2 as python-stdnum has them."""
    assert check_character(data) == check


def test_numbers_whose_check_character_is_none_of_ours_are_passed_over() -> None:
    """Source: python-stdnum's ISO 7064 MOD 37-2, of the serials 0 to 99: I, L, O, U or an asterisk would follow."""
    skipped = [1, 4, 7, 10, 24, 34, 37, 40, 54, 64, 67, 70, 85, 94, 97]
    issued = [serial for serial in range(100) if serial not in skipped]
    assert [serial_of(tag) for tag in islice(codes(0), len(issued))] == issued


def test_no_single_wrong_character_and_no_swap_of_neighbours_is_taken() -> None:
    for tag in islice(codes(7_000), 400):
        for place in range(6):
            for sign in SYMBOLS:
                if sign != tag[place]:
                    with pytest.raises(TagError):
                        parse_tag(tag[:place] + sign + tag[place + 1 :])
            if place < 5 and tag[place] != tag[place + 1]:
                swapped = tag[:place] + tag[place + 1] + tag[place] + tag[place + 2 :]
                with pytest.raises(TagError):
                    parse_tag(swapped)


@pytest.mark.parametrize("typed", ["7k3-qw5", " 7K3 QW5", "7K3/QW5", "7K3.QW5"])
def test_a_tag_is_read_however_it_is_typed(typed: str) -> None:
    assert parse_tag(typed) == "7K3QW5"
    assert normalise(normalise(typed)) == normalise(typed)
    assert shown(parse_tag(typed)) == "7K3-QW5"


def test_printed_codes_are_read_by_an_independent_reader() -> None:
    """Source: zxing-cpp as reader; version and alphanumeric mode by the capacity table of ISO/IEC 18004."""
    for tag in islice(codes(123_456), 60):
        text = qr_text(tag, "https://intake.example.org")
        assert len(qr_modules(text)) == 25, "version 2: level M holds 38 alphanumeric signs"
        picture = Image.open(io.BytesIO(qr_png(text, 6))).convert("L")
        read = zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCodeModel2)  # type: ignore[arg-type]
        assert [code.text for code in read] == [text]


def test_the_quiet_zone_is_four_modules() -> None:
    """Source: ISO/IEC 18004, four modules on each side."""
    text = qr_text("7K3QW5", "https://intake.example.org")
    picture = Image.open(io.BytesIO(qr_png(text, 1))).convert("L")
    dark = picture.point(lambda value: 255 - value).getbbox()
    assert dark == (4, 4, picture.width - 4, picture.height - 4)
