"""The form of a line without a piece as a table, and how it is read (P12)."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from typing import Any

from app.forms.kinds import MONEY, TEXT, FieldKind, Options, number, optional, text_of
from app.forms.reader import Reader
from app.forms.table import Field, Form, Typed
from app.lengths import Unit
from app.money import Currency, show_percent
from app.orders.order_line import LineAgreed
from app.orders.quoting.reader import NOT_FOUND
from app.orders.shop import Shop
from app.pricing import Kind, Material
from app.pricing.price import earnings_per_hour
from app.pricing.sold import MOST_SOLD, Sale, price_sale

LONGEST_WHAT = 120
LONGEST_NOTE = 500
MOST_MINUTES = 10_000
"""A guard against hours typed as seconds. Source: ours."""


@dataclass(frozen=True, slots=True)
class LineTyped:
    """The shop, with all that was typed."""

    shop: Shop
    typed: Typed

    @property
    def unit(self) -> Unit:
        """The shop's."""
        return self.shop.unit

    @property
    def currency(self) -> Currency:
        """The shop's."""
        return self.shop.currency

    @property
    def free(self) -> bool:
        """Whether it is not of the price book."""
        return not self.typed.get("goods", "").strip()


def _rates(known: LineTyped) -> Options:
    """As usual, every rate of the shop, and one that was typed and is gone, so that it stays in view."""
    rates = known.shop.tax_rates
    named = tuple((rate.code, f"{rate.name} {show_percent(rate.percent)}") for rate in rates)
    typed = known.typed.get("tax", "").strip()
    gone = () if not typed or typed in dict(named) else ((typed, f"{typed[:24]}, which is gone"),)
    return (("", "as usual"), *named, *gone)


_NUMBER = FieldKind[int](
    control="number",
    read=lambda read, path, _usual: read.whole(path, "number", 1, low=1, high=MOST_SOLD),
    text=lambda value, _known: str(value),
)
_GOODS = replace(TEXT, control="finder", find=Kind.GOODS.value)
_RATE = replace(TEXT, control="select")

LINE = Form[LineTyped](
    Field(
        "goods",
        "Goods of the price book",
        _GOODS,
        "A code or a part of the name; blank for anything else that is sold.",
    ),
    Field(
        "what",
        "What",
        text_of(LONGEST_WHAT),
        "As the customer reads it. Leave blank to use the name from the price book.",
        needed=lambda known: known.free,
        wish="Say what is sold, or choose goods of the price book.",
        rule="P12",
    ),
    Field("number", "Number", _NUMBER, "one", usual=1),
    Field(
        "price",
        "Price each",
        optional(MONEY),
        "Blank for goods at the price of the price book.",
        needed=lambda known: known.free,
        wish="Say what one costs; only goods have a price in the price book.",
        beside=True,
    ),
    Field(
        "tax",
        "Tax",
        _RATE,
        "As usual is that of the goods, and of anything else that of work. For a gift voucher, local rules decide "
        "when tax is due. Choose the rate they ask for.",
        options=_rates,
    ),
    Field(
        "minutes",
        "Minutes of work",
        optional(number("number of minutes")),
        "Only for work: prints a job sheet. For all of them together.",
    ),
    Field(
        "note", "Note for the bench", text_of(LONGEST_NOTE, "area"), "The customer does not see it."
    ),
)

LINE_FIELDS = LINE.paths


@dataclass(frozen=True, slots=True, kw_only=True)
class LineTerms:
    """For which day a line is priced, and whether without tax.

    exact: goods are only taken by their code or whole name, as where they are sold in one act, with no look at what was meant.
    """

    today: date
    tax_free: bool = False
    exact: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class GoodsMeant:
    """What a typed text means: goods, at most. similar: they are only like it, by neither code nor whole name.

    other: the material of another kind that has this code or name; then no goods are meant. several: where more than
    one are like it, some of them.
    """

    goods: Material | None = None
    similar: bool = False
    other: Material | None = None
    several: tuple[Material, ...] = ()


