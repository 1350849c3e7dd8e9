"""Invoices and credit notes: what they charge, worked by hand, and the sums that EN 16931 asks for.

Rules "BR-" and terms "BT-" are those of EN 16931 as Peppol BIS Billing 3.0 publishes them (their numbers
from memory). The piece is the one of `tests.builders.worked`: 103.51 with tax, of which 17.25 is tax at 20 %.
"""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone
from fractions import Fraction
from typing import Any

import pytest

from app.errors import Conflict, Invalid
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
    StageChange,
    sole_design,
)
from app.orders.invoices.invoice import Charged, Invoice, InvoiceKind, InvoiceLine
from app.orders.invoices.issue import (
    Head,
    buyer_of,
    credit_note_of,
    differences,
    invoice_of,
    seller_of,
)
from app.orders.quoting.agreement import agree
from app.orders.reductions import NewReduction, Reduction
from tests.builders.ordered import order_of
from tests.builders.photograph import find
from tests.builders.values import EUR, euro
from tests.builders.worked import SHOP, TYPED

TODAY = date(2026, 11, 25)
NOW = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)
AMBER = Customer(name="Amber Quill", address="12 Heron Walk\nEastmere", phone="0100 555 0123")
HEAD = Head(number="R-2026-0001", issued_on=TODAY)

WITHOUT = replace(SHOP, tax_policy=TaxPolicy(included=False, rounding=TaxRounding.BY_DOCUMENT))
REDUCED = TaxRate("reduced", "Reduced", Fraction(1, 10))
TWO_RATES = replace(
    SHOP,
    tax_rates=(*SHOP.tax_rates, REDUCED),
    labour=Labour(hourly_rate=euro("36.00"), tax="reduced"),
)


def pieces(*shops: Shop, tax_free: bool = False, stage: Stage = Stage.ORDERED) -> tuple[Piece, ...]:
    made = [agree(TYPED, shop, find, today=TODAY, tax_free=tax_free) for shop in shops]
    return tuple(
        Piece(id=n, number=n, artwork=artwork, designs=sole_design(agreed), stage=stage)
        for n, (artwork, agreed) in enumerate(made, start=1)
    )


def an_order(*shops: Shop, tax_free: bool = False, **changes: Any) -> Order:
    made = pieces(*(shops or (SHOP,)), tax_free=tax_free)
    return order_of(*made, **{"due": date(2026, 12, 10), **changes})


def off(amount: str, reason: str = "a scratch", id_: int = 1) -> Reduction:
    entry = NewReduction(amount=euro(amount), reason=reason, at=NOW, by="Ilse")
    return Reduction(id=id_, entry=entry)


def invoice(order: Order, shop: Shop = SHOP, head: Head = HEAD) -> Invoice:
    return invoice_of(order, seller_of(shop), buyer_of(AMBER), head)


def line(piece: int, rate: str, amount: str) -> tuple[int, str, Money]:
    return (piece, rate, euro(amount))


def lines_of(charged: Charged) -> list[tuple[int, str, Money]]:
    return [
        (each.piece, each.rate.code if each.rate else "not charged", each.amount)
        for each in charged.lines
    ]


def sums_of(charged: Charged) -> tuple[Money, Money, Money]:
    return charged.net, charged.tax, charged.gross


def sums(net: str, tax: str, gross: str) -> tuple[Money, Money, Money]:
    return euro(net), euro(tax), euro(gross)


# 103.51 × 20/120 = 17.2517
def test_a_price_with_tax_is_stated_with_it_and_split() -> None:
    charged = invoice(an_order()).charged
    assert charged.with_tax
    assert lines_of(charged) == [line(1, "standard", "103.51")]
    assert sums_of(charged) == sums("86.26", "17.25", "103.51")


# 103.51 × 20 % = 20.702
def test_a_price_without_tax_is_stated_without_it_and_raised() -> None:
    charged = invoice(an_order(WITHOUT)).charged
    assert not charged.with_tax
    assert lines_of(charged) == [line(1, "standard", "103.51")]
    assert sums_of(charged) == sums("103.51", "20.70", "124.21")


