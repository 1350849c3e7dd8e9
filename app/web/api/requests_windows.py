"""Several windows in a request: each one's size and place, and the rows they stand in (G9, G20)."""

from typing import Annotated, Literal

from pydantic import Field

from app.framing import MOST_WINDOWS
from app.web.api.requests_lengths import LengthText, RequestModel, SizeAsked
from app.web.api.typed_fields import FormModel, TypedFields

Count = Annotated[int, Field(strict=True, ge=1, le=MOST_WINDOWS)]


class SlotAsked(RequestModel):
    """A title slot, centred under its window and cut through every layer."""

    width: LengthText = Field(description="in the innermost mat, as a window's")
    height: LengthText
    gap: LengthText = Field(description="from the window to the slot, in the top mat")


class WindowBase(FormModel):
    """A window but for its slot."""

    id: str | None = Field(
        default=None,
        max_length=200,
        description="a short name of its own; by default A, B, C, … in order",
    )
    width: LengthText | None = None
    height: LengthText | None = None
    artwork: SizeAsked | None = Field(
        default=None, description="the window follows from it by overlap or gap"
    )
    x: LengthText | None = Field(
        default=None,
        description="left edge of its window in the top mat, from that mat's left edge, seen from "
        "the front; with y, for every window or for none",
    )
    y: LengthText | None = Field(default=None, description="top edge, from the mat's top edge")
    presentation: Literal["window", "float"] | None = Field(
        default=None, description="by default as the piece"
    )
    overlap: LengthText | None = Field(default=None, description="by default the piece's")
    gap: LengthText | None = Field(default=None, description="by default the piece's")
    shape: Literal["rectangle", "oval", "arch"] = Field(
        default="rectangle",
        description="oval: by its axes, a circle where they are equal; arch: a round top on "
        "straight sides",
    )
    rise: LengthText | None = Field(
        default=None,
        description="height of an arch's round top, half an oval as wide as the window; by default "
        "half the width, a half circle",
    )


class WindowAsked(WindowBase):
    """One window: either width and height of the innermost window, or the artwork behind it."""

    slot: SlotAsked | None = None


class ArrangementAsked(FormModel):
    """Windows in rows from the top, in the order in which they are given.

    A gap that is not given follows from the package: between the borders where both are given,
    else as wide as the borders. The tightest row sets it for all, shorter rows are centred.
    """

    rows: tuple[Count, ...] | None = Field(
        default=None, description="how many windows stand in each row", examples=[[3, 2]]
    )
    columns: Count | None = Field(
        default=None, description="rows of so many windows, the last one what is left over"
    )
    align: Literal["top", "centre", "bottom"] = Field(
        default="centre", description="where the windows of a row meet"
    )
    across: LengthText | None = Field(
        default=None, description="gap between neighbours in a row, in the top mat"
    )
    down: LengthText | None = Field(default=None, description="gap between rows, in the top mat")

    def type_into(self, typed: TypedFields, path: str = "") -> None:
        """Rows are typed as the form has them, by their numbers or by how many stand in each."""
        super().type_into(typed, path)
        rows = ", ".join(map(str, self.rows)) if self.rows else None
        typed.say(f"{path}.rows", rows)
        columns = None if self.columns is None else str(self.columns)
        typed.say(f"{path}.columns", columns, f"{path}.rows")
