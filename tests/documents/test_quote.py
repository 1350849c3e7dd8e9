"""The customer's quote and confirmation: figures worked by hand, and nothing of the shop's own."""

from dataclasses import fields, is_dataclass, replace
from datetime import UTC, date, datetime
from fractions import Fraction
from typing import Any, get_args, get_type_hints

import pytest

from app.documents.quote.quote import QuotePaper, quote_page, quote_pdf
from app.errors import Conflict
from app.lengths import Unit
from app.money import TaxPolicy, TaxRounding
from app.orders import (
    Customer,
    Entry,
    EntryKind,
    Labour,
    Method,
    NewEntry,
    Order,
    Paper,
    Promise,
    Shop,
    Stage,
)
from app.orders.reductions import NewReduction, Reduction
from tests.builders.printed import (
    CANVAS,
    FLOAT,
    INCHES,
    PIECES,
    SKETCH,
    TWO_FRAMES,
    a_shop,
    an_order,
    in_stage,
)
from tests.builders.values import TODAY, euro
from tests.documents.reading import overlapping, page_sizes, runs, text_of, words_of

pytestmark = [pytest.mark.documents, pytest.mark.poppler]

MAIRI = Customer(
    name="Mairi Quill",
    address="12 Heron Walk\nEastmere",
    phone="0100 555 0123",
    email="mairi@quill.example",
)
NO_WORK = Labour(hourly_rate=euro("36.00"), operations=())
"""So that a piece's price is its materials alone and can be worked by hand."""


def shop_of(**changes: Any) -> Shop:
    return a_shop(**{"labour": NO_WORK, **changes})


def a_quote(*typed: dict[str, str], shop: Shop) -> Order:
    order = an_order(*typed, shop=shop, order_number=None, ordered_on=None, due=None)
    return in_stage(order, Stage.QUOTED)


def text(order: Order, shop: Shop, customer: Customer = MAIRI, today: date = TODAY) -> str:
    return text_of(quote_pdf(order, customer, shop, paper=Paper.A4, today=today))


# In front and behind stand together: mats 24.94 and boards 25.24 are 50.18.
# Frame: 2.186 m + 4 × 8.5 mm = 2.220 m × 14.20 = 31.52. Mats: 0.562 × 0.449 = 0.252338 m² × 50 = 12.62 and
# 0.556 × 0.443 = 0.246308 × 50 = 12.32, together 24.94. Glazing 12.62. Two boards 25.24. Two rings at
# 2.00 and 0.603 m of wire × 2.00 = 1.21: 5.21. Together 99.53; of which 1/6 is tax: 16.59.
LINES = (
    "Frame 31.52",
    "Mats and boards 50.18",
    "Glass 12.62",
    "Hanging 5.21",
    "Total EUR 99.53",
    "of which Tax 20 % 16.59",
    "Without tax 82.94",
)


def test_a_quote_adds_up_line_by_line() -> None:
    shop = shop_of()
    said = text(a_quote(SKETCH, shop=shop), shop)
    for line in LINES:
        assert line in said


# Half of 99.53 is 49.765, half up 49.77.
def test_a_quote_names_its_validity_and_the_deposit_asked() -> None:
    shop = shop_of()
    said = text(a_quote(SKETCH, shop=shop), shop)
    assert "Quote Q-2026-0148" in said
    assert "Quoted on Wed 25 Nov 2026" in said
    assert "Valid until Fri 25 Dec 2026" in said
    assert "These prices hold until Fri 25 Dec 2026." in said
    assert "A deposit of EUR 49.77 (50 %) is asked with the order." in said
    assert "Date Name Signature" in said
    assert "Outside sizes are ±0.5 mm; weights are estimates." in said


def test_a_shop_without_deposits_asks_for_none() -> None:
    shop = shop_of(promise=Promise(deposit=Fraction(0)))
    assert "deposit" not in text(a_quote(SKETCH, shop=shop), shop).lower()


