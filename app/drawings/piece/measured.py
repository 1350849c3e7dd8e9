"""The piece from the front in lines, with its dimensions around it.

Above and to the left: borders and window of the top mat, package, outside. Below and to the right:
what lies inside: under windows with their reveals, artwork, rebate, sight, faces.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from app.drawings.canvas.boxes import Box, coordinate
from app.drawings.canvas.canvas import drawing
from app.drawings.canvas.names import Inside, written_inside
from app.drawings.canvas.notes import NotedDrawing, written_under
from app.drawings.canvas.shading import Side
from app.drawings.dimensioning.fitting import across_for, fitted, fitted_with_notes
from app.drawings.dimensioning.lines import DimensionLines
from app.drawings.dimensioning.rows import Lane, Span
from app.drawings.dimensioning.ruler import Ruler, along
from app.drawings.piece.chains import window_lanes
from app.drawings.piece.ink import ink_lines
from app.drawings.piece.layout import DrawingLayout, is_tray, lay_out
from app.drawings.piece.legend import (
    artworks_in_words,
    fillet_in_words,
    legend_or_less,
    several,
    windows_in_words,
)
from app.drawings.piece.wording import outside_in_words, piece_in_words
from app.framing import Dimensions, Presentation, Shape, Spec, in_steps
from app.framing.fillets import shown_of
from app.framing.openings import floats, openings_of, overlap_of, window_remains
from app.lengths import Length, Steps, Unit, show, show_on_rule

_ACROSS_A_PHONE, _LEAST_ACROSS_A_PHONE = 28, 10
"""Letter heights: 12 px each on a page of 350 px, with the rim of the drawing; and as many along the object itself at least."""

_RIM, _RIM_ON_A_PHONE = 0.5, 0.25
"""Letter heights around all that is drawn."""


def measured(dimensions: Dimensions, unit: Unit, steps: Steps | None = None) -> str:
    """Return the measured view as an SVG document, figures in one unit, what they mean beneath.

    steps: where given, figures are those that the shop cuts (L2), and what follows from them as a rule
    reads it; else the exact ones.
    """
    sheet = _sheet(dimensions, unit, steps)
    if several(sheet.layout):
        across = across_for(len(openings_of(sheet.cut.spec)), sheet.notes)
        font = fitted_with_notes(sheet.target, sheet.room_at, sheet.notes, across)
        placed = sheet.lines(font)
    else:
        font, placed = fitted(sheet.target, sheet.lanes)
    return _drawn(sheet, font, placed, sheet.notes, rim=_RIM)


def measured_for_a_phone(
    dimensions: Dimensions, unit: Unit, steps: Steps | None = None
) -> NotedDrawing:
    """Return the same view in letters so large that a phone shows all of it where they are just read; of many windows in a
    row that is more than fits, and it is as wide as their figures need.
    """
    sheet = _sheet(dimensions, unit, steps)
    font = fitted_with_notes(
        sheet.target, sheet.room_at, (), _ACROSS_A_PHONE, _LEAST_ACROSS_A_PHONE
    )
    svg = _drawn(sheet, font, sheet.lines(font), (), rim=_RIM_ON_A_PHONE)
    return NotedDrawing(svg=svg, notes=sheet.notes)


@dataclass(frozen=True, slots=True)
class _Sheet:
    """What is measured, and what the figures around it are. cut: as it is cut; lanes: by side, the nearest first."""

    cut: Dimensions
    unit: Unit
    layout: DrawingLayout
    lanes: Mapping[Side, Sequence[Lane]]
    notes: tuple[str, ...]

    @property
    def target(self) -> Box:
        return self.layout.outside

    def lines(self, font: float) -> DimensionLines:
        return DimensionLines(self.target, self.lanes, font)

    def room_at(self, font: float) -> Box:
        return self.lines(font).room


def _sheet(dimensions: Dimensions, unit: Unit, steps: Steps | None) -> _Sheet:
    cut = in_steps(dimensions, steps) if steps else dimensions
    layout = lay_out(cut)
    write = show_on_rule if steps else show
    return _Sheet(
        cut=cut,
        unit=unit,
        layout=layout,
        lanes={
            side: _lanes(cut, layout, Ruler(layout.outside, side, unit, write)) for side in Side
        },
        notes=_notes(cut, layout, unit),
    )


def _drawn(
    sheet: _Sheet, font: float, placed: DimensionLines, notes: tuple[str, ...], *, rim: float
) -> str:
    layout, cut, unit = sheet.layout, sheet.cut, sheet.unit
    room, written = written_under(placed.room, notes, font)
    return drawing(
        room.inset(-font * rim),
        ink_lines(layout, font),
        *written_inside(_names(layout), font),
        placed.marks(),
        written,
        class_="drawing drawing-measured",
        title=f"{outside_in_words(cut, unit)}, with its dimensions",
        desc=piece_in_words(cut, unit),
    )


def _lanes(cut: Dimensions, layout: DrawingLayout, ruler: Ruler) -> list[Lane]:
    """Return the lanes of a side, the shortest chain next to the drawing."""
    outer = ruler.side in (Side.TOP, Side.LEFT)
    lanes = list((_outer_lanes if outer else _inner_lanes)(cut, layout, ruler))
    return sorted(filter(None, lanes), key=lambda lane: lane[-1].end - lane[0].start)


def _outer_lanes(cut: Dimensions, layout: DrawingLayout, ruler: Ruler) -> Iterator[Lane]:
    if several(layout):
        yield from window_lanes(cut, layout, ruler)
    elif layout.mats:
        yield _border_lane(cut, layout, ruler)
    package = (cut.package.width, cut.package.height)
    if layout.frames and _is_measured(cut, "outside"):
        outside = (cut.outside.width, cut.outside.height)
        yield (ruler.whole("outside", outside, layout.outside),)
    if cut.package != cut.spec.artwork or not layout.frames:
        yield (
            ruler.whole(
                "inside of tray" if is_tray(cut) else cut.spec.package_word,
                package,
                layout.package,
            ),
        )


def _border_lane(cut: Dimensions, layout: DrawingLayout, ruler: Ruler) -> Lane:
    """Border, window, border of the top mat."""
    place, borders, window = layout.mats[0], cut.layers[0].borders, cut.windows[0].size
    first, last = along(place.edges, ruler.side)
    near, far = along(place.window, ruler.side)
    sides = (borders.left, borders.right) if ruler.across else (borders.top, borders.bottom)
    name = _window_of(layout, 1)
    return (
        ruler.span("", sides[0], (first, near), place.window),
        ruler.whole(name, (window.width, window.height), place.window),
        ruler.span("", sides[1], (far, last), place.window),
    )


def _window_of(layout: DrawingLayout, mat: int) -> str:
    """Name the only window of a mat, as a ticket does: of several mats it has the number of its own, 1 for the top one."""
    return f"window of mat {mat}:" if len(layout.mats) > 1 else "window"


def _inner_lanes(cut: Dimensions, layout: DrawingLayout, ruler: Ruler) -> Iterator[Lane]:
    if several(layout):
        yield from window_lanes(cut, layout, ruler)
        yield tuple(_reveals(layout, ruler))
        yield tuple(_behind_all(cut, layout, ruler))
    else:
        yield from _artwork_lanes(cut, layout, ruler)
    for index, (place, sizes) in enumerate(zip(layout.frames, cut.surrounds, strict=True)):
        if index or not is_tray(cut):
            which = f" {index + 1}:" if len(layout.frames) > 1 else ""
            rebate = (sizes.rebate.width, sizes.rebate.height)
            yield (ruler.whole(f"rebate{which}", rebate, place.rebate),)
        yield _face_lane(cut, layout, ruler, index)


def _artwork_lanes(cut: Dimensions, layout: DrawingLayout, ruler: Ruler) -> Iterator[Lane]:
    """Yield the one window's round top, the mats under it, and the artwork in it."""
    if layout.mats:
        yield tuple(_round_top(layout, ruler))
    if len(layout.mats) > 1:
        size = cut.windows[-1].size
        name = _window_of(layout, len(layout.mats))
        window = ruler.whole(name, (size.width, size.height), layout.mats[-1].window)
        yield (*_reveals(layout, ruler), window)
    yield tuple(_fillet(cut, layout, ruler))
    if cut.spec.presentation is Presentation.AS_IT_CAME:
        return
    size = layout.artworks[0].size
    artwork = ruler.whole("artwork", (size.width, size.height), layout.artwork)
    yield (*_gap(layout, ruler), artwork)


