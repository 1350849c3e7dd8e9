"""Photos made for a test, and files that are none."""

import struct
import zlib
from io import BytesIO
from typing import Any

from PIL import Image, ImageDraw

from app.services import pictures
from app.storage import PictureShape, Stamp, Store

RED, GREEN, BLUE, WHITE = (200, 30, 30), (30, 160, 60), (40, 60, 200), (255, 255, 255)


def file_of(image: Image.Image, kind: str = "JPEG", **how: Any) -> bytes:
    """An image as a file."""
    file = BytesIO()
    image.save(file, kind, **how)
    return file.getvalue()


def quarters(width: int = 80, height: int = 60) -> Image.Image:
    """Red left top, green right top, blue left bottom, white right bottom."""
    image = Image.new("RGB", (width, height), WHITE)
    draw = ImageDraw.Draw(image)
    draw.rectangle((0, 0, width // 2 - 1, height // 2 - 1), fill=RED)
    draw.rectangle((width // 2, 0, width, height // 2 - 1), fill=GREEN)
    draw.rectangle((0, height // 2, width // 2 - 1, height), fill=BLUE)
    return image


def photo(width: int = 80, height: int = 60, kind: str = "JPEG", **how: Any) -> bytes:
    """A photo with a colour in each quarter."""
    return file_of(quarters(width, height), kind, **how)


def noise(width: int, height: int) -> Image.Image:
    """A picture that is hard to make small."""
    return Image.effect_noise((width, height), 90).convert("RGB")


def png_of_header(width: int, height: int) -> bytes:
    """The beginning of a PNG that says how large it is, and holds no pixel. Source: W3C PNG, 11.2.1 and 5.3."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        )

    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", b"") + chunk(b"IEND", b"")


HEIC = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + bytes(64)
"""The beginning of a HEIC file. Source: ISO/IEC 14496-12, 4.3, and 23008-12, 10.2: the brand stands after "ftyp"."""

SVG = (
    b'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
)


def opened(content: bytes) -> Image.Image:
    """What a kept picture holds."""
    return Image.open(BytesIO(content))


def colour_at(content: bytes, x: float, y: float) -> tuple[int, int, int]:
    """The colour at a place, in parts of width and height."""
    image = opened(content).convert("RGB")
    found = image.getpixel((int(x * image.width), int(y * image.height)))
    assert isinstance(found, tuple)
    red, green, blue = found
    return int(red), int(green), int(blue)


def close(found: tuple[int, ...], wanted: tuple[int, ...], by: int = 14) -> bool:
    """Whether two colours are as alike as JPEG leaves them."""
    return all(abs(one - other) <= by for one, other in zip(found, wanted, strict=True))


def kept_photo(store: Store, content: bytes, *, by: Stamp) -> PictureShape:
    """A photo that was read as any, and is kept."""
    return pictures.keep(store, pictures.read(content), by=by)
