"""A count before its word. The plurals are plain English."""

import pytest

from app.counting import count_text, counted, plural


@pytest.mark.parametrize(
    ("count", "one", "said"),
    [
        (0, "piece", "0 pieces"),
        (1, "piece", "1 piece"),
        (2, "piece", "2 pieces"),
        (1, "quote", "1 quote"),
        (1200, "part", "1,200 parts"),
        (-1, "sheet", "−1 sheet"),
        (-3, "sheet", "−3 sheets"),
        (2, "delivery", "2 deliveries"),
        (2, "supplier order", "2 supplier orders"),
        (2, "further entry", "2 further entries"),
        (4, "glazing", "4 glazing"),
        (1, "foot", "1 foot"),
        (3, "foot", "3 feet"),
    ],
)
def test_a_count_stands_before_its_word(count: int, one: str, said: str) -> None:
    assert counted(count, one) == said


def test_words_that_are_no_plural_are_given() -> None:
    assert counted(1, "cost is", "costs are") == "1 cost is"
    assert counted(2, "cost is", "costs are") == "2 costs are"


def test_the_plural_is_that_of_the_last_word() -> None:
    assert plural("mitre box") == "mitre boxes"


def test_a_count_alone_sets_thousands_apart() -> None:
    assert [count_text(n) for n in (0, 12, 1200, -1200)] == ["0", "12", "1,200", "−1,200"]
