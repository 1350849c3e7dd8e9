"""The cutter of a request, for the settings and marks that the answer gives as `bench` (B1 to B5)."""

from typing import Literal

from pydantic import Field

from app.web.api.requests_lengths import LengthText, RequestModel


class PinsAsked(RequestModel):
    """Holes for a pin: the first one, and one every pitch from there."""

    first: LengthText
    pitch: LengthText


class CorrectionsAsked(RequestModel):
    """What a test cut found; each may be less than zero."""

    guide: LengthText = Field(default="0", description="added to every setting")
    start: LengthText = Field(
        default="0", description="how far beyond the window's corner a cut begins"
    )
    end: LengthText = Field(
        default="0", description="how far beyond the window's corner a cut ends"
    )


class ScaleAsked(RequestModel):
    """One scale of a cutter. Its lengths are in its own unit, whatever the unit of the request."""

    unit: Literal["mm", "in"]
    step: LengthText | None = Field(
        default=None, description="the finest that is read off the scale; else as is usual"
    )
    pins: PinsAsked | None = Field(default=None, description="its own row of holes")


class StopCorrectionsAsked(RequestModel):
    """What a test cut found of the stops; each may be less than zero."""

    near: LengthText = Field(default="0", description="added where the near stop is set")
    far: LengthText = Field(default="0", description="added where the far stop is set")


class StopsAsked(RequestModel):
    """The stops on the bar, which bind the way of the head."""

    near: bool = Field(
        default=False,
        strict=True,
        description="there is one at the squaring arm, where the near edge of the board lies",
    )
    far: bool = Field(default=False, strict=True, description="there is one at the other end")
    corrections: StopCorrectionsAsked = StopCorrectionsAsked()
    guide: Literal["left", "right"] = Field(
        default="left",
        description="the side of the bar on which the guide lies: on the right, the squaring arm is at the other end of "
        "a cut, and stroke is said the other way round",
    )


class CutterAsked(RequestModel):
    """A hand mat cutter; whatever is left out is as the usual one of its unit has it.

    Lengths are in the unit of the request, whatever the unit of the scale; within `scales` in that of each.
    One scale is described by `unit`, `step` and `pins`, or one or two of different units by `scales` instead: of
    two, the one in the unit of the request is the one in use.
    """

    name: str = Field(default="Mat cutter", max_length=200)
    unit: Literal["mm", "in"] | None = Field(
        default=None, description="of the scale; by default the unit of the request"
    )
    cut_length: LengthText | None = Field(default=None, description="the longest run of the head")
    guide_reach: LengthText | None = Field(
        default=None, description="the largest setting of the guide, where it stands at first"
    )
    step: LengthText | None = Field(
        default=None, description="the finest that is read off the scale"
    )
    deepest_board: LengthText | None = Field(
        default=None, description="the thickest board that the blade goes through"
    )
    pins: PinsAsked | None = None
    scales: tuple[ScaleAsked, ...] | None = Field(
        default=None, max_length=2, description="instead of unit, step and pins"
    )
    reads: Literal["back-line", "face"] = Field(
        default="back-line",
        description="which line of a cut the scale reads: where the blade enters, or comes out",
    )
    stroke: Literal["pull", "push"] = Field(
        default="pull",
        description="towards the hand or away from it, with the guide to the left of the bar",
    )
    corrections: CorrectionsAsked | None = None
    cuts_ovals: bool = Field(default=False, strict=True)
    stops: StopsAsked = StopsAsked()
    arm_reach: LengthText | None = Field(
        default=None,
        description="the longest side of a board that is measured at the squaring arm; left out, nothing is said of it",
    )
