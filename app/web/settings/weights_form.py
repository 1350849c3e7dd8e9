"""What a shop sets about weight and hanging, from its form and back (D2 to D5, D8)."""

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from app.forms.reader import Reader, length_text, number_text
from app.framing.mass import mass_text
from app.framing.notices.artwork_weight import HEAVIEST, WHOLE_FIGURES, ArtworkFigures, Support
from app.framing.notices.weight import HangingRules
from app.orders import ArtworkKind, Shop
from app.orders.weight_rules import MOST_FIXINGS_GRAMS, WeightRules

MASSES = ("no_wire_above_kg", "competent_person_above_kg", "lift_above_kg")
LENGTHS = ("no_wire_above_width", "wire_below_top")
NUMBERS = ("factor", "fixings_down", "least_drop")
"""The fields of the rules of hanging by how they are typed."""

ESTIMATED_KINDS = tuple(kind for kind in ArtworkKind if kind is not ArtworkKind.OBJECT)
"""Every kind but an object, which is never estimated."""

ASKED = "asked"
"""Chosen for a kind that is made of nothing usual."""


def kind_path(kind: ArtworkKind) -> str:
    """The field that says what artworks of a kind are usually made of."""
    return f"supports.{kind.value}"


def read_weights(typed: Mapping[str, str], shop: Shop) -> Shop:
    """The shop with the rules of a form; blank is the usual one.

    Raises: Invalid with every fault, at the form's fields.
    """
    read = Reader(typed, shop.unit, shop.currency)
    usual = WeightRules()
    hanging, figures = _hanging(read, usual.hanging), _figures(read, usual.figures)
    supports = tuple(
        (kind, support)
        for kind in ESTIMATED_KINDS
        if (support := _support(read, kind, usual)) is not None
    )
    fixings = read.whole(
        "fixings_grams", "weight in g", usual.fixings_grams, high=MOST_FIXINGS_GRAMS
    )
    read.faults.finish()
    assert hanging is not None, "what has no fault was made"
    assert figures is not None, "what has no fault was made"
    rules = WeightRules(hanging=hanging, figures=figures, supports=supports, fixings_grams=fixings)
    return replace(shop, weights=rules)


def _hanging(read: Reader, usual: HangingRules) -> HangingRules | None:
    values: dict[str, object] = {
        **{name: read.number(name, "number", getattr(usual, name)) for name in NUMBERS},
        **{name: read.mass(name, getattr(usual, name)) for name in MASSES},
        **{name: read.length(name, getattr(usual, name)) for name in LENGTHS},
    }
    return read.take(lambda: HangingRules(**values))  # type: ignore[arg-type]


def _figures(read: Reader, usual: ArtworkFigures) -> ArtworkFigures | None:
    whole = {
        name: read.whole(name, "figure", getattr(usual, name), low=1, high=HEAVIEST)
        for name in WHOLE_FIGURES
    }
    over = read.length("cross_bar_over", usual.cross_bar_over)
    return read.take(lambda: ArtworkFigures(cross_bar_over=over, **whole))


def _support(read: Reader, kind: ArtworkKind, usual: WeightRules) -> Support | None:
    path = kind_path(kind)
    if read.text(path) == ASKED:
        return None
    return read.choice(path, Support, usual.support_of(kind) or Support.PAPER)


def weights_typed(shop: Shop) -> dict[str, str]:
    """The text of every field of the form."""
    rules = shop.weights
    return {
        **{name: _number(getattr(rules.hanging, name)) for name in NUMBERS},
        **{name: mass_text(getattr(rules.hanging, name), shop.unit) for name in MASSES},
        **{name: length_text(getattr(rules.hanging, name), shop.unit) for name in LENGTHS},
        **{name: str(getattr(rules.figures, name)) for name in WHOLE_FIGURES},
        "cross_bar_over": length_text(rules.figures.cross_bar_over, shop.unit),
        "fixings_grams": str(rules.fixings_grams),
        **{kind_path(kind): rules.support_of(kind) or ASKED for kind in ESTIMATED_KINDS},
    }


def _number(number: Fraction) -> str:
    """A share as people say it: "1/3", "1/10"; a factor as "4" or "2.5"."""
    return str(number) if number < 1 else number_text(number)
