"""The paper of mats that are cut together, read back. Settings are worked by hand in `tests.web.test_cut_together`."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

import pytest

from app.bench import Stops
from app.documents.ticket.together import (
    MOST_DRAWN,
    TogetherPrinting,
    TogetherSheet,
    together_pdf,
    together_sheet,
)
from app.lengths import mm
from app.orders import Paper, Shop
from app.orders.cut_together import CutTogether
from app.services import quotes
from app.services import stages as progress
from app.services.bench import PieceAt
from app.services.cut_together import at_cutter_together
from app.services.order_transaction import OrderAt
from app.services.who_is_meant import CustomerRequest
from app.storage import DATABASE_NAME, Store
from tests.builders.hasty import new_store
from tests.builders.kept import ACT, NOW
from tests.builders.worked import BOOK, SHOP, TYPED
from tests.documents.reading import overlapping, page_sizes, runs, squeezed, text_of, words_of
from tests.web.test_bench_page_steps import PINNED
from tests.web.test_cut_together import IN_INCHES, SINGLE

OURS = replace(SHOP, cutters=(PINNED,))

PRINTING = TogetherPrinting(
    paper=Paper.A4,
    mat_word="mat",
    address="/bench/together?piece=1.1",
    phone_url=None,
    today=date(2026, 11, 26),
)


@dataclass(frozen=True)
class Bench:
    """A shop with pieces that are cut together."""

    store: Store

    def order(self, *typed: dict[str, str]) -> None:
        for each in typed:
            order = quotes.save_new(
                self.store, CustomerRequest(name="Amber Quill"), each, OURS, ACT
            )
            progress.take_order(self.store, OrderAt(id=order, version=1), progress.Terms(), ACT)

    def together(self, count: int, shop: Shop = OURS) -> CutTogether:
        wanted = [PieceAt(order_id=order, number=1) for order in range(1, count + 1)]
        found = at_cutter_together(self.store, wanted, shop).together
        assert found is not None
        return found


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    with new_store(tmp_path / DATABASE_NAME) as store:
        with store.writing() as work:
            work.shop.add(OURS, now=NOW)
            work.materials.add_all(BOOK, now=NOW)
        yield Bench(store)


def settings(sheet: TogetherSheet) -> list[tuple[int, str, str, list[str]]]:
    return [
        (
            at.number,
            at.at,
            at.pin,
            [f"{row.mat} {row.text}" for stand in at.stands for row in stand.rows if row.mat],
        )
        for at in sheet.settings
    ]


def test_the_settings_stand_in_their_order_with_what_is_cut(bench: Bench) -> None:
    bench.order(TYPED, SINGLE)
    assert settings(together_sheet(bench.together(2), PRINTING)) == [
        (1, "100", "pin 90, then 10", ["mat 1 bottom", "mat all four sides"]),
        (2, "80", "pin 70, then 10", ["mat 1 top"]),
        (3, "90", "pin 90", ["mat 1 right, left", "mat 2 top"]),
        (4, "100", "pin 90, then 10", ["mat 2 right, left"]),
        (5, "110", "pin 110", ["mat 2 bottom"]),
    ]


def test_a_list_with_a_piece_in_inches_has_one_unit_and_its_tickets_figures_as_checks(
    bench: Bench,
) -> None:
    """By hand: 16 + 4 + 3 15/16 − 2 × 3/16 = 23 9/16 in = 598.4875 mm, 12 + 4 + 4 1/16 − 3/8 = 19 11/16 in = 500.0625 mm."""
    bench.order(SINGLE, IN_INCHES)
    shop = replace(OURS, cutters=(replace(PINNED, arm_reach=mm(800)),))
    sheet = together_sheet(bench.together(2, shop), PRINTING)
    checks = {row.at: row.check for row in sheet.arm}
    assert (checks["598.5"], checks["500.1"]) == ("23 9/16", "19 11/16")
    (_, boards) = (piece.boards for piece in sheet.pieces)
    assert boards[0].endswith("598.5 × 500.1 mm")
    assert sheet.sizing[1].text == "Mat 598.5 × 500.1"


@pytest.mark.documents
@pytest.mark.poppler
def test_the_paper_says_what_to_fetch_and_where_it_can_hurt(bench: Bench) -> None:
    bench.order(TYPED, SINGLE | {"copies": "20"})
    text = text_of(together_pdf(bench.together(2), PRINTING))
    for said in (
        "5 guide settings instead of 6 piece by piece",
        "mat 2: Slate blue (M-140), 594 × 494 mm",
        "20 of these",
        "artwork at Drawer 3",
        "blade in or covered between cuts",
        "Follow the maker’s instructions and local rules",
        "Settings are in millimetres",
        "back of mat 2",
        "1 of 2",
    ):
        assert squeezed(said) in squeezed(text), said


@pytest.mark.documents
@pytest.mark.poppler
@pytest.mark.parametrize(("paper", "pages"), [(Paper.A4, 2), (Paper.LETTER, 2), (Paper.A5, 3)])
def test_two_pieces_fill_their_pages_and_no_heading_stands_alone(
    bench: Bench, paper: Paper, pages: int
) -> None:
    """The drawings follow what is cut, under their heading; sizes of blanks are 18 pt where there is room."""
    bench.order(TYPED, SINGLE)
    pdf = together_pdf(bench.together(2), replace(PRINTING, paper=paper))
    said = [" ".join(word.text for word in page) for page in words_of(pdf)]
    assert len(said) == pages
    assert "Marks edges" in said[-1]
    assert "back of mat" in said[-1]
    least = 14 if paper is Paper.A5 else 18
    sizes = [run.points for run in runs(pdf) if run.text.startswith("Mat 1 600")]
    assert sizes
    assert min(sizes) >= least


@pytest.mark.documents
@pytest.mark.poppler
@pytest.mark.parametrize(
    ("paper", "size"), [(Paper.A4, (595, 842)), (Paper.LETTER, (612, 792)), (Paper.A5, (420, 595))]
)
def test_nothing_is_cut_off_and_nothing_lies_on_other_words(
    bench: Bench, paper: Paper, size: tuple[int, int]
) -> None:
    """With a title and a place that are as long as they get."""
    long = {"artwork.title": "Unverkleinerbarkeit " * 6, "artwork.place": "Shelf by the door " * 3}
    bench.order(*[TYPED | long, SINGLE | long] * 3)
    pdf = together_pdf(bench.together(6), replace(PRINTING, paper=paper))
    assert set(page_sizes(pdf)) == {size}
    for page in words_of(pdf):
        assert all(word.left > 0 and word.right < size[0] for word in page)
        assert all(word.top > 0 and word.bottom < size[1] for word in page)
        assert overlapping(page) == []


def test_marks_are_drawn_of_few_mats_and_of_many_it_is_said_where_they_stand(bench: Bench) -> None:
    bench.order(*[TYPED] * (MOST_DRAWN // 2 + 1))
    few = together_sheet(bench.together(MOST_DRAWN // 2), PRINTING)
    assert (len(few.drawn), few.not_drawn) == (MOST_DRAWN, "")
    many = together_sheet(bench.together(MOST_DRAWN // 2 + 1), PRINTING)
    assert (many.drawn, many.not_drawn) == ((), "Their marks stand on the ticket of each piece.")


def test_with_stops_each_place_of_them_stands_above_its_cuts(bench: Bench) -> None:
    """By hand: the linocut is 600 × 500 with borders of 100. Left and right edges run 300 of 500: the near stop at
    100, the far one at 400; top and bottom 400 of 600: 100 and 500. Both are one setting of the guide.
    """
    bench.order(SINGLE)
    shop = replace(
        OURS, cutters=(replace(PINNED, stops=Stops(near=True, far=True), cut_length=mm(1000)),)
    )
    (at,) = together_sheet(bench.together(1, shop), PRINTING).settings
    stands = {stand.stops: [row.text for row in stand.rows if row.mat] for stand in at.stands}
    assert stands == {
        "near stop 100, far stop 400": ["right, left"],
        "near stop 100, far stop 500": ["top, bottom"],
    }
    boxes = [row.box for stand in at.stands for row in stand.rows if row.mat]
    assert boxes == [False, True]  # one step of the piece, ticked with the last of its cuts


def test_what_is_set_on_the_squaring_arm_is_set_once(bench: Bench) -> None:
    """By hand: mats of 600 × 500 twice, and one of 594 × 494."""
    bench.order(TYPED, SINGLE)
    shop = replace(OURS, cutters=(replace(PINNED, arm_reach=mm(800)),))
    sheet = together_sheet(bench.together(2, shop), PRINTING)
    one, other = "2026-0001/1", "2026-0002/1"
    assert [(row.at, row.what) for row in sheet.arm] == [
        ("600", f"width of {one} mat 1, {other} mat"),
        ("594", f"width of {one} mat 2"),
        ("500", f"height of {one} mat 1, {other} mat"),
        ("494", f"height of {one} mat 2"),
    ]
    assert together_sheet(bench.together(2), PRINTING).arm == ()


EDGES = {"left", "right", "top", "bottom", "sides"}


@pytest.mark.documents
@pytest.mark.poppler
@pytest.mark.parametrize("paper", Paper)
def test_no_page_parts_a_stop_from_what_is_cut_at_it(bench: Bench, paper: Paper) -> None:
    """Whatever stands above: the last line with a stop on a page has a cut below it, the first cut a stop above it."""
    bench.order(*[TYPED, SINGLE] * 6)
    shop = replace(
        OURS, cutters=(replace(PINNED, stops=Stops(near=True, far=True), cut_length=mm(1000)),)
    )
    for count in range(4, 8):
        pdf = together_pdf(bench.together(count, shop), replace(PRINTING, paper=paper))
        for page in words_of(pdf):
            stops = [word.top for word in page if word.text == "near"]
            cuts = [word.top for word in page if word.text.rstrip(",") in EDGES]
            if stops:
                assert max(cuts) > max(stops)
                assert min(cuts) > min(stops)


@pytest.mark.documents
@pytest.mark.poppler
@pytest.mark.parametrize("paper", Paper)
def test_no_page_but_the_last_is_left_half_blank_where_each_stop_has_one_cut(
    bench: Bench, paper: Paper
) -> None:
    """A table of one row does not take the next one along overleaf, and so on to the end of all."""
    bench.order(*[TYPED] * (MOST_DRAWN // 2 + 1))
    shop = replace(
        OURS, cutters=(replace(PINNED, stops=Stops(near=True, far=True), cut_length=mm(1000)),)
    )
    pdf = together_pdf(bench.together(MOST_DRAWN // 2 + 1, shop), replace(PRINTING, paper=paper))
    high = page_sizes(pdf)[0][1]
    pages = words_of(pdf)
    assert len(pages) > 2
    for page in pages[:-1]:
        printed = [word.bottom for word in page if word.bottom < high * 0.92]  # above its number
        assert max(printed) > high * 0.6
    marked = [
        number
        for number, page in enumerate(pages)
        if "Their marks stand on the ticket" in " ".join(word.text for word in page)
    ]
    assert marked == [0] or "Mark the boards" in " ".join(word.text for word in pages[marked[0]])
