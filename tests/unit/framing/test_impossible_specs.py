"""Specs that cannot be made: every fault at once, at its path, with what was given and what is allowed.

The figures beside each spec are worked by hand from the handbook rule named there.
"""

from dataclasses import replace

import pytest

from app.errors import Invalid
from app.framing import (
    Bevel,
    Mat,
    Presentation,
    Spacer,
    Spec,
    UnderMats,
    UnderWay,
    in_steps,
    work_out,
)
from app.lengths import Steps, Unit, inches, mm
from app.lengths.standard import STANDARD_SIZES
from tests.builders.specs import (
    BARE,
    DOUBLE,
    MATTED,
    edges,
    faults,
    frame,
    in_inches,
    mat,
    panel,
    size,
)

FLOAT = replace(BARE, presentation=Presentation.FLOAT)
CANVAS = replace(BARE, presentation=Presentation.CANVAS)
TRAY = replace(BARE, presentation=Presentation.CANVAS_FLOAT)
OWN = UnderWay.OWN_EDGES

IMPOSSIBLE: list[tuple[str, Spec, dict[str, tuple[str, ...]]]] = [
    (
        "an artwork of nothing",
        replace(MATTED, artwork=size("0", "-4")),
        {"artwork.width": ("0 mm", "above zero"), "artwork.height": ("−4 mm", "above zero")},
    ),
    (
        "a thickness below zero",
        replace(MATTED, artwork_thickness=mm(-1)),
        {"artwork.thickness": ("−1 mm", "below zero")},
    ),
    (
        "an overlap that takes the whole artwork: 2 x 148.5 = 297",
        replace(MATTED, overlap=mm("148.5")),
        {"overlap": ("148.5 mm", "297 × 420 mm", "under 148.5 mm")},
    ),
    (
        "an overlap larger than the artwork",
        replace(MATTED, overlap=mm(300)),
        {"overlap": ("300 mm", "297 × 420 mm", "under 148.5 mm")},
    ),
    (
        "an overlap in inches, half of 8",
        in_inches(overlap=inches("17/4")),
        {"overlap": ('4 1/4"', '8 × 10"', 'under 4"')},
    ),
    (
        "an overlap below zero",
        replace(MATTED, overlap=mm(-5)),
        {"overlap": ("−5 mm", "below zero")},
    ),
    ("a gap below zero", replace(FLOAT, gap=mm(-5)), {"gap": ("−5 mm", "below zero")}),
    (
        "a window without a mat",
        replace(MATTED, mats=(), borders=None),
        {"mats": ("none", "at least one")},
    ),
    (
        "mats over a close fit",
        replace(BARE, mats=(mat(),), package=size("400", "500")),
        {"mats": ("1 mat", "close", "window or float")},
    ),
    (
        "mats over a canvas",
        replace(CANVAS, mats=(mat(), mat(reveal="5")), borders=edges("50", "50", "50", "50")),
        {"mats": ("2 mats", "canvas", "window or float")},
    ),
    (
        "four mats",
        replace(MATTED, mats=(mat(), mat(reveal="6"), mat(reveal="6"), mat(reveal="6"))),
        {"mats": ("4 mats", "at most 3")},
    ),
    (
        "boards of no thickness",
        replace(DOUBLE, mats=(mat("0"), mat("-1.4", "6"))),
        {
            "mats.0.thickness": ("mat 1", "0 mm", "above zero"),
            "mats.1.thickness": ("mat 2", "−1.4 mm", "above zero"),
        },
    ),
    (
        "reveals zero, below zero and missing",
        replace(DOUBLE, mats=(mat(), mat(reveal="0"), mat(reveal="-2"))),
        {
            "mats.1.reveal": ("mat 2", "0 mm", "above zero"),
            "mats.2.reveal": ("mat 3", "−2 mm", "above zero"),
        },
    ),
    (
        "a reveal missing",
        replace(DOUBLE, mats=(mat(), mat())),
        {"mats.1.reveal": ("mat 2", "none")},
    ),
    (
        "a reveal on the top mat",
        replace(MATTED, mats=(mat(reveal="6"),)),
        {"mats.0.reveal": ("Mat 1", "6 mm", "nothing lies above")},
    ),
    (
        "borders of nothing and below",
        replace(MATTED, borders=edges("0", "-3", "60", "-70")),
        {
            "borders.left": ("left", "0 mm", "above zero"),
            "borders.right": ("right", "−3 mm", "above zero"),
            "borders.bottom": ("bottom", "−70 mm", "above zero"),
        },
    ),
    (
        "borders without a mat",
        replace(BARE, borders=edges("60", "60", "60", "60")),
        {"borders": ("close", "without a mat")},
    ),
    (
        "neither borders nor package",
        replace(MATTED, borders=None),
        {"borders": ("Neither borders nor a glass size", "give one of them")},
    ),
    (
        "a package for a canvas",
        replace(CANVAS, package=size("300", "420")),
        {"package": ("canvas",)},
    ),
    (
        "a package for a tray",
        replace(TRAY, package=size("310", "430")),
        {"package": ("canvas",)},
    ),
    (
        "a package of nothing is also too small, G5: by the whole window of 287 x 410",
        replace(MATTED, borders=None, package=size("0", "-1")),
        {
            "package.width": ("0 mm", "above zero", "287 mm too small"),
            "package.height": ("−1 mm", "above zero", "411 mm too small"),
        },
    ),
    (
        "a package too small, G5: 287 - 280 = 7, 410 - 400 = 10",
        replace(MATTED, borders=None, package=size("280", "400")),
        {
            "package.width": ("280 mm", "7 mm too small", "287 mm", "29.7 × 42 cm"),
            "package.height": ("400 mm", "10 mm too small", "410 mm"),
        },
    ),
    (
        "a package for a close fit too small: 297 - 290 = 7",
        replace(BARE, package=size("290", "420")),
        {"package.width": ("290 mm", "7 mm too small", "artwork", "297 mm")},
    ),
    (
        "a package for a float too small, G2: 297 + 20 = 317, 317 - 300 = 17",
        replace(FLOAT, package=size("300", "440")),
        {"package.width": ("300 mm", "17 mm too small", "gap", "317 mm")},
    ),
    (
        "in inches, G1: window 7 5/8 x 9 5/8",
        in_inches(package=size("7", "9.5", Unit.IN)),
        {
            "package.width": ('7"', '5/8" too small', '7 5/8"'),
            "package.height": ('9 1/2"', '1/8" too small', '9 5/8"'),
        },
    ),
    (
        "no window left, G6: 60 + 60 of 110 leaves -10, 60 + 70 of 130 leaves nothing",
        replace(MATTED, package=size("110", "130")),
        {
            "package.width": ("110 mm", "120 mm"),
            "package.height": ("130 mm",),
        },
    ),
    (
        "no window left in the under layer, G6: 300 - 120 = 180, less 2 x 90 = 0",
        replace(DOUBLE, mats=(mat(), mat(reveal="90")), package=size("300", "600")),
        {"package.width": ("300 mm",)},
    ),
    (
        "a weighting that takes both borders, G5: 500 - 410 = 90",
        replace(MATTED, borders=None, package=size("400", "500"), weighting=mm(90)),
        {"weighting": ("90 mm", "90 mm of border")},
    ),
    (
        "a weighting below zero",
        replace(MATTED, borders=None, package=size("400", "500"), weighting=mm(-5)),
        {"weighting": ("−5 mm", "below zero")},
    ),
    (
        "a trim that eats the under mat, G7 own edges: 60 + 6 - 66 = 0",
        replace(DOUBLE, under=UnderMats(way=OWN, trim=mm(66))),
        {"under_trim": ("66 mm", "mat 2", "under 66 mm")},
    ),
    (
        "a trim that eats the under mat fixed behind the top one",
        replace(DOUBLE, under=UnderMats(trim=mm(80))),
        {"under_trim": ("80 mm", "mat 2", "under 66 mm")},
    ),
    (
        "a trim below zero",
        replace(DOUBLE, under=UnderMats(way=OWN, trim=mm(-3))),
        {"under_trim": ("−3 mm", "below zero")},
    ),
    (
        "a lip as wide as the face, and one wider",
        replace(MATTED, frames=(frame("6", "6"), frame("20", "25"))),
        {
            "frames.0.lip": ("6 mm", "narrower"),
            "frames.1.lip": ("25 mm", "20 mm", "narrower"),
        },
    ),
    (
        "a moulding of impossible figures",
        replace(MATTED, frames=(frame("0", "-1", "-2", "-3"),)),
        {
            "frames.0.face": ("0 mm", "above zero"),
            "frames.0.lip": ("−1 mm", "below zero"),
            "frames.0.rebate_depth": ("−2 mm", "below zero"),
            "frames.0.allowance": ("−3 mm", "below zero"),
        },
    ),
    (
        "a lip that covers everything, G11: 20 + 3 = 23 of rebate, lips of 2 x 12",
        replace(BARE, artwork=size("20", "40"), frames=(frame("30", "12"),)),
        {"frames.0.lip": ("12 mm", "23 mm")},
    ),
    (
        "the outer lip covers everything, G18: 20 + 3 + 2 x (10 - 5) + 3 = 36, lips of 2 x 18",
        replace(BARE, artwork=size("20", "40"), frames=(frame("10", "5"), frame("30", "18"))),
        {"frames.1.lip": ("18 mm", "36 mm")},
    ),
    (
        "panels that their trim eats, G14: 407 - 2 x 203.5 = 0",
        replace(
            MATTED,
            glazing=panel(trim="203.5"),
            mount_board=panel(trim="250"),
            backing=panel("-3", "-1"),
        ),
        {
            "glazing.trim": ("203.5 mm", "407 mm"),
            "mount_board.trim": ("250 mm", "407 mm"),
            "backing.thickness": ("−3 mm", "below zero"),
            "backing.trim": ("−1 mm", "below zero"),
        },
    ),
    (
        "spacers that fill the package, G14: 2 x 203.5 = 407",
        replace(MATTED, spacer=Spacer(depth=mm(3), width=mm("203.5"))),
        {"spacer_width": ("203.5 mm", "407 × 540 mm")},
    ),
    (
        "spacers of no depth's sign and no width",
        replace(MATTED, spacer=Spacer(depth=mm(-3), width=mm(0))),
        {"spacer": ("−3 mm", "below zero"), "spacer_width": ("0 mm", "above zero")},
    ),
    (
        "spacers of a width below zero would be longer than the package",
        replace(MATTED, spacer=Spacer(depth=mm(3), width=mm(-5))),
        {"spacer_width": ("−5 mm", "above zero")},
    ),
    (
        "a reverse bevel that closes the window, G8: 6 - 2 x 3 = 0",
        replace(
            MATTED,
            artwork=size("16", "200"),
            mats=(Mat(thickness=mm(3), bevel=Bevel(reverse=True)),),
        ),
        {"mats.0.bevel": ("3 mm", "6 mm")},
    ),
    (
        "five faults at once",
        replace(
            MATTED,
            artwork_thickness=mm(-1),
            borders=edges("-1", "60", "60", "60"),
            frames=(frame("10", "12"),),
            glazing=panel(trim="-1"),
            mats=(mat("0"),),
        ),
        {
            "artwork.thickness": ("−1 mm",),
            "mats.0.thickness": ("0 mm",),
            "borders.left": ("−1 mm",),
            "frames.0.lip": ("12 mm", "10 mm"),
            "glazing.trim": ("−1 mm",),
        },
    ),
    (
        "a trim and a lip too large are not hidden by a fault elsewhere, G7: 60 + 6, G11: 419 + 3",
        replace(
            DOUBLE,
            artwork_thickness=mm(-1),
            weighting=mm(-1),
            under=UnderMats(way=OWN, trim=mm(70)),
            frames=(frame("400", "300"), frame("0", "1")),
            spacer=Spacer(depth=mm(3), width=mm(500)),
        ),
        {
            "artwork.thickness": ("−1 mm",),
            "weighting": ("−1 mm",),
            "under_trim": ("70 mm", "under 66 mm"),
            "frames.0.lip": ("300 mm", "422 mm"),
            "frames.1.face": ("0 mm",),
            "spacer_width": ("500 mm",),
        },
    ),
    (
        "package, mats, trim and frame at once, G5: 281 - 7 < 287",
        replace(
            DOUBLE,
            mats=(mat(), mat("-1", "6"), mat(reveal="0")),
            borders=None,
            package=size("281", "560"),
            frames=(frame("5", "5"),),
            backing=panel(trim="300"),
        ),
        {
            "mats.1.thickness": ("−1 mm",),
            "mats.2.reveal": ("0 mm",),
            "package.width": ("281 mm", "18 mm too small", "299 mm"),
            "frames.0.lip": ("5 mm",),
            "backing.trim": ("300 mm", "281 mm"),
        },
    ),
]


