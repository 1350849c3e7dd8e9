"""What a section says in words: its parts, the unit, and what is not to scale and why."""

from app.drawings.canvas.boxes import coordinate
from app.drawings.piece.layout import is_tray, lay_out, leftmost
from app.drawings.piece.legend import several
from app.drawings.section.depths import Depth, Tone
from app.drawings.section.profile import SectionProfile
from app.drawings.section.strips import Strip
from app.framing import Dimensions
from app.framing.usual import FIXING_ROOM, in_both
from app.lengths import Unit, show


def strip_in_words(strip: Strip, unit: Unit) -> str:
    """Return a part with its thickness."""
    if not strip.thickness:
        return f"{strip.name}, no thickness"
    return f"{strip.name} {show(strip.thickness, unit)}"


def section_notes(
    dimensions: Dimensions,
    profile: SectionProfile,
    depths: tuple[Depth, ...],
    least: float,
    unit: Unit,
) -> str:
    """Return the unit, what is not to scale and why, and how a depth was counted."""
    said = ["Figures in millimetres." if unit is Unit.MM else "Figures in inches."]
    thin = any(coordinate(strip.thickness) < least for strip in profile.strips)
    odd = [text for text, true in ((_CUT_SHORT, profile.shortened), (_THICKER, thin)) if true]
    if odd:
        said.append(f"Not all to scale: {' and '.join(odd)}.")
    if is_tray(dimensions):
        said.append("The tray's floor is only indicated.")
    elif dimensions.spec.given_frame is not None:
        said.append("The frame is given: its rebate is as measured, its shape only indicated.")
    elif dimensions.spec.frames:
        what = "height" if profile.shaped else "shape"
        said.append(f"The moulding's {what} in front of the rebate is only indicated.")
    if len(dimensions.spec.frames) > 1:
        said.append("The inner frame is shown.")
    layout = lay_out(dimensions)
    if several(layout):
        name = layout.windows_before(leftmost(layout))[0].name
        said.append(f"Cut through window {name}.")
    if any(depth.tone is Tone.OVERRUN for depth in depths):
        room = show(FIXING_ROOM, unit) if unit is Unit.MM else in_both(FIXING_ROOM, unit)
        said.append(f"What is too deep counts {room} kept behind the stack for fixing points.")
    return " ".join(said)


_CUT_SHORT = "some widths are cut short"
_THICKER = "the thinnest parts are drawn thicker"


def section_in_words(profile: SectionProfile, depths: tuple[Depth, ...], unit: Unit) -> str:
    """Return the section for whoever cannot see it."""
    parts = ", ".join(strip_in_words(strip, unit).replace(":", "") for strip in profile.strips)
    against = "; ".join(depth.text for depth in depths)
    name = "millimetres" if unit is Unit.MM else "inches"
    return f"From the front: {parts}. Depths: {against}. All in {name}."
