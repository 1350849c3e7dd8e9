"""How quotes are set: the page of one piece, rows of several, and what of notices a customer hears."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

import pytest

from app.documents.kit.pdf import sheets_for, to_pdf
from app.documents.kit.pictures import FrontPicture
from app.documents.kit.printing import page_html
from app.documents.kit.total_lines import Sum
from app.documents.quote.advice import ADVICE, TO_AGREE, advice_of
from app.documents.quote.page import QuotePaper
from app.documents.quote.quote import printed, quote_page, quote_pdf
from app.documents.quote.sheets import settings_for
from app.documents.quote.wall import band_of, hung, row_of, scale_of_row
from app.orders import Customer, Order, Paper, QuotePrices, Shop, Stage
from app.orders.piece_report import findings
from app.storage import DATABASE_NAME
from seed_demo.build import USUAL_ORDERS, build_demo
from tests.builders.hasty import new_store
from tests.builders.printed import (
    CANVAS,
    CLOSE,
    EVERYTHING,
    FILLETS,
    FLOAT,
    OBJECT,
    OWN_FRAME,
    PIECES,
    SKETCH,
    TRAY,
    TRIPLE,
    a_shop,
    an_order,
    in_stage,
)
from tests.builders.values import TODAY, euro
from tests.documents.reading import overlapping, runs, words_of

pytestmark = [pytest.mark.documents, pytest.mark.poppler]

MAIRI = Customer(name="Mairi Quill", address="12 Heron Walk\nEastmere", phone="0100 555 0123")
QUOTE_SHEETS = {paper: sheets_for(paper, "quote", "quote-piece", "hung", "sold") for paper in Paper}
WORKSHOP = (
    "border-below-smallest",
    "needs-oval-cutter",
    "lip-barely-holds",
    "stack-too-deep",
    "package-loose",
    "reveal-only-bevel",
    "weight-not-known",
    "hanging-part-too-weak",
    "bridge-below-least",
    "float-gap",
    "artwork-weight-estimated",
    "fillet-on-paper",
)
"""Notices of cutter, rebate, boards and weights: none of them is a customer's business."""


def a_quote(*typed: dict[str, str], shop: Shop) -> Order:
    order = an_order(*typed, shop=shop, order_number=None, ordered_on=None, due=None)
    return in_stage(order, Stage.QUOTED)


def a_page(*typed: dict[str, str], customer: Customer = MAIRI, **changes: Any) -> QuotePaper:
    shop = a_shop(**changes)
    return quote_page(a_quote(*typed, shop=shop), customer, shop, today=TODAY)


def pages_of(pdf: bytes) -> list[str]:
    """The words of each page; none of them lies on another."""
    pages = words_of(pdf)
    assert [overlapping(words) for words in pages] == [[]] * len(pages)
    return [" ".join(word.text for word in words) for words in pages]


@dataclass(frozen=True)
class Sample:
    """The open quotes of the sample shop. made: what was printed of them."""

    shop: Shop
    quotes: tuple[tuple[Order, Customer], ...]
    made: dict[tuple[int, Paper], bytes] = field(default_factory=dict)

    def pdf(self, order: Order, customer: Customer, paper: Paper) -> bytes:
        """A quote as it is printed, made once for all who read it."""
        if (order.id, paper) not in self.made:
            pdf = quote_pdf(order, customer, self.shop, paper=paper, today=ON)
            self.made[order.id, paper] = pdf
        return self.made[order.id, paper]


ON = date(2026, 11, 25)


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Sample]:
    with new_store(tmp_path_factory.mktemp("sample") / DATABASE_NAME) as store:
        build_demo(store, today=ON)
        with store.reading() as work:
            orders = [work.orders.get(number) for number in range(1, USUAL_ORDERS + 1)]
            yield Sample(
                work.shop.get(),
                tuple(
                    (order, work.customers.get(order.customer_id).value)
                    for order in orders
                    if order.stage is Stage.QUOTED
                ),
            )


