"""The sample's own watercolours, painted by code, as photos of what its customers bring in."""

from collections.abc import Callable, Mapping
from io import BytesIO
from itertools import pairwise

from seed_demo.painting import PaintedSheet, Place, Wash

_QUALITY = 84


def painted(title: str, width: int, height: int) -> bytes:
    """Return the picture of a title as a JPEG, in the proportion of the artwork. Raises: KeyError where none is painted."""
    sheet = PaintedSheet(width, height, seed=len(title))
    PAINTINGS[title](sheet)
    file = BytesIO()
    sheet.finished().save(file, "JPEG", quality=_QUALITY)
    return file.getvalue()


def _boats(sheet: PaintedSheet) -> None:
    """Boats on the sand at low water, a row of houses behind the quay, gulls."""
    sheet.fade(0, 0.46, "#5f9ac6")
    sheet.fade(0.56, 0.2, "#f3d59c", 0.7)
    for place in sheet.scattered(5, (0.1, 0.08, 0.9, 0.26)):
        _cloud(sheet, place)
    hill = (
        (0, 0.4),
        (0.16, 0.34),
        (0.34, 0.37),
        (0.55, 0.29),
        (0.74, 0.33),
        (0.88, 0.31),
        (1, 0.36),
    )
    sheet.ground(hill, 0.53, "#6f8ea0", Wash(strength=0.85, soft=2))
    _houses(sheet)
    sheet.wash(((0, 0.525), (1, 0.515), (1, 0.575), (0, 0.59)), "#877561", Wash(strength=0.95))
    sheet.fade(0.575, 0.76, "#4f93a3")
    _reflections(sheet)
    sand = ((0, 0.7), (0.3, 0.665), (0.62, 0.7), (1, 0.65))
    sheet.ground(sand, 1, "#c9a263", Wash(strength=0.95))
    wet = ((0.05, 0.86), (0.4, 0.8), (0.75, 0.86), (0.98, 0.8))
    sheet.ground(wet, 1, "#8d6f4b", Wash(strength=0.55, soft=10))
    _creek(sheet)
    _boat(sheet, (0.27, 0.79), 0.23, "#c0301f", mast=0.46)
    _boat(sheet, (0.72, 0.735), 0.13, "#1f4f7d", mast=0.28)
    _boat(sheet, (0.89, 0.7), 0.07, "#dda028", mast=0.17)
    for x, y in ((0.46, 0.2), (0.52, 0.235), (0.58, 0.17), (0.4, 0.27)):
        wings = ((-0.016, -0.008), (-0.006, -0.012), (0, 0), (0.008, -0.013), (0.018, -0.006))
        sheet.stroke([(x + across, y + down) for across, down in wings], "#4a5560", 2)


def _cloud(sheet: PaintedSheet, place: Place) -> None:
    x, y = place
    middles = [(x + sheet.between(-0.06, 0.06), y + sheet.between(-0.02, 0.02)) for _ in range(4)]
    sheet.dabs([(middle, 90, 26) for middle in middles], "#fbf8ef", 0.45)


_WALLS = ("#e2c7a0", "#d08a63", "#efe4cf", "#c9a24f", "#9fb0a6", "#b86a52", "#e8d7b8", "#8fa3b3")
_ROOFS = ("#8c4030", "#6d5548", "#a5523a", "#59606a")
_QUAY = 0.54


def _houses(sheet: PaintedSheet) -> None:
    """A row of houses on the quay, each of another width and height."""
    left = 0.03
    for number, wall in enumerate(_WALLS):
        right = left + sheet.between(0.055, 0.085)
        top = _QUAY - sheet.between(0.1, 0.17)
        sheet.wash(((left, _QUAY), (left, top), (right, top), (right, _QUAY)), wall)
        gable = ((left - 0.006, top), ((left + right) / 2, top - 0.055), (right + 0.006, top))
        sheet.wash(gable, _ROOFS[number % len(_ROOFS)], Wash(strength=0.95))
        columns = [left + (right - left) * side for side in (0.28, 0.72)]
        panes = [((x, top + down), 9, 16) for x in columns for down in (0.03, 0.08)]
        sheet.panes(panes, "#45505c")
        left = right + sheet.between(-0.002, 0.012)


