"""What the rails leave open has one figure: on ticket, bench page and drawings, and in the JSON (G12).

By hand, a piece in inches with a face of 25 mm: long points 22 1/4 and 26 3/4 in less 50 mm leave
20.2815 and 24.7815 in, which a rule reads as 20 9/32 and 24 25/32. Its lip of 6 mm leaves a rebate of
20.7539 and 25.2539, read as 20 3/4 and 25 1/4.
"""

from fractions import Fraction

import pytest
from starlette.testclient import TestClient

from app.bench import StepCode
from app.documents.kit.printing import Figures
from app.documents.ticket.checks import checks_of
from app.documents.ticket.cut_list import CutListBasis, cut_list
from app.drawings import measured, section
from app.lengths import Unit
from app.orders import Piece
from app.orders.piece_report import Findings, findings
from app.orders.workbench import workbench
from app.web.pieces.piece import facts_of
from tests.builders.printed import INCHES, a_shop, an_order
from tests.web.test_api_dimensions import answer

ACROSS, DOWN = "20 9/32", "24 25/32"
SIGHT = f"{ACROSS} × {DOWN}"


@pytest.fixture(scope="module")
def piece() -> Piece:
    (one,) = an_order(INCHES, shop=a_shop(Unit.IN)).pieces
    return one


@pytest.fixture(scope="module")
def found(piece: Piece) -> Findings:
    return findings(piece.artwork, piece.agreed, a_shop(Unit.IN))


def test_on_the_cut_list_and_among_the_checks(piece: Piece, found: Findings) -> None:
    shop, figures = a_shop(Unit.IN), Figures(piece.agreed.steps)
    cutting = CutListBasis(
        agreed=piece.agreed, found=found, figures=figures, mat_word="mat", saw_loss=shop.saw_loss
    )
    short = [row.short.text for group in cut_list(cutting) for row in group.rows if row.short]
    assert short == [DOWN, ACROSS]
    checks = {check.name: check for check in checks_of(piece.agreed, found, figures)}
    assert checks["Frame"].detail == f"{SIGHT} inside the lip"
    assert checks["Glass size"].text == "20 5/8 × 25 1/8 in a rebate of 20 3/4 × 25 1/4"


def test_in_the_steps_and_the_facts_of_the_bench_page(piece: Piece, found: Findings) -> None:
    steps = workbench(piece.agreed, found, a_shop(Unit.IN)).steps
    rails = [step.text for step in steps if step.code is StepCode.RAILS]
    assert [text.partition("short point ")[2].partition(",")[0] for text in rails] == [DOWN, ACROSS]
    assert dict(facts_of(piece.agreed, found, a_shop(Unit.IN)))["sight size"] == f'{SIGHT}"'


def test_on_the_drawings(piece: Piece, found: Findings) -> None:
    """Face and lip are read off a rule too, to 1/32: 25 / 25.4 = 0.984, 31/32; 6 / 25.4 = 0.236, 1/4."""
    drawn = measured(found.exact, Unit.IN, piece.agreed.steps)
    for text in (f"sight {ACROSS}", f"sight {DOWN}", "rebate 20 3/4", "face 31/32"):
        assert f">{text}<" in drawn
    cut = section(found.cut, Unit.IN)
    assert ">lip 1/4<" in cut
    assert ">face 31/32<" in cut


def test_in_the_json_they_are_exact(api: TestClient) -> None:
    asked = {
        "unit": "in",
        "artwork": {"width": "16", "height": "20"},
        "presentation": "window",
        "overlap": "3/16",
        "mats": [{"thickness": "0.06"}],
        "borders": {"left": "2.5", "right": "2.5", "top": "2.5", "bottom": "3"},
        "frames": [{"face": "125/127", "lip": "30/127", "allowance": "1/8"}],
    }
    (frame,) = answer(api, asked)["shop"]["frames"]
    assert frame["long_points"] == ["22.25", "26.75"]
    inside = [Fraction("22.25") - Fraction(250, 127), Fraction("26.75") - Fraction(250, 127)]
    assert list(map(Fraction, frame["short_points"])) == inside
    assert [Fraction(frame["sight"][side]) for side in ("width", "height")] == inside
    walls = [side + Fraction(60, 127) for side in inside]
    assert [Fraction(frame["rebate"][side]) for side in ("width", "height")] == walls
