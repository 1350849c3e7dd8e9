"""Clips of a canvas against the depths worked by hand (G16: canvas + backing - rebate depth)."""

import pytest

from app.documents.kit.printing import Figures
from app.documents.ticket.checks import checks_of
from app.lengths import Length, Unit, inches, mm
from app.orders.canvas_clips import clip_notices, offset_of
from app.orders.piece_report import findings
from app.pricing import ChosenCount, Kind
from tests.builders.materials import counted, sold_at
from tests.builders.printed import CANVAS, a_shop, an_order


@pytest.mark.parametrize(
    ("name", "offset"),
    [
        ("Offset clip, 12 mm", mm(12)),
        ("Canvas clips 1/2 in", inches("1/2")),
        ('Clip 3/4"', inches("3/4")),
        ("Offset clip", None),
        ("Hanging wire, 15 mm", None),
    ],
)
def test_a_clip_says_its_offset_by_its_name(name: str, offset: Length | None) -> None:
    assert offset_of(name) == offset


def clips(size: str) -> ChosenCount:
    name = f"Offset clip, {size}"
    return ChosenCount(
        material=counted("CLIP", name, Kind.HARDWARE, "20.00", sold_at("1.00")), count=4
    )


def test_the_offset_needed_is_checked_and_a_clip_far_from_it_is_named() -> None:
    """By hand: a canvas of 20 in a rebate of 16 stands 4 past it: 6 is near enough, 12 and 20 are not."""
    shop = a_shop()
    piece = an_order(CANVAS, shop=shop).pieces[0]
    found = findings(piece.artwork, piece.agreed, shop)
    checks = {c.name: c.text for c in checks_of(piece.agreed, found, Figures(piece.agreed.steps))}
    assert checks["Clips"] == "offset needed 4"
    assert clip_notices([clips("6 mm")], found.exact, Unit.MM) == ()
    (said,) = clip_notices([clips("6 mm"), clips("12 mm")], found.exact, Unit.MM)
    assert said.message == (
        "“Offset clip, 12 mm” is offset by 12 mm and the offset needed is 4 mm: choose clips that are nearer to it."
    )


def test_a_canvas_within_its_rebate_needs_no_offset() -> None:
    """By hand: 16 in 16, and 13 in 16 with 3 left: nothing to bridge either way."""
    shop = a_shop()
    for thickness in ("16", "13"):
        piece = an_order({**CANVAS, "artwork.thickness": thickness}, shop=shop).pieces[0]
        found = findings(piece.artwork, piece.agreed, shop)
        checks = {
            c.name: c.text for c in checks_of(piece.agreed, found, Figures(piece.agreed.steps))
        }
        assert checks["Clips"] == "offset needed 0"
        (said,) = clip_notices([clips("20 mm")], found.exact, Unit.MM)
        assert said.message.endswith(
            "the offset needed is 0 mm: choose clips that are nearer to it, or flat ones."
        )
