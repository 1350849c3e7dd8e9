"""The page that shows how each kind of step is done: a drawing, two sentences and a caution each."""

from dataclasses import dataclass

from app.web.kit.templating import Page
from app.web.pieces.how import HowView


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkPage(Page):
    """Every kind of step, in the order of the work."""

    title: str = "How the work is done"
    steps: tuple[HowView, ...]
