"""An object on ticket and quote, read back from their PDFs and compared with figures worked by hand (G22).

The box: mat 1.4 + spacers 20 = 21.4 from glass to mount board, 18 of them taken by the object.
"""

import pytest

from app.documents.quote.quote import quote_pdf
from app.documents.ticket.ticket import ticket_pdf
from app.orders import Paper
from tests.builders.printed import OBJECT, a_shop, an_order
from tests.builders.values import TODAY
from tests.documents.reading import text_of
from tests.documents.test_quote import MAIRI

pytestmark = [pytest.mark.documents, pytest.mark.poppler]


def ticket(**changes: str) -> str:
    typed = OBJECT | {name.replace("__", "."): text for name, text in changes.items()}
    order = an_order(typed)
    address = "http://shop.example:8377"
    pdf = ticket_pdf(order, a_shop(), None, paper=Paper.A4, phone_url=address, today=TODAY)
    return " ".join(text_of(pdf).split())


def test_the_stack_is_summed_without_the_object() -> None:
    """2 + 1.4 + 20 + 3 + 3 = 29.4 of 22; 29.4 + 2 is the rebate that holds it."""
    said = ticket()
    assert "29.4 of 22 in the rebate, 7.4 too deep" in said
    assert "glazing 2 + spacer 20 + mats 1.4 + mount board 3 + backing 3" in said
    assert "18 high · 21.4 from glass to mount board, 3.4 clear over it" in said
    assert "at least 31.4 mm" in said
    assert "From glass to mount board" not in said


def test_an_object_higher_than_an_open_box_is_summed_in_its_place() -> None:
    """40 + 3 + 3 = 46."""
    said = ticket(glazing__material="", artwork__thickness="40")
    assert "46 of 22 in the rebate" in said
    assert "object 40 + mount board 3 + backing 3" in said
    assert "40 high · 21.4 from front to mount board" in said
    assert "height not given" in ticket(artwork__thickness="")


def test_the_object_is_mounted_and_the_spacers_are_fixed() -> None:
    said = ticket()
    mounted = said.index("mount the object on the mount board")
    fixed = said.index("lay the glazing and the mat in, then fix the spacers along the walls")
    assert mounted < fixed < said.index("lay the board with the object in behind the spacers")
    assert "Needles, pins and wire ends" in said
    assert "artwork: condition" not in said


def test_the_quote_tells_the_customer_of_a_box() -> None:
    order = an_order(OBJECT)
    said = " ".join(text_of(quote_pdf(order, MAIRI, a_shop(), paper=Paper.A4, today=TODAY)).split())
    assert "in a box, with all of its edges seen" in said
    assert "needle" not in said.lower()