# Materials 66.00, of which 20/120 = 11.00; work 37.51, of which 10/110 = 3.41.
def test_a_piece_with_two_rates_has_a_line_for_each() -> None:
    charged = invoice(an_order(TWO_RATES)).charged
    assert lines_of(charged) == [line(1, "standard", "66.00"), line(1, "reduced", "37.51")]
    assert [(p.rate.code, p.net, p.tax) for p in charged.taxes] == [
        ("standard", euro("55.00"), euro("11.00")),
        ("reduced", euro("34.10"), euro("3.41")),
    ]
    assert [bool(each.details) for each in charged.lines] == [True, False]


# Three at 103.51 are 310.53, of which 51.755, half up 51.76, is tax; without it 258.77, a third of which
# is 86.2566…: two of the three cents that are left over go to the first two.
def test_a_tax_free_customer_is_charged_what_the_tax_leaves() -> None:
    charged = invoice(an_order(SHOP, SHOP, SHOP, tax_free=True)).charged
    assert lines_of(charged) == [
        line(1, "not charged", "86.26"),
        line(2, "not charged", "86.26"),
        line(3, "not charged", "86.25"),
    ]
    assert sums_of(charged) == sums("258.77", "0", "258.77")
    assert charged.taxes == ()
    assert charged.untaxed == euro("258.77")


# 103.51 with tax and 103.51 + 20.70 are 227.72; 17.25 + 20.70 are tax.
def test_pieces_that_were_priced_both_ways_are_all_stated_with_tax() -> None:
    charged = invoice(an_order(SHOP, WITHOUT)).charged
    assert charged.with_tax
    assert lines_of(charged) == [line(1, "standard", "103.51"), line(2, "standard", "124.21")]
    assert sums_of(charged) == sums("189.77", "37.95", "227.72")


# 103.51 − 10.00 = 93.51, of which 15.585, half up 15.59.
def test_what_was_taken_off_lowers_a_sum_with_tax_as_it_was_told() -> None:
    charged = invoice(an_order(reductions=(off("10"),))).charged
    assert [(each.reason, each.amount) for each in charged.taken_off] == [
        ("a scratch", euro("-10"))
    ]
    assert sums_of(charged) == sums("77.92", "15.59", "93.51")


# 124.21 − 10.00 = 114.21, of which 19.035, half up 19.04; so 95.17, which is 8.34 less than 103.51:
# 3/10 and 7/10 of it are 2.502 and 5.838.
def test_what_was_taken_off_is_stated_without_tax_beside_lines_without_it() -> None:
    taken = (off("3", "late"), off("7", "a scratch", 2))
    charged = invoice(an_order(WITHOUT, reductions=taken)).charged
    assert [(each.reason, each.amount) for each in charged.taken_off] == [
        ("late", euro("-2.50")),
        ("a scratch", euro("-5.84")),
    ]
    assert sums_of(charged) == sums("95.17", "19.04", "114.21")


def test_what_was_paid_and_given_back_is_counted_and_mistakes_are_not() -> None:
    def entry(id_: int, kind: EntryKind, amount: str, corrects: int | None = None) -> Entry:
        new = NewEntry(kind=kind, amount=euro(amount), at=NOW, by="", takes_back=corrects)
        return Entry(id=id_, entry=new)

    entries = (
        entry(1, EntryKind.DEPOSIT, "500"),
        entry(2, EntryKind.CORRECTION, "-500", corrects=1),
        entry(3, EntryKind.DEPOSIT, "50"),
        entry(4, EntryKind.REFUND, "-5.50"),
    )
    issued = invoice(an_order(entries=entries))
    assert [receipt.amount for receipt in issued.received] == [euro("50"), euro("-5.50")]
    assert issued.paid == euro("44.50")
    assert issued.due == euro("59.01")


ALL_KINDS = {
    "with tax": an_order(SHOP, SHOP),
    "without tax": an_order(WITHOUT, WITHOUT),
    "two rates": an_order(TWO_RATES, SHOP),
    "tax-free": an_order(SHOP, SHOP, SHOP, tax_free=True),
    "both ways": an_order(SHOP, WITHOUT),
    "taken off": an_order(WITHOUT, TWO_RATES, reductions=(off("31.37"),)),
}


