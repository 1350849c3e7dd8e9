"""The lines of a piece that is changed, at the prices that were agreed for what stays (P7).

A line whose material is the one that was agreed keeps its unit price, and where the change asks for no
more and no less of it, the whole line as it was agreed. What is new is at today's prices.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from app.money import show_money
from app.pricing.lines import PriceLine, product_text, rounded
from app.pricing.measure import Measure
from app.pricing.uses import LineGroup

type _Key = tuple[LineGroup, str, str, int]

_AS_AGREED = "Unit price as agreed."


@dataclass(frozen=True, slots=True, kw_only=True)
class AgreedLines:
    """The lines that were agreed. anew: the same piece worked out by the rules of today, to see whether a change or a
    rule of the shop makes a quantity another one; empty where that cannot be done.
    """

    agreed: Sequence[PriceLine]
    anew: Sequence[PriceLine] = ()

    def kept_in(self, lines: Sequence[PriceLine]) -> list[PriceLine]:
        """The lines of the changed piece, each at the agreed price where there was one for it."""
        agreed, anew = _by_key(self.agreed), _by_key(self.anew)
        return [
            line if (old := agreed.get(key)) is None else _kept(line, old, anew.get(key, old))
            for key, line in _keyed(lines)
        ]


def _kept(line: PriceLine, old: PriceLine, anew: PriceLine) -> PriceLine:
    if line.measure is not old.measure or line.tax != old.tax:
        return line
    if (line.quantity, line.measure) == (anew.quantity, anew.measure) and (
        line.measure is not Measure.BAND or line.unit_price == anew.unit_price
    ):
        return replace(old, settled=old.amount)
    if line.measure is Measure.BAND or line.unit_price == old.unit_price:
        return line
    amount = rounded(line.quantity * old.unit_price, line.amount.currency)
    said = product_text(line.quantity, line.measure, old.unit_price, amount)
    return replace(
        line,
        unit_price=old.unit_price,
        amount=amount,
        settled=amount,
        why=(*line.why[:-1], said),
        why_shop=(_AS_AGREED, f"Cost {show_money(line.cost)}.", *line.why_shop[2:]),
    )


def _by_key(lines: Iterable[PriceLine]) -> Mapping[_Key, PriceLine]:
    return dict(_keyed(lines))


def _keyed(lines: Iterable[PriceLine]) -> list[tuple[_Key, PriceLine]]:
    """Each line by what it is of; several of the same material in the same part in their order."""
    seen: dict[tuple[LineGroup, str, str], int] = defaultdict(int)
    keyed: list[tuple[_Key, PriceLine]] = []
    for line in lines:
        place = (line.group, line.part, line.code.casefold())
        keyed.append(((*place, seen[place]), line))
        seen[place] += 1
    return keyed
