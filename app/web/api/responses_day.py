"""The answer of `POST /api/bench/day`: one order of work for the mats of several pieces (B10, B11)."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from pydantic import AliasPath, Field

from app.bench import DayPlan, Side
from app.framing import Notice
from app.lengths import Length
from app.web.api.answer import JsonAnswer, read_from
from app.web.api.responses_bench import (
    CutAnswered,
    CutByHandAnswered,
    NoticeAnswered,
    OnScale,
    SettingAnswered,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class BlankSide:
    """One side of a blank that is set on the squaring arm."""

    piece: str
    layer: int | None
    side: Side


@dataclass(frozen=True, slots=True, kw_only=True)
class SizedTogether:
    """Sides that one setting of the squaring arm serves."""

    at: Length
    blanks: tuple[BlankSide, ...]
    beyond: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """What is answered of a day. notices: of the plan, of what the cutter cannot do, and of the sizing."""

    plan: DayPlan
    notices: tuple[Notice, ...]

    @property
    def sizing(self) -> tuple[SizedTogether, ...]:
        """Each setting of the arm, the longest first, then what lies beyond it."""
        return tuple(
            SizedTogether(
                at=setting.at,
                beyond=setting.beyond,
                blanks=tuple(
                    BlankSide(piece=each.blank.piece, layer=each.blank.layer, side=side)
                    for each in setting.blanks
                    for side in each.sides
                ),
            )
            for setting in self.plan.sizing.settings
        )

    @property
    def stop_moves(self) -> int | None:
        """How often a stop is moved; None without stops."""
        return self.plan.stop_moves

    @property
    def stop_moves_apart(self) -> int | None:
        """How often with the same pieces one after the other; None without stops."""
        return self.plan.stop_moves_apart

    @property
    def stop_moves_apart_at_most(self) -> bool:
        """Whether a longer search may find fewer of these."""
        return self.plan.stop_moves_apart_at_most

    @property
    def copies(self) -> Mapping[str, int]:
        """The pieces that are made more than once, and how often."""
        return {piece: count for piece, count in self.plan.copies.items() if count > 1}


class DayCutAnswered(CutAnswered):
    """One straight edge of one window of one piece."""

    piece: str = read_from("mat", "piece")


class DaySettingAnswered(SettingAnswered):
    """One move of the guide, with the cuts of all pieces, in the order of work."""

    cuts: tuple[DayCutAnswered, ...]


class DayCutByHandAnswered(CutByHandAnswered):
    """One straight edge of one window of one piece that the cutter cannot make."""

    piece: str = read_from("mat", "piece")


class BlankSideAnswered(JsonAnswer):
    """One side of the blank of a mat."""

    piece: str
    layer: int
    side: Literal["width", "height"]


class SizingAnswered(JsonAnswer):
    """One setting of the stop on the squaring arm."""

    at: OnScale = Field(description="on the scale, in its steps")
    blanks: tuple[BlankSideAnswered, ...]
    beyond: bool = Field(
        default=False,
        exclude_if=lambda beyond: not beyond,
        description="the arm does not reach it: it is measured and marked",
    )


class DayAnswered(JsonAnswer):
    """The mats of all pieces in one order of work: the fewest moves of the guide, then of the stops, then the least
    travel of the guide.

    Lengths are in the unit of the cutter's scale.
    """

    cutter: str = read_from("plan", "guide", "cutter", "name")
    scale: Literal["mm", "in"] = read_from(
        "plan", "guide", "cutter", "unit", description="the unit of every length here"
    )
    settings: tuple[DaySettingAnswered, ...] = read_from("plan", "guide", "settings")
    by_straight_edge: tuple[DayCutByHandAnswered, ...] = Field(
        default=(),
        validation_alias=AliasPath("plan", "guide", "by_straight_edge"),
        exclude_if=lambda cuts: not cuts,
        description="edges that this cutter cannot make, which are no settings and count as no move",
    )
    moves: int = read_from("plan", "moves", description="of the guide, the first one included")
    moves_apart: int = read_from(
        "plan", "moves_apart", description="with the same pieces one after the other"
    )
    stop_moves: int | None = Field(
        default=None,
        exclude_if=lambda moves: moves is None,
        description="of the stops, the first ones included; of a cutter that has stops",
    )
    stop_moves_apart: int | None = Field(
        default=None,
        exclude_if=lambda moves: moves is None,
        description="with the same pieces one after the other",
    )
    stop_moves_apart_at_most: bool = Field(
        default=False,
        exclude_if=lambda at_most: not at_most,
        description="stop_moves_apart is an upper figure: a longer search of a piece by itself may find fewer",
    )
    sizing: tuple[SizingAnswered, ...] = Field(
        description="each width and height of a blank once, the longest first; what the arm does not reach comes last"
    )
    copies: dict[str, int] = Field(
        default_factory=dict,
        exclude_if=lambda copies: not copies,
        description="the pieces that are cut more than once: so often at each of their cuts",
    )
    moves_proven: bool = read_from(
        "plan", "moves_proven", description="no order has fewer moves of the guide"
    )
    stop_moves_proven: bool = read_from(
        "plan", "stop_moves_proven", description="nor as few and fewer of the stops"
    )
    proven: bool = read_from(
        "plan", "proven", description="nor as few of both and less travel of the guide"
    )
    notices: tuple[NoticeAnswered, ...]
