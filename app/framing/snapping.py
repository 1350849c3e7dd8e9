"""A package taken up to the next standard size, with the borders that follow (G5)."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from app.framing.arrangement import Arrangement, Opening, Point
from app.framing.layout import Layout, lay_out
from app.framing.openings import arrangement_of
from app.framing.spec import Presentation, Spec
from app.lengths import ZERO, Family, Length, Size, StandardSize, snap_up


@dataclass(frozen=True, slots=True, kw_only=True)
class Snapped:
    """The standard size found, and the spec in a package of that size."""

    standard: StandardSize
    spec: Spec


def snapped_up(spec: Spec, among: Family | Iterable[StandardSize] | None = None) -> Snapped | None:
    """Return the piece in the next standard package that holds it; windows and gaps stay as they are.

    What the package gains goes to the borders: left and right become equal, and the bottom keeps
    what it has more than the top. Windows with places of their own move together. among: as for
    `snap_up`. None where no size holds it, for a canvas, which sets its own size, and where the
    package cannot be known. A window that was what borders left follows its artwork again.
    """
    layout = lay_out(spec)
    if layout is None or spec.presentation in (Presentation.CANVAS, Presentation.CANVAS_FLOAT):
        return None
    standard = snap_up(layout.package, among)
    if standard is None:
        return None
    package = standard.lying_as(layout.package)
    return Snapped(standard=standard, spec=_in_package(spec, layout, package))


def _in_package(spec: Spec, layout: Layout, package: Size) -> Spec:
    borders = layout.borders
    centred = spec.borders is None and layout.across is not None
    weighting = spec.weighting if centred else max(borders.bottom - borders.top, ZERO)
    return replace(
        spec,
        borders=None,
        package=package,
        weighting=weighting,
        arrangement=_with_its_gaps(spec, layout),
        openings=_moved(spec.openings, layout, package, weighting),
    )


def _with_its_gaps(spec: Spec, layout: Layout) -> Arrangement | None:
    """Gaps that filled the old package between its borders stay as they came out."""
    if spec.borders is None or layout.across is None or layout.down is None or not spec.openings:
        return spec.arrangement
    return replace(arrangement_of(spec), across=layout.across.gap, down=layout.down.gap)


def _moved(
    openings: tuple[Opening, ...], layout: Layout, package: Size, weighting: Length
) -> tuple[Opening, ...]:
    """Places that put the field in the middle of the package, above the weighting."""
    borders = layout.borders
    grown_across = package.width - layout.package.width
    grown_down = package.height - layout.package.height
    right = (borders.right + grown_across - borders.left) / 2
    down = (borders.bottom + grown_down - weighting - borders.top) / 2
    return tuple(
        opening
        if opening.at is None
        else replace(opening, at=Point(x=opening.at.x + right, y=opening.at.y + down))
        for opening in openings
    )
