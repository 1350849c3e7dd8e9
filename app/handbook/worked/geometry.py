"""The examples of the rules of geometry, worked."""

from dataclasses import replace
from fractions import Fraction

from app.framing import (
    Arrangement,
    Bevel,
    Dimensions,
    Edges,
    Fillet,
    Frame,
    Mat,
    ObjectInBox,
    Opening,
    Panel,
    Presentation,
    Spacer,
    UnderMats,
    UnderWay,
    frame_around,
    mirrored,
)
from app.framing.given_frame import GivenFrame
from app.framing.notices.frames import seen_inside_lip
from app.framing.objects import room_over_object
from app.framing.placing import placed_artworks
from app.handbook.worked.figures import Figures, Given
from app.lengths import ZERO, Length, Steps


def window(given: Given) -> Figures:
    """G1."""
    piece = given.worked()
    return {
        "artwork": given.say(given.artwork),
        "overlap": given.say(given.allowances.overlap),
        "window": given.say(piece.windows[0].size),
    }


def floated(given: Given) -> Figures:
    """G2."""
    piece = given.worked(presentation=Presentation.FLOAT)
    return {
        "artwork": given.say(given.artwork),
        "gap": given.say(given.allowances.gap),
        "window": given.say(piece.windows[0].size),
    }


def _two_mats(given: Given) -> tuple[Mat, Mat]:
    return (Mat(thickness=given.board), Mat(thickness=given.board, reveal=given.allowances.reveal))


def reveal(given: Given) -> Figures:
    """G3."""
    outer, inner = given.worked(mats=_two_mats(given)).windows
    return {
        "inner": given.say(inner.size),
        "reveal": given.say(given.allowances.reveal),
        "outer": given.say(outer.size),
    }


def package(given: Given) -> Figures:
    """G4."""
    piece = given.worked(mats=_two_mats(given))
    return {
        "window": given.say(piece.windows[0].size),
        "border": given.say(given.allowances.border),
        "package": given.say(piece.package),
    }


def centred(given: Given) -> Figures:
    """G5."""
    weighting = given.allowances.weighting or given.length("10", "3/8")
    size = given.size(("400", "500"), ("16", "22"))
    piece = given.worked(borders=None, package=size, weighting=weighting)
    borders = piece.layers[0].borders
    return {
        "window": given.say(piece.windows[0].size),
        "package": given.say(piece.package),
        "weighting": given.say(weighting),
        "side": given.say(borders.left),
        "top": given.say(borders.top),
        "bottom": given.say(borders.bottom),
    }


def window_that_follows(given: Given) -> Figures:
    """G6."""
    border = given.length("60", "2 3/4")
    piece = given.worked(borders=Edges.equal(border), package=given.package)
    seen = piece.windows[0].size
    return {
        "package": given.say(piece.package),
        "border": given.say(border),
        "window": given.say(seen),
        "artwork": given.say(given.artwork),
        "across": given.say((given.artwork.width - seen.width) / 2),
        "down": given.say((given.artwork.height - seen.height) / 2),
    }


def under_mats(given: Given) -> Figures:
    """G7."""
    trim = given.allowances.under_trim
    attached, own = (
        given.worked(mats=_two_mats(given), under=UnderMats(way=way, trim=by)).layers[1].borders.top
        for way, by in ((UnderWay.ATTACHED, ZERO), (UnderWay.OWN_EDGES, trim))
    )
    return {
        "border": given.say(given.allowances.border),
        "reveal": given.say(given.allowances.reveal),
        "attached": given.say(attached),
        "trim": given.say(trim),
        "own": given.say(own),
    }


def bevel(given: Given) -> Figures:
    """G8. What is seen of the core, t × √2 at 45°, is said to the nearest 0.01 mm or 1/64 in."""
    hole = given.worked().windows[0]
    run = Bevel().run(given.board)
    seen = Length(Fraction(round(float(run.mm) * 2**0.5 * 1_000_000), 1_000_000))
    finest = Steps(unit=given.unit, step=given.length("0.01", "1/64"))
    return {
        "thickness": given.say(given.board),
        "wider": given.say(hole.face.width - hole.size.width),
        "seen": given.say(finest.nearest(seen)),
    }


