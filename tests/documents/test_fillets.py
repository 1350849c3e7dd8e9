"""Fillets on ticket and quote, read back from their PDFs and compared with figures worked by hand.

The sketch's inner window is 410 × 287. A fillet of face 10 tucked by its lip of 4: 410 + 8 × 287 + 8 =
418 × 295 outside; 418 − 20 × 295 − 20 = 398 × 275 inside (G19, G12).
"""

import pytest

from app.documents.quote.quote import quote_pdf
from app.documents.ticket.ticket import ticket_pdf
from app.orders import Order, Paper
from tests.builders.printed import FILLET, FILLETS, SKETCH, a_shop, an_order
from tests.builders.values import TODAY
from tests.documents.reading import text_of
from tests.documents.test_quote import MAIRI

pytestmark = [pytest.mark.documents, pytest.mark.poppler]


def ticket(order: Order, paper: Paper = Paper.A4) -> str:
    return text_of(
        ticket_pdf(
            order, a_shop(), None, paper=paper, phone_url="http://shop.example:8377", today=TODAY
        )
    )


@pytest.fixture(scope="module")
def one() -> str:
    return ticket(an_order(FILLET))


@pytest.fixture(scope="module")
def eight() -> str:
    return ticket(an_order(FILLETS))


# 418 / 25.4 = 16.457, 398 / 25.4 = 15.669, 295 / 25.4 = 11.614, 275 / 25.4 = 10.827; to 1/32.
def test_its_rails_stand_in_the_cut_list_longest_first(one: str) -> None:
    assert "2 rails top, bottom 16 15/32 418 15 21/32 398" in one
    assert "2 rails left, right 11 5/8 295 10 13/16 275" in one
    assert one.index("16 15/32") < one.index("11 5/8")


# 2 × (418 + 295) = 1426 and 4 × 8.5 at the saw: 1460.
def test_what_to_take_is_all_long_points_and_the_loss_at_the_saw(one: str) -> None:
    assert "Fillet F10 Gilt bead fillet: uses 1460 of one 3000 stick" in one


# Outsides 100 + 8 × 150 + 8 = 108 × 158, inside 88 × 138; 16 × (158 + 108) + 32 × 8.5 = 4528.
def test_equal_rails_of_several_windows_are_one_row(eight: str) -> None:
    assert "16 rails A–H 6 7/32 158 5 7/16 138" in eight
    assert "16 rails A–H 4 1/4 108 3 15/32 88" in eight
    assert "Fillet F10 Gilt bead fillet: uses 4528, from 3000 sticks" in eight


# 2 + 2.8 + 3 + 0.3 + 1.4 + 3 = 12.5 of 14.
def test_it_counts_in_the_stack(one: str) -> None:
    assert "12.5 of 14 in the rebate, 1.5 left" in one
    assert "glazing 2 + mats 2.8 + fillet 3 + artwork 0.3 + mount board 1.4 + backing 3" in one


def test_how_it_lies_is_checked(one: str, eight: str) -> None:
    assert "4 of its face behind the window, 6 showing · 398 × 275 inside it" in one
    assert "4 of its face behind the window, 6 showing" in eight


def test_it_is_glued_in_before_the_frame_is_joined(one: str) -> None:
    glued = one.index("glue the fillet behind the window")
    assert glued < one.index("join the frame")


def test_what_it_covers_of_the_artwork_is_told(one: str) -> None:
    assert "covers, with the mat, 11 mm of the artwork at each edge" in " ".join(one.split())


def test_a_ticket_without_one_says_nothing_of_fillets() -> None:
    assert "illet" not in ticket(an_order(SKETCH))


def test_the_quote_tells_the_customer_of_it() -> None:
    """Rails 1.46 m at 14.20 = 20.73, beside a frame of 31.52: 52.25."""
    shop = a_shop()
    text = " ".join(
        text_of(quote_pdf(an_order(FILLET), MAIRI, shop, paper=Paper.A4, today=TODAY)).split()
    )
    assert "Gilt bead fillet, 6 mm showing inside the window" in text
    assert "Frame and fillet 52.25" in text
    assert "398 × 275 mm is seen inside it" in text
