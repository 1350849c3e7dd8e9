"""What artworks weigh by what they are made of (D8), worked by hand."""

from fractions import Fraction

import pytest

from app.errors import Invalid
from app.framing.notices.artwork_weight import (
    HEAVIEST,
    PANELS,
    WHOLE_FIGURES,
    ArtworkFigures,
    Support,
    bars_of,
    estimated_kg,
)
from app.lengths import ZERO, Length, Size, mm

USUAL = ArtworkFigures()


def kg_of(support: Support, size: Size, thickness: Length = ZERO) -> Fraction | None:
    return estimated_kg(support, (size,), thickness, USUAL)


@pytest.mark.parametrize(
    ("support", "kg"),
    [
        # 0.9 m x 0.9 m x 0.018 m = 0.01458 m³
        (Support.WOOD, "8.748"),  # x 600
        (Support.MDF, "10.935"),  # x 750
        (Support.HARDBOARD, "13.122"),  # x 900
        (Support.ACRYLIC, "17.3502"),  # x 1190
        (Support.ALUMINIUM, "21.87"),  # x 1500
        (Support.GLASS, "36.45"),  # x 2500
    ],
)
def test_a_panel_weighs_by_its_thickness(support: Support, kg: str) -> None:
    """Source: D8; glass 2500 kg/m³ as quoted from EN 572-1, acrylic 1190 from data on cast PMMA."""
    assert kg_of(support, Size(mm(900), mm(900)), mm(18)) == Fraction(kg)
    assert kg_of(support, Size(mm(900), mm(900))) is None


@pytest.mark.parametrize(
    ("support", "kg"),
    [(Support.PAPER, "0.0249480"), (Support.BOARD, "0.0997920"), (Support.TEXTILE, "0.0498960")],
)
def test_a_sheet_weighs_by_its_area_alone(support: Support, kg: str) -> None:
    """A3 without a margin: 0.420 x 0.297 = 0.12474 m², x 0.2, 0.8, 0.4 kg/m² (D8)."""
    for thickness in (ZERO, mm("0.3")):
        assert kg_of(support, Size(mm(420), mm(297)), thickness) == Fraction(kg)


@pytest.mark.parametrize(
    ("width", "height", "bars", "kg"),
    [
        ("900", "900", "3600", "2.124"),  # 0.81 x 0.4 = 0.324; 3.6 m x 0.5 = 1.8
        ("1000", "800", "3600", "2.12"),  # 0.8 x 0.4 = 0.32; a side of 1 m has no cross bar yet
        ("1200", "800", "4800", "2.784"),  # 0.96 x 0.4 = 0.384; 4 m + a cross bar of 0.8 m: 2.4
        ("800", "1200", "4800", "2.784"),
        ("1500", "1200", "8100", "4.77"),  # 1.8 x 0.4 = 0.72; 5.4 m + bars of 1.2 and 1.5 m: 4.05
    ],
)
def test_a_stretched_canvas_weighs_with_its_bars(
    width: str, height: str, bars: str, kg: str
) -> None:
    """Source: D8. A cross bar joins the middles of two long sides: it runs along the short way."""
    size = Size(mm(width), mm(height))
    assert bars_of(size, USUAL) == mm(bars)
    assert kg_of(Support.CANVAS, size, mm(38)) == Fraction(kg)


def test_several_artworks_weigh_together() -> None:
    sizes = (Size(mm(500), mm(400)), Size(mm(1000), mm(500)))
    assert estimated_kg(Support.PAPER, sizes, ZERO, USUAL) == Fraction("0.14")


def test_every_figure_is_the_shops() -> None:
    doubled = ArtworkFigures(**{name: getattr(USUAL, name) * 2 for name in WHOLE_FIGURES})
    size = Size(mm(1200), mm(800))
    for support in Support:
        usual, twice = (estimated_kg(support, (size,), mm(5), f) for f in (USUAL, doubled))
        assert usual is not None
        assert twice == usual * 2
    assert bars_of(size, ArtworkFigures(cross_bar_over=mm(1200))) == mm(4000)


@pytest.mark.parametrize("name", WHOLE_FIGURES)
@pytest.mark.parametrize("figure", [1, 20_000])
def test_the_least_and_the_greatest_figure_are_allowed(name: str, figure: int) -> None:
    assert getattr(ArtworkFigures(**{name: figure}), name) == figure


@pytest.mark.parametrize("name", WHOLE_FIGURES)
@pytest.mark.parametrize("figure", [0, HEAVIEST + 1])
def test_figures_that_cannot_be_meant_are_refused(name: str, figure: int) -> None:
    with pytest.raises(Invalid) as raised:
        ArtworkFigures(**{name: figure})
    assert [fault.path for fault in raised.value.faults] == [name]


def test_a_cross_bar_over_nothing_is_refused() -> None:
    with pytest.raises(Invalid, match="above zero"):
        ArtworkFigures(cross_bar_over=ZERO)


def test_what_is_no_panel_is_a_sheet_or_a_canvas() -> None:
    assert set(Support) - PANELS == {
        Support.PAPER,
        Support.BOARD,
        Support.TEXTILE,
        Support.CANVAS,
    }
