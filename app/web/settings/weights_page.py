"""The fields of the settings of weight and hanging, each with its usual value and where that is from."""

from app.forms.table import Options
from app.framing.notices.artwork_weight import Support
from app.orders import Shop
from app.orders.quoting.form import SUPPORTS
from app.web.kit.fields import Fields, FieldView
from app.web.settings.weights_form import ASKED, ESTIMATED_KINDS, kind_path, weights_typed

MEMORY, COMMON = "from memory", "common practice"

HANGING = {
    "factor": (
        "Load of a part over what it carries",
        f"{MEMORY}; sources differ, one asks for 2",
    ),
    "no_wire_above_kg": ("No wire above a weight of", COMMON),
    "no_wire_above_width": ("No wire above a width of", COMMON),
    "competent_person_above_kg": ("Ask for a competent person above", COMMON),
    "lift_above_kg": ("Two people lift above", MEMORY),
    "fixings_down": (
        "Fixings sit down the side, share of the height",
        f"{COMMON}, 1/4 to 1/3; also 1/5",
    ),
    "wire_below_top": ("The wire ends below the top edge", COMMON),
    "least_drop": (
        "It drops at least, share of the distance apart",
        COMMON,
    ),
}
SHEETS = {
    Support.PAPER: ("Paper, g a m²", MEMORY),
    Support.BOARD: ("Paper or photograph on board, g a m²", MEMORY),
    Support.TEXTILE: ("Cloth, g a m²", MEMORY),
    Support.CANVAS: ("Canvas, g a m²", MEMORY),
}
STRETCHER = {
    "bar": ("Bar of a stretcher, g a metre", MEMORY),
    "cross_bar_over": ("A cross bar for sides over", COMMON),
    "fixings_grams": ("Points, tape and hanging parts, g", MEMORY),
}
PANELS = {
    Support.HARDBOARD: ("Hardboard, kg a m³", MEMORY),
    Support.MDF: ("MDF, kg a m³", "public data, 600 to 800"),
    Support.WOOD: ("Wood, kg a m³", MEMORY),
    Support.ACRYLIC: ("Acrylic, kg a m³", "public data on cast sheet"),
    Support.GLASS: ("Glass, kg a m³", "EN 572-1, as quoted publicly"),
    Support.ALUMINIUM: ("Aluminium composite, kg a m³", MEMORY),
}
GROUPS = (HANGING, SHEETS, STRETCHER, PANELS)

MADE_OF: Options = (*SUPPORTS[1:], (ASKED, "not estimated: ask each time"))


def weight_fields(make: Fields, shop: Shop) -> dict[str, FieldView]:
    """Return the fields of the form, by their paths."""
    usual = weights_typed(shop.with_usual_weights)
    named = {path: said for group in GROUPS for path, said in group.items()}
    figures = {
        str(path): make.field(str(path), label, hint=f"Usual: {usual[path]} ({source}).")
        for path, (label, source) in named.items()
    }
    kinds = {
        kind_path(kind): make.field(kind_path(kind), kind.value.capitalize(), options=MADE_OF)
        for kind in ESTIMATED_KINDS
    }
    return figures | kinds
