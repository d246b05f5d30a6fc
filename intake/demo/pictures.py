"""Drawn pictures that stand for the day's photos."""

from __future__ import annotations

import hashlib
import io
import random
from typing import Any

from PIL import Image, ImageDraw

from intake.access.devices import stamp
from intake.demo.hand import Hand
from intake.photos.picture import Picture
from intake.photos.store import PhotoStore


class Photographer:
    """Draws a picture for each view that was taken, and puts it where photos are kept."""

    def __init__(self, hand: Hand, photos: PhotoStore) -> None:
        self._hand = hand
        self._photos = photos
        self.pictures: list[Picture] = []

    def take(self, item_id: str, valuer: str, view: str, number: str) -> dict[str, Any]:
        original, thumb = drawn(f"{number}-{view}", 1200, 900), drawn(f"{number}-{view}", 320, 240)
        for content in (original, thumb):
            sha256 = hashlib.sha256(content).hexdigest()
            self.pictures.append(self._photos.put(sha256, content))
        return self._hand.make(
            "attach_photo",
            valuer,
            item_id=item_id,
            photo_id=self._hand.id(),
            sha256=hashlib.sha256(original).hexdigest(),
            bytes=len(original),
            media_type="image/jpeg",
            width=1200,
            height=900,
            thumb_sha256=hashlib.sha256(thumb).hexdigest(),
            thumb_bytes=len(thumb),
            view=view,
            zone=None,
            finding_id=None,
            taken_at=stamp(self._hand.clock),
            withdrawn=False,
            seen=None,
        )


def drawn(name: str, width: int, height: int) -> bytes:
    """A picture that stands for a photo: a shape on a table, another for another name."""
    chance = random.Random(name)
    tone = chance.randrange(360)
    image = Image.new("RGB", (width, height), "#d9d4c7")
    draw = ImageDraw.Draw(image)
    draw.rectangle((0, height * 0.72, width, height), fill="#b9ad97")
    for step in range(4):
        left, top = chance.uniform(0.28, 0.4) * width, chance.uniform(0.2, 0.4) * height
        right, bottom = chance.uniform(0.6, 0.72) * width, chance.uniform(0.7, 0.85) * height
        colour = f"hsl({(tone + step * 23) % 360}, 32%, {38 + 9 * step}%)"
        (draw.ellipse if step % 2 else draw.rounded_rectangle)((left, top, right, bottom), fill=colour)
    draw.text((width * 0.04, height * 0.05), f"drawn: {name}", fill="#333", font_size=height // 22)
    stream = io.BytesIO()
    image.save(stream, "JPEG", quality=82)
    return stream.getvalue()
