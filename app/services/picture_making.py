"""Makes of a photo, as it came, the picture that is kept: turned as it was taken, in sRGB, small, and with nothing else in it.

What is kept is always encoded anew from the pixels, so that nothing else which a file may carry goes on: places, names, a
second file behind the first. Runs in a child process (`picture_worker`), since a file may be made to break who reads it.
"""

import warnings
from contextlib import suppress
from dataclasses import dataclass
from fractions import Fraction
from io import BytesIO

from PIL import ExifTags, Image, ImageCms, ImageFile

from app.counting import count_text
from app.errors import Invalid
from app.orders.photo_corners import Corners

AT = "picture"
"""The path of what is wrong with a file."""

LARGEST_FILE = 25_000_000
"""Bytes of a file that is read: a photo of a phone has 2 to 12 MB. Source: ours."""

MOST_PIXELS = 40_000_000
"""Pixels of a photo that is read. Decoded they take 120 to 160 MB. Source: ours."""

LONG_SIDE, SMALL_SIDE = 1600, 360
"""Pixels of the long side at most, as it is looked at and as it is listed."""

MOST_BYTES, MOST_SMALL_BYTES = 300_000, 30_000

LOGO_SIDE, MOST_LOGO_BYTES = 900, 120_000
"""The same of a shop's logo, which every paper for a customer carries. Source: ours; sharp at 80 mm."""

LEAST_SIDE = 8
"""Pixels of a side at least; of fewer nothing can be seen. Source: ours."""

_FORMATS = ("JPEG", "PNG", "WEBP")
_QUALITIES = (88, 82, 75, 66, 56, 45, 32)
_WIDE = frozenset({"I", "F", "I;16", "I;16B", "I;16L", "I;16N"})
"""Modes with more than eight bits a pixel."""

_BEGINNINGS = (b"\xff\xd8\xff", b"\x89PNG", b"RIFF")
_DAMAGED = (
    "The photo cannot be read: it breaks off, or is damaged. Choose it again, or take another one."
)
_NOT_A_PHOTO = "The file is no photo that can be opened here: a JPEG, PNG or WebP file is."


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A picture that may be kept. width, height: of the content, in pixels."""

    content: bytes
    small: bytes
    width: int
    height: int


def check_file(content: bytes) -> None:
    """Look at a file before anything of it is read. Raises: Invalid at "picture"."""
    if not content:
        raise _fault("The file is empty. Choose the photo again.")
    if len(content) > LARGEST_FILE:
        megabytes = -(-len(content) // 1_000_000)
        raise _fault(
            f"The file has {megabytes} MB; a photo of up to {LARGEST_FILE // 1_000_000} MB is read. Take it at a "
            "smaller size."
        )
    _check_kind(content[:1024])


def _check_kind(head: bytes) -> None:
    """Name the usual files that are none of ours. Raises: Invalid at "picture"."""
    if head[4:8] == b"ftyp":
        if head[8:12] == b"avif":
            raise _fault("This is an AVIF photo, which cannot be opened here. Save it as JPEG.")
        if head[8:12] in (b"heic", b"heix", b"hevc", b"hevx", b"heim", b"heis", b"mif1", b"msf1"):
            raise _fault(
                "This is a HEIC photo, which cannot be opened here. Set the camera of the phone to JPEG and take it again, "
                "or save it as JPEG."
            )
        raise _fault("This is a film; choose a photo.")
    start = head.lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    if start.startswith(b"<"):
        drawn = b"<svg" in start
        raise _fault(
            "This is a drawing in lines (SVG), which may hold a program. Save it as PNG or JPEG."
            if drawn
            else _NOT_A_PHOTO
        )
    for what, *beginnings in _OTHERS:
        if start.startswith(tuple(beginnings)):
            raise _fault(f"This is {what}; save it as JPEG or PNG.")


_OTHERS = (
    ("a PDF", b"%pdf"),
    ("a GIF", b"gif8"),
    ("a TIFF or raw photo", b"ii*\0", b"mm\0*"),
    ("a JPEG XL photo", b"\xff\x0a", b"\0\0\0\x0cjxl "),
)
"""What is known by its beginning, in small letters, and is not opened here."""


def made_of(content: bytes, *, logo: bool = False) -> Made:
    """Return the picture of a photo. logo: whether it is one, which stays clear where it is. Raises: Invalid at "picture"."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of Pillow, about what is odd in a file and no fault
        ImageFile.LOAD_TRUNCATED_IMAGES = False  # what makes PDFs lets it be true in its process
        try:
            photo = Image.open(BytesIO(content), formats=_FORMATS)
        except Image.DecompressionBombError as bomb:
            raise _fault(
                f"The photo has far more pixels than the {MOST_PIXELS // 1_000_000} megapixels that are read. Take it at a "
                "smaller size."
            ) from bomb
        except Exception as broken:
            raise _fault(_DAMAGED if content.startswith(_BEGINNINGS) else _NOT_A_PHOTO) from broken
        with photo:
            _check_size(photo.width, photo.height, LOGO_SIDE if logo else LONG_SIDE)
            try:
                if logo:
                    return _logo(photo)
                return _encoded(_seen(photo), lossless=photo.format == "PNG")
            except Exception as broken:  # decoders fail in many ways, and all of them mean this
                raise _fault(_DAMAGED) from broken


