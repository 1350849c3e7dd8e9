"""The page of a line without a piece: one form with what it comes to beside it; and its card on its order's page."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from app.errors import Fault
from app.forms.kinds import choice
from app.forms.table import Field, Form, Typed
from app.money import Money, TaxRate, show_percent
from app.orders import LineAgreed, Method, Shop
from app.orders.quoting.line import LINE, LineTyped
from app.pricing import Material
from app.pricing.sold import usual_rate
from app.web.kit import stating
from app.web.kit.fields import Fields, FormView, OfShop
from app.web.kit.stating import Stated
from app.web.kit.templating import Page
from app.web.orders.form import METHODS
from app.web.pieces.price import PriceView

PAY = Form[OfShop](
    Field(
        "method",
        "Paid by",
        choice(Method, METHODS),
        "Only when sold now.",
        usual=Method.CASH,
    ),
)
"""How a sale over the counter is paid."""


_OF_ANYTHING = ("what", "price")
"""Fields that are needed of what is no goods of the price book."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LineFormPage(Page):
    """customer: for a quote that begins with this line. pay: how a sale over the counter is paid, for the same.

    price: None while it cannot be worked out. tax_word: what
    the price is. kept_since: the day of the price, where it is the one that was agreed; anew: what it would be
    today, where that is another.
    """

    heading: str
    subheading: str
    action: str
    save_label: str
    back: str
    version: str
    customer: FormView[OfShop] | None
    fields: FormView[LineTyped]
    pay: FormView[OfShop] | None
    price: PriceView | None
    tax_word: str
    kept_since: date | None
    anew: Money | None


def _rate_of(known: LineTyped, goods: Material | None) -> TaxRate | None:
    rules = known.shop.rules
    return rules.rate_of(known.typed.get("tax", "").strip() or usual_rate(goods, rules))


def form_view(
    known: LineTyped, faults: Iterable[Fault], goods: Material | None
) -> FormView[LineTyped]:
    """Return the fields of the form. goods: those that are meant, where any are."""

    def stated(known: LineTyped, _typed: Typed) -> Stated:
        return stating.prices(known.shop, _rate_of(known, goods))

    def begun(known: LineTyped) -> bool:
        """Tell whether something else than goods of the price book is being typed; blank, either may be meant."""
        return known.free and any(known.typed.get(path, "").strip() for path in _OF_ANYTHING)

    form = Form[LineTyped](
        *(
            replace(
                field,
                needed=begun if field.path in _OF_ANYTHING else field.needed,
                stated=stated if field.path == "price" else field.stated,
            )
            for field in LINE.fields
        )
    )
    return FormView(form, known, Fields(known.typed, faults, _understood(known, goods)))


def _understood(known: LineTyped, goods: Material | None) -> Mapping[str, str]:
    """Say what is meant by what was typed, and by what was not."""
    said: dict[str, str] = {}
    if goods is not None and goods.name.casefold() != known.typed.get("goods", "").casefold():
        said["goods"] = goods.name
    rate = _rate_of(known, goods)
    if rate is not None and not known.typed.get("tax", "").strip():
        said["tax"] = f"{rate.name} {show_percent(rate.percent)}"
    return said


def pay_fields(shop: Shop, typed: Typed, faults: Iterable[Fault] = ()) -> FormView[OfShop]:
    """Return the field that says how a sale over the counter is paid."""
    given = {"method": Method.CASH.value, **typed}
    return FormView(PAY, OfShop(shop), Fields(given, faults))


def tax_word(agreed: LineAgreed) -> str:
    """Return what the price is: with tax, or without for a tax-free customer."""
    if agreed.tax_free:
        return "Price, tax-free customer"
    return "Price with tax" if agreed.price.tax.tax else "Price"
