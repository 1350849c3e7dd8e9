"""What a document comes to with its taxes, and what it comes to when some of it is taken off (M6)."""

from dataclasses import dataclass, replace

from app.money.amount import Money
from app.money.sharing import shared_steadily
from app.money.tax import TaxPart, TaxRate, by_rate


@dataclass(frozen=True, slots=True, kw_only=True)
class Taxed:
    """net + tax = gross. rounded: the amounts that tax is rounded on, lines or whole rates.

    untaxed: what is charged without tax.
    """

    rounded: tuple[TaxPart, ...]
    untaxed: Money

    @property
    def taxes(self) -> tuple[TaxPart, ...]:
        """The net and the tax of each rate, in the order in which the rates first come up."""
        return by_rate(self.rounded)

    @property
    def net(self) -> Money:
        """The sum without tax."""
        return sum((part.net for part in self.rounded), self.untaxed)

    @property
    def tax(self) -> Money:
        """The tax in all."""
        return sum((part.tax for part in self.rounded), Money.zero(self.untaxed.currency))

    @property
    def gross(self) -> Money:
        """The sum with tax."""
        return self.net + self.tax

    def stated(self, *, with_tax: bool) -> Money:
        """Return the sum as it is stated, with tax or without."""
        return self.gross if with_tax else self.net

    def __add__(self, other: "Taxed") -> "Taxed":
        return Taxed(rounded=self.rounded + other.rounded, untaxed=self.untaxed + other.untaxed)

    def less(self, off: Money, *, with_tax: bool) -> "Taxed":
        """Return the same with an amount taken off, which is stated with tax or without.

        It lowers what each rate comes to in proportion, and what is not taxed likewise; within a rate
        it lowers each amount that tax is rounded on. Without tax, the taxable amounts are lowered, and
        tax is worked out on what remains. With tax, the sums with tax are lowered, and tax is what
        remains of them contains. So a rate's tax is rounded where it was before, and never rises: not
        with a further cent off, nor with the first one.
        Raises: ValueError for more than there is.
        Source: handbook M6; EN 16931 BR-CO-17. In proportion: common practice, and the way of EU law for
        a price reduced after the supply (Directive 2006/112/EC, art. 90, from memory).
        """
        if off > self.stated(with_tax=with_tax):
            raise ValueError("no more can be taken off than there is")
        if not off:
            return self
        amounts = [*(_stated(part, with_tax=with_tax) for part in self.rounded), self.untaxed]
        rates = [*(part.rate for part in self.rounded), None]
        shares = _shared_by_rate(off.minor, amounts, rates)
        less = [Money(share, off.currency) for share in shares]
        return Taxed(
            rounded=tuple(
                _less(part, share, with_tax=with_tax)
                for part, share in zip(self.rounded, less[:-1], strict=True)
            ),
            untaxed=self.untaxed - less[-1],
        )


def _stated(part: TaxPart, *, with_tax: bool) -> Money:
    return part.gross if with_tax else part.net


def _less(part: TaxPart, off: Money, *, with_tax: bool) -> TaxPart:
    """Return one taxed amount, lowered. The tax is at most what it was, however that was rounded."""
    if not off:
        return part
    rate = part.rate
    if with_tax:
        gross = part.gross - off
        tax = min(part.tax, gross.times(rate.within))
        return replace(part, net=gross - tax, tax=tax)
    net = part.net - off
    return replace(part, net=net, tax=min(part.tax, net.times(rate.percent)))


def _shared_by_rate(whole: int, amounts: list[Money], rates: list[TaxRate | None]) -> list[int]:
    """Shares of the amounts in a whole: first over the rates, then within each."""
    places: dict[TaxRate | None, list[int]] = {}
    for place, rate in enumerate(rates):
        places.setdefault(rate, []).append(place)
    sums = [sum(amounts[place].minor for place in each) for each in places.values()]
    shares = [0] * len(amounts)
    for each, share in zip(places.values(), shared_steadily(whole, sums), strict=True):
        parts = shared_steadily(share, [amounts[place].minor for place in each])
        for place, part in zip(each, parts, strict=True):
            shares[place] = part
    return shares
