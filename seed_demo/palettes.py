"""Which frames and mats of the sample's price book go together to the eye."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Palette:
    """Codes of the price book. frames hold a package with mats; tops and unders are mats."""

    frames: tuple[str, ...]
    tops: tuple[str, ...]
    unders: tuple[str, ...]


def _palette(frames: str, tops: str, unders: str) -> Palette:
    return Palette(
        frames=tuple(frames.split()), tops=tuple(tops.split()), unders=tuple(unders.split())
    )


PALETTES = (
    _palette("B20-OAK B15-OAK B20-ASH", "FLOUR14 SALT14 PEARL14", "SAGE14 DENIM14 PLAST14 OAT14"),
    _palette("B20-LIM B20-OAK B30-OAK", "SALT14 GULL14 ICE14", "FORGET14 EGG14 RUSH14 DUNE14"),
    _palette("D14-BLK C18-INK M10-ANT B20-EBO", "SALT14 GULL14 FROST14", "SOOT14 SLATE14 DOVE14"),
    _palette("C18-NAV C18-EGG B20-LIM", "GULL14 ICE14 MIST14", "FJORD14 NIGHT14 EGG14"),
    _palette("R22-GLD S45-GLD S38-BRZ", "CREAM14 BONE14 OAT14 RAG14", "MADD14 GILD14 TOB14 IVY14"),
    _palette("S60-GLD S60-UMB R22-EBO", "BONE14 CREAM14 FLAX14", "GILD14 MADD14 PEAT14 SOOT14"),
    _palette("R22-SIL M10-TIN M10-PEW S45-SIL", "MIST14 FROST14", "ZINC14 STORM14 SILV14 FLINT14"),
    _palette("C18-SAG B25-WAL B20-BRO", "PEARL14 RUSH14 LICH14", "IVY14 MOSS14 OLIVE14 PINE14"),
    _palette("D14-RED C18-BRI D20-MAH", "SHELL14 CREAM14 FLOUR14", "BRICK14 MADD14 POPPY14"),
    _palette(
        "B15-WAL B25-WAL H35-WAL W25-TOB", "FLAX14 BONE14 GULL14", "SADD14 TOB14 PEAT14 RUST14"
    ),
    _palette("H42-WEA C28-DOV C18-SLA", "PUTTY14 MIST14 DOVE14", "SLATE14 CLAY14 FLINT14"),
    _palette("C18-MUS D14-WHI D14-CHE", "SALT14 GULL14", "MUST14 TEAL14 HONEY14 PEACH14"),
    _palette("H42-IVO C28-CHK W25-BON", "LINEN20 LINEN20/W OAT20 FLOUR20", "DUNE14 JUTE14 PUTTY14"),
    _palette("B20-CHA C28-INK C18-INK", "SHELL14 HEATH14 ROSE14", "PLUM14 SLOE14 HEATH14"),
    _palette("M10-BRS H35-HON B20-ASH", "FLOUR14 STRAW14 CREAM14", "HONEY14 OLIVE14 BOTT14 INKW14"),
)

DEEP_FRAMES = ("W25-ASH", "W25-TOB", "W25-BON")
"""A rebate of 32 mm: for floats, textiles and objects behind spacers."""

CANVAS_FRAMES = ("H35-WAL", "H42-WEA", "H42-IVO", "S45-GLD", "S60-UMB", "B30-OAK", "C28-INK")
TRAYS = ("T08-OAK", "T08-BLK", "T08-WHI", "T08-GLD", "T12-WAL")
SLIPS = ("L14-GLD", "L14-CHK", "L30-LIN")
"""Between a painting and its frame; every canvas frame has a rebate deeper than theirs."""

FILLETS = {
    **dict.fromkeys(("R22-GLD", "S45-GLD", "S60-GLD", "S60-UMB"), "F10-GLD"),
    **dict.fromkeys(("R22-SIL", "S45-SIL"), "F08-SIL"),
    **dict.fromkeys(("R22-EBO", "B20-EBO"), "F08-EBO"),
}
"""By frame, each of which has a rebate deep enough for three mats and a fillet behind them."""

PHOTOGRAPH_FRAMES = ("D14-BLK", "M10-ANT", "M10-PEW", "C18-INK", "D14-WHI", "B15-OAK")