MOST_NAMED = 5
"""Goods that are named where several are like what was typed."""


type FindGoods = Callable[[str], GoodsMeant]


def agree_line(typed: Typed, shop: Shop, find: FindGoods, terms: LineTerms) -> LineAgreed:
    """Return the line that was typed, priced at today's price book and rules.

    Raises: Invalid with every fault, at the field that was typed.
    """
    known = LineTyped(shop, typed)
    read = LINE.reader(typed, known)
    values = LINE.values(read, known)
    goods = _goods(read, find, terms)
    _check_sums(read, values)
    read.faults.finish()
    sale = Sale(
        what=values["what"] or (goods.name if goods else ""),
        number=values["number"],
        goods=goods,
        each=values["price"],
        tax=values["tax"],
        minutes=values["minutes"] or Fraction(0),
    )
    return LineAgreed(
        typed=dict(typed),
        what=sale.what,
        number=sale.number,
        price=price_sale(sale, shop.rules, tax_free=terms.tax_free),
        priced_on=terms.today,
        tax_policy=shop.tax_policy,
        tax_rates=shop.tax_rates,
        goods=goods,
        minutes=sale.minutes,
        note=values["note"],
        tax_free=terms.tax_free,
    )


def _goods(read: Reader, find: FindGoods, terms: LineTerms) -> Material | None:
    text = read.raw("goods")
    if not text:
        return None
    meant = find(text)
    if meant.goods is None or (meant.similar and terms.exact):
        read.faults.add("goods", _no_goods(text, meant), NOT_FOUND)
    return meant.goods


def _no_goods(text: str, meant: GoodsMeant) -> str:
    """Say why a text is not taken for goods."""
    called = f"“{text[:40]}”"
    if meant.other is not None:
        return (
            f"{called} is {meant.other.kind.with_article}, no goods; type the code of goods, or leave it blank "
            "and say what is sold."
        )
    if meant.goods is not None:
        like = meant.goods
        return (
            f"{called} is neither code nor name of goods. Is {like.code}, {like.name}, meant? Type its code: what "
            "is sold at once is not guessed."
        )
    if meant.several:
        named = "; ".join(f"{each.code}, {each.name}" for each in meant.several[:MOST_NAMED])
        more = "; and more" if len(meant.several) > MOST_NAMED else ""
        return (
            f"{called} fits several goods: {named}{more}. Type the code of the one that is meant."
        )
    return (
        f"No goods called {called}; type a part of the name, or the code, or leave it blank and say what is "
        "sold."
    )


def _check_sums(read: Reader, values: dict[str, Any]) -> None:
    """What a line cannot cost, and how long nothing takes."""
    unread = {fault.path for fault in read.faults.faults}
    if "price" not in unread and values["price"] is not None and not values["price"]:
        read.faults.add(
            "price",
            "The price of one is zero; type what it costs. What is given away needs no line.",
        )
    if values["minutes"] is not None and values["minutes"] > MOST_MINUTES:
        read.faults.add(
            "minutes",
            f"{read.raw('minutes')} minutes are more than one line holds; at most {MOST_MINUTES} are read.",
        )


def same_price(agreed: LineAgreed, typed: LineAgreed) -> LineAgreed | None:
    """Return what is typed now at the price that was agreed, where nothing is typed that the price follows from (P7).

    None where goods, number, price or tax are typed otherwise, or the customer is or is not tax-free any more.
    """
    asked = ("goods", "number", "price", "tax")
    before, now = (
        {path: each.typed.get(path, "").strip() for path in asked} for each in (agreed, typed)
    )
    if before != now or agreed.tax_free is not typed.tax_free:
        return None
    hourly = earnings_per_hour(agreed.price.margin, typed.minutes)
    lines = tuple(replace(line, label=typed.what) for line in agreed.price.lines)
    price = replace(agreed.price, lines=lines, minutes=typed.minutes, earnings_per_hour=hourly)
    return replace(
        agreed,
        typed=typed.typed,
        what=typed.what,
        minutes=typed.minutes,
        note=typed.note,
        price=price,
    )