def several_windows(given: Given) -> Figures:
    """G9."""
    size = given.size(("100", "150"), ("4", "6"))
    gap, border = given.length("30", "1 1/4"), given.length("60", "2 1/2")
    openings = tuple(Opening(name=name, window=size) for name in "AB")
    piece = given.worked(
        openings=openings,
        arrangement=Arrangement(rows=(2,), across=gap, down=gap),
        borders=Edges.equal(border),
    )
    return {
        "window": given.say(size),
        "gap": given.say(gap),
        "border": given.say(border),
        "package": given.say(piece.package),
    }


def mirror(given: Given) -> Figures:
    """G10."""
    left, right = given.length("50", "2"), given.length("70", "3")
    border = given.allowances.border
    piece = given.worked(
        mats=_two_mats(given), borders=Edges(left=left, right=right, top=border, bottom=border)
    )
    top = piece.windows[0]
    return {
        "width": given.say(piece.package.width),
        "window": given.say(top.size.width),
        "front": given.say(top.x),
        "back": given.say(mirrored(top, piece.package).x),
    }


def rebate(given: Given) -> Figures:
    """G11."""
    frame = frame_around(given.package, given.profile)
    return {
        "package": given.say(given.package),
        "allowance": given.say(given.profile.allowance),
        "rebate": given.say(frame.rebate),
        "lip": given.say(given.profile.lip),
        "sight": given.say(frame.sight),
    }


def rails(given: Given) -> Figures:
    """G12."""
    frame = frame_around(given.package, given.profile)
    return {
        "rebate": given.say(frame.rebate),
        "face": given.say(given.profile.face),
        "lip": given.say(given.profile.lip),
        "long": given.say(frame.outside),
        "short": given.say(frame.sight),
    }


def seen_border(given: Given) -> Figures:
    """G13."""
    frame, border = given.profile, given.length("60", "2 1/2")
    return {
        "border": given.say(border),
        "lip": given.say(frame.lip),
        "allowance": given.say(frame.allowance),
        "seen": given.say(seen_inside_lip(border, frame)),
    }


def spacers(given: Given) -> Figures:
    """G14."""
    wide = given.allowances.spacer_width
    piece = given.worked(
        borders=None,
        package=given.package,
        spacer=Spacer(depth=given.length("5", "3/16"), width=wide),
    )
    (across, _), (down, _) = piece.spacers
    return {
        "package": given.say(piece.package),
        "width": given.say(wide),
        "across": given.say(across),
        "down": given.say(down),
    }


def close_fit(given: Given) -> Figures:
    """G15."""
    frame = given.profile
    return {
        "lip": given.say(frame.lip),
        "allowance": given.say(frame.allowance),
        "covered": given.say(-seen_inside_lip(ZERO, frame)),
    }


def _canvas(
    given: Given, presentation: Presentation, frame: Frame, **changes: object
) -> Dimensions:
    return given.worked(
        artwork=given.size(("600", "400"), ("24", "16")),
        artwork_thickness=given.length("18", "3/4"),
        presentation=presentation,
        mats=(),
        borders=None,
        frames=(frame,),
        **changes,
    )


def canvas(given: Given) -> Figures:
    """G16."""
    frame, backing = given.profile, given.length("3", "1/8")
    piece = _canvas(given, Presentation.CANVAS, frame, backing=Panel(thickness=backing))
    return {
        "canvas": given.say(piece.spec.artwork),
        "depth": given.say(piece.spec.artwork_thickness),
        "backing": given.say(backing),
        "rebate": given.say(frame.rebate_depth),
        "out": given.say(piece.stack - frame.rebate_depth),
    }


def tray(given: Given) -> Figures:
    """G17."""
    gap, frame = given.allowances.canvas_gap, replace(given.profile, lip=ZERO, allowance=ZERO)
    piece = _canvas(given, Presentation.CANVAS_FLOAT, frame, gap=gap)
    return {
        "canvas": given.say(piece.spec.artwork),
        "gap": given.say(gap),
        "inside": given.say(piece.frames[0].rebate),
    }


