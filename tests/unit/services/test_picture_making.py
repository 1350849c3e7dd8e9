"""Photos of every kind: what is kept of them, and what is refused in words."""

import struct
import tracemalloc
import zlib
from io import BytesIO
from zipfile import ZipFile

import pytest
from PIL import ExifTags, Image, ImageCms

from app.errors import Invalid
from app.services.picture_making import (
    LARGEST_FILE,
    LONG_SIDE,
    MOST_BYTES,
    MOST_SMALL_BYTES,
    SMALL_SIDE,
    check_file,
    made_of,
)
from tests.builders.photos import (
    BLUE,
    GREEN,
    HEIC,
    RED,
    SVG,
    WHITE,
    close,
    colour_at,
    file_of,
    noise,
    opened,
    photo,
    png_of_header,
    quarters,
)

CORNERS = ((0.2, 0.2), (0.8, 0.2), (0.2, 0.8), (0.8, 0.8))

# Exif 2.32 (CIPA DC-008), 4.6.4, tag 274: where row 0 and column 0 of what is stored lie in what was seen. With the quarters
# stored as red, green / blue, white this is, by hand, what is seen: left top, right top, left bottom, right bottom.
SEEN = {
    1: (RED, GREEN, BLUE, WHITE),  # row 0 top, column 0 left
    2: (GREEN, RED, WHITE, BLUE),  # top, right: mirrored
    3: (WHITE, BLUE, GREEN, RED),  # bottom, right: half a turn
    4: (BLUE, WHITE, RED, GREEN),  # bottom, left: upside down, mirrored
    5: (RED, BLUE, GREEN, WHITE),  # left, top: rows are columns
    6: (BLUE, RED, WHITE, GREEN),  # right, top: a quarter turn clockwise
    7: (WHITE, GREEN, BLUE, RED),  # right, bottom
    8: (GREEN, WHITE, RED, BLUE),  # left, bottom: a quarter turn the other way
}


@pytest.mark.parametrize("orientation", SEEN)
def test_a_photo_stands_as_it_was_taken(orientation: int) -> None:
    notes = Image.Exif()
    notes[ExifTags.Base.Orientation] = orientation
    made = made_of(photo(120, 80, exif=notes))
    assert (made.width, made.height) == ((120, 80) if orientation < 5 else (80, 120))
    for place, wanted in zip(CORNERS, SEEN[orientation], strict=True):
        assert close(colour_at(made.content, *place), wanted), place


def test_nothing_but_the_pixels_is_kept() -> None:
    notes = Image.Exif()
    notes[ExifTags.Base.Artist] = "Ottilie Wren"
    notes.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitude] = (48.0, 12.0, 30.0)
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    file = photo(exif=notes, comment=b"Ottilie Wren, by the river", icc_profile=profile)
    taken = opened(file)
    assert taken.getexif().get_ifd(ExifTags.IFD.GPSInfo)
    made = made_of(file)
    for kept in (made.content, made.small):
        image = opened(kept)
        assert not image.getexif()
        assert not {"exif", "icc_profile", "comment", "xmp", "photoshop"} & image.info.keys()
        assert b"Wren" not in kept
        assert b"Exif" not in kept


def test_a_second_file_behind_a_photo_is_not_kept() -> None:
    archive = BytesIO()
    with ZipFile(archive, "w") as zipped:
        zipped.writestr("run.txt", "hidden words")
    made = made_of(photo() + archive.getvalue())
    for kept in (made.content, made.small):
        assert b"PK\x03\x04" not in kept
        assert b"hidden" not in kept
        assert close(colour_at(kept, 0.2, 0.2), RED)


def test_a_large_photo_comes_down_to_what_is_kept() -> None:
    made = made_of(file_of(noise(4000, 3000), quality=70))
    assert (made.width, made.height) == (1600, 1200)
    assert len(made.content) <= MOST_BYTES == 300_000
    assert len(made.small) <= MOST_SMALL_BYTES == 30_000
    assert max(opened(made.small).size) <= SMALL_SIDE == 360
    assert opened(made.content).size == (LONG_SIDE, 1200)


def test_what_is_small_already_keeps_its_size() -> None:
    made = made_of(photo(300, 200))
    assert (made.width, made.height) == (300, 200)
    assert opened(made.small).size == (300, 200)


def test_lines_of_a_png_stay_sharp() -> None:
    made = made_of(photo(200, 100, "PNG"))
    assert opened(made.content).format == "PNG"
    assert colour_at(made.content, 0.49, 0.2) == RED
    assert colour_at(made.content, 0.51, 0.2) == GREEN


