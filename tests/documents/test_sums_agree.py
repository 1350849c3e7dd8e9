"""Quote, confirmation, order page, ledger and invoice say the same, in every mixture of pieces.

Expected sums come from a small model in cents of its own: whole numbers, `decimal` for every rounding,
largest remainders written out. Each piece is the one of `tests.builders.worked`: materials 24.00, 10.00, 10.00,
15.00, 6.00 and 1.00, and work 37.51.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from itertools import product

import pytest

from app.documents.invoice import invoice_page
from app.documents.kit.total_lines import Sum
from app.documents.quote.quote import QuotePaper, quote_page
from app.money import Money, TaxPolicy, TaxRate, TaxRounding
from app.orders import (
    Customer,
    Entry,
    EntryKind,
    Labour,
    NewEntry,
    Order,
    Piece,
    Shop,
    Stage,
    sole_design,
)
from app.orders.invoices.issue import Head, buyer_of, invoice_of, seller_of
from app.orders.quoting.agreement import agree
from app.orders.reductions import NewReduction, Reduction
from app.orders.totals import account_of, stated_with_tax
from app.web.orders.form import of_order
from app.web.orders.page import form_fields
from tests.builders import ordered
from tests.builders.photograph import find
from tests.builders.printed import in_stage
from tests.builders.values import EUR, euro
from tests.builders.worked import SHOP, TYPED

TODAY = date(2026, 11, 25)
NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
AMBER = Customer(name="Amber Quill")
MATERIALS, WORK = (2400, 1000, 1000, 1500, 600, 100), 3751
LOW = TaxRate("reduced", "Reduced", Fraction(1, 10))


@dataclass(frozen=True)
class Priced:
    """How a piece is priced. work: rate of its work in percent; the materials bear 20."""

    included: bool = True
    by_line: bool = False
    free: bool = False
    work: int = 20
    discount: int = 0
    rush: bool = False
    step: int = 0


def shop_of(how: Priced) -> Shop:
    rounding = TaxRounding.BY_LINE if how.by_line else TaxRounding.BY_DOCUMENT
    return replace(
        SHOP,
        tax_policy=TaxPolicy(included=how.included, rounding=rounding),
        tax_rates=(*SHOP.tax_rates, LOW),
        labour=Labour(
            hourly_rate=SHOP.labour.hourly_rate,
            operations=SHOP.labour.operations,
            tax={20: "standard", 10: "reduced", 0: "none"}[how.work],
        ),
        rounding_step=Money(how.step, EUR) if how.step else None,
    )


def order_of(*pieces: Priced, off: str = "", with_tax: bool | None = None) -> Order:
    made = []
    for number, how in enumerate(pieces, start=1):
        typed = TYPED | {"discount": str(how.discount)} | ({"rush": "1"} if how.rush else {})
        artwork, agreed = agree(typed, shop_of(how), find, today=TODAY, tax_free=how.free)
        made.append(
            Piece(
                id=number,
                number=number,
                artwork=artwork,
                designs=sole_design(agreed),
                stage=Stage.ORDERED,
            )
        )
    order = ordered.order_of(*made)
    if not off:
        return order
    stated = stated_with_tax(order) if with_tax is None else with_tax
    entry = NewReduction(amount=euro(off), reason="late", at=NOON, by="", with_tax=stated)
    return replace(order, reductions=(Reduction(id=1, entry=entry),))


def cents(exact: Decimal | Fraction) -> int:
    if isinstance(exact, Fraction):
        exact = Decimal(exact.numerator) / Decimal(exact.denominator)
    return int(exact.quantize(Decimal(1), ROUND_HALF_UP))


def by_remainder(whole: int, weights: list[int]) -> list[int]:
    total = sum(weights)
    parts = [whole * weight // total for weight in weights]
    order = sorted(range(len(weights)), key=lambda n: (-(whole * weights[n] % total), n))
    for n in order[: whole - sum(parts)]:
        parts[n] += 1
    return parts


def settled(how: Priced) -> dict[int, list[int]]:
    """The stated amounts of a piece's lines, discount, rush and rounding in them, by rate."""
    lines = {20: list(MATERIALS)}
    lines.setdefault(how.work, []).append(WORK)
    total = sum(MATERIALS) + WORK
    total -= cents(Decimal(total) * how.discount / 100)
    total += cents(Decimal(total) / 4) if how.rush else 0
    total = cents(Decimal(total) / how.step) * how.step if how.step else total
    shares = by_remainder(total, [sum(amounts) for amounts in lines.values()])
    return {
        rate: by_remainder(share, amounts)
        for (rate, amounts), share in zip(lines.items(), shares, strict=True)
    }


def tax_in(amount: int, rate: int, *, included: bool) -> int:
    return cents(Fraction(amount * rate, 100 + rate if included else 100))


