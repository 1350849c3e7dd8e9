"""Reads what a shop sets about weight and hanging from its form, and writes its text (D2 to D5, D8)."""

from collections.abc import Iterator, Mapping
from dataclasses import fields, replace
from typing import Any

from app.forms.in_other_marks import in_grams, marked, told_length, told_mass
from app.forms.kinds import LENGTH, MASS, FieldKind, Options, number, whole
from app.forms.reader import Reader, number_text
from app.forms.table import Field, Form, Typed, values_in
from app.framing.mass import WeightOf
from app.framing.notices.artwork_weight import HEAVIEST, ArtworkFigures, Support
from app.framing.notices.weight import HangingRules
from app.orders import ArtworkKind, Shop
from app.orders.quoting.choices import SUPPORTS
from app.orders.weight_rules import MOST_FIXINGS_GRAMS, WeightRules

MEMORY, COMMON = "from memory", "common practice"

ESTIMATED_KINDS = tuple(
    ArtworkKind(kind)
    for kind in (
        *("watercolour", "drawing", "print", "document", "pastel"),
        *("photograph", "oil", "canvas", "textile", "other"),
    )
)
"""Every kind but an object, which is never estimated."""

ASKED = "asked"
"""Chosen for a kind that is made of nothing usual."""

MADE_OF: Options = (*SUPPORTS[1:], (ASKED, "not estimated: ask each time"))

_SHARE = replace(
    number("number"), text=lambda share, _known: str(share) if share < 1 else number_text(share)
)
"""A share as people say it: "1/3", "1/10"; a factor as "4" or "2.5"."""

_LENGTH, _MASS = marked(LENGTH, told_length), marked(MASS, told_mass)
_BY_AREA, _BY_LENGTH, _BY_ROOM = (
    in_grams(whole("figure", 1, HEAVIEST), of)
    for of in (WeightOf.SQUARE_METRE, WeightOf.METRE, WeightOf.CUBIC_METRE)
)
_FIXINGS = in_grams(whole("weight in g", high=MOST_FIXINGS_GRAMS), WeightOf.ONE)


def _rule(
    path: str,
    label: str,
    source: str,
    kind: FieldKind[Any],
    *,
    beside: bool = False,
    part: str = "",
) -> Field[Shop]:
    """Return the field of a figure, whose hint says what is usual and by which source."""
    return Field(path, label, kind, f"Usual: {{usual}} ({source}).", beside=beside, part=part)


def values_of(rules: WeightRules) -> tuple[object, ...]:
    """Return the objects whose attributes the form begins with."""
    supports = {kind.value: rules.support_of(kind) or ASKED for kind in ESTIMATED_KINDS}
    return {"supports": supports}, rules.hanging, rules.figures, rules


def _support(read: Reader, path: str, usual: Support | str) -> Support | str:
    return ASKED if read.text(path) == ASKED else read.choice(path, Support, usual)


_MADE_OF = FieldKind[Support | str](
    control="select", read=_support, text=lambda made_of, _known: str(made_of), options=MADE_OF
)


def _kinds() -> Iterator[Field[Shop]]:
    for place, kind in enumerate(ESTIMATED_KINDS):
        yield Field(
            f"supports.{kind.value}",
            kind.value.capitalize(),
            _MADE_OF,
            usual=WeightRules().support_of(kind) or Support.PAPER,
            beside=place % 2 == 1,
            part="made of",
        )


def _figures() -> Iterator[Field[Shop]]:
    figures: tuple[tuple[str, str, str, FieldKind[Any]], ...] = (
        ("paper", "Paper, g a m²", MEMORY, _BY_AREA),
        ("board", "Paper or photograph on board, g a m²", MEMORY, _BY_AREA),
        ("textile", "Cloth, g a m²", MEMORY, _BY_AREA),
        ("canvas", "Canvas, g a m²", MEMORY, _BY_AREA),
        ("bar", "Bar of a stretcher, g a metre", MEMORY, _BY_LENGTH),
        ("cross_bar_over", "A cross bar for sides over", COMMON, _LENGTH),
        ("hardboard", "Hardboard, kg a m³", MEMORY, _BY_ROOM),
        ("mdf", "MDF, kg a m³", "public data, 600 to 800", _BY_ROOM),
        ("wood", "Wood, kg a m³", MEMORY, _BY_ROOM),
        ("acrylic", "Acrylic, kg a m³", "public data on cast sheet", _BY_ROOM),
        ("glass", "Glass, kg a m³", "EN 572-1, as quoted publicly", _BY_ROOM),
        ("aluminium", "Aluminium composite, kg a m³", MEMORY, _BY_ROOM),
        ("fixings_grams", "Points, tape and hanging parts, g", MEMORY, _FIXINGS),
    )
    for place, (path, label, source, kind) in enumerate(figures):
        yield _rule(path, label, source, kind, beside=place % 2 == 1, part="weighs")


WEIGHTS = Form[Shop](
    _rule(
        "factor",
        "Safety factor of hanging parts",
        f"{MEMORY}; sources differ, one asks for 2",
        _SHARE,
    ),
    _rule(
        "competent_person_above_kg", "Ask for a competent person above", COMMON, _MASS, beside=True
    ),
    _rule("no_wire_above_kg", "No wire above a weight of", COMMON, _MASS),
    _rule("no_wire_above_width", "No wire above a width of", COMMON, _LENGTH, beside=True),
    _rule(
        "fixings_down",
        "Fixings sit down the side, share of the height",
        f"{COMMON}, 1/4 to 1/3; also 1/5",
        _SHARE,
    ),
    _rule("wire_below_top", "The wire ends below the top edge", COMMON, _LENGTH, beside=True),
    _rule(
        "least_drop",
        "Least drop of the wire, as a share of the distance between rings",
        COMMON,
        _SHARE,
    ),
    _rule(
        "wire_wound",
        "Wire wound at each end",
        f"{COMMON}, 50 to 130 mm",
        _LENGTH,
        beside=True,
    ),
    _rule("lift_above_kg", "Two people lift above", MEMORY, _MASS),
    *_figures(),
    *_kinds(),
    usual=lambda shop: values_in(*values_of(WeightRules.usual(shop.unit))),
)


def read_weights(typed: Typed, shop: Shop) -> Shop:
    """Return the shop with the rules of a form; a blank stands for the usual value.

    Raises: Invalid with every fault, at the form's fields.
    """
    read = WEIGHTS.reader(typed, shop)
    values = WEIGHTS.values(read, shop)
    hanging = read.take(lambda: HangingRules(**_of(HangingRules, values)))
    figures = read.take(lambda: ArtworkFigures(**_of(ArtworkFigures, values)))
    read.faults.finish()
    assert hanging is not None, "what has no fault was made"
    assert figures is not None, "what has no fault was made"
    supports = tuple(
        (kind, support)
        for kind in ArtworkKind
        if (support := values.get(f"supports.{kind.value}", ASKED)) != ASKED
    )
    rules = WeightRules(
        hanging=hanging, figures=figures, supports=supports, fixings_grams=values["fixings_grams"]
    )
    return replace(shop, weights=rules)


def _of(made: type[HangingRules | ArtworkFigures], values: Mapping[str, Any]) -> dict[str, Any]:
    return {each.name: values[each.name] for each in fields(made)}
