"""What a ticket asks to check, by its words and figures alone, worked by hand."""

from app.documents.kit.printing import Figures
from app.documents.ticket.checks import checks_of
from app.orders.piece_report import findings
from tests.builders.printed import CANVAS, TWO_FRAMES, a_shop, an_order


def said(typed: dict[str, str]) -> dict[str, str]:
    shop = a_shop()
    piece = an_order(typed, shop=shop).pieces[0]
    found = findings(piece.artwork, piece.agreed, shop)
    return {
        check.name: check.said
        for check in checks_of(piece.agreed, found, Figures(piece.agreed.steps))
    }


def test_a_frame_in_a_frame_is_checked_against_its_rebate() -> None:
    """By hand: rebates of 8 and 22 (G18, D1); of a moulding only the rebate is measured, so the inner frame is at least as deep as that."""
    assert said(TWO_FRAMES)["Frame 1 in frame 2"] == (
        "at least 8 of 22 in the rebate, at most 14 left"
    )


def test_what_is_on_a_panel_is_not_called_a_canvas() -> None:
    assert "Canvas size" in said(CANVAS)
    panel = said({**CANVAS, "artwork.support": "hardboard"})
    assert "Panel size" in panel
    assert "Canvas size" not in panel
