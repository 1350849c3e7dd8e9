"""The answers of `POST /api/cutting/sticks` and `/sheets`, for the description at /docs.

Lengths are exact text in the unit of the request, costs exact text in the unit of its costs; shares
are decimals rounded to three places, half up.
"""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field


class _Answered(BaseModel):
    model_config = ConfigDict(extra="forbid")


Copy = Annotated[int, Field(description="from 1, of those of its id")]


class UnplacedAnswered(_Answered):
    """Parts that are in no stick or sheet, and why."""

    id: str
    copies: int
    code: str = Field(description="stable, for programs")
    reason: str


class _PlanAnswered(_Answered):
    """More members may come; those named here stay."""

    model_config = ConfigDict(extra="allow")

    unit: Literal["mm", "in"]
    opened: dict[str, int] = Field(description="how many of each stock are opened, by its id")
    cost: str = Field(description="of what is opened")
    lower_bound: str = Field(description="no plan for the placed parts can cost less")
    proven: bool = Field(description="whether the cost is the bound, so that no plan is cheaper")
    waste_share: str = Field(
        description="of what is opened, what is in no part, offcuts worth keeping included; "
        "rounded to three places"
    )
    kept_share: str = Field(
        description="of what is opened, what is kept as offcuts; rounded to three places"
    )
    maker: Literal["solver", "simple"] = Field(
        description="simple where our own rule does as well as the solver, or serves because that "
        "gave no plan in time"
    )
    unplaced: list[UnplacedAnswered]


class StickCutAnswered(_Answered):
    """One cut, after a part; trimming the near end comes before them."""

    at: str = Field(description="its near side from the left end; the kerf lies beyond it")


class RailAnswered(_Answered):
    """A part on a stick, from the left end of that."""

    id: str
    copy_: Copy = Field(alias="copy")
    at: str
    length: str


class StickRestAnswered(_Answered):
    """An offcut of a stick that is worth keeping."""

    at: str
    length: str


class StickAnswered(_Answered):
    """One stick that is opened, and what is cut from it."""

    stock: str
    copy_: Copy = Field(alias="copy")
    cuts: list[StickCutAnswered]
    parts: list[RailAnswered]
    offcuts: list[StickRestAnswered] = Field(description="one or none")


class SticksAnswered(_PlanAnswered):
    """A proven plan for sticks, checked by code that did not make it."""

    bins: list[StickAnswered]


class SheetCutAnswered(_Answered):
    """One edge-to-edge cut, in the order of work."""

    stage: int = Field(
        description="1 for the cuts of the first direction, one more at each change; 0 for "
        "trimming the sheet's edges"
    )
    way: Literal["across", "down"]
    at: str = Field(
        description="its near side from the top (across) or the left (down) edge of the sheet; the "
        "kerf lies beyond it"
    )
    start: str = Field(description="where it begins, along the other direction")
    end: str


class LaidAnswered(_Answered):
    """A part on a sheet by its left-top corner; width and height as it lies."""

    id: str
    copy_: Copy = Field(alias="copy")
    x: str
    y: str
    width: str
    height: str
    turned: bool


class SheetRestAnswered(_Answered):
    """An offcut of a sheet that is worth keeping."""

    x: str
    y: str
    width: str
    height: str


class SheetAnswered(_Answered):
    """One sheet that is opened, its cuts and what they free."""

    stock: str
    copy_: Copy = Field(alias="copy")
    cuts: list[SheetCutAnswered]
    parts: list[LaidAnswered]
    offcuts: list[SheetRestAnswered]


class SheetsAnswered(_PlanAnswered):
    """A proven plan for sheets, checked by code that did not make it."""

    bins: list[SheetAnswered]
