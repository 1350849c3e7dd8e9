"""The page of a piece beside the cutter: what to cut, what to take, what comes next."""

from dataclasses import replace
from xml.etree.ElementTree import Element

import pytest

from app.lengths import mm
from app.services import quotes
from app.services import stock as racks
from app.services.who_is_meant import CustomerRequest
from app.stock.items import Item, StockForm
from app.stock.levels import Levels
from app.storage import Stamp, Store
from tests.builders.values import euro
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown, words
from tests.web.test_orders import do

ACT = Stamp(who="Ilse", now=NOW)

CUT = {
    "Mat 1": {"blank": "600 × 500", "window": "420 × 320"},
    "Mat 2": {"blank": "594 × 494", "window": "400 × 300"},
    "Glazing": {"Glazing": "600 × 500"},
    "Backing": {"Backing": "600 × 500"},
    "Frame": {"2 rails top, bottom": "630", "2 rails left, right": "530"},
}
"""By hand in `tests.builders.worked`; the under blank is trimmed by 3 at each edge (G7)."""

BORDERS = {
    "Mat 1": ["90", "90", "80", "100"],
    "Mat 2": ["100", "100", "90", "110"],
}
"""Left, right, top, bottom; the under mat is fixed behind the cut top one, so its borders are those of
the top one and the reveal of 10 (G7, attached)."""


@pytest.fixture
def order(counter: Counter, stocked: Store) -> str:
    address = (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Amber Quill'), TYPED, SHOP, ACT)}"
    )
    do(counter, address, "take", deposit="50", due="2026-12-10")
    return address


def cut_list(page: Shown) -> dict[str, dict[str, str]]:
    """Of each group the parts with the figure to cut."""
    groups: dict[str, dict[str, str]] = {}
    name = ""
    for element in page.tree.iter():
        if element.tag == "h3":
            name = (element.text or "").strip()
        if element.tag == "table" and "cut-table" in (element.get("class") or ""):
            rows = [row for body in element.iter("tbody") for row in body.iter("tr")]
            groups[name] = {_label(row[0]): words(row[1]) for row in rows}
    return groups


def _label(cell: Element) -> str:
    """The first words of a cell, without the small print after them."""
    return (cell.text or "").strip()


def borders(page: Shown) -> dict[str, list[str]]:
    tables = [
        table
        for table in page.each(tag="table")
        if "Left" in [words(head) for head in table.iter("th")]
    ]
    rows = [row for body in tables[0].iter("tbody") for row in body.iter("tr")]
    return {words(row[0]): [words(cell) for cell in list(row)[1:]] for row in rows}


def test_every_part_is_listed_with_the_size_worked_by_hand(counter: Counter, order: str) -> None:
    page = counter.get(f"{order}/pieces/1")
    assert cut_list(page) == CUT
    assert borders(page) == BORDERS


def test_borders_are_named_as_the_board_lies_like_all_edges_of_the_page(
    counter: Counter, stocked: Store
) -> None:
    """By hand: 95 at the left of the front lies at the right, back up (G10)."""
    typed = TYPED | {"borders.left": "95", "borders.right": "90"}
    address = (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Amber Quill'), typed, SHOP, ACT)}"
    )
    page = counter.get(f"{address}/pieces/1")
    assert borders(page)["Mat 1"] == ["90", "95", "80", "100"]
    assert "Borders, measured at the back, edges as the board lies" in page.main


def test_rails_say_their_short_points_too(counter: Counter, order: str) -> None:
    page = counter.get(f"{order}/pieces/1")
    assert "short point 590" in page.main
    assert "short point 490" in page.main


def test_what_to_take_and_where_the_artwork_is_kept(counter: Counter, order: str) -> None:
    page = counter.get(f"{order}/pieces/1")
    assert page.facts["moulding"] == "Linden, limewashed (LIN-20)"
    assert page.facts["mat 2"] == "Slate blue (M-140)"
    assert page.facts["hardware"] == "2 × Hanging ring (R-1)"
    assert "stored at Drawer 3" in page.main
    assert "due Thu 10 Dec 2026" in page.main


