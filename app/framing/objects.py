"""An object in a box: the room that it stands in (G22).

Mats, a fillet and spacers are the walls that hold the glazing off the mount board. An object stands on the
board within them, so it adds nothing to the stack unless it is higher than they are.
"""

from app.framing.spec import Spec
from app.lengths import ZERO, Length


def walls_of(spec: Spec) -> Length:
    """Tell how far mats, fillet and spacers hold what lies in front of them off the mount board."""
    return sum((mat.thickness for mat in spec.mats), behind_mats(spec))


def behind_mats(spec: Spec) -> Length:
    """Return the room between the mats and the mount board: the spacers and what lines the window."""
    spacer = spec.spacer.depth if spec.spacer else ZERO
    return spacer + (spec.fillet.thickness if spec.fillet else ZERO)


def in_front_of_board(spec: Spec) -> Length:
    """Return what mats, spacers and artwork take between glazing and mount board.

    An object stands within its walls and takes the more of the two; all else lies behind them.
    Source: handbook G22, D1.
    """
    walls = walls_of(spec)
    if spec.boxed is None:
        return walls + spec.artwork_thickness
    return max(walls, spec.artwork_thickness)


def room_over_object(spec: Spec) -> Length:
    """From an object to the glazing; below zero where it is higher than its walls (G22)."""
    return walls_of(spec) - spec.artwork_thickness


def least_spacer(spec: Spec) -> Length:
    """Return the least depth of spacers that leaves an object its clearance (G22): object + clearance - the
    other walls.
    """
    clearance = spec.boxed.clearance if spec.boxed else ZERO
    spacer = spec.spacer.depth if spec.spacer else ZERO
    return spec.artwork_thickness + clearance - (walls_of(spec) - spacer)
