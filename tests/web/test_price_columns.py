"""The words of the price book's columns: none means two things."""

from itertools import combinations

import pytest

from app.web.materials.choices import TRAIT_CHOICES, Choice
from app.web.materials.fields import FIELDS
from app.web.materials.price_columns import COLUMNS, column_named, words_of

SELECTS = {each.path: each.choices for each in FIELDS if each.choices} | {
    "sheet.traits": TRAIT_CHOICES
}


@pytest.mark.parametrize("path", SELECTS)
def test_no_word_means_two_choices_of_a_column(path: str) -> None:
    def shared(one: Choice, other: Choice) -> set[str]:
        return words_of(one) & words_of(other)

    assert not [shared(*pair) for pair in combinations(SELECTS[path], 2) if shared(*pair)]


@pytest.mark.parametrize("column", COLUMNS, ids=lambda column: column.name)
def test_every_column_is_known_by_its_name_in_any_case(column: object) -> None:
    name = column.name  # type: ignore[attr-defined]
    assert column_named(name) is column
    assert column_named(f" {name.upper()} ") is column


def test_a_supplier_s_price_is_not_taken_for_ours() -> None:
    assert column_named("price") is None
    assert column_named("number") is None
