"""From a request to a `Spec`, with the usual lengths where none was given."""

from app.framing import (
    DEFAULTS,
    ObjectInBox,
    Opening,
    Presentation,
    Spacer,
    Spec,
    UnderMats,
    UnderWay,
)
from app.lengths import ZERO, Length, Size, Steps, Unit
from app.web.api.reading import RequestReader
from app.web.api.reading_windows import read_arrangement, read_openings
from app.web.api.requests import ArtworkAsked, DimensionsAsked


def read_spec(asked: DimensionsAsked) -> tuple[Spec, Steps]:
    """The spec and the shop's steps of a request. Raises: Invalid with every unreadable field."""
    unit = Unit(asked.unit)
    usual = DEFAULTS[unit]
    read = RequestReader(unit)
    presentation = Presentation(asked.presentation)
    usual_gap = usual.canvas_gap if presentation is Presentation.CANVAS_FLOAT else usual.gap
    trim = read.length("under_trim", asked.under_trim)
    way = asked.under_way or ("own-edges" if trim else "attached")
    spacer = read.length("spacer", asked.spacer)
    spacer_width = read.length("spacer_width", asked.spacer_width, usual.spacer_width)
    openings = read_openings(read, asked.windows)
    spec = Spec(
        unit=unit,
        artwork=_artwork(read, asked.artwork, openings),
        artwork_thickness=_thickness(read, asked.artwork),
        presentation=presentation,
        overlap=read.length("overlap", asked.overlap, usual.overlap),
        gap=read.length("gap", asked.gap, usual_gap),
        mats=read.mats(asked.mats),
        borders=read.borders(asked.borders),
        package=read.size("package", asked.package) if asked.package else None,
        weighting=read.length("weighting", asked.weighting),
        under=UnderMats(way=UnderWay(way), trim=trim),
        frames=read.frames(asked.frames),
        glazing=read.panel("glazing", asked.glazing),
        spacer=Spacer(depth=spacer, width=spacer_width) if spacer else None,
        mount_board=read.panel("mount_board", asked.mount_board),
        backing=read.panel("backing", asked.backing),
        openings=openings,
        arrangement=read_arrangement(read, asked.arrangement, len(openings) or 1),
        groove=read.optional("groove", asked.groove),
        fillet=read.fillet(asked.fillet),
        boxed=ObjectInBox(clearance=usual.object_clearance) if _is_object(asked.artwork) else None,
    )
    steps = read.steps(asked.step)
    read.faults.finish()
    return spec, steps


def _artwork(
    read: RequestReader, asked: ArtworkAsked | None, openings: tuple[Opening, ...]
) -> Size:
    """The artwork, or what lies in the first window."""
    if asked is not None:
        return read.size("artwork", asked)
    if not openings:
        read.faults.add(
            "artwork",
            "This field is missing; only windows of their own can stand for it.",
            "missing",
        )
        return Size(ZERO, ZERO)
    return openings[0].artwork or openings[0].window or Size(ZERO, ZERO)


def _is_object(asked: ArtworkAsked | None) -> bool:
    return asked is not None and asked.object


def _thickness(read: RequestReader, asked: ArtworkAsked | None) -> Length:
    return ZERO if asked is None else read.length("artwork.thickness", asked.thickness)
