"""The page that shows how each kind of step is done: a drawing, two sentences and a caution each."""

from dataclasses import dataclass

from markupsafe import Markup

from app.bench import StepCode
from app.drawings import how_to
from app.handbook.how_to import HOW_TO
from app.web.kit.templating import Page


@dataclass(frozen=True, slots=True, kw_only=True)
class HowView:
    """How a kind of step is done. code: the address of it on the page, "cut-window"."""

    code: str
    title: str
    text: str
    caution: str
    drawing: Markup


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkPage(Page):
    """Every kind of step, in the order of the work."""

    title: str = "How the work is done"
    steps: tuple[HowView, ...]


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
