"""How each step is done, drawn: every kind has its own drawing, plain and readable on any page."""

from collections.abc import Iterator
from itertools import combinations
from xml.etree.ElementTree import Element

import pytest

from app.bench import StepCode
from app.drawings.canvas.canvas import INK
from app.drawings.how_to.strokes import SHEET
from app.drawings.how_to.table import SKETCHES, how_to
from tests.builders.drawn import SVG, read, texts


@pytest.fixture(params=StepCode, ids=str)
def root(request: pytest.FixtureRequest) -> Element:
    return read(how_to(request.param))


def test_every_kind_of_step_has_a_drawing_of_its_own() -> None:
    assert list(SKETCHES) == list(StepCode)
    assert len({how_to(code) for code in StepCode}) == len(StepCode)


def test_it_is_one_image_said_in_words(root: Element) -> None:
    assert root.get("role") == "img"
    assert [child.tag for child in root[:2]] == [f"{SVG}title", f"{SVG}desc"]
    assert root[0].text
    assert (root[1].text or "").endswith(".")


def test_it_is_a_few_strokes_in_the_pages_ink(root: Element) -> None:
    """Colours come from the page or from the pencil's group, so that a dark page shows them as well."""
    marks = [one for one in root.iter() if one.tag != f"{SVG}svg"]
    assert 5 <= len(marks) <= 40
    for one in marks:
        assert {one.get("fill", INK), one.get("stroke", INK)} <= {INK, "none"}
        assert {"style", "id"}.isdisjoint(one.attrib)


def test_words_lie_on_the_sheet_and_not_on_each_other(root: Element) -> None:
    words = list(texts(root))
    for one in words:
        assert 0 <= one.left < one.right <= SHEET.right
        assert 0 <= one.top < one.bottom <= SHEET.bottom
    for one, other in combinations(words, 2):
        assert not one.overlaps(other)


def test_every_stroke_lies_on_the_sheet(root: Element) -> None:
    for x, y in places(root):
        assert 0 <= x <= SHEET.right
        assert 0 <= y <= SHEET.bottom


def places(root: Element) -> Iterator[tuple[float, float]]:
    for one in root.iter():
        text = one.get("points", "") or (one.get("d", "") if "A" not in one.get("d", "") else "")
        numbers = [
            float(each)
            for each in text.replace("M", " ")
            .replace("L", " ")
            .replace("Z", "")
            .replace(",", " ")
            .split()
        ]
        yield from zip(numbers[::2], numbers[1::2], strict=True)