@pytest.mark.parametrize("order", ALL_KINDS.values(), ids=ALL_KINDS)
def test_an_invoice_keeps_the_sums_of_the_european_standard(order: Order) -> None:
    deposit = NewEntry(kind=EntryKind.DEPOSIT, amount=euro("50"), at=NOW, by="")
    issued = invoice(replace(order, entries=(Entry(id=1, entry=deposit),)))
    charged = issued.charged
    net = sum((part.net for part in charged.taxes), charged.untaxed)
    tax = sum((part.tax for part in charged.taxes), Money.zero(EUR))
    lines = sum((each.amount for each in charged.lines), Money.zero(EUR))
    taken = sum((each.amount for each in charged.taken_off), Money.zero(EUR))
    # BR-CO-10, BR-CO-13: the lines less what is taken off are the total (BT-109, with tax BT-112).
    assert lines + taken == (net + tax if charged.with_tax else net)
    # BR-CO-14, BR-CO-15: the taxes of the breakdown are the total tax, and both totals differ by it.
    assert charged.tax == tax
    assert charged.gross == charged.net + tax
    # BR-CO-16: amount due = total with tax − paid.
    assert issued.due == charged.gross - euro("50")
    # BR-CO-17: the tax of a rate is its taxable amount times the rate; a cent of rounding is let pass.
    for part in charged.taxes:
        assert abs(part.tax.minor - part.net.minor * part.rate.percent) <= 1


def test_an_invoice_says_who_sells_who_buys_and_when() -> None:
    shop = replace(
        SHOP, address="3 Sail Loft Row\nEastmere", contact="0100", tax_number="XX 12 345"
    )
    issued = invoice(an_order(), shop)
    assert (issued.seller.name, issued.seller.lines, issued.seller.tax_number) == (
        "Sedge Lane Frames",
        ("3 Sail Loft Row", "Eastmere", "0100"),
        "XX 12 345",
    )
    assert issued.buyer.lines == ("12 Heron Walk", "Eastmere")
    assert (issued.order_number, issued.ordered_on) == ("2026-0001", TODAY)
    assert (issued.collected_on, issued.ready_on) == (None, date(2026, 12, 10))


def test_the_day_of_supply_is_the_day_on_the_shops_wall_on_which_the_last_piece_went() -> None:
    late = datetime(2026, 12, 9, 23, 30, tzinfo=UTC)
    gone = tuple(
        replace(piece, changes=(StageChange(old=Stage.FRAMED, new=Stage.COLLECTED, at=at, by=""),))
        for piece, at in zip(
            pieces(SHOP, SHOP, stage=Stage.COLLECTED), (late, late - timedelta(days=3)), strict=True
        )
    )
    head = replace(HEAD, issued_on=date(2026, 12, 10), zone=timezone(timedelta(hours=1)))
    issued = invoice(an_order(pieces=gone), head=head)
    assert (issued.collected_on, issued.ready_on) == (date(2026, 12, 10), None)


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        ({"order_number": None}, "is not ordered"),
        ({"pieces": pieces(SHOP, stage=Stage.QUOTED)}, "is not ordered"),
        ({"pieces": pieces(SHOP, stage=Stage.CANCELLED)}, "No piece of 2026-0001 is left"),
    ],
)
def test_only_what_is_ordered_is_invoiced(changes: dict[str, Any], why: str) -> None:
    with pytest.raises(Conflict, match=why):
        invoice(an_order(**changes))


def test_what_heads_an_invoice_is_held_to_its_bounds() -> None:
    head = replace(HEAD, pay_by=date(2026, 11, 24), note="x" * 401)
    with pytest.raises(Invalid) as caught:
        invoice(an_order(), head=head)
    assert [fault.path for fault in caught.value.faults] == ["pay_by", "note"]


def test_lines_that_do_not_add_up_are_no_invoice() -> None:
    wrong = InvoiceLine(piece=1, name="Framing", details="", rate=None, amount=euro("1"))
    with pytest.raises(ValueError, match="add up"):
        Charged(
            currency=EUR,
            with_tax=True,
            lines=(wrong,),
            taken_off=(),
            taxes=(),
            untaxed=euro("2"),
        )


