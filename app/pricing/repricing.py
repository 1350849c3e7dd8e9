"""An old and a new price of the same piece, side by side (P7)."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import zip_longest

from app.money import Currency, Money
from app.pricing.lines import PriceLine
from app.pricing.price import PiecePrice
from app.pricing.uses import LineGroup

type _Key = tuple[LineGroup, str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class LineChange:
    """One line in both prices; old or new is None where the other has it alone."""

    label: str
    old: PriceLine | None
    new: PriceLine | None

    @property
    def difference(self) -> int:
        """New amount less old amount, in minor units."""
        return _minor(self.new) - _minor(self.old)

    def difference_in(self, currency: Currency) -> Money:
        """New amount less old amount."""
        return Money(self.difference, currency)

    @property
    def changed(self) -> bool:
        """Whether quantity, unit price, amount or tax rate differ."""
        return _figures(self.old) != _figures(self.new)


@dataclass(frozen=True, slots=True, kw_only=True)
class Repricing:
    """Two prices of a piece, line by line. difference: new less old of what is paid."""

    lines: tuple[LineChange, ...]
    old_total: Money
    new_total: Money
    old_to_pay: Money
    new_to_pay: Money
    difference: Money

    @property
    def changed(self) -> bool:
        """Whether anything that the customer sees has changed."""
        totals = self.old_total != self.new_total or bool(self.difference)
        return totals or any(line.changed for line in self.lines)


def compare(old: PiecePrice, new: PiecePrice) -> Repricing:
    """Old and new side by side: lines of the same material in the same part meet.

    The order is that of the new price, then what only the old one has.
    Raises: ValueError where the two are in different currencies.
    """
    difference = new.to_pay - old.to_pay
    return Repricing(
        lines=_side_by_side(old.lines, new.lines),
        old_total=old.total,
        new_total=new.total,
        old_to_pay=old.to_pay,
        new_to_pay=new.to_pay,
        difference=difference,
    )


def _side_by_side(old: Sequence[PriceLine], new: Sequence[PriceLine]) -> tuple[LineChange, ...]:
    old_by_key, new_by_key = _by_key(old), _by_key(new)
    pairs = (
        pair
        for key in dict.fromkeys((*new_by_key, *old_by_key))
        for pair in zip_longest(old_by_key.get(key, ()), new_by_key.get(key, ()))
    )
    return tuple(
        LineChange(label=(after or before).label, old=before, new=after) for before, after in pairs
    )


def _by_key(lines: Sequence[PriceLine]) -> dict[_Key, list[PriceLine]]:
    by_key: dict[_Key, list[PriceLine]] = {}
    for line in lines:
        by_key.setdefault((line.group, line.part, line.code.casefold()), []).append(line)
    return by_key


def _minor(line: PriceLine | None) -> int:
    return 0 if line is None else line.amount.minor


def _figures(line: PriceLine | None) -> tuple[object, ...] | None:
    if line is None:
        return None
    return (line.quantity, line.measure, line.unit_price, line.amount, line.tax, line.copies)
