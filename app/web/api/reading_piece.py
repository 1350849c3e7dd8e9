"""From a request to a `Spec`, whose fields are its members; here is what differs, and what is usual."""

from app.errors import Invalid
from app.framing import (
    DEFAULTS,
    Arrangement,
    Bevel,
    Fillet,
    Mat,
    ObjectInBox,
    Opening,
    Presentation,
    Spacer,
    Spec,
    UnderMats,
    UnderWay,
    rows_of,
    window_letter,
)
from app.framing.given_frame import GivenFrame
from app.lengths import ALLOWED_STEPS, DEFAULT_STEP, ZERO, Size, Steps, Unit, show
from app.web.api.reading import RequestReader
from app.web.api.requests import FilletAsked, MatAsked, PieceAsked
from app.web.api.requests_windows import ArrangementAsked, WindowAsked


def read_spec(asked: PieceAsked) -> tuple[Spec, Steps]:
    """Return the spec and the shop's steps of a request. Raises: Invalid with every unreadable field."""
    unit = Unit(asked.unit)
    usual = DEFAULTS[unit]
    read = RequestReader(unit)
    tray = Presentation(asked.presentation) is Presentation.CANVAS_FLOAT
    thickness = asked.artwork.thickness if asked.artwork else None
    boxed = asked.artwork is not None and asked.artwork.object
    openings = tuple(_opening(read, row, each) for row, each in enumerate(asked.windows))
    given = _given_frame(read, asked)
    spec = read.part(
        Spec,
        asked,
        usual=usual,
        artwork=_artwork(read, asked, openings, given),
        artwork_thickness=read.length("artwork.thickness", thickness),
        gap=read.length("gap", asked.gap, usual.canvas_gap if tray else usual.gap),
        mats=tuple(_mat(read, row, mat) for row, mat in enumerate(asked.mats)),
        under=_under(read, asked),
        spacer=_spacer(read, asked),
        given_frame=given,
        openings=openings,
        arrangement=_arrangement(read, asked.arrangement, len(openings) or 1),
        fillet=_fillet(read, asked.fillet),
        boxed=ObjectInBox(clearance=usual.object_clearance) if boxed else None,
    )
    steps = _steps(read, asked.step)
    read.faults.finish()
    return spec, steps


def _given_frame(read: RequestReader, asked: PieceAsked) -> GivenFrame | None:
    if asked.given_frame is None:
        return None
    return read.part(GivenFrame, asked.given_frame, "given_frame", DEFAULTS[read.unit])


def _artwork(
    read: RequestReader,
    asked: PieceAsked,
    openings: tuple[Opening, ...],
    given: GivenFrame | None,
) -> Size:
    """Return the artwork, or what lies in the first window; what is in a frame as it came fills it."""
    artwork = asked.artwork
    if artwork is not None:
        return read.part(Size, artwork, "artwork")
    if given is not None and Presentation(asked.presentation) is Presentation.AS_IT_CAME:
        return given.package
    if not openings:
        read.faults.add(
            "artwork",
            "This field is missing; only windows of their own can stand for it.",
            "missing",
        )
        return Size(ZERO, ZERO)
    return openings[0].artwork or openings[0].window or Size(ZERO, ZERO)


def _mat(read: RequestReader, row: int, asked: MatAsked) -> Mat:
    """With the usual reveal where an under mat names none."""
    path = f"mats.{row}"
    bevel = Bevel()
    try:
        bevel = Bevel(degrees=asked.bevel, reverse=asked.reverse)
    except Invalid as invalid:
        read.faults.take(invalid.under(path))
    return read.part(Mat, asked, path, DEFAULTS[read.unit] if row else None, bevel=bevel)


def _under(read: RequestReader, asked: PieceAsked) -> UnderMats:
    trim = read.length("under_trim", asked.under_trim)
    way = UnderWay.OWN_EDGES if trim else UnderWay.ATTACHED
    return UnderMats(way=UnderWay(asked.under_way) if asked.under_way else way, trim=trim)


def _spacer(read: RequestReader, asked: PieceAsked) -> Spacer | None:
    depth = read.length("spacer", asked.spacer)
    width = read.length("spacer_width", asked.spacer_width, DEFAULTS[read.unit].spacer_width)
    return Spacer(depth=depth, width=width) if depth else None


def _fillet(read: RequestReader, asked: FilletAsked | None) -> Fillet | None:
    """Return the fillet; one that names no tuck is tucked by its lip."""
    if asked is None:
        return None
    tuck = read.length("fillet.tuck", asked.lip if asked.tuck is None else asked.tuck)
    return read.part(Fillet, asked, "fillet", tuck=tuck)


def _opening(read: RequestReader, row: int, asked: WindowAsked) -> Opening:
    """Return the window; one without a name is known by its letter."""
    return read.part(
        Opening,
        asked,
        f"windows.{row}",
        name=window_letter(row) if asked.id is None else asked.id,
        floats=None if asked.presentation is None else asked.presentation == "float",
    )


def _arrangement(
    read: RequestReader, asked: ArrangementAsked | None, windows: int
) -> Arrangement | None:
    """Return the rows, as given or by columns; one row where neither was given."""
    if asked is None:
        return None
    if asked.rows is not None and asked.columns is not None:
        read.faults.add(
            "arrangement.columns",
            "Rows and columns were both given; one of them says how the windows stand.",
        )
    rows = asked.rows
    if rows is None:
        rows = (windows,) if asked.columns is None else rows_of(windows, asked.columns)
    return read.part(Arrangement, asked, "arrangement", rows=rows)


def _steps(read: RequestReader, text: str | None) -> Steps:
    """Return the shop's cutting steps."""
    step = read.length("step", text, DEFAULT_STEP[read.unit])
    if step not in ALLOWED_STEPS[read.unit]:
        allowed = " or ".join(show(s, read.unit, mark=True) for s in ALLOWED_STEPS[read.unit])
        read.faults.add("step", f"The cutting step is {text}; it must be {allowed}.")
        step = DEFAULT_STEP[read.unit]
    return Steps(unit=read.unit, step=step)
