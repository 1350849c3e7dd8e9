"""The sizes of parts as a plan prints them: as a scale in the shop's unit reads them at saw, knife and glass cutter.

A part has the size that its ticket says, and no other: rounding was done there, part by part (L2). A piece that is
worked in the other unit has sizes that lie on no step of the shop's scale: 20 5/8 in is 523.875 mm. A plan says
them to the nearest 0.1 mm or 1/64 in, with the figure of the ticket beside, so that every part of one package has one
size, and a length one figure in the list of parts, in the drawing, at the guide and on the squaring arm (L3, B11).
"""

from collections.abc import Mapping

from app.lengths import Length, Size, Steps, Unit, inches, mm, nearest_fraction_text, say, show

_FINER: Mapping[Unit, Length] = {Unit.MM: mm("0.1"), Unit.IN: inches("1/32")}
_FINEST: Mapping[Unit, Length] = {Unit.MM: mm("0.1"), Unit.IN: inches("1/64")}

_TENTHS = Steps(unit=Unit.MM, step=_FINER[Unit.MM])
_BY = "\N{MULTIPLICATION SIGN}"


def size_as_set(size: Size, steps: Steps) -> Size:
    """Return what a blank or a pane is cut to, as a scale in these steps reads it."""
    return Size(steps.converted(size.width), steps.converted(size.height))


def kept_as_measured(kept: Length | Size, steps: Steps) -> Length | Size:
    """Return what lies on the rack as it is measured: down to whole steps, since so much is surely there."""
    if isinstance(kept, Size):
        return Size(steps.down(kept.width), steps.down(kept.height))
    return steps.down(kept)


def say_stock(stock: Length | Size, unit: Unit) -> str:
    """Return how long a stick or how large a sheet is, with its unit: exactly where a rule shows it, else down to
    0.1 mm or 1/32 in, since so much is surely there.
    """
    finest = Steps(unit=unit, step=_FINEST[unit])
    sides = (stock.width, stock.height) if isinstance(stock, Size) else (stock,)
    if all(finest.down(side) == side for side in sides):
        return say(stock, unit)
    return say(kept_as_measured(stock, Steps(unit=unit, step=_FINER[unit])), unit)


def say_as_set(exact: Length | Size, steps: Steps) -> str:
    """Return a part's size with its unit; where it lies on no step, with the exact size in the other unit beside it:
    '523.9 × 676.3 mm (20 5/8 × 26 5/8")'.
    """
    shown = size_as_set(exact, steps) if isinstance(exact, Size) else steps.converted(exact)
    said = say(shown, steps.unit)
    return said if _on_steps(exact, steps) else f"{said} ({_in_other(exact, steps.unit)})"


def _on_steps(exact: Length | Size, steps: Steps) -> bool:
    sides = (exact.width, exact.height) if isinstance(exact, Size) else (exact,)
    return all(steps.nearest(side) == side for side in sides)


def _in_other(exact: Length | Size, unit: Unit) -> str:
    sides = (exact.width, exact.height) if isinstance(exact, Size) else (exact,)
    if unit is Unit.MM:
        return f" {_BY} ".join(map(nearest_fraction_text, sides)) + '"'
    return f" {_BY} ".join(show(_TENTHS.nearest(side), Unit.MM) for side in sides) + " mm"