@pytest.mark.parametrize(
    ("spec", "expected"),
    [(spec, expected) for _, spec, expected in IMPOSSIBLE],
    ids=[what for what, _, _ in IMPOSSIBLE],
)
def test_all_faults_come_at_once_with_given_and_allowed(
    spec: Spec, expected: dict[str, tuple[str, ...]]
) -> None:
    found = faults(spec)
    assert set(found) == set(expected)
    for path, parts in expected.items():
        for part in parts:
            assert part in found[path], f"{path}: {found[path]}"


@pytest.mark.parametrize("degrees", [-45, 0, 29, 91, 180])
def test_a_bevel_that_no_blade_takes_says_its_range(degrees: int) -> None:
    with pytest.raises(Invalid) as caught:
        Bevel(degrees=degrees)
    (fault,) = caught.value.faults
    assert f"{degrees}°" in fault.message
    assert "30° to 90°" in fault.message


@pytest.mark.parametrize(
    "spec",
    [
        replace(MATTED, borders=None, package=size("100", "100")),
        replace(MATTED, artwork=size("410", "510"), borders=None, package=size("300", "400")),
        replace(
            MATTED,
            artwork=size("410", "503"),
            borders=None,
            package=size("300", "400"),
            weighting=mm(7),
        ),
        replace(DOUBLE, artwork=size("398", "498"), borders=None, package=size("300", "400")),
        replace(FLOAT, package=size("200", "200")),
        replace(BARE, artwork=size("300", "400"), package=size("299", "400")),
        in_inches(artwork=size("11.375", "14.375", Unit.IN), package=size("8", "10", Unit.IN)),
    ],
)
def test_every_standard_size_that_is_offered_does_hold_the_piece(spec: Spec) -> None:
    message = next(iter(faults(spec).values()))
    names = message.split("hold it: ")[1].removesuffix(".").split(", ")
    by_name = {standard.name: standard.size for standard in STANDARD_SIZES}
    offered = [by_name[name] for name in names]
    assert len(offered) == 3
    for one in offered:
        fits = [replace(spec, package=turned) for turned in (one, one.turned())]
        assert {} in [faults(fit) for fit in fits], one


def test_a_package_as_large_as_its_window_leaves_no_border_and_says_so() -> None:
    message = faults(replace(MATTED, borders=None, package=size("287", "500")))["package.width"]
    assert "287 mm" in message
    assert "0 mm too small" not in message
    assert "no border" in message


def test_a_close_fit_too_small_is_not_said_to_have_a_gap() -> None:
    message = faults(replace(BARE, package=size("290", "420")))["package.width"]
    assert "gap" not in message


def test_one_mat_too_many_is_spoken_of_as_one() -> None:
    message = faults(replace(BARE, mats=(mat(),), package=size("400", "500")))["mats"]
    assert "1 mats" not in message
    assert "1 mat " in message


def test_impossible_specs_keep_nothing_back_in_steps() -> None:
    possible = in_steps(work_out(MATTED), Steps(unit=Unit.MM, step=mm("0.5")))
    assert possible.package == size("407", "540")
    with pytest.raises(Invalid):
        work_out(replace(MATTED, overlap=mm(200)))
