"""What a piece really uses up and what the rack has for it: on the shop's pages, and nowhere else.

The piece is that of `tests.builders.worked`: rails 2 × 630 and 2 × 530, mats 600 × 500 and 594 × 494, package
600 × 500; its frame takes 2320 and 34 at the saw of a stick of 3000, so 646 is left.
"""

from dataclasses import replace

import pytest

from app.documents.quote.quote import quote_page
from app.lengths import Size, mm
from app.orders import CuttingHabits
from app.pricing import Charge, ChargeBy
from app.services import customers, orders, price_book, quotes, stock
from app.services import shop as shops
from app.services.stock import Received
from app.services.who_is_meant import CustomerRequest
from app.stock.items import Item, StockForm
from app.stock.offcuts import Offcut
from app.storage import Stamp, Store
from tests.builders.values import euro
from tests.builders.worked import MOULDING, SHOP, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown, words
from tests.web.test_orders import do

ACT = Stamp(who="Ilse", now=NOW)
TODAY = NOW.date()


def offcut(store: Store, *, of: str = "LIN-20", length: int = 0, size: Size | None = None) -> str:
    """An offcut put on the rack; its label."""
    kept = Offcut(
        material=of,
        unit_cost=euro("1.00"),
        length=mm(length) if length else None,
        size=size,
        place="Bay 3",
    )
    item_id = stock.keep_offcut(store, kept, ACT)
    return stock.look(store, item_id).kept.item.label


def keeps_from(store: Store, length: int) -> None:
    """The shop keeps no stick shorter than that."""
    kept = shops.get(store)
    habits = CuttingHabits(keep_length=mm(length))
    shops.save(store, replace(kept.value, cutting_habits=habits), kept.version, ACT)


def asked(counter: Counter, **live: str) -> Shown:
    """The quote page with the piece worked out and not kept."""
    return counter.post("/quotes?live=1" if live else "/quotes", TYPED, **live)


def uses(shown: Shown) -> list[str]:
    return [words(line) for each in shown.each("uses") for line in each if line.tag == "li"]


def saved(store: Store) -> str:
    return (
        f"/orders/{quotes.save_new(store, CustomerRequest(name='Amber Quill'), TYPED, SHOP, ACT)}"
    )


@pytest.mark.parametrize("live", [{}, {"x_partial": "1"}])
def test_the_quote_page_says_for_the_shop_what_is_really_used(
    counter: Counter, live: dict[str, str]
) -> None:
    shown = asked(counter, **live)
    assert uses(shown) == [
        "Linden, limewashed starts 1 new stick of 3000 mm: 2320 mm in the piece, 34 mm lost to cuts and "
        "small rests, 646 mm left to keep; charged 2.4 m.",
        "Chalk white starts 1 new sheet of 1200 × 1000 mm: 0.3 m² in the piece, 0.9 m² left to keep; "
        "charged 1/4 sheet.",
        # 594 × 494 = 0.293436 of 1.2; the rest, 0.906564, is kept
        "Slate blue starts 1 new sheet of 1200 × 1000 mm: 0.29 m² in the piece, 0.91 m² left to keep; "
        "charged 1/4 sheet.",
        "Float glass 2 mm starts 1 new sheet of 1600 × 1200 mm: 0.3 m² in the piece, 1.62 m² left to "
        "keep; charged 0.3 m².",
        "Backing board starts 1 new sheet of 1200 × 1000 mm: 0.3 m² in the piece, 0.9 m² left to keep; "
        "charged by its size.",
    ]
    fold = next(
        each for each in shown.each("shop-only", tag="details") if "Stock this uses" in words(each)
    )
    assert "open" not in fold.attrib
    assert "than the price counts" not in shown.text


def test_what_the_price_does_not_count_on_is_said_outside_the_fold(
    stocked: Store, counter: Counter
) -> None:
    keeps_from(stocked, 700)
    shown = asked(counter)
    # 646 is no longer kept: 3.0 × 4.00 = 12.00 is used up, 2.4 × 4.00 = 9.60 counted on
    fold = next(
        each for each in shown.each("shop-only", tag="details") if "Stock this uses" in words(each)
    )
    summary = next(each for each in fold if each.tag == "summary")
    assert words(summary) == "Stock this uses costs 2.40 more than the price counts"
    assert uses(shown)[0].endswith("charged 2.4 m. It costs 2.40 more than the price counts.")


def test_the_offcuts_that_fit_are_named_where_they_lie(stocked: Store, counter: Counter) -> None:
    rails = offcut(stocked, length=2400)
    board = offcut(stocked, of="M-101", size=Size(mm(700), mm(550)))
    offcut(stocked, of="M-140", size=Size(mm(500), mm(400)))  # too small
    said = [
        f"mat 1 : {board} , 700 × 550 mm , Bay 3 Chalk white",
        f"frame, all 4 rails : {rails} , 2400 mm , Bay 3 Linden, limewashed",
    ]
    assert uses(asked(counter))[-2:] == said
    assert uses(asked(counter, x_partial="1"))[-2:] == said
    address = saved(stocked)
    assert uses(counter.get(address)) == said
    bench = counter.get(f"{address}/pieces/1")
    assert uses(bench) == said
    assert counter.get(bench.links("uses")[board]).heading


