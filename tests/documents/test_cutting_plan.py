"""The printed cutting plan, read back. Every figure is worked by hand in `tests.storage.plan_work`."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest

from app.bench import usual_cutter
from app.documents.cutting_plan.cutting_plan import (
    PlanPrinting,
    cutting_plan_html,
    cutting_plan_pdf,
)
from app.documents.cutting_plan.equal_bins import Done, equal_bins, numbers_in_words
from app.documents.cutting_plan.sections import sections_of
from app.documents.kit.page_code import page_code
from app.documents.kit.printing import Figures
from app.lengths import Size, Steps, Unit, mm
from app.orders import Paper, usual_shop
from app.services import plan_bench, plans, stock
from app.services.open_work import WorkFilter
from app.services.plan_bookings import book_bin
from app.services.plans import BinAtPlan
from app.services.stock import Received
from app.stock.items import Item, StockForm
from app.stock.planning.plans import BinAt
from app.storage import DATABASE_NAME, NewPiece, Store
from app.web.plans.bench_page import done_of
from tests.builders.hasty import new_store
from tests.builders.kept import ACT, BOOK, NOW, SHOP, piece
from tests.builders.values import euro
from tests.documents.reading import overlapping, page_sizes, runs, squeezed, text_of, words_of
from tests.storage.plan_work import ordered, piece_ids, planned

A4 = (595, 842)


@dataclass(frozen=True)
class Printed:
    """A shop whose plans are printed."""

    store: Store

    def printing(self, paper: Paper = Paper.A4) -> PlanPrinting:
        return PlanPrinting(
            paper=paper,
            steps=SHOP.steps,
            currency=SHOP.currency,
            phone_url="http://shop.test:8000/",
            today=date(2026, 11, 26),
        )

    def pdf(self, plan_id: int, paper: Paper = Paper.A4, **changes: object) -> bytes:
        looked = plans.look(self.store, plan_id)
        printing = replace(self.printing(paper), done=self.done(plan_id), **changes)  # type: ignore[arg-type]
        return cutting_plan_pdf(looked.plan, looked.sources, printing)

    def done(self, plan_id: int) -> Done:
        return done_of(plan_bench.at_bench(self.store, plan_id, offers=False))

    def html(self, plan_id: int, **changes: object) -> str:
        looked = plans.look(self.store, plan_id)
        printing = replace(self.printing(), done=self.done(plan_id), **changes)  # type: ignore[arg-type]
        return cutting_plan_html(looked.plan, looked.sources, printing)


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Printed]:
    with new_store(tmp_path / DATABASE_NAME) as store:
        with store.writing() as work:
            work.shop.add(SHOP, now=NOW)
            work.materials.add_all(BOOK, now=NOW)
        yield Printed(store)


def sticks(store: Store, count: int) -> None:
    item = Item(
        material="LIN-20",
        form=StockForm.STICK,
        unit_cost=euro("28.20"),
        length=mm(3000),
        place="Rack A",
    )
    stock.receive(store, Received(item=item, count=count), ACT)


def unlike(count: int) -> list[NewPiece]:
    """So many pieces, each a millimetre narrower than the one before, so that no two sheets are cut alike."""
    return [piece(artwork__size=f"{420 - number} x 297") for number in range(count)]


def of_rails(shop: Printed, pieces: int) -> int:
    """A plan of the rails of so many frames."""
    order_id = ordered(shop.store, *unlike(pieces))
    ids = frozenset(piece_ids(shop.store, order_id))
    return planned(shop.store, WorkFilter(pieces=ids, materials=frozenset({"LIN-20"})))


@pytest.mark.documents
@pytest.mark.poppler
def test_a_frame_on_a_stick_has_its_cuts_its_offcut_and_where_to_take_it(shop: Printed) -> None:
    sticks(shop.store, 1)
    text = text_of(shop.pdf(of_rails(shop, 1)))
    assert "P-2026-0001 cutting plan" in text
    assert "Every figure is in millimetres" in text
    assert "1 × LIN-20 Linden, limewashed 3000 mm A whole stick at Rack A" in text
    assert "573 22 9/16 1 frame, top · 2026-0001/1 2 frame, bottom · 2026-0001/1" in text
    assert "460 18 1/8 3 frame, left · 2026-0001/1 4 frame, right · 2026-0001/1" in text
    assert "keep offcut 900, put at" in text
    assert "8.5 mm lost at each cut." in text
    assert "guard on, hands clear" in text
    assert "local rules" in text
    assert "/plans/1" in text


@pytest.mark.documents
@pytest.mark.poppler
def test_three_sticks_are_on_one_page_and_what_is_to_buy_is_said(shop: Printed) -> None:
    sticks(shop.store, 2)
    pdf = shop.pdf(of_rails(shop, 3))
    assert page_sizes(pdf) == [A4]
    text = text_of(pdf)
    assert "2 × LIN-20 Linden, limewashed 3000 mm A whole stick at Rack A" in text
    assert "1 × LIN-20 Linden, limewashed 3000 mm To buy" in text
    assert [name for name in ("Stick 1", "Stick 2", "Stick 3", "Stick 4") if name in text] == [
        "Stick 1",
        "Stick 2",
        "Stick 3",
    ]


@pytest.mark.documents
@pytest.mark.poppler
def test_a_sheet_has_its_settings_and_its_parts_with_their_sizes(shop: Printed) -> None:
    order_id = ordered(shop.store)
    ids = frozenset(piece_ids(shop.store, order_id))
    plan_id = planned(shop.store, WorkFilter(pieces=ids, materials=frozenset({"G-2"})))
    text = text_of(shop.pdf(plan_id))
    # 542 × 429 lies turned in the corner: the first cut across at 542, the second down at 429; beside it
    # 1120 − 429 = 691, under it 815 − 542 = 273.
    assert squeezed("429 × 542") in squeezed(text)
    assert squeezed("keep offcut 691 × 815, put at") in squeezed(text)
    assert "glazing, turned · 2026-0001/1" in text
    assert "gloves and eye protection" in text
    assert "1 429 16 7/8 down, from the left" in text
    assert "Left and top are those of the piece in hand" in text
    assert "2 542 21 11/32 across, from the top" in text


@pytest.mark.documents
@pytest.mark.poppler
@pytest.mark.parametrize(("paper", "size"), [(Paper.A4, A4), (Paper.LETTER, (612, 792))])
def test_twelve_sheets_are_three_a_page_and_none_is_broken(
    shop: Printed, paper: Paper, size: tuple[int, int]
) -> None:
    order_id = ordered(shop.store, *unlike(6))
    ids = frozenset(piece_ids(shop.store, order_id))
    sheets = frozenset({"M-101", "M-140", "G-2", "B-3"})
    pdf = shop.pdf(planned(shop.store, WorkFilter(pieces=ids, materials=sheets)), paper)
    pages = words_of(pdf)
    assert len(pages) in (4, 5)
    assert min(map(len, pages)) >= 60  # none for a few words
    assert set(page_sizes(pdf)) == {size}
    on_page = [
        sum(one.text == "Sheet" and two.text.isdigit() for one, two in pairwise(page))
        for page in pages
    ]
    assert sum(on_page) == 12
    assert max(on_page) == 3
    kept = [sum(word.text == "keep" for word in page) for page in pages]
    assert all(bool(sheets) == bool(offcuts) for sheets, offcuts in zip(on_page, kept, strict=True))


@pytest.mark.documents
@pytest.mark.poppler
def test_twenty_alike_are_drawn_once_for_each_way_that_a_sheet_is_cut(shop: Printed) -> None:
    """Two blanks lie on a sheet: ten sheets of each of four materials. 40 rails of 573 are five on a stick, 40 of 460 six."""
    ordered(shop.store, piece(copies="20"))
    plan_id = planned(shop.store)
    html = shop.html(plan_id)
    assert (
        html.count("10 sheets like this: no. 1 to 10") == 4 * 2
    )  # its heading, and what its drawing is
    assert html.count("<img") == 4 + 3 + 1  # with the code of the page
    pdf = shop.pdf(plan_id)
    assert len(page_sizes(pdf)) <= 6
    text = text_of(pdf)
    assert "8 sticks like this: no. 1 to 8" in text
    assert "6 sticks like this: no. 9 to 14" in text
    assert "Stick 15" in text
    # every sheet has a box for each of its two panes, and one for what is kept
    assert "1 glazing · 2026-0001/1 1 2 3 4 5 6 7 8 9 10" in text
    assert "2 glazing · 2026-0001/1 1 2 3 4 5 6 7 8 9 10" in text
    assert "1 frame, left · 2026-0001/1 9 10 11 12 13 14" in text


@pytest.mark.documents
@pytest.mark.poppler
def test_sheets_that_are_alike_may_be_for_other_pieces_and_from_elsewhere(shop: Printed) -> None:
    """The panes of four frames are two sheets, of which one is on the rack."""
    glass = Item(
        material="G-2",
        form=StockForm.SHEET,
        unit_cost=euro("20.00"),
        size=Size(mm(1120), mm(815)),
        place="Rack A",
    )
    stock.receive(shop.store, Received(item=glass, count=1), ACT)
    order_id = ordered(shop.store, *[piece()] * 4)
    ids = frozenset(piece_ids(shop.store, order_id))
    plan_id = planned(shop.store, WorkFilter(pieces=ids, materials=frozenset({"G-2"})))
    text = text_of(shop.pdf(plan_id))
    assert "2 sheets like this: no. 1, 2" in text
    assert "A whole sheet at Rack A: 1 · To buy: 2" in text
    assert "1 glazing · 2026-0001/1 1 glazing · 2026-0001/3 2" in text
    assert "2 glazing · 2026-0001/2 1 glazing · 2026-0001/4 2" in text
    looked = plans.look(shop.store, plan_id)
    (section,) = sections_of(looked.plan.sections, looked.sources, Figures(steps=SHOP.steps))
    (alike,) = equal_bins(section.bins)
    assert "part 1" in alike.svg
    assert "2026-0001" not in alike.svg  # it stands for the panes of four pieces


def test_sheets_whose_parts_lie_otherwise_are_drawn_by_themselves(shop: Printed) -> None:
    order_id = ordered(shop.store, *unlike(2))
    ids = frozenset(piece_ids(shop.store, order_id))
    plan_id = planned(shop.store, WorkFilter(pieces=ids, materials=frozenset({"LIN-20"})))
    html = shop.html(plan_id)
    assert "like this" not in html
    assert "Stick 1 <span>" in html
    assert "Stick 2 <span>" in html


@pytest.mark.parametrize(
    ("numbers", "words"),
    [
        ((2,), "2"),
        ((4, 5, 6), "4, 5, 6"),
        ((1, 2, 3, 4), "1 to 4"),
        ((1, 3, 4, 5, 6, 9), "1, 3 to 6, 9"),
    ],
)
def test_numbers_that_follow_on_each_other_are_said_shortly(
    numbers: tuple[int, ...], words: str
) -> None:
    assert numbers_in_words(numbers) == words


@pytest.mark.documents
@pytest.mark.poppler
@pytest.mark.parametrize("paper", list(Paper))
def test_no_words_lie_on_each_other_and_the_running_head_is_on_every_further_page(
    shop: Printed, paper: Paper
) -> None:
    order_id = ordered(shop.store, *[piece()] * 3)
    pdf = shop.pdf(
        planned(shop.store, WorkFilter(pieces=frozenset(piece_ids(shop.store, order_id)))), paper
    )
    for number, page in enumerate(words_of(pdf), start=1):
        assert overlapping(page) == []
        if number > 1:
            assert page[0].text == "P-2026-0001"


@pytest.mark.documents
@pytest.mark.poppler
@pytest.mark.parametrize("paper", list(Paper))
def test_what_is_said_of_a_station_stands_with_the_first_that_is_cut_there(
    shop: Printed, paper: Paper
) -> None:
    """However long the list of what is taken is, so that the station comes to stand at any height of a page."""
    for pieces in (1, 4, 7):
        order_id = ordered(shop.store, *unlike(pieces))
        ids = frozenset(piece_ids(shop.store, order_id))
        pages = words_of(shop.pdf(planned(shop.store, WorkFilter(pieces=ids)), paper))
        for page in pages:
            said = " ".join(word.text for word in page)
            for station in re.finditer(r"At the [a-z ]+: \d+ material", said):
                behind = said[station.end() :]
                assert re.search(r"(stick|sheet)s? like this|(Stick|Sheet) \d", behind)


@pytest.mark.documents
@pytest.mark.poppler
@pytest.mark.parametrize("paper", list(Paper))
def test_the_line_of_sums_keeps_within_the_page(shop: Printed, paper: Paper) -> None:
    order_id = ordered(shop.store, *unlike(12))
    ids = frozenset(piece_ids(shop.store, order_id))
    first = words_of(shop.pdf(planned(shop.store, WorkFilter(pieces=ids)), paper))[0]
    (last,) = (word for word in first if word.text == "label")
    width = {Paper.A4: 595, Paper.LETTER: 612, Paper.A5: 420}[paper]
    assert last.right < width - 20
    assert overlapping(first) == []


@pytest.mark.documents
@pytest.mark.poppler
def test_a_shop_in_inches_reads_inches_with_millimetres_as_the_check(tmp_path: Path) -> None:
    inch_shop = usual_shop("Foundry Yard", Unit.IN, "EUR", Fraction(1, 5))
    with new_store(tmp_path / DATABASE_NAME) as store:
        with store.writing() as work:
            work.shop.add(inch_shop, now=NOW)
            work.materials.add_all(BOOK, now=NOW)
        plan_id = of_rails(Printed(store), 1)
        text = text_of(Printed(store).pdf(plan_id, steps=inch_shop.steps))
    assert "Every figure is in inches" in text
    assert "check in mm" in text


def test_the_code_leads_to_the_plan(shop: Printed) -> None:
    html = shop.html(of_rails(shop, 1))
    code = page_code("http://shop.test:8000", "/plans/1")
    assert code is not None
    assert code.image in html
    assert ">/plans/1<" in html
    assert "no code" not in html


def test_while_no_phone_reaches_it_a_plan_bears_no_code_and_keeps_its_number(shop: Printed) -> None:
    html = shop.html(of_rails(shop, 1), phone_url=None)
    assert "QR" not in html
    assert "/plans/1" not in html
    assert "no phone" not in html, "what is missing is of no use on paper"
    assert "<h1>P-2026-0001 <span>cutting plan</span></h1>" in html


@pytest.mark.documents
@pytest.mark.poppler
def test_many_small_parts_on_a_sheet_go_on_over_pages_without_loss(shop: Printed) -> None:
    small = [
        piece(artwork__size="90 x 70", borders__left="10", borders__right="10", borders__top="10",
              borders__bottom="10")
    ] * 40  # fmt: skip
    order_id = ordered(shop.store, *small)
    ids = frozenset(piece_ids(shop.store, order_id))
    plan_id = planned(shop.store, WorkFilter(pieces=ids, materials=frozenset({"G-2"})))
    text = text_of(shop.pdf(plan_id))
    for number in range(1, 41):
        assert f"2026-0001/{number}" in text


@pytest.mark.documents
@pytest.mark.poppler
@pytest.mark.parametrize(("paper", "least"), [(Paper.A4, 14), (Paper.LETTER, 14), (Paper.A5, 12)])
def test_cut_sizes_are_read_from_an_arm_away_and_what_is_lost_is_said_once(
    shop: Printed, paper: Paper, least: int
) -> None:
    order_id = ordered(shop.store, *[piece()] * 3)
    ids = frozenset(piece_ids(shop.store, order_id))
    pdf = shop.pdf(planned(shop.store, WorkFilter(pieces=ids)), paper)
    sizes = {run.text: run.points for run in runs(pdf) if run.points >= least}
    for size in ("573", "460", "429 × 542", "423 × 536"):
        assert size in sizes
    assert text_of(pdf).count("lost at each cut") == 1  # of sticks; sheets are cut by a blade


@pytest.mark.documents
@pytest.mark.poppler
def test_the_settings_of_the_squaring_arm_come_in_the_order_of_the_plans_cuts(
    shop: Printed,
) -> None:
    """The backing of 542 × 429 lies turned, and what is kept is as high as the sheet: first a cut down at 429, its
    height, then one across at 542, its width. The longest would come first without a plan. Glass is cut elsewhere."""
    order_id = ordered(shop.store)
    ids = frozenset(piece_ids(shop.store, order_id))
    plan_id = planned(shop.store, WorkFilter(pieces=ids, materials=frozenset({"B-3"})))
    glass_id = planned(shop.store, WorkFilter(pieces=ids, materials=frozenset({"G-2"})))
    plain = usual_cutter(Unit.MM)
    with_arm = text_of(shop.pdf(plan_id, cutter=replace(plain, arm_reach=mm(540))))
    assert (
        "Stop on the squaring arm, in the order of the cuts: 429 height of 2026-0001/1 backing · "
        "542 width of 2026-0001/1 backing (beyond the arm: measure and mark)"
    ) in with_arm
    assert "reaches 540 mm, and longer is 2026-0001/1 backing (542 mm)" in with_arm
    of_glass = text_of(shop.pdf(glass_id, cutter=replace(plain, arm_reach=mm(540))))
    assert "squaring arm" not in of_glass
    assert "squaring arm" not in text_of(shop.pdf(plan_id, cutter=plain))


def test_a_piece_in_inches_has_one_figure_for_a_cut_in_a_plan_in_millimetres(shop: Printed) -> None:
    """16 × 20 in, overlap 3/16 and reveal 1/4 on each side, borders 2 1/2 and 3: the package is 21 1/8 × 25 5/8 in =
    536.575 × 650.875 mm, which every part of it is cut to, at the guide and on the arm too, to a tenth of a millimetre; beside it
    stands what its ticket says."""
    typed = {"unit": "in", "artwork__size": "16 x 20", "overlap": "3/16", "mats__1__reveal": "1/4"}
    borders = {f"borders__{side}": "2 1/2" for side in ("left", "right", "top")}
    ordered(shop.store, piece(**typed, **borders, borders__bottom="3"))
    looked = plans.look(shop.store, planned(shop.store))
    cutter = replace(usual_cutter(Unit.MM), arm_reach=mm(900))
    figures = Figures(steps=Steps(unit=Unit.MM, step=mm(1)))
    works = {
        work.code: work
        for work in sections_of(looked.plan.sections, looked.sources, figures, cutter=cutter)
    }
    width, height = "536.6", "650.9"
    for code in ("B-3", "M-101", "G-2"):
        work = works[code]
        (sheet,) = work.bins
        (part,) = sheet.parts
        assert set(part.size.split(" × ")) == {width, height}
        assert {setting.at for setting in sheet.settings} == {width, height}
        assert {row.at for row in work.arm} == (set() if code == "G-2" else {width, height})
        assert set(part.check.split(" × ")) == {"21 1/8", "25 5/8"}
        assert part.size in said(sheet.svg)


def said(html: str) -> str:
    """Everything that a document says, without its marks."""
    return " ".join(re.sub("<[^>]*>", " ", html).split())


def test_what_is_cut_is_marked_and_no_longer_fetched(shop: Printed) -> None:
    """Of five sticks and sheets the stick is on the rack and four are to be bought. Once the stick is booked and the glass,
    which has one part, is ticked, five boxes are filled: its four rails and the pane.
    """
    order_id = ordered(shop.store)
    (piece_id,) = piece_ids(shop.store, order_id)
    sticks(shop.store, 1)
    plan_id = planned(shop.store)
    before = said(shop.html(plan_id))
    assert "1 from the rack" in before
    assert "4 to buy first" in before
    assert "off stock" not in before
    book_bin(shop.store, BinAtPlan(plan_id=plan_id, at=BinAt(section=3, bin=1)), ACT)
    plans.tick_part(shop.store, plan_id, f"{piece_id}/glazing", ACT, ticked=True)
    after = said(shop.html(plan_id))
    assert "0 still to take from the rack" in after
    assert "4 to buy first" in after
    assert "1 of 5 sticks and sheets is cut and off stock." in after
    html = shop.html(plan_id)
    taken = html.partition("<h2>Take</h2>")[2].partition("</table>")[0]
    assert "LIN-20" in html
    assert "LIN-20" not in taken
    body = html.partition("<h2>Take</h2>")[2]
    assert body.count('class="tick ticked"') == 6  # the rails, the offcut that was kept, the pane
