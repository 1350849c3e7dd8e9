"""The examples of the rules of the bench, worked."""

from dataclasses import replace

from app.bench import (
    Blank,
    Cutter,
    Edge,
    MatToCut,
    Measured,
    MeasuredWindow,
    PinRow,
    Reads,
    Scale,
    SlipJob,
    Stops,
    correct,
    cuts_of,
    limits_of,
    margins_of,
    marks_of,
    mats_to_cut,
    placed_by,
    plan_day,
    plan_settings,
    sizing,
    usual_cutter,
)
from app.framing import Edges
from app.handbook.worked.figures import Figures, Given
from app.lengths import ZERO, Size, Unit, inches, mm


def _cutter(given: Given, **changes: object) -> Cutter:
    return replace(usual_cutter(given.unit), **changes)  # type: ignore[arg-type]


def _mat(given: Given, **changes: object) -> MatToCut:
    """Return the one mat of the usual piece, changed."""
    (mat,) = mats_to_cut(given.worked(**changes))
    return mat


def setting(given: Given) -> Figures:
    """B1."""
    border = given.length("60", "2 1/2")
    mat = _mat(given, borders=Edges.equal(border))
    back, face = (
        cuts_of(mat, _cutter(given, reads=reads))[0].wanted
        for reads in (Reads.BACK_LINE, Reads.FACE)
    )
    return {
        "border": given.say(border),
        "thickness": given.say(given.board),
        "back": given.say(back),
        "face": given.say(face),
    }


def pin(given: Given) -> Figures:
    """B2."""
    pitch, wanted = given.length("10", "1/2"), given.length("66", "2 3/4")
    hole = PinRow(first=ZERO, pitch=pitch).at(wanted)
    assert hole is not None, "there are holes from zero on"
    return {
        "pitch": given.say(pitch),
        "setting": given.say(wanted),
        "pin": given.say(hole),
        "rest": given.say(wanted - hole),
    }


def fewest_settings(given: Given) -> Figures:
    """B3."""
    border = given.allowances.border
    equal = Edges.equal(border)
    weighted = replace(equal, bottom=border + given.length("10", "3/8"))
    moves = [
        plan_settings([_mat(given, borders=borders)], _cutter(given)).moves
        for borders in (equal, weighted)
    ]
    return {"equal": str(moves[0]), "weighted": str(moves[1])}


def limit(given: Given) -> Figures:
    """B4."""
    cut, board = given.length("810", "32"), given.length("900", "36")
    mat = _mat(given, borders=None, package=given.size(("900", "600"), ("36", "24")))
    found = limits_of(mat, _cutter(given, cut_length=cut), given.unit)
    assert found, "a board longer than the cut is a limit"
    return {"board": given.say(board), "cut": given.say(cut), "over": given.say(board - cut)}


def marks(given: Given) -> Figures:
    """B5."""
    left, right = given.length("50", "2"), given.length("70", "3")
    border = given.allowances.border
    across = given.length("419", "16 1/8") - left - right
    mat = _mat(
        given,
        overlap=ZERO,
        artwork=replace(given.artwork, width=across),
        borders=Edges(left=left, right=right, top=border, bottom=border),
    )
    lines = marks_of(mat, _cutter(given)).guide_lines
    mark = next(line.begins.x for line in lines if line.cuts[0].edge is Edge.RIGHT)
    return {
        "width": given.say(mat.blank.width),
        "left": given.say(left),
        "right": given.say(right),
        "mark": given.say(mark),
    }


def trial_cut(given: Given) -> Figures:
    """B7."""
    border, off = given.length("60", "2 1/2"), given.length("0.5", "1/32")
    past = given.length("1", "1/16")
    mat = _mat(given, borders=Edges.equal(border))
    window = mat.windows[0].size
    found = correct(
        _cutter(given),
        mat,
        Measured(
            borders=Edges.equal(border + off),
            window=replace(window, width=window.width - off * 2, height=window.height - off * 2),
            past_start=Edges.equal(past),
            past_end=Edges.equal(past),
        ),
    )
    return {
        "asked": given.say(border),
        "measured": given.say(border + off),
        "correction": f"−{given.say(-found.guide)}",
        "past": given.say(past),
        "off": given.say(off),
        "left": given.say(-found.start),
    }