def expected(*pieces: Priced) -> tuple[int, dict[int, int]]:
    """What is paid, and the tax of each rate, in cents."""
    net, taxes = 0, dict[int, int]()
    documents: dict[tuple[object, ...], list[tuple[int, int, bool]]] = {}
    for how in pieces:
        # What pieces share is summed as one document: price mode, rounding; free ones apart.
        key = (how.included, how.by_line)
        documents.setdefault(key, []).extend(
            (rate, amount, how.free) for rate, all_ in settled(how).items() for amount in all_
        )
    for (included, by_line), lines in documents.items():
        for free, rate in product((False, True), (20, 10, 0)):
            amounts = [amount for r, amount, f in lines if (r, f) == (rate, free)]
            parts = amounts if by_line else [sum(amounts)]
            tax = sum(tax_in(part, rate, included=bool(included)) for part in parts)
            net += sum(amounts) - (tax if included else 0)
            if not free:
                taxes[rate] = taxes.get(rate, 0) + tax
    return net + sum(taxes.values()), {rate: tax for rate, tax in taxes.items() if tax}


MIXTURES: dict[str, tuple[Priced, ...]] = {
    "with tax": (Priced(), Priced()),
    "without tax": (Priced(included=False), Priced(included=False)),
    "both": (Priced(), Priced(included=False)),
    "tax-free, with tax": (Priced(free=True), Priced(free=True), Priced(free=True)),
    "tax-free, without tax": (Priced(included=False, free=True),),
    "one tax-free, with tax": (Priced(), Priced(free=True)),
    "one tax-free, without tax": (Priced(included=False), Priced(included=False, free=True)),
    "both, one tax-free": (Priced(free=True), Priced(included=False), Priced()),
    "both, both tax-free": (Priced(free=True), Priced(included=False, free=True)),
    "two rates": (Priced(work=10), Priced(work=10)),
    "two rates, without tax": (Priced(included=False, work=10), Priced(included=False)),
    "both, two rates": (Priced(work=10), Priced(included=False, work=10)),
    "untaxed work": (Priced(work=0), Priced(included=False, work=0)),
    "by line": (Priced(by_line=True, work=10), Priced(by_line=True)),
    "by line, without tax": (Priced(included=False, by_line=True),) * 3,
    "by line and by document": (Priced(by_line=True), Priced(), Priced(included=False)),
    "discount": (Priced(discount=7), Priced(included=False, discount=13)),
    "rush and step": (Priced(rush=True, step=50), Priced(included=False, rush=True, step=25)),
    "everything": (
        Priced(work=10, discount=5, rush=True, step=50),
        Priced(included=False, by_line=True, work=10, discount=3),
        Priced(free=True, work=10, rush=True),
        Priced(included=False, free=True, step=5),
    ),
}


def adds_up(sums: tuple[Sum, ...]) -> Money:
    """The total of a column of sums, each line of which was added up; what is told apart too."""
    running, total, apart = 0, None, 0
    for place, each in enumerate(sums):
        if each.apart:
            apart += each.amount.minor
        elif each.strong:
            assert place == 0 or running == each.amount.minor, each.label
            total = each.amount
        elif each.label == "Without tax":
            assert running == each.amount.minor
        else:
            running += each.amount.minor
    assert total is not None
    assert apart in (0, total.minor)
    return total


def piece_adds_up(sums: tuple[Sum, ...]) -> Money:
    """The last line of a piece; the others add up to it, but for a sum between."""
    *others, last = sums
    between = [each for each in others if each.label in ("With tax", "Without tax")]
    assert sum(each.amount.minor for each in others if each not in between) == last.amount.minor
    return last.amount


def taxes_said(sums: tuple[Sum, ...]) -> Iterator[tuple[int, int]]:
    """(rate in percent, cents) of each tax that is told apart, else of each that is added."""
    apart = [each for each in sums if each.apart]
    for each in apart or sums:
        if each.label.endswith(" %"):
            yield int(each.label.split()[-2]), each.amount.minor


def check_paper(page: QuotePaper, to_pay: int, taxes: dict[int, int]) -> None:
    assert adds_up(page.sums).minor == to_pay
    together = [each.amount for each in page.sums if each.label == "Subtotal of all pieces"]
    pieces = sum(piece_adds_up(piece.sums).minor for piece in page.pieces)
    assert pieces == (together[0].minor if together else to_pay)
    assert dict(taxes_said(page.sums)) == taxes
    assert len(list(taxes_said(page.sums))) == len(taxes)


