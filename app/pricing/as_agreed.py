"""The lines of a piece that is changed, at the prices that were agreed for what stays (P7).

A line whose material is the one that was agreed keeps its unit price. Where the change asks for no more and
no less of it, in the same sizes, the line is as it was agreed; of another number alike, that line times
the new number. What is new is at today's prices.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from app.lengths import Unit
from app.money import Money, show_money
from app.pricing.lines import PriceLine, product_text, rounded, times_text
from app.pricing.measure import Measure
from app.pricing.uses import LineGroup

type _Key = tuple[LineGroup, str, str, int]

_AS_AGREED = "Unit price as agreed."


@dataclass(frozen=True, slots=True, kw_only=True)
class AgreedLines:
    """The lines that were agreed. anew: the same piece worked out by the rules of today, to see whether a change or a
    rule of the shop makes a quantity another one; empty where that cannot be done. unit: that explanations speak in.
    """

    agreed: Sequence[PriceLine]
    anew: Sequence[PriceLine] = ()
    unit: Unit = Unit.MM

    def kept_in(self, lines: Sequence[PriceLine]) -> list[PriceLine]:
        """Return the lines of the changed piece, each at the agreed price where there was one for it."""
        agreed, anew = _by_key(self.agreed), _by_key(self.anew)
        return [
            line
            if (old := agreed.get(key)) is None
            else _kept(line, old, anew.get(key, old), self.unit)
            for key, line in _keyed(lines)
        ]


def _kept(line: PriceLine, old: PriceLine, anew: PriceLine, unit: Unit) -> PriceLine:
    if line.measure is not old.measure or line.tax != old.tax:
        return line
    if _alike(line, anew):
        return _as_many(old, line.copies)
    if line.measure is Measure.BAND and line.unit_price != anew.unit_price:
        return line
    if line.unit_price == old.unit_price:
        return line
    one = rounded(line.quantity * old.unit_price, line.amount.currency)
    said = product_text(line.quantity, line.measure, old.unit_price, one, unit)
    return replace(
        line,
        unit_price=old.unit_price,
        amount=one * line.copies,
        settled=one * line.copies,
        why=(*_workings(line), said, *times_text(line.copies, one)),
        why_shop=(_AS_AGREED, f"Cost {show_money(line.cost)}.", *line.why_shop[2:]),
    )


def _alike(line: PriceLine, anew: PriceLine) -> bool:
    """Tell whether a line is what the agreed piece takes by the rules of today, but for the number of pieces."""
    same = (line.quantity, line.measure, line.together) == (
        anew.quantity,
        anew.measure,
        anew.together,
    )
    band = line.measure is Measure.BAND and line.unit_price != anew.unit_price
    return same and not band and _workings(line) == _workings(anew)


def _as_many(old: PriceLine, copies: int) -> PriceLine:
    """Return the agreed line for another number of pieces, each at what one came to."""
    currency = old.amount.currency
    one = Money(old.amount.minor // old.copies, currency)
    cost = Money(old.cost.minor // old.copies, currency) * copies
    if copies == old.copies:
        return replace(old, settled=old.amount)
    first, *rest = old.why_shop or ("",)
    return replace(
        old,
        copies=copies,
        amount=one * copies,
        settled=one * copies,
        cost=cost,
        why=(*_without_times(old), *times_text(copies, one)),
        why_shop=(first, f"Cost {show_money(cost)}.", *rest[1:]) if old.why_shop else (),
    )


def _without_times(line: PriceLine) -> tuple[str, ...]:
    """Tell how one of those that are alike came about."""
    return line.why[:-1] if line.copies > 1 else line.why


def _workings(line: PriceLine) -> tuple[str, ...]:
    """Tell how its quantity came about, with the sizes that it was taken from."""
    return _without_times(line)[:-1]


def _by_key(lines: Iterable[PriceLine]) -> Mapping[_Key, PriceLine]:
    return dict(_keyed(lines))


def _keyed(lines: Iterable[PriceLine]) -> list[tuple[_Key, PriceLine]]:
    """Return each line by what it is of; several of the same material in the same part in their order."""
    seen: dict[tuple[LineGroup, str, str], int] = defaultdict(int)
    keyed: list[tuple[_Key, PriceLine]] = []
    for line in lines:
        place = (line.group, line.part, line.code.casefold())
        keyed.append(((*place, seen[place]), line))
        seen[place] += 1
    return keyed
