"""A film for the browser's pretended camera: a printed tag held still in front of it."""

from __future__ import annotations

import io
from pathlib import Path

from PIL import Image

from intake.tagging.qr import qr_png
from intake.tagging.tags import qr_text

SIZE = (640, 480)


def film_of_tag(tag: str, address: str, file: Path) -> Path:
    """Write an uncompressed film (YUV4MPEG2, 4:2:0) of ten equal frames that show the tag on grey paper."""
    code = Image.open(io.BytesIO(qr_png(qr_text(tag, address), 8))).convert("RGB")
    frame = Image.new("RGB", SIZE, (150, 146, 138))
    frame.paste(code, ((SIZE[0] - code.width) // 2, (SIZE[1] - code.height) // 2))
    bright, blue, red = frame.convert("YCbCr").split()
    half = (SIZE[0] // 2, SIZE[1] // 2)
    planes = bright.tobytes() + blue.resize(half).tobytes() + red.resize(half).tobytes()
    head = f"YUV4MPEG2 W{SIZE[0]} H{SIZE[1]} F10:1 Ip A1:1 C420jpeg\n".encode()
    file.write_bytes(head + (b"FRAME\n" + planes) * 10)
    return file
