"""The size of an artwork in words, with what was said beside it where that was in the other unit.

1 in = 25.4 mm by the international yard and pound agreement of 1959: 16 x 25.4 = 406.4, 20 x 25.4 = 508.
"""

from datetime import date

import pytest

from app.orders.artwork_size import artwork_as_said
from app.orders.quoting.agreement import agree
from tests.builders.values import finder
from tests.builders.worked import BOOK, SHOP, TYPED


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ('16x20"', '406.4 × 508 mm (16 × 20")'),
        ("16 x 20 in", '406.4 × 508 mm (16 × 20")'),
        ("410 x 310", "410 × 310 mm"),
        ("41 x 31 cm", "410 × 310 mm"),
        ("A3", "297 × 420 mm"),
    ],
)
def test_a_size_said_in_inches_stands_beside_that_in_millimetres(typed: str, said: str) -> None:
    _, agreed = agree(
        {**TYPED, "artwork.size": typed}, SHOP, finder(BOOK), today=date(2026, 11, 25)
    )
    assert artwork_as_said(agreed.spec, agreed.typed) == said
