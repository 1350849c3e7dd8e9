"""Published worked examples of mats, rails and stacks, through the real functions.

Each test names its source; all figures come from tests/cases/published.json.
"""

from dataclasses import replace
from fractions import Fraction
from math import sqrt

import pytest

from app.framing import Bevel, Edges, Frame, Mat, Panel, Presentation, Spec, work_out
from app.lengths import ZERO, Length, Size, Unit, inches, mm, parse_length
from tests.builders.specs import BARE, faults, notices
from tests.cases import case


def inch(text: str) -> Length:
    """A published figure such as "7 3/4"."""
    return parse_length(text, unit=Unit.IN, zero_ok=True)


def inch_size(pair: list[str]) -> Size:
    return Size(width=inch(pair[0]), height=inch(pair[1]))


def inch_frame(inputs: dict[str, str]) -> Frame:
    return Frame(
        face=inch(inputs.get("face", "1")),
        lip=inch(inputs["lip"]),
        rebate_depth=ZERO,
        allowance=inch(inputs["allowance"]),
    )


INCHES = replace(BARE, unit=Unit.IN)


def test_a_photographers_puzzle_of_a_print_in_a_fixed_mat() -> None:
    """Source: a photographer's published puzzle and answer, 2017 (matting a 2:3 print). G1, G5."""
    given = case("mat-1")
    worked = work_out(
        replace(
            INCHES,
            artwork=inch_size(given.inputs["image"]),
            presentation=Presentation.WINDOW,
            overlap=inch(given.inputs["overlap"]),
            mats=(Mat(thickness=inches("1/16")),),
            package=inch_size(given.inputs["package"]),
        )
    )
    assert worked.windows[0].size == inch_size(given.expected["window"])
    assert worked.layers[0].borders == Edges.equal(inch(given.expected["border"]))


def test_a_competition_hand_outs_package_from_its_borders() -> None:
    """Source: Oral Roberts University, Matting and Framing (competition hand-out). G4."""
    given = case("mat-2")
    worked = work_out(
        replace(
            INCHES,
            artwork=inch_size(given.inputs["window"]),
            presentation=Presentation.WINDOW,
            overlap=ZERO,
            mats=(Mat(thickness=inches("1/16")),),
            borders=Edges.equal(inch(given.inputs["border"])),
        )
    )
    assert worked.package == inch_size(given.expected["package"])


def test_a_square_pictures_border_from_its_board() -> None:
    """Source: a published algebra exercise. G5."""
    given = case("mat-3")
    board, picture = inch(given.inputs["package"]), inch(given.inputs["window"])
    worked = work_out(
        replace(
            INCHES,
            artwork=Size(width=picture, height=picture),
            presentation=Presentation.WINDOW,
            overlap=ZERO,
            mats=(Mat(thickness=inches("1/16")),),
            package=Size(width=board, height=board),
        )
    )
    assert worked.layers[0].borders == Edges.equal(inch(given.expected["border"]))


def test_eight_inches_is_both_borders_together() -> None:
    """Source: a public algebra answer that calls 8 the border of a 792 sq in mat; 4 is right. G4."""
    given = case("neg-2")
    worked = work_out(
        replace(
            INCHES,
            artwork=inch_size(given.inputs["picture"]),
            presentation=Presentation.WINDOW,
            overlap=ZERO,
            mats=(Mat(thickness=inches("1/16")),),
            borders=Edges.equal(inch(given.expected["border"])),
        )
    )
    package = worked.package
    area = package.width.in_unit(Unit.IN) * package.height.in_unit(Unit.IN)
    assert area == Fraction(given.inputs["area"])


def test_a_bevel_of_45_degrees_shows_root_two_of_its_board() -> None:
    """Source: elementary geometry, t x sqrt 2 and 2 t (arithmetic). G8."""
    given = case("mat-4")
    for thickness, visible, growth in zip(
        given.inputs["thickness_mm"],
        given.expected["visible_mm"],
        given.expected["growth_of_hole_mm"],
        strict=True,
    ):
        run = Bevel().run(mm(thickness))
        assert run * 2 == mm(growth)
        slope = sqrt(float(run.mm) ** 2 + float(thickness) ** 2)
        assert slope == pytest.approx(float(visible), abs=5e-6)


@pytest.mark.parametrize(
    ("degrees", "run_of_one_mm"),
    # Source: cotangents from a table of trigonometric functions (30°, 60°: sqrt 3 and its inverse).
    [(30, 1.7320508), (45, 1.0), (52, 0.7812856), (60, 0.5773503), (75, 0.2679492), (90, 0.0)],
)
def test_a_steeper_bevel_runs_less(degrees: int, run_of_one_mm: float) -> None:
    for thickness in ("1", "1.4", "3"):
        run = Bevel(degrees=degrees).run(mm(thickness))
        assert float(run.mm) == pytest.approx(run_of_one_mm * float(thickness), abs=2e-6)


def test_an_overlap_that_any_of_the_sources_names_is_taken() -> None:
    """Sources: State Library and Archives of Florida (1/4 in), photographers' practice (1/8 in),
    Wikibooks, How to Frame a Picture (5 mm), a frame maker's log (2 mm). G1."""
    figures = case("overlap").expected["figures"]
    for words, overlap in zip(figures, (inches("1/4"), inches("1/8"), mm(5), mm(2)), strict=True):
        number, unit = words.removeprefix("at least ").split()[:2]
        assert parse_length(f"{number} {unit}", unit=Unit.MM) == overlap
        worked = work_out(
            replace(
                BARE,
                presentation=Presentation.WINDOW,
                overlap=overlap,
                mats=(Mat(thickness=mm("1.4")),),
                borders=Edges.equal(mm(60)),
            )
        )
        window = worked.windows[0].size
        assert worked.spec.artwork.width - window.width == overlap * 2
        assert worked.spec.artwork.height - window.height == overlap * 2


