"""How stock is counted in words: "5 sticks", "1 sheet", "200", "12 m"."""

from app.pricing import Material
from app.stock.purchase_unit import BuyingUnit, unit_of

_MINUS = "\N{MINUS SIGN}"


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
