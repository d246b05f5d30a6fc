"""QR codes as modules, as SVG, for a terminal and as PNG. Source: ISO/IEC 18004; made by the qrcode library."""

from __future__ import annotations

import io
from html import escape

import qrcode
from PIL import Image
from qrcode.constants import ERROR_CORRECT_M

QUIET_ZONE = 4  # modules; ISO/IEC 18004 asks for four
MASK = 4  # fixed: searching for the best mask takes seven times as long, and every reader takes any


def qr_modules(text: str, level: int = ERROR_CORRECT_M) -> list[list[bool]]:
    """The code's modules without its quiet zone, row by row, True is dark."""
    code = qrcode.QRCode(error_correction=level, mask_pattern=MASK, border=0)
    code.add_data(text)
    code.make(fit=True)
    return [[bool(dark) for dark in row] for row in code.get_matrix()]


def qr_svg(text: str, title: str) -> str:
    """The code as an SVG with its quiet zone, dark on white whatever the page's colours are."""
    modules = qr_modules(text)
    size = len(modules) + 2 * QUIET_ZONE
    path = "".join(
        f"M{x + QUIET_ZONE} {y + QUIET_ZONE}h1v1h-1z"
        for y, row in enumerate(modules)
        for x, dark in enumerate(row)
        if dark
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size} {size}" role="img">'
        f"<title>{escape(title)}</title>"
        f'<path fill="#fff" d="M0 0h{size}v{size}H0z"/><path fill="#000" d="{path}"/></svg>'
    )


def qr_terminal(text: str) -> str:
    """The code in half-block characters, two rows a line, light on dark as most terminals are."""
    modules = qr_modules(text)
    width = len(modules) + 2 * QUIET_ZONE
    blank = [False] * width
    side = [False] * QUIET_ZONE
    rows = [blank] * QUIET_ZONE + [side + row + side for row in modules] + [blank] * QUIET_ZONE
    if len(rows) % 2:
        rows.append(blank)
    signs = {(False, False): "█", (True, False): "▄", (False, True): "▀", (True, True): " "}
    return "\n".join(
        "".join(signs[above, below] for above, below in zip(rows[y], rows[y + 1], strict=True))
        for y in range(0, len(rows), 2)
    )


def qr_png(text: str, module_px: int) -> bytes:
    """The code as a 1-bit PNG with its quiet zone, each module a square of `module_px` pixels."""
    modules = qr_modules(text)
    size = len(modules) + 2 * QUIET_ZONE
    image = Image.new("1", (size, size), 1)
    for y, row in enumerate(modules):
        for x, dark in enumerate(row):
            if dark:
                image.putpixel((x + QUIET_ZONE, y + QUIET_ZONE), 0)
    stream = io.BytesIO()
    image.resize((size * module_px, size * module_px), Image.Resampling.NEAREST).save(stream, "PNG")
    return stream.getvalue()
