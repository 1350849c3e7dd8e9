"""What holds for every drawing of every piece: well-formed, nothing inline, no text on another."""

from collections.abc import Callable, Iterator
from functools import cache, partial
from itertools import combinations
from xml.etree import ElementTree

import pytest

from app.drawings import Look, front, mat_plan, measured, measured_for_a_phone, section
from app.framing import Dimensions
from app.lengths import Steps, Unit, inches, mm
from tests.builders.drawn import many, read, texts
from tests.unit.drawings.several import many_windows

STEPS = {
    Unit.MM: Steps(unit=Unit.MM, step=mm("0.5")),
    Unit.IN: Steps(unit=Unit.IN, step=inches("1/32")),
}


def for_a_phone(dimensions: Dimensions, unit: Unit) -> str:
    return measured_for_a_phone(dimensions, unit, STEPS[unit]).svg


def drawings(dimensions: Dimensions) -> Iterator[tuple[str, Callable[[], str]]]:
    yield "front", partial(front, dimensions, Look())
    for unit in Unit:
        yield f"measured {unit}", partial(measured, dimensions, unit)
        yield f"measured in steps {unit}", partial(measured, dimensions, unit, STEPS[unit])
        yield f"measured for a phone {unit}", partial(for_a_phone, dimensions, unit)
        yield f"section {unit}", partial(section, dimensions, unit)
        for layer in range(1, len(dimensions.layers) + 1):
            for back in (False, True):
                yield (
                    f"mat {layer} {back} {unit}",
                    partial(mat_plan, dimensions, layer, unit, from_back=back),
                )


ALL = {
    f"{piece}, {name}": draw
    for piece, dimensions in {**many(), **many_windows()}.items()
    for name, draw in drawings(dimensions)
}
"""How each is drawn: all of them take seconds, which whoever only collects tests need not wait."""


@cache
def drawn(name: str) -> str:
    return ALL[name]()


@pytest.fixture(params=ALL, ids=str)
def root(request: pytest.FixtureRequest) -> ElementTree.Element:
    return read(drawn(request.param))


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
