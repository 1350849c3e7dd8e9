"""Standard sizes of paper, photographs, mats and ready-made frames.

Owns the tables and their sources; every size is portrait or square, and exact.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from app.lengths.length import Length, inches, mm
from app.lengths.size import Size


class Family(StrEnum):
    """What a standard size is a size of."""

    ISO_A = "ISO A"
    ISO_B = "ISO B"
    ANSI = "ANSI"
    ARCH = "Arch"
    OFFICE = "office paper"
    PHOTO = "photograph"
    FRAME_IN = "frame, inches"
    FRAME_MM = "frame, metric"
    MUSEUM_MAT = "museum mat"


FRAMES = frozenset({Family.FRAME_IN, Family.FRAME_MM})


@dataclass(frozen=True, slots=True)
class StandardSize:
    """A size that has a name. source: where the figure is published, or "common practice"."""

    name: str
    size: Size
    family: Family
    source: str

    def lying_as(self, other: Size) -> Size:
        """Return its size turned the way another lies: landscape for one wider than high."""
        upright = Size(*sorted((self.size.width, self.size.height)))
        return upright.turned() if other.width > other.height else upright

    def typed_as(self, other: Size) -> str:
        """Return what to type for it turned the way another lies: "40 × 50 cm landscape"."""
        lying = self.lying_as(other)
        return f"{self.name} landscape" if lying.width > lying.height else self.name


_ISO = "ISO 216, as tabled in public paper-size tables"
_ANSI = "ANSI/ASME Y14.1, as tabled publicly"
_FRAME_SIZES = "a camera club's public matting page"
_MUSEUM_MATS = "Jackson, The Museum (1917), p. 175"
_COMMON = "common practice"


def _halved(family: Family, letter: str, width: int, height: int) -> list[StandardSize]:
    """Sizes 0 to 10 of a series: each is the one before halved across, rounded down to 1 mm."""
    sizes = []
    for number in range(11):
        sizes.append(StandardSize(f"{letter}{number}", Size(mm(width), mm(height)), family, _ISO))
        width, height = height // 2, width
    return sizes


def _lettered(family: Family, series: str, table: dict[str, str]) -> list[StandardSize]:
    return [
        StandardSize(f"{series} {letter}", _inch_size(sides), family, _ANSI)
        for letter, sides in table.items()
    ]


def _inch_named(family: Family, sizes: str, source: str) -> list[StandardSize]:
    return [
        StandardSize(
            f"{sides.replace('x', ' \N{MULTIPLICATION SIGN} ')} in",
            _inch_size(sides),
            family,
            source,
        )
        for sides in sizes.split()
    ]


def _cm_named(family: Family, sizes: str, source: str) -> list[StandardSize]:
    return [
        StandardSize(
            f"{sides.replace('x', ' \N{MULTIPLICATION SIGN} ')} cm", _cm_size(sides), family, source
        )
        for sides in sizes.split()
    ]


def _sides(text: str) -> tuple[str, str]:
    width, height = text.split("x")
    return width, height


def _inch_size(text: str) -> Size:
    width, height = _sides(text)
    return Size(inches(width), inches(height))


def _cm_size(text: str) -> Size:
    width, height = _sides(text)
    return Size(mm(width) * 10, mm(height) * 10)


STANDARD_SIZES: tuple[StandardSize, ...] = (
    *_halved(Family.ISO_A, "A", 841, 1189),
    *_halved(Family.ISO_B, "B", 1000, 1414),
    *_lettered(
        Family.ANSI,
        "ANSI",
        {"A": "8.5x11", "B": "11x17", "C": "17x22", "D": "22x34", "E": "34x44"},
    ),
    *_lettered(
        Family.ARCH,
        "Arch",
        {"A": "9x12", "B": "12x18", "C": "18x24", "D": "24x36", "E": "36x48"},
    ),
    StandardSize("Letter", _inch_size("8.5x11"), Family.OFFICE, _COMMON),
    StandardSize("Legal", _inch_size("8.5x14"), Family.OFFICE, _COMMON),
    StandardSize("Tabloid", _inch_size("11x17"), Family.OFFICE, _COMMON),
    *_inch_named(
        Family.FRAME_IN,
        "4x5 4x6 5x7 6x8 8x10 8x12 9x12 11x14 12x16 14x18 16x20 18x24 20x24 22x28 24x30 30x40 32x40",
        _FRAME_SIZES,
    ),
    *_inch_named(Family.FRAME_IN, "8x8 10x10 12x12 16x16 20x20 24x36", _COMMON),
    *_cm_named(
        Family.FRAME_MM,
        "10x15 13x18 15x20 18x24 20x30 21x29.7 24x30 28x35 29.7x42 30x40 30x45 40x50 40x60 42x59.4 "
        "50x60 50x70 60x80 60x90 70x100 20x20 25x25 30x30 40x40 50x50",
        _COMMON,
    ),
    *_inch_named(Family.MUSEUM_MAT, "14x18 22x28 28x40", _MUSEUM_MATS),
    *_inch_named(Family.PHOTO, "3.5x5 4x6 5x7 6x8 8x10 8x12 11x14 12x18 16x20 20x30", _COMMON),
    *_cm_named(Family.PHOTO, "9x13 10x15 13x18 15x20 18x24 20x30 30x40 30x45 40x60 50x75", _COMMON),
)


def _key(name: str) -> str:
    key = "".join(name.casefold().replace("\N{MULTIPLICATION SIGN}", "x").replace("-", "").split())
    return key.removeprefix("iso").removeprefix("din")


_BY_KEY: dict[str, StandardSize] = {}
for _standard in STANDARD_SIZES:
    _BY_KEY.setdefault(_key(_standard.name), _standard)


def standard_size(name: str) -> StandardSize | None:
    """Return the standard size of a name, whatever its case and blanks: "a3", "din A3", "16 x 20 in"."""
    return _BY_KEY.get(_key(name))


_FAMILIES: dict[tuple[Length, Length], frozenset[Family]] = {}
for _standard in STANDARD_SIZES:
    _sides_of = (_standard.size.width, _standard.size.height)
    _FAMILIES[_sides_of] = _FAMILIES.get(_sides_of, frozenset()) | {_standard.family}


def is_one_of(size: Size, families: Iterable[Family] = Family) -> bool:
    """Tell whether a size, lying one way or the other, is exactly a standard size of some families."""
    short, long = sorted((size.width, size.height))
    return not _FAMILIES.get((short, long), frozenset()).isdisjoint(families)


def sizes_that_hold(
    size: Size, family: Family | None = None, limit: int = 3
) -> tuple[StandardSize, ...]:
    """Return the smallest standard frame sizes, by area, that hold a size in either orientation.

    family: only sizes of this family; without it, frames in inches and metric.
    """
    return tuple(sorted(_holding(size, _listed(family)), key=_area)[:limit])


def snap_up(
    package: Size, among: Family | Iterable[StandardSize] | None = None
) -> StandardSize | None:
    """Return the next standard size that holds a package: the smallest by area, itself where it is one.

    among: a family, or the sizes that a shop keeps; without it, frames in inches and metric.
    None where no size holds it. It may have to be turned, see `lying_as`.
    """
    sizes = _listed(among) if among is None or isinstance(among, Family) else among
    return min(_holding(package, sizes), key=_area, default=None)


def _listed(family: Family | None) -> Iterator[StandardSize]:
    wanted = FRAMES if family is None else {family}
    return (standard for standard in STANDARD_SIZES if standard.family in wanted)


def _holding(size: Size, among: Iterable[StandardSize]) -> Iterator[StandardSize]:
    """Yield those that hold a size lying one way or the other; a size of a shop may be listed landscape."""
    short, long = sorted((size.width, size.height))
    for standard in among:
        narrow, wide = sorted((standard.size.width, standard.size.height))
        if narrow >= short and wide >= long:
            yield standard


def _area(standard: StandardSize) -> tuple[Fraction, Length]:
    return standard.size.area_m2, standard.size.height