def test_what_to_fetch_stands_before_the_work_with_where_each_lies(
    counter: Counter, order: str, stocked: Store
) -> None:
    """The sticks lie on the rack with a place of their own; the glass has only its usual one."""
    sticks = Item(
        material="LIN-20",
        form=StockForm.STICK,
        unit_cost=euro("9"),
        length=mm(3000),
        place="Rack A",
    )
    racks.receive(stocked, racks.Received(item=sticks, count=5), ACT)
    racks.set_levels(stocked, "G-2", Levels(place="Glass crate"), 0)
    racks.set_levels(stocked, "LIN-20", Levels(place="Attic"), 0)
    page = counter.get(f"{order}/pieces/1")
    pull = page.words("facts-pull")
    assert pull.startswith("artwork Harbour at dusk stored at Drawer 3 mat 1")
    assert "moulding Linden, limewashed (LIN-20) Rack A glazing" in pull
    assert "(G-2) Glass crate" in pull
    assert "Attic" not in pull
    heads = [words(each) for each in page.tree.iter() if each.tag == "h2"]
    assert heads[:2] == ["Materials to pull", "Order of work"]
    assert page.one("pull").get("open") is not None


def test_what_was_fetched_is_folded_once_the_piece_is_cut(counter: Counter, order: str) -> None:
    do(counter, order, "pieces/1/stage", stage="cut")
    page = counter.get(f"{order}/pieces/1")
    assert page.one("pull").get("open") is None
    assert "moulding Linden, limewashed (LIN-20)" in page.words("facts-pull")


def test_the_head_tells_piece_customer_and_when_it_is_due(counter: Counter, order: str) -> None:
    head = counter.get(f"{order}/pieces/1").words("head-of-bench")
    assert "Amber Quill" in head
    assert "due Thu 10 Dec 2026" in head


def test_no_part_is_chosen_as_spoiled_until_somebody_chooses(counter: Counter, order: str) -> None:
    page = counter.get(f"{order}/pieces/1")
    assert page.fields["spoiled.part"] == ""
    answer = counter.post(
        f"{order}/pieces/1/spoiled", {"spoiled.part": "", "spoiled.note": "a slip"}
    )
    assert answer.status == 422
    assert answer.error("spoiled.part") == "Error: Choose the part that is spoiled."
    assert answer.fields["spoiled.note"] == "a slip"


def test_no_price_stands_at_the_bench(counter: Counter, order: str) -> None:
    page = counter.get(f"{order}/pieces/1")
    for figure in ("103.51", "53.51", "23.00", "63.26"):
        assert figure not in page.text


def test_cautions_stand_at_the_step_where_the_work_can_hurt(counter: Counter, order: str) -> None:
    page = counter.get(f"{order}/pieces/1")
    assert "blade" in page.words(id="step-mats-size")
    assert "gloves" in page.words(id="step-glazing-cut")
    assert "local building rules decide" in page.words(id="step-hang")


@pytest.mark.parametrize("view", ["seen", "measured", "section"])
def test_each_view_has_its_address(counter: Counter, order: str, view: str) -> None:
    page = counter.get(f"{order}/pieces/1?view={view}")
    assert page.has(tag="svg")
    current = [link for link in page.one("views").iter("a") if link.get("aria-current")]
    assert [(link.get("href") or "").endswith(f"view={view}#drawing") for link in current] == [True]


def test_the_work_moves_on_from_the_bench_and_stays_there(counter: Counter, order: str) -> None:
    bench = f"{order}/pieces/1"
    page = counter.get(bench)
    answer = counter.post(f"{bench}/stage", page.form(f"{bench}/stage", stage="cut"))
    assert (answer.status, answer.location) == (303, bench)
    page = counter.get(bench)
    assert "Mark finished" in page.buttons(f"{bench}/stage")
    answer = counter.post(f"{bench}/take-back", page.form(f"{bench}/take-back"))
    assert answer.location == bench
    assert "Mark cut" in counter.get(bench).buttons(f"{bench}/stage")


def test_a_quote_offers_no_work_at_the_bench(counter: Counter, stocked: Store) -> None:
    address = (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Bo Reed'), TYPED, SHOP, ACT)}"
    )
    page = counter.get(f"{address}/pieces/1")
    assert page.buttons(f"{address}/pieces/1/stage") == []
    assert cut_list(page) == CUT


def test_a_later_setting_never_alters_what_is_cut(
    counter: Counter, order: str, stocked: Store
) -> None:
    """P7: overlap, allowance and step were frozen with the piece."""
    with stocked.writing() as work:
        kept = work.shop.kept()
        wider = replace(kept.value.allowances, allowance=mm(9), overlap=mm(1), under_trim=mm(20))
        work.shop.save(replace(kept.value, allowances=wider), kept.version, now=NOW)
    assert cut_list(counter.get(f"{order}/pieces/1")) == CUT