def straightened(content: bytes, corners: Corners, proportion: Fraction | None) -> Made:
    """Return the rectangle within four corners of a picture that is kept. Raises: Invalid at "corners".

    proportion: width by height of the artwork; None for that of the corners.
    """
    with Image.open(BytesIO(content), formats=_FORMATS) as picture:
        corners.check(*picture.size)
        size = corners.size(proportion, LONG_SIDE)
        flat = picture.convert("RGB").transform(
            size,
            Image.Transform.PERSPECTIVE,
            corners.coefficients(*size),
            resample=Image.Resampling.BICUBIC,
        )
        return _encoded(flat, lossless=picture.format == "PNG")


def _fault(sentence: str) -> Invalid:
    return Invalid.at(AT, sentence)


def _check_size(width: int, height: int, longest: int) -> None:
    """Look at the size in pixels, and at that of what would be kept of it. Raises: Invalid at "picture"."""
    pixels = width * height
    if pixels > MOST_PIXELS:
        raise _fault(
            f"The photo has {count_text(width)} × {count_text(height)} pixels, {count_text(-(-pixels // 1_000_000))} "
            f"megapixels; up to {MOST_PIXELS // 1_000_000} are read. Take it at a smaller size."
        )
    if min(width, height) < LEAST_SIDE:
        raise _fault(
            f"The picture has {count_text(width)} × {count_text(height)} pixels; each side needs {LEAST_SIDE} at least."
        )
    if min(_shrunk((width, height), longest)) < LEAST_SIDE:
        raise _fault(
            f"The picture has {count_text(width)} × {count_text(height)} pixels, which is so long and narrow that nothing is "
            f"seen of it in the {count_text(longest)} pixels that are kept of its length. Cut it shorter."
        )


def _shrunk(size: tuple[int, int], longest: int) -> tuple[int, int]:
    """Return a size in pixels, its long side no longer than this."""
    by = min(1.0, longest / max(size))
    width, height = (max(1, round(side * by)) for side in size)
    return width, height


def _seen(photo: Image.Image) -> Image.Image:
    """Return a photo as it is looked at: shrunk, turned as it was taken, on white, in sRGB."""
    profile = photo.info.get("icc_profile")
    return _in_srgb(_on_white(_upright(photo, LONG_SIDE)), profile)


def _upright(photo: Image.Image, side: int) -> Image.Image:
    """Return a photo shrunk to a side of so many pixels at most, turned as it was taken."""
    size = _shrunk(photo.size, side)
    photo.draft(None, size)  # a JPEG is decoded at a part of its size, the rest is not
    photo.load()
    seen = _in_eight_bits(photo)
    seen.thumbnail((side, side), Image.Resampling.LANCZOS)
    turned = _TURNED.get(_orientation(photo))
    return seen if turned is None else seen.transpose(turned)