def _behind_all(cut: Dimensions, layout: DrawingLayout, ruler: Ruler) -> Iterator[Span]:
    """Yield the one artwork behind all windows, and how far it lies from the edge of the mat."""
    one = cut.behind_all
    if one is None:
        return
    away, box = one.x if ruler.across else one.y, layout.artwork
    if away:
        ends = (along(layout.package, ruler.side)[0], along(box, ruler.side)[0])
        yield ruler.span("", away, ends, box)
    yield ruler.whole("artwork", (one.size.width, one.size.height), box)


def _round_top(layout: DrawingLayout, ruler: Ruler) -> Iterator[Span]:
    """Rise and straight sides of an arch in the top mat."""
    window = layout.mats[0].holes[0]
    rise, box = window.sizes.rise, window.window.box
    if ruler.side is Side.RIGHT and rise is not None:
        spring = box.y + coordinate(rise)
        yield ruler.span("rise", rise, (box.y, spring), box)
        yield ruler.span("side", window.sizes.size.height - rise, (spring, box.bottom), box)


def _fillet(cut: Dimensions, layout: DrawingLayout, ruler: Ruler) -> Iterator[Span]:
    """Yield what of the one window's fillet shows, once, below, and what is seen inside it (G19)."""
    fillet = cut.spec.fillet
    if fillet is None:
        return
    place, sizes = layout.fillets[0], cut.fillets[0].sight
    if ruler.side is Side.BOTTOM:
        ends = (place.window.x, place.sight.x)
        yield ruler.span("shows", fillet.face - fillet.tuck, ends, place.window)
    yield ruler.whole("in fillet", (sizes.width, sizes.height), place.sight)


