"""Makes a price ready to print: of a piece or a line, for the shop with what it costs and earns, and for the customer.

Cost and margin stand in fields of their own, which the customer's view has not.
"""

from dataclasses import dataclass, replace
from fractions import Fraction

from app.documents.kit.total_lines import (
    BY_NUMBER,
    NOT_CHARGED,
    SUBTOTAL,
    PriceWords,
    Sum,
    sums_of_piece,
)
from app.documents.quote.details import glazing_word
from app.lengths import Unit
from app.money import Money, round_half_up, show_money, show_percent
from app.orders import Agreed, LineAgreed, QuotePrices, Shop
from app.pricing import LineGroup, Measure, PiecePrice, PriceLine


@dataclass(frozen=True, slots=True, kw_only=True)
class LineView:
    """One line of a price.

    why: the sum for anyone. shop_why: the sum with cost and markup, for the shop. rules: the numbers of
    the handbook's rules that it rests on. steps: at which sizes near by it jumps, each in a sentence.
    """

    label: str
    quantity: str
    amount: Money
    why: tuple[str, ...]
    shop_why: tuple[str, ...]
    below_cost: bool
    notice: str | None
    rules: tuple[str, ...]
    steps: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceView:
    """The price of a piece.

    total: what the customer pays. cost, margin, margin_share, hourly: for the shop alone. each: of several alike
    how the total comes about, "20 × 41.50"; empty for a single piece.
    """

    total: Money
    each: str
    tax_included: bool
    lines: tuple[LineView, ...]
    adjustments: tuple[tuple[str, Money], ...]
    taxes: tuple[tuple[str, Money], ...]
    net: Money
    cost: Money
    margin: Money
    margin_share: str
    minutes: str
    hourly: Money | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomerPriceView:
    """The price of a piece as its customer sees it: by group as on the papers, without what it costs and how it came about (P9).

    total: what the customer pays. each: as of `PriceView`.
    """

    total: Money
    each: str
    sums: tuple[Sum, ...]


def customer_price(agreed: Agreed, shop: Shop) -> CustomerPriceView:
    """Make the view of the price of a piece for its customer, line by line or in total as the shop states it on paper."""
    price = agreed.price
    words = PriceWords(mat=shop.mat_word.value, glazing=glazing_word(agreed.chosen))
    sums = sums_of_piece(price.customer_view(), words)
    return CustomerPriceView(
        total=price.tax.gross,
        each=each_in_words(price) if price.copies > 1 else "",
        sums=_up_to(price.tax.gross, sums) if shop.quote_prices is QuotePrices.LINES else (),
    )


def _up_to(total: Money, sums: tuple[Sum, ...]) -> tuple[Sum, ...]:
    """Return sums of a piece that stands by itself: the last is the total where it is all that is paid."""
    last = sums[-1]
    whole = last.label == SUBTOTAL and last.amount == total
    return (*sums[:-1], replace(last, label="Total")) if whole else sums


def price_view(agreed: Agreed | LineAgreed, rush_label: str = "Rush") -> PriceView:
    """Make the view of a price, of a piece in its unit."""
    price = agreed.price
    unit = agreed.spec.unit if isinstance(agreed, Agreed) else Unit.MM
    return PriceView(
        total=price.tax.gross,
        each=each_in_words(price) if price.copies > 1 else "",
        tax_included=agreed.tax_policy.included,
        lines=tuple(line_view(line, unit) for line in price.lines),
        adjustments=_adjustments(price, rush_label, included=agreed.tax_policy.included),
        taxes=tuple(
            (f"{part.rate.name} {show_percent(part.rate.percent)}", part.tax)
            for part in price.tax.taxes
        ),
        net=price.tax.net,
        cost=price.cost,
        margin=price.margin,
        margin_share=margin_share(price.margin, price.tax.net),
        minutes=f"{round(price.minutes)} min",
        hourly=price.earnings_per_hour,
    )


def line_view(line: PriceLine, unit: Unit) -> LineView:
    """Make the view of one line of a price, read in a unit."""
    return LineView(
        label=line.label,
        quantity=line.short_in(unit),
        amount=line.amount,
        why=line.why,
        shop_why=line.why_shop,
        below_cost=line.below_cost,
        notice=line.notice,
        rules=_rules_of(line),
    )


_RULES = {
    Measure.METRE: ("P2", "P4"),
    Measure.FOOT: ("P2", "P4"),
    Measure.SQUARE_METRE: ("P3", "P4"),
    Measure.SQUARE_FOOT: ("P3", "P4"),
    Measure.SHEET: ("P3", "P4"),
    Measure.BAND: ("P1",),
    Measure.EACH: ("P1", "P4"),
    Measure.MINUTE: ("P5",),
}


def _rules_of(line: PriceLine) -> tuple[str, ...]:
    """Return the rules that a line rests on; for the rails of a frame also the one for how long they are, of
    several alike the one for how they count.
    """
    alike = ("P11",) if line.copies > 1 or line.together else ()
    rails = ("G12",) if line.group is LineGroup.FRAME and line.measure is not Measure.EACH else ()
    if line.group is LineGroup.SOLD:
        return ("P12", "P4") if line.cost else ("P12",)
    return (*rails, *_RULES[line.measure], *alike)


def _adjustments(
    price: PiecePrice, rush_label: str, *, included: bool
) -> tuple[tuple[str, Money], ...]:
    """Return what leads from the lines to the total.

    included: whether the lines hold the tax, which a tax-free customer does not pay (M2).
    """
    untaxed = price.tax.gross - price.total if included else Money.zero(price.total.currency)
    named = (
        (BY_NUMBER.format(price.copies), price.by_number),
        ("Discount", price.discount),
        (rush_label, price.rush),
        ("Rounding", price.rounding),
        (NOT_CHARGED, untaxed),
    )
    return tuple((label, amount) for label, amount in named if amount)


def each_in_words(price: PiecePrice) -> str:
    """Tell how many are alike and the price of one, which is what the total is exactly so many times.

    Of a price with tax that the customer does not pay it is what the customer pays for one, about where that cannot be
    divided without a rest.
    """
    if price.total == price.tax.gross:
        return f"{price.copies} × {show_money(price.each)}"
    if not price.tax_included:
        return f"{price.copies} × {show_money(price.each)} without tax"
    one = Fraction(price.to_pay.minor, price.copies)
    shown = show_money(Money(round_half_up(one), price.currency))
    return f"{price.copies} × {'' if one.denominator == 1 else 'about '}{shown} without tax"


def margin_share(margin: Money, net: Money) -> str:
    """Return what share of a price without tax is left over the materials, in whole percent; a dash where it is none."""
    return show_percent(Fraction(margin.minor, net.minor), 0) if net else "–"
