"""How a kind of step is done, as the handbook and the bench show it."""

from dataclasses import dataclass

from markupsafe import Markup

from app.bench import StepCode
from app.drawings import how_to
from app.handbook.how_to import HOW_TO


@dataclass(frozen=True, slots=True, kw_only=True)
class HowView:
    """How a kind of step is done. code: its name in the address of the handbook, "cut-window"."""

    code: str
    title: str
    text: str
    caution: str
    drawing: Markup


def how_view(code: StepCode) -> HowView:
    """Return how a kind of step is done, ready to print."""
    told = HOW_TO[code]
    return HowView(
        code=code.value,
        title=told.title,
        text=told.text,
        caution=told.caution,
        drawing=Markup(how_to(code)),
    )
