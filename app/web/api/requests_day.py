"""The request of `POST /api/bench/day`: the pieces whose mats are cut together, and the cutter."""

from typing import Annotated, Literal

from pydantic import Field

from app.pricing import MOST_ALIKE
from app.web.api.requests import PieceAsked
from app.web.api.requests_bench import CutterAsked
from app.web.api.requests_lengths import RequestModel

MOST_PIECES = 60


def _unit_of_the_day() -> Literal["mm", "in"]:
    """Stand in for a unit that is left out; whoever reads the piece takes that of the day."""
    return "mm"


class DayPieceAsked(PieceAsked):
    """One of the pieces."""

    id: Annotated[str, Field(min_length=1, max_length=100, description="what tells it from others")]
    unit: Literal["mm", "in"] = Field(
        default_factory=_unit_of_the_day, description="by default that of the day"
    )
    copies: int = Field(
        default=1, strict=True, ge=1, le=MOST_ALIKE, description="how many alike are cut"
    )


class DayAsked(RequestModel):
    """What is cut together, at most sixty pieces; each says of its mats what a request for dimensions does."""

    unit: Literal["mm", "in"]
    cutter: CutterAsked | None = Field(
        default=None, description="that all are cut on; by default the usual one of the unit"
    )
    pieces: tuple[DayPieceAsked, ...]
