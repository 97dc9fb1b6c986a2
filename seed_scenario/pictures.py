"""The story's photos, drawn by code: no picture of a real plant, place or person is in it."""

from __future__ import annotations

import hashlib
import io
import math

from PIL import Image, ImageDraw

SIZE = (960, 720)


def frond(number: int) -> bytes:
    """A frond on drying paper, each one a little different. JPEG bytes."""
    image, pen = _paper()
    tilt = (number * 37 % 11 - 5) / 40
    for step in range(46):
        along = step / 46
        x, y = 480 + math.sin(along * 2) * tilt * 300, 660 - along * 560
        reach = 170 * math.sin(math.pi * min(1, along * 1.05)) * (1 - along * 0.35)
        for side in (-1, 1):
            tip = (x + side * reach, y - 46 + 22 * tilt * side)
            pen.line([(x, y), tip], fill=(52, 92, 50), width=9 if reach > 60 else 5)
    pen.line([(480, 700), (480 + math.sin(2) * tilt * 300, 100)], fill=(92, 66, 40), width=6)
    return _jpeg(image)


def packet(number: int) -> bytes:
    """A folded paper packet with pencil lines where the words would be. JPEG bytes."""
    image, pen = _paper()
    pen.rectangle((240, 170, 720, 560), fill=(236, 226, 204), outline=(90, 80, 66), width=4)
    pen.line([(240, 170), (480, 300), (720, 170)], fill=(90, 80, 66), width=4)
    for row in range(3):
        width = 300 - (number * 53 + row * 71) % 120
        pen.line([(300, 390 + row * 48), (300 + width, 388 + row * 48)], fill=(60, 60, 64), width=5)
    return _jpeg(image)


def described(content: bytes) -> dict[str, object]:
    """What a photo.taken entry says of the bytes."""
    name = hashlib.sha256(content).hexdigest()
    return {"sha256": name, "bytes": len(content), "type": "image/jpeg", "w": SIZE[0], "h": SIZE[1]}


def _paper() -> tuple[Image.Image, ImageDraw.ImageDraw]:
    image = Image.new("RGB", SIZE, (222, 220, 208))
    pen = ImageDraw.Draw(image)
    for line in range(0, SIZE[1], 24):
        pen.line([(0, line), (SIZE[0], line)], fill=(214, 212, 200), width=2)
    return image, pen


def _jpeg(image: Image.Image) -> bytes:
    out = io.BytesIO()
    image.save(out, "JPEG", quality=72)
    return out.getvalue()