def _logo(photo: Image.Image) -> Made:
    """Return a logo: clear where it is, else as a photo is looked at."""
    profile = photo.info.get("icc_profile")
    seen = _upright(photo, LOGO_SIDE)
    clear = seen.mode in _CLEAR and seen.convert("RGBA").getchannel("A").histogram()[255] < (
        seen.width * seen.height
    )
    kept = seen.convert("RGBA") if clear else _in_srgb(_on_white(seen), profile)
    small = kept.copy()
    small.thumbnail((SMALL_SIDE, SMALL_SIDE), Image.Resampling.LANCZOS)
    content, kept = _logo_within(kept, MOST_LOGO_BYTES)
    of_list, _ = _logo_within(small, MOST_SMALL_BYTES)
    return Made(content=content, small=of_list, width=kept.width, height=kept.height)


def _logo_within(logo: Image.Image, most: int) -> tuple[bytes, Image.Image]:
    """Return a logo in so many bytes at most, as PNG where it is clear, and the picture that these hold."""
    if logo.mode != "RGBA":
        return _within(logo, most, lossless=True)
    logo.info.clear()
    for written in (logo, logo.quantize(128, method=Image.Quantize.FASTOCTREE)):
        if len(made := _written(written, "PNG", optimize=True)) <= most:
            return made, logo
    return _logo_within(logo.reduce(2), most)


_CLEAR = frozenset({"RGBA", "LA", "RGBa", "La"})
"""Modes of which a pixel may be clear."""

_TURNED = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
"""What puts a photo upright, by its orientation. Source: Exif 2.32 (CIPA DC-008), 4.6.4, tag 274."""


def _orientation(photo: Image.Image) -> int:
    """Return how the camera was held; 1 where its notes cannot be read."""
    with suppress(Exception):  # notes may be damaged in many ways while the photo is whole
        return int(photo.getexif().get(ExifTags.Base.Orientation, 1))
    return 1


def _in_eight_bits(photo: Image.Image) -> Image.Image:
    """Return it with eight bits a channel, each pixel a colour of its own."""
    if photo.mode in _WIDE:
        return photo.convert("I").point(lambda value: value * (1 / 257)).convert("L")
    if photo.mode in ("P", "PA") or "transparency" in photo.info:
        return photo.convert("RGBA")
    return photo.convert("L") if photo.mode == "1" else photo


def _on_white(photo: Image.Image) -> Image.Image:
    if photo.mode not in _CLEAR:
        return photo
    seen = photo.convert("RGBA")
    paper = Image.new("RGBA", seen.size, "white")
    return Image.alpha_composite(paper, seen).convert("RGB")


def _in_srgb(photo: Image.Image, profile: bytes | None) -> Image.Image:
    """Return it in sRGB; one whose profile cannot be read is taken to be in it."""
    if profile and photo.mode in ("RGB", "L", "CMYK"):
        with suppress(ImageCms.PyCMSError, OSError, ValueError):
            made = ImageCms.profileToProfile(
                photo,
                ImageCms.ImageCmsProfile(BytesIO(profile)),
                ImageCms.createProfile("sRGB"),
                outputMode="RGB",
            )
            if made is not None:
                return made
    return photo.convert("RGB")


def _encoded(picture: Image.Image, *, lossless: bool) -> Made:
    """Return a picture in both its sizes. lossless: whether lines and flat colours are to stay sharp where there is room."""
    small = picture.copy()
    small.thumbnail((SMALL_SIDE, SMALL_SIDE), Image.Resampling.LANCZOS)
    content, kept = _within(picture, MOST_BYTES, lossless=lossless)
    of_list, _ = _within(small, MOST_SMALL_BYTES, lossless=lossless)
    return Made(content=content, small=of_list, width=kept.width, height=kept.height)


def _within(
    picture: Image.Image, most: int, *, lossless: bool = False
) -> tuple[bytes, Image.Image]:
    """Return a picture in so many bytes at most, and the picture that these hold."""
    picture.info.clear()  # so that no comment and no profile is written with it
    if lossless and len(made := _written(picture, "PNG", optimize=True)) <= most:
        return made, picture
    for quality in _QUALITIES:
        made = _written(picture, "JPEG", quality=quality, optimize=True, progressive=True)
        if len(made) <= most:
            return made, picture
    return _within(picture.reduce(2), most)


def _written(picture: Image.Image, kind: str, **how: int) -> bytes:
    file = BytesIO()
    picture.save(file, kind, **how)
    return file.getvalue()
