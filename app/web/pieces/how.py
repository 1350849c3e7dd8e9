"""How a kind of step is done, as the handbook and the bench show it."""

from dataclasses import dataclass, replace

from markupsafe import Markup

from app.bench import StepCode
from app.drawings import how_to
from app.handbook.how_to import HOW_TO


@dataclass(frozen=True, slots=True, kw_only=True)
class HowView:
    """How a kind of step is done. code: its name in the address of the handbook, "cut-window".

    with_stops: what differs on a cutter with stops, where both are told; else empty.
    """

    code: str
    title: str
    text: str
    caution: str
    drawing: Markup
    with_stops: str = ""


def how_view(code: StepCode, mat_word: str, *, stops: bool) -> HowView:
    """Return how a kind of step is done at a cutter with stops or without, ready to print.

    mat_word: what the shop calls a mat.
    """
    told = HOW_TO[code].calling_mats(mat_word)
    return HowView(
        code=code.value,
        title=told.title,
        text=told.text_at(stops=stops),
        caution=told.caution,
        drawing=Markup(how_to(code, mat_word)),
    )


def how_at_any(code: StepCode, mat_word: str) -> HowView:
    """Return the same for the handbook, which tells of cutters of both kinds."""
    told = HOW_TO[code].calling_mats(mat_word)
    return replace(how_view(code, mat_word, stops=False), with_stops=told.with_stops)
