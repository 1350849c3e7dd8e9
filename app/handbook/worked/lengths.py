"""The examples of the rules of lengths, worked."""

from app.handbook.worked.figures import Figures, Given
from app.lengths import Steps, Unit, doubt_about, parse_length, show


def exact(_given: Given) -> Figures:
    """L1."""
    typed = "15 3/4 in"
    length = parse_length(typed, unit=Unit.MM, path="")
    return {"typed": typed, "exact": show(length, Unit.MM, mark=True)}


def in_steps(given: Given) -> Figures:
    """L2."""
    steps = Steps(unit=given.unit, step=given.shop.step)
    length = given.length("412.3", "16 15/64")
    return {
        "step": given.say(given.shop.step),
        "exact": given.say(length),
        "glass": given.say(steps.down(length)),
        "rail": given.say(steps.up(length)),
    }


def two_scales(_given: Given) -> Figures:
    """L3."""
    metric, imperial = "7 cm", "3 in"
    read = [parse_length(text, unit=Unit.MM, path="") for text in (metric, imperial)]
    return {
        "metric": metric,
        "imperial": imperial,
        "difference": show(abs(read[0] - read[1]), Unit.MM, mark=True),
    }


def as_said(given: Given) -> Figures:
    """L4."""
    typed = "50x70" if given.unit is Unit.MM else "400x500"
    doubt = doubt_about(typed, unit=given.unit)
    assert doubt is not None, "nobody frames a stamp or a wall as it is read"
    return {"unit": given.unit.value, "typed": typed, "likely": doubt.likely}
