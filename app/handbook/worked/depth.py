"""The examples of the rules of depth, weight and hanging, worked."""

from dataclasses import replace
from math import radians

from app.framing import Mat, Panel
from app.framing.mass import show_mass
from app.framing.notices.artwork_weight import Support, estimated_kg
from app.framing.notices.weight import (
    DENSITIES,
    STANDARD_GRAVITY,
    grams_per_m2,
    sheet_kg,
    tension_over_weight,
    wire_to_cut,
)
from app.framing.placing import hinges_for
from app.framing.usual import FIXING_ROOM
from app.handbook.worked.figures import Figures, Given
from app.pricing.wording import decimal


def stack(given: Given) -> Figures:
    """D1."""
    glass, backing = given.length("2", "1/8"), given.length("3", "1/8")
    artwork, frame = given.length("0.3", "1/64"), given.profile
    mat = Mat(thickness=given.board)
    piece = given.worked(
        mats=(mat, replace(mat, reveal=given.allowances.reveal)),
        artwork_thickness=artwork,
        glazing=Panel(thickness=glass),
        backing=Panel(thickness=backing),
        frames=(frame,),
    )
    return {
        "glass": given.say(glass),
        "mat": given.say(given.board),
        "artwork": given.say(artwork),
        "backing": given.say(backing),
        "stack": given.say(piece.stack),
        "rebate": given.say(frame.rebate_depth),
        "free": given.say(frame.rebate_depth - FIXING_ROOM - piece.stack),
    }


def weight(given: Given) -> Figures:
    """D2."""
    thickness = given.length("2", "1/8")
    kg = sheet_kg(given.package, grams_per_m2(thickness, DENSITIES["float glass"]))
    return {
        "size": given.say(given.package),
        "thickness": given.say(thickness),
        "weight": f"{decimal(kg, 2)} kg",
    }


def wire(_given: Given) -> Figures:
    """D3. The pull is rounded to whole newtons."""
    kg, angle = 5, 30
    pull = float(kg * STANDARD_GRAVITY) * tension_over_weight(radians(angle))
    return {"weight": f"{kg} kg", "angle": f"{angle}°", "pull": f"{round(pull)} N"}


def limits(given: Given) -> Figures:
    """D4."""
    rules = given.shop.weights.hanging
    return {
        "weight": show_mass(rules.no_wire_above_kg, given.unit),
        "width": given.say(rules.no_wire_above_width),
        "competent": show_mass(rules.competent_person_above_kg, given.unit),
    }


def panel(given: Given) -> Figures:
    """D8."""
    size = given.size(("900", "900"), ("36", "36"))
    thickness = given.length("18", "3/4")
    kg = estimated_kg(Support.MDF, [size], thickness, given.shop.weights.figures)
    assert kg is not None, "the thickness is given"
    return {
        "panel": given.say(size),
        "thickness": given.say(thickness),
        "weight": f"{decimal(kg, 2)} kg",
    }


def hinges(given: Given) -> Figures:
    """D9."""
    width, wide = given.length("420", "16"), given.length("700", "28")
    few, more = hinges_for(width, given.unit), hinges_for(wide, given.unit)
    return {
        "width": given.say(width),
        "count": str(few.count),
        "inset": given.say(given.shop.steps.nearest(few.inset)),
        "wide": given.say(wide),
        "more": str(more.count),
    }


def wire_length(given: Given) -> Figures:
    """D10."""
    apart, drop = given.length("160", "6"), given.length("60", "2 1/4")
    wound = given.shop.weights.hanging.wire_wound
    steps = given.shop.steps
    return {
        "apart": given.say(apart),
        "drop": given.say(drop),
        "wound": given.say(steps.up(wound)),
        "wire": given.say(steps.up(wire_to_cut(apart, drop, wound))),
    }
