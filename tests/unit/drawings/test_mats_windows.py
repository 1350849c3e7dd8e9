"""Plans of mats with several windows; figures by hand from G3, G7, G9 and G10."""

import re

from shapely.affinity import affine_transform
from shapely.geometry import box

from app.drawings import mat_plan
from app.framing import Dimensions
from app.lengths import Unit
from tests.builders.drawn import SVG, extent, read, texts
from tests.unit.drawings.several import arch, eight, many_windows, oval, uneven

MANY = many_windows()


def said(dimensions: Dimensions, layer: int = 1, *, back: bool) -> list[str]:
    found = texts(read(mat_plan(dimensions, layer, Unit.MM, from_back=back)))
    return [one.text.replace("\u00a0", " ") for one in found]


def windows(dimensions: Dimensions, *, back: bool) -> list[tuple[float, float, float, float]]:
    root = read(mat_plan(dimensions, 1, Unit.MM, from_back=back))
    return [extent(one) for one in root.iter(f"{SVG}rect") if one.get("stroke-width")]


def test_every_edge_is_measured_from_the_left_and_from_the_top():
    figures = said(eight(), back=False)
    # From 60 every 125, windows of 100; from 60 every 175, windows of 150.
    across = ["60", "160", "185", "285", "310", "410", "435", "535"]
    down = ["60", "210", "235", "385"]
    for figure in {*across, *down}:
        assert figures.count(figure) == (across + down).count(figure), figure
    assert figures.count("100 × 150") == 8
    assert {"blank 595", "blank 455", "Front of mat 1"} <= set(figures)


def test_from_the_back_windows_lie_as_an_independent_mirror_has_them():
    package = float(uneven().package.width.mm)
    front = [box(x, y, x + w, y + h) for x, y, w, h in windows(uneven(), back=False)]
    # x' = package - x, y' = y.
    turned = [affine_transform(one, (-1, 0, 0, 1, package, 0)).bounds for one in front]
    back = [(x, y, x + w, y + h) for x, y, w, h in windows(uneven(), back=True)]
    assert len(back) == 4, "A, B, D and its title slot; C is round"
    assert back == turned


def test_the_back_is_labelled_and_its_figures_are_those_of_the_back():
    figures = said(uneven(), back=True)
    assert "BACK OF MAT 1" in figures
    assert "left and right are exchanged" in figures
    # A runs from 60 to 60 + 240 + 12 = 312 of 700: from the back 388 to 640.
    assert {"388", "640"} <= set(figures)
    assert not {"312"} & set(figures)


def test_under_mats_are_measured_from_their_own_edges_or_from_the_top_mats():
    # Own edges: 70 + 6 - 3 from the left; window 100 + 8 (G7).
    own = said(MANY["three mats"], 2, back=False)
    assert {"73", "181"} <= set(own)
    assert any("its own edges" in text for text in own)
    behind = said(MANY["trimmed behind"], 2, back=False)
    # Attached: 70 + 6; the blank is 2 × 3 short of 70 + 2 × 112 + 40 + 70 = 404.
    assert {"76", "176", "top mat 404", "blank 398"} <= set(behind)


def test_round_windows_are_drawn_round_on_both_sides():
    for back in (False, True):
        root = read(mat_plan(oval(), 1, Unit.MM, from_back=back))
        curves = [
            one.get("d") or "" for one in root.iter(f"{SVG}path") if "A" in (one.get("d") or "")
        ]
        assert "M60,255A145,195,0,0,1,350,255A145,195,0,0,1,60,255Z" in curves
    assert "oval 290 × 390" in " ".join(said(oval(), back=True))
    assert "with a rise of 80" in " ".join(said(arch(), back=True))


def test_grooves_are_drawn_on_the_top_mat_alone():
    title = MANY["title slot and groove"]
    assert "Grooves 10 outside" in " ".join(said(title, back=False))
    assert not any("Groove" in text for text in said(title, 2, back=False))


def test_as_many_as_48_places_keep_apart_and_near_their_windows():
    figures = [t for t in said(MANY["scattered"], back=True) if re.fullmatch(r"\d+", t)]
    assert len(figures) > 80
