"""Which drawing shows how a step is done, by its kind."""

from collections.abc import Mapping
from functools import cache

from app.bench import StepCode
from app.drawings.how_to import of_mats, of_package
from app.drawings.how_to.strokes import Sketch

SKETCHES: Mapping[StepCode, Sketch] = {
    StepCode.SIZE_BLANKS: of_mats.SIZE_BLANKS,
    StepCode.MARK: of_mats.MARK,
    StepCode.FIX_BEHIND: of_mats.FIX_BEHIND,
    StepCode.CUT_WINDOW: of_mats.CUT_WINDOW,
    StepCode.CUT_CURVES: of_mats.CUT_CURVES,
    StepCode.DROP_OUT: of_mats.DROP_OUT,
    StepCode.MATS_TOGETHER: of_mats.MATS_TOGETHER,
    StepCode.FILLET_RAILS: of_mats.FILLET_RAILS,
    StepCode.FILLET_IN: of_mats.FILLET_IN,
    StepCode.TAKE_APART: of_package.TAKE_APART,
    StepCode.CLEAN: of_package.CLEAN,
    StepCode.GLAZING: of_package.GLAZING,
    StepCode.BOARD: of_package.BOARD,
    StepCode.SPACERS: of_package.SPACERS,
    StepCode.RAILS: of_package.RAILS,
    StepCode.JOIN: of_package.JOIN,
    StepCode.FRAMES_TOGETHER: of_package.FRAMES_TOGETHER,
    StepCode.TREAT: of_package.TREAT,
    StepCode.PLACE: of_package.PLACE,
    StepCode.SPACERS_IN: of_package.SPACERS_IN,
    StepCode.FIT: of_package.FIT,
    StepCode.HANG: of_package.HANG,
    StepCode.LABEL: of_package.LABEL,
}


@cache
def how_to(code: StepCode, mat_word: str = "mat") -> str:
    """Return the drawing of a kind of step as an SVG document. mat_word: what the shop calls a mat."""
    return SKETCHES[code].drawn(mat_word)
