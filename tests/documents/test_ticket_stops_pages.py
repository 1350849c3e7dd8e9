"""How many pages a ticket takes for a cutter with offsets, a squaring arm and none, one or two stops."""

from dataclasses import replace

import pytest

from app.bench import Cutter, Stops, usual_cutter
from app.lengths import Unit, inches, mm
from app.orders import Paper
from tests.builders.printed import INCHES, OBJECT, OWN_FRAME, SKETCH, TRAY, TRIPLE, a_shop, an_order
from tests.documents.reading import overlapping, runs, text_of, words_of
from tests.documents.test_ticket_pages import ticket

pytestmark = [pytest.mark.documents, pytest.mark.poppler]

NO_BREAK = "\N{NO-BREAK SPACE}"

COMMON = {
    "single mat": {**SKETCH, "mats.1.material": "", "mats.1.reveal": ""},
    "double mat": SKETCH,
    "own edges": {**SKETCH, "mats.1.edges": "own"},
    "tray": TRAY,
    "object": OBJECT,
    "own frame": OWN_FRAME,
    "inches": {**INCHES, "mats.1.material": "M2", "mats.1.reveal": "1/4"},
}


TWO_MATS = {
    **{name: COMMON[name] for name in ("double mat", "own edges", "inches")},
    "even borders": {**SKETCH, "artwork.size": "300x400", "borders.bottom": "70"},
    "500 × 700": {**SKETCH, "artwork.size": "500x700"},
    "inches, hung": {
        **COMMON["inches"],
        **{key: SKETCH[key] for key in SKETCH if "hardware" in key},
    },
}
"""Pieces of two mats as they are made every day."""


def cutter(unit: Unit, *, near: bool, far: bool) -> Cutter:
    metric = unit is Unit.MM
    return replace(
        usual_cutter(unit),
        start_offset=mm("1.5") if metric else inches("1/16"),
        end_offset=mm(1) if metric else inches("1/32"),
        stops=Stops(near=near, far=far),
        arm_reach=mm(1000) if metric else inches(40),
    )


def printed(name: str, paper: Paper, *, near: bool, far: bool) -> bytes:
    unit = Unit.IN if name.startswith("inches") else Unit.MM
    shop = a_shop(unit, cutters=(cutter(unit, near=near, far=far),))
    return ticket(an_order(ALL[name], shop=shop), shop, paper)


ALL = {**COMMON, **TWO_MATS, "twenty alike": {**SKETCH, "copies": "20"}, "three mats": TRIPLE}
STOPS = [(False, False), (True, False), (True, True)]


@pytest.mark.parametrize(("near", "far"), STOPS, ids=["none", "near", "both"])
@pytest.mark.parametrize("paper", [Paper.A4, Paper.LETTER])
@pytest.mark.parametrize("name", COMMON)
def test_a_common_piece_takes_one_page(name: str, paper: Paper, near: bool, far: bool) -> None:
    pdf = printed(name, paper, near=near, far=far)
    (words,) = words_of(pdf)
    assert overlapping(words) == []
    assert [run for run in runs(pdf) if run.points < 9] == []


@pytest.mark.parametrize(("near", "far"), STOPS, ids=["none", "near", "both"])
def test_a_piece_with_one_mat_takes_one_page_of_half_a_sheet(near: bool, far: bool) -> None:
    pdf = printed("single mat", Paper.A5, near=near, far=far)
    (words,) = words_of(pdf)
    assert overlapping(words) == []
    assert [run for run in runs(pdf) if run.points < 8] == []


@pytest.mark.parametrize("paper", [Paper.A4, Paper.LETTER])
def test_twenty_alike_with_two_stops_take_one_page(paper: Paper) -> None:
    (words,) = words_of(printed("twenty alike", paper, near=True, far=True))
    assert overlapping(words) == []


@pytest.mark.parametrize(("near", "far"), STOPS, ids=["none", "near", "both"])
@pytest.mark.parametrize("name", TWO_MATS)
def test_a_piece_with_two_mats_takes_one_page_of_half_a_sheet(
    name: str, near: bool, far: bool
) -> None:
    pdf = printed(name, Paper.A5, near=near, far=far)
    (words,) = words_of(pdf)
    assert overlapping(words) == []
    assert [run for run in runs(pdf) if run.points < 8] == []


@pytest.mark.parametrize(
    ("name", "size", "least"), [("double mat", "562 × 449", 14), ("even borders", "442 × 542", 18)]
)
def test_cut_sizes_are_the_largest_figures_of_half_a_sheet(
    name: str, size: str, least: int
) -> None:
    """Glass of 420 − 10 + 12 + 140 by 297 − 10 + 12 + 150, and of 300 − 10 + 12 + 140 by 400 − 10 + 12 + 140: windows overlap
    the artwork by 5 and mat 2 shows 6 at each side."""
    found = runs(printed(name, Paper.A5, near=True, far=True))
    cut = [run.points for run in found if run.text.replace(NO_BREAK, " ") == size]
    assert len(cut) == 4  # mat 1, glazing and two boards
    assert min(cut) >= least
    under_the_head = [
        run.points for run in found if "2026-0148" not in run.text and "piece" not in run.text
    ]
    assert max(under_the_head) <= max(cut)


@pytest.mark.parametrize(("near", "far"), STOPS, ids=["none", "near", "both"])
def test_no_small_page_holds_only_a_step_or_two(near: bool, far: bool) -> None:
    pages = words_of(printed("three mats", Paper.A5, near=near, far=far))
    assert len(pages) == 2
    assert min(sum(word.text == "☐" for word in words) for words in pages) > 2


def test_stops_of_several_edges_stand_in_one_row_of_their_setting() -> None:
    """Borders of 70 at three sides and 80 at the bottom: 70 - 1 and 449 - 80 + 1.5; 562 - 70 + 1.5; 80 - 1 and 449 - 70 + 1.5."""
    text = text_of(printed("double mat", Paper.A4, near=True, far=True))
    assert (
        "stops near 69, far 493.5: top · near 69, far 370.5: right · near 79, far 380.5: left"
        in text
    )