def test_colours_of_another_profile_are_brought_to_srgb() -> None:
    """A profile that takes red for green: sRGB with the names of two of its tags exchanged. Source: ICC.1:2022, 7.3."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    exchanged = (
        profile.replace(b"rXYZ", b"----", 1)
        .replace(b"gXYZ", b"rXYZ", 1)
        .replace(b"----", b"gXYZ", 1)
    )
    made = made_of(photo(icc_profile=exchanged, quality=95))
    red, green, _ = colour_at(made.content, 0.2, 0.2)
    assert green > 120
    assert red < 120
    plain = made_of(photo(icc_profile=profile, quality=95))
    assert close(colour_at(plain.content, 0.2, 0.2), RED, by=6)


def test_a_broken_profile_is_passed_over() -> None:
    made = made_of(photo(icc_profile=b"not a profile at all"))
    assert close(colour_at(made.content, 0.8, 0.2), GREEN)


def test_a_photo_for_print_is_read() -> None:
    """CMYK 0, 255, 255, 0 is red; JPEG files of CMYK hold it the other way round, which is undone."""
    made = made_of(file_of(Image.new("CMYK", (40, 40), (0, 255, 255, 0)), quality=95))
    red, green, blue = colour_at(made.content, 0.5, 0.5)
    assert red > 200
    assert green < 60
    assert blue < 60


def test_sixteen_bits_become_eight() -> None:
    """65535 / 257 = 255, so 32896 = 128 * 257 is 128."""
    image = Image.new("I;16", (20, 20), 32896)
    made = made_of(file_of(image, "PNG"))
    assert colour_at(made.content, 0.5, 0.5) == (128, 128, 128)


def test_what_is_clear_lies_on_white() -> None:
    image = Image.new("P", (40, 40), 0)
    image.putpalette([255, 0, 0, 0, 0, 255])
    image.paste(1, (0, 0, 20, 40))
    made = made_of(file_of(image, "PNG", transparency=0))
    assert colour_at(made.content, 0.25, 0.5) == (0, 0, 255)
    assert colour_at(made.content, 0.75, 0.5) == WHITE
    clear = Image.new("RGBA", (40, 40), (255, 0, 0, 0))
    assert colour_at(made_of(file_of(clear, "PNG")).content, 0.5, 0.5) == WHITE


def test_of_moving_pictures_the_first_is_taken() -> None:
    second = quarters().transpose(Image.Transpose.ROTATE_180)
    file = photo(kind="WEBP", save_all=True, append_images=[second], duration=100, lossless=True)
    assert opened(file).is_animated  # type: ignore[attr-defined]
    made = made_of(file)
    assert close(colour_at(made.content, 0.2, 0.2), RED)


def refused(content: bytes) -> str:
    def looked_at() -> None:
        check_file(content)
        made_of(content)

    with pytest.raises(Invalid) as told:
        looked_at()
    (fault,) = told.value.faults
    assert fault.path == "picture"
    return fault.message


def test_fifty_megapixels_are_refused_before_a_pixel_is_read() -> None:
    said = refused(png_of_header(8000, 6250))
    assert "8,000 × 6,250 pixels, 50 megapixels" in said
    assert "up to 40 are read" in said


def test_a_bomb_is_refused_by_what_it_says_of_itself() -> None:
    """60,000 x 60,000 pixels in a few bytes; decoded they would take 10.8 GB."""
    assert "far more pixels than the 40 megapixels" in refused(png_of_header(60_000, 60_000))


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "is empty"),
        (SVG, "SVG"),
        (b"\xef\xbb\xbf  <SVG>", "SVG"),
        (b"<html><body>no photo</body></html>", "no photo"),
        (HEIC, "HEIC"),
        (HEIC.replace(b"heic", b"avif"), "AVIF"),
        (HEIC.replace(b"heic", b"isom"), "a film"),
        (b"GIF89a" + bytes(40), "GIF"),
        (b"%PDF-1.7" + bytes(40), "PDF"),
        (b"II*\0" + bytes(40), "TIFF"),
        (b"MM\0*" + bytes(40), "TIFF"),
        (b"\0\0\0\x0cJXL \r\n\x87\n" + bytes(40), "JPEG XL"),
        (b"just words", "no photo"),
        (bytes(200), "no photo"),
        (photo()[:400], "breaks off"),
        (photo(kind="PNG")[:120], "breaks off"),
        (photo(400, 4, "PNG"), "400 × 4 pixels"),
        (bytes(LARGEST_FILE + 1), "26 MB; a photo of up to 25 MB"),
    ],
)
def test_what_is_no_photo_is_refused_in_words(content: bytes, said: str) -> None:
    assert said in refused(content)


def test_a_panorama_is_kept_as_long_as_something_is_seen_of_it() -> None:
    """Of 20,000 × 100 pixels 1,600 × 8 are kept; of 40,000 × 100 it would be 1,600 × 4, where each side needs 8."""
    made = made_of(file_of(noise(20_000, 100)))
    assert (made.width, made.height) == (1600, 8)
    said = refused(file_of(noise(40_000, 100)))
    assert "40,000 × 100 pixels" in said
    assert "so long and narrow" in said


def test_what_is_packed_into_the_notes_of_a_png_is_not_unpacked() -> None:
    """200 MB of zeros in a comment of 200 kB. Source: PNG (ISO/IEC 15948), 11.3.4.3, zTXt."""
    comment = b"a\0\0" + zlib.compress(bytes(200_000_000), 1)
    chunk = b"zTXt" + comment
    packed = struct.pack(">I", len(comment)) + chunk + struct.pack(">I", zlib.crc32(chunk))
    plain = photo(kind="PNG")
    head = plain.index(b"IDAT") - 4
    tracemalloc.start()
    assert "damaged" in refused(plain[:head] + packed + plain[head:])
    assert tracemalloc.get_traced_memory()[1] < 50_000_000
    tracemalloc.stop()


def test_notes_that_cannot_be_read_spoil_no_photo() -> None:
    file = photo(exif=b"Exif\0\0II*\0\xff\xff\xff\x7f" + bytes(16))
    assert close(colour_at(made_of(file).content, 0.2, 0.2), RED)
