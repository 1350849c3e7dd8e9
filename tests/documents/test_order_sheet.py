"""The sheet of an order to a supplier, read back from the PDF; figures by hand."""

from dataclasses import replace
from datetime import date

import pytest

from app.documents.order_sheet import order_sheet_page, order_sheet_pdf
from app.lengths import Size, Unit, mm
from app.orders import Paper
from app.stock.buying.supplier_orders import NewLine, OrderLine, SupplierOrder, SupplierStage
from app.stock.items import StockForm
from app.stock.purchase_unit import BuyingUnit
from tests.builders.printed import a_shop
from tests.builders.values import euro
from tests.documents.reading import overlapping, page_sizes, text_of, words_of

pytestmark = [pytest.mark.documents, pytest.mark.poppler]

STICKS = NewLine(
    material="SEDGE-20",
    name="Sedge block 20, raw oak",
    form=StockForm.STICK,
    unit=BuyingUnit.STICK,
    quantity=12,
    cost=euro("16.80"),
    length=mm(3048),
    note="your number 4471",
)
SHEETS = NewLine(
    material="SALT14",
    name="Salt",
    form=StockForm.SHEET,
    unit=BuyingUnit.SHEET,
    quantity=1,
    cost=euro("9.40"),
    size=Size(mm(1120), mm(815)),
)
RINGS = NewLine(
    material="RING1",
    name="Hanging ring, one screw",
    form=StockForm.EACH,
    unit=BuyingUnit.EACH,
    quantity=250,
    cost=euro("9.60"),
    cost_for=100,
)


def order(*lines: NewLine, stage: SupplierStage = SupplierStage.SENT) -> SupplierOrder:
    return SupplierOrder(
        id=1,
        version=2,
        number="B-2026-0007",
        supplier="Holm Timber",
        made_on=date(2026, 11, 24),
        sent_on=date(2026, 11, 25) if stage is SupplierStage.SENT else None,
        currency=euro("1").currency,
        stage=stage,
        note="Before noon, please.\nThe yard door is open.",
        lines=tuple(OrderLine(id=number, ordered=line) for number, line in enumerate(lines, 1)),
    )


PAPERS = {Paper.A4: (595, 842), Paper.LETTER: (612, 792), Paper.A5: (420, 595)}


@pytest.mark.parametrize("paper", Paper)
def test_the_sheet_says_who_what_how_many_and_in_what_size(paper: Paper) -> None:
    pdf = order_sheet_pdf(order(STICKS, SHEETS, RINGS), a_shop(), paper=paper, costs=False)
    assert page_sizes(pdf) == [PAPERS[paper]]
    text = text_of(pdf)
    for words in (
        "3 Sail Loft Row",
        "0100 555 0148",
        "To Holm Timber",
        "Order B-2026-0007",
        "Ordered on Wed 25 Nov 2026",
        "12 sticks SEDGE-20",
        "your number 4471",
        "3048 mm",
        "1 sheet SALT14",
        "1120 × 815 mm",
        "250 RING1",
        "Deliver to",
        "Before noon, please.",
        "The yard door is open.",
    ):
        assert words in text.replace("\N{NO-BREAK SPACE}", " ")
    for figure in ("16.80", "9.40", "9.60", "EUR"):
        assert figure not in text
    assert [overlapping(page) for page in words_of(pdf)] == [[]]


@pytest.mark.parametrize("paper", Paper)
def test_costs_stand_on_it_when_they_are_asked_for_and_add_up(paper: Paper) -> None:
    pdf = order_sheet_pdf(order(STICKS, SHEETS, RINGS), a_shop(), paper=paper, costs=True)
    text = text_of(pdf).replace("\N{NO-BREAK SPACE}", " ")
    # 12 × 16.80 = 201.60; 9.40; 250 at 9.60 a hundred = 24.00; together 235.00
    for figure in ("16.80", "201.60", "9.60 for 100", "24.00", "235.00", "without tax"):
        assert figure in text
    assert "SEDGE-20" in text
    assert "1120 × 815 mm" in text
    assert [overlapping(page) for page in words_of(pdf)] == [[]]


def test_it_says_where_to_deliver_only_where_the_shop_has_said_it() -> None:
    shop = replace(a_shop(), name="Foundry Yard", address="3 Sail Loft Row\nHarbour End")
    assert order_sheet_page(order(STICKS), shop, costs=False).deliver_to == (
        "Foundry Yard, 3 Sail Loft Row, Harbour End"
    )
    assert order_sheet_page(order(STICKS), replace(shop, address=""), costs=False).deliver_to == ""


def test_a_draft_says_that_it_was_not_sent() -> None:
    page = order_sheet_page(order(STICKS, stage=SupplierStage.DRAFT), a_shop(), costs=False)
    assert page.warning == "A draft: this order was not sent."
    assert page.dates == (("Made on", "Tue 24 Nov 2026"),)
    assert page.total == ""


def test_a_long_order_runs_over_pages_with_its_number_on_each() -> None:
    lines = [replace(STICKS, material=f"SEDGE-{number}") for number in range(60)]
    pdf = order_sheet_pdf(order(*lines), a_shop(), paper=Paper.A5, costs=True)
    pages = words_of(pdf)
    assert len(pages) > 2
    assert all("B-2026-0007" in {word.text for word in page} for page in pages)
    assert [overlapping(page) for page in pages] == [[]] * len(pages)
    assert text_of(pdf).count("SEDGE-") == 60


def test_a_shop_in_inches_reads_inches() -> None:
    inches = order_sheet_page(order(STICKS, SHEETS), a_shop(Unit.IN), costs=False)
    # 3048 mm are 120 in exactly
    assert inches.lines[0].size == '120"'


@pytest.mark.parametrize("lines", [13, 17, 18, 19])
def test_its_total_and_its_words_never_stand_alone_on_a_page(lines: int) -> None:
    """Half a sheet holds some sixteen lines of two; of more, two go overleaf with the total."""
    several = [replace(STICKS, material=f"SEDGE-{number}") for number in range(lines)]
    pages = words_of(order_sheet_pdf(order(*several), a_shop(), paper=Paper.A5, costs=True))
    assert len(pages) == (1 if lines < 16 else 2)
    assert [overlapping(page) for page in pages] == [[]] * len(pages)
    last = [word.text for word in pages[-1]]
    assert sum(text.startswith("SEDGE-") for text in last) >= 2
    assert "yard" in last