@pytest.mark.parametrize("order", ALL_KINDS.values(), ids=ALL_KINDS)
def test_a_credit_note_takes_an_invoice_back_to_nothing(order: Order) -> None:
    issued = invoice(order)
    note = credit_note_of(issued, Head(number="R-2026-0002", issued_on=date(2026, 12, 1)))
    assert note.kind is InvoiceKind.CREDIT_NOTE
    assert note.corrects is not None
    assert (note.corrects.number, note.corrects.issued_on) == ("R-2026-0001", TODAY)
    for before, after in zip(issued.charged.lines, note.charged.lines, strict=True):
        assert before.amount + after.amount == euro("0")
    assert [a + b for a, b in zip(sums_of(issued.charged), sums_of(note.charged), strict=True)] == [
        euro("0")
    ] * 3
    assert (note.buyer, note.received, note.pay_by) == (issued.buyer, (), None)
    with pytest.raises(ValueError, match="only an invoice"):
        credit_note_of(note, HEAD)


def test_an_order_that_was_only_paid_and_collected_differs_in_nothing() -> None:
    order = an_order(SHOP, SHOP)
    issued = invoice(order)
    paid = NewEntry(kind=EntryKind.PAYMENT, amount=euro("207.02"), at=NOW, by="")
    later = replace(
        order,
        entries=(Entry(id=1, entry=paid),),
        pieces=pieces(SHOP, SHOP, stage=Stage.COLLECTED),
        due=None,
        note="ring first",
    )
    assert differences(issued, later) == ()


def test_each_difference_is_said() -> None:
    issued = invoice(an_order(SHOP, SHOP))
    first, second = pieces(SHOP, SHOP)
    artwork, dearer = agree(
        {**TYPED, "extras.0.material": "X-1"}, SHOP, find, today=TODAY
    )  # a brass label at 5.00
    changed = replace(first, artwork=artwork, designs=sole_design(dearer))
    gone = replace(second, stage=Stage.CANCELLED)
    new = replace(second, id=3, number=3)
    order = an_order(pieces=(changed, gone, new), reductions=(off("10"),))
    assert differences(issued, order) == (
        "Piece 1 (Framing: Harbour at dusk): 103.51 on the invoice, 108.51 now.",
        "Piece 2 (Framing: Harbour at dusk) is on the invoice and not charged any more.",
        "Piece 3 (Framing: Harbour at dusk) is not on the invoice.",
        "Taken off: 0.00 on the invoice, 10.00 now.",
        "In all, with tax: 207.02 on the invoice, 202.02 now.",
    )


def test_the_same_price_for_another_piece_of_work_differs_too() -> None:
    issued = invoice(an_order())
    artwork, agreed = agree({**TYPED, "artwork.title": "Two herons"}, SHOP, find, today=TODAY)
    other = replace(an_order().pieces[0], artwork=artwork, designs=sole_design(agreed))
    said = "Piece 1 (Framing: Two herons) is another piece of work at the same price."
    assert differences(issued, an_order(pieces=(other,))) == (said,)
    assert differences(replace(issued, wording=0), an_order(pieces=(other,))) == ()


@pytest.mark.parametrize(
    ("stage", "said"),
    [
        (Stage.CANCELLED, "No piece of 2026-0001 is left to charge."),
        (Stage.QUOTED, "2026-0001 is not ordered any more."),
    ],
)
def test_an_order_that_came_to_nothing_says_so(stage: Stage, said: str) -> None:
    order = an_order(pieces=pieces(SHOP, stage=stage))
    assert differences(invoice(an_order()), order) == (said,)


def test_the_line_of_a_further_rate_is_called_by_what_bears_it() -> None:
    """Work is at the reduced rate here, so its line is called work and not framing."""
    first, further = invoice(an_order(TWO_RATES)).charged.lines
    assert first.name.startswith("Framing: ")
    assert further.name == first.name.replace("Framing", "Work")
    assert further.details == ""
