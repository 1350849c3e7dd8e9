"""Lines without a piece: read, priced, added up with their rates, and their way through the stages (P12)."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from app.errors import Conflict, Invalid
from app.money import Money, TaxPolicy, TaxRounding
from app.orders import LineEntry, Order, Shop, Stage, check_move
from app.orders.invoices.issue import Head, buyer_of, differences, invoice_of, seller_of
from app.orders.invoices.lines import charged_for
from app.orders.quoting.line import same_price
from app.orders.stages import GOODS_SKIP, WORK_SKIPS, may_follow
from app.orders.target_price import met_by
from app.orders.totals import account_of
from tests.builders.kept import SHOP
from tests.builders.lines import NOW, PLATE, VOUCHER, WITHOUT, agreed_line, order_line
from tests.builders.values import EUR, TODAY, euro
from tests.unit.orders.test_invoices_issue import AMBER, an_order

ZERO = Money.zero(EUR)


def of_lines(*lines: Any, **changes: Any) -> Order:
    """An order of lines alone."""
    return replace(an_order(), pieces=(), lines=lines, **changes)


def three(shop: Shop = SHOP) -> tuple[Any, ...]:
    return (
        order_line(agreed_line(shop=shop, goods="CARD", number="12"), 1),
        order_line(agreed_line(shop=shop, **VOUCHER), 2),
        order_line(agreed_line(shop=shop, **PLATE), 3),
    )


def test_lines_of_several_rates_add_up_with_tax() -> None:
    """42.00 + 24.99 at 20 % hold 66.99 / 6 = 11.165, half up 11.17; 50.00 at 0 % holds none.

    Source: EN 16931, the tax of a rate is rounded once.
    """
    account = account_of(of_lines(*three()), ZERO)
    assert account.to_pay == euro("116.99")
    by_rate = {part.rate.code: (part.net, part.tax) for part in account.taxes}
    assert by_rate == {"standard": (euro("55.82"), euro("11.17")), "none": (euro("50"), ZERO)}


def test_lines_of_several_rates_add_up_without_tax() -> None:
    """42.00 at 20 %: 8.40; 19.95 at 10 %: 1.995, half up 2.00; 61.95 + 10.40 = 72.35."""
    lines = (
        order_line(agreed_line(shop=WITHOUT, goods="CARD", number="12"), 1),
        order_line(agreed_line(shop=WITHOUT, what="Map", price="19.95", tax="reduced"), 2),
    )
    account = account_of(of_lines(*lines), ZERO)
    assert (account.charged.net, account.charged.tax) == (euro("61.95"), euro("10.40"))
    assert account.to_pay == euro("72.35")
    assert not account.with_tax


@pytest.mark.parametrize(
    ("rounding", "tax"),
    [(TaxRounding.BY_DOCUMENT, "0.07"), (TaxRounding.BY_LINE, "0.06")],
)
def test_three_lines_of_twelve_cents(rounding: TaxRounding, tax: str) -> None:
    """Source: three lines of 0.12 at 20 % (tax-2 of the published cases): EN 16931 / Peppol BIS Billing 3.0."""
    shop = replace(SHOP, tax_policy=TaxPolicy(included=False, rounding=rounding))
    lines = [order_line(agreed_line(shop=shop, what="x", price="0.12"), n) for n in (1, 2, 3)]
    assert account_of(of_lines(*lines), ZERO).charged.tax == euro(tax)


def test_pieces_and_lines_are_one_document() -> None:
    """103.51 + 42.00 + 24.99 = 170.50 at 20 %: 28.416…, half up 28.42; and 50.00 at 0 %."""
    account = account_of(replace(an_order(), lines=three()), ZERO)
    assert account.to_pay == euro("220.50")
    assert account.charged.tax == euro("28.42")


def test_what_is_struck_or_cancelled_is_not_charged() -> None:
    cards, voucher, plate = three()
    struck = LineEntry(agreed=voucher.agreed, struck=True, at=NOW, by="")
    voucher = replace(voucher, entries=(*voucher.entries, struck))
    order = of_lines(cards, voucher, replace(plate, stage=Stage.CANCELLED))
    assert account_of(order, ZERO).to_pay == euro("42")
    assert [line.name for line in charged_for(order, ZERO).lines] == ["Greeting card, heron"]


def test_an_invoice_has_a_line_for_each_and_adds_up() -> None:
    """BR-CO-10: the lines add up; each with its rate (BT-152), name (BT-153), quantity and price (BT-129, BT-146)."""
    order = replace(an_order(), lines=three())
    head = Head(number="R-2026-0001", issued_on=TODAY)
    invoice = invoice_of(order, seller_of(SHOP), buyer_of(AMBER), head)
    lines = invoice.charged.lines
    assert [(line.piece, line.line, line.amount) for line in lines] == [
        (1, 0, euro("103.51")),
        (0, 1, euro("42")),
        (0, 2, euro("50")),
        (0, 3, euro("24.99")),
    ]
    assert [line.name for line in lines][1:] == [
        "Greeting card, heron",
        "Gift voucher",
        "Brass plate, engraved",
    ]
    assert [line.details for line in lines][1:] == [
        "12 × 3.50 each",
        "1 × 50.00 each",
        "1 × 24.99 each",
    ]
    assert invoice.charged.gross == euro("220.50")
    assert differences(invoice, order) == ()


def test_what_became_of_a_line_is_a_difference_from_the_invoice() -> None:
    order = of_lines(*three())
    head = Head(number="R-2026-0001", issued_on=TODAY)
    invoice = invoice_of(order, seller_of(SHOP), buyer_of(AMBER), head)
    cards, voucher, plate = order.lines
    more = LineEntry(agreed=agreed_line(goods="CARD", number="20"), at=NOW, by="")
    changed = replace(cards, entries=(*cards.entries, more))
    new = order_line(agreed_line(what="Delivery", price="15"), 4)
    now = replace(order, lines=(changed, replace(plate, stage=Stage.CANCELLED), voucher, new))
    assert differences(invoice, now) == (
        "Line 1 (Greeting card, heron): 42.00 on the invoice, 70.00 now.",
        "Line 3 (Brass plate, engraved) is on the invoice and not charged any more.",
        "Line 4 (Delivery) is not on the invoice.",
        "In all, with tax: 116.99 on the invoice, 135.00 now.",
    )


def test_a_tax_free_customer_pays_what_the_tax_leaves() -> None:
    """42.00 with 20 % tax is 35.00."""
    line = order_line(agreed_line(goods="CARD", number="12", tax_free=True))
    assert account_of(of_lines(line), ZERO).to_pay == euro("35")


def test_the_way_of_a_line_skips_what_it_does_not_come_to() -> None:
    """By the one table: work is never cut, goods neither cut nor framed."""
    assert may_follow(Stage.ORDERED, WORK_SKIPS) == (Stage.FRAMED, Stage.CANCELLED)
    assert may_follow(Stage.ORDERED, GOODS_SKIP) == (Stage.COLLECTED, Stage.CANCELLED)
    assert may_follow(Stage.FRAMED, WORK_SKIPS) == (Stage.COLLECTED, Stage.CANCELLED)
    assert may_follow(Stage.ORDERED) == (Stage.CUT, Stage.CANCELLED)
    with pytest.raises(Conflict, match="The line is “ordered” and cannot become “cut”"):
        check_move(Stage.ORDERED, Stage.CUT, skips=WORK_SKIPS, what="The line")


@pytest.mark.parametrize(
    ("piece", "line", "stage"),
    [
        (Stage.ORDERED, {"goods": "CARD"}, Stage.ORDERED),
        (Stage.FRAMED, {"goods": "CARD"}, Stage.FRAMED),
        (Stage.COLLECTED, {"goods": "CARD"}, Stage.FRAMED),
        (Stage.FRAMED, PLATE, Stage.CUT),
        (None, {"goods": "CARD"}, Stage.FRAMED),
        (None, PLATE, Stage.CUT),
    ],
)
def test_an_order_waits_for_the_least(
    piece: Stage | None, line: dict[str, str], stage: Stage
) -> None:
    order = replace(an_order(), lines=(order_line(agreed_line(**line)),))
    pieces = () if piece is None else (replace(order.pieces[0], stage=piece),)
    assert replace(order, pieces=pieces).stage is stage


def test_an_order_without_a_piece_is_ready_and_never_cut() -> None:
    assert of_lines(order_line(agreed_line(goods="CARD"))).stage_word == "ready"
    assert of_lines(order_line(agreed_line(**PLATE))).stage_word == "ordered"


def test_goods_are_called_by_their_name_unless_something_is_typed() -> None:
    assert agreed_line(goods="CARD").what == "Greeting card, heron"
    assert agreed_line(goods="CARD", what="Cards for the fair").what == "Cards for the fair"


BAD = [
    ({"what": "x", "price": "1", "number": "0"}, "number", "“0”; a whole number from 1 to 9999"),
    ({"what": "x", "price": "1", "number": "-1"}, "number", "“-1”; a whole number from 1 to 9999"),
    ({"what": "x", "price": "1", "number": "1.5"}, "number", "“1.5”; a whole number"),
    ({"what": "x", "price": "1", "number": "10,000"}, "number", "“10,000”; a whole number"),
    ({"what": "x", "price": "1", "number": "10000"}, "number", "“10000”; a whole number"),
    ({"what": "x", "price": "free"}, "price", "“free”"),
    ({"what": "x", "price": "0"}, "price", "The price of one is zero"),
    ({"what": "x", "price": "-5"}, "price", "“-5”"),
    ({"what": "x"}, "price", "Say what one costs"),
    ({"price": "1"}, "what", "Say what is sold"),
    ({"what": "x" * 121, "price": "1"}, "what", "121 characters; at most 120"),
    ({"what": "x", "price": "1", "note": "x" * 501}, "note", "501 characters; at most 500"),
    ({"what": "x", "price": "1", "tax": "gone"}, "tax", "no tax rate “gone”"),
    ({"what": "x", "price": "1", "minutes": "-3"}, "minutes", "“-3”"),
    ({"what": "x", "price": "1", "minutes": "20000"}, "minutes", "at most 10000"),
    ({"goods": "NONE"}, "goods", "No goods called “NONE”"),
]


@pytest.mark.parametrize(("typed", "path", "words"), BAD)
def test_bad_input_gets_a_sentence_at_its_field(
    typed: dict[str, str], path: str, words: str
) -> None:
    with pytest.raises(Invalid) as refused:
        agreed_line(**typed)
    assert [fault.path for fault in refused.value.faults] == [path]
    assert words in refused.value.faults[0].message


def test_every_fault_is_told_at_once() -> None:
    with pytest.raises(Invalid) as refused:
        agreed_line(number="0", price="free", minutes="long")
    assert {fault.path for fault in refused.value.faults} == {"what", "number", "price", "minutes"}


def test_words_for_the_bench_leave_the_price_as_agreed() -> None:
    """P7: minutes and note are no price; number, price, goods and tax are."""
    before = agreed_line(**PLATE)
    dearer = replace(SHOP, tax_rates=SHOP.tax_rates[::-1])
    said = agreed_line(shop=dearer, **PLATE | {"minutes": "60", "note": "Three lines"})
    kept = same_price(before, said)
    assert kept is not None
    assert (kept.price.total, kept.minutes, kept.note) == (before.price.total, 60, "Three lines")
    assert kept.tax_rates == before.tax_rates
    assert kept.price.earnings_per_hour == euro("20.82")
    assert same_price(before, agreed_line(**PLATE | {"number": "2"})) is None


def test_a_target_price_counts_what_lines_cost_and_how_long_they_take() -> None:
    """66.99 brought to 60.00 with tax is 50.00 without; 14.40 of cards leave 35.60 in 45 min: 47.47 an hour."""
    cards, _, plate = three()
    lines = tuple(replace(line, stage=Stage.QUOTED) for line in (cards, plate))
    met = met_by(of_lines(*lines), euro("60"))
    assert (met.off, met.net, met.cost) == (euro("6.99"), euro("50"), euro("14.40"))
    assert (met.margin, met.minutes, met.earned_per_hour) == (euro("35.60"), 45, euro("47.47"))


def test_an_order_of_lines_is_due_as_any_other() -> None:
    order = of_lines(order_line(agreed_line(**PLATE)), due=date(2026, 11, 20))
    assert order.overdue(TODAY)