# 10 % of 99.53 is 9.95; a quarter of the 89.58 left is 22.395, half up 22.40; together 111.98.
def test_discount_and_rush_stand_as_lines_of_the_piece() -> None:
    shop = shop_of()
    said = text(a_quote({**SKETCH, "discount": "10", "rush": "1"}, shop=shop), shop)
    for line in ("Discount −9.95", "Rush 22.40", "Total EUR 111.98"):
        assert line in said


# Without tax in the prices: 99.53 × 0.2 = 19.906, half up 19.91.
def test_tax_is_added_where_prices_do_not_hold_it() -> None:
    shop = shop_of(tax_policy=TaxPolicy(included=False, rounding=TaxRounding.BY_DOCUMENT))
    said = text(a_quote(SKETCH, shop=shop), shop)
    for line in ("Subtotal 99.53", "Tax 20 % 19.91", "Total EUR 119.44"):
        assert line in said


# A tax-free customer pays what the tax leaves: 99.53 − 16.59.
def test_a_tax_free_customer_pays_without_tax() -> None:
    shop = shop_of()
    order = an_order(SKETCH, shop=shop, tax_free=True)
    said = text(order, shop)
    for line in ("Subtotal 99.53", "Tax not charged −16.59", "Total EUR 82.94"):
        assert line in said
    assert "of which" not in said


def test_two_pieces_are_summed_as_one_document() -> None:
    shop = shop_of()
    said = text(a_quote(SKETCH, SKETCH, shop=shop), shop)
    # 2 × 99.53 = 199.06, of which a sixth is 33.176…: not twice 16.59 but 33.18.
    assert "Total EUR 199.06" in said
    assert "of which Tax 20 % 33.18" in said


def test_a_declined_piece_is_not_on_the_quote() -> None:
    shop = shop_of()
    order = in_stage(a_quote(SKETCH, FLOAT, shop=shop), Stage.DECLINED, number=2)
    said = text(order, shop)
    assert "Tide table" not in said
    assert "Total EUR 99.53" in said


DESCRIBED = (
    "Your watercolour, 420 × 297 mm, framed to 603 × 490 mm, about 3.2 kg",
    "Noted Slight cockling at the top edge",
    "Mats Chalk white; under it Slate blue, 6 mm showing",
    "Glass Clear 2 mm, UV filter",
    "Frame Walnut hollow 25",
    "Behind it Museum board; Backing 3 mm",
    "Hanging 2 × Hanging ring; Hanging wire",
)


def test_a_piece_is_described_in_the_words_of_the_trade() -> None:
    shop = shop_of()
    said = text(a_quote(SKETCH, shop=shop), shop)
    for line in DESCRIBED:
        assert line in said
    assert "Estuary, low tide" in said


def test_a_customer_hears_what_is_good_to_know() -> None:
    shop = shop_of()
    # Lip 8 − half of the allowance 3 = 6.5 at each edge (G15).
    said = text(a_quote(CANVAS, shop=shop), shop)
    assert "The lip covers 6.5 mm of the artwork at each edge." in said
    assert "the customer should agree" not in said


def _paid(shop: Shop) -> Order:
    entry = NewEntry(
        kind=EntryKind.DEPOSIT,
        amount=euro("50.00"),
        at=datetime(2026, 11, 26, 9, 30, tzinfo=UTC),
        by="Ada",
        method=Method.CARD,
    )
    return an_order(SKETCH, shop=shop, entries=(Entry(id=1, entry=entry),))


def test_a_confirmation_shows_the_deposit_the_balance_and_the_due_date() -> None:
    shop = shop_of()
    said = text(_paid(shop), shop)
    assert "Order confirmation 2026-0148" in said
    assert "Due Thu 10 Dec 2026" in said
    assert "Deposit, Thu 26 Nov 2026, card −50.00" in said
    assert "Balance to pay EUR 49.53" in said  # 99.53 − 50.00
    assert "I accept" not in said
    assert "Valid until" not in said


