"""How stock is counted in words: "5 sticks", "1 sheet", "200", "12 m"."""

from app.pricing import CostPer, Material
from app.stock.items import Form, form_of

_MINUS = "\N{MINUS SIGN}"
_MEASURES = {
    CostPer.METRE: "m",
    CostPer.FOOT: "ft",
    CostPer.SQUARE_METRE: "m²",
    CostPer.SQUARE_FOOT: "sq ft",
}


def unit_word(material: Material, count: int = 2) -> str:
    """What is counted of a material: sticks, sheets, metres of wire; "" for plain things."""
    form = form_of(material)
    if form is Form.EACH:
        return _MEASURES.get(material.per, "")
    return form.value if abs(count) == 1 else f"{form.value}s"


def counted(count: int, material: Material) -> str:
    """A count with its word; below zero with the minus sign of figures."""
    return f"{figure(count)} {unit_word(material, count)}".rstrip()


def figure(count: int) -> str:
    """A count; below zero with the minus sign of figures, "−3"."""
    return f"{_MINUS}{-count}" if count < 0 else str(count)
