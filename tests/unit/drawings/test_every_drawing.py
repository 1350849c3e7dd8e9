"""What holds for every drawing of every piece: well-formed, nothing inline, no text on another."""

from itertools import combinations
from xml.etree import ElementTree

import pytest

from app.drawings import Look, front, mat_plan, measured, section
from app.framing import Dimensions
from app.lengths import Steps, Unit, inches, mm
from tests.builders.drawn import many, read, texts
from tests.unit.drawings.several import many_windows

STEPS = {
    Unit.MM: Steps(unit=Unit.MM, step=mm("0.5")),
    Unit.IN: Steps(unit=Unit.IN, step=inches("1/32")),
}


def drawings(dimensions: Dimensions) -> dict[str, str]:
    drawn = {"front": front(dimensions, Look())}
    for unit in Unit:
        drawn[f"measured {unit}"] = measured(dimensions, unit)
        drawn[f"measured in steps {unit}"] = measured(dimensions, unit, STEPS[unit])
        drawn[f"section {unit}"] = section(dimensions, unit)
        for layer in range(1, len(dimensions.layers) + 1):
            for back in (False, True):
                drawn[f"mat {layer} {back} {unit}"] = mat_plan(
                    dimensions, layer, unit, from_back=back
                )
    return drawn


ALL = {
    f"{piece}, {name}": svg
    for piece, dimensions in {**many(), **many_windows()}.items()
    for name, svg in drawings(dimensions).items()
}


@pytest.fixture(params=ALL, ids=str)
def root(request: pytest.FixtureRequest) -> ElementTree.Element:
    return read(ALL[request.param])


def test_it_is_one_image_with_a_title_and_a_description(root):
    assert root.get("role") == "img"
    assert root[0].text
    assert root[1].text


def test_nothing_in_it_is_inline_style_script_or_identifier(root):
    for one in root.iter():
        assert {"style", "id", "onload", "onclick"}.isdisjoint(one.attrib)
        assert one.tag.rpartition("}")[2] not in {"style", "script", "foreignObject", "use"}


def test_no_text_lies_on_another(root):
    for one, other in combinations(texts(root), 2):
        assert not one.overlaps(other), (one, other)


def test_every_text_lies_inside_the_sheet(root):
    left, top, width, height = (float(n) for n in root.get("viewBox").split())
    for one in texts(root):
        assert left <= one.left, one
        assert one.right <= left + width, one
        assert top <= one.top, one
        assert one.bottom <= top + height, one


def test_texts_read_at_500_pixels_wide(root):
    _, _, width, height = (float(n) for n in root.get("viewBox").split())
    for one in root.iter("{http://www.w3.org/2000/svg}text"):
        # Notes are the smallest; 8 px in a box of 500 by 500 px.
        assert float(one.get("font-size")) * 500 / max(width, height) >= 8, one.text
