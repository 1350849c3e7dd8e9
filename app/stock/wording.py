"""How stock is named and counted in words: "Chalk white · mat, 1.4 mm"; "5 sticks", "1 sheet", "200", "12 m"."""

from app.lengths import Unit, say
from app.pricing import Kind, Material
from app.stock.purchase_unit import BuyingUnit, unit_of

_MINUS = "\N{MINUS SIGN}"


_OF_ITS_OWN_NAME = frozenset({Kind.EXTRA, Kind.GOODS})
"""Kinds that say nothing of a thing to whoever sells or counts it."""


def named(material: Material, unit: Unit, mat_word: str = "mat") -> str:
    """Return what a material is called where no heading says its kind, as on an order or a count sheet: "Chalk white · mat,
    1.4 mm". What its name says already is not said again: "Float glass 2 mm · glazing".

    unit: of the shop, of the thickness of a sheet. mat_word: what the shop calls a mat.
    """
    kind = mat_word if material.kind is Kind.MAT else material.kind.called
    thickness = say(material.sheet.thickness, unit) if material.sheet is not None else ""
    said = (
        "" if material.kind in _OF_ITS_OWN_NAME or _says(material.name, kind) else kind,
        "" if _says(material.name, thickness) else thickness,
    )
    return " · ".join(filter(None, (material.name, ", ".join(filter(None, said)))))


def _says(name: str, words: str) -> bool:
    """Tell whether a name has words in it, not as the end or the beginning of others."""
    return f" {words.casefold()} " in f" {name.casefold().replace(',', ' ')} "


def unit_word(material: Material, count: int = 2) -> str:
    """Return what is counted of a material: sticks, sheets, m of wire; "" for plain things."""
    unit = unit_of(material)
    if unit in (BuyingUnit.STICK, BuyingUnit.SHEET):
        return unit.word(many=abs(count) != 1)
    return unit.sign


def counted(count: int, material: Material) -> str:
    """Return a count with its word; below zero with the minus sign of figures."""
    return f"{figure(count)} {unit_word(material, count)}".rstrip()


def figure(count: int) -> str:
    """Return a count; below zero with the minus sign of figures, "−3"."""
    return f"{_MINUS}{-count}" if count < 0 else str(count)


def signed(change: int) -> str:
    """Return a change with its sign: "+3", "−3"."""
    return f"+{change}" if change > 0 else figure(change)
