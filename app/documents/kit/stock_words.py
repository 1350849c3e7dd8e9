"""What to take from stock for a part, in words.

Sheets and sticks are shown in whole steps, rounded down: what is surely there.
"""

from collections.abc import Sequence

from app.documents.kit.printing import Figures
from app.lengths import ZERO, Length, Size
from app.pricing import Material
from app.pricing.sheetshare import fits


def sheet_text(material: Material, size: Size, figures: Figures) -> str:
    """Write code and name of a mat, glazing or board, and the size of its sheet where that is too small
    for the part.
    """
    text = f"{material.code} {material.name}"
    if material.sheet is None or fits(size, material.sheet.size):
        return text
    down, sheet = figures.steps.down, material.sheet.size
    shown = figures.size(Size(down(sheet.width), down(sheet.height)))
    return f"{text}, sheet {shown}: too small for this part"


def moulding_text(
    material: Material, long_points: tuple[Length, Length], loss: Length, figures: Figures
) -> str:
    """Write code, name, the length that four rails take, and from how many sticks.

    That length is all long points with the loss at the saw of each (P2), rounded up to the shop's step.
    """
    needed = sum(long_points, ZERO) * 2 + loss * 4
    text = f"{material.code} {material.name}: uses {figures.length(figures.steps.up(needed))}"
    if material.profile is None:
        return text
    stick = material.profile.stick
    count, long = sticks_for(long_points, stick, loss), figures.length(figures.steps.down(stick))
    if count is None:
        return f"{text}; a rail is longer than a {long} stick"
    return f"{text} of one {long} stick" if count == 1 else f"{text} of {count} sticks, {long} each"


def rails_text(
    material: Material, rails: Sequence[tuple[Length, int]], loss: Length, figures: Figures
) -> str:
    """Write code, name and the length that any number of rails take.

    rails: (long point, count). How many sticks hold them is for a cutting plan to say.
    """
    needed = sum(((long + loss) * count for long, count in rails), ZERO)
    text = f"{material.code} {material.name}: uses {figures.length(figures.steps.up(needed))}"
    if material.profile is None:
        return text
    stick = material.profile.stick
    shown = figures.length(figures.steps.down(stick))
    if any(long + loss > stick for long, _ in rails):
        return f"{text}; a rail is longer than a {shown} stick"
    return f"{text}, from {shown} sticks"


def sticks_for(long_points: tuple[Length, Length], stick: Length, loss: Length) -> int | None:
    """Return the fewest new sticks for one frame; None where a rail with its loss is longer than a stick.

    Rails follow one another long point to long point, each with its loss. First-fit decreasing is
    the fewest for two pairs: it opens a third stick only where no two rails share one with a
    longer one, and then no other order does. Source: handbook C1.
    """
    left: list[Length] = []
    for rail in sorted((*long_points, *long_points), reverse=True):
        taken = rail + loss
        if taken > stick:
            return None
        place = next((at for at, room in enumerate(left) if taken <= room), None)
        if place is None:
            left.append(stick - taken)
        else:
            left[place] = left[place] - taken
    return len(left)
