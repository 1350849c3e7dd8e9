"""The receipt of a handing over, on every paper; sums by hand."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from app.documents.receipt import ReceiptPage, receipt_page, receipt_pdf
from app.money import Money
from app.orders import (
    Customer,
    Entry,
    EntryKind,
    Method,
    NewEntry,
    Order,
    Paper,
    Stage,
    StageChange,
)
from app.orders.handing_over import handed_over, receipt_of
from app.orders.totals import account_of
from tests.builders.printed import CANVAS, SKETCH, a_shop, an_order
from tests.builders.values import euro
from tests.documents.reading import overlapping, page_sizes, text_of, words_of

MAIRI = Customer(name="Mairi Quill", address="12 Heron Walk\nEastmere")
ON = date(2026, 12, 2)
"""A Wednesday."""
AT = datetime(2026, 12, 2, 15, 5, tzinfo=UTC)

PAPERS = {Paper.A4: (595, 842), Paper.LETTER: (612, 792), Paper.A5: (420, 595)}


def entry(id: int, amount: Money, at: datetime, kind: EntryKind, takes_back: int | None) -> Entry:
    """An entry of the ledger, by card."""
    return Entry(
        id=id,
        entry=NewEntry(
            kind=kind, amount=amount, method=Method.CARD, at=at, by="Ilse", takes_back=takes_back
        ),
    )


def handed(*, paid_after: bool = False) -> Order:
    """Of all pieces of an order the first one is handed over on 2 December: 20.00 was paid before it, 30.00 on the day.

    A payment of 5.00 was a mistake and is corrected. paid_after: 10.00 more two days later.
    """
    order = an_order(SKETCH, CANVAS)
    before, later = AT - timedelta(days=9), AT + timedelta(days=2)
    entries = [
        entry(1, euro("20.00"), before, EntryKind.DEPOSIT, None),
        entry(2, euro("5.00"), AT, EntryKind.PAYMENT, None),
        entry(3, -euro("5.00"), AT, EntryKind.CORRECTION, 2),
        entry(4, euro("30.00"), AT, EntryKind.PAYMENT, None),
    ]
    if paid_after:
        entries.append(entry(5, euro("10.00"), later, EntryKind.PAYMENT, None))
    left = StageChange(old=Stage.FRAMED, new=Stage.COLLECTED, at=AT, by="Ilse")
    first = replace(order.pieces[0], stage=Stage.COLLECTED, changes=(left,))
    return replace(order, pieces=(first, *order.pieces[1:]), entries=tuple(entries))


def page_of(order: Order, today: date = ON) -> ReceiptPage:
    """Its receipt."""
    return receipt_page(order, handed_over(order)[0], MAIRI, a_shop(), today=today)


def test_before_the_day_since_and_owed_are_what_the_order_comes_to() -> None:
    order = handed(paid_after=True)
    receipt = receipt_of(order, handed_over(order)[0])
    assert receipt.comes_to == account_of(order, euro("1")).to_pay
    assert (receipt.before, receipt.since) == (euro("20.00"), euro("10.00"))
    assert [each.id for each in receipt.received] == [4]
    assert receipt.owed == receipt.comes_to - euro("60.00")  # 20.00 + 30.00 + 10.00


def test_what_is_taken_back_was_not_handed_over() -> None:
    order = handed()
    back = StageChange(
        old=Stage.COLLECTED, new=Stage.FRAMED, at=AT + timedelta(hours=1), by="", takes_back=True
    )
    first = order.pieces[0]
    undone = replace(first, stage=Stage.FRAMED, changes=(*first.changes, back))
    assert handed_over(replace(order, pieces=(undone, *order.pieces[1:]))) == ()


def test_only_the_entries_that_stand_are_on_it() -> None:
    sums = [(each.label, each.amount) for each in page_of(handed()).sums]
    assert sums[1:3] == [
        ("Paid before", -euro("20.00")),
        ("Received Wed 2 Dec 2026, card", -euro("30.00")),
    ]
    assert sum((amount for _, amount in sums[:-1]), euro("0")) == sums[-1][1]


@pytest.mark.documents
@pytest.mark.poppler
@pytest.mark.parametrize("paper", Paper)
def test_it_fits_on_one_page_of_every_paper(paper: Paper) -> None:
    pdf = receipt_pdf(page_of(handed(paid_after=True), date(2026, 12, 4)), paper=paper)
    assert page_sizes(pdf) == [PAPERS[paper]]
    assert overlapping(words_of(pdf)[0]) == []
    text = text_of(pdf)
    for said in (
        "Mairi Quill",
        "Handed over on Wed 2 Dec 2026",
        "Printed on Fri 4 Dec 2026",
        "Paid before −20.00",
        "Received Wed 2 Dec 2026, card −30.00",
        "Paid since −10.00",
        "Still owed",
        "This receipt is not an invoice.",
    ):
        assert said in text


@pytest.mark.documents
@pytest.mark.poppler
@pytest.mark.parametrize(("lines", "pages"), [(20, 1), (25, 1), (27, 2), (28, 2)])
def test_its_sums_never_stand_alone_on_a_page(lines: int, pages: int) -> None:
    """Half a sheet holds some twenty-five lines; of more, three go overleaf with the sums."""
    page = page_of(handed(paid_after=True))
    several = tuple(replace(page.lines[0], number=str(n)) for n in range(1, lines + 1))
    pdf = receipt_pdf(replace(page, lines=several), paper=Paper.A5)
    found = words_of(pdf)
    assert len(found) == pages
    assert [overlapping(each) for each in found] == [[]] * pages
    last = [word.text for word in found[-1]]
    assert last.count("framed") >= 3
    assert "owed" in last
