"""What makes a spec impossible. Every check runs, so that all faults come at once.

A fault says what was given and what is allowed, in the piece's unit, at the path that the JSON
contract gives the field. What is merely unwise is a notice and belongs to `remarks`.
"""

from app.counting import counted
from app.errors import Fault
from app.framing.checks.fault_list import FaultList, by_dimension
from app.framing.checks.fillets import check_fillet
from app.framing.checks.frames import check_frames, check_panels, check_spacer
from app.framing.checks.given_frame import check_given_frame
from app.framing.checks.layout import check_groove, check_layout
from app.framing.checks.mats import check_mats, check_under_mats
from app.framing.checks.objects import check_object
from app.framing.checks.openings import (
    check_arrangement,
    check_openings,
    check_overlaps_leave_windows,
)
from app.framing.checks.package import check_borders_and_package
from app.framing.spec import Presentation, Spec


def faults_of(spec: Spec) -> tuple[Fault, ...]:
    """Return every fault of a spec, in the order in which its fields stand in the contract."""
    found = FaultList(spec)
    _check_artwork(found)
    _check_presentation(found)
    check_openings(found)
    check_arrangement(found)
    check_mats(found)
    check_borders_and_package(found)
    check_under_mats(found)
    check_layout(found)
    check_groove(found)
    check_fillet(found)
    check_frames(found)
    check_given_frame(found)
    check_panels(found)
    check_spacer(found)
    check_object(found)
    return tuple(dict.fromkeys(found.faults))  # two windows of one name can say the same


def _check_artwork(found: FaultList) -> None:
    """The artwork's size, unless a window has it and says what is wrong with it."""
    spec = found.spec
    if not any(spec.artwork in (one.artwork, one.window) for one in spec.openings):
        for name, length in by_dimension(spec.artwork):
            found.above_zero(f"artwork.{name}", f"The artwork's {name}", length)
    found.not_negative("artwork.thickness", "The artwork's thickness", spec.artwork_thickness)


def _check_presentation(found: FaultList) -> None:
    """Overlap and gap, and whether the presentation goes with mats at all."""
    spec = found.spec
    found.not_negative("overlap", "The overlap", spec.overlap)
    check_overlaps_leave_windows(found)
    found.not_negative("gap", "The gap", spec.gap)
    if spec.presentation is Presentation.WINDOW and not spec.mats:
        found.add(
            "mats",
            "A window needs at least one mat and none was given; without a mat "
            "choose a close fit or a float.",
        )
    if spec.mats and not spec.presentation.matted:
        were_given = counted(len(spec.mats), "mat was", "mats were")
        found.add(
            "mats",
            f"{were_given} given, but a piece shown as “{spec.presentation.value}” has none; "
            "mats go with window or float.",
        )
