"""What the shop's own cutter cannot do is said while the piece is quoted, and on its order (B4)."""

from dataclasses import replace

import pytest

from app.bench import Cutter, usual_cutter
from app.lengths import Unit, mm
from app.services import quotes
from app.services.who_is_meant import CustomerRequest
from app.storage import Stamp, Store
from tests.builders.worked import SHOP, TYPED
from tests.web.conftest import NOW
from tests.web.shown import Counter, Shown, words
from tests.web.test_orders import do

ACT = Stamp(who="Ilse", now=NOW)

SHORT = replace(usual_cutter(Unit.MM, name="Bench cutter"), cut_length=mm(550))
"""Too short for the blank of 600 × 500 that `tests.builders.worked` works by hand, long enough for its window."""

LONG = usual_cutter(Unit.MM, name="Wall cutter")


def with_cutters(store: Store, *cutters: Cutter) -> None:
    with store.writing() as work:
        kept = work.shop.kept()
        work.shop.save(replace(kept.value, cutters=cutters), kept.version, now=NOW)


def notices(page: Shown) -> list[str]:
    return [words(notice) for notice in page.each("notice-risk")]


def test_a_piece_that_the_usual_cutter_can_cut_says_nothing(counter: Counter) -> None:
    assert notices(counter.post("/quotes?live=1", TYPED)) == []


def test_a_blank_longer_than_the_cutter_is_said_while_one_types(
    counter: Counter, stocked: Store
) -> None:
    with_cutters(stocked, SHORT)
    said = notices(counter.post("/quotes?live=1", TYPED))
    assert len(said) == 2  # one a mat
    assert "Mat 1 on “Bench cutter”: the blank of 600 × 500 mm is longer" in said[0]
    assert "the cut length, 550 mm" in said[0]
    assert "straight-edge" in said[0]


def test_another_cutter_of_the_shop_that_can_is_named(counter: Counter, stocked: Store) -> None:
    with_cutters(stocked, SHORT, LONG)
    said = notices(counter.post("/quotes?live=1", TYPED))
    assert "It can be cut on “Wall cutter”." in said[0]


OVAL = {**TYPED, "windows.0.shape": "oval"}


@pytest.mark.parametrize(("ovals", "said"), [(False, 1), (True, 0)])
def test_an_oval_is_said_once_and_only_where_the_cutter_cannot(
    counter: Counter, stocked: Store, ovals: bool, said: int
) -> None:
    """Of the two mats each has its oval; what a piece says of cutters at large is not repeated."""
    with_cutters(stocked, replace(LONG, cuts_ovals=ovals))
    page = counter.post("/quotes?live=1", OVAL)
    assert sum("straight-line cutter" in each for each in notices(page)) == said * 2
    assert not any("a cutter for ovals is needed" in each for each in notices(page))


def test_an_order_says_it_until_the_piece_is_cut(counter: Counter, stocked: Store) -> None:
    order = (
        f"/orders/{quotes.save_new(stocked, CustomerRequest(name='Amber Quill'), TYPED, SHOP, ACT)}"
    )
    with_cutters(stocked, SHORT)
    assert len(notices(counter.get(order))) == 2
    do(counter, order, "take", deposit="50")
    assert len(notices(counter.get(order))) == 2
    page = counter.get(order)
    counter.go(f"{order}/pieces/1/stage", page.form(f"{order}/pieces/1/stage", stage="cut"))
    assert notices(counter.get(order)) == []
