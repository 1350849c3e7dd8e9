"""True cutting plans made backwards: stock is cut at random, and what comes of it is said to be wanted.

Everything lies on a grid of 1 mm or 1/16 in, so that half a step of it is off every true place.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from random import Random

from hypothesis import strategies as st

from app.cutting import (
    LaidPart,
    LaidRail,
    Maker,
    OpenedSheet,
    OpenedStick,
    Sheet,
    SheetCut,
    SheetPart,
    SheetPlan,
    SheetProblem,
    SheetRest,
    Stick,
    StickPart,
    StickPlan,
    StickProblem,
    StickRest,
    Unplaced,
    Way,
)
from app.lengths import Length, Size, Unit, inches, mm

STEP = {Unit.MM: mm(1), Unit.IN: inches("1/16")}


def half(unit: Unit) -> Length:
    """Half a step of the grid."""
    return STEP[unit] / 2


@st.composite
def stick_plans(draw: st.DrawFn) -> StickPlan:
    """Two to four sticks of one to six rails each, and one rail that fits on none."""
    chance = draw(st.randoms(use_true_random=False))
    unit = chance.choice(list(Unit))
    step = STEP[unit]
    kerf, trim = chance.choice((0, 3, 8)), chance.choice((0, 5))
    keep = chance.choice((0, 40))
    stock = {
        f"s{kind}": (chance.randint(300, 900), chance.choice((None, 4)), chance.randint(0, 3))
        for kind in range(chance.randint(1, 2))
    }
    wanted: dict[int, str] = {}
    counts: Counter[str] = Counter()
    opened: Counter[str] = Counter()
    bins: list[OpenedStick] = []
    for _ in range(chance.randint(2, 4)):
        kind = chance.choice(list(stock))
        opened[kind] += 1
        end = stock[kind][0] - trim
        at, rails = trim, []
        for _ in range(chance.randint(1, 6)):
            if end - at < 1:
                break
            length = chance.randint(1, min(end - at, 200))
            id = wanted.setdefault(length, f"p{length}")
            counts[id] += 1
            rails.append(LaidRail(id=id, copy=counts[id], at=step * at, length=step * length))
            at += length + kerf
        left = end - at
        offcut = None
        if left > 0 and left >= keep:
            offcut = StickRest(at=step * at, length=step * left)
        bins.append(OpenedStick(stock=kind, copy=opened[kind], parts=tuple(rails), offcut=offcut))
    asked = StickProblem(
        unit=unit,
        stock=tuple(
            Stick(id=id, length=step * length, copies=copies, cost=Fraction(cost))
            for id, (length, copies, cost) in stock.items()
        ),
        parts=(
            *(StickPart(id=i, length=step * n, copies=counts[i]) for n, i in wanted.items()),
            StickPart(id="long", length=step * 1000),
        ),
        kerf=step * kerf,
        end_trim=step * trim,
        keep=step * keep,
    )
    cost = sum(stock[each.stock][2] for each in bins)
    return StickPlan(
        asked=asked,
        bins=tuple(bins),
        unplaced=(Unplaced(id="long", copies=1, code="too-long", reason="Longer than a stick."),),
        lower_bound=Fraction(chance.randint(0, cost)),
        maker=chance.choice(list(Maker)),
    )


@dataclass(frozen=True, slots=True)
class Leaf:
    """A piece of a sheet in steps, and how it was cut. last: the cut beyond the stages it comes of."""

    left: int
    top: int
    right: int
    bottom: int
    depth: int = 0
    way: Way | None = None
    last: int = 0

    @property
    def sides(self) -> tuple[int, int]:
        return self.right - self.left, self.bottom - self.top


@dataclass(frozen=True, slots=True)
class Saw:
    """How sheets are cut: lengths in steps."""

    chance: Random
    step: Length
    kerf: int
    trim: int
    stages: int | None

    def cut_up(self, width: int, height: int) -> tuple[list[SheetCut], list[Leaf]]:
        """A sheet cut at random: its cuts in an order that can be worked, and what comes of it."""
        cuts = self._trims(width, height)
        inner = (self.trim, self.trim, width - self.trim, height - self.trim)
        open_, done = [Leaf(*inner)], []
        while open_:
            leaf = open_.pop(self.chance.randrange(len(open_)))
            way = self.chance.choice(list(Way))
            depth = leaf.depth + (way is not leaf.way)
            last = len(cuts) + 1 if self.stages is not None and depth > self.stages else 0
            length = leaf.sides[way is Way.ACROSS]
            enough = len(open_) + len(done) > 7 and self.chance.random() < 0.8
            too_deep = depth > (self.stages or 6) + (self.stages is not None)
            if too_deep or length < 20 or enough or self.chance.random() < 0.15:
                done.append(leaf)
                continue
            begin = leaf.top if way is Way.ACROSS else leaf.left
            at = begin + self.chance.randint(1, length - 1)
            cuts.append(self._cut(depth, way, at, leaf))
            made = self._halves(leaf, way, at, (depth, last))
            (done if last else open_).extend(made)
        return cuts, done

    def _trims(self, width: int, height: int) -> list[SheetCut]:
        if not self.trim:
            return []
        trim, near = self.trim, max(self.trim - self.kerf, 0)
        whole = Leaf(0, 0, width, height)
        lower = Leaf(0, trim, width, height)
        rows = Leaf(0, trim, width, height - trim)
        right = Leaf(trim, trim, width, height - trim)
        return [
            self._cut(0, Way.ACROSS, near, whole),
            self._cut(0, Way.ACROSS, height - trim, lower),
            self._cut(0, Way.DOWN, near, rows),
            self._cut(0, Way.DOWN, width - trim, right),
        ]

    def _cut(self, stage: int, way: Way, at: int, leaf: Leaf) -> SheetCut:
        ends = (leaf.left, leaf.right) if way is Way.ACROSS else (leaf.top, leaf.bottom)
        start, end = (self.step * each for each in ends)
        return SheetCut(stage=stage, way=way, at=self.step * at, start=start, end=end)

    def _halves(self, leaf: Leaf, way: Way, at: int, how: tuple[int, int]) -> list[Leaf]:
        depth, last = how
        beyond = at + self.kerf
        if way is Way.ACROSS:
            near = (leaf.left, leaf.top, leaf.right, at)
            far = (leaf.left, beyond, leaf.right, leaf.bottom)
        else:
            near = (leaf.left, leaf.top, at, leaf.bottom)
            far = (beyond, leaf.top, leaf.right, leaf.bottom)
        both = (Leaf(*each, depth, way, last) for each in (near, far))
        return [each for each in both if min(each.sides) > 0]


class _Naming:
    """Parts by their sizes, turned or not, as they are met."""

    def __init__(self, chance: Random, step: Length) -> None:
        self.chance, self.step = chance, step
        self.ids: dict[tuple[int, int], str] = {}
        self.turns: dict[str, bool] = {}
        self.counts: Counter[str] = Counter()

    def laid(self, leaf: Leaf) -> LaidPart:
        sides = leaf.sides
        turned = sides not in self.ids and (sides[::-1] in self.ids or self.chance.random() < 0.3)
        id = self.ids.setdefault(sides[::-1] if turned else sides, f"q{len(self.ids)}")
        self.turns[id] = self.turns.get(id, self.chance.random() < 0.5) or turned
        self.counts[id] += 1
        size = Size(self.step * sides[0], self.step * sides[1])
        x, y = self.step * leaf.left, self.step * leaf.top
        return LaidPart(id=id, copy=self.counts[id], x=x, y=y, size=size, turned=turned)

    def parts(self) -> Sequence[SheetPart]:
        return [
            SheetPart(
                id=id,
                size=Size(self.step * width, self.step * height),
                copies=self.counts[id],
                turn=self.turns[id],
            )
            for (width, height), id in self.ids.items()
        ]


def _shared_out(chance: Random, leaves: list[Leaf]) -> list[Leaf]:
    """The leaves that are parts: of those that a last cut trimmed exactly one, at least one in all."""
    parts = [leaf for leaf in leaves if not leaf.last and chance.random() < 0.75]
    last = sorted({leaf.last for leaf in leaves if leaf.last})
    parts += [chance.choice([leaf for leaf in leaves if leaf.last == cut]) for cut in last]
    return parts or [chance.choice(leaves)]


@st.composite
def sheet_plans(draw: st.DrawFn) -> SheetPlan:
    """One to three sheets of up to a dozen pieces each, and one part that fits on none."""
    chance = draw(st.randoms(use_true_random=False))
    unit = chance.choice(list(Unit))
    step, stages = STEP[unit], chance.choice((2, 3, 4, 5, None))
    saw = Saw(chance, step, chance.choice((0, 3, 8)), chance.choice((0, 5)), stages)
    keep = chance.choice(((1, 1), (30, 60), (100, 100)))
    stock = {
        f"s{kind}": (*(chance.randint(150, 400) for _ in "wh"), chance.choice((None, 3)), kind)
        for kind in range(chance.randint(1, 2))
    }
    naming, opened = _Naming(chance, step), Counter[str]()
    bins: list[OpenedSheet] = []
    for _ in range(chance.randint(1, 3)):
        kind = chance.choice(list(stock))
        opened[kind] += 1
        cuts, leaves = saw.cut_up(*stock[kind][:2])
        parts = _shared_out(chance, leaves)
        rests = [leaf for leaf in leaves if leaf not in parts and _kept(leaf, keep)]
        bins.append(
            OpenedSheet(
                stock=kind,
                copy=opened[kind],
                cuts=tuple(cuts),
                parts=tuple(map(naming.laid, parts)),
                offcuts=tuple(_rest(leaf, step) for leaf in rests),
            )
        )
    asked = SheetProblem(
        unit=unit,
        stock=tuple(
            Sheet(id=id, size=Size(step * w, step * h), copies=copies, cost=Fraction(cost))
            for id, (w, h, copies, cost) in stock.items()
        ),
        parts=(*naming.parts(), SheetPart(id="wide", size=Size(step * 900, step * 9))),
        kerf=step * saw.kerf,
        trim=step * saw.trim,
        stages=stages,
        keep=Size(step * keep[0], step * keep[1]),
    )
    cost = sum(stock[each.stock][3] for each in bins)
    return SheetPlan(
        asked=asked,
        bins=tuple(bins),
        unplaced=(Unplaced(id="wide", copies=1, code="too-large", reason="Wider than a sheet."),),
        lower_bound=Fraction(chance.randint(0, cost)),
        maker=chance.choice(list(Maker)),
    )


def _kept(leaf: Leaf, keep: tuple[int, int]) -> bool:
    return min(leaf.sides) >= min(keep) and max(leaf.sides) >= max(keep)


def _rest(leaf: Leaf, step: Length) -> SheetRest:
    size = Size(step * leaf.sides[0], step * leaf.sides[1])
    return SheetRest(x=step * leaf.left, y=step * leaf.top, size=size)
