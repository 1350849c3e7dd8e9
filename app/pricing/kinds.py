"""The kinds of material, and which charge rule and cost basis make sense for each (P1)."""

from enum import StrEnum

from app.pricing.charge import ChargeBy, CostPer
from app.pricing.stock import Trait


class Kind(StrEnum):
    """What a material is in a piece. Boards are mount boards and backing alike. Goods are sold without one (P12)."""

    MOULDING = "moulding"
    MAT = "mat"
    GLAZING = "glazing"
    BOARD = "board"
    HARDWARE = "hardware"
    EXTRA = "extra"
    READY_MADE = "ready-made"
    GOODS = "goods"

    @property
    def is_sheet(self) -> bool:
        """Whether it comes as sheets: mats, glazing, boards."""
        return self in (Kind.MAT, Kind.GLAZING, Kind.BOARD)

    @property
    def with_article(self) -> str:
        """For a sentence: "a mat", "an extra", "glazing", "goods"."""
        articles = {Kind.GLAZING: "", Kind.HARDWARE: "", Kind.EXTRA: "an ", Kind.GOODS: ""}
        return f"{articles.get(self, 'a ')}{self.called}"

    @property
    def called(self) -> str:
        """For a sentence, without an article: "mat", "ready-made frame"."""
        return "ready-made frame" if self is Kind.READY_MADE else self.value


_SHEET_RULES = (
    ChargeBy.AREA,
    ChargeBy.SHEET_SHARE,
    ChargeBy.SIZE_BAND,
    ChargeBy.EACH,
    ChargeBy.OPENED,
)

CHARGES: dict[Kind, tuple[ChargeBy, ...]] = {
    Kind.MOULDING: (ChargeBy.LENGTH, ChargeBy.SIZE_BAND, ChargeBy.OPENED),
    Kind.MAT: _SHEET_RULES,
    Kind.GLAZING: _SHEET_RULES,
    Kind.BOARD: _SHEET_RULES,
    Kind.HARDWARE: (ChargeBy.EACH, ChargeBy.LENGTH),
    Kind.EXTRA: (ChargeBy.EACH, ChargeBy.LENGTH, ChargeBy.AREA, ChargeBy.SIZE_BAND),
    Kind.READY_MADE: (ChargeBy.EACH,),
    Kind.GOODS: (ChargeBy.EACH,),
}
"""The charge rules on offer for each kind, the usual one first. Source: common practice.

Hardware by length is hanging wire and tape; an extra by length is a spacer strip, by area
or size band a treatment of the whole piece (lining, mounting, stretching). A fillet is a moulding.
Goods are what is sold as it is: cards, hooks, cleaner.
"""

_OF_BOARDS = (Trait.ACID_FREE, Trait.ONE_WAY)

TRAITS_OF: dict[Kind, tuple[Trait, ...]] = {
    Kind.MAT: _OF_BOARDS,
    Kind.BOARD: _OF_BOARDS,
    Kind.GLAZING: (Trait.UV_FILTER, Trait.GLASS, Trait.ACRYLIC, Trait.LAMINATED),
}
"""What may be said of each kind of sheet. Source: common practice."""

_LENGTHS = (CostPer.METRE, CostPer.FOOT)
_AREAS = (CostPer.SQUARE_METRE, CostPer.SQUARE_FOOT)
_PIECES = (CostPer.EACH, CostPer.HUNDRED)


def cost_bases(kind: Kind, by: ChargeBy) -> tuple[CostPer, ...]:
    """Return the cost bases from which the charged unit's cost can be worked out, the usual one first."""
    if by is ChargeBy.LENGTH:
        return (CostPer.STICK, *_LENGTHS) if kind in (Kind.MOULDING, Kind.EXTRA) else _LENGTHS
    if by is ChargeBy.EACH:
        return _PIECES
    if by is ChargeBy.SIZE_BAND or (by is ChargeBy.OPENED and kind is Kind.MOULDING):
        return _band_bases(kind)
    return (CostPer.SHEET, *_AREAS) if kind.is_sheet else _AREAS


def _band_bases(kind: Kind) -> tuple[CostPer, ...]:
    if kind is Kind.MOULDING:
        return (CostPer.STICK, *_LENGTHS)
    return (CostPer.SHEET, *_AREAS) if kind.is_sheet else (*_PIECES, *_AREAS)


def shown(values: tuple[StrEnum, ...]) -> str:
    """Return the choices for a sentence: "by area, sheet share, stock opened"."""
    return ", ".join(_IN_WORDS.get(value, value.value.replace("-", " ")) for value in values)


_IN_WORDS: dict[StrEnum, str] = {ChargeBy.OPENED: "stock opened"}
