"""Which materials of the price book come nearest to a colour, and how near in a word."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from app.colours import Colour, Lab, difference, in_words, lab_of
from app.pricing.book import COLOUR_NOT_SAID, Material
from app.pricing.kinds import Kind


class Nearness(StrEnum):
    """How near a material comes to a colour, by the difference as an eye sees it, up to which it is said.

    Source: ours, by eye, on boards held against a picture: 1 is just seen side by side, and a mat is never
    quite in the light and the texture of the paint.
    """

    SAME = "the same"
    VERY_NEAR = "very near"
    NEAR = "near"
    NOT_SO_NEAR = "not so near"


_UP_TO = {
    Nearness.SAME: 1.0,
    Nearness.VERY_NEAR: 4.0,
    Nearness.NEAR: 10.0,
    Nearness.NOT_SO_NEAR: 14.0,
}

FARTHEST = _UP_TO[Nearness.NOT_SO_NEAR]
"""What is farther off than this is another colour, and no answer."""

_MOST_LIGHTER = FARTHEST * 1.75
"""What is lighter or darker by more is farther than `FARTHEST`: lightness counts by one over 1 + 0.015 × 50² / √(20 + 50²) = 1.747
at least. Source: CIEDE2000."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NearMaterial:
    """A material near a colour. apart: the difference as an eye sees it. on_rack: whether enough of it lies on the rack. harms: whether
    it harms the artwork beside which it would lie.
    """

    material: Material
    apart: float
    on_rack: bool = False
    harms: bool = False

    @property
    def nearness(self) -> Nearness:
        """How near, in a word."""
        return next(word for word, most in _UP_TO.items() if self.apart <= most)

    @property
    def called(self) -> str:
        """A plain word for its colour."""
        return in_words(Colour.parse(self.material.colour))


def near(colour: Colour, materials: Iterable[Material]) -> tuple[NearMaterial, ...]:
    """Return the materials that are no farther than `FARTHEST` from a colour, the nearest first.

    One of which nobody said a colour is left out.
    """
    seen = lab_of(colour)
    apart = (
        (difference(seen, lab), each)
        for each in materials
        if each.colour != COLOUR_NOT_SAID
        and abs((lab := _lab_of(each.colour)).light - seen.light) <= _MOST_LIGHTER
    )
    found = [NearMaterial(material=each, apart=far) for far, each in apart if far <= FARTHEST]
    return tuple(sorted(found, key=lambda each: (each.apart, each.material.code)))


@lru_cache(maxsize=4096)
def _lab_of(colour: str) -> Lab:
    return lab_of(Colour.parse(colour))


def best(
    found: Iterable[NearMaterial], most: int, *, rack_first: bool = True
) -> tuple[NearMaterial, ...]:
    """Return so many of the materials near a colour: what harms the artwork last, what lies on the rack first, then by how near it is.

    "Not so near" on the rack takes no place from "near" that is to be ordered. Of mats with the same face, in
    other thicknesses and sizes of sheet, the first is named alone. rack_first: or by how near they are alone.
    """
    ranked = sorted(found, key=lambda each: (each.harms, *_rank(each, rack_first)))
    named: dict[str, NearMaterial] = {}
    for each in ranked:
        named.setdefault(_face(each.material), each)
    chosen = list(named.values())[:most]
    if rack_first:
        chosen.sort(key=lambda each: (each.harms, not each.on_rack))
    return tuple(chosen)


def _rank(each: NearMaterial, rack_first: bool) -> tuple[bool, bool, float, str]:
    far = each.apart > _UP_TO[Nearness.NEAR]
    return (far, rack_first and not each.on_rack, each.apart, each.material.code)


def _face(material: Material) -> str:
    return material.colour.lower() if material.kind is Kind.MAT else material.code


_PALER = 62
"""Per cent of white in the paler relative of a colour. Source: ours, by eye."""

_STRONG = 12.0
"""How far from grey a colour must be to have a paler relative that is told from white. Source: ours."""


def paler(colour: Colour) -> Colour | None:
    """Return the same colour let down with white, as a mat of a strong colour is seldom wanted; None for a pale or grey one.

    Source: ours. A mat as strong as the picture draws the eye from it, so framers take the same hue paler: common practice.
    """
    seen = lab_of(colour)
    if seen.light > 80 or seen.chroma < _STRONG:
        return None
    return colour.mixed(Colour(red=255, green=255, blue=255), _PALER)