# 500 typed for 50: what stands is 50.00 received and 9.53 given back.
def test_a_confirmation_shows_what_stands_and_no_entry_that_was_corrected() -> None:
    shop = shop_of()

    def entry(id_: int, kind: EntryKind, amount: str, corrects: int | None = None) -> Entry:
        noon = datetime(2026, 11, 26, 12, 0, tzinfo=UTC)
        new = NewEntry(kind=kind, amount=euro(amount), at=noon, by="Ada", takes_back=corrects)
        return Entry(id=id_, entry=new)

    entries = (
        entry(1, EntryKind.DEPOSIT, "500"),
        entry(2, EntryKind.CORRECTION, "-500", corrects=1),
        entry(3, EntryKind.DEPOSIT, "50"),
        entry(4, EntryKind.REFUND, "-9.53"),
    )
    said = text(replace(_paid(shop), entries=entries), shop)
    assert "500" not in said
    assert "Correction" not in said
    for line in ("Deposit, Thu 26 Nov 2026, cash −50.00", "cash 9.53", "Balance to pay EUR 59.06"):
        assert line in said
    nothing = text(replace(_paid(shop), entries=entries[:2]), shop)
    assert "Balance" not in nothing


def _reduced(order: Order, *taken: tuple[str, str], with_tax: bool = True) -> Order:
    """The order with amounts taken off, each for a reason."""
    noon = datetime(2026, 11, 27, 12, 0, tzinfo=UTC)
    return replace(
        order,
        reductions=tuple(
            Reduction(
                id=number,
                entry=NewReduction(
                    amount=euro(amount), reason=reason, at=noon, by="Ilse", with_tax=with_tax
                ),
            )
            for number, (amount, reason) in enumerate(taken, start=1)
        ),
    )


# 99.53 − 9.53 = 90.00, of which a sixth is 15.00; less the deposit of 50.00.
def test_goodwill_stands_before_what_is_to_pay_and_its_tax_is_less() -> None:
    shop = shop_of()
    said = text(_reduced(_paid(shop), ("9.53", "A scratch on the rail")), shop)
    for line in (
        "Subtotal 99.53",
        "Taken off: A scratch on the rail −9.53",
        "Total EUR 90.00",
        "of which Tax 20 % 15.00",
        "Without tax 75.00",
        "Balance to pay EUR 40.00",
    ):
        assert line in said
    assert said.index("Taken off") < said.index("Total EUR 90.00")


# Prices without tax: 99.53 − 9.53 = 90.00, × 20 % = 18.00.
def test_goodwill_without_tax_comes_off_before_the_tax_that_is_added() -> None:
    shop = shop_of(tax_policy=TaxPolicy(included=False, rounding=TaxRounding.BY_DOCUMENT))
    order = _reduced(an_order(SKETCH, shop=shop), ("9.53", "Late"), with_tax=False)
    said = text(order, shop)
    assert "Subtotal 99.53 Taken off: Late −9.53 Without tax 90.00 Tax 20 % 18.00" in said
    assert "Total EUR 108.00" in said
    assert "of which" not in said


# Prices without tax: 99.53 + 19.91 = 119.44; less 11.44 = 108.00, of which a sixth is 18.00.
def test_goodwill_that_was_agreed_with_tax_comes_off_the_sum_with_tax() -> None:
    shop = shop_of(tax_policy=TaxPolicy(included=False, rounding=TaxRounding.BY_DOCUMENT))
    said = text(_reduced(an_order(SKETCH, shop=shop), ("11.44", "Late")), shop)
    for line in (
        "Subtotal 99.53",
        "Tax 20 % 19.91",
        "Taken off: Late −11.44",
        "Total EUR 108.00",
        "of which Tax 20 % 18.00",
        "Without tax 90.00",
    ):
        assert line in said


def test_goodwill_beyond_what_is_left_is_one_line() -> None:
    shop = shop_of()
    said = text(_reduced(an_order(SKETCH, shop=shop), ("60", "Late"), ("60", "A scratch")), shop)
    assert "Taken off −99.53" in said
    assert "Total EUR 0.00" in said


def test_a_quote_past_its_validity_says_so_and_holds_no_price() -> None:
    shop = shop_of()
    said = text(a_quote(SKETCH, shop=shop), shop, today=date(2026, 12, 26))
    assert "This quote was valid until Fri 25 Dec 2026" in said
    assert "These prices hold" not in said
    assert "I accept" not in said


