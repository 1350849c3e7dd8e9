"""Sizing the blanks: what is set on the squaring arm for each width and height, each once (B11).

Owns the settings of the arm's stop and what is too long for it. It knows no drawing of the parts and
no sheet that they are cut from: where a cutting plan holds them, its cuts give the order. Who asks gives boards
alone: glass is scored at a table with a straight-edge of its own.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from app.bench.cutter import Cutter
from app.framing import Concern, Notice
from app.lengths import Length, show

BEYOND_ARM = "beyond the arm: measure and mark"
"""What stands at a length that the squaring arm does not reach."""

MOST_NAMED = 6
"""More parts than this are counted in a sentence instead of named."""


class Side(StrEnum):
    """A side of a blank that is set on the arm."""

    WIDTH = "width"
    HEIGHT = "height"


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """A part that is cut edge to edge, in the steps of its ticket.

    piece: what tells it from parts of other pieces, empty where there is one. part: what it is called.
    layer: of a mat, else None. count: how many are alike.
    """

    piece: str = ""
    part: str
    layer: int | None = None
    width: Length
    height: Length
    count: int = 1

    @property
    def name(self) -> str:
        """The part with its piece, as "17/2 backing"."""
        return f"{self.piece} {self.part}".strip()

    @property
    def longer(self) -> Length:
        """Its longer side."""
        return max(self.width, self.height)


@dataclass(frozen=True, slots=True, kw_only=True)
class BlankSides:
    """What one setting serves of a blank: one side, or both of a square one."""

    blank: Blank
    sides: tuple[Side, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ArmSetting:
    """One setting of the stop on the squaring arm. at: on the cutter's scale, between its marks where it is a length
    of the other unit. exact: the length of the part, of which its check value is.

    beyond: the arm does not reach it, so that it is measured and marked. blanks: none where a cut of a plan makes
    a strip that is cut up further.
    """

    at: Length
    exact: Length
    blanks: tuple[BlankSides, ...]
    beyond: bool = False

    @property
    def in_words(self) -> str:
        """What is cut at it: "height of mat 1, backing; width of mat 2", of many how many they are; and that the arm
        does not reach it."""
        return self.marked(self._sides_in_words())

    def marked(self, what: str) -> str:
        """Return what is cut at it with the word that the arm does not reach so far, where that is so."""
        return f"{what} ({BEYOND_ARM})" if self.beyond else what

    def _sides_in_words(self) -> str:
        if not self.blanks:
            return "a strip that is cut up further"
        by_sides: dict[str, list[Blank]] = {}
        for each in self.blanks:
            by_sides.setdefault(" and ".join(each.sides), []).append(each.blank)
        return "; ".join(f"{sides} of {_together(of)}" for sides, of in by_sides.items())


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizing:
    """Every setting of the arm's stop, in the order of work; what lies beyond its reach is among them and says so.

    notices: what is longer than the arm reaches.
    """

    settings: tuple[ArmSetting, ...]
    notices: tuple[Notice, ...]

    @property
    def moves(self) -> int:
        """How often the stop is set; what lies beyond the arm moves none."""
        return sum(not one.beyond for one in self.settings)


def _together(blanks: Sequence[Blank]) -> str:
    """Name blanks, those of one name together; very many are counted."""
    counts: dict[str, int] = {}
    for blank in blanks:
        counts[blank.name] = counts.get(blank.name, 0) + blank.count
    if len(counts) > MOST_NAMED:
        return f"{sum(counts.values())} parts"
    return ", ".join(f"{count} × {name}" if count > 1 else name for name, count in counts.items())


def sized_on_arm(cutter: Cutter) -> bool:
    """Tell whether blanks are sized on the cutter's squaring arm: it has a reach, or stops that are set from it."""
    return cutter.arm_reach is not None or cutter.stops.fitted


def sizing(blanks: Iterable[Blank], cutter: Cutter, order: Sequence[Length] = ()) -> Sizing:
    """Return what is set on the squaring arm for blanks of a piece, of a plan or of a day.

    order: lengths as the cuts of a plan make them one after the other; what is not among them follows, the longest
    first. Without a plan what the arm does not reach comes after all that it does. Each length is set as the scale
    reads it, one of the other unit between the marks, so that it has one figure on a ticket, in a plan and among the
    pieces of a day (L3). Source: handbook B11.
    """
    blanks = tuple(blanks)
    on_arm = {blank: _lengths(blank, cutter) for blank in blanks}
    found: dict[Length, list[BlankSides]] = {}
    exact: dict[Length, Length] = {}
    for blank in blanks:
        for at, length, sides in on_arm[blank]:
            exact.setdefault(at, length)
            found.setdefault(at, []).append(BlankSides(blank=blank, sides=sides))
    made: dict[Length, None] = {}
    for length in order:
        at = cutter.scale.steps.converted(length)
        exact.setdefault(at, length)
        made[at] = None
    left = found.keys() - made.keys()
    ats = (*made, *sorted(left, key=lambda at: (_is_beyond(at, cutter), -at.mm)))
    return Sizing(
        settings=tuple(
            ArmSetting(
                at=at,
                exact=exact[at],
                blanks=tuple(found.get(at, ())),
                beyond=_is_beyond(at, cutter),
            )
            for at in ats
        ),
        notices=tuple(_beyond(on_arm, cutter)),
    )


type _Lengths = tuple[tuple[Length, Length, tuple[Side, ...]], ...]
"""Each length of a blank as the scale reads it, then exact, with the sides that are set to it."""


def _lengths(blank: Blank, cutter: Cutter) -> _Lengths:
    across, down = map(cutter.scale.steps.converted, (blank.width, blank.height))
    if across == down:
        return ((across, blank.width, (Side.WIDTH, Side.HEIGHT)),)
    return ((across, blank.width, (Side.WIDTH,)), (down, blank.height, (Side.HEIGHT,)))


def _is_beyond(at: Length, cutter: Cutter) -> bool:
    """Tell whether the arm does not reach a length as the scale reads it."""
    return cutter.arm_reach is not None and at > cutter.on_scale(cutter.arm_reach)


def _beyond(on_arm: Mapping[Blank, _Lengths], cutter: Cutter) -> Iterator[Notice]:
    """Yield what the arm does not reach, every length of it, with the parts by name (B4). on_arm: the lengths of each blank."""
    reach = cutter.arm_reach
    if reach is None:
        return
    beyond = {
        blank: tuple(at for at, _, _ in lengths if _is_beyond(at, cutter))
        for blank, lengths in on_arm.items()
    }
    beyond = {blank: ats for blank, ats in beyond.items() if ats}
    if beyond:
        yield Notice(
            code="blank-beyond-arm",
            message=f"The squaring arm of “{cutter.name}” reaches {cutter.say(reach)}, and longer "
            f"{'is' if len(beyond) == 1 else 'are'} {_named(beyond, cutter)}: measure from both "
            "edges and cut by straight-edge, or order it cut.",
            concern=Concern.LOOK,
        )


def _named(beyond: Mapping[Blank, Sequence[Length]], cutter: Cutter) -> str:
    if len(beyond) > MOST_NAMED:
        ats = sorted({at for lengths in beyond.values() for at in lengths}, reverse=True)
        said = (*(show(at, cutter.unit) for at in ats[:-1]), cutter.say(ats[-1]))
        return f"{len(beyond)} parts, at {', '.join(said)}"
    return ", ".join(
        f"{blank.name} ({' and '.join(cutter.say(at) for at in sorted(ats, reverse=True))})"
        for blank, ats in beyond.items()
    )
