"""What a quote says of the windows of a mat, in words of the trade."""

import pytest

from app.documents.quote.details import details_of
from app.orders.piece_report import findings
from tests.builders.printed import EIGHT, OVAL, SKETCH, a_shop, an_order

MIXED = {
    **EIGHT,
    "windows.count": "3",
    "arrangement.rows": "3",
    "windows.1.shape": "oval",
}


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (SKETCH, {}),
        (OVAL, {"Window": "oval"}),
        (EIGHT, {"Windows": "8, each for 110 × 160 mm"}),
        (MIXED, {"Windows": "A, C for 110 × 160 mm; B oval, for 110 × 160 mm"}),
    ],
)
def test_windows_of_a_size_are_named_together_with_their_shape(
    typed: dict[str, str], said: dict[str, str]
) -> None:
    shop = a_shop()
    piece = an_order(typed, shop=shop).pieces[0]
    found = findings(piece.artwork, piece.agreed, shop)
    details = {each.name: each.text for each in details_of(piece, found, "mat")}
    assert {name: text for name, text in details.items() if name.startswith("Window")} == said
