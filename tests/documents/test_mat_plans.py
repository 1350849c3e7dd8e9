"""Mats from the back: which figure stands at which side, worked by hand (G7, G9, G10, G20)."""

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from app.documents.backplan import FIGURE, back_plan
from app.documents.cutlist import window_label
from app.documents.matplans import settings_of
from app.documents.printing import Figures
from app.documents.ticket import ticket_pdf
from app.framing import Dimensions, Edges, Opening, Point, Shape, in_steps, work_out
from app.lengths import DEFAULT_STEP, Size, Steps, Unit, mm
from app.orders import Order, Paper
from tests.documents.reading import text_of
from tests.documents.samples import SKETCH, TODAY, a_shop, an_order

FIGURES = Figures(Steps(unit=Unit.MM, step=DEFAULT_STEP[Unit.MM]))


def cut_of(order: Order) -> Dimensions:
    agreed = order.pieces[0].agreed
    return in_steps(work_out(agreed.spec), agreed.steps)


def two_windows() -> Order:
    """330 × 260 with A, 90 × 140, at 60, 60 and B, an oval of the same axes, at 180, 60."""
    order = an_order({**SKETCH, "mats.1.material": ""})
    piece = order.pieces[0]
    size = Size(mm(90), mm(140))
    spec = replace(
        piece.agreed.spec,
        borders=None,
        package=Size(mm(330), mm(260)),
        openings=(
            Opening(name="A", window=size, at=Point(x=mm(60), y=mm(60))),
            Opening(name="B", window=size, at=Point(x=mm(180), y=mm(60)), shape=Shape.OVAL),
        ),
    )
    return replace(order, pieces=(replace(piece, agreed=replace(piece.agreed, spec=spec)),))


def test_settings_join_equal_sides_and_leave_the_odd_one_last() -> None:
    cut = cut_of(an_order(SKETCH))
    settings = settings_of(cut, cut.layers[0], FIGURES)
    assert [(s.figure, s.sides) for s in settings] == [("70", "left, top, right"), ("80", "bottom")]


def test_equal_borders_are_one_setting() -> None:
    cut = cut_of(an_order({**SKETCH, "borders.bottom": "70"}))
    assert [(s.figure, s.sides) for s in settings_of(cut, cut.layers[0], FIGURES)] == [
        ("70", "all four sides")
    ]


# From the back A begins at 330 − 60 − 90 = 180 and B at 330 − 180 − 90 = 60.
def test_several_windows_are_named_and_exchanged_from_left_to_right() -> None:
    cut = cut_of(two_windows())
    settings = {s.figure: s.sides for s in settings_of(cut, cut.layers[0], FIGURES)}
    assert settings == {
        "60": "top of A, right of A, bottom of A, left of B, top of B, bottom of B",
        "180": "left of A, right of B",
    }


def test_a_window_says_its_name_and_a_shape_that_no_straight_cut_makes() -> None:
    cut = cut_of(two_windows())
    assert [window_label(window) for window in cut.windows] == ["window A", "window B, oval"]
    assert window_label(cut_of(an_order(SKETCH)).windows[0]) == "window"


def _texts(svg: str) -> list[tuple[str, float, float]]:
    name = "{http://www.w3.org/2000/svg}"
    return [
        (text.text or "", float(text.attrib["x"]), float(text.attrib["font-size"]))
        for text in ElementTree.fromstring(svg).iter(f"{name}text")
    ]


@pytest.mark.parametrize("room", [(70.0, 58.0), (44.0, 30.0)])
def test_the_plan_has_its_figures_at_their_sides_and_12_points_high(
    room: tuple[float, float],
) -> None:
    borders = {"borders.left": "61", "borders.right": "74"}
    cut = cut_of(an_order({**SKETCH, **borders}))
    picture = back_plan(cut, 1, FIGURES, caption="back of mat 1", room=room)
    at = {text: x for text, x, _ in _texts(picture.svg)}
    assert at["74"] < at["70"] < at["61"]  # from the back the right border lies at the left
    sizes = {text: size for text, _, size in _texts(picture.svg)}
    assert sizes["74"] == pytest.approx(FIGURE, abs=0.01)
    assert pytest.approx(12 * 25.4 / 72) == FIGURE
    assert picture.width <= room[0]
    assert picture.height <= room[1] + 1e-9


def test_a_plan_says_in_words_what_it_shows() -> None:
    cut = cut_of(an_order(SKETCH))
    said = back_plan(cut, 2, FIGURES, caption="back of mat 2", room=(70, 58)).words
    assert said == (
        "back of mat 2, left and right exchanged. Borders: left 76, right 76, top 76, bottom 86."
    )


def test_borders_of_a_mat_on_its_own_edges_are_measured_from_them() -> None:
    order = an_order(SKETCH)
    agreed = order.pieces[0].agreed
    own = replace(agreed.spec.under, way=type(agreed.spec.under.way)("own-edges"))
    cut = in_steps(work_out(replace(agreed.spec, under=own)), agreed.steps)
    # 70 + 6 − 3 trimmed; 80 + 6 − 3.
    assert cut.layers[1].borders == Edges(left=mm(73), right=mm(73), top=mm(73), bottom=mm(83))
    settings = settings_of(cut, cut.layers[1], FIGURES)
    assert [(s.figure, s.sides) for s in settings] == [("73", "left, top, right"), ("83", "bottom")]


@pytest.mark.documents
@pytest.mark.poppler
def test_a_ticket_lists_every_window_of_a_mat() -> None:
    pdf = ticket_pdf(
        two_windows(),
        a_shop(),
        None,
        paper=Paper.A4,
        base_url="http://shop.example",
        today=TODAY,
    )
    said = text_of(pdf)
    assert "window A 3 17/32 × 5 1/2 90 × 140" in said
    assert "window B, oval 3 17/32 × 5 1/2 90 × 140" in said