def _reveals(layout: DrawingLayout, ruler: Ruler) -> Iterator[Span]:
    """Yield the reveals beside the lowest window at the left, once, below."""
    if ruler.side is not Side.BOTTOM or len(layout.mats) < 2:
        return
    windows = (hole for hole in layout.mats[0].holes if not hole.slot)
    lowest = max(windows, key=lambda hole: (hole.window.box.bottom, -hole.window.box.x))
    for outer, inner in pairwise(layout.windows_before(lowest.opening)):
        shown = (outer.sizes.size.width - inner.sizes.size.width) / 2
        ends = (outer.window.box.x, inner.window.box.x)
        yield ruler.span("reveal", shown, ends, inner.window.box)


def _gap(layout: DrawingLayout, ruler: Ruler) -> Iterator[Span]:
    """Yield the gap beside an artwork that floats, once, below."""
    artwork = layout.artworks[0]
    if artwork.floats and ruler.side is Side.BOTTOM:
        opening = layout.mats[-1].window if layout.mats else layout.package
        ends = (opening.x, artwork.box.x)
        if ends[0] < ends[1]:
            yield ruler.span("gap", artwork.gap, ends, artwork.box)


def _face_lane(cut: Dimensions, layout: DrawingLayout, ruler: Ruler, index: int) -> Lane:
    """Return the face on one side, and the sight."""
    place, sizes = layout.frames[index], cut.surrounds[index]
    which = f" {index + 1}:" if len(layout.frames) > 1 else ""
    tray = index == 0 and is_tray(cut)
    spans = []
    if ruler.side is Side.BOTTOM and _is_measured(cut, "face"):
        ends = (place.outside.x, place.sight.x)
        face = cut.spec.profiles[index].face
        spans.append(ruler.span(f"{'wall' if tray else 'face'}{which}", face, ends, place.outside))
    sight = ruler.whole(f"sight{which}", (sizes.sight.width, sizes.sight.height), place.sight)
    return tuple(spans) if tray or not _is_measured(cut, "known_lip") else (*spans, sight)


