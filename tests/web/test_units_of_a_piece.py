"""The unit of a piece is changed while lengths are typed: what was typed keeps the length that it was read as.

1 in = 25.4 mm by the international yard and pound agreement of 1959; 76.2 mm are 3 in.
"""

import pytest

from tests.builders.worked import TO_PAY, TYPED
from tests.web.shown import Counter


def test_a_bare_border_keeps_its_length_when_the_unit_is_changed(shared_counter: Counter) -> None:
    page = shared_counter.post("/quotes?live=1", {**TYPED, "unit": "in", "unit.read": "mm"})
    assert page.fields["borders.left"] == "90 mm"
    assert page.fields["borders.bottom"] == "100 mm"
    assert page.fields["unit.read"] == "in"
    assert page.fields["mats.1.reveal"] == "10 mm"
    again = shared_counter.post("/quotes?live=1", {**page.fields, "unit": "in"})
    assert again.fields["borders.left"] == "90 mm", "it is marked once"


def test_what_is_marked_already_stays_as_it_was_typed(shared_counter: Counter) -> None:
    typed = {**TYPED, "artwork.size": '16x20"', "borders.left": "3 in", "borders.top": "abc"}
    page = shared_counter.post("/quotes?live=1", {**typed, "unit": "in", "unit.read": "mm"})
    assert page.fields["artwork.size"] == '16x20"'
    assert page.fields["borders.left"] == "3 in"
    assert page.fields["borders.top"] == "abc"


def test_inches_stay_inches_in_a_piece_of_millimetres(shared_counter: Counter) -> None:
    typed = {**TYPED, "borders.left": "3", "unit": "mm", "unit.read": "in"}
    page = shared_counter.post("/quotes?live=1", typed)
    assert page.fields["borders.left"] == "3 in"
    assert "76.2" in page.words(id="borders-left-said")


def test_a_doubtful_size_stays_what_it_was_taken_for(shared_counter: Counter) -> None:
    """L4: 16x20 in a shop of millimetres is taken for inches, and so is a border of 3 beside inches."""
    typed = {**TYPED, "artwork.size": "16x20", "unit": "in", "unit.read": "mm"}
    page = shared_counter.post("/quotes?live=1", typed)
    assert page.fields["artwork.size"] == "16x20 in"
    beside = {**typed, "artwork.size": '16x20"', "borders.left": "3"}
    assert shared_counter.post("/quotes?live=1", beside).fields["borders.left"] == "3 in"


@pytest.mark.parametrize("before", ["mm", "", "cubits"])
def test_where_the_unit_stays_or_is_not_told_nothing_is_marked(
    shared_counter: Counter, before: str
) -> None:
    page = shared_counter.post("/quotes?live=1", {**TYPED, "unit": "mm", "unit.read": before})
    assert page.fields["borders.left"] == "90"
    assert page.words("price") == TO_PAY


def test_it_is_saved_as_it_was_read(counter: Counter) -> None:
    typed = {**TYPED, "customer": "Somebody new", "unit": "in", "unit.read": "mm"}
    saved = counter.post("/quotes", {**typed, "action": "save"})
    assert saved.status == 303
    page = counter.get("/orders/1/pieces/1/change")
    assert page.fields["borders.left"] == "90 mm"