@pytest.mark.slow
@pytest.mark.parametrize("paper", Paper)
def test_every_quote_of_one_piece_is_one_page(sample: Sample, paper: Paper) -> None:
    alone = [
        (order, customer)
        for order, customer in sample.quotes
        if len(order.counting) == 1 and not order.counting[0].undecided
    ]
    assert len(alone) >= 8
    for order, customer in alone:
        pdf = sample.pdf(order, customer, paper)
        (words,) = pages_of(pdf)
        assert "Total EUR" in words, order.number
        assert ("I accept this quote." in words) is not order.out_of_date(ON)
        assert [run for run in runs(pdf) if run.points < 9] == []


@pytest.mark.slow
@pytest.mark.parametrize("paper", Paper)
def test_no_page_of_several_pieces_holds_only_a_total_or_a_signature(
    sample: Sample, paper: Paper
) -> None:
    several = [each for each in sample.quotes if len(each[0].counting) > 1]
    assert len(several) >= 5
    for order, customer in several:
        page = quote_page(order, customer, sample.shop, today=ON)
        *_, last = pages_of(sample.pdf(order, customer, paper))
        assert "Total EUR" in last
        assert page.pieces[-1].title.split()[0] in last
        assert ("Signature" in last) is page.to_sign


@pytest.mark.slow
def test_no_notice_of_the_workshop_and_no_cost_is_on_any_quote(sample: Sample) -> None:
    heard = set(ADVICE) | TO_AGREE
    kept_back: set[str] = set()
    for order, customer in sample.quotes:
        if any(piece.undecided for piece in order.counting):
            continue
        said = " ".join(pages_of(sample.pdf(order, customer, Paper.A4)))
        for piece in order.counting:
            for notice in findings(piece.artwork, piece.agreed, sample.shop).notices:
                if notice.code not in heard:
                    kept_back.add(notice.code)
                    assert notice.message not in said
        for word in ("cost", "margin", "markup"):
            assert f" {word} " not in said.lower()
    assert kept_back  # there were some


@pytest.mark.parametrize("code", WORKSHOP)
def test_a_notice_of_the_workshop_is_no_advice(code: str) -> None:
    assert code not in ADVICE
    assert code not in TO_AGREE


def test_care_is_advice_and_said_once() -> None:
    """Moss is not acid-free, acrylic lies over pastel and has no UV filter; the narrow border is the workshop's."""
    shop = a_shop()
    piece = a_quote(EVERYTHING, shop=shop).pieces[0]
    found = findings(piece.artwork, piece.agreed, shop)
    assert "border-below-smallest" in {notice.code for notice in found.notices}
    said = advice_of(found)
    assert sorted(said) == sorted(
        ADVICE[code]
        for code in ("acrylic-over-loose-surface", "board-not-acid-free", "no-uv-filter")
    )
    assert all("recommend" in each for each in ADVICE.values())


SIX = {f"extras.{number}.material": "X1" for number in range(6)}
LONG = ("Nobody remembers who first hung it " * 30)[:999]
HARD = {
    "everything": EVERYTHING | SIX,
    "long title": TRIPLE | {"artwork.title": LONG[:119]},
    "long note": EVERYTHING | SIX | {"artwork.condition": LONG, "artwork.title": LONG[:119]},
    "eight windows": FILLETS,
    "object": OBJECT,
    "own frame": OWN_FRAME,
    "tray": TRAY,
    "alike": SKETCH | {"copies": "20"},
}
FAR_AWAY = Customer(
    name="Bartholomew Featherstonehaugh-Vandermolen of the Upper Saltings",
    address="\n".join(f"Line {number} of a long address" for number in range(14)),
    phone="0100 555 0123",
    email="a.long.address.of.somebody@quillmoor.example",
)
TAXES = tuple(
    Sum(label=f"of which Tax {number} of the county {number}.5 %", amount=euro("1"), apart=True)
    for number in range(1, 6)
)


@pytest.mark.slow
@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("typed", HARD.values(), ids=HARD)
def test_one_piece_of_whatever_length_is_one_page(typed: dict[str, str], paper: Paper) -> None:
    (words,) = pages_of(printed(a_page(typed), paper))
    assert "Total EUR" in words
    assert "Date Name Signature" in words


