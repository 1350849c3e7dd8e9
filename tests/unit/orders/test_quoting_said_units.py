"""Answers to what is asked about sizes as said, and what of old is answered already (L4).

The piece is that of tests/builders/worked. 41 × 31 as millimetres is no usual artwork, as centimetres it is one.
"""

from dataclasses import replace
from datetime import date

import pytest

from app.errors import Invalid
from app.lengths import Size, Unit, inches, mm
from app.orders.quoting.agreement import agree
from app.orders.quoting.reader import WHICH_UNIT
from app.orders.quoting.request import read_piece
from app.orders.quoting.said_units import as_agreed, as_likely, open_questions
from tests.builders.photograph import find
from tests.builders.worked import SHOP, TYPED

LONGEST = mm(1200)
SMALL = {**TYPED, "artwork.size": "41x31", "overlap": "2"}


def test_a_piece_as_said_is_read_with_a_fault_that_offers_the_answers() -> None:
    with pytest.raises(Invalid) as raised:
        read_piece(SMALL, SHOP, find, longest=LONGEST)
    (fault,) = raised.value.faults
    assert (fault.path, fault.code) == ("artwork.size", WHICH_UNIT)
    assert fault.offers == ("41x31 cm", "41x31 in", "41x31 mm")
    assert open_questions(raised.value.faults) == (fault,)


def test_until_it_is_answered_the_likeliest_is_taken() -> None:
    with pytest.raises(Invalid) as raised:
        read_piece(SMALL, SHOP, find, longest=LONGEST)
    likely = as_likely(SMALL, open_questions(raised.value.faults))
    asked = read_piece(likely, SHOP, find, longest=LONGEST)
    assert asked.spec.artwork == Size(mm(410), mm(310))
    assert likely == {**SMALL, "artwork.size": "41x31 cm"}


def test_an_answer_leaves_the_unit_that_the_piece_is_worked_in() -> None:
    asked = read_piece(SMALL | {"artwork.size": "16x20 in"}, SHOP, find, longest=LONGEST)
    assert asked.spec.unit is Unit.MM
    assert asked.spec.artwork == Size(inches(16), inches(20))


def test_without_a_longest_sheet_nothing_is_asked() -> None:
    assert read_piece(SMALL, SHOP, find).spec.artwork == Size(mm(41), mm(31))


def test_what_was_agreed_without_being_asked_is_answered_by_its_unit() -> None:
    _, agreed = agree(SMALL, SHOP, find, today=date(2026, 11, 25))
    answered = as_agreed(agreed, SHOP, find, LONGEST)
    assert answered == replace(agreed, typed={**SMALL, "artwork.size": "41x31 mm"})
    assert as_agreed(answered, SHOP, find, LONGEST) is answered


def test_what_is_no_longer_to_be_read_is_answered_all_the_same() -> None:
    _, agreed = agree(SMALL, SHOP, find, today=date(2026, 11, 25))
    answered = as_agreed(agreed, SHOP, lambda text, kind: None, LONGEST)
    assert answered.typed["artwork.size"] == "41x31 mm"
    assert answered.typed["frames.0.material"] == TYPED["frames.0.material"]


def test_a_usual_piece_stays_as_it_was_typed() -> None:
    _, agreed = agree(TYPED, SHOP, find, today=date(2026, 11, 25))
    assert as_agreed(agreed, SHOP, find, LONGEST) is agreed
