"""What makes a spec impossible. Every check runs, so that all faults come at once.

A fault says what was given and what is allowed, in the piece's unit, at the path that the JSON
contract gives the field. What is merely unwise is a notice and belongs to `remarks`.
"""

from app.errors import Fault
from app.framing.checks_of_frames import check_frames, check_panels, check_spacer
from app.framing.checks_of_mats import check_mats, check_under_mats
from app.framing.checks_of_package import check_borders_and_package
from app.framing.fault_list import FaultList, by_dimension
from app.framing.spec import Presentation, Spec
from app.lengths import ZERO


def faults_of(spec: Spec) -> tuple[Fault, ...]:
    """Every fault of a spec, in the order in which its fields stand in the contract."""
    found = FaultList(spec)
    _check_artwork(found)
    _check_presentation(found)
    check_mats(found)
    check_borders_and_package(found)
    check_under_mats(found)
    check_frames(found)
    check_panels(found)
    check_spacer(found)
    return found.faults


def _check_artwork(found: FaultList) -> None:
    spec = found.spec
    for name, length in by_dimension(spec.artwork):
        found.above_zero(f"artwork.{name}", f"The artwork's {name}", length)
    found.not_negative("artwork.thickness", "The artwork's thickness", spec.artwork_thickness)


def _check_presentation(found: FaultList) -> None:
    """Overlap and gap, and whether the presentation goes with mats at all."""
    spec = found.spec
    if found.not_negative("overlap", "The overlap", spec.overlap):
        _check_overlap_leaves_a_window(found)
    found.not_negative("gap", "The gap", spec.gap)
    if spec.presentation is Presentation.WINDOW and not spec.mats:
        found.add(
            "mats",
            "A window needs at least one mat and none was given; without a mat "
            "choose a close fit or a float.",
        )
    if spec.mats and not spec.presentation.matted:
        were_given = "1 mat was" if len(spec.mats) == 1 else f"{len(spec.mats)} mats were"
        found.add(
            "mats",
            f"{were_given} given, but a piece shown as “{spec.presentation.value}” has none; "
            "mats go with window or float.",
        )


def _check_overlap_leaves_a_window(found: FaultList) -> None:
    """G1, where the window follows from the overlap."""
    spec = found.spec
    given_both = spec.borders is not None and spec.package is not None
    if spec.presentation is not Presentation.WINDOW or given_both:
        return
    shorter = min(spec.artwork.width, spec.artwork.height)
    if ZERO < shorter <= spec.overlap * 2:
        found.add(
            "overlap",
            f"An overlap of {found.say(spec.overlap)} at each edge leaves no window in an "
            f"artwork of {found.say_size(spec.artwork)}; it must be under "
            f"{found.say(shorter / 2)}.",
        )
