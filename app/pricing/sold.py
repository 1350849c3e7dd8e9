"""The price of what is sold without a piece: so many, at the price of one (P12).

Owns the one line of such a price. It is exact: number × price is rounded half up once, and neither discount
nor the step that pieces are rounded to comes to it.
"""

from dataclasses import dataclass, replace
from fractions import Fraction

from app.errors import Invalid
from app.money import Money, TaxRate, show_money
from app.pricing.book import Material
from app.pricing.lines import PriceLine, product_text, rounded, without_tax
from app.pricing.measure import Measure, unit_cost
from app.pricing.price import PiecePrice, earnings_per_hour, faults_at, summed
from app.pricing.rules import Adjustments, PriceRules
from app.pricing.sell_price import unit_price
from app.pricing.uses import LineGroup

MOST_SOLD = 9_999
"""A guard against a price typed as a number. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sale:
    """What is sold. goods: of the price book, None for a free text. each: the price of one as the shop states prices;
    None for that of the price book. tax: code of a tax rate, "" for that of the goods, or else of work. minutes: of
    work, in all.
    """

    what: str
    number: int
    goods: Material | None = None
    each: Money | None = None
    tax: str = ""
    minutes: Fraction = Fraction(0)


def price_sale(sale: Sale, rules: PriceRules, *, tax_free: bool = False) -> PiecePrice:
    """Return the price of a line without a piece, in the shop's price mode.

    Raises: Invalid at "number", at "price" where nobody says what one costs, at "tax" for a rate that the shop does not
    have, and at "goods" for what the rules lack of them.
    Source: handbook P12, P4, M1.
    """
    rate = _checked(sale, rules)
    each, why_shop = _each(sale, rules)
    cost_of_one = unit_cost(sale.goods, Measure.EACH) if sale.goods else Fraction(0)
    amount = rounded(sale.number * each, rules.currency)
    cost = rounded(sale.number * cost_of_one, rules.currency)
    line = PriceLine(
        code=sale.goods.code if sale.goods else "line",
        label=sale.what,
        group=LineGroup.SOLD,
        part="line",
        quantity=Fraction(sale.number),
        measure=Measure.EACH,
        unit_price=each,
        amount=amount,
        settled=amount,
        cost=cost,
        tax=rate.code,
        why=(product_text(Fraction(sale.number), Measure.EACH, each, amount, rules.length_unit),),
        why_shop=(*why_shop, f"Cost {show_money(cost)}.") if sale.goods else (),
        below_cost=without_tax(amount, rate, rules) < cost.minor,
    )
    exact = replace(rules, rounding_step=Money.zero(rules.currency))
    price = summed([line], exact, Adjustments(tax_free=tax_free))
    hourly = earnings_per_hour(price.margin, sale.minutes)
    return replace(price, minutes=sale.minutes, earnings_per_hour=hourly)


def usual_rate(goods: Material | None, rules: PriceRules) -> str:
    """Return the code of the tax rate where none is chosen: of the goods, and of anything else that of work."""
    return goods.tax if goods else rules.labour_tax


def _checked(sale: Sale, rules: PriceRules) -> TaxRate:
    if not 1 <= sale.number <= MOST_SOLD:
        raise Invalid.at("number", f"The number is {sale.number}; 1 to {MOST_SOLD} is allowed.")
    if sale.goods is None and sale.each is None:
        raise Invalid.at("price", "Say what one costs.", "empty")
    rate = rules.rate_of(sale.tax or usual_rate(sale.goods, rules))
    if rate is None and (sale.tax or sale.goods is None):
        raise Invalid.at("tax", rules.no_such_rate(sale.tax or rules.labour_tax))
    if sale.goods is not None:
        bearing = replace(sale.goods, tax=sale.tax) if sale.tax else sale.goods
        if lacking := tuple(faults_at("goods", bearing, rules)):
            raise Invalid(lacking)
    assert rate is not None, "goods without a rate lack it"
    return rate


def _each(sale: Sale, rules: PriceRules) -> tuple[Fraction, tuple[str, ...]]:
    """Return the price of one in minor units, exact, and what the shop is told of it."""
    if sale.goods is None:
        assert sale.each is not None, "a free text has its price"
        return Fraction(sale.each.minor), ()
    book = unit_price(sale.goods, Measure.EACH, rules)
    if sale.each is None:
        return book.minor, (book.why_shop,)
    return Fraction(sale.each.minor), ("Price given on the line.", book.why_shop)
