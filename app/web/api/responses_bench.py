"""The bench of an answer: what is set, marked and cut on the cutter. `bench_json` writes it.

Edges are named as the mat lies on the cutter, back up, or face up for a reverse bevel: back up, left
and right are exchanged (G10). Coordinates run from the left-top corner of the board as it lies.
"""

from typing import Literal

from pydantic import Field

from app.web.api.answer import JsonAnswer

Edge = Literal["left", "top", "right", "bottom"]


class CutAnswered(JsonAnswer):
    """One straight edge of one window."""

    layer: int
    window: str
    edge: Edge = Field(description="of the board against the guide, as it lies")
    seen: Edge = Field(description="the same edge as seen from the front")


class SettingAnswered(JsonAnswer):
    """One move of the guide, in the order of work."""

    number: int
    at: str = Field(description="on the scale, in its steps")
    check: str = Field(
        description="the same in the other unit, to 1/32 in or 0.1 mm; never to be set"
    )
    pin: str | None = Field(description="the hole at or below it; null without one")
    rest: str = Field(description="what is left to read off the scale beyond the pin")
    cuts: list[CutAnswered]


class MarkAnswered(JsonAnswer):
    """A place along a cut: how far from an edge of the board, less than zero beyond it."""

    edge: Edge
    distance: str = Field(description="in the steps of the scale")
    check: str | None = Field(
        default=None, description="in the unit of the request, where the scale has another one"
    )


class PointAnswered(JsonAnswer):
    """A point of the board as it lies, exact, in the unit of the scale."""

    x: str
    y: str


class GuideLineAnswered(JsonAnswer):
    """A line right across the board, so far from an edge."""

    edge: Edge
    distance: str = Field(description="in the steps of the scale")
    check: str = Field(description="the same in the other unit; never to be marked by")


class CutLineAnswered(JsonAnswer):
    """One cut in the direction of the stroke, with the cutter's offsets."""

    window: str
    edge: Edge
    line: str = Field(description="from the edge to the line, in the steps of the scale")
    start: MarkAnswered
    end: MarkAnswered
    begins: PointAnswered
    ends: PointAnswered


class MarksAnswered(JsonAnswer):
    """The marks of one mat; width and height, exact in the unit of the scale, are those of the edges that
    borders are measured from."""

    layer: int
    back_up: bool
    width: str
    height: str
    guide_lines: list[GuideLineAnswered]
    cuts: list[CutLineAnswered]


class NoticeAnswered(JsonAnswer):
    """Something worth saying."""

    code: str
    message: str
    concern: Literal["note", "look", "risk"]


class BenchAnswered(JsonAnswer):
    """Settings, marks and limits of the mats in the shop's steps.

    Lengths are in the unit of the cutter's scale, which a request may set to another one than its own:
    what is set and marked is a whole number of the scale's steps.
    """

    cutter: str
    scale: Literal["mm", "in"] = Field(description="the unit of every length here")
    check_unit: Literal["mm", "in"] = Field(description="the other unit, that of check values")
    begins_at: str = Field(description="where the guide stands before: at its far end")
    moves: int
    travel: str = Field(description="of the guide, from where it stands through all settings")
    proven: bool = Field(description="no order has fewer moves, or as few and less travel")
    settings: list[SettingAnswered]
    marks: list[MarksAnswered]
    limits: list[NoticeAnswered] = Field(description="what this cutter cannot do with the piece")
    notices: list[NoticeAnswered]