def close_in_frame(package: Size, frame: Frame) -> Spec:
    return replace(INCHES, artwork=package, frames=(frame,))


def test_a_moulding_mills_exact_rails() -> None:
    """Source: a moulding mill's public formula (its sign between face and lip inferred). G11, G12."""
    given = case("rail-2")
    (frame,) = work_out(
        close_in_frame(inch_size(given.inputs["package"]), inch_frame(given.inputs))
    ).frames
    assert frame.long_points == tuple(inch(point) for point in given.expected["long_points"])
    assert sum(frame.long_points, ZERO) * 2 == inch(given.expected["total"])


def test_the_rule_of_thumb_is_longer_than_the_rails_by_what_the_handbook_says() -> None:
    """Source: a moulding supplier's public how-to, 2(w + h) + 8 x face + 1/4 in. P2: without the
    extra it is longer than the rails by 8 x lip - 4 x allowance."""
    rule, exact = case("rail-1"), case("rail-2")
    package, face = inch_size(rule.inputs["package"]), inch(rule.inputs["face"])
    by_rule = (package.width + package.height) * 2 + face * 8
    assert by_rule + inch(rule.inputs["extra"]) == inch(rule.expected["length_in"])
    frame = inch_frame(exact.inputs)
    rails = sum(work_out(close_in_frame(package, frame)).frames[0].long_points, ZERO) * 2
    assert by_rule - rails == frame.lip * 8 - frame.allowance * 4


def test_a_woodworkers_rail_from_picture_board_and_rebate() -> None:
    """Source: a woodworkers' public forum, picture + 2 (board - rebate). G12."""
    given = case("rail-3")
    side = inch(given.inputs["package"])
    (frame,) = work_out(
        close_in_frame(Size(width=side, height=side), inch_frame(given.inputs))
    ).frames
    assert frame.long_points == (inch(given.expected["long_point"]),) * 2


def test_a_frame_makers_rebate_and_the_sight_that_follows() -> None:
    """Source: the rebate opening is a frame maker's, the sight is arithmetic from it. G11."""
    given = case("rail-4")
    (frame,) = work_out(
        close_in_frame(inch_size(given.inputs["package"]), inch_frame(given.inputs))
    ).frames
    assert frame.rebate == inch_size(given.expected["rebate"])
    assert frame.sight == inch_size(given.expected["sight"])


@pytest.mark.parametrize("face", ["1/2", "3/4", "2", "3 5/8"])
def test_long_and_short_point_differ_by_two_faces(face: str) -> None:
    """Source: woodworking public forum; Fine Woodworking tip, issue 275. G12, case rail-5."""
    assert case("rail-5").expected["difference"] == "2w"
    moulding = Frame(face=inch(face), lip=inch("1/4"), rebate_depth=ZERO, allowance=inch("1/8"))
    (frame,) = work_out(close_in_frame(inch_size(["8", "10"]), moulding)).frames
    for long, short in zip(frame.long_points, frame.short_points, strict=True):
        assert long - short == inch(face) * 2


def test_a_face_without_a_rebate_adds_itself_once_at_each_end() -> None:
    """Source: a public how-to whose example contradicts its own rule by 1 cm (wrong). G12."""
    given = case("neg-1")
    width, height = (mm(cm) * 10 for cm in given.inputs["print_cm"])
    moulding = Frame(
        face=mm(given.inputs["face_cm"]) * 10, lip=ZERO, rebate_depth=ZERO, allowance=ZERO
    )
    spec = replace(BARE, artwork=Size(width=width, height=height), frames=(moulding,))
    (frame,) = work_out(spec).frames
    assert frame.long_points == tuple(mm(cm) * 10 for cm in given.expected["long_points_cm"])
    assert frame.long_points != tuple(mm(cm) * 10 for cm in given.inputs["wrong"])
    assert "lip-does-not-hold" in notices(spec)


def test_a_retailers_stack_of_acrylic_board_and_mat() -> None:
    """Source: a retailer's public worked example. D1."""
    given = case("stack-1")
    acrylic, board, mat = (inch(part) for part in given.inputs["parts_in"])
    worked = work_out(
        replace(
            INCHES,
            presentation=Presentation.WINDOW,
            mats=(Mat(thickness=mat),),
            borders=Edges.equal(inch("3")),
            glazing=Panel(thickness=acrylic),
            backing=Panel(thickness=board),
        )
    )
    assert worked.stack == inch(given.expected["stack_in"])


def test_a_teaching_pages_stack_of_acrylic_mat_and_foam_board() -> None:
    """Source: a university teaching page on framing works on paper. D1."""
    given = case("stack-2")
    acrylic, mat, foam = (inch(part) for part in given.inputs["parts_in"])
    worked = work_out(
        replace(
            INCHES,
            presentation=Presentation.WINDOW,
            mats=(Mat(thickness=mat),),
            borders=Edges.equal(inch("3")),
            glazing=Panel(thickness=acrylic),
            mount_board=Panel(thickness=foam),
        )
    )
    assert worked.stack == inch(given.expected["stack_in"])


def test_a_published_example_is_never_called_impossible() -> None:
    """The specs above are all possible; a check that refuses one of them is too strict."""
    package = inch_size(case("rail-2").inputs["package"])
    assert faults(close_in_frame(package, inch_frame(case("rail-2").inputs))) == {}
