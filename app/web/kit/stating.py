"""How the amounts of a field are stated, with tax or without, and what each is the other way (M5).

The one mechanism of that: `Fields.amount` makes the field, after whose label stands how it is stated and
beside which stands what was typed in the other way. Costs are without tax; what is sold is stated as the shop
prices; goodwill as the order does; what was paid, a deposit too, is with tax. The arithmetic is the domain's.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

from app.errors import Invalid
from app.money import Currency, Money, TaxRate, parse_money, show_money, taxed
from app.orders import Shop
from app.orders.totals import Account

WITH = "with tax"
WITHOUT = "without tax"
AS_PAID = "as paid, with tax"
UNTAXED = "no tax is charged"


def words_of(*, with_tax: bool) -> str:
    """Return "with tax" or "without tax"."""
    return WITH if with_tax else WITHOUT


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """words: how an amount is stated, "" where nothing is ever taxed. otherwise: an amount in the other way."""

    currency: Currency
    words: str
    otherwise: Callable[[Money], str] | None = None

    def told(self, text: str) -> str | None:
        """Write a typed amount as it is stated the other way: "30.00 without tax"; None while it cannot be read."""
        if self.otherwise is None:
            return None
        try:
            return self.otherwise(parse_money(text, self.currency)) or None
        except Invalid:
            return None


def prices(shop: Shop, rate: TaxRate | None) -> Stated:
    """Return how the shop states its prices (M2).

    rate: the tax rate of what is sold; None while it is not known.
    """
    return _at_rate(shop, rate, with_tax=shop.tax_policy.included)


def costs(shop: Shop, rate: TaxRate | None = None) -> Stated:
    """Return how costs are stated: without tax."""
    return _at_rate(shop, rate, with_tax=False)


def _at_rate(shop: Shop, rate: TaxRate | None, *, with_tax: bool) -> Stated:
    if not any(each.percent for each in shop.tax_rates):
        return Stated(currency=shop.currency, words="")
    return Stated(
        currency=shop.currency,
        words=words_of(with_tax=with_tax),
        otherwise=at(rate, with_tax=with_tax) if rate else None,
    )


def at(rate: TaxRate, *, with_tax: bool) -> Callable[[Money], str]:
    """Tells of an amount that is stated so what it is the other way at a rate."""

    def otherwise(amount: Money) -> str:
        part = taxed(amount, rate, included=with_tax)
        return _said(part.net if with_tax else part.gross, with_tax=not with_tax)

    return otherwise


def goodwill(account: Account) -> Stated:
    """Return how goodwill is stated: as the order's prices are.

    An amount above the order's total is not restated.
    """
    with_tax = account.with_tax

    def otherwise(amount: Money) -> str:
        if amount > account.charged.stated(with_tax=with_tax):
            return ""
        return _said(account.lowered_by(amount), with_tax=not with_tax)

    return _of_order(account, with_tax=with_tax, otherwise=otherwise)


def payment(account: Account) -> Stated:
    """Return how a payment or a deposit is stated: with tax as it is handed over, whatever the prices are."""
    stated = _of_order(account, with_tax=True, otherwise=_paid_share_of(account))
    return replace(stated, words=AS_PAID) if stated.words == WITH else stated


def paid_in_all(account: Account) -> Stated:
    """Return how what a customer wants to pay in all is stated: with tax, as a payment is."""
    stated = payment(account)
    return replace(stated, words=WITH) if stated.words == AS_PAID else stated


def _paid_share_of(account: Account) -> Callable[[Money], str]:
    def otherwise(amount: Money) -> str:
        return _said(account.share_otherwise(amount, with_tax=True), with_tax=False)

    return otherwise


def _of_order(account: Account, *, with_tax: bool, otherwise: Callable[[Money], str]) -> Stated:
    currency = account.to_pay.currency
    if not account.agreed.tax:
        return Stated(currency=currency, words=UNTAXED if account.agreed.untaxed else "")
    return Stated(currency=currency, words=words_of(with_tax=with_tax), otherwise=otherwise)


def _said(amount: Money, *, with_tax: bool) -> str:
    return f"{show_money(amount)} {words_of(with_tax=with_tax)}"