def test_a_piece_that_is_cut_needs_no_offcut(stocked: Store, counter: Counter) -> None:
    offcut(stocked, length=2400)
    address = saved(stocked)
    do(counter, address, "take")
    assert len(uses(counter.get(address))) == 1
    do(counter, address, "pieces/1/stage", stage="cut")
    assert uses(counter.get(address)) == []
    assert uses(counter.get(f"{address}/pieces/1")) == []


LONG = TYPED | {
    "artwork.size": "3100 x 300",
    "presentation": "close",
    "mats.0.material": "",
    "mats.1.material": "",
    "glazing.material": "",
    "backing.material": "",
}
"""Package 3100 × 300, so rails of 3100 + 3 + 2 × 13.5 = 3130."""


def test_a_rail_that_neither_new_stick_nor_rack_holds_is_a_risk_at_the_counter(
    stocked: Store, counter: Counter
) -> None:
    shown = counter.post("/quotes", LONG)
    (risk,) = (words(each) for each in shown.each("notice-risk") if "no new stick" in words(each))
    assert risk == (
        "Risk A rail of the frame is 3130 mm long, and no new stick of LIN-20, 3000 mm, holds it; "
        "nothing on the rack holds it either."
    )
    item = Item(
        material="LIN-20",
        form=StockForm.STICK,
        unit_cost=euro("9.00"),
        length=mm(3600),
        place="Bay 9",
    )
    stock.receive(stocked, Received(item=item, count=2), ACT)
    shown = counter.post("/quotes", LONG)
    assert not any("no new stick" in words(each) for each in shown.each("notice-risk"))
    (look,) = (words(each) for each in shown.each("notice-look") if "no new stick" in words(each))
    assert look.endswith("holds it; on the rack a whole one (3600 mm, Bay 9) holds it.")


def test_what_no_new_stick_holds_opens_none(counter: Counter) -> None:
    """Two rails of 3130, and two of 300 + 3 + 27 = 330 from one stick: 3000 − 660 − 2 × 8.5 is kept."""
    assert uses(counter.post("/quotes", LONG))[0].startswith(
        "Linden, limewashed starts 1 new stick of 3000 mm, and 2 parts are longer: 6920 mm in the piece, "
        "17 mm lost to cuts and small rests, 2323 mm left to keep; charged"
    )
    square = LONG | {"artwork.size": "3100 x 3100"}
    assert uses(counter.post("/quotes", square))[0].startswith(
        "Linden, limewashed starts no new stick of 3000 mm, since 4 parts are longer: 12520 mm in the "
        "piece; charged"
    )
    board = square | {"backing.material": "B-3"}
    assert uses(counter.post("/quotes", board))[1].startswith(
        "Backing board starts no new sheet of 1200 × 1000 mm, since 1 part is larger: 9.61 m² in the "
        "piece; charged"
    )


def test_nothing_of_it_is_on_what_the_customer_gets(stocked: Store, counter: Counter) -> None:
    keeps_from(stocked, 700)
    label = offcut(stocked, of="M-101", size=Size(mm(700), mm(550)))
    order = orders.get(stocked, int(saved(stocked).rpartition("/")[2]))
    customer = customers.get(stocked, order.customer_id).value
    # all that the document prints
    printed = repr(quote_page(order, customer, shops.get(stocked).value, today=TODAY))
    assert "Chalk white" in printed
    for said in (label, "Stock this uses", "than the price counts", "left to keep", "Offcut"):
        assert said not in printed
    answer = counter.client.post(
        "/api/price", json={"artwork": {"size": "410 x 310"}, "mats": [{"material": "M-101"}]}
    )
    assert answer.status_code == 200
    for said in (label, "Stock this uses", "than the price counts", "left to keep", "offcut"):
        assert said not in answer.text


def test_a_price_by_what_is_opened_is_kept_with_its_reason_and_stays(
    stocked: Store, counter: Counter
) -> None:
    opened = replace(MOULDING, charge=Charge(by=ChargeBy.OPENED))
    price_book.save(stocked, MOULDING.code, opened, 1, ACT)
    address = saved(stocked)
    reason = "Cut by itself the piece opens 1 stick of 3000 mm; 646 mm is kept: 2354 mm used up."
    page = counter.get(address)
    assert reason in page.main
    assert "23.54" in page.main  # 2.354 × 10.00
    # stock on the rack changes nothing, nor does what is kept from now on
    offcut(stocked, length=2400)
    keeps_from(stocked, 700)
    assert reason in counter.get(address).main
    again = counter.get(f"{address}/pieces/1/price-again")
    assert "23.54" in again.main
    assert "30.00" in again.main  # priced again the whole stick is used up: 3.0 × 10.00
    body = {
        "artwork": {"size": "410 x 310"},
        "mats": [{"material": "M-101"}, {"material": "M-140", "reveal": "10"}],
        "borders": {"left": "90", "top": "80", "bottom": "100"},
        "frames": [{"material": "LIN-20"}],
    }
    line = counter.client.post("/api/price", json=body).json()["price"]["lines"][0]
    assert (line["quantity"], line["amount"]) == ("3", "30.00")
    assert line["why"][0].startswith("Cut by itself the piece opens 1 stick of 3000 mm; nothing")
