"""What is asked of a cutting plan: the stock on offer and the parts that are wanted.

Owns the two questions, sticks (C1) and sheets (C2), as values that cannot exist invalid. It knows
nothing of materials, pieces or shops: ids are whatever the caller calls its stock and its parts.
Fault paths are those of the JSON contract, "stock.0.length", "parts.3.copies".
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from app.errors import FaultCollector, quoted
from app.lengths import ZERO, Length, Size, Unit, show

MOST_PARTS = 5000
"""A guard against a count typed twice. Source: ours."""

MOST_STOCK = 2000
"""The same for kinds of stock on offer. Source: ours."""


class Together(StrEnum):
    """Whether parts of one group, the rails of a frame, are cut from one stick (C1).

    PREFERRED: where that costs no more stock. ALWAYS: even where it does; a group that no stick
    holds takes the fewest.
    """

    NO_MATTER = "no-matter"
    PREFERRED = "preferred"
    ALWAYS = "always"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stick:
    """Sticks of one length on offer: new ones, or one that is owned.

    copies: how many; None for as many as are wanted. cost: of one, in any one unit; 0 for what is
    owned. length: as it lies there, with its untrimmed ends.
    """

    id: str
    length: Length
    copies: int | None = None
    cost: Fraction = Fraction(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class StickPart:
    """Parts of one length: rails by their long points. group: what belongs together, "" for none."""

    id: str
    length: Length
    copies: int = 1
    group: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StickProblem:
    """A plan for sticks is asked for.

    kerf: lost at each cut between neighbours. end_trim: cut off at each end of every stick.
    keep: the shortest offcut worth keeping; anything above zero where it is zero.
    Raises: Invalid with every fault.
    """

    unit: Unit
    stock: tuple[Stick, ...]
    parts: tuple[StickPart, ...]
    kerf: Length = ZERO
    end_trim: Length = ZERO
    keep: Length = ZERO
    together: Together = Together.PREFERRED

    def __post_init__(self) -> None:
        faults = FaultCollector()
        _check_lists(faults, self.stock, self.parts)
        for path, length in _lengths_of(self.stock, self.parts):
            _above_zero(faults, path, length, self.unit)
        _not_below_zero(faults, self.unit, kerf=self.kerf, end_trim=self.end_trim, keep=self.keep)
        faults.finish()

    def usable(self, stick: Stick) -> Length:
        """Return what lies between the trimmed ends of a stick; zero or less where nothing is left."""
        return stick.length - self.end_trim * 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """Sheets of one size on offer: new ones, or an offcut. copies and cost as for sticks."""

    id: str
    size: Size
    copies: int | None = None
    cost: Fraction = Fraction(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPart:
    """Parts of one size. turn: whether they may lie turned by 90 degrees."""

    id: str
    size: Size
    copies: int = 1
    turn: bool = True
    group: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetProblem:
    """A plan for sheets is asked for; only edge-to-edge cuts are made.

    kerf: lost at each cut. trim: cut off at each edge of every sheet. stages: how many times the
    direction of cuts may change, the first direction counting as one; a last cut that only trims
    waste off a part is not counted, as is usual in the literature. None: as often as it takes.
    keep: the smallest offcut worth keeping, either way round; anything where None.
    Raises: Invalid with every fault.
    """

    unit: Unit
    stock: tuple[Sheet, ...]
    parts: tuple[SheetPart, ...]
    kerf: Length = ZERO
    trim: Length = ZERO
    stages: int | None = 3
    keep: Size | None = None

    def __post_init__(self) -> None:
        faults = FaultCollector()
        _check_lists(faults, self.stock, self.parts)
        for path, size in _sizes_of(self.stock, self.parts):
            _above_zero(faults, f"{path}.width", size.width, self.unit)
            _above_zero(faults, f"{path}.height", size.height, self.unit)
        _not_below_zero(faults, self.unit, kerf=self.kerf, trim=self.trim)
        if self.stages is not None and not 2 <= self.stages <= 5:
            faults.add("stages", f"There are {self.stages} stages; 2 to 5 are allowed.")
        faults.finish()

    def usable(self, sheet: Sheet) -> Size:
        """Return what lies between the trimmed edges of a sheet."""
        both = self.trim * 2
        return Size(sheet.size.width - both, sheet.size.height - both)

    def worth_keeping(self, size: Size) -> bool:
        """Tell whether an offcut of a size is kept (C3)."""
        if self.keep is None:
            return True
        return any(
            size.width >= least.width and size.height >= least.height
            for least in (self.keep, self.keep.turned())
        )


type Asked = StickProblem | SheetProblem


def _lengths_of(stock: Iterable[Stick], parts: Iterable[StickPart]) -> Iterable[tuple[str, Length]]:
    yield from ((f"stock.{i}.length", each.length) for i, each in enumerate(stock))
    yield from ((f"parts.{i}.length", each.length) for i, each in enumerate(parts))


def _sizes_of(stock: Iterable[Sheet], parts: Iterable[SheetPart]) -> Iterable[tuple[str, Size]]:
    yield from ((f"stock.{i}", each.size) for i, each in enumerate(stock))
    yield from ((f"parts.{i}", each.size) for i, each in enumerate(parts))


def _check_lists(
    faults: FaultCollector,
    stock: Sequence[Stick | Sheet],
    parts: Sequence[StickPart | SheetPart],
) -> None:
    _check_ids(faults, "stock", [each.id for each in stock])
    _check_ids(faults, "parts", [each.id for each in parts])
    for index, each in enumerate(stock):
        if each.copies is not None and each.copies < 1:
            faults.add(f"stock.{index}.copies", _too_few(each.copies, each.id))
        if each.cost < 0:
            faults.add(
                f"stock.{index}.cost",
                f"The cost of {quoted(each.id)} is {each.cost}; zero or more is allowed.",
            )
    for index, part in enumerate(parts):
        if part.copies < 1:
            faults.add(f"parts.{index}.copies", _too_few(part.copies, part.id))
    if len(stock) > MOST_STOCK:
        faults.add(
            "stock", f"There are {len(stock)} kinds of stock; at most {MOST_STOCK} are read."
        )
    wanted = sum(part.copies for part in parts)
    if wanted > MOST_PARTS:
        faults.add(
            "parts", f"There are {wanted} parts; at most {MOST_PARTS} can be planned at once."
        )


def _check_ids(faults: FaultCollector, name: str, ids: Sequence[str]) -> None:
    seen: set[str] = set()
    for index, each in enumerate(ids):
        if not each.strip():
            faults.add(f"{name}.{index}.id", "The id is empty; each needs one of its own.")
        elif each in seen:
            faults.add(f"{name}.{index}.id", f"The id {quoted(each)} is given twice.")
        seen.add(each)


def _too_few(copies: int, id: str) -> str:
    return f"There are {copies} of {quoted(id)}; 1 or more is allowed."


def _above_zero(faults: FaultCollector, path: str, length: Length, unit: Unit) -> None:
    if length <= ZERO:
        name = path.rsplit(".", 1)[-1]
        faults.add(path, f"The {name} is {show(length, unit, mark=True)}; it must be above zero.")


def _not_below_zero(faults: FaultCollector, unit: Unit, **lengths: Length) -> None:
    for path, length in lengths.items():
        if length < ZERO:
            name = path.replace("_", " ")
            faults.add(
                path, f"The {name} is {show(length, unit, mark=True)}; zero or more is allowed."
            )
