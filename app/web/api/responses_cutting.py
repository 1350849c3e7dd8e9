"""The answers of `POST /api/cutting/sticks` and `/sheets`, for the description at /docs.

Lengths are exact text in the unit of the request, costs exact text in the unit of its costs; shares
are decimals rounded to three places, half up.
"""

from fractions import Fraction
from math import floor
from typing import Annotated, Literal

from pydantic import BeforeValidator, ConfigDict, Field

from app.lengths import Length, Unit, exact_text
from app.web.api.answer import Exact, JsonAnswer, read_from


def _share(value: object) -> object:
    """Return a share from 0 to 1, rounded half up to three places: "0.081"."""
    if not isinstance(value, Fraction):
        return value
    thousandths = floor(value * 1000 + Fraction(1, 2))
    return f"{thousandths // 1000}.{thousandths % 1000:03d}"


def _number(value: object) -> object:
    """Return an exact number, as a length of so many millimetres is written: "2.5", "1/3"."""
    return exact_text(Length(value), Unit.MM) if isinstance(value, Fraction) else value


def _one_or_none(value: object) -> object:
    return value if isinstance(value, list) else [value] if value else []


Share = Annotated[str, BeforeValidator(_share)]
Number = Annotated[str, BeforeValidator(_number)]
Copy = Annotated[int, Field(description="from 1, of those of its id")]


class UnplacedAnswered(JsonAnswer):
    """Parts that are in no stick or sheet, and why."""

    id: str
    copies: int
    code: str = Field(description="stable, for programs")
    reason: str


class _PlanAnswered(JsonAnswer):
    """More members may come; those named here stay."""

    model_config = ConfigDict(extra="allow")

    unit: Literal["mm", "in"] = read_from("asked", "unit")
    opened: dict[str, int] = Field(description="how many of each stock are opened, by its id")
    cost: Number = Field(description="of what is opened")
    lower_bound: Number = Field(description="no plan for the placed parts can cost less")
    proven: bool = Field(description="whether the cost is the bound, so that no plan is cheaper")
    waste_share: Share = Field(
        description="of what is opened, what is in no part, offcuts worth keeping included; "
        "rounded to three places"
    )
    kept_share: Share = Field(
        description="of what is opened, what is kept as offcuts; rounded to three places"
    )
    maker: Literal["solver", "simple"] = Field(
        description="simple where our own rule does as well as the solver, or serves because that "
        "gave no plan in time"
    )
    unplaced: list[UnplacedAnswered]


class StickCutAnswered(JsonAnswer):
    """One cut, after a part; trimming the near end comes before them."""

    at: Exact = Field(description="its near side from the left end; the kerf lies beyond it")


class RailAnswered(JsonAnswer):
    """A part on a stick, from the left end of that."""

    id: str
    copy_: Copy = Field(alias="copy")
    at: Exact
    length: Exact


class StickRestAnswered(JsonAnswer):
    """An offcut of a stick that is worth keeping."""

    at: Exact
    length: Exact


class StickAnswered(JsonAnswer):
    """One stick that is opened, and what is cut from it."""

    stock: str
    copy_: Copy = Field(alias="copy")
    cuts: tuple[StickCutAnswered, ...] = ()
    parts: list[RailAnswered]
    offcuts: Annotated[list[StickRestAnswered], BeforeValidator(_one_or_none)] = read_from(
        "offcut", description="one or none"
    )


class SticksAnswered(_PlanAnswered):
    """A proven plan for sticks, checked by code that did not make it."""

    bins: list[StickAnswered]


class SheetCutAnswered(JsonAnswer):
    """One edge-to-edge cut, in the order of work."""

    stage: int = Field(
        description="1 for the cuts of the first direction, one more at each change; 0 for "
        "trimming the sheet's edges"
    )
    way: Literal["across", "down"]
    at: Exact = Field(
        description="its near side from the top (across) or the left (down) edge of the sheet; the "
        "kerf lies beyond it"
    )
    start: Exact = Field(description="where it begins, along the other direction")
    end: Exact


class LaidAnswered(JsonAnswer):
    """A part on a sheet by its left-top corner; width and height as it lies."""

    id: str
    copy_: Copy = Field(alias="copy")
    x: Exact
    y: Exact
    width: Exact = read_from("size", "width")
    height: Exact = read_from("size", "height")
    turned: bool


class SheetRestAnswered(JsonAnswer):
    """An offcut of a sheet that is worth keeping."""

    x: Exact
    y: Exact
    width: Exact = read_from("size", "width")
    height: Exact = read_from("size", "height")


class SheetAnswered(JsonAnswer):
    """One sheet that is opened, its cuts and what they free."""

    stock: str
    copy_: Copy = Field(alias="copy")
    cuts: list[SheetCutAnswered]
    parts: list[LaidAnswered]
    offcuts: list[SheetRestAnswered]


class SheetsAnswered(_PlanAnswered):
    """A proven plan for sheets, checked by code that did not make it."""

    bins: list[SheetAnswered]