@pytest.mark.parametrize("pieces", MIXTURES.values(), ids=MIXTURES)
def test_every_paper_and_page_agrees_with_the_cents(pieces: tuple[Priced, ...]) -> None:
    order, (to_pay, taxes) = order_of(*pieces), expected(*pieces)
    deposit = NewEntry(kind=EntryKind.DEPOSIT, amount=euro("20"), at=NOON, by="")
    order = replace(order, entries=(Entry(id=1, entry=deposit),))
    quote = replace(in_stage(order, Stage.QUOTED), order_number=None)
    check_paper(quote_page(quote, AMBER, SHOP, today=TODAY), to_pay, taxes)
    confirmation = quote_page(order, AMBER, SHOP, today=TODAY)
    check_paper(confirmation, to_pay, taxes)
    assert confirmation.payments[-1].amount.minor == to_pay - 2000
    account = form_fields(of_order(order, SHOP, TODAY), {}, ())["account"]
    assert (account.gross.minor, account.to_pay.minor) == (to_pay, to_pay)
    assert [int(p.rate.percent * 100) for p in account.taxes if p.tax] == list(taxes)
    assert (account.received.minor, account.balance.minor) == (2000, to_pay - 2000)
    issued = invoice_of(
        order, seller_of(SHOP), buyer_of(AMBER), Head(number="R-1", issued_on=TODAY)
    )
    printed = invoice_page(issued)
    assert issued.charged.gross.minor == to_pay
    assert issued.due.minor == to_pay - 2000
    assert {int(p.rate.percent * 100): p.tax.minor for p in issued.charged.taxes if p.tax} == taxes
    assert [each.amount.minor for each in printed.sums if each.strong] == [to_pay]


OFF = ("0.01", "0.07", "9.99", "50", "103.51")


@pytest.mark.parametrize("off", OFF)
@pytest.mark.parametrize("pieces", MIXTURES.values(), ids=MIXTURES)
def test_papers_agree_after_goodwill(pieces: tuple[Priced, ...], off: str) -> None:
    before = account_of(order_of(*pieces), Money.zero(EUR))
    order = order_of(*pieces, off=off)
    account = account_of(order, Money.zero(EUR))
    for old, new in zip(before.taxes, account.taxes, strict=True):
        assert new.tax <= old.tax
    if account.with_tax:
        assert account.to_pay == before.to_pay - min(before.to_pay, euro(off))
    else:
        assert account.charged.net == before.charged.net - min(before.charged.net, euro(off))
    taxes = {int(p.rate.percent * 100): p.tax.minor for p in account.taxes if p.tax}
    check_paper(quote_page(order, AMBER, SHOP, today=TODAY), account.to_pay.minor, taxes)
    issued = invoice_of(
        order, seller_of(SHOP), buyer_of(AMBER), Head(number="R-1", issued_on=TODAY)
    )
    assert issued.charged.gross == account.to_pay
    assert issued.charged.off == -before.charged.stated(with_tax=account.with_tax) + (
        account.charged.stated(with_tax=account.with_tax)
    )


# Until the goodwill of an order said so itself, all of it was with tax, whatever the prices were (P7).
@pytest.mark.parametrize("pieces", MIXTURES.values(), ids=MIXTURES)
def test_goodwill_that_was_agreed_with_tax_comes_off_the_sum_with_tax(
    pieces: tuple[Priced, ...],
) -> None:
    before = account_of(order_of(*pieces), Money.zero(EUR))
    order = order_of(*pieces, off="11.44", with_tax=True)
    account = account_of(order, Money.zero(EUR))
    assert account.to_pay == before.to_pay - euro("11.44")
    taxes = {int(p.rate.percent * 100): p.tax.minor for p in account.taxes if p.tax}
    check_paper(quote_page(order, AMBER, SHOP, today=TODAY), account.to_pay.minor, taxes)
    issued = invoice_of(
        order, seller_of(SHOP), buyer_of(AMBER), Head(number="R-1", issued_on=TODAY)
    )
    assert issued.charged.gross == account.to_pay


# A piece at 103.51 with 17.25 of tax in it, and one at 103.51 to which 20.70 is added: 227.72, of which
# 37.95 is tax.
def test_pieces_priced_both_ways_are_each_brought_to_the_sum_with_tax() -> None:
    page = quote_page(order_of(Priced(), Priced(included=False)), AMBER, SHOP, today=TODAY)
    said = [[(each.label, each.amount) for each in piece.sums[-3:]] for piece in page.pieces]
    assert said[0][-1] == ("Subtotal", euro("103.51"))
    assert said[1] == [
        ("Without tax", euro("103.51")),
        ("Tax 20 %", euro("20.70")),
        ("Subtotal", euro("124.21")),
    ]
    assert [(each.label, each.amount) for each in page.sums] == [
        ("Total", euro("227.72")),
        ("of which Tax 20 %", euro("37.95")),
        ("Without tax", euro("189.77")),
    ]