def _reflections(sheet: PaintedSheet) -> None:
    """The houses in the water, in short touches."""
    for colour in ("#c98f63", "#e9dcc0", "#4a6f80"):
        places = sheet.scattered(14, (0.03, 0.6, 0.62, 0.67))
        sheet.dabs([(place, sheet.between(16, 46), 3) for place in places], colour, 0.5)


def _creek(sheet: PaintedSheet) -> None:
    """What is left of the water, on its way out."""
    banks = (
        (0.46, 0.72),
        (0.62, 0.78),
        (0.52, 0.86),
        (0.72, 1),
        (0.86, 1),
        (0.66, 0.86),
        (0.74, 0.78),
    )
    sheet.wash(banks, "#5f9aa6", Wash(strength=0.8, soft=2))


def _boat(sheet: PaintedSheet, at: Place, long: float, colour: str, *, mast: float) -> None:
    """A boat that lies on the sand, with its shadow, a mast so high, and stays."""
    high = long * 0.34

    def of_boat(*places: Place) -> list[Place]:
        return [(at[0] + across * long, at[1] + down * high) for across, down in places]

    shadow = of_boat((-0.55, 0.9), (0.6, 0.75), (0.5, 1.25), (-0.4, 1.3))
    sheet.wash(shadow, "#5a4634", Wash(strength=0.6, soft=3))
    top = (at[0] + long * 0.1, at[1] - mast)
    sheet.stroke([*of_boat((0.05, 0.3)), top], "#5a4634", 30 * long)
    for foot in of_boat((0.5, 0.05), (-0.52, -0.1)):
        sheet.stroke([(top[0], top[1] + 0.02), foot], "#6d5a48", 1.5)
    hull = of_boat((-0.5, -0.15), (0, 0.12), (0.52, 0), (0.36, 1), (-0.34, 1.05))
    sheet.wash(hull, colour, Wash(strength=1, edge=0.6, body=0.8))
    rail = of_boat((-0.5, -0.15), (0, 0.12), (0.52, 0), (0.5, 0.14), (0, 0.3), (-0.47, 0.04))
    sheet.wash(rail, "#f3ead6", Wash(body=1))


def _salt_pans(sheet: PaintedSheet) -> None:
    """Salt pans in the evening: a low sun, sheets of water in rows, heaps of salt, a shed."""
    sheet.fade(0, 0.34, "#4f6fa6")
    sheet.fade(0.44, 0.12, "#ee8c46")
    sheet.dabs([((0.66, 0.345), 78, 78)], "#f9d978", 1)
    for y, colour, long in (
        (0.12, "#8a7f9c", 0.5),
        (0.19, "#c98f84", 0.42),
        (0.26, "#d9a184", 0.3),
    ):
        x = sheet.between(0.1, 0.5)
        bank = ((x, y), (x + long / 2, y - 0.022), (x + long, y), (x + long / 2, y + 0.018))
        sheet.wash(bank, colour, Wash(strength=0.55, soft=9))
    hill = ((0, 0.41), (0.22, 0.375), (0.46, 0.4), (0.8, 0.38), (1, 0.4))
    sheet.ground(hill, 0.45, "#54587c", Wash(soft=2))
    sheet.ground(((0, 0.44), (1, 0.44)), 1, "#7b6250", Wash(strength=0.95))
    _pans(sheet)
    for x, y, wide in (
        (0.2, 0.53, 0.05),
        (0.29, 0.545, 0.06),
        (0.385, 0.56, 0.07),
        (0.8, 0.62, 0.1),
    ):
        _heap(sheet, (x, y), wide)
    shed = ((0.05, 0.47), (0.05, 0.4), (0.15, 0.4), (0.15, 0.47))
    sheet.wash(shed, "#54433c", Wash(strength=0.95))
    roof = ((0.04, 0.405), (0.065, 0.36), (0.14, 0.36), (0.16, 0.405))
    sheet.wash(roof, "#8c4030", Wash(strength=0.95))