OWN_WORDS = ("cost", "margin", "markup", "mark-up", "profit", "earn", "supplier")


@pytest.mark.parametrize("ordered", [False, True])
def test_nothing_of_the_shops_own_reaches_the_customer(ordered: bool) -> None:
    shop = a_shop()
    order = an_order(*PIECES.values(), shop=shop)
    said = text(order if ordered else in_stage(order, Stage.QUOTED), shop).lower()
    assert [word for word in OWN_WORDS if word in said] == []
    assert "2220" not in said  # what is taken from the rack
    assert "w25" not in said  # the shop's codes


def _fields_below(kind: type, seen: set[type] | None = None) -> set[str]:
    seen = seen if seen is not None else set()
    if kind in seen or not is_dataclass(kind):
        return set()
    seen.add(kind)
    names = {field.name for field in fields(kind)}
    for hint in get_type_hints(kind).values():
        for inner in (hint, *get_args(hint)):
            if isinstance(inner, type):
                names |= _fields_below(inner, seen)
    return names


def test_the_quotes_page_model_has_no_field_for_what_a_customer_may_not_see() -> None:
    names = _fields_below(QuotePaper)
    assert {"sums", "details", "payments", "amount"} <= names  # it was looked into
    assert [name for name in names if any(word in name for word in OWN_WORDS)] == []


@pytest.mark.parametrize("paper", list(Paper))
def test_a_quote_of_one_piece_is_one_page(paper: Paper) -> None:
    shop = a_shop()
    pdf = quote_pdf(a_quote(SKETCH, shop=shop), MAIRI, shop, paper=paper, today=TODAY)
    (words,) = words_of(pdf)
    assert overlapping(words) == []
    ((width, height),) = page_sizes(pdf)
    assert all(w.left > 20 and w.right < width - 20 and w.bottom < height - 10 for w in words)
    assert "page 1 of 1" in text_of(pdf)


def test_a_long_quote_numbers_its_pages_and_heads_each_of_them() -> None:
    shop = a_shop()
    order = a_quote(SKETCH, CANVAS, TWO_FRAMES, FLOAT, shop=shop)
    pdf = quote_pdf(order, MAIRI, shop, paper=Paper.A4, today=TODAY)
    pages = [" ".join(word.text for word in page) for page in words_of(pdf)]
    assert len(pages) == 2
    for number, page in enumerate(pages, start=1):
        assert f"page {number} of 2" in page
        assert "Tern & Tide Framing" in page
        assert "Q-2026-0148" in page
    assert "Quote Q-2026-0148 · Mairi Quill" in pages[1]


def test_letters_are_large_enough_and_lie_on_nothing() -> None:
    shop = a_shop(Unit.IN)
    order = a_quote(INCHES, {**TWO_FRAMES, "unit": "mm"}, shop=shop)
    pdf = quote_pdf(order, MAIRI, shop, paper=Paper.LETTER, today=TODAY)
    assert [run for run in runs(pdf) if run.points < 9] == []
    assert [overlapping(words) for words in words_of(pdf)] == [[]]


def test_names_with_markup_and_without_blanks_stay_text_on_the_page() -> None:
    shop = a_shop(address="<i>3 Sail Loft Row</i>")
    customer = replace(MAIRI, name="<b>Quill</b> & 🖼 " + "x" * 100)
    pdf = quote_pdf(a_quote(SKETCH, shop=shop), customer, shop, paper=Paper.A4, today=TODAY)
    said = text_of(pdf)
    assert "<b>Quill</b> &" in said
    assert "<i>3 Sail Loft Row</i>" in said
    assert [overlapping(words) for words in words_of(pdf)] == [[]]
    assert all(word.right < 595 for word in words_of(pdf)[0])


def test_a_quote_with_no_piece_says_so() -> None:
    shop = a_shop()
    with pytest.raises(Conflict, match="has no piece to quote"):
        quote_page(an_order(shop=shop), MAIRI, shop, today=TODAY)
