"""Sticks and sheets of a plan that are cut alike: drawn once, each with boxes of its own.

Alike are those of one size with the same cuts, that yield parts of the same sizes at the same places; for which
piece each part is, and where each stick or sheet is taken from, may differ.
"""

from collections.abc import Collection, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from app.documents.cutting_plan.work import BinWork, PlanPart, PlanSetting
from app.drawings.plans.sheet import SheetToCut, sheet_plan
from app.drawings.plans.stick import StickToCut, stick_plan
from app.stock.planning.parts import without_number
from app.stock.planning.plans import BinAt

CUT_BY_HAND = "cut by hand already"


@dataclass(frozen=True, slots=True, kw_only=True)
class OfBins:
    """What holds for some of the sticks or sheets that are alike. numbers: of these, in their section."""

    words: str
    numbers: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class EqualPart:
    """The part at one place of sticks or sheets that are alike. kinds: what it is called and for which piece, where
    that is the same together; of which one of a piece that is made several times it is, is left out.
    """

    number: int
    size: str
    check: str
    kinds: tuple[OfBins, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """What of a plan is done. by_hand: the ids of parts that were cut by hand meanwhile; ticked: of those that are ticked as
    cut. booked: sticks and sheets that are off stock. missing: those still to be cut that the rack does not hold.
    """

    by_hand: Collection[str] = frozenset()
    ticked: Collection[str] = frozenset()
    booked: Collection[BinAt] = frozenset()
    missing: Collection[BinAt] = frozenset()

    def wanted(self, work: BinWork) -> bool:
        """Tell whether a stick or sheet is still to be fetched: neither off stock nor to be bought for what was cut by hand."""
        by_hand = all(part.id in self.by_hand for part in work.parts)
        return work.at not in self.booked and not (work.at in self.missing and by_hand)


NOTHING_DONE = Done()


@dataclass(frozen=True, slots=True, kw_only=True)
class EqualBins:
    """Sticks or sheets that are cut alike, at least one, in the plan's order. done: what of their plan is done."""

    bins: tuple[BinWork, ...]
    done: Done = NOTHING_DONE

    @property
    def first(self) -> BinWork:
        """The one that stands for all."""
        return self.bins[0]

    @property
    def numbers(self) -> tuple[int, ...]:
        """Their numbers in their section."""
        return tuple(each.at.bin for each in self.bins)

    @property
    def name(self) -> str:
        """What they are called: "Sheet 2", or "3 sheets like this: no. 4, 5, 6"."""
        if len(self.bins) == 1:
            return self.first.name
        form = "sticks" if isinstance(self.first.lying, StickToCut) else "sheets"
        return f"{len(self.bins)} {form} like this: no. {numbers_in_words(self.numbers)}"

    @property
    def takes(self) -> tuple[OfBins, ...]:
        """What they are cut from, equal ones together."""
        return _together((each.take, each.at.bin) for each in self.bins)

    @property
    def parts(self) -> tuple[EqualPart, ...]:
        """The parts, place by place."""
        return tuple(
            EqualPart(
                number=row[0].number,
                size=row[0].size,
                check=row[0].check,
                kinds=_together(
                    (self._in_words(part), each.at.bin)
                    for each, part in zip(self.bins, row, strict=True)
                ),
            )
            for row in zip(*(each.parts for each in self.bins), strict=True)
        )

    @property
    def settings(self) -> tuple[PlanSetting, ...]:
        """The settings; what they free is said only where it is the same of all."""
        return tuple(
            row[0] if len({each.what for each in row}) == 1 else replace(row[0], what=())
            for row in zip(*(each.settings for each in self.bins), strict=True)
        )

    @property
    def svg(self) -> str:
        """The drawing as SVG. A part is named by its piece, or by its number where the pieces differ."""
        lying, across = self.first.lying, self.first.across
        if isinstance(lying, StickToCut):
            named = replace(lying, pieces=self._names())
            return stick_plan(named, across.sticks, losses=across.losses)
        laid = replace(lying, pieces=self._names())
        return sheet_plan(laid, across.sheets, losses=across.losses)

    @property
    def booked(self) -> tuple[int, ...]:
        """The numbers of those that are off stock."""
        return tuple(each.at.bin for each in self.bins if each.at in self.done.booked)

    def is_cut(self, number: int, part: int) -> bool:
        """Tell whether a part is cut. number: of the stick or sheet in its section; part: of the part in it."""
        work = next(each for each in self.bins if each.at.bin == number)
        id = next(each.id for each in work.parts if each.number == part)
        return work.at in self.done.booked or id in self.done.ticked or id in self.done.by_hand

    def _in_words(self, part: PlanPart) -> str:
        words = part.words if len(self.bins) == 1 else without_number(part.words)
        turned = ", turned" if part.turned else ""
        by_hand = f", {CUT_BY_HAND}" if part.id in self.done.by_hand else ""
        return f"{words}{turned} · {part.piece}{by_hand}"

    def _names(self) -> Mapping[str, str]:
        return {
            row[0].id: row[0].piece
            if len({part.piece for part in row}) == 1
            else f"part {row[0].number}"
            for row in zip(*(each.parts for each in self.bins), strict=True)
        }


def equal_bins(bins: Iterable[BinWork], done: Done = NOTHING_DONE) -> tuple[EqualBins, ...]:
    """Return sticks or sheets of one material, those that are cut alike together, by the first of each."""
    alike: dict[Hashable, list[BinWork]] = {}
    for each in bins:
        alike.setdefault(_how_it_is_cut(each), []).append(each)
    return tuple(EqualBins(bins=tuple(each), done=done) for each in alike.values())


def numbers_in_words(numbers: Sequence[int]) -> str:
    """Write ascending numbers: "4, 5, 6"; four and more that follow on each other as "1 to 8"."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(
        f"{run[0]} to {run[-1]}" if len(run) > _LISTED else ", ".join(map(str, run)) for run in runs
    )


_LISTED = 3
"""So many numbers that follow on each other are named one by one. Source: ours."""


def _how_it_is_cut(work: BinWork) -> Hashable:
    lying = work.lying
    how = _of_stick(lying) if isinstance(lying, StickToCut) else _of_sheet(lying)
    return tuple((each.at, each.how, each.numbers) for each in work.settings), how


def _of_stick(lying: StickToCut) -> Hashable:
    rails = tuple((each.at, each.length, lying.mitres.get(each.id)) for each in lying.opened.parts)
    return lying.length, rails, lying.opened.offcut


def _of_sheet(lying: SheetToCut) -> Hashable:
    cuts = tuple((each.way, each.at, each.start, each.end, each.stage) for each in lying.cuts)
    parts = tuple((each.x, each.y, each.size, each.turned) for each in lying.opened.parts)
    return lying.size, cuts, parts, lying.opened.offcuts


def _together(said: Iterable[tuple[str, int]]) -> tuple[OfBins, ...]:
    by_words: dict[str, list[int]] = {}
    for words, number in said:
        by_words.setdefault(words, []).append(number)
    return tuple(OfBins(words=words, numbers=tuple(numbers)) for words, numbers in by_words.items())