@pytest.mark.slow
@pytest.mark.parametrize("paper", Paper)
def test_a_long_address_and_five_taxes_leave_it_one_page(paper: Paper) -> None:
    page = a_page(SKETCH, customer=FAR_AWAY)
    total, *_, without = page.sums
    (words,) = pages_of(printed(replace(page, sums=(total, *TAXES, without)), paper))
    assert "Tax 5 of the county" in words
    assert "Line 13 of a long address" in words


def test_a_text_too_long_for_half_a_sheet_is_broken_off_and_the_total_stays() -> None:
    page = a_page(HARD["long note"])
    (on_half,) = pages_of(printed(page, Paper.A5))
    assert LONG[:240].split()[-3] in on_half
    assert LONG[300:900] not in on_half
    assert "…" in on_half
    (on_whole,) = pages_of(printed(page, Paper.A4))
    assert LONG[300:900] in on_whole


def test_the_total_only_says_no_line_and_the_same_total() -> None:
    lines = a_page(SKETCH, FLOAT)
    only = a_page(SKETCH, FLOAT, quote_prices=QuotePrices.TOTAL)
    assert only.sums == lines.sums
    assert [len(piece.shown) for piece in only.pieces] == [1, 1]
    (words,) = pages_of(printed(only, Paper.A4))
    for line in ("Mats and boards", "Work", "Rush"):
        assert line not in words
    assert words.count("Subtotal") == 2


@pytest.mark.parametrize(
    ("count", "paper", "rows"),
    [
        (1, Paper.A4, [1]),
        (2, Paper.A4, [2]),
        (3, Paper.A4, [3]),
        (4, Paper.A4, [2, 2]),
        (5, Paper.A4, [3, 2]),
        (7, Paper.A4, [3, 3, 1]),
        (2, Paper.A5, [1, 1]),
    ],
)
def test_pieces_hang_in_even_rows(count: int, paper: Paper, rows: list[int]) -> None:
    """Short pieces, so that three stand beside each other on A4. Seven are on three sheets, at most three on each."""
    page = a_page(*[CLOSE] * count)
    sheets = next(settings_for(page, paper))
    assert [len(sheet.pieces) for sheet in sheets] == rows
    assert (sheets[0].first, sheets[-1].last) == (True, True)


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("typed", [(CLOSE,), (EVERYTHING,), (CLOSE,) * 2, (CLOSE,) * 3])
def test_heights_are_foreseen_so_that_a_common_quote_is_laid_out_once(
    typed: tuple[dict[str, str], ...], paper: Paper
) -> None:
    page = a_page(*typed)
    sheets = next(settings_for(page, paper))
    html = page_html("quote.html", replace(page, sheets=sheets))
    assert len(pages_of(to_pdf(html, QUOTE_SHEETS[paper]))) == len(sheets)


def test_pictures_hang_to_one_scale_within_their_places() -> None:
    """800 × 600 and 400 × 300 on places of 84 less 4, under a wall of 80 less 2 × 4.8: 80/800 is a tenth, and so are both."""
    large, small = FrontPicture("", 800, 600), FrontPicture("", 400, 300)
    first, second = hung((large, small), 84, 80)
    assert (first.wide, first.high, first.down) == (80, 60, 10)
    assert (second.wide, second.high) == (40, 30)


def test_a_small_piece_beside_a_large_one_is_still_seen() -> None:
    """100 × 75 alone would be drawn 80 wide; beside 800 × 600 it is not drawn below 0.45 of that, 36."""
    _, small = hung((FrontPicture("", 800, 600), FrontPicture("", 100, 75)), 84, 80)
    assert small.wide == 36


@pytest.mark.parametrize("name", PIECES)
def test_the_picture_takes_much_of_the_page(name: str) -> None:
    """Half of A4 inside its margins is 133 mm; never under a third, but where everything is chosen at once."""
    (sheet,) = next(settings_for(a_page(PIECES[name]), Paper.A4))
    assert sheet.wall >= (55 if name == "everything" else 88)
    assert sheet.wall <= 0.56 * 266


