"""A piece that was agreed is changed: was, is and difference are seen first, and what stays keeps its price.

The worked piece is 103.51: moulding 24.00, mats 10.00 and 10.00, glass 15.00, backing 6.00, rings 1.00, work
37.51 for 62.52 min at 36.00 an hour. Glass is 0.3 m² at 20.00 × 2.5; without it 6.4 min fall away.
"""

from dataclasses import replace

import pytest

from app.services import price_book, quotes
from app.services import shop as shops
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.values import euro
from tests.builders.worked import SHOP, TO_PAY, TYPED
from tests.web.conftest import NOW, Clock
from tests.web.shown import Counter, Shown, in_another_tab, words
from tests.web.test_orders import do

pytestmark = pytest.mark.slow

ACT = Stamp(who="Ilse", now=NOW)
PIECE = "/orders/1/pieces/1"


@pytest.fixture
def agreed(counter: Counter, stocked: Store, clock: Clock) -> Counter:
    """The worked piece, ordered; since then every material costs twice as much, and an hour too."""
    quotes.save_new(stocked, CustomerRequest(name="Amber Quill"), TYPED, SHOP, ACT)
    do(counter, "/orders/1", "take")
    for code in ("moulding", "mats.0", "glazing", "backing"):
        path = "frames.0.material" if code == "moulding" else f"{code}.material"
        kept = price_book.get(stocked, TYPED[path])
        dearer = replace(kept.value, cost=kept.value.cost * 2)
        price_book.save(stocked, dearer.code, dearer, kept.version, ACT)
    kept_shop = shops.get(stocked)
    labour = replace(SHOP.labour, hourly_rate=euro("72"))
    shops.save(stocked, replace(kept_shop.value, labour=labour), kept_shop.version, ACT)
    clock.time = NOW.replace(day=27)
    return counter


def asked(counter: Counter, **typed: str) -> Shown:
    """The page of the piece with some fields typed anew; a__b stands for a.b."""
    values = {name.replace("__", "."): value for name, value in typed.items()}
    form = counter.get(f"{PIECE}/change").form(PIECE)
    return counter.post(PIECE, {**form, **values, "action": "recalculate"})


def change(page: Shown) -> dict[str, tuple[str, ...]]:
    """Was, is and difference of each line that is shown, by what it is of."""
    rows = [row for table in page.each(id="price-change") for row in table.iter("tr")]
    cells = [[words(cell) for cell in row if cell.tag in ("td", "th")] for row in rows[1:]]
    return {first: tuple(rest) for first, *rest in cells}


def test_nothing_is_compared_while_nothing_is_changed(agreed: Counter) -> None:
    page = agreed.get(f"{PIECE}/change")
    assert page.words("price") == TO_PAY
    assert change(page) == {}


def test_only_what_changed_is_priced_and_the_difference_stands_by_line(agreed: Counter) -> None:
    """Work without glass: 62.52 − 6.4 = 56.12 min at 36.00 = 33.67. In all 103.51 − 15.00 − 3.84 = 84.67."""
    page = asked(agreed, glazing__material="")
    assert page.words("price") == "84.67"
    shown = change(page)
    assert shown["Work"] == ("37.51", "33.67", "−3.84")
    assert shown["To pay"] == ("103.51", "84.67", "−18.84")
    assert [row[1:] for row in shown.values() if row[1] == "–"] == [("–", "−15.00")]
    assert len(shown) == 3


def test_with_todays_prices_all_of_it_is_priced_anew(agreed: Counter) -> None:
    """Moulding 48.00, backing by its own bands 6.00, work 56.12 min at 72.00 = 67.34."""
    page = asked(agreed, glazing__material="", todays_prices="1")
    shown = change(page)
    assert shown["Work"] == ("37.51", "67.34", "29.83")
    assert ("24.00", "48.00", "24.00") in shown.values()
    assert page.fields["todays_prices"] == "1"


def test_more_of_what_was_agreed_is_at_its_agreed_unit_price(agreed: Counter) -> None:
    """Borders of 100 instead of 90 at each side: package 620 × 500, rails 2 × 650 + 2 × 530 = 2360,
    with 34 at the saw 2394, up to 2400: the moulding stays 24.00. Glass 0.62 × 0.5 = 0.31 m² at 50.00 = 15.50.
    """
    shown = change(asked(agreed, borders__left="100", borders__right="100"))
    assert ("15.00", "15.50", "0.50") in shown.values()
    assert not [row for row in shown.values() if row[0] == "24.00"]


def test_of_ten_alike_each_is_at_the_prices_that_were_agreed(agreed: Counter) -> None:
    """Materials 24.00 + 10.00 + 10.00 + 15.00 + 6.00 + 1.00 = 66.00, ten times 660.00. Of the work 6 min are done once,
    2 to set the guide and 4 the saw: 3.60; 56.52 min for each at 36.00 an hour = 33.91, ten times 339.10.
    """
    page = asked(agreed, copies="10")
    assert page.words("price") == "1,002.70"
    shown = change(page)
    assert shown["To pay"] == ("103.51", "1,002.70", "899.19")
    assert ("24.00", "240.00", "216.00") in shown.values()
    assert shown["Work"] == ("37.51", "339.10", "301.59")
    agreed.go(PIECE, {**page.form(PIECE), "action": "save"})
    page = asked(agreed, copies="1")
    assert page.words("price") == "103.51"


def test_what_covers_another_size_too_says_the_size_of_now(agreed: Counter) -> None:
    """Borders of 80 instead of 90: package 580 × 500, which a quarter of 1200 × 1000 covers as well."""
    page = asked(agreed, borders__left="80", borders__right="80")
    assert "580 × 500 mm is covered by" in page.main
    assert "600 × 500 mm is covered by" not in page.main


def test_a_change_is_saved_only_after_its_price_was_seen(agreed: Counter) -> None:
    form = agreed.get(f"{PIECE}/change").form(PIECE)
    changed = {**form, "glazing.material": "", "action": "save"}
    page = agreed.post(PIECE, changed)
    assert page.status == 200
    assert change(page)["To pay"] == ("103.51", "84.67", "−18.84")
    assert agreed.get("/orders/1").words("price") == TO_PAY
    order = agreed.go(PIECE, {**page.form(PIECE), "action": "save"})
    assert "at today's prices for what is new in it" in order.main
    assert order.words("price") == "84.67"


def test_a_change_keeps_to_the_agreed_prices_again_and_again(agreed: Counter) -> None:
    """Without glass and with it again: the glass is new then, 0.3 m² at today's 100.00 = 30.00."""
    page = asked(agreed, glazing__material="")
    agreed.go(PIECE, {**page.form(PIECE), "action": "save"})
    page = asked(agreed, glazing__material=TYPED["glazing.material"])
    shown = change(page)
    assert ("–", "30.00", "30.00") in shown.values()
    assert shown["Work"] == ("33.67", "37.51", "3.84")
    assert page.words("price") == "118.51"  # 84.67 + 30.00 + 3.84


def test_a_material_that_is_off_offer_stays_as_agreed(agreed: Counter, stocked: Store) -> None:
    kept = price_book.get(stocked, TYPED["frames.0.material"])
    price_book.retire(stocked, kept.value.code, kept.version, ACT)
    page = asked(agreed, glazing__material="")
    assert page.words("price") == "84.67"


def test_two_tabs_are_still_shown_both(agreed: Counter) -> None:
    form = {**asked(agreed, glazing__material="").form(PIECE), "action": "save"}
    agreed.go(PIECE, form)
    assert agreed.post(PIECE, in_another_tab(form)).status == 409
