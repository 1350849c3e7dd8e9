"""The mats of several pieces cut together: one plan for the guide and the stops, and what it saves (B10).

Owns the day at the cutter. In which order guide and stops are set is for `settings`, which knows no pieces.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from app.bench.cutter import Cutter
from app.bench.mats import MatToCut
from app.bench.settings import GuidePlan, by_piece, plan_settings
from app.bench.sizing import Blank, Sizing, sizing
from app.errors import FaultCollector
from app.framing import Notice
from app.lengths import Length, Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class DayPlan:
    """The mats of several pieces, cut by setting of the guide and within it by the stops.

    guide: the one plan for all of them; `Setting.cuts` say by `cut.mat.piece` whose they are. moves_apart,
    stop_moves_apart: how often the guide and the stops would be set with the same pieces one after the other, the
    latter None for a cutter without stops. sizing: of the blanks. copies: how often each piece is made, by its
    name; once where it is not named. A mat is cut that often at the same setting.
    """

    guide: GuidePlan
    moves_apart: int
    stop_moves_apart: int | None = None
    sizing: Sizing
    copies: Mapping[str, int] = field(default_factory=dict)

    @property
    def moves(self) -> int:
        """How often the guide is set, the first time included."""
        return self.guide.moves

    @property
    def stop_moves(self) -> int | None:
        """How often a stop is set to another place, the first time included; None without stops."""
        return self.guide.stop_moves if self.guide.cutter.stops.fitted else None

    @property
    def moves_proven(self) -> bool:
        """Whether no order has fewer moves of the guide."""
        return self.guide.fewest

    @property
    def stop_moves_proven(self) -> bool:
        """Whether, besides, none that has as few has fewer of the stops."""
        return self.guide.fewest_stops

    @property
    def proven(self) -> bool:
        """Whether, besides, none that has as few of both has less travel of the guide."""
        return self.guide.proven

    @property
    def notices(self) -> tuple[Notice, ...]:
        """What is worth saying of the day as a whole."""
        return self.guide.notices

    @property
    def pieces(self) -> tuple[str, ...]:
        """The pieces that have something to cut along the guide, in the order of work."""
        cuts = (cut for setting in self.guide.settings for cut in setting.cuts)
        return tuple(dict.fromkeys(cut.mat.piece for cut in cuts))

    def copies_of(self, piece: str) -> int:
        """Return how often each mat of a piece is cut."""
        return self.copies.get(piece, 1)


def plan_day(
    mats: Sequence[MatToCut],
    cutter: Cutter,
    *,
    copies: Mapping[str, int] | None = None,
    guide_at: Length | None = None,
    ticket: Unit | None = None,
) -> DayPlan:
    """Return the plan for the mats of all pieces; `MatToCut.piece` tells them apart.

    copies: how often a piece is made, by its name, where it is more than once. guide_at, ticket: as of `plan_settings`.
    Raises: Invalid where the same mat is given twice, or a piece is to be made less than once.
    Source: handbook B10, B11.
    """
    made = dict(copies or {})
    _check_copies(made)
    pieces = by_piece(mats).values()
    apart = [plan_settings(own, cutter, guide_at=guide_at, plans=len(pieces)) for own in pieces]
    return DayPlan(
        guide=plan_settings(mats, cutter, guide_at=guide_at, ticket=ticket),
        moves_apart=sum(plan.moves for plan in apart),
        stop_moves_apart=sum(plan.stop_moves for plan in apart) if cutter.stops.fitted else None,
        sizing=sizing(_blanks(mats, made), cutter),
        copies=made,
    )


def _blanks(mats: Sequence[MatToCut], copies: Mapping[str, int]) -> Iterator[Blank]:
    for mat in mats:
        yield Blank(
            piece=mat.piece,
            part=f"mat {mat.layer}",
            layer=mat.layer,
            width=mat.blank.width,
            height=mat.blank.height,
            count=copies.get(mat.piece, 1),
        )


def _check_copies(copies: Mapping[str, int]) -> None:
    found = FaultCollector()
    for piece, number in copies.items():
        if number < 1:
            found.add(
                f"copies.{piece}",
                f"{piece} is to be made {number} times; it must be at least once.",
            )
    found.finish()
