"""The one module for sticks that speaks to the solver library.

Owns how a packing in ticks is put to the solver and how its answer is read: nothing that it says is
taken on trust. The library is imported when it is first asked, so that a shop without it still has
its plans; whatever goes wrong in there, there is no answer and no error.

Source: PyPI `packingsolver`, variable-sized bin packing and bin packing with leftovers.
"""

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

LARGEST_PRICE = 2**50
"""What a whole packing may cost at most, in the whole units put to the solver: it reckons costs in
binary fractions, which hold whole numbers exactly up to 2^53."""

LONGEST = 10_000_000
"""The most ticks of a bar that the solver is asked about. Source: ours; 3 m in steps of 0.3 µm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SolverBar:
    """Bars of one kind. price: whole and above zero; copies: how many there are."""

    ticks: int
    price: int
    copies: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SolverQuestion:
    """A packing is wanted of least price.

    lengths: of what is to be packed, in ticks, one for each. in_order: all bars are opened in the
    order given, and what is wanted is the largest room on the last one.
    """

    bars: tuple[SolverBar, ...]
    lengths: tuple[int, ...]
    in_order: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """A bar and the lengths on it. bar: its place in the question."""

    bar: int
    lengths: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SolverAnswer:
    """A whole packing. bound: no packing has a lower price, 0 where unknown; seconds: it took."""

    filled: tuple[Filled, ...]
    bound: int = 0
    seconds: Fraction = Fraction(0)


type Solve = Callable[[SolverQuestion, Fraction], SolverAnswer | None]
"""Answers a question within so many seconds; None where nothing whole was found."""


def ask(
    question: SolverQuestion, seconds: Fraction, solve: Solve | None = None
) -> SolverAnswer | None:
    """Return a packing that holds, or None: no time, no library, no answer, or a wrong one.

    solve: asked in place of the library.
    """
    if seconds <= 0 or not question.lengths or not question.bars:
        return None
    try:
        answer = (solve or with_packingsolver)(question, seconds)
    except Exception:  # whatever a library may do, the plan without it stands
        return None
    return answer if answer is not None and holds(question, answer) else None


def holds(question: SolverQuestion, answer: SolverAnswer) -> bool:
    """Tell whether an answer packs every length once, on bars that are there and long enough."""
    packed = Counter(ticks for filled in answer.filled for ticks in filled.lengths)
    opened = Counter(filled.bar for filled in answer.filled)
    places = range(len(question.bars))
    return (
        packed == Counter(question.lengths)
        and all(
            place in places and count <= question.bars[place].copies
            for place, count in opened.items()
        )
        and all(sum(filled.lengths) <= question.bars[filled.bar].ticks for filled in answer.filled)
    )


def with_packingsolver(question: SolverQuestion, seconds: Fraction) -> SolverAnswer | None:
    """Asks the library. Raises: whatever it raises, ImportError where it is absent."""
    from packingsolver import (  # type: ignore[import-untyped]  # noqa: PLC0415 - may be absent
        onedimensional as library,
    )

    lengths = sorted(Counter(question.lengths).items(), reverse=True)
    builder = library.InstanceBuilder()
    objective = library.Objective
    builder.set_objective(
        objective.BinPackingWithLeftovers
        if question.in_order
        else objective.VariableSizedBinPacking
    )
    for bar in question.bars:
        builder.add_bin_type(bar.ticks, cost=float(bar.price), copies=bar.copies)
    for ticks, copies in lengths:
        builder.add_item_type(ticks, copies=copies)
    parameters = library.OptimizeParameters()
    parameters.time_limit = float(seconds)
    parameters.verbosity_level = 0
    parameters.optimization_mode = library.OptimizationMode.NotAnytimeSequential
    output = library.optimize(builder.build(), parameters)
    solution = output.solution
    # "Proven optimal" is also said of an answer that leaves parts out.
    if not (solution.full() and solution.feasible()):
        return None
    return SolverAnswer(
        filled=tuple(_filled(solution, [ticks for ticks, _ in lengths])),
        bound=0 if question.in_order else whole_bound(output.variable_sized_bin_packing_bound),
        seconds=Fraction(output.time),
    )


def whole_bound(bound: float) -> int:
    """Return a bound on whole prices that was reckoned in binary fractions, with room for its errors."""
    if not 0 < bound < LARGEST_PRICE:
        return 0
    exact = Fraction(bound)
    return ceil(exact - exact / 10**9 - Fraction(1, 1000))


def _filled(solution: object, lengths: Sequence[int]) -> list[Filled]:
    filled: list[Filled] = []
    for place in range(solution.number_of_different_bins()):  # type: ignore[attr-defined]
        each = solution.bin(place)  # type: ignore[attr-defined]
        on_it = tuple(lengths[item.item_type_id] for item in each.items)
        filled += [Filled(bar=each.bin_type_id, lengths=on_it)] * each.copies
    return filled