def both_scales(given: Given) -> Figures:
    """B8."""
    tens = PinRow(first=mm(10), pitch=mm(10))
    halves = PinRow(first=inches("1/2"), pitch=inches("1/2"))
    scales = (
        Scale(unit=Unit.MM, step=mm("0.5"), pins=tens),
        Scale(unit=Unit.IN, step=inches("1/16"), pins=halves),
    )
    border = given.length("66.8", "2 5/8")
    figures = {"border": given.say(border)}
    for scale, pins in zip(scales, (tens, halves), strict=True):
        read = _cutter(given, scales=scales).read_in(scale.unit)
        setting = read.on_scale(border)
        hole = read.pin_at(setting)
        assert hole is not None, "the border is wider than the first hole is far"
        said = {"step": read.step, "pitch": pins.pitch, "setting": setting, "pin": hole}
        figures |= {f"{what}_{scale.unit.value}": read.say(it) for what, it in said.items()}
    return figures


def between_stops(given: Given) -> Figures:
    """B9."""
    height, overcut = given.length("537", "21"), given.length("1.5", "1/16")
    top, bottom = given.length("60", "2 1/2"), given.length("75", "3")
    mat = _mat(
        given,
        overlap=ZERO,
        artwork=replace(given.artwork, height=height - top - bottom),
        borders=replace(Edges.equal(top), bottom=bottom),
    )
    cutter = _cutter(
        given, stops=Stops(near=True, far=True), start_offset=overcut, end_offset=overcut
    )
    cut = next(cut for cut in cuts_of(mat, cutter) if cut.edge is Edge.LEFT)
    near, far = cut.stops.near, cut.stops.far
    assert near is not None, "the cutter has a near stop"
    assert far is not None, "the cutter has a far stop"
    return {
        "height": given.say(mat.blank.height),
        "top": given.say(top),
        "bottom": given.say(bottom),
        "overcut": given.say(overcut),
        "near": given.say(near),
        "far": given.say(far),
    }


def blanks(given: Given) -> Figures:
    """B11."""
    mat, trim = given.package, given.length("6", "1/4")
    under = Size(mat.width - trim, mat.height - trim)
    parts = [
        Blank(part=part, width=size.width, height=size.height)
        for part, size in (("mat 1", mat), ("mat 2", under), ("backing", mat))
    ]
    found = sizing(parts, _cutter(given))
    return {
        "mat": given.say(mat),
        "under": given.say(under),
        "sides": str(2 * len(parts)),
        "moves": str(found.moves),
        "lengths": ", ".join(given.say(one.at) for one in found.settings),
    }


def day(given: Given) -> Figures:
    """B10."""
    border, wider = given.length("60", "2 1/2"), given.length("70", "3")
    borders = {"first": border, "second": wider, "third": border}
    mats = [
        replace(_mat(given, borders=replace(Edges.equal(each), bottom=wider)), piece=piece)
        for piece, each in borders.items()
    ]
    plan = plan_day(mats, _cutter(given))
    return {
        **{piece: given.say(each) for piece, each in borders.items()},
        "bottom": given.say(wider),
        "apart": str(plan.moves_apart),
        "together": str(plan.moves),
    }


def slipped(given: Given) -> Figures:
    """B12."""
    border, off = given.length("60", "2 1/2"), given.length("2", "1/16")
    cut = given.worked(borders=Edges.equal(border))
    job = SlipJob(cut=cut, mats=mats_to_cut(cut), cutter=_cutter(given))
    window = job.mats[0].windows[0]
    now = placed_by(
        job,
        MeasuredWindow(layer=1, window=window.name, borders={Edge.LEFT: border - off}),
    )
    then = now.larger(off)
    return {
        "artwork": given.say(given.artwork),
        "window": given.say(window.size),
        "asked": given.say(border),
        "measured": given.say(border - off),
        "now": given.say(margins_of(job, now)[0]),
        "larger": given.say(then.window.size),
        "then": given.say(margins_of(job, then)[0]),
    }
