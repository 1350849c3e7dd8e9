"""The mats of several pieces cut together: one plan for the guide and the stops, and what it saves (B10).

Owns the day at the cutter. In which order guide and stops are set is for `settings`, which knows no pieces.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from app.bench.cutter import Cutter
from app.bench.mats import MatToCut
from app.bench.settings import GuidePlan, by_piece, plan_settings
from app.bench.sizing import Blank, Sizing, sizing
from app.errors import FaultCollector
from app.framing import Notice
from app.lengths import Length, Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Apart:
    """How often guide and stops are set with the pieces one after the other.

    at_most: whether a longer search of some piece may find fewer moves of the stops.
    """

    moves: int
    stop_moves: int
    at_most: bool = False

    @classmethod
    def of(cls, plans: Iterable[GuidePlan], *, at_most: bool = False) -> "Apart":
        """Return what the plans of some pieces take, each by itself. at_most: whether their searches were short."""
        plans = tuple(plans)
        return cls(
            moves=sum(plan.moves for plan in plans),
            stop_moves=sum(plan.stop_moves for plan in plans),
            at_most=at_most and not all(plan.fewest_stops for plan in plans),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class DayPlan:
    """The mats of several pieces, cut by setting of the guide and within it by the stops.

    guide: the one plan for all of them; `Setting.cuts` say by `cut.mat.piece` whose they are. apart: what the same
    pieces take one after the other. sizing: of the blanks. copies: how often each piece is made, by its
    name; once where it is not named. A mat is cut that often at the same setting.
    """

    guide: GuidePlan
    apart: Apart
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
    def moves_apart(self) -> int:
        """How often the guide would be set with the same pieces one after the other."""
        return self.apart.moves

    @property
    def stop_moves_apart(self) -> int | None:
        """How often a stop would be set with the same pieces one after the other; None without stops."""
        return self.apart.stop_moves if self.guide.cutter.stops.fitted else None

    @property
    def stop_moves_apart_at_most(self) -> bool:
        """Whether that is an upper figure: a longer search of some piece by itself may find fewer."""
        return self.guide.cutter.stops.fitted and self.apart.at_most

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


def plan_day(  # noqa: PLR0913 - what a day follows from
    mats: Sequence[MatToCut],
    cutter: Cutter,
    *,
    copies: Mapping[str, int] | None = None,
    guide_at: Length | None = None,
    ticket: Unit | None = None,
    apart: Apart | None = None,
    mat_word: str = "mat",
) -> DayPlan:
    """Return the plan for the mats of all pieces; `MatToCut.piece` tells them apart.

    copies: how often a piece is made, by its name, where it is more than once. guide_at, ticket: as of `plan_settings`.
    apart: what the pieces take by themselves, where their own plans are known; else each is planned here, and these
    plans share the effort of one. mat_word: what the shop calls a mat.
    Raises: Invalid where the same mat is given twice, or a piece is to be made less than once.
    Source: handbook B10, B11.
    """
    made = dict(copies or {})
    _check_copies(made)
    return DayPlan(
        guide=plan_settings(mats, cutter, guide_at=guide_at, ticket=ticket),
        apart=apart or _apart(mats, cutter, guide_at),
        sizing=sizing(_blanks(mats, made, mat_word), cutter),
        copies=made,
    )


def _apart(mats: Sequence[MatToCut], cutter: Cutter, guide_at: Length | None) -> Apart:
    """Return what the pieces take by themselves; those of the same mats are planned once."""
    pieces = [tuple(replace(mat, piece="") for mat in own) for own in by_piece(mats).values()]
    alike = len(set(pieces))
    plans = {own: plan_settings(own, cutter, guide_at=guide_at, plans=alike) for own in set(pieces)}
    return Apart.of((plans[own] for own in pieces), at_most=alike > 1)


def _blanks(mats: Sequence[MatToCut], copies: Mapping[str, int], mat_word: str) -> Iterator[Blank]:
    for mat in mats:
        if mat.ready_cut:
            continue
        yield Blank(
            piece=mat.piece,
            part=f"{mat_word} {mat.layer}",
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
