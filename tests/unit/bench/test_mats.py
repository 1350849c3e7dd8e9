"""Mats to cut cannot exist impossible, and come from a piece as it is worked (G7, G9)."""

from dataclasses import replace

import pytest

from app.bench import Edge, MatToCut, NamedWindow, mats_to_cut
from app.errors import Invalid
from app.framing import (
    Align,
    Arrangement,
    Edges,
    Mat,
    Opening,
    Presentation,
    Shape,
    Spec,
    UnderWay,
    in_steps,
    work_out,
)
from app.lengths import Size, Unit, mm
from tests.builders.at_cutter import HALF, mat, piece_cut, sketch_piece, window


def borders(of: MatToCut) -> list[str]:
    """Left, right, top, bottom."""
    (only,) = of.windows
    sides = (Edge.LEFT, Edge.RIGHT, Edge.TOP, Edge.BOTTOM)
    return [str(of.border(only, edge).mm) for edge in sides]


def paths(invalid: Invalid) -> list[str]:
    return [fault.path for fault in invalid.faults]


def test_an_attached_under_mat_is_measured_from_the_top_mats_edges() -> None:
    """By hand: 76 = 70 + 6; the window of 410 x 287 is the artwork less 2 x 5 (G1, G3, G7)."""
    top, under = sketch_piece()
    assert borders(top) == ["70", "70", "70", "80"]
    assert borders(under) == ["76", "76", "76", "86"]
    assert (top.attached, under.attached) == (False, True)
    assert under.windows[0].size == Size(mm(410), mm(287))
    assert under.reference == top.blank == Size(mm(562), mm(449))
    assert under.blank == Size(mm(556), mm(443))
    assert under.trim == Size(mm(3), mm(3))


def test_an_under_mat_on_its_own_edges_is_measured_from_its_own_blank() -> None:
    """By hand: 76 - 3 = 73 (G7)."""
    _, under = mats_to_cut(piece_cut("6", trim="3", way=UnderWay.OWN_EDGES))
    assert not under.attached
    assert under.reference == under.blank == Size(mm(556), mm(443))
    assert borders(under) == ["73", "73", "73", "83"]


def test_a_piece_names_its_mats() -> None:
    mats = mats_to_cut(piece_cut("6", "4"), piece="12/1")
    assert [m.key for m in mats] == [("12/1", 1), ("12/1", 2), ("12/1", 3)]


def test_several_windows_of_every_shape_come_along_in_each_layer() -> None:
    """By hand: reveal 6 all round: A 112 x 152 at 60 60, B 92 x 132 at 60 + 112 + 20 = 192 60 in the
    top mat of 344 x 272; each 6 further in, in the mat behind; an arch keeps its middle (G3, G9)."""
    spec = Spec(
        unit=Unit.MM,
        artwork=Size(mm(100), mm(140)),
        presentation=Presentation.WINDOW,
        overlap=mm(5),
        gap=mm(5),
        mats=(Mat(thickness=mm("1.4")), Mat(thickness=mm("1.4"), reveal=mm(6))),
        borders=Edges.equal(mm(60)),
        openings=(
            Opening(name="A", window=Size(mm(100), mm(140)), shape=Shape.ARCH, rise=mm(50)),
            Opening(name="B", window=Size(mm(80), mm(120)), shape=Shape.OVAL),
        ),
        arrangement=Arrangement(rows=(2,), align=Align.TOP, across=mm(20)),
    )
    top, under = mats_to_cut(in_steps(work_out(spec), HALF), piece="9/1")
    assert top.reference == under.reference == Size(mm(344), mm(272))
    shown = [
        (w.name, w.shape, str(w.x.mm), str(w.y.mm), str(w.width.mm), str(w.height.mm))
        for mat in (top, under)
        for w in mat.windows
    ]
    assert shown == [
        ("A", Shape.ARCH, "60", "60", "112", "152"),
        ("B", Shape.OVAL, "192", "60", "92", "132"),
        ("A", Shape.ARCH, "66", "66", "100", "140"),
        ("B", Shape.OVAL, "198", "66", "80", "120"),
    ]
    assert [str(mat.windows[0].sides.mm) for mat in (top, under)] == ["96", "90"]


def test_a_window_that_leaves_the_board_is_refused_with_every_side() -> None:
    with pytest.raises(Invalid) as raised:
        mat("300", "200", window("A", "-1", "-2", "302", "210"))
    messages = " ".join(fault.message for fault in raised.value.faults)
    assert paths(raised.value) == ["windows"] * 4
    assert "A reaches 1 mm past the board at the left" in messages
    assert "A reaches 8 mm past the board at the bottom" in messages


def test_a_window_beyond_a_trimmed_blank_is_refused_though_it_lies_inside_the_package() -> None:
    under = sketch_piece()[1]
    with pytest.raises(Invalid) as raised:
        replace(under, windows=(replace(under.windows[0], x=mm(2)),))
    assert "at the left" in raised.value.message


def test_windows_that_overlap_or_share_a_name_are_refused() -> None:
    with pytest.raises(Invalid) as raised:
        mat("500", "300", window("A", "50", "50", "100", "100"), window("A", "149", "60", "9", "9"))
    messages = [fault.message for fault in raised.value.faults]
    assert messages == [
        "More than one window is called A; each needs its own name.",
        "Windows A and A overlap.",
    ]


def test_windows_that_touch_do_not_overlap() -> None:
    touching = mat(
        "500", "300", window("A", "50", "50", "100", "100"), window("B", "150", "50", "50", "50")
    )
    assert len(touching.windows) == 2


def test_every_fault_of_a_board_comes_at_once() -> None:
    with pytest.raises(Invalid) as raised:
        MatToCut(
            piece="",
            layer=0,
            blank=Size(mm(310), mm(0)),
            reference=Size(mm(300), mm(200)),
            windows=(),
            thickness=mm(0),
            run=mm(-1),
        )
    assert paths(raised.value) == ["layer", "thickness", "run", "blank", "reference"]


def test_the_top_mat_is_fixed_behind_nothing() -> None:
    with pytest.raises(Invalid) as raised:
        mat("300", "200", window("A", "50", "50", "100", "100"), attached=True)
    assert paths(raised.value) == ["attached"]


@pytest.mark.parametrize(
    ("shape", "rise", "fits"),
    [
        (Shape.ARCH, "60", True),
        (Shape.ARCH, "100", True),
        (Shape.ARCH, None, False),
        (Shape.ARCH, "100.5", False),
        (Shape.ARCH, "0", False),
        (Shape.OVAL, None, True),
        (Shape.OVAL, "60", False),
        (Shape.RECTANGLE, "60", False),
    ],
)
def test_only_an_arch_has_a_rise(shape: Shape, rise: str | None, fits: bool) -> None:
    def make() -> NamedWindow:
        return replace(
            window("A", "50", "50", "80", "100"),
            shape=shape,
            rise=None if rise is None else mm(rise),
        )

    if fits:
        assert make().shape is shape
    else:
        with pytest.raises(Invalid) as raised:
            make()
        assert paths(raised.value) == ["rise"]


def test_a_window_without_name_or_size_is_refused() -> None:
    with pytest.raises(Invalid) as raised:
        window(" ", "0", "0", "0", "-3")
    assert paths(raised.value) == ["name", "width", "height"]
