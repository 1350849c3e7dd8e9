"""The bench of an answer: settings in the order of work, marks of each mat, limits (B1 to B5).

Edges are named as the mat lies on the cutter, back up, or face up for a reverse bevel: back up, left
and right are exchanged (G10). Coordinates run from the left-top corner of the board as it lies.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import AliasPath, BeforeValidator, Field, ValidationInfo

from app.bench import GuidePlan, Marks, Scale
from app.framing import Notice
from app.lengths import Length, Unit, exact_text
from app.web.api.answer import JsonAnswer, read_from


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What is answered of the bench, and what its members are said by. ticket: the unit of the request."""

    plan: GuidePlan
    marks: tuple[Marks, ...]
    limits: tuple[Notice, ...]
    ticket: Unit

    @property
    def scale(self) -> Scale:
        """What is set and marked, as it is read."""
        return self.plan.cutter.scale


def _said(say: Callable[[Length, Bench], str | None]) -> BeforeValidator:
    def said(value: object, info: ValidationInfo) -> object:
        if not isinstance(value, Length):
            return value
        assert isinstance(info.context, Bench), "a bench is said by its own scale"
        return say(value, info.context)

    return BeforeValidator(said)


def _check(length: Length, bench: Bench) -> str:
    return exact_text(bench.scale.checked(length), bench.scale.other)


def _check_of_another(length: Length, bench: Bench) -> str | None:
    """Tell where the request has another unit than the scale (L3)."""
    return None if bench.ticket is bench.scale.unit else _check(length, bench)


Edge = Literal["left", "top", "right", "bottom"]
InScaleUnit = Annotated[str, _said(lambda length, bench: exact_text(length, bench.scale.unit))]
OnScale = Annotated[
    str, _said(lambda length, bench: exact_text(bench.scale.nearest(length), bench.scale.unit))
]
Check = Annotated[str, _said(_check)]


class StopsAnswered(JsonAnswer):
    """Where the stops stand for a cut, from the squaring arm along the bar; without one that is not set."""

    near: OnScale | None = Field(
        default=None, exclude_if=lambda near: near is None, description="at the squaring arm"
    )
    far: OnScale | None = Field(
        default=None,
        exclude_if=lambda far: far is None,
        description="on the other side of the head",
    )


class CutAnswered(JsonAnswer):
    """One straight edge of one window."""

    layer: int = read_from("mat", "layer")
    window: str = read_from("window", "name")
    edge: Edge = read_from(
        "edge_as_it_lies", description="of the board against the guide, as it lies"
    )
    seen: Edge = read_from("edge", description="the same edge as seen from the front")
    stops: StopsAnswered | None = Field(
        default=None,
        validation_alias="stops_set",
        exclude_if=lambda stops: stops is None,
        description="of a cutter that has stops",
    )


class CutByHandAnswered(CutAnswered):
    """One straight edge of one window that the cutter cannot make: its line is drawn and cut by straight-edge."""

    line: OnScale = read_from(
        "distance", description="from the edge to the line, in the steps of the scale"
    )
    check: Check = read_from(
        "distance", description="the same in the other unit; never to be marked by"
    )


class SettingAnswered(JsonAnswer):
    """One move of the guide, in the order of work."""

    number: int
    at: OnScale = Field(description="on the scale, in its steps")
    check: Check = read_from(
        "at", description="the same in the other unit, to 1/32 in or 0.1 mm; never to be set"
    )
    pin: OnScale | None = Field(description="the hole at or below it; null without one")
    rest: InScaleUnit = read_from(
        "rest_read", description="what is left to read off the scale beyond the pin"
    )
    cuts: tuple[CutAnswered, ...]


class MarkAnswered(JsonAnswer):
    """A place along a cut: how far from an edge of the board, less than zero beyond it."""

    edge: Edge
    distance: OnScale = Field(description="in the steps of the scale")
    check: Annotated[str | None, _said(_check_of_another)] = Field(
        default=None,
        validation_alias="distance",
        exclude_if=lambda check: check is None,
        description="in the unit of the request, where the scale has another one",
    )


class PointAnswered(JsonAnswer):
    """A point of the board as it lies, exact, in the unit of the scale."""

    x: InScaleUnit
    y: InScaleUnit


class GuideLineAnswered(JsonAnswer):
    """A line right across the board, so far from an edge."""

    edge: Edge
    distance: OnScale = Field(description="in the steps of the scale")
    check: Check = read_from(
        "distance", description="the same in the other unit; never to be marked by"
    )


class CutLineAnswered(JsonAnswer):
    """One cut in the direction of the stroke, with the cutter's offsets."""

    window: str = read_from("cut", "window", "name")
    edge: Edge = read_from("cut", "edge_as_it_lies")
    line: OnScale = read_from(
        "cut", "distance", description="from the edge to the line, in the steps of the scale"
    )
    start: MarkAnswered = read_from("from_start")
    end: MarkAnswered = read_from("from_end")
    begins: PointAnswered
    ends: PointAnswered


class MarksAnswered(JsonAnswer):
    """The marks of one mat; width and height, exact in the unit of the scale, are those of the edges that
    borders are measured from."""

    layer: int = read_from("mat", "layer")
    back_up: bool
    width: InScaleUnit = read_from("size", "width")
    height: InScaleUnit = read_from("size", "height")
    guide_lines: tuple[GuideLineAnswered, ...]
    cuts: tuple[CutLineAnswered, ...] = read_from("cut_lines")


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

    cutter: str = read_from("plan", "cutter", "name")
    scale: Literal["mm", "in"] = read_from(
        "scale", "unit", description="the unit of every length here"
    )
    check_unit: Literal["mm", "in"] = read_from(
        "scale", "other", description="the other unit, that of check values"
    )
    begins_at: InScaleUnit = read_from(
        "plan", "begins_at", description="where the guide stands before: at its far end"
    )
    moves: int = read_from("plan", "moves")
    travel: InScaleUnit = read_from(
        "plan",
        "travel",
        description="of the guide, from where it stands through all settings",
    )
    proven: bool = read_from(
        "plan", "proven", description="no order has fewer moves, or as few and less travel"
    )
    settings: tuple[SettingAnswered, ...] = read_from("plan", "settings")
    by_straight_edge: tuple[CutByHandAnswered, ...] = Field(
        default=(),
        validation_alias=AliasPath("plan", "by_straight_edge"),
        exclude_if=lambda cuts: not cuts,
        description="edges that this cutter cannot make, which are no settings and count as no move",
    )
    marks: tuple[MarksAnswered, ...]
    limits: tuple[NoticeAnswered, ...] = Field(
        description="what this cutter cannot do with the piece"
    )
    notices: tuple[NoticeAnswered, ...] = read_from("plan", "notices")