def frame_in_frame(given: Given) -> Figures:
    """G18."""
    piece = given.worked(borders=None, package=given.package, frames=(given.profile,) * 2)
    inner, outer = piece.frames
    return {
        "inner": given.say(inner.outside),
        "allowance": given.say(given.profile.allowance),
        "rebate": given.say(outer.rebate),
    }


def fillet(given: Given) -> Figures:
    """G19."""
    lining = Fillet(
        face=given.length("10", "3/8"),
        lip=given.length("5", "3/16"),
        tuck=given.length("4", "1/8"),
        thickness=given.length("1", "1/32"),
    )
    piece = given.worked(fillet=lining)
    (around,) = piece.fillets
    return {
        "window": given.say(piece.windows[0].size),
        "face": given.say(lining.face),
        "tuck": given.say(lining.tuck),
        "outside": given.say(around.outside),
        "sight": given.say(around.sight),
    }


def turned(given: Given) -> Figures:
    """G21."""
    upright, lying = (
        given.worked(
            artwork=artwork,
            borders=None,
            mats=(),
            presentation=Presentation.CLOSE,
            frames=(given.profile,),
        ).outside
        for artwork in (given.package, given.package.turned())
    )
    return {"upright": given.say(upright), "turned": given.say(lying)}


def box(given: Given) -> Figures:
    """G22."""
    spacer, height = given.length("25", "1"), given.length("20", "3/4")
    glass, board = given.length("2", "1/8"), given.length("3", "1/8")
    piece = given.worked(
        artwork_thickness=height,
        boxed=ObjectInBox(clearance=given.allowances.object_clearance),
        spacer=Spacer(depth=spacer, width=given.allowances.spacer_width),
        glazing=Panel(thickness=glass),
        mount_board=Panel(thickness=board),
        backing=Panel(thickness=board),
    )
    return {
        "mat": given.say(given.board),
        "spacer": given.say(spacer),
        "object": given.say(height),
        "clear": given.say(room_over_object(piece.spec)),
        "glass": given.say(glass),
        "board": given.say(board),
        "stack": given.say(piece.stack),
    }


def outside(given: Given) -> Figures:
    """G23."""
    whole = given.size(("500", "400"), ("20", "16"))
    frame = replace(given.profile, face=given.length("20", "3/4"))
    piece = given.worked(
        artwork=given.size(("420", "297"), ("17", "11")),
        borders=None,
        outside=whole,
        frames=(frame,),
    )
    return {
        "outside": given.say(whole),
        "face": given.say(frame.face),
        "lip": given.say(frame.lip),
        "allowance": given.say(frame.allowance),
        "package": given.say(piece.package),
    }


def given_frame(given: Given) -> Figures:
    """G24."""
    frame = GivenFrame(
        rebate=given.size(("402", "302"), ("16 1/8", "12 1/8")),
        opposite=given.size(("400", "302"), ("16", "12 1/8")),
        allowance=given.allowances.allowance,
    )
    piece = given.worked(
        artwork=given.size(("300", "200"), ("12", "8")), borders=None, given_frame=frame
    )
    return {
        "first": given.say(frame.rebate),
        "opposite": given.say(frame.opposite or frame.rebate),
        "counted": given.say(piece.surrounds[0].rebate),
        "allowance": given.say(frame.allowance),
        "package": given.say(piece.package),
    }


def place(given: Given) -> Figures:
    """G25."""
    border, trim = given.length("60", "2 1/2"), given.length("2", "1/16")
    mount = Panel(thickness=given.board, trim=trim)
    piece = given.worked(borders=Edges.equal(border), mount_board=mount)
    (artwork,) = placed_artworks(piece)
    return {
        "border": given.say(border),
        "overlap": given.say(given.allowances.overlap),
        "trim": given.say(trim),
        "left": given.say(artwork.left),
    }