def test_a_canvas_is_described_in_plain_words() -> None:
    page = a_page(CANVAS)
    # 900 + 2 × (30 − 8) + 3 of room = 947
    assert page.pieces[0].line.startswith(
        "Your canvas, 900 × 600 mm, framed to 947 × 647 mm, about "
    )
    assert [each.name for each in page.pieces[0].details] == ["Mounted", "Frame"]


def test_one_artwork_behind_several_windows_is_named_as_one() -> None:
    """Two openings of 100 × 150 before 400 × 200; with artworks of that size each window names its own."""
    windows = {
        "artwork.size": "400 x 200",
        "windows.count": "2",
        "windows.0.size": "100 x 150",
        "windows.0.kind": "hole",
    }
    for kind, said in (
        ("hole", "2; one artwork behind all"),
        ("artwork", "2, each for 100 × 150 mm"),
    ):
        (piece,) = a_page(SKETCH | windows | {"windows.0.kind": kind}).pieces
        assert {each.name: each.text for each in piece.details}["Windows"] == said


def test_a_row_hangs_to_one_scale_with_equal_gaps_and_as_large_as_its_wall_allows() -> None:
    """1000 and 500 wide on a wall of 164 less 2 × 7: 150/1500 is a tenth; each has 7 of room, half at each side.

    60 high with 2 × 8.4 of air is 76.8: the wall of 120 comes down to it.
    """
    row = (FrontPicture("", 1000, 600), FrontPicture("", 500, 300))
    scale = scale_of_row(row, 164, 120)
    assert scale == pytest.approx(0.1)
    assert band_of(row, scale, 120) == pytest.approx(76.8)
    large, small = row_of(row, 164, 76.8, scale)
    assert (large.wide, large.high, large.place) == (100, 60, pytest.approx(107, abs=0.11))
    assert (small.wide, small.high, small.place) == (50, 30, pytest.approx(57, abs=0.11))
    assert small.down == pytest.approx(large.down + 15, abs=0.11)


def test_all_rows_of_a_paper_hang_to_one_scale() -> None:
    page = a_page(*[CLOSE] * 5, quote_prices=QuotePrices.TOTAL)
    first, second = next(settings_for(page, Paper.A4))
    assert (len(first.pieces), len(second.pieces)) == (3, 2)
    assert len({(at.wide, at.high) for sheet in (first, second) for at in sheet.hung}) == 1
    for sheet in (first, second):
        tallest = max(at.high for at in sheet.hung)
        assert tallest < sheet.wall <= tallest + max(14, 0.28 * tallest) + 0.1


@pytest.mark.parametrize(("paper", "least"), [(Paper.A4, 0.45 * 297), (Paper.A5, 0.27 * 210)])
def test_an_ordinary_piece_has_nearly_half_of_the_page(paper: Paper, least: float) -> None:
    """Two mats, glass, boards and what it hangs by. On half a sheet it takes a quarter, before the lines of its price."""
    page = a_page(SKETCH)
    (sheet,) = next(settings_for(page, paper))
    assert sheet.wall >= least
    assert len(pages_of(printed(page, paper))) == 1


def test_what_rounds_a_price_is_no_line_and_the_lines_add_up() -> None:
    """In steps of a euro 137.73 becomes 138.00; the last of the lines, work, takes the 0.27."""
    plain, rounded = (
        a_page(SKETCH, rounding_step=step).pieces[0].sums for step in (None, euro("1"))
    )
    assert plain[-1].amount == euro("137.73")
    *lines, total = rounded
    assert total.amount == euro("138")
    assert [each.label for each in lines] == [each.label for each in plain[:-1]]
    assert sum((each.amount for each in lines), euro("0")) == euro("138")
    assert lines[-1].amount == plain[-2].amount + euro("0.27")
    assert [each.amount for each in lines[:-1]] == [each.amount for each in plain[:-2]]


def test_what_belongs_together_on_a_paper_stays_on_one_line() -> None:
    """A telephone number, a name of what is said, the large balance and its currency; the line to sign on is full."""
    page = a_page(SKETCH, contact="01632 960 100\nbench@quillmoor.example")
    (words,) = words_of(printed(page, Paper.A4))
    at = {word.text: word for word in words}
    assert at["01632"].top == at["960"].top == at["100"].top
    assert at["Signature"].top == at["Date"].top