_ROWS = (0.465, 0.505, 0.565, 0.655, 0.79, 0.985)
_PANS = ("#f0a869", "#dd9682", "#b487a0", "#7f85b0", "#5678a8")


def _pans(sheet: PaintedSheet) -> None:
    """Rows of pans that grow wider towards the eye, each with the sky in it, and the way of the sun over them."""
    for (top, bottom), colour in zip(pairwise(_ROWS), _PANS, strict=True):
        bank = (bottom - top) * 0.09
        far, close = (0.16 + 0.5 * (height - 0.44) for height in (top, bottom))
        for column in range(-3, 4):
            left, right = column - 0.46, column + 0.46
            pan = (
                (0.6 + left * far, top + bank),
                (0.6 + right * far, top + bank),
                (0.6 + right * close, bottom - bank),
                (0.6 + left * close, bottom - bank),
            )
            sheet.wash(pan, colour, Wash(strength=1, body=0.75))
    places = [(0.66 + sheet.between(-0.025, 0.025), height / 100) for height in range(48, 84, 3)]
    sheet.dabs([(place, sheet.between(20, 60), 4) for place in places], "#f6d79a", 0.9)


def _heap(sheet: PaintedSheet, at: Place, wide: float) -> None:
    """A heap of salt, lit from the right behind."""
    x, y = at
    crest = ((x - wide * 0.15, y - wide * 0.95), (x + wide * 0.2, y - wide * 0.9))
    sheet.wash(
        ((x - wide, y), *crest, (x + wide, y)), "#f6efe2", Wash(strength=1, edge=0.1, body=1)
    )
    shade = ((x, y), (x + wide * 0.1, y - wide * 0.85), crest[1], (x + wide, y))
    sheet.wash(shade, "#a39bb0", Wash(strength=0.7, body=0.8))


def _two_trees(sheet: PaintedSheet) -> None:
    """The salt pans, and two trees that the wind has bent on the bank before them."""
    _salt_pans(sheet)
    bank = ((0, 0.93), (0.2, 0.885), (0.46, 0.9), (0.74, 0.95), (1, 0.985))
    sheet.ground(bank, 1, "#4c4a35", Wash(strength=1, body=0.9))
    _tree(sheet, (0.2, 0.91), 0.58)
    _tree(sheet, (0.42, 0.92), 0.42)


def _tree(sheet: PaintedSheet, foot: Place, high: float) -> None:
    """A tree so high that leans to the right, its crown in touches that grow lighter towards the sun."""
    x, y = foot
    crown = (x + 0.12 * high, y - 0.78 * high)
    bend = (x + 0.01 * high, y - 0.36 * high)
    sheet.stroke((foot, bend, crown), "#3d2f28", 44 * high)
    for across, down in ((-0.2, -0.02), (0.24, -0.06), (0.1, -0.16)):
        sheet.stroke(
            (bend, (crown[0] + across * high, crown[1] + down * high)), "#3d2f28", 20 * high
        )
    for colour, aside, count in (("#2f4a3a", 0.0, 30), ("#4f6b45", 0.05, 18), ("#a08a4e", 0.12, 9)):
        within = (
            crown[0] + (aside - 0.26) * high,
            crown[1] - 0.2 * high,
            crown[0] + (aside + 0.26) * high,
            crown[1] + 0.1 * high,
        )
        wide = 150 * high * (1 - 2.4 * aside)
        places = sheet.scattered(count, within)
        sheet.dabs([(place, wide, wide * 0.6) for place in places], colour, 0.8)


BOATS, SALT_PANS = "Boats at low water, Orrenby", "Salt pans, evening"
TWO_TREES = "Two trees, the salt pans"

PAINTINGS: Mapping[str, Callable[[PaintedSheet], None]] = {
    BOATS: _boats,
    SALT_PANS: _salt_pans,
    TWO_TREES: _two_trees,
}
"""What is painted, by the title of the artwork."""