def _is_measured(cut: Dimensions, what: str) -> bool:
    """Tell whether a measure of the frame is known: of one that is made it is, of one that is given it may not be."""
    given = cut.spec.given_frame
    return given is None or getattr(given, what) is not None


def _notes(cut: Dimensions, layout: DrawingLayout, unit: Unit) -> tuple[str, ...]:
    """Return what figures mean, then the windows and artworks where there are several."""
    spec = cut.spec
    said = ["All figures in millimetres." if unit is Unit.MM else "All figures in inches."]
    if spec.given_frame is not None:
        said.append("The frame is given: its rebate is as measured.")
    if spec.mats:
        said.append("Windows are measured at the back of the board.")
    if several(layout):
        said.append("Equal figures in a row stand once.")
    covered = _covered(spec)
    if covered is not None:
        each = "of each artwork" if len(layout.artworks) > 1 else "of the artwork"
        with_it = spec.fillet and show_on_rule(covered + shown_of(spec.fillet), unit)
        more = f", mat and fillet {with_it}" if with_it else ""
        said.append(f"The mat covers {show(covered, unit)} {each}{more} at each edge.")
    if (layout.frames and not is_tray(cut)) or cut.fillets:
        said.append("Dashed: hidden by a lip or a mat.")
    return (" ".join(said), *legend_or_less(tuple(_legend(cut, layout, unit))))


def _covered(spec: Spec) -> Length | None:
    """Tell how far the mat covers every artwork; None where they differ or what remains decides it."""
    openings = openings_of(spec)
    if spec.presentation is not Presentation.WINDOW or not spec.mats or window_remains(spec):
        return None
    overlaps = {overlap_of(spec, one) for one in openings if one.artwork is not None}
    if len(overlaps) != 1 or any(floats(spec, one) for one in openings):
        return None
    return overlaps.pop()


def _legend(cut: Dimensions, layout: DrawingLayout, unit: Unit) -> Iterator[str]:
    """Sizes of the windows, mat by mat, and of what lies behind them."""
    if not several(layout) and not _is_round(layout):
        return
    for number, mat in enumerate(layout.mats, start=1):
        of = f" of mat {number}" if len(layout.mats) > 1 else ""
        yield f"Windows{of}: {windows_in_words(mat.holes, unit)}."
    if several(layout) and (artworks := artworks_in_words(cut, unit)):
        yield f"Artworks: {artworks}."
    one = cut.behind_all
    if one is not None:
        back = show_on_rule(one.back_x, unit)
        yield f"The artwork lies behind all windows, seen from the back {back} from the left edge of the mat."
    if cut.spec.fillet is not None and several(layout):
        yield f"{fillet_in_words(cut.spec.fillet, unit)} in each window."
    if cut.spec.groove is not None:
        yield f"Grooves {show(cut.spec.groove, unit)} outside the windows at the face."


def _is_round(layout: DrawingLayout) -> bool:
    return bool(layout.mats) and layout.mats[0].holes[0].sizes.shape is not Shape.RECTANGLE


def _names(layout: DrawingLayout) -> tuple[Inside, ...]:
    """Return the names of several windows."""
    if not several(layout):
        return ()
    windows = [hole for hole in layout.mats[-1].holes if not hole.slot]
    return tuple(Inside(hole.window.inside, hole.name) for hole in windows)
