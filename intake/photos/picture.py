"""What a picture's own header says of it, read before anything is decoded."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from PIL import Image
from pillow_heif import register_heif_opener

from intake.errors import NotAPicture, PictureTooLarge

register_heif_opener()
Image.init()  # its parsers are loaded now, not while the first photo waits
Image.MAX_IMAGE_PIXELS = None  # our own, lower limit is checked before any pixel is decoded
OPENED = ("JPEG", "PNG", "WEBP", "HEIF")  # no other parser ever sees bytes from outside
#: What a picture is once it is open. A phone's JPEG that carries a second picture behind the first, such as its depth
#: or brightness, comes as MPO.
MEDIA_TYPES = {
    "JPEG": "image/jpeg",
    "MPO": "image/jpeg",
    "PNG": "image/png",
    "WEBP": "image/webp",
    "HEIF": "image/heic",
}
PIXEL_LIMIT = 60_000_000  # a phone's largest picture is about 50 million
PHOTO_LIMIT = 40 * 1024 * 1024  # bytes


@dataclass(frozen=True)
class Picture:
    """An original: its digest, its size in bytes, and what its header says. Units: pixels as stored, not yet turned."""

    sha256: str
    bytes: int
    media_type: str
    width: int
    height: int


def look_at(sha256: str, size: int, source: Path | BinaryIO) -> Picture:
    """Read a picture's header, no pixels. Raises NotAPicture or PictureTooLarge, OSError if the disk cannot be read."""
    try:
        with Image.open(source, formats=OPENED) as image:
            media_type, (width, height) = MEDIA_TYPES[str(image.format)], image.size
    except Exception as error:  # parsers of bytes from outside fail in every way there is
        if isinstance(error, OSError) and error.errno is not None:
            raise  # the disk's own error: it says nothing of the picture
        raise NotAPicture("something it cannot open") from error
    if width * height > PIXEL_LIMIT:
        raise PictureTooLarge(width, height, PIXEL_LIMIT)
    return Picture(sha256, size, media_type, width, height)
